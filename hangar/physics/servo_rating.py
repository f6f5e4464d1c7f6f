"""What a servo gives at a voltage: rated rows read as curves, and stall current where none is given.

Source: linear direct-current motor between rated rows; marked where it is common practice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from hangar.base.errors import BadInput
from hangar.base.figure import Band
from hangar.base.values import value_class


class RatingFlag(StrEnum):
    """What must be said beside a figure read off a servo's rating."""

    ABOVE_RATING = "above the highest rated volts"
    BELOW_RATING = "below the lowest rated volts"
    OUTSIDE_DATA = "too low for the data"


class ServoBuild(StrEnum):
    """How the motor and its electronics are made, as far as the supply feels it."""

    ANALOG = "analog"
    DIGITAL = "digital"


# Torque times speed over volts times stall current: ten published rows of five devices lie at
# 0.48 to 0.74 and one, physically impossible, at 1.01.
EFFICIENCY_LOW, EFFICIENCY_MIDDLE, EFFICIENCY_HIGH = 0.45, 0.65, 0.90
_SIZING_EFFICIENCY = {ServoBuild.ANALOG: EFFICIENCY_LOW, ServoBuild.DIGITAL: 0.60}


def speed_rad_s(seconds_for_60_deg: float) -> float:
    """Turning rate from the trade's seconds for 60 degrees.

    Raises:
        BadInput: a time not above 0.

    >>> round(speed_rad_s(0.15), 3)
    6.981
    """
    if not seconds_for_60_deg > 0.0:
        raise BadInput(
            "a time for 60 degrees of {seconds:g} s was found; more than 0 is allowed",
            seconds=seconds_for_60_deg,
        )
    return math.pi / 3.0 / seconds_for_60_deg


def stall_current_band_a(
    volts: float, stall_torque_nm: float, no_load_rad_s: float, build: ServoBuild = ServoBuild.DIGITAL
) -> Band:
    """Stall current by power balance, for a servo whose sheet does not give it.

    Args:
        volts: Volts of the rated row.
        stall_torque_nm: Stall torque at those volts.
        no_load_rad_s: No-load speed at those volts.
        build: Analog servos (cored motors) are sized on 0.45, digital ones on 0.60.

    Returns:
        Amps: least (apparent efficiency 0.90), expected (0.65), and for sizing the supply.

    Raises:
        BadInput: volts, torque or speed not above 0.

    Valid for: rows whose stall current is volts over resistance; a controller that limits the
        current draws less.

    Source: power balance of the linear motor model; the efficiencies are bounds chosen round ten
        published data-sheet rows of five devices.

    >>> band = stall_current_band_a(7.4, 1.9613, 10.472)
    >>> round(band.low, 2), round(band.expected, 2), round(band.design, 2)
    (3.08, 4.27, 4.63)
    """
    if not (volts > 0.0 and stall_torque_nm > 0.0 and no_load_rad_s > 0.0):
        raise BadInput("volts, stall torque and speed must all be more than 0 to estimate the stall current")
    ideal_a = stall_torque_nm * no_load_rad_s / volts
    return Band(ideal_a / EFFICIENCY_HIGH, ideal_a / EFFICIENCY_MIDDLE, ideal_a / _SIZING_EFFICIENCY[build])


@dataclass(frozen=True, slots=True)
class RatedRow:
    """One row of a servo's sheet; ``stall_current_a`` is None where the sheet is silent."""

    volts: float
    stall_torque_nm: float
    no_load_rad_s: float
    stall_current_a: float | None = None

    def __post_init__(self) -> None:
        for name in ("volts", "stall_torque_nm", "no_load_rad_s", "stall_current_a"):
            value = getattr(self, name)
            if value is not None and not (math.isfinite(value) and value > 0.0):
                raise BadInput(
                    "a rated row has {name} = {value:g}; a finite number above 0 is allowed",
                    name=name,
                    value=value,
                )

    @property
    def plausibility(self) -> float | None:
        """Torque times speed over volts times stall current; believable from 0.15 to 0.75."""
        if self.stall_current_a is None:
            return None
        return self.stall_torque_nm * self.no_load_rad_s / (self.volts * self.stall_current_a)


