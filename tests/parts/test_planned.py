"""A plan carried out on paper changes the tree it is given, never the one it came from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from hangar.base.errors import BadInput
from hangar.parts import (
    Aircraft,
    Airframe,
    Feed,
    Lead,
    Linkage,
    Pack,
    PackType,
    Plan,
    PlanLine,
    Position,
    PowerPath,
    Regulator,
    RegulatorType,
    Servo,
    ServoFit,
    ServoType,
    StockItem,
    SwitchType,
)
from hangar.parts.choices import (
    AircraftClass,
    Chemistry,
    Drive,
    Function,
    PlanAction,
    RegulatorKind,
    ServoState,
    StockKind,
    SwitchKind,
)
from hangar.parts.library import Library
from hangar.parts.planned import after_plan
from hangar.parts.planned_places import NEW

DAY = date(2026, 3, 14)


@pytest.fixture
def library() -> Library:
    """One of each, with a spare servo in the bay."""
    return Library(
        servo_types={"MK-G30": ServoType(code="MK-G30", drive=Drive.DIGITAL, spline_teeth=25)},
        pack_types={
            "FE-21": PackType(code="FE-21", chemistry=Chemistry.LIFEPO4, series=2, capacity_mah=2100)
        },
        regulator_types={"R5": RegulatorType(code="R5", regulator=RegulatorKind.LINEAR)},
        switch_types={"S2": SwitchType(code="S2", switch=SwitchKind.ELECTRONIC)},
        spare_servos={"0950": Servo(tag="0950", servo_type="MK-G30")},
        stock=(StockItem(code="G30", kind=StockKind.SERVO, part_type="MK-G30", on_hand=2),),
    )


@pytest.fixture
def marquess() -> Aircraft:
    """An aircraft with an old servo at its rudder and one power path."""
    position = Position(aircraft="MAR", code="RUD", name="rudder", function=Function.RUDDER)
    return Aircraft(
        airframe=Airframe(code="MAR", name="Marquess", aircraft_class=AircraftClass.GIANT),
        fits=(
            ServoFit(
                position=position,
                servo=Servo(tag="0205", servo_type="TS-90G", state=ServoState.FITTED),
                lead=Lead(aircraft="MAR", position="RUD", length_mm=1100, awg=26),
                linkage=Linkage(aircraft="MAR", position="RUD", arm_mm=25),
            ),
        ),
        paths=(PowerPath(feed=Feed(aircraft="MAR", code="RX-A")),),
        read_on=DAY,
    )


def plan(*lines: PlanLine) -> Plan:
    return Plan(code="P1", aircraft="MAR", title="stage 1", lines=lines)


def line(action: PlanAction, place: str | None = "RUD", **values: object) -> PlanLine:
    return PlanLine(plan="P1", number=1, action=action, place=place, **values)  # type: ignore[arg-type]


def test_a_planned_servo_sits_at_its_position_and_the_original_stays(
    marquess: Aircraft, library: Library
) -> None:
    after = after_plan(marquess, plan(line(PlanAction.FIT_SERVO, part_type="MK-G30")), library)
    fit = after.fit("RUD")
    assert fit is not None
    assert fit.servo_type is library.servo_types["MK-G30"]
    assert fit.tag == f"{NEW} MK-G30"
    assert fit.installation is not None
    assert fit.installation.arm_teeth == 25
    assert marquess.fits[0].tag == "0205"


def test_a_planned_servo_may_come_from_the_bay(marquess: Aircraft, library: Library) -> None:
    plan_line = line(PlanAction.FIT_SERVO, part_type="MK-G30", from_stock="0950")
    assert after_plan(marquess, plan(plan_line), library).fits[0].tag == "0950"


def test_a_line_that_is_done_is_not_done_again(marquess: Aircraft, library: Library) -> None:
    plan_line = line(PlanAction.FIT_SERVO, part_type="MK-G30", done_on=DAY)
    assert after_plan(marquess, plan(plan_line), library) == marquess


def test_power_lead_and_arm_follow_the_plan(marquess: Aircraft, library: Library) -> None:
    after = after_plan(
        marquess,
        plan(
            line(PlanAction.FIT_PACK, "RX-A", part_type="FE-21"),
            line(PlanAction.FIT_REGULATOR, "RX-A", part_type="R5", set_v=5.9),
            line(PlanAction.SET_REGULATOR, "RX-A", set_v=5.4),
            line(PlanAction.FIT_SWITCH, "RX-A", part_type="S2"),
            line(PlanAction.CHANGE_LEAD, awg=20),
            line(PlanAction.CHANGE_ARM, arm_mm=22),
        ),
        library,
    )
    (path,) = after.paths
    assert [pack.pack_type.code for pack in path.packs] == ["FE-21"]
    assert isinstance(path.packs[0].pack, Pack)
    assert isinstance(path.regulator, Regulator)
    assert path.regulator.set_v == 5.4
    assert path.switch_type is library.switch_types["S2"]
    fit = after.fit("RUD")
    assert fit is not None
    assert fit.lead is not None
    assert (fit.lead.awg, fit.lead.length_mm) == (20, 1100)
    assert fit.linkage is not None
    assert fit.linkage.arm_mm == 22


@pytest.mark.parametrize(
    ("one", "sentence"),
    [
        (
            line(PlanAction.FIT_SERVO, "ELE", part_type="MK-G30"),
            "plan P1, line 1: 'ELE' is no position of MAR",
        ),
        (
            line(PlanAction.FIT_SERVO, part_type="MK-X"),
            "'MK-X' is no servo type in the library; there are MK-G30",
        ),
        (line(PlanAction.FIT_SERVO), "the type is missing"),
        (line(PlanAction.FIT_SERVO, None, part_type="MK-G30"), "the position is missing"),
        (line(PlanAction.FIT_SERVO, part_type="MK-G30", from_stock="0999"), "does not lie in Stores"),
        (line(PlanAction.SET_REGULATOR, "RX-A", set_v=5), "needs a regulator on that power path"),
        (
            line(PlanAction.FIT_SWITCH, "RX-B", part_type="S2"),
            "'RX-B' is no power path of MAR; there are RX-A",
        ),
        (line(PlanAction.CHANGE_LEAD), "the lead gauge is missing"),
        (line(PlanAction.CHANGE_ARM), "the arm radius is missing"),
    ],
)
def test_a_plan_that_cannot_be_carried_out_says_why(
    marquess: Aircraft, library: Library, one: PlanLine, sentence: str
) -> None:
    with pytest.raises(BadInput) as fault:
        after_plan(marquess, plan(one), library)
    assert sentence in str(fault.value)


def test_the_bay_counts_tagged_and_untagged_parts(library: Library) -> None:
    assert library.stocked("MK-G30") == 3
    assert library.stocked("OF-W8") == 0


BOARD = RegulatorType(code="Two", regulator=RegulatorKind.PASS, inputs=2, isolated=True)
SECOND = (
    line(PlanAction.FIT_PACK, "RX-B", part_type="FE-21"),
    line(PlanAction.FIT_REGULATOR, "BOARD", part_type="Two"),
    line(PlanAction.FIT_SWITCH, "RX-B", part_type="S2"),
)


def test_a_second_pack_on_a_board_is_the_same_in_whatever_order_its_lines_are_done(
    marquess: Aircraft, library: Library
) -> None:
    shelf = replace(library, regulator_types={**library.regulator_types, "Two": BOARD})
    pack, board, switch = SECOND
    ways = [after_plan(marquess, plan(*order), shelf) for order in (
        (pack, board, switch), (board, switch, pack), (board, pack, switch), (pack, switch, board),
    )]  # fmt: skip
    for way in ways:
        assert way.paths == ways[0].paths
    first, second = ways[0].paths
    assert (first.feed.isolated, second.feed.isolated) == (True, True)
    assert first.regulator == second.regulator
    assert second.switch_type is library.switch_types["S2"]


def test_a_board_takes_no_more_packs_than_it_has_inputs(marquess: Aircraft, library: Library) -> None:
    shelf = replace(library, regulator_types={"Two": BOARD})
    pack, board, _ = SECOND
    third = line(PlanAction.FIT_PACK, "RX-C", part_type="FE-21")
    after = after_plan(marquess, plan(board, pack, third), shelf)
    assert [path.feed.regulator for path in after.paths] == ["BOARD", "BOARD", None]
    with pytest.raises(BadInput, match="'RX-C' is no power path"):
        after_plan(marquess, plan(board, pack, replace(SECOND[2], place="RX-C")), shelf)
