"""What the table of measurements says, and the fleets it is measured on."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from hangar.parts import Airframe, Record
from hangar.parts.fields import specs
from hangar.store import Fleet, check_file
from tests.benchmarks.fleets import VARIED, another, fleet_by_chance, models, records_of, write_fleet
from tests.benchmarks.measure import AT_LEAST, Row, paired, table


def test_a_row_tells_least_median_and_most_beside_its_limit() -> None:
    text = table([Row("first paint", (1.0, 1.9, 1.2), most=1.6), Row("judge", (60.0, 40.0, 49.0), least=50)])
    first, second = text.splitlines()[1:]
    assert first.split() == ["first", "paint", "1", "1.2", "1.9", "x", "<=", "1.6", "met"]
    assert second.split() == ["judge", "40", "49", "60", "x", ">=", "50", "MISSED"]


def test_a_row_without_a_limit_is_told_only() -> None:
    assert Row("memory", (3.0,), "MiB").met is None


def test_pairs_are_measured_in_turn_and_at_least_five_times() -> None:
    order: list[str] = []

    def run(name: str, seconds: float) -> float:
        order.append(name)
        return seconds

    ours, floors, ratios = paired(lambda: run("ours", 3.0), lambda: run("floor", 2.0), times=1)
    assert (len(ours), len(floors), set(ratios)) == (AT_LEAST, AT_LEAST, {1.5})
    assert order == ["floor", "ours"] * AT_LEAST


def test_one_seed_gives_one_fleet_and_another_seed_another() -> None:
    once, again, other = (list(fleet_by_chance(3, seed)) for seed in (5, 5, 6))
    assert once == again
    assert once != other


def test_a_fleet_by_chance_is_a_sound_file_of_that_many_unlike_aircraft(tmp_path: Path) -> None:
    path = write_fleet(tmp_path / "chance.hangar", 12)
    with Fleet.open(path, read_only=True) as fleet:
        aircraft = fleet.whole_fleet()
    assert len(aircraft) == 12
    assert len({other_aircraft.airframe.all_up_mass_g for other_aircraft in aircraft}) == 12
    assert all(other_aircraft.fits and other_aircraft.paths for other_aircraft in aircraft)
    assert not check_file(path).faults


def refused(records: Sequence[Record]) -> list[str]:
    """What a fleet file would refuse of records of one kind: fields out of range, rules across fields."""
    kind = type(records[0])
    names = [name for together in VARIED[kind.KIND] for name in together]
    checks = {spec.name: spec.check for spec in specs(kind)}
    for record in records:
        for name in names:
            checks[name](getattr(record, name))
    link = sqlite3.connect(":memory:")
    fields = [spec.name for spec in specs(kind) if spec.type in (int, float)]
    link.execute(f"CREATE TABLE each ({', '.join(fields)})")
    rows = (tuple(getattr(record, field) for field in fields) for record in records)
    link.executemany(f"INSERT INTO each VALUES ({', '.join('?' * len(fields))})", rows)
    lines = [
        words for sql, words in kind.RULES if link.execute(f"SELECT 1 FROM each WHERE NOT ({sql})").fetchone()
    ]
    link.close()
    return lines


def test_ten_thousand_aircraft_by_chance_are_all_records_that_a_file_takes() -> None:
    chance = random.Random(1)
    _, aircraft = models()
    varied = [
        record
        for other_aircraft in aircraft
        for record in records_of(other_aircraft)
        if record.KIND in VARIED
    ]
    by_kind: dict[type[Record], list[Record]] = {}
    for record in varied:
        by_kind.setdefault(type(record), []).append(record)
    assert {kind.KIND for kind in by_kind} == set(VARIED)
    for kind, patterns in by_kind.items():
        made = [another(chance.choice(patterns), number, chance) for number in range(10_000)]
        assert refused(made) == [], kind.KIND


def test_the_check_of_a_fleet_by_chance_finds_an_aircraft_heavier_empty_than_in_flight() -> None:
    airframe = next(model.airframe for model in models()[1] if model.airframe.all_up_mass_g is not None)
    assert isinstance(airframe, Airframe)
    assert airframe.all_up_mass_g is not None
    wrong = replace(airframe, empty_mass_g=airframe.all_up_mass_g + 1)
    assert refused([airframe]) == []
    assert refused([wrong]) == ["the empty mass must not exceed the all-up mass"]
