"""What is measured over what is predicted, reading by reading: readings that do not fit are kept waiting.

The same rules as for a resistance over the years: a reading more than three deviations off moves nothing, two
in a row that agree against the record start it again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from hangar.physics.checks import above_zero, finite
from hangar.physics.estimating import Factor
from hangar.physics.tracking import CHANGED_BOTH, CHANGED_EACH, CHANGED_LN, DOES_NOT_FIT, Fate


@dataclass(frozen=True, slots=True)
class FactorReading:
    """One reading of a factor.

    Attributes:
        day: when, in days of any calendar.
        ln_ratio: logarithm of what was measured over what was predicted.
        weight: how much it tells, 1 for a reading whose own error is nothing beside the scatter.
    """

    day: float
    ln_ratio: float
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class FactorVerdict:
    """A reading of a factor beside what was expected of it.

    Attributes:
        reading: the reading.
        expected: what was expected, of the logarithm, from everything before it.
        sd: of what was expected and of the reading.
        z: how far off it is, in those.
        share: share of what is known that it brought, 0 to 1; 0 where it was not taken.
        fate: what became of it.
    """

    reading: FactorReading
    expected: float
    sd: float
    z: float
    share: float
    fate: Fate


@dataclass(frozen=True, slots=True)
class FactorTrack:
    """A factor by its prior and every reading.

    Attributes:
        prior: what was expected before.
        judged: the readings in order of time.
        state: as it stands after the last one.
        other: as it would stand if the waiting reading were right; None while none waits.
    """

    prior: Factor
    judged: tuple[FactorVerdict, ...]
    state: Factor
    other: Factor | None = None

    @property
    def band(self) -> tuple[float, float, float]:
        """Low, expected and high; both possibilities while a reading waits."""
        low, expected, high = self.state.band
        if self.other is not None:
            low, high = min(low, self.other.band[0]), max(high, self.other.band[2])
        return low, expected, high

    @property
    def greater(self) -> float:
        """What a warning goes by where more is worse: the greater of the possibilities."""
        return math.exp(max(self.state.mean, self.state.mean if self.other is None else self.other.mean))


def factor_track(prior: Factor, readings: Iterable[FactorReading]) -> FactorTrack:
    """A factor by all its readings, in whatever order they are given.

    Raises:
        BadInput: a ratio that is no finite number, or a weight that is not above 0.

    Source: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), ch. 3: normal data with conjugate prior.

    >>> found = factor_track(Factor.begin(), [FactorReading(day, 0.3) for day in range(4)])
    >>> round(found.band[1], 2), found.other
    (1.33, None)
    >>> found = factor_track(found.state, [FactorReading(9, 3.0)])
    >>> found.judged[0].fate.name, round(found.band[1], 2), found.band[2] > 2.0
    ('WAITING', 1.33, True)
    """
    joining = _Filter(prior)
    for reading in sorted(readings, key=lambda reading: (reading.day, reading.ln_ratio, reading.weight)):
        finite(ln_ratio=reading.ln_ratio, day=reading.day)
        above_zero(reading.weight, "weight of a reading")
        joining.join(reading)
    return FactorTrack(prior, tuple(joining.judged), joining.state, joining.other)


class _Filter:
    """The readings taken in one after the other."""

    def __init__(self, prior: Factor) -> None:
        self.state = prior
        self.judged: list[FactorVerdict] = []
        self.other: Factor | None = None
        self._waiting: int | None = None

    def join(self, reading: FactorReading) -> None:
        """Take one reading, keep it waiting, or start the record again."""
        sd = self.state.next_sd(reading.weight)
        z = (reading.ln_ratio - self.state.mean) / sd
        last = self.judged[-1] if self.judged else None
        if last is not None and last.fate is not Fate.CHANGED and _agree(last.z, z):
            self.state = _loosened(self.state)
            if last.fate is Fate.WAITING:
                self.state = self.state.joined(last.reading.ln_ratio, last.reading.weight)
                self.judged[-1] = replace(last, fate=Fate.CHANGED)
            self._take(reading, sd, z, Fate.CHANGED)
            self._waiting = self.other = None
        elif abs(z) > DOES_NOT_FIT:
            self.other = _loosened(self.state).joined(reading.ln_ratio, reading.weight)
            self._leave_out()
            self._waiting = len(self.judged)
            self.judged.append(FactorVerdict(reading, self.state.mean, sd, z, 0.0, Fate.WAITING))
        else:
            self._leave_out()
            self.other = None
            self._take(reading, sd, z, Fate.TAKEN)

    def _take(self, reading: FactorReading, sd: float, z: float, fate: Fate) -> None:
        expected = self.state.mean
        self.state = self.state.joined(reading.ln_ratio, reading.weight)
        share = reading.weight / self.state.count
        self.judged.append(FactorVerdict(reading, expected, sd, z, share, fate))

    def _leave_out(self) -> None:
        if self._waiting is not None:
            self.judged[self._waiting] = replace(self.judged[self._waiting], fate=Fate.LEFT_OUT)
            self._waiting = None


def _agree(last: float, now: float) -> bool:
    """Whether two readings in a row speak against the record in the same way."""
    return (
        last * now > 0.0 and min(abs(last), abs(now)) > CHANGED_EACH and abs(last) + abs(now) > CHANGED_BOTH
    )


def _loosened(state: Factor) -> Factor:
    """The factor when what it is of may have changed: its mean is open again."""
    scatter = state.beta / state.alpha
    return replace(state, count=scatter / (scatter / state.count + CHANGED_LN**2))
