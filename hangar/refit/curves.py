"""Servo ratings of many types read at many volts at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangar.physics.servo_rating import Rating

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Read:
    """What servos give and draw at their volts; a servo without a rating gives and draws not-a-number."""

    torque_nm: Floats
    speed_rad_s: Floats
    stall_a: Floats
    supply_a: Floats


@dataclass(frozen=True)
class Curves:
    """Rated rows of many types side by side, by rising volts; missing rows are at infinite volts."""

    volts: Floats
    values: Floats
    starting_v: Floats
    rows: Ints

    @classmethod
    def of(cls, ratings: Sequence[Rating | None]) -> Curves:
        """The curves of types in this order."""
        most = max((len(rating.rows) for rating in ratings if rating), default=1)
        volts = np.full((len(ratings), most), np.inf)
        values = np.full((3, len(ratings), most), np.nan)
        starting = np.zeros((2, len(ratings)))
        for at, rating in enumerate(ratings):
            if rating is None:
                continue
            points = [rating.at(row.volts) for row in rating.rows]
            volts[at, : len(points)] = [row.volts for row in rating.rows]
            values[0, at, : len(points)] = [point.stall_torque_nm for point in points]
            values[1, at, : len(points)] = [point.no_load_rad_s for point in points]
            values[2, at, : len(points)] = [point.stall_current_a.expected for point in points]
            for quantity in (0, 1):
                starting[quantity, at] = _starting_v(volts[at], values[quantity, at], len(points))
        return cls(volts, values, starting, np.isfinite(volts).sum(axis=1))

    def at(self, kinds: Ints, volts: Floats) -> Read:
        """Torque, speed and stall current of types at the volts at their plugs.

        Stall current is the expected one; for the supply it keeps rising above the rating.
        """
        rated = self.volts[kinds]
        upper = (rated < volts[:, None]).sum(axis=1)
        last = np.maximum(self.rows[kinds] - 1, 0)
        high, low = np.minimum(upper, last), np.clip(upper - 1, 0, last)
        low_v, high_v = rated[np.arange(len(kinds)), low], rated[np.arange(len(kinds)), high]
        width = np.where(high_v > low_v, high_v - low_v, 1.0)
        share = np.where(high > low, (volts - low_v) / width, 1.0)
        below = volts < rated[:, 0]
        found = []
        for quantity in range(3):
            value = self.values[quantity, kinds]
            lower = value[np.arange(len(kinds)), low]
            read = lower + share * (value[np.arange(len(kinds)), high] - lower)
            start = self.starting_v[quantity, kinds] if quantity < 2 else 0.0
            falling = np.maximum(0.0, (volts - start) / (rated[:, 0] - start))
            found.append(np.where(below, value[:, 0] * falling, read))
        torque, speed, stall = found
        top = rated[np.arange(len(kinds)), last]
        return Read(torque, speed, stall, np.where(volts > top, stall * (volts / top), stall))


def _starting_v(volts: Floats, values: Floats, rows: int) -> float:
    """Volts at which a motor begins to turn, from the two lowest rows."""
    if rows == 1:
        return float(0.1 * volts[0])
    if values[1] <= values[0]:
        return 0.0
    slope = (values[1] - values[0]) / (volts[1] - volts[0])
    return float(min(max(volts[0] - values[0] / slope, 0.0), 0.5 * volts[0]))
