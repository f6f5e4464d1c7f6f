"""What a change does to the findings is told place by place, whatever servo sits there."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from hangar.answers.judging import Judgement
from hangar.answers.outcomes import Outcome, Side
from hangar.base.text import fixed
from hangar.rules.finding import Finding, Level
from hangar.survey.old_and_new import with_type
from tests.sheets.cases import demo_case


@cache
def both() -> tuple[Judgement, Judgement]:
    """An aircraft as it is, and with another servo at its left aileron; nothing found of either."""
    case = demo_case("MARQ")
    fit = case.aircraft.fit("AIL-L")
    assert fit is not None
    changed = with_type(case.aircraft, fit, case.library.servo_types["MK-G30"])
    before = Judgement(aircraft=case.aircraft, survey=case.survey, findings=())
    return before, replace(before, aircraft=changed)


def outcome(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> Outcome:
    old, new = both()
    return Outcome.of(replace(old, findings=before), replace(new, findings=after))


def finding(rule: str, level: Level, *about: str) -> Finding:
    return Finding(rule=rule, level=level, aircraft="MARQ", about=about, message=fixed(rule))


def test_the_tag_of_the_new_servo_makes_no_new_finding() -> None:
    after = finding("weak", Level.WARNING, "new MK-G30")
    got = outcome((finding("weak", Level.WARNING, "0201"),), (after,))
    assert (got.gone, got.new, got.stays) == ((), (), (after,))
    assert got.worst_change("AIL-L") == (Side.STAYS, after)
    assert got.worst_change("RUD-1") is None


def test_a_finding_on_a_pair_goes_at_one_and_stays_at_the_other() -> None:
    before = finding("weak", Level.WARNING, "AIL-L", "0201", "AIL-R", "0202")
    after = finding("weak", Level.WARNING, "AIL-R", "0202")
    got = outcome((before,), (after,))
    assert (got.gone, got.new, got.stays) == ((before,), (), (after,))


def test_a_graver_level_is_new_and_the_worst_comes_first() -> None:
    lead = finding("lead", Level.WARNING, "ELE-L")
    mild, grave = (finding("weak", level, "AIL-L") for level in (Level.CAUTION, Level.WARNING))
    got = outcome((mild, lead), (grave, lead))
    assert (got.gone, got.new, got.stays) == ((mild,), (grave,), (lead,))
    assert got.worst_left("ELE-L") == (Side.NEW, grave)
    assert outcome((grave, lead), (lead,)).worst_change("AIL-L") == (Side.GONE, grave)


def test_an_accepted_finding_counts_on_neither_side() -> None:
    day = both()[0].survey.conditions.today
    accepted = replace(finding("weak", Level.WARNING, "AIL-L"), accepted_until=day)
    got = outcome((accepted,), ())
    assert (got.gone, got.new, got.stays) == ((), (), ())
