"""What every edit changed, both ways, kept in the file: undo, redo and the history of a part."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby
from typing import Any

from sqlalchemy import ColumnElement, and_, func, insert, or_
from sqlmodel import col, select
from sqlmodel.sql.expression import Select

from hangar.base.errors import BadInput, StoreFault
from hangar.base.kept_text import read_kept
from hangar.base.text import Text
from hangar.parts import KIND_BY_NAME, Airframe, Record
from hangar.store.check_sums import sum_of_change, sum_of_edit
from hangar.store.codec import Key, from_text, name_of, to_text
from hangar.store.record_rows import Rows, key_of_values, select_columns
from hangar.store.tables import JournalChange, JournalEdit

Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Seat:
    """Who makes the edits; ``alone`` when nobody else writes to this fleet between them."""

    name: str | None = None
    alone: bool = True

    def own(self) -> tuple[ColumnElement[bool], ...]:
        """The condition that an edit is this seat's to undo."""
        return () if self.alone else (col(JournalEdit.seat) == self.name,)


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
    undone = select(JournalEdit).where(*_is_undone(stored, seat))
    for edit in stored.session.exec(undone).all():
        _stand(edit, "dropped", edit.turn)
    entered = JournalEdit(made_at=now, label=label, state="done", seat=seat.name, turn=0)
    _stand(entered, "done", _next_turn(stored))
    stored.session.add(entered)
    stored.write()
    rows: list[Values] = [
        {
            "edit": entered.id,
            "kind": step.kind.KIND,
            "key": key_text(step.key),
            "aircraft": (step.after or step.before or {}).get(step.aircraft_field),
            "before": None if step.before is None else to_text(step.before),
            "after": None if step.after is None else to_text(step.after),
        }
        for step in steps
    ]
    summed = [{**row, "check_sum": sum_of_change(**row)} for row in rows]
    stored.session.exec(insert(JournalChange), params=summed)


def _stand(edit: JournalEdit, state: str, turn: int) -> None:
    """Note how an edit stands now."""
    edit.state, edit.turn = state, turn
    edit.check_sum = sum_of_edit(edit.made_at, edit.label, state, edit.seat, turn)


def latest_turn(stored: Rows) -> int:
    """Number of the last turn: the last edit, undo or redo of anybody."""
    return stored.session.exec(select(func.coalesce(func.max(JournalEdit.turn), 0))).one()


def _next_turn(stored: Rows) -> int:
    """The number of the turn that is being taken: nobody else writes meanwhile."""
    return latest_turn(stored) + 1


def edits() -> Select[Any]:
    """Every column of the edits."""
    return select_columns(*(getattr(JournalEdit, name) for name in JournalEdit.model_fields))


def entries(*of_edit: Any) -> Select[Any]:
    """Every column of the changes, after these of the edit that each belongs to."""
    changes = (getattr(JournalChange, name) for name in JournalChange.model_fields)
    return select_columns(*of_edit, *changes).join(JournalEdit, col(JournalEdit.id) == JournalChange.edit)


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
    statement = select_columns(
        JournalEdit.id, JournalEdit.made_at, JournalEdit.label, JournalEdit.seat, JournalEdit.turn
    )
    rows = rows_of(stored, statement.order_by(col(JournalEdit.turn).desc()).limit(1))
    return Mark(*rows[0]) if rows else None


def stands(stored: Rows, mark: Mark) -> bool:
    """Whether that turn is in the journal: its edit is there and was not last touched before it.

    A server may give the number of an edit that was lost to the next one, so all of the mark counts.
    """
    statement = select(JournalEdit.id).where(
        JournalEdit.id == mark.edit,
        JournalEdit.made_at == mark.made_at,
        JournalEdit.label == mark.label,
        JournalEdit.seat == mark.seat,
        JournalEdit.turn >= mark.turn,
    )
    return stored.session.exec(statement).first() is not None


def next_undo(stored: Rows, seat: Seat) -> tuple[int, str] | None:
    """Number and label of the edit that undo would take back."""
    done = _numbered().where(col(JournalEdit.state) == "done", *seat.own())
    return _first(stored, done.order_by(col(JournalEdit.id).desc()))


def next_redo(stored: Rows, seat: Seat) -> tuple[int, str] | None:
    """Number and label of the edit that redo would make again."""
    return _first(stored, _numbered().where(*_is_undone(stored, seat)).order_by(col(JournalEdit.id)))


def _is_undone(stored: Rows, seat: Seat) -> tuple[Any, ...]:
    """Where the undone edits are: undo takes the newest first, so they are newer than what is done.

    Said so, only they are looked through, however long the history is.
    """
    last = next_undo(stored, seat)
    return (
        col(JournalEdit.id) > (last[0] if last else 0), col(JournalEdit.state) == "undone", *seat.own(),
    )  # fmt: skip


def _numbered() -> Select[Any]:
    return select_columns(JournalEdit.id, JournalEdit.label)


def _first(stored: Rows, statement: Select[Any]) -> tuple[int, str] | None:
    rows = rows_of(stored, statement.limit(1))
    return (rows[0].id, rows[0].label) if rows else None


def steps_of(stored: Rows, edit: int) -> list[Step]:
    """The steps of an edit in the order they were made."""
    statement = entries().where(col(JournalChange.edit) == edit).order_by(col(JournalChange.id))
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
    if row.check_sum != sum_of_change(row.edit, row.kind, row.key, row.aircraft, row.before, row.after):
        raise StoreFault(
            "The file is damaged: change {number} of the history was changed.", number=str(row.id)
        )
    return step


