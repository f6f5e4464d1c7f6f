"""A power cut at any write leaves a fleet that opens sound, with every edit that was told."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path
from random import Random

import pytest

from hangar.store.file import open_file
from tests.faults.conftest import make_fleet
from tests.faults.replay import CALLS, Disk, Event, events_of
from tests.faults.stream import CHILD, ROOT, editor, left_whole, whole_to_the_last_value

pytestmark = [pytest.mark.slow, pytest.mark.skipif(os.name != "posix", reason="needs signals of POSIX")]
COPIES = 60
CUTS = 200
EDITS = 30


def test_a_copy_of_file_and_journal_at_a_random_moment_is_a_whole_fleet(fast_folder: Path) -> None:
    path, copy = make_fleet(fast_folder / "club.hangar"), fast_folder / "copy.hangar"
    chance = Random(7)
    with_journal = 0
    with editor() as writer:
        writer.start(path, 0)
        for _ in range(COPIES):
            writer.wait_for(writer.drain() + chance.choice((0, 1)))
            time.sleep(chance.uniform(0, 0.02))
            writer.pause()
            number = writer.drain()
            journal = path.with_name(path.name + "-journal")
            shutil.copyfile(path, copy)
            if journal.exists():
                shutil.copyfile(journal, copy.with_name(copy.name + "-journal"))
                with_journal += 1
            writer.resume()
            left_whole(copy, number)
        writer.kill()
    whole_to_the_last_value(copy)
    assert with_journal > 3, "no copy was taken in the middle of an edit"


WRITER = f"""
import sys
sys.path.insert(0, {str(CHILD.parent)!r})
from pathlib import Path
from edits_child import make_edit, tell
from hangar.store import Fleet
fleet = Fleet.open(Path(sys.argv[1]))
for number in range(1, {EDITS + 1}):
    fleet.edit(f"Edit {{number}}", lambda edit: make_edit(edit, number))
    tell(str(number))
import os
os._exit(0)
"""


def recorded(path: Path, trace: Path) -> list[Event]:
    command = ["strace", "-f", "-y", "-xx", "-s", "70000", "-e", f"trace={CALLS}", "-o", str(trace)]
    done = subprocess.run(
        [*command, sys.executable, "-c", WRITER, str(path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode and "ptrace" in done.stderr:
        pytest.skip(f"strace may not watch here: {done.stderr.splitlines()[0]}")
    assert done.returncode == 0, done.stderr
    return events_of(trace, path.parent)


@pytest.mark.skipif(
    shutil.which("strace") is None, reason="strace is not installed; on Debian: apt-get install strace"
)
def test_writes_that_the_disk_had_not_taken_yet_cost_no_edit_that_was_told(fast_folder: Path) -> None:
    folder = fast_folder / "fleet"
    folder.mkdir()
    path = make_fleet(folder / "club.hangar")
    present = {str(path): path.read_bytes()}
    events = recorded(path, fast_folder / "trace")
    assert sum(event.call == "fsync" for event in events) > 3 * EDITS
    chance = Random(9)
    cuts = set(chance.sample(range(len(events)), min(CUTS, len(events))))
    disk, tried = Disk(present), 0
    for number, event in enumerate(events):
        disk.take(event)
        if number not in cuts:
            continue
        place = fast_folder / "after"
        shutil.rmtree(place, ignore_errors=True)
        place.mkdir()
        for name, content in disk.after_cut(chance).items():
            (place / Path(name).name).write_bytes(content)
        left_whole(place / path.name, disk.told)
        tried += 1
    assert tried == len(cuts)
    assert disk.told == EDITS


def test_the_replay_loses_an_edit_where_the_program_forces_nothing_onto_the_disk(fast_folder: Path) -> None:
    path = make_fleet(fast_folder / "club.hangar")
    before = path.read_bytes()
    link = open_file(path)
    (level,) = link.execute("PRAGMA synchronous").fetchone()
    link.close()
    assert level == 3
    disk = Disk({str(path): before})
    disk.take(Event("pwrite64", str(path), b"spoiled!", 0))
    disk.take(Event("told", "", b"1"))
    kept = {disk.after_cut(Random(seed))[str(path)] == before for seed in range(20)}
    assert kept == {True, False}
    disk.take(Event("fsync", str(path)))
    assert disk.after_cut(Random(1))[str(path)] != before
