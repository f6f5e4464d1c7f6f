"""From a changed servo to its findings, and a whole fleet inspected from its file."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

from hangar.__main__ import look_rarely_for_cycles
from hangar.parts import Aircraft, Library
from hangar.rules import inspect
from hangar.store import Fleet
from hangar.survey import Conditions, survey
from hangar.survey.defaults import class_defaults
from hangar.survey.position_load import load_at
from hangar.survey.supply import supply_model
from tests.benchmarks.fleets import write_fleet
from tests.benchmarks.measure import AT_LEAST, Row, paired, processor_s
from tests.survey.fleets import CONDITIONS, biplane

FRAME_MS = 1000 / 60
SOLVES, EDITS, SINGLES = 20, 5, 100
MS_PER_POSITION = 0.3
FLEET_SIZE, MS_PER_AIRCRAFT, TIMES_RAW = 1000, 2.0, 5.0


def twenty_servos() -> Aircraft:
    """The big biplane with its five surface servos four times over."""
    aircraft = biplane()
    fits = tuple(
        replace(fit, position=replace(fit.position, code=f"{fit.code}{round_}"))
        for round_ in range(4)
        for fit in aircraft.fits[:5]
    )
    return replace(aircraft, fits=fits)


def edits(aircraft: Aircraft) -> Iterator[Aircraft]:
    """The aircraft again and again with another, a little stronger servo type in its first place."""
    fit = aircraft.fits[0]
    assert fit.servo_type is not None
    for number in count(1):
        stronger = 1.0 + 1e-7 * number
        ratings = tuple(
            replace(row, torque_nm=(row.torque_nm or 0.0) * stronger) for row in fit.servo_type.ratings
        )
        changed = replace(fit, servo_type=replace(fit.servo_type, ratings=ratings))
        yield replace(aircraft, fits=(changed, *aircraft.fits[1:]))


def edit_rows(rounds: int = AT_LEAST) -> list[Row]:
    """One servo of twenty changed, until the findings are there."""
    aircraft = twenty_servos()
    network = supply_model(aircraft, CONDITIONS, class_defaults()).network
    assert network is not None
    fresh = edits(aircraft)

    def solve() -> float:
        return processor_s(lambda: [network.solve() for _ in range(SOLVES)]) / SOLVES

    def judge() -> float:
        changed = [next(fresh) for _ in range(EDITS)]
        return (
            processor_s(lambda: [inspect(aircraft, survey(aircraft, CONDITIONS)) for aircraft in changed])
            / EDITS
        )

    def judge_one() -> float:
        changed = next(fresh)
        return processor_s(lambda: inspect(changed, survey(changed, CONDITIONS)))

    judge()
    ours, _, ratios = paired(judge, solve, 4 * rounds)
    singles = sorted(1000 * judge_one() for _ in range(SINGLES))
    return [
        Row("edit to findings, 20 servos", tuple(1000 * our for our in ours), "ms", most=round(FRAME_MS, 2)),
        Row(
            "the same, the 95th of 100 edits",
            (singles[SINGLES * 95 // 100 - 1],),
            "ms",
            most=round(FRAME_MS, 2),
        ),
        Row("the same / one solve() of its network", ratios),
    ]


def control_rows(rounds: int = AT_LEAST) -> list[Row]:
    """What one position costs: its loads with the tables of air and linkage made, and what it holds."""
    aircraft = twenty_servos()
    network = supply_model(aircraft, CONDITIONS, class_defaults()).network
    assert network is not None
    held = [
        position.holding for position in survey(aircraft, CONDITIONS).positions.values() if position.holding
    ]

    def solve() -> float:
        return processor_s(lambda: [network.solve() for _ in range(SOLVES)]) / SOLVES

    def hold() -> float:
        def each_once() -> None:
            load_at.cache_clear()
            for surface_hold in held:
                load_at(surface_hold.question)
                surface_hold.points()

        return processor_s(each_once) / len(held)

    hold()
    ours, _, ratios = paired(hold, solve, 4 * rounds)
    return [
        Row("control left, a position", tuple(1000 * our for our in ours), "ms", most=MS_PER_POSITION),
        Row("the same / one solve() of its network", ratios),
    ]


def raw_read(path: Path) -> Callable[[], int]:
    """Reads every row that the whole fleet is made of with the standard library alone."""

    def read() -> int:
        link = sqlite3.connect(path)
        names = [row[0] for row in link.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        rows = 0
        for name in names:
            if not name.startswith(("sqlite_", "journal_")):
                rows += len(link.execute(f'SELECT * FROM "{name}"').fetchall())
        link.close()
        return rows

    return read


def inspect_file(path: Path) -> int:
    """Every aircraft of a fleet file read, computed and judged; how many findings there are."""
    conditions = Conditions(today=date.today())
    with Fleet.open(path, read_only=True) as fleet:
        library: Library = fleet.library()
        aircraft = fleet.whole_fleet()
    return sum(
        len(inspect(other_aircraft, survey(other_aircraft, conditions), library=library))
        for other_aircraft in aircraft
    )


def read_file(path: Path) -> int:
    """The records of every aircraft of a fleet file, without judging any."""
    with Fleet.open(path, read_only=True) as fleet:
        return len(fleet.whole_fleet())


def fleet_rows(rounds: int = AT_LEAST) -> list[Row]:
    """A thousand aircraft from a file: to the records, and to the findings."""
    look_rarely_for_cycles()
    with TemporaryDirectory() as folder:
        path = write_fleet(Path(folder) / "thousand.hangar", FLEET_SIZE)
        raw = raw_read(path)

        def floor() -> float:
            return processor_s(raw)

        _, _, reading = paired(lambda: processor_s(lambda: read_file(path)), floor, rounds)
        ours, floors, whole = paired(lambda: processor_s(lambda: inspect_file(path)), floor, rounds)
    allowed = [TIMES_RAW * floor + FLEET_SIZE * MS_PER_AIRCRAFT / 1000 for floor in floors]
    share = tuple(our / most for our, most in zip(ours, allowed, strict=True))
    title = f"inspect {FLEET_SIZE} aircraft"
    note = f"{TIMES_RAW:g} x raw sqlite3 plus {MS_PER_AIRCRAFT:g} ms an aircraft"
    return [
        Row(f"read {FLEET_SIZE} aircraft / raw sqlite3", reading, most=TIMES_RAW),
        Row(f"{title} / what is allowed", share, most=1.0, note=note),
        Row(f"{title} / raw sqlite3", whole),
        Row(f"{title}, each", tuple(1000 * our / FLEET_SIZE for our in ours), "ms"),
    ]
