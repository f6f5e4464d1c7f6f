"""The field checklist: one page an aircraft, to be read in the sun and ticked."""

from __future__ import annotations

from functools import partial

from hangar.parts import FedPack, PowerPath
from hangar.parts.choices import FeedRole, Function, RotorKind
from hangar.parts.sheet_boxes import FIELD, LINE, answers_of
from hangar.rules.finding import Level
from hangar.sheets.case import SheetCase, open_at
from hangar.sheets.dry_run import fits_one_page
from hangar.sheets.findings_part import findings_table
from hangar.sheets.fit_words import Output, cell_volts, outputs_of, pack_words, throw_words
from hangar.sheets.kit import FILL, Box, Cell, Sheet
from hangar.sheets.sheet_head import foot_of, head, release_line
from hangar.sheets.stamps import stamp_of
from hangar.sheets.style import SheetStyle
from hangar.sheets.texts import field_lines, test_load_a
from hangar.survey import Scenario
from hangar.survey.packs import load_test_lines

_Layout = tuple[int, bool, bool]
_LAYOUTS: tuple[_Layout, ...] = tuple(
    (most, tight, both)
    for most, tight in ((5, False), (3, False), (5, True), (3, True), (1, True))
    for both in (True, False)
)
"""Findings printed at the most, whether lines stand close, whether throws stand in both units: tried in
this order for one page."""
_LONGER: _Layout = (5, True, True)
BLANKS = ("Pilot", "Helper", "Date, time", "Flights today", "Minutes", "Remarks", "Snag found")


def draw_field_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw the checklist of one aircraft on one page if it can be had, with its own figures beside blanks."""
    layout = next(
        (each for each in _LAYOUTS if fits_one_page(sheet.style, partial(_draw, case=case, layout=each))),
        _LONGER,
    )
    _draw(sheet, case, layout)


def _draw(sheet: Sheet, case: SheetCase, layout: _Layout) -> None:
    most, tight, both = layout
    frame = case.aircraft.airframe
    sheet.begin(
        f"{frame.code} field checklist",
        f"{frame.name} ({frame.code}), field checklist",
        foot_of([case], "field"),
        tight=tight,
        answers=answers_of(frame.code, FIELD),
    )
    sheet.stamp(stamp_of(sheet.style, FIELD, case))
    head(sheet, case, "FIELD CHECKLIST")
    release_line(sheet, case)
    _open_findings(sheet, case, most)
    _power(sheet, case)
    _controls(sheet, case, both=both)
    _limits(sheet, case)
    sheet.heading("Before the first flight")
    lines = field_lines(case, sheet.style)
    sheet.ticks(
        list(lines.values()), columns=2, boxes=[Box(tick=True, about=LINE, what=each) for each in lines]
    )
    sheet.blanks([*BLANKS])


def _open_findings(sheet: Sheet, case: SheetCase, most: int) -> None:
    grave = open_at(case.findings, Level.WARNING) + open_at(case.findings, Level.CAUTION)
    unknown = open_at(case.findings, Level.CANT_TELL)
    if grave:
        sheet.gap(1.0)
        findings_table(sheet, grave[:most], with_remedy=False)
    more = len(grave) - most
    words = [f"{more} more on the build sheet."] if more > 0 else []
    if unknown:
        noun = "thing" if len(unknown) == 1 else "things"
        words.append(f"{len(unknown)} {noun} cannot be judged for want of data; unknown is not good.")
    if words:
        sheet.write(" ".join(words))


def _power(sheet: Sheet, case: SheetCase) -> None:
    sheet.heading("Packs: test under load today, before anything else")
    rows = [_pack_row(sheet.style, case, path, fed) for path, fed in case.tested_packs]
    if not rows:
        sheet.write("No pack is recorded for this aircraft: find out what feeds it before anything else.")
        return
    twin = sum(path.feed.role is FeedRole.RECEIVER for path in case.aircraft.paths) > 1
    if twin:
        alone = Box(tick=True, about=LINE, what="each-pack-alone")
        rows.append(["all", "each receiver pack proved alone", *["-"] * 6, alone])
    sheet.table(
        ["Pack", "What it is", "Charged", "At rest", "Load", "Not below", "Healthy", "Read", ""],
        [15, 55, 21, 18, 13, 18, 17, 21, 6],
        rows,
    )


def _pack_row(style: SheetStyle, case: SheetCase, path: PowerPath, fed: FedPack) -> list[Cell]:
    kind, tag = fed.pack_type, fed.pack.tag
    load_a = test_load_a(case.aircraft.airframe.aircraft_class, case.thresholds)
    # A healthy pack has the resistance of a fresh one; what it has is for the health rules.
    lines = load_test_lines(kind, load_a)
    return [
        tag,
        f"{pack_words(kind)}, {path.feed.role}",
        str(fed.pack.charged_on) if fed.pack.charged_on else Box(about=tag, what="Charged"),
        Box(about=tag, what="At rest"),
        Box(about=tag, what="Load", value=style.show(load_a, "A") or ""),
        style.show(lines.least_v, "V", 3),
        None if lines.is_typical else style.show(lines.ready_v, "V", 3),
        Box(about=tag, what="Read"),
        Box(tick=True, about=tag, what="Tested"),
    ]


def _controls(sheet: Sheet, case: SheetCase, *, both: bool) -> None:
    outputs = outputs_of(case.aircraft)
    sheet.heading(
        "Controls: first box direction, full travel and centre; second box failsafe, motor made safe"
    )
    if not outputs:
        sheet.write("No servo position is recorded for this aircraft: prove every control by hand.")
        return
    sheet.table(
        ["Ch", "Function", "Servo", "Throws", "Stick: answer", "No signal", "", ""],
        [12, 35, 13, 41, 52, 19, 6, 6],
        [_control_row(sheet.style, case, output, both=both) for output in outputs],
    )


def _control_row(style: SheetStyle, case: SheetCase, output: Output, *, both: bool) -> list[Cell]:
    fit, channel = output.fit, output.channel
    return [
        output.number,
        output.name,
        (fit.tag or FILL) if fit else "-",
        throw_words(style, fit, both=both) if fit else "-",
        (channel.stick if channel else None) or Box(about=output.about, what="Stick"),
        failsafe_words(case, output),
        Box(tick=True, about=output.about, what="Control"),
        Box(tick=True, about=output.about, what="Failsafe"),
    ]


def failsafe_words(case: SheetCase, output: Output) -> Cell:
    """What an output must do without a signal, and for a turbine's throttle within which time."""
    action = output.channel.failsafe if output.channel else None
    if action is None:
        return Box(about=output.about, what="No signal")
    if output.function is Function.THROTTLE and case.aircraft.airframe.power == "turbine":
        return f"{action} in {case.threshold('turbine-stop'):g} s"
    return str(action)


