"""The field checklist: in the order of the work, read in the sun and ticked; one page where it can be."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from itertools import chain

from hangar.answers.checklists import test_load_a
from hangar.answers.outputs import Output, outputs_of
from hangar.base.text import NOTHING, Arg, Span, Text, joined, plural, series, text
from hangar.parts import FedPack, PowerPath
from hangar.parts.choices import AircraftState, FeedRole, RotorKind
from hangar.parts.sheet_boxes import FIELD, LINE, answers_of
from hangar.rules.finding import Level
from hangar.rules.releasing import conditions_of, hindrances_beside_the_list, unjudged_words
from hangar.sheets.case import SheetCase, open_at
from hangar.sheets.dry_run import fits_one_page
from hangar.sheets.failsafe_words import failsafe_cell, output_name
from hangar.sheets.findings_part import front_table, warnings_first
from hangar.sheets.fit_words import cell_volts, output_number, pack_words, range_words, throw_words
from hangar.sheets.kit import FILL, Box, Cell, Sheet, heads
from hangar.sheets.sheet_head import foot_of, head, release_line, running_head
from hangar.sheets.stamps import stamp_of
from hangar.sheets.style import SheetStyle
from hangar.sheets.texts import PHASES, phase_lines
from hangar.survey import Scenario
from hangar.survey.packs import load_test_lines


@dataclass(frozen=True, slots=True)
class _Layout:
    """What is left out for room: white space, inch figures, cautions, what to do. No warning ever is."""

    cautions: int
    tight: bool
    both: bool
    to_do: bool = True


_LAYOUTS = (
    _Layout(5, tight=False, both=True),
    *(_Layout(5, tight=True, both=both) for both in (True, False)),
    *(_Layout(most, tight=True, both=False) for most in (3, 1, 0)),
)
"""Tried in this order for one page: white space gives way first, then inch figures, then mild lines."""
_LONGER = tuple(
    _Layout(most, tight=True, both=True, to_do=to_do) for to_do in (True, False) for most in (5, 0)
)
"""Tried in this order where one page is too few: all that keeps it from flying stays on the front."""
HELD_BLANKS = ("Looked at by", "Date, time", "Remarks", "Snag found")
_CONTROLS = text(
    "Controls: first box direction, full travel and centre; second box failsafe, motor made safe"
)
_BOXES = {
    "pits": text("each pack under load today"),
    "power": text("first box direction, full travel and centre, second box failsafe"),
}
"""What the table of a phase asks for."""
NO_RELEASE = text(
    "This page releases nothing. What is proved here is entered; only when the program shows no open warning "
    "and the keeper has put the aircraft on the line, a field checklist is printed."
)
BLANKS = ("Pilot", "Helper", "Date, time", "Flights today", "Minutes", "Remarks", "Snag found")
WORDS_OF_TABLES = (*HELD_BLANKS, *BLANKS)


def draw_field_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw the checklist of one aircraft on one page if it can be had, with its own figures beside blanks.

    For an aircraft that must not fly it is no list to fly by, but what must close before it may.
    """
    held = bool(hindrances_beside_the_list(case.aircraft, case.findings))
    whole, front = partial(_draw, case=case, held=held), partial(_front, case=case, held=held)
    tried = chain(((whole, layout) for layout in _LAYOUTS), ((front, layout) for layout in _LONGER))
    layout = next(
        (layout for draw, layout in tried if fits_one_page(sheet.style, partial(draw, layout=layout))),
        _LONGER[-1],
    )
    _draw(sheet, case, layout, held=held)


