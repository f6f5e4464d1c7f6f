"""Full disk, read-only places, a second program, a vanished folder, a clock set back: told, nothing lost."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from functools import partial
from pathlib import Path

import pytest

from hangar.base.errors import StoreFault
from hangar.parts import Servo, Setting, StockItem
from hangar.store import Edit, Fleet, check_file
from hangar.store.backups import backups_of
from tests.faults.conftest import make_fleet
from tests.faults.stream import ROOT, editor

IS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0
POSIX = pytest.mark.skipif(os.name != "posix", reason="needs the rights and signals of POSIX")

FILLER = """
import sys
from pathlib import Path
from hangar.base.errors import StoreFault
from hangar.parts import StockItem
from hangar.parts.choices import StockKind
from hangar.store import Fleet
limit = int(sys.argv[2])
if limit:
    import resource, signal
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
fleet = Fleet.open(Path(sys.argv[1]))
number = 0
while True:
    item = StockItem(code=f"S{number}", kind=StockKind.OTHER, text="long words " * 2_500)
    try:
        fleet.edit(f"Put {number}", lambda edit: edit.put(item))
    except StoreFault as fault:
        print(f"told {fault}", flush=True)
        break
    print(number, flush=True)
    number += 1
print("bins", len(fleet.records(StockItem)), flush=True)
"""


def fill(path: Path, limit: int = 0) -> tuple[int, str]:
    """Let a program write until there is no room; how many edits it told of, and its last words."""
    done = subprocess.run(
        [sys.executable, "-c", FILLER, str(path), str(limit)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=900,
    )
    *lines, sentence, still_read = done.stdout.splitlines()
    assert still_read == f"bins {len(lines)}"
    return len(lines), sentence


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 3 MB."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = IS_ROOT and shutil.which("mount") is not None
    command = ["mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", str(place)]
    if not mounted or subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("only the superuser may mount a small disk; the limit on file sizes is tried instead")
    yield place
    subprocess.run(["umount", str(place)], check=True)


def test_a_full_disk_is_told_and_every_told_edit_is_there(small_disk: Path) -> None:
    path = make_fleet(small_disk / "club.hangar")
    number, sentence = fill(path)
    assert sentence == "told Not saved: the disk is full."
    assert number > 5
    with Fleet.open(path, read_only=True) as fleet:
        assert len(fleet.records(StockItem)) == number
    shutil.rmtree(small_disk / "club backups")
    fleet = Fleet.open(path)
    fleet.edit("Put", lambda edit: edit.put(Setting(name="room", value="again")))
    with pytest.raises(StoreFault, match=r"No copy could be written .* disk is full"):
        fleet.close()
    assert list((small_disk / "club backups").iterdir()) == []
    report = check_file(path)
    assert report.sound, report


@POSIX
def test_a_limit_on_the_size_of_files_is_told_and_every_told_edit_is_there(fleet_file: Path) -> None:
    number, sentence = fill(fleet_file, limit=fleet_file.stat().st_size + 1_000_000)
    assert sentence.startswith("told Not saved: the disk")
    assert number > 5
    with Fleet.open(fleet_file) as fleet:
        assert len(fleet.records(StockItem)) == number
    assert check_file(fleet_file).sound


READER = """
import os, sys
from pathlib import Path
from hangar.base.errors import StoreFault
from hangar.parts import Setting
from hangar.store import Fleet
if os.geteuid() == 0:
    os.setgroups([]); os.setgid(65534); os.setuid(65534)
with Fleet.open(Path(sys.argv[1])) as fleet:
    print(fleet.read_only, *fleet.aircraft_codes())
    try:
        fleet.edit("Put", lambda edit: edit.put(Setting(name="a", value="b")))
    except StoreFault as fault:
        print(fault)
