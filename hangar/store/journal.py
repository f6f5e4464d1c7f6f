"""What every edit changed, both ways, kept in the file: undo, redo and the history of a part."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby
from typing import Any

from sqlalchemy import (
    ColumnElement,
    ScalarSelect,
    Select,
    func,
    insert,
    select,
    update,
)

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import Text
from hangar.parts import KIND_BY_NAME, Airframe, Record
from hangar.store.codec import Key, from_text, name_of, to_text
from hangar.store.labels import read_label
from hangar.store.record_rows import Rows, key_of_values
from hangar.store.tables import CHANGES, EDITS

Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Seat:
    """Who makes the edits; ``alone`` when nobody else writes to this fleet between them."""

    name: str | None = None
    alone: bool = True

    def own(self) -> tuple[ColumnElement[bool], ...]:
        """The condition that an edit is this seat's to undo."""
        return () if self.alone else (EDITS.c.seat == self.name,)


@dataclass(frozen=True, slots=True)
class Step:
    """One row as it stood before and after; None where it was not there."""

    kind: type[Record]
    before: Values | None
    after: Values | None

    @property
    def reverse(self) -> Step:
        """The step that takes this one back."""
        return Step(self.kind, self.after, self.before)

    @property
    def key(self) -> Key:
        """Key of the row after the step, or before it when it was taken away."""
        return key_of_values(self.kind, self.after or self.before or {})

    @property
    def renames(self) -> bool:
        """Whether the row has another key after the step."""
        if self.before is None or self.after is None:
            return False
        return key_of_values(self.kind, self.before) != key_of_values(self.kind, self.after)

    @property
    def aircraft_field(self) -> str:
        """The field that holds the code of the aircraft, where the kind has one."""
        return "code" if self.kind is Airframe else "aircraft"

    def aircraft(self) -> set[str]:
        """Codes of the aircraft the row belongs to, before and after."""
        rows = (self.before, self.after)
        return {str(row[self.aircraft_field]) for row in rows if row and row.get(self.aircraft_field)}


@dataclass(frozen=True, slots=True)
class Change:
    """One record changed by one edit, as the history shows it."""

    when: datetime
    label: Text | str
    kind: str
    key: Key
    before: Values | None
    after: Values | None
    undone: bool
    seat: str | None = None


def key_text(key: Sequence[Any]) -> str:
    """A key as the journal keeps it."""
    return json.dumps([part.isoformat() if isinstance(part, date) else part for part in key])


def write(stored: Rows, label: str, steps: Sequence[Step], now: datetime, seat: Seat) -> None:
    """Enter an edit; what the seat undid before it can no longer be redone."""
    dropped = update(EDITS).where(EDITS.c.state == "undone", *seat.own()).values(state="dropped")
    stored.link.execute(dropped)
    entered = stored.link.execute(
        insert(EDITS).values(made_at=now, label=label, state="done", seat=seat.name, turn=_next_turn())
    )
    number = entered.inserted_primary_key[0] if entered.inserted_primary_key else None
    rows = [
        {
            "edit": number,
            "kind": step.kind.KIND,
            "key": key_text(step.key),
            "aircraft": (step.after or step.before or {}).get(step.aircraft_field),
            "before": None if step.before is None else to_text(step.before),
            "after": None if step.after is None else to_text(step.after),
        }
        for step in steps
    ]
    stored.link.execute(insert(CHANGES), rows)


def _next_turn() -> ScalarSelect[Any]:
    others = EDITS.alias("others")
    return select(func.coalesce(func.max(others.c.turn), 0) + 1).scalar_subquery()


@dataclass(frozen=True, slots=True)
class Mark:
    """By what the last turn is found again: the edit made, undone or made again, and its turn."""

    edit: int
    made_at: datetime
    label: str
    seat: str | None
    turn: int


def latest_mark(stored: Rows) -> Mark | None:
    """The mark of the last turn, asked within its own transaction."""
    statement = select(EDITS.c.id, EDITS.c.made_at, EDITS.c.label, EDITS.c.seat, EDITS.c.turn)
    rows = rows_of(stored, statement.order_by(EDITS.c.turn.desc()).limit(1))
    return Mark(*rows[0]) if rows else None


def stands(stored: Rows, mark: Mark) -> bool:
    """Whether that turn is in the journal: its edit is there and was not last touched before it.

    A server may give the number of an edit that was lost to the next one, so all of the mark counts.
    """
    statement = select(EDITS.c.id).where(
        EDITS.c.id == mark.edit,
        EDITS.c.made_at == mark.made_at,
        EDITS.c.label == mark.label,
        EDITS.c.seat == mark.seat,
        EDITS.c.turn >= mark.turn,
    )
    return stored.link.execute(statement).first() is not None


def next_undo(stored: Rows, seat: Seat) -> tuple[int, str] | None:
    """Number and label of the edit that undo would take back."""
    statement = select(EDITS.c.id, EDITS.c.label).where(EDITS.c.state == "done", *seat.own())
    found = stored.link.execute(statement.order_by(EDITS.c.id.desc()).limit(1)).first()
    return (found[0], found[1]) if found else None


