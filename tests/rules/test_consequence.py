"""Consequence first: what the aircraft will do heads each finding, and the gravest heads a fold."""

from __future__ import annotations

import dataclasses

from hangar.base.reader import Reader
from hangar.base.text import Amount, text
from hangar.parts import Aircraft
from hangar.parts.choices import Criticality
from hangar.rules import Finding, Level, Rule, all_rules, finding_as_json, inspect
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_gyro, with_pack, with_receiver, with_surface
from hangar.rules.consequences import QUICK_DEG, tilt_deg
from hangar.rules.folding import fold
from hangar.rules.registry import Scene
from hangar.survey import survey
from tests.all_cases import all_cases
from tests.rules.practice import fine_small

RULES = sorted(all_rules().values(), key=lambda rule: rule.slug)


@all_cases("rule", RULES)
def test_each_rule_says_what_happens_in_both_languages(rule: Rule) -> None:
    english = str(rule.consequence)
    assert 10 < len(english) < 110
    assert Reader("de").put(rule.consequence) not in ("", english)


@all_cases("rule", [rule for rule in RULES if not rule.reminder])
def test_each_finding_carries_it_and_is_headed_by_it(rule: Rule) -> None:
    made = rule.flags()
    scene = made if isinstance(made, Scene) else Scene(made)
    looked = survey(scene.aircraft, scene.conditions or ex.home_day())
    top = inspect(scene.aircraft, looked, library=scene.library)
    findings = [
        other_finding
        for finding in top
        for other_finding in finding.with_folded()
        if other_finding.rule == rule.slug
    ]
    judged = [finding for finding in findings if finding.level is not Level.CANT_TELL]
    assert judged
    for finding in judged:
        assert str(finding.consequence).endswith(".")
        assert str(finding.sentence) == f"{finding.consequence} {finding.message}"
        assert finding_as_json(finding)["consequence"] == str(finding.consequence)


def test_what_cannot_be_told_has_none_and_is_headed_by_its_message() -> None:
    aircraft = with_pack(ex.trainer(), pack={"cell_mohm": None, "bought_on": ex.ago(1500)}, load_tests=())
    unknown = [finding for finding in inspect(aircraft, survey(aircraft, ex.home_day()))
               if finding.level is Level.CANT_TELL]  # fmt: skip
    assert unknown
    assert all(str(finding.sentence) == str(finding.message) for finding in unknown)


def _finding(rule: str, level: Level, criticality: Criticality, *causes: str) -> Finding:
    return Finding(
        rule=rule, level=level, aircraft="X", about=("B1",), message=text("message of {rule}", rule=rule),
        consequence=text("consequence of {rule}", rule=rule), criticality=criticality, caused_by=causes,
    )  # fmt: skip


def test_a_fold_is_headed_by_the_gravest_consequence() -> None:
    cause = _finding("servo-over-volts", Level.WARNING, Criticality.FLIGHT)
    worse = _finding("receiver-over-volts", Level.WARNING, Criticality.FLIGHT)
    (finding,) = fold([cause, worse])
    assert finding.rule == "servo-over-volts"
    assert str(finding.sentence) == "consequence of receiver-over-volts message of servo-over-volts"
    (same,) = fold([cause, dataclasses.replace(worse, level=Level.CAUTION)])
    assert str(same.consequence) == "consequence of servo-over-volts"


def test_a_graver_consequence_leads_with_its_own_words() -> None:
    cause = _finding("dcir-risen", Level.CAUTION, Criticality.SAFETY)
    worse = _finding("under-volts-receiver", Level.CAUTION, Criticality.FLIGHT, "dcir-risen")
    (finding,) = fold([cause, worse])
    assert (finding.rule, str(finding.consequence)) == (
        "under-volts-receiver", "consequence of under-volts-receiver"
    )  # fmt: skip


def _consequence(aircraft: Aircraft, rule: str) -> str:
    top = inspect(aircraft, survey(aircraft, ex.home_day()))
    (finding,) = [
        other_finding for one in top for other_finding in one.with_folded() if other_finding.rule == rule
    ]
    return str(finding.consequence)