"""


@POSIX
@pytest.mark.parametrize("what", ["file", "folder"])
def test_a_read_only_place_is_read_and_nothing_in_it_changes(fast_folder: Path, what: str) -> None:
    fast_folder.chmod(0o755)
    path = make_fleet(fast_folder / "club.hangar")
    before = path.read_bytes()
    if what == "file":
        fast_folder.chmod(0o777)
        path.chmod(0o444)
    else:
        path.chmod(0o644 if IS_ROOT else 0o444)
        fast_folder.chmod(0o755 if IS_ROOT else 0o555)
    try:
        done = subprocess.run(
            [sys.executable, "-c", READER, str(path)], cwd=ROOT, capture_output=True, text=True, check=True
        )
        inside = sorted(path.name for path in fast_folder.iterdir())
    finally:
        fast_folder.chmod(0o755)
    assert done.stdout.splitlines() == [
        "True DUN",
        "The fleet is open for reading only: the file or its folder is read-only.",
    ]
    assert path.read_bytes() == before
    assert inside == ["club backups", "club.hangar"]


@POSIX
def test_a_second_program_is_told_who_writes_and_reads_only(fleet_file: Path) -> None:
    with editor() as writer:
        writer.start(fleet_file, 0)
        writer.wait_for(3)
        with Fleet.open(fleet_file) as second:
            assert second.read_only
            assert f"process {writer.pid}" in (second.held_by or "")
            seen = second.record(Setting, "count")
            assert seen is not None
            assert int(seen.value) >= 3
            with pytest.raises(StoreFault, match=f"for reading only: it is in use by .*process {writer.pid}"):
                second.edit("Put", lambda edit: edit.put(Setting(name="a", value="b")))
        writer.kill()
    with Fleet.open(fleet_file) as again:
        assert not again.read_only


@POSIX
@pytest.mark.parametrize("how", ["removed", "moved"])
def test_a_folder_that_vanishes_while_open_is_told(tmp_path: Path, how: str) -> None:
    folder = tmp_path / "fleet"
    folder.mkdir()
    path = make_fleet(folder / "club.hangar")
    fleet = Fleet.open(path)
    fleet.edit("Put", lambda edit: edit.put(Setting(name="a", value="b")))
    if how == "removed":
        shutil.rmtree(folder)
    else:
        folder.rename(tmp_path / "elsewhere")
    with pytest.raises(StoreFault, match="Not saved: the file"):
        fleet.edit("Put", lambda edit: edit.put(Setting(name="a", value="c")))
    saved = tmp_path / "saved.hangar"
    fleet.save_copy(saved)
    with pytest.raises(StoreFault, match="No backup could be written"):
        fleet.close()
    for place in (saved, *([tmp_path / "elsewhere" / "club.hangar"] if how == "moved" else [])):
        assert check_file(place).sound
        with Fleet.open(place, read_only=True) as kept:
            assert kept.records(Setting) == (Setting(name="a", value="b"),)
    with pytest.raises(StoreFault, match="There is no file"):
        Fleet.open(path)


def put_in_bin(edit: Edit, name: str) -> None:
    edit.change(Servo, ("0801",), bin=name)


def test_a_clock_set_back_neither_turns_history_round_nor_loses_the_newest_backup(fleet_file: Path) -> None:
    times = [datetime(2031, 5, 1, 12), datetime(2031, 5, 2, 12), datetime(1999, 1, 1), datetime(2001, 1, 1)]  # noqa: DTZ001
    for number, now in enumerate(times):
        with Fleet.open(fleet_file, clock=lambda now=now: now) as fleet:  # type: ignore[misc]
            fleet.edit(f"Edit {number}", partial(put_in_bin, name=str(number)))
    with Fleet.open(fleet_file) as fleet:
        changes = fleet.history(Servo, ("0801",))[: len(times)]
        assert [change.label for change in changes] == ["Edit 3", "Edit 2", "Edit 1", "Edit 0"]
        assert [change.when for change in changes] == times[::-1]
        assert str(fleet.undo_label) == "Edit 3"
    with Fleet.open(backups_of(fleet_file)[-1], read_only=True) as newest:
        assert str(newest.undo_label) == "Edit 3"
    late = datetime(2031, 5, 2, 12) + timedelta(microseconds=2)  # noqa: DTZ001
    assert f"{late:%Y-%m-%d %H%M%S %f}" in backups_of(fleet_file)[-1].name


def test_the_day_of_a_stay_may_lie_before_that_of_an_earlier_edit(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Fit", lambda edit: edit.fit_servo("0802", "DUN", "ELE", date(2025, 1, 1)))
        fleet.edit("Take out", lambda edit: edit.unfit_servo("0802", date(2025, 2, 1)))
        fleet.edit("Fit back then", lambda edit: edit.fit_servo("0802", "DUN", "ELE", date(2024, 6, 1)))
        stays = fleet.whereabouts("0802").stays
    assert [stay.since_on for stay in stays] == [date(2024, 6, 1), date(2025, 1, 1)]
