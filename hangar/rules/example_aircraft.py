"""Clean aircraft that the rules' examples start from: nothing on them is to be flagged."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

from hangar.parts import (
    Aircraft,
    Rotor,
    Stabiliser,
)
from hangar.parts.choices import (
    AircraftClass,
    FailsafeAction,
    Function,
    MaxMeans,
    PowerKind,
    RotorKind,
    Swash,
)
from hangar.rules.changing import with_airframe, with_channel, with_surface
from hangar.rules.example_parts import (
    CYCLIC,
    DAY,
    LEFT,
    LITHIUM_2,
    MIDDLE,
    NICKEL_4,
    RIGHT,
    STANDARD,
    STRONG,
    TAIL,
    airframe,
    assembled,
    fed,
    fit,
    path,
    surface,
)


@cache
def trainer() -> Aircraft:
    """A glow-engined trainer with four analog servos on a four-cell nickel pack."""
    code = "EXT"
    left = surface(code, "AIL-L", "Left aileron", Function.AILERON, LEFT,
                   span_mm=600.0, chord_mm=38.0, whole_mm=280.0)  # fmt: skip
    right = dataclasses.replace(left, code="AIL-R", name="Right aileron", side=RIGHT)
    elevator_ = surface(code, "ELE", "Elevator", Function.ELEVATOR, MIDDLE,
                        span_mm=520.0, chord_mm=40.0, whole_mm=180.0)  # fmt: skip
    rudder = surface(code, "RUD", "Rudder", Function.RUDDER, MIDDLE,
                     span_mm=220.0, chord_mm=55.0, whole_mm=160.0)  # fmt: skip
    return assembled(
        airframe(
            code, AircraftClass.SPORT, PowerKind.GLOW, span_mm=1600.0, length_mm=1250.0, wing_area_dm2=44.0,
            mean_chord_mm=280.0, empty_mass_g=2300.0, all_up_mass_g=2600.0, dive_speed_m_s=30.0,
            flight_min=12.0, flights_per_charge=3,
        ),
        (
            fit(code, "AIL-L", "Left aileron", Function.AILERON, 1, STANDARD, side=LEFT, surface=left),
            fit(code, "AIL-R", "Right aileron", Function.AILERON, 5, STANDARD, side=RIGHT, surface=right),
            fit(code, "ELE", "Elevator", Function.ELEVATOR, 2, STANDARD, surface=elevator_),
            fit(code, "RUD", "Rudder", Function.RUDDER, 4, STANDARD, surface=rudder),
            fit(code, "THR", "Throttle", Function.THROTTLE, 3, STANDARD),
        ),
        paths=(path(code, "A", fed("EX01", NICKEL_4, rest_v=5.34, load_a=1.0, loaded_v=5.26)),),
    )  # fmt: skip


@cache
def helicopter() -> Aircraft:
    """A glow-engined helicopter: three digital cyclic servos, a tail servo behind a gyro, two-cell pack."""
    code = "EXH"
    gyro = Stabiliser(
        aircraft=code, code="G", supply_min_v=3.6, supply_max_v=8.4, max_means=MaxMeans.ABSOLUTE,
        idle_ma=80.0, pulse_us=1520.0, rate_hz=333.0, cyclic_pulse_us=1520.0, cyclic_rate_hz=200.0,
    )  # fmt: skip
    tail = fit(code, "TAIL", "Tail", Function.TAIL, 4, TAIL)
    tail = dataclasses.replace(
        tail, through=gyro, position=dataclasses.replace(tail.position, through=gyro.code)
    )
    rotors = (
        Rotor(
            aircraft=code, diameter_mm=1350.0, blade_length_mm=600.0, blade_chord_mm=52.0, blade_mass_g=125.0,
            head_rpm=1550.0, flybar=False, swash=Swash.THREE_120, grip_arm_mm=22.0, pitch_deg=11.0,
            damper_flights=20, blade_flights=20, spindle_flights=20,
        ),
        Rotor(
            aircraft=code, rotor=RotorKind.TAIL, diameter_mm=250.0, blade_length_mm=95.0, blade_chord_mm=26.0,
            blade_mass_g=8.0, head_rpm=7200.0, grip_arm_mm=14.0, pitch_deg=25.0, counterweights=False,
        ),
    )  # fmt: skip
    return assembled(
        airframe(
            code, AircraftClass.HELI_IC, PowerKind.GLOW, length_mm=1250.0, empty_mass_g=4200.0,
            all_up_mass_g=4700.0, flight_min=8.0, flights_per_charge=2,
        ),
        (
            fit(code, "CYC-1", "Cyclic left", Function.CYCLIC, 1, CYCLIC),
            fit(code, "CYC-2", "Cyclic right", Function.CYCLIC, 2, CYCLIC),
            fit(code, "CYC-3", "Cyclic aft", Function.CYCLIC, 6, CYCLIC),
            tail,
            fit(code, "THR", "Throttle", Function.THROTTLE, 3, STRONG),
        ),
        rotors=rotors,
        stabilisers=(gyro,),
        paths=(path(code, "A", fed("EX11", LITHIUM_2, rest_v=8.36, load_a=5.0, loaded_v=8.32)),),
    )  # fmt: skip


def _two_packs(code: str, first: str, second: str) -> dict[str, Any]:
    return {
        "paths": (
            path(code, "A", fed(first, LITHIUM_2, rest_v=8.36, load_a=5.0, loaded_v=8.32)),
            path(code, "B", fed(second, LITHIUM_2, rest_v=8.36, load_a=5.0, loaded_v=8.32)),
        )
    }


@cache
def giant() -> Aircraft:
    """A petrol-engined giant with a servo for every surface and two packs."""
    code = "EXG"
    left = surface(code, "AIL-L", "Left aileron", Function.AILERON, LEFT,
                   span_mm=700.0, chord_mm=65.0, whole_mm=380.0)  # fmt: skip
    stab_left = surface(code, "ELE-L", "Left elevator", Function.ELEVATOR, LEFT,
                        span_mm=380.0, chord_mm=80.0, whole_mm=240.0)  # fmt: skip
    rudder = surface(code, "RUD", "Rudder", Function.RUDDER, MIDDLE,
                     span_mm=350.0, chord_mm=100.0, whole_mm=260.0)  # fmt: skip
    right = dataclasses.replace(left, code="AIL-R", name="Right aileron", side=RIGHT)
    stab_r = dataclasses.replace(stab_left, code="ELE-R", name="Right elevator", side=RIGHT)
    return assembled(
        airframe(
            code, AircraftClass.GIANT, PowerKind.PETROL, span_mm=2200.0, length_mm=1800.0, wing_area_dm2=83.0,
            mean_chord_mm=380.0, empty_mass_g=8500.0, all_up_mass_g=9500.0, mass_limit_g=25000.0,
            dive_speed_m_s=35.0, flight_min=10.0, flights_per_charge=2,
        ),
        (
            fit(code, "AIL-L", "Left aileron", Function.AILERON, 1, STRONG, side=LEFT, surface=left),
            fit(code, "AIL-R", "Right aileron", Function.AILERON, 6, STRONG, side=RIGHT, surface=right),
            fit(code, "ELE-L", "Left elevator", Function.ELEVATOR, 2, STRONG, side=LEFT, surface=stab_left),
            fit(code, "ELE-R", "Right elevator", Function.ELEVATOR, 7, STRONG, side=RIGHT, surface=stab_r),
            fit(code, "RUD", "Rudder", Function.RUDDER, 4, STRONG, surface=rudder),
            fit(code, "THR", "Throttle", Function.THROTTLE, 3, STRONG),
        ),
        **_two_packs(code, "EX21", "EX22"),
    )  # fmt: skip


@cache
def jet() -> Aircraft:
    """The giant turned into a slow turbine jet."""
    aircraft = with_airframe(
        giant(), aircraft_class=AircraftClass.JET_TURBINE, power=PowerKind.TURBINE, dive_speed_m_s=30.0,
        turbine_stop_s=1.5, extinguisher_on=DAY,
    )  # fmt: skip
    return with_surface(aircraft, play_deg=0.1)


def sailplane() -> Aircraft:
    """The trainer without its engine, its spoiler preset for a lost signal."""
    aircraft = with_airframe(trainer(), aircraft_class=AircraftClass.SAIL_SCALE, power=PowerKind.TOW)
    return with_channel(aircraft, 4, failsafe=FailsafeAction.PRESET, failsafe_us=1700.0)
