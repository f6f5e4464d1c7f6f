"""The current of a flight in time: ordinary flying, brisk stretches and short jerks, one after the other."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    # One number of every step.
    Steps = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class FlightStyle:
    """How a flight is flown.

    Attributes:
        ordinary_a, brisk_a, peak_a: current in each way of flying [A].
        brisk_share, peak_share: share of the time flown briskly and in peaks, 0 to 1.
        cycle_s: brisk stretches return after this time [s], above 0.
        peak_s: length of one peak [s], above 0.
    """

    ordinary_a: float
    brisk_a: float
    peak_a: float
    brisk_share: float
    peak_share: float
    cycle_s: float
    peak_s: float


def flown_current_a(flying: FlightStyle, *, minutes: float, step_s: float) -> Steps:
    """Current of every step of a flight; peaks are spread evenly over it.

    Args:
        flying: currents and shares of time.
        minutes: length of the flight, above 0.
        step_s: length of a step, above 0.

    Raises:
        BadInput: a length that is not above 0.

    Source: a pattern of our own for trying a supply, no source.

    >>> calm = FlightStyle(1.0, 3.0, 8.0, 0.25, 0.0, 4.0, 0.3)
    >>> flown_current_a(calm, minutes=0.1, step_s=1.0).tolist()
    [3.0, 1.0, 1.0, 1.0, 3.0, 1.0]
    """
    import numpy as np

    good = inf > minutes > 0.0 and inf > step_s > 0.0 and flying.cycle_s > 0.0 and flying.peak_s > 0.0
    if not good:
        raise BadInput(
            "a flight of {minutes} min in steps of {step} s was asked; both must be above 0 and end.",
            minutes=minutes,
            step=step_s,
        )
    at_s = np.arange(max(1, round(60.0 * minutes / step_s))) * step_s
    current = np.full(at_s.size, flying.ordinary_a)
    current[at_s % flying.cycle_s < flying.brisk_share * flying.cycle_s] = flying.brisk_a
    if flying.peak_share > 0.0:
        current[at_s % (flying.peak_s / flying.peak_share) < flying.peak_s] = flying.peak_a
    return current
