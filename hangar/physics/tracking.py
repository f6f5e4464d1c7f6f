"""One resistance over the years: a pack by its prior and every reading of it (Kalman's filter).

Errors that readings share (a tester's lead, a cell's temperature law) are part of the state: without them
ten readings with one tester would look ten times as sure as one.

Source: R. E. Kalman, J. Basic Engineering 82 (1960); S. F. Schmidt, Advances in Control Systems 3 (1966),
shared errors as considered states.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from hangar.base.errors import BadInput
from hangar.physics.estimating import Z90, normal_share

DOES_NOT_FIT = 3.0
CHANGED_EACH, CHANGED_BOTH = 1.9, 4.6
CHANGED_LN = 0.5
_WANDER_LN = 0.06
_TURNS = 4
_LEAST_SHARE = 0.2
_KELVIN, _REFERENCE_K = 273.15, 298.15
_MEMBERS = 6
_OHM, _GROWTH, _LEAD, _SURFACE, _B, _NEW = range(_MEMBERS)

Vector = tuple[float, ...]
Matrix = tuple[Vector, ...]


class Told(StrEnum):
    """What became of a reading."""

    TAKEN = "taken"
    WAITING = "does not fit, waits for another"
    LEFT_OUT = "does not fit, another one spoke against it"
    CHANGED = "the part has changed, starts again from here"


@dataclass(frozen=True, slots=True)
class OhmReading:
    """One reading of a pack's resistance.

    Attributes:
        year: when, in years of any calendar.
        ohm: of the whole pack, table values of tester lead and surface volts taken off.
        ln_sd: own error, standard deviation of its logarithm.
        cell_c: temperature of the cells.
        through_tester: whether the tester's lead is in it.
        surface_ohm: table value of the surface volts over the current, where it was taken from rest.
    """

    year: float
    ohm: float
    ln_sd: float
    cell_c: float = 25.0
    through_tester: bool = False
    surface_ohm: float = 0.0


@dataclass(frozen=True, slots=True)
class TrackPrior:
    """What is expected of a pack before anybody read it.

    Attributes:
        year: when that holds (bought, or the first reading).
        cell_ohm: resistance of one cell at 25 C.
        ln_sd: its error, standard deviation of the logarithm.
        growth: of the logarithm in a year.
        growth_sd: error of that.
        cells: cells in series over cells in parallel.
        kelvin: B of the temperature law.
        kelvin_sd: error of B.
        lead_sd_ohm: error of the tester's lead.
        surface_sd: error of the surface volts as a share of the table's.
        new_ohm: resistance of a new cell, which its health is held against; None for ``cell_ohm``.
        new_ln_sd: error of that.
        shares_new: whether ``ln_sd`` is the error of ``new_ohm`` itself (typical figures), so that a
            reading tells of both.
    """

    year: float
    cell_ohm: float
    ln_sd: float
    growth: float
    growth_sd: float
    cells: float
    kelvin: float
    kelvin_sd: float
    lead_sd_ohm: float = 0.004
    surface_sd: float = 0.45
    new_ohm: float | None = None
    new_ln_sd: float = 0.10
    shares_new: bool = False


@dataclass(frozen=True, slots=True)
class State:
    """Logarithms of a cell now and new (ohms at 25 C), growth a year, tester lead, surface share, B."""

    year: float
    mean: Vector
    cov: Matrix

    @property
    def ln_sd(self) -> float:
        """Standard deviation of the logarithm of the resistance."""
        return math.sqrt(max(0.0, self.cov[0][0]))

    @property
    def cell_ohm(self) -> float:
        """Resistance of one cell at 25 C."""
        return math.exp(self.mean[0])

    @property
    def band(self) -> tuple[float, float]:
        """Where it lies nine times out of ten."""
        return math.exp(self.mean[0] - Z90 * self.ln_sd), math.exp(self.mean[0] + Z90 * self.ln_sd)

    @property
    def times_new(self) -> tuple[float, float, float]:
        """Resistance over that of a new cell: low, expected and high of the 90 % band."""
        gap, sd = self._over_new()
        return math.exp(gap - Z90 * sd), math.exp(gap), math.exp(gap + Z90 * sd)

    def share_above(self, times_new: float) -> float:
        """How sure it is that the resistance exceeds so many times that of a new cell, 0 to 1."""
        gap, sd = self._over_new()
        over = gap - math.log(times_new)
        return normal_share(over / sd) if sd > 0.0 else float(over > 0.0)

    def _over_new(self) -> tuple[float, float]:
        cov = self.cov
        variance = cov[_OHM][_OHM] - 2.0 * cov[_OHM][_NEW] + cov[_NEW][_NEW]
        return self.mean[_OHM] - self.mean[_NEW], math.sqrt(max(0.0, variance))


@dataclass(frozen=True, slots=True)
class Judged:
    """A reading beside what was expected of it.

    Attributes:
        reading: the reading.
        expected_ohm: of the pack, in the reading's own terms, from everything read before it.
        z: how far off it is, in standard deviations of both.
        weight: share of what is known that it brought, 0 to 1; 0 where it was not taken.
        told: what became of it.
        after: the state once it was joined.
    """

    reading: OhmReading
    expected_ohm: float
    z: float
    weight: float
    told: Told
    after: State


@dataclass(frozen=True, slots=True)
class Track:
    """One resistance over the years, from its prior and every reading, oldest first.

    Attributes:
        prior: what was expected before.
        judged: the readings in order of time.
        state: as it stands after the last one.
        other: as it would stand if the waiting reading were right; None while none waits.
    """

    prior: TrackPrior
    judged: tuple[Judged, ...]
    state: State
    other: State | None = None

    def at(self, year: float) -> State:
        """The state carried on to a day; not back before the last reading."""
        return _carried(self.state, year)

    def band_at(self, year: float) -> tuple[float, float]:
        """Where a cell's resistance lies nine times out of ten; both possibilities while a reading waits."""
        low, high = self.at(year).band
        if self.other is not None:
            other_low, other_high = _carried(self.other, year).band
            low, high = min(low, other_low), max(high, other_high)
        return low, high

    def worse_at(self, year: float) -> State:
        """The state a warning goes by: the higher one while a reading waits."""
        now = self.at(year)
        if self.other is None:
            return now
        other = _carried(self.other, year)
        return other if other.mean[0] > now.mean[0] else now

    def crossing(self, limit_ohm: float) -> tuple[float, float, float | None] | None:
        """When it will reach a limit: years not before, likely, and not after.

        None where it is not sure at 80 % that it grows, or the limit is passed; the last of the three
        None where its slowest growth never gets there.
        """
        ln_now, growth = self.state.mean[0], self.state.mean[1]
        growth_sd = math.sqrt(max(0.0, self.state.cov[1][1]))
        gap = math.log(limit_ohm) - ln_now
        if gap <= 0.0 or growth <= 0.84 * growth_sd:
            return None
        year, sd = self.state.year, self.state.ln_sd
        soonest = max(0.0, (gap - Z90 * sd)) / (growth + Z90 * growth_sd)
        slowest = growth - Z90 * growth_sd
        latest = year + (gap + Z90 * sd) / slowest if slowest > 0.0 else None
        return year + soonest, year + gap / growth, latest


