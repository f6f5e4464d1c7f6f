"""Judging a pack: two separate questions, is it charged and is it healthy, and where it is heading.

Source: Ohm's law and least squares; the lines drawn are marked where they stand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

from hangar.base.errors import BadInput
from hangar.base.text import fixed
from hangar.physics.checks import finite
from hangar.physics.pack import CELLS, Chemistry
from hangar.physics.pack_resistance import temperature_factor

RESISTANCE_AMBER, RESISTANCE_RETIRE = 1.5, 2.0
"""Over the baseline; 200 % is a usual end-of-life mark (battery-analytics encyclopaedia)."""
CAPACITY_AMBER, CAPACITY_RETIRE = 0.85, 0.80
"""Of rated; 80 % is a usual end-of-life mark; the life tests of IEC 61951 and 61960 end at 60 %."""
OVERNIGHT_LOSS_AMBER = 0.10
"""Common practice, no source."""
_AGE_AMBER_YEARS = {True: 5.0, False: 3.0}
_SPREAD_LOADED_V = {True: 0.10, False: 0.05}
_SPREAD_RESTING_V = (0.03, 0.10)
_NEXT_TESTS = 10.0


class Light(IntEnum):
    """A verdict, worst last; UNKNOWN where nothing was tested."""

    UNKNOWN = 0
    GREEN = 1
    AMBER = 2
    RED = 3


@dataclass(frozen=True, slots=True)
class ChargeVerdict:
    """Is it charged?

    Attributes:
        light: GREEN fit for a full set of flights, AMBER for part of one, RED charge it first.
        loaded_v: Volts read under load.
        green_from_v: Loaded volts from which it is GREEN.
        red_below_v: Loaded volts below which it is RED.
        inner_cell_v: Volts of one cell behind its expected resistance.
    """

    light: Light
    loaded_v: float
    green_from_v: float
    red_below_v: float
    inner_cell_v: float


def loaded_lines_v(
    chemistry: Chemistry, cells: int, current_a: float, cell_ohm: float, *, temperature_c: float = 25.0
) -> tuple[float, float]:
    """Loaded volts from which a pack is ready, and below which it must be charged.

    Args:
        chemistry: Kind of cell.
        cells: Cells in series.
        current_a: Test current, 0 or more.
        cell_ohm: Expected resistance of one string cell at 25 C (parallel cells taken together).
        temperature_c: Pack temperature, -10 to 45.

    Raises:
        BadInput: An impossible value.
        OutOfValidity: A temperature outside -10 to 45 C.

    Source: inner volts less current times resistance; inner volts are proposals set on trade
        anchors (five nickel cells of 30 mohm good from 6.5 V at 1 A).

    >>> ready, charge = loaded_lines_v(Chemistry.NIMH, 5, 1.0, 0.030)
    >>> round(ready, 2), round(charge, 2)
    (6.5, 5.95)
    """
    if cells < 1 or not current_a >= 0.0 or not cell_ohm >= 0.0:
        raise BadInput(
            "a load test of {cells} cells at {current:g} A with {resistance:g} ohm a cell was found; 1 "
            "cell or more and 0 or more of the rest are allowed",
            cells=cells,
            current=current_a,
            resistance=cell_ohm,
        )
    volts = CELLS[chemistry]
    sag_v = current_a * cell_ohm * temperature_factor(chemistry, temperature_c)
    return cells * (volts.ready_emf_v - sag_v), cells * (volts.recharge_emf_v - sag_v)


def least_loaded_v(
    chemistry: Chemistry, cells: int, current_a: float, cell_ohm: float, *, temperature_c: float = 25.0
) -> float:
    """Loaded volts below which a pack does not fly: the field minimum, or the line below which it is charged.

    Arguments are those of :func:`loaded_lines_v`; the field minimum is common practice, no source.

    Raises:
        BadInput: an impossible value.

    >>> round(least_loaded_v(Chemistry.NIMH, 5, 1.0, 0.030), 2)
    6.1
    >>> round(least_loaded_v(Chemistry.LIFEPO4, 2, 0.0, 0.012), 2)
    6.46
    """
    _, charge_v = loaded_lines_v(chemistry, cells, current_a, cell_ohm, temperature_c=temperature_c)
    return max(charge_v, cells * CELLS[chemistry].field_minimum_v)


def charge_verdict(
    chemistry: Chemistry,
    cells: int,
    loaded_v: float,
    current_a: float,
    cell_ohm: float,
    *,
    temperature_c: float = 25.0,
) -> ChargeVerdict:
    """Whether a pack is charged, by its volts after ten seconds under load.

    Arguments are those of :func:`loaded_lines_v`, and the volts read.  For a checker that is a
    resistance, the current is volts over ohms (:func:`checker_current_a`).

    Raises:
        BadInput: an impossible value.

    >>> charge_verdict(Chemistry.NIMH, 5, 6.2, 1.0, 0.030).light.name
    'AMBER'
    """
    finite(loaded_v=loaded_v)
    green, _ = loaded_lines_v(chemistry, cells, current_a, cell_ohm, temperature_c=temperature_c)
    red = least_loaded_v(chemistry, cells, current_a, cell_ohm, temperature_c=temperature_c)
    green = max(green, red)
    if loaded_v < 0.0:
        raise BadInput("{volts:g} V under load was found; 0 or more is allowed", volts=loaded_v)
    sag_v = current_a * cell_ohm * temperature_factor(chemistry, temperature_c)
    # A reading on the line counts as reaching it; meters show two decimals.
    light = Light.GREEN if loaded_v >= green - 1e-9 else Light.RED if loaded_v < red - 1e-9 else Light.AMBER
    return ChargeVerdict(light, loaded_v, green, red, loaded_v / cells + sag_v)


def checker_current_a(loaded_v: float, checker_ohm: float) -> float:
    """Current of a checker that is a plain resistance.

    Raises:
        BadInput: a checker without resistance.

    >>> checker_current_a(6.0, 12.0)
    0.5
    """
    finite(loaded_v=loaded_v)
    if not checker_ohm > 0.0:
        raise BadInput(
            "a checker of {resistance:g} ohm was found; more than 0 is allowed", resistance=checker_ohm
        )
    return loaded_v / checker_ohm


@dataclass(frozen=True, slots=True)
class HealthRecord:
    """What is known of a pack's health; None where it was not tested.

    Attributes:
        resistance_ohm: Last measured, brought to 25 C.
        baseline_ohm: Mean of its first three tests, or expected when new; at 25 C.
        capacity_ah: Last measured at 0.2 to 0.5 of the one-hour current.
        rated_ah: Label.
        overnight_loss: Share of volts under load or of capacity lost overnight (nickel).
        loaded_spread_v: Highest less lowest cell under load (nickel at 1 A).
        resting_spread_v: Highest less lowest cell at rest (lithium).
        age_years: Since made or bought.
        is_damaged: Puffed, leaking, dented or crashed.
    """

    resistance_ohm: float | None = None
    baseline_ohm: float | None = None
    capacity_ah: float | None = None
    rated_ah: float | None = None
    overnight_loss: float | None = None
    loaded_spread_v: float | None = None
    resting_spread_v: float | None = None
    age_years: float | None = None
    is_damaged: bool | None = None


@dataclass(frozen=True, slots=True)
class HealthSign:
    """One test of health: what it looks at, what it found, and its verdict."""

    name: str
    value: float
    light: Light


@dataclass(frozen=True, slots=True)
class HealthVerdict:
    """Is it healthy?  The worst sign counts; UNKNOWN where nothing was measured."""

    light: Light
    signs: tuple[HealthSign, ...]

    @property
    def is_to_retire(self) -> bool:
        """Whether any sign alone says it must not carry flight controls."""
        return self.light is Light.RED


_NOT_MEASURED = ("age in years", "damaged")
"""Signs that can speak against a pack, but never for it: neither says what its cells still do."""


def _graded(value: float, amber: float, red: float) -> Light:
    return Light.RED if value > red else Light.AMBER if value > amber else Light.GREEN


def _ratio(name: str, value: float | None, base: float | None) -> float | None:
    if value is None or base is None:
        return None
    if not (value >= 0.0 and base > 0.0):
        raise BadInput(
            "a pack's {name} of {value:g} against {base:g} was found; it must be 0 or more over more than 0",
            name=fixed(name),
            value=value,
            base=base,
        )
    return value / base


def health_verdict(chemistry: Chemistry, record: HealthRecord) -> HealthVerdict:
    """Whether a pack is healthy, whatever its charge.

    Raises:
        BadInput: A negative figure, or a baseline or rated capacity of 0.

    Source: end-of-life marks of 200 % resistance and 80 % capacity; the rest common practice, no
        source.

    >>> worn = HealthRecord(resistance_ohm=0.066, baseline_ohm=0.030)
    >>> health_verdict(Chemistry.NIMH, worn).light.name
    'RED'
    """
    signs: list[HealthSign] = []

    def add(name: str, value: float | None, amber: float, red: float = math.inf) -> None:
        if value is not None:
            signs.append(HealthSign(name, value, _graded(value, amber, red)))

    nickel = chemistry.is_nickel
    resistance = _ratio("resistance", record.resistance_ohm, record.baseline_ohm)
    add("resistance over baseline", resistance, RESISTANCE_AMBER, RESISTANCE_RETIRE)
    capacity = _ratio("capacity", record.capacity_ah, record.rated_ah)
    if capacity is not None:
        light = _graded(-capacity, -CAPACITY_AMBER, -CAPACITY_RETIRE)
        signs.append(HealthSign("capacity over rated", capacity, light))
    if nickel:
        add("lost overnight", record.overnight_loss, OVERNIGHT_LOSS_AMBER)
    else:
        add("cell spread at rest", record.resting_spread_v, *_SPREAD_RESTING_V)
    add("cell spread under load", record.loaded_spread_v, _SPREAD_LOADED_V[nickel])
    add("age in years", record.age_years, _AGE_AMBER_YEARS[nickel])
    if record.is_damaged is not None:
        signs.append(
            HealthSign("damaged", float(record.is_damaged), Light.RED if record.is_damaged else Light.GREEN)
        )
    worst = max((sign.light for sign in signs), default=Light.UNKNOWN)
    if worst is Light.GREEN and all(sign.name in _NOT_MEASURED for sign in signs):
        worst = Light.UNKNOWN
    return HealthVerdict(worst, tuple(signs))


@dataclass(frozen=True, slots=True)
class Trend:
    """A straight line through tests.

    Attributes:
        slope: Change for each step of x.
        at_last: Value of the line at the last test.
        last_x: x of the last test.
        scatter: Standard deviation of the tests about the line.
        slope_uncertainty: Standard uncertainty of the slope.
        count: Number of tests.
    """

    slope: float
    at_last: float
    last_x: float
    scatter: float
    slope_uncertainty: float
    count: int

    def at(self, x: float) -> float:
        """Value of the line."""
        return self.at_last + self.slope * (x - self.last_x)

    def crossing(self, limit: float) -> float | None:
        """x from the last test on at which the line meets a limit; None when that is past or never."""
        gap = limit - self.at_last
        if gap == 0.0:
            return self.last_x
        if gap * self.slope <= 0.0:
            return None
        return self.last_x + gap / self.slope


def trend(tests: Sequence[tuple[float, float]]) -> Trend:
    """Least-squares line through four tests or more.

    Args:
        tests: Pairs of x (count of the test, or days) and value.

    Raises:
        BadInput: Fewer than four tests, or all at the same x.

    Source: ordinary least squares.

    >>> line = trend([(1, 30.0), (2, 32.0), (3, 34.0), (4, 36.0)])
    >>> line.slope, line.crossing(60.0)
    (2.0, 16.0)
    """
    count = len(tests)
    if count < 4:
        raise BadInput("a trend of {count} tests was asked; 4 or more are needed", count=count)
    mean_x = math.fsum(x for x, _ in tests) / count
    mean_y = math.fsum(y for _, y in tests) / count
    spread = math.fsum((x - mean_x) ** 2 for x, _ in tests)
    if spread == 0.0:
        raise BadInput("a trend needs tests of different dates or counts")
    slope = math.fsum((x - mean_x) * (y - mean_y) for x, y in tests) / spread
    residual_sum = math.fsum((y - mean_y - slope * (x - mean_x)) ** 2 for x, y in tests)
    scatter = math.sqrt(residual_sum / (count - 2))
    last_x = max(x for x, _ in tests)
    return Trend(
        slope, mean_y + slope * (last_x - mean_x), last_x, scatter, scatter / math.sqrt(spread), count
    )


def trend_light(line: Trend, limit: float, *, rising_is_worse: bool, ahead: float = _NEXT_TESTS) -> Light:
    """AMBER when a trend will cross a limit within the next tests, RED when it already has.

    Args:
        line: The trend.
        limit: Where to retire.
        rising_is_worse: True for resistance, False for capacity.
        ahead: How far to look, in the trend's x; ten tests by default.

    Raises:
        BadInput: a limit or look ahead that is not finite.

    >>> worsening = trend([(1, 30.0), (2, 32.0), (3, 34.0), (4, 36.0)])
    >>> trend_light(worsening, 60.0, rising_is_worse=True).name
    'GREEN'
    >>> trend_light(worsening, 50.0, rising_is_worse=True).name
    'AMBER'
    """
    finite(limit=limit, ahead=ahead)
    worse = 1.0 if rising_is_worse else -1.0
    if worse * line.at_last >= worse * limit:
        return Light.RED
    return Light.AMBER if worse * line.at(line.last_x + ahead) >= worse * limit else Light.GREEN
