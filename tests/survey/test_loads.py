"""Loads at the servo: worked by hand from the published slopes, and their laws."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.figure import Basis
from hangar.parts import Aircraft, Surface
from hangar.parts.choices import AircraftClass, Function, LinkageKind, SurfaceKind, Swash
from hangar.survey import Conditions, PositionSurvey, survey
from hangar.survey.defaults import class_defaults
from hangar.survey.dive_speed import dive_speed_m_s
from hangar.survey.propeller import Propeller
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, OF_D620, biplane, fit, helicopter, surface, trainer

LEVEL_15_C = Conditions(today=CONDITIONS.today, altitude_m=0.0, air_c=15.0)


def with_one_aileron(made: Surface, kind: LinkageKind = LinkageKind.DIRECT, **how: float) -> Aircraft:
    """The trainer with that surface alone, driven straight unless told otherwise."""
    aircraft = trainer()
    place = fit("TR", "AIL", Function.AILERON, OF_D620, surface=made, linkage=kind, **how)  # type: ignore[arg-type]
    return replace(aircraft, surfaces=(made,), fits=(place,))


def position_of(aircraft: Aircraft, code: str = "AIL", conditions: Conditions = LEVEL_15_C) -> PositionSurvey:
    return survey(aircraft, conditions).positions[code]


def moment(position: PositionSurvey) -> tuple[float, float, float]:
    figure = position.surface_moment_nm
    assert figure is not None
    assert figure.low is not None
    assert figure.design is not None
    return figure.low, figure.expected, figure.design


def load_design(position: PositionSurvey) -> float:
    assert position.load_nm is not None
    assert position.load_nm.design is not None
    return position.load_nm.design


SPORT_AILERON = surface(
    "TR", "AIL", Function.AILERON, 750, 60, 300, 20, aspect_ratio=6.667, incidence_deg=4, load_speed_m_s=35
)


def test_hinge_moment_of_a_sport_aileron_as_worked_by_hand() -> None:
    # q = 1.225/2 x 35^2 = 750.3 Pa; I = 0.75 x 0.06^2; thin section at ratio 0.20 (Glauert): b1 -0.49938,
    # b2 -0.92288, effectiveness 0.54982; aspect ratio 6.667 by lifting line; 2 degrees of incidence expected,
    # 4 in the worst moment; camber 2 %, half of its 0.073 expected, on the aileron that goes down. A free
    # plate at 22 degrees (Hoerner, Rayleigh) caps neither.
    b1, b2, effectiveness, aspect = 0.49938, 0.92288, 0.54982, 6.667
    b1_panel = b1 * aspect / (aspect + 2)
    b2_panel = b2 - b1 * effectiveness * 2 / (aspect + 2)
    two, four, twenty = (math.radians(angle) for angle in (2, 4, 20))
    base, camber = 0.82 * (b1_panel * two + b2_panel * twenty), 0.5 * 0.0731
    slopes = b1 * two + b2 * twenty - base
    worse = 0.82 * (b1_panel * four + b2_panel * twenty) - base
    bubble = 0.03 * (1 - 20 / 25)
    beta = math.sqrt(1 - (35 / 340.3) ** 2)
    qi = 0.5 * 1.225 * 35**2 * 0.75 * 0.06**2 / beta
    low, expected, design = moment(position_of(with_one_aileron(SPORT_AILERON, arm_mm=10, horn_mm=10)))
    assert expected == pytest.approx(qi * (base + camber), rel=5e-3)
    assert low == pytest.approx(qi * 0.60 * (base + camber), rel=5e-3)
    assert design == pytest.approx(qi * (base + camber + math.hypot(slopes, worse, bubble, camber)), rel=0.02)


def test_a_direct_drive_feels_the_hinge_moment_itself() -> None:
    position = position_of(with_one_aileron(SPORT_AILERON, arm_mm=10, horn_mm=10))
    assert load_design(position) == pytest.approx(moment(position)[2])
    assert position.servo_travel_deg is not None
    assert position.servo_travel_deg.expected == pytest.approx(20.0)


def test_a_rod_carries_the_moment_by_its_levers_at_that_deflection() -> None:
    # Square arm 15, horn 20, rod 120: 32.053 degrees of surface at 45 of arm, 0.6283 degree a degree there
    # (closed-form four-bar worked with 30 digits, row P03 of the published linkage cases).
    made = replace(SPORT_AILERON, throw_up_deg=32.053, throw_down_deg=0.0)
    position = position_of(with_one_aileron(made, LinkageKind.PUSHROD, arm_mm=15, horn_mm=20))
    assert position.servo_travel_deg is not None
    assert position.servo_travel_deg.expected == pytest.approx(45.0, abs=0.01)
    assert load_design(position) == pytest.approx(moment(position)[2] * 0.6283 / 0.9, rel=1e-3)


def test_servos_on_one_surface_share_its_load() -> None:
    both = survey(biplane(), CONDITIONS)
    aircraft = biplane()
    alone = replace(
        aircraft, fits=tuple(servo_fit for servo_fit in aircraft.fits if servo_fit.code != "RUD-B")
    )
    one = survey(alone, CONDITIONS)
    assert load_design(both.positions["RUD-A"]) == pytest.approx(0.5 * load_design(one.positions["RUD-A"]))
    assert load_design(both.positions["RUD-A"]) == load_design(both.positions["RUD-B"])


def test_an_empty_place_on_a_ganged_surface_holds_nothing() -> None:
    aircraft = biplane()
    empty = tuple(
        replace(servo_fit, servo=None, servo_type=None) if servo_fit.code == "RUD-B" else servo_fit
        for servo_fit in aircraft.fits
    )
    one = survey(replace(aircraft, fits=empty), CONDITIONS)
    two = survey(aircraft, CONDITIONS)
    assert load_design(one.positions["RUD-A"]) == pytest.approx(2 * load_design(two.positions["RUD-A"]))


@given(speed=st.floats(31.0, 45.0), deflection=st.floats(26.0, 45.0))
def test_twice_the_speed_is_four_times_the_load(speed: float, deflection: float) -> None:
    # Above 25 degrees no bubble is left, so only speed squared and compressibility remain.
    loads = []
    for factor in (1.0, 2.0):
        made = replace(
            SPORT_AILERON, load_speed_m_s=factor * speed, throw_up_deg=deflection, throw_down_deg=deflection
        )
        beta = math.sqrt(1 - (factor * speed / 340.3) ** 2)
        load = position_of(with_one_aileron(made, arm_mm=10, horn_mm=10)).load_nm
        assert load is not None
        loads.append(load.expected * beta)
    assert loads[1] == pytest.approx(4 * loads[0], rel=1e-3)


def test_cold_air_at_sea_level_loads_more_than_warm_air_on_a_mountain() -> None:
    aircraft = with_one_aileron(SPORT_AILERON, arm_mm=10, horn_mm=10)
    cold = Conditions(today=CONDITIONS.today, altitude_m=0.0, air_c=-10.0)
    high = Conditions(today=CONDITIONS.today, altitude_m=2000.0, air_c=25.0)
    assert load_design(position_of(aircraft, conditions=cold)) > load_design(
        position_of(aircraft, conditions=high)
    )


def at_speed(aircraft: Aircraft, speed_m_s: float, wash_pct: float) -> Aircraft:
    return replace(
        aircraft,
        airframe=replace(aircraft.airframe, dive_speed_m_s=speed_m_s, level_speed_m_s=None),
        fits=tuple(
            replace(
                servo_fit, surface=replace(servo_fit.surface, wash_pct=wash_pct, load_speed_m_s=speed_m_s)
            ) if servo_fit.surface else servo_fit
            for servo_fit in aircraft.fits
        ),
    )  # fmt: skip


def test_the_propeller_adds_thrust_over_its_disc_to_the_dynamic_pressure() -> None:
    surveyed = survey(at_speed(biplane(), 20.0, 50.0), LEVEL_15_C)
    still = survey(at_speed(biplane(), 20.0, 0.0), LEVEL_15_C)
    # Momentum theory: thrust over disc area; 0.9 of 15.2 kg on 24 x 10 in, half of the rudder washed. It
    # turns sqrt(134 N/(0.09 x 1.225 kg/m3)) / (0.61 m)^2 = 93.9 times a second, so it screws 23.8 m/s.
    share = 1.0 - 20.0 / (1.15 * 23.85)
    wash = share * 0.5 * 0.9 * 15.2 * 9.80665 / (math.pi * (24 * 0.0254) ** 2 / 4)
    flight = 0.5 * 1.225 * 20**2
    ratio = moment(surveyed.positions["RUD-A"])[1] / moment(still.positions["RUD-A"])[1]
    assert ratio == pytest.approx((flight + 0.5 * wash) / flight, rel=5e-3)
    low = moment(still.positions["RUD-A"])[0]
    assert moment(surveyed.positions["RUD-A"])[0] == pytest.approx(low)


def test_the_wash_is_gone_where_the_propeller_no_longer_pulls() -> None:
    moments = {
        speed: [
            moment(survey(at_speed(biplane(), speed, washed), LEVEL_15_C).positions["RUD-A"])[1]
            for washed in (0.0, 50.0)
        ]
        for speed in (10.0, 20.0, 27.0, 28.0, 38.0)
    }
    added = [washed - plain for plain, washed in moments.values()]
    assert added[0] > added[1] > added[2] > 0.0
    assert added[3:] == [0.0, 0.0]


@all_cases(
    "text, inches",
    [
        ("20x8", (20, 8)),
        ("24 x 10 in", (24, 10)),
        ("26 x 10 wood", (26, 10)),
        ('16" carbon', (16, None)),
        ('16" x 8"', (16, 8)),
        ("15.5/8", (15.5, 8)),
        ("15,5 × 8,5", (15.5, 8.5)),
        ("11x", (11, None)),
        ("11x55", (11, None)),
        ("three blades", None),
        ("1050", None),
        (None, None),
    ],
)
def test_a_propellers_size_is_diameter_and_pitch(
    text: str | None, inches: tuple[float, float | None] | None
) -> None:
    propeller = Propeller.of_size(text)
    if inches is None:
        assert propeller is None
        return
    assert propeller is not None
    diameter, pitch = inches
    assert propeller.diameter_m == pytest.approx(diameter * 0.0254)
    assert propeller.pitch_told is (pitch is not None)
    assert propeller.pitch_m == pytest.approx((0.5 * diameter if pitch is None else pitch) * 0.0254)


def test_wash_without_a_propeller_size_is_named_as_missing() -> None:
    aircraft = biplane()
    bare = replace(aircraft, airframe=replace(aircraft.airframe, propeller=None))
    assert "aircraft BI: propeller" in map(str, survey(bare, CONDITIONS).positions["RUD-A"].missing)


def test_a_speed_nobody_gave_is_the_fast_one_of_the_class_and_marked_typical() -> None:
    aircraft = trainer()
    unknown = replace(
        aircraft, airframe=replace(aircraft.airframe, dive_speed_m_s=None, aircraft_class=AircraftClass.GIANT)
    )
    position = position_of(unknown)
    assert position.load_speed_m_s is not None
    defaults = class_defaults()
    dive = dive_speed_m_s(unknown.airframe, defaults)
    assert position.load_speed_m_s.expected in (pytest.approx(0.65 * dive), pytest.approx(dive))
    assert position.load_nm is not None
    assert position.load_nm.basis is Basis.TYPICAL
    assert position.control_left is not None
    assert position.control_left.basis is Basis.TYPICAL


def test_a_load_says_what_it_rests_on() -> None:
    load = position_of(trainer()).load_nm
    assert load is not None
    assert load.basis is Basis.TYPICAL  # shares of the class and the linkage's efficiency
    names = {str(item.name) for item in load.working.inputs}
    assert {"whole chord", "dive speed", "air density", "speed there", "servo arm radius"} <= names
    assert {"camber of the section", "deflection wanted there", "point of flight"} <= names


def test_the_deflection_can_be_limited_at_that_speed() -> None:
    made = replace(SPORT_AILERON, load_throw_deg=8.0)
    position = position_of(with_one_aileron(made, arm_mm=10, horn_mm=10))
    assert position.load_deflection_deg is not None
    assert position.load_deflection_deg.expected == 8.0


def test_a_brake_flap_beyond_fifty_degrees_still_has_a_load() -> None:
    made = replace(SPORT_AILERON, throw_up_deg=0.0, throw_down_deg=70.0, load_speed_m_s=18.0)
    position = position_of(with_one_aileron(made, arm_mm=10, horn_mm=10))
    assert load_design(position) > 0.0


@all_cases("whole", [62.0, 99.0, 101.0, 1200.0, 1990.0])
def test_no_chord_ratio_is_refused_and_none_makes_a_step(whole: float) -> None:
    def load(whole_mm: float) -> float:
        made = replace(SPORT_AILERON, whole_chord_mm=whole_mm)
        figure = position_of(with_one_aileron(made, arm_mm=10, horn_mm=10)).load_nm
        assert figure is not None
        return figure.expected

    assert load(1.01 * whole) == pytest.approx(load(whole), rel=0.02)


def test_an_all_moving_surface_turns_about_its_pivot() -> None:
    made = replace(
        SPORT_AILERON, carried=SurfaceKind.ALL_MOVING, whole_chord_mm=None, root_chord_mm=150.0,
        pivot_pct=25.0, aspect_ratio=4.0, incidence_deg=0.0, throw_up_deg=20.0, throw_down_deg=20.0,
    )  # fmt: skip
    position = position_of(with_one_aileron(made, arm_mm=10, horn_mm=10))
    # Lift slope 2 pi 4/6 up to the stall at 14 degrees; lever 0.02 of the chord at least, 0.05 at most.
    beta = math.sqrt(1 - (35 / 340.3) ** 2)
    qi = 0.5 * 1.225 * 35**2 * 0.75 * 0.150**2 / beta
    lift = 2 * math.pi * 4 / 6 * math.radians(14)
    assert moment(position)[1] == pytest.approx(qi * lift * 0.02, rel=5e-3)
    assert moment(position)[2] == pytest.approx(qi * lift * 0.05, rel=5e-3)


def test_an_all_moving_surface_without_a_pivot_is_named() -> None:
    made = replace(SPORT_AILERON, carried=SurfaceKind.ALL_MOVING, pivot_pct=None)
    position = position_of(with_one_aileron(made, arm_mm=10, horn_mm=10))
    assert position.load_nm is None
    assert "surface AIL: pivot of an all-moving surface" in map(str, position.missing)


def test_a_throw_the_linkage_cannot_reach_is_judged_at_what_it_reaches() -> None:
    made = replace(SPORT_AILERON, throw_up_deg=80.0)
    position = position_of(with_one_aileron(made, LinkageKind.PUSHROD, arm_mm=10, horn_mm=25))
    assert position.load_nm is not None
    assert max(control.told_deg for control in position.control) < 40.0
    assert "servo_travel_deg" in position.missing_for


def test_each_of_three_cyclic_servos_carries_what_statics_say() -> None:
    position = position_of(helicopter(), "CYC1")
    omega = 2150 * math.pi / 30
    inertia = 0.070 * 1.15 * 0.185 * 0.061**2
    pitch = math.radians(12)
    propeller = omega**2 * inertia * math.sin(pitch) * math.cos(pitch)
    lift = 3 * 5.2 * 9.80665 / 2 * 0.02 * 0.061
    section = 0.01 * 0.5 * 1.225 * 0.061**2 * omega**2 * 0.79**3 / 3
    friction = 0.0015 * 0.185 * omega**2 * 0.55 * 0.79 * 0.006
    force = 2 * (propeller + lift + section + friction) / 0.023
    # Three servos at 120 degrees: a third of the collective, two thirds of the cyclic, which is half as much.
    by_hand = force * 0.015 * (1 / 3 + 2 / 3 * 0.5)
    assert position.load_nm is not None
    assert position.load_nm.expected == pytest.approx(by_hand, rel=1e-3)
    assert position.load_nm.low == pytest.approx(0.5 * by_hand, rel=1e-3)
    assert position.load_nm.design == pytest.approx(2.0 * by_hand, rel=1e-3)


def test_a_logged_flight_does_not_lie_above_the_collective_load() -> None:
    # A pilot's current logger of 2008 showed more than 60 ozf in (0.42 N m) on the single collective servo of
    # a 90-size machine with a flybar (forum report, weak): the design load must not lie below it.
    aircraft = helicopter()
    rotor = replace(aircraft.rotors[0], swash=Swash.MECHANICAL, flybar=True, head_rpm=1900)
    fits = (
        replace(aircraft.fits[0], position=replace(aircraft.fits[0].position, function=Function.COLLECTIVE)),
    )
    position = position_of(replace(aircraft, rotors=(rotor,), fits=fits), "CYC1")
    assert load_design(position) > 0.42


def test_the_tail_servo_carries_the_tail_blades() -> None:
    position = position_of(helicopter(), "TAIL")
    omega = 10100 * math.pi / 30
    pitch = math.radians(25)
    moment_nm = omega**2 * 0.070 * 1.2 * 0.011 * 0.029**2 * math.sin(pitch) * math.cos(pitch)
    assert position.load_nm is not None
    assert position.load_nm.expected == pytest.approx(2 * moment_nm / 0.014 * 0.010, rel=1e-6)


@all_cases(
    "field, words",
    [
        ("diameter_mm", "rotor main: diameter"),
        ("blade_chord_mm", "rotor main: blade chord"),
        ("blade_mass_g", "rotor main: blade mass"),
        ("head_rpm", "rotor main: rotor speed"),
        ("grip_arm_mm", "rotor main: blade grip arm"),
    ],
)
def test_a_rotor_field_nobody_filled_is_named_and_leaves_no_load(field: str, words: str) -> None:
    aircraft = helicopter()
    rotor = replace(aircraft.rotors[0], **{field: None})  # type: ignore[arg-type]
    position = position_of(replace(aircraft, rotors=(rotor, aircraft.rotors[1])), "CYC1")
    assert position.load_nm is None
    assert position.reserve is None
    assert words in map(str, position.missing)


def test_a_head_whose_flybar_is_unknown_is_taken_without_one_and_marked_typical() -> None:
    aircraft = helicopter()
    rotor = replace(aircraft.rotors[0], flybar=None)
    load = position_of(replace(aircraft, rotors=(rotor,)), "CYC1").load_nm
    assert load is not None
    assert load.basis is Basis.TYPICAL
    known = position_of(aircraft, "CYC1").load_nm
    assert known is not None
    assert load.expected == pytest.approx(known.expected)
