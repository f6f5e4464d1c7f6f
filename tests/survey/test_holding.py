"""Control left at every point of flight, against the balance of moments at the angle said to be held."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hangar.base.figure import Basis
from hangar.parts import Aircraft, Surface
from hangar.parts.choices import AircraftClass, Drive, Function, SurfaceKind
from hangar.physics.held_angle import held_deg
from hangar.physics.hinge_band import Profile, coefficients, compressed
from hangar.physics.servo_loop import ServoLoop
from hangar.survey import PositionSurvey, survey
from hangar.survey.as_json import survey_json
from hangar.survey.flight_points import FlightPoint, Way
from hangar.survey.holding import PointControl
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, OF_D620, TS_31, biplane, helicopter, trainer


def _held() -> list[PositionSurvey]:
    surveys = [
        *survey(trainer(), CONDITIONS).positions.values(),
        *survey(biplane(), CONDITIONS).positions.values(),
    ]
    return [position_survey for position_survey in surveys if position_survey.control]


def _with(aircraft: Aircraft, code: str, **values: object) -> Aircraft:
    """The aircraft with other values of the surface at a position."""
    fits = tuple(
        replace(fit, surface=replace(fit.surface, **values))  # type: ignore[arg-type]
        if fit.code == code and fit.surface
        else fit
        for fit in aircraft.fits
    )
    return replace(aircraft, fits=fits)


def _flying(aircraft: Aircraft, **values: object) -> Aircraft:
    return replace(aircraft, airframe=replace(aircraft.airframe, **values))  # type: ignore[arg-type]


def _points(aircraft: Aircraft, code: str = "AIL") -> dict[tuple[FlightPoint, Way], PointControl]:
    controls = survey(aircraft, CONDITIONS).positions[code].control
    return {(control.point, control.way): control for control in controls}


def test_a_small_command_in_the_dive_is_followed_as_far_as_servo_and_air_agree() -> None:
    """Where the stick asks for no more than is wanted, the error at the arm alone holds the air's moment."""
    seen = 0
    for position in _held():
        holding = position.holding
        assert holding is not None
        for load, point in zip(holding.load.points, position.control, strict=True):
            if point.point is not FlightPoint.DIVE:
                assert point.followed == 1.0
                continue
            drive, loop = holding.load.drive, holding.loop
            assert drive is not None
            angle = point.followed * point.wanted_deg
            assert 0.0 < point.followed <= min(1.0, point.left) + 1e-9
            stand, at = (drive.at(point.way.sign * deg) for deg in (point.wanted_deg, angle))
            error = abs(stand.travel_deg) - abs(at.travel_deg)
            servos = holding.load.servos * drive.efficiency * loop.torque_nm(error) / at.ratio
            air = np.interp(angle, load.moments.angles_deg, load.moments.expected)
            assert servos == pytest.approx(air, rel=0.03)
            seen += 1
    assert seen > 4


def test_servo_and_air_are_in_balance_at_the_angle_held() -> None:
    """The air's moment by the coefficients' own formula, the servo's by its loop and levers, drawn anew."""
    assert _held()
    for position in _held():
        holding = position.holding
        assert holding is not None
        for load, point in zip(holding.load.points, position.control, strict=True):
            held, loop = point.held.expected, holding.loop
            drive = holding.load.drive
            assert drive is not None
            stand, at = (drive.at(point.way.sign * angle) for angle in (point.told_deg, held))
            error = abs(stand.travel_deg) - abs(at.travel_deg)
            servos = holding.load.servos * drive.efficiency * loop.torque_nm(error) / at.ratio
            air = load.moments.expected
            between = [
                value + (two - value) * (held - low) / (high - low)
                for low, high, value, two in zip(
                    load.moments.angles_deg, load.moments.angles_deg[1:], air, air[1:], strict=False
                )
                if low <= held <= high
            ]
            assert servos == pytest.approx(between[0], rel=0.03)


def test_the_moment_of_the_air_is_worked_by_hand() -> None:
    # Trainer's aileron: 0.6 m x 45 mm on 250 mm, aspect ratio 6, camber 2 % typical, 2 degrees expected.
    point = _points(trainer())[FlightPoint.MANOEUVRE, Way.DOWN]
    assert point.speed_m_s == pytest.approx(0.7 * 30.0)
    table = coefficients(Profile(45 / 250, 6.0, 0.02, 2.0, 4.0), 18.0, trailing_edge_down=True)
    pressure = 0.5 * 1.225 * 21.0**2 * compressed(21.0 / 340.3)
    by_hand = pressure * 0.6 * 0.045**2 * table.at(point.held.expected).expected
    assert point.moment_nm == pytest.approx(by_hand, rel=0.01)


