"""Leads: scaling laws, readings of gauges, and refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.wire import (
    BUILD_TOLERANCE,
    Lead,
    area_mm2,
    current_limit,
    gauge_number,
    loop_ohm,
    nearest_gauge,
    resistance_of_area_ohm_per_m,
    resistance_ohm_per_m,
    warmed_length_ratio,
)
from tests.all_cases import all_cases


@all_cases(
    "text, number",
    [
        ("4/0", -3),
        ("0000", -3),
        ("3/0", -2),
        ("00", -1),
        ("1/0", 0),
        ("0", 0),
        ("AWG 22", 22),
        ("26 awg", 26),
        (" 30 ", 30),
    ],
)
def test_gauges_are_read_as_they_are_written(text: str, number: int) -> None:
    assert gauge_number(text) == number


@all_cases("wrong", ["thin", "", "5/0", "22.5", 51, -4, True, None, 22.5, float("nan")])
def test_a_gauge_that_does_not_exist_is_refused(wrong: object) -> None:
    with pytest.raises(BadInput, match="wire gauge"):
        gauge_number(wrong)  # type: ignore[arg-type]


@given(st.integers(-3, 49))
def test_each_thinner_gauge_has_an_eighth_root_of_area_more_resistance(gauge: int) -> None:
    ratio = resistance_ohm_per_m(gauge + 1) / resistance_ohm_per_m(gauge)
    assert ratio == pytest.approx(92 ** (2 / 39), rel=1e-12)


@given(st.integers(-3, 50))
def test_a_gauge_is_the_nearest_one_to_its_own_area(gauge: int) -> None:
    assert nearest_gauge(area_mm2(gauge)) == gauge


@all_cases("area, gauge", [(0.14, 26), (0.34, 22), (0.50, 20)])
def test_metric_sizes_meet_their_gauges(area: float, gauge: int) -> None:
    # Common practice, no source.
    assert nearest_gauge(area) == gauge


@given(st.floats(-60.0, 199.0), st.floats(0.1, 1.0))
def test_warmer_copper_resists_more(temperature_c: float, rise_k: float) -> None:
    assert resistance_ohm_per_m(22, temperature_c + rise_k) > resistance_ohm_per_m(22, temperature_c)


def test_two_equal_leads_side_by_side_halve_the_loop() -> None:
    value = loop_ohm(0.3, 22, joints=1)
    assert loop_ohm(0.3, 22, joints=1, parallel=2) == pytest.approx(value / 2)


def test_a_lead_without_length_is_its_contacts() -> None:
    assert loop_ohm(0.0, 22, joints=3, contact_ohm=0.01) == pytest.approx(0.06)


def test_a_measured_lead_overrides_its_gauge() -> None:
    lead = Lead(1.0, 26, joints=2, measured_loop_ohm=0.5)
    assert lead.leg_ohm() == 0.25
    assert lead.leg_ohm_band() == (0.25, 0.25)


def test_an_unmeasured_lead_has_a_band_on_its_copper_only() -> None:
    lead = Lead(1.0, 22, joints=2, contact_ohm=0.01)
    low, high = lead.leg_ohm_band()
    copper = resistance_ohm_per_m(22, 25.0, stranded=True)
    assert lead.leg_ohm() == pytest.approx(copper + 0.02)
    assert (high - low) == pytest.approx(2 * BUILD_TOLERANCE * copper)


def test_thicker_wire_carries_more_and_gauges_between_rows_take_the_thinner() -> None:
    limits = [current_limit(gauge).single_a for gauge in range(30, 11, -1)]
    assert limits == sorted(limits)
    assert current_limit(23).single_a == current_limit(24).single_a
    assert current_limit(28).bundled_a is None


def test_what_is_not_covered_is_refused() -> None:
    with pytest.raises(OutOfValidity, match="30 AWG and heavier"):
        current_limit(32)
    with pytest.raises(OutOfValidity, match="-60 to 200 C"):
        resistance_ohm_per_m(22, 300.0)
    with pytest.raises(OutOfValidity):
        warmed_length_ratio(-240.0)
    with pytest.raises(BadInput, match="more than 0"):
        resistance_of_area_ohm_per_m(0.0)
    with pytest.raises(BadInput, match="more than 0"):
        nearest_gauge(0.0)
    with pytest.raises(BadInput, match="0 or more of each"):
        loop_ohm(-1.0, 22)
    with pytest.raises(BadInput, match="1 or more"):
        loop_ohm(1.0, 22, parallel=0)
