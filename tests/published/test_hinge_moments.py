"""Hinge moments against charts, an independent integration, a vortex lattice and XFOIL."""

from __future__ import annotations

import csv
import math
from pathlib import Path
from typing import NamedTuple

import pytest
from scipy.integrate import quad

from hangar.base.figure import Band
from hangar.physics.hinge_band import LOW_SHARE, Profile, bubble_allowance, coefficients
from hangar.physics.hinge_large import plate_moment, plate_normal_force, plate_pressure_centre
from hangar.physics.induced_camber import lifting_surface_slopes
from hangar.physics.surface import finite_span_slopes, hinge_coefficient, section_slopes
from tests.all_cases import all_cases

DATA = Path(__file__).parent / "data" / "xfoil_hinge.csv"


class Point(NamedTuple):
    section: str
    flap_ratio: float
    deflection_deg: float
    alpha_deg: float
    reynolds: float
    coefficient: float


def _points() -> list[Point]:
    with DATA.open(newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["converged"] == "1"]
    return [
        Point(
            row["airfoil"],
            float(row["E"]),
            float(row["delta_deg"]),
            float(row["alpha_deg"]),
            float(row["Re"]),
            float(row["ch_flapchord"]),
        )
        for row in rows
    ]


# XFOIL 6.99, sealed flap hinged on the mean line, Ncrit 9, 240 panels.
POINTS = _points()
VISCOUS = [point for point in POINTS if point.reynolds > 0.0]
INVISCID = {point[:4]: point.coefficient for point in POINTS if point.reynolds == 0.0}


def _band(point: Point) -> Band:
    """The band of a surface of endless span that knows its incidence."""
    profile = Profile(point.flap_ratio, None, 0.0, abs(point.alpha_deg), abs(point.alpha_deg))
    table = coefficients(profile, max(2.0, point.deflection_deg), trailing_edge_down=False)
    return table.at(point.deflection_deg, bubble_allowance(point.reynolds))


def test_at_most_one_viscous_xfoil_point_in_200_lies_above_the_most() -> None:
    over = [abs(point.coefficient) - _band(point).design for point in VISCOUS]
    above = [value for value in over if value > 0.0]
    assert len(above) <= len(VISCOUS) / 200
    assert max(above, default=0.0) < 0.006


