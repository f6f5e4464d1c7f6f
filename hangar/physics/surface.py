"""How hard the air turns a hinged flap: hinge-moment slopes and coefficients.

Source: thin-aerofoil theory, lifting line and separated plate; see each function.
"""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.base.text import fixed
from hangar.base.values import value_class
from hangar.physics.checks import above_zero, finite
from hangar.physics.hinge_large import plate_moment

LEAST_FLAP_RATIO = 0.10
MOST_FLAP_RATIO = 0.60
MOST_DEFLECTION_DEG = 50.0
MOST_ALPHA_DEG = 40.0
LEAST_REYNOLDS = 5.0e4
MOST_REYNOLDS = 2.0e6
MOST_MACH = 0.4
MOST_SWEEP_DEG = 25.0
LEAST_ASPECT_RATIO = 2.0

EXPECTED_SHARE = 0.82
LOW_SHARE = 0.50

_SERIES_BELOW_RAD = 0.5  # flaps shorter than 6 % of the chord
_END_PLATED = 1.55
_LINEAR_TO_DEG = 15.0
_FADE_DEG = 15.0
_PLATE_SLOPE = 0.96
_BUBBLE_ENDS_DEG = 25.0
BUBBLE_STEPS = ((1.5e5, 0.08), (7.0e5, 0.06), (math.inf, 0.03))


@value_class
class Slopes:
    """How the hinge-moment coefficient grows, per radian; negative means the air closes the flap.

    Attributes:
        b1_per_rad: per radian of incidence of the fixed part.
        b2_per_rad: per radian of flap deflection.
        effectiveness: lift of a radian of flap over lift of a radian of incidence [-].
    """

    b1_per_rad: float
    b2_per_rad: float
    effectiveness: float


def section_slopes(flap_ratio: float) -> Slopes:
    """Hinge-moment slopes of a plain sealed flap on a thin section (Glauert's closed form).

    Args:
        flap_ratio: flap chord behind the hinge over whole chord [-], above 0 up to 1.

    Returns:
        The slopes on flap chord squared; trailing edge down is positive.

    Raises:
        BadInput: a ratio outside those bounds.

    Valid for: thin sections, small angles, no viscosity; used as the anchor of the load model.
    Source: thin-aerofoil theory, integrated here from the chordwise loads of incidence and of flap;
        the classical result of Glauert, R&M 1095, and Houghton and Carpenter, Aerodynamics for
        Engineering Students, equations 4.55 and 4.56.

    >>> section_slopes(0.25).b2_per_rad
    -0.94361
    """
    if not 0.0 < flap_ratio <= 1.0:
        raise BadInput(
            "Flap chord over whole chord is {flap_ratio}; it must be above 0 and at most 1.",
            flap_ratio=flap_ratio,
        )
    f = 2.0 * math.asin(math.sqrt(flap_ratio))
    sine, cosine = math.sin(f), math.cos(f)
    if f < _SERIES_BELOW_RAD:
        over_fifth, over_fourth = _short_flap_series(f)
        # Ratio squared over f to the fourth, free of underflow for the shortest flaps.
        square = (math.sin(0.5 * f) / f) ** 4
        b1, b2 = -f * over_fifth / (2.0 * square), -over_fourth / (2.0 * math.pi * square)
    else:
        trail = f * (1.0 + 2.0 * cosine)
        square = flap_ratio * flap_ratio
        b1 = -(2.0 * sine + sine * cosine - trail) / (2.0 * square)
        b2 = -(sine * sine + 2.0 * f * sine - f * trail) / (2.0 * math.pi * square)
    return Slopes(b1, b2, (f + sine) / math.pi)


def _short_flap_series(f: float) -> tuple[float, float]:
    """Numerators of both slopes over f^5 and f^4, as power series: the closed form cancels away there."""
    over_fifth = over_fourth = 0.0
    power = 1.0
    for k in range(2, 12):
        over_fifth += power * (4**k - 4 * k) / math.factorial(2 * k + 1)
        over_fourth -= power * (2 ** (2 * k - 1) + 8 * k - 8 * k * k) / math.factorial(2 * k)
        power *= -f * f
    return over_fifth, over_fourth


