"""The readings of a bench check that have a line of their own: what is expected, and what was read last.

Their limits are those of `bench_bands`, by the same names; sheet, screen and reading back ask both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from hangar.answers.bench_bands import bands_of, is_out
from hangar.answers.bench_expected import OUT, far_servo
from hangar.answers.case import AircraftCase
from hangar.base.figure import Figure, sourced
from hangar.base.text import Amount, Arg, Text, joined, text
from hangar.base.units import SI_TRADE
from hangar.parts import PathCheck, PowerPath, SupplyCheck
from hangar.parts.sheet_boxes import (
    BALANCE_MM,
    BENCH,
    BENCH_UNITS,
    MASS,
    PATH_READINGS,
    RANGE_M,
    SUPPLY_READINGS,
    path_about,
)
from hangar.rules.bench_readings import newest_check
from hangar.survey import Scenario
from hangar.survey.supply_checks import newest_path, newest_supply


def marked_out(words: Arg, *, is_out: bool) -> Arg:
    """Words with OUT behind them where what they say lies beyond its limit."""
    return joined(text("{value}", value=words), OUT) if is_out else words


@dataclass(frozen=True)
class LastRead:
    """What was read last, and when."""

    value: float
    on: date | None


@dataclass(frozen=True)
class BenchLine:
    """One reading of a stage.

    Attributes:
        stage: code of the stage.
        about: what the box is about.
        what: which reading.
        name: in words.
        unit: of the reading, as it is stored.
        expected: what the survey makes expect; None where it is not known, a dash where nothing is computed.
        expected_value: the same as a number.
        last: what was read last.
        more: what else is told of it.
    """

    stage: str
    about: str
    what: str
    name: Text
    unit: str
    expected: Arg
    expected_value: float | None = None
    last: LastRead | None = None
    more: Arg = None

    def marked(self, case: AircraftCase, words: Arg, value: float | None) -> Arg:
        """Words for a value with OUT behind them where it lies beyond its limit."""
        bands = bands_of(BENCH, case, SI_TRADE, self.about, self.what)
        return marked_out(words, is_out=is_out(bands, value, self.unit))

    def expected_words(self, case: AircraftCase) -> Arg:
        """What is expected; OUT stands behind a value that is no target."""
        words = self.marked(case, self.expected, self.expected_value)
        if words is None or self.more is None:
            return words
        return text("{expected}; {more}", expected=words, more=self.more)

    def last_words(self, case: AircraftCase) -> Arg:
        """What was read last with its day; a dash where nothing was."""
        if self.last is None:
            return "-"
        value = self.marked(case, Amount(self.last.value, self.unit, 3), self.last.value)
        return value if self.last.on is None else text("{value}, {day}", value=value, day=self.last.on)


def bench_lines(case: AircraftCase) -> tuple[BenchLine, ...]:
    """The readings of the supply, of heat, range, mass and balance, in the order of the stages."""
    paths = case.aircraft.radio_paths
    lines: list[BenchLine] = []
    for path in paths:
        lines += _volts(case, path)
    lines += _far(case)
    lines += _together(case)
    if len(paths) > 1:
        lines += [_alone(case, path) for path in paths]
    lines += [_heat(case, path) for path in paths if path.regulator is not None]
    return (*lines, *_whole(case))


def _volts(case: AircraftCase, path: PowerPath) -> Iterator[BenchLine]:
    code, set_v = path.feed.code, path.regulator.set_v if path.regulator else None
    rested = case.survey.supply.path_rested_v.get(code)
    yield _of_path(
        case, path, "B1", "Rest V", text("{path}: pack at rest", path=code), _figure(rested), _value(rested)
    )
    if path.regulator is not None:
        expected = None if not set_v else text("{volts}, set", volts=Amount(set_v, "V"))
        name = text("{path}: regulator {regulator} without load", path=code, regulator=path.regulator.code)
        yield _of_path(case, path, "B1", "Out V", name, expected, set_v)


def _far(case: AircraftCase) -> Iterator[BenchLine]:
    far = far_servo(case)
    fit = case.aircraft.fit(far.code) if far is not None else None
    if far is None or fit is None:
        return
    drop = far.lead_drop_v
    more = None if drop is None else text("drop {drop}", drop=Amount(drop.expected, drop.unit))
    check = newest_check(fit, "bus_v")
    last = None if check is None or check.bus_v is None else LastRead(check.bus_v, check.checked_at.date())
    name = text("{position}: far servo, stalled for a second", position=fit.code)
    yield BenchLine(
        "B1", fit.code, "Stalled V", name, "V", _figure(far.working_v), _value(far.working_v), last, more
    )


def _together(case: AircraftCase) -> Iterator[BenchLine]:
    scenarios = case.survey.scenarios
    idle, peak = scenarios.get(Scenario.IDLE), scenarios.get(Scenario.PEAK)
    fails = peak.collapse if peak is not None else None
    idle_a, peak_a = (None if survey is None else survey.total_a for survey in (idle, peak))
    lowest = None if peak is None else peak.bus_v
    yield _of_supply(case, "B2", "Idle A", text("all servos at rest"), _figure(idle_a), _value(idle_a))
    yield _of_supply(
        case, "B4", "Peak A", text("highest of all together"), fails or _figure(peak_a), _value(peak_a)
    )
    words = joined(fails, OUT) if fails else _figure(lowest)
    yield _of_supply(
        case, "B5", "Lowest V", text("lowest, all packs"), words, None if fails else _value(lowest)
    )


def _alone(case: AircraftCase, path: PowerPath) -> BenchLine:
    lost = case.survey.scenarios.get(Scenario.ONE_LOST)
    bus = None if lost is None else lost.bus_v
    name = text("{path}: lowest on this path alone", path=path.feed.code)
    if lost is not None and lost.collapse:
        return _of_path(case, path, "B5", "Alone V", name, joined(lost.collapse, OUT), None)
    return _of_path(case, path, "B5", "Alone V", name, _figure(bus), _value(bus))


def _heat(case: AircraftCase, path: PowerPath) -> BenchLine:
    regulator = path.regulator.code if path.regulator else ""
    name = text("{path}: regulator {regulator} after five minutes", path=path.feed.code, regulator=regulator)
    return _of_path(case, path, "B10", "Regulator C", name, "-", None)


def _whole(case: AircraftCase) -> Iterator[BenchLine]:
    frame, checks = case.aircraft.airframe, case.aircraft.range_checks
    newest = max(
        (check for check in checks if check.distance_m), key=lambda check: check.checked_on, default=None
    )
    last = (
        None
        if newest is None or newest.distance_m is None
        else LastRead(newest.distance_m, newest.checked_on)
    )
    yield BenchLine("B12", "B12", RANGE_M, text("distance with full control"), "m",
                    text("by the maker's manual"), None, last)  # fmt: skip
    mass = frame.all_up_mass_g
    weighed = (
        None if mass is None or frame.mass_measured_on is None else LastRead(mass, frame.mass_measured_on)
    )
    yield BenchLine("B13", "B13", MASS, text("mass as it will fly"), "g",
                    None if mass is None else Amount(mass, "g"), mass, weighed)  # fmt: skip
    at = frame.cg_measured_mm
    balanced = None if at is None else LastRead(at, frame.cg_measured_on)
    yield BenchLine("B13", "B13", BALANCE_MM, text("balance behind the datum"), "mm", "-", None, balanced)


def _of_supply(
    case: AircraftCase, stage: str, what: str, name: Text, expected: Arg, value: float | None
) -> BenchLine:
    field = SUPPLY_READINGS[what]
    last = _last(newest_supply(case.aircraft, field), field)
    return BenchLine(stage, stage, what, name, BENCH_UNITS[what], expected, value, last)


def _of_path(
    case: AircraftCase, path: PowerPath, stage: str, what: str, name: Text, expected: Arg, value: float | None
) -> BenchLine:
    field = PATH_READINGS[what]
    last = _last(newest_path(case.aircraft, path, field), field)
    return BenchLine(stage, path_about(path.feed.code), what, name, BENCH_UNITS[what], expected, value, last)


def _last(check: SupplyCheck | PathCheck | None, field: str) -> LastRead | None:
    return None if check is None else LastRead(getattr(check, field), check.checked_at.date())


def _figure(figure: Figure | None) -> Arg:
    return None if figure is None else sourced(figure)


def _value(figure: Figure | None) -> float | None:
    return None if figure is None else figure.expected
