"""A propeller's slipstream by momentum theory."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.slipstream import (
    disc_area_m2,
    flying_share,
    pitch_speed_m_s,
    slipstream_pressure_pa,
    standing_thrust_n,
    wash_pa,
)


def test_a_hovering_giant_washes_its_rudder_as_if_at_25_m_s() -> None:
    # By hand: 150 N on a 28 in (0.711 m) disc of 0.397 m2 is 378 Pa; sqrt(2 x 378/1.225) = 24.8 m/s.
    assert wash_pa(150.0, 0.711) == pytest.approx(377.8, abs=0.1)
    assert math.sqrt(2.0 * wash_pa(150.0, 0.711) / 1.225) == pytest.approx(24.84, abs=0.01)


@given(st.floats(0.0, 40.0), st.floats(0.1, 300.0), st.floats(0.2, 1.0))
def test_the_slipstream_is_froudes(speed: float, thrust: float, diameter: float) -> None:
    # Froude: thrust = density x area x (V + w) x 2w; far behind the air moves at V + 2w.
    density, area = 1.225, disc_area_m2(diameter)
    induced = 0.5 * (-speed + math.sqrt(speed**2 + 2.0 * thrust / (density * area)))
    behind = 0.5 * density * (speed + 2.0 * induced) ** 2
    assert slipstream_pressure_pa(speed, density, thrust, diameter) == pytest.approx(behind, rel=1e-9)


@given(st.floats(1.0, 5000.0), st.floats(0.15, 1.0), st.floats(0.3, 1.0))
def test_standing_thrust_needs_just_its_ideal_power(power: float, diameter: float, efficiency: float) -> None:
    # Hovering disc: ideal power = thrust x sqrt(thrust/(2 density area)).
    thrust = standing_thrust_n(power, diameter, 1.225, efficiency=efficiency)
    ideal = thrust * math.sqrt(thrust / (2.0 * 1.225 * disc_area_m2(diameter)))
    assert ideal == pytest.approx(efficiency * power, rel=1e-9)


def test_only_the_washed_share_counts() -> None:
    assert wash_pa(150.0, 0.711, 0.5) == pytest.approx(0.5 * wash_pa(150.0, 0.711))


def blade_element_thrust(pitch_ratio: float, advance_ratio: float) -> float:
    """Thrust coefficient of a two-bladed propeller of constant pitch, by blade elements and momentum.

    H. Glauert, Airplane Propellers (1935): lift slope 2 pi, sections that lift nothing at -2 degrees, a
    chord of a tenth of the diameter, no tip loss; diameter and turns a second are 1.
    """
    stations, thrust = 60, 0.0
    for number in range(stations):
        radius = 0.5 * (0.2 + 0.8 * (number + 0.5) / stations)
        width = 0.5 * 0.8 / stations
        around = 2.0 * math.pi * radius
        blade = math.atan(pitch_ratio / around) + math.radians(2.0)

        def pulls(through: float, around: float = around, blade: float = blade) -> float:
            lift = 2.0 * math.pi * (blade - math.atan2(through, around))
            return 0.5 * (around**2 + through**2) * 2 * 0.1 * lift * math.cos(math.atan2(through, around))

        low, high = -2.0, 4.0  # induced speed at which blades and momentum agree
        for _ in range(50):
            middle = 0.5 * (low + high)
            moved = 4.0 * math.pi * radius * (advance_ratio + middle) * middle
            blades = pulls(advance_ratio + middle)
            low, high = (middle, high) if blades > moved else (low, middle)
        thrust += pulls(advance_ratio + 0.5 * (low + high)) * width
    return thrust


@pytest.mark.parametrize("pitch_ratio", [0.4, 0.5, 0.7])
def test_thrust_falls_with_speed_as_blade_elements_say(pitch_ratio: float) -> None:
    static = blade_element_thrust(pitch_ratio, 0.0)
    for share in (0.2, 0.4, 0.6, 0.8, 1.0):
        by_elements = blade_element_thrust(pitch_ratio, share * pitch_ratio) / static
        assert flying_share(share * pitch_ratio, pitch_ratio) == pytest.approx(by_elements, abs=0.15)


def test_the_pitch_speed_is_pitch_times_turns() -> None:
    # By hand: 110 N on 0.584 m of 0.09 x 1.225 kg/m3: sqrt(110/(0.09 x 1.225))/0.584^2 = 92.6 turns/s.
    assert pitch_speed_m_s(110.0, 0.584, 0.203, 1.225) == pytest.approx(92.6 * 0.203, rel=1e-3)
    assert flying_share(5.0, 0.0) == 0.0
    with pytest.raises(BadInput, match="pitch"):
        pitch_speed_m_s(110.0, 0.584, 0.0, 1.225)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="diameter"):
        wash_pa(10.0, 0.0)
    with pytest.raises(BadInput, match="Thrust"):
        wash_pa(-10.0, 0.5)
    with pytest.raises(BadInput, match="share"):
        wash_pa(10.0, 0.5, 1.5)
    with pytest.raises(BadInput, match="power"):
        standing_thrust_n(-1.0, 0.5, 1.225, efficiency=0.5)
    with pytest.raises(BadInput, match="efficiency"):
        standing_thrust_n(100.0, 0.5, 1.225, efficiency=0.0)
