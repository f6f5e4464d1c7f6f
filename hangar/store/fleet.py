"""A fleet: open it, read frozen parts out of it, change it through one door."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Concatenate, ParamSpec, TypeVar

from sqlalchemy.exc import DBAPIError
from sqlmodel import select

from hangar.base.errors import BadInput, StoreFault
from hangar.base.kept_text import kept_text, read_kept
from hangar.base.text import Text, listed, text
from hangar.parts import KIND_BY_NAME, Aircraft, Airframe, Attachment, Record, Setting
from hangar.parts.library import Library
from hangar.store import journal
from hangar.store.backups import SUFFIX, back_up, backups_of, write_copy
from hangar.store.door import Door, file_door, server_door
from hangar.store.edit import Edit
from hangar.store.faults import READ, in_words
from hangar.store.file import create_file, empty_fleet, open_file
from hangar.store.journal import Change, Seat, Step
from hangar.store.linking import connect
from hangar.store.lock import FleetLock, lock_or_reason, lock_to_write, real_file
from hangar.store.papers import content_of
from hangar.store.reach import Reach, touched_by
from hangar.store.reading import read_aircraft, read_fleet, read_library
from hangar.store.record_rows import Rows, missing
from hangar.store.seats import own_seat
from hangar.store.server_copies import save_server_copy
from hangar.store.sweeping import sweep
from hangar.store.tables import ROW_OF
from hangar.store.turns import Turns
from hangar.store.whereabouts import Whereabouts, read_whereabouts

R = TypeVar("R", bound=Record)
T = TypeVar("T")
P = ParamSpec("P")
Work = Callable[[Edit], None]
Clock = Callable[[], datetime]
Find = Callable[[Rows, Seat], tuple[int, str] | None]
TITLE_SETTING = "fleet.title"


class Fleet:
    """One fleet file or server database, with its one door for changes.

    ``address`` is that of the server, None for a file. ``held_by`` says in words who is writing when the
    file could only be opened for reading, ``hindrance`` what stands in the way of writing where nobody
    holds it.
    """

    def __init__(
        self,
        door: Door,
        *,
        path: Path | None = None,
        read_only: bool = False,
        lock: FleetLock | None = None,
        held_by: str | None = None,
        hindrance: Text | str | None = None,
        address: str | None = None,
        clock: Clock = datetime.now,
        seat: str | None = None,
    ) -> None:
        self.path = path
        self.address = address
        self.read_only = read_only
        self.held_by = held_by
        self.hindrance = hindrance
        self._door = door
        self._stored = Rows(door.session)
        self._turns = Turns(door, self._stored, path)
        self._seat = Seat(seat or own_seat(), alone=door.file is not None)
        self._clock = clock
        self._lock = lock

    @classmethod
    def create(cls, path: Path | str, *, clock: Clock = datetime.now, seat: str | None = None) -> Fleet:
        """A new, empty fleet file; the ending .hangar is added when the name has none.

        Raises: BadInput when the file exists; StoreFault when it cannot be written.
        """
        place = Path(path)
        place = real_file(place if place.suffix else place.with_suffix(SUFFIX))
        lock = lock_to_write(place)
        try:
            link = create_file(place)
            lock.hold_file(place)
            return cls._behind(file_door(link), path=place, lock=lock, clock=clock, seat=seat)
        except BaseException:
            lock.let_go()
            raise

    @classmethod
    def open(
        cls,
        place: Path | str,
        read_only: bool = False,
        *,
        clock: Clock = datetime.now,
        seat: str | None = None,
    ) -> Fleet:
        """A fleet file, or a fleet on a server named by its URL.

        ``clock`` tells the moment that edits and backups are dated with; ``seat`` is who works here,
        by default the keeper's name at this machine: on a server each seat undoes its own edits.

        A file that another program is writing, or that lies where nothing can be written, is opened
        for reading only; ``read_only`` and ``held_by`` tell. So is a fleet whose server lets this name
        look only; ``hindrance`` tells.

        Raises: StoreFault when it is not a fleet, damaged or newer than this program.
        """
        if isinstance(place, str) and "://" in place:
            door = server_door(place, read_only)
            looks_only = read_only or door.hindrance is not None
            return cls._behind(
                door, read_only=looks_only, hindrance=door.hindrance, address=place, clock=clock, seat=seat
            )
        path = real_file(Path(place))
        lock, held_by, hindrance = (None, None, None) if read_only else lock_or_reason(path)
        try:
            if lock:
                sweep(path)
            link = open_file(path, read_only=lock is None)
            return cls._behind(
                file_door(link),
                path=path,
                read_only=lock is None,
                lock=lock,
                held_by=held_by,
                hindrance=hindrance,
                clock=clock,
                seat=seat,
            )
        except BaseException:
            if lock:
                lock.let_go()
            raise

    @classmethod
    def _behind(cls, door: Door, **options: Any) -> Fleet:
        try:
            return cls(door, **options)
        except DBAPIError as fault:
            door.close()
            raise in_words(fault, done=READ) from fault
        except BaseException:
            door.close()
            raise

    @classmethod
    def in_memory(cls, *, clock: Clock = datetime.now) -> Fleet:
        """An empty fleet that lasts as long as this object."""
        link = connect(None)
        link.deserialize(empty_fleet())
        return cls(file_door(link), clock=clock)

    def close(self) -> None:
        """Put a backup aside when something was changed, and let go of the file."""
        with self._turns.lock:
            if self._turns.is_closed:
                return
            self._turns.is_closed = True
            try:
                if self._turns.has_changed and self.path is not None and self._door.file is not None:
                    back_up(self._door.file, self.path, self._clock())
            finally:
                self._door.close()
                if self._lock:
                    self._lock.let_go()

    def __enter__(self) -> Fleet:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @property
    def is_in_memory(self) -> bool:
        """Whether it lasts only as long as the program, as tables do that were opened without a file."""
        return self.path is None and self._door.file is not None

    @property
    def is_shared(self) -> bool:
        """Whether others may write to it while it is open here."""
        return self._door.file is None or (self.read_only and self.path is not None)

    @property
    def title(self) -> str:
        """What the fleet is called: the keeper's own words, else the name of the file."""
        named = self.record(Setting, TITLE_SETTING)
        if named:
            return named.value
        return self.path.stem if self.path else self._door.name

    @property
    def backups(self) -> tuple[Path, ...]:
        """Copies kept of this file, oldest first."""
        return backups_of(self.path) if self.path else ()

    def keep_backup(self) -> Path | None:
        """Put a dated copy of a fleet file aside; returns where, None for a fleet without a file.

        Raises: StoreFault when it cannot be written.
        """
        if self.path is None or self._door.file is None:
            return None
        with self._turns.lock:
            return back_up(self._door.file, self.path, self._clock())

    def save_copy(self, path: Path) -> None:
        """Write a whole copy of the fleet to another file.

        Raises: StoreFault when it cannot be written, or the server does not answer.
        """
        if self.address is not None:
            save_server_copy(self.address, path)
            return
        assert self._door.file is not None
        with self._turns.lock:
            write_copy(self._door.file, path, like=self.path)

    def aircraft_codes(self) -> tuple[str, ...]:
        """The codes of all aircraft in order."""
        with self.one_moment():
            return tuple(sorted(self._stored.session.exec(select(ROW_OF[Airframe].code))))

    def airframes(self) -> tuple[Airframe, ...]:
        """All airframes in the order of their codes."""
        return self.records(Airframe)

    def aircraft(self, code: str, today: date | None = None) -> Aircraft:
        """One aircraft as a tree of its parts as they stand.

        Raises: BadInput naming the codes there are.
        """
        with self.one_moment():
            tree = read_aircraft(self._stored, code, today or date.today())
        if tree is None:
            codes = self.aircraft_codes()
            raise BadInput(
                'There is no aircraft "{code}" in this fleet; there are: {codes}.',
                code=code,
                codes=listed(codes, joint=",", most=0) if codes else text("none"),
            )
        return tree

    def whole_fleet(self, today: date | None = None) -> tuple[Aircraft, ...]:
        """Every aircraft as a tree, in the order of their codes."""
        with self.one_moment():
            return read_fleet(self._stored, today or date.today())

    def library(self) -> Library:
        """The type library and the parts bay."""
        with self.one_moment():
            return read_library(self._stored)

    def records(self, kind: type[R], /, **equal: Any) -> tuple[R, ...]:
        """The records of a kind whose fields equal the given ones, in the order of their keys."""
        with self.one_moment():
            return self._stored.records(kind, **equal)

    def record(self, kind: type[R], *key: Any) -> R | None:
        """The record with this key."""
        with self.one_moment():
            return self._stored.record(kind, key)

    def edit(self, label: Text | str, work: Work) -> Reach:
        """Do some work on the fleet in one transaction: all of it or none.

        Args:
            label: what the keeper reads beside Undo, such as "Fit servo 0301".
            work: is handed an :class:`Edit`; what it raises undoes everything.

        Returns: the kinds it touched, and the aircraft it reached.
        Raises: BadInput for impossible values; StoreFault when nothing could be saved.
        """
        if not str(label).strip():
            raise BadInput("An edit needs a name to be undone by.")

        def named(edit: Edit) -> Text | str:
            work(edit)
            return label

        return self._named(named)

    def do(self, act: Callable[Concatenate[Edit, P], Text], /, *args: P.args, **kwargs: P.kwargs) -> Reach:
        """Do one act, such as those of ``hangar.acts``, in one transaction: all of it or none.

        Args:
            act: is handed an :class:`Edit` and the other arguments; the text that it returns is what
                the keeper reads beside Undo, in his language. What it raises undoes everything.

        Returns: the kinds it touched, and the aircraft it reached.
        Raises: BadInput for impossible values; StoreFault when nothing could be saved.
        """
        return self._named(lambda edit: act(edit, *args, **kwargs))

    def _named(self, work: Callable[[Edit], Text | str]) -> Reach:
        def do(edit: Edit) -> list[Step]:
            label = work(edit)
            if edit.steps:
                if not self._seat.alone:
                    self._turns.watch.refuse_clash(edit.steps)
                journal.write(self._stored, kept_text(label), edit.steps, self._clock(), self._seat)
            return edit.steps

        return self._change(do)

    def undo(self) -> Reach | None:
        """Take back the last edit that stands; None when there is none."""
        return self._step(journal.next_undo, journal.take_back)

    def redo(self) -> Reach | None:
        """Make the last undone edit again; None when there is none."""
        return self._step(journal.next_redo, journal.make_again)

    @property
    def undo_label(self) -> Text | str | None:
        """Name of the edit that undo would take back."""
        return self._label(journal.next_undo)

    @property
    def redo_label(self) -> Text | str | None:
        """Name of the edit that redo would make again."""
        return self._label(journal.next_redo)

    def history(
        self,
        kind: type[Record] | str | None = None,
        key: Sequence[Any] | None = None,
        aircraft: str | None = None,
        most: int | None = None,
    ) -> tuple[Change, ...]:
        """What was changed, newest first: everything, one kind, one record, or one aircraft.

        Args:
            kind: of records, or its name.
            key: of one record of that kind.
            aircraft: code of one aircraft.
            most: no more changes than these; all without it, and always all of one record.
        """
        wanted = KIND_BY_NAME[kind] if isinstance(kind, str) else kind
        with self.one_moment():
            return tuple(journal.history(self._stored, wanted, key, aircraft, most))

    def changes_elsewhere(self) -> Reach | None:
        """What others changed since this was last asked, or None; ask it whenever the keeper looks.

        An edit of a record that others changed unseen is refused with :class:`Conflict`; what this
        has told counts as seen.
        """
        with self.one_moment():
            steps = self._turns.watch.elsewhere()
            return touched_by(self._stored, steps) if steps else None

    def whereabouts(self, tag: str) -> Whereabouts:
        """Where a servo or a pack has been, what became of it, with its hours and tests.

        Raises: BadInput when there is no servo or pack of that tag.
        """
        with self.one_moment():
            return read_whereabouts(self._stored, tag)

    def paper(self, name: str) -> bytes:
        """The bytes of a photo or paper.

        Raises: BadInput when there is none of that name; StoreFault when they are missing or changed.
        """
        attachment = self.record(Attachment, name)
        if attachment is None:
            raise missing(Attachment, (name,))
        with self.one_moment():
            return content_of(self._stored, self.path, attachment)

    def _label(self, find: Find) -> Text | str | None:
        with self.one_moment():
            seat_lock = find(self._stored, self._seat)
        return read_kept(seat_lock[1]) if seat_lock else None

    def _step(self, find: Find, take: Callable[[Rows, int], list[Step]]) -> Reach | None:
        with self._turns.lock:
            if self._label(find) is None:
                return None

            def do(_: Edit) -> list[Step]:
                seat_lock = find(self._stored, self._seat)
                return take(self._stored, seat_lock[0]) if seat_lock else []

            return self._change(do)

    def _change(self, do: Callable[[Edit], list[Step]]) -> Reach:
        with self._turns.lock:
            self._refuse_writing()
            return self._turns.change(do)

    def _refuse_writing(self) -> None:
        if self._turns.is_closed:
            raise StoreFault("The fleet is closed.")
        if self.read_only:
            if self.hindrance:
                raise StoreFault("The fleet is open for reading only: {hindrance}.", hindrance=self.hindrance)
            if self.held_by:
                raise StoreFault(
                    "The fleet is open for reading only: it is in use by {holder}.", holder=self.held_by
                )
            raise StoreFault("The fleet is open for reading only.")

    def one_moment(self) -> AbstractContextManager[None]:
        """Everything read inside belongs to one moment."""
        return self._turns.one_moment()
