"""What a disk may hold after a power cut, rebuilt from a record of every write that a program made.

A write that was not yet forced onto the disk may be there, be there in part, or be missing, whatever
came after it; names made or removed last in a folder whatever its contents. Both is what the POSIX
standard leaves open for fsync.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

_CALL = re.compile(r"^(?:\d+\s+)?(\w+)\((.*)\)\s+= (-?\d+)")
_FILE = re.compile(r"^\d+<([^>]*)>")
_TEXT = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')
SECTOR = 512
CALLS = "openat,pwrite64,fsync,fdatasync,ftruncate,unlink,write"


@dataclass(frozen=True, slots=True)
class Event:
    """One call of the program: what it did to which file, or what it told."""

    call: str
    path: str
    content: bytes = b""
    at: int = 0


def events_of(trace: Path, folder: Path) -> list[Event]:
    """The calls in a trace that touch files of the folder, and the lines told on standard output."""
    return [event for line in trace.read_text().splitlines() for event in _events(line, str(folder))]


def _events(line: str, folder: str) -> Iterator[Event]:
    match = _CALL.match(line)
    if match is None or int(match[3]) < 0:
        return
    call, words = match[1], match[2]
    if call == "write" and words.startswith("1<"):
        yield Event("told", "", _bytes(words))
        return
    if call in ("openat", "unlink"):
        path = _bytes(words).decode()
        if path.startswith(folder) and (call == "unlink" or "O_CREAT" in words):
            yield Event(call, path)
        return
    file = _FILE.match(words)
    if file is None or not codecs.decode(file[1], "unicode_escape").startswith(folder):
        return
    path = codecs.decode(file[1], "unicode_escape")
    if call in ("pwrite64", "ftruncate"):
        yield Event(call, path, _bytes(words) if call == "pwrite64" else b"", int(words.rsplit(", ", 1)[1]))
    elif call in ("fsync", "fdatasync"):
        yield Event("fsync", path)


def _bytes(words: str) -> bytes:
    text = _TEXT.search(words)
    return bytes.fromhex(text[1].replace("\\x", "")) if text else b""


@dataclass(slots=True)
class _Inode:
    durable: bytearray = field(default_factory=bytearray)
    pending: list[Event] = field(default_factory=list)

    def settle(self) -> None:
        for event in self.pending:
            _apply(self.durable, event)
        self.pending = []

    def after_cut(self, chance: Random) -> bytes:
        content = bytearray(self.durable)
        share = chance.choice((0.0, 0.5, 0.9, 1.0))
        for event in self.pending:
            if chance.random() < share:
                torn = chance.random() < 0.2 and event.call == "pwrite64"
                cut = chance.randrange(0, len(event.content) + 1, SECTOR) if torn else len(event.content)
                _apply(content, Event(event.call, event.path, event.content[:cut], event.at))
        return bytes(content)


def _apply(content: bytearray, event: Event) -> None:
    if event.call == "ftruncate":
        del content[event.at :]
        content.extend(bytes(event.at - len(content)))
        return
    content.extend(bytes(max(0, event.at - len(content))))
    content[event.at : event.at + len(event.content)] = event.content


class Disk:
    """The files of one folder as the program sees them and as the disk holds them."""

    def __init__(self, present: dict[str, bytes]) -> None:
        self._seen = {path: _Inode(bytearray(content)) for path, content in present.items()}
        self._durable = dict(self._seen)
        self._names: list[tuple[str, _Inode | None]] = []
        self.told = 0

    def take(self, event: Event) -> None:
        """Let one call of the program happen."""
        if event.call == "told":
            numbers = [int(word) for word in event.content.split() if word.isdigit()]
            self.told = max([self.told, *numbers])
        elif event.call == "openat":
            if event.path not in self._seen:
                self._seen[event.path] = _Inode()
                self._names.append((event.path, self._seen[event.path]))
        elif event.call == "unlink":
            self._seen.pop(event.path, None)
            self._names.append((event.path, None))
        elif event.call == "fsync":
            self._force(event.path)
        else:
            self._seen[event.path].pending.append(event)

    def _force(self, path: str) -> None:
        if path in self._seen:
            self._seen[path].settle()
            return
        for name, inode in self._names:
            _name(self._durable, name, inode)
        self._names = []

    def after_cut(self, chance: Random) -> dict[str, bytes]:
        """What the disk may hold when the power fails at this moment."""
        names = dict(self._durable)
        for name, inode in self._names[: chance.randint(0, len(self._names))]:
            _name(names, name, inode)
        return {path: inode.after_cut(chance) for path, inode in names.items()}


def _name(names: dict[str, _Inode], path: str, inode: _Inode | None) -> None:
    if inode is None:
        names.pop(path, None)
    else:
        names[path] = inode
