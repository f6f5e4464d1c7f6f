"""Rule, printed sheet, reading back and Refit Board say the same of a current at an end of the travel."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from hangar.answers.bench_bands import bands_of
from hangar.answers.bench_checks import is_off, readings_of
from hangar.answers.judging import Judgement
from hangar.base.units import SI_TRADE
from hangar.parts import BenchCheck, Plan
from hangar.parts.sheet_boxes import BENCH
from hangar.rules import Thresholds
from hangar.rules.bench_readings import end_limit
from hangar.rules.case import Case
from hangar.rules.finding import Level
from hangar.rules.inspecting import judged
from hangar.rules.registry import all_rules
from hangar.sheets.case import SheetCase
from hangar.survey import survey
from tests.sheets.cases import demo_case

RULE = "linkage-bind"
AIRCRAFT = ("MARQ", "ALB5", "PERT", "CIND", "MER60", "SISK", "NIM7", "DUNN")
ENDS_MA = (0.5, 8.0, 30.0, 60.0, 95.0, 110.0, 113.0, 118.0, 130.0, 163.0, 170.0, 200.0, 260.0, 400.0, 900.0,
           2500.0)  # fmt: skip
OTHERS: tuple[dict[str, float], ...] = (
    {},
    {"neutral_ma": 4.0},
    {"neutral_ma": 95.0},
    {"bus_v": 4.9},
    {"bus_v": 8.2, "neutral_ma": 12.0},
)


def told(
    case: SheetCase, code: str, end_ma: float, others: dict[str, float]
) -> tuple[bool, bool, bool, bool]:
    """Whether rule, sheet, reading back and board each find it over the limit."""
    aircraft = case.aircraft
    when = datetime.combine(aircraft.read_on, datetime.min.time())
    check = BenchCheck(aircraft=aircraft.code, position=code, checked_at=when, end_a_ma=end_ma, **others)  # type: ignore[arg-type]
    fits = tuple(
        replace(fit, bench_checks=(check,)) if fit.code == code else replace(fit, bench_checks=())
        for fit in aircraft.fits
    )
    read = replace(aircraft, fits=fits)
    # Nothing that a survey works with is read on the bench, so the printed one holds.
    seen = case.judged(replace(case.survey, aircraft=read))
    findings = judged(Case(read, seen.survey, Thresholds(), case.library), {all_rules()[RULE].family})
    by_rule = any(
        code in finding.about and finding.level in (Level.WARNING, Level.CAUTION)
        for finding in findings
        if finding.rule == RULE
    )
    fit = next(fit for fit in fits if fit.code == code)
    printed = end_limit(case.aircraft.fit(code), case.survey, case.threshold)  # type: ignore[arg-type]
    by_sheet = printed.is_over(end_ma / 1000.0)
    bands = bands_of(BENCH, seen, SI_TRADE, code, "End A")
    read_back = any(not band.holds(f"{end_ma!r} mA") for band in bands)
    rows = readings_of(
        Plan(code="P", aircraft=aircraft.code, title="P"), Judgement(read, seen.survey, findings)
    )
    by_board = is_off(next(row for row in rows if row.position == fit.code), "end_a_ma")
    return by_rule, by_sheet, read_back, by_board


@pytest.mark.parametrize("code", AIRCRAFT)
def test_every_place_has_the_same_limit_for_every_reading(code: str) -> None:
    case = demo_case(code)
    over = within = 0
    places = [fit.code for fit in case.aircraft.fits if fit.servo_type is not None]
    for at, place in enumerate(places[:6]):
        for end_ma in ENDS_MA[at % 2 :: 2]:
            for others in OTHERS:
                answers = told(case, place, end_ma, others)
                assert len(set(answers)) == 1, (place, end_ma, others, answers)
                over += answers[0]
                within += not answers[0]
    assert over
    assert within


def test_what_a_sheet_works_with_is_not_read_on_the_bench() -> None:
    case = demo_case("MARQ")
    place = next(fit.code for fit in case.aircraft.fits if fit.servo_type is not None)
    when = datetime.combine(case.aircraft.read_on, datetime.min.time())
    check = BenchCheck(
        aircraft="MARQ", position=place, checked_at=when, neutral_ma=90.0, bus_v=4.9, end_a_ma=200
    )
    fits = tuple(
        replace(fit, bench_checks=(check,)) if fit.code == place else fit for fit in case.aircraft.fits
    )
    after = survey(replace(case.aircraft, fits=fits), case.survey.conditions)
    fit = next(fit for fit in fits if fit.code == place)
    before = end_limit(case.aircraft.fit(place), case.survey, case.threshold)  # type: ignore[arg-type]
    assert end_limit(fit, after, case.threshold) == before
