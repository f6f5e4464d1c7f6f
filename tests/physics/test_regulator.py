"""Regulators: energy, drop-out, limit, heat."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, NoAnswer
from hangar.physics.regulator import (
    allowed_heat_w,
    buck_input_v,
    junction_rise_k,
    least_input_v,
    linear,
    linear_current_for_heat_a,
    output_v,
    switching,
)


@given(st.floats(0.0, 10.0), st.floats(0.0, 1.0), st.floats(0.1, 20.0), st.floats(0.5, 1.0))
def test_what_goes_in_comes_out_or_turns_to_heat(
    amps: float, share: float, volts: float, efficiency: float
) -> None:
    for point in (
        linear(volts, share * volts, amps, 0.01),
        switching(volts, share * volts, amps, efficiency, 0.01),
    ):
        assert point.input_w == pytest.approx(point.output_w + point.heat_w)
        assert point.heat_w >= -1e-12
        assert point.efficiency <= 1.0 + 1e-12


def test_worked_heat_of_a_linear_and_a_switching_regulator() -> None:
    # 8.2 V to 6.0 V at 3 A, 15 mA quiescent; TO-220 65 K/W bare, 8 + 5 + 1 K/W on a sink (data sheet values).
    hot = linear(8.2, 6.0, 3.0, 0.015)
    assert hot.heat_w == pytest.approx(6.72, abs=0.005)
    assert hot.efficiency == pytest.approx(0.728, abs=5e-4)
    assert junction_rise_k(hot.heat_w, 65.0) == pytest.approx(437.0, abs=0.5)
    assert 30.0 + junction_rise_k(hot.heat_w, 8.0, 5.0, 1.0) == pytest.approx(124.0, abs=0.5)
    assert linear_current_for_heat_a(allowed_heat_w(65.0), 8.2, 6.0, 0.015) == pytest.approx(0.61, abs=0.005)
    cool = switching(8.2, 6.0, 3.0, 0.90)
    assert (cool.heat_w, cool.input_a) == pytest.approx((2.00, 2.44), abs=0.005)


@given(st.floats(2.0, 12.0), st.floats(0.0, 1.0), st.floats(0.0, 0.999))
def test_input_volts_of_a_buck_carry_its_power(source_v: float, ohm: float, share: float) -> None:
    power = share * source_v**2 / (4.0 * ohm) if ohm > 1e-3 else share
    volts = buck_input_v(source_v, ohm, power)
    assert volts >= source_v / 2.0
    assert (source_v - volts) * volts == pytest.approx(ohm * power, rel=1e-6, abs=1e-9)


def test_output_falls_with_the_input_below_drop_out() -> None:
    assert least_input_v(6.0, 0.4, 0.02, 5.0) == pytest.approx(6.5)
    assert output_v(6.5, 6.0, 5.0, drop_v=0.4, drop_ohm=0.02) == pytest.approx(6.0)
    assert output_v(6.0, 6.0, 5.0, drop_v=0.4, drop_ohm=0.02) == pytest.approx(5.5)
    assert output_v(0.3, 6.0, 5.0, drop_v=0.4) == 0.0


def test_above_the_limit_there_is_no_output_to_state() -> None:
    with pytest.raises(NoAnswer, match="limits at 5 A"):
        output_v(8.0, 6.0, 5.1, drop_v=0.4, limit_a=5.0)


def test_heat_allowance_ends_at_the_junction_limit() -> None:
    assert allowed_heat_w(10.0, air_c=130.0) == 0.0
    assert linear_current_for_heat_a(0.05, 8.2, 6.0, 0.015) == 0.0
    assert linear_current_for_heat_a(1.0, 6.0, 6.0) == math.inf


def test_impossible_regulators_are_refused() -> None:
    with pytest.raises(BadInput, match="at most the input volts"):
        linear(5.0, 6.0, 1.0)
    with pytest.raises(BadInput, match="input volts above 0"):
        linear(0.0, 0.0, 1.0)
    with pytest.raises(BadInput, match="efficiency"):
        switching(8.0, 6.0, 1.0, 1.1)
    with pytest.raises(BadInput, match="volts above 0"):
        buck_input_v(0.0, 0.1, 1.0)
    with pytest.raises(BadInput, match="more than 0"):
        allowed_heat_w(0.0)
