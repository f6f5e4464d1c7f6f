"""Readings of the supply on the bench beside what was expected of them: whole, and path by path."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hangar.answers.bench_beside import VOLTS_SD, Predicted, below, beside_current, beside_volts
from hangar.answers.beside import Beside, by_difference
from hangar.answers.checklists import stage
from hangar.base.figure import Band
from hangar.base.text import Text, text
from hangar.parts import PathCheck, PowerPath, SupplyCheck
from hangar.parts.readings import is_aside
from hangar.survey import Scenario, Survey
from hangar.survey.low_volts import expected_lowest

_LOST_SHARE = 0.05
"""Error of the volts with a path lost, as a share of them; assumption."""


def supply_rows(surveyed: Survey) -> Iterator[Beside]:
    """Every reading of the supply of an aircraft on the bench."""
    for check in surveyed.aircraft.supply_checks:
        for field, name, unit, kind, find in _OF_SUPPLY:
            read = getattr(check, field)
            if read is not None:
                yield _row(surveyed, check, field, "", name, unit, kind, find(surveyed, read))
    for path in surveyed.aircraft.paths:
        for reading in path.checks:
            for field, name, unit, kind, judge in _OF_PATH:
                read = getattr(reading, field)
                if read is not None:
                    beside = judge(surveyed, path, read)
                    yield _row(surveyed, reading, field, path.feed.code, name, unit, kind, beside)


def _row(
    surveyed: Survey,
    check: SupplyCheck | PathCheck,
    field: str,
    about: str,
    name: Text,
    unit: str,
    kind: str,
    beside: Predicted,
) -> Beside:
    day, refit = check.checked_at.date(), surveyed.aircraft.airframe.refit_on
    lapsed = text("refit or repair of {day}", day=refit) if refit is not None and refit > day else None
    predicted, z = (None, None) if lapsed is not None else beside
    aside = is_aside(check, surveyed.aircraft.set_aside)
    return Beside(
        check, field, day, about, name, unit, getattr(check, field), predicted, z, kind, aside, lapsed
    )


def _idle(surveyed: Survey, read_a: float) -> Predicted:
    case = surveyed.scenarios.get(Scenario.IDLE)
    band, z = beside_current(1000.0 * read_a, None if case is None else case.total_a)
    if band is None:
        return band, z
    return Band(band.low / 1000, band.expected / 1000, band.design / 1000), z


def _peak(surveyed: Survey, read_a: float) -> Predicted:
    case = surveyed.scenarios.get(Scenario.PEAK)
    if case is None or case.total_a is None:
        return None, None
    return below(read_a, case.total_a.expected)


def _lowest(surveyed: Survey, read_v: float) -> Predicted:
    expected = expected_lowest(surveyed)
    return (None, None) if expected is None else expected.beside(read_v)


def _rest(surveyed: Survey, path: PowerPath, read_v: float) -> Predicted:
    rested = surveyed.supply.path_rested_v.get(path.feed.code)
    return beside_volts(read_v, None if rested is None else rested.expected)


def _out(_surveyed: Survey, path: PowerPath, read_v: float) -> Predicted:
    return beside_volts(read_v, (path.regulator.set_v or None) if path.regulator else None)


def _alone(surveyed: Survey, _path: PowerPath, read_v: float) -> Predicted:
    case = surveyed.scenarios.get(Scenario.ONE_LOST)
    if case is None or case.bus_v is None:
        return None, None
    expected_v = case.bus_v.expected
    return by_difference(read_v, expected_v, _LOST_SHARE * expected_v, VOLTS_SD)


def _heat(_surveyed: Survey, _path: PowerPath, read_c: float) -> Predicted:
    return below(read_c, float(stage("B10")["regulator_c"]))


_OF_SUPPLY: tuple[tuple[str, Text, str, str, Callable[[Survey, float], Predicted]], ...] = (
    ("idle_a", text("current of all servos at rest"), "A", "idle-current", _idle),
    ("peak_a", text("highest current of all on the bench"), "A", "peak-current", _peak),
    ("lowest_v", text("lowest bus volts on the bench"), "V", "lowest-volts", _lowest),
)
_OF_PATH: tuple[tuple[str, Text, str, str, Callable[[Survey, PowerPath, float], Predicted]], ...] = (
    ("rest_v", text("pack at rest"), "V", "rest-volts", _rest),
    ("out_v", text("regulator without load"), "V", "out-volts", _out),
    ("alone_v", text("lowest bus volts on it alone"), "V", "lowest-volts", _alone),
    ("regulator_c", text("heat of the regulator"), "C", "heat", _heat),
)
