"""What a whole sheet says of its day: stages passed, the look-over, flights and snags."""

from __future__ import annotations

import re
from dataclasses import replace

from hangar.base.kept_text import kept_text, said_in
from hangar.base.text import Arg, ItemList, Text, fixed, series, text
from hangar.parts import Flight, Inspection, Plan, PlanProof, Snag
from hangar.parts.choices import InspectionKind, PlanState, Severity
from hangar.parts.holding import logged_although
from hangar.parts.sheet_boxes import (
    BENCH,
    CHARGING,
    FIELD,
    LINE,
    READ_BACK,
    is_flight,
    is_line_reading,
)
from hangar.store.filled_sheet import Answer, FilledSheet, one_line

_DONE = (PlanState.DROPPED, PlanState.FLOWN_IN)
_ROW_TICKS = ("Currents", "Throws", "Free play", "Rotor")
_BETWEEN = re.compile(r"\s*[;/+]\s*|,\s+|\s+and\s+")


def take_day(filled: FilledSheet) -> None:
    """Write what the sheet says as a whole, after its readings."""
    if filled.sheet == CHARGING:
        for words in filled.notes:
            filled.state(None, text("has no record for '{words}'; it stays on the paper.", words=words))
        return
    if filled.sheet == FIELD:
        _flights(filled)
        _snag(filled)
        _held(filled)
    elif filled.sheet == BENCH:
        _gates(filled)
    _look_over(filled)


def _is_tick_of_the_whole(filled: FilledSheet, answer: Answer) -> bool:
    if filled.sheet == FIELD:
        return answer.about == LINE and not is_line_reading(answer.what)
    return answer.what == "Passed"


def _look_over(filled: FilledSheet) -> None:
    """The ticks of the whole and what has no field of its own, as one inspection."""
    ticked = [answer for answer in filled.answers if _is_tick_of_the_whole(filled, answer)]
    ticks = [answer for answer in filled.blank if _is_tick_of_the_whole(filled, answer)]
    rows = [answer.name for answer in filled.answers if answer.what in _ROW_TICKS]
    names, blank = [_tick_name(answer) for answer in ticked], [_tick_name(answer) for answer in ticks]
    words = [
        *([text("ticked: {boxes}", boxes=series(names, ","))] if names else ()),
        *([text("not ticked: {boxes}", boxes=series(blank, ","))] if names and blank else ()),
        *([text("rows ticked: {boxes}", boxes=series(rows, ","))] if rows else ()),
        *([text("noted: {notes}", notes=series(filled.notes, ","))] if filled.notes else ()),
    ]
    if not words:
        return
    whole = bool(ticked) and not ticks and not filled.is_contradicted
    refit = filled.sheet == BENCH and whole and _open_plan(filled) is not None
    kind = InspectionKind.AFTER_REFIT if refit else InspectionKind.GATE
    before = filled.edit.record(Inspection, filled.aircraft, filled.day, kind)
    made = before or Inspection(aircraft=filled.aircraft, inspected_on=filled.day, kind=kind)
    line = text(
        "{sheet:^}, {moment}: {words}",
        sheet=fixed(READ_BACK[filled.sheet]),
        moment=f"{filled.moment:%H:%M}",
        words=series(words),
    )
    kept = [kept_line for kept_line in _lines_in(made.findings) if not _is_same_reading(kept_line, line)]
    filled.put(
        replace(
            made,
            findings=kept_text(series((*kept, line), ".")),
            passed=made.passed if made.passed is not None else (True if whole else None),
            by=made.by or filled.by,
        )
    )


def _lines_in(findings: str | None) -> tuple[Arg, ...]:
    """What an inspection says already: its readings of sheets one by one, or the keeper's words."""
    sentence = said_in(findings)
    if not isinstance(sentence, Text):
        return (sentence,) if sentence else ()
    items = sentence.args.get("items")
    return items.items if isinstance(items, ItemList) else (sentence,)


def _is_same_reading(argument: Arg, line: Text) -> bool:
    """Whether that is what the same sheet of the same moment said before."""
    return (
        isinstance(argument, Text)
        and argument.key == line.key
        and all(str(argument.args[name]) == str(line.args[name]) for name in ("sheet", "moment"))
    )


def _tick_name(answer: Answer) -> Arg:
    return answer.what if answer.about == LINE else answer.about


def _open_plan(filled: FilledSheet) -> Plan | None:
    plan = filled.edit.record(Plan, filled.plan) if filled.plan else None
    return plan if plan is not None and plan.state not in _DONE else None


