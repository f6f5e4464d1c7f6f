"""Files of every version open for ever; an upgrade is whole or not at all, and a copy comes first."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import Connection

from hangar.base.errors import StoreFault
from hangar.parts import Attachment, Servo, ShoppingTick
from hangar.store import BrokenFile, Fleet, check_file
from hangar.store.backups import backups_of
from hangar.store.file import open_file, version_of
from hangar.store.upgrades import APPLICATION_ID, STEPS, VERSION, upgrade
from tests.store.make_sample import PAPER, SAMPLES

DAY = date(2026, 3, 14)


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


@pytest.mark.parametrize("version", range(1, VERSION + 1))
def test_the_sample_of_every_version_opens_with_all_that_was_in_it(tmp_path: Path, version: int) -> None:
    path = tmp_path / "old.hangar"
    shutil.copyfile(SAMPLES / f"version_{version}.hangar", path)
    with Fleet.open(path) as fleet:
        (aircraft,) = fleet.whole_fleet(DAY)
        assert {fit.code: fit.tag for fit in aircraft.fits} == {"AIL": None, "ELE": "0801"}
        assert [stay.place for stay in fleet.whereabouts("0801").stays] == ["AIL", "ELE"]
        assert (fleet.undo_label, fleet.redo_label) == ("Move", "Bin it")
        assert fleet.paper("weighing.pdf") == PAPER
        ticks = (
            [proof.proof for plan in aircraft.plans for proof in plan.proofs],
            len(fleet.records(ShoppingTick)),
        )
        assert ticks == ((["B0"], 1) if version > 1 else ([], 0))
        fleet.redo()
        assert fleet.records(Servo, tag="0802")[0].bin == "A1"
        for _ in range(4):
            fleet.undo()
        assert fleet.aircraft_codes() == ()
        assert fleet.records(Attachment) == ()
    assert check_file(path).sound


def schema(link: sqlite3.Connection) -> dict[str, str]:
    rows = link.execute("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL").fetchall()
    return {name: " ".join(str(sql).split()) for name, sql in rows}


@pytest.mark.parametrize("version", range(1, VERSION + 1))
def test_a_sample_brought_to_the_present_has_the_tables_of_a_fresh_file(tmp_path: Path, version: int) -> None:
    path = tmp_path / "old.hangar"
    shutil.copyfile(SAMPLES / f"version_{version}.hangar", path)
    old, fresh = open_file(path), sqlite3.connect(":memory:", isolation_level=None)
    upgrade(fresh)
    upgraded, wanted = schema(old), schema(fresh)
    old.close()
    fresh.close()
    assert upgraded == wanted, (
        "a noun was changed: while this version has not left the workshop extend its step and write its"
        " sample anew (python -m tests.store.make_sample); after that add a numbered step"
    )


def first_version(link: Connection) -> None:
    link.exec_driver_sql("CREATE TABLE part (id INTEGER PRIMARY KEY, tag VARCHAR NOT NULL, mass VARCHAR)")
    link.exec_driver_sql("CREATE TABLE stay (part INTEGER NOT NULL REFERENCES part (id), place VARCHAR)")
    link.exec_driver_sql("INSERT INTO part VALUES (1, '0801', '43 g'), (2, '0802', NULL)")
    link.exec_driver_sql("INSERT INTO stay VALUES (1, 'AIL')")


def mass_as_number(link: Connection) -> None:
    """Build a table anew under a stricter form, as SQLite wants it done."""
    link.exec_driver_sql(
        "CREATE TABLE new_part (id INTEGER PRIMARY KEY, tag VARCHAR NOT NULL UNIQUE,"
        " mass_g DOUBLE CHECK (mass_g > 0))"
    )
    link.exec_driver_sql(
        "INSERT INTO new_part SELECT id, tag, CAST(replace(mass, ' g', '') AS DOUBLE) FROM part"
        " WHERE mass IS NOT NULL UNION ALL SELECT id, tag, NULL FROM part WHERE mass IS NULL"
    )
    link.exec_driver_sql("DROP TABLE part")
    link.exec_driver_sql("ALTER TABLE new_part RENAME TO part")


def add_bin(link: Connection) -> None:
    link.exec_driver_sql("ALTER TABLE part ADD COLUMN bin VARCHAR")


def break_off(link: Connection) -> None:
    link.exec_driver_sql("DELETE FROM part")
    link.exec_driver_sql("INSERT INTO nowhere VALUES (1)")


def break_a_link(link: Connection) -> None:
    link.exec_driver_sql("DELETE FROM part WHERE id = 1")


def old_file(path: Path) -> Path:
    """A file of an older, made-up version 1."""
    link = sqlite3.connect(path, isolation_level=None)
    upgrade(link, (first_version,))
    link.close()
    return path


def test_a_file_two_versions_old_is_led_through_every_step_after_a_copy(tmp_path: Path) -> None:
    path = old_file(tmp_path / "old.hangar")
    link = open_file(path, steps=(first_version, mass_as_number, add_bin))
    assert version_of(link) == 3
    assert link.execute("SELECT tag, mass_g, bin FROM part").fetchall() == [
        ("0801", 43.0, None),
        ("0802", None, None),
    ]
    assert link.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
    assert link.execute("PRAGMA foreign_keys").fetchone() == (1,)
    assert link.execute("SELECT part, place FROM stay").fetchall() == [(1, "AIL")]
    link.close()
    (copy,) = backups_of(path)
    assert copy.name.endswith("version-1.hangar")
    before = open_file(copy, read_only=True, steps=(first_version,))
    assert before.execute("SELECT tag, mass FROM part").fetchall() == [("0801", "43 g"), ("0802", None)]
    before.close()


@pytest.mark.parametrize("step", [break_off, break_a_link])
def test_a_step_that_fails_leaves_the_file_byte_for_byte_as_it_was(tmp_path: Path, step: object) -> None:
    path = old_file(tmp_path / "old.hangar")
    before = digest(path)
    assert callable(step)
    with pytest.raises(StoreFault, match="cannot be opened"):
        open_file(path, steps=(first_version, mass_as_number, step))
    assert digest(path) == before
    assert len(backups_of(path)) == 1
    link = open_file(path, steps=(first_version, mass_as_number))
    assert version_of(link) == 2
    link.close()


def test_no_step_is_taken_when_no_copy_can_be_put_aside(tmp_path: Path) -> None:
    path = old_file(tmp_path / "old.hangar")
    (tmp_path / "old backups").write_text("a file in the way")
    before = digest(path)
    with pytest.raises(StoreFault, match="No backup could be written"):
        open_file(path, steps=(first_version, mass_as_number))
    assert digest(path) == before


def test_a_newer_file_is_refused_in_words_and_stays_as_it_is(fleet_file: Path) -> None:
    link = sqlite3.connect(fleet_file)
    link.execute(f"PRAGMA user_version = {VERSION + 6}")
    link.close()
    before = digest(fleet_file)
    for read_only in (False, True):
        with pytest.raises(StoreFault) as fault:
            Fleet.open(fleet_file, read_only=read_only)
        assert f"is of version {VERSION + 6}, written by a newer Hangar" in str(fault.value)
        assert not isinstance(fault.value, BrokenFile)
    assert "newer than this Hangar knows" in str(check_file(fleet_file))
    assert digest(fleet_file) == before
    assert sorted(path.name for path in fleet_file.parent.iterdir()) == ["club backups", "club.hangar"]


def test_the_steps_are_as_many_as_the_version_and_the_samples() -> None:
    assert len(STEPS) == VERSION
    assert sorted(path.name for path in SAMPLES.glob("*.hangar")) == [
        f"version_{version}.hangar" for version in range(1, VERSION + 1)
    ]
