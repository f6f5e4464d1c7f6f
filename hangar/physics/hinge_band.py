"""How hard the air turns a hinged surface over its whole travel: least, expected and most.

Deflections are sizes [deg]; moments close the surface. Tables are made once for a surface and read by
:mod:`hangar.physics.held_angle`.

Source: thin-section slopes, lifting line, separated plate and bubble allowance, as
:mod:`hangar.physics.surface`; what is expected of each of them stands beside its constant.
"""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.figure import Band
from hangar.base.values import value_class
from hangar.physics.checks import finite
from hangar.physics.hinge_balance import NO_BALANCE, NoseBalance
from hangar.physics.hinge_large import plate_moment
from hangar.physics.surface import (
    BUBBLE_STEPS,
    MOST_MACH,
    MOST_SWEEP_DEG,
    Slopes,
    finite_span_slopes,
    section_slopes,
)

LEAST_RATIO = 0.02
MOST_RATIO = 1.0
ATTACHED_SHARE = 0.82
"""Of the thin-section moment in attached flow; our XFOIL rows have a median of 0.72 to 0.98 of expected."""
SEPARATED_SHARE = 0.75
"""Of a free plate of endless span: 0.60 of it square to the wind (textbook drag of rectangular plates, from
memory), less relief at 45 degrees, one side shielded by the fixed part."""
SEPARATED_HIGH = 0.90
MOST_ASKED = 0.75
"""No higher than CS 22.415 asks of elevator, rudder or aileron."""
LOW_SHARE = 0.60
_PLATE_SLOPE = 0.96
_STALLS_FROM_DEG, _STALLED_AT_DEG = 20.0, 35.0
_BUBBLE_ENDS_DEG = 25.0
_CAMBER_EXPECTED = 0.5  # pilots trim half of it out, and dives are flown at small lift
_GRID_DEG = 2.0
_PANELS = 96


@value_class
class Profile:
    """What of a surface decides its hinge-moment coefficient.

    Attributes:
        flap_ratio: mean chord behind the hinge over whole chord [-]; held within 0.02 to 1.
        aspect_ratio: of the whole panel [-]; None for endless span.
        camber: height of the mean line over its chord [-].
        incidence_deg: incidence that is expected to add [deg].
        adverse_deg: incidence that adds in the worst moment [deg].
        sweep_deg: sweep of the quarter-chord line [deg].
        hinge_sweep_deg: sweep of the hinge line [deg].
        balance: nose balance.
    """

    flap_ratio: float
    aspect_ratio: float | None = None
    camber: float = 0.0
    incidence_deg: float = 0.0
    adverse_deg: float = 0.0
    sweep_deg: float = 0.0
    hinge_sweep_deg: float = 0.0
    balance: NoseBalance = NO_BALANCE


@value_class
class Coefficients:
    """A table of hinge-moment coefficients over deflection.

    Attributes:
        angles_deg: deflections [deg], rising from 0 to the greatest asked.
        expected: what places the surface.
        spread: what separates the most from the expected, without the bubble.
        bubble: share of the bubble allowance that is left at each deflection.
    """

    angles_deg: tuple[float, ...]
    expected: tuple[float, ...]
    spread: tuple[float, ...]
    bubble: tuple[float, ...]

    def highs(self, bubble: float) -> tuple[float, ...]:
        """The most at each deflection, for an allowance for the bubble [-]."""
        return tuple(
            max(expected, min(MOST_ASKED, expected + math.hypot(spread, share * bubble)))
            for expected, spread, share in zip(self.expected, self.spread, self.bubble, strict=True)
        )

    def at(self, deflection_deg: float, bubble: float = 0.0) -> Band:
        """The three values at a deflection within the table, on straight lines between its angles."""
        expected = between(self.angles_deg, self.expected, deflection_deg)
        high = between(self.angles_deg, self.highs(bubble), deflection_deg)
        return Band(LOW_SHARE * expected, expected, high)


