"""What the table of measurements says, and the fleets it is measured on."""

from __future__ import annotations

from pathlib import Path

from hangar.store import Fleet, check_file
from tests.benchmarks.fleets import fleet_by_chance, write_fleet
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
    assert len({one.airframe.all_up_mass_g for one in aircraft}) == 12
    assert all(one.fits and one.paths for one in aircraft)
    assert not check_file(path).faults
