"""What the field card and the rectification card share: a step as a row, and the list of every output."""

from __future__ import annotations

from hangar.answers.field_steps import NOT_KNOWN, Step, answer_words
from hangar.answers.outputs import Output, outputs_of
from hangar.base.text import Arg, series, text
from hangar.base.units import symbol_of
from hangar.sheets.boxes import Box
from hangar.sheets.case import SheetCase
from hangar.sheets.failsafe_words import failsafe_cell, output_name
from hangar.sheets.fit_words import throw_words
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.step_rows import Blank, StepRow
from hangar.sheets.style import SheetStyle

CARD_PT = 11.0
"""Least print of what is read on the field."""


def row_of(style: SheetStyle, step: Step) -> StepRow:
    """A step as it is drawn, its readings in the keeper's units."""
    blanks = [
        Blank(
            Box(about=step.about, what=reading.what),
            reading.head if len(step.readings) > 1 else "",
            symbol_of(style.units.unit_for(reading.unit)) if reading.unit else "",
        )
        for reading in step.readings
    ]
    need: Arg = step.need if step.need is not None else NOT_KNOWN
    return StepRow(
        None,
        step.say,
        need,
        Box(tick=True, about=step.about, what=step.what),
        note=step.recorded or "",
        blanks=blanks,
        known=[Box(about=step.about, what=what, value=style.put(value)) for what, value in step.known],
        stop=step.stop,
    )


def outputs_list(sheet: Sheet, case: SheetCase) -> None:
    """Every output with the way it must answer and what it must do without a signal, a box for each."""
    sheet.heading(
        text("List: controls with the signal on, then failsafe with the transmitter off, motor made safe")
    )
    outputs = outputs_of(case.aircraft)
    if not outputs:
        sheet.write(text("No servo position is recorded for this aircraft: prove every control by hand."))
        return
    sheet.table(
        heads("Ch", "Function", "Throws", "Stick: answer", "OK", "No signal", "Proved"),
        [11, 40, 32, 58, 10, 26, 11],
        [_list_row(sheet.style, case, output) for output in outputs],
        CARD_PT,
    )


def _list_row(style: SheetStyle, case: SheetCase, output: Output) -> list[Cell]:
    fit = output.fit
    name: Arg = output_name(case, output)
    if fit is not None and fit.tag:
        name = series([name, fit.tag], ",")
    return [
        output.number,
        name,
        throw_words(style, fit, both=False) if fit else "-",
        answer_words(output) or Box(about=output.about, what="Stick"),
        Box(tick=True, about=output.about, what="Control"),
        failsafe_cell(case, output),
        Box(tick=True, about=output.about, what="Failsafe"),
    ]
