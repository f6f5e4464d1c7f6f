"""Starts and kills processes that edit a fleet, and looks at what they leave."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from typing import IO

from hangar.parts import Flight, Installation, Setting, StockItem
from hangar.store import Fleet, check_file

CHILD = Path(__file__).with_name("edits_child.py")
ROOT = Path(__file__).resolve().parents[2]


class Editor:
    """A program that edits a fleet until it is killed, and the numbers of the edits it told of."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        assert process.stdin is not None
        assert process.stdout is not None
        self._orders: IO[str] = process.stdin
        self._told = process.stdout.fileno()
        self._unread = b""
        self.pid = 0
        self.acknowledged = 0

    def start(self, path: Path, count: int) -> None:
        """Begin to edit; returns when the fleet is open."""
        self.acknowledged = count
        self._orders.write(f"{path} {count}\n")
        self._orders.flush()
        seen = {self._line(), self._line()}
        assert "open" in seen, seen
        self.pid = next(int(line.removeprefix("pid ")) for line in seen if line.startswith("pid "))

    def pause(self) -> None:
        """Stop it wherever it stands and wait until it does."""
        os.kill(self.pid, signal.SIGSTOP)
        while Path(f"/proc/{self.pid}/stat").read_text().rpartition(")")[2].split()[0] != "T":
            time.sleep(0.0002)

    def drain(self) -> int:
        """Number of the last edit it told of so far."""
        while select.select([self._told], [], [], 0)[0]:
            self._unread += os.read(self._told, 65536)
        while b"\n" in self._unread:
            self.acknowledged = int(self._line())
        return self.acknowledged

    def resume(self) -> None:
        """Let it go on."""
        os.kill(self.pid, signal.SIGCONT)

    def wait_for(self, number: int) -> None:
        """Wait until it told of that edit."""
        while self.acknowledged < number:
            self.acknowledged = int(self._line())

    def kill(self) -> int:
        """Kill it and return the last edit it told of."""
        os.kill(self.pid, signal.SIGKILL)
        while (line := self._line()) != "gone":
            self.acknowledged = int(line)
        return self.acknowledged

    def _line(self) -> str:
        while b"\n" not in self._unread:
            more = os.read(self._told, 65536)
            assert more, "the editing program ended by itself"
            self._unread += more
        line, _, self._unread = self._unread.partition(b"\n")
        return line.decode()


@contextmanager
def editor() -> Iterator[Editor]:
    """A program ready to edit fleets."""
    command = [sys.executable, str(CHILD)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment
    ) as process:
        try:
            yield Editor(process)
        finally:
            process.kill()


def count_in(fleet: Fleet) -> int:
    """Number of the last edit in the fleet; every table must tell the same one."""
    setting = fleet.record(Setting, "count")
    if setting is None:
        return 0
    count = int(setting.value)
    assert str(fleet.undo_label) == f"Edit {count}"
    item = fleet.record(StockItem, f"E{count % 40}")
    assert item is not None
    assert item.on_hand == count
    assert max(stock_item.on_hand for stock_item in fleet.records(StockItem)) == count
    assert len(fleet.records(Flight)) == min(count, 300)
    held = [stay for stay in fleet.records(Installation, until_on=None) if not stay.disputed]
    assert len({stay.servo for stay in held}) == len(held)
    assert len({stay.position for stay in held}) == len(held)
    return count


def left_whole(path: Path, acknowledged: int) -> int:
    """Check a fleet whose writer was killed; returns the number of its last edit."""
    with Fleet.open(path) as fleet:
        assert not fleet.read_only
        count = count_in(fleet)
        assert fleet._door.file is not None
        assert fleet._door.file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert fleet._door.file.execute("PRAGMA foreign_key_check").fetchall() == []
    # The edit under way may have been committed before it could be told.
    assert acknowledged <= count <= acknowledged + 1, (acknowledged, count)
    return count


def whole_to_the_last_value(path: Path) -> None:
    """Check every stored value against the history too."""
    report = check_file(path)
    assert report.sound, report


def strike(writer: Editor, chance: Random) -> int:
    """Kill a writer after none or a few edits, somewhere within the next; the last edit it told of."""
    writer.wait_for(writer.acknowledged + chance.choice((0, 1, 1, 2, 5)))
    time.sleep(chance.choice((0.0, chance.uniform(0, 0.005), chance.uniform(0, 0.03))))
    return writer.kill()
