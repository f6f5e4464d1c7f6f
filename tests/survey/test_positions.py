"""Volts, torque, holding and rods at one position, each against its law worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangar.base.figure import Basis, Figure
from hangar.parts import Aircraft, Linkage
from hangar.parts.choices import Function, LinkageKind, RodMaterial
from hangar.survey import Scenario, survey
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, MK_G30, OF_D620, TS_31, biplane, fit, trainer


def value(figure: Figure | None) -> float:
    assert figure is not None
    return figure.expected


def with_fit(aircraft: Aircraft, code: str, **changed: object) -> Aircraft:
    """The aircraft with fields of one position's fit changed."""
    fits = tuple(
        replace(servo_fit, **changed) if servo_fit.code == code else servo_fit  # type: ignore[arg-type]
        for servo_fit in aircraft.fits
    )
    return replace(aircraft, fits=fits)


def with_linkage(aircraft: Aircraft, code: str, **changed: object) -> Aircraft:
    """The aircraft with fields of one position's linkage changed."""
    held = aircraft.fit(code)
    assert held is not None
    assert held.linkage is not None
    return with_fit(aircraft, code, linkage=replace(held.linkage, **changed))  # type: ignore[arg-type]


def test_the_lead_of_a_hard_working_servo_carries_its_share_of_stall_current() -> None:
    surveyed = survey(biplane(), CONDITIONS)
    position = surveyed.positions["ELE"]
    start_v = surveyed.scenarios[Scenario.PEAK].node_v["bus"]
    # Rated rows 6.0 V 2.41 N m 5.88 A and 7.4 V 3.00 N m 7.26 A, a straight line between them.
    share = (start_v - 6.0) / 1.4
    torque, stall = 2.41 + share * 0.59, 5.88 + share * 1.38
    assert position.load_nm is not None
    current = min(stall, stall * position.load_nm.expected / torque)
    assert value(position.lead_current_a) == pytest.approx(current, rel=1e-9)
    assert value(position.lead_drop_v) == pytest.approx(current * value(position.lead_ohm), rel=1e-9)
    assert value(position.delivered_v) == pytest.approx(
        start_v - current * value(position.lead_ohm), rel=1e-9
    )


def test_a_servo_whose_load_is_not_known_draws_the_usual_share() -> None:
    position = survey(trainer(), CONDITIONS).positions["THR"]
    stall = value(position.lead_current_a) / 0.4
    assert stall == pytest.approx(0.73, abs=0.02)
    assert position.load_nm is None
    assert position.reserve is None


def test_torque_and_speed_are_read_on_the_straight_line_between_rated_rows() -> None:
    position = survey(trainer(), CONDITIONS).positions["AIL"]
    volts = value(position.delivered_v)
    assert 4.8 < volts < 6.0
    share = (volts - 4.8) / 1.2
    assert value(position.torque_nm) == pytest.approx(0.31 + share * 0.08, rel=1e-9)
    speed = (1 - share) * 60 / 0.220 + share * 60 / 0.174
    assert value(position.transit_s) == pytest.approx(60 / speed, rel=1e-9)
    assert position.transit_s is not None
    assert position.transit_s.unit == "s/60deg"


def test_torque_above_the_rating_is_held_and_said() -> None:
    aircraft = with_fit(biplane(), "THR", servo_type=TS_31)
    position = survey(aircraft, CONDITIONS).positions["THR"]
    assert value(position.delivered_v) > 6.0
    assert value(position.torque_nm) == 0.39
    assert position.torque_nm is not None
    assert any(
        "above the highest rated volts" in str(item.value) for item in position.torque_nm.working.inputs
    )


def test_the_share_of_the_torque_is_that_at_the_wanted_deflection() -> None:
    position = survey(biplane(), CONDITIONS).positions["AIL-L"]
    assert position.torque_share is not None
    by_hand = value(position.load_nm) / value(position.torque_nm)
    assert position.torque_share.expected == pytest.approx(by_hand)
    assert position.control_left is not None
    assert position.control_left.low is not None
    assert position.control_left.design is not None
    assert position.control_left.low <= position.control_left.expected <= position.control_left.design


