"""A refit is put in stages with typed money, stopped, read, copied and kept as plans in one step."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.acts import plans
from hangar.answers import plans as plans_known
from hangar.answers.reading import Progress, Stop
from hangar.base.kept_text import said_in
from hangar.parts import Plan, PlanLine
from hangar.parts.choices import PlanAction
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.refit.plan_work import begin_plan
from hangar.window.refit.refit_board import RefitBoard
from hangar.window.refit.stages_page import StagesPage
from hangar.window.room_list import PLANS
from hangar.window.rooms import Rooms
from tests.window.conftest import CODE, servo_type

LEFT = Qt.MouseButton.LeftButton


def change(place: str, price: float | None, number: int) -> PlanLine:
    return PlanLine(
        plan="x", number=number, action=PlanAction.FIT_SERVO, place=place, part_type="TS-BIG", price=price
    )


@pytest.fixture
def board(desk: Desk, qtbot: QtBot) -> Iterator[RefitBoard]:
    """The room, with a plan that gives the weak rudder and the aileron a strong servo."""
    strong = replace(servo_type("TS-BIG", 1.2), price=30.0, mass_g=45.0)
    desk.change("Enter a type", lambda edit: edit.put(strong))
    lines = [change("AIL-L", 30.0, 1), change("RUD", 30.0, 2)]
    begin_plan(desk, CODE, lines, title="Stronger")
    room = RefitBoard(desk)
    qtbot.addWidget(room)
    room.resize(1200, 800)
    with qtbot.waitActive(room):
        room.show()
        room.activateWindow()
    yield room
    room.page.search.leave()
    room.stages.search.leave()


@pytest.fixture
def page(board: RefitBoard, desk: Desk) -> StagesPage:
    """The stages of that plan, opened from its page."""
    board.open_plan(f"{CODE} R1")
    QTest.mouseClick(board.page.stages_button, LEFT)
    assert board.currentWidget() is board.stages
    return board.stages


def type_money(page: StagesPage, *amounts: str) -> None:
    while len(page.budgets.rows) > len(amounts):
        QTest.mouseClick(page.budgets.rows[-1].remove, LEFT)
    while len(page.budgets.rows) < len(amounts):
        QTest.mouseClick(page.budgets.add_button, LEFT)
    for row, text in zip(page.budgets.rows, amounts, strict=True):
        row.money.line.setFocus()
        row.money.line.selectAll()
        QTest.keyClicks(row.money.line, text)


def work_out(page: StagesPage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.search.ended):
        QTest.keyClick(page.budgets.rows[0].money.line, Qt.Key.Key_Return)


def test_what_clears_a_warning_is_fitted_first(page: StagesPage, qtbot: QtBot) -> None:
    type_money(page, "30", "5", "20,00")
    work_out(page, qtbot)
    staged = page.staged
    assert staged is not None
    assert [[line.place for bundle in stage.bundles for line in bundle.lines] for stage in staged.stages] == [
        ["RUD"],
        [],
        [],
    ]
    left = staged.stages[0].answer.left
    assert left < staged.today
    assert page.table.cell(1, "What is done").data().startswith("RUD")
    assert page.table.cell(1, "What is done").data().endswith("(30.00)")
    assert page.table.cell(1, "Work").data() == "0.7 h"
    assert page.table.cell(2, "What is done").data() == "nothing"
    assert page.table.cell(3, "At hand").data() == "25.00"
    assert "In no stage: AIL-L" in page.message.text()
    assert "the money does not reach" in page.message.text()
    assert page.picture.steps[:2] == (
        ("today", staged.today.warnings, staged.today.cautions),
        ("this month", left.warnings, left.cautions),
    )
    assert [name for name, *_ in page.picture.steps][2:] == ["next month", "the month after"]
    assert "this month: " in page.picture.accessibleDescription()
    assert "Every order was tried: proved best." in page.message.text()
    assert "It clears: " in page.why.text()
    page.table.choose_row(2)
    nothing = "2. next month: nothing.\nNothing that 5.00 pays leaves fewer warnings or cautions."
    assert page.why.text() == nothing


def test_a_stopped_search_says_that_it_is_not_proved(page: StagesPage, qtbot: QtBot) -> None:
    type_money(page, "60")
    with qtbot.waitSignal(page.search.ended):
        page.begin()
        assert page.stop_button.isEnabled()
        assert not page.start_button.isEnabled()
        QTest.mouseClick(page.stop_button, LEFT)
    assert page.staged is not None
    assert not page.staged.proved
    assert "Stopped: not proved best." in page.message.text()
    assert "tried: proved" not in page.message.text()


@pytest.mark.parametrize(("typed", "said"), [("much", '"much" is not a number'), ("-5", "0 to 10000000")])
def test_money_that_cannot_be_is_refused_beside_its_line(page: StagesPage, typed: str, said: str) -> None:
    type_money(page, "10", typed)
    QTest.mouseClick(page.start_button, LEFT)
    assert not page.search.is_running
    assert said in page.budgets.rows[1].money.refusal
    assert page.budgets.rows[0].money.refusal == ""


def test_stages_are_kept_as_plans_and_taken_back_as_one_step(
    board: RefitBoard, page: StagesPage, desk: Desk, qtbot: QtBot
) -> None:
    before = desk.records(Plan)
    type_money(page, "30", "30")
    work_out(page, qtbot)
    page.budgets.rows[1].name.setText("too late to count")
    staged = page.staged
    assert staged is not None
    wanted = [[line.place for bundle in stage.bundles for line in bundle.lines] for stage in staged.stages]
    wanted = [places for places in wanted if places]
    QTest.mouseClick(page.keep_button, LEFT)
    kept = {plan.title: plan for plan in desk.records(Plan)}
    first = kept["Stronger: this month"]
    assert [line.place for line in first.lines] == wanted[0]
    assert str(said_in(first.note)) == "Stage 1 of 2."
    assert sum(len(plan.lines) for plan in kept.values()) == 2
    assert board.currentWidget() is board.page
    assert board.page.code == first.code
    desk.undo()
    assert desk.records(Plan) == before


def test_a_stage_with_a_swap_is_kept_as_a_plan_for_each_aircraft(
    page: StagesPage, desk: Desk, qtbot: QtBot
) -> None:
    page.show_lines(CODE, (change("RUD", 30.0, 1),), {})
    type_money(page, "30", "30")
    work_out(page, qtbot)
    staged = page.staged
    assert staged is not None
    first = staged.stages[0]
    swapped = replace(first.bundles[0], elsewhere={"OTHER": (change("ELE", 0.0, 1),)})
    page._take(replace(staged, stages=(replace(first, bundles=(swapped,)), *staged.stages[1:])))
    assert "OTHER, ELE: servo TS-BIG" in page.table.cell(1, "What is done").data()
    kept: list[list[tuple[str, str]]] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            desk,
            "do",
            lambda _act, made, *_more: kept.append([(plan.aircraft, plan.lines[0].place) for plan in made]),
        )
        page._keep()
    assert kept == [[(CODE, "RUD"), ("OTHER", "ELE")]]


def test_a_plan_that_changed_meanwhile_is_not_taken_apart(page: StagesPage, desk: Desk, qtbot: QtBot) -> None:
    type_money(page, "60")
    work_out(page, qtbot)
    plan = plans_known.plan_named(desk, f"{CODE} R1")
    assert plan is not None
    desk.do(plans.remove_line, plan.lines[0])
    assert "has changed" in page.message.text()
    with qtbot.waitSignal(desk.trouble) as blocker:
        QTest.mouseClick(page.keep_button, LEFT)
    assert 'Plan "Stronger" has changed' in str(blocker.args[0])
    assert len(desk.records(Plan)) == 1


def test_the_table_is_copied_whole(page: StagesPage, qtbot: QtBot) -> None:
    type_money(page, "30", "30")
    work_out(page, qtbot)
    QTest.mouseClick(page.copy_button, LEFT)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert [line.split("\t")[0] for line in lines] == ["Stage", "1. this month", "2. next month"]
    assert all(len(line.split("\t")) == 8 for line in lines)
    QAbstractItemModelTester(page.table.rows_model)


def test_one_stage_always_stays_and_the_keys_lead_back(board: RefitBoard, page: StagesPage) -> None:
    type_money(page, "1")
    assert not page.budgets.rows[0].remove.isEnabled()
    QTest.keyClick(page, Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)
    assert board.currentWidget() is board.page


def test_working_out_a_plan_is_stopped_and_asked_again(
    board: RefitBoard, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    board.open_plan(f"{CODE} R1")
    page = board.page
    qtbot.waitUntil(lambda: page.outlook is not None)
    page.outlook = None
    stopped = threading.Event()
    begin = page.search.start

    def start(work: Callable[[Progress, Stop], object]) -> None:
        begin(lambda progress, stop: stopped.wait(900) and work(progress, stop))

    monkeypatch.setattr(page.search, "start", start)
    with qtbot.waitSignal(page.search.ended):
        page.read_again()
        page.stop_button.click()
        stopped.set()
    assert "Stopped" in page.working.text()
    assert page.outlook is None
    QTest.mouseClick(page.stop_button, LEFT)
    qtbot.waitUntil(lambda: page.outlook is not None)
    assert not page.stop_button.isVisible()


def test_the_room_leads_to_the_stages_of_a_plan(
    board: RefitBoard, desk: Desk, view: ViewSettings, qtbot: QtBot
) -> None:
    rooms = Rooms(desk)
    qtbot.addWidget(rooms)
    rooms.open_stages(desk.library().plans[0].code)
    opened = rooms.room(PLANS)
    assert isinstance(opened, RefitBoard)
    assert opened.currentWidget() is opened.stages
    assert "Stronger" in opened.stages.heading.text()
