"""How far the air pushes a surface back, against the balance of moments at the place it is said to rest."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangar.physics.air import Airflow
from hangar.physics.hinge_moment import hinge_moment_nm
from hangar.survey import PositionSurvey, survey
from hangar.survey.as_json import survey_json
from tests.survey.fleets import CONDITIONS, biplane, helicopter, trainer


def _positions() -> list[PositionSurvey]:
    found = [
        *survey(trainer(), CONDITIONS).positions.values(),
        *survey(biplane(), CONDITIONS).positions.values(),
    ]
    return [each for each in found if each.resting is not None]


def test_the_moment_of_the_air_is_that_of_the_stretched_drive() -> None:
    assert _positions()
    for position in _positions():
        rest, held, lost = position.resting, position.held_deg, position.lost_deg
        assert rest is not None
        assert held is not None
        assert lost is not None
        stream = rest.case.stream
        flow = Airflow(stream.speed_m_s, stream.air, 0.5 * stream.wash_pa)
        air_nm = hinge_moment_nm(rest.case.flap, flow, held.expected, stream.incidence_deg).expected
        spring_nm = rest.stiffness.expected * rest.load.servos * lost.expected
        limit_nm = rest.torque.expected * rest.efficiency * rest.load.servos / rest.ratio
        assert air_nm == pytest.approx(min(spring_nm, limit_nm), rel=1e-6)
        assert held.expected + lost.expected == pytest.approx(abs(rest.load.deflection_deg))


def test_a_faster_aircraft_loses_more_of_its_throw() -> None:
    def lost(speed: float) -> float:
        aircraft = trainer()
        airframe = replace(aircraft.airframe, dive_speed_m_s=speed, level_speed_m_s=None)
        surfaces = survey(replace(aircraft, airframe=airframe), CONDITIONS).positions.values()
        return sum(each.lost_deg.expected for each in surfaces if each.lost_deg is not None)

    assert 0.0 < lost(15.0) < lost(30.0)


def test_its_working_says_that_the_stiffness_is_a_guess() -> None:
    for position in _positions():
        assert position.held_deg is not None
        assert position.held_deg.basis == "typical for the class"
        assert math.isfinite(position.held_deg.expected)


def test_both_figures_are_listed_and_written_like_all_others() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    code = next(code for code, each in surveyed.positions.items() if each.resting is not None)
    assert f"{code} held_deg" in dict(surveyed.figures())
    written = survey_json(surveyed)["positions"][code]
    assert written["lost_deg"]["unit"] == "deg"


def test_a_rotor_is_not_blown_back() -> None:
    for position in survey(helicopter(), CONDITIONS).positions.values():
        assert position.held_deg is None
