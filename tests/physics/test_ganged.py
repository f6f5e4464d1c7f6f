"""Two servos on one surface."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput
from hangar.physics.ganged import fighting_torque_nm, ganged_mismatch
from hangar.physics.linkage import RodLink


def test_equal_linkages_agree_everywhere() -> None:
    link = RodLink.from_rod(15, 20, 120)
    assert ganged_mismatch(link, link, -45, 45).surface_deg == 0.0


def test_mirrored_equal_linkages_disagree_only_by_their_lack_of_symmetry() -> None:
    link = RodLink.from_rod(15, 20, 120, arm_to_rod_deg=110)
    plain = ganged_mismatch(link, RodLink.from_rod(15, 20, 120, 70, 90), -45, 45)
    assert abs(plain.surface_deg) > 5.0
    across = RodLink.from_rod(15, 20, 120, 90, 90)
    mirrored = ganged_mismatch(across, across, -45, 45, mirrored=True)
    both = across.deflection_deg(45.0) + across.deflection_deg(-45.0)
    assert abs(mirrored.surface_deg) == pytest.approx(abs(both), abs=1e-9)


def test_an_arm_one_step_off_shows_at_the_surface_by_the_ratio() -> None:
    link = RodLink.from_rod(15, 20, 120)
    off = ganged_mismatch(link, link, -1.0, 1.0, offset_deg=3.6)
    assert abs(off.surface_deg) == pytest.approx(3.6 * 0.75, rel=0.01)
    assert abs(off.servo_deg) == pytest.approx(3.6, rel=0.01)


def test_servos_fight_as_springs_beyond_their_dead_bands() -> None:
    assert fighting_torque_nm(2.0, 1.0, 1.0) == 1.0
    assert fighting_torque_nm(-2.0, 1.0, 3.0) == pytest.approx(1.5)
    assert fighting_torque_nm(0.3, 1.0, 1.0, dead_bands_deg=0.4) == 0.0
    assert fighting_torque_nm(20.0, 1.0, 1.0, stall_torque_nm=2.5) == 2.5
    with pytest.raises(BadInput):
        fighting_torque_nm(1.0, 0.0, 1.0)


def test_travel_must_have_a_low_and_a_high_end() -> None:
    link = RodLink.from_rod(15, 20, 120)
    with pytest.raises(BadInput):
        ganged_mismatch(link, link, 10, 10)
