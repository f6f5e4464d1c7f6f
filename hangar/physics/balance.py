"""Weight and balance: where the centre of gravity lies, and what moves it.

Positions are counted along one line from any datum, aft positive; the same sums serve a helicopter
hung at its head and positions across the aircraft. Any one unit of mass and of length may be used.

Source: Federal Aviation Administration, "Aircraft Weight and Balance Handbook", FAA-H-8083-1, and "Pilot's
Handbook of Aeronautical Knowledge", FAA-H-8083-25, chapter on weight and balance.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from hangar.base.errors import BadInput
from hangar.physics.checks import above_zero, finite


class MassAt(NamedTuple):
    """A mass at a position; a negative mass is one taken away."""

    mass_g: float
    at_mm: float


def total_mass_g(items: Iterable[tuple[float, float]]) -> float:
    """Sum of the masses of (mass, position) pairs.

    >>> total_mass_g([(120.0, 10.0), (80.0, -25.0)])
    200.0
    """
    return math.fsum(mass for mass, _ in items)


def moment_g_mm(items: Iterable[tuple[float, float]]) -> float:
    """Sum of mass times position.

    >>> moment_g_mm([(120.0, 10.0), (80.0, -25.0)])
    -800.0
    """
    return math.fsum(mass * at for mass, at in items)


def centre_of_gravity_mm(items: Iterable[tuple[float, float]]) -> float:
    """Centre of gravity of several masses.

    Args:
        items: pairs of mass and position; parts taken away have a negative mass. Scale readings at the
            wheels or supports serve as well.

    Raises:
        BadInput: a value that is not finite, or a sum of masses that is not above 0.

    >>> round(centre_of_gravity_mm([(2100, 78.3), (340, 85), (350, 121), (450, 75), (80, 150)]), 1)
    84.8
    """
    pairs = tuple(items)
    if not all(math.isfinite(value) for pair in pairs for value in pair):
        raise BadInput("a mass or position is not a finite number; every part needs both.")
    mass = total_mass_g(pairs)
    if not mass > 0.0:
        raise BadInput("the masses add up to {mass:g}; a sum above 0 is wanted.", mass=mass)
    return moment_g_mm(pairs) / mass


def shift_mm(moved_mass_g: float, moved_by_mm: float, total_mass_g: float) -> float:
    """How far the centre of gravity moves when a mass on board moves.

    Raises:
        BadInput: a total mass not above 0, or a value that is not finite.

    >>> shift_mm(100, 120, 8000)
    1.5
    """
    finite(moved_mass_g=moved_mass_g, moved_by_mm=moved_by_mm)
    return moved_mass_g * moved_by_mm / above_zero(total_mass_g, "total mass")


def shift_of_change_mm(change_g: float, at_mm: float, total_mass_g: float, centre_mm: float) -> float:
    """How far the centre of gravity moves when a mass is added, or taken away where it is negative.

    Raises:
        BadInput: a mass not above 0 before or after the change, or a value that is not finite.

    >>> round(shift_of_change_mm(140, 150, 6860, 80), 2)
    1.4
    """
    finite(change_g=change_g, at_mm=at_mm, centre_mm=centre_mm)
    after = above_zero(above_zero(total_mass_g, "total mass") + change_g, "mass after the change")
    return change_g * (at_mm - centre_mm) / after


def mass_to_move_g(wanted_shift_mm: float, moved_by_mm: float, total_mass_g: float) -> float:
    """Mass to move by a given distance for a wanted shift of the centre of gravity.

    Raises:
        BadInput: no distance, or the distance points away from the wanted shift.

    >>> mass_to_move_g(-1.0, -120, 7800)
    65.0
    """
    finite(wanted_shift_mm=wanted_shift_mm, moved_by_mm=moved_by_mm)
    if moved_by_mm == 0.0 or wanted_shift_mm * moved_by_mm < 0.0:
        raise BadInput(
            "moving a mass by {moved_by:g} mm cannot shift the centre of gravity by {wanted_shift:g} "
            "mm; move it toward the wanted side.",
            moved_by=moved_by_mm,
            wanted_shift=wanted_shift_mm,
        )
    return above_zero(total_mass_g, "total mass") * wanted_shift_mm / moved_by_mm


def ballast_g(centre_mm: float, wanted_mm: float, ballast_at_mm: float, total_mass_g: float) -> float:
    """Ballast at a position that brings the centre of gravity where it is wanted.

    Args:
        centre_mm: present centre of gravity.
        wanted_mm: wanted centre of gravity.
        ballast_at_mm: where the ballast goes; beyond the wanted position, seen from the present one.
        total_mass_g: mass without the ballast, above 0.

    Raises:
        BadInput: the ballast would sit at, or on the wrong side of, the wanted position.

    >>> round(ballast_g(0.41, 0.0, -260, 5358), 1)
    8.4
    """
    finite(centre_mm=centre_mm, wanted_mm=wanted_mm, ballast_at_mm=ballast_at_mm)
    mass = above_zero(total_mass_g, "total mass")
    if wanted_mm == centre_mm:
        return 0.0
    arm = ballast_at_mm - wanted_mm
    if arm * (wanted_mm - centre_mm) <= 0.0:
        raise BadInput(
            "ballast at {ballast_at:g} mm cannot bring the centre of gravity from {centre:g} to "
            "{wanted:g} mm; it must sit beyond {wanted:g} mm on that side.",
            ballast_at=ballast_at_mm,
            centre=centre_mm,
            wanted=wanted_mm,
        )
    return mass * (wanted_mm - centre_mm) / arm


def chord_percent(centre_mm: float, leading_edge_mm: float, mean_chord_mm: float) -> float:
    """Centre of gravity as per cent of the mean chord, from its leading edge.

    Raises:
        BadInput: a chord not above 0, or a position that is not finite.

    >>> chord_percent(84.0, 60.0, 96.0)
    25.0
    """
    finite(centre_mm=centre_mm, leading_edge_mm=leading_edge_mm)
    return 100.0 * (centre_mm - leading_edge_mm) / above_zero(mean_chord_mm, "mean chord")


def at_chord_percent_mm(percent: float, leading_edge_mm: float, mean_chord_mm: float) -> float:
    """Position of a per cent of the mean chord.

    Raises:
        BadInput: a chord not above 0, or a value that is not finite.

    >>> at_chord_percent_mm(25.0, 60.0, 96.0)
    84.0
    """
    finite(percent=percent, leading_edge_mm=leading_edge_mm)
    return leading_edge_mm + percent / 100.0 * above_zero(mean_chord_mm, "mean chord")
