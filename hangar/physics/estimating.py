"""Joining what was expected with what was read: numbers only, in closed form, the same to the last bit.

Positive quantities are judged in natural logarithms, so that an error of 0.10 is about 10 %.

Source: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), ch. 2, 3 and 5; C. E. Rasmussen and
C. K. I. Williams, Gaussian Processes for Machine Learning (2006), eq. 3.82 to 3.87; H. Raiffa and
R. Schlaifer, Applied Statistical Decision Theory (1961).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.checks import above_zero, finite

Z90 = 1.645
"""Half the width of a 90 % band in standard deviations."""
_HALF_PI_ROOT = math.sqrt(2.0 * math.pi)


def normal_share(z: float) -> float:
    """Share of a normal distribution below z standard deviations.

    Raises:
        BadInput: no finite number.

    >>> round(normal_share(1.645), 3)
    0.95
    """
    finite(z=z)
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def normal_density(z: float) -> float:
    """Density of the standard normal distribution.

    Raises:
        BadInput: no finite number.

    >>> round(normal_density(0.0), 4)
    0.3989
    """
    finite(z=z)
    return math.exp(-0.5 * z * z) / _HALF_PI_ROOT


@dataclass(frozen=True, slots=True)
class Factor:
    """What is measured over what was predicted, learned flight by flight (normal-inverse-gamma).

    Attributes:
        mean: of the logarithm.
        count: what is known of the mean, counted in flights.
        alpha, beta: of the scatter from one flight to the next.
        shared_sd: error that all readings share, of the logarithm.
    """

    mean: float
    count: float
    alpha: float
    beta: float
    shared_sd: float = 0.05

    @classmethod
    def begin(cls, scatter: float = 0.17, spread: float = 0.35, shared_sd: float = 0.05) -> Factor:
        """Nothing read yet: one flight to the next ``scatter``, one aircraft to the next ``spread``."""
        variance = scatter**2 * 1.05
        return cls(0.0, variance / spread**2, 4.0, 4.0 * variance * 0.95, shared_sd)

    def joined(self, ln_ratio: float, weight: float = 1.0) -> Factor:
        """With one flight more.

        >>> Factor.begin().joined(0.3).mean > 0.2
        True
        """
        finite(ln_ratio=ln_ratio)
        count = self.count + weight
        off = ln_ratio - self.mean
        return Factor(
            (self.count * self.mean + weight * ln_ratio) / count,
            count,
            self.alpha + weight / 2.0,
            self.beta + weight * self.count * off * off / (2.0 * count),
            self.shared_sd,
        )

    @property
    def reach(self) -> float:
        """Half the 90 % band of the mean, of the logarithm."""
        half_width = t95(2.0 * self.alpha) * math.sqrt(self.beta / (self.alpha * self.count))
        return math.hypot(half_width, Z90 * self.shared_sd)

    @property
    def next_reach(self) -> float:
        """Half the 90 % band of the next flight."""
        return t95(2.0 * self.alpha) * math.sqrt(self.beta * (self.count + 1.0) / (self.alpha * self.count))

    def next_sd(self, weight: float = 1.0) -> float:
        """Standard deviation of what is expected of a reading of that weight, its own error with it."""
        return self.next_reach / Z90 * math.sqrt((1.0 / self.count + 1.0 / weight) / (1.0 / self.count + 1.0))

    @property
    def band(self) -> tuple[float, float, float]:
        """The factor: low, expected, high."""
        return math.exp(self.mean - self.reach), math.exp(self.mean), math.exp(self.mean + self.reach)

    def z(self, ln_ratio: float) -> float:
        """How far a flight is off, in standard deviations of what was expected of it."""
        return (ln_ratio - self.mean) / (self.next_reach / Z90)


def t95(freedom: float) -> float:
    """The 95 % point of Student's t.

    Raises:
        BadInput: a freedom that is not above 0.

    Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 26.7.5.

    >>> round(t95(8.0), 2), round(t95(30.0), 3)
    (1.86, 1.697)
    """
    above_zero(freedom, "freedom of a scatter")
    x = 1.6448536
    return (
        x
        + (x**3 + x) / (4.0 * freedom)
        + (5.0 * x**5 + 16.0 * x**3 + 3.0 * x) / (96.0 * freedom**2)
        + (3.0 * x**7 + 19.0 * x**5 + 17.0 * x**3 - 15.0 * x) / (384.0 * freedom**3)
    )


@dataclass(frozen=True, slots=True)
class Line:
    """Where a line starts and how steep it is, with covariances."""

    start: float
    slope: float
    start_sd: float
    slope_sd: float
    covariance: float

    def at(self, x: float) -> tuple[float, float]:
        """Value and standard deviation at x."""
        variance = self.start_sd**2 + 2.0 * x * self.covariance + (x * self.slope_sd) ** 2
        return self.start + self.slope * x, math.sqrt(max(0.0, variance))


def line(
    start: tuple[float, float], slope: tuple[float, float], points: Iterable[tuple[float, float, float]]
) -> Line:
    """A line through points, joined with what was expected of it (conjugate normal regression).

    Args:
        start: value expected at 0, and its standard deviation.
        slope: steepness expected, and its standard deviation.
        points: x, value and standard deviation of each reading.

    Source: Bayesian Data Analysis, 3rd ed., ch. 14.

    >>> round(line((0.0, 10.0), (0.0, 10.0), [(1.0, 3.0, 0.1), (2.0, 5.0, 0.1)]).slope, 2)
    2.0
    """
    (a0, sa), (b0, sb) = start, slope
    h00, h01, h11 = 1.0 / sa**2, 0.0, 1.0 / sb**2
    v0, v1 = a0 * h00, b0 * h11
    for x, value, sd in points:
        weight = 1.0 / sd**2
        h00, h01, h11 = h00 + weight, h01 + weight * x, h11 + weight * x * x
        v0, v1 = v0 + weight * value, v1 + weight * x * value
    det = h00 * h11 - h01 * h01
    return Line(
        (h11 * v0 - h01 * v1) / det,
        (h00 * v1 - h01 * v0) / det,
        math.sqrt(h11 / det),
        math.sqrt(h00 / det),
        -h01 / det,
    )


def censored(
    mean: float, variance: float, limit: float, *, above: bool, edge: float = 0.20
) -> tuple[float, float]:
    """A quantity of which is only known that it lies above or below a limit: new mean and variance.

    Args:
        mean, variance: what was expected.
        limit: the limit, in the same terms.
        above: whether it lies above.
        edge: how soft the limit is, standard deviation.

    Raises:
        BadInput: no finite number.

    Source: Rasmussen and Williams, Gaussian Processes for Machine Learning, eq. 3.82 to 3.87.

    >>> mean, variance = censored(0.0, 0.16, 0.0, above=True)
    >>> round(mean, 3), round(variance, 3)
    (0.285, 0.079)
    """
    finite(mean=mean, variance=variance, limit=limit, edge=edge)
    wide = math.sqrt(variance + edge * edge)
    sign = 1.0 if above else -1.0
    q = sign * (mean - limit) / wide
    share = max(normal_share(q), 1e-12)
    pull = normal_density(q) / share
    return mean + sign * variance * pull / wide, variance - variance**2 * pull * (q + pull) / wide**2


def value_of_reading(mean: float, variance: float, limit: float, reading_sd: float) -> tuple[float, float]:
    """How likely one reading is to turn a verdict, and how much it is expected to gain.

    Args:
        mean, variance: of the figure as it stands.
        limit: where the verdict turns, in the same terms.
        reading_sd: error of the reading.

    Returns:
        Chance that the verdict changes, and expected gain in the figure's own terms.

    Raises:
        BadInput: no finite number.

    Source: Raiffa and Schlaifer, Applied Statistical Decision Theory (1961), pre-posterior analysis.

    >>> chance, gain = value_of_reading(0.3, 0.09, 0.0, 0.1)
    >>> round(chance, 2), gain > 0
    (0.15, True)
    """
    finite(mean=mean, variance=variance, limit=limit, reading_sd=reading_sd)
    if variance <= 0.0 or reading_sd <= 0.0:
        return 0.0, 0.0
    sd = math.sqrt(max(0.0, variance - 1.0 / (1.0 / variance + 1.0 / reading_sd**2)))
    if sd == 0.0:
        return 0.0, 0.0
    u = abs(mean - limit) / sd
    chance = 1.0 - normal_share(u)
    return chance, max(0.0, sd * (normal_density(u) - u * chance))


def joined_parts(
    first: tuple[float, float], second: tuple[float, float], seen: tuple[float, float]
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Two quantities of which the sum was read: pack and leads from the path.

    Args:
        first, second: what was expected of each, and the standard deviation of its logarithm.
        seen: the sum that was read, and the standard deviation of its logarithm.

    Returns:
        Each with the standard deviation of its logarithm, by Gauss and Newton's turns.

    Raises:
        BadInput: a value or error that is not above 0.

    >>> (pack, _), (leads, _) = joined_parts((0.150, 0.05), (0.030, 0.25), (0.200, 0.04))
    >>> round(pack, 3), round(leads, 3)
    (0.156, 0.038)
    """
    (p0, sp), (l0, sl), (value, s) = first, second, seen
    if not min(p0, l0, value, sp, sl, s) > 0.0:
        raise BadInput(
            "a resistance of {ohm:g} ohm was found; more than 0 is allowed", ohm=min(p0, l0, value)
        )
    a, b = math.log(p0), math.log(l0)
    u, v = a, b
    h00 = h01 = h11 = 0.0
    for _ in range(6):
        pack, leads = math.exp(u), math.exp(v)
        jp, jl = pack / (pack + leads), leads / (pack + leads)
        h00, h01, h11 = 1.0 / sp**2 + jp * jp / s**2, jp * jl / s**2, 1.0 / sl**2 + jl * jl / s**2
        off = (math.log(value) - math.log(pack + leads)) / s**2
        r0, r1 = (a - u) / sp**2 + jp * off, (b - v) / sl**2 + jl * off
        det = h00 * h11 - h01 * h01
        u, v = u + (h11 * r0 - h01 * r1) / det, v + (h00 * r1 - h01 * r0) / det
    det = h00 * h11 - h01 * h01
    return (math.exp(u), math.sqrt(h11 / det)), (math.exp(v), math.sqrt(h00 / det))
