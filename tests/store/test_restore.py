"""A damaged file names its newest sound backup, and that can be put in its place without loss."""

from __future__ import annotations

import sqlite3
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from hangar.base.errors import BadInput, StoreFault
from hangar.commands import main
from hangar.parts import Servo, Setting
from hangar.store import BrokenFile, Fleet, check_file, restore_backup
from hangar.store.backups import BACKUPS_KEPT, SUM_SUFFIX, backups_of, outlived, sum_holds
from hangar.store.lock import lock_path

NOON = datetime(2026, 3, 14, 12)  # noqa: DTZ001


def spoil_nothing(path: Path) -> None:
    path.write_bytes(b"")


def spoil_first_bytes(path: Path) -> None:
    whole = bytearray(path.read_bytes())
    whole[:8] = b"spoiled!"
    path.write_bytes(whole)


def spoil_all(path: Path) -> None:
    path.write_text("Model,Ch\n" * 4000)


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 3])


def cut_to_a_stub(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:50])


def spoil_the_middle(path: Path) -> None:
    whole = bytearray(path.read_bytes())
    whole[4096 : 4096 * 20] = Random(3).randbytes(4096 * 19)
    path.write_bytes(whole)


def take_away(path: Path) -> None:
    path.unlink()


def replace_by_another_program(path: Path) -> None:
    path.unlink()
    link = sqlite3.connect(path)
    link.execute("CREATE TABLE notes (text TEXT)")
    link.close()


SPOILERS = [
    spoil_nothing,
    spoil_first_bytes,
    spoil_all,
    cut_short,
    cut_to_a_stub,
    spoil_the_middle,
    take_away,
    replace_by_another_program,
]


@pytest.mark.parametrize("spoil", SPOILERS, ids=lambda spoil: spoil.__name__)
def test_a_spoiled_file_is_refused_with_its_newest_backup_and_restored_by_the_command(
    fleet_file: Path, spoil: object, capsys: pytest.CaptureFixture[str]
) -> None:
    newest = backups_of(fleet_file)[-1]
    assert callable(spoil)
    spoil(fleet_file)
    left = fleet_file.read_bytes() if fleet_file.exists() else None
    with pytest.raises(BrokenFile) as fault:
        Fleet.open(fleet_file)
    assert fault.value.newest_backup == newest
    assert str(newest) in str(fault.value)
    assert (fleet_file.read_bytes() if fleet_file.exists() else None) == left
    assert main(["inspect", str(fleet_file)]) == 2
    capsys.readouterr()
    assert main(["check-file", str(fleet_file), "--restore", "newest"]) == 0
    words = capsys.readouterr().out
    assert f"{fleet_file} was restored" in words
    assert "is sound" in words
    with Fleet.open(fleet_file) as fleet:
        assert fleet.aircraft_codes() == ("DUN",)
        assert str(fleet.undo_label) == "Build the trainer"
    kept = list(newest.parent.glob("* replaced *"))
    assert [path.read_bytes() for path in kept] == ([] if left is None else [left])


