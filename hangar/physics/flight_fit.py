"""Resistance of a power path from the volts and amps of a flight.

    U = sum of c_j B_j(t) - R0 I(t + lag) - R1 x(t),   x' = (I - x) / 1.4 s

B_j are straight pieces with a knot every 45 s: the charge that is used, slow sag, warming and surface
volts all go there. Weights: Tukey's biweight after Huber's.

Source: Huber, Robust estimation of a location parameter, Ann. Math. Stat. 35 (1964); Beaton and Tukey,
    The fitting of power series, Technometrics 16 (1974).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from hangar.physics.checks import above_zero, finite, zero_or_more
from hangar.physics.flight_rows import resolution

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]
    Mask = NDArray[np.bool_]

KNOT_S = 45.0
SLOW_S = 1.4
FAST_HZ = 4.0
"""From this rate on the slow part of the resistance and the lag of the amps can be told."""

_LAGS = (-1.0, -0.5, 0.5, 1.0, 2.0)
_LAG_GAIN = 0.03
_BIWEIGHT, _HUBER, _MAD = 4.685, 1.345, 1.4826
_AT_ONE_SECOND = 1.0 - math.exp(-1.0 / SLOW_S)
_CELL_SHARE, _CELL_SHARE_SLOW = 0.04, 0.045
_SLOW_RISE, _SLOW_RISE_SD = 0.10, 0.09
Z90 = 1.645
_LEAST_ROWS = 30
_APART, _NEARER, _APART_SHARE = 1.08, 0.75, 0.65
_WIDEST_SD = 0.35


@dataclass(frozen=True)
class Band:
    """A value with the ends of its 90 % band."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class PathFit:
    """One fit of volts over current.

    Attributes:
        at_once_ohm, slow_ohm: R0 and R1.
        cover: their covariance, ohm².
        base_v: volts without any current, by row.
        slow_a: the slow current x, by row.
        amps: the current with its lag taken off, by row.
        residual_v: measured less fitted, by row; nan where not used.
        weight: weight of each row, 0 to 1.
        noise_v: standard deviation of the residuals that count.
        correlation: of a residual with the next one.
        lag_steps: how many rows the amps come late.
        reverse_ohm: resistance by the amps over the volts: the upper end where the amps are uncertain.
    """

    at_once_ohm: float
    slow_ohm: float
    cover: Row
    base_v: Row
    slow_a: Row
    amps: Row
    residual_v: Row
    weight: Row
    noise_v: float
    correlation: float
    lag_steps: float
    reverse_ohm: float

    @property
    def second_ohm(self) -> float:
        """Fall one second after a step of current, per ampere."""
        return self.at_once_ohm + _AT_ONE_SECOND * self.slow_ohm

    @property
    def second_sd_ohm(self) -> float:
        """Its standard deviation by the regression alone, correlated residuals counted."""
        take = np.array([1.0, _AT_ONE_SECOND])
        stretch = (1.0 + self.correlation) / (1.0 - self.correlation)
        return math.sqrt(max(0.0, float(take @ self.cover @ take)) * stretch)


