"""The fleet overview: one row an aircraft, for whoever answers for safety on the field."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.text import Arg, series, text
from hangar.parts import Channel, ServoFit
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import Function, MarkPlace, PowerKind
from hangar.parts.failsafe import is_set_wrong
from hangar.rules.finding import Level
from hangar.sheets.case import SheetCase, accepted, held_words, not_judged_words, not_released_words, open_at
from hangar.sheets.failsafe_words import setting_words
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.sheet_head import class_words, foot_of, list_head, revisions
from hangar.sheets.style import SheetStyle


def draw_fleet_overview(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw one row for each aircraft, then the open warnings in words."""
    day = cases[0].conditions.today
    name = sheet.style.club or text("Fleet")
    sheet.begin(
        text("Fleet overview"),
        text("Fleet overview, {name}", name=name),
        foot_of(cases, "fleet"),
        answers="fleet",
    )
    list_head(
        sheet,
        text("FLEET OVERVIEW"),
        name,
        [text("{count} aircraft, data of {day}", count=len(cases), day=day), revisions(cases)],
    )
    sheet.table(
        heads("Aircraft", "Class", "Mass", "Mark", "Throttle, no signal", "Power", "Load test", "W", "C", "A",
         "?", "State"),
        [24, 23, 15, 21, 21, 29, 21, 8, 8, 8, 8, 22],
        [_row(sheet.style, case) for case in cases],
    )  # fmt: skip
    sheet.write(
        text(
            "W warnings, C cautions, A advisories open; ? what cannot be told for want of data: "
            "unknown is not "
            "good. Power: pack, chemistry, cells, mAh. Load test: the oldest of the packs' last ones. "
            "An empty "
            "box is not known."
        )
    )
    _warnings(sheet, cases)
    sheet.heading(text("Seen"))
    sheet.blanks(heads("Keeper", "Safety officer", "Date"))


def _row(style: SheetStyle, case: SheetCase) -> list[Cell]:
    frame = case.aircraft.airframe
    held, not_released = held_words(case), not_released_words(case)
    unjudged = text("NOT JUDGED") if not_judged_words(case) else None
    state: Arg = unjudged or frame.state
    if held or not_released:
        state = text("HELD") if held else text("NOT RELEASED")
    mass = frame.all_up_mass_g
    counts: list[Cell] = [
        str(len(open_at(case.findings, level)))
        for level in (Level.WARNING, Level.CAUTION, Level.ADVISORY, Level.CANT_TELL)
    ]
    return [
        f"{frame.name} ({frame.code})",
        class_words(frame),
        None if mass is None else style.show(mass, "g"),
        _mark_words(case),
        _throttle_words(case),
        _power_words(case),
        _load_test_words(case),
        *counts,
        state,
    ]


def _mark_words(case: SheetCase) -> Arg:
    frame = case.aircraft.airframe
    if not frame.registration:
        return text("none") if frame.registration_place is MarkPlace.NONE else None
    return series([frame.registration, frame.registration_place or text("place not recorded")], ",")


def _throttle_words(case: SheetCase) -> Arg:
    """What the throttle does without a signal and when that was proved."""
    throttles = [channel for channel in case.aircraft.channels if channel.function is Function.THROTTLE]
    if not throttles:
        fits: list[ServoFit] = [fit for fit in case.aircraft.fits if fit.function is Function.THROTTLE]
        frame = case.aircraft.airframe
        driven = frame.power not in (PowerKind.NONE, PowerKind.TOW) or is_power_unknown(frame)
        return None if fits or driven else text("no motor")
    words = [_channel_words(throttle) for throttle in throttles]
    return series(word or text("not known") for word in words) if any(words) else None


def _channel_words(channel: Channel) -> Arg:
    """A proof of a wrong setting is none."""
    setting = setting_words(channel)
    if setting is None or is_set_wrong(channel):
        return setting
    proved = channel.failsafe_proved_on
    return series([setting, text("proved {day}", day=proved) if proved else text("never proved")], ",")


def _power_words(case: SheetCase) -> Arg:
    words = [
        text(
            "{tag} {chemistry} {cells}S {capacity:g}",
            tag=fed.pack.tag,
            chemistry=fed.pack_type.chemistry,
            cells=fed.pack_type.series,
            capacity=fed.pack_type.capacity_mah,
        )
        for _, fed in case.tested_packs
    ]
    return series(words, ",") or None


def _load_test_words(case: SheetCase) -> Arg:
    """The oldest of the last load tests; a pack never tested counts before all."""
    last = [fed.load_tests[-1].tested_at if fed.load_tests else None for _, fed in case.tested_packs]
    if not last:
        return None
    if any(day is None for day in last):
        return series(
            [text("never"), *(fed.pack.tag for _, fed in case.tested_packs if not fed.load_tests)], ","
        )
    return min(day for day in last if day).date()


def _warnings(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    rows: list[list[Cell]] = []
    for case in cases:
        if held := held_words(case):
            rows.append([case.aircraft.code, held])
        signs = (not_released_words(case), not_judged_words(case))
        rows += [[case.aircraft.code, words] for words in signs if words]
        rows += [
            [case.aircraft.code, finding.sentence if other_finding is finding else other_finding.message]
            for finding in open_at(case.findings, Level.WARNING)
            for other_finding in finding.with_folded()
            if other_finding.level is Level.WARNING
        ]
        rows += [
            [
                case.aircraft.code,
                text("Accepted to {until}: {message}", until=finding.accepted_until, message=finding.message),
            ]
            for finding in accepted(case.findings)
            if finding.level is Level.WARNING
        ]
    if rows:
        sheet.heading(text("Warnings, and what keeps an aircraft on the ground"))
        sheet.table(heads("Aircraft", "What"), [20, 168], rows)