def test_expected_leans_to_the_heavy_side_of_xfoil_at_large_deflection() -> None:
    large = [point for point in VISCOUS if point.deflection_deg >= 10.0 and point.alpha_deg == 0.0]
    shares = sorted(abs(point.coefficient) / _band(point).expected for point in large)
    assert 0.75 <= shares[len(shares) // 2] <= 1.0
    assert shares[0] > LOW_SHARE


def test_no_viscous_xfoil_point_lies_above_the_design_value() -> None:
    assert len(VISCOUS) == 856
    for point in VISCOUS:
        band = hinge_coefficient(
            point.flap_ratio, point.deflection_deg, point.alpha_deg, reynolds=point.reynolds
        )
        assert abs(point.coefficient) <= band.design, point


def test_xfoil_points_at_large_deflection_lie_inside_the_band() -> None:
    large = [point for point in VISCOUS if point.deflection_deg >= 10.0 and point.alpha_deg == 0.0]
    assert len(large) == 84
    for point in large:
        band = hinge_coefficient(point.flap_ratio, point.deflection_deg, 0.0, reynolds=point.reynolds)
        assert band.low <= abs(point.coefficient) <= band.design, point


def test_inviscid_xfoil_slopes_with_deflection_are_the_thin_ones_within_a_tenth() -> None:
    small = {key: value for key, value in INVISCID.items() if 0.0 < key[2] <= 5.0 and key[3] == 0.0}
    assert len(small) == 22
    for (_, ratio, deflection, _), coefficient in small.items():
        slope = coefficient / math.radians(deflection)
        assert slope == pytest.approx(section_slopes(ratio).b2_per_rad, rel=0.10)


def test_inviscid_xfoil_slopes_with_incidence_are_the_thin_ones_less_what_thickness_takes() -> None:
    # Section thickness takes up to 13 % (12 % section, short flap); the mean stays within a tenth.
    ratios = []
    for section, ratio, deflection, alpha in INVISCID:
        if deflection == 0.0 and alpha == 4.0:
            rise = INVISCID[section, ratio, 0.0, 4.0] - INVISCID[section, ratio, 0.0, -4.0]
            ratios.append(rise / math.radians(8.0) / section_slopes(ratio).b1_per_rad)
    assert len(ratios) >= 10
    assert all(0.86 <= ratio <= 1.0 for ratio in ratios)
    assert sum(ratios) / len(ratios) == pytest.approx(1.0, abs=0.10)


# USAF Stability and Control DATCOM, figures 6.1.3.1-11a and 6.1.3.2-12a at zero thickness, per radian,
# read in a public re-keyed form of the charts.
@all_cases("ratio, b1", [(0.10, -0.345), (0.175, -0.465), (0.25, -0.565), (0.40, -0.745)])
def test_slope_with_incidence_is_the_datcom_chart(ratio: float, b1: float) -> None:
    assert section_slopes(ratio).b1_per_rad == pytest.approx(b1, abs=0.005)


@all_cases("ratio, b2", [(0.10, -0.883), (0.15, -0.901), (0.20, -0.920), (0.25, -0.944), (0.40, -1.01)])
def test_slope_with_deflection_is_the_datcom_chart(ratio: float, b2: float) -> None:
    assert section_slopes(ratio).b2_per_rad == pytest.approx(b2, abs=0.005)


def _flap_integral(ratio: float, load_at: str) -> float:
    """Moment about the hinge of a thin section's load for one radian, by quadrature over the flap.

    Loads of thin-aerofoil theory at x = (1 - cos t)/2, hinge at th: incidence 4 (1 + cos t)/sin t; flap
    (4/pi) (f (1 + cos t)/sin t + ln|sin((t + th)/2)/sin((t - th)/2)|), f = pi - th.
    """
    flap = math.acos(1.0 - 2.0 * ratio)
    hinge = math.pi - flap

    def load(t: float) -> float:
        incidence = (1.0 + math.cos(t)) / math.sin(t)
        if load_at == "incidence":
            return 4.0 * incidence
        peak = math.log(abs(math.sin(0.5 * (t + hinge)) / math.sin(0.5 * (t - hinge))))
        return 4.0 / math.pi * (flap * incidence + peak)

    def moment(t: float) -> float:
        arm = 0.5 * (math.cos(hinge) - math.cos(t))
        return load(t) * arm * 0.5 * math.sin(t)

    value = quad(moment, hinge, math.pi, epsabs=1e-13, epsrel=1e-12, limit=200)[0]
    return -float(value) / ratio**2


@all_cases("ratio", [0.05, 0.10, 0.17, 0.25, 0.37, 0.50, 0.60, 0.85])
def test_slopes_are_the_integral_of_the_pressure_on_the_flap(ratio: float) -> None:
    slopes = section_slopes(ratio)
    assert slopes.b1_per_rad == pytest.approx(_flap_integral(ratio, "incidence"), abs=1e-9)
    assert slopes.b2_per_rad == pytest.approx(_flap_integral(ratio, "flap"), abs=1e-9)


def _discrete_vortices(ratio: float, count: int) -> tuple[float, float]:
    """Both slopes from bound vortices on a flat section: no Glauert series in it."""
    import numpy as np

    hinge = 1.0 - ratio
    fore = max(1, round(count * hinge))
    edges = np.concatenate(
        [np.linspace(0.0, hinge, fore + 1)[:-1], np.linspace(hinge, 1.0, count - fore + 1)]
    )
    width = np.diff(edges)
    vortex, control = edges[:-1] + 0.25 * width, edges[:-1] + 0.75 * width
    downwash = 1.0 / (2.0 * math.pi * (control[:, None] - vortex[None, :]))
    results = []
    for wash in (np.ones_like(control), (control > hinge).astype(float)):
        strength = np.linalg.solve(downwash, wash)
        moment = 2.0 * np.sum(strength * np.clip(vortex - hinge, 0.0, None))
        results.append(-float(moment) / ratio**2)
    return results[0], results[1]


@all_cases("ratio", [0.15, 0.30, 0.55])
def test_slopes_are_those_of_discrete_vortices(ratio: float) -> None:
    coarse, fine = _discrete_vortices(ratio, 300), _discrete_vortices(ratio, 600)
    # The error halves when the count doubles, so one step of extrapolation takes it out.
    b1, b2 = (2.0 * better - worse for better, worse in zip(fine, coarse, strict=True))
    assert section_slopes(ratio).b1_per_rad == pytest.approx(b1, rel=1e-4)
    assert section_slopes(ratio).b2_per_rad == pytest.approx(b2, rel=1e-4)


# Our own vortex lattice, linear, rectangular full-span panels, symmetric; ratio to the section's slope.
LATTICE = [
    (2.0, 0.30, 0.282, 0.639),
    (3.0, 0.30, 0.413, 0.722),
    (6.0, 0.30, 0.622, 0.836),
    (10.0, 0.30, 0.741, 0.896),
    (3.0, 0.50, 0.421, 0.598),
    (2.0, 0.50, 0.292, 0.493),
]


@all_cases("aspect, ratio, b1, b2", LATTICE)
def test_the_lifting_line_never_relieves_more_than_a_vortex_lattice(
    aspect: float, ratio: float, b1: float, b2: float
) -> None:
    section, panel = section_slopes(ratio), finite_span_slopes(section_slopes(ratio), aspect)
    assert panel.b1_per_rad / section.b1_per_rad > b1
    assert b2 < panel.b2_per_rad / section.b2_per_rad < b2 + 0.23


@all_cases("aspect, ratio, b1, b2", LATTICE)
def test_the_lifting_surface_charts_agree_with_the_vortex_lattice(
    aspect: float, ratio: float, b1: float, b2: float
) -> None:
    section, panel = section_slopes(ratio), lifting_surface_slopes(ratio, aspect)
    assert panel.b1_per_rad / section.b1_per_rad == pytest.approx(b1, abs=0.06)
    assert panel.b2_per_rad / section.b2_per_rad == pytest.approx(b2, abs=0.035)


# Hoerner, Fluid-Dynamic Drag, flat plate: normal force 1.98 square to the stream (second-hand).
# Rayleigh's centre of pressure: at the middle square to the stream, 0.3125 c from the nose at none.
def test_a_separated_plate_has_hoerners_force_and_rayleighs_centre() -> None:
    assert plate_normal_force(90.0) == pytest.approx(1.98, abs=5e-3)
    assert plate_pressure_centre(90.0) == pytest.approx(0.5)
    assert plate_pressure_centre(0.0) == pytest.approx(0.3125)


# Worked by hand from 1/(0.222 + 0.283/sin) and 1/2 - (3/4) cos/(4 + pi sin).
@all_cases(
    "incidence, force, centre, moment",
    [
        (5, 0.288, 0.325, 0.0937),
        (15, 0.760, 0.349, 0.2657),
        (30, 1.269, 0.383, 0.4866),
        (60, 1.822, 0.444, 0.8094),
    ],
)
def test_a_separated_plate_by_hand(incidence: float, force: float, centre: float, moment: float) -> None:
    assert plate_normal_force(incidence) == pytest.approx(force, abs=6e-4)
    assert plate_pressure_centre(incidence) == pytest.approx(centre, abs=6e-4)
    assert plate_moment(incidence) == pytest.approx(moment, abs=6e-5)


def test_kirchhoffs_plate_lies_under_hoerners_force() -> None:
    # Rayleigh 1876: normal force of free-streamline flow is 2 pi sin/(4 + pi sin); measured plates feel
    # more because of suction behind them, so the fit must lie above it.
    for incidence in range(5, 91, 5):
        sine = math.sin(math.radians(incidence))
        assert plate_normal_force(incidence) > 2.0 * math.pi * sine / (4.0 + math.pi * sine)