def is_plausible(row: RatedRow) -> bool | None:
    """Whether a row's four numbers fit one motor; None when the stall current is missing.

    Source: a direct-current motor stalls at volts over resistance, and turns at most part of that
    power into torque times speed; limits 0.15 and 0.75 are common practice, no source.

    >>> is_plausible(RatedRow(6.0, 0.3432, 6.981, 0.80)), is_plausible(RatedRow(8.4, 8.156, 10.472, 10.1))
    (True, False)
    """
    ratio = row.plausibility
    return None if ratio is None else 0.15 <= ratio <= 0.75


@value_class
class ServoAtVolts:
    """What a servo gives at the volts at its plug.

    Attributes:
        volts: Volts at the plug.
        stall_torque_nm: Torque at which it stops.
        no_load_rad_s: Speed without load.
        stall_current_a: Amps when stopped at full drive, for torque and heat: least, expected, and
            for sizing.
        supply_current_a: The same for sizing the supply; above the rating it keeps rising.
        flags: What must be said beside these figures.
        is_current_estimated: Whether the sheet gave no stall current for some row used.
    """

    volts: float
    stall_torque_nm: float
    no_load_rad_s: float
    stall_current_a: Band
    supply_current_a: Band
    flags: frozenset[RatingFlag]
    is_current_estimated: bool

    def speed_at_rad_s(self, load_torque_nm: float) -> float:
        """Speed against a torque on the straight torque-speed line; 0 at stall and beyond."""
        return max(0.0, self.no_load_rad_s * (1.0 - load_torque_nm / self.stall_torque_nm))

    def current_at_a(self, load_torque_nm: float, no_load_current_a: float) -> float:
        """Expected amps while driving against a torque; stall current at stall and beyond."""
        share = min(1.0, max(0.0, load_torque_nm / self.stall_torque_nm))
        return no_load_current_a + (self.stall_current_a.expected - no_load_current_a) * share


