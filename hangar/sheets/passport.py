"""The passport of one aircraft: what a buyer or heir gets with it, with or without prices and own details."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from hangar.answers.field_steps import pack_words
from hangar.answers.outputs import by_channel, channel_words
from hangar.base.kept_text import read_kept, said_in
from hangar.base.text import NOTHING, Arg, Text, joined, series, text
from hangar.parts import FedPack, PowerPath, Receiver, ServoFit, Stabiliser
from hangar.parts.choices import RotorKind
from hangar.sheets.case import SheetCase
from hangar.sheets.findings_part import findings_table
from hangar.sheets.fit_words import range_words, tag_and_type
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.photo_drawing import draw_photo
from hangar.sheets.sheet_head import class_words, foot_of, head, mass_words, release_line, running_head
from hangar.sheets.style import SheetStyle

_PHOTO_MM, _PHOTO_HIGH_MM = 100.0, 62.0
_OF_PLANS = "plan-"
"""Rules about refits not yet made, which do not go with the aircraft."""


def draw_passport(sheet: Sheet, case: SheetCase) -> None:
    """Draw who the aircraft is, what is in it, what happened to it and what is known to be wrong."""
    frame = case.aircraft.airframe
    sheet.begin(
        text("{code} passport", code=frame.code),
        running_head(case, text("passport")),
        foot_of([case], "passport"),
        answers=f"{frame.code} passport",
    )
    head(sheet, case, text("PASSPORT"))
    release_line(sheet, case)
    draw_photo(sheet, case.photo, _PHOTO_MM, _PHOTO_HIGH_MM)
    _airframe(sheet, case)
    _servos(sheet, case)
    _packs(sheet, case)
    _radio(sheet, case)
    _history(sheet, case)
    sheet.heading(text("What is known to be wrong, by the checks of the program on the data entered"))
    findings = [finding for finding in case.findings if not finding.rule.startswith(_OF_PLANS)]
    if findings:
        findings_table(sheet, findings, with_remedy=False)
    else:
        sheet.write(text("No open warnings on the data entered, and nothing else was found."))
    sheet.heading(text("Handed over"))
    sheet.blanks(heads("From", "To", "Date"))


def _airframe(sheet: Sheet, case: SheetCase) -> None:
    frame, style = case.aircraft.airframe, sheet.style
    is_heli = frame.is_helicopter
    facts: list[tuple[Arg, Cell]] = [
        (text("Class"), class_words(frame)),
        (
            text("Maker, type"),
            series([name for name in (frame.maker, frame.model_type) if name], ",") or None,
        ),
        (text("Serial"), frame.serial),
        (text("Built"), str(frame.built_year) if frame.built_year else None),
        (text("Span"), "-" if is_heli else style.both(frame.span_mm, "mm")),
        (text("Length"), style.both(frame.length_mm, "mm")),
        (text("Wing area"), style.both(frame.wing_area_dm2, "dm2")),
        (text("Mass empty"), mass_words(style, frame.empty_mass_g)),
        (text("Mass all up"), mass_words(style, frame.all_up_mass_g)),
        (text("Weighed"), frame.mass_measured_on),
        (text("Balance"), _balance(style, case)),
        (text("Balance is"), style.both(frame.cg_measured_mm, "mm")),
        (text("Greatest speed"), "-" if is_heli else style.both(frame.dive_speed_m_s, "m/s")),
        (text("Propeller"), frame.propeller or ("-" if frame.power in ("none", "tow") else None)),
    ]
    facts += [
        (
            text("Main rotor") if rotor.rotor is RotorKind.MAIN else text("Tail rotor"),
            style.show(rotor.diameter_mm, "mm") or "____",
        )
        for rotor in case.aircraft.rotors
    ]
    facts += _own_facts(sheet.style, case)
    if len(facts) % 2:
        facts.append(("", ""))
    sheet.heading(text("Aircraft"))
    rows: list[list[Cell]] = [
        [name, words, other, other_words]
        for (name, words), (other, other_words) in zip(facts[::2], facts[1::2], strict=True)
    ]
    sheet.table(heads("", "", "", ""), [28, 66, 28, 66], rows)


def _own_facts(style: SheetStyle, case: SheetCase) -> list[tuple[Arg, Cell]]:
    """Marks, numbers and money of the present keeper, where he lets them be seen."""
    frame = case.aircraft.airframe
    facts: list[tuple[Arg, Cell]] = []
    if style.own_details:
        facts = [
            (text("Mark"), frame.registration),
            (text("Club number"), frame.club_number),
            (text("Acquired"), frame.acquired_on),
            (text("From"), frame.acquired_from),
            (text("Usual field"), frame.site),
            (text("Notes"), frame.notes),
        ]
    if style.prices:
        facts.append((text("Cost"), style.price(frame.cost)))
    return facts


def _balance(style: SheetStyle, case: SheetCase) -> Arg:
    frame = case.aircraft.airframe
    ends = style.both_ends(frame.cg_fore_mm, frame.cg_aft_mm, "mm")
    return range_words(ends, frame.cg_datum) if ends else None


def _servos(sheet: Sheet, case: SheetCase) -> None:
    sheet.heading(text("Servos"))
    fits = by_channel(case.aircraft)
    if not fits:
        sheet.write(text("No servo position is recorded."))
        return
    names = heads("Ch", "Position", "Servo", "Fitted", "Hours", "Flights", "Tested")
    shares = [8.0, 46, 36, 24, 16, 16, 24]
    if sheet.style.prices:
        names, shares = [*names, text("Price")], [*shares, 18]
    sheet.table(names, shares, [_servo_row(sheet.style, fit) for fit in fits])


def _servo_row(style: SheetStyle, fit: ServoFit) -> list[Cell]:
    servo, stay = fit.servo, fit.installation
    cells: list[Cell] = [
        channel_words(fit),
        fit.position.name,
        tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else fit.tag,
        stay.since_on if stay else None,
        text("{hours:g}", hours=servo.hours_h) if servo and servo.hours_h is not None else None,
        servo.flights if servo else None,
        servo.tested_on if servo else None,
    ]
    return [*cells, style.price(servo.price) if servo else None] if style.prices else cells


def _packs(sheet: Sheet, case: SheetCase) -> None:
    sheet.heading(text("Packs"))
    if not case.fed_packs:
        sheet.write(text("No pack is recorded."))
        return
    prices = sheet.style.prices
    names = heads("Pack", "What it is", "Feeds", "From", "Cycles", "Capacity", "Load test")
    shares = [15.0, 50, 26, 22, 15, 22, 30]
    if prices:
        names, shares = [*names, text("Price")], [*shares, 16]
    sheet.table(names, shares, [_pack_row(sheet.style, path, fed) for path, fed in case.fed_packs])


def _pack_row(style: SheetStyle, path: PowerPath, fed: FedPack) -> list[Cell]:
    pack = fed.pack
    test = fed.load_tests[-1] if fed.load_tests else None
    cells: list[Cell] = [
        pack.tag,
        pack_words(fed.pack_type),
        path.feed.role,
        pack.bought_on,
        None if pack.cycles is None else str(pack.cycles),
        text("{capacity:g} mAh", capacity=pack.capacity_mah) if pack.capacity_mah is not None else None,
        text(
            "{volts:g} V at {current:g} A, {day}",
            volts=test.loaded_v,
            current=test.load_a,
            day=test.tested_at.date(),
        )
        if test
        else None,
    ]
    return [*cells, style.price(pack.price)] if style.prices else cells


def _radio(sheet: Sheet, case: SheetCase) -> None:
    aircraft = case.aircraft
    units: list[tuple[Text, Receiver | Stabiliser]] = [
        (text("Receiver"), receiver) for receiver in aircraft.receivers
    ]
    units += [(text("Gyro"), stabiliser) for stabiliser in aircraft.stabilisers]
    rows: list[list[Cell]] = [
        [
            name,
            unit.code,
            ", ".join(word for word in (unit.maker, unit.model_type) if word) or None,
            text(
                "{low:g} to {high:g} V",
                low=unit.supply_min_v,
                high=unit.supply_max_v,
            )
            if unit.supply_min_v is not None and unit.supply_max_v is not None
            else None,
        ]
        for name, unit in units
    ]
    if rows:
        sheet.heading(text("Radio"))
        sheet.table(heads("", "Code", "Maker, type", "Supply"), [30, 30, 80, 48], rows)


def _history(sheet: Sheet, case: SheetCase) -> None:
    aircraft = case.aircraft
    minutes = sum(flight.minutes_min for flight in aircraft.flights)
    crashes = [flight for flight in aircraft.flights if flight.crashed]
    sheet.heading(text("What happened to it"))
    words = [text("{count} flights recorded, {minutes:g} min.", count=len(aircraft.flights), minutes=minutes)]
    if crashes:
        days = series((flight.flown_on for flight in crashes), ",")
        words.append(text("Crash recorded on {days}.", days=days))
    if aircraft.airframe.refit_on:
        words.append(text("Last refit or repair on {day}.", day=aircraft.airframe.refit_on))
    sheet.write(joined(*words))
    rows = _events(case)
    if rows:
        sheet.table(heads("Date", "What", "Words"), [24, 40, 124], rows)


def _events(case: SheetCase) -> Sequence[Sequence[Cell]]:
    events: list[tuple[date, Text, Arg]] = [
        (
            inspection.inspected_on,
            text("inspection, {kind}", kind=inspection.kind),
            said_in(inspection.findings) or "-",
        )
        for inspection in case.aircraft.inspections
    ]
    for snag in case.aircraft.snags:
        closed = text("closed {day}", day=snag.closed_on) if snag.closed_on else text("OPEN")
        action = text("Done: {action}", action=snag.action) if snag.action else NOTHING
        events.append(
            (
                snag.raised_on,
                text("snag, {severity}, {closed}", severity=snag.severity, closed=closed),
                joined(series([read_kept(snag.text)]), action),
            )
        )
    return [list(row) for row in sorted(events, key=lambda event: (event[0], str(event[1])))]