def _front(sheet: Sheet, case: SheetCase, layout: _Layout, *, held: bool) -> None:
    """Whose it is, whether it may fly, and what was found: it never leaves the first page."""
    frame, conditions = case.aircraft.airframe, conditions_of(case.findings)
    state = text("CONDITIONAL") if conditions and not held else None
    sheet.begin(
        text("{code} field checklist", code=frame.code),
        running_head(case, text("must not fly") if held else text("field checklist"), state),
        foot_of([case], "field"),
        tight=layout.tight,
        answers=answers_of(frame.code, FIELD),
    )
    sheet.stamp(stamp_of(sheet.style, FIELD, case))
    title = text("MUST NOT FLY: what must close first") if held else text("FIELD CHECKLIST")
    head(sheet, case, title)
    if state:
        sheet.banner(
            text(
                "CONDITIONAL: only once it is proved here. {open}",
                open=joined(*(condition.message for condition in conditions)),
            ),
            dark=False,
        )
    else:
        release_line(sheet, case)
    (_must_close if held else _told)(sheet, case, layout)


def _draw(sheet: Sheet, case: SheetCase, layout: _Layout, *, held: bool) -> None:
    _front(sheet, case, layout, held=held)
    if held:
        sheet.heading(text("Packs: test under load today, before anything is switched on"))
        _power(sheet, case)
        sheet.heading(
            text(
                "Controls: first box direction, full travel and centre; second box failsafe, motor made safe"
            )
        )
        _controls(sheet, case, both=layout.both)
        sheet.write(NO_RELEASE, bold=True)
        sheet.blanks(heads(*HELD_BLANKS))
        return
    for phase, title, note in PHASES:
        lines = phase_lines(case, sheet.style, phase)
        if lines:
            told = text("{phase}: {note}", phase=title, note=note)
            sheet.heading(joined(told, _BOXES.get(phase, NOTHING), between="{first}; {then}"))
            sheet.ticks(
                list(lines.values()),
                columns=2,
                boxes=[Box(tick=True, about=LINE, what=line) for line in lines],
            )
        if phase == "pits":
            _power(sheet, case)
        elif phase == "power":
            _controls(sheet, case, both=layout.both)
    _limits(sheet, case)
    sheet.blanks(heads(*BLANKS))


def _told(sheet: Sheet, case: SheetCase, layout: _Layout) -> None:
    """Every warning that was accepted, then cautions."""
    warnings, cautions = warnings_first(case.findings)
    shown = [*warnings, *cautions[: layout.cautions]]
    if shown:
        sheet.gap(1.0)
        front_table(sheet, shown, heads("Level", "Finding"), to_do=False)
    _left_out(sheet, case, len(cautions) - layout.cautions)


def _must_close(sheet: Sheet, case: SheetCase, layout: _Layout) -> None:
    """What keeps it from flying, with what to do and a place to write when it was done."""
    warnings, cautions = warnings_first(case.findings)
    sheet.heading(text("What must close before it may fly"))
    if warnings:
        to_do = heads("What to do", "Done: date, by") if layout.to_do else []
        front_table(sheet, warnings, [*heads("Level", "Finding"), *to_do], to_do=layout.to_do)
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
    _left_out(sheet, case, len(cautions) - layout.cautions)
    if cautions[: layout.cautions]:
        front_table(sheet, cautions[: layout.cautions], heads("Level", "Not so grave"), to_do=False)


def _left_out(sheet: Sheet, case: SheetCase, cautions: int) -> None:
    unknown = open_at(case.findings, Level.CANT_TELL)
    words = []
    if cautions > 0:
        words.append(
            plural(
                "{count} more caution on the build sheet.",
                "{count} more cautions on the build sheet.",
                count=cautions,
            )
        )
    if unknown:
        words.append(
            plural(
                "{count} thing cannot be judged for want of data; unknown is not good.",
                "{count} things cannot be judged for want of data; unknown is not good.",
                count=len(unknown),
            )
        )
    if words:
        sheet.write(joined(*words))


