"""The field card: challenge and response in the order of the work, with this aircraft's values and limits.

For an aircraft that must not fly it is no card to fly by, but the rectification card: what must close first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hangar.answers.checklists import PHASES, RELEASED_AFTER, lines_for
from hangar.answers.field_steps import LISTED, Step, field_steps
from hangar.base.text import Arg, Text, fixed, joined, text
from hangar.parts.choices import FeedRole, RotorKind
from hangar.parts.sheet_boxes import FIELD, FLIGHTS_MOST, LINE, answers_of, flight_about, phase_complete
from hangar.rules.releasing import conditions_of, hindrances_beside_the_list
from hangar.sheets.boxes import Box
from hangar.sheets.card_parts import CARD_PT, outputs_list, row_of
from hangar.sheets.case import SheetCase
from hangar.sheets.findings_part import accepted_words, left_out_words, warnings_first, warnings_under
from hangar.sheets.fit_words import cell_volts, range_words
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.rectification import draw_rectification
from hangar.sheets.sheet_head import foot_of, head, release_line, running_head
from hangar.sheets.stamps import stamp_of
from hangar.sheets.step_rows import StepRow
from hangar.sheets.style import SheetStyle
from hangar.sheets.texts import cautions_of
from hangar.survey import Scenario

_FLIGHT_ROW_MM = 8.5
_CAUTIONS_MOST = 6
"""Cautions of the checks on the front; a warning is never left out."""
WORDS_OF_TABLES = ("Pilot", "Helper", "Date, time", "Remarks")


def draw_field_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw the field card of one aircraft, or its rectification card where it must not fly."""
    if hindrances_beside_the_list(case.aircraft, case.findings):
        draw_rectification(sheet, case)
        return
    _front(sheet, case)
    steps, numbers = field_steps(case), _Numbers()
    for place, (phase, title, note) in enumerate(PHASES, start=1):
        rows = list(card_rows(sheet.style, case, phase, steps))
        if not rows:
            continue
        sheet.phase(title, note, place, text("done"))
        before = _cautions(case, phase)
        for caution in before:
            sheet.caution(text(caution))
        if phase == "after":
            _flights(sheet, case)
        for line, row in rows:
            for caution in _cautions(case, line):
                sheet.caution(text(caution))
            sheet.step(replace(row, number=numbers.next(), last=row is rows[-1][1]))
        name = phase_complete(phase)
        sheet.complete(
            text("{phase} complete", phase=title),
            Box(tick=True, about=LINE, what=name),
            (f"time {phase}", f"by {phase}"),
        )
        if phase == RELEASED_AFTER:
            _release(sheet)
    sheet.blanks(heads("Remarks"), columns=1)
    _facts(sheet, case)
    outputs_list(sheet, case)


class _Numbers:
    """Counts the steps through the card."""

    def __init__(self) -> None:
        self._last = 0

    def next(self) -> int:
        """The next number."""
        self._last += 1
        return self._last


def _front(sheet: Sheet, case: SheetCase) -> None:
    """Whose it is, whether it may fly, and what was found: it never leaves the first page."""
    frame, conditions = case.aircraft.airframe, conditions_of(case.findings)
    state = text("CONDITIONAL") if conditions else None
    sheet.begin(
        text("{code} field checklist", code=frame.code),
        running_head(case, text("field checklist"), state),
        foot_of([case], FIELD, cautions=False),
        answers=answers_of(frame.code, FIELD),
    )
    sheet.stamp(stamp_of(sheet.style, FIELD, case))
    head(sheet, case, text("FIELD CHECKLIST"))
    sheet.write(
        text(
            "For {day}. Void after that day, and after any change to the aircraft. A miss at {sign} holds "
            "it: stop. The helper reads the left, the pilot looks, touches and answers the right.",
            day=sheet.style.printed_on,
            sign="⬣",
        )
    )
    sheet.gap(1.0)
    if state:
        sheet.banner(
            text(
                "CONDITIONAL: only once it is proved here. {open}",
                open=joined(*(finding.message for finding in conditions)),
            ),
            dark=False,
        )
    else:
        release_line(sheet, case)
    warnings, cautions = warnings_first(case.findings)
    for finding in warnings:
        for named in (finding, *warnings_under(finding)):
            sheet.caution(joined(text("WARNING."), named.sentence, accepted_words(named)))
    for finding in cautions[:_CAUTIONS_MOST]:
        sheet.caution(finding.sentence)
    left_out = left_out_words(case.findings, len(cautions) - _CAUTIONS_MOST)
    if left_out:
        sheet.write(left_out)


