"""Two questions of a load test, each answered on its own: is the pack charged, and is it healthy?

Unknown are the volts behind the resistance and the resistance. One load tells only what they leave together;
a second one tells them apart.

Source: Ohm's law and weighted least squares with shared errors (JCGM 100:2008, Guide to the expression of
uncertainty in measurement, 5.2); lines and surface volts are marked where they stand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from hangar.base.chemistry import Chemistry
from hangar.base.errors import BadInput
from hangar.physics.checks import finite
from hangar.physics.estimating import Z90, normal_share
from hangar.physics.pack import CELLS
from hangar.physics.pack_health import RESISTANCE_AMBER, RESISTANCE_RETIRE, Light
from hangar.physics.pack_resistance import temperature_factor

SURE = 0.9
"""From here on a verdict speaks; between it and its opposite the test cannot tell."""
SURE_ENOUGH_TO_RETIRE = 0.75
"""A worn pack is retired from here on: it is no fit one either way."""
METER_V = 0.006
"""Standard uncertainty of one reading of a tester."""
LEAD_OHM, LEAD_SD_OHM, MEASURED_LEAD_SD_OHM = 0.012, 0.008, 0.001
"""Tester's lead and plugs until they are measured: some read at the pack's own plug, some through 20 mohm;
common practice, no source."""
_GAIN = 0.003
_CELL_SD_V = 0.07
_UNTIMED_SHARE = 0.3
_LOST_UNDER_LOAD = 0.5
_FIELD_TEST_A = 1.0
_TURNS = 8
_ZERO_K = 273.15

# Volts a cell still shows above its inner volts after a charge, and in how many minutes they fall to a
# third.  Nickel and LiFePO4: common practice, no source.  LiPo and Li-ion: 8 to 15 mV, gone in ten minutes,
# by simulated cells (PyBaMM, V. Sulzer et al., J. Open Res. Software 9 (2021) 14).
_SURFACE = {
    Chemistry.NICD: (0.05, 25.0),
    Chemistry.NIMH: (0.05, 25.0),
    Chemistry.NIMH_LSD: (0.05, 25.0),
    Chemistry.LIPO: (0.012, 5.0),
    Chemistry.LIHV: (0.012, 5.0),
    Chemistry.LI_ION: (0.012, 5.0),
    Chemistry.LIFEPO4: (0.12, 20.0),
}


class ChargeAnswer(StrEnum):
    """Is it charged?"""

    YES = "charged"
    PART = "charged for part of the flights"
    NO = "charge first"
    CANT_TELL = "can't tell"


class Healthy(StrEnum):
    """Is it healthy?"""

    YES = "healthy"
    WORN = "worn"
    RETIRE = "retire"
    CANT_TELL = "can't tell"


@dataclass(frozen=True, slots=True)
class PackTest:
    """A load test with what was expected of the pack before it.

    Attributes:
        chemistry: kind of cell.
        cells: cells in series.
        rest_v: volts before the load; None where not read.
        loads: volts and amps of each load, the lighter first.
        pack_ohm: resistance of the whole pack expected at 25 C, before this test.
        pack_ln_sd: error of that, standard deviation of its logarithm.
        new_ohm: resistance of the whole pack when new, at 25 C.
        new_ln_sd: error of that.
        cell_c: temperature of the cells, -10 to 45.
        cell_sd_c: error of that.
        minutes_since_charge: None where not noted.
        lead_ohm, lead_sd_ohm: tester's lead and plugs.
        meter_v: error of one reading.
    """

    chemistry: Chemistry
    cells: int
    rest_v: float | None
    loads: Sequence[tuple[float, float]]
    pack_ohm: float
    pack_ln_sd: float
    new_ohm: float
    new_ln_sd: float
    cell_c: float = 25.0
    cell_sd_c: float = 2.0
    minutes_since_charge: float | None = None
    lead_ohm: float = LEAD_OHM
    lead_sd_ohm: float = LEAD_SD_OHM
    meter_v: float = METER_V


@dataclass(frozen=True, slots=True)
class PackVerdict:
    """What a load test says.

    Attributes:
        charged, healthy: the two answers.
        inner_v, inner_sd_v: volts of the pack behind its resistance, and their error.
        pack_ohm: resistance of the pack at 25 C, low, expected and high.
        charged_share: how sure it is that the pack is charged, 0 to 1.
        part_share: how sure it is that it need not be charged first.
        worn_share, retire_share: how sure it is that it is worn, and to be retired.
        off: how far the test is from what the pack was expected to show, in standard deviations.
        two_loads: whether a second load tells the two apart.
        low_v, charged_from_v: inner volts below which it is charged first, and from which it is charged.
    """

    charged: ChargeAnswer
    healthy: Healthy
    inner_v: float
    inner_sd_v: float
    pack_ohm: tuple[float, float, float]
    charged_share: float
    part_share: float
    worn_share: float
    retire_share: float
    off: float
    two_loads: bool
    low_v: float
    charged_from_v: float

    @property
    def light(self) -> Light:
        """Whether the pack may fly on this charge; red where it is more likely to be empty than not."""
        if self.charged is ChargeAnswer.YES:
            return Light.GREEN
        return Light.RED if self.charged is ChargeAnswer.NO or self.part_share < 0.5 else Light.AMBER

    @property
    def is_empty_or_worn(self) -> bool:
        """Whether something is wrong and one load cannot say which of the two."""
        return self.charged is ChargeAnswer.CANT_TELL and self.healthy is Healthy.CANT_TELL


def surface_v(chemistry: Chemistry, cells: int, minutes_since_charge: float | None) -> tuple[float, float]:
    """Volts that a charge has left on top of a pack's inner volts, and their error.

    Args:
        chemistry: kind of cell.
        cells: cells in series.
        minutes_since_charge: None where not noted.

    Raises:
        BadInput: minutes that are no finite number.

    Source: common practice, no source; LiPo and Li-ion simulated cells (PyBaMM).

    >>> [round(one, 3) for one in surface_v(Chemistry.NIMH, 5, 25.0)]
    [0.092, 0.046]
    """
    if minutes_since_charge is None:
        most = cells * _SURFACE[chemistry][0] * _UNTIMED_SHARE
        return most, most
    finite(minutes_since_charge=minutes_since_charge)
    value, fall = _SURFACE[chemistry]
    surface_left_v = cells * value * math.exp(-max(0.0, minutes_since_charge) / fall)
    return surface_left_v, 0.5 * surface_left_v


def rest_surface_v(
    chemistry: Chemistry, cells: int, minutes_since_charge: float | None
) -> tuple[float, float]:
    """Volts that a pack shows at rest, over :func:`surface_v`, and loses under load; and their error.

    Args:
        chemistry: kind of cell.
        cells: cells in series.
        minutes_since_charge: None where not noted.

    Source: assumption; half of the surface volts, and as much for its error.

    >>> [round(one, 3) for one in rest_surface_v(Chemistry.NIMH, 5, 25.0)]
    [0.046, 0.046]
    """
    surface_left_v, _ = surface_v(chemistry, cells, minutes_since_charge)
    return _LOST_UNDER_LOAD * surface_left_v, _LOST_UNDER_LOAD * surface_left_v


def healthy_by(worn_share: float, retire_share: float) -> Healthy:
    """The answer from how sure it is that a pack is worn, and that it is to be retired.

    Raises:
        BadInput: no finite number.

    Source: common practice, no source.

    >>> healthy_by(0.95, 0.30).name, healthy_by(0.5, 0.1).name
    ('WORN', 'CANT_TELL')
    """
    finite(worn_share=worn_share, retire_share=retire_share)
    if retire_share >= SURE_ENOUGH_TO_RETIRE:
        return Healthy.RETIRE
    if worn_share >= SURE:
        return Healthy.WORN
    return Healthy.YES if worn_share <= 1.0 - SURE else Healthy.CANT_TELL


def lines_v(chemistry: Chemistry, cells: int, new_ohm: float) -> tuple[float, float, float]:
    """Inner volts of a pack: charge first below, charged from, ready for every flight from.

    The first is the line below which a cell must be charged, or where it is higher what a new pack must have
    inside to show the field minimum under 1 A.

    Args:
        chemistry: kind of cell.
        cells: cells in series.
        new_ohm: resistance of the whole pack when new, at 25 C.

    Raises:
        BadInput: a resistance that is not finite.

    Source: common practice, no source; set on trade anchors (five nickel cells good from 6.5 V at 1 A).

    >>> [round(one, 3) for one in lines_v(Chemistry.NIMH, 5, 0.150)]
    [6.25, 6.375, 6.65]
    """
    finite(new_ohm=new_ohm)
    volts = CELLS[chemistry]
    low, ready = cells * volts.recharge_emf_v, cells * volts.ready_emf_v
    charged = 0.5 * (low + ready)
    return min(charged, max(low, cells * volts.field_minimum_v + _FIELD_TEST_A * new_ohm)), charged, ready


def least_loaded_v(
    chemistry: Chemistry,
    cells: int,
    current_a: float,
    pack_ohm: float,
    new_ohm: float,
    *,
    temperature_c: float = 25.0,
    lead_ohm: float = LEAD_OHM,
) -> float:
    """Volts under a load below which a pack is to be charged first.

    Raises:
        BadInput: a value that is not finite.
        OutOfValidity: a temperature outside -10 to 45 C.

    >>> round(least_loaded_v(Chemistry.NIMH, 5, 1.0, 0.150, 0.150), 2)
    6.09
    """
    finite(current_a=current_a, pack_ohm=pack_ohm, lead_ohm=lead_ohm)
    low, _, _ = lines_v(chemistry, cells, new_ohm)
    return low - current_a * (pack_ohm * temperature_factor(chemistry, temperature_c) + lead_ohm)


def pack_verdict(test: PackTest) -> PackVerdict:
    """Is the pack charged, and is it healthy, by its volts at rest and under one or two loads?

    Raises:
        BadInput: no load, a current that is not above 0, or a resistance that is not.
        OutOfValidity: a temperature outside -10 to 45 C.

    >>> good = PackTest(Chemistry.NIMH, 5, 6.66, [(6.50, 1.0)], 0.150, 0.25, 0.150, 0.10,
    ...                 minutes_since_charge=60.0)
    >>> pack_verdict(good).charged.name, pack_verdict(good).healthy.name
    ('YES', 'YES')
    """
    if not test.loads or not all(amps > 0.0 for _, amps in test.loads):
        raise BadInput("a load test needs a load of more than 0 A")
    if not min(test.pack_ohm, test.new_ohm, test.pack_ln_sd) > 0.0:
        raise BadInput("a pack of {ohm:g} ohm was found; more than 0 is allowed", ohm=test.pack_ohm)
    warmth = temperature_factor(test.chemistry, test.cell_c)
    left_v, left_sd = surface_v(test.chemistry, test.cells, test.minutes_since_charge)
    fit = _Fit(test, warmth, left_v, left_sd)
    # A test far from what was expected says that the pack is not what it was: its own volts decide.
    off = fit.off()
    if abs(off) > 1.9:
        fit.ln_sd = math.hypot(fit.ln_sd, 0.7)
    inner_v, ln_ohm, inner_sd, ln_sd = fit.solved()
    low, charged_from, _ = lines_v(test.chemistry, test.cells, test.new_ohm)
    charged_share = normal_share((inner_v - charged_from) / inner_sd)
    part_share = normal_share((inner_v - low) / inner_sd)
    own_sd = math.hypot(ln_sd, _ln_sd_by_warmth(test))
    over_new = ln_ohm - math.log(test.new_ohm)
    total_sd = math.hypot(own_sd, test.new_ln_sd)
    worn = normal_share((over_new - math.log(RESISTANCE_AMBER)) / total_sd)
    retire = normal_share((over_new - math.log(RESISTANCE_RETIRE)) / total_sd)
    ohm = math.exp(ln_ohm)
    return PackVerdict(
        _charged(charged_share, part_share),
        healthy_by(worn, retire),
        inner_v,
        inner_sd,
        (ohm * math.exp(-Z90 * own_sd), ohm, ohm * math.exp(Z90 * own_sd)),
        charged_share,
        part_share,
        worn,
        retire,
        off,
        _apart(test.loads),
        low,
        charged_from,
    )


def expected_loaded_v(
    chemistry: Chemistry,
    cells: int,
    current_a: float,
    pack_ohm: float,
    pack_ln_sd: float,
    *,
    temperature_c: float = 25.0,
    lead_ohm: float = LEAD_OHM,
) -> tuple[float, float]:
    """Volts that a charged pack shows under a load: the band that nine of ten fall into.

    The lower end is a pack charged just enough, the upper one a pack charged and rested.

    Raises:
        BadInput: a pack without resistance.
        OutOfValidity: a temperature outside -10 to 45 C.

    >>> low, high = expected_loaded_v(Chemistry.NIMH, 5, 1.0, 0.150, 0.10)
    >>> round(low, 2), round(high, 2)
    (6.46, 6.76)
    """
    finite(current_a=current_a, lead_ohm=lead_ohm, pack_ohm=pack_ohm, pack_ln_sd=pack_ln_sd)
    if not pack_ohm > 0.0:
        raise BadInput("a pack of {ohm:g} ohm was found; more than 0 is allowed", ohm=pack_ohm)
    at_c = pack_ohm * temperature_factor(chemistry, temperature_c)
    ready_v = cells * CELLS[chemistry].ready_emf_v
    full_v = cells * CELLS[chemistry].rested_full_v
    most, least = at_c * math.exp(Z90 * pack_ln_sd), at_c * math.exp(-Z90 * pack_ln_sd)
    return ready_v - current_a * (most + lead_ohm), full_v - current_a * (least + lead_ohm)


def _apart(loads: Sequence[tuple[float, float]]) -> bool:
    """Whether two loads differ enough to tell volts and resistance apart."""
    amps = [current for _, current in loads]
    return max(amps) - min(amps) >= 0.5


def _charged(charged: float, part: float) -> ChargeAnswer:
    if charged >= SURE:
        return ChargeAnswer.YES
    if part <= 1.0 - SURE:
        return ChargeAnswer.NO
    return ChargeAnswer.PART if part >= SURE else ChargeAnswer.CANT_TELL


def _ln_sd_by_warmth(test: PackTest) -> float:
    """Error of the resistance brought to 25 C: of the temperature itself, and of the law."""
    kelvin = test.cell_c + _ZERO_K
    steep = CELLS[test.chemistry].resistance_kelvin / kelvin**2
    law = (600.0 if test.chemistry.is_nickel else 400.0) * abs(1.0 / kelvin - 1.0 / (25.0 + _ZERO_K))
    return math.hypot(steep * test.cell_sd_c, law)


class _Fit:
    """Inner volts and resistance that fit the readings and what was expected best (Gauss-Newton)."""

    def __init__(self, test: PackTest, warmth: float, left_v: float, left_sd: float) -> None:
        low = test.cells * CELLS[test.chemistry].recharge_emf_v
        self.inner = (0.5 * (test.cells * CELLS[test.chemistry].rested_full_v + low), _CELL_SD_V * test.cells)
        self.ln_ohm = math.log(test.pack_ohm)
        self.ln_sd = math.hypot(test.pack_ln_sd, _ln_sd_by_warmth(test))
        self.warmth, self.lead = warmth, test.lead_ohm
        rows = [(volts - left_v, amps, test.meter_v) for volts, amps in test.loads]
        if test.rest_v is not None:
            more_v, more_sd = rest_surface_v(test.chemistry, test.cells, test.minutes_since_charge)
            rows.append((test.rest_v - left_v - more_v, 0.0, math.hypot(test.meter_v, more_sd)))
        self.rows = rows
        self.cov = [
            [
                (ln_sd * ln_sd if i == k else 0.0)
                + _GAIN**2 * volts * other_v
                + (test.lead_sd_ohm**2) * amps * other_a
                + left_sd * left_sd
                for k, (other_v, other_a, _) in enumerate(rows)
            ]
            for i, (volts, amps, ln_sd) in enumerate(rows)
        ]

    def _ohm(self, ln_ohm: float) -> float:
        return math.exp(ln_ohm) * self.warmth

    def off(self) -> float:
        """How far the readings are from what was expected, resistance alone: by the slope of the volts."""
        first, last = (pick(self.rows, key=lambda row: row[1]) for pick in (min, max))
        step = last[1] - first[1]
        if step <= 0.0:
            return 0.0
        seen = (first[0] - last[0]) / step - self.lead
        wanted = self._ohm(self.ln_ohm)
        if seen <= 0.0:
            return -DOES_NOT_FIT_LOW
        ln_sd = math.hypot(first[2], last[2]) / step / wanted
        return math.log(seen / wanted) / math.hypot(self.ln_sd, min(ln_sd, 1.0))

    def solved(self) -> tuple[float, float, float, float]:
        """Inner volts, logarithm of the ohms, and their errors."""
        weights = _inverse(self.cov)
        (e0, e_sd), u0 = self.inner, self.ln_ohm
        e, u = e0, u0
        h00 = h01 = h11 = 0.0
        for _ in range(_TURNS):
            ohm = self._ohm(u)
            gaps = [volts - (e - amps * (ohm + self.lead)) for volts, amps, _ in self.rows]
            slopes = [(1.0, -amps * ohm) for _, amps, _ in self.rows]
            h00, h01, h11 = 1.0 / e_sd**2, 0.0, 1.0 / self.ln_sd**2
            g0, g1 = (e0 - e) * h00, (u0 - u) * h11
            for i, (a0, a1) in enumerate(slopes):
                for k, (b0, b1) in enumerate(slopes):
                    w = weights[i][k]
                    h00, h01, h11 = h00 + a0 * w * b0, h01 + a0 * w * b1, h11 + a1 * w * b1
                    g0, g1 = g0 + a0 * w * gaps[k], g1 + a1 * w * gaps[k]
            det = h00 * h11 - h01 * h01
            step_e, step_u = (h11 * g0 - h01 * g1) / det, (h00 * g1 - h01 * g0) / det
            e, u = e + step_e, u + max(-1.0, min(1.0, step_u))
        det = h00 * h11 - h01 * h01
        return e, u, math.sqrt(h11 / det), math.sqrt(h00 / det)


DOES_NOT_FIT_LOW = 9.0
"""Stands for a drop that no pack could show."""


def _inverse(matrix: list[list[float]]) -> list[list[float]]:
    """Inverse of a small positive definite matrix (Gauss-Jordan)."""
    size = len(matrix)
    rows = [[*row, *(1.0 if i == k else 0.0 for k in range(size))] for i, row in enumerate(matrix)]
    for i in range(size):
        lead = rows[i][i]
        rows[i] = [value / lead for value in rows[i]]
        for k in range(size):
            if k != i:
                times = rows[k][i]
                rows[k] = [value - times * pivot for value, pivot in zip(rows[k], rows[i], strict=True)]
    return [row[size:] for row in rows]
