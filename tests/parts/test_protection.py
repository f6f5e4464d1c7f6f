"""Cut list of a lead: the sums of its worked example, and blanks where a record is silent.

The allowances are common practice, no source; the example below was worked by hand from them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, Airframe, Lead, Position, Servo, ServoFit, ServoType
from hangar.parts.choices import AircraftClass, FormerEdge, Function
from hangar.parts.protection import (
    LeadCut,
    heat_sleeve_mm,
    joint_shrink_mm,
    lead_cuts,
    lead_needed_mm,
    next_size,
    sleeve_bore_mm,
    wiring,
)

LEAD = Lead(
    aircraft="A2", position="ELE-R", length_mm=940, joints=3, exposed_mm=640, bundle_mm=4.0,
    former_edge=FormerEdge.BARE_WOOD, crosses_hinge=False, moving_mm=40,
)  # fmt: skip
PLACE = Position(aircraft="A2", code="ELE-R", name="right elevator", function=Function.ELEVATOR, channel=4)


def cut(lead: Lead, tag: str | None = "0207") -> LeadCut:
    servo = Servo(tag=tag, servo_type="MK") if tag else None
    frame = Airframe(code="A2", name="Marquess", aircraft_class=AircraftClass.GIANT)
    fit = ServoFit(position=PLACE, lead=lead, servo=servo)
    return lead_cuts(Aircraft(airframe=frame, fits=(fit,)))[0]


def test_an_elevator_lead_of_940_mm_is_bought_as_1100_and_sleeved_with_759() -> None:
    # 940 + 30 + 20 + 2 % = 1008.8; (640 + 50) x 1.10 = 759; joint 27 + 2 x 13 = 53.
    example = cut(LEAD)
    assert round(example.needed_mm) == 1009
    assert example.buy_mm == 1100
    assert example.sleeve_mm == pytest.approx(759)
    assert (example.end_shrinks, example.joint_shrinks, example.joint_mm) == (2, 2, 53)
    assert example.ties == 940 // 150 + 2
    assert example.label == "4 ELE-R / 0207"


@pytest.mark.parametrize(("own_mm", "buy_mm"), [(300, 750), (909, 100), (1008, 75), (1010, 0), (None, 1100)])
def test_of_a_servo_whose_own_lead_is_known_only_what_it_lacks_is_bought(
    own_mm: float | None, buy_mm: float
) -> None:
    # 940 mm of run ask for 1008.8 mm: 708.8 mm more than 300, 99.8 more than 909, 0.8 more than 1008.
    kind = ServoType(code="MK", lead_length_mm=own_mm)
    frame = Airframe(code="A2", name="Marquess", aircraft_class=AircraftClass.GIANT)
    fit = ServoFit(position=PLACE, lead=LEAD, servo=Servo(tag="1", servo_type="MK"), servo_type=kind)
    (made,) = lead_cuts(Aircraft(airframe=frame, fits=(fit,)))
    assert made.buy_mm == buy_mm
    assert made.is_extension == (own_mm is not None and buy_mm > 0)


def test_each_hinge_crossed_asks_for_more_lead() -> None:
    assert lead_needed_mm(500, hinges=2) - lead_needed_mm(500) == 30
    assert cut(replace(LEAD, crosses_hinge=True)).needed_mm == cut(LEAD).needed_mm + 15


def test_a_bare_former_alone_asks_for_a_short_sleeve() -> None:
    assert cut(replace(LEAD, exposed_mm=0)).sleeve_mm == 55
    assert cut(replace(LEAD, exposed_mm=0, former_edge=FormerEdge.GROMMET)).sleeve_mm == 0


def test_what_nobody_wrote_down_stays_open() -> None:
    unknown = cut(replace(LEAD, exposed_mm=None, joints=None, former_edge=None), tag=None)
    assert unknown.sleeve_mm is None
    assert unknown.joint_shrinks is None
    assert unknown.own_mm is None
    assert not unknown.is_extension
    assert unknown.label == "4 ELE-R / ____"
    assert cut(LEAD, tag="new MK-G30").label == "4 ELE-R / ____"


def test_the_bore_lies_between_the_least_and_the_most_that_suit_the_bundle() -> None:
    rule = wiring()["sleeve"]
    for bundle in (2.2, 3.2, 4.0, 5.5, 9.0, 20.0):
        bore = sleeve_bore_mm(bundle)
        assert bore is not None
        assert rule["bore_low"] * bundle <= bore <= rule["bore_high"] * bundle
    assert sleeve_bore_mm(60.0) is None


def test_heat_sleeve_and_joint_shrink_reach_over_both_ends() -> None:
    assert heat_sleeve_mm(200) == 300
    assert joint_shrink_mm() == 53


def test_a_longer_lead_than_any_is_told_in_a_sentence() -> None:
    with pytest.raises(BadInput, match="9000 mm is wanted; the longest size is"):
        next_size(9000, wiring()["lead"]["sizes_mm"])


def test_every_lead_that_a_record_may_hold_finds_a_size() -> None:
    assert cut(replace(LEAD, length_mm=6000, crosses_hinge=True)).buy_mm >= 6000


def test_every_group_of_rules_says_where_it_is_from() -> None:
    assert all(group["source"] for group in wiring().values())
