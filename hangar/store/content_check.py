"""Every stored value against the history: finds the flipped bit that no integrity check of SQLite sees."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any

from sqlmodel import col, select

from hangar.base.errors import StoreFault
from hangar.base.text import Text, text
from hangar.parts import RECORD_KINDS, Attachment, Record
from hangar.parts.papers import PaperPlace
from hangar.store.codec import Key, name_of, shape_of
from hangar.store.faults import links_to
from hangar.store.journal import Step, each_row_of, edits, entries, is_changed_edit, rows_of, step_of
from hangar.store.record_rows import Rows, key_of_values
from hangar.store.tables import JournalChange, JournalEdit, PaperContent

RowsByKey = dict[Key, dict[str, Any]]


def content_faults(stored: Rows, *, alone: bool, most: int = 20) -> tuple[Text, ...]:
    """Where the records differ from what the edits on record made of them, and papers from their sums.

    Every row came in through an edit, and every edit is in the journal; so the standing edits, made
    again on nothing, must give the very same rows.

    Args:
        stored: the fleet, in one transaction.
        alone: whether one seat made all edits: each of them then begins where the one before ended.
        most: at most so many are named.
    Raises: StoreFault when a record cannot be read.
    """
    steps, faults = _steps_on_record(stored)
    if not faults:
        faults = _changed_edits(stored)
    if not faults:
        replay = _Replay(alone)
        # Seats take back and make again each their own: what stands, stands in the order of its turns.
        standing = (step for step in steps if step.state == "done")
        for change in sorted(standing, key=lambda noted_change: noted_change.turn):
            replay.take(change.step, change.number)
        faults = [*replay.faults[:most], *islice(_against(stored, replay.rows), most)]
        for step in steps:
            # What was undone is made again in the same order, beginning where everything stands.
            if step.state == "undone" and alone:
                replay.take(step.step, step.number)
        faults = faults or replay.faults
    return tuple(islice((*faults, *_against_sums(stored)), most))


@dataclass(frozen=True, slots=True)
class _NotedChange:
    """One change on record: its number, what it says, what became of its edit, and at which turn."""

    number: int
    step: Step
    state: str
    turn: int


def _steps_on_record(stored: Rows) -> tuple[list[_NotedChange], list[Text]]:
    """What every change says, undone ones too, in their order; and those that say nothing."""
    statement = entries(JournalEdit.state, JournalEdit.turn).order_by(
        col(JournalChange.edit), col(JournalChange.id)
    )
    steps: list[_NotedChange] = []
    faults: list[Text] = []
    for row in each_row_of(stored, statement):
        try:
            steps.append(_NotedChange(row.id, step_of(row), row.state, row.turn))
        except StoreFault as fault:
            faults.append(fault.text.as_clause())
            continue
        names = shape_of(steps[-1].step.kind).names
        for values in (row.before, row.after):
            faults += [
                text(
                    "change {number} of the history names {name}, which is no field",
                    number=row.id,
                    name=repr(name),
                )
                for name in (() if values is None else json.loads(values))
                if name not in names
            ]
    return steps, faults


def _changed_edits(stored: Rows) -> list[Text]:
    """Edits that say something else than was written, and turns that are no turns."""
    # Every word of them is read: one that is no text is found so.
    every = rows_of(stored, edits())
    faults = [
        text("edit {number} of the history was changed", number=row.id)
        for row in every
        if is_changed_edit(row, row.check_sum)
    ]
    turns = [row.turn for row in every]
    if len(set(turns)) < len(turns) or any(turn < 1 for turn in turns):
        faults.append(text("the edits of the history are numbered twice"))
    return faults


def _against(stored: Rows, journalled: dict[str, RowsByKey]) -> Iterator[Text]:
    for kind in RECORD_KINDS:
        present: RowsByKey = {key_of_values(kind, row): row for row in stored.rows(kind)}
        wanted = journalled.get(kind.KIND, {})
        for key in sorted(present.keys() | wanted.keys(), key=str):
            yield from _differences(kind, key, present.get(key), wanted.get(key))


def _differences(
    kind: type[Record], key: Key, present: dict[str, Any] | None, wanted: dict[str, Any] | None
) -> Iterator[Text]:
    name = name_of(kind, key)
    if wanted is None or present is None:
        yield (
            text("{record} is in the history only", record=name)
            if present is None
            else text("{record} is in the table only", record=name)
        )
        return
    for field, value in present.items():
        if value != wanted[field]:
            yield text(
                "{record}: {field} is {value}, the history says {other}",
                record=name,
                field=field,
                value=repr(value),
                other=repr(wanted[field]),
            )


class _Replay:
    """The standing edits made again on nothing, row by row."""

    def __init__(self, alone: bool) -> None:
        self._alone = alone
        self.rows: dict[str, RowsByKey] = {}
        self.faults: list[Text] = []

    def take(self, step: Step, number: int) -> None:
        """Take one step of the change of that number."""
        rows = self.rows.setdefault(step.kind.KIND, {})
        key = key_of_values(step.kind, step.before or step.after or {})
        if self._alone and rows.get(key) != step.before:
            self.faults.append(
                text(
                    "change {number} of the history does not begin where {record} stood",
                    number=number,
                    record=name_of(step.kind, key),
                )
            )
        if step.before is not None:
            rows.pop(key, None)
        if step.after is not None:
            rows[step.key] = dict(step.after)
        if step.renames:
            _follow(self.rows, step.kind, key, step.key)


def _follow(journalled: dict[str, RowsByKey], kind: type[Record], old: Key, new: Key) -> None:
    """Give the new key to all that name the record, as the database does by itself."""
    for other, fields, _ in links_to(kind):
        rows = journalled.get(other.KIND, {})
        for key, row in list(rows.items()):
            if tuple(row[field] for field in fields) != old:
                continue
            del rows[key]
            row.update(zip(fields, new, strict=True))
            now = key_of_values(other, row)
            rows[now] = row
            if now != key:
                _follow(journalled, other, key, now)


def _against_sums(stored: Rows) -> Iterator[Text]:
    held = set()
    for noted, content in stored.session.exec(select(PaperContent.sha256, PaperContent.content)):
        held.add(noted)
        if hashlib.sha256(content).hexdigest() != noted:
            yield text("the content of the paper with check sum {sum} was changed", sum=noted[:12])
    for paper in stored.records(Attachment, place=PaperPlace.INSIDE):
        if paper.sha256 not in held:
            yield text("the content of paper {name} is missing", name=paper.name)
