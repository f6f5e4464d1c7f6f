"""Run as a program of its own: does one act on a fleet in a fork that waits to be watched first.

Lines on the standard input: ``ACT PATH``. The fork stops itself before it begins; whoever wants to watch
it attaches, lets it go on, and may kill it at any call.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

from hangar.parts import Airframe, PaperPlace, Servo
from hangar.store import Edit, Fleet, Owner, bring_in, restore_backup

ACTS: dict[str, Callable[[Path], None]] = {}


def act(work: Callable[[Path], None]) -> Callable[[Path], None]:
    ACTS[work.__name__] = work
    return work


def tell(words: str) -> None:
    """Say a line to whoever started this, in one piece."""
    os.write(1, f"{words}\n".encode())


def change(edit: Edit) -> None:
    edit.change(Servo, ("0801",), bin="new")
    edit.change(Airframe, ("DUN",), notes="new " * 500)


@act
def save(path: Path) -> None:
    """One edit; it is told as soon as it is saved."""
    fleet = Fleet.open(path)
    fleet.edit("Change", change)
    tell("done")
    os._exit(0)


@act
def back_up(path: Path) -> None:
    """One edit and the backup that closing makes."""
    with Fleet.open(path) as fleet:
        fleet.edit("Change", change)
    tell("done")


@act
def restore(path: Path) -> None:
    """The newest backup takes the file's place."""
    restore_backup(path)
    tell("done")


@act
def create(path: Path) -> None:
    """A new fleet beside the one that is there."""
    Fleet.create(path.with_name("fresh.hangar")).close()
    tell("done")


@act
def upgrade(path: Path) -> None:
    """A fleet of an older version is opened for writing."""
    Fleet.open(path).close()
    tell("done")


SHEET = (
    "Model;Ch;Function;Servo;Torque at 6 V;Fitted\nRush;1;2x aileron;TE-20;;1997\nRush;4;rudder;TE-30;25;\n"
)


@act
def take_in(path: Path) -> None:
    """A keeper's own sheet is brought in."""
    sheet = path.with_name("list.csv")
    sheet.write_text(SHEET, "utf-8")
    with Fleet.open(path) as fleet:
        bring_in(fleet, [sheet])
        tell("done")


@act
def save_copy(path: Path) -> None:
    """A whole copy is saved to another file."""
    with Fleet.open(path, read_only=True) as fleet:
        fleet.save_copy(path.with_name("copy.hangar"))
    tell("done")


@act
def keep_beside(path: Path) -> None:
    """A paper goes into the folder beside the fleet file."""
    source = path.with_name("letter.txt")
    source.write_bytes(b"Dear club, " * 500)

    def attach(edit: Edit) -> None:
        edit.attach(source, Owner(aircraft="DUN"), date(2026, 3, 14), PaperPlace.BESIDE)

    with Fleet.open(path) as fleet:
        fleet.edit("Keep", attach)
        tell("done")


def main() -> None:
    for line in sys.stdin:
        name, _, place = line.rstrip("\n").partition(" ")
        child = os.fork()
        if child == 0:
            os.kill(os.getpid(), signal.SIGSTOP)
            ACTS[name](Path(place))
            os._exit(0)
        tell(f"pid {child}")
        os.waitpid(child, 0)
        tell("gone")


if __name__ == "__main__":
    main()
