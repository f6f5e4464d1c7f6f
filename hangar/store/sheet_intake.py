"""Filled sheets as part of a bring-in: each box goes to its record if its place is still the same."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from hangar.base.errors import BadInput, StoreFault
from hangar.parts import Airframe, Installation, Pack, Position, Servo, Surface
from hangar.parts.sheet_boxes import (
    CHARGING,
    LINE,
    READ_BACK,
    STAMP,
    Stamp,
    answers_of,
    full_name,
    plain_name,
    revision,
)
from hangar.store.edit import Edit
from hangar.store.fleet import Fleet
from hangar.store.report import CellNote
from hangar.store.sheet_answers import take_answers
from hangar.store.sheet_pdf import FilledForm, read_form
from hangar.store.sheet_taking import Answer, Outcome, Remark

_OF_SURFACE = ("Play", "Free play")
_NO_PLACE = (LINE, "")


@dataclass(slots=True)
class SheetIntake:
    """What the filled sheets of one bring-in came to."""

    taken: dict[str, int] = field(default_factory=dict)
    refused: list[CellNote] = field(default_factory=list)
    doubtful: list[CellNote] = field(default_factory=list)
    stated: list[CellNote] = field(default_factory=list)
    revisions: dict[str, str] = field(default_factory=dict)
    """Of each aircraft as it was before the first of these sheets was taken."""

    def add(self, file: str, outcome: Outcome) -> None:
        """Take over what one sheet came to."""
        for kind, count in outcome.taken.items():
            self.taken[kind] = self.taken.get(kind, 0) + count
        for notes, remarks in (
            (self.refused, outcome.refused),
            (self.doubtful, outcome.doubtful),
            (self.stated, outcome.stated),
        ):
            notes += [_note(file, remark) for remark in remarks]


def _note(file: str, remark: Remark) -> CellNote:
    answer = remark.answer
    return CellNote(
        file, 0, answer.box if answer else "", answer.text.strip() if answer else "", remark.reason
    )


def read_forms(paths: Iterable[Path], intake: SheetIntake) -> list[FilledForm]:
    """The forms that can be read; the others are refused by name."""
    forms = []
    for path in paths:
        try:
            forms.append(read_form(path))
        except BadInput as fault:
            words = str(fault).removeprefix(path.name).strip()
            intake.refused.append(CellNote(path.name, 0, "", "", words))
        except OSError as fault:
            words = f"cannot be read: {fault.strerror or fault}."
            intake.refused.append(CellNote(path.name, 0, "", "", words))
    return forms


def take_form(fleet: Fleet, edit: Edit, form: FilledForm, today: date, intake: SheetIntake) -> None:
    """Write what one filled PDF says; every sheet in it on its own."""
    for stamp in form.stamps:
        outcome = Outcome()
        try:
            _take_sheet(fleet, edit, form, stamp, today, outcome, intake.revisions)
        except (BadInput, StoreFault) as fault:
            outcome.refused.append(Remark(None, str(fault)))
        intake.add(form.file, outcome)


def _take_sheet(
    fleet: Fleet, edit: Edit, form: FilledForm, stamp: Stamp, today: date, outcome: Outcome,
    revisions: dict[str, str],
) -> None:  # fmt: skip
    if stamp.sheet not in READ_BACK:
        raise BadInput(f"is a sheet {stamp.sheet!r}; read back are {', '.join(READ_BACK.values())}.")
    if stamp.sheet != CHARGING and edit.record(Airframe, stamp.aircraft) is None:
        codes = ", ".join(fleet.aircraft_codes()) or "none"
        raise BadInput(
            f"is a {READ_BACK[stamp.sheet]} of {stamp.aircraft}, which is not in this fleet; "
            f"there are: {codes}."
        )
    answers = answers_on(form, stamp)
    filled = [each for each in answers if each.is_filled and each.what != "Load"]
    if not filled:
        raise BadInput(f"has no box filled in on the {_sheet_words(stamp)}; nothing was taken of it.")
    before = len(edit.steps)
    standing = [each for each in answers if _stands(edit, stamp, each, outcome)]
    older = False
    if stamp.revision:
        if stamp.aircraft not in revisions:
            revisions[stamp.aircraft] = revision(fleet.aircraft(stamp.aircraft, today))
        older = stamp.revision != revisions[stamp.aircraft]
    told = take_answers(
        edit,
        stamp.aircraft,
        stamp.sheet,
        standing,
        today,
        without_date=min(stamp.printed_on, today),
        plan=stamp.plan,
    )
    outcome.refused += told.refused
    outcome.doubtful += told.doubtful
    outcome.stated += told.stated
    outcome.taken.update(told.taken)
    if told.taken and len(edit.steps) == before:
        words = f"All that was taken of the {_sheet_words(stamp)} stood in the records already."
        outcome.stated.append(Remark(None, words))
    elif older:
        words = (
            f"was printed from revision {stamp.revision} of {stamp.printed_on}, and the records of "
            f"{stamp.aircraft} have changed since; what was read at a place that holds the same part was "
            "taken."
        )
        outcome.doubtful.append(Remark(None, words))


def _sheet_words(stamp: Stamp) -> str:
    return " of ".join(word for word in (READ_BACK[stamp.sheet], stamp.aircraft) if word)


def answers_on(form: FilledForm, stamp: Stamp) -> list[Answer]:
    """The boxes of one sheet of a form, each by what it is about and which reading it is."""
    start = f"{plain_name(answers_of(stamp.aircraft, stamp.sheet))} "
    others = [
        f"{plain_name(answers_of(other.aircraft, other.sheet))} "
        for other in form.stamps
        if other is not stamp and len(answers_of(other.aircraft, other.sheet)) >= len(start)
    ]
    # The longest place first, so that AIL-L 2 is not taken for a second reading of AIL-L.
    places = sorted(stamp.places, key=len, reverse=True)
    found = []
    for name, text in form.texts.items():
        if not name.startswith(start) or name.endswith(f" {STAMP}"):
            continue
        if any(name.startswith(other) for other in others):
            continue
        about = next((place for place in places if name.startswith(f"{_head(stamp, place)} ")), "")
        what = name.removeprefix(_head(stamp, about)).strip()
        found.append(Answer(about, _DATES.get(what, what), text))
    return found


_DATES = {"Date  time": "Date, time"}
"""Readings whose names have a sign that the form leaves out."""


def _head(stamp: Stamp, about: str) -> str:
    return full_name(stamp.aircraft, stamp.sheet, about, "")


def _stands(edit: Edit, stamp: Stamp, answer: Answer, outcome: Outcome) -> bool:
    """Whether a place is still what the sheet was printed for; if not, its readings are refused by name."""
    fault = _moved(edit, stamp, answer)
    if fault and answer.is_filled and answer.what != "Load":
        outcome.refused.append(Remark(answer, fault))
    return fault is None


def _moved(edit: Edit, stamp: Stamp, answer: Answer) -> str | None:
    if answer.about in _NO_PLACE or answer.what in ("Passed", "Measured"):
        return None
    servo = stamp.places.get(answer.about)
    if answer.what in _OF_SURFACE:
        known = edit.record(Surface, stamp.aircraft, answer.about) is not None
        return None if known else f"is of a surface that {stamp.aircraft} has no longer."
    if servo is not None:
        return _servo_moved(edit, stamp, answer.about, *servo)
    if answer.about.startswith("channel ") or edit.record(Pack, answer.about) is not None:
        return None
    return f"is of {answer.about}, which is not in this fleet any more."


def _servo_moved(edit: Edit, stamp: Stamp, position: str, tag: str, kind: str) -> str | None:
    if edit.record(Position, stamp.aircraft, position) is None:
        return f"is of a position that {stamp.aircraft} has no longer."
    stays = edit.records(Installation, aircraft=stamp.aircraft, position=position, until_on=None)
    now = stays[0].servo if stays else ""
    fitted = edit.record(Servo, now) if now else None
    # A sheet printed before a refit names a servo that had no tag yet.
    bought_since = fitted is not None and edit.record(Servo, tag) is None and fitted.servo_type == kind
    if now == tag or bought_since:
        return None
    return (
        f"was read on servo {tag or 'none'}, but {position} of {stamp.aircraft} holds {now or 'none'}; "
        "allowed is a reading of the servo that is fitted."
    )