def is_changed_edit(row: Any, check_sum: str | None) -> bool:
    """Whether a row with the columns of an edit says something else than was written."""
    return check_sum != sum_of_edit(row.made_at, row.label, row.state, row.seat, row.turn)


def rows_of(stored: Rows, statement: Select[Any]) -> list[Any]:
    """The rows of the journal that a question gives.

    Raises: StoreFault when one holds a value that cannot be read.
    """
    return list(each_row_of(stored, statement))


def each_row_of(stored: Rows, statement: Select[Any]) -> Iterator[Any]:
    """The rows one after the other: all of a long history are too much to hold beside what is made of them.

    Raises: StoreFault when one holds a value that cannot be read.
    """
    try:
        # Not through the session, which takes all rows before it gives the first.
        yield from stored.session.connection().execute(statement)
    except (ValueError, TypeError) as fault:
        raise StoreFault("The file is damaged: an edit of the history cannot be read.") from fault


def take_back(stored: Rows, edit: int) -> list[Step]:
    """Undo an edit; returns the steps taken."""
    steps = [step.reverse for step in reversed(steps_of(stored, edit))]
    apply(stored, steps)
    _turn(stored, edit, "undone")
    return steps


def make_again(stored: Rows, edit: int) -> list[Step]:
    """Redo an edit; returns the steps taken."""
    steps = steps_of(stored, edit)
    apply(stored, steps)
    _turn(stored, edit, "done")
    return steps


def _turn(stored: Rows, edit: int, state: str) -> None:
    """Note that an edit was undone or made again."""
    _stand(stored.session.get_one(JournalEdit, edit), state, _next_turn(stored))
    stored.write()


def apply(stored: Rows, steps: Iterable[Step]) -> None:
    """Take steps on the rows; whole runs of new or removed rows of one kind go at once.

    Raises: BadInput when a row no longer stands as the step left it.
    """
    for (kind, is_new, is_gone), run in groupby(steps, key=_manner):
        same = list(run)
        if is_new:
            stored.insert(kind, [step.after for step in same if step.after is not None])
            continue
        if is_gone:
            stand = stored.rows_of(kind, [step.key for step in same])
            for step in same:
                _expect(step, stand.get(step.key))
            stored.delete(kind, [step.key for step in same])
            continue
        for step in same:
            if step.after is not None and step.before is not None:
                key = key_of_values(kind, step.before)
                _expect(step, stored.row(kind, key))
                stored.update(kind, key, step.after)
                follow_rename(stored, kind, key, step.key)


def _manner(step: Step) -> tuple[type[Record], bool, bool]:
    return step.kind, step.before is None, step.after is None


def _expect(step: Step, stands: Values | None) -> None:
    if stands != step.before:
        raise BadInput(
            "{record} was changed elsewhere since; this step cannot be taken.",
            record=name_of(step.kind, key_of_values(step.kind, step.before or {})),
        )


def follow_rename(stored: Rows, kind: type[Record], old: Key, new: Key) -> None:
    """Keep the history of a renamed aircraft under its new code."""
    if kind is Airframe and old != new:
        for change in stored.session.exec(
            select(JournalChange).where(JournalChange.aircraft == old[0])
        ).all():
            change.aircraft = new[0]
            parts = change.edit, change.kind, change.key, change.aircraft, change.before, change.after
            change.check_sum = sum_of_change(*parts)
        stored.write()


def history(
    stored: Rows,
    kind: type[Record] | None = None,
    key: Sequence[Any] | None = None,
    aircraft: str | None = None,
    most: int | None = None,
) -> Iterator[Change]:
    """The changes on record, newest first, of one kind, one record or one aircraft; at most so many."""
    statement = entries(
        *(JournalEdit.made_at, JournalEdit.label, JournalEdit.state, JournalEdit.seat, JournalEdit.turn),
        col(JournalEdit.check_sum).label("edit_sum"),
    )
    if kind is not None:
        statement = statement.where(col(JournalChange.kind) == kind.KIND)
    if aircraft is not None:
        statement = statement.where(col(JournalChange.aircraft) == aircraft)
    statement = statement.order_by(col(JournalChange.edit).desc(), col(JournalChange.id).desc())
    if key is not None:
        yield from _of_record(stored, statement, key_text(key))
        return
    for row in each_row_of(stored, statement if most is None else statement.limit(most)):
        yield _change_of(row, step_of(row))


def _of_record(stored: Rows, statement: Select[Any], key: str) -> Iterator[Change]:
    """The changes among these of the record with that key, followed back to what it was called before.

    Only they are looked through, by their key, however many others there are.
    """
    wanted: str | None = key
    while wanted is not None:
        rows = rows_of(stored, statement.where(JournalChange.key == wanted))
        wanted = None
        for row in rows:
            step = step_of(row)
            yield _change_of(row, step)
            if step.before is not None and step.renames:
                wanted = key_text(key_of_values(step.kind, step.before))
                statement = statement.where(_is_older(row))
                break


def _is_older(row: Any) -> ColumnElement[bool]:
    """The condition that a change was made before that of a row."""
    edit, number = col(JournalChange.edit), col(JournalChange.id)
    return or_(edit < row.edit, and_(edit == row.edit, number < row.id))


def _change_of(row: Any, step: Step) -> Change:
    """A change of the history, of its step and of a row with its edit.

    Raises: StoreFault when the edit says something else than was written.
    """
    if is_changed_edit(row, row.edit_sum):
        raise StoreFault(
            "The file is damaged: edit {number} of the history was changed.", number=str(row.edit)
        )
    label, undone = read_kept(row.label), row.state != "done"
    return Change(row.made_at, label, row.kind, step.key, step.before, step.after, undone, row.seat)