def between(places: tuple[float, ...], values: tuple[float, ...], place: float) -> float:
    """A value on straight lines between the rows of a table; held at its ends.

    >>> between((0.0, 2.0), (1.0, 3.0), 0.5)
    1.5
    """
    if place <= places[0]:
        return values[0]
    for at in range(1, len(places)):
        if place <= places[at]:
            share = (place - places[at - 1]) / (places[at] - places[at - 1])
            return values[at - 1] + share * (values[at] - values[at - 1])
    return values[-1]


@lru_cache(maxsize=256)
def angles_to(deflection_deg: float) -> tuple[float, ...]:
    """Deflections of a table: every two degrees from 0, and the greatest itself.

    Raises:
        BadInput: no finite deflection.

    >>> angles_to(5.0)
    (0.0, 2.0, 4.0, 5.0)
    """
    finite(deflection_deg=deflection_deg)
    count = math.ceil(deflection_deg / _GRID_DEG - 1e-9)
    return (*(step * _GRID_DEG for step in range(count)), deflection_deg)


@lru_cache(maxsize=512)
def camber_coefficient(flap_ratio: float, camber: float) -> float:
    """Hinge-moment coefficient of a section at no lift from its camber, on chord behind the hinge squared.

    Args:
        flap_ratio: chord behind the hinge over whole chord [-], above 0 up to 1.
        camber: height of a parabolic mean line over its chord [-].

    Raises:
        BadInput: a ratio outside those bounds.

    Valid for: thin sections without viscosity, chord line along the wind. It turns the surface up.
    Source: thin-aerofoil theory, integrated here: a parabolic mean line of height h carries the pressure
        difference 32 h sqrt(x (1 - x)) q.

    >>> round(camber_coefficient(0.25, 0.02), 3)
    0.081
    """
    if not 0.0 < flap_ratio <= 1.0:
        raise BadInput(
            "Flap chord over whole chord is {flap_ratio}; it must be above 0 and at most 1.",
            flap_ratio=flap_ratio,
        )
    # x = sin²(u) smooths the root at the trailing edge.
    finite(camber=camber)
    start = math.asin(math.sqrt(1.0 - flap_ratio))
    step = (0.5 * math.pi - start) / _PANELS
    total = 0.0
    for panel in range(_PANELS):
        u = start + (panel + 0.5) * step
        x = math.sin(u) ** 2
        total += 2.0 * (math.sin(u) * math.cos(u)) ** 2 * (x - 1.0 + flap_ratio)
    return 32.0 * camber / flap_ratio**2 * total * step


def bubble_allowance(reynolds: float) -> float:
    """What a laminar bubble near the hinge can add to the coefficient at no deflection.

    Between the steps of :data:`hangar.physics.surface.BUBBLE_STEPS` it falls with the square of the Reynolds
    number, so that the moment itself never falls with rising speed.

    Raises:
        BadInput: no finite number.

    >>> bubble_allowance(1.0e5), bubble_allowance(4.0e5), bubble_allowance(1.0e6)
    (0.08, 0.06, 0.03)
    """
    finite(reynolds=reynolds)
    if reynolds <= 0.0:
        return BUBBLE_STEPS[0][1]
    allowance = BUBBLE_STEPS[-1][1]
    for upper, amount in reversed(BUBBLE_STEPS[:-1]):
        allowance = max(allowance, amount * min(1.0, (upper / reynolds) ** 2))
    return allowance


@lru_cache(maxsize=1)
def _plate() -> tuple[float, ...]:
    """Moment of a free separated plate at each half degree."""
    return tuple(plate_moment(0.5 * step) for step in range(181))


def _plate_at(incidence_deg: float) -> float:
    table = _plate()
    place = min(2.0 * incidence_deg, 180.0)
    below = min(int(place), 179)
    return table[below] + (place - below) * (table[below + 1] - table[below])


def _held_ratio(flap_ratio: float) -> float:
    """The chord ratio that is worked with: the nearest one that a hinged surface can have."""
    finite(flap_ratio=flap_ratio)
    return min(MOST_RATIO, max(LEAST_RATIO, flap_ratio))


