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


class Fate(StrEnum):
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
        ohm: the fall of the volts over the step of the current, as read.
        ln_sd: own error, standard deviation of its logarithm.
        cell_c: temperature of the cells.
        lead_ohm: table value of the tester's lead that is in it; 0 where none is.
        surface_ohm: table value of the surface volts over the current, where it was taken from rest.
    """

    year: float
    ohm: float
    ln_sd: float
    cell_c: float = 25.0
    lead_ohm: float = 0.0
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
class ReadingVerdict:
    """A reading beside what was expected of it.

    Attributes:
        reading: the reading.
        expected_ohm: of the pack, in the reading's own terms, from everything read before it.
        z: how far off it is, in standard deviations of both.
        weight: share of what is known that it brought, 0 to 1; 0 where it was not taken.
        fate: what became of it.
        after: the state once it was joined.
    """

    reading: OhmReading
    expected_ohm: float
    z: float
    weight: float
    fate: Fate
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
    judged: tuple[ReadingVerdict, ...]
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
        """The state a warning goes by: the highest that is possible while readings contradict each other.

        That is so while a reading waits, and while the last one alone speaks for a better pack than before.
        """
        possible = [self.at(year)]
        if self.other is not None:
            possible.append(_carried(self.other, year))
        if len(self.judged) > 1 and self.judged[-1].z < -CHANGED_EACH and self.judged[-1].fate is Fate.TAKEN:
            possible.append(_carried(self.judged[-2].after, year))
        return max(possible, key=lambda state: state.mean[_OHM])

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
    and moves nothing; two in a row that agree against the record start it again. The first reading of all
    begins the record, however far it lies from what was expected of parts of its kind.

    Raises:
        BadInput: a resistance or error that is not above 0.

    >>> prior = TrackPrior(0.0, 0.025, 0.35, 0.17, 0.14, 5.0, 2000.0, 600.0)
    >>> one = track(prior, [OhmReading(1.0, 0.212, 0.05, lead_ohm=0.012)])
    >>> round(1000 * one.state.cell_ohm, 1), one.judged[0].fate.name
    (39.7, 'TAKEN')
    """
    ordered = sorted(
        readings,
        key=lambda ohm_reading: (ohm_reading.year, ohm_reading.ohm, ohm_reading.ln_sd, ohm_reading.cell_c),
    )
    if not (prior.cell_ohm > 0.0 and prior.cells > 0.0):
        raise BadInput("a prior of {ohm:g} ohm a cell was found; more than 0 is allowed", ohm=prior.cell_ohm)
    joining = _Filter(prior)
    for reading in ordered:
        if not (reading.ohm > 0.0 and reading.ln_sd > 0.0):
            raise BadInput("a reading of {ohm:g} ohm was found; more than 0 is allowed", ohm=reading.ohm)
        joining.join(reading)
    return Track(prior, tuple(joining.judged), joining.state, joining.other)


