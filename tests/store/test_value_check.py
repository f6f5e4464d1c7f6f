"""A value that no edit could have written is told with its record, never met by a traceback."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from hangar.base.errors import HangarError, StoreFault
from hangar.commands import main
from hangar.parts import Servo
from hangar.store import BrokenFile, Fleet, check_file
from hangar.store.value_check import unreadable

CHANGES = {
    "a choice": (
        "UPDATE servo SET state = 'fittee' WHERE tag = '0801'",
        "servo 0801: state is 'fittee'",
    ),
    "a number": ("UPDATE linkage SET arm_mm = 'twelve'", "linkage DUN AIL: "),
    "an endless number": ("UPDATE linkage SET arm_mm = 9e999", "linkage DUN AIL: "),
    "bytes for a name": ("UPDATE servo SET bin = x'41' WHERE tag = '0802'", "servo 0802: bin is 'A', which"),
    "no text": ("UPDATE servo SET bin = CAST(x'ff41' AS TEXT) WHERE tag = '0802'", "servo 0802: bin is"),
    "no day": (
        "UPDATE pack_fit SET since_on = '2024-13-01'",
        "since is '2024-13-01', which",
    ),
    "no day at all": ("UPDATE pack_fit SET since_on = 12.5", "since is 12.5, which|since is '12.5', which"),
    "half a channel": ("UPDATE channel SET number = 1.5 WHERE number = 1", "channel DUN main 1.5: "),
    "the year 0": ("UPDATE pack_fit SET since_on = '0000-01-01'", "since is '0000-01-01'"),
    "a kind of change": ("UPDATE journal_change SET kind = 'serv' WHERE id = 3", "change 3 of the history"),
    "a text of the history": (
        "UPDATE journal_change SET after = '{' WHERE id = 3",
        "change 3 of the history",
    ),
    "a list for a row": ("UPDATE journal_change SET after = '[1]' WHERE id = 3", "change 3 of the history"),
    "a choice of the history": (
        "UPDATE journal_change SET after = replace(after, 'analog', 'analof') WHERE kind = 'servo-type'",
        "change 1 of the history",
    ),
    "a number of the history": (
        "UPDATE journal_change SET after = replace(after, ': 600.0', ': \"x\"') WHERE kind = 'surface'",
        "of the history cannot be read",
    ),
    "another key": ("UPDATE journal_change SET key = '[\"0809\"]' WHERE id = 3", "change 3 of the history"),
    "a deep text": (
        "UPDATE journal_change SET after = printf('%.*c', 100000, '[') WHERE id = 3",
        "change 3 of the history",
    ),
    "a moment": ("UPDATE journal_edit SET made_at = 'noon'", "edit 1 of the history cannot be read"),
    "a state": ("UPDATE journal_edit SET state = 'dona'", "edit 1 of the history cannot be read"),
    "a turn": ("UPDATE journal_edit SET turn = 'first'", "edit 1 of the history cannot be read"),
    "a label": ("UPDATE journal_edit SET label = CAST(x'ff' AS TEXT)", "the file is damaged|history"),
    "the moment of an edit": (
        "UPDATE journal_edit SET made_at = '2001-02-03 04:05:06.000000' WHERE id = 1",
        "edit 1 of the history was changed",
    ),
    "the words of an edit": ("UPDATE journal_edit SET label = 'Bild'", "edit 1 of the history was changed"),
    "the seat of an edit": ("UPDATE journal_edit SET seat = 'keefer'", "edit 1 of the history was changed"),
    "an aircraft": (
        "UPDATE journal_change SET aircraft = 'DUM' WHERE aircraft = 'DUN'",
        "of the history was changed",
    ),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_spoiled_value_is_told_with_its_record(
    fleet_file: Path, change: str, capsys: pytest.CaptureFixture[str]
) -> None:
    statement, words = CHANGES[change]
    with closing(sqlite3.connect(fleet_file, isolation_level=None)) as link:
        link.execute("PRAGMA ignore_check_constraints = ON")
        assert link.execute(statement).rowcount > 0
    faults = str(check_file(fleet_file))
    assert any(word in faults for word in words.split("|")), faults
    assert main(["check-file", str(fleet_file)]) == 2
    assert main(["inspect", str(fleet_file)]) in (0, 1, 2)
    output = capsys.readouterr()
    assert "Traceback" not in output.err
    assert output.err.count("\n") <= 1
    for read_only in (True, False):
        try:
            with Fleet.open(fleet_file, read_only=read_only) as fleet:
                for ask in (
                    fleet.history,
                    fleet.whole_fleet,
                    fleet.library,
                    lambda: fleet.whereabouts("0801"),
                ):
                    try:
                        ask()
                    except StoreFault as fault:
                        assert "damaged" in str(fault)  # noqa: PT017 each answer by itself is allowed
        except HangarError as fault:
            assert isinstance(fault, StoreFault)  # noqa: PT017


def test_a_value_that_opening_did_not_see_is_told_by_whoever_reads_it(fleet_file: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        assert fleet._door.file is not None
        fleet._door.file.execute("UPDATE servo SET bin = CAST(x'ff41' AS TEXT) WHERE tag = '0802'")
        with pytest.raises(
            StoreFault, match=r"The file is damaged: servo 0802: bin is '.*A', which cannot be"
        ):
            fleet.records(Servo)
        assert unreadable(fleet._door.file, [Servo]) == ()
        assert len(unreadable(fleet._door.file, [Servo], thorough=True)) == 1


def test_signs_of_a_damaged_value_are_told_as_they_are(fleet_file: Path) -> None:
    with closing(sqlite3.connect(fleet_file, isolation_level=None)) as link:
        link.execute("UPDATE servo SET bin = CAST(x'7b627dff' AS TEXT) WHERE tag = '0802'")
    with Fleet.open(fleet_file) as fleet, pytest.raises(StoreFault, match=r"bin is '\{b\}") as fault:
        fleet.records(Servo)
    assert "servo 0802" in str(fault.value)


def test_a_damaged_value_offers_the_backup(fleet_file: Path) -> None:
    with closing(sqlite3.connect(fleet_file, isolation_level=None)) as link:
        link.execute("UPDATE servo SET bin = x'41'")
    with pytest.raises(BrokenFile, match="No edit was made after it") as fault:
        Fleet.open(fleet_file)
    assert fault.value.newest_backup is not None
