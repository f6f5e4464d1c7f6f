"""Reads forged sheets and holds what was read against the truth.

    python -m tests.store.intake.forge_trials 2000 [FIRST]

writes how many forged facts were read and how many of those that the program calls sure are right;
what is wrong is shrunk to the fewest rows and shown.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from hangar.store.intake.account import State
from hangar.store.intake.facts import Seat as SeatRead
from hangar.store.intake.files import read_grids
from hangar.store.intake.grid import Cell
from hangar.store.intake.reading import Reading, read_file
from hangar.store.intake.vocabulary import known_words, squeezed
from tests.store.intake.forge import TODAY, Forged, Plane, Seat, Style, fleet, forged, put, style
from tests.store.intake.forge_lists import forged_log, forged_stock


@dataclass
class Marks:
    """How a reading did: facts called sure, those right of them, facts asked, and what was wrong."""

    sure: int = 0
    sure_right: int = 0
    asked: int = 0
    missing: int = 0
    wrong: list[str] = field(default_factory=list)

    def __iadd__(self, other: Marks) -> Marks:
        self.sure += other.sure
        self.sure_right += other.sure_right
        self.asked += other.asked
        self.missing += other.missing
        self.wrong += other.wrong
        return self

    def hold(self, what: str, cell: Cell | None, state: State | None, got: object, truth: object) -> None:
        """Hold one fact that a cell says against the truth."""
        if cell is None or state is not State.READ:
            self.asked += 1
            return
        self.sure += 1
        if got == truth:
            self.sure_right += 1
        else:
            self.wrong.append(f"{what} {cell.text!r}: {got!r}, not {truth!r}")


def judge(reading: Reading, made: Forged, turned: bool = False) -> Marks:
    """Hold a reading against the truth."""
    marks = Marks()
    cells = {(cell.row, cell.column): cell for grid in reading.grids for cell in grid.cells.values()}
    for role, plane, seat, row, column in made.facts:
        cell = cells.get((row, column))
        if cell is None:
            continue
        got = _read(reading, role, plane, seat, cell)
        if role == "function" and seat.count > 1:
            there = _count(reading, plane, seat)
            if there != seat.count:
                marks.sure += 1
                marks.wrong.append(f"{cell.text!r} of {plane.name} made {there} servos")
                continue
        if reading.account.state_of(cell) is not State.READ:
            marks.asked += 1
        elif got is None:
            marks.missing += 1
            marks.wrong.append(
                f"{role} of {plane.name} row {row} column {column} {cell.text!r}: nothing was read"
            )
            marks.sure += 1
        else:
            marks.sure += 1
            if got == "right":
                marks.sure_right += 1
            else:
                marks.wrong.append(f"{role} of {plane.name} row {row} {cell.text!r}: {got}")
    return marks


def _count(reading: Reading, plane: Plane, seat: Seat) -> int:
    """How many servos of the aircraft do the work of a seat."""
    found = reading.facts.planes.get(squeezed(plane.name))
    return sum(other_seat.function == seat.function for other_seat in found.seats) if found else 0


def _read(reading: Reading, role: str, plane: Plane, seat: Seat, cell: Cell) -> str | None:
    found = reading.facts.planes.get(squeezed(plane.name))
    if found is None:
        return None
    part = "servo" if role in ("drive", "torque", "speed") else role
    here = [
        seat for seat in found.seats if seat.cells.get("function") is cell or seat.cells.get(part) is cell
    ]
    if role in ("drive", "torque", "speed"):
        return _of_type(reading, role, seat)
    if not here:
        return None
    return (
        "right"
        if any(_is_right(reading, role, other_seat, seat) for other_seat in here)
        else f"{here[0]}"[:120]
    )


def _is_right(reading: Reading, role: str, got: SeatRead, seat: Seat) -> bool:
    if role == "channel":
        return got.channel == seat.channel
    if role == "function":
        return got.function == seat.function and (not seat.side or got.side == seat.side)
    if role == "fitted":
        return got.fitted == seat.fitted
    return got.servo is not None and squeezed(reading.types[got.servo.key].code) == squeezed(seat.servo.model)


def _of_type(reading: Reading, role: str, seat: Seat) -> str | None:
    made = reading.types.get(squeezed(seat.servo.model))
    if made is None:
        return None
    if role == "drive":
        return (
            "right"
            if made.drive == ("digital" if seat.servo.digital else "analog")
            else f"drive {made.drive!r}"
        )
    if role == "torque":
        torque = made.torque_nm.get(seat.servo.volts)
        if torque is None:
            return None
        return (
            "right"
            if abs(torque / seat.servo.torque_nm - 1) < 0.04
            else f"torque {torque} not {seat.servo.torque_nm}"
        )
    rated = made.ratings.get(seat.servo.volts)
    return (
        None
        if rated is None or rated.transit_s is None
        else "right"
        if abs(rated.transit_s - seat.servo.transit_s) < 1e-6
        else f"time {rated.transit_s}"
    )


def trial(number: int, folder: Path, planes: Sequence[Plane] | None = None) -> tuple[Marks, Style, Forged]:
    """Forge the sheet of a number, read it, and judge the reading."""
    chance = Random(number)
    how = style(chance)
    every = list(planes if planes is not None else fleet(chance))
    made = forged(Random(number + 1), how, every)
    reading = read_file(read_grids(put(made, how, folder), known_words), TODAY)
    return judge(reading, made), how, made


def log_trial(number: int, folder: Path) -> Marks:
    """Forge a pack log, read it, and judge the reading."""
    chance = Random(number)
    how, made = forged_log(chance)
    reading = read_file(read_grids(put(Forged(made.rows), how, folder), known_words), TODAY)
    cells = {(cell.row, cell.column): cell for grid in reading.grids for cell in grid.cells.values()}
    marks = Marks()
    packs = reading.facts.log_packs
    tests = {(squeezed(test.pack), test.on): test for test in reading.facts.tests}
    for role, tag, truth, row, column in made.facts:
        cell = cells.get((row, column))
        state = reading.account.state_of(cell) if cell is not None else None
        pack = packs.get(squeezed(tag))
        got: object = None
        if role == "pack" and pack is not None:
            got = (pack.chemistry, pack.series, pack.capacity_mah)
        elif role == "bought" and pack is not None:
            got = pack.bought
        elif role == "test":
            assert isinstance(truth, tuple)
            test = tests.get((squeezed(tag), truth[0]))
            got = (test.on, (test.load_a, test.rest_v, test.loaded_v)) if test else None
        marks.hold(f"{role} of {tag}", cell, state, got, truth)
    return marks


def stock_trial(number: int, folder: Path) -> Marks:
    """Forge a list of spares, read it, and judge the reading."""
    chance = Random(number)
    how, made = forged_stock(chance)
    reading = read_file(read_grids(put(Forged(made.rows), how, folder), known_words), TODAY)
    cells = {(cell.row, cell.column): cell for grid in reading.grids for cell in grid.cells.values()}
    marks = Marks()
    spares = {
        squeezed(reading.types[stock.servo.key].code): (stock.count, stock.place)
        for stock in reading.facts.stock
        if stock.servo is not None
    }
    for _, model, truth, row, column in made.facts:
        cell = cells.get((row, column))
        state = reading.account.state_of(cell) if cell is not None else None
        marks.hold(f"spares of {model}", cell, state, spares.get(squeezed(model)), truth)
    return marks


def shrunk(number: int, folder: Path) -> tuple[Marks, Style, Forged]:
    """The trial of a number with the fewest aircraft and servos that still go wrong."""
    chance = Random(number)
    style(chance)
    planes = fleet(chance)
    smaller = True
    while smaller:
        smaller = False
        tries = [[*planes[:at], *planes[at + 1 :]] for at in range(len(planes)) if len(planes) > 1]
        tries += [
            [
                *planes[:at],
                replace(plane, seats=plane.seats[:seat] + plane.seats[seat + 1 :]),
                *planes[at + 1 :],
            ]
            for at, plane in enumerate(planes)
            for seat in range(len(plane.seats))
            if len(plane.seats) > 1
        ]
        for one in tries:
            if trial(number, folder, one)[0].wrong:
                planes, smaller = one, True
                break
    return trial(number, folder, planes)


def main(words: Sequence[str]) -> int:
    """Try as many forged sheets as asked for."""
    times, first = int(words[0]) if words else 200, int(words[1]) if len(words) > 1 else 0
    whole, failed = Marks(), []
    with TemporaryDirectory() as folder:
        for number in range(first, first + times):
            marks = trial(number, Path(folder))[0]
            for lists in (log_trial, stock_trial):
                if number % 3 == 0:
                    marks += lists(number, Path(folder))
            whole.sure += marks.sure
            whole.sure_right += marks.sure_right
            whole.asked += marks.asked
            if marks.wrong:
                failed.append(number)
        for number in failed[:10]:
            marks, how, made = shrunk(number, Path(folder))
            print(f"-- {number}: {how}")
            print(
                "\n".join(
                    [*(" | ".join(row) for row in made.rows), *(f"   {line}" for line in marks.wrong[:4])]
                )
            )
    total = whole.sure + whole.asked
    print(
        f"{times} sheets, {total} facts: {whole.sure} called sure ({100 * whole.sure / max(1, total):.1f} %),"
        f" of these right {100 * whole.sure_right / max(1, whole.sure):.3f} %;"
        f" {len(failed)} sheets with a fault:"
        f" {failed[:40]}"
    )
    return 0 if whole.sure_right >= 0.998 * whole.sure else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
