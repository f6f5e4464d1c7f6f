"""The load against air speed: it meets the survey's own load, and the torque at the survey's limit."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput
from hangar.parts import Servo
from hangar.survey import compare, survey
from hangar.survey.load_curve import load_curve
from tests.survey.fleets import CONDITIONS, OF_D620, helicopter, trainer


def test_the_curve_passes_through_the_load_of_the_survey() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    position = surveyed.positions["AIL"]
    assert position.load_speed_m_s is not None
    assert position.load_nm is not None
    curve = load_curve(surveyed, "AIL", position.load_speed_m_s.expected, 10)
    assert curve is not None
    assert curve.speeds_m_s[-1] == pytest.approx(curve.load_speed_m_s)
    for name in ("low", "expected", "design"):
        assert getattr(curve.loads_nm[-1], name) == pytest.approx(getattr(position.load_nm.band, name))


def test_load_and_torque_cross_at_the_limit_speed() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    torque = surveyed.positions["AIL"].torque_nm
    assert torque is not None
    first = load_curve(surveyed, "AIL", 30.0, 10)
    assert first is not None
    assert first.limit_m_s is not None
    curve = load_curve(surveyed, "AIL", first.limit_m_s, 10)
    assert curve is not None
    assert curve.loads_nm[-1].expected == pytest.approx(torque.expected, rel=0.005)


def test_without_wash_the_load_grows_with_speed_squared() -> None:
    # Dynamic pressure: Anderson, "Fundamentals of Aerodynamics" (from memory, unverified).
    curve = load_curve(survey(trainer(), CONDITIONS), "AIL", 40.0, 40)
    assert curve is not None
    by_speed = dict(zip(curve.speeds_m_s, curve.loads_nm, strict=True))
    assert by_speed[40.0].expected / by_speed[20.0].expected == pytest.approx(4.0, rel=0.05)


def test_a_rotor_or_a_place_that_is_not_there_has_no_curve() -> None:
    surveyed = survey(helicopter(), CONDITIONS)
    assert all(load_curve(surveyed, code, 30.0) is None for code in surveyed.positions)
    assert load_curve(surveyed, "FLAP", 30.0) is None


def test_a_curve_to_standstill_is_refused() -> None:
    with pytest.raises(BadInput, match="above 0"):
        load_curve(survey(trainer(), CONDITIONS), "AIL", 0.0)


def test_a_spare_is_compared_with_what_was_measured_on_it() -> None:
    spare = Servo(tag="0999", servo_type=OF_D620.code, idle_ma=77.0)
    compared = compare(trainer(), "AIL", OF_D620, CONDITIONS, servo=spare)
    fitted = compared.after.aircraft.fit("AIL")
    assert fitted is not None
    assert fitted.servo == spare
    idle = next(figure for figure in compared.figures if str(figure.name) == "current at rest")
    assert idle.new is not None
    assert idle.new.expected == pytest.approx(0.077)
