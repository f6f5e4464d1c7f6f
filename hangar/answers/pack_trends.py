"""How a pack ages: its resistance and capacity over time, the limit, and when the line meets it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from hangar.answers.packs import PackCase, learned_of
from hangar.base.errors import HangarError
from hangar.base.text import NOTHING, Amount, Text, fixed, joined, plural, text

if TYPE_CHECKING:
    from hangar.physics.pack_health import Trend
    from hangar.physics.tracking import Track

_FAR_DAYS = 20 * 365


@dataclass(frozen=True)
class TrendCase:
    """Dated readings with their limit and, from four readings on, a line through them.

    ``limit`` is None where there is nothing to hold the readings against; ``band`` is what the readings say
    together today, low, expected and high; ``growing`` their line where growth is not straight; ``aside``
    the readings that were set aside.
    """

    title: Text
    unit: str
    readings: tuple[tuple[date, float], ...]
    limit: float | None = None
    limit_words: Text = NOTHING
    line: Trend | None = None
    meets_on: date | None = None
    soonest_on: date | None = None
    band: tuple[float, float, float] | None = None
    growing: Callable[[date], float] | None = None
    aside: tuple[tuple[date, float], ...] = ()

    def line_at(self, day: date) -> float | None:
        """Value of the line on a day."""
        if self.growing is not None:
            return self.growing(day)
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
        together = NOTHING
        if self.band is not None:
            low, expected, high = self.band
            together = text(
                "All readings together say {expected}, nine times of ten between {low} and {high}.",
                expected=Amount(expected, self.unit),
                low=Amount(low, self.unit),
                high=Amount(high, self.unit),
            )
        return joined(read, together, limit, self._ahead())

    def _ahead(self) -> Text:
        if self.growing is not None and self.meets_on is None:
            return text("It is not sure that it grows: no day can be told on which it meets the limit.")
        if self.line is None and self.growing is None:
            return text("A line through the readings needs four of them.")
        if self.limit is None:
            return NOTHING
        if self.meets_on is None:
            return text("Going on like this it does not meet the limit.")
        if self.meets_on <= self.readings[-1][0]:
            return text("The limit is passed.")
        if self.soonest_on is not None:
            return text(
                "Going on like this it meets the limit not before {soonest}, likely about {day}.",
                soonest=self.soonest_on,
                day=self.meets_on,
            )
        return text("Going on like this it meets the limit about {day}.", day=self.meets_on)


def resistance_trend(case: PackCase, today: date) -> TrendCase:
    """Resistance of one cell by every reading at 25 °C, with the band of what they say together.

    It is held against twice that of a new cell. The day on which it meets that comes from its growth; nothing
    is said while it is not sure that it grows at all.
    """
    from hangar.physics.pack_health import RESISTANCE_RETIRE

    learned = learned_of(case, today)
    readings = tuple(
        (reading.read_on, reading.cell_mohm) for reading in learned.readings if not reading.is_aside
    )
    aside = tuple((reading.read_on, reading.cell_mohm) for reading in learned.readings if reading.is_aside)
    limit = RESISTANCE_RETIRE * learned.new_mohm.expected
    words = text("retire at {share} % of a new one", share=f"{100 * RESISTANCE_RETIRE:.0f}")
    bare = TrendCase(text("Resistance of a cell"), "mohm", readings, limit, words, aside=aside)
    track = learned.track
    if track is None:
        return bare
    low, high = (1000.0 * ohm for ohm in track.band_at(learned.today_y))
    bare = replace(bare, band=(low, learned.cell_mohm.expected, high), growing=_growing(track))
    crossing = track.crossing(limit / 1000.0)
    if track.state.cell_ohm >= limit / 1000.0:
        return replace(bare, meets_on=readings[-1][0])
    if crossing is None or crossing[1] - track.state.year > _FAR_DAYS / 365.25:
        return bare
    soonest, likely, _ = (
        None if value is None else date.fromordinal(round(value * 365.25)) for value in crossing
    )
    return replace(bare, meets_on=likely, soonest_on=soonest)


def _growing(track: Track) -> Callable[[date], float]:
    """What the readings say of each day, in milliohms: growth carried on from the last one."""
    state = track.state

    def value(day: date) -> float:
        return 1000.0 * math.exp(state.mean[0] + state.mean[1] * (day.toordinal() / 365.25 - state.year))

    return value


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
