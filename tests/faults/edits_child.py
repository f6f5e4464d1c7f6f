"""Run as a program of its own: opens a fleet and edits it in an endless stream, telling each commit.

Lines on the standard input say what to do: ``PATH START`` forks a process that edits the fleet at
PATH, its edits numbered on from START. The fork saves the half second that loading the store takes;
the process is a whole Hangar with an open file, to be killed at any moment.
"""

from __future__ import annotations

import os
import sys
from datetime import date, timedelta
from pathlib import Path

from hangar.parts import Flight, Servo, Setting, StockItem
from hangar.parts.choices import ServoState, StockKind
from hangar.store import Edit, Fleet

PLACES = ("AIL", "ELE")
DAY = date(2025, 1, 1)


def make_edit(edit: Edit, number: int) -> None:
    """The edit of that number: it counts itself in three tables at once and moves a servo."""
    code = f"E{number % 40}"
    edit.put(Setting(name="count", value=str(number)))
    edit.put(StockItem(code=code, kind=StockKind.OTHER, on_hand=number, text="x" * (number * 37 % 4000)))
    edit.put(
        Flight(aircraft="DUN", flown_on=DAY + timedelta(days=number % 300), minutes_min=1 + number % 500)
    )
    if number % 3 == 0:
        tag = ("0801", "0802", "0803")[number % 9 // 3]
        edit.fit_servo(tag, "DUN", PLACES[number % 2], DAY + timedelta(days=number), f"edit {number}")
    if number % 41 == 0:
        for servo in edit.records(Servo, state=ServoState.IN_BAY):
            edit.change(Servo, (servo.tag,), bin=f"B{number}")


def tell(words: str) -> None:
    """Say a line to whoever started this, in one piece."""
    os.write(1, f"{words}\n".encode())


def edit_for_ever(path: Path, start: int) -> None:
    with Fleet.open(path) as fleet:
        tell("open")
        number = start
        while True:
            number += 1
            fleet.edit(f"Edit {number}", lambda edit, number=number: make_edit(edit, number))  # type: ignore[misc]
            if number % 5 == 0:
                fleet.undo()
                fleet.redo()
            tell(str(number))


def main() -> None:
    for line in sys.stdin:
        place, _, start = line.rstrip("\n").rpartition(" ")
        child = os.fork()
        if child == 0:
            edit_for_ever(Path(place), int(start))
        tell(f"pid {child}")
        os.waitpid(child, 0)
        tell("gone")


if __name__ == "__main__":
    main()
