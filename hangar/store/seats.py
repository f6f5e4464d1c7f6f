"""Several seats at one fleet: who sits here, and what somebody else changed meanwhile."""

from __future__ import annotations

import getpass
import socket
from collections.abc import Iterable
from typing import Any

from sqlmodel import col

from hangar.base.errors import StoreFault
from hangar.base.kept_text import read_kept
from hangar.store.codec import Key, name_of
from hangar.store.journal import Step, entries, key_text, latest_turn, rows_of, step_of
from hangar.store.record_rows import Rows, key_of_values
from hangar.store.tables import JournalChange, JournalEdit


class Conflict(StoreFault):
    """Somebody else changed the same record since this seat last looked; nothing was saved."""


def own_seat() -> str:
    """This keeper at this machine, in words."""
    try:
        who = getpass.getuser()
    except (KeyError, OSError, ImportError):
        who = "somebody"
    return f"{who} on {socket.gethostname()}"


class Watch:
    """Knows up to which turn of the journal a seat has seen, and which turns were its own."""

    def __init__(self, stored: Rows) -> None:
        self._stored = stored
        self._seen = self._warned = self.latest()
        self._own: set[int] = set()

    def latest(self) -> int:
        """Number of the last turn: the last edit, undo or redo of anybody."""
        return latest_turn(self._stored)

    def note_own(self, turn: int) -> None:
        """A turn of this seat was committed."""
        self._own.add(turn)

    def elsewhere(self) -> list[Step]:
        """The steps that others took since this seat last looked; from here on it has seen them."""
        latest = self.latest()
        rows = self._foreign_rows(self._seen)
        self._seen = self._warned = latest
        self._own = set()
        return [step_of(row) for row in rows]

    def refuse_clash(self, steps: Iterable[Step]) -> None:
        """Raise Conflict when a step changes a record that somebody else has changed unseen.

        Told once: the keeper who saves again after that knows what he overwrites.
        :meth:`elsewhere` still tells of it, so that what the keeper sees is read again.
        """
        foreign = {(row.kind, row.key): row for row in self._foreign_rows(self._warned)}
        if not foreign:
            return
        for step in steps:
            for key in _keys(step):
                row = foreign.get((step.kind.KIND, key_text(key)))
                if row is not None:
                    self._warned = self.latest()
                    raise Conflict(_words(step, key, row))

    def _foreign_rows(self, after: int) -> list[Any]:
        statement = (
            entries(JournalEdit.label, JournalEdit.state, JournalEdit.seat)
            .where(col(JournalEdit.turn) > after)
            .order_by(col(JournalChange.id))
        )
        if self._own:
            statement = statement.where(col(JournalEdit.turn).not_in(sorted(self._own)))
        return rows_of(self._stored, statement)


def _keys(step: Step) -> set[Key]:
    return {key_of_values(step.kind, row) for row in (step.before, step.after) if row is not None}


def _words(step: Step, key: Key, row: Any) -> str:
    theirs, undone = step_of(row), row.state != "done"
    now = theirs.before if undone else theirs.after
    was = theirs.after if undone else theirs.before
    if now is None:
        change = "it was removed"
    elif was is None:
        change = "it was made"
    else:
        fields = [f"{name} is {_shown(value)}" for name, value in now.items() if value != was.get(name)]
        change = ", ".join(fields[:4])
    label = read_kept(row.label)
    how = f'undid "{label}"' if undone else f'"{label}"'
    return (
        f"Not saved: {name_of(step.kind, key)} was changed meanwhile by {row.seat or 'somebody else'}"
        f" ({how}: {change}); look at it again, then save."
    )


def _shown(value: object) -> str:
    return "blank" if value is None else str(value)