def test_a_slow_corner_is_told_with_the_tilt_it_makes() -> None:
    # Arm 13 mm, ball 22 mm from the middle: 20 deg less 20 deg / 1.5 is 6.67 deg behind, 1.51 mm; the plate
    # tips about the line through the two other balls, 33 mm away: atan(1.51 / 33) = 2.6 deg.
    heli = with_fit(ex.helicopter(), "CYC-2", servo_type=ex.slower(ex.CYCLIC, 1.5))
    assert _consequence(heli, "speed-mismatch-swash") == (
        "Corner CYC-2 of the plate arrives last and tips it about 2.6° on a quick collective."
    )


def test_what_is_told_of_the_swashplate_grows_with_the_difference() -> None:
    tilts = [tilt_deg(13.0, 22.0, 0.1, slow, 1.5) for slow in (0.1, 0.12, 0.15, 0.2)]
    assert tilts[0] == 0.0
    assert tilts == sorted(tilts)
    assert tilts[-1] < QUICK_DEG


def test_a_balance_point_is_told_by_its_side() -> None:
    aft, fore = (with_airframe(ex.trainer(), cg_measured_mm=at) for at in (95.0, 66.0))
    assert "Tail-heavy by 5 mm" in _consequence(aft, "cg-moved")
    assert "Nose-heavy by 4 mm" in _consequence(fore, "cg-moved")


def test_a_turbine_that_runs_on_is_told_with_its_way() -> None:
    # 4 s at 30 m/s.
    assert "120 m" in _consequence(with_airframe(ex.jet(), turbine_stop_s=4.0), "turbine-failsafe")


def test_a_sailplane_without_a_preset_does_not_fly_away_under_power() -> None:
    glider = with_airframe(fine_small.slope_sport(), all_up_mass_g=3000.0)
    assert _consequence(glider, "failsafe-not-set") == "Without signal it flies on as it was trimmed."


def test_a_short_arm_is_told_with_the_throw_that_is_left() -> None:
    # sin(60 deg) x 8.4 / 22 is 19.3 deg of the 20 wanted.
    assert "about 19° of the 20°" in _consequence(ex.elevator(linkage={"arm_mm": 8.4}), "arm-length-throw")


def test_volts_that_are_missing_are_told_by_what_stops() -> None:
    gyro = with_gyro(ex.helicopter(), supply_min_v=8.3)
    assert _consequence(gyro, "under-volts-receiver") == "The gyro stops steering the tail."
    bus = with_receiver(ex.trainer(), supply_min_v=5.6)
    assert _consequence(bus, "under-volts-receiver").startswith("The receiver restarts in the air")


def test_a_pack_that_is_too_small_is_told_with_the_minutes_that_are_missing() -> None:
    small = with_airframe(ex.trainer(), flight_min=600.0, flights_per_charge=1)
    top = inspect(small, survey(small, ex.home_day()))
    (finding,) = [
        other_finding
        for one in top
        for other_finding in one.with_folded()
        if other_finding.rule == "pack-too-small"
    ]
    endurance = next(figure.expected for figure in finding.figures if "planned" not in str(figure.name))
    missing = Amount(600.0 - endurance, "min", 2)
    assert str(finding.consequence) == f"The radio dies {missing} before the last landing."


def test_a_lead_is_told_with_the_torque_it_costs() -> None:
    thin = with_surface(ex.giant(), "RUD", span_mm=800.0, root_chord_mm=180.0)
    thin = with_fit(thin, "RUD", lead={"length_mm": 1500.0, "awg": 26})
    top = inspect(thin, survey(thin, ex.home_day()))
    (finding,) = [
        other_finding
        for one in top
        for other_finding in one.with_folded()
        if other_finding.rule == "lead-drop"
    ]
    share = next(figure.expected for figure in finding.figures if str(figure.name) == "share lost")
    assert str(finding.consequence).startswith(f"The servo is {share:.0f} % weaker and slower")


def test_a_weak_rotor_servo_is_told_by_what_the_rotor_does() -> None:
    weak = {"TAIL": "the tail runs away.", "CYC-1": "the disc gives way."}
    kinds = {"TAIL": ex.TAIL, "CYC-1": ex.CYCLIC}
    for position, ending in weak.items():
        heli = with_fit(ex.helicopter(), position, servo_type={"ratings": ex.weaker(kinds[position], 0.02)})
        rule = "torque-short-tail" if position == "TAIL" else "torque-short-cyclic"
        assert _consequence(heli, rule).endswith(ending)
