"""What may be answered to a question, what each answer makes of the first cells, and the answers with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from statistics import median

from hangar.base.text import NOTHING, Amount, Text, fixed, text
from hangar.store.intake.account import About, Answer, Entry, Question
from hangar.store.intake.columns import DIMENSION, Column
from hangar.store.intake.days import read_day
from hangar.store.intake.figures import figures
from hangar.store.intake.reading import Answers, Reading
from hangar.store.intake.vocabulary import WrittenUnit, squeezed, units_of

_LIKELY_TORQUE_NM = 0.05, 6.0
"""Stall torques that most servos of model aircraft have; common practice, no source."""
_MOST = 5


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer: its words, what it makes of the first cell, and all answers with it."""

    words: Text
    effect: Text
    answers: Answers


def choices(reading: Reading, question: Question, today: date) -> tuple[Choice, ...]:
    """What may be answered to a question, the likeliest first; no day is later than ``today``."""
    given = reading.answers
    if question.about is About.UNIT:
        choices_here = tuple(_units(reading, question))
        if choices_here:
            return choices_here
    if question.about is About.DAY_ORDER:
        return tuple(_orders(reading, question, today))
    answers = question.answers if question.about in _SAID_AS_THEY_ARE else ()
    if question.about is About.CHANNEL:
        answers = (Answer.AS_READ, Answer.LEFT_FIRST)
    return tuple(
        Choice(text("{answer:^}", answer=Answer(answer)), NOTHING, with_said(given, question.key, answer))
        for answer in answers or (Answer.AS_READ,)
    )


_SAID_AS_THEY_ARE = (About.STRUCK, About.GONE, About.NAME, About.CHANGED)


def with_said(answers: Answers, key: str, answer: str) -> Answers:
    """The answers with one more, by the key of its question."""
    return replace(answers, replies={**answers.replies, key: answer})


def with_column(answers: Answers, address: str, role: str, unit: str = "") -> Answers:
    """The answers with the role of a column; "" leaves the column out."""
    words = f"{role} [{unit}]" if unit else role or "unused"
    return replace(answers, columns={**answers.columns, address: words})


def with_class(answers: Answers, plane: str, *words: str) -> Answers:
    """The answers with the class and the drive of an aircraft; what is "" stays as the sheet has it."""
    wording = ", ".join(word for word in words if word)
    return replace(answers, classes={**answers.classes, squeezed(plane): wording})


def units_for(role: str) -> tuple[WrittenUnit, ...]:
    """The units that the cells of a role may be in."""
    dimension = DIMENSION.get(role)
    return tuple(dict.fromkeys(units_of(dimension).values())) if dimension else ()


def columns_with(reading: Reading, entries: Iterable[Entry]) -> list[Column]:
    """The columns that some cells stand in."""
    wanted = {id(entry.cell) for entry in entries}
    return [
        column
        for table in reading.tables
        for column in table.columns.values()
        if any(id(row.cells.get(column.at)) in wanted for row in table.block.rows)
    ]


def _units(reading: Reading, question: Question) -> Iterator[Choice]:
    columns = [column for column in columns_with(reading, question.cells) if column.role in DIMENSION]
    if not columns or len({column.role for column in columns}) > 1:
        return
    role = columns[0].role
    values = [figure.number for entry in question.cells for figure in figures(entry.cell.text)[:1]]
    if not values:
        return
    units = units_for(role)
    if role == "torque":
        units = tuple(sorted(units, key=lambda unit: _unlikely(unit, values)))
        # What no servo has is not offered where two units make sense; the chooser over the column has all.
        likely = tuple(unit for unit in units if _unlikely(unit, values) <= 1.0)
        units = likely if len(likely) > 1 else units
    for unit in units[:_MOST]:
        answers = reading.answers
        for column in columns:
            answers = with_column(answers, column.address, role, unit.symbol)
        effect = NOTHING
        if role == "torque":
            effect = text(
                "{found} is {torque}",
                found=question.cells[0].cell.text, torque=Amount(values[0] * unit.factor, "N m"),
            )  # fmt: skip
        yield Choice(fixed(unit.symbol), effect, answers)


def _unlikely(unit: WrittenUnit, values: list[float]) -> float:
    """How far the middle of some torques lies outside what servos have; 0 inside."""
    low, high = _LIKELY_TORQUE_NM
    middle = median(values) * unit.factor
    return max(low / middle, middle / high, 1.0) if middle > 0 else 1.0


def _orders(reading: Reading, question: Question, today: date) -> Iterator[Choice]:
    first = question.cells[0].cell
    for order, words in (("dmy", text("The day first")), ("mdy", text("The month first"))):
        day = read_day(first.text, first.value, today, order).day
        effect = text("{found} is {day}", found=first.text, day=day) if day else NOTHING
        yield Choice(words, effect, replace(reading.answers, order=order))