def next_redo(stored: Rows, seat: Seat) -> tuple[int, str] | None:
    """Number and label of the edit that redo would make again."""
    statement = select(EDITS.c.id, EDITS.c.label).where(EDITS.c.state == "undone", *seat.own())
    found = stored.link.execute(statement.order_by(EDITS.c.id).limit(1)).first()
    return (found[0], found[1]) if found else None


def steps_of(stored: Rows, edit: int) -> list[Step]:
    """The steps of an edit in the order they were made."""
    statement = select(CHANGES).where(CHANGES.c.edit == edit).order_by(CHANGES.c.id)
    return [step_of(row) for row in rows_of(stored, statement)]


def step_of(row: Any) -> Step:
    """The step that a row of the journal tells.

    Raises: StoreFault when it tells of none.
    """
    try:
        kind = KIND_BY_NAME[row.kind]
        before, after = (None if text is None else from_text(kind, text) for text in (row.before, row.after))
        step = Step(kind, before, after)
        if row.key != key_text(step.key):
            raise ValueError("the key is another")
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as fault:
        raise StoreFault(
            "The file is damaged: change {number} of the history cannot be read.", number=str(row.id)
        ) from fault
    return step


def rows_of(stored: Rows, statement: Select[Any]) -> list[Any]:
    """The rows of the journal that a question gives.

    Raises: StoreFault when one holds a value that cannot be read.
    """
    try:
        return list(stored.link.execute(statement).all())
    except (ValueError, TypeError) as fault:
        raise StoreFault("The file is damaged: an edit of the history cannot be read.") from fault


def take_back(stored: Rows, edit: int) -> list[Step]:
    """Undo an edit; returns the steps taken."""
    steps = [step.reverse for step in reversed(steps_of(stored, edit))]
    apply(stored, steps)
    stored.link.execute(update(EDITS).where(EDITS.c.id == edit).values(state="undone", turn=_next_turn()))
    return steps


def make_again(stored: Rows, edit: int) -> list[Step]:
    """Redo an edit; returns the steps taken."""
    steps = steps_of(stored, edit)
    apply(stored, steps)
    stored.link.execute(update(EDITS).where(EDITS.c.id == edit).values(state="done", turn=_next_turn()))
    return steps


def apply(stored: Rows, steps: Iterable[Step]) -> None:
    """Take steps on the rows; whole runs of new or removed rows of one kind go at once.

    Raises: BadInput when a row no longer stands as the step left it.
    """
    for (kind, is_new, is_gone), run in groupby(steps, key=_manner):
        same = list(run)
        if is_new:
            stored.insert(kind, [step.after for step in same if step.after is not None])
            continue
        for step in same:
            _expect(stored, step)
            if step.after is not None and step.before is not None:
                stored.update(kind, key_of_values(kind, step.before), step.after)
                _follow_rename(stored, step)
        if is_gone:
            stored.delete(kind, [step.key for step in same])


def _manner(step: Step) -> tuple[type[Record], bool, bool]:
    return step.kind, step.before is None, step.after is None


def _expect(stored: Rows, step: Step) -> None:
    if step.before is None:
        return
    key = key_of_values(step.kind, step.before)
    if stored.row(step.kind, key) != step.before:
        raise BadInput(
            "{record} was changed elsewhere since; this step cannot be taken.", record=name_of(step.kind, key)
        )


def _follow_rename(stored: Rows, step: Step) -> None:
    if step.before and step.after:
        follow_rename(
            stored, step.kind, key_of_values(step.kind, step.before), key_of_values(step.kind, step.after)
        )


def follow_rename(stored: Rows, kind: type[Record], old: Key, new: Key) -> None:
    """Keep the history of a renamed aircraft under its new code."""
    if kind is Airframe and old != new:
        moved = update(CHANGES).where(CHANGES.c.aircraft == old[0]).values(aircraft=new[0])
        stored.link.execute(moved)


def history(
    stored: Rows,
    kind: type[Record] | None = None,
    key: Sequence[Any] | None = None,
    aircraft: str | None = None,
) -> Iterator[Change]:
    """The changes on record, newest first, of one kind, one record or one aircraft."""
    statement = select(EDITS.c.made_at, EDITS.c.label, EDITS.c.state, EDITS.c.seat, CHANGES).join(
        EDITS, EDITS.c.id == CHANGES.c.edit
    )
    if kind is not None:
        statement = statement.where(CHANGES.c.kind == kind.KIND)
    if aircraft is not None:
        statement = statement.where(CHANGES.c.aircraft == aircraft)
    wanted = None if key is None else key_text(key)
    for row in stored.link.execute(statement.order_by(CHANGES.c.edit.desc(), CHANGES.c.id.desc())).all():
        step = step_of(row)
        if wanted is not None:
            if row.key != wanted:
                continue
            if step.before is not None:
                # Follow a renamed record back to what it was called before.
                wanted = key_text(key_of_values(step.kind, step.before))
        undone = row.state != "done"
        label = read_label(row.label)
        yield Change(row.made_at, label, row.kind, step.key, step.before, step.after, undone, row.seat)
