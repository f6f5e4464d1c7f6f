"""A linkage swept through its travel tells where and how it binds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, NoAnswer, Unreachable
from hangar.physics.linkage import RodLink
from hangar.physics.linkage_reach import closes_at, reach_limit_deg, travel_for_deg
from hangar.physics.linkage_sweep import BindState, LinkSweep, sweep


def states(swept: LinkSweep) -> set[BindState]:
    return {bind.state for bind in swept.binds}


def test_a_square_linkage_has_no_trouble_and_nearly_equal_throws() -> None:
    swept = sweep(RodLink.planar_from_neutral(15, 20, (120, -5)), -45, 45)
    assert swept.binds == ()
    assert swept.worst is None
    assert swept.high_deflection_deg == pytest.approx(32.053, abs=5e-4)
    assert swept.low_deflection_deg == pytest.approx(-32.002, abs=5e-4)
    assert swept.least_transmission_deg == pytest.approx(57.4, abs=0.05)
    assert swept.greatest_velocity_ratio == pytest.approx(0.75, abs=1e-3)
    assert swept.least_velocity_ratio == pytest.approx(0.6227, abs=5e-5)


def test_a_rod_that_runs_out_is_a_hard_bind_at_its_exact_limit() -> None:
    swept = sweep(RodLink.planar_from_neutral(30, 15, (60, 0)), -45, 45)
    assert (swept.low_bound, swept.high_bound) == (True, True)
    assert swept.high.servo_deg == pytest.approx(112.979, abs=5e-4)
    assert {BindState.HARD_BIND, BindState.DEAD_POINT} <= states(swept)
    assert swept.worst == "warning"


def test_a_big_throw_with_a_flat_horn_is_poor_transmission() -> None:
    link = RodLink.planar_from_neutral(32, 24, (160, -10), 90, 88)
    assert states(sweep(link, -40, 40)) >= {BindState.POOR_TRANSMISSION}
    assert BindState.DEAD_POINT in states(sweep(link, -50, 0))
    assert sweep(link, 0, 50).high_bound


def test_an_end_point_at_the_edge_has_no_margin() -> None:
    link = RodLink.planar_from_neutral(30, 15, (60, 0))
    swept = sweep(link, 0, 22.5)
    assert not swept.high_bound
    assert BindState.NO_MARGIN in states(swept)


def test_a_servo_driven_past_its_dead_centre_turns_the_surface_back() -> None:
    link = RodLink.planar_from_neutral(12, 25, (80, 20), 170, 110)
    swept = sweep(link, -160, 0)
    assert {BindState.REVERSAL, BindState.SERVO_DEAD_CENTRE} <= states(swept)
    retract = sweep(link, -160, 0, dead_centre_wanted=True)
    assert not states(retract) & {BindState.REVERSAL, BindState.SERVO_DEAD_CENTRE}


def test_dead_centre_is_a_caution_where_no_flight_depends_on_it() -> None:
    link = RodLink.planar_from_neutral(12, 25, (80, 20), 170, 110)
    levels = {
        flight: {b.level for b in sweep(link, -149, 0, flight_control=flight).binds if "centre" in b.state}
        for flight in (True, False)
    }
    assert levels == {True: {"warning"}, False: {"caution"}}


def tilted_rudder() -> RodLink:
    link = RodLink(
        servo_axis=(0, 0, 1),
        servo_pivot=(0, 0, 0),
        servo_zero=(0, 1, 0),
        arm_mm=20,
        servo_offset_mm=0,
        horn_axis=(0.3420201433256687, 0, 0.9396926207859084),
        horn_pivot=(300, 10, 15),
        horn_zero=(0, 1, 0),
        horn_mm=25,
        horn_offset_mm=0,
        rod_mm=300,
        branch=1,
    )
    return link.fitted(0, 0)


def test_a_ball_link_is_judged_by_common_practice_or_by_its_own_limit() -> None:
    link = tilted_rudder()
    tilt = max(abs(link.at_travel(travel).horn_ball_tilt_deg) for travel in (-45, 45))
    assert tilt == pytest.approx(23.8, abs=0.05)
    by_practice = [bind for bind in sweep(link, -45, 45).binds if bind.state is BindState.BALL_TILT]
    assert [bind.level for bind in by_practice] == ["warning"]
    assert BindState.BALL_TILT not in states(sweep(link, -45, 45, ball_tilt_limit_deg=30))


def test_a_gap_narrower_than_a_step_is_found() -> None:
    """Straight across the pivots the arm's end is 70 mm from the hinge; a rod 70 mm longer than the horn
    just passes there, one a hundredth of a thousandth longer cannot, over 0.04 deg each side."""
    for rod_mm, stops in ((89.99999, False), (90.00001, True)):
        link = RodLink.planar(30, 20, rod_mm, (100, 0))
        placed = replace(link, servo_neutral_deg=-10.25, horn_neutral_deg=link.at(-10.25).horn_deg)
        assert all(closes_at(placed, angle) for angle in (-0.25, 0.25))
        assert closes_at(placed, 0.0) is not stops
        limit = reach_limit_deg(placed, 20.5)
        assert limit == pytest.approx(10.25 - 0.039 if stops else 20.5, abs=1e-3)


def test_travel_must_run_through_neutral() -> None:
    link = RodLink.from_rod(15, 20, 120)
    for low, high in ((5.0, 20.0), (-20.0, -5.0), (float("nan"), 5.0)):
        with pytest.raises(BadInput, match="neutral"):
            sweep(link, low, high)
    with pytest.raises(BadInput, match="step"):
        sweep(link, -5, 5, step_deg=0)


def test_a_linkage_that_does_not_close_at_neutral_is_refused() -> None:
    with pytest.raises(Unreachable):
        sweep(RodLink.planar(15, 20, 300, (120, 0)), -10, 10)


@given(st.floats(min_value=-30.0, max_value=30.0))
def test_the_travel_for_a_deflection_gives_that_deflection(deflection: float) -> None:
    for opposite in (False, True):
        link = RodLink.from_rod(15, 20, 120, opposite_sides=opposite)
        travel = travel_for_deg(link, deflection)
        assert link.deflection_deg(travel) == pytest.approx(deflection, abs=1e-7)


def test_a_deflection_out_of_reach_names_what_can_be_had() -> None:
    with pytest.raises(NoAnswer, match="cannot be had"):
        travel_for_deg(RodLink.from_rod(10, 30, 120), 40.0)
