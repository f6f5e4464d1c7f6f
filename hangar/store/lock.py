"""One writer at a time: a lock file beside the fleet that names who holds it."""

from __future__ import annotations

import getpass
import os
import socket
import sys
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

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
else:
    import fcntl

    def _try_lock(file: BinaryIO) -> bool:
        try:
            fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True


def lock_path(path: Path) -> Path:
    """Where the lock of a fleet file lies."""
    return path.with_name(path.name + ".lock")


class FleetLock:
    """The right to write one fleet file, held until let go or until the process ends."""

    def __init__(self, path: Path, file: BinaryIO) -> None:
        self._path = path
        self._file: BinaryIO | None = file

    @classmethod
    def take(cls, path: Path) -> FleetLock | None:
        """The lock of the fleet at ``path``, or None when another program holds it.

        Raises: OSError when no lock file can be written in that folder.
        """
        place = lock_path(path)
        while True:
            file = place.open("a+b", buffering=0)
            if not _try_lock(file):
                file.close()
                return None
            if _is_still_there(file, place):
                lock = cls(place, file)
                try:
                    file.seek(0)
                    file.truncate()
                    file.write(_own_name().encode())
                except OSError:
                    lock.let_go()
                    raise
                return lock
            # The holder deleted it between our opening and our locking: begin again with a fresh one.
            file.close()

    def let_go(self) -> None:
        """Give the right back; harmless a second time."""
        if self._file is None:
            return
        if sys.platform != "win32":
            self._path.unlink(missing_ok=True)
        self._file.close()
        self._file = None
        if sys.platform == "win32":
            self._path.unlink(missing_ok=True)


def _is_still_there(file: BinaryIO, place: Path) -> bool:
    try:
        found = place.stat()
    except FileNotFoundError:
        return False
    own = os.fstat(file.fileno())
    return (own.st_dev, own.st_ino) == (found.st_dev, found.st_ino)


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


def lock_or_reason(path: Path) -> tuple[FleetLock | None, str | None, str | None]:
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
