"""Hinge moment of a real flap in its air, and the servo torque that holds it.

Source: hinge moment = dynamic pressure x integral of flap chord squared x coefficient (definition).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from itertools import pairwise

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.base.text import fixed
from hangar.base.values import value_class
from hangar.physics.air import Airflow
from hangar.physics.hinge_balance import NO_BALANCE, NoseBalance
from hangar.physics.hinge_large import plate_moment
from hangar.physics.surface import (
    EXPECTED_SHARE,
    LOW_SHARE,
    MOST_DEFLECTION_DEG,
    MOST_MACH,
    MOST_REYNOLDS,
    hinge_coefficient,
)

USUAL_ALPHA_DEG = 4.0
BRAKE_MARGIN = 1.15


class Service(Enum):
    """Service factors on the design moment, for what steady air leaves out (our judgement)."""

    STEADY = 1.0
    SPORT = 1.25
    HARD = 1.5

    def apply(self, moment_nm: Band) -> Band:
        """The band with its design value raised for snaps, buffet and gusts."""
        return Band(moment_nm.low, moment_nm.expected, moment_nm.design * self.value)


def chord_moment_m3(span_m: float, inner_chord_m: float, outer_chord_m: float) -> float:
    """Integral of flap chord squared along a straight-tapered flap [m³].

    Area times mean chord would be low on a tapered flap (6 % at a taper of 0.4).

    Raises:
        BadInput: a length below zero.

    >>> chord_moment_m3(0.60, 0.28, 0.20)
    0.03488
    """
    for name, value in (("Span", span_m), ("Inner chord", inner_chord_m), ("Outer chord", outer_chord_m)):
        if not (value >= 0.0 and math.isfinite(value)):
            raise BadInput(
                "{name} of the flap is {value} m; it must be zero or more.", name=fixed(name), value=value
            )
    return span_m * (inner_chord_m**2 + inner_chord_m * outer_chord_m + outer_chord_m**2) / 3.0


def chord_moment_of_stations_m3(stations: Sequence[tuple[float, float]]) -> float:
    """Integral of flap chord squared over (place along the span [m], flap chord [m]) in order [m³].

    Raises:
        BadInput: fewer than two stations, or stations that do not run outwards.

    >>> chord_moment_of_stations_m3([(0.0, 0.28), (0.3, 0.24), (0.6, 0.20)])
    0.03488
    """
    if len(stations) < 2:
        raise BadInput("A flap outline needs at least two stations.")
    total = 0.0
    for (start, inner), (end, outer) in pairwise(stations):
        if end < start:
            raise BadInput(
                "Station {end} m comes after {start} m; stations must run outwards.", end=end, start=start
            )
        total += chord_moment_m3(end - start, inner, outer)
    return total


@value_class
class Flap:
    """A hinged surface as the air sees it.

    Attributes:
        span_m: length along the hinge [m], above zero.
        inner_chord_m: chord behind the hinge at the inner end [m], above zero.
        outer_chord_m: chord behind the hinge at the outer end [m], zero or more.
        whole_chord_m: mean chord of fixed part and flap together [m].
        aspect_ratio: span² over area of the whole wing, tail or fin [-]; None for endless span.
        sweep_deg: sweep of the quarter-chord line [deg].
        hinge_sweep_deg: sweep of the hinge line [deg].
        balance: nose balance, if any.
    """

    span_m: float
    inner_chord_m: float
    outer_chord_m: float
    whole_chord_m: float
    aspect_ratio: float | None = None
    sweep_deg: float = 0.0
    hinge_sweep_deg: float = 0.0
    balance: NoseBalance = NO_BALANCE

    def __post_init__(self) -> None:
        if not (self.span_m > 0.0 and self.inner_chord_m > 0.0 and self.outer_chord_m >= 0.0):
            raise BadInput(
                "Flap is {span} m by {inner_chord} to {outer_chord} m; span and inner chord must be "
                "above zero.",
                span=self.span_m,
                inner_chord=self.inner_chord_m,
                outer_chord=self.outer_chord_m,
            )
        if not self.whole_chord_m > 0.0:
            raise BadInput(
                "Whole chord is {whole_chord} m; it must be above zero.", whole_chord=self.whole_chord_m
            )

    @property
    def chord_moment_m3(self) -> float:
        """Integral of flap chord squared along the span [m³]."""
        return chord_moment_m3(self.span_m, self.inner_chord_m, self.outer_chord_m)

    @property
    def flap_ratio(self) -> float:
        """Mean flap chord over whole chord [-]."""
        return 0.5 * (self.inner_chord_m + self.outer_chord_m) / self.whole_chord_m


def brake_coefficient(deflection_deg: float, alpha_deg: float = 0.0, *, mach: float = 0.0) -> Band:
    """Coefficient of a flap turned beyond 50 degrees, as a brake: a free separated plate.

    Args:
        deflection_deg: flap deflection [deg], above 50 up to 90; the sign does not matter.
        alpha_deg: incidence that can add to it [deg], up to 40.
        mach: Mach number [-], 0 to 0.4.

    Returns:
        Coefficient on flap chord squared; the design value is widened by 15 % because there is no
        measurement under it.

    Raises:
        OutOfValidity: outside those bounds.

    Valid for: an estimate only; a flap behind a wing is shielded and usually feels less.
    Source: separated plate after Hoerner and Rayleigh (see :mod:`hangar.physics.hinge_large`).

    >>> round(brake_coefficient(70.0).expected, 3)
    0.726
    """
    if not MOST_DEFLECTION_DEG <= abs(deflection_deg) <= 90.0:
        raise OutOfValidity(
            "Brake deflection is {deflection} degrees; 50 to 90 is allowed.", deflection=deflection_deg
        )
    if not (abs(alpha_deg) <= 40.0 and 0.0 <= mach <= MOST_MACH):
        raise OutOfValidity(
            "Brake incidence is {incidence} degrees at Mach {mach:.3g}; 40 degrees and {most_mach:g} are "
            "allowed.",
            incidence=alpha_deg,
            mach=mach,
            most_mach=MOST_MACH,
        )
    plate = plate_moment(min(90.0, abs(deflection_deg) + abs(alpha_deg)))
    band = Band(LOW_SHARE * plate, EXPECTED_SHARE * plate, BRAKE_MARGIN * plate)
    return band / math.sqrt(1.0 - mach * mach)


def flap_coefficient(flap: Flap, flow: Airflow, deflection_deg: float, alpha_deg: float) -> Band:
    """Coefficient of a flap in its air; beyond 50 degrees it is taken for a brake.

    Above Reynolds 2e6 the coefficient of 2e6 is used: the boundary layer only gets thinner and the
    bubble allowance does not change.

    Raises:
        OutOfValidity: what :func:`hangar.physics.surface.hinge_coefficient` refuses.

    >>> from hangar.physics.air import Air
    >>> wing = Flap(0.75, 0.060, 0.060, 0.30, aspect_ratio=6.667)
    >>> flap_coefficient(wing, Airflow(35.0, Air(1.225, 15.0)), 20.0, 4.0).design
    0.3447
    """
    mach = flow.mach
    if abs(deflection_deg) > MOST_DEFLECTION_DEG:
        return brake_coefficient(deflection_deg, alpha_deg, mach=mach)
    return hinge_coefficient(
        flap.flap_ratio,
        deflection_deg,
        alpha_deg,
        reynolds=min(flow.reynolds(flap.whole_chord_m), MOST_REYNOLDS),
        aspect_ratio=flap.aspect_ratio,
        mach=mach,
        sweep_deg=flap.sweep_deg,
        hinge_sweep_deg=flap.hinge_sweep_deg,
        balance_factor=flap.balance.credited_at(deflection_deg),
    )


def hinge_moment_nm(
    flap: Flap, flow: Airflow, deflection_deg: float, alpha_deg: float = USUAL_ALPHA_DEG
) -> Band:
    """Torque the air puts on a flap's hinge.

    Args:
        flap: size and place of the flap.
        flow: speed, air and propeller wash.
        deflection_deg: deflection [deg], -90 to 90; beyond 50 the band is wider.
        alpha_deg: largest incidence or sideslip that can add [deg], up to 40; 4 is usual, 10 to 15 for
            rudder and elevator in aerobatics.

    Returns:
        Size of the hinge moment [N m]: size servos on ``design``.

    Raises:
        OutOfValidity: flap ratio, Reynolds or Mach number outside what :func:`hinge_coefficient` holds for.

    Valid for: steady air; snaps, buffet and flutter are outside (see :class:`Service`).
    Source: as :func:`hinge_coefficient`.

    >>> from hangar.physics.air import Air
    >>> wing = Flap(0.75, 0.060, 0.060, 0.30, aspect_ratio=6.667)
    >>> hinge_moment_nm(wing, Airflow(35.0, Air(1.225, 15.0)), 20.0).expected
    0.563
    """
    coefficient = flap_coefficient(flap, flow, deflection_deg, alpha_deg)
    return coefficient * (flow.dynamic_pressure_pa * flap.chord_moment_m3)


def servo_torque_nm(moment_nm: Band, velocity_ratio: float, efficiency: float = 0.9) -> Band:
    """Torque at the servo that drives a hinge moment through a linkage.

    Args:
        moment_nm: hinge moment [N m].
        velocity_ratio: servo degrees per surface degree at that deflection [-], above zero.
        efficiency: share of the servo's work that reaches the surface [-], above 0 to 1; 0.9 to 0.95 is
            our judgement.

    Returns:
        Servo torque [N m].

    Raises:
        BadInput: outside those bounds.

    Source: virtual work.

    >>> servo_torque_nm(Band.exactly(0.9), 1.0).design
    1.0
    """
    if not velocity_ratio > 0.0:
        raise BadInput(
            "Servo travel per surface travel is {velocity_ratio}; it must be above zero.",
            velocity_ratio=velocity_ratio,
        )
    if not 0.0 < efficiency <= 1.0:
        raise BadInput("Linkage efficiency is {efficiency}; above 0 to 1 is allowed.", efficiency=efficiency)
    return moment_nm / (velocity_ratio * efficiency)
