"""Field sheet, reading back, rule and Battery Shelf hold a load test against the same volts."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from hangar.answers.bench_bands import bands_of
from hangar.answers.checklists import test_load_a as load_of
from hangar.answers.judging import Judgement
from hangar.answers.packs import PackCase, verdict_of
from hangar.base.units import SI_TRADE
from hangar.parts import Aircraft, FedPack, LoadTest
from hangar.parts.sheet_boxes import FIELD
from hangar.physics.pack_health import Light
from hangar.physics.pack_verdict import LEAD_OHM
from hangar.rules import Thresholds, inspect
from hangar.survey import Survey
from hangar.survey.defaults import class_defaults
from hangar.survey.packs import load_test_lines, pack_figures
from hangar.window.log.field_day import day_packs
from tests.all_cases import all_cases
from tests.sheets.cases import demo_cases


def packs() -> list[tuple[str, str]]:
    return [(case.aircraft.code, fed.pack.tag) for case in demo_cases() for _, fed in case.tested_packs]


def with_test(aircraft: Aircraft, tag: str, test: LoadTest) -> Aircraft:
    paths = tuple(
        replace(
            path,
            packs=tuple(
                replace(fed, load_tests=(test,)) if fed.pack.tag == tag else fed for fed in path.packs
            ),
        )
        for path in aircraft.paths
    )
    return replace(aircraft, paths=paths)


@all_cases("code, tag", packs)
def test_a_reading_fails_everywhere_or_nowhere(code: str, tag: str) -> None:
    case = next(demo_case for demo_case in demo_cases() if demo_case.aircraft.code == code)
    fed: FedPack = next(fed for _, fed in case.tested_packs if fed.pack.tag == tag)
    load_a = load_of(case.aircraft.airframe.aircraft_class, Thresholds())
    lines = load_test_lines(fed, load_a, case.survey.conditions)
    day = next(row for row in day_packs([Judgement(case.aircraft, case.survey, ())], Thresholds())
               if row.fed.pack.tag == tag)  # fmt: skip
    assert day.least_v == lines.least_v
    (band,) = bands_of(FIELD, case, SI_TRADE, tag, "Read")
    assert band.low == lines.least_v
    seen = set()
    for share in (0.8, 0.93, 0.97, 0.99, 1.01, 1.03, 1.06, 1.12):
        read_v = round(lines.least_v * share, 2)
        when = datetime.combine(case.aircraft.read_on, datetime.min.time())
        drop_v = load_a * ohm_of(fed, case.survey)
        test = LoadTest(pack=tag, tested_at=when, rest_v=read_v + drop_v, loaded_v=read_v, load_a=load_a,
                        pack_c=case.survey.conditions.pack_c, minutes_since_charge=600.0)  # fmt: skip
        read = with_test(case.aircraft, tag, test)
        by_rule = any(
            other_finding.rule == "load-test-failed" and tag in other_finding.about
            for finding in inspect(read, case.survey, Thresholds(), case.library)
            for other_finding in (finding, *finding.folded)
        )
        tried = replace(fed, load_tests=(test,))
        verdict = verdict_of(
            PackCase(fed.pack, fed.pack_type, fed.fit, (test,), tried.capacity_tests, (), fed.charges),
            test,
            case.survey.conditions.today,
        )
        assert verdict is not None
        by_screen = verdict.light is Light.RED
        assert by_rule == by_screen, read_v
        # The sheet prints one line; the verdict weighs the volts at rest too, so within 2 % they may differ.
        if abs(share - 1.0) > 0.02:
            assert by_screen == (not band.holds(f"{read_v} V")), read_v
        seen.add(by_rule)
    assert seen == {True, False}


def ohm_of(fed: FedPack, survey: Survey) -> float:
    """Resistance of the pack and a tester's lead on the day."""
    figures = pack_figures(fed, survey.conditions.today, class_defaults())
    return figures.ohm(survey.conditions.pack_c) + LEAD_OHM
