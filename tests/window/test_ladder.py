"""The ladder: its sentence, its rungs, what is kept of it, reserved, and put on the list of things to buy."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from hangar.base.text import text
from hangar.parts import Aircraft, Plan, PlanLine, after_plan
from hangar.parts.choices import PlanAction
from hangar.refit.answer import Answer, Because, Change, Ladder, Rung, Stay, Unit, Value
from hangar.rules.finding import Level
from hangar.window.kit.desk import Desk
from hangar.window.refit.plan_work import begin_plans
from hangar.window.refit.refit_board import RefitBoard
from hangar.window.refit.rung_words import RungRow, cleared_words, rows_of, verdict, why_not_less
from hangar.window.refit.why_not_dialog import WhyNotDialog
from tests.window.conftest import CODE

LEFT = Qt.MouseButton.LeftButton
SERVO = PlanLine(plan="R", number=1, action=PlanAction.FIT_SERVO, place="RUD", part_type="TS-A", price=40.0)
WARNING = Unit("torque-short-surface", ("RUD",), Level.WARNING)
CAUTION = Unit("pack-old", (), Level.CAUTION)
PAPER = Unit("inspection-due", (), Level.WARNING)


def answer(
    aircraft: Aircraft, after: Aircraft, lines: tuple[PlanLine, ...], stays: tuple[Unit, ...],
    today: Value, *, money: float = 0.0, proved: bool = True,
) -> Answer:  # fmt: skip
    warnings = sum(unit.level is Level.WARNING for unit in stays)
    left = Value(warnings, len(stays) - warnings, money, 0.7 * len(lines), 12.0)
    why = text("No part cures it.")
    return Answer(
        question="clear", aircraft=aircraft, after=after, proved=proved, gap=Value(0, 1, 3.0), today=today,
        left=left, looks=7,
        changes=tuple(Change(line=line, hours=0.7, mass_g=12.0, cures=(WARNING,)) for line in lines),
        stays=tuple(Stay(unit=unit, because=Because.PAPER, words=why) for unit in stays),
    )  # fmt: skip


def ladder_of(desk: Desk, *, paper: bool = False, proved: bool = True) -> Ladder:
    """Today, and one servo that clears the warning of the rudder."""
    aircraft = desk.aircraft(CODE)
    plan = Plan(code="R", aircraft=CODE, title="R", lines=(SERVO,))
    after = after_plan(aircraft, plan, desk.library())
    lasting = (PAPER,) if paper else ()
    today = Value(1 + len(lasting), 1)
    now = answer(aircraft, aircraft, (), (*lasting, WARNING, CAUTION), today)
    then = answer(aircraft, after, (SERVO,), (*lasting, CAUTION), today, money=40.0, proved=proved)
    return Ladder(
        aircraft=aircraft, rungs={Rung.TODAY: now, Rung.FREE: now, Rung.CLEAR: then, Rung.NEXT: then}
    )


@pytest.fixture
def board(desk: Desk, qtbot: QtBot) -> RefitBoard:
    """The board, turned to the ladder of the first aircraft."""
    made = RefitBoard(desk)
    qtbot.addWidget(made)
    made.resize(1200, 680)
    made.open_search(CODE)
    return made


def test_the_sentence_is_made_of_the_rungs_that_matter(desk: Desk) -> None:
    assert verdict(rows_of(ladder_of(desk)), "") == "40 clears every warning and leaves 1 caution."
    words = verdict(rows_of(ladder_of(desk, paper=True)), "EUR")
    assert words.startswith("40 EUR clears 1 warning; 1 warning no part cures: Inspection due")
    aircraft = desk.aircraft(CODE)
    for stays, wanted in (
        ((), "Nothing is needed."),
        ((CAUTION,), "No warning is open. 1 caution stay whatever is bought."),
        ((PAPER,), "No part, setting or handwork cures what is open: 1 warning."),
    ):
        today = Value(
            sum(unit.level is Level.WARNING for unit in stays),
            sum(unit.level is Level.CAUTION for unit in stays),
        )
        only = answer(aircraft, aircraft, (), stays, today)
        assert (
            verdict(rows_of(Ladder(aircraft=aircraft, rungs={Rung.TODAY: only, Rung.CLEAR: only})), "")
            == wanted
        )


def test_equal_rungs_stand_once_and_today_stands_first(desk: Desk) -> None:
    rows = rows_of(ladder_of(desk))
    assert [row.rung for row in rows] == [Rung.TODAY, Rung.CLEAR]
    assert cleared_words(rows[1]).startswith("clears 1 warning; 0.7 h of work; 12 g heavier")
    assert why_not_less(rows[1], rows[0]) == (
        "For 40 less the rung below leaves: Surface not held against the air (RUD)."
    )


def test_a_rung_that_leaves_no_less_for_no_less_money_is_left_out(desk: Desk) -> None:
    ladder = ladder_of(desk)
    dearer = replace(ladder.rungs[Rung.CLEAR], left=replace(ladder.rungs[Rung.CLEAR].left, money=55.0))
    rows = rows_of(Ladder(aircraft=ladder.aircraft, rungs={**ladder.rungs, Rung.BUDGET: dearer}))
    assert [row.price for row in rows] == [0.0, 40.0]


def test_the_rung_that_clears_is_chosen_and_shown_in_full(board: RefitBoard, desk: Desk) -> None:
    page = board.front
    assert page.verdict.text() == "Not worked out yet."
    assert not page.keep_button.isEnabled()
    page._take(ladder_of(desk))
    assert page.rungs.rung is not None
    assert page.rungs.rung.rung is Rung.CLEAR
    assert [change.line.place for change in page.rung.table.rows_model.rows] == ["RUD"]
    assert "Pack" in page.rung.stays.text()
    assert "RUD" in page.rung.picture.accessibleDescription()
    QTest.keyClick(page.rungs, Qt.Key.Key_Up)
    assert page.rung.head.text() == "Today"
    assert not page.keep_button.isEnabled()


def test_a_rung_that_is_not_proved_says_so(board: RefitBoard, desk: Desk) -> None:
    board.front._take(ladder_of(desk, proved=False))
    assert "Not proved best" in board.front.message.text()
    assert "not proved best" in board.front.rungs.item(1).text()


def test_a_rung_is_kept_once_reserved_and_to_buy(board: RefitBoard, desk: Desk, qtbot: QtBot) -> None:
    page = board.front
    page._take(ladder_of(desk))
    with qtbot.waitSignal(board.shopping_wanted):
        QTest.mouseClick(page.shopping_button, LEFT)
    QTest.mouseClick(page.reserve_button, LEFT)
    (plan,) = desk.records(Plan)
    assert [(line.place, line.part_type, line.from_stock) for line in plan.lines] == [
        ("RUD", "TS-A", "S-003")
    ]
    assert plan.code in page.message.text()
    desk.undo()
    assert desk.records(Plan)[0].lines[0].from_stock is None
    QTest.mouseClick(page.keep_button, LEFT)
    assert len(desk.records(Plan)) == 1
    assert board.currentWidget() is board.page
    qtbot.waitUntil(lambda: board.page.outlook is not None)


def test_a_swap_is_kept_as_a_plan_for_each_aircraft(board: RefitBoard, desk: Desk) -> None:
    page = board.front
    made = ladder_of(desk)
    off = replace(SERVO, from_stock="S-1", from_aircraft="OTHER", price=0.0)
    back = replace(off, number=2, place="ELE", from_stock="S-2", from_aircraft=CODE)
    there = Change(line=back, hours=0.7, mass_g=0.0, cures=(WARNING,), at="OTHER")
    clear = replace(made.rungs[Rung.CLEAR], changes=(Change(line=off, hours=0.7, mass_g=1.0), there))
    page._take(replace(made, rungs={**made.rungs, Rung.CLEAR: clear}))
    assert page.rung._words(there, None).startswith("OTHER, ELE")
    QTest.mouseClick(page.stages_button, LEFT)
    assert board.currentWidget() is board.stages
    assert "2 changes for 0.00" in board.stages.heading.text()
    kept: list[tuple[str, ...]] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(desk, "do", lambda _act, plans: kept.append(tuple(plan.aircraft for plan in plans)))
        begin_plans(desk, clear)
    assert kept == [(CODE, "OTHER")]


def test_swaps_are_asked_for(board: RefitBoard) -> None:
    form = board.front.asking
    assert form.asking().swap_with is None
    form.may_change.setCurrentIndex(2)
    asking = form.asking()
    assert asking.change_supply
    assert asking.swap_with is not None
    assert CODE in {aircraft.code for aircraft in asking.swap_with.aircraft}


def test_why_not_that_type_names_every_reason(board: RefitBoard, desk: Desk, qtbot: QtBot) -> None:
    page = board.front
    assert not page.why_not_button.isEnabled()
    page._take(ladder_of(desk))
    assert page.rung.chosen_position() == "RUD"
    QTest.mouseClick(page.why_not_button, LEFT)
    (dialog,) = page.findChildren(WhyNotDialog)
    qtbot.waitUntil(lambda: bool(dialog.model.rows))
    assert all(str(refusal.why) for _, refusal in dialog.model.rows)
    assert "RUD" in dialog.windowTitle()
    dialog.reject()


def test_a_rung_is_put_in_stages(board: RefitBoard, desk: Desk) -> None:
    board.front._take(ladder_of(desk))
    QTest.mouseClick(board.front.stages_button, LEFT)
    assert board.currentWidget() is board.stages


def test_an_amount_that_is_none_is_told(board: RefitBoard, desk: Desk, qtbot: QtBot) -> None:
    board.front.asking.budget.setText("much")
    with qtbot.waitSignal(desk.trouble) as blocker:
        board.front.begin()
    assert '"much" is not an amount' in str(blocker.args[0])


def test_what_stays_as_it_is_is_asked_for(board: RefitBoard) -> None:
    asking = board.front.asking
    action = next(action for action in asking.menu.actions() if action.data() == "RUD")
    action.setChecked(True)
    assert asking.asking().locked == {"RUD"}
    assert "RUD" in asking.keep.text()


def test_the_ladder_is_worked_out_and_stopped(board: RefitBoard, qtbot: QtBot) -> None:
    page = board.front
    with qtbot.waitSignal(page.search.ended):
        page.begin()
        page.search.stop()
    assert page.ladder is not None
    assert "not proved best" in page.message.text() or page.rows


def test_every_rung_reads_out_what_it_shows(board: RefitBoard, desk: Desk) -> None:
    board.front._take(ladder_of(desk))
    words = board.front.rungs.item(1).text()
    assert "40. Clears every warning. the least that does" in words
    assert "1 caution" in words
    assert "no warning open, if fitted as entered" in words
    row = board.front.rungs.rung
    assert isinstance(row, RungRow)
