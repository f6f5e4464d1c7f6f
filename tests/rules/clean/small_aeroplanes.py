"""Two small clean aircraft with wings: a thin-wing sailplane and a park model."""

from __future__ import annotations

import dataclasses

from hangar.parts import Aircraft, Regulator
from hangar.parts.choices import (
    AircraftClass,
    FailsafeAction,
    FeedRole,
    Function,
    PowerKind,
)
from hangar.rules.changing import with_channel, with_fit
from hangar.rules.example_parts import (
    LEFT,
    MIDDLE,
    airframe,
    assembled,
    fed,
    fit,
    path,
    surface,
)
from tests.rules.clean.parts import DRIVE_3, ION_2, MINI, SUPPLY_5, WING_8_MM, fitted, left_and_right


def thin_sailplane() -> Aircraft:
    """A slope racer: servos of 8 mm in a wing of 11 mm, V-tail, flaps that brake without a signal."""
    code = "CLS"
    ailerons = left_and_right(
        surface(
            code,
            "AIL-L",
            "Left aileron",
            Function.AILERON,
            LEFT,
            span_mm=700.0,
            chord_mm=36.0,
            whole_mm=170.0,
            play_deg=0.2,
            mass_balanced=False,
            load_throw_deg=6.0,
        )
    )
    flaps = left_and_right(
        surface(
            code,
            "FLAP-L",
            "Left flap",
            Function.FLAP,
            LEFT,
            span_mm=600.0,
            chord_mm=44.0,
            whole_mm=210.0,
            used_as_brake=True,
            load_speed_m_s=18.0,
        )
    )
    tail = left_and_right(
        surface(
            code,
            "VT-L",
            "Left V-tail",
            Function.V_TAIL,
            LEFT,
            span_mm=290.0,
            chord_mm=32.0,
            whole_mm=110.0,
            load_throw_deg=6.0,
        )
    )
    fits = []
    for number, moved in enumerate((*ailerons, *flaps, *tail), 1):
        fits.append(
            fit(
                code,
                moved.code,
                moved.name,
                moved.function,
                number,
                WING_8_MM,
                side=moved.side,
                surface=moved,
            )
        )
    aircraft = assembled(
        airframe(
            code,
            AircraftClass.SAIL_FAST,
            PowerKind.NONE,
            span_mm=2900.0,
            length_mm=1450.0,
            wing_area_dm2=57.0,
            mean_chord_mm=200.0,
            empty_mass_g=2300.0,
            all_up_mass_g=3600.0,
            mass_limit_g=5000.0,
            dive_speed_m_s=48.0,
            competition_class="F3F",
            flight_min=20.0,
            flights_per_charge=4,
            metal_propeller=None,
            engine_stop=None,
            ignition_kill=None,
        ),
        tuple(fits),
        paths=(path(code, "A", fed("CL31", ION_2, rest_v=8.30, load_a=3.0, loaded_v=8.22)),),
    )
    aircraft = fitted(
        aircraft,
        bay=(26.0, 9.0, 26.0, 28.0),
        arm_mm=6.5,
        horn_mm=11.0,
        rod_length_mm=60.0,
        rod_free_mm=40.0,
        rod_diameter_mm=2.0,
        ball_play_mm=0.02,
    )
    aircraft = with_fit(aircraft, "AIL-L", "AIL-R", "FLAP-L", "FLAP-R", position={"wing_depth_mm": 11.0})
    for number in (3, 4):
        aircraft = with_channel(aircraft, number, failsafe=FailsafeAction.PRESET, failsafe_us=1900.0)
    return aircraft


def park_model() -> Aircraft:
    """A small electric high-wing model whose speed controller feeds the radio."""
    code = "CLP"
    ailerons = left_and_right(
        surface(
            code,
            "AIL-L",
            "Left aileron",
            Function.AILERON,
            LEFT,
            span_mm=380.0,
            chord_mm=30.0,
            whole_mm=170.0,
            play_deg=1.0,
        )
    )
    elevator = surface(
        code,
        "ELE",
        "Elevator",
        Function.ELEVATOR,
        MIDDLE,
        span_mm=340.0,
        chord_mm=35.0,
        whole_mm=120.0,
        play_deg=1.0,
    )
    rudder = surface(
        code,
        "RUD",
        "Rudder",
        Function.RUDDER,
        MIDDLE,
        span_mm=150.0,
        chord_mm=45.0,
        whole_mm=110.0,
        play_deg=1.0,
    )
    fits = tuple(
        fit(
            code,
            other_surface.code,
            other_surface.name,
            other_surface.function,
            number,
            MINI,
            side=other_surface.side,
            surface=other_surface,
        )
        for number, other_surface in ((1, ailerons[0]), (5, ailerons[1]), (2, elevator), (4, rudder))
    )
    supply = path(
        code,
        "A",
        fed("CL51", DRIVE_3, rest_v=12.55, load_a=10.0, loaded_v=12.2),
        role=FeedRole.DRIVE,
        switch=None,
        regulator="SC",
        lead_length_mm=120.0,
        parallel_leads=1,
    )
    supply = dataclasses.replace(
        supply,
        switch=None,
        switch_type=None,
        regulator_type=SUPPLY_5,
        regulator=Regulator(aircraft=code, code="SC", regulator_type=SUPPLY_5.code, set_v=5.0),
    )
    aircraft = assembled(
        airframe(
            code,
            AircraftClass.ELECTRIC_SMALL,
            PowerKind.ELECTRIC,
            span_mm=1100.0,
            length_mm=850.0,
            wing_area_dm2=19.0,
            mean_chord_mm=170.0,
            empty_mass_g=560.0,
            all_up_mass_g=700.0,
            dive_speed_m_s=20.0,
            flight_min=8.0,
            flights_per_charge=1,
            engine_stop=None,
            ignition_kill=None,
        ),
        fits,
        paths=(supply,),
    )
    throttle = dataclasses.replace(
        aircraft.channels[0], number=3, function=Function.THROTTLE, failsafe=FailsafeAction.OFF
    )
    aircraft = dataclasses.replace(aircraft, channels=(*aircraft.channels, throttle))
    aircraft = fitted(
        aircraft,
        bay=(24.0, 13.0, 26.0, 27.5),
        arm_mm=8.0,
        horn_mm=14.0,
        rod_diameter_mm=2.0,
        rod_free_mm=60.0,
    )
    return with_fit(aircraft, lead={"length_mm": 200.0, "awg": 28})