def _cautions(case: SheetCase, before: str) -> list[str]:
    """What must be known before a phase or a line."""
    return [caution.text for caution in cautions_of(case.aircraft, FIELD) if caution.before == before]


def card_rows(
    style: SheetStyle, case: SheetCase, phase: str, steps: tuple[Step, ...]
) -> Iterator[tuple[str, StepRow]]:
    """The rows of a phase, each with the line it belongs to; controls and failsafe point to their list."""
    for line in lines_for(case.aircraft):
        if line.phase != phase:
            continue
        if line.parts in LISTED:
            yield line.id, StepRow(
                None, fixed(line.say), fixed(line.need), Box(tick=True, about=LINE, what=line.id),
                note=text("the list at the end of this card"), stop=line.stop,
            )  # fmt: skip
            continue
        for step in steps:
            if step.line == line.id:
                yield line.id, row_of(style, step)


def _release(sheet: Sheet) -> None:
    sheet.framed(
        text("Released to fly on this day"),
        text("only with every box ticked and every limit met"),
        (
            (text("Pilot"), "Pilot", 3.0),
            (text("Date, time"), "Date, time", 2.2),
            (text("Helper"), "Helper", 2.6),
        ),
    )


def _flights(sheet: Sheet, case: SheetCase) -> None:
    """A row for each flight of the day with its limits over the columns, and a line for what was found."""
    minutes = case.survey.supply.endurance_min
    style = sheet.style
    limit = (
        text("at most {time}", time=style.figure(minutes)) if minutes is not None else text("limit not known")
    )
    sheet.table(
        [
            text("Flight"),
            joined(text("Minutes"), limit, between="{first}, {then}"),
            text("Snag at landing, in words: anything that was not so before"),
        ],
        [14, 38, 136],
        [
            [
                str(number),
                Box(about=flight_about(number), what="Minutes"),
                Box(about=flight_about(number), what="Snag"),
            ]
            for number in range(1, FLIGHTS_MOST + 1)
        ],
        CARD_PT,
        least_mm=_FLIGHT_ROW_MM,
    )


def _facts(sheet: Sheet, case: SheetCase) -> None:
    style, survey = sheet.style, case.survey
    peak = survey.scenarios.get(Scenario.PEAK)
    facts: list[tuple[Text, Cell]] = [
        (text("Land now, under load"), _land_now_words(style, case)),
        (text("Endurance"), style.sourced(survey.supply.endurance_min)),
        (text("Bus at peak load"), style.sourced(peak.bus_v) if peak else None),
        (text("Flights a charge"), style.sourced(survey.supply.flights_per_charge)),
        (text("Balance"), _balance_words(style, case)),
        _speed(style, case),
    ]
    sheet.heading(text("To fly by"))
    rows: list[list[Cell]] = [
        [name, words, other_name, other_words]
        for (name, words), (other_name, other_words) in zip(facts[::2], facts[1::2], strict=True)
    ]
    sheet.table(heads("", "", "", ""), [38, 62, 38, 46], rows, CARD_PT)


def _speed(style: SheetStyle, case: SheetCase) -> tuple[Text, Cell]:
    """How fast it may fly, or how fast its main rotor turns; a blank to write on where that is not known."""
    frame = case.aircraft.airframe
    if frame.is_helicopter:
        main = case.aircraft.rotor(RotorKind.MAIN)
        return text("Rotor speed, highest"), style.show(main.head_rpm if main else None, "rpm")
    return text("Greatest speed"), style.both(frame.dive_speed_m_s, "m/s")


def _balance_words(style: SheetStyle, case: SheetCase) -> Arg:
    frame = case.aircraft.airframe
    ends = style.both_ends(frame.cg_fore_mm, frame.cg_aft_mm, "mm")
    return None if ends is None else range_words(ends, frame.cg_datum)


def _land_now_words(style: SheetStyle, case: SheetCase) -> str | None:
    packs = [fed for path, fed in case.fed_packs if path.feed.role is FeedRole.RECEIVER]
    volts = dict.fromkeys(fed.pack_type.series * cell_volts(fed.pack_type).land_now_v for fed in packs)
    return ", ".join(str(style.show(one_v, "V", 3)) for one_v in volts) or None
