"""The passport of one aircraft: what a buyer or heir gets with it, with or without prices and own details."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.parts import FedPack, PowerPath, Receiver, ServoFit, Stabiliser
from hangar.sheets.case import SheetCase
from hangar.sheets.findings_part import findings_table
from hangar.sheets.fit_words import by_channel, channel_words, date_words, pack_words, tag_and_type
from hangar.sheets.kit import Cell, Sheet
from hangar.sheets.photo_drawing import draw_photo
from hangar.sheets.sheet_head import class_words, foot_of, head, mass_words, release_line
from hangar.sheets.style import SheetStyle

_PHOTO_MM, _PHOTO_HIGH_MM = 100.0, 62.0
_OF_PLANS = "plan-"
"""Rules about refits not yet made, which do not go with the aircraft."""


def draw_passport(sheet: Sheet, case: SheetCase) -> None:
    """Draw who the aircraft is, what is in it, what happened to it and what is known to be wrong."""
    frame = case.aircraft.airframe
    sheet.begin(
        f"{frame.code} passport",
        f"{frame.name} ({frame.code}), passport",
        foot_of([case], "passport"),
        answers=f"{frame.code} passport",
    )
    head(sheet, case, "PASSPORT")
    release_line(sheet, case)
    draw_photo(sheet, case.photo, _PHOTO_MM, _PHOTO_HIGH_MM)
    _airframe(sheet, case)
    _servos(sheet, case)
    _packs(sheet, case)
    _radio(sheet, case)
    _history(sheet, case)
    sheet.heading("What is known to be wrong, by the checks of the program on the data entered")
    found = [finding for finding in case.findings if not finding.rule.startswith(_OF_PLANS)]
    if found:
        findings_table(sheet, found, with_remedy=False)
    else:
        sheet.write("No open warnings on the data entered, and nothing else was found.")
    sheet.heading("Handed over")
    sheet.blanks(["From", "To", "Date"])


def _airframe(sheet: Sheet, case: SheetCase) -> None:
    frame, style = case.aircraft.airframe, sheet.style
    is_heli = frame.aircraft_class.is_helicopter
    facts: list[tuple[str, Cell]] = [
        ("Class", class_words(frame)),
        ("Maker, type", ", ".join(each for each in (frame.maker, frame.model_type) if each) or None),
        ("Serial", frame.serial),
        ("Built", str(frame.built_year) if frame.built_year else None),
        ("Span", "-" if is_heli else style.both(frame.span_mm, "mm")),
        ("Length", style.both(frame.length_mm, "mm")),
        ("Wing area", style.both(frame.wing_area_dm2, "dm2")),
        ("Mass empty", mass_words(style, frame.empty_mass_g)),
        ("Mass all up", mass_words(style, frame.all_up_mass_g)),
        ("Weighed", date_words(frame.mass_measured_on)),
        ("Balance", _balance(style, case)),
        ("Balance is", style.both(frame.cg_measured_mm, "mm")),
        ("Greatest speed", "-" if is_heli else style.both(frame.dive_speed_m_s, "m/s")),
        ("Propeller", frame.propeller or ("-" if frame.power in ("none", "tow") else None)),
    ]
    facts += [
        (f"{rotor.rotor} rotor".capitalize(), f"{style.show(rotor.diameter_mm, 'mm') or '____'}")
        for rotor in case.aircraft.rotors
    ]
    facts += _own_facts(sheet.style, case)
    if len(facts) % 2:
        facts.append(("", ""))
    sheet.heading("Aircraft")
    rows: list[list[Cell]] = [
        [name, words, other, other_words]
        for (name, words), (other, other_words) in zip(facts[::2], facts[1::2], strict=True)
    ]
    sheet.table(["", "", "", ""], [28, 66, 28, 66], rows)


def _own_facts(style: SheetStyle, case: SheetCase) -> list[tuple[str, Cell]]:
    """Marks, numbers and money of the present keeper, where he lets them be seen."""
    frame = case.aircraft.airframe
    facts: list[tuple[str, Cell]] = []
    if style.own_details:
        facts = [
            ("Mark", frame.registration),
            ("Club number", frame.club_number),
            ("Acquired", date_words(frame.acquired_on)),
            ("From", frame.acquired_from),
            ("Usual field", frame.site),
            ("Notes", frame.notes),
        ]
    if style.prices:
        facts.append(("Cost", style.price(frame.cost)))
    return facts


def _balance(style: SheetStyle, case: SheetCase) -> str | None:
    frame = case.aircraft.airframe
    ends = style.both_ends(frame.cg_fore_mm, frame.cg_aft_mm, "mm")
    return f"{ends} from {frame.cg_datum}" if ends and frame.cg_datum else ends


def _servos(sheet: Sheet, case: SheetCase) -> None:
    sheet.heading("Servos")
    fits = by_channel(case.aircraft)
    if not fits:
        sheet.write("No servo position is recorded.")
        return
    heads = ["Ch", "Position", "Servo", "Fitted", "Hours", "Flights", "Tested"]
    shares = [8.0, 46, 36, 24, 16, 16, 24]
    if sheet.style.prices:
        heads, shares = [*heads, "Price"], [*shares, 18]
    sheet.table(heads, shares, [_servo_row(sheet.style, fit) for fit in fits])


def _servo_row(style: SheetStyle, fit: ServoFit) -> list[Cell]:
    servo, stay = fit.servo, fit.installation
    cells: list[Cell] = [
        channel_words(fit),
        fit.position.name,
        tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else fit.tag,
        date_words(stay.since_on) if stay else None,
        f"{servo.hours_h:g}" if servo and servo.hours_h is not None else None,
        f"{servo.flights}" if servo and servo.flights is not None else None,
        date_words(servo.tested_on) if servo else None,
    ]
    return [*cells, style.price(servo.price) if servo else None] if style.prices else cells


def _packs(sheet: Sheet, case: SheetCase) -> None:
    sheet.heading("Packs")
    if not case.fed_packs:
        sheet.write("No pack is recorded.")
        return
    prices = sheet.style.prices
    heads = ["Pack", "What it is", "Feeds", "From", "Cycles", "Capacity", "Load test"]
    shares = [15.0, 50, 26, 22, 15, 22, 30]
    if prices:
        heads, shares = [*heads, "Price"], [*shares, 16]
    sheet.table(heads, shares, [_pack_row(sheet.style, path, fed) for path, fed in case.fed_packs])


def _pack_row(style: SheetStyle, path: PowerPath, fed: FedPack) -> list[Cell]:
    pack = fed.pack
    test = fed.load_tests[-1] if fed.load_tests else None
    cells: list[Cell] = [
        pack.tag,
        pack_words(fed.pack_type),
        f"{path.feed.role}",
        date_words(pack.bought_on),
        None if pack.cycles is None else str(pack.cycles),
        f"{pack.capacity_mah:g} mAh" if pack.capacity_mah is not None else None,
        f"{test.loaded_v:g} V at {test.load_a:g} A, {test.tested_at.date()}" if test else None,
    ]
    return [*cells, style.price(pack.price)] if style.prices else cells


def _radio(sheet: Sheet, case: SheetCase) -> None:
    aircraft = case.aircraft
    units: list[tuple[str, Receiver | Stabiliser]] = [("Receiver", each) for each in aircraft.receivers]
    units += [("Gyro", each) for each in aircraft.stabilisers]
    rows: list[list[Cell]] = [
        [
            name,
            each.code,
            ", ".join(word for word in (each.maker, each.model_type) if word) or None,
            f"{each.supply_min_v:g} to {each.supply_max_v:g} V"
            if each.supply_min_v is not None and each.supply_max_v is not None
            else None,
        ]
        for name, each in units
    ]
    if rows:
        sheet.heading("Radio")
        sheet.table(["", "Code", "Maker, type", "Supply"], [30, 30, 80, 48], rows)


def _history(sheet: Sheet, case: SheetCase) -> None:
    aircraft = case.aircraft
    minutes = sum(flight.minutes_min for flight in aircraft.flights)
    crashes = [flight for flight in aircraft.flights if flight.crashed]
    sheet.heading("What happened to it")
    words = [f"{len(aircraft.flights)} flights recorded, {minutes:g} min."]
    words += (
        [f"Crash recorded on {', '.join(str(flight.flown_on) for flight in crashes)}."] if crashes else []
    )
    if aircraft.airframe.refit_on:
        words.append(f"Last refit or repair on {aircraft.airframe.refit_on}.")
    sheet.write(" ".join(words))
    rows = _events(case)
    if rows:
        sheet.table(["Date", "What", "Words"], [24, 40, 124], rows)


def _events(case: SheetCase) -> Sequence[Sequence[Cell]]:
    events = [
        (each.inspected_on, f"inspection, {each.kind}", each.findings or "-")
        for each in case.aircraft.inspections
    ]
    for snag in case.aircraft.snags:
        closed = f"closed {snag.closed_on}" if snag.closed_on else "OPEN"
        action = f" Done: {snag.action}" if snag.action else ""
        events.append((snag.raised_on, f"snag, {snag.severity}, {closed}", f"{snag.text}{action}"))
    return [[str(day), what, words] for day, what, words in sorted(events)]
