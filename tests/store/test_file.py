"""A fleet file is refused in words when it is not one, held by one writer, copied, and survives a kill."""

from __future__ import annotations

import errno
import hashlib
import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from hangar.base.errors import BadInput, StoreFault
from hangar.parts import Servo, Setting
from hangar.store import Edit, Fleet, check_file
from hangar.store.backups import BACKUPS_KEPT, backups_of
from hangar.store.faults import hindrance_of
from hangar.store.file import open_file
from hangar.store.linking import connect
from hangar.store.lock import FleetLock, holder_of, lock_path
from hangar.store.upgrades import APPLICATION_ID, VERSION, schema_sql

DAY = date(2025, 6, 1)


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def bin_it(edit: Edit) -> None:
    edit.change(Servo, ("0801",), bin="A1")


def test_everything_is_there_again_after_closing_and_opening(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        before = fleet.whole_fleet(DAY)
    with Fleet.open(fleet_file) as fleet:
        assert fleet.whole_fleet(DAY) == before
        assert fleet.title == "club"
        assert fleet.path == fleet_file


def test_undo_and_redo_survive_a_restart(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Bin it", bin_it)
    with Fleet.open(fleet_file) as fleet:
        assert str(fleet.undo_label) == "Bin it"
        fleet.undo()
    with Fleet.open(fleet_file) as fleet:
        assert fleet.records(Servo, tag="0801")[0].bin is None
        assert str(fleet.redo_label) == "Bin it"
        fleet.redo()
        assert fleet.records(Servo, tag="0801")[0].bin == "A1"


def test_a_name_without_ending_gets_one_and_a_present_file_is_never_overwritten(tmp_path: Path) -> None:
    with Fleet.create(tmp_path / "fleet") as fleet:
        assert fleet.path == tmp_path / "fleet.hangar"
    with pytest.raises(BadInput, match="exists already"):
        Fleet.create(tmp_path / "fleet")


def test_the_keeper_may_name_his_fleet(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Name", lambda edit: edit.put(Setting(name="fleet.title", value="Larkenholt")))
        assert fleet.title == "Larkenholt"


def test_the_safety_settings_are_on(fleet_file: Path) -> None:
    link = open_file(fleet_file)
    kept = {
        name: link.execute(f"PRAGMA {name}").fetchone()[0]
        for name in (
            "foreign_keys",
            "journal_mode",
            "synchronous",
            "trusted_schema",
            "application_id",
            "user_version",
        )
    }
    link.close()
    assert kept == {
        "foreign_keys": 1,
        "journal_mode": "delete",
        "synchronous": 3,
        "trusted_schema": 0,
        "application_id": APPLICATION_ID,
        "user_version": VERSION,
    }


def make_text(path: Path) -> None:
    path.write_text("Model,Ch\nWindrush,1\n" * 20)


def make_empty(path: Path) -> None:
    path.write_bytes(b"")


def make_foreign(path: Path) -> None:
    link = sqlite3.connect(path)
    link.execute("CREATE TABLE notes (text TEXT)")
    link.close()


def make_newer(path: Path) -> None:
    link = sqlite3.connect(path)
    for statement in schema_sql():
        link.execute(statement)
    link.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    link.execute(f"PRAGMA user_version = {VERSION + 1}")
    link.close()


def make_torn(path: Path) -> None:
    Fleet.create(path).close()
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (make_text, "is not a fleet file"),
        (make_empty, "is empty, so it is not"),
        (make_foreign, "a database of another program"),
        (make_newer, "written by a newer Hangar"),
        (make_torn, "damaged|cannot be opened"),
    ],
)
def test_what_is_no_fleet_is_refused_and_left_as_it_is(tmp_path: Path, make: object, sentence: str) -> None:
    path = tmp_path / "odd.hangar"
    assert callable(make)
    make(path)
    before = digest(path)
    with pytest.raises(StoreFault, match=sentence):
        Fleet.open(path)
    assert digest(path) == before
    assert not lock_path(path).exists()


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(StoreFault, match="There is no file"):
        Fleet.open(tmp_path / "none.hangar")


def test_a_damaged_file_names_the_newest_backup(fleet_file: Path) -> None:
    kept = backups_of(fleet_file)[-1]
    whole = fleet_file.read_bytes()
    fleet_file.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(StoreFault, match="newest backup") as fault:
        Fleet.open(fleet_file)
    assert str(kept) in str(fault.value)
    with Fleet.open(kept) as copy:
        assert copy.aircraft_codes() == ("DUN",)


def test_the_second_one_to_open_reads_only_and_is_told_who_writes(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as first, Fleet.open(fleet_file) as second:
        assert not first.read_only
        assert second.read_only
        assert second.held_by is not None
        assert f"process {os.getpid()}" in second.held_by
        assert second.aircraft_codes() == ("DUN",)
        with pytest.raises(StoreFault, match=f"for reading only: it is in use by .*process {os.getpid()}"):
            second.edit("Bin it", bin_it)
        first.edit("Bin it", bin_it)
        assert second.records(Servo, tag="0801")[0].bin == "A1"
    with Fleet.open(fleet_file) as again:
        assert not again.read_only
    assert not lock_path(fleet_file).exists()


def test_reading_only_changes_no_byte(fleet_file: Path) -> None:
    before = digest(fleet_file)
    with Fleet.open(fleet_file, read_only=True) as fleet:
        assert fleet.aircraft_codes() == ("DUN",)
        with pytest.raises(StoreFault, match="reading only"):
            fleet.edit("Bin it", bin_it)
        with pytest.raises(StoreFault, match="reading only"):
            fleet.undo()
    assert digest(fleet_file) == before


def test_a_lock_left_behind_by_a_dead_process_holds_nothing(fleet_file: Path) -> None:
    lock_path(fleet_file).write_text("somebody on a machine, process 1, since long ago")
    assert holder_of(fleet_file).startswith("somebody")
    with Fleet.open(fleet_file) as fleet:
        assert not fleet.read_only


def test_a_lock_can_be_taken_once(tmp_path: Path) -> None:
    path = tmp_path / "x.hangar"
    first = FleetLock.take(path)
    assert first is not None
    assert FleetLock.take(path) is None
    first.let_go()
    first.let_go()
    second = FleetLock.take(path)
    assert second is not None
    second.let_go()


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="the superuser may write everywhere")
def test_a_file_in_a_folder_that_cannot_be_written_is_read_only(fleet_file: Path) -> None:
    fleet_file.parent.chmod(0o500)
    try:
        with Fleet.open(fleet_file) as fleet:
            assert fleet.read_only
            assert fleet.held_by is None
    finally:
        fleet_file.parent.chmod(0o700)


def test_closing_after_changes_keeps_dated_copies_and_only_the_last_ten(fleet_file: Path) -> None:
    for number in range(BACKUPS_KEPT + 2):
        with Fleet.open(fleet_file) as fleet:
            fleet.edit("Bin it", lambda edit, number=number: edit.change(Servo, ("0801",), bin=str(number)))  # type: ignore[misc]
    kept = backups_of(fleet_file)
    assert len(kept) == BACKUPS_KEPT
    with Fleet.open(kept[-1], read_only=True) as newest, Fleet.open(kept[-2], read_only=True) as before:
        assert newest.records(Servo, tag="0801")[0].bin == str(BACKUPS_KEPT + 1)
        assert before.records(Servo, tag="0801")[0].bin == str(BACKUPS_KEPT)
        assert str(newest.undo_label) == "Bin it"


def test_closing_without_changes_keeps_no_copy(fleet_file: Path) -> None:
    before = backups_of(fleet_file)
    with Fleet.open(fleet_file) as fleet:
        fleet.whole_fleet()
    assert backups_of(fleet_file) == before


def test_a_saved_copy_is_a_whole_fleet(fleet_file: Path, tmp_path: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        fleet.save_copy(tmp_path / "copy.hangar")
        with Fleet.open(tmp_path / "copy.hangar") as copy:
            assert copy.whole_fleet(DAY) == fleet.whole_fleet(DAY)


def test_a_copy_that_cannot_be_written_leaves_nothing_behind(fleet_file: Path, tmp_path: Path) -> None:
    with Fleet.open(fleet_file) as fleet, pytest.raises(StoreFault, match="No copy could be written"):
        fleet.save_copy(tmp_path / "nowhere" / "copy.hangar")


def test_checking_a_file_tells_version_soundness_and_backups(fleet_file: Path) -> None:
    report = check_file(fleet_file)
    assert report.sound
    assert report.version == VERSION
    assert len(report.backups) == 1
    assert "is sound; 1 backups" in str(report)


def test_checking_finds_a_row_that_names_a_missing_part(fleet_file: Path) -> None:
    link = sqlite3.connect(fleet_file)
    with link:
        link.execute("UPDATE servo SET servo_type = 'gone' WHERE tag = '0801'")
    link.close()
    report = check_file(str(fleet_file))
    assert tuple(map(str, report.faults)) == (
        "a row of servo names a servo_type that is not there",
        "servo 0801: servo_type is 'gone', the history says 'TS-31'",
    )


def test_a_full_disk_is_told_and_nothing_is_lost(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        link = fleet._door.file
        assert link is not None
        pages = link.execute("PRAGMA page_count").fetchone()[0]
        link.execute(f"PRAGMA max_page_count = {pages}")
        big = "long words " * 2_500
        many = [Setting(name=f"s{number}", value=big) for number in range(10)]

        def one_by_one(edit: Edit) -> None:
            for record in many:
                edit.put(record)

        works: tuple[Callable[[Edit], None], ...] = (lambda edit: edit.put_all(many), one_by_one)
        for work in works:
            with pytest.raises(StoreFault, match="Not saved: the disk is full"):
                fleet.edit("Write a lot", work)
            assert fleet.records(Setting) == ()
        link.execute("PRAGMA max_page_count = 1000000")
        fleet.edit("Bin it", bin_it)
    assert check_file(fleet_file).sound


def test_a_writer_from_outside_is_told(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        other = connect(fleet_file)
        other.execute("BEGIN IMMEDIATE")
        try:
            assert fleet._door.file is not None
            fleet._door.file.execute("PRAGMA busy_timeout = 1")
            with pytest.raises(StoreFault, match="another program is writing"):
                fleet.edit("Bin it", bin_it)
        finally:
            other.execute("ROLLBACK")
            other.close()
        fleet.edit("Bin it", bin_it)


def test_a_closed_fleet_answers_no_more(fleet_file: Path) -> None:
    fleet = Fleet.open(fleet_file)
    fleet.close()
    fleet.close()
    with pytest.raises(StoreFault, match="closed"):
        fleet.airframes()
    with pytest.raises(StoreFault, match="closed"):
        fleet.edit("Bin it", bin_it)


WRITER = """
import sys
from pathlib import Path
from hangar.parts import Servo
from hangar.store import Fleet
fleet = Fleet.open(Path(sys.argv[1]))
number = int(sys.argv[2])
while True:
    number += 1
    fleet.edit("Count", lambda edit: edit.change(Servo, ("0801",), bin=str(number)))
    print(number, flush=True)
"""


@pytest.mark.slow
@pytest.mark.skipif(os.name != "posix", reason="needs a signal that cannot be caught")
def test_a_kill_loses_no_edit_that_was_acknowledged(fleet_file: Path) -> None:
    acknowledged = 0
    for round_number in range(5):
        command = [sys.executable, "-c", WRITER, str(fleet_file), str(acknowledged)]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
            assert child.stdout is not None
            for _ in range(3 + 7 * round_number):
                acknowledged = int(child.stdout.readline())
            child.send_signal(signal.SIGKILL)
            acknowledged = max([acknowledged, *map(int, child.stdout.read().split())])
        with Fleet.open(fleet_file) as fleet:
            assert not fleet.read_only
            stored = int(fleet.records(Servo, tag="0801")[0].bin or 0)
        assert stored in (acknowledged, acknowledged + 1)
        acknowledged = stored
    assert check_file(fleet_file).sound


def test_opening_the_store_loads_no_number_or_spreadsheet_library() -> None:
    heavy = ("numpy", "scipy", "openpyxl", "reportlab")
    code = f"import sys, hangar.store; print([name for name in {heavy} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_reader_beside_the_writer_is_told_what_was_written(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as writer, Fleet.open(fleet_file) as reader:
        assert (writer.is_shared, reader.is_shared, reader.is_in_memory) == (False, True, False)
        assert reader.changes_elsewhere() is None
        writer.edit("Name", lambda edit: edit.put(Setting(name="fleet.title", value="Larkenholt")))
        assert set(reader.changes_elsewhere() or ()) == {"setting"}
        assert reader.changes_elsewhere() is None


def test_a_fleet_without_a_file_says_so() -> None:
    with Fleet.in_memory() as fleet:
        assert (fleet.is_in_memory, fleet.is_shared) == (True, False)


def test_a_file_cut_short_is_called_damaged_in_plain_words(fleet_file: Path) -> None:
    fleet_file.write_bytes(fleet_file.read_bytes()[: fleet_file.stat().st_size // 3])
    with pytest.raises(StoreFault, match="damaged") as fault:
        Fleet.open(fleet_file)
    assert "malformed" not in str(fault.value)


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "the file or its folder is read-only"),
        (errno.EACCES, "the file or its folder is read-only"),
        (errno.EIO, os.strerror(errno.EIO)),
    ],
)
def test_what_hinders_writing_is_said_in_words(number: int, words: str) -> None:
    assert str(hindrance_of(OSError(number, os.strerror(number)))) == words