def track(prior: TrackPrior, readings: Iterable[OhmReading]) -> Track:
    """The resistance of one pack by all its readings, in whatever order they are given.

    State: logarithm of a cell's ohms at 25 C, its growth in a year, what is left of the tester's lead,
    surface volts less the table's, error of B.  A reading more than three deviations off is kept waiting
    and moves nothing; two in a row that agree against the record start it again.

    Raises:
        BadInput: a resistance or error that is not above 0.

    >>> prior = TrackPrior(0.0, 0.025, 0.35, 0.17, 0.14, 5.0, 2000.0, 600.0)
    >>> one = track(prior, [OhmReading(1.0, 0.200, 0.05, through_tester=True)])
    >>> round(1000 * one.state.cell_ohm, 1), one.judged[0].told.name
    (39.8, 'TAKEN')
    """
    ordered = sorted(readings, key=lambda one: (one.year, one.ohm, one.ln_sd, one.cell_c))
    if not (prior.cell_ohm > 0.0 and prior.cells > 0.0):
        raise BadInput("a prior of {ohm:g} ohm a cell was found; more than 0 is allowed", ohm=prior.cell_ohm)
    state = _begin(prior)
    judged: list[Judged] = []
    waiting: int | None = None
    other: State | None = None
    for reading in ordered:
        if not (reading.ohm > 0.0 and reading.ln_sd > 0.0):
            raise BadInput("a reading of {ohm:g} ohm was found; more than 0 is allowed", ohm=reading.ohm)
        state = _carried(state, reading.year)
        z, expected = _gap(prior, state, reading)
        last = judged[-1] if judged else None
        if last is not None and _agree(last.z, z) and last.told is not Told.CHANGED:
            state = _loosened(state)
            if last.told is Told.WAITING:
                state = _joined(prior, state, last.reading)
            before, state = state, _joined(prior, state, reading)
            told, waiting, other = Told.CHANGED, None, None
        elif abs(z) > DOES_NOT_FIT:
            other = _joined(prior, _loosened(state), reading)
            if waiting is not None:
                judged[waiting] = replace(judged[waiting], told=Told.LEFT_OUT)
            before, told, waiting = state, Told.WAITING, len(judged)
        else:
            if other is not None and waiting is not None:
                against, _ = _gap(prior, _carried(other, reading.year), reading)
                if abs(z) <= abs(against):
                    judged[waiting] = replace(judged[waiting], told=Told.LEFT_OUT)
                    waiting, other = None, None
                else:
                    other = _joined(prior, _carried(other, reading.year), reading)
            before, state = state, _joined(prior, state, reading)
            told = Told.TAKEN
        weight = 1.0 - state.cov[0][0] / before.cov[0][0] if told is not Told.WAITING else 0.0
        judged.append(Judged(reading, expected, z, max(0.0, weight), told, state))
    return Track(prior, tuple(judged), state, other)