def _gates(filled: FilledSheet) -> None:
    """A stage that is ticked opens its gate of the refit."""
    plan = _open_plan(filled)
    if plan is None:
        return
    for answer in filled.answers:
        if answer.what == "Passed" and filled.edit.record(PlanProof, plan.code, answer.about) is None:
            filled.put(PlanProof(plan=plan.code, proof=answer.about, ticked_on=filled.day))


def _flights(filled: FilledSheet) -> None:
    """As many flights as the sheet counts, each with its minutes."""
    boxes = {answer.what: answer for answer in filled.answers if not answer.about}
    minutes, counted, remarks = (boxes.get(name) for name in ("Minutes", "Flights today", "Remarks"))
    rows = [answer for answer in filled.answers if is_flight(answer.about) and answer.what == "Minutes"]
    if rows:
        read = [filled.number(row, Flight, "minutes_min", bare="min") for row in rows]
        _log(filled, rows[-1], read, None, remarks)
        return
    if minutes is None:
        for answer in (counted, remarks):
            if answer is not None:
                filled.note(text("{box} {words}", box=answer.name, words=one_line(answer.text)))
        return
    read = [filled.number(minutes, Flight, "minutes_min", part, bare="min")
            for part in _BETWEEN.split(minutes.text.strip())]  # fmt: skip
    _log(filled, minutes, read, counted, remarks)


def _log(
    filled: FilledSheet, minutes: Answer, read: list[float | None], counted: Answer | None,
    remarks: Answer | None,
) -> None:  # fmt: skip
    """Write the flights unless one cannot be read, or the logbook has others of that day."""
    flown = [value for value in read if value is not None]
    wanted = counted.text.strip() if counted else str(len(flown))
    if len(flown) < len(read):
        return
    if wanted != str(len(flown)):
        filled.refuse(
            minutes,
            text(
                "counts {count}, but {wanted} flights are noted; give each, such as 8; 7; 9.",
                count=len(flown),
                wanted=wanted,
            ),
        )
        return
    known = filled.edit.records(Flight, aircraft=filled.aircraft, flown_on=filled.day)
    if known:
        if [flight.minutes_min for flight in known] != flown:
            filled.refuse(
                minutes,
                text(
                    "is not taken: the logbook has {count} of {day} already.",
                    count=len(known),
                    day=filled.day,
                ),
            )
        return
    reasons = filled.hindrances(filled.aircraft, filled.day)
    if flown and reasons:
        filled.doubt(
            minutes, text("is logged although the aircraft must not fly: {reasons}.", reasons=series(reasons))
        )
    for number, value in enumerate(flown, start=1):
        words = remarks.text.strip() if remarks and number == len(flown) else None
        filled.put(
            Flight(
                aircraft=filled.aircraft,
                flown_on=filled.day,
                number=number,
                minutes_min=value,
                pilot=filled.by,
                remarks=logged_although(reasons, words) if reasons else words,
            )
        )


def _snag(filled: FilledSheet) -> None:
    """A snag is raised once, however often its sheet is read; each landing has a line for its own."""
    for noted in filled.answers:
        if is_flight(noted.about) and noted.what == "Snag":
            raise_snag(filled, one_line(noted.text))
    answer = next(
        (
            other_answer
            for other_answer in filled.answers
            if other_answer.what == "Snag found" and not other_answer.about
        ),
        None,
    )
    if answer is None:
        return
    raise_snag(filled, answer.text.strip())


def _held(filled: FilledSheet) -> None:
    """What a phone was put away for grounds the aircraft until it is closed."""
    answer = next(
        (
            other_answer
            for other_answer in filled.answers
            if other_answer.what == "Held" and not other_answer.about
        ),
        None,
    )
    if answer is not None:
        raise_snag(filled, answer.text.strip(), Severity.GROUNDS)


def raise_snag(
    filled: FilledSheet, words: str, severity: Severity = Severity.NOTE, answer: Answer | None = None
) -> None:
    """Raise a snag of the sheet's day, unless it stands there already."""
    known = filled.edit.records(Snag, aircraft=filled.aircraft, raised_on=filled.day)
    if not any(snag.text == words for snag in known):
        number = max((snag.number for snag in known), default=0) + 1
        made = Snag(
            aircraft=filled.aircraft, raised_on=filled.day, number=number, text=words, severity=severity
        )
        filled.put(made, answer)
