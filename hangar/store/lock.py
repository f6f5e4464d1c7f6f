"""One writer at a time: a lock file beside the fleet names who holds it, a lock on the file bars every name.

A file may be reached by several names: a symbolic link is followed to what it leads to, and names that
were given by hard links share the lock on the file itself.
"""

from __future__ import annotations

import errno
import getpass
import os
import socket
import struct
import sys
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from hangar.base.errors import StoreFault
from hangar.base.text import Text
from hangar.store.faults import READ_ONLY, hindrance_of

if sys.platform == "win32":
    import msvcrt

    # Far behind the text, so that others can still read who holds the file.
    _FAR = 1 << 20

    def _try_lock(file: BinaryIO) -> bool:
        file.seek(_FAR)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _hold(handle: int) -> bool:
        return handle >= 0
else:
    import fcntl

    def _try_lock(file: BinaryIO) -> bool:
        try:
            fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True

    # SQLite locks bytes of its own near the first gigabyte; no file reaches this one.
    _OUT_OF_REACH = 1 << 62
    _REQUEST = struct.Struct("hhqqi4x")

    def _hold(handle: int) -> bool:
        """Bar the file behind the handle; True too where the system knows no such lock."""
        command = getattr(fcntl, "F_OFD_SETLK", None)
        if command is None:
            return True
        request = _REQUEST.pack(fcntl.F_WRLCK, os.SEEK_SET, _OUT_OF_REACH, 1, 0)
        try:
            fcntl.fcntl(handle, command, request)
        except OSError as fault:
            return fault.errno not in (errno.EACCES, errno.EAGAIN)
        return True


_HELD_HERE: dict[tuple[int, int], int] = {}
"""The files, by device and number, that this process may write, and its handle of each."""


def real_file(path: Path) -> Path:
    """The file that a name leads to: the name itself, unless it is a symbolic link."""
    return Path(os.path.realpath(path)) if path.is_symlink() else path


def is_held_here(path: Path) -> bool:
    """Whether this process holds the lock of the file, under whatever name."""
    return _identity(path) in _HELD_HERE


def first_bytes(path: Path, count: int) -> bytes:
    """The beginning of a file.

    A file held here must not be opened past SQLite: closing it again would let go of every lock that
    SQLite has on it, and another program could then write beside an edit.

    Raises: OSError when it cannot be read.
    """
    held = _HELD_HERE.get(_identity(path) or (0, 0))
    if held is not None and sys.platform != "win32":
        return os.pread(held, count, 0)
    with path.open("rb") as file:
        return file.read(count)


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        result = path.stat()
    except OSError:
        return None
    return result.st_dev, result.st_ino


def lock_path(path: Path) -> Path:
    """Where the lock of a fleet file lies."""
    path = real_file(path)
    return path.with_name(path.name + ".lock")


class FleetLock:
    """The right to write one fleet file, held until let go or until the process ends."""

    def __init__(self, place: Path, file: BinaryIO) -> None:
        self._place = place
        self._file: BinaryIO | None = file
        self._handle: int | None = None
        self._held: tuple[int, int] | None = None

    @classmethod
    def take(cls, path: Path) -> FleetLock | None:
        """The lock of the fleet at ``path``, or None when another program holds it.

        Raises: OSError when no lock file can be written in that folder.
        """
        if is_held_here(path):
            return None
        place = lock_path(path)
        while True:
            file = place.open("a+b", buffering=0)
            if not _try_lock(file):
                file.close()
                return None
            if _is_still_there(file, place):
                return cls(place, file)._signed(path)
            # The holder deleted it between our opening and our locking: begin again with a fresh one.
            file.close()

    def _signed(self, path: Path) -> FleetLock | None:
        try:
            if not self.hold_file(path):
                self.let_go()
                return None
            if self._file is not None:
                self._file.seek(0)
                self._file.truncate()
                self._file.write(_own_name().encode())
        except OSError:
            self.let_go()
            raise
        return self

    def hold_file(self, path: Path) -> bool:
        """Bar the other names of the file too, if it is there; False when somebody has done so.

        For a file that is made under the lock this is asked once more.
        """
        try:
            handle = os.open(path, os.O_RDWR)
        except OSError:
            # Not there yet, or not to be written to: then there is nothing to bar.
            return True
        if not _hold(handle):
            os.close(handle)
            return False
        self._let_file_go()
        self._handle, self._held = handle, _identity(path)
        if self._held is not None:
            _HELD_HERE[self._held] = handle
        return True

    def _let_file_go(self) -> None:
        if self._held is not None:
            _HELD_HERE.pop(self._held, None)
        if self._handle is not None:
            os.close(self._handle)
        self._handle = self._held = None

    def let_go(self) -> None:
        """Give the right back; harmless a second time. The file must be closed by then."""
        self._let_file_go()
        if self._file is None:
            return
        if sys.platform != "win32":
            self._place.unlink(missing_ok=True)
        self._file.close()
        self._file = None
        if sys.platform == "win32":
            self._place.unlink(missing_ok=True)


def _is_still_there(file: BinaryIO, place: Path) -> bool:
    try:
        result = place.stat()
    except FileNotFoundError:
        return False
    file_state = os.fstat(file.fileno())
    return (file_state.st_dev, file_state.st_ino) == (result.st_dev, result.st_ino)


def _own_name() -> str:
    try:
        who = getpass.getuser()
    except (KeyError, OSError, ImportError):
        who = "somebody"
    since = datetime.now().astimezone().isoformat(" ", "minutes")
    return f"{who} on {socket.gethostname()}, process {os.getpid()}, since {since}"


def holder_of(path: Path) -> str:
    """Who holds the fleet at ``path``, in words."""
    try:
        words = lock_path(path).read_text("utf-8", "replace").strip()
    except OSError:
        words = ""
    return words or "another program"


def lock_to_write(path: Path) -> FleetLock:
    """The lock of a fleet file that is to be made or replaced.

    Raises: StoreFault when somebody else has it, or nothing can be written there.
    """
    try:
        lock = FleetLock.take(path)
    except OSError as fault:
        raise StoreFault(
            "Nothing can be written to {parent}: {cause}.", parent=str(path.parent), cause=fault.strerror
        ) from fault
    if lock is None:
        raise StoreFault(
            "{path} is in use by {holder}; close it there first.", path=str(path), holder=holder_of(path)
        )
    return lock


def lock_or_reason(path: Path) -> tuple[FleetLock | None, str | None, Text | str | None]:
    """The lock of a fleet file; without it who holds it, or what else stands in the way of writing."""
    if not path.is_file():
        return None, None, None
    if not os.access(path, os.W_OK):
        return None, None, READ_ONLY
    try:
        lock = FleetLock.take(path)
    except OSError as fault:
        return None, None, hindrance_of(fault)
    return (lock, None, None) if lock else (None, holder_of(path), None)