def _agree(last: float, now: float) -> bool:
    """Whether two readings in a row speak against the record in the same way."""
    return (
        last * now > 0.0 and min(abs(last), abs(now)) > CHANGED_EACH and abs(last) + abs(now) > CHANGED_BOTH
    )


def _begin(prior: TrackPrior) -> State:
    new = prior.cell_ohm if prior.new_ohm is None else prior.new_ohm
    new_sd = prior.ln_sd if prior.shares_new else prior.new_ln_sd
    sds = (
        prior.ln_sd,
        prior.growth_sd,
        prior.lead_sd_ohm,
        prior.surface_sd,
        prior.kelvin_sd / 1000.0,
        new_sd,
    )
    cov = [[sd * sd if row == col else 0.0 for col in range(_MEMBERS)] for row, sd in enumerate(sds)]
    if prior.shares_new:
        cov[_OHM][_NEW] = cov[_NEW][_OHM] = new_sd * new_sd
    mean = (math.log(prior.cell_ohm), prior.growth, 0.0, 0.0, 0.0, math.log(new))
    return State(prior.year, mean, tuple(map(tuple, cov)))


def _carried(state: State, year: float) -> State:
    """Growth and wander of the years between; a day before the state's own leaves it as it is."""
    years = year - state.year
    if years <= 0.0:
        return state
    mean, cov = state.mean, [list(row) for row in state.cov]
    for col in range(_MEMBERS):
        cov[0][col] += years * cov[1][col]
    for row in range(_MEMBERS):
        cov[row][0] += years * cov[row][1]
    cov[0][0] += _WANDER_LN**2 * years
    return State(year, (mean[0] + mean[1] * years, *mean[1:]), tuple(map(tuple, cov)))


def _loosened(state: State) -> State:
    """The state when the part may have changed: its resistance is open again."""
    first = (state.cov[0][0] + CHANGED_LN**2, *state.cov[0][1:])
    return State(state.year, state.mean, (first, *state.cov[1:]))


def _expected(prior: TrackPrior, mean: Sequence[float], reading: OhmReading) -> tuple[float, Vector]:
    """Logarithm of what a reading should show, and its slope by each member of the state."""
    warmth = 1000.0 * (1.0 / (reading.cell_c + _KELVIN) - 1.0 / _REFERENCE_K)
    ohm = prior.cells * math.exp(mean[0] + (prior.kelvin / 1000.0 + mean[4]) * warmth)
    lead = 1.0 if reading.through_tester else 0.0
    total = max(ohm + lead * mean[2] + reading.surface_ohm * mean[3], _LEAST_SHARE * ohm)
    slope = (ohm / total, 0.0, lead / total, reading.surface_ohm / total, ohm * warmth / total, 0.0)
    return math.log(total), slope


def _spread(cov: Matrix, slope: Vector, own_sd: float) -> tuple[list[float], float]:
    """Covariance of the state with what is read, and the variance of what is read."""
    along = [sum(c * s for c, s in zip(row, slope, strict=True)) for row in cov]
    return along, sum(s * a for s, a in zip(slope, along, strict=True)) + own_sd**2


def _gap(prior: TrackPrior, state: State, reading: OhmReading) -> tuple[float, float]:
    """How far off a reading is in standard deviations, and what was expected, in ohms."""
    level, slope = _expected(prior, state.mean, reading)
    _, variance = _spread(state.cov, slope, reading.ln_sd)
    return (math.log(reading.ohm) - level) / math.sqrt(variance), math.exp(level)


def _joined(prior: TrackPrior, state: State, reading: OhmReading) -> State:
    """The state with one reading taken in, linearised anew about what it gives (iterated update)."""
    mean, seen = list(state.mean), math.log(reading.ohm)
    for _ in range(_TURNS):
        level, slope = _expected(prior, mean, reading)
        along, variance = _spread(state.cov, slope, reading.ln_sd)
        back = sum(s * (m0 - m) for s, m0, m in zip(slope, state.mean, mean, strict=True))
        step = (seen - level - back) / variance
        mean = [m0 + a * step for m0, a in zip(state.mean, along, strict=True)]
    _, slope = _expected(prior, mean, reading)
    along, variance = _spread(state.cov, slope, reading.ln_sd)
    cov = tuple(
        tuple(state.cov[row][col] - along[row] * along[col] / variance for col in range(_MEMBERS))
        for row in range(_MEMBERS)
    )
    return State(state.year, tuple(mean), cov)