def test_holding_follows_a_proportional_drive_with_a_dead_band() -> None:
    position = survey(trainer(), CONDITIONS).positions["AIL"]
    # Analog: full drive at 25 degrees of error; 7 us of dead band at 0.09 degrees a microsecond.
    dead, full, torque = 7 * 0.09, 25.0, value(position.torque_nm)
    assert value(position.torque_at_1_deg_nm) == pytest.approx(torque * (1.0 - dead) / (full - dead))
    assert value(position.deg_to_half_torque) == pytest.approx(dead + 0.5 * (full - dead))


def test_a_digital_servo_holds_stiffer_near_centre() -> None:
    before = survey(trainer(), CONDITIONS).positions["AIL"]
    after = survey(with_fit(trainer(), "AIL", servo_type=OF_D620), CONDITIONS).positions["AIL"]
    assert value(after.torque_at_1_deg_nm) > 10 * value(before.torque_at_1_deg_nm)
    assert value(after.deg_to_half_torque) < 1.0 < value(before.deg_to_half_torque)


def test_a_servo_that_is_driven_back_holds_little() -> None:
    aircraft = biplane()
    fast = replace(aircraft, airframe=replace(aircraft.airframe, dive_speed_m_s=130))
    position = survey(fast, CONDITIONS).positions["AIL-L"]
    assert value(position.torque_share) > 1.0
    assert value(position.control_left) < 0.9
    assert value(position.lead_current_a) == pytest.approx(value(position.stall_a), rel=0.2)


def test_rod_force_is_stall_torque_at_the_highest_volts_over_the_arm() -> None:
    position = survey(biplane(), CONDITIONS).positions["AIL-L"]
    # 8.4 V fresh off charge: 3.42 N m on an arm of 22 mm.
    assert value(position.rod_force_n) == pytest.approx(3.42 / 0.022, rel=1e-6)


def test_rod_buckling_is_eulers_load() -> None:
    position = survey(biplane(), CONDITIONS).positions["AIL-L"]
    # Steel 200 GPa, 2 mm, 115 mm free, both ends pinned.
    inertia = math.pi * 2.0**4 / 64
    euler = math.pi**2 * 200e3 * inertia / 115.0**2
    assert value(position.rod_buckling_n) == pytest.approx(euler, rel=1e-6)
    assert value(position.rod_margin) == pytest.approx(euler / (3.42 / 0.022), rel=1e-6)


def test_a_rod_whose_material_is_unknown_is_named_beside_the_missing_figure() -> None:
    aircraft = with_linkage(biplane(), "AIL-L", rod_material=None, rod_diameter_mm=None)
    position = survey(aircraft, CONDITIONS).positions["AIL-L"]
    assert position.rod_buckling_n is None
    assert position.rod_margin is None
    assert set(map(str, position.missing_for["rod_buckling_n"])) == {
        "linkage AIL-L: rod diameter",
        "linkage AIL-L: rod material",
    }
    assert position.missing == ()


def test_a_tube_as_thick_as_its_bore_is_told_and_does_not_raise() -> None:
    aircraft = with_linkage(biplane(), "AIL-L", rod_bore_mm=2.0, rod_material=RodMaterial.CARBON)
    position = survey(aircraft, CONDITIONS).positions["AIL-L"]
    assert position.rod_buckling_n is None
    assert "bore" in str(position.missing_for["rod_buckling_n"][0])


def test_cables_have_no_rod_to_buckle() -> None:
    aircraft = with_linkage(biplane(), "ELE", kind=LinkageKind.PULL_PULL)
    position = survey(aircraft, CONDITIONS).positions["ELE"]
    assert position.rod_force_n is None
    assert position.load_nm is not None


def test_free_play_adds_up_along_the_linkage_unless_it_was_measured() -> None:
    position = survey(trainer(), CONDITIONS).positions["AIL"]
    # 0.4 degrees at an arm of 12 on a horn of 18, and two rod ends of 0.05 mm.
    by_hand = 0.4 * 12 / 18 + math.degrees(2 * 0.05 / 18)
    assert value(position.free_play_deg) == pytest.approx(by_hand, rel=1e-6)
    held = trainer().fit("AIL")
    assert held is not None
    assert held.surface is not None
    measured = with_fit(trainer(), "AIL", surface=replace(held.surface, play_deg=0.9))
    assert value(survey(measured, CONDITIONS).positions["AIL"].free_play_deg) == 0.9


