"""Two big clean aircraft with wings: a giant biplane and a turbine jet."""

from __future__ import annotations

import dataclasses

from hangar.parts import Aircraft, PowerPath, ServoFit, Surface
from hangar.parts.choices import (
    AircraftClass,
    FailsafeAction,
    FeedRole,
    Function,
    PowerKind,
)
from hangar.rules.changing import with_channel, with_fit
from hangar.rules.example_parts import (
    DAY,
    LEFT,
    LITHIUM_2,
    MIDDLE,
    STRONG,
    airframe,
    assembled,
    fed,
    fit,
    path,
    surface,
)
from tests.rules.clean.parts import left_and_right


def _two(code: str, kind: object, *packs: str, rest_v: float = 8.36) -> tuple[PowerPath, ...]:
    return tuple(
        path(code, part, fed(tag, kind, rest_v=rest_v, load_a=6.0, loaded_v=rest_v - 0.08))  # type: ignore[arg-type]
        for part, tag in zip("AB", packs, strict=True)
    )


def giant_biplane() -> Aircraft:
    """Petrol, a servo for each of four ailerons, both elevators and two ganged on the rudder; two packs."""
    code = "CLB"
    lower = left_and_right(
        surface(
            code,
            "AIL-LL",
            "Lower left aileron",
            Function.AILERON,
            LEFT,
            span_mm=560.0,
            chord_mm=70.0,
            whole_mm=360.0,
        )
    )
    upper = left_and_right(dataclasses.replace(lower[0], code="AIL-LU", name="Upper left aileron"))
    halves = left_and_right(
        surface(
            code,
            "ELE-L",
            "Left elevator",
            Function.ELEVATOR,
            LEFT,
            span_mm=400.0,
            chord_mm=95.0,
            whole_mm=260.0,
        )
    )
    rudder = surface(
        code, "RUD", "Rudder", Function.RUDDER, MIDDLE, span_mm=430.0, chord_mm=130.0, whole_mm=300.0
    )
    lower, upper = (
        (low, dataclasses.replace(high, code=high.code.replace("-LL", "-RL").replace("-LU", "-RU")))
        for low, high in (lower, upper)
    )

    def one(position: str, name: str, number: int, moved: Surface) -> ServoFit:
        return fit(code, position, name, moved.function, number, STRONG, side=moved.side, surface=moved)

    ailerons = (*lower, *upper)
    return assembled(
        airframe(
            code,
            AircraftClass.GIANT,
            PowerKind.PETROL,
            wing_count=2,
            span_mm=2150.0,
            length_mm=1900.0,
            wing_area_dm2=140.0,
            mean_chord_mm=350.0,
            empty_mass_g=13500.0,
            all_up_mass_g=14800.0,
            dive_speed_m_s=36.0,
            flight_min=10.0,
            flights_per_charge=3,
        ),
        (
            *(
                one(aileron.code, aileron.name, number, aileron)
                for number, aileron in zip((1, 5, 9, 10), ailerons, strict=True)
            ),
            one("ELE-L", "Left elevator", 2, halves[0]),
            one("ELE-R", "Right elevator", 7, halves[1]),
            one("RUD-1", "First rudder", 4, rudder),
            one("RUD-2", "Second rudder", 8, rudder),
            fit(code, "THR", "Throttle", Function.THROTTLE, 3, STRONG),
            fit(code, "CHOKE", "Choke", Function.CHOKE, 6, STRONG),
        ),
        paths=_two(code, LITHIUM_2, "CL21", "CL22"),
    )


def turbine_jet() -> Aircraft:
    """A trainer with flaps, wheels and brakes, a pack of its own for the engine control."""
    code = "CLJ"
    ailerons = left_and_right(
        surface(
            code,
            "AIL-L",
            "Left aileron",
            Function.AILERON,
            LEFT,
            span_mm=480.0,
            chord_mm=60.0,
            whole_mm=330.0,
            play_deg=0.1,
            mass_balanced=True,
        )
    )
    halves = left_and_right(
        surface(
            code,
            "ELE-L",
            "Left elevator",
            Function.ELEVATOR,
            LEFT,
            span_mm=330.0,
            chord_mm=60.0,
            whole_mm=210.0,
            play_deg=0.1,
            mass_balanced=True,
        )
    )
    flaps = left_and_right(
        surface(
            code,
            "FLAP-L",
            "Left flap",
            Function.FLAP,
            LEFT,
            span_mm=380.0,
            chord_mm=80.0,
            whole_mm=370.0,
            load_speed_m_s=28.0,
            play_deg=0.1,
            mass_balanced=True,
        )
    )
    rudder = surface(
        code,
        "RUD",
        "Rudder",
        Function.RUDDER,
        MIDDLE,
        span_mm=300.0,
        chord_mm=75.0,
        whole_mm=240.0,
        play_deg=0.1,
        mass_balanced=True,
    )
    moved = [
        fit(
            code,
            other_surface.code,
            other_surface.name,
            other_surface.function,
            number,
            STRONG,
            side=other_surface.side,
            surface=other_surface,
        )
        for number, other_surface in enumerate((*ailerons, *halves, *flaps, rudder), 1)
    ]
    radio = _two(code, LITHIUM_2, "CL41", "CL42")
    engine = path(
        code,
        "ECU",
        fed("CL43", LITHIUM_2, rest_v=8.36, load_a=5.0, loaded_v=8.28),
        role=FeedRole.ENGINE_CONTROL,
    )
    aircraft = assembled(
        airframe(
            code,
            AircraftClass.JET_TURBINE,
            PowerKind.TURBINE,
            span_mm=2000.0,
            length_mm=2200.0,
            wing_area_dm2=75.0,
            mean_chord_mm=380.0,
            empty_mass_g=12000.0,
            all_up_mass_g=15500.0,
            dive_speed_m_s=55.0,
            flight_min=9.0,
            flights_per_charge=3,
            metal_propeller=None,
            turbine_stop_s=1.2,
            extinguisher_on=DAY,
        ),
        (
            *moved,
            fit(code, "THR", "Turbine", Function.THROTTLE, 9, STRONG),
            fit(code, "STEER", "Nose wheel", Function.STEERING, 10, STRONG),
            fit(code, "BRAKE", "Brakes", Function.BRAKE, 11, STRONG),
        ),
        paths=(*radio, engine),
    )
    aircraft = with_channel(aircraft, 9, failsafe=FailsafeAction.OFF)
    return with_fit(aircraft, linkage={"rod_diameter_mm": 5.0, "rod_free_mm": 80.0, "rod_length_mm": 120.0})