@lru_cache(maxsize=256)
def _slopes(profile: Profile) -> tuple[Slopes, Slopes]:
    """Slopes of section and panel; more sweep than the formulas hold for counts as their most."""
    section = section_slopes(_held_ratio(profile.flap_ratio))
    sweep, hinge = (
        min(MOST_SWEEP_DEG, max(-MOST_SWEEP_DEG, angle))
        for angle in (profile.sweep_deg, profile.hinge_sweep_deg)
    )
    return section, finite_span_slopes(section, profile.aspect_ratio, sweep_deg=sweep, hinge_sweep_deg=hinge)


@lru_cache(maxsize=2048)
def coefficients(profile: Profile, greatest_deg: float, *, trailing_edge_down: bool) -> Coefficients:
    """Table of a surface's coefficients on chord behind the hinge squared.

    Args:
        profile: the surface.
        greatest_deg: the greatest deflection asked [deg], above 0 up to 90.
        trailing_edge_down: whether camber loads it (it relieves the surface that goes up).

    Raises:
        BadInput: a deflection outside those bounds.

    Valid for: steady air; from a thin strip to a plate that turns whole about its nose. Nothing is measured
        above 20 degrees.
    Source: see the head of this module.

    >>> table = coefficients(Profile(0.30, 4.0), 45.0, trailing_edge_down=False)
    >>> round(table.at(10.0).expected, 3), round(table.at(45.0).expected, 3)
    (0.118, 0.5)
    """
    if not 0.0 < greatest_deg <= 90.0:
        raise BadInput("Deflection is {deflection:g}°; above 0 to 90 is allowed.", deflection=greatest_deg)
    section, panel = _slopes(profile)
    b1, b2, whole_b1, whole_b2 = (
        abs(value) for value in (section.b1_per_rad, section.b2_per_rad, panel.b1_per_rad, panel.b2_per_rad)
    )
    excess = max(1.0, b2 / _PLATE_SLOPE) - 1.0
    usual, adverse = profile.incidence_deg, profile.adverse_deg
    half_camber = 0.0
    if trailing_edge_down and profile.camber:
        half_camber = _CAMBER_EXPECTED * camber_coefficient(_held_ratio(profile.flap_ratio), profile.camber)

    def capped(linear: float, angle: float, share: float) -> float:
        fade = (_STALLED_AT_DEG - angle) / (_STALLED_AT_DEG - _STALLS_FROM_DEG)
        return min(linear, share * (1.0 + excess * min(1.0, max(0.0, fade))) * _plate_at(angle))

    angles = angles_to(greatest_deg)
    expected: list[float] = []
    spread: list[float] = []
    bubble: list[float] = []
    for angle in angles:
        turned = math.radians(angle)
        relief, least_relief = profile.balance.expected_at(angle), profile.balance.doubted_at(angle)
        base = capped(
            ATTACHED_SHARE * (whole_b1 * math.radians(usual) + whole_b2 * turned * relief),
            angle + usual, SEPARATED_SHARE,
        )  # fmt: skip
        steep = (
            capped(b1 * math.radians(usual) + b2 * turned * least_relief, angle + usual, SEPARATED_HIGH)
            - base
        )
        worse = capped(
            ATTACHED_SHARE * (whole_b1 * math.radians(adverse) + whole_b2 * turned * least_relief),
            angle + adverse, SEPARATED_SHARE,
        ) - base  # fmt: skip
        # Where a plate stalls the cap dips by a hair; the air never lets go of a surface that turns further.
        expected.append(max(base + half_camber, expected[-1] if expected else 0.0))
        spread.append(math.hypot(max(0.0, steep), max(0.0, worse), half_camber))
        bubble.append(max(0.0, 1.0 - angle / _BUBBLE_ENDS_DEG))
    return Coefficients(angles, tuple(expected), tuple(spread), tuple(bubble))


def compressed(mach: float) -> float:
    """Prandtl and Glauert's factor; above Mach 0.4 that of Mach 0.4 is the nearest there is.

    Raises:
        BadInput: no finite Mach number.

    >>> round(compressed(0.3), 3), compressed(0.5) == compressed(0.4)
    (1.048, True)
    """
    finite(mach=mach)
    return 1.0 / math.sqrt(1.0 - min(mach, MOST_MACH) ** 2)
