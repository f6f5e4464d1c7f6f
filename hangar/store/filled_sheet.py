"""The readings of one filled sheet, gathered by record and written once each."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from typing import Any, Protocol

from hangar.base.errors import BadInput, words_of
from hangar.base.text import Text, fixed, text
from hangar.base.units import UnitChoice, convert, parse_quantity, unit_named
from hangar.parts import (
    Airframe,
    BenchCheck,
    Pack,
    PackType,
    PathCheck,
    RangeCheck,
    Record,
    Setting,
    Snag,
    SupplyCheck,
)
from hangar.parts.fields import columns, key_of, spec_of
from hangar.parts.holding import recorded_hindrances
from hangar.parts.sheet_boxes import LINE
from hangar.store.cells import read_moment
from hangar.store.codec import is_unprintable
from hangar.store.edit import Edit
from hangar.store.limits import ANSWER_MOST, NUMBER_TEXT_MOST

_DOTTED_DAY = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})(?:\s+(\d{1,2}:\d\d))?")


@dataclass(frozen=True, slots=True)
class Answer:
    """What stands in one box: of what (``about``) and which reading (``what``); a tick counts as text.

    An empty text is a box that was left blank.
    """

    about: str
    what: str
    text: str

    @property
    def box(self) -> str:
        """What the box is known by."""
        return f"{self.about} {self.what}".strip()

    @property
    def name(self) -> Text:
        """What the box is called in a sentence."""
        if self.about in ("", LINE):
            return fixed(self.what)
        return (
            text("{about} {what}", about=self.about, what=fixed(self.what))
            if self.what
            else text("{about}", about=self.about)
        )

    @property
    def is_filled(self) -> bool:
        """Whether anything stands in it."""
        return bool(self.text.strip())


class Limits(Protocol):
    """Within which a reading should lie, as it was printed beside its box."""

    def verdict(self, typed: str) -> bool | None:
        """Whether what was typed lies within; None where it cannot be read as such a quantity."""

    @property
    def text(self) -> Text:
        """What is allowed, in words."""


LimitsOf = Callable[[str, str], Limits | None]
"""The limits of one box of a sheet, given by what it is about and which reading it is."""
SheetLimits = Callable[[str, str], LimitsOf]
"""The same for a sheet, given by its aircraft and its kind."""

FlightHindrances = Callable[[str, date], tuple[Text, ...]]
"""Why an aircraft, given by its code, must not have flown on a day."""


@dataclass(frozen=True, slots=True)
class Remark:
    """A sentence on one answer; None is the sheet itself."""

    answer: Answer | None
    reason: Text


@dataclass
class Outcome:
    """What was refused, doubted and said of a sheet, and how many records were written by kind."""

    refused: list[Remark] = field(default_factory=list)
    doubtful: list[Remark] = field(default_factory=list)
    stated: list[Remark] = field(default_factory=list)
    taken: dict[str, int] = field(default_factory=dict)


class FilledSheet:
    """Gathers what the boxes of one sheet say; :meth:`write` makes it records."""

    def __init__(
        self, edit: Edit, aircraft: str, sheet: str, today: date, answers: list[Answer], plan: str | None,
        hindrances: FlightHindrances | None = None,
    ) -> None:  # fmt: skip
        self.hindrances = hindrances or self._on_record
        self.edit, self.aircraft, self.sheet, self.today, self.plan = edit, aircraft, sheet, today, plan
        self.answers = [answer for answer in answers if answer.is_filled]
        self.blank = [answer for answer in answers if not answer.is_filled]
        self.outcome = Outcome()
        self.units = UnitChoice.from_settings(
            {setting.name: setting.value for setting in edit.records(Setting)}
        )
        self.moment = datetime.combine(today, time())
        self.by: str | None = None
        self.is_contradicted = False
        """Whether a tick was no proof, so that the sheet as a whole is not passed."""
        self.range: dict[str, Any] = {}
        self.tests: dict[str, dict[str, tuple[float, Answer]]] = {}
        self.charges: dict[str, dict[str, Any]] = {}
        self.checks: dict[str, dict[str, Any]] = {}
        self._readings: dict[tuple[type[SupplyCheck | PathCheck], tuple[Any, ...]], dict[str, Any]] = {}
        self.notes: list[Text] = []
        self._changes: list[tuple[Answer, type[Record], tuple[Any, ...], dict[str, Any]]] = []
        self._written: set[tuple[type[Record], tuple[Any, ...]]] = set()

    def _on_record(self, aircraft: str, day: date) -> tuple[Text, ...]:
        """What the records alone say against flying it; a snag raised after that day was none then."""
        frame = self.edit.record(Airframe, aircraft)
        snags = [snag for snag in self.edit.records(Snag, aircraft=aircraft) if snag.raised_on <= day]
        return recorded_hindrances(frame, snags) if frame is not None else ()

    @property
    def day(self) -> date:
        """The day on which the sheet was filled."""
        return self.moment.date()

    def refuse(self, answer: Answer, reason: Text) -> None:
        """Leave an answer out and say why."""
        self.outcome.refused.append(Remark(answer, reason))

    def void(self, answer: Answer, reason: Text) -> None:
        """Refuse an answer and take its box for blank, so that what counts the ticks does not count it."""
        self.refuse(answer, reason)
        self.answers.remove(answer)
        self.blank.append(replace(answer, text=""))

    def doubt(self, answer: Answer | None, reason: Text) -> None:
        """Take an answer, but say that it should be looked at."""
        self.outcome.doubtful.append(Remark(answer, reason))

    def state(self, answer: Answer | None, reason: Text) -> None:
        """Say how something was read."""
        self.outcome.stated.append(Remark(answer, reason))

    def other(self, answer: Answer, what: str) -> Answer | None:
        """The filled box of another reading of the same thing."""
        return next(
            (
                other_answer
                for other_answer in self.answers
                if other_answer.about == answer.about and other_answer.what == what
            ),
            None,
        )

    def find_moment(self, what: str, without: date) -> bool:
        """Read when the sheet was filled; without a sound date nothing of it can be dated."""
        dated = next((answer for answer in self.answers if not answer.about and answer.what == what), None)
        if dated is None:
            self.moment = datetime.combine(without, time())
            self.state(None, text("bears no date; {without} was taken.", without=without))
            return True
        self.answers.remove(dated)
        try:
            self.moment = moment_of(dated.text, self.today)
        except BadInput as fault:
            self.refuse(
                dated, text("cannot be read: {fault} Nothing of this sheet was taken.", fault=words_of(fault))
            )
            return False
        if self.day > self.today:
            self.refuse(
                dated, text("lies after today, {today}. Nothing of this sheet was taken.", today=self.today)
            )
            return False
        return True

    def drop_unfit(self) -> None:
        """Refuse what is too long or cannot be stored, so that it takes no other reading with it."""
        for answer in list(self.answers):
            if len(answer.text) > ANSWER_MOST:
                self.refuse(
                    answer,
                    text(
                        "is {count} characters long; allowed are {most}.",
                        count=len(answer.text),
                        most=ANSWER_MOST,
                    ),
                )
            elif is_unprintable(answer.text):
                self.refuse(answer, text("holds a character that cannot be stored; write it anew."))
            else:
                continue
            self.answers.remove(answer)

    def number(
        self, answer: Answer, kind: type[Record], name: str, text: str | None = None, *, bare: str = ""
    ) -> float | None:
        """The reading in the unit of its field, or None after saying why it is refused.

        ``bare`` is the unit of a number without one; the keeper's own where it is empty.
        """
        value = self.measure(answer, str(spec_of(kind, name).unit), text, bare=bare)
        return None if value is None else self.checked(answer, kind, name, value)

    def measure(
        self, answer: Answer, stored_unit: str, part: str | None = None, *, bare: str = ""
    ) -> float | None:
        """The reading in that unit, or None after saying why it is refused."""
        stored = unit_named(stored_unit)
        words = part or answer.text
        if len(words) > NUMBER_TEXT_MOST:
            self.refuse(
                answer,
                text(
                    "is {count} characters long; allowed are {most}.",
                    count=len(words),
                    most=NUMBER_TEXT_MOST,
                ),
            )
            return None
        try:
            read = parse_quantity(words, stored.kind, bare or self.units.unit_for(stored.key))
        except BadInput as fault:
            self.refuse(answer, text("cannot be read: {fault}", fault=words_of(fault)))
            return None
        for doubt in read.doubts:
            self.doubt(answer, doubt)
        return convert(read.value, read.unit, stored.key)

    def checked(self, answer: Answer, kind: type[Record], name: str, value: Any) -> Any:
        """The value if its field may hold it, or None after saying what is allowed."""
        spec = next(column for column in columns(kind) if column.name == name)
        try:
            return spec.check(value)
        except BadInput as fault:
            self.refuse(answer, text("cannot be kept: {fault}", fault=words_of(fault)))
            return None

    def is_news(self, answer: Answer, known_on: date | None) -> bool:
        """Whether nothing newer stands in the records already."""
        if known_on is None or known_on <= self.day:
            return True
        self.state(
            answer,
            text(
                "is of {day}; the records have a newer one of {known_on}, which stays.",
                day=self.day,
                known_on=known_on,
            ),
        )
        return False

    def check(self, position: str, **values: Any) -> None:
        """Add readings to the bench check of a position."""
        self.checks.setdefault(position, {}).update(values)

    def gather(self, kind: type[SupplyCheck | PathCheck], key: tuple[Any, ...], **values: Any) -> None:
        """Add readings to a record of this moment, which is made with the first of them."""
        self._readings.setdefault((kind, key), {}).update(values)

    def change(self, answer: Answer, kind: type[Record], key: tuple[Any, ...], **values: Any) -> None:
        """Change fields of a record there is, once all boxes are read."""
        self._changes.append((answer, kind, key, values))

    def note(self, words: Text) -> None:
        """Keep what has no field of its own in words."""
        self.notes.append(words)

    def put(self, record: Record, answer: Answer | None = None) -> None:
        """Write a record at once; one that cannot be is refused and leaves the others standing."""
        try:
            self.edit.put(record)
        except BadInput as fault:
            self.outcome.refused.append(
                Remark(answer, text("cannot be kept: {fault}", fault=words_of(fault)))
            )
        else:
            self._count(type(record), key_of(record))

    def _count(self, kind: type[Record], key: tuple[Any, ...]) -> None:
        if (kind, key) not in self._written:
            self._written.add((kind, key))
            self.outcome.taken[kind.KIND] = self.outcome.taken.get(kind.KIND, 0) + 1

    def write(self) -> None:
        """Write what was gathered; a check of the same moment is added to, not replaced."""
        for position, values in self.checks.items():
            before = self.edit.record(BenchCheck, self.aircraft, position, self.moment)
            fresh = BenchCheck(aircraft=self.aircraft, position=position, checked_at=self.moment)
            by = {"by": self.by} if self.by else {}
            self.put(replace(before or fresh, **{**values, **by}))
        for (made, place), values in self._readings.items():
            record = self.edit.record(made, *place) or made(**dict(zip(made.KEY, place, strict=True)))
            by = {"by": self.by} if self.by else {}
            self.put(replace(record, **{**values, **by}))
        for answer, kind, key, values in self._changes:
            try:
                self.edit.change(kind, key, **values)
            except BadInput as fault:
                self.refuse(answer, text("cannot be kept: {fault}", fault=words_of(fault)))
            else:
                self._count(kind, key)

    def put_range_check(self, answer: Answer) -> None:
        """A range check that was passed on this day."""
        known = self.edit.record(RangeCheck, self.aircraft, self.day)
        if known is not None and not known.passed:
            self.refuse(
                answer, text("cannot be kept: the records say that the check of {day} failed.", day=self.day)
            )
            return
        frame = self.edit.record(Airframe, self.aircraft)
        fresh = RangeCheck(aircraft=self.aircraft, checked_on=self.day, site=frame.site if frame else None)
        self.put(replace(known or fresh, **self.range), answer)

    def put_over(self, record: Record, answer: Answer, words: Text) -> None:
        """Write a record of this moment, saying so where it takes the place of another reading."""
        before = self.edit.record(type(record), *key_of(record))
        if before is not None and before != record:
            self.doubt(
                answer,
                text(
                    "takes the place of another {words} of {moment}.",
                    words=words,
                    moment=f"{self.moment:%Y-%m-%d %H:%M}",
                ),
            )
        self.put(record, answer)


def one_line(words: str) -> str:
    """What a keeper wrote into a box, without its line breaks."""
    return " ".join(words.split())


def moment_of(written: str, today: date) -> datetime:
    """A day with or without a time, as people write it: 2031-05-20, 20.5.2031, 2031-05-20 14:30, D-1.

    Raises: BadInput when it can be read two ways or none.
    """
    plain = " ".join(written.replace(",", " ").split())[:NUMBER_TEXT_MOST]
    dotted = _DOTTED_DAY.fullmatch(plain)
    if dotted:
        day, month, year, clock = dotted.groups()
        plain = f"{year}-{int(month):02}-{int(day):02}" + (f" {clock:0>5}" if clock else "")
    return read_moment(plain, plain, today, text("date"))


def pack_with_type(edit: Edit, tag: str) -> tuple[Pack | None, PackType | None]:
    """A pack and its type, as far as they are there."""
    pack = edit.record(Pack, tag)
    return pack, edit.record(PackType, pack.pack_type) if pack else None