def finite_span_slopes(
    slopes: Slopes, aspect_ratio: float | None, *, sweep_deg: float = 0.0, hinge_sweep_deg: float = 0.0
) -> Slopes:
    """Section slopes reduced for a panel of finite span (lifting line), and for sweep.

    Args:
        slopes: slopes of the section.
        aspect_ratio: span² over area of the whole panel [-], above 0; below 2 counts as 2, because the
            lifting line would promise too much relief there; None for endless span.
        sweep_deg: sweep of the quarter-chord line [deg], -25 to 25.
        hinge_sweep_deg: sweep of the hinge line [deg], -25 to 25.

    Returns:
        The panel's slopes, nearer to zero than the section's.

    Raises:
        BadInput: an aspect ratio not above zero.
        OutOfValidity: more sweep than the bounds.

    Valid for: attached flow. A lifting surface relieves more, so this is the heavy side.
    Source: USAF Stability and Control DATCOM, 6.1.6.1 and 6.1.6.2, first terms (read in a re-keyed
        form), and lifting-line theory.

    >>> finite_span_slopes(section_slopes(0.20), 6.667).b2_per_rad
    -0.85952
    """
    if aspect_ratio is not None and not aspect_ratio > 0.0:
        raise BadInput("Aspect ratio is {aspect_ratio}; it must be above zero.", aspect_ratio=aspect_ratio)
    for name, angle in (("Sweep", sweep_deg), ("Hinge sweep", hinge_sweep_deg)):
        if not abs(angle) <= MOST_SWEEP_DEG:
            raise OutOfValidity(
                "{name} is {angle} degrees; up to {most_sweep:g} is allowed, and 0 is the heavy side.",
                name=fixed(name),
                angle=angle,
                most_sweep=MOST_SWEEP_DEG,
            )
    sweep = math.cos(math.radians(sweep_deg))
    hinge = math.cos(math.radians(hinge_sweep_deg))
    induced = 0.0 if aspect_ratio is None else 2.0 * sweep / max(aspect_ratio, LEAST_ASPECT_RATIO)
    b1 = slopes.b1_per_rad * sweep / (1.0 + induced)
    lost = slopes.b1_per_rad * slopes.effectiveness * induced / (1.0 + induced)
    return Slopes(b1, sweep * hinge * (slopes.b2_per_rad - lost), slopes.effectiveness)


def fin_aspect_ratio(height_m: float, area_m2: float, *, end_plated: bool = False) -> float:
    """Aspect ratio that a fin works at.

    Args:
        height_m: fin height with its rudder [m], above zero.
        area_m2: area of fin and rudder [m²], above zero.
        end_plated: a tailplane across its foot makes it work as if it were taller.

    Returns:
        Height² over area [-]; half as much again (1.55) where it is end-plated.

    Raises:
        BadInput: a size not above zero.

    Source: definition; 1.55 from memory, unverified.

    >>> fin_aspect_ratio(0.6, 0.264), round(fin_aspect_ratio(0.6, 0.264, end_plated=True), 2)
    (1.3636, 2.11)
    """
    finite(height_m=height_m, area_m2=area_m2)
    ratio = above_zero(height_m, "fin height") ** 2 / above_zero(area_m2, "fin area")
    return _END_PLATED * ratio if end_plated else ratio


