"""Surfaces judged whole: no step where nothing changes, no blank that silences, no pivot let through."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, Function
from hangar.rules import Finding, Level, inspect
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_surface
from hangar.survey import survey
from tests.all_cases import all_cases

RANKS = {Level.WARNING: 0, Level.CAUTION: 1, Level.ADVISORY: 2, None: 3}


def _of(aircraft: Aircraft, rule: str, code: str) -> list[Finding]:
    top = inspect(aircraft, survey(aircraft, ex.home_day()))
    return [
        finding
        for other_finding in top
        for finding in other_finding.with_folded()
        if finding.rule == rule and code in finding.about
    ]


def _level(aircraft: Aircraft, code: str, rule: str = "torque-short-surface") -> Level | None:
    levels = [finding.level for finding in _of(aircraft, rule, code) if finding.level is not Level.CANT_TELL]
    return min(levels, key=lambda level: level.rank, default=None)


def _smooth(make: Callable[[float], Aircraft], values: list[float], code: str) -> None:
    levels = [_level(make(value), code) for value in values]
    for level, two in pairwise(levels):
        assert abs(RANKS[level] - RANKS[two]) <= 1, list(zip(values, levels, strict=True))


@all_cases("speed", [40.0, 55.0, 70.0])
def test_no_step_where_the_chord_passes_sixty_per_cent(speed: float) -> None:
    def make(share: float) -> Aircraft:
        return with_surface(with_airframe(ex.trainer(), dive_speed_m_s=speed), "AIL-L",
                            whole_chord_mm=38.0 / share)  # fmt: skip

    _smooth(make, [0.58, 0.59, 0.595, 0.60, 0.605, 0.61, 0.62, 0.80, 0.95], "AIL-L")


@all_cases("centre", [40.0, 60.0])
def test_no_step_where_the_dive_speed_passes_forty_and_sixty(centre: float) -> None:
    jet = with_airframe(ex.trainer(), aircraft_class=AircraftClass.SAIL_FAST)
    for aircraft in (ex.trainer(), jet):
        _smooth(
            lambda speed, aircraft=aircraft: with_airframe(aircraft, dive_speed_m_s=speed),  # type: ignore[misc]
            [centre * (1.0 + step / 200.0) for step in range(-4, 5)],
            "AIL-L",
        )


@all_cases("speed", [30.0, 45.0, 60.0])
def test_no_step_where_a_throw_passes_the_usual_one(speed: float) -> None:
    aerobat = with_airframe(ex.trainer(), aircraft_class=AircraftClass.AEROBATIC_3D, dive_speed_m_s=speed)
    _smooth(
        lambda throw: with_surface(aerobat, "AIL-L", throw_up_deg=throw, throw_down_deg=throw),
        [19.0, 19.6, 19.9, 20.0, 20.1, 20.4, 21.0],
        "AIL-L",
    )


@all_cases("speed", [30.0, 45.0, 60.0])
def test_no_step_where_a_flap_passes_twenty_degrees(speed: float) -> None:
    flap = with_fit(
        with_airframe(ex.trainer(), dive_speed_m_s=speed), "AIL-L", position={"function": Function.FLAP}
    )

    def make(throw: float) -> Aircraft:
        return with_surface(flap, "AIL-L", function=Function.FLAP, throw_up_deg=0.0, throw_down_deg=throw)

    _smooth(make, [19.0, 19.6, 19.9, 20.0, 20.1, 20.4, 21.0, 25.0], "AIL-L")


def test_a_pivot_further_back_is_never_less_grave() -> None:
    for speed in (20.0, 40.0, 80.0):
        levels = [
            _level(
                with_airframe(ex.all_moving(pivot_pct=float(pivot), play_deg=None), dive_speed_m_s=speed),
                "ELE", "all-moving-pivot",
            )
            for pivot in range(24, 41)
        ]  # fmt: skip
        assert all(RANKS[level] >= RANKS[two] for level, two in pairwise(levels))
        assert levels[0] is None
        assert levels[-1] is Level.WARNING


def test_play_makes_a_pivot_behind_the_centre_a_step_graver() -> None:
    tight = ex.all_moving(pivot_pct=28.5, play_deg=None)
    loose = ex.all_moving(pivot_pct=28.5, play_deg=0.3)
    assert _level(tight, "ELE", "all-moving-pivot") is Level.CAUTION
    assert _level(loose, "ELE", "all-moving-pivot") is Level.WARNING
    assert _level(ex.all_moving(pivot_pct=25.0, play_deg=0.3), "ELE", "all-moving-pivot") is None


def test_a_pivot_nobody_entered_cannot_be_told() -> None:
    (finding, *_) = _of(ex.all_moving(pivot_pct=None), "all-moving-pivot", "ELE")
    assert finding.level is Level.CANT_TELL
    assert any("pivot" in str(sentence) for sentence in finding.missing)


@all_cases("share, level", [(25.0, None), (34.0, None), (38.0, Level.CAUTION), (48.0, Level.WARNING)])
def test_too_much_nose_balance_is_driven_away(share: float, level: Level | None) -> None:
    assert _level(with_surface(ex.trainer(), "ELE", balance_pct=share), "ELE", "all-moving-pivot") is level


BAD = with_airframe(with_surface(ex.trainer(), "ELE", span_mm=4500.0), dive_speed_m_s=60.0)


@all_cases(
    "name, make",
    [
        ("dive speed", lambda: with_airframe(BAD, dive_speed_m_s=None)),
        ("throw", lambda: with_surface(BAD, "ELE", throw_up_deg=None, throw_down_deg=None)),
        ("whole chord", lambda: with_surface(BAD, "ELE", whole_chord_mm=None)),
        ("aspect ratio", lambda: with_surface(BAD, "ELE", aspect_ratio=None)),
        ("camber", lambda: with_surface(BAD, "ELE", camber_pct=None)),
        ("incidence", lambda: with_surface(BAD, "ELE", incidence_deg=None)),
        ("arm", lambda: with_fit(BAD, "ELE", linkage={"arm_mm": None})),
        ("horn", lambda: with_fit(BAD, "ELE", linkage={"horn_mm": None})),
        ("linkage", lambda: with_fit(BAD, "ELE", linkage=None)),
        ("surface", lambda: replace(BAD, fits=tuple(
            replace(fit, surface=None) if fit.code == "ELE" else fit for fit in BAD.fits))),
        ("rating", lambda: with_fit(BAD, "ELE", servo_type={"ratings": ()})),
        ("dead band", lambda: with_fit(BAD, "ELE", servo_type={"dead_band_us": None})),
        ("drive", lambda: with_fit(BAD, "ELE", servo_type={"drive": None})),
        ("gauge", lambda: with_fit(BAD, "ELE", lead={"awg": None})),
        ("packs", lambda: replace(BAD, paths=())),
    ],
)  # fmt: skip
def test_no_blank_silences_a_bad_surface(name: str, make: Callable[[], Aircraft]) -> None:
    """Each blank leaves a level or a can't tell, never nothing."""
    assert _level(BAD, "ELE") is Level.WARNING
    assert _of(make(), "torque-short-surface", "ELE"), name


