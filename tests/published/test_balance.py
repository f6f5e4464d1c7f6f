"""Weight and balance against worked examples of the FAA handbooks.

Federal Aviation Administration: "Pilot's Handbook of Aeronautical Knowledge", FAA-H-8083-25, weight and
balance chapter, and the mechanic's test questions on alterations; pounds and inches as printed.
"""

from __future__ import annotations

import pytest

from hangar.physics.balance import (
    ballast_g,
    centre_of_gravity_mm,
    chord_percent,
    mass_to_move_g,
    moment_g_mm,
    shift_mm,
    shift_of_change_mm,
    total_mass_g,
)
from tests.all_cases import all_cases


def test_moving_a_hundred_pounds_aft_shifts_the_centre_to_station_78_5() -> None:
    before = centre_of_gravity_mm([(8000, 616_000 / 8000)])
    moved = [(8000, before), (-100, 30), (100, 150)]
    assert before == pytest.approx(77.0)
    assert moment_g_mm(moved) == pytest.approx(628_000)
    assert centre_of_gravity_mm(moved) == pytest.approx(78.5)
    assert before + shift_mm(100, 120, 8000) == pytest.approx(78.5)


def test_sixty_five_pounds_must_move_forward_to_meet_the_aft_limit() -> None:
    assert mass_to_move_g(80.5 - 81.5, 30 - 150, 7800) == pytest.approx(65.0)


def test_a_loading_table_gives_its_printed_centre() -> None:
    """Totals as printed; the single arms are from memory, unverified, and add up to them."""
    items = [(2100, 78.3), (340, 85.0), (350, 121.0), (450, 75.0), (80, 150.0)]
    assert total_mass_g(items) == 3320
    assert moment_g_mm(items) == pytest.approx(281_430)
    assert centre_of_gravity_mm(items) == pytest.approx(84.8, abs=0.05)


def test_an_alteration_with_parts_removed_moves_the_centre_as_the_mechanics_test_says() -> None:
    empty = (2886, 101_673.78 / 2886)
    changed = [empty, (-30, 71), (97, 71), (20, 71), (30, 94)]
    assert total_mass_g(changed) == 3003
    assert moment_g_mm(changed) == pytest.approx(110_670.78)
    assert centre_of_gravity_mm(changed) - empty[1] == pytest.approx(1.62, abs=0.005)


def test_added_baggage_moves_the_centre_aft_by_1_4() -> None:
    """Numbers from memory, unverified; the arithmetic is exact."""
    assert 80 + shift_of_change_mm(140, 150, 6860, 80) == pytest.approx(81.4)


def test_removed_baggage_moves_the_centre_forward_to_78_8() -> None:
    """Numbers from memory, unverified; the arithmetic is exact (1.17, printed 1.2)."""
    assert 80 + shift_of_change_mm(-100, 150, 6100, 80) == pytest.approx(78.8, abs=0.05)


@all_cases("moved, distance, total, shift", [(100, -50, 2450, -2.04), (180, 32, 2700, 2.13)])
def test_single_shifts_agree_with_flight_school_problems(
    moved: float, distance: float, total: float, shift: float
) -> None:
    assert shift_mm(moved, distance, total) == pytest.approx(shift, abs=0.005)


def test_the_mass_to_move_agrees_with_a_flight_school_problem() -> None:
    assert mass_to_move_g(-1.5, 142 - 167, 3200) == pytest.approx(192.0)


def test_ballast_by_the_maintenance_handbooks_formula_restores_the_centre() -> None:
    """FAA-H-8083-1, weight and balance control after alteration: weight x shift / ballast arm."""
    ballast = ballast_g(33.2, 32.5, 15.0, 1876)
    assert ballast == pytest.approx(1876 * 0.7 / 17.5)
    assert centre_of_gravity_mm([(1876, 33.2), (ballast, 15.0)]) == pytest.approx(32.5)


def test_the_chord_per_cent_is_the_share_behind_its_leading_edge() -> None:
    """FAA-H-8083-1: per cent of mean chord = (centre - leading edge) / chord x 100."""
    assert chord_percent(170.0, 144.0, 104.0) == pytest.approx(25.0)
