"""Measure everything once and print it beside what is wanted: ``python -m tests.benchmarks``.

Every figure is a ratio to something measured in the same run, or says its unit. Give part names to
measure only those; ``--full`` adds a fleet of 10,000 aircraft, a history of 50,000 edits, one budget
over fifty and more cases of which every plan is tried.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable

from tests.benchmarks import (
    big,
    bus,
    growth,
    history,
    judging,
    looking,
    proving,
    refits,
    sheets,
    starting,
    switching,
)
from tests.benchmarks.measure import AT_LEAST, Row, table

PARTS: dict[str, Callable[[int, bool], list[Row]]] = {
    "start": lambda rounds, _full: starting.rows(rounds),
    "edit": lambda rounds, _full: judging.edit_rows(rounds),
    "look": lambda rounds, _full: looking.look_rows(rounds),
    "forty": lambda rounds, _full: looking.forty_rows(rounds),
    "control": lambda rounds, _full: judging.control_rows(rounds),
    "fleet": lambda rounds, _full: judging.fleet_rows(rounds),
    "refit": lambda rounds, full: refits.rows(rounds, full=full),
    "exact": lambda rounds, full: proving.rows(rounds, full=full),
    "sheets": lambda rounds, _full: sheets.rows(rounds),
    "bus": lambda rounds, _full: bus.rows(rounds),
    "growth": lambda rounds, full: growth.rows(rounds, full=full),
    "switch": lambda rounds, _full: switching.rows(rounds),
    "big": lambda rounds, full: big.rows(rounds, full=full),
    "history": lambda rounds, full: history.rows(rounds, full=full),
}


def main() -> None:
    """Measure the parts asked for, all without words."""
    words = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    words.add_argument("parts", metavar="PART", nargs="*", help=f"{', '.join(PARTS)}; all without it")
    words.add_argument("--rounds", type=int, default=AT_LEAST, help=f"paired runs, {AT_LEAST} or more")
    words.add_argument("--full", action="store_true", help="with 10,000 aircraft; takes long")
    asked = words.parse_args()
    unknown = [part for part in asked.parts if part not in PARTS]
    if unknown:
        words.error(f"found {', '.join(unknown)}; the parts are {', '.join(PARTS)}.")
    rows: list[Row] = []
    for part in asked.parts or PARTS:
        begun = time.perf_counter()
        rows += PARTS[part](asked.rounds, asked.full)
        print(f"{part}: {time.perf_counter() - begun:.0f} s", file=sys.stderr)
    print(table(rows))
    missed = [row.title for row in rows if row.met is False]
    print(f"\n{len(missed)} missed: {'; '.join(missed)}" if missed else "\nall met")


if __name__ == "__main__":
    main()