class Pieces:
    """Straight pieces over time, and least squares that projects them out without a matrix of all rows."""

    def __init__(self, time_s: Row, knot_s: float = KNOT_S) -> None:
        span = max(float(time_s[-1] - time_s[0]), 1e-3)
        self.count = max(2, math.ceil(span / knot_s) + 1)
        place = (time_s - time_s[0]) / span * (self.count - 1)
        self.left = np.minimum(place.astype(np.int64), self.count - 2)
        self.part = place - self.left

    def folded(self, weighted: Row) -> Row:
        """Sum of a weighted column over each piece."""
        made = np.bincount(self.left, weighted * (1.0 - self.part), self.count)
        return np.asarray(made + np.bincount(self.left + 1, weighted * self.part, self.count))

    def gram(self, weight: Row) -> Row:
        """The pieces' own normal matrix, with a trace of stiffness where no row counts."""
        a, b = 1.0 - self.part, self.part
        made = np.diag(
            np.bincount(self.left, weight * a * a, self.count)
            + np.bincount(self.left + 1, weight * b * b, self.count)
        )
        beside = np.bincount(self.left, weight * a * b, self.count)[: self.count - 1]
        at = np.arange(self.count - 1)
        made[at, at + 1] += beside
        made[at + 1, at] += beside
        stiff = 1e-6 * max(float(np.max(np.diag(made))), 1e-12)
        made[at, at] += stiff
        made[at + 1, at + 1] += stiff
        made[at, at + 1] -= stiff
        made[at + 1, at] -= stiff
        return np.asarray(made)

    def solve(self, gram: Row, sides: Row) -> Row:
        """The pieces' normal equations: each piece meets its neighbours only, so one way up and one back."""
        pivot, beside = np.diag(gram).tolist(), np.diag(gram, 1).tolist()
        solution = np.array(sides, dtype=np.float64)
        for at in range(1, self.count):
            share = beside[at - 1] / pivot[at - 1]
            pivot[at] -= share * beside[at - 1]
            solution[at] -= share * solution[at - 1]
        solution[-1] /= pivot[-1]
        for at in range(self.count - 2, -1, -1):
            solution[at] = (solution[at] - beside[at] * solution[at + 1]) / pivot[at]
        return solution

    def at_rows(self, coefficients: Row) -> Row:
        """The piecewise line by row."""
        return np.asarray(
            coefficients[self.left] * (1.0 - self.part) + coefficients[self.left + 1] * self.part
        )

    def solved(self, weight: Row, columns: Row, volts: Row) -> tuple[Row, Row, Row]:
        """Coefficients of the columns, of the pieces, and the columns' projected normal matrix.

        The pieces are projected out first (Frisch and Waugh, Econometrica 1 (1933)).
        """
        gram = self.gram(weight)
        everything = np.vstack([columns, volts[None, :]])
        sides = np.stack([self.folded(weight * column) for column in everything], axis=1)
        inner = self.solve(gram, sides)
        normal = (everything * weight) @ everything.T - sides.T @ inner
        inner_normal = normal[:-1, :-1]
        inner_normal[np.diag_indices_from(inner_normal)] += 1e-12 * (1.0 + np.trace(inner_normal))
        solution = np.linalg.solve(inner_normal, normal[:-1, -1])
        return np.asarray(solution), np.asarray(inner[:, -1] - inner[:, :-1] @ solution), inner_normal


def _slow_current(time_s: Row, amps: Row) -> Row:
    """The current seen through a time constant of 1.4 s; it starts settled, and again after a long wait."""
    made = np.empty_like(amps)
    steps = np.diff(time_s)
    fall = np.exp(-np.clip(steps, 0.0, None) / SLOW_S).tolist()
    middle = (0.5 * (amps[1:] + amps[:-1])).tolist()
    now = float(amps[0])
    made[0] = now
    for at, (share, mean) in enumerate(zip(fall, middle, strict=True), start=1):
        now = mean + (now - mean) * share
        made[at] = now
    return made


def weights_of(residual: Row, trusted: Mask, *, sharp: bool) -> tuple[Row, float]:
    """Weights of Tukey (sharp) or Huber, and the scale from the median of the residuals.

    >>> import numpy as np
    >>> weight, scale = weights_of(np.array([-1.0, 0.0, 1.0, 0.5, 90.0]), np.ones(5, bool), sharp=True)
    >>> weight.round(2).tolist(), round(scale, 2)
    ([0.84, 1.0, 0.84, 0.96, 0.0], 0.74)
    """
    kept = residual[trusted]
    scale = max(_MAD * float(np.median(np.abs(kept - np.median(kept)))), 1e-4)
    away = np.abs(residual) / scale
    if sharp:
        weight = np.where(away < _BIWEIGHT, (1.0 - (away / _BIWEIGHT) ** 2) ** 2, 0.0)
    else:
        weight = np.minimum(1.0, _HUBER / np.maximum(away, 1e-9))
    return np.where(trusted, weight, 0.0), scale


