"""The rectification card: what keeps an aircraft on the ground, job by job, and what proves it gone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import partial

from hangar.answers.field_steps import Step, field_steps
from hangar.base.text import NOTHING, Text, joined, plural, series, text
from hangar.parts.choices import AircraftState
from hangar.parts.sheet_boxes import FIELD, answers_of
from hangar.rules.finding import Finding
from hangar.rules.releasing import unjudged_words
from hangar.sheets.boxes import Box
from hangar.sheets.card_parts import outputs_list, row_of
from hangar.sheets.case import SheetCase
from hangar.sheets.dry_run import fits_one_page
from hangar.sheets.findings_part import (
    accepted_words,
    front_table,
    left_out_words,
    warnings_first,
    warnings_under,
)
from hangar.sheets.kit import Sheet, heads
from hangar.sheets.sheet_head import foot_of, head, release_line, running_head
from hangar.sheets.stamps import stamp_of
from hangar.sheets.texts import cautions_for

NO_RELEASE = text(
    "This card cannot release the aircraft. What is proved here is entered; only when the program shows no "
    "open warning and the keeper has put the aircraft on the line, a field checklist is printed."
)
HELD_BLANKS = ("Looked at by", "Date, time", "Remarks", "Snag found")
WORDS_OF_TABLES = HELD_BLANKS


@dataclass
class Job:
    """One piece of work: what to do, and the warnings it clears."""

    to_do: Text
    clears: list[Finding] = field(default_factory=list)

    @property
    def about(self) -> set[str]:
        """Tags and positions that its warnings concern."""
        return {name for finding in self.clears for name in finding.about}


def jobs_of(warnings: Iterable[Finding]) -> list[Job]:
    """The open warnings by what cures them; those that stand folded under one go with it."""
    jobs: dict[Text, Job] = {}
    for finding in warnings:
        if finding.is_open:
            to_do = finding.remedy or text("Find out why, and mend it.")
            jobs.setdefault(to_do, Job(to_do)).clears += [finding, *warnings_under(finding)]
    return list(jobs.values())


def draw_rectification(sheet: Sheet, case: SheetCase) -> None:
    """Draw what must close before it may fly; there is nothing on it to fly by.

    Where the jobs are too many for the front, every warning stands there in a table and the jobs follow.
    """
    warnings, cautions = warnings_first(case.findings)
    jobs, steps = jobs_of(warnings), field_steps(case)
    packs = [step for step in steps if step.line == "load-test"]
    whole = partial(_front, case=case, jobs=jobs, packs=packs, table=False)
    if fits_one_page(sheet.style, whole):
        whole(sheet)
    else:
        _front(sheet, case, jobs, packs, table=True)
    for finding in warnings:
        if not finding.is_open:
            sheet.caution(joined(text("WARNING."), finding.sentence, accepted_words(finding)))
    if cautions:
        sheet.heading(plural("{count} caution stays open", "{count} cautions stay open", count=len(cautions)))
        for finding in cautions:
            sheet.caution(finding.sentence)
    left_out = left_out_words(case.findings, 0)
    if left_out:
        sheet.write(left_out)
    _readings(sheet, case, [step for step in packs if not any(step.about in job.about for job in jobs)])
    sheet.write(
        text("When every box stands: enter the readings, ask again, print the field checklist."), bold=True
    )
    sheet.blanks(heads(*HELD_BLANKS))


def _front(sheet: Sheet, case: SheetCase, jobs: Sequence[Job], packs: Sequence[Step], *, table: bool) -> None:
    frame = case.aircraft.airframe
    sheet.begin(
        text("{code} rectification card", code=frame.code),
        running_head(case, text("rectification card")),
        foot_of([case], FIELD, cautions=False),
        answers=answers_of(frame.code, FIELD),
    )
    sheet.stamp(stamp_of(sheet.style, FIELD, case))
    head(sheet, case, text("RECTIFICATION CARD: must not fly"))
    release_line(sheet, case)
    sheet.gap(0.8)
    sheet.write(NO_RELEASE, bold=True)
    _records(sheet, case)
    top = [finding for finding in warnings_first(case.findings)[0] if finding.is_open]
    if jobs:
        under = sum(len(job.clears) for job in jobs) - len(top)
        warnings = plural("{count} warning", "{count} warnings", count=len(top))
        sheet.heading(
            text(
                "What must close before it may fly: {warnings}, {jobs}",
                warnings=text("{warnings} and {count} under them", warnings=warnings, count=under)
                if under > 0
                else warnings,
                jobs=plural("{count} job", "{count} jobs", count=len(jobs)),
            )
        )
    if table:
        front_table(sheet, top, heads("Level", "Finding"), to_do=False)
    taken: set[str] = set()
    for number, job in enumerate(jobs, start=1):
        sentences = [finding.title if table and finding.title else finding.sentence for finding in job.clears]
        sheet.job(number, job.to_do, sentences)
        proofs = [step for step in packs if step.about in job.about and step.about not in taken]
        for step in proofs:
            taken.add(step.about)
            sheet.step(row_of(sheet.style, step))
        sheet.signed(
            (text("done by"), f"job {number} done by"),
            (text("date"), f"job {number} date"),
            text("second look"),
            Box(tick=True, what=f"job {number} second look"),
        )


def _records(sheet: Sheet, case: SheetCase) -> None:
    """What keeps it from flying besides the checks: its state, and what is not on record."""
    frame = case.aircraft.airframe
    if frame.state is not AircraftState.ON_THE_LINE:
        reason = series([frame.state_reason], "") if frame.state_reason else NOTHING
        state = joined(text("{state}", state=frame.state), reason, between="{first}: {then}")
        sheet.write(
            text("It is {state}. Its keeper puts it back on the line when the reason is gone.", state=state)
        )
    unjudged = unjudged_words(case.aircraft)
    if unjudged:
        sheet.write(text("It cannot be judged: {why}. Enter it first.", why=unjudged))


def _readings(sheet: Sheet, case: SheetCase, packs: Sequence[Step]) -> None:
    """The readings that may be taken on the ground: packs under load, every control and failsafe."""
    sheet.heading(text("Before you begin"))
    for caution in cautions_for(case.aircraft, FIELD):
        sheet.caution(text(caution))
    if packs:
        sheet.heading(text("Packs: test under load today, before anything is switched on"))
        for step in packs:
            sheet.step(row_of(sheet.style, step))
    outputs_list(sheet, case)
