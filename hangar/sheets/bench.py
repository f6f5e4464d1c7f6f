"""The bench check after a refit: what is expected beside what is read, stage by stage, then the release."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hangar.answers.case import plan_in_the_making, planned_case
from hangar.answers.checklists import bench_stages
from hangar.answers.readings_beside import readings_beside
from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.parts import Plan
from hangar.parts.holding import grounding_snags, keeper_hold
from hangar.parts.sheet_boxes import BENCH, answers_of
from hangar.rules.finding import Level
from hangar.rules.releasing import unjudged_words
from hangar.sheets.bench_tables import (
    currents_table,
    free_play_table,
    readings_table,
    signals_table,
    throws_table,
)
from hangar.sheets.boxes import Box
from hangar.sheets.case import SheetCase, open_at
from hangar.sheets.findings_part import front_table, warnings_first
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.measured_table import MEASURED_TITLE, measured_table
from hangar.sheets.sheet_head import foot_of, head, release_line, running_head
from hangar.sheets.stamps import stamp_of
from hangar.sheets.style import BASIS_LEGEND

NOT_YET = text(
    "It does not go back on the line yet: these are open. Some close by the proofs above once they are "
    "entered; the keeper signs only when the program shows none of them."
)
_READ = ("B1", "B2", "B4", "B5", "B10", "B12", "B13")
"""Stages whose readings stand in the table behind the stages."""
_TABLES: dict[str, Callable[[Sheet, SheetCase], None]] = {
    "B3": currents_table,
    "B6": signals_table,
    "B7": throws_table,
    "B8": free_play_table,
}


def draw_bench_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw the bench check of an aircraft as a plan in the making leaves it, else as it is fitted."""
    frame = case.aircraft.airframe
    plan = plan_in_the_making(case)
    sheet.begin(
        text("{code} bench check", code=frame.code),
        running_head(case, text("bench check")),
        foot_of([case], "bench"),
        answers=answers_of(frame.code, BENCH),
    )
    title = text("BENCH CHECK: {title}", title=plan.title) if plan else text("BENCH CHECK: as it is fitted")
    head(sheet, case, title)
    release_line(sheet, case)
    after = _after(sheet, case, plan)
    _release(sheet, after)
    sheet.stamp(stamp_of(sheet.style, BENCH, case, after, plan))
    sheet.gap(1.0)
    sheet.write(BASIS_LEGEND)
    _stages(sheet)
    sheet.heading(text("Readings of B1, B2, B4, B5, B10, B12 and B13"))
    readings_table(sheet, after)
    for stage in bench_stages():
        table = _TABLES.get(stage["code"])
        if table:
            sheet.heading(_table_title(stage))
            table(sheet, after)
    sheet.heading(MEASURED_TITLE)
    measured_table(sheet, readings_beside(case.survey, case.thresholds))


def _after(sheet: Sheet, case: SheetCase, plan: Plan | None) -> SheetCase:
    if plan is None:
        return case
    try:
        after = planned_case(case, plan)
    except BadInput as fault:
        sheet.write(
            text(
                "Expected values are those of the aircraft as it is fitted, for the plan fails: {fault}",
                fault=fault.text,
            ),
            bold=True,
        )
        return case
    sheet.gap(1.0)
    sheet.write(
        text("Expected values are those after plan {code}, {state}.", code=plan.code, state=plan.state)
    )
    return after


def _stages(sheet: Sheet) -> None:
    sheet.heading(text("Proofs, in this order; stop at the first that fails"))
    rows: list[list[Cell]] = [
        [
            stage["code"],
            text("{title}. {words}", title=text(stage["title"]), words=text(stage["text"])),
            _where(stage["code"]),
            text(stage["pass_when"]),
            Box(tick=True, about=stage["code"], what="Passed"),
        ]
        for stage in bench_stages()
        if stage["code"] != "release"
    ]
    sheet.table(heads("", "What to do", "Readings", "Passes when", ""), [9, 98, 30, 45, 6], rows)


def _where(code: str) -> Text | str:
    """Where the readings of a stage are written."""
    if code in _TABLES or code == "B9":
        return text("table {code} below", code=code)
    return text("table of readings") if code in _READ else "-"


def _table_title(stage: Mapping[str, Any]) -> Text:
    """Directions and failsafe share one table, for both go through every output."""
    if stage["code"] != "B6":
        return text(
            "{code}  {title}: {limit}",
            code=stage["code"],
            title=text(stage["title"]),
            limit=text(stage["pass_when"]),
        )
    failsafe = next(bench_stage for bench_stage in bench_stages() if bench_stage["code"] == "B9")
    return text(
        "B6  {first}, and B9  {second}: {limit}",
        first=text(stage["title"]),
        second=text(failsafe["title"]),
        limit=text(failsafe["pass_when"]),
    )


def _release(sheet: Sheet, case: SheetCase) -> None:
    """The release, for an aircraft with nothing grave open; else what must close before there is one."""
    sheet.heading(text("Release"))
    warnings = warnings_first(open_at(case.findings, Level.WARNING))[0]
    hold = keeper_hold(case.aircraft.airframe)
    unjudged = unjudged_words(case.aircraft)
    if warnings or hold or unjudged or grounding_snags(case.aircraft.snags):
        sheet.write(NOT_YET, bold=True)
        if unjudged:
            sheet.write(text("It cannot be judged: {why}.", why=unjudged))
        if hold:
            sheet.write(text("It is held: {hold}.", hold=hold))
        if warnings:
            front_table(sheet, warnings, heads("Level", "Finding"), to_do=False)
    else:
        sheet.write(text(next(stage["text"] for stage in bench_stages() if stage["code"] == "release")))
    sheet.blanks(
        heads("Bench-checked by", "Second person", "Date", "Keeper releases it", "Signature", "Date")
    )