def _robust(
    pieces: Pieces, columns: Row, volts: Row, trusted: Mask, *, turns: int = 12
) -> tuple[Row, Row, Row, Row, float]:
    """Coefficients, projected normal matrix, residuals, weights and scale of a robust least squares."""
    weight = trusted.astype(np.float64)
    scale = 0.0
    for turn in range(turns):
        solution, base, inner_normal = pieces.solved(weight, columns, volts)
        residual = volts - pieces.at_rows(base) - solution @ columns
        before = scale
        weight, scale = weights_of(residual, trusted, sharp=turn > 3)
        if turn > 5 and abs(scale - before) < 1e-5 * scale:
            break
    solution, base, inner_normal = pieces.solved(weight, columns, volts)
    residual = volts - pieces.at_rows(base) - solution @ columns
    return solution, inner_normal, residual, weight, scale


def fit_path(time_s: Row, volts: Row, amps: Row, trusted: Mask, step_s: float) -> PathFit | None:
    """Fit the volts of a path over its current; None where rows or steps of the current are too few.

    Raises:
        BadInput: a step of no length.

    >>> import numpy as np
    >>> time_s = np.arange(0.0, 100.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> fit = fit_path(time_s, 6.6 - 0.2 * amps, amps, np.ones(100, bool), 1.0)
    >>> round(fit.second_ohm, 3)
    0.2
    """
    above_zero(step_s, "step")
    known = np.isfinite(amps)
    if np.sum(trusted) < _LEAST_ROWS or np.sum(known) < _LEAST_ROWS:
        return None
    whole = np.interp(time_s, time_s[known], amps[known])
    held = np.where(trusted, volts, 0.0)
    if float(np.std(whole[trusted])) < 1e-3:
        return None
    fast = 1.0 / step_s >= FAST_HZ - 0.2
    pieces = Pieces(time_s)
    best = _fit_at(time_s, held, whole, trusted, pieces, fast, 0.0)
    if fast:
        best = _with_lag(time_s, held, whole, trusted, pieces, step_s, best)
    return best


def _with_lag(
    time_s: Row, volts: Row, amps: Row, trusted: Mask, pieces: Pieces, step_s: float, straight: PathFit
) -> PathFit:
    """The fit with the lag of the amps that explains the volts best, if it explains them clearly better."""
    scale = straight.noise_v
    best, least = straight, (1.0 - _LAG_GAIN) * _loss(straight, trusted, scale)
    for lag in _LAGS:
        shifted = np.interp(time_s + lag * step_s, time_s, amps)
        tried = _fit_at(time_s, volts, shifted, trusted, pieces, True, lag)
        loss = _loss(tried, trusted, scale)
        if loss < least:
            best, least = tried, loss
    return best


def _loss(fit: PathFit, trusted: Mask, scale: float) -> float:
    away = np.minimum(np.abs(fit.residual_v[trusted]) / (_BIWEIGHT * max(scale, 1e-6)), 1.0)
    return float(np.sum(1.0 - (1.0 - away**2) ** 3))


def _fit_at(
    time_s: Row, volts: Row, amps: Row, trusted: Mask, pieces: Pieces, fast: bool, lag: float
) -> PathFit:
    slow = _slow_current(time_s, amps)
    columns = np.vstack([-amps, -slow]) if fast else -amps[None, :]
    solution, inner_normal, residual, weight, _scale = _robust(pieces, columns, volts, trusted)
    count = max(float(np.sum(weight)) - pieces.count - len(columns), 1.0)
    variance = float(np.sum(weight * residual**2)) / count
    cover = np.zeros((2, 2))
    cover[: len(columns), : len(columns)] = variance * np.linalg.inv(inner_normal)
    base = volts - residual - solution @ columns
    return PathFit(
        float(solution[0]), float(solution[1]) if fast else 0.0, cover, base, slow, amps,
        np.where(trusted, residual, np.nan), weight, math.sqrt(variance),
        _next_to_next(residual, weight), lag, _reverse_ohm(pieces, weight, volts, amps),
    )  # fmt: skip


