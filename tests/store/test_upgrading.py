"""An older file is upgraded whole or not at all, after a copy was put aside."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import Connection

from hangar.base.errors import StoreFault
from hangar.store import Fleet, check_file
from hangar.store.backups import backups_of
from hangar.store.file import open_file
from hangar.store.upgrades import STEPS, VERSION, upgrade


def add_table(link: Connection) -> None:
    link.exec_driver_sql("CREATE TABLE extra (id INTEGER PRIMARY KEY)")


def fail(link: Connection) -> None:
    link.exec_driver_sql("CREATE TABLE more (id INTEGER PRIMARY KEY)")
    link.exec_driver_sql("INSERT INTO nowhere VALUES (1)")


def test_an_older_file_is_upgraded_after_a_copy_was_put_aside(fleet_file: Path) -> None:
    before = len(backups_of(fleet_file))
    link = open_file(fleet_file, steps=(*STEPS, add_table))
    assert link.execute("PRAGMA user_version").fetchone()[0] == VERSION + 1
    assert link.execute("SELECT count(*) FROM servo").fetchone()[0] == 3
    link.close()
    kept = backups_of(fleet_file)
    assert len(kept) == before + 1
    assert f"version-{VERSION}" in kept[-1].name
    with Fleet.open(kept[-1]) as copy:
        assert copy.aircraft_codes() == ("DUN",)


def test_a_failing_upgrade_leaves_the_file_as_it_was(fleet_file: Path) -> None:
    with pytest.raises(StoreFault, match="cannot be opened: no such table: nowhere"):
        open_file(fleet_file, steps=(*STEPS, add_table, fail))
    with Fleet.open(fleet_file) as fleet:
        assert fleet.aircraft_codes() == ("DUN",)
    assert check_file(fleet_file).version == VERSION


def test_an_older_file_that_is_only_read_stays_as_it_is_and_is_read_all_the_same(fleet_file: Path) -> None:
    before, kept = fleet_file.read_bytes(), backups_of(fleet_file)
    link = open_file(fleet_file, read_only=True, steps=(*STEPS, add_table))
    assert link.execute("SELECT count(*) FROM extra").fetchone() == (0,)
    assert link.execute("SELECT count(*) FROM servo").fetchone() == (3,)
    with pytest.raises(sqlite3.OperationalError, match="readonly"):
        link.execute("DELETE FROM servo")
    link.close()
    assert fleet_file.read_bytes() == before
    assert backups_of(fleet_file) == kept


def test_an_upgrade_that_breaks_a_link_is_refused() -> None:
    def break_link(link: Connection) -> None:
        link.exec_driver_sql("INSERT INTO servo (tag, servo_type, state) VALUES ('1', 'gone', 'fitted')")

    link = sqlite3.connect(":memory:", isolation_level=None)
    with pytest.raises(sqlite3.IntegrityError, match="1 rows name parts that are not there"):
        upgrade(link, (*STEPS, break_link))
    assert link.execute("SELECT count(*) FROM sqlite_master").fetchone()[0] == 0
    link.close()