def bubble_coefficient(reynolds: float, deflection_deg: float) -> float:
    """What a laminar bubble near the hinge can add to the design coefficient.

    It is an absolute amount: at small deflection and low Reynolds number it can more than double
    the thin-section moment. It fades to nothing at 25 degrees.

    Raises:
        BadInput: a Reynolds number or deflection that is not finite.

    Source: our own XFOIL 6.99 runs (three sections, Reynolds 2e5 to 1e6); the steps were set
        after seeing them, so those runs are a fit and not a confirmation.

    >>> bubble_coefficient(9.0e5, 4.0)
    0.0252
    """
    if not (reynolds < math.inf and math.isfinite(deflection_deg)):
        raise BadInput(
            "Reynolds number is {reynolds} at {deflection} degrees; finite numbers are wanted.",
            reynolds=reynolds,
            deflection=deflection_deg,
        )
    step = next(amount for upper, amount in BUBBLE_STEPS if reynolds < upper)
    return step * max(0.0, 1.0 - abs(deflection_deg) / _BUBBLE_ENDS_DEG)


def _refuse(flap_ratio: float, deflection_deg: float, alpha_deg: float, reynolds: float, mach: float) -> None:
    if not LEAST_FLAP_RATIO <= flap_ratio <= MOST_FLAP_RATIO:
        raise OutOfValidity(
            "Flap chord over whole chord is {flap_ratio:.3g}; {least_flap_ratio:g} to "
            "{most_flap_ratio:g} is allowed.",
            flap_ratio=flap_ratio,
            least_flap_ratio=LEAST_FLAP_RATIO,
            most_flap_ratio=MOST_FLAP_RATIO,
        )
    if not abs(deflection_deg) <= MOST_DEFLECTION_DEG:
        raise OutOfValidity(
            "Deflection is {deflection:.3g} degrees; up to {most_deflection:g} either way is allowed.",
            deflection=deflection_deg,
            most_deflection=MOST_DEFLECTION_DEG,
        )
    if not abs(alpha_deg) <= MOST_ALPHA_DEG:
        raise OutOfValidity(
            "Incidence is {incidence:.3g} degrees; up to {most_incidence:g} either way is allowed.",
            incidence=alpha_deg,
            most_incidence=MOST_ALPHA_DEG,
        )
    if not LEAST_REYNOLDS <= reynolds <= MOST_REYNOLDS:
        raise OutOfValidity(
            "Reynolds number is {reynolds:.3g}; {least_reynolds:g} to {most_reynolds:g} is allowed.",
            reynolds=reynolds,
            least_reynolds=LEAST_REYNOLDS,
            most_reynolds=MOST_REYNOLDS,
        )
    if not 0.0 <= mach <= MOST_MACH:
        raise OutOfValidity(
            "Mach number is {mach:.3g}; 0 to {most_mach:g} is allowed.", mach=mach, most_mach=MOST_MACH
        )


def _attached_coefficient(
    section: Slopes, panel: Slopes, deflection_deg: float, alpha_deg: float, relief: float
) -> float:
    """Linear hinge-moment coefficient, the relief of span fading out from 15 to 30 degrees.

    Finite-span relief belongs to attached flow, so past 30 degrees the section's slopes rule.
    """
    fade = min(1.0, max(0.0, (deflection_deg - _LINEAR_TO_DEG) / _FADE_DEG))
    per_alpha = (1.0 - fade) * abs(panel.b1_per_rad) + fade * abs(section.b1_per_rad)
    per_flap = (1.0 - fade) * abs(panel.b2_per_rad) + fade * abs(section.b2_per_rad)
    return per_alpha * math.radians(alpha_deg) + relief * per_flap * math.radians(deflection_deg)


def base_coefficient(
    section: Slopes, panel: Slopes, deflection_deg: float, alpha_deg: float, relief: float = 1.0
) -> float:
    """The coefficient before the bubble and compressibility: linear, capped by a separated plate.

    Raises:
        BadInput: a value that is not finite.

    >>> section = section_slopes(0.55)
    >>> base_coefficient(section, finite_span_slopes(section, 2.0), 45.0, 0.0)
    0.6666
    """
    finite(deflection_deg=deflection_deg, alpha_deg=alpha_deg, relief=relief)
    deflection, alpha = abs(deflection_deg), abs(alpha_deg)
    linear = _attached_coefficient(section, panel, deflection, alpha, relief)
    incidence = deflection + alpha
    if incidence <= _LINEAR_TO_DEG:
        return linear
    excess = max(1.0, abs(section.b2_per_rad) / _PLATE_SLOPE) - 1.0
    fade = min(1.0, max(0.0, (35.0 - incidence) / 15.0))
    return min(linear, (1.0 + excess * fade) * plate_moment(min(incidence, 90.0)))


