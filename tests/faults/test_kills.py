"""Kills at random moments lose no edit that was told, and half an edit is never there."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from random import Random

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.parts import RECORD_KINDS
from hangar.store import Fleet, check_file
from tests.faults.conftest import make_fleet
from tests.faults.stream import ROOT, editor, left_whole, strike, whole_to_the_last_value

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="needs signals that cannot be caught"),
]

KILLS = int(os.environ.get("HANGAR_TEST_KILLS", "40"))
KILLS_A_FILE = 50
SEATS = 2
TURNS = 2


def kill_again_and_again(folder: Path, seed: int, kills: int) -> int:
    chance = Random(seed)
    done = acknowledged_count = 0
    with editor() as writer:
        while done < kills:
            path = make_fleet(folder / f"club{seed}-{done}.hangar")
            count = 0
            for _ in range(min(KILLS_A_FILE, kills - done)):
                writer.start(path, count)
                acknowledged = strike(writer, chance)
                acknowledged_count += acknowledged - count
                count = left_whole(path, acknowledged)
                done += 1
            whole_to_the_last_value(path)
            shutil.rmtree(path.with_name(f"{path.stem} backups"), ignore_errors=True)
    assert acknowledged_count > kills, "the kills came before anything was written"
    return done


@pytest.mark.parametrize("turn", range(TURNS))
def test_a_kill_at_any_moment_loses_no_edit_that_was_told(fast_folder: Path, turn: int) -> None:
    share = KILLS // TURNS // SEATS
    with ThreadPoolExecutor(SEATS) as seats:
        runs = [
            seats.submit(kill_again_and_again, fast_folder, turn * SEATS + seat, share)
            for seat in range(SEATS)
        ]
        assert sum(run.result() for run in runs) == share * SEATS


def test_a_bring_in_that_is_killed_is_there_as_a_whole_or_not_at_all(fast_folder: Path) -> None:
    path = fast_folder / "club.hangar"
    Fleet.create(path).close()
    command = [sys.executable, "-m", "hangar", "bring-in", str(path), str(demo_fleet_dir())]
    started = time.perf_counter()
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    takes_s = time.perf_counter() - started
    with Fleet.open(path, read_only=True) as fleet:
        whole = {kind.KIND: len(fleet.records(kind)) for kind in RECORD_KINDS}
    chance = Random(5)
    outcomes = set()
    for number in range(12):
        if number >= 6:
            if False in outcomes:
                break
            # A core that was busy the first time has let every later command end before its kill.
            takes_s /= 2
        place = fast_folder / f"killed{number}.hangar"
        Fleet.create(place).close()
        command[4] = str(place)
        with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL) as child:
            time.sleep(takes_s * (1.0 - 0.6 * chance.random()))
            child.kill()
        assert check_file(place).sound
        with Fleet.open(place) as fleet:
            counts = {kind.KIND: len(fleet.records(kind)) for kind in RECORD_KINDS}
            assert counts == whole or not any(counts.values())
            outcomes.add(any(counts.values()))
    assert False in outcomes
