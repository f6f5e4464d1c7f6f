"""The dive speed of an aircraft whose keeper never measured one."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangar.parts import Airframe
from hangar.parts.choices import AircraftClass
from hangar.survey.defaults import class_defaults
from hangar.survey.dive_speed import dive_speed_m_s
from tests.all_cases import all_cases

DEFAULTS = class_defaults()
SPORT = Airframe(
    code="X", name="X", aircraft_class=AircraftClass.SPORT, all_up_mass_g=2640.0, wing_area_dm2=44.0
)


def test_its_own_goes_before_all() -> None:
    assert dive_speed_m_s(replace(SPORT, dive_speed_m_s=41.0), DEFAULTS) == 41.0


def test_at_the_usual_loading_it_is_that_of_the_class() -> None:
    assert dive_speed_m_s(SPORT, DEFAULTS) == pytest.approx(DEFAULTS.dive_speed.value("sport"))


def test_it_goes_with_the_root_of_the_wing_loading() -> None:
    # Lift equation at one lift coefficient: V = sqrt(2 m g / (rho S CL)).
    light = replace(SPORT, all_up_mass_g=1320.0)
    assert dive_speed_m_s(light, DEFAULTS) == pytest.approx(dive_speed_m_s(SPORT, DEFAULTS) / math.sqrt(2.0))


def test_it_stays_that_of_the_class_where_the_loading_is_not_known() -> None:
    usual = DEFAULTS.dive_speed.value("sport")
    assert dive_speed_m_s(replace(SPORT, wing_area_dm2=None), DEFAULTS) == usual
    by_span = replace(SPORT, wing_area_dm2=None, span_mm=1600.0, mean_chord_mm=275.0)
    assert dive_speed_m_s(by_span, DEFAULTS) == pytest.approx(usual)


def test_a_keepers_own_value_of_a_class_is_that_at_its_usual_loading() -> None:
    own = DEFAULTS.changed({"dive_speed.sport": 33.0})
    assert dive_speed_m_s(SPORT, own) == pytest.approx(33.0)
    quarter = replace(SPORT, all_up_mass_g=660.0)
    assert dive_speed_m_s(quarter, own) == pytest.approx(16.5)


@all_cases(
    "kind, mass_g, area_dm2, slowest, fastest",
    [
        # Common practice, no source: what such aircraft reach.
        ("aerobatic-3d", 150.0, 24.0, 6.0, 11.0),
        ("electric-small", 60.0, 14.0, 5.0, 9.0),
        ("electric-small", 700.0, 19.0, 17.0, 25.0),
        ("sport", 2600.0, 44.0, 26.0, 34.0),
        ("sail-fast", 3200.0, 58.0, 55.0, 75.0),
        ("jet-turbine", 9000.0, 70.0, 70.0, 95.0),
        ("giant", 17000.0, 200.0, 30.0, 40.0),
    ],
)
def test_it_lies_where_such_aircraft_fly(
    kind: str, mass_g: float, area_dm2: float, slowest: float, fastest: float
) -> None:
    frame = Airframe(
        code="X", name="X", aircraft_class=AircraftClass(kind), all_up_mass_g=mass_g, wing_area_dm2=area_dm2
    )
    assert slowest < dive_speed_m_s(frame, DEFAULTS) < fastest