def _reverse_ohm(pieces: Pieces, weight: Row, volts: Row, amps: Row) -> float:
    """Fall of volts per ampere when the amps are fitted over the volts, pieces projected out of both.

    What rounding adds to the volts' own spread is taken off.
    """
    gram = pieces.gram(weight)

    def without_pieces(column: Row) -> Row:
        inner = pieces.solve(gram, pieces.folded(weight * column))
        return np.asarray(column - pieces.at_rows(inner))

    fallen, drawn = without_pieces(volts), without_pieces(amps)
    both = -float(np.sum(weight * fallen * drawn))
    rounded = resolution(volts[weight > 0.0]) ** 2 / 12.0 * float(np.sum(weight))
    return max(float(np.sum(weight * fallen**2)) - rounded, 0.0) / both if both > 0.0 else math.inf


def _next_to_next(residual: Row, weight: Row) -> float:
    """Correlation of each residual with the next, 0 to 0.95."""
    both = np.sqrt(weight[1:] * weight[:-1])
    square = float(np.sum(weight * residual**2))
    if square <= 0.0:
        return 0.0
    return min(max(float(np.sum(both * residual[1:] * residual[:-1])) / square, 0.0), 0.95)


def path_band(fit: PathFit, leads_ohm: float, step_s: float) -> tuple[float, float] | None:
    """Resistance one second after a step of current and its standard deviation, ohm; None if not told.

    Below 4 Hz the slow part is not seen; a tenth of the pack's resistance is put on for it.

    Args:
        fit: The fit of a path.
        leads_ohm: What of the path is no pack, by the records.
        step_s: Time from row to row.

    Raises:
        BadInput: a step of no length, leads below 0.

    >>> import numpy as np
    >>> time_s = np.arange(0.0, 100.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> fit = fit_path(time_s, 6.6 - 0.2 * amps, amps, np.ones(100, bool), 1.0)
    >>> [round(each, 4) for each in path_band(fit, 0.1, 1.0)]
    [0.21, 0.013]
    """
    above_zero(step_s, "step")
    zero_or_more(leads_ohm, "leads")
    ohm, sd = fit.second_ohm, fit.second_sd_ohm
    if 1.0 / step_s < FAST_HZ - 0.2:
        apart = fit.reverse_ohm / ohm if ohm > 0.0 else 1.0
        if apart > _APART:
            # Volts and amps were not read at one moment: nearer to the fit that calls the amps uncertain.
            sd = math.hypot(sd, _APART_SHARE * (fit.reverse_ohm - ohm) / Z90)
            ohm *= apart**_NEARER
        pack = max(ohm - leads_ohm, 0.0)
        ohm += _SLOW_RISE * pack
        sd = math.hypot(sd, _SLOW_RISE_SD * pack, _CELL_SHARE_SLOW * ohm)
    else:
        sd = math.hypot(sd, _CELL_SHARE * ohm)
    return None if ohm <= 0.0 or sd > _WIDEST_SD * ohm else (ohm, sd)


def band_of(ohm: float, sd_ohm: float) -> Band:
    """A 90 % band; what cannot be below nothing is cut there, and so is its middle.

    Args:
        ohm: Resistance as computed, perhaps below 0 where its errors are large.
        sd_ohm: Its standard deviation.

    Raises:
        BadInput: no finite number, a deviation of 0 or less.

    >>> band = band_of(0.100, 0.010)
    >>> round(band.low, 4), round(band.value, 4), round(band.high, 4)
    (0.0836, 0.1, 0.1164)
    """
    finite(ohm=ohm)
    above_zero(sd_ohm, "standard deviation")
    normal = NormalDist()
    below = normal.cdf(-ohm / sd_ohm)

    def at(share: float) -> float:
        return max(0.0, ohm + sd_ohm * normal.inv_cdf(min(below + share * (1.0 - below), 1.0 - 1e-12)))

    return Band(at(0.5), at(0.05), at(0.95))
