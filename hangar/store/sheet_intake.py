"""Filled sheets as part of a bring-in: each box goes to its record if its place is still the same."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import Text, fixed, listed, text
from hangar.parts import Airframe, Feed, Installation, Pack, Position, Servo, Surface
from hangar.parts.sheet_boxes import (
    BALANCE_MM,
    CHARGING,
    LINE,
    MASS,
    RANGE_M,
    READ_BACK,
    STAMP,
    SUPPLY_READINGS,
    Stamp,
    answers_of,
    full_name,
    is_flight,
    path_of,
    plain_name,
    revision,
    rotor_about,
)
from hangar.store.card_result import result_of
from hangar.store.edit import Edit
from hangar.store.filled_sheet import Answer, FlightHindrances, Outcome, Remark, SheetLimits
from hangar.store.fleet import Fleet
from hangar.store.report import CellNote
from hangar.store.sheet_answers import take_answers
from hangar.store.sheet_pdf import FilledForm, form_of

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
            forms.append((result_of if path.suffix.lower() == ".json" else form_of)(path))
        except BadInput as fault:
            words = fault.text
            intake.refused.append(CellNote(path.name, 0, "", "", words))
        except OSError as fault:
            words = text("cannot be read: {cause}.", cause=fault.strerror or str(fault))
            intake.refused.append(CellNote(path.name, 0, "", "", words))
    return forms


def take_form(
    fleet: Fleet, edit: Edit, form: FilledForm, today: date, intake: SheetIntake,
    hindrances: FlightHindrances | None = None, limits: SheetLimits | None = None,
) -> None:  # fmt: skip
    """Write what one filled PDF says; every sheet in it on its own."""
    for stamp in form.stamps:
        outcome = Outcome()
        try:
            _take_sheet(fleet, edit, form, stamp, today, outcome, intake.revisions, hindrances, limits)
        except (BadInput, StoreFault) as fault:
            outcome.refused.append(Remark(None, fault.text))
        intake.add(form.file, outcome)


def _take_sheet(
    fleet: Fleet, edit: Edit, form: FilledForm, stamp: Stamp, today: date, outcome: Outcome,
    revisions: dict[str, str], hindrances: FlightHindrances | None, limits: SheetLimits | None,
) -> None:  # fmt: skip
    if stamp.sheet not in READ_BACK:
        raise BadInput(
            "is a sheet {sheet}; read back are {names}.",
            sheet=stamp.sheet,
            names=listed(map(fixed, READ_BACK.values()), joint=",", most=0),
        )
    if stamp.sheet != CHARGING and edit.record(Airframe, stamp.aircraft) is None:
        codes = fleet.aircraft_codes()
        raise BadInput(
            "is a {sheet} of {aircraft}, which is not in this fleet; there are: {codes}.",
            sheet=fixed(READ_BACK[stamp.sheet]),
            aircraft=stamp.aircraft,
            codes=listed(codes, joint=",", most=0) if codes else text("none"),
        )
    answers = answers_on(form, stamp)
    filled = [answer for answer in answers if answer.is_filled and answer.what != "Load"]
    if not filled:
        raise BadInput(
            "has no box filled in on the {sheet}; nothing was taken of it.", sheet=_sheet_words(stamp)
        )
    before = len(edit.steps)
    standing = [answer for answer in answers if _stands(edit, stamp, answer, outcome)]
    older = False
    if stamp.revision:
        if stamp.aircraft not in revisions:
            revisions[stamp.aircraft] = revision(fleet.aircraft(stamp.aircraft, today))
        older = stamp.revision != revisions[stamp.aircraft]
    intake = take_answers(
        edit,
        stamp.aircraft,
        stamp.sheet,
        standing,
        today,
        without_date=min(stamp.printed_on, today),
        plan=stamp.plan,
        hindrances=hindrances,
        limits=limits(stamp.aircraft, stamp.sheet) if limits and stamp.aircraft else None,
    )
    outcome.refused += intake.refused
    outcome.doubtful += intake.doubtful
    outcome.stated += intake.stated
    outcome.taken.update(intake.taken)
    if intake.taken and len(edit.steps) == before:
        words = text(
            "All that was taken of the {sheet} stood in the records already.",
            sheet=_sheet_words(stamp),
        )
        outcome.stated.append(Remark(None, words))
    elif older:
        words = text(
            "was printed from revision {revision} of {printed_on}, and the records of {aircraft} have "
            "changed since; what was read at a place that holds the same part was taken.",
            revision=stamp.revision,
            printed_on=stamp.printed_on,
            aircraft=stamp.aircraft,
        )
        outcome.doubtful.append(Remark(None, words))


def _sheet_words(stamp: Stamp) -> Text:
    sheet = fixed(READ_BACK[stamp.sheet])
    return text("{sheet} of {aircraft}", sheet=sheet, aircraft=stamp.aircraft) if stamp.aircraft else sheet


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
    answers = []
    for name, written in form.texts.items():
        if not name.startswith(start) or name.endswith(f" {STAMP}"):
            continue
        if any(name.startswith(other) for other in others):
            continue
        about = next((place for place in places if name.startswith(f"{_head(stamp, place)} ")), "")
        what = name.removeprefix(_head(stamp, about)).strip()
        answers.append(Answer(about, _DATES.get(what, what), written))
    return answers


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


def _moved(edit: Edit, stamp: Stamp, answer: Answer) -> Text | None:
    if (
        answer.about in _NO_PLACE
        or is_flight(answer.about)
        or answer.about.startswith(rotor_about(""))
        or answer.what in ("Passed", *SUPPLY_READINGS, RANGE_M, MASS, BALANCE_MM)
    ):
        return None
    feed = path_of(answer.about)
    if feed is not None:
        known = edit.record(Feed, stamp.aircraft, feed) is not None
        return (
            None
            if known
            else text("is of a power path that {aircraft} has no longer.", aircraft=stamp.aircraft)
        )
    servo = stamp.places.get(answer.about)
    if answer.what in _OF_SURFACE:
        known = edit.record(Surface, stamp.aircraft, answer.about) is not None
        return (
            None if known else text("is of a surface that {aircraft} has no longer.", aircraft=stamp.aircraft)
        )
    if servo is not None:
        return _servo_moved(edit, stamp, answer.about, *servo)
    if answer.about.startswith("channel ") or edit.record(Pack, answer.about) is not None:
        return None
    return text("is of {what}, which is not in this fleet any more.", what=answer.about)


def _servo_moved(edit: Edit, stamp: Stamp, position: str, tag: str, kind: str) -> Text | None:
    if edit.record(Position, stamp.aircraft, position) is None:
        return text("is of a position that {aircraft} has no longer.", aircraft=stamp.aircraft)
    stays = edit.records(Installation, aircraft=stamp.aircraft, position=position, until_on=None)
    now = stays[0].servo if stays else ""
    fitted = edit.record(Servo, now) if now else None
    # A sheet printed before a refit names a servo that had no tag yet.
    bought_since = fitted is not None and edit.record(Servo, tag) is None and fitted.servo_type == kind
    if now == tag or bought_since:
        return None
    return text(
        "was read on servo {servo}, but {position} of {aircraft} holds {fitted}; "
        "allowed is a reading of the servo that is fitted.",
        servo=tag or text("none"),
        position=position,
        aircraft=stamp.aircraft,
        fitted=now or text("none"),
    )
