"""Bus volts through a flight."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hangar.base.errors import NoAnswer
from hangar.survey import Conditions, Scenario, survey
from hangar.survey.profile import flight_volts
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, biplane, helicopter, trainer


@all_cases("make", [trainer, helicopter, biplane])
def test_the_flight_stays_between_peak_and_rest(make) -> None:  # type: ignore[no-untyped-def]
    surveyed = survey(make(), CONDITIONS)
    flown = flight_volts(surveyed)
    assert flown.time_s[-1] == pytest.approx(600.0)
    peak = surveyed.scenarios[Scenario.PEAK].bus_v
    top = surveyed.supply.bus_full_v
    assert peak is not None
    assert top is not None
    assert peak.expected - 1e-6 <= flown.lowest_v.expected <= float(flown.bus_v.max()) <= top.expected


def test_current_is_that_of_the_load_cases() -> None:
    surveyed = survey(biplane(), CONDITIONS)
    flown = flight_volts(surveyed)
    totals = {round(case.total_a.expected, 9) for case in surveyed.scenarios.values() if case.total_a}
    assert {round(float(value), 9) for value in np.unique(flown.current_a)} <= totals


def test_direct_packs_sink_as_they_empty_by_charge_over_their_fall() -> None:
    surveyed = survey(biplane(), CONDITIONS)
    flown = flight_volts(surveyed)
    calm = np.flatnonzero(flown.current_a == flown.current_a.min())
    late = calm[-1]
    early = calm[np.searchsorted(calm, late - 3000)]
    # Two packs of 2.9 Ah fall from 8.30 V rested to 7.493 V at half charge (Chen 2020 cell).
    used_as = float(flown.current_a[early + 1 : late + 1].sum()) * 0.1
    by_hand = used_as * (8.30 - 2 * 3.7464) / (0.5 * 5.8 * 3600)
    assert flown.bus_v[early] - flown.bus_v[late] == pytest.approx(by_hand, rel=0.2)


def test_a_regulated_bus_does_not_sink() -> None:
    flown = flight_volts(survey(helicopter(), CONDITIONS))
    calm = flown.bus_v[flown.current_a == flown.current_a.min()]
    assert calm.max() - calm.min() < 1e-9


def test_a_short_flight_in_fine_steps_agrees_with_a_coarse_one() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    coarse, fine = flight_volts(surveyed, minutes=1.0), flight_volts(surveyed, minutes=1.0, step_s=0.001)
    assert coarse.lowest_v.expected == pytest.approx(fine.lowest_v.expected, abs=2e-3)


def test_the_keepers_flight_counts() -> None:
    calm = Conditions(today=CONDITIONS.today, defaults={"peak_time.any": 0.0, "brisk_time.any": 0.0})
    flown = flight_volts(survey(trainer(), calm))
    assert len(np.unique(flown.current_a)) == 1


def test_a_flight_on_an_unknown_supply_is_refused_with_what_is_missing() -> None:
    with pytest.raises(NoAnswer, match="power path"):
        flight_volts(survey(replace(trainer(), paths=()), CONDITIONS))
