"""Killed at any call to the disk, a save, a backup, a restore and the like lose nothing and leave no litter.

``HANGAR_TEST_CALLS=1000`` kills at every single one; without it at the first and the last of each sort.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from hangar.parts import Attachment, Position, Servo
from hangar.store import BrokenFile, Fleet, check_file, restore_backup
from hangar.store.backups import SUFFIX, SUM_SUFFIX, backups_of, sum_holds
from tests.faults.conftest import make_fleet
from tests.faults.stream import ROOT
from tests.store.crashing import leave_half_an_edit
from tests.store.make_sample import SAMPLES

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        shutil.which("strace") is None, reason="needs strace; on Debian: apt-get install strace"
    ),
]

OF_EACH = int(os.environ.get("HANGAR_TEST_CALLS", "1"))
CALLS = ("openat", "write", "pwrite64", "fsync", "fdatasync", "ftruncate", "unlink", "rename", "mkdir",
         "chmod", "sendfile", "copy_file_range")  # fmt: skip
CHILD = Path(__file__).with_name("calls_child.py")


@dataclass
class Watched:
    """A program that does one act at a time, each in a process of its own that can be killed at a call."""

    process: subprocess.Popen[str]

    def run(self, act: str, path: Path, *options: str) -> bool:
        """Do an act under strace with these options; whether it told that it was done."""
        assert self.process.stdin is not None
        self.process.stdin.write(f"{act} {path}\n")
        self.process.stdin.flush()
        pid = int(self._line().removeprefix("pid "))
        wait_until(lambda: state_of(pid) == "T")
        tracer = subprocess.Popen(
            ["strace", "-qq", "-p", str(pid), *options], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
        )
        try:
            wait_until(lambda: is_traced(pid) or tracer.poll() is not None)
            if tracer.poll() is not None:
                os.kill(pid, signal.SIGKILL)
                assert tracer.stderr is not None
                pytest.skip(f"strace may not watch here: {tracer.stderr.read().decode()}")
            os.kill(pid, signal.SIGCONT)
            words = self._line()
            if words != "gone":
                assert self._line() == "gone"
        finally:
            tracer.wait(timeout=900)
            if tracer.stderr is not None:
                tracer.stderr.close()
        return words == "done"

    def _line(self) -> str:
        assert self.process.stdout is not None
        return self.process.stdout.readline().strip()


def wait_until(is_so: Callable[[], bool]) -> None:
    while not is_so():
        time.sleep(0.001)


def state_of(pid: int) -> str:
    return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0].upper()


def is_traced(pid: int) -> bool:
    return "TracerPid:\t0\n" not in Path(f"/proc/{pid}/status").read_text()


@pytest.fixture(scope="module")
def watched() -> Iterator[Watched]:
    with subprocess.Popen(
        [sys.executable, str(CHILD)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as process:
        yield Watched(process)
        assert process.stdin is not None
        process.stdin.close()
        process.wait(timeout=900)


def place_to_spoil(folder: Path, sound: Path) -> Path:
    """A fresh copy of all that lies beside a sound file, to be spoiled."""
    place = folder / "fleet"
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(sound.parent, place)
    return place / sound.name


def kills(
    watched: Watched, act: str, folder: Path, prepare: Callable[[Path], object]
) -> Iterator[tuple[Path, bool]]:
    """Do the act again and again, killed before another call each time; the file, and whether it was told."""
    sound = folder / "sound" / "club.hangar"
    sound.parent.mkdir()
    prepare(sound)
    trace = folder / "trace"
    path = place_to_spoil(folder, sound)
    assert watched.run(act, path, "-e", f"trace={','.join(CALLS)}", "-o", str(trace))
    counted = Counter(re.findall(r"^(\w+)\(", trace.read_text(), re.MULTILINE))
    assert counted["fsync"] + counted["fdatasync"] > 2
    for call, times in counted.items():
        step = max(1, times // OF_EACH)
        for number in sorted({*range(1, times + 1, step), times}):
            path = place_to_spoil(folder, sound)
            inject = f"inject={call}:signal=KILL:when={number}"
            yield path, watched.run(act, path, "-e", f"trace={call}", "-e", inject, "-o", "/dev/null")


def no_litter(path: Path, *more: str) -> None:
    """Opened for writing once more, nothing lies about that a keeper did not ask for."""
    left = {other_path.name for other_path in path.parent.iterdir()}
    assert left <= {path.name, f"{path.stem} backups", *more}, left
    for copy in backups_of(path):
        assert sum_holds(copy)
        assert check_file(copy).faults == ()
    folder = path.with_name(f"{path.stem} backups")
    for one in folder.iterdir() if folder.exists() else ():
        kept = one.name.removesuffix(SUM_SUFFIX).removesuffix("-journal")
        assert kept.endswith(SUFFIX), one.name
        assert (folder / kept).exists(), one.name


def bins(path: Path) -> set[str | None]:
    with Fleet.open(path) as fleet:
        lines = {servo.bin for servo in fleet.records(Servo)}
        notes = fleet.airframes()[0].notes
        assert (notes is not None) == ("new" in lines), "half an edit is there"
        return lines


@pytest.mark.parametrize("act", ["save", "back_up"])
def test_a_save_and_a_backup(watched: Watched, fast_folder: Path, act: str) -> None:
    outcomes = set()
    for path, is_told in kills(watched, act, fast_folder, make_fleet):
        assert check_file(path).sound
        lines = bins(path)
        assert lines == ({"new", None} if is_told else lines)
        outcomes.add("new" in lines)
        no_litter(path)
    assert outcomes == {True, False}


def crashed(path: Path) -> None:
    make_fleet(path)
    with Fleet.open(path) as fleet:
        fleet.edit("Bin it", lambda edit: edit.change(Servo, ("0801",), bin="last"))
        fleet._turns.has_changed = False
    leave_half_an_edit(path)


def damaged(path: Path) -> None:
    crashed(path)
    path.write_bytes(b"spoiled!" + path.read_bytes()[8:5000])


def test_a_restore_over_a_crash_never_shows_half_an_edit(watched: Watched, fast_folder: Path) -> None:
    outcomes = set()
    for path, is_told in kills(watched, "restore", fast_folder, crashed):
        assert check_file(path).sound
        lines = bins(path)
        assert lines in ({"last", None}, {None})
        assert lines == {None} or not is_told
        outcomes.add(lines == {None})
        no_litter(path)
    assert outcomes == {True, False}


def test_a_restore_of_a_damaged_file_can_be_done_again(watched: Watched, fast_folder: Path) -> None:
    for path, is_told in kills(watched, "restore", fast_folder, damaged):
        try:
            assert bins(path) == {None}
        except BrokenFile:
            assert not is_told
            restore_backup(path)
            assert bins(path) == {None}
        no_litter(path)


def test_a_fleet_being_made_is_there_whole_or_not_at_all(watched: Watched, fast_folder: Path) -> None:
    for path, is_told in kills(watched, "create", fast_folder, make_fleet):
        fresh = path.with_name("fresh.hangar")
        assert fresh.exists() or not is_told
        if not fresh.exists():
            Fleet.create(fresh).close()
        assert check_file(fresh).sound
        Fleet.open(fresh).close()
        no_litter(path, fresh.name)


def older(path: Path) -> None:
    shutil.copyfile(SAMPLES / "version_1.hangar", path)


def test_an_upgrade_is_taken_whole_or_begun_anew(watched: Watched, fast_folder: Path) -> None:
    for path, _told in kills(watched, "upgrade", fast_folder, older):
        with Fleet.open(path) as fleet:
            assert str(fleet.undo_label) == "Move"
        assert check_file(path).sound
        assert backups_of(path)
        no_litter(path)


def test_a_sheet_brought_in_is_there_whole_or_not_at_all(watched: Watched, fast_folder: Path) -> None:
    counts = set()
    for path, told in kills(watched, "take_in", fast_folder, make_fleet):
        with Fleet.open(path) as fleet:
            rushes = [airframe.code for airframe in fleet.airframes() if airframe.code == "RUSH"]
            positions = len(fleet.records(Position, aircraft="RUSH"))
            assert rushes or not told
            counts.add((len(rushes), positions))
        assert check_file(path).sound
        no_litter(path, "list.csv")
    assert counts == {(0, 0), (1, 3)}


def test_a_copy_being_saved_is_there_whole_or_not_at_all(watched: Watched, fast_folder: Path) -> None:
    for path, told in kills(watched, "save_copy", fast_folder, make_fleet):
        copy = path.with_name("copy.hangar")
        assert copy.exists() or not told
        with Fleet.open(path) as fleet:
            fleet.save_copy(copy)
        assert check_file(copy).sound
        no_litter(path, copy.name)


def test_a_paper_kept_beside_the_file_is_there_when_its_record_is(
    watched: Watched, fast_folder: Path
) -> None:
    for path, is_told in kills(watched, "keep_beside", fast_folder, make_fleet):
        with Fleet.open(path) as fleet:
            papers = fleet.records(Attachment)
            assert papers or not is_told
            for paper in papers:
                assert fleet.paper(paper.name).startswith(b"Dear club")
        folder = path.with_name("club papers")
        assert not list(folder.glob("*.part"))
        no_litter(path, folder.name, "letter.txt")
