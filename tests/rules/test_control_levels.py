"""The table of levels, each cell from both sides, and how smoothly it changes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.figure import Band, Basis
from hangar.parts.choices import AircraftClass
from hangar.parts.thresholds import Thresholds
from hangar.physics.servo_loop import ServoLoop
from hangar.rules.control_levels import FAST, LineCase, lower
from hangar.rules.finding import Level
from hangar.survey.flight_points import FlightPoint, Way
from hangar.survey.holding import PointControl
from tests.all_cases import all_cases

DIGITAL, ANALOG = ServoLoop(1.0, 0.2, 1.5), ServoLoop(1.0, 0.5, 25.0)
SPORT, JET = AircraftClass.SPORT, AircraftClass.JET_TURBINE
W, C, A = Level.WARNING, Level.CAUTION, Level.ADVISORY
SLOW, DIVE, LANDING = FlightPoint.MANOEUVRE, FlightPoint.DIVE, FlightPoint.LANDING


def weighing(
    kind: AircraftClass | None = SPORT, dive_m_s: float = 30.0, loop: ServoLoop = DIGITAL
) -> LineCase:
    limits = Thresholds()
    return LineCase.of(lambda name: limits.value(name, kind), kind, dive_m_s, loop)


def point(what: FlightPoint, left: float, at_high: float | None = None, share: float = 0.3) -> PointControl:
    high = min(left, 1.0) if at_high is None else at_high
    held = Band(10.0 * min(high, left), 10.0 * left, 10.0 * left)
    return PointControl(what, Way.UP, 20.0, 10.0, 10.0, held, share, 0.1, 1.0, Basis.COMPUTED)


@all_cases(
    "what, left, at_high, share, level",
    [
        # Slow and manoeuvre: control left, then at the most, then the share of the torque.
        (SLOW, 0.66, None, 0.3, W), (SLOW, 0.68, None, 0.3, C), (SLOW, 0.74, None, 0.3, C),
        (SLOW, 0.76, None, 0.3, None), (SLOW, 0.90, 0.49, 0.3, C), (SLOW, 0.90, 0.51, 0.3, A),
        (SLOW, 0.90, 0.74, 0.3, A), (SLOW, 0.90, 0.76, 0.3, None), (SLOW, 0.90, None, 1.01, W),
        (SLOW, 0.90, None, 0.99, C), (SLOW, 0.90, None, 0.91, C), (SLOW, 0.90, None, 0.89, A),
        (SLOW, 0.90, None, 0.81, A), (SLOW, 0.90, None, 0.79, None),
        (FlightPoint.SLOW, 0.66, None, 0.3, W), (FlightPoint.SLOW, 0.68, None, 0.3, C),
        # Slow with full throw the angle alone counts.
        (FlightPoint.SLOW, 0.90, None, 1.20, A), (FlightPoint.SLOW, 0.90, None, 0.79, None),
        # The dive: a third of the throw; a share above 1 alone is no warning there.
        (DIVE, 0.84, None, 0.3, W), (DIVE, 0.86, None, 0.3, C), (DIVE, 0.99, None, 0.3, C),
        (DIVE, 1.01, None, 0.3, None), (DIVE, 1.20, 0.49, 0.3, C), (DIVE, 1.20, 0.51, 0.3, A),
        (DIVE, 1.20, None, 1.05, C), (DIVE, 1.20, None, 0.89, A), (DIVE, 1.20, None, 0.79, None),
        # Landing: what is blown back relieves itself, and the share is told only.
        (LANDING, 0.59, None, 0.3, W), (LANDING, 0.61, None, 0.3, C), (LANDING, 0.74, None, 0.3, C),
        (LANDING, 0.76, None, 0.3, None), (LANDING, 0.80, 0.49, 0.3, C), (LANDING, 0.80, 0.51, 0.3, A),
        (LANDING, 0.80, None, 1.20, A), (LANDING, 0.80, None, 0.79, None),
    ],
)  # fmt: skip
def test_every_cell_of_the_table_from_both_sides(
    what: FlightPoint, left: float, at_high: float | None, share: float, level: Level | None
) -> None:
    assert weighing().level(point(what, left, at_high, share)) is level


def test_two_signs_of_one_want_are_a_warning() -> None:
    # Short at the expected load, and half of it gone at the most: no line alone decides.
    assert weighing().level(point(SLOW, 0.72, 0.49)) is W
    assert weighing().level(point(SLOW, 0.72, 0.51)) is C
    assert weighing().level(point(SLOW, 0.76, 0.49)) is C


@all_cases(
    "kind, dive_m_s, followed, level",
    [
        (JET, 50.0, 0.54, W), (JET, 50.0, 0.56, C), (JET, 50.0, 0.66, C), (JET, 50.0, 0.68, None),
        (JET, 40.0, 0.27, W), (JET, 40.0, 0.28, C), (JET, 40.0, 0.34, None), (JET, 30.0, 0.0, None),
        (SPORT, 90.0, 0.3, None),
    ],
)  # fmt: skip
def test_a_fast_surface_has_to_follow_the_stick_in_the_dive(
    kind: AircraftClass, dive_m_s: float, followed: float, level: Level | None
) -> None:
    there = replace(point(DIVE, 1.2, 1.0), followed=followed)
    judged = weighing(kind, dive_m_s, ANALOG)
    assert judged.level(there) is level
    assert judged.is_loose(there) is (level is not None)


@all_cases(
    "dive_m_s, left, level",
    [(40.0, 0.66, W), (40.0, 0.68, C), (50.0, 0.74, W), (50.0, 0.76, C), (60.0, 0.82, W), (60.0, 0.84, C),
     (60.0, 0.86, None), (90.0, 0.82, W), (90.0, 0.86, None)],
)  # fmt: skip
def test_what_is_lost_weighs_more_where_energy_and_flutter_are(
    dive_m_s: float, left: float, level: Level | None
) -> None:
    assert weighing(JET, dive_m_s).level(point(SLOW, left)) is level
    # Speed alone is no reason: a pattern aircraft of 60 m/s keeps the plain lines.
    assert weighing(SPORT, dive_m_s).level(point(SLOW, 0.76)) is None


@all_cases(
    "dive_m_s, left, level",
    [(30.0, 0.40, A), (34.0, 0.10, A), (45.0, 0.49, W), (45.0, 0.51, C), (45.0, 0.53, A), (55.0, 0.74, C),
     (55.0, 0.76, None), (55.0, 0.49, W)],
)  # fmt: skip
def test_a_servo_that_is_only_soft_still_answers(dive_m_s: float, left: float, level: Level | None) -> None:
    assert weighing(SPORT, dive_m_s, ANALOG).level(point(SLOW, left, share=0.5)) is level


def test_the_relief_of_softness_fades_and_is_none_for_jets_and_fast_sailplanes() -> None:
    soft, stiff = weighing(SPORT, 30.0, ANALOG), weighing(SPORT, 30.0)
    assert soft.level(point(SLOW, 0.60, share=0.55)) is A
    assert soft.level(point(SLOW, 0.60, share=0.70)) is W
    assert stiff.level(point(SLOW, 0.60, share=0.30)) is W
    for kind in FAST:
        assert weighing(kind, 70.0, ANALOG).level(point(SLOW, 0.60, share=0.30)) is W


LEFTS, SHARES = st.floats(0.05, 1.5), st.floats(0.05, 1.3)
KINDS = st.sampled_from([None, *AircraftClass])
LOOPS = st.sampled_from([DIGITAL, ANALOG])
RANKS = {W: 0, C: 1, A: 2, None: 3}


def _steps(level: Level | None, two: Level | None) -> int:
    return abs(RANKS[level] - RANKS[two])


@given(KINDS, st.floats(20.0, 90.0), LOOPS, st.sampled_from(list(FlightPoint)), LEFTS, SHARES)
def test_a_hundredth_of_the_dive_speed_moves_a_level_by_a_step_at_most(
    kind: AircraftClass | None, dive: float, loop: ServoLoop, what: FlightPoint, left: float, share: float
) -> None:
    here, there = (weighing(kind, dive * factor, loop) for factor in (1.0, 1.01))
    looked = point(what, left, 0.9 * left, share)
    assert _steps(here.level(looked), there.level(looked)) <= 1


@given(KINDS, st.floats(20.0, 90.0), LOOPS, st.sampled_from(list(FlightPoint)), LEFTS, SHARES)
def test_more_control_or_less_torque_asked_never_makes_it_graver(
    kind: AircraftClass | None, dive: float, loop: ServoLoop, what: FlightPoint, left: float, share: float
) -> None:
    looked = weighing(kind, dive, loop)
    level = looked.level(point(what, left, 0.9 * left, share))
    assert RANKS[looked.level(point(what, 1.1 * left, 0.99 * left, share))] >= RANKS[level]
    assert RANKS[looked.level(point(what, left, 0.9 * left, 0.9 * share))] >= RANKS[level]


def test_the_gravest_point_speaks() -> None:
    points = (point(SLOW, 0.70), point(DIVE, 0.80), point(LANDING, 0.50), point(SLOW, 0.90))
    found = weighing().worst(points)
    assert found is not None
    assert found == (W, points[2])
    assert weighing().worst((point(SLOW, 0.90),)) is None


def test_a_step_lower_ends_in_silence() -> None:
    assert [lower(level) for level in (W, C, A)] == [C, A, None]


def test_the_keepers_own_lines_hold() -> None:
    own = Thresholds({"control-warn": 0.5})
    looked = replace(weighing(), limit=lambda name: own.value(name, SPORT))
    assert looked.level(point(SLOW, 0.55)) is C
    with pytest.raises(KeyError):
        looked.limit("no-such-line")


@all_cases("loop", [DIGITAL, ANALOG])
def test_levels_fall_with_control_left_step_by_step(loop: ServoLoop) -> None:
    levels = [weighing(loop=loop).level(point(SLOW, left / 100.0)) for left in range(5, 150)]
    assert all(RANKS[level] <= RANKS[two] for level, two in pairwise(levels))