def test_caution_speed_follows_the_worked_sailplane_aileron() -> None:
    # 60 g, 60 mm chord, whole chord 0.22 m: inertia m c^2/3; half of 2 pi f c / 0.9. In a swing of
    # 1.15 degrees through 0.3 degrees of play the describing function of a dead zone leaves 0.834 of it.
    held = trainer().fit("AIL")
    assert held is not None
    assert held.surface is not None
    surface = replace(held.surface, mass_g=60.0, root_chord_mm=60.0, whole_chord_mm=220.0, play_deg=0.3)
    aircraft = with_fit(trainer(), "AIL", surface=surface, servo_type=OF_D620)
    position = survey(aircraft, CONDITIONS).positions["AIL"]
    inertia = 0.060 * 0.060**2 / 3
    # A digital servo in a swing: stall torque at 2 degrees, its soft end.
    servo, along = value(position.torque_nm) / math.radians(2.0), 200e3 * math.pi / 120.0
    stiffness = 1 / ((12 / 18) ** 2 / servo + 1 / (along * 18.0**2 / 1000.0))
    frequency = math.sqrt(stiffness / inertia) / (2 * math.pi)
    inside = 0.15 / 1.15
    left = 1 - 2 / math.pi * (math.asin(inside) + inside * math.sqrt(1 - inside**2))
    by_hand = 0.5 * 2 * math.pi * frequency * 0.22 / 0.9 * math.sqrt(left)
    assert value(position.caution_speed_m_s) == pytest.approx(by_hand, rel=1e-3)
    assert position.caution_speed_m_s is not None
    assert position.caution_speed_m_s.low is not None
    assert position.caution_speed_m_s.low < position.caution_speed_m_s.expected


def test_an_analog_servo_of_unmeasured_stiffness_has_no_caution_speed() -> None:
    position = survey(trainer(), CONDITIONS).positions["AIL"]
    assert position.caution_speed_m_s is None
    assert "half the stall torque" in str(position.missing_for["caution_speed_m_s"][0])


def test_caution_speed_falls_with_the_amount_of_play() -> None:
    held = trainer().fit("AIL")
    assert held is not None
    assert held.surface is not None
    speeds = []
    for play in (0.01, 0.3, 1.0, 3.0):
        surface = replace(held.surface, mass_g=60.0, play_deg=play)
        aircraft = with_fit(trainer(), "AIL", surface=surface, servo_type=OF_D620)
        speeds.append(value(survey(aircraft, CONDITIONS).positions["AIL"].caution_speed_m_s))
    assert speeds == sorted(speeds, reverse=True)
    assert speeds[-1] < 0.6 * speeds[0]


def test_stiffness_adds_servo_and_rod_as_springs_in_series() -> None:
    position = survey(with_fit(trainer(), "AIL", servo_type=OF_D620), CONDITIONS).positions["AIL"]
    # Digital: full drive at 1.5 degrees, dead band of 2 us at 0.09 degrees a microsecond.
    servo = value(position.torque_nm) / math.radians(1.5 - 0.18)
    along = 200e3 * math.pi / 120.0
    rod = along * 18.0**2 / 1000.0
    by_hand = 1 / ((12 / 18) ** 2 / servo + 1 / rod)
    assert value(position.stiffness_nm_deg) == pytest.approx(math.radians(by_hand), rel=1e-6)
    assert position.stiffness_nm_deg is not None
    assert position.stiffness_nm_deg.basis is Basis.TYPICAL


def test_servo_travel_is_what_the_full_throw_uses() -> None:
    position = survey(trainer(), CONDITIONS).positions["AIL"]
    quick = math.degrees(math.asin(18 / 12 * math.sin(math.radians(18))))
    assert value(position.servo_travel_deg) == pytest.approx(quick, rel=0.03)