def _limits(sheet: Sheet, case: SheetCase) -> None:
    style, survey = sheet.style, case.survey
    peak = survey.scenarios.get(Scenario.PEAK)
    facts: list[tuple[str, Cell]] = [
        ("Balance", _balance_words(style, case)),
        _speed(style, case),
        ("Bus at peak load", style.sourced(peak.bus_v) if peak else None),
        ("Endurance", style.sourced(survey.supply.endurance_min)),
        ("Flights a charge", style.sourced(survey.supply.flights_per_charge)),
        ("Land now, under load", _land_now_words(style, case)),
    ]
    sheet.gap(1.0)
    rows: list[list[Cell]] = [
        [name, words, other_name, other_words]
        for (name, words), (other_name, other_words) in zip(facts[::2], facts[1::2], strict=True)
    ]
    sheet.table(["", "", "", ""], [30, 80, 35, 39], rows)


def _speed(style: SheetStyle, case: SheetCase) -> tuple[str, Cell]:
    """How fast it may fly, or how fast its main rotor turns; a blank to write on where that is not known."""
    frame = case.aircraft.airframe
    if frame.aircraft_class.is_helicopter:
        main = case.aircraft.rotor(RotorKind.MAIN)
        return "Rotor speed, highest", style.show(main.head_rpm if main else None, "rpm")
    return "Greatest speed", style.both(frame.dive_speed_m_s, "m/s")


def _balance_words(style: SheetStyle, case: SheetCase) -> str | None:
    frame = case.aircraft.airframe
    ends = style.both_ends(frame.cg_fore_mm, frame.cg_aft_mm, "mm")
    if ends is None:
        return None
    measured = style.show(frame.cg_measured_mm, "mm") or "not measured"
    datum = f" from {frame.cg_datum}" if frame.cg_datum else ""
    return f"{ends}{datum}; is {measured}"


def _land_now_words(style: SheetStyle, case: SheetCase) -> str | None:
    packs = [fed for path, fed in case.fed_packs if path.feed.role is FeedRole.RECEIVER]
    volts = dict.fromkeys(fed.pack_type.series * cell_volts(fed.pack_type).land_now_v for fed in packs)
    return ", ".join(str(style.show(each, "V", 3)) for each in volts) or None
