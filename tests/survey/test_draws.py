"""What servos draw and what an incomplete supply leaves unsaid."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangar.parts import PowerPath
from hangar.parts.choices import FeedRole
from hangar.survey import Scenario, ScenarioSurvey, survey
from tests.survey.fleets import (
    CONDITIONS,
    MK_G30,
    NIMH_4,
    OF_D620,
    TS_31,
    biplane,
    helicopter,
    on_regulator,
    pack,
    servo_type,
    trainer,
)


def bus_v(case: ScenarioSurvey) -> float:
    assert case.bus_v is not None
    return case.bus_v.expected


def test_a_servo_without_stall_current_is_sized_on_the_careful_power_balance() -> None:
    # Torque x speed / (0.60 x volts): 1.9613 N m, 0.10 s for 60 degrees, 7.4 V, a digital servo.
    silent = servo_type("ZZ", (7.4, 1.9613, 0.10, None))
    aircraft = on_regulator(set_v=7.4)
    fits = tuple(replace(fit, servo_type=silent) for fit in aircraft.fits)
    supply = survey(replace(aircraft, fits=fits), CONDITIONS).supply
    assert supply.peak_a is not None
    by_hand = 1.9613 * (math.pi / 3 / 0.10) / (0.60 * 7.4)
    assert supply.peak_a.expected == pytest.approx(0.3 * 4 * by_hand)


def test_an_unrated_servo_leaves_no_peak_that_could_look_good() -> None:
    aircraft = trainer()
    fits = (replace(aircraft.fits[0], servo_type=replace(TS_31, ratings=())), *aircraft.fits[1:])
    surveyed = survey(replace(aircraft, fits=fits), CONDITIONS)
    assert surveyed.supply.peak_a is None
    assert Scenario.PEAK not in surveyed.scenarios
    assert "servo type TS-31: ratings" in surveyed.supply.missing


def test_a_regulator_without_its_setting_leaves_the_bus_unknown() -> None:
    surveyed = survey(on_regulator(set_v=None), CONDITIONS)
    assert surveyed.scenarios == {}
    assert surveyed.supply.bus_full_v is None
    assert "regulator R: output set" in surveyed.supply.missing
    assert "regulator R: output set" in surveyed.positions["AIL"].missing


def test_a_bigger_servo_set_draws_more_and_lowers_the_bus() -> None:
    aircraft = trainer()
    strong = replace(aircraft, fits=tuple(replace(fit, servo_type=OF_D620) for fit in aircraft.fits))
    before, after = survey(aircraft, CONDITIONS), survey(strong, CONDITIONS)
    assert bus_v(after.scenarios[Scenario.PEAK]) < bus_v(before.scenarios[Scenario.PEAK])


def test_a_digital_servos_average_depends_on_class_and_function() -> None:
    surveyed = survey(biplane(), CONDITIONS)
    assert surveyed.positions["AIL-L"].average_a is not None
    assert surveyed.positions["AIL-L"].average_a.expected == 0.4
    heli = survey(helicopter(), CONDITIONS)
    assert [position.average_a.expected for position in heli.positions.values() if position.average_a] == [
        0.5, 0.5, 0.5, 0.4,
    ]  # fmt: skip
    assert MK_G30.drive == "digital"


def test_a_path_that_feeds_no_radio_is_left_out() -> None:
    aircraft = trainer()
    ignition = PowerPath(
        feed=replace(aircraft.paths[0].feed, code="IGN", role=FeedRole.IGNITION), packs=(pack(NIMH_4, "B5"),)
    )
    surveyed = survey(replace(aircraft, paths=(*aircraft.paths, ignition)), CONDITIONS)
    assert set(surveyed.supply.path_full_v) == {"RX"}
