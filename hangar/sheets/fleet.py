"""The fleet overview: one row an aircraft, for whoever answers for safety on the field."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.parts import Channel, ServoFit
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import Function, MarkPlace, PowerKind
from hangar.parts.failsafe import is_set_wrong
from hangar.rules.finding import Level
from hangar.sheets.case import SheetCase, accepted, held_words, not_judged_words, not_released_words, open_at
from hangar.sheets.failsafe_words import setting_words
from hangar.sheets.kit import Cell, Sheet
from hangar.sheets.sheet_head import class_words, foot_of, list_head, revisions
from hangar.sheets.style import SheetStyle


def draw_fleet_overview(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw one row for each aircraft, then the open warnings in words."""
    day = cases[0].survey.conditions.today
    name = sheet.style.club or "Fleet"
    sheet.begin("Fleet overview", f"Fleet overview, {name}", foot_of(cases, "fleet"), answers="fleet")
    list_head(sheet, "FLEET OVERVIEW", name, [f"{len(cases)} aircraft, data of {day}", revisions(cases)])
    sheet.table(
        ["Aircraft", "Class", "Mass", "Mark", "Throttle, no signal", "Power", "Load test", "W", "C", "A",
         "?", "State"],
        [24, 23, 15, 21, 21, 29, 21, 8, 8, 8, 8, 22],
        [_row(sheet.style, case) for case in cases],
    )  # fmt: skip
    sheet.write(
        "W warnings, C cautions, A advisories open; ? what cannot be told for want of data: unknown is not "
        "good. Power: pack, chemistry, cells, mAh. Load test: the oldest of the packs' last ones. An empty "
        "box is not known."
    )
    _warnings(sheet, cases)
    sheet.heading("Seen")
    sheet.blanks(["Keeper", "Safety officer", "Date"])


def _row(style: SheetStyle, case: SheetCase) -> list[Cell]:
    frame = case.aircraft.airframe
    held, not_released = held_words(case), not_released_words(case)
    unjudged = "NOT JUDGED" if not_judged_words(case) else None
    state = "HELD" if held else ("NOT RELEASED" if not_released else unjudged or str(frame.state))
    mass = frame.all_up_mass_g
    counts: list[Cell] = [
        str(len(open_at(case.findings, level)))
        for level in (Level.WARNING, Level.CAUTION, Level.ADVISORY, Level.CANT_TELL)
    ]
    return [
        f"{frame.name} ({frame.code})",
        class_words(frame),
        None if mass is None else style.show(mass / 1000, "kg") if mass >= 1000 else style.show(mass, "g"),
        _mark_words(case),
        _throttle_words(case),
        _power_words(case),
        _load_test_words(case),
        *counts,
        state,
    ]


def _mark_words(case: SheetCase) -> str | None:
    frame = case.aircraft.airframe
    if not frame.registration:
        return "none" if frame.registration_place is MarkPlace.NONE else None
    return f"{frame.registration}, {frame.registration_place or 'place not recorded'}"


def _throttle_words(case: SheetCase) -> str | None:
    """What the throttle does without a signal and when that was proved."""
    throttles = [each for each in case.aircraft.channels if each.function is Function.THROTTLE]
    if not throttles:
        fits: list[ServoFit] = [fit for fit in case.aircraft.fits if fit.function is Function.THROTTLE]
        frame = case.aircraft.airframe
        driven = frame.power not in (PowerKind.NONE, PowerKind.TOW) or is_power_unknown(frame)
        return None if fits or driven else "no motor"
    words = [_channel_words(each) for each in throttles]
    return "; ".join(each or "not known" for each in words) if any(words) else None


def _channel_words(channel: Channel) -> str | None:
    """A proof of a wrong setting is none."""
    setting = setting_words(channel)
    if setting is None or is_set_wrong(channel):
        return setting
    proved = channel.failsafe_proved_on
    return f"{setting}, {f'proved {proved}' if proved else 'never proved'}"


def _power_words(case: SheetCase) -> str | None:
    words = [
        f"{fed.pack.tag} {fed.pack_type.chemistry} {fed.pack_type.series}S {fed.pack_type.capacity_mah:g}"
        for _, fed in case.tested_packs
    ]
    return ", ".join(words) or None


def _load_test_words(case: SheetCase) -> str | None:
    """The oldest of the last load tests; a pack never tested counts before all."""
    last = [fed.load_tests[-1].tested_at if fed.load_tests else None for _, fed in case.tested_packs]
    if not last:
        return None
    if any(day is None for day in last):
        return "never, " + ", ".join(fed.pack.tag for _, fed in case.tested_packs if not fed.load_tests)
    return str(min(day for day in last if day).date())


def _warnings(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    rows: list[list[Cell]] = []
    for case in cases:
        if held := held_words(case):
            rows.append([case.aircraft.code, held])
        signs = (not_released_words(case), not_judged_words(case))
        rows += [[case.aircraft.code, words] for words in signs if words]
        rows += [
            [case.aircraft.code, sheet.style.put(each.message)]
            for finding in open_at(case.findings, Level.WARNING)
            for each in finding.with_folded()
            if each.level is Level.WARNING
        ]
        rows += [
            [case.aircraft.code, f"Accepted to {each.accepted_until}: {sheet.style.put(each.message)}"]
            for each in accepted(case.findings)
            if each.level is Level.WARNING
        ]
    if rows:
        sheet.heading("Warnings, and what keeps an aircraft on the ground")
        sheet.table(["Aircraft", "What"], [20, 168], rows)
