"""A propeller's slipstream by momentum theory."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.slipstream import disc_area_m2, slipstream_pressure_pa, standing_thrust_n, wash_pa


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
