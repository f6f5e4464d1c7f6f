"""What a whole sheet says of its day: stages passed, the look-over, flights and snags."""

from __future__ import annotations

import re
from dataclasses import replace

from hangar.base.kept_text import kept_text, said_in
from hangar.base.text import Arg, Listed, Text, fixed, series, text
from hangar.parts import Flight, Inspection, Plan, PlanProof, Snag
from hangar.parts.choices import InspectionKind, PlanState, Severity
from hangar.parts.holding import logged_although
from hangar.parts.sheet_boxes import BENCH, CHARGING, FIELD, LINE, READ_BACK
from hangar.store.sheet_taking import Answer, SheetIntake, one_line

_DONE = (PlanState.DROPPED, PlanState.FLOWN_IN)
_ROW_TICKS = ("Currents", "Throws", "Free play")
_BETWEEN = re.compile(r"\s*[;/+]\s*|,\s+|\s+and\s+")


def take_day(taking: SheetIntake) -> None:
    """Write what the sheet says as a whole, after its readings."""
    if taking.sheet == CHARGING:
        for words in taking.notes:
            taking.state(None, text("has no record for '{words}'; it stays on the paper.", words=words))
        return
    if taking.sheet == FIELD:
        _flights(taking)
        _snag(taking)
        _held(taking)
    elif taking.sheet == BENCH:
        _gates(taking)
    _look_over(taking)


def _is_tick_of_the_whole(taking: SheetIntake, answer: Answer) -> bool:
    return answer.about == LINE if taking.sheet == FIELD else answer.what == "Passed"


def _look_over(taking: SheetIntake) -> None:
    """The ticks of the whole and what has no field of its own, as one inspection."""
    ticked = [answer for answer in taking.answers if _is_tick_of_the_whole(taking, answer)]
    left = [answer for answer in taking.blank if _is_tick_of_the_whole(taking, answer)]
    rows = [answer.name for answer in taking.answers if answer.what in _ROW_TICKS]
    names, blank = [_tick_name(answer) for answer in ticked], [_tick_name(answer) for answer in left]
    words = [
        *([text("ticked: {boxes}", boxes=series(names, ","))] if names else ()),
        *([text("not ticked: {boxes}", boxes=series(blank, ","))] if names and blank else ()),
        *([text("rows ticked: {boxes}", boxes=series(rows, ","))] if rows else ()),
        *([text("noted: {notes}", notes=series(taking.notes, ","))] if taking.notes else ()),
    ]
    if not words:
        return
    whole = bool(ticked) and not left and not taking.is_contradicted
    refit = taking.sheet == BENCH and whole and _open_plan(taking) is not None
    kind = InspectionKind.AFTER_REFIT if refit else InspectionKind.GATE
    before = taking.edit.record(Inspection, taking.aircraft, taking.day, kind)
    made = before or Inspection(aircraft=taking.aircraft, inspected_on=taking.day, kind=kind)
    line = text(
        "{sheet:^}, {moment}: {words}",
        sheet=fixed(READ_BACK[taking.sheet]),
        moment=f"{taking.moment:%H:%M}",
        words=series(words),
    )
    kept = [one for one in _lines_in(made.findings) if not _is_same_reading(one, line)]
    taking.put(
        replace(
            made,
            findings=kept_text(series((*kept, line), ".")),
            passed=made.passed if made.passed is not None else (True if whole else None),
            by=made.by or taking.by,
        )
    )


def _lines_in(findings: str | None) -> tuple[Arg, ...]:
    """What an inspection says already: its readings of sheets one by one, or the keeper's words."""
    said = said_in(findings)
    if not isinstance(said, Text):
        return (said,) if said else ()
    items = said.args.get("items")
    return items.items if isinstance(items, Listed) else (said,)


def _is_same_reading(said: Arg, line: Text) -> bool:
    """Whether that is what the same sheet of the same moment said before."""
    return (
        isinstance(said, Text)
        and said.key == line.key
        and all(str(said.args[name]) == str(line.args[name]) for name in ("sheet", "moment"))
    )


