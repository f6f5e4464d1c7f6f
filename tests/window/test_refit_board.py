"""A plan is made, moved, fitted, proved and released at the board; every step can be undone."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.acts import releasing
from hangar.answers.board import gates
from hangar.base.errors import BadInput
from hangar.base.text import fixed
from hangar.parts import Airframe, BenchCheck, Flight, Installation, Plan, PlanLine, Servo
from hangar.parts.choices import AircraftState, PlanAction, PlanState
from hangar.store import Fleet
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import in_unit
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.refit.plan_bench import missing_html
from hangar.window.refit.plan_work import begin_plan, carry_out
from hangar.window.refit.refit_board import RefitBoard
from tests.window.conftest import CODE, TODAY, servo_type

RUDDER = PlanLine(
    plan="x",
    number=1,
    action=PlanAction.FIT_SERVO,
    place="RUD",
    part_type="TS-A",
    from_stock="S-003",
    price=0.0,
)


@pytest.fixture
def board(desk: Desk, qtbot: QtBot) -> RefitBoard:
    """The room on the hand-made fleet."""
    room = RefitBoard(desk)
    qtbot.addWidget(room)
    room.resize(1100, 700)
    room.show()
    return room


@pytest.fixture
def stocked(desk: Desk) -> Desk:
    """The same fleet with a servo type that the planner may buy."""
    strong = replace(servo_type("TS-BIG", 1.2), price=30.0, mass_g=45.0)
    desk.change("Enter a type", lambda edit: edit.put(strong))
    return desk


def states_of(board: RefitBoard) -> list[str]:
    """How each step of the plan stands, as it is read out."""
    return [card.accessibleName().rsplit(". ", 1)[1] for card in board.page.work.cards]


def open_plan(board: RefitBoard, qtbot: QtBot, code: str) -> None:
    board.open_plan(code)
    qtbot.waitUntil(lambda: board.page.outlook is not None)


def plan_of(desk: Desk) -> Plan:
    (plan,) = desk.records(Plan)
    assert isinstance(plan, Plan)
    return plan


def press(board: RefitBoard, state: PlanState) -> None:
    button = board.page.moves[state]
    assert button.isEnabled(), button.toolTip()
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def test_a_plan_is_begun_and_gets_a_line_by_choosing(board: RefitBoard, desk: Desk, qtbot: QtBot) -> None:
    board.aircraft.setCurrentIndex(board.aircraft.findData(CODE))
    QTest.mouseClick(board.new_button, Qt.MouseButton.LeftButton)
    assert board.currentWidget() is board.page
    lines = board.page.lines
    lines.place.setCurrentText("RUD")
    lines.part_type.setCurrentText("TS-A")
    lines.tag.setCurrentIndex(lines.tag.findData("S-003"))
    QTest.mouseClick(lines.add_button, Qt.MouseButton.LeftButton)
    (line,) = plan_of(desk).lines
    assert (line.place, line.part_type, line.from_stock, line.price) == ("RUD", "TS-A", "S-003", 0.0)
    desk.undo()
    assert plan_of(desk).lines == ()
    qtbot.waitUntil(lambda: board.page.outlook is not None)


def test_findings_before_and_after_differ_by_what_the_plan_cures(
    board: RefitBoard, desk: Desk, qtbot: QtBot
) -> None:
    code = begin_plan(desk, CODE, [RUDDER])
    open_plan(board, qtbot, code)
    outlook = board.page.outlook
    assert outlook is not None
    weak = {finding.rule for finding in outlook.difference.gone if "RUD" in finding.about}
    assert "torque-short-surface" in weak
    assert {f.rule for f in board.page.before.findings} != {f.rule for f in board.page.after.findings}


def test_a_plan_goes_from_sketch_to_the_line(board: RefitBoard, desk: Desk, qtbot: QtBot) -> None:
    code = begin_plan(desk, CODE, [RUDDER])
    open_plan(board, qtbot, code)
    press(board, PlanState.PRICED)
    press(board, PlanState.PARTS_IN)
    assert not board.page.moves[PlanState.FITTING].isEnabled()
    assert "on the bench" in board.page.missing.text()
    QTest.mouseClick(board.page.bench_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: board.page.outlook is not None)
    press(board, PlanState.FITTING)
    kept = {prediction.figure: prediction.value for prediction in plan_of(desk).predictions}
    assert 4.0 < kept["bus_v"] < 6.6
    assert "mass_g" not in kept, "the type's mass is not known"
    card = next(card for card in board.page.work.cards if card.step.line)
    assert card.tag.currentText() == "S-003"
    assert states_of(board)[0] == "First"
    assert states_of(board)[card.step.number - 1] == "Next"
    card.button.click()
    assert desk.aircraft(CODE).fit("RUD").tag == "S-003"  # type: ignore[union-attr]
    assert plan_of(desk).lines[0].done_on == TODAY
    assert states_of(board)[-1] == "Next"
    assert not board.page.moves[PlanState.BENCH_PROVED].isEnabled()
    readings = board.page.bench.readings
    assert readings.model().setData(readings.cell("RUD", "Volts at the servo"), "5,9 V")
    (check,) = desk.records(BenchCheck)
    assert (check.position, check.bus_v) == ("RUD", 5.9)
    for gate in gates():
        board.page.bench.ticks[gate.code].click()
    assert [proof.ticked_on for proof in plan_of(desk).proofs] == [TODAY] * len(gates())
    assert not board.page.bench.release_button.isEnabled()
    press(board, PlanState.BENCH_PROVED)
    bench = board.page.bench
    judgement = desk.judgement(CODE)
    assert judgement is not None
    bench_open = releasing.open_points(plan_of(desk), judgement)
    assert "Not read at RUD: current at neutral, current moving" in str(bench.missing.text())
    assert "every reading entered" not in bench.missing.text()
    bench.release_button.click()
    frame = desk.fleet.record(Airframe, CODE)
    assert frame is not None
    assert frame.state is AircraftState.ON_THE_BENCH, "it asks first"
    assert not bench.although_button.isHidden()
    bench.although_button.click()
    things = "1 thing" if len(bench_open) == 1 else f"{len(bench_open)} things"
    assert str(desk.undo_label) == f"Release {CODE} to the line with {things} open"
    frame = desk.fleet.record(Airframe, CODE)
    assert frame is not None
    assert (frame.state, frame.refit_on) == (AircraftState.ON_THE_LINE, TODAY)
    qtbot.waitUntil(lambda: board.page.outlook is not None)
    assert not board.page.moves[PlanState.FLOWN_IN].isEnabled()
    flight = Flight(aircraft=CODE, flown_on=TODAY, minutes_min=8, lowest_v=5.4, put_back_mah=300)
    desk.change("Fly it", lambda edit: edit.put(flight))
    rows = {row[0]: row[1:] for row in board.page.bench.comparison_rows.rows}
    assert rows["Lowest bus volts"][1] == "5.4 V"
    assert rows["Charge for a flight"][1] == "300 mAh"
    assert rows["Flights since"][1] == "1"
    press(board, PlanState.FLOWN_IN)
    assert plan_of(desk).state is PlanState.FLOWN_IN
    desk.undo()
    assert plan_of(desk).state is PlanState.BENCH_PROVED


def test_fitting_a_step_is_taken_back_whole(desk: Desk) -> None:
    code = begin_plan(desk, CODE, [RUDDER])
    desk.change("Fitting", lambda edit: edit.change(Plan, (code,), state=PlanState.FITTING))
    before = (desk.records(Installation), desk.records(Servo))
    plan = plan_of(desk)
    carry_out(desk, plan, plan.lines[0], "S-003")
    assert desk.records(Installation) != before[0]
    desk.undo()
    assert (desk.records(Installation), desk.records(Servo)) == before
    assert plan_of(desk).lines[0].done_on is None


def test_a_servo_of_another_type_is_refused_in_words(desk: Desk) -> None:
    code = begin_plan(desk, CODE, [RUDDER])
    desk.change("Fitting", lambda edit: edit.change(Plan, (code,), state=PlanState.FITTING))
    plan = plan_of(desk)
    with pytest.raises(Exception, match="S-004 is a TS-WEAK; the line wants a TS-A"):
        carry_out(desk, plan, plan.lines[0], "S-004")
    assert plan_of(desk).lines[0].done_on is None


def test_cards_say_what_is_missing_and_open_with_the_keyboard(
    board: RefitBoard, desk: Desk, qtbot: QtBot
) -> None:
    code = begin_plan(desk, CODE)
    card = board.shelves.cards[code]
    assert "The plan has no line yet." in card.accessibleName()
    card.setFocus()
    QTest.keyClick(card, Qt.Key.Key_Return)
    assert board.currentWidget() is board.page
    qtbot.waitUntil(lambda: board.page.outlook is not None)
    QTest.keyClick(board.page, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert board.currentWidget() is board.board


def test_every_table_of_a_plan_is_a_sound_model(board: RefitBoard, desk: Desk, qtbot: QtBot) -> None:
    open_plan(board, qtbot, begin_plan(desk, CODE, [RUDDER]))
    for table in (board.page.lines.table, board.page.bench.readings, board.page.bench.comparison):
        assert table.rows_model.rows
        QAbstractItemModelTester(table.rows_model)


def test_a_reading_far_from_the_expected_one_is_marked(desk: Desk) -> None:
    from hangar.answers.bench_checks import is_off, readings_of

    when = datetime(2031, 5, 20, 12)  # noqa: DTZ001
    check = BenchCheck(aircraft=CODE, position="AIL-L", checked_at=when, neutral_ma=90, moving_ma=200)
    desk.change("Check", lambda edit: edit.put(check))
    plan = Plan(code="P", aircraft=CODE, title="P", lines=())
    judgement = desk.judgement(CODE)
    assert judgement is not None
    row = next(row for row in readings_of(plan, judgement) if row.position == "AIL-L")
    assert is_off(row, "neutral_ma")
    assert not is_off(row, "moving_ma")
    ticked = BenchCheck(aircraft=CODE, position="AIL-L", checked_at=when.replace(hour=13), direction_ok=True)
    desk.change("Tick", lambda edit: edit.put(ticked))
    judgement = desk.judgement(CODE)
    assert judgement is not None
    after = next(row for row in readings_of(plan, judgement) if row.position == "AIL-L")
    assert (after.value("neutral_ma"), after.value("direction_ok")) == (90, True)
    assert after.check == ticked


def test_one_budget_is_spent_over_the_fleet_and_kept_as_plans(
    board: RefitBoard, stocked: Desk, qtbot: QtBot
) -> None:
    board.setCurrentWidget(board.fleet)
    board.fleet.budget.setText("100")
    with qtbot.waitSignal(board.fleet.search.ended):
        board.fleet.begin()
    fleet_answer = board.fleet.answer
    assert fleet_answer is not None
    assert fleet_answer.money <= 100
    assert {part.aircraft.code for part in fleet_answer.parts} == set(stocked.codes())
    board.fleet.keep()
    kept = {plan.aircraft for plan in stocked.records(Plan)}
    assert kept == {part.aircraft.code for part in fleet_answer.parts if part.changes}
    assert kept
    assert board.currentWidget() is board.board


def test_a_fleet_that_is_only_read_offers_no_edit(fleet: Fleet, view: ViewSettings, qtbot: QtBot) -> None:
    assert fleet.path is not None
    with Fleet.open(fleet.path, read_only=True) as reading:
        desk = Desk(reading, view, today=lambda: TODAY)
        room = RefitBoard(desk)
        qtbot.addWidget(room)
        assert not room.new_button.isEnabled()
        assert not room.front.keep_button.isEnabled()
        desk.stop()


def test_what_is_missing_before_release_is_a_list_and_gates_are_named_by_code() -> None:
    gaps = [
        fixed("The plan is fitting, not bench-proved."),
        fixed("Gate A1 is not ticked: first"),
        fixed("Gate A2 is not ticked: x"),
    ]
    words = missing_html(gaps, ["A1", "A2"])
    assert words.count("<li>") == 2
    assert "A1, A2" in words
    assert "first" not in words
    assert "<li>" not in missing_html([], [])


def test_expected_currents_are_shown_as_the_readings_are_taken(
    board: RefitBoard, desk: Desk, qtbot: QtBot
) -> None:
    code = begin_plan(desk, CODE, [RUDDER])
    open_plan(board, qtbot, code)
    readings = board.page.bench.readings
    row = readings.rows_model.rows[0].position
    bare = {column.heading: at for at, column in enumerate(readings.rows_model.columns)}
    expected = readings.model().index(0, bare["Current at\nneutral"] + 1).data()
    assert row == "RUD"
    assert expected == "10 mA"
    assert in_unit(None, "mA") is None


def checks_of(desk: Desk) -> dict[str, bool | None]:
    return {
        bench_check.position: bench_check.direction_ok
        for bench_check in desk.records(BenchCheck, aircraft=CODE)
    }


def test_b6_notes_the_directions_that_it_proves_and_takes_them_back(desk: Desk) -> None:
    code = begin_plan(desk, CODE, [RUDDER])
    plan = plan_of(desk)
    controls = {fit.code for fit in desk.aircraft(CODE).fits if fit.servo and fit.function.is_flight}
    read = BenchCheck(
        aircraft=CODE,
        position="RUD",
        checked_at=datetime(2031, 5, 20, 9),  # noqa: DTZ001
        bus_v=5.8,
    )
    desk.change("Read", lambda edit: edit.put(read))
    desk.do(releasing.tick_gate, plan, "B6", True, desk.aircraft(CODE), desk.today)
    assert checks_of(desk) == dict.fromkeys(controls, True)
    assert desk.records(BenchCheck, position="RUD") == (replace(read, direction_ok=True),)
    desk.undo()
    assert checks_of(desk) == {"RUD": None}
    desk.redo()
    desk.do(releasing.tick_gate, plan_of(desk), "B6", False, desk.aircraft(CODE), desk.today)
    assert checks_of(desk) == {"RUD": None}, "what held nothing else is gone"
    assert plan_of(desk).code == code


def test_b6_is_refused_where_a_direction_is_noted_as_wrong(desk: Desk) -> None:
    begin_plan(desk, CODE, [RUDDER])
    wrong = BenchCheck(
        aircraft=CODE,
        position="RUD",
        checked_at=datetime(2031, 5, 20, 9),  # noqa: DTZ001
        direction_ok=False,
    )
    desk.change("Read", lambda edit: edit.put(wrong))
    with pytest.raises(BadInput, match="direction of RUD is noted as wrong"):
        desk.do(releasing.tick_gate, plan_of(desk), "B6", True, desk.aircraft(CODE), desk.today)
    assert plan_of(desk).proofs == ()


def test_what_is_open_is_listed_before_a_release_and_nothing_blank_is_called_entered() -> None:
    words = missing_html([], [], ["The rudder servo is weak.", "Not read at RUD: current moving."])
    assert "every reading entered" not in words
    assert words.count("<li>") == 2
    assert "Open, and asked about at release" in words