class _Filter:
    """The readings taken in one after the other."""

    def __init__(self, prior: TrackPrior) -> None:
        self.prior = prior
        self.state = _begin(prior)
        self.judged: list[ReadingVerdict] = []
        self.other: State | None = None
        self._waiting: int | None = None

    def join(self, reading: OhmReading) -> None:
        """Take one reading, keep it waiting, or start the record again."""
        self.state = _carried(self.state, reading.year)
        z, expected = _gap(self.prior, self.state, reading)
        last = self.judged[-1] if self.judged else None
        if last is None and abs(z) > CHANGED_EACH:
            # Nothing but a maker's or usual figure speaks against the first reading: it begins the record.
            self.state = _loosened(self.state, max(CHANGED_LN, abs(math.log(reading.ohm / expected))))
            self._take(reading, z, expected, Fate.TAKEN)
            return
        if last is not None and last.fate is not Fate.CHANGED and _agree(last.z, z):
            self.state = _loosened(self.state)
            if last.fate is Fate.WAITING:
                self.state = _joined(self.prior, self.state, last.reading)
                self.judged[-1] = replace(last, fate=Fate.CHANGED, after=self.state)
            self._take(reading, z, expected, Fate.CHANGED)
            self._waiting = self.other = None
        elif abs(z) > DOES_NOT_FIT:
            self._wait(reading, z, expected)
        else:
            self._settle(reading, z)
            self._take(reading, z, expected, Fate.TAKEN)

    def _take(self, reading: OhmReading, z: float, expected_ohm: float, fate: Fate) -> None:
        before, self.state = self.state, _joined(self.prior, self.state, reading)
        weight = max(0.0, 1.0 - self.state.cov[_OHM][_OHM] / before.cov[_OHM][_OHM])
        self.judged.append(ReadingVerdict(reading, expected_ohm, z, weight, fate, self.state))

    def _wait(self, reading: OhmReading, z: float, expected_ohm: float) -> None:
        self.other = _joined(self.prior, _loosened(self.state), reading)
        self._leave_out()
        self._waiting = len(self.judged)
        self.judged.append(ReadingVerdict(reading, expected_ohm, z, 0.0, Fate.WAITING, self.state))

    def _settle(self, reading: OhmReading, z: float) -> None:
        """What a reading that fits the record says of the one that waits."""
        if self.other is None:
            return
        other = _carried(self.other, reading.year)
        if abs(z) <= abs(_gap(self.prior, other, reading)[0]):
            self._leave_out()
            self.other = None
        else:
            self.other = _joined(self.prior, other, reading)

    def _leave_out(self) -> None:
        if self._waiting is not None:
            self.judged[self._waiting] = replace(self.judged[self._waiting], fate=Fate.LEFT_OUT)
            self._waiting = None


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


def _loosened(state: State, ln_sd: float = CHANGED_LN) -> State:
    """The state when the part may have changed: its resistance is open again."""
    first = (state.cov[0][0] + ln_sd**2, *state.cov[0][1:])
    return State(state.year, state.mean, (first, *state.cov[1:]))


def _expected(prior: TrackPrior, mean: Sequence[float], reading: OhmReading) -> tuple[float, Vector]:
    """Logarithm of what a reading should show, and its slope by each member of the state."""
    warmth = 1000.0 * (1.0 / (reading.cell_c + _KELVIN) - 1.0 / _REFERENCE_K)
    ohm = prior.cells * math.exp(mean[0] + (prior.kelvin / 1000.0 + mean[4]) * warmth)
    lead = 1.0 if reading.lead_ohm > 0.0 else 0.0
    beside = reading.lead_ohm + lead * mean[_LEAD] + reading.surface_ohm * (1.0 + mean[_SURFACE])
    total = max(ohm + beside, _LEAST_SHARE * ohm)
    slope = (ohm / total, 0.0, lead / total, reading.surface_ohm / total, ohm * warmth / total, 0.0)
    return math.log(total), slope


def _spread(cov: Matrix, slope: Vector, own_sd: float) -> tuple[list[float], float]:
    """Covariance of the state with what is read, and the variance of what is read."""
    along = [sum(c * s for c, s in zip(row, slope, strict=True)) for row in cov]
    return along, sum(s * a for s, a in zip(slope, along, strict=True)) + own_sd**2


def _gap(prior: TrackPrior, state: State, reading: OhmReading) -> tuple[float, float]:
    """How far off a reading is in standard deviations, and what was expected, in ohms.

    Below what is expected the errors of a load test add up rather than multiply: a lead that is not in it.
    """
    level, slope = _expected(prior, state.mean, reading)
    _, variance = _spread(state.cov, slope, reading.ln_sd)
    expected = math.exp(level)
    adds_up = reading.lead_ohm > 0.0 and reading.ohm < expected
    off = reading.ohm / expected - 1.0 if adds_up else math.log(reading.ohm) - level
    return off / math.sqrt(variance), expected


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
