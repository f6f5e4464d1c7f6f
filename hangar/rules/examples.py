"""Clean aircraft that the rules' examples start from: nothing on them is to be flagged."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any

from hangar.parts import (
    Aircraft,
    CellReading,
    Charge,
    Flight,
    Installation,
    LoadTest,
    PackType,
    Regulator,
    RegulatorType,
    Rotor,
    ServoRating,
    ServoType,
    Stabiliser,
)
from hangar.parts.choices import (
    AircraftClass,
    FeedRole,
    Function,
    MaxMeans,
    PackJoin,
    PowerKind,
    RegulatorKind,
    RotorKind,
    Swash,
)
from hangar.rules.changing import with_airframe, with_fit, with_path
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
    ago,
    airframe,
    assembled,
    at_hour,
    channel,
    fed,
    fit,
    path,
    surface,
)
from hangar.survey.model import Conditions

__all__ = ["CYCLIC", "DAY", "LITHIUM_2", "NICKEL_4", "STANDARD", "STRONG", "TAIL", "ago"]


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


def elevator(**parts: Any) -> Aircraft:
    """The trainer with other parts at its elevator."""
    return with_fit(trainer(), "ELE", **parts)


def wing(**parts: Any) -> Aircraft:
    """The trainer with other parts at its left aileron."""
    return with_fit(trainer(), "AIL-L", **parts)


def weaker(kind: ServoType, share: float) -> tuple[ServoRating, ...]:
    """A servo type's ratings with less torque."""
    return tuple(dataclasses.replace(row, torque_nm=max(0.01, row.torque_nm * share)) for row in kind.ratings)


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


def slower(kind: ServoType, times: float) -> ServoType:
    """A servo type with longer transit times."""
    rows = tuple(dataclasses.replace(row, transit_s=row.transit_s * times) for row in kind.ratings)
    return dataclasses.replace(kind, ratings=rows)


def ganged(**parts: Any) -> Aircraft:
    """The giant with a second servo on its rudder; ``parts`` change that servo."""
    aircraft = giant()
    rudder = aircraft.fit("RUD")
    if rudder is None or rudder.surface is None:
        raise KeyError("RUD")
    second = fit("EXG", "RUD-2", "Rudder second", Function.RUDDER, 8, STRONG, surface=rudder.surface)
    both = dataclasses.replace(
        aircraft,
        fits=(*aircraft.fits, second),
        channels=(*aircraft.channels, channel("EXG", 8, Function.RUDDER)),
    )
    return with_fit(both, "RUD-2", **parts) if parts else both


def regulated(set_v: float, **values: Any) -> dict[str, Any]:
    """A switching regulator for a power path, as parts to change; ``values`` change its type."""
    kind = RegulatorType(
        code="EX-regulator", regulator=RegulatorKind.SWITCHING, input_max_v=12.0, input_min_v=6.0,
        output_min_v=5.0, output_max_v=9.0, continuous_a=20.0, burst_a=40.0, burst_s=10.0, drop_out_v=0.2,
        efficiency_pct=90.0, shed_w=10.0, inputs=1, isolated=True, fails_through=False,
    )  # fmt: skip
    return {
        "regulator": Regulator(aircraft="EX", code="REG", regulator_type=kind.code, set_v=set_v),
        "regulator_type": dataclasses.replace(kind, **values),
        "feed": {"regulator": "REG"},
    }


def only_pack() -> str:
    """Tag of the trainer's pack."""
    return trainer().paths[0].packs[0].pack.tag


def load_tested(tag: str, rest_v: float, loaded_v: float, load_a: float = 1.0) -> tuple[LoadTest, ...]:
    """A load test of the examples' day."""
    return (LoadTest(pack=tag, tested_at=at_hour(0), load_a=load_a, rest_v=rest_v, loaded_v=loaded_v),)


def cell_readings(tag: str, *volts: float) -> tuple[CellReading, ...]:
    """Resting volts of a pack's cells."""
    return tuple(CellReading(pack=tag, read_on=DAY, cell=n, cell_v=v) for n, v in enumerate(volts, 1))


def charged(tag: str = "EX01", **values: Any) -> tuple[Charge, ...]:
    """A charge of the examples' day."""
    return (Charge(pack=tag, charged_at=at_hour(0), **values),)


def home_day() -> Conditions:
    """The examples' day, at home."""
    return Conditions(today=DAY)


def cold_day() -> Conditions:
    """The examples' day at the field, at the freezing point."""
    return Conditions(today=DAY, air_c=0.0, field_day=True)


def on_a_y(second: PackType) -> dict[str, Any]:
    """The trainer's pack and another one on a plain Y, as parts of its power path."""
    first = trainer().paths[0].packs[0]
    other = fed("EX02", second, rest_v=5.34, load_a=1.0, loaded_v=5.26)
    return {"packs": (first, other), "feed": {"join": PackJoin.PLAIN_Y}}


def in_series(**values: Any) -> dict[str, Any]:
    """Two of the trainer's packs in series; ``values`` change the second."""
    first = trainer().paths[0].packs[0]
    other = fed("EX02", NICKEL_4, rest_v=5.34, load_a=1.0, loaded_v=5.26)
    other = dataclasses.replace(other, pack=dataclasses.replace(other.pack, **values))
    return {"packs": (first, other), "feed": {"join": PackJoin.SERIES}}


def starved() -> dict[str, Any]:
    """A regulator that is set well and gives far too little current."""
    return regulated(6.0, continuous_a=1.0, burst_a=1.5)


def driven_only(mass_g: float) -> Aircraft:
    """The helicopter turned electric, its radio on the drive pack alone."""
    aircraft = with_path(
        helicopter(), **{**regulated(8.0), "feed": {"regulator": "REG", "role": FeedRole.DRIVE}}
    )
    return with_airframe(
        aircraft, power=PowerKind.ELECTRIC, all_up_mass_g=mass_g, empty_mass_g=mass_g - 500.0
    )


def flown(days: int = 6, **values: Any) -> tuple[Flight, ...]:
    """A flight some days ago."""
    return (Flight(aircraft="EXT", flown_on=ago(days), minutes_min=10.0, **values),)


def stay_elsewhere(tag: str) -> Installation:
    """An open stay of a servo in another aircraft."""
    return Installation(servo=tag, aircraft="EXO", position="SPO", since_on=ago(30))
