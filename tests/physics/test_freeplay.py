"""Free play and the caution speed of a surface."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from hangar.base.errors import BadInput
from hangar.physics import freeplay
from hangar.physics.freeplay import SurfaceKind
from tests.all_cases import all_cases


@all_cases(
    "gear, ratio, ends, horn, total",
    [
        (0.5, 15 / 20, [0.05, 0.05], 20.0, 0.66),
        (1.0, 15 / 20, [0.1, 0.1], 20.0, 1.32),
        (0.3, 12 / 22, [0.05], 22.0, 0.29),
        (1.5, 32 / 24, [0.15, 0.15], -24.0, 2.71),
    ],
)
def test_slop_along_the_linkage_adds_up_at_the_surface(
    gear: float, ratio: float, ends: list[float], horn: float, total: float
) -> None:
    assert freeplay.surface_free_play_deg(gear, ratio, ends, horn) == pytest.approx(total, abs=0.01)


def test_limits_are_tighter_for_what_flutters_sooner() -> None:
    assert freeplay.free_play_level(SurfaceKind.ALL_MOVING, 0.65) == "warning"
    assert freeplay.free_play_level(SurfaceKind.OUTER_AILERON, 0.65) == "caution"
    assert freeplay.free_play_level(SurfaceKind.TAIL, 0.65) == "ok"
    assert freeplay.free_play_level(SurfaceKind.TAIL, 0.65, severer_by=1) == "caution"
    assert freeplay.free_play_level(SurfaceKind.TAIL, 0.65, severer_by=5) == "warning"
    limits = list(freeplay.FREE_PLAY_LIMITS_DEG.values())
    assert limits == sorted(limits)


@given(st.floats(min_value=0.05, max_value=3.0))
def test_the_stiffness_left_is_the_first_harmonic_of_a_spring_with_a_dead_zone(amplitude: float) -> None:
    """Describing function by its definition: the sine part of the force over one swing."""
    half = 0.5

    def force(phase: float) -> float:
        angle = amplitude * math.sin(phase)
        return math.copysign(max(0.0, abs(angle) - half), angle) * math.sin(phase)

    corner = math.asin(min(1.0, half / amplitude))
    harmonic = 4.0 * quad(force, corner, math.pi / 2.0)[0] / (math.pi * amplitude)
    assert freeplay.stiffness_share(1.0, amplitude) == pytest.approx(harmonic, abs=1e-7)


@all_cases("inside, share", [(0.25, 0.685), (0.5, 0.391), (0.75, 0.144)])
def test_stiffness_shares_are_those_of_the_textbook_curve(inside: float, share: float) -> None:
    assert freeplay.stiffness_share(2.0 * inside, 1.0) == pytest.approx(share, abs=5e-4)


def test_springs_one_after_the_other_are_softer_than_the_softest() -> None:
    servo_only = freeplay.hinge_stiffness_nm_per_rad(10.0, 0.75)
    with_horn = freeplay.hinge_stiffness_nm_per_rad(10.0, 0.75, horn_nm_per_rad=200.0)
    with_rod = freeplay.hinge_stiffness_nm_per_rad(10.0, 0.75, 3000.0, 20.0, 200.0)
    assert servo_only == pytest.approx(10.0 / 0.75**2)
    assert with_rod < with_horn < servo_only
    assert with_horn == pytest.approx(1.0 / (1.0 / servo_only + 1.0 / 200.0))
    assert freeplay.hinge_stiffness_nm_per_rad(0.0, 0.75) == 0.0


def test_a_sailplane_aileron_worked_through() -> None:
    inertia = freeplay.surface_inertia_kg_m2(60.0, 60.0)
    frequency = freeplay.rotational_frequency_hz(16.0, inertia)
    assert frequency == pytest.approx(75.0, abs=0.1)
    assert freeplay.caution_speed_m_s(frequency, 0.22, free_play_deg=0.0) == pytest.approx(58, abs=0.5)
    assert freeplay.caution_speed_m_s(frequency, 0.22, free_play_deg=2.0) == pytest.approx(36, abs=0.5)


def test_the_outcome_is_caution_or_a_plain_word_of_no_caution_and_never_a_promise() -> None:
    slow = freeplay.screen_speed(20.0, 0.22, 16.0, 7.2e-5, 0.5)
    fast = freeplay.screen_speed(50.0, 0.22, 16.0, 7.2e-5, 2.0)
    assert slow.outcome == "no caution"
    assert str(slow.message).startswith("No caution raised by this simple check")
    assert fast.outcome == "caution"
    assert str(fast.message).startswith(
        "Caution: estimated caution speed 36 m/s is below the speed you entered"
    )
    for screen in (slow, fast):
        assert screen.low_m_s is not None
        assert screen.high_m_s is not None
        assert screen.caution_m_s is not None
        assert screen.low_m_s < screen.caution_m_s < screen.high_m_s
        assert "flutter free" not in str(screen.message).lower()
        assert "safe" not in str(screen.message).lower()


@all_cases(
    "stiffness, inertia, play, known",
    [
        (None, 7e-5, 0.5, True),
        (0.0, 7e-5, 0.5, True),
        (16.0, None, 0.5, True),
        (16.0, 7e-5, None, True),
        (16.0, 7e-5, 0.5, False),
    ],
)
def test_what_is_not_known_is_not_assessed(
    stiffness: float | None, inertia: float | None, play: float | None, known: bool
) -> None:
    screen = freeplay.screen_speed(30.0, 0.22, stiffness, inertia, play, servo_known_or_digital=known)
    assert screen.outcome == "not assessed"
    assert screen.caution_m_s is None


def test_a_balance_mass_balances_and_its_mounting_loads_follow_the_regulation() -> None:
    balance = freeplay.mass_balance(60 * 22, 30)
    assert balance.mass_g * 30 == pytest.approx(60 * 22)
    assert balance.normal_n == pytest.approx(10.4, abs=0.05)
    assert balance.along_hinge_n == balance.fore_aft_n == pytest.approx(5.2, abs=0.05)
    assert balance.added_inertia_kg_m2 == pytest.approx(0.044 * 0.03**2)


def test_free_play_at_the_edge_is_an_angle_at_the_hinge() -> None:
    assert freeplay.free_play_of_edge_deg(2.5, 163.0) == pytest.approx(0.88, abs=0.005)
    with pytest.raises(BadInput):
        freeplay.free_play_of_edge_deg(-1.0, 60.0)
    with pytest.raises(BadInput):
        freeplay.surface_free_play_deg(0.5, 0.75, [0.1], 0.0)
    with pytest.raises(BadInput):
        freeplay.hinge_stiffness_nm_per_rad(10.0, 0.75, 0.0, 20.0)
