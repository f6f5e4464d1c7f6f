"""A fleet with a long history: what an edit, its undo and a look back cost after thousands of edits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from hangar.parts import Airframe
from hangar.store import Fleet, check_file
from tests.benchmarks.fleets import write_fleet
from tests.benchmarks.measure import AT_LEAST, Row, processor_s
from tests.benchmarks.window_child import memory_mib

AIRCRAFT = 20
LENGTHS, FULL_LENGTHS = (500, 2000), (1000, 10_000, 50_000)
AT_ONCE, NEWEST = 20, 200
LEVEL, STRAIGHT = 1.5, 1.3
"""An edit may cost so many times one of a short history; what reads all of it so much more an edit."""
EVEN = ("edit", "undo and again", "the newest changes")
BY_LENGTH = ("history of one record", "history of all", "check of the file", "open")
KIB_AN_EDIT = 6
"""Most memory for one edit where all of a long history are read or checked, as the guide says it."""


class _Keeper:
    """Names aircraft again and again."""

    def __init__(self, fleet: Fleet) -> None:
        self.fleet = fleet
        self.airframes: tuple[Airframe, ...] = fleet.records(Airframe)
        self.count = 0

    def edit(self) -> None:
        self.count += 1
        airframe = self.airframes[self.count % len(self.airframes)]
        named = replace(airframe, name=f"Name {self.count}")
        self.fleet.edit("Name it", lambda edit: edit.put(named))

    def edit_some(self) -> None:
        for _ in range(AT_ONCE):
            self.edit()

    def undo_and_again(self) -> None:
        self.fleet.undo()
        self.fleet.redo()

    def newest(self) -> None:
        self.fleet.history(most=NEWEST)

    def of_one(self) -> None:
        self.fleet.history(Airframe, (self.airframes[0].code,))


Figures = dict[int, dict[str, tuple[float, ...]]]


def measured(path: Path, lengths: tuple[int, ...], rounds: int) -> Figures:
    """Seconds of processor time by length of the history and step."""
    figures: Figures = {}
    with Fleet.open(path) as fleet:
        keeper = _Keeper(fleet)
        for length in lengths:
            while keeper.count < length - rounds * AT_ONCE:
                keeper.edit()
            steps: dict[str, Callable[[], object]] = {
                "edit": keeper.edit_some,
                "undo and again": keeper.undo_and_again,
                "the newest changes": keeper.newest,
                "history of one record": keeper.of_one,
                "history of all": fleet.history,
                "check of the file": lambda: check_file(path),
                "open": lambda: Fleet.open(path, read_only=True).close(),
            }
            figures[length] = {
                name: tuple(processor_s(step) for _ in range(rounds)) for name, step in steps.items()
            }
    return figures


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """What it costs after many edits against after a few."""
    lengths = FULL_LENGTHS if full else LENGTHS
    # In memory, where there is such a folder: a disk takes longer to keep an edit than all that is measured.
    memory = Path("/dev/shm")
    with TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        path = write_fleet(Path(folder) / "history.hangar", AIRCRAFT)
        before_mib = memory_mib("VmRSS")
        figures = measured(path, lengths, max(rounds, AT_LEAST))
        more_mib = memory_mib("VmHWM") - before_mib
        size_mib = path.stat().st_size / 1024**2
    short = lengths[0]
    table = []
    for length in lengths[1:]:
        for name, limit, share in (
            *((name, LEVEL, 1.0) for name in EVEN),
            *((name, STRAIGHT, length / short) for name in BY_LENGTH),
        ):
            pairs = zip(figures[length][name], figures[short][name], strict=True)
            ratios = tuple(late / early / share for late, early in pairs)
            least = 1000 * min(figures[length][name]) / (AT_ONCE if name == "edit" else 1)
            beside = "" if share == 1.0 else ", by its length"
            title = f"history: {name} after {length} edits / after {short}{beside}"
            table.append(Row(title, ratios, most=limit, note=f"{least:.3g} ms"))
    last = lengths[-1]
    most = KIB_AN_EDIT * last / 1024 if full else None
    table.append(Row(f"history: memory for {last} edits, read and checked", (more_mib,), "MiB", most=most))
    return [*table, Row(f"history: file of {last} edits", (size_mib,), "MiB")]
