"""Pack resistance, capacity and volts: measured first, then rated with age, then typical."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import pytest

from hangar.base.figure import Basis
from hangar.parts import CapacityTest, FedPack, Pack
from hangar.parts.choices import Chemistry
from hangar.survey.defaults import class_defaults
from hangar.survey.packs import PackFigures, pack_figures
from tests.survey.fleets import LIION_2, NIMH_4, TODAY, pack


def figures(fed: FedPack) -> PackFigures:
    return pack_figures(fed, TODAY, class_defaults())


def test_a_measured_resistance_counts_before_the_makers() -> None:
    found = figures(pack(NIMH_4, "B1", cell_mohm=61.0))
    assert 45.0 < found.cell_mohm.expected <= 61.0
    assert found.cell_mohm.band.low < 61.0 < found.cell_mohm.band.design
    assert found.new_mohm.expected == 25.0
    assert found.cell_mohm.basis is Basis.MEASURED


def test_the_newest_of_several_measurements_counts() -> None:
    fed = pack(NIMH_4, "B1", cell_mohm=61.0)
    newer = CapacityTest(pack="B1", tested_on=date(2024, 5, 20), cell_mohm=70.0, capacity_mah=1700)
    older = CapacityTest(pack="B1", tested_on=date(2022, 5, 20), cell_mohm=30.0, capacity_mah=2000)
    found = figures(replace(fed, capacity_tests=(older, newer)))
    assert found.cell_mohm.expected > figures(replace(fed, capacity_tests=(older,))).cell_mohm.expected
    assert found.capacity_mah.expected == 1700.0


def test_a_cold_measurement_is_brought_to_25_degrees() -> None:
    fed = pack(LIION_2, "B1", cell_mohm=44.0)
    cold = replace(fed, pack=replace(fed.pack, cell_mohm_temp_c=0.0))
    # exp(2300 (1/273.15 - 1/298.15)): the fit to a simulated lithium cell gives 2.03.
    assert figures(cold).cell_mohm.expected == pytest.approx(44.0 / 2.03, rel=0.06)


def test_an_unmeasured_pack_grows_with_the_share_of_life_it_has_used() -> None:
    bought = Pack(tag="B1", pack_type="IO-30", bought_on=date(2021, 11, 30), cycles=30)
    found = figures(FedPack(pack=bought, pack_type=LIION_2))
    years = (TODAY - date(2021, 11, 30)).days / 365.25
    assert found.cell_mohm.expected == pytest.approx(22.0 * (1 + years / 5))
    assert found.cell_mohm.basis is Basis.TYPICAL


def test_cycles_count_where_they_have_used_more_life_than_years() -> None:
    bought = Pack(tag="B1", pack_type="IO-30", bought_on=TODAY, cycles=240)
    assert figures(FedPack(pack=bought, pack_type=LIION_2)).cell_mohm.expected == pytest.approx(22 * 1.8)


def test_a_pack_of_unknown_age_is_taken_at_the_end_of_its_life() -> None:
    found = figures(FedPack(pack=Pack(tag="B1", pack_type="IO-30"), pack_type=LIION_2))
    assert found.cell_mohm.expected == pytest.approx(44.0)
    assert found.cell_mohm.basis is Basis.TYPICAL


def test_a_type_without_resistance_takes_the_typical_one_of_its_chemistry() -> None:
    lipo = replace(LIION_2, chemistry=Chemistry.LIPO, capacity_mah=2000, cell_mohm=None)
    found = figures(FedPack(pack=Pack(tag="B1", pack_type="IO-30", bought_on=TODAY), pack_type=lipo))
    # 25 mohm for an ampere-hour, falling as one over capacity: common practice, no source.
    assert found.new_mohm.expected == pytest.approx(12.5)
    assert found.new_mohm.basis is Basis.TYPICAL


def test_an_unmeasured_capacity_is_the_label_less_a_fifth() -> None:
    found = figures(pack(NIMH_4, "B1"))
    assert found.capacity_mah.expected == pytest.approx(1600.0)
    assert found.capacity_mah.basis is Basis.TYPICAL


def test_resistance_of_a_pack_counts_cells_in_series_over_cells_side_by_side() -> None:
    doubled = replace(LIION_2, parallel=2)
    fed = FedPack(pack=Pack(tag="B1", pack_type="IO-30", cell_mohm=20.0), pack_type=doubled)
    assert figures(fed).ohm(25.0) == pytest.approx(figures(fed).cell_mohm.expected / 1000.0 * 2 / 2, rel=1e-9)
    warm = math.exp(2300.0 * (1 / 273.15 - 1 / 298.15))
    assert figures(fed).ohm(0.0) == pytest.approx(figures(fed).ohm(25.0) * warm)
    assert figures(fed).ohm(-40.0) == pytest.approx(figures(fed).ohm(-10.0))


def test_the_aged_case_is_no_better_than_twice_new_and_no_better_than_today() -> None:
    young, worn = figures(pack(LIION_2, "B1", 22.0)), figures(pack(LIION_2, "B2", 60.0))
    assert young.ohm(25.0, at_least_new_times=2.0) == pytest.approx(2 * 0.044)
    assert worn.ohm(25.0, at_least_new_times=2.0) == pytest.approx(2 * worn.cell_mohm.expected / 1000.0)
    assert worn.cell_mohm.expected > 2.0 * 22.0


def test_resting_volts_follow_charge_for_lithium_and_stay_for_nickel() -> None:
    lithium, nickel = figures(pack(LIION_2, "B1")), figures(pack(NIMH_4, "B2"))
    # Chen 2020 cell simulated at C/50: 3.746 V at half charge, 4.093 V at 90 %.
    assert lithium.resting_v(50.0) == pytest.approx(2 * 3.746, abs=2e-3)
    assert lithium.resting_v(90.0) == pytest.approx(2 * 4.093, abs=2e-3)
    assert nickel.resting_v(50.0) == nickel.resting_v(90.0) == pytest.approx(4 * 1.27)
