"""Packs: order of their volts, two separate verdicts, trends, and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, NoAnswer, OutOfValidity
from hangar.physics.pack import (
    Chemistry,
    cell,
    full_v,
    nominal_v,
    pack_resistance_ohm,
    parallel_bus,
    rested_full_v,
    typical_cell_ohm,
    watt_hours,
)
from hangar.physics.pack_charge import resting_cell_v, state_of_charge
from hangar.physics.pack_health import (
    HealthRecord,
    Light,
    charge_verdict,
    checker_current_a,
    health_verdict,
    least_loaded_v,
    loaded_lines_v,
    trend,
    trend_light,
)
from hangar.physics.pack_resistance import (
    at_25_c_ohm,
    at_temperature_ohm,
    resistance_from_two_loads,
    temperature_factor,
)
from tests.all_cases import all_cases

LITHIUM = [c for c in Chemistry if not c.is_nickel]
NICKEL = [c for c in Chemistry if c.is_nickel]


@all_cases("chemistry", list(Chemistry))
def test_volts_of_a_cell_stand_in_order(chemistry: Chemistry) -> None:
    volts = cell(chemistry)
    assert volts.charge_limit_v >= volts.full_v >= volts.rested_full_v > volts.half_v
    assert volts.half_v > volts.land_now_v > volts.never_below_v
    assert volts.ready_emf_v > volts.recharge_emf_v > volts.never_below_v
    if volts.storage_low_v is not None and volts.storage_high_v is not None:
        assert volts.never_below_v < volts.storage_low_v <= volts.storage_high_v < volts.full_v


@all_cases(
    "chemistry, cells, fresh, rested",
    [
        (Chemistry.NIMH, 4, 5.80, 5.52),
        (Chemistry.NIMH, 5, 7.25, 6.90),
        (Chemistry.LIPO, 2, 8.40, 8.36),
        (Chemistry.LIFEPO4, 2, 7.20, 6.74),
        (Chemistry.LIHV, 2, 8.70, 8.64),
    ],
)
def test_highest_volts_of_common_packs(chemistry: Chemistry, cells: int, fresh: float, rested: float) -> None:
    # Battery table of a general charger manual; nickel off the charger common practice, no source.
    assert full_v(chemistry, cells) == pytest.approx(fresh)
    assert rested_full_v(chemistry, cells) == pytest.approx(rested)


def test_cells_in_series_and_parallel() -> None:
    assert nominal_v(Chemistry.LI_ION, 3) == pytest.approx(10.8)
    assert pack_resistance_ohm(0.05, 2, 2) == pytest.approx(0.05)
    assert watt_hours(Chemistry.LIFEPO4, 2, 2.1) == pytest.approx(13.86)
    with pytest.raises(BadInput, match="1 or more"):
        nominal_v(Chemistry.LIPO, 0)
    with pytest.raises(BadInput, match="0 or more"):
        pack_resistance_ohm(-0.1, 2)
    with pytest.raises(BadInput, match="0 or more"):
        watt_hours(Chemistry.LIPO, 2, -1.0)


def test_typical_resistance_needs_what_it_depends_on() -> None:
    assert typical_cell_ohm(Chemistry.LIPO, capacity_ah=3.0).expected == pytest.approx(0.0083, abs=1e-4)
    assert typical_cell_ohm(Chemistry.LIFEPO4, capacity_ah=2.3).expected == pytest.approx(0.012, abs=3e-4)
    assert typical_cell_ohm(Chemistry.LI_ION, capacity_ah=3.0).expected == pytest.approx(0.050)
    unknown = typical_cell_ohm(Chemistry.NIMH)
    assert unknown.low < typical_cell_ohm(Chemistry.NIMH, size="AA").expected < unknown.design
    with pytest.raises(BadInput, match="the capacity of one cell"):
        typical_cell_ohm(Chemistry.LIPO)
    with pytest.raises(BadInput, match="allowed are sub-C"):
        typical_cell_ohm(Chemistry.NICD, size="D")


@given(
    st.lists(st.tuples(st.floats(6.0, 8.4), st.floats(0.01, 0.3)), min_size=1, max_size=4),
    st.floats(0.0, 5.0),
)
def test_parallel_packs_share_the_whole_load(packs: list[tuple[float, float]], load_a: float) -> None:
    bus = parallel_bus(packs, load_a)
    assert math.fsum(bus.pack_a) == pytest.approx(load_a, abs=1e-9)
    assert bus.bus_v <= max(emf for emf, _ in packs) + 1e-12


def test_equal_packs_share_equally_and_overload_collapses() -> None:
    assert parallel_bus([(8.1, 0.05), (8.1, 0.05)], 4.0).pack_a == pytest.approx((2.0, 2.0))
    with pytest.raises(NoAnswer, match="the supply collapses"):
        parallel_bus([(8.1, 0.5)], 40.0)
    with pytest.raises(BadInput, match="at least one pack"):
        parallel_bus([], 1.0)


@all_cases("chemistry", NICKEL)
def test_nickel_refuses_to_tell_charge_from_rest(chemistry: Chemistry) -> None:
    with pytest.raises(NoAnswer, match="test it under load"):
        state_of_charge(chemistry, 1.3)
    with pytest.raises(NoAnswer, match="do not follow its charge"):
        resting_cell_v(chemistry, 0.5)


@given(st.sampled_from(LITHIUM), st.floats(2.0, 4.2), st.floats(2.0, 4.2))
def test_more_resting_volts_never_read_as_less_charge(chemistry: Chemistry, one: float, other: float) -> None:
    top = cell(chemistry).charge_limit_v
    low, high = (state_of_charge(chemistry, min(volts, top)) for volts in sorted((one, other)))
    assert low.low <= high.low + 1e-12
    assert low.high <= high.high + 1e-12
    assert 0.0 <= low.low <= low.high <= 1.0


@given(st.sampled_from([Chemistry.LIPO, Chemistry.LIHV, Chemistry.LI_ION]), st.floats(0.05, 1.0))
def test_volts_and_charge_are_inverse(chemistry: Chemistry, charge: float) -> None:
    expected = state_of_charge(chemistry, resting_cell_v(chemistry, charge)).expected
    assert expected == pytest.approx(charge, abs=1e-9)


def test_the_flat_plateau_of_iron_phosphate_gives_edges_only() -> None:
    remarks = [str(state_of_charge(Chemistry.LIFEPO4, volts).remark) for volts in (3.36, 3.29, 3.22, 3.10)]
    assert remarks == ["nearly full", "somewhere between 30 and 90 %", "below half", "below about a quarter"]


def test_an_empty_cell_reads_empty() -> None:
    assert str(state_of_charge(Chemistry.LIPO, 3.3).remark) == "empty"


@all_cases("rested_h, temperature_c", [(0.2, 20.0), (2.0, 5.0), (2.0, 40.0)])
def test_unrested_or_cold_cells_are_not_read(rested_h: float, temperature_c: float) -> None:
    with pytest.raises(OutOfValidity, match="at least 1 h and 10 to 35 °C"):
        state_of_charge(Chemistry.LIPO, 3.8, rested_h=rested_h, temperature_c=temperature_c)


def test_volts_no_cell_has_are_refused() -> None:
    with pytest.raises(BadInput, match="is allowed"):
        state_of_charge(Chemistry.LIPO, 4.4)
    with pytest.raises(OutOfValidity, match="to 1 is covered"):
        resting_cell_v(Chemistry.LIPO, 0.01)


@all_cases("volts, light", [(6.50, Light.GREEN), (6.49, Light.AMBER), (6.10, Light.AMBER), (6.09, Light.RED)])
def test_charge_is_judged_by_volts_under_load(volts: float, light: Light) -> None:
    verdict = charge_verdict(Chemistry.NIMH, 5, volts, 1.0, 0.030)
    assert verdict.light is light
    assert verdict.inner_cell_v == pytest.approx(volts / 5 + 0.030)


def test_a_cold_pack_is_allowed_more_sag() -> None:
    warm, _ = loaded_lines_v(Chemistry.LIPO, 2, 3.0, 0.012)
    cold, _ = loaded_lines_v(Chemistry.LIPO, 2, 3.0, 0.012, temperature_c=0.0)
    assert cold == pytest.approx(2 * (4.10 - 3.0 * 0.012 * temperature_factor(Chemistry.LIPO, 0.0)))
    assert cold < warm


def test_a_resistive_checker_draws_volts_over_ohms() -> None:
    assert checker_current_a(6.4, 6.4) == pytest.approx(1.0)
    with pytest.raises(BadInput):
        checker_current_a(6.4, 0.0)


def test_field_minimum_is_counted_by_the_cell() -> None:
    assert least_loaded_v(Chemistry.LIPO, 2, 3.0, 0.012) == pytest.approx(7.60)
    with pytest.raises(BadInput):
        least_loaded_v(Chemistry.LIPO, 0, 3.0, 0.012)


def test_a_light_load_asks_for_the_volts_below_which_a_cell_is_charged() -> None:
    # Without a load nothing sags: 1.22 V of a nickel-cadmium cell are above its 1.20 V under load.
    assert least_loaded_v(Chemistry.NICD, 4, 0.0, 0.010) == pytest.approx(4 * 1.22)
    assert least_loaded_v(Chemistry.NICD, 4, 3.0, 0.030) == pytest.approx(4 * 1.20)


def test_charged_and_healthy_are_two_questions() -> None:
    worn = HealthRecord(resistance_ohm=0.070, baseline_ohm=0.030)
    assert charge_verdict(Chemistry.NIMH, 5, 6.6, 0.5, 0.030).light is Light.GREEN
    assert health_verdict(Chemistry.NIMH, worn).is_to_retire
    sound = HealthRecord(resistance_ohm=0.031, baseline_ohm=0.030, capacity_ah=1.95, rated_ah=2.0)
    assert charge_verdict(Chemistry.NIMH, 5, 5.5, 0.5, 0.030).light is Light.RED
    assert health_verdict(Chemistry.NIMH, sound).light is Light.GREEN


@all_cases(
    "record, chemistry, light",
    [
        (HealthRecord(), Chemistry.LIPO, Light.UNKNOWN),
        (HealthRecord(resistance_ohm=0.015, baseline_ohm=0.010), Chemistry.LIPO, Light.GREEN),
        (HealthRecord(resistance_ohm=0.0151, baseline_ohm=0.010), Chemistry.LIPO, Light.AMBER),
        (HealthRecord(resistance_ohm=0.0201, baseline_ohm=0.010), Chemistry.LIPO, Light.RED),
        (HealthRecord(capacity_ah=0.84, rated_ah=1.0), Chemistry.LIPO, Light.AMBER),
        (HealthRecord(capacity_ah=0.79, rated_ah=1.0), Chemistry.LIPO, Light.RED),
        (HealthRecord(overnight_loss=0.12), Chemistry.NICD, Light.AMBER),
        (HealthRecord(loaded_spread_v=0.08), Chemistry.LIPO, Light.AMBER),
        (HealthRecord(loaded_spread_v=0.08), Chemistry.NIMH, Light.GREEN),
        (HealthRecord(resting_spread_v=0.12), Chemistry.LIPO, Light.RED),
        (HealthRecord(age_years=4.0), Chemistry.LIPO, Light.AMBER),
        (HealthRecord(age_years=4.0), Chemistry.NIMH, Light.UNKNOWN),
        (HealthRecord(age_years=1.0, is_damaged=False), Chemistry.LIPO, Light.UNKNOWN),
        (HealthRecord(age_years=1.0, loaded_spread_v=0.01), Chemistry.LIPO, Light.GREEN),
        (HealthRecord(is_damaged=True), Chemistry.LIFEPO4, Light.RED),
        (HealthRecord(is_damaged=False), Chemistry.LIFEPO4, Light.UNKNOWN),
    ],
)
def test_each_sign_of_health_has_its_own_limits(
    record: HealthRecord, chemistry: Chemistry, light: Light
) -> None:
    assert health_verdict(chemistry, record).light is light


def test_health_without_a_baseline_to_compare_is_refused() -> None:
    with pytest.raises(BadInput, match=r"resistance of 0\.01 against 0"):
        health_verdict(Chemistry.LIPO, HealthRecord(resistance_ohm=0.01, baseline_ohm=0.0))


@given(st.sampled_from(list(Chemistry)), st.floats(-10.0, 45.0))
def test_bringing_a_resistance_to_another_temperature_and_back_changes_nothing(
    chemistry: Chemistry, t: float
) -> None:
    assert at_25_c_ohm(at_temperature_ohm(0.02, chemistry, t), chemistry, t) == pytest.approx(0.02)


def test_resistance_outside_its_temperatures_is_refused() -> None:
    with pytest.raises(OutOfValidity, match="-10 to 45 C"):
        temperature_factor(Chemistry.LIPO, -20.0)


def test_resistance_from_rest_is_flagged_as_an_upper_bound() -> None:
    measured = resistance_from_two_loads((6.9, 0.0), (6.4, 0.8), cells=5, lead_ohm=0.02)
    assert measured.is_upper_bound
    assert len(measured.remarks) == 2
    assert measured.pack_ohm == pytest.approx(0.605)


@all_cases("light, heavy", [((6.6, 2.0), (6.4, 2.0)), ((6.6, 2.0), (6.7, 3.0)), ((6.6, -1.0), (6.4, 2.0))])
def test_loads_that_tell_no_resistance_are_refused(
    light: tuple[float, float], heavy: tuple[float, float]
) -> None:
    with pytest.raises(BadInput):
        resistance_from_two_loads(light, heavy, cells=5)


@given(st.floats(-2.0, 2.0), st.floats(0.0, 100.0), st.integers(4, 12))
def test_a_straight_line_of_tests_is_found_again(slope: float, level: float, count: int) -> None:
    line = trend([(k, level + slope * k) for k in range(count)])
    assert line.slope == pytest.approx(slope, abs=1e-9)
    assert line.at(20.0) == pytest.approx(level + 20.0 * slope, abs=1e-7)
    assert line.scatter == pytest.approx(0.0, abs=1e-6)


def test_a_trend_tells_when_it_crosses_and_when_it_never_will() -> None:
    falling = trend([(1, 0.95), (2, 0.93), (3, 0.91), (4, 0.89)])
    assert falling.crossing(0.80) == pytest.approx(8.5)
    assert falling.crossing(0.99) is None
    assert trend([(1, 5.0), (2, 5.0), (3, 5.0), (4, 5.0)]).crossing(4.0) is None
    assert trend_light(falling, 0.80, rising_is_worse=False) is Light.AMBER
    assert trend_light(falling, 0.80, rising_is_worse=False, ahead=2.0) is Light.GREEN
    assert trend_light(falling, 0.90, rising_is_worse=False) is Light.RED


def test_a_trend_needs_four_different_tests() -> None:
    with pytest.raises(BadInput, match="4 or more"):
        trend([(1, 1.0), (2, 2.0), (3, 3.0)])
    with pytest.raises(BadInput, match="different dates"):
        trend([(1, 1.0)] * 4)
