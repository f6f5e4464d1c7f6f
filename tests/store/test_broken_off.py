"""After a crash in the middle of saving, whoever reads the file first undoes what was broken off."""

from __future__ import annotations

import os
import shutil
import sqlite3
from datetime import datetime
from pathlib import Path

import pytest

from hangar.commands import main
from hangar.parts import Servo, Setting
from hangar.store import BrokenFile, Fleet, check_file, restore_backup
from hangar.store.backups import backups_of, settle
from hangar.store.lock import FleetLock, lock_path
from tests.store.crashing import journal_of, leave_half_an_edit

NOON = datetime(2026, 3, 14, 12)  # noqa: DTZ001


@pytest.fixture
def crashed(fleet_file: Path) -> Path:
    """A sound fleet with an edit after its newest backup, and half of another that a crash broke off."""
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Bin it", lambda edit: edit.change(Servo, ("0801",), bin="A1"))
    for kept in backups_of(fleet_file)[1:]:
        kept.unlink()
    leave_half_an_edit(fleet_file)
    return fleet_file


def holds_the_last_edit(path: Path) -> bool:
    with Fleet.open(path, read_only=True) as fleet:
        assert fleet.airframes()[0].name == "Dunnalow"
        return {servo.bin for servo in fleet.records(Servo)} == {"A1", None}


@pytest.mark.parametrize("command", ["check-file", "inspect"])
def test_a_command_that_only_reads_finds_a_sound_fleet(
    crashed: Path, command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, str(crashed)]) in (0, 1)
    words = "".join(capsys.readouterr())
    assert not any(word in words for word in ("damaged", "--restore", "read-only", "faults"))
    assert not journal_of(crashed).exists()
    assert not lock_path(crashed).exists()
    assert holds_the_last_edit(crashed)


def test_reading_and_writing_find_the_last_edit_that_was_told(crashed: Path) -> None:
    assert holds_the_last_edit(crashed)
    leave_half_an_edit(crashed)
    with Fleet.open(crashed) as fleet:
        assert not fleet.read_only
        assert str(fleet.undo_label) == "Bin it"
    assert check_file(crashed).sound


def test_where_nothing_can_be_written_a_copy_is_read(crashed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = crashed.read_bytes(), journal_of(crashed).read_bytes()
    can = os.access
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK and can(path, mode))
    assert holds_the_last_edit(crashed)
    assert check_file(crashed).sound
    with Fleet.open(crashed) as fleet:
        assert fleet.read_only
        assert fleet.hindrance
    assert (crashed.read_bytes(), journal_of(crashed).read_bytes()) == before


def test_where_no_lock_can_be_written_a_copy_is_read(crashed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(path: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(FleetLock, "take", refuse)
    assert holds_the_last_edit(crashed)
    assert journal_of(crashed).exists()


def test_the_journal_of_somebody_who_is_writing_is_left_alone(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        assert fleet._door.file is not None
        fleet._door.file.execute("BEGIN IMMEDIATE")
        fleet._door.file.execute("UPDATE servo SET bin = 'under way'")
        assert journal_of(fleet_file).exists()
        with Fleet.open(fleet_file, read_only=True) as other:
            assert {servo.bin for servo in other.records(Servo)} == {None}
        assert check_file(fleet_file).sound
        fleet._door.file.execute("COMMIT")
    with Fleet.open(fleet_file, read_only=True) as again:
        assert {servo.bin for servo in again.records(Servo)} == {"under way"}


def test_a_file_that_somebody_keeps_busy_is_not_called_damaged(fleet_file: Path) -> None:
    link = sqlite3.connect(fleet_file, isolation_level=None)
    link.execute("BEGIN EXCLUSIVE")
    try:
        for look in (check_file, lambda path: Fleet.open(path, read_only=True)):
            with pytest.raises(Exception, match="another program is writing to the file") as fault:
                look(fleet_file)
            assert not isinstance(fault.value, BrokenFile)
            assert "--restore" not in str(fault.value)
    finally:
        link.execute("ROLLBACK")
        link.close()


def test_restoring_over_a_crash_leaves_no_half_edit_and_sets_both_files_aside(crashed: Path) -> None:
    before = crashed.read_bytes(), journal_of(crashed).read_bytes()
    aside = restore_backup(crashed, now=NOON)
    assert (aside.read_bytes(), journal_of(aside).read_bytes()) == before
    assert not journal_of(crashed).exists()
    assert check_file(crashed).sound
    with Fleet.open(crashed) as fleet:
        assert {servo.bin for servo in fleet.records(Servo)} == {None}
    shutil.move(aside, aside.with_suffix(".hangar"))
    shutil.move(journal_of(aside), journal_of(aside.with_suffix(".hangar")))
    assert holds_the_last_edit(aside.with_suffix(".hangar"))


@pytest.mark.parametrize(("edits", "words"), [
    (0, "No edit was made after it."),
    (1, "1 edit was made after it and would be lost."),
    (3, "3 edits were made after it and would be lost."),
])  # fmt: skip
def test_the_offer_to_restore_says_what_it_costs(fleet_file: Path, edits: int, words: str) -> None:
    with Fleet.open(fleet_file) as fleet:
        for number in range(edits):
            fleet.edit("Set", lambda edit, number=number: edit.put(Setting(name="a", value=str(number))))  # type: ignore[misc]
        fleet._turns.has_changed = False
    link = sqlite3.connect(fleet_file, isolation_level=None)
    (page,) = link.execute("SELECT rootpage FROM sqlite_master WHERE name = 'linkage'").fetchone()
    (size,) = link.execute("PRAGMA page_size").fetchone()
    link.close()
    whole = bytearray(fleet_file.read_bytes())
    whole[(page - 1) * size : page * size] = b"\xff" * size
    fleet_file.write_bytes(whole)
    with pytest.raises(BrokenFile) as fault:
        Fleet.open(fleet_file)
    assert str(fault.value.cost) == words
    assert words in str(fault.value)


def test_a_cost_that_cannot_be_told_is_said_to_be_unknown(fleet_file: Path) -> None:
    fleet_file.write_bytes(b"")
    with pytest.raises(BrokenFile, match=r"How many edits were made after it cannot be told\."):
        Fleet.open(fleet_file)


def test_what_a_crash_left_of_copies_is_swept_away(fleet_file: Path) -> None:
    folder = backups_of(fleet_file)[0].parent
    left = [
        fleet_file.with_name(fleet_file.name + ".part"),
        fleet_file.with_name(fleet_file.name + ".part-journal"),
        folder / "club 2026-01-01 000000 000000.hangar.part",
        folder / "club 2026-01-01 000000 000000.hangar.part-journal",
        folder / "club 2026-01-01 000000 000000.hangar.sha256",
    ]
    for path in left:
        path.write_bytes(b"half")
    kept = folder / "notes of mine.part"
    kept.write_bytes(b"mine")
    before = backups_of(fleet_file)
    Fleet.open(fleet_file, read_only=True).close()
    assert all(path.exists() for path in left)
    Fleet.open(fleet_file).close()
    assert not any(path.exists() for path in left)
    assert kept.exists()
    assert backups_of(fleet_file) == before


def test_a_fleet_being_made_shows_itself_only_when_it_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []
    path = tmp_path / "new.hangar"

    def watched(draft: Path, place: Path) -> None:
        seen.append((check_file(draft).sound, place.exists()))
        settle(draft, place)

    monkeypatch.setattr("hangar.store.file.settle", watched)
    Fleet.create(path).close()
    assert seen == [(True, False)]
    assert [path.name for path in tmp_path.iterdir()] == ["new.hangar"]
