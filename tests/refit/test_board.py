"""A plan goes forward only when nothing is missing, and says in words what is."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from hangar.answers import board
from hangar.parts import (
    Aircraft,
    Airframe,
    BenchCheck,
    Flight,
    Library,
    Plan,
    PlanLine,
    PlanProof,
    Position,
    Servo,
    ServoFit,
    ServoType,
    StockItem,
)
from hangar.parts.choices import (
    AircraftClass,
    AircraftState,
    Drive,
    Function,
    PlanAction,
    PlanState,
    StockKind,
)
from tests.all_cases import all_cases

DAY = date(2031, 5, 20)
KIND = ServoType(code="TS-A", drive=Drive.DIGITAL, price=40.0)


def line(number: int = 1, **values: object) -> PlanLine:
    given = {"action": PlanAction.FIT_SERVO, "place": "RUD", "part_type": "TS-A", "price": 40.0, **values}
    return PlanLine(plan="P", number=number, **given)  # type: ignore[arg-type]


def plan(*lines: PlanLine, state: PlanState = PlanState.SKETCHED) -> Plan:
    return Plan(code="P", aircraft="LARK", title="Rudder", state=state, lines=lines)


def lark(state: AircraftState = AircraftState.ON_THE_BENCH, **parts: object) -> Aircraft:
    frame = Airframe(code="LARK", name="Lark", aircraft_class=AircraftClass.SPORT, state=state)
    rudder = Position(aircraft="LARK", code="RUD", name="rudder", function=Function.RUDDER)
    given = {"fits": (ServoFit(position=rudder),), "read_on": DAY, **parts}
    return Aircraft(airframe=frame, **given)  # type: ignore[arg-type]


def library(**parts: object) -> Library:
    return Library(servo_types={"TS-A": KIND}, **parts)  # type: ignore[arg-type]


def forward(of: Plan, aircraft: Aircraft, shelf: Library) -> board.Move:
    return board.moves(of, aircraft, shelf)[0]


def missing(move: board.Move) -> tuple[str, ...]:
    return tuple(map(str, move.missing))


ALL_TICKED = tuple(PlanProof(plan="P", proof=gate.code, ticked_on=DAY) for gate in board.gates())


def test_a_plan_without_lines_cannot_be_priced() -> None:
    assert missing(forward(plan(), lark(), library())) == ("The plan has no line yet.",)


def test_a_line_without_a_price_keeps_a_plan_sketched() -> None:
    move = forward(plan(line(price=None)), lark(), library())
    assert missing(move) == ("Line 1 has no price.",)


def test_a_line_for_a_type_that_is_not_there_is_named() -> None:
    (gap,) = forward(plan(line(part_type="NO-SUCH")), lark(), library()).missing
    assert "line 1" in str(gap)
    assert "NO-SUCH" in str(gap)


def test_a_whole_priced_line_may_go_on() -> None:
    move = forward(plan(line()), lark(), library())
    assert move == board.Move(PlanState.PRICED)


def test_parts_are_in_only_when_the_bay_holds_them() -> None:
    priced = plan(line(), line(2), state=PlanState.PRICED)
    stock = StockItem(code="A", kind=StockKind.SERVO, part_type="TS-A", on_hand=1)
    assert missing(forward(priced, lark(), library(stock=(stock,)))) == (
        "2 of TS-A are needed, 1 are free in Stores.",
    )
    both = library(stock=(stock,), spare_servos={"S-1": Servo(tag="S-1", servo_type="TS-A")})
    assert forward(priced, lark(), both).is_open


def test_a_tag_that_another_plan_holds_is_not_free() -> None:
    other = Plan(code="Q", aircraft="WREN", title="Q", lines=(replace(line(from_stock="S-1"), plan="Q"),))
    shelf = library(spare_servos={"S-1": Servo(tag="S-1", servo_type="TS-A")}, plans=(other,))
    by_tag = plan(line(from_stock="S-1"), state=PlanState.PRICED)
    assert missing(forward(by_tag, lark(), shelf)) == ("Line 1: S-1 is reserved by Q.",)
    by_type = plan(line(), state=PlanState.PRICED)
    assert missing(forward(by_type, lark(), shelf)) == ("1 of TS-A are needed, 0 are free in Stores.",)


def test_work_begins_only_on_the_bench() -> None:
    ready = plan(line(), state=PlanState.PARTS_IN)
    assert forward(ready, lark(), library()).is_open
    assert missing(forward(ready, lark(AircraftState.ON_THE_LINE), library())) == (
        "LARK is on the line; put it on the bench first.",
    )


def test_a_reading_from_before_the_work_does_not_prove_it() -> None:
    fitted = replace(plan(line(done_on=DAY), state=PlanState.FITTING), proofs=ALL_TICKED)
    rudder = lark().fits[0]
    early = BenchCheck(
        aircraft="LARK",
        position="RUD",
        checked_at=datetime(2031, 5, 19, 12),  # noqa: DTZ001
        neutral_ma=9,
    )
    late = replace(early, checked_at=datetime(2031, 5, 20, 12))  # noqa: DTZ001
    ticked_late = replace(late, neutral_ma=None, direction_ok=True, centre_ok=True)
    unproved = lark(fits=(replace(rudder, bench_checks=(early, ticked_late)),))
    proved = lark(fits=(replace(rudder, bench_checks=(early, late)),))
    assert missing(forward(fitted, unproved, library())) == ("No bench check of RUD since it was changed.",)
    assert forward(fitted, proved, library()).is_open


@all_cases("gate", [gate.code for gate in board.gates()])
def test_each_single_gate_keeps_the_aircraft_from_the_line(gate: str) -> None:
    proved = plan(state=PlanState.BENCH_PROVED)
    ticked = tuple(proof for proof in ALL_TICKED if proof.proof != gate)
    (gap,) = board.release_gaps(replace(proved, proofs=ticked), lark())
    assert str(gap).startswith(f"Proof {gate} is not ticked")
    assert board.release_gaps(replace(proved, proofs=ALL_TICKED), lark()) == []


def test_a_plan_is_flown_in_by_a_flight_after_the_work() -> None:
    proved = plan(line(done_on=DAY), state=PlanState.BENCH_PROVED)
    before = Flight(aircraft="LARK", flown_on=date(2031, 5, 1), minutes_min=8)
    after = replace(before, flown_on=date(2031, 5, 24))
    line_state = AircraftState.ON_THE_LINE
    assert not forward(proved, lark(line_state, flights=(before,)), library()).is_open
    assert not forward(proved, lark(flights=(after,)), library()).is_open
    assert forward(proved, lark(line_state, flights=(before, after)), library()).is_open


def test_a_half_done_plan_cannot_be_dropped() -> None:
    half = plan(line(done_on=DAY), line(2), state=PlanState.FITTING)
    drop = board.moves(half, lark(), library())[-1]
    assert drop.state is PlanState.DROPPED
    assert drop.missing
    assert board.moves(plan(line()), lark(), library())[-1].is_open


def test_a_dropped_plan_may_be_taken_up_again() -> None:
    assert board.moves(plan(state=PlanState.DROPPED), lark(), library()) == (board.Move(PlanState.SKETCHED),)


def test_the_supply_is_changed_after_every_servo() -> None:
    supply = line(1, action=PlanAction.FIT_PACK, place="RX-A", part_type="P")
    steps = board.order_of_work(plan(supply, line(2), line(3, action=PlanAction.CHANGE_LEAD, awg=20)))
    assert [step.line.number for step in steps if step.line] == [3, 2, 1]
    assert [step.number for step in steps] == [1, 2, 3, 4, 5]
    assert all(step.check for step in steps)


def test_cost_counts_quantities_and_names_lines_without_a_price() -> None:
    assert board.cost_of(plan(line(quantity=3), line(2, price=None))) == (120.0, 1)


def test_a_servo_that_comes_off_an_aircraft_need_not_lie_in_stores() -> None:
    moved = plan(line(from_stock="S-7", from_aircraft="LARK", price=0.0))
    gaps = [str(gap) for gap in board.part_gaps(moved, library())]
    assert gaps == ["Line 1: S-7 does not lie in Stores."]
    there = library(servos_elsewhere={"S-7": Servo(tag="S-7", servo_type="TS-A")})
    assert board.part_gaps(moved, there) == []