def _power(sheet: Sheet, case: SheetCase) -> None:
    rows = [_pack_row(sheet.style, case, path, fed) for path, fed in case.tested_packs]
    if not rows:
        sheet.write(
            text("No pack is recorded for this aircraft: find out what feeds it before anything else.")
        )
        return
    twin = sum(path.feed.role is FeedRole.RECEIVER for path in case.aircraft.paths) > 1
    if twin:
        alone = Box(tick=True, about=LINE, what="each-pack-alone")
        rows.append([text("all"), text("each receiver pack proved alone"), *["-"] * 6, alone])
    sheet.table(
        heads("Pack", "What it is", "Charged", "At rest", "Load", "Not below", "Should show", "Read", ""),
        [13, 53, 20, 16, 12, 17, 27, 20, 6],
        rows,
    )


def _pack_row(style: SheetStyle, case: SheetCase, path: PowerPath, fed: FedPack) -> list[Cell]:
    kind, tag = fed.pack_type, fed.pack.tag
    load_a = test_load_a(case.aircraft.airframe.aircraft_class, case.thresholds)
    lines = load_test_lines(fed, load_a, case.survey.conditions)
    return [
        tag,
        series([pack_words(kind), path.feed.role], ","),
        fed.pack.charged_on or Box(about=tag, what="Charged"),
        Box(about=tag, what="At rest"),
        Box(about=tag, what="Load", value=style.show(load_a, "A") or ""),
        style.show(lines.least_v, "V", 3),
        None if lines.is_typical else style.put(Span(lines.ready_v, lines.full_v, "V")),
        Box(about=tag, what="Read"),
        Box(tick=True, about=tag, what="Tested"),
    ]


def _controls(sheet: Sheet, case: SheetCase, *, both: bool) -> None:
    outputs = outputs_of(case.aircraft)
    if not outputs:
        sheet.write(text("No servo position is recorded for this aircraft: prove every control by hand."))
        return
    sheet.table(
        heads("Ch", "Function", "Servo", "Throws", "Stick: answer", "No signal", "", ""),
        [12, 35, 13, 41, 52, 19, 6, 6],
        [_control_row(sheet.style, case, output, both=both) for output in outputs],
    )


def _control_row(style: SheetStyle, case: SheetCase, output: Output, *, both: bool) -> list[Cell]:
    fit, channel = output.fit, output.channel
    return [
        output_number(output),
        output_name(case, output),
        (fit.tag or FILL) if fit else "-",
        throw_words(style, fit, both=both) if fit else "-",
        (channel.stick if channel else None) or Box(about=output.about, what="Stick"),
        failsafe_cell(case, output),
        Box(tick=True, about=output.about, what="Control"),
        Box(tick=True, about=output.about, what="Failsafe"),
    ]


def _limits(sheet: Sheet, case: SheetCase) -> None:
    style, survey = sheet.style, case.survey
    peak = survey.scenarios.get(Scenario.PEAK)
    facts: list[tuple[Text, Cell]] = [
        (text("Balance"), _balance_words(style, case)),
        _speed(style, case),
        (text("Bus at peak load"), style.sourced(peak.bus_v) if peak else None),
        (text("Endurance"), style.sourced(survey.supply.endurance_min)),
        (text("Flights a charge"), style.sourced(survey.supply.flights_per_charge)),
        (text("Land now, under load"), _land_now_words(style, case)),
    ]
    sheet.gap(1.0)
    rows: list[list[Cell]] = [
        [name, words, other_name, other_words]
        for (name, words), (other_name, other_words) in zip(facts[::2], facts[1::2], strict=True)
    ]
    sheet.table(heads("", "", "", ""), [30, 80, 35, 39], rows)


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
    if ends is None:
        return None
    measured = style.show(frame.cg_measured_mm, "mm") or text("not measured")
    return text("{range}; is {measured}", range=range_words(ends, frame.cg_datum), measured=measured)


def _land_now_words(style: SheetStyle, case: SheetCase) -> str | None:
    packs = [fed for path, fed in case.fed_packs if path.feed.role is FeedRole.RECEIVER]
    volts = dict.fromkeys(fed.pack_type.series * cell_volts(fed.pack_type).land_now_v for fed in packs)
    return ", ".join(str(style.show(volt, "V", 3)) for volt in volts) or None
