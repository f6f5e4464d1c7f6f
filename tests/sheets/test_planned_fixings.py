"""The build sheet says nothing of the fixings of a servo that is only planned."""

from __future__ import annotations

from hangar.answers.case import planned_case
from hangar.answers.needs import open_plans
from hangar.base.text import text
from hangar.parts.choices import PlanAction
from hangar.sheets.build import _fixing_row
from hangar.sheets.case import SheetCase
from hangar.sheets.kit import Cell
from tests.sheets.cases import demo_case


def fixings(code: str) -> dict[str, tuple[bool, list[Cell]]]:
    case: SheetCase = demo_case(code)
    plan = open_plans(case.aircraft)[0]
    after = planned_case(case, plan)
    planned = {
        line.place for line in plan.lines if line.action is PlanAction.FIT_SERVO and line.done_on is None
    }
    before = {fit.code: fit.installation for fit in case.aircraft.fits}
    return {
        fit.code: (fit.code in planned, _fixing_row(fit, planned=fit.installation != before[fit.code]))
        for fit in after.aircraft.fits
    }


def test_arm_screw_and_thread_lock_of_a_planned_servo_are_blank() -> None:
    rows = {**fixings("MER60"), **{f"ALB5 {code}": row for code, row in fixings("ALB5").items()}}
    assert any(is_planned for is_planned, _ in rows.values())
    for is_planned, (_, screws, grommets, arm_screw, thread_lock, *_rest) in rows.values():
        if is_planned:
            assert (arm_screw, thread_lock) == (None, None)
            assert all(count is None or str(count).startswith("__ of") for count in (screws, grommets))


def test_what_was_looked_at_on_a_servo_in_place_stays() -> None:
    kept = [row for is_planned, row in fixings("MER60").values() if not is_planned]
    assert any(text("yes") in row for row in kept)
