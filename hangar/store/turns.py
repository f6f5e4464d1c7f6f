"""Whatever is read or written at once belongs to one moment; threads, and seats, take turns."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import RLock

from sqlalchemy.exc import DBAPIError

from hangar.base.errors import BadInput, StoreFault
from hangar.base.kept_text import read_kept
from hangar.store import journal
from hangar.store.door import Door
from hangar.store.edit import Edit
from hangar.store.faults import READ, broken_link, in_words
from hangar.store.journal import Mark, Step
from hangar.store.reach import Reach, touched_by
from hangar.store.record_rows import Rows
from hangar.store.seats import Watch

_WAITS_S = (0.0, 0.1, 0.3, 0.9, 2.0)
"""How long a server that was lost at the last moment of an edit is waited for, try by try."""


class Turns:
    """Runs one edit at a time through a door, and reads between them."""

    def __init__(self, door: Door, stored: Rows, path: Path | None) -> None:
        self._door = door
        self._stored = stored
        self._path = path
        self._busy = False
        self.watch = Watch(stored)
        self.lock = RLock()
        self.is_closed = False
        self.has_changed = False

    def change(self, do: Callable[[Edit], list[Step]]) -> Reach:
        """Do some work in one transaction: all of it or none.

        Raises: BadInput for impossible values; StoreFault when nothing could be saved.
        """
        with self.lock:
            if self._busy:
                raise RuntimeError("an edit is under way; do the rest of the work inside it")
            edit = Edit(self._stored, self._path)
            self._busy = True
            try:
                self._door.begin_writing()
                steps = do(edit)
                touched = touched_by(self._stored, steps)
                mark = journal.latest_mark(self._stored) if steps else None
                self._commit(mark)
                if mark is not None:
                    self.watch.note_own(mark.turn)
            except DBAPIError as fault:
                raise in_words(fault, edit.about) from fault
            finally:
                self._busy = False
                self._door.roll_back()
            self.has_changed = self.has_changed or bool(steps)
            return touched

    def _commit(self, mark: Mark | None) -> None:
        try:
            self._door.commit()
        except DBAPIError as fault:
            words = broken_link(self._door.file) if self._door.file else None
            if words:
                raise BadInput(words.as_sentence()) from fault
            if mark is None or not self._door.is_lost or not self._was_saved(mark):
                raise

    def _was_saved(self, mark: Mark) -> bool:
        """Look in the journal whether an edit lasted whose end nobody confirmed.

        Raises: StoreFault when the server does not answer, so that it cannot be told.
        """
        for wait_s in _WAITS_S:
            time.sleep(wait_s)
            try:
                # Waits for the edit cut off, should the server still be at it.
                self._door.begin_writing()
                return journal.stands(self._stored, mark)
            except DBAPIError as fault:
                lost = fault
            finally:
                self._door.roll_back()
        raise StoreFault(
            'The connection to the server was lost while "{label}" was being saved; whether it was '
            "saved cannot be told until the server answers again: look for it in the history then.",
            label=read_kept(mark.label),
        ) from lost

    @contextmanager
    def one_moment(self) -> Iterator[None]:
        """Everything read inside belongs to one moment."""
        with self.lock:
            if self.is_closed:
                raise StoreFault("The fleet is closed.")
            if self._door.is_open:
                yield
                return
            try:
                self._door.begin_reading()
                yield
            except DBAPIError as fault:
                raise in_words(fault, done=READ) from fault
            finally:
                self._door.roll_back()