@dataclass(frozen=True, slots=True)
class Rating:
    """A servo's rated rows by rising volts."""

    rows: tuple[RatedRow, ...]
    build: ServoBuild = ServoBuild.DIGITAL

    @classmethod
    def of(cls, rows: Sequence[RatedRow], build: ServoBuild = ServoBuild.DIGITAL) -> Rating:
        """A rating of one or more rows in any order.

        Raises:
            BadInput: No rows, or two rows of the same volts.
        """
        ordered = tuple(sorted(rows, key=lambda row: row.volts))
        if not ordered:
            raise BadInput("a servo's rating needs at least one row of volts, torque and speed")
        for lower, upper in pairwise(ordered):
            if lower.volts == upper.volts:
                raise BadInput(
                    "two rated rows at {volts:g} V were found; one row for each is allowed", volts=lower.volts
                )
        return cls(ordered, build)

    def at(self, volts: float) -> ServoAtVolts:
        """Torque, speed and stall current at a voltage.

        Between rows: straight lines in volts of torque, of speed in rad/s and of stall current.
        Above the highest row torque and speed are held, and only the supply current rises.  Below
        the lowest they fall with the volts above the motor's starting volts, which come from the
        two lowest rows (0 to half the lowest volts), or are a tenth of the only row's volts.

        Args:
            volts: Volts at the servo's plug, 0 or more.

        Raises:
            BadInput: Negative volts.

        Valid for: down to 0.7 of the lowest row or 4.0 V, whichever is more; below, flagged.

        Source: linear direct-current motor; eight published 4.8/6.0 V pairs scale with exponents
            of 0.64 to 1.13 (torque) and 0.53 to 1.20 (speed), so nothing is carried above the data.

        >>> standard = Rating.of([RatedRow(4.8, 0.2942, 5.512, 0.70), RatedRow(6.0, 0.3432, 6.981, 0.80)])
        >>> point = standard.at(5.5)
        >>> round(point.stall_torque_nm, 4), round(point.no_load_rad_s, 3), point.stall_current_a.expected
        (0.3228, 6.369, 0.7583)
        """
        if not volts >= 0.0:
            raise BadInput("a servo at {volts:g} V was asked; 0 V or more is allowed", volts=volts)
        lowest, highest = self.rows[0], self.rows[-1]
        if volts < lowest.volts:
            return self._below(volts)
        if volts > highest.volts:
            held = self._row_current(highest)
            flags = frozenset({RatingFlag.ABOVE_RATING})
            return self._point(
                volts,
                (highest.stall_torque_nm, highest.no_load_rad_s),
                (held, held * (volts / highest.volts)),
                flags,
                highest.stall_current_a is None,
            )
        return self._between(volts)

    def stall_resistance_ohm(self, volts: float) -> float:
        """Volts over expected stall current: the servo as a resistance when it is held fast."""
        at = max(volts, self.rows[0].volts)
        return at / self.at(at).supply_current_a.expected

    def _between(self, volts: float) -> ServoAtVolts:
        upper_at = next(k for k, row in enumerate(self.rows) if row.volts >= volts)
        upper = self.rows[upper_at]
        lower = upper if upper.volts == volts else self.rows[upper_at - 1]
        share = 1.0 if lower is upper else (volts - lower.volts) / (upper.volts - lower.volts)
        current = self._row_current(lower) * (1.0 - share) + self._row_current(upper) * share
        return self._point(
            volts,
            (
                lower.stall_torque_nm + share * (upper.stall_torque_nm - lower.stall_torque_nm),
                lower.no_load_rad_s + share * (upper.no_load_rad_s - lower.no_load_rad_s),
            ),
            (current, current),
            frozenset(),
            lower.stall_current_a is None or upper.stall_current_a is None,
        )

    def _below(self, volts: float) -> ServoAtVolts:
        lowest = self.rows[0]
        torque_start = self._starting_volts("stall_torque_nm")
        speed_start = self._starting_volts("no_load_rad_s")
        current = self._row_current(lowest) * (volts / lowest.volts)
        flags = {RatingFlag.BELOW_RATING}
        if volts < max(0.7 * lowest.volts, 4.0):
            flags.add(RatingFlag.OUTSIDE_DATA)
        return self._point(
            volts,
            (
                lowest.stall_torque_nm * _falling(volts, lowest.volts, torque_start),
                lowest.no_load_rad_s * _falling(volts, lowest.volts, speed_start),
            ),
            (current, current),
            frozenset(flags),
            lowest.stall_current_a is None,
        )

    def _starting_volts(self, quantity: str) -> float:
        lowest = self.rows[0]
        if len(self.rows) == 1:
            return 0.1 * lowest.volts
        upper = self.rows[1]
        low_value, high_value = float(getattr(lowest, quantity)), float(getattr(upper, quantity))
        if high_value <= low_value:
            return 0.0
        slope = (high_value - low_value) / (upper.volts - lowest.volts)
        return min(max(lowest.volts - low_value / slope, 0.0), 0.5 * lowest.volts)

    def _row_current(self, row: RatedRow) -> Band:
        if row.stall_current_a is not None:
            return Band.exactly(row.stall_current_a)
        return stall_current_band_a(row.volts, row.stall_torque_nm, row.no_load_rad_s, self.build)

    @staticmethod
    def _point(
        volts: float,
        output: tuple[float, float],
        currents: tuple[Band, Band],
        flags: frozenset[RatingFlag],
        is_estimated: bool,
    ) -> ServoAtVolts:
        return ServoAtVolts(volts, *output, *currents, flags, is_estimated)


def _falling(volts: float, lowest_v: float, starting_v: float) -> float:
    """Share of the lowest row's value left at lower volts."""
    return max(0.0, (volts - starting_v) / (lowest_v - starting_v))
