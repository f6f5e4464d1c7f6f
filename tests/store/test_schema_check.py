"""A file whose tables are not those of its version is refused, whatever else it answers."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from hangar.commands import main
from hangar.store import BrokenFile, Fleet, check_file
from hangar.store.backups import backups_of
from hangar.store.schema_check import SUMS, made, sum_of
from hangar.store.upgrades import STEPS, VERSION, upgrade
from tests.faults.stream import ROOT
from tests.store.make_sample import SAMPLES

CHANGES = {
    "a trigger": (
        "CREATE TRIGGER spoil AFTER UPDATE ON servo BEGIN DELETE FROM airframe; END",
        "it has a trigger 'spoil'",
    ),
    "a view for a table": (
        "ALTER TABLE setting RENAME TO kept; CREATE VIEW setting AS SELECT * FROM kept",
        "it has a view 'setting'",
    ),
    "one table more": ("CREATE TABLE notes (words TEXT)", "it has a table 'notes', which is none of ours"),
    "one index less": ("DROP INDEX ix_journal_edit_turn", "the index 'ix_journal_edit_turn' is missing"),
    "one column more": ("ALTER TABLE servo ADD COLUMN odd TEXT", "the table 'servo' was changed"),
    "a limit less": (
        "PRAGMA writable_schema = ON;"
        " UPDATE sqlite_master SET sql = replace(sql, '(0, 1)', '(0, 9)') WHERE name = 'installation'",
        "the table 'installation' was changed",
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_changed_schema_is_refused_and_the_backup_offered(
    fleet_file: Path, change: str, capsys: pytest.CaptureFixture[str]
) -> None:
    statements, words = CHANGES[change]
    with closing(sqlite3.connect(fleet_file)) as link:
        link.executescript(statements)
    for read_only in (True, False):
        with pytest.raises(BrokenFile, match="was changed by another program") as fault:
            Fleet.open(fleet_file, read_only=read_only)
        assert words in str(fault.value)
        assert fault.value.newest_backup == backups_of(fleet_file)[-1]
    assert words in str(check_file(fleet_file))
    assert main(["check-file", str(fleet_file)]) == 2
    assert main(["inspect", str(fleet_file)]) == 2
    assert "Traceback" not in "".join(capsys.readouterr())
    assert main(["check-file", str(fleet_file), "--restore", "newest"]) == 0


def test_a_backup_with_a_changed_schema_is_not_put_in_place(fleet_file: Path) -> None:
    other = fleet_file.with_name("other.hangar")
    shutil.copyfile(fleet_file, other)
    with closing(sqlite3.connect(other)) as link:
        link.execute("CREATE TRIGGER spoil AFTER UPDATE ON servo BEGIN DELETE FROM airframe; END")
    assert main(["check-file", str(fleet_file), "--restore", str(other)]) == 2
    assert check_file(fleet_file).sound


@pytest.mark.parametrize("number", [0, -1, -7])
def test_a_version_that_never_was_is_refused(fleet_file: Path, number: int) -> None:
    with closing(sqlite3.connect(fleet_file)) as link:
        link.execute(f"PRAGMA user_version = {number}")
    with pytest.raises(BrokenFile, match=f"it says that it is of version {number}"):
        Fleet.open(fleet_file)
    assert tuple(map(str, check_file(fleet_file).faults)) == (f"it says that it is of version {number}",)


@pytest.mark.parametrize("version", range(1, VERSION + 1))
def test_every_version_has_its_sum_and_its_sample_keeps_to_it(version: int) -> None:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as fresh:
        upgrade(fresh, STEPS[:version])
        wanted = sum_of(made(fresh))
    assert SUMS.get(version) == wanted, f"write into SUMS: {version}: {wanted!r}"
    with closing(sqlite3.connect(SAMPLES / f"version_{version}.hangar")) as sample:
        assert sum_of(made(sample)) == wanted


MAKERS = """
import sys
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
sys.setswitchinterval(1e-6)
from hangar.store import constraints
gate = Barrier(4)
def make(_):
    gate.wait()
    return sum(len(table.constraints) for table in constraints.whole_schema().tables.values())
with ThreadPoolExecutor(4) as threads:
    counts = set(threads.map(make, range(4)))
constraints.whole_schema()
print(counts, sum(len(table.constraints) for table in constraints.whole_schema().tables.values()))
"""


def test_threads_that_ask_for_the_schema_at_once_get_each_constraint_once() -> None:
    def say(program: str) -> str:
        command = [sys.executable, "-c", program]
        return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout

    alone = say(MAKERS.replace("4", "1"))
    assert say(MAKERS) == alone