@all_cases(
    "part, words",
    [
        ("linkage", "linkage AIL: not recorded"),
        ("lead", "lead AIL: not recorded"),
        ("surface", "position AIL: surface"),
        ("servo_type", "position AIL: servo"),
    ],
)
def test_a_whole_record_that_is_missing_is_named(part: str, words: str) -> None:
    changed: dict[str, object] = {part: None}
    if part == "servo_type":
        changed["servo"] = None
    position = survey(with_fit(trainer(), "AIL", **changed), CONDITIONS).positions["AIL"]
    assert (position.control == ()) is (part in ("surface", "servo_type"))
    assert words in map(str, position.missing)


def test_an_unknown_arm_is_named_by_its_label() -> None:
    position = survey(with_linkage(trainer(), "AIL", arm_mm=None), CONDITIONS).positions["AIL"]
    assert position.load_nm is not None
    assert position.load_nm.basis is Basis.TYPICAL
    assert "linkage AIL: servo arm radius" in map(str, position.missing)
    assert position.surface_moment_nm is not None


def test_an_unknown_whole_chord_hardly_matters_and_holds_nothing_up() -> None:
    held = trainer().fit("AIL")
    assert held is not None
    assert held.surface is not None
    aircraft = with_fit(trainer(), "AIL", surface=replace(held.surface, whole_chord_mm=None))
    position = survey(aircraft, CONDITIONS).positions["AIL"]
    assert position.control
    assert value(position.surface_moment_nm) == pytest.approx(
        value(survey(trainer(), CONDITIONS).positions["AIL"].surface_moment_nm), rel=0.05
    )
    assert position.surface_moment_nm is not None
    assert position.surface_moment_nm.basis is Basis.TYPICAL
    assert "surface AIL: whole chord" not in map(str, position.missing)


def test_a_gauge_unknown_everywhere_is_named_and_leaves_no_volts() -> None:
    held = trainer().fit("AIL")
    assert held is not None
    assert held.lead is not None
    aircraft = with_fit(trainer(), "AIL", lead=replace(held.lead, awg=None))
    position = survey(aircraft, CONDITIONS).positions["AIL"]
    assert position.delivered_v is None
    assert position.torque_nm is None
    assert position.servo_v == {}
    assert "lead AIL: gauge" in map(str, position.missing)


def test_a_position_that_needs_no_servo_misses_none() -> None:
    aircraft = trainer()
    lights = fit("TR", "LGT", Function.LIGHTS, None, lead_mm=None)
    position = survey(replace(aircraft, fits=(*aircraft.fits, lights)), CONDITIONS).positions["LGT"]
    assert position.missing == ()
    assert list(position.figures()) == []


def test_an_arm_that_cannot_be_laid_out_is_told_and_does_not_raise() -> None:
    aircraft = with_linkage(trainer(), "AIL", arm_angle_deg=150.0, rod_length_mm=5.0)
    position = survey(aircraft, CONDITIONS).positions["AIL"]
    assert position.control
    assert any(str(lack).startswith("linkage AIL:") for lack in position.missing_for["servo_travel_deg"])


def test_a_belt_keeps_its_ratio_over_the_travel() -> None:
    aircraft = with_linkage(trainer(), "AIL", kind=LinkageKind.BELT)
    position = survey(aircraft, CONDITIONS).positions["AIL"]
    assert value(position.servo_travel_deg) == pytest.approx(18 * 18 / 12)
    assert position.load_nm is not None
    assert position.surface_moment_nm is not None
    assert position.load_nm.expected == pytest.approx(position.surface_moment_nm.expected * 12 / 18 / 0.95)


def test_the_servos_own_measured_idle_current_counts_before_its_type() -> None:
    held = trainer().fit("AIL")
    assert held is not None
    assert held.servo is not None
    aircraft = with_fit(trainer(), "AIL", servo=replace(held.servo, idle_ma=31.0))
    position = survey(aircraft, CONDITIONS).positions["AIL"]
    assert value(position.idle_a) == pytest.approx(0.031)
    assert position.idle_a is not None
    assert position.idle_a.basis is Basis.MEASURED


def test_an_unrecorded_rod_length_makes_the_load_typical() -> None:
    bare = Linkage(aircraft="TR", position="AIL", arm_mm=12, horn_mm=18)
    position = survey(with_fit(trainer(), "AIL", linkage=bare), CONDITIONS).positions["AIL"]
    assert position.load_nm is not None
    assert position.load_nm.basis is Basis.TYPICAL
    assert MK_G30.code == "MK-G30"