def test_a_flipped_bit_that_sqlite_does_not_see_is_found_by_the_history(
    fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = bytearray(fleet_file.read_bytes())
    # The stall torque 0.31 as it lies in the table of ratings; the journal writes it as text.
    at = whole.index(bytes.fromhex("3fd3d70a3d70a3d7"))
    whole[at + 7] ^= 1 << 4
    fleet_file.write_bytes(whole)
    link = sqlite3.connect(fleet_file)
    assert link.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    link.close()
    (fault,) = check_file(fleet_file).faults
    assert str(fault).startswith("servo rating TS-31 4.8: torque_nm is 0.309")
    assert str(fault).endswith("the history says 0.31")
    assert main(["check-file", str(fleet_file)]) == 2
    assert "has faults: servo rating TS-31 4.8: torque_nm" in capsys.readouterr().out


def test_a_backup_that_was_changed_is_passed_over_and_refused(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Bin it", lambda edit: edit.change(Servo, ("0801",), bin="A1"))
    older, newest = backups_of(fleet_file)
    whole = bytearray(newest.read_bytes())
    whole[-3] ^= 1
    newest.write_bytes(whole)
    assert not sum_holds(newest)
    fleet_file.write_bytes(b"")
    with pytest.raises(BrokenFile) as fault:
        Fleet.open(fleet_file)
    assert fault.value.newest_backup == older
    with pytest.raises(StoreFault, match="was changed since it was written"):
        restore_backup(fleet_file, newest)
    assert fleet_file.read_bytes() == b""
    restore_backup(fleet_file)
    with Fleet.open(fleet_file) as fleet:
        assert fleet.records(Servo, tag="0801")[0].bin is None


def test_an_unfinished_change_of_the_old_file_does_not_spoil_the_restored_one(fleet_file: Path) -> None:
    journal = fleet_file.with_name(fleet_file.name + "-journal")
    journal.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + bytes(600))
    aside = restore_backup(fleet_file, now=NOON)
    assert not journal.exists()
    assert aside.with_name(aside.name + "-journal").exists()
    assert check_file(fleet_file).sound


def test_what_cannot_be_restored_is_told(fleet_file: Path, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="There is no backup nowhere; there are: club "):
        restore_backup(fleet_file, "nowhere")
    with pytest.raises(BadInput, match="cannot be restored from itself"):
        restore_backup(fleet_file, fleet_file)
    (tmp_path / "text").write_text("no fleet")
    with pytest.raises(StoreFault, match="is not a fleet file"):
        restore_backup(fleet_file, tmp_path / "text")
    with pytest.raises(BadInput, match="There is no sound backup"):
        restore_backup(tmp_path / "other.hangar")
    with Fleet.open(fleet_file), pytest.raises(StoreFault, match=r"is in use by .*; close it there first"):
        restore_backup(fleet_file)
    assert check_file(fleet_file).sound
    assert not lock_path(fleet_file).exists()


def test_a_backup_may_be_named_without_its_folder(fleet_file: Path) -> None:
    name = backups_of(fleet_file)[-1].name
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Set", lambda edit: edit.put(Setting(name="a", value="b")))
    restore_backup(fleet_file, name)
    with Fleet.open(fleet_file) as fleet:
        assert fleet.records(Setting) == ()


def test_old_backups_are_thinned_to_one_a_day_a_week_a_month(tmp_path: Path) -> None:
    path = tmp_path / "club.hangar"
    moments = [NOON - timedelta(hours=8 * number) for number in range(3 * 500)]
    copies = [tmp_path / f"club {moment:%Y-%m-%d %H%M%S %f}.hangar" for moment in moments]
    gone = set(outlived(path, copies))
    kept = [moment for moment, copy in zip(moments, copies, strict=True) if copy not in gone]
    assert kept[:BACKUPS_KEPT] == moments[:BACKUPS_KEPT]
    assert 20 <= len(kept) <= BACKUPS_KEPT + 7 + 4 + 12
    for days in range(1, 8):
        assert any(timedelta(days=days - 1) <= NOON - moment <= timedelta(days=days) for moment in kept)
    older = [moment for moment in kept if NOON - moment > timedelta(days=35)]
    assert len({(moment.year, moment.month) for moment in older}) == len(older) >= 10
    assert NOON - kept[-1] <= timedelta(days=31 * 12)


def test_a_backup_that_goes_takes_its_checksum_along(fleet_file: Path) -> None:
    for number in range(BACKUPS_KEPT + 3):
        with Fleet.open(fleet_file, clock=lambda: NOON) as fleet:
            fleet.edit("Set", lambda edit, number=number: edit.put(Setting(name="a", value=str(number))))  # type: ignore[misc]
    kept = backups_of(fleet_file)
    notes = {path.name for path in kept[0].parent.glob(f"*{SUM_SUFFIX}")}
    assert notes == {path.name + SUM_SUFFIX for path in kept}
    assert all(sum_holds(path) for path in kept)
