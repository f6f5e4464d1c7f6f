"""Bus volts that a logged current should have made.

Source: exact recursion of a first-order linear system, as in :mod:`hangar.physics.pulse`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from hangar.base.errors import NoAnswer
from hangar.physics.pulse import PulseSupply, flight_profile

if TYPE_CHECKING:
    from numpy.typing import NDArray

_LEAST_STEP_S = 0.02


def predicted_bus_v(
    time_s: Sequence[float], currents_a: Sequence[Sequence[float]], supply: PulseSupply
) -> NDArray[np.float64]:
    """Bus volts by row under the currents of all packs together, from the moment the supply had settled.

    Args:
        time_s: Time of each row, rising.
        currents_a: The current of each pack by row; nan where it was not logged is bridged.
        supply: The packs and leads as the bus sees them.

    Raises:
        NoAnswer: the log holds no current, or the supply collapses under it.

    >>> supply = PulseSupply(8.2, 0.05, 0.0, 0.0)
    >>> predicted_bus_v([0.0, 0.1, 0.2], [[1.0, 2.0, 1.0]], supply).round(3).tolist()
    [8.15, 8.1, 8.15]
    """
    times = np.asarray(time_s, dtype=np.float64)
    amps = np.sum(np.asarray(currents_a, dtype=np.float64), axis=0)
    known = np.isfinite(amps)
    if times.size < 2 or not known.any():
        raise NoAnswer("the log holds no current.")
    step_s = max(float(np.median(np.diff(times))), _LEAST_STEP_S)
    even = np.arange(0.0, float(times[-1] - times[0]) + step_s, step_s)
    drawn = np.clip(np.interp(even, times[known] - times[0], amps[known]), 0.0, None)
    flown = flight_profile(drawn, step_s, supply)
    return np.asarray(np.interp(times - times[0], even, flown.bus_v))
