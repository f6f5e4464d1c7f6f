"""How soon the window shows something, how soon it can be worked with, and whether it ever stands still."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from hangar.base.places import demo_fleet_dir
from hangar.store import Fleet, bring_in
from tests.benchmarks.measure import AT_LEAST, Row

ROOT = Path(__file__).resolve().parents[2]
Fate = dict[str, float]


def rows(rounds: int = AT_LEAST, program: Sequence[str] = ()) -> list[Row]:
    """Child processes in turn, on a screen that is not there."""
    with TemporaryDirectory() as folder:
        fleet = demo_file(Path(folder) / "demo.hangar")
        surroundings = {
            **{name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"},
            # An installed program is compiled; the first, uncounted run of each kind does it here.
            "PYTHONPYCACHEPREFIX": str(Path(folder) / "compiled"),
            "QT_QPA_PLATFORM": "offscreen",
            "XDG_CONFIG_HOME": folder,
            "XDG_DATA_HOME": folder,
        }
        for kind in ("empty", "start", "stalls"):
            child(surroundings, kind, str(fleet))
        floors, starts, stalls = [], [], []
        for _ in range(max(rounds, AT_LEAST)):
            floors.append(child(surroundings, "empty"))
            starts.append(child(surroundings, "start", str(fleet)))
            stalls.append(child(surroundings, "stalls", str(fleet)))
    return _told(floors, starts, stalls)


def demo_file(path: Path) -> Path:
    """The demo fleet as a file."""
    with Fleet.create(path) as fleet:
        bring_in(fleet, [demo_fleet_dir()])
    return path


def child(surroundings: dict[str, str], *words: str) -> Fate:
    """What a child process tells, its times counted from the moment it was asked for."""
    begun = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.window_child", *words],
        cwd=ROOT,
        env=surroundings,
        capture_output=True,
        text=True,
        timeout=900,
        check=False,
    )
    if done.returncode:
        raise RuntimeError(f"window_child {' '.join(words)} ended with {done.returncode}: {done.stderr}")
    fate: Fate = json.loads(done.stdout.splitlines()[-1])
    for moment in ("painted", "ready", "judged"):
        if moment in fate:
            fate[moment] -= begun
    return fate


def _told(floors: list[Fate], starts: list[Fate], stalls: list[Fate]) -> list[Row]:
    def ratio(moment: str, clock: str = "") -> tuple[float, ...]:
        pairs = zip(starts, floors, strict=True)
        return tuple(moments[moment + clock] / floor["painted" + clock] for moments, floor in pairs)

    def all_of(runs: list[Fate], name: str, factor: float = 1.0) -> tuple[float, ...]:
        return tuple(factor * run[name] for run in runs)

    return [
        Row("empty window painted", all_of(floors, "painted", 1000), "ms", note="the floor"),
        Row("overview painted / empty window", ratio("painted"), most=1.6),
        Row("ready to edit / empty window", ratio("ready"), most=5.0),
        Row("overview, in processor time", ratio("painted", "_processor"), note="a busy machine counts less"),
        Row("ready, in processor time", ratio("ready", "_processor"), note="all threads together"),
        Row("memory when ready", all_of(starts, "memory_mib"), "MiB", most=130),
        Row("longest stall while opening", all_of(stalls, "opening_ms"), "ms", most=50),
        Row("longest stall while judging", all_of(stalls, "judging_ms"), "ms", most=50),
        Row("stall while opening, own work", all_of(stalls, "opening_busy_ms"), "ms", note="processor time"),
        Row("stall while judging, own work", all_of(stalls, "judging_busy_ms"), "ms", note="processor time"),
        Row("every aircraft judged", all_of(stalls, "judged", 1000), "ms"),
        Row("memory when all is judged", all_of(stalls, "settled_mib"), "MiB"),
    ]
