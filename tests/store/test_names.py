"""One fleet under several names has one lock, one set of backups, and the rights its keeper gave it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from hangar.base.errors import StoreFault
from hangar.parts import Servo
from hangar.store import Edit, Fleet, check_file, restore_backup
from hangar.store.backups import backups_of
from hangar.store.lock import FleetLock, is_held_here
from tests.faults.stream import ROOT

pytestmark = pytest.mark.skipif(os.name != "posix", reason="needs the links and rights of POSIX")

READER = """
import sys
from hangar.store import Fleet
with Fleet.open(sys.argv[1]) as fleet:
    print(fleet.read_only)
"""


def bin_it(edit: Edit) -> None:
    edit.change(Servo, ("0801",), bin="A1")


@pytest.fixture(params=["symbolic link", "hard link", "hard link elsewhere"])
def other_name(request: pytest.FixtureRequest, fleet_file: Path) -> Path:
    if request.param == "symbolic link":
        name = fleet_file.parent / "elsewhere" / "other.hangar"
        name.parent.mkdir()
        name.symlink_to(fleet_file)
        return name
    name = fleet_file.parent / ("elsewhere" if "elsewhere" in request.param else "") / "other.hangar"
    name.parent.mkdir(exist_ok=True)
    os.link(fleet_file, name)
    return name


def test_a_file_opened_under_another_name_is_for_reading_only(fleet_file: Path, other_name: Path) -> None:
    for path, two in ((fleet_file, other_name), (other_name, fleet_file)):
        with Fleet.open(path) as first, Fleet.open(two) as second:
            assert not first.read_only
            assert second.read_only
            first.edit("Bin it", bin_it)
            with pytest.raises(StoreFault, match="for reading only: it is in use"):
                second.edit("Bin it", bin_it)
        assert not is_held_here(fleet_file)


def test_another_program_is_kept_out_under_the_other_name(fleet_file: Path, other_name: Path) -> None:
    command = [sys.executable, "-c", READER, str(other_name)]
    for held in ("True\n", "False\n"):
        if held == "True\n":
            with Fleet.open(fleet_file):
                done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
        else:
            done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
        assert done.stdout == held


def test_a_file_made_just_now_is_barred_under_other_names_too(tmp_path: Path) -> None:
    path = tmp_path / "new.hangar"
    with Fleet.create(path):
        os.link(path, tmp_path / "other.hangar")
        with Fleet.open(tmp_path / "other.hangar") as other:
            assert other.read_only


def test_looking_at_a_file_that_is_open_keeps_others_out_all_the_same(fleet_file: Path) -> None:
    """Closing a second handle of a file lets go of all locks that a process has on it by POSIX."""
    with Fleet.open(fleet_file) as fleet:
        link = fleet._door.file
        assert link is not None
        link.execute("BEGIN EXCLUSIVE")
        assert FleetLock.take(fleet_file) is None
        ask = "import sqlite3, sys; sqlite3.connect(sys.argv[1], timeout=0).execute('SELECT * FROM servo')"
        with pytest.raises(StoreFault, match="another program is writing"):
            check_file(fleet_file)
        command = [sys.executable, "-c", ask, str(fleet_file)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert "database is locked" in done.stderr
        link.execute("ROLLBACK")


def test_a_symbolic_link_leads_to_the_one_set_of_backups_and_to_the_one_restored_file(
    fleet_file: Path,
) -> None:
    name = fleet_file.parent / "elsewhere" / "other.hangar"
    name.parent.mkdir()
    name.symlink_to(fleet_file)
    with Fleet.open(name) as fleet:
        fleet.edit("Bin it", bin_it)
    assert [path.name for path in name.parent.iterdir()] == ["other.hangar"]
    first, _ = backups_of(fleet_file)
    assert backups_of(name) == backups_of(fleet_file)
    restore_backup(name, first)
    assert name.is_symlink()
    for place in (name, fleet_file):
        with Fleet.open(place, read_only=True) as fleet:
            assert fleet.records(Servo, tag="0801")[0].bin is None
    assert check_file(name).path == fleet_file


@pytest.mark.parametrize("mode", [0o600, 0o660, 0o644])
def test_backups_copies_and_restored_files_keep_the_rights_of_the_file(fleet_file: Path, mode: int) -> None:
    fleet_file.chmod(mode)
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Bin it", bin_it)
        fleet.save_copy(fleet_file.with_name("copy.hangar"))
    newest = backups_of(fleet_file)[-1]
    assert newest.stat().st_mode & 0o777 == mode
    assert fleet_file.with_name("copy.hangar").stat().st_mode & 0o777 == mode
    aside = restore_backup(fleet_file, newest)
    assert fleet_file.stat().st_mode & 0o777 == mode
    assert aside.stat().st_mode & 0o777 == mode


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only the superuser gives files away"
)
def test_backups_and_restored_files_keep_the_owner_of_the_file(fleet_file: Path) -> None:
    os.chown(fleet_file, 1234, 1235)
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Bin it", bin_it)
    aside = restore_backup(fleet_file)
    for path in (fleet_file, aside, backups_of(fleet_file)[-1]):
        assert (path.stat().st_uid, path.stat().st_gid) == (1234, 1235)
