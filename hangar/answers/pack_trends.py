"""How a pack ages: its resistance and capacity over time, the limit, and when the line meets it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from hangar.answers.packs import PackCase, held_c
from hangar.base.errors import HangarError
from hangar.base.text import NOTHING, Amount, Text, fixed, joined, plural, text

if TYPE_CHECKING:
    from hangar.physics.pack_health import Trend

FIRST_TESTS = 3
_FAR_DAYS = 20 * 365


@dataclass(frozen=True)
class TrendCase:
    """Dated readings with their limit and, from four readings on, a line through them.

    ``limit`` is None where there is nothing to hold the readings against.
    """

    title: Text
    unit: str
    readings: tuple[tuple[date, float], ...]
    limit: float | None = None
    limit_words: Text = NOTHING
    line: Trend | None = None
    meets_on: date | None = None

    def line_at(self, day: date) -> float | None:
        """Value of the line on a day."""
        return None if self.line is None else self.line.at(float(day.toordinal()))

    def summary(self) -> Text:
        """The picture in words."""
        if not self.readings:
            return fixed("No reading yet.")
        day, value = self.readings[-1]
        read = plural(
            "One reading, {value} on {day}.",
            "{count} readings, the last {value} on {day}.",
            count=len(self.readings),
            value=Amount(value, self.unit),
            day=day,
        )
        limit = NOTHING
        if self.limit is not None:
            limit = text("{limit:^}: {value}.", limit=self.limit_words, value=Amount(self.limit, self.unit))
        return joined(read, limit, self._ahead())

    def _ahead(self) -> Text:
        if self.line is None:
            return text("A line through the readings needs four of them.")
        if self.limit is None:
            return NOTHING
        if self.meets_on is None:
            return text("Going on like this it does not meet the limit.")
        if self.meets_on <= self.readings[-1][0]:
            return text("The limit is passed.")
        return text("Going on like this it meets the limit about {day}.", day=self.meets_on)


def resistance_trend(case: PackCase) -> TrendCase:
    """Resistance of one cell by the load tests, each brought to 25 C.

    Taken from rest, which reads high: it is held against its own first three tests, never against a
    figure measured in another way.
    """
    from hangar.physics.pack_health import RESISTANCE_RETIRE
    from hangar.physics.pack_resistance import at_25_c_ohm, resistance_from_two_loads

    readings = []
    for test in case.load_tests:
        try:
            found = resistance_from_two_loads(
                (test.rest_v, 0.0), (test.loaded_v, test.load_a), cells=case.pack_type.series
            )
        except HangarError:
            continue
        ohm = at_25_c_ohm(found.cell_ohm, case.pack_type.chemistry, held_c(test.ambient_c))
        readings.append((test.tested_at.date(), 1000.0 * ohm))
    limit = None
    if len(readings) >= FIRST_TESTS:
        limit = RESISTANCE_RETIRE * sum(value for _, value in readings[:FIRST_TESTS]) / FIRST_TESTS
    words = text("retire at {share} % of the first three", share=f"{100 * RESISTANCE_RETIRE:.0f}")
    title = text("Resistance of a cell by load tests")
    return _with_line(TrendCase(title, "mohm", tuple(readings), limit, words), rising_is_worse=True)


def capacity_trend(case: PackCase) -> TrendCase:
    """Capacity by full discharges against the label."""
    from hangar.physics.pack_health import CAPACITY_RETIRE

    readings = {test.tested_on: test.capacity_mah for test in case.capacity_tests if test.capacity_mah}
    if case.pack.capacity_mah is not None and case.pack.capacity_on is not None:
        readings.setdefault(case.pack.capacity_on, case.pack.capacity_mah)
    limit = CAPACITY_RETIRE * case.pack_type.capacity_mah
    words = text("retire at {share} % of the label", share=f"{100 * CAPACITY_RETIRE:.0f}")
    bare = TrendCase(text("Capacity"), "mAh", tuple(sorted(readings.items())), limit, words)
    return _with_line(bare, rising_is_worse=False)


def _with_line(bare: TrendCase, *, rising_is_worse: bool) -> TrendCase:
    """The case with the line through its readings and the day on which that meets the limit."""
    from hangar.physics.pack_health import trend

    try:
        line = trend([(float(day.toordinal()), value) for day, value in bare.readings])
    except HangarError:
        return bare
    if bare.limit is None:
        return replace(bare, line=line)
    worse = 1.0 if rising_is_worse else -1.0
    if worse * line.at_last >= worse * bare.limit:
        return replace(bare, line=line, meets_on=bare.readings[-1][0])
    crossing = line.crossing(bare.limit)
    if crossing is None or crossing - line.last_x > _FAR_DAYS:
        return replace(bare, line=line)
    return replace(bare, line=line, meets_on=date.fromordinal(round(crossing)))


def shown_until(case: TrendCase) -> date:
    """The last day a picture shows: half as long again as the readings, or to where the limit is met."""
    first, last = case.readings[0][0], case.readings[-1][0]
    span = max(30, (last - first).days)
    wanted = last + timedelta(days=span // 2)
    if case.meets_on is not None and case.meets_on > last:
        wanted = min(max(wanted, case.meets_on + timedelta(days=span // 10)), last + timedelta(days=4 * span))
    return wanted
