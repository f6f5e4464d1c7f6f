"""Old servo against new, each on the bus it brings about."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput
from hangar.survey import Comparison, Scenario, compare, survey
from hangar.survey.old_and_new import ComparedFigure, with_type
from tests.survey.fleets import CONDITIONS, MK_G30, OF_D620, biplane, trainer


def row(comparison: Comparison, name: str) -> ComparedFigure:
    return next(figure for figure in comparison.figures if str(figure.name) == name)


def test_both_servos_are_judged_at_their_own_bus_volts() -> None:
    comparison = compare(trainer(), "AIL", OF_D620, CONDITIONS)
    volts = row(comparison, "bus volts in the peak")
    assert volts.change is not None
    assert volts.change < 0.0
    aircraft = trainer()
    aileron = aircraft.fit("AIL")
    assert aileron is not None
    alone = survey(with_type(aircraft, aileron, OF_D620), CONDITIONS)
    assert volts.new == alone.scenarios[Scenario.PEAK].bus_v
    assert row(comparison, "torque").new == alone.positions["AIL"].torque_nm
    assert row(comparison, "torque").old == survey(aircraft, CONDITIONS).positions["AIL"].torque_nm


def test_mass_price_and_currents_stand_side_by_side() -> None:
    comparison = compare(trainer(), "AIL", OF_D620, CONDITIONS)
    assert row(comparison, "mass").change == pytest.approx(58 - 45)
    assert row(comparison, "price").change == pytest.approx(58 - 14)
    assert row(comparison, "current at rest").change == pytest.approx(0.040 - 0.008)
    assert {"current stalled", "current running free"} <= {str(figure.name) for figure in comparison.figures}


def test_a_stronger_servo_lifts_the_margin_and_the_rod_force() -> None:
    comparison = compare(trainer(), "AIL", OF_D620, CONDITIONS)
    margin, force = row(comparison, "control left"), row(comparison, "rod force at stall")
    assert margin.change is not None
    assert margin.change > 0.0
    assert force.change is not None
    assert force.change > 0.0
    assert margin.more_is_better
    assert force.more_is_better is False


def test_a_fresh_servo_leaves_the_old_ones_measurements_behind() -> None:
    comparison = compare(biplane(), "AIL-L", OF_D620, CONDITIONS)
    fresh = comparison.after.aircraft.fit("AIL-L")
    assert fresh is not None
    assert fresh.servo is not None
    assert fresh.servo.play_deg is None
    assert comparison.before.positions["AIL-L"].free_play_deg is not None
    assert comparison.after.positions["AIL-L"].free_play_deg is None


def test_what_the_comparison_lacks_is_named() -> None:
    assert "position AIL: distance behind the balance datum" in map(
        str, compare(trainer(), "AIL", MK_G30, CONDITIONS).missing
    )


def test_the_same_type_changes_nothing() -> None:
    comparison = compare(biplane(), "ELE", MK_G30, CONDITIONS)
    assert all(figure.change in (None, 0.0) for figure in comparison.figures)


def test_a_position_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(BadInput, match="AIL, ELE, RUD, THR"):
        compare(trainer(), "FLAP", OF_D620, CONDITIONS)