@all_cases(
    "kind, share",
    [(AircraftClass.SPORT, 0.70), (AircraftClass.SAIL_FAST, 0.50), (AircraftClass.JET_TURBINE, 0.60)],
)
def test_full_throw_is_wanted_to_the_share_of_the_class_and_a_third_in_the_dive(
    kind: AircraftClass, share: float
) -> None:
    points = _points(_flying(trainer(), aircraft_class=kind, dive_speed_m_s=40.0))
    full, dive = points[FlightPoint.MANOEUVRE, Way.UP], points[FlightPoint.DIVE, Way.UP]
    assert full.speed_m_s == pytest.approx(share * 40.0)
    assert (full.wanted_deg, full.told_deg) == (18.0, 18.0)
    assert dive.speed_m_s == 40.0
    assert dive.wanted_deg == pytest.approx(6.0, rel=0.002)
    assert dive.told_deg == 18.0
    assert full.basis is Basis.TYPICAL


def test_a_speed_and_throw_of_the_surface_are_believed_as_a_pair() -> None:
    pair = _points(_with(trainer(), "AIL", load_speed_m_s=17.0, load_throw_deg=12.0))
    assert pair[FlightPoint.MANOEUVRE, Way.UP].speed_m_s == 17.0
    assert pair[FlightPoint.MANOEUVRE, Way.UP].wanted_deg == 12.0
    assert pair[FlightPoint.DIVE, Way.UP].wanted_deg == pytest.approx(4.0, rel=0.002)
    fast = _points(_with(trainer(), "AIL", load_speed_m_s=36.0))
    assert {point for point, _ in fast} == {FlightPoint.MANOEUVRE}


def test_big_throws_are_wanted_slowly_and_the_usual_one_in_the_manoeuvre() -> None:
    aerobat = _flying(trainer(), aircraft_class=AircraftClass.AEROBATIC_3D)
    points = _points(_with(aerobat, "AIL", throw_up_deg=40.0, throw_down_deg=40.0))
    assert points[FlightPoint.SLOW, Way.UP].speed_m_s == pytest.approx(0.6 * 30)
    assert points[FlightPoint.SLOW, Way.UP].wanted_deg == 40.0
    assert points[FlightPoint.MANOEUVRE, Way.UP].speed_m_s == pytest.approx(0.65 * 30)
    assert points[FlightPoint.MANOEUVRE, Way.UP].wanted_deg == 20.0


def test_a_brake_never_takes_the_roll_check_away() -> None:
    brake = _points(_with(trainer(), "AIL", used_as_brake=True, throw_up_deg=35.0, throw_down_deg=12.0))
    assert brake[FlightPoint.LANDING, Way.UP].wanted_deg == 35.0
    for way in Way:
        assert brake[FlightPoint.MANOEUVRE, way].wanted_deg == 12.0
        assert (FlightPoint.DIVE, way) in brake


def test_a_spoiler_is_judged_on_landing_only() -> None:
    fit = trainer().fit("AIL")
    assert fit is not None
    spoiler = replace(
        trainer(),
        fits=tuple(
            replace(servo_fit, position=replace(servo_fit.position, function=Function.SPOILER))
            if servo_fit is fit
            else servo_fit
            for servo_fit in trainer().fits
        ),
    )
    points = _points(_with(spoiler, "AIL", function=Function.SPOILER, throw_up_deg=60.0, throw_down_deg=0.0))
    assert set(points) == {(FlightPoint.LANDING, Way.UP)}
    assert points[FlightPoint.LANDING, Way.UP].speed_m_s == pytest.approx(15.0)


def test_a_throw_nobody_entered_is_the_usual_one_and_typical() -> None:
    blank = survey(_with(trainer(), "AIL", throw_up_deg=None, throw_down_deg=None), CONDITIONS)
    position = blank.positions["AIL"]
    assert {control.told_deg for control in position.control} == {20.0}
    assert position.control_left is not None
    assert position.control_left.basis is Basis.TYPICAL
    assert position.servo_travel_deg is None


def test_what_is_held_never_rises_with_speed() -> None:
    last: dict[tuple[FlightPoint, Way], PointControl] = {}
    for speed in range(12, 80, 2):
        points = _points(_flying(trainer(), dive_speed_m_s=float(speed), level_speed_m_s=None))
        for key, point in points.items():
            if key in last:
                assert point.held.expected <= last[key].held.expected + 1e-6
                assert point.held.low <= last[key].held.low + 1e-6
        last = points


def test_a_digital_servo_of_the_same_torque_never_leaves_less_control() -> None:
    digital = replace(TS_31, code="TS-31D", drive=Drive.DIGITAL)
    for code in ("AIL", "ELE", "RUD"):
        fits = tuple(replace(fit, servo_type=digital) if fit.code == code else fit for fit in trainer().fits)
        for key, point in _points(replace(trainer(), fits=fits), code).items():
            assert point.left >= _points(trainer(), code)[key].left


def test_a_second_servo_never_leaves_less_control() -> None:
    both = biplane()
    alone = replace(both, fits=tuple(fit for fit in both.fits if fit.code != "RUD-B"))
    for key, point in _points(both, "RUD-A").items():
        assert point.left >= _points(alone, "RUD-A")[key].left - 0.01


