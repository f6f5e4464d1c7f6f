"""A joint gone bad: where in a flight the resistance of the path steps up.

The regressor 1(t in a stretch) x I is held against a base of straight pieces, the current and a straight
ramp of the resistance, for every stretch at once: what the base explains is projected out, and the sums
over each stretch are differences of running sums.

Source: Frisch and Waugh, Econometrica 1 (1933); Page, Continuous inspection schemes, Biometrika 41 (1954).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from hangar.physics.checks import above_zero
from hangar.physics.flight_fit import FAST_HZ, KNOT_S, PathFit, Pieces, weights_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]
    Mask = NDArray[np.bool_]

_SURE = 60.0
"""Twice the gain of the log-likelihood, over the correlation of residuals, above which a joint is told."""

_LEAST_OHM, _LEAST_SHARE = 0.012, 0.12
_SURE_TWICE, _TWICE_OHM, _TWICE_SHARE = 90.0, 0.020, 0.15
_BINS = 240
_LEAST_S = 12.0
_BLOCK_S = 6.0


@dataclass(frozen=True)
class JointStep:
    """A stretch of the flight with more resistance: ``end_s`` is None where it lasted to the end."""

    start_s: float
    end_s: float | None
    extra_ohm: float
    gain: float


def joint_step(time_s: Row, volts: Row, trusted: Mask, fit: PathFit, step_s: float) -> JointStep | None:
    """The stretch where the resistance stands up most surely; None where none does.

    Raises:
        BadInput: a step of no length.

    >>> import numpy as np
    >>> from hangar.physics.flight_fit import fit_path
    >>> time_s = np.arange(0.0, 400.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> volts = 6.6 - amps * np.where(time_s < 200.0, 0.2, 0.3)
    >>> volts = volts + 0.002 * np.where(time_s % 3.0 < 1.0, 1.0, -1.0)
    >>> fit = fit_path(time_s, volts, amps, np.ones(400, bool), 1.0)
    >>> step = joint_step(time_s, volts, np.ones(400, bool), fit, 1.0)
    >>> round(step.start_s / 20.0), round(step.extra_ohm, 2), step.end_s
    (10, 0.1, None)
    """
    above_zero(step_s, "step")
    volts = np.where(trusted, volts, 0.0)
    fast = 1.0 / step_s >= FAST_HZ - 0.2
    pieces = Pieces(time_s, KNOT_S)
    middle = 0.5 * float(time_s[0] + time_s[-1])
    span = max(float(time_s[-1] - time_s[0]), 1.0)
    ramp = (time_s - middle) / span * fit.amps
    columns = [fit.amps, ramp, fit.slow_a] if fast else [fit.amps, ramp]
    weight = _flexible_weights(time_s, volts, trusted, fit, pieces, columns)
    scan = _Scan(time_s, volts, weight, pieces, np.vstack(columns), fit.amps)
    best = scan.best()
    if best is None:
        return None
    first, last, gain, extra = best
    gain /= scan.stretched(first, last)
    lasts = last >= scan.bins
    # A stretch with two ends may be laid in many more ways, so it must tell more.
    sure, least, share = (
        (_SURE, _LEAST_OHM, _LEAST_SHARE) if lasts else (_SURE_TWICE, _TWICE_OHM, _TWICE_SHARE)
    )
    if gain < sure or extra < max(least, share * fit.second_ohm):
        return None
    end_s = None if lasts else float(scan.edges[last])
    return JointStep(float(scan.edges[first]), end_s, extra, gain)


def _flexible_weights(
    time_s: Row, volts: Row, trusted: Mask, fit: PathFit, pieces: Pieces, columns: list[Row]
) -> Row:
    """Weights that single bad samples lose but a stretch of more resistance keeps."""
    count = int(np.clip((time_s[-1] - time_s[0]) / 20.0, 2, 24))
    place = np.minimum(
        ((time_s - time_s[0]) / (time_s[-1] - time_s[0] + 1e-9) * count).astype(int), count - 1
    )
    local = [np.where(place == number, fit.amps, 0.0) for number in range(count)]
    use = np.vstack([*local, *columns[2:]])
    weight = trusted.astype(np.float64)
    for turn in range(6):
        solution, base, _ = pieces.solved(weight, use, volts)
        residual = volts - pieces.at_rows(base) - solution @ use
        weight, _scale = weights_of(residual, trusted, sharp=False)
        if turn == 5:
            far = np.abs(residual) > 12.0 * _scale
            weight = np.where(far, 0.0, weight)
    return weight


class _Scan:
    """Every stretch of bins at once."""

    def __init__(self, time_s: Row, volts: Row, weight: Row, pieces: Pieces, columns: Row, amps: Row) -> None:
        self.time_s, self.weight, self.amps = time_s, weight, amps
        self.bins = int(min(_BINS, max(12, time_s.size // 12)))
        self.edges = np.linspace(time_s[0], time_s[-1], self.bins + 1)
        self.bin = np.clip(np.searchsorted(self.edges, time_s, side="right") - 1, 0, self.bins - 1)
        gram = pieces.gram(weight)
        sides = np.stack([pieces.folded(weight * column) for column in columns], axis=1)
        solution, base, inner_normal = pieces.solved(weight, columns, volts)
        self.residual = volts - pieces.at_rows(base) - solution @ columns
        self._pieces, self._gram, self._sides, self._columns, self._own = (
            pieces,
            gram,
            sides,
            columns,
            inner_normal,
        )

    def best(self) -> tuple[int, int, float, float] | None:
        """First bin, bin after the last, twice the gain of log-likelihood, and the extra ohms."""
        bins, w, amps = self.bins, self.weight, self.amps
        pieces, columns = self._pieces, self._columns
        z = -amps
        along = _running(np.bincount(self.bin, w * z * self.residual, bins))
        running = _running(np.bincount(self.bin, w * z * z, bins))
        hats = np.zeros((bins, pieces.count))
        np.add.at(hats, (self.bin, pieces.left), w * z * (1.0 - pieces.part))
        np.add.at(hats, (self.bin, pieces.left + 1), w * z * pieces.part)
        crossed = np.stack([np.bincount(self.bin, w * z * column, bins) for column in columns], axis=1)
        inner = pieces.solve(self._gram, self._sides)
        hats_run, crossed_run = _running(hats), _running(crossed)
        width_s = (self.edges[-1] - self.edges[0]) / bins
        first, last = np.triu_indices(bins + 1, max(3, int(_LEAST_S / width_s)))
        keep = last - first < bins
        first, last = first[keep], last[keep]
        numer = along[last] - along[first]
        hat = hats_run[last] - hats_run[first]
        cross = crossed_run[last] - crossed_run[first] - hat @ inner
        unexplained = running[last] - running[first]
        unexplained = unexplained - np.einsum("ij,ij->i", hat, pieces.solve(self._gram, hat.T).T)
        unexplained = unexplained - np.einsum("ij,ij->i", cross, np.linalg.solve(self._own, cross.T).T)
        total = float(np.sum(w * self.residual**2))
        count = max(float(np.sum(w)), 2.0)
        usable = unexplained > 1e-3 * float(running[-1] / bins)
        if not np.any(usable) or total <= 0.0:
            return None
        extra = np.where(usable, numer / np.where(usable, unexplained, 1.0), 0.0)
        fallen = np.where(usable & (extra > 0.0), numer * extra, 0.0)
        gain = -count * np.log(np.clip(1.0 - fallen / total, 1e-9, 1.0))
        # A step that stays is the plainer tale: a stretch with an end must tell clearly more.
        gain = np.where(last == bins, gain, gain - 0.1 * np.abs(gain) - 10.0)
        at = int(np.argmax(gain))
        return int(first[at]), int(last[at]), float(gain[at]), float(extra[at])

    def stretched(self, first: int, last: int) -> float:
        """How many times the residuals that hang together widen the error, once the stretch is taken off.

        Sums over blocks of six seconds beside what they would be if each row stood alone.
        """
        inside = (self.bin >= first) & (self.bin < last)
        z = np.where(inside, -self.amps, 0.0)
        columns = np.vstack([self._columns, z])
        solution, base, _ = self._pieces.solved(self.weight, columns, self.residual)
        residual = self.residual - self._pieces.at_rows(base) - solution @ columns
        levelled = self.amps - float(np.average(self.amps, weights=self.weight))
        score = self.weight * levelled * residual
        block = ((self.time_s - self.time_s[0]) // _BLOCK_S).astype(np.int64)
        alone = float(np.sum(score**2))
        return max(1.0, float(np.sum(np.bincount(block, score) ** 2)) / alone) if alone > 0.0 else 1.0


def _running(values: NDArray[Any]) -> Row:
    """Sums of everything before each edge, the first edge 0."""
    return np.concatenate([np.zeros_like(values[:1]), np.cumsum(values, axis=0)])
