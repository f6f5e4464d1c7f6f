"""A bit flipped anywhere in a fleet file is told in one sentence or harmless; it is never believed.

``HANGAR_TEST_FLIPS=5000`` tries more.
"""

from __future__ import annotations

import contextlib
import io
import os
from collections import Counter
from datetime import date
from pathlib import Path
from random import Random

import pytest

from hangar.base.errors import HangarError
from hangar.commands import main
from hangar.parts import RECORD_KINDS, Setting
from hangar.parts.choices import PackState
from hangar.store import Edit, Fleet, Owner, check_file
from tests.store.conftest import put_trainer

pytestmark = pytest.mark.slow

FLIPS = int(os.environ.get("HANGAR_TEST_FLIPS", "60"))
TURNS = max(2, FLIPS // 250)
DAY = date(2026, 3, 14)


def change_a_little(edit: Edit) -> None:
    edit.set_pack_state("B061", PackState.QUARANTINE, DAY)
    edit.fit_servo("0802", "DUN", "ELE", DAY, "why not")
    edit.put(Setting(name="club.name", value="Larkenholt"))


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A small fleet with a paper, some history, and an edit that was undone."""
    folder = tmp_path_factory.mktemp("whole")
    paper = folder / "side.txt"
    paper.write_bytes(Random(1).randbytes(3000))

    def keep(edit: Edit) -> None:
        edit.attach(paper, Owner(aircraft="DUN"), DAY)

    with Fleet.create(folder / "club.hangar") as fleet:
        fleet.edit("Build the trainer", put_trainer)
        fleet.edit("Change a little", change_a_little)
        fleet.edit("Keep a paper", keep)
        fleet.edit("Rename", lambda edit: edit.put(Setting(name="club.name", value="Dunnalow")))
        fleet.undo()
    return (folder / "club.hangar").read_bytes()


def records_of(fleet: Fleet) -> list[object]:
    return [*(fleet.records(kind) for kind in RECORD_KINDS), fleet.paper("side.txt")]


def look(path: Path, outcomes: Counter[str], several_lines: list[str]) -> None:
    """Everything that may be asked of a file, one after the other."""

    def ask(name: str, question: object) -> None:
        assert callable(question)
        try:
            question()
            outcomes[f"{name} answered"] += 1
        except HangarError as fault:
            outcomes[f"{name} told"] += 1
            if "\n" in str(fault):
                several_lines.append(str(fault))

    def read(fleet: Fleet) -> None:
        for name, question in (
            ("trees", lambda: (fleet.whole_fleet(DAY), fleet.library())),
            ("records", lambda: records_of(fleet)),
            ("history", fleet.history),
            ("life", lambda: (fleet.whereabouts("0801"), fleet.whereabouts("B061"))),
            ("labels", lambda: (fleet.undo_label, fleet.redo_label, fleet.title, fleet.changes_elsewhere())),
        ):
            ask(name, question)

    def read_only() -> None:
        with Fleet.open(path, read_only=True) as fleet:
            read(fleet)

    def write() -> None:
        with Fleet.open(path) as fleet:
            ask("redo", fleet.redo)
            ask("undo", fleet.undo)
            ask("undo", fleet.undo)
            ask("edit", lambda: fleet.edit("Set", lambda edit: edit.put(Setting(name="a", value="b"))))
            read(fleet)
            fleet._turns.has_changed = False

    ask("check", lambda: check_file(path))
    ask("open", read_only)
    ask("open to write", write)


def command(*words: str) -> int:
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()) as output:
        code = main(list(words))
    assert "Traceback" not in output.getvalue()
    return code


@pytest.mark.parametrize("turn", range(TURNS))
def test_a_flipped_bit_is_told_or_harmless(fast_folder: Path, whole: bytes, turn: int) -> None:
    path = fast_folder / "club.hangar"
    path.write_bytes(whole)
    with Fleet.open(path, read_only=True) as fleet:
        records, history = records_of(fleet), list(fleet.history())
    chance, outcomes = Random(turn), Counter[str]()
    used = [at for at, byte in enumerate(whole) if byte]
    unseen: list[str] = []
    several_lines: list[str] = []
    for number in range(FLIPS // TURNS):
        spoiled = bytearray(whole)
        # Most of a small file is empty; two in three hit what is written.
        at = chance.choice(used) if number % 3 else chance.randrange(len(whole))
        bit = chance.randrange(8)
        spoiled[at] ^= 1 << bit
        path.write_bytes(spoiled)
        place = f"bit {bit} of byte {at}"
        if number % 5 == 0:
            sound = command("check-file", str(path)) == 0
            assert command("inspect", str(path)) in (0, 1, 2), place
        else:
            try:
                sound = check_file(path).sound
            except HangarError:
                sound = False
        if sound:
            outcomes["sound"] += 1
            with Fleet.open(path, read_only=True) as fleet:
                if records_of(fleet) != records:
                    unseen.append(f"records: {place}")
                if list(fleet.history()) != history:
                    unseen.append(f"history: {place}")
        try:
            look(path, outcomes, several_lines)
        except Exception as fault:
            fault.add_note(place)
            raise
    print(sorted(outcomes.items()))
    assert not unseen
    assert not several_lines
    assert outcomes["check told"] or outcomes["open told"]
    assert outcomes["history answered"]
