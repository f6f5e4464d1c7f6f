"""Pushrod columns against an independent library's eigenvalues and handbook end constants."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.linalg import eigh

from hangar.physics.pushrod import RodMaterial, RoundRod, bent_rod, buckling_load_n, shaking_frequency_hz
from tests.all_cases import all_cases

ROUTES = [
    ("steel wire", 1.5, 0.0, 100.0, 49.1, 297),
    ("steel wire", 2.0, 0.0, 150.0, 68.9, 176),
    ("steel wire", 2.0, 0.0, 86.0, 209.6, 536),
    ("steel wire", 2.84, 0.0, 200.0, 157.6, 141),
    ("carbon", 3.0, 0.0, 400.0, 29.4, 65),
    ("carbon", 6.0, 4.0, 600.0, 168.0, 69),
    ("carbon", 8.0, 6.0, 900.0, 201.0, 43),
    ("aluminium", 6.0, 4.0, 300.0, 386.3, 159),
    ("spruce", 8.0, 0.0, 600.0, 55.1, 41),
]


def beam_matrices(rod: RoundRod, length_mm: float, parts: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Bending, load and mass matrices of a pinned beam of cubic elements (Przemieniecki, 1968)."""
    step = length_mm / parts / 1000.0
    bending = rod.material.youngs_gpa * 1e9 * rod.bending_mm4 * 1e-12
    line = rod.material.density_g_cm3 * 1e3 * rod.area_mm2 * 1e-6
    h = step
    stiff = bending / h**3 * np.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h**2, -6 * h, 2 * h**2],
         [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h**2, -6 * h, 4 * h**2]]
    )  # fmt: skip
    load = 1 / (30 * h) * np.array(
        [[36, 3 * h, -36, 3 * h], [3 * h, 4 * h**2, -3 * h, -(h**2)],
         [-36, -3 * h, 36, -3 * h], [3 * h, -(h**2), -3 * h, 4 * h**2]]
    )  # fmt: skip
    mass = line * h / 420 * np.array(
        [[156, 22 * h, 54, -13 * h], [22 * h, 4 * h**2, 13 * h, -3 * h**2],
         [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h**2, -22 * h, 4 * h**2]]
    )  # fmt: skip
    size = 2 * (parts + 1)
    whole = [np.zeros((size, size)) for _ in range(3)]
    for part in range(parts):
        place = slice(2 * part, 2 * part + 4)
        for matrix, element in zip(whole, (stiff, load, mass), strict=True):
            matrix[place, place] += element
    free = [index for index in range(size) if index not in (0, size - 2)]
    bent, loaded, moved = (matrix[np.ix_(free, free)] for matrix in whole)
    return bent, loaded, moved


@all_cases("material, outside, inside, length, load, hertz", ROUTES)
def test_buckling_and_shaking_agree_with_a_finite_element_beam(
    material: str, outside: float, inside: float, length: float, load: float, hertz: float
) -> None:
    rod = RoundRod.of(material, outside, inside)
    bent, loaded, moved = beam_matrices(rod, length, 12)
    buckling = float(eigh(bent, loaded, eigvals_only=True)[0])
    shaking = math.sqrt(float(eigh(bent, moved, eigvals_only=True)[0])) / (2 * math.pi)
    assert buckling_load_n(rod, length) == pytest.approx(buckling, rel=1e-4)
    assert shaking_frequency_hz(rod, length) == pytest.approx(shaking, rel=1e-4)
    assert buckling == pytest.approx(load, abs=0.06)
    assert shaking == pytest.approx(hertz, abs=0.6)


def test_end_constants_multiply_the_load_as_in_the_column_table() -> None:
    """Theoretical end constants 1, 2, 4 and 1/4: Budynas and Nisbett, table 4-2 (from memory, unverified)."""
    rod = RoundRod.of("steel wire", 2.0)
    pinned = buckling_load_n(rod, 300.0)
    for constant in (0.25, 2.0, 4.0):
        assert buckling_load_n(rod, 300.0, constant) == pytest.approx(constant * pinned)


def test_short_columns_meet_the_long_ones_at_half_the_yield_stress() -> None:
    """Johnson's parabola touches Euler's curve where the stress is half the yield stress."""
    rod = RoundRod(10.0, 0.0, RodMaterial(200.0, 7.85, 400.0, "test"))
    meeting = rod.gyration_mm * math.sqrt(2 * math.pi**2 * 200_000 / 400)
    for length in (meeting * 0.999999, meeting * 1.000001):
        assert buckling_load_n(rod, length) / rod.area_mm2 == pytest.approx(200.0, rel=1e-4)
    assert buckling_load_n(rod, 1e-3) / rod.area_mm2 == pytest.approx(400.0, rel=1e-6)


def test_bowing_of_an_off_line_push_agrees_with_the_deflection_curve() -> None:
    """The secant formula's middle bending moment, against the beam equation solved by scipy."""
    from scipy.integrate import solve_bvp

    rod, length, force, offset = RoundRod.of("steel wire", 2.0), 86.0, 66.7, 3.0
    bending = rod.material.youngs_gpa * 1e3 * rod.bending_mm4

    def curve(_: np.ndarray, state: np.ndarray) -> np.ndarray:
        return np.vstack((state[1], -force / bending * (state[0] + offset)))

    def pins(left: np.ndarray, right: np.ndarray) -> np.ndarray:
        return np.array([left[0], right[0]])

    along = np.linspace(0.0, length, 41)
    solved = solve_bvp(curve, pins, along, np.zeros((2, along.size)), tol=1e-8)
    middle = float(solved.sol(length / 2.0)[0]) + offset
    assert bent_rod(rod, length, force, offset).amplification == pytest.approx(middle / offset, rel=1e-5)
    assert bent_rod(rod, length, force, offset).stress_mpa == pytest.approx(424.0, abs=1.0)