# One flap is asked at several deflections and speeds, one after the other.
@lru_cache(maxsize=256)
def _slopes(
    flap_ratio: float, aspect_ratio: float | None, sweep_deg: float, hinge_sweep_deg: float
) -> tuple[Slopes, Slopes]:
    """Slopes of the section and of the panel."""
    section = section_slopes(flap_ratio)
    return section, finite_span_slopes(
        section, aspect_ratio, sweep_deg=sweep_deg, hinge_sweep_deg=hinge_sweep_deg
    )


def hinge_coefficient(
    flap_ratio: float,
    deflection_deg: float,
    alpha_deg: float,
    *,
    reynolds: float,
    aspect_ratio: float | None = None,
    mach: float = 0.0,
    sweep_deg: float = 0.0,
    hinge_sweep_deg: float = 0.0,
    balance_factor: float = 1.0,
) -> Band:
    """How hard the air turns a plain flap, as a coefficient on flap chord squared.

    Args:
        flap_ratio: flap chord behind the hinge over whole chord [-], 0.10 to 0.60.
        deflection_deg: flap deflection [deg], -50 to 50; the sign does not matter.
        alpha_deg: largest incidence of the fixed part that can add to it [deg], -40 to 40; the sign
            does not matter. 4 is usual, 10 to 15 for rudder and elevator in aerobatics.
        reynolds: Reynolds number on the whole chord [-], 5e4 to 2e6.
        aspect_ratio: of the whole panel [-]; below 2 counts as 2; None for endless span.
        mach: Mach number [-], 0 to 0.4.
        sweep_deg: sweep of the quarter-chord line [deg], up to 25.
        hinge_sweep_deg: sweep of the hinge line [deg], up to 25.
        balance_factor: credited factor of a nose balance on the flap's own slope [-], 0.5 to 1.

    Returns:
        Size of the coefficient: ``low`` is at least there, ``expected`` places the surface,
        ``design`` sizes the servo.

    Raises:
        OutOfValidity: any argument outside those bounds.

    Valid for: plain flaps, sealed or with a small gap, no tabs, steady air. Truth against design:
        5 to 10 degrees +0/-40 %, 10 to 20 degrees +5/-50 %, 20 to 50 degrees +15/-50 %, below Reynolds
        2e5 +10/-80 %. Nothing above 20 degrees has been measured.
    Source: thin-aerofoil slopes, lifting line, separated plate after Hoerner and Rayleigh, and a bubble
        allowance from XFOIL runs; Prandtl and Glauert's factor for compressibility.

    >>> hinge_coefficient(0.20, 20.0, 4.0, reynolds=7.19e5, aspect_ratio=6.667).design
    0.3429
    """
    _refuse(flap_ratio, deflection_deg, alpha_deg, reynolds, mach)
    if not 0.5 <= balance_factor <= 1.0:
        raise OutOfValidity(
            "Nose balance factor is {balance_factor}; 0.5 to 1 may be credited.",
            balance_factor=balance_factor,
        )
    section, panel = _slopes(flap_ratio, aspect_ratio, sweep_deg, hinge_sweep_deg)
    base = base_coefficient(section, panel, deflection_deg, alpha_deg, balance_factor)
    band = Band(LOW_SHARE * base, EXPECTED_SHARE * base, base + bubble_coefficient(reynolds, deflection_deg))
    return band / math.sqrt(1.0 - mach * mach)
