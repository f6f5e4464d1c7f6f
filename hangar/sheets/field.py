"""The field checklist: one page an aircraft, to be read in the sun and ticked."""

from __future__ import annotations

from hangar.parts import FedPack, PowerPath, ServoFit
from hangar.parts.choices import FailsafeAction, FeedRole
from hangar.physics.pack import CellVolts, Chemistry, cell
from hangar.physics.pack_health import loaded_lines_v
from hangar.rules.finding import Level
from hangar.sheets.kit import FILL, TICK, Cell, Sheet
from hangar.sheets.parts_of_sheet import (
    SheetCase,
    channel_key,
    findings_table,
    foot_of,
    head,
    open_at,
    release_line,
    throw_words,
)
from hangar.sheets.texts import field_items
from hangar.survey import Scenario

MOST_FINDINGS, FEWER_FINDINGS, MANY_POSITIONS = 5, 3, 8


def draw_field_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw the checklist of one aircraft, with its own figures beside every blank."""
    frame = case.aircraft.airframe
    sheet.begin(
        f"{frame.code} field checklist",
        f"{frame.name} ({frame.code}), field checklist",
        foot_of(case, "field"),
    )
    head(sheet, case, "FIELD CHECKLIST")
    release_line(sheet, case)
    _open_findings(sheet, case)
    _power(sheet, case)
    _controls(sheet, case)
    _limits(sheet, case)
    sheet.heading("Before the first flight")
    sheet.ticks(field_items(case, sheet.style), columns=2)
    sheet.blanks(["Pilot", "Helper", "Date, time"])


def _open_findings(sheet: Sheet, case: SheetCase) -> None:
    grave = open_at(case.findings, Level.WARNING) + open_at(case.findings, Level.CAUTION)
    unknown = open_at(case.findings, Level.CANT_TELL)
    most = FEWER_FINDINGS if len(case.aircraft.fits) > MANY_POSITIONS else MOST_FINDINGS
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
    rows = [
        _pack_row(sheet, case, path, fed)
        for path in case.aircraft.paths
        if path.feed.role is not FeedRole.DRIVE or path.regulator is not None
        for fed in path.packs
    ]
    if not rows:
        sheet.write("No pack is recorded for this aircraft: find out what feeds it before anything else.")
        return
    sheet.table(
        ["Pack", "What it is", "Charged", "Load", "Not below", "Healthy", "Read", ""],
        [13, 66, 21, 13, 19, 17, 29, 6],
        rows,
    )


def _pack_row(sheet: Sheet, case: SheetCase, path: PowerPath, fed: FedPack) -> list[Cell]:
    kind, style = fed.pack_type, sheet.style
    load_a = case.thresholds.value("test-load-current", case.aircraft.airframe.aircraft_class)
    # A healthy pack has the resistance of a fresh one; what it has is for the health rules.
    healthy = (
        loaded_lines_v(
            Chemistry(kind.chemistry.value), kind.series, load_a, kind.cell_mohm / 1000 / kind.parallel
        )[0]
        if kind.cell_mohm
        else None
    )
    what = f"{kind.chemistry} {kind.series} cells, {kind.capacity_mah:g} mAh, {path.feed.role}"
    return [
        fed.pack.tag,
        what,
        str(fed.pack.charged_on) if fed.pack.charged_on else FILL,
        style.show(load_a, "A"),
        style.show(kind.series * _cell(fed).field_minimum_v, "V", 3),
        style.show(healthy, "V", 3),
        FILL,
        TICK,
    ]


def _controls(sheet: Sheet, case: SheetCase) -> None:
    fits = sorted(case.aircraft.fits, key=channel_key)
    if not fits:
        return
    sheet.heading(
        "Controls: first box direction, full travel and centre; second box failsafe, motor made safe"
    )
    sheet.table(
        ["Ch", "Function", "Servo", "Throws", "Stick: answer", "No signal", "", ""],
        [7, 37, 12, 41, 56, 19, 6, 6],
        [_control_row(sheet, fit) for fit in fits],
    )


def _control_row(sheet: Sheet, fit: ServoFit) -> list[Cell]:
    channel = fit.channel
    return [
        str(fit.position.channel) if fit.position.channel is not None else FILL,
        fit.position.name,
        fit.tag or FILL,
        throw_words(sheet, fit),
        (channel.stick if channel else None) or FILL,
        _failsafe_words(channel.failsafe if channel else None),
        TICK,
        TICK,
    ]


def _failsafe_words(action: FailsafeAction | None) -> Cell:
    return FILL if action is None else str(action)


def _limits(sheet: Sheet, case: SheetCase) -> None:
    frame, style, survey = case.aircraft.airframe, sheet.style, case.survey
    peak = survey.scenarios.get(Scenario.PEAK)
    facts: list[tuple[str, Cell]] = [
        ("Balance", _balance_words(sheet, case)),
        ("Greatest speed", style.both(frame.dive_speed_m_s, "m/s")),
        ("Bus at peak load", style.figure(peak.bus_v) if peak else None),
        ("Endurance", style.figure(survey.supply.endurance_min)),
        ("Flights a charge", style.figure(survey.supply.flights_per_charge)),
        ("Land now, under load", _land_now_words(sheet, case)),
    ]
    sheet.gap(1.0)
    rows: list[list[Cell]] = [
        [name, words, other_name, other_words]
        for (name, words), (other_name, other_words) in zip(facts[::2], facts[1::2], strict=True)
    ]
    sheet.table(["", "", "", ""], [30, 85, 35, 34], rows)


def _balance_words(sheet: Sheet, case: SheetCase) -> str | None:
    frame, style = case.aircraft.airframe, sheet.style
    if frame.cg_fore_mm is None or frame.cg_aft_mm is None:
        return None
    fore, aft = style.show(frame.cg_fore_mm, "mm"), style.show(frame.cg_aft_mm, "mm")
    measured = style.show(frame.cg_measured_mm, "mm") or "not measured"
    datum = f" from {frame.cg_datum}" if frame.cg_datum else ""
    return f"{fore} to {aft}{datum}; is {measured}"


def _land_now_words(sheet: Sheet, case: SheetCase) -> str | None:
    packs = [
        fed for path in case.aircraft.radio_paths for fed in path.packs if path.feed.role is FeedRole.RECEIVER
    ]
    volts = dict.fromkeys(fed.pack_type.series * _cell(fed).land_now_v for fed in packs)
    return ", ".join(str(sheet.style.show(each, "V", 3)) for each in volts) or None


def _cell(fed: FedPack) -> CellVolts:
    return cell(Chemistry(fed.pack_type.chemistry.value))