def _tick_name(answer: Answer) -> Arg:
    return answer.what if answer.about == LINE else answer.about


def _open_plan(taking: SheetIntake) -> Plan | None:
    plan = taking.edit.record(Plan, taking.plan) if taking.plan else None
    return plan if plan is not None and plan.state not in _DONE else None


def _gates(taking: SheetIntake) -> None:
    """A stage that is ticked opens its gate of the refit."""
    plan = _open_plan(taking)
    if plan is None:
        return
    for answer in taking.answers:
        if answer.what == "Passed" and taking.edit.record(PlanProof, plan.code, answer.about) is None:
            taking.put(PlanProof(plan=plan.code, proof=answer.about, ticked_on=taking.day))


def _flights(taking: SheetIntake) -> None:
    """As many flights as the sheet counts, each with its minutes."""
    boxes = {answer.what: answer for answer in taking.answers if not answer.about}
    minutes, counted, remarks = (boxes.get(each) for each in ("Minutes", "Flights today", "Remarks"))
    if minutes is None:
        for answer in (counted, remarks):
            if answer is not None:
                taking.note(text("{box} {words}", box=answer.name, words=one_line(answer.text)))
        return
    read = [taking.number(minutes, Flight, "minutes_min", part, bare="min")
            for part in _BETWEEN.split(minutes.text.strip())]  # fmt: skip
    flown = [value for value in read if value is not None]
    wanted = counted.text.strip() if counted else str(len(flown))
    if len(flown) < len(read):
        return
    if wanted != str(len(flown)):
        taking.refuse(
            minutes,
            text(
                "counts {count}, but {wanted} flights are noted; give each, such as 8; 7; 9.",
                count=len(flown),
                wanted=wanted,
            ),
        )
        return
    known = taking.edit.records(Flight, aircraft=taking.aircraft, flown_on=taking.day)
    if known:
        if [flight.minutes_min for flight in known] != flown:
            taking.refuse(
                minutes,
                text(
                    "is not taken: the logbook has {count} of {day} already.",
                    count=len(known),
                    day=taking.day,
                ),
            )
        return
    reasons = taking.hindrances(taking.aircraft, taking.day)
    if flown and reasons:
        taking.doubt(
            minutes, text("is logged although the aircraft must not fly: {reasons}.", reasons=series(reasons))
        )
    for number, value in enumerate(flown, start=1):
        told = remarks.text.strip() if remarks and number == len(flown) else None
        taking.put(
            Flight(
                aircraft=taking.aircraft,
                flown_on=taking.day,
                number=number,
                minutes_min=value,
                pilot=taking.by,
                remarks=logged_although(reasons, told) if reasons else told,
            )
        )


def _snag(taking: SheetIntake) -> None:
    """A snag is raised once, however often its sheet is read."""
    answer = next(
        (
            other_answer
            for other_answer in taking.answers
            if other_answer.what == "Snag found" and not other_answer.about
        ),
        None,
    )
    if answer is None:
        return
    raise_snag(taking, answer.text.strip())


def _held(taking: SheetIntake) -> None:
    """What a phone was put away for grounds the aircraft until it is closed."""
    answer = next(
        (
            other_answer
            for other_answer in taking.answers
            if other_answer.what == "Held" and not other_answer.about
        ),
        None,
    )
    if answer is not None:
        raise_snag(taking, answer.text.strip(), Severity.GROUNDS)


def raise_snag(
    taking: SheetIntake, words: str, severity: Severity = Severity.NOTE, answer: Answer | None = None
) -> None:
    """Raise a snag of the sheet's day, unless it stands there already."""
    known = taking.edit.records(Snag, aircraft=taking.aircraft, raised_on=taking.day)
    if not any(snag.text == words for snag in known):
        number = max((snag.number for snag in known), default=0) + 1
        made = Snag(
            aircraft=taking.aircraft, raised_on=taking.day, number=number, text=words, severity=severity
        )
        taking.put(made, answer)