def test_full_throw_is_held_to_the_speed_that_is_told() -> None:
    for position in _held():
        holding = position.holding
        assert holding is not None
        for point in position.control:
            speed = holding.full_to_m_s(point)
            if speed is not None and speed < 140.0:
                held = holding.at_speed(point, speed)
                assert held == pytest.approx(0.9 * point.told_deg, rel=0.02)


def test_one_loop_gives_one_number_for_one_error() -> None:
    position = survey(trainer(), CONDITIONS).positions["AIL"]
    holding = position.holding
    assert holding is not None
    assert position.torque_nm is not None
    # Analog: full drive at 25 degrees; 7 us of dead band at 0.09 degrees a microsecond.
    loop = ServoLoop.of(position.torque_nm.expected, 0.63, 25.0)
    assert holding.loop == loop
    assert position.torque_at_1_deg_nm is not None
    assert position.torque_at_1_deg_nm.expected == loop.torque_at_1_deg_nm
    assert position.stiffness_nm_deg is not None
    point = position.control[0]
    torque = loop.torque_nm(point.arm_error_deg)
    assert loop.error_deg(torque) == pytest.approx(point.arm_error_deg)
    load = holding.load.points[0]
    assert point.held.expected == held_deg(
        load.track, load.moments.expected, loop, told_deg=point.told_deg, gain=holding.load.gain
    )


def test_a_reading_off_the_bench_goes_before_the_trade() -> None:
    fits = tuple(
        replace(fit, servo=replace(fit.servo, deg_to_half_torque=4.0)) if fit.servo else fit
        for fit in trainer().fits
    )
    measured = survey(replace(trainer(), fits=fits), CONDITIONS).positions["AIL"]
    usual = survey(trainer(), CONDITIONS).positions["AIL"]
    assert measured.deg_to_half_torque is not None
    assert measured.deg_to_half_torque.expected == pytest.approx(4.0)
    assert measured.control_left is not None
    assert usual.control_left is not None
    assert measured.control_left.expected > usual.control_left.expected


def test_a_linkage_that_is_not_known_is_taken_for_a_usual_one() -> None:
    fits = tuple(replace(fit, linkage=None) if fit.code == "AIL" else fit for fit in trainer().fits)
    position = survey(replace(trainer(), fits=fits), CONDITIONS).positions["AIL"]
    assert position.holding is not None
    assert not position.holding.load.is_drive_known
    assert position.load_nm is not None
    assert position.load_nm.basis is Basis.TYPICAL
    assert "linkage AIL: not recorded" in map(str, position.missing)


def test_a_linkage_that_does_not_reach_is_judged_at_the_angle_it_reaches() -> None:
    points = _points(_with(trainer(), "AIL", throw_up_deg=80.0))
    reached = points[FlightPoint.MANOEUVRE, Way.UP]
    # Arm 12 on horn 18: the surface turns to about asin(12/18) where the arm stands square.
    assert 30.0 < reached.told_deg < 55.0


def test_what_is_worked_is_listed_and_written_like_all_others() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    assert "AIL control_left" in dict(surveyed.figures())
    written = survey_json(surveyed)["positions"]["AIL"]
    assert written["held_deg"]["unit"] == "deg"
    assert written["full_to_m_s"]["unit"] == "m/s"


def test_a_rotor_has_no_points_of_flight_but_a_reserve() -> None:
    for position in survey(helicopter(), CONDITIONS).positions.values():
        assert position.control == ()
        assert position.held_deg is None
        assert position.reserve is not None
        assert position.load_nm is not None
        assert position.torque_nm is not None
        by_hand = position.torque_nm.expected / position.load_nm.expected
        assert position.reserve.expected == pytest.approx(by_hand)


def _all_moving(pivot: float) -> Surface:
    fit = trainer().fit("ELE")
    assert fit is not None
    assert fit.surface is not None
    return replace(fit.surface, carried=SurfaceKind.ALL_MOVING, root_chord_mm=140.0, pivot_pct=pivot)


def test_divergence_is_where_the_air_is_as_stiff_as_the_servo() -> None:
    fits = tuple(
        replace(fit, surface=_all_moving(32.0), servo_type=OF_D620) if fit.code == "ELE" else fit
        for fit in trainer().fits
    )
    position = survey(replace(trainer(), fits=fits), CONDITIONS).positions["ELE"]
    assert position.pivot is not None
    assert position.pivot.expected_m_s is not None
    assert position.stiffness_nm_deg is not None
    # Lift of one radian, 2 pi 4/6 at aspect ratio 4, on a lever of 7 % of 140 mm.
    speed = position.pivot.expected_m_s.expected
    lift = 0.5 * 1.225 * speed**2 * 0.480 * 0.140 * (2 * math.pi * 4 / 6)
    assert lift * 0.07 * 0.140 == pytest.approx(math.degrees(position.stiffness_nm_deg.expected), rel=0.01)
    ahead = replace(trainer(), fits=tuple(
        replace(fit, surface=_all_moving(22.0)) if fit.code == "ELE" else fit for fit in trainer().fits
    ))  # fmt: skip
    pivot = survey(ahead, CONDITIONS).positions["ELE"].pivot
    assert pivot is not None
    assert pivot.expected_m_s is None
