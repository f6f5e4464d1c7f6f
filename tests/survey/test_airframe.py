"""Loadings, balance and ballast by the law of the lever."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangar.parts import Aircraft
from hangar.survey import AirframeSurvey, survey
from hangar.survey.airframe import balance_after
from hangar.survey.old_and_new import with_type
from tests.survey.fleets import CONDITIONS, MK_G30, biplane, helicopter, trainer


def airframe(aircraft: Aircraft) -> AirframeSurvey:
    return survey(aircraft, CONDITIONS).airframe


def test_wing_loading_is_mass_over_area() -> None:
    figure = airframe(trainer()).wing_loading_g_dm2
    assert figure is not None
    assert figure.expected == pytest.approx(2600 / 40)


def test_a_helicopter_is_loaded_on_its_disc() -> None:
    airframe_survey = airframe(helicopter())
    assert airframe_survey.wing_loading_g_dm2 is None
    assert airframe_survey.disc_loading_g_dm2 is not None
    assert airframe_survey.disc_loading_g_dm2.expected == pytest.approx(5200 / (math.pi * 7.9**2))


def test_no_ballast_is_wanted_between_the_limits() -> None:
    figure = airframe(trainer()).ballast_g
    assert figure is not None
    assert figure.expected == 0.0


def test_ballast_brings_a_heavy_tail_to_the_aft_limit() -> None:
    surveyed = airframe(biplane())
    assert surveyed.ballast_g is not None
    ballast = surveyed.ballast_g.expected
    # Moments about the datum, where the ballast goes: 15 200 g at 140 mm must come to rest at 130 mm.
    assert (15200 * 140 + ballast * 0) / (15200 + ballast) == pytest.approx(130.0)


def test_ballast_brings_a_heavy_nose_to_the_fore_limit() -> None:
    aircraft = trainer()
    fits = tuple(replace(fit, position=replace(fit.position, balance_arm_mm=900.0)) for fit in aircraft.fits)
    heavy = replace(aircraft, fits=fits, airframe=replace(aircraft.airframe, cg_measured_mm=55.0))
    figure = airframe(heavy).ballast_g
    assert figure is not None
    assert (2600 * 55 + figure.expected * 900) / (2600 + figure.expected) == pytest.approx(62.0)


def test_ballast_that_could_only_go_where_it_does_not_help_is_not_given() -> None:
    aircraft = trainer()
    heavy = replace(aircraft, airframe=replace(aircraft.airframe, cg_measured_mm=55.0))
    assert airframe(heavy).ballast_g is None


def test_missing_balance_is_named() -> None:
    aircraft = trainer()
    bare = replace(aircraft, airframe=replace(aircraft.airframe, cg_measured_mm=None, all_up_mass_g=None))
    airframe_survey = airframe(bare)
    assert airframe_survey.balance_mm is None
    assert airframe_survey.ballast_g is None
    assert {"aircraft TR: balance measured", "aircraft TR: all-up mass"} <= set(
        map(str, airframe_survey.missing)
    )


def test_balance_after_an_exchange_is_the_moment_of_what_changed() -> None:
    aircraft = trainer()
    throttle = aircraft.fit("THR")
    assert throttle is not None
    balance, missing = balance_after(aircraft, with_type(aircraft, throttle, MK_G30))
    assert missing == ()
    assert balance is not None
    # 33 g more at 100 mm ahead of the datum.
    assert balance.expected == pytest.approx((2600 * 71 - 33 * 100) / 2633)


def test_balance_after_an_exchange_at_an_unknown_place_is_not_predicted() -> None:
    aircraft = trainer()
    aileron = aircraft.fit("AIL")
    assert aileron is not None
    balance, missing = balance_after(aircraft, with_type(aircraft, aileron, MK_G30))
    assert balance is None
    assert tuple(map(str, missing)) == ("position AIL: distance behind the balance datum",)