def test_a_guessed_linkage_is_told_as_a_caution_at_most_and_names_what_to_measure() -> None:
    findings = _of(with_fit(BAD, "ELE", linkage={"arm_mm": None}), "torque-short-surface", "ELE")
    assert {finding.level for finding in findings} <= {Level.CAUTION, Level.CANT_TELL}
    words = " ".join(str(text) for finding in findings for text in (finding.detail, *finding.missing))
    assert "servo arm radius" in words


def test_a_level_that_rests_on_a_guess_is_told_a_step_lower_with_the_blank_named() -> None:
    for speed in range(30, 90, 2):
        known = with_airframe(ex.trainer(), dive_speed_m_s=float(speed))
        if _level(known, "AIL-L") is Level.WARNING:
            break
    blank = replace(known, airframe=replace(known.airframe, dive_speed_m_s=None))
    day = replace(ex.home_day(), defaults={"dive_speed.sport": float(speed)})
    top = inspect(blank, survey(blank, day))
    (finding,) = [
        other_finding for one in top for other_finding in one.with_folded()
        if other_finding.rule == "torque-short-surface" and "AIL-L" in other_finding.about
    ]  # fmt: skip
    assert finding.level is not Level.WARNING
    assert "enter aircraft" in str(finding.detail)
    assert "dive speed" in str(finding.detail)


def test_every_remedy_would_hold_more_than_today() -> None:
    (finding, *_) = _of(BAD, "torque-short-surface", "ELE")
    assert "would hold" in str(finding.remedy)
    assert "holds" in str(finding.message)
    assert str(finding.consequence)


@pytest.mark.parametrize("kind", [AircraftClass.SPORT, AircraftClass.JET_TURBINE])
def test_an_analog_of_the_same_torque_is_told_of_with_what_a_digital_would_hold(kind: AircraftClass) -> None:
    for speed in range(30, 100, 2):
        aircraft = with_airframe(ex.trainer(), dive_speed_m_s=float(speed), aircraft_class=kind)
        findings = _of(aircraft, "torque-short-surface", "AIL-L")
        if findings:
            break
    assert "digital servo of the same torque would hold" in str(findings[0].remedy)
