"""The tables' vectors against the physics they stand for."""

from __future__ import annotations

import random

import numpy as np
import pytest

from hangar.parts import Library
from hangar.physics.network import Network
from hangar.physics.network_elements import CurrentLoad
from hangar.refit.bay import bay_of
from hangar.refit.curves import Curves
from hangar.refit.limits import Limits
from hangar.refit.source_current import SourceCurrent
from hangar.refit.supplies import supplies_of
from hangar.rules import examples as ex
from hangar.rules.changing import with_path
from hangar.survey.paths import BUS, GROUND
from hangar.survey.servos import rating_of
from tests.all_cases import all_cases
from tests.refit.generator import DAY, pack_types, regulator_types, servo_types, switch_types

LIMITS = Limits(conditions=DAY)


def test_curves_read_what_each_rating_reads() -> None:
    kinds = servo_types(random.Random(5), 60)
    ratings = [rating_of(kind) for kind in kinds.values()]
    curves = Curves.of(ratings)
    every = np.arange(len(ratings))
    for volts in (0.5, 3.0, 4.5, 4.8, 5.1, 6.0, 6.7, 7.4, 8.4, 9.5):
        read = curves.at(every, np.full(len(ratings), volts))
        for at, rating in enumerate(ratings):
            assert rating is not None
            point = rating.at(volts)
            assert read.torque_nm[at] == pytest.approx(point.stall_torque_nm, rel=1e-12)
            assert read.speed_rad_s[at] == pytest.approx(point.no_load_rad_s, rel=1e-12)
            assert read.stall_a[at] == pytest.approx(point.stall_current_a.expected, rel=1e-12)
            assert read.supply_a[at] == pytest.approx(point.supply_current_a.expected, rel=1e-12)


def library(seed: int) -> Library:
    return Library(
        pack_types=pack_types(random.Random(seed), 3), regulator_types=regulator_types(2),
        switch_types=switch_types(1),
    )  # fmt: skip


@all_cases("make", [ex.trainer, ex.giant])
def test_a_supply_gives_the_current_at_which_its_network_has_those_volts(make: object) -> None:
    aircraft = make()  # type: ignore[operator]
    shelf = library(4)
    supplies, _ = supplies_of(aircraft, shelf, bay_of(shelf, {}), LIMITS)
    assert len(supplies) > 10
    compared = 0
    for supply in supplies:
        source = SourceCurrent.of(supply, DAY)
        elements = [each for model in supply.models for each in model.elements(50.0, DAY.pack_c)]
        for amps in (0.5, 3.0, 9.0, 15.0):
            solved = Network.of([*elements, CurrentLoad("all", BUS, GROUND, amps)]).solve()
            volts = solved.node_v[BUS]
            if volts > 3.0:
                assert source.given_a(volts) == pytest.approx(amps, rel=1e-4, abs=1e-3)
                compared += 1
    assert compared > 20


def test_a_supply_is_overrun_below_its_knee_and_not_above() -> None:
    aircraft = with_path(ex.trainer(), feed={"joint_limit_a": 2.0, "parallel_leads": 1})
    supplies, _ = supplies_of(aircraft, Library(), bay_of(Library(), {}), LIMITS)
    source = SourceCurrent.of(supplies[0], DAY)
    knee = source.knee_v(2.5)
    assert source.given_a(knee) == pytest.approx(2.0, rel=1e-6)
    assert source.within(knee + 1e-6)
    assert not source.within(knee - 1e-3)
