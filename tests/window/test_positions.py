"""The Positions screen: dots and table belong together, every change is undoable and judged at once."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox
from pytestqt.qtbot import QtBot

from hangar.answers import bay
from hangar.parts import Channel, Installation, Position, Servo, StockItem
from hangar.parts.choices import ServoState, StockKind
from hangar.parts.outlines import OUTLINE_NAMES, load_outline
from hangar.rules.finding import Level
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.kit.desk import Desk
from hangar.window.kit.looks import LIGHT
from hangar.window.kit.outlines import path_of
from hangar.window.positions.fit_servo_dialog import FitServoDialog
from hangar.window.positions.plan_view import PlanView
from hangar.window.positions.positions_screen import PositionsScreen
from hangar.window.positions.servo_dot import DotState
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.tables.columns import CHOICES_ROLE
from tests.window.conftest import CODE, choose

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


@pytest.fixture
def screen(desk: Desk, qtbot: QtBot) -> Iterator[PositionsScreen]:
    folder = AirframeFolder(desk)
    qtbot.addWidget(folder)
    folder.resize(1300, 800)
    with qtbot.waitExposed(folder):
        folder.show()
    folder.show_aircraft(CODE)
    yield folder.positions
    folder.close()


def test_every_position_has_a_row_and_a_dot_with_its_channel(screen: PositionsScreen) -> None:
    rows = screen.table.rows_model.rows
    assert [row.code for row in rows] == ["AIL-L", "RUD", "THR"]
    assert {code: dot.state.channel for code, dot in screen.plan.dots.items()} == {
        row.code: row.fit.position.channel for row in rows
    }


def test_a_dot_carries_the_worst_level_of_its_position(screen: PositionsScreen) -> None:
    assert screen.plan.dots["RUD"].state.level is Level.WARNING
    assert "Warning" in screen.plan.dots["RUD"].toolTip()
    assert screen.plan.dots["THR"].state.empty


def test_choosing_a_dot_chooses_the_row_and_its_findings(screen: PositionsScreen, qtbot: QtBot) -> None:
    screen.plan.position_chosen.emit("RUD")
    assert screen.table.current_row.code == "RUD"
    assert screen.findings.findings
    assert all({"RUD", "S-002"} & set(finding.about) for finding in screen.findings.findings)
    screen.table.choose_row("AIL-L")
    assert screen.plan.dots["AIL-L"].isSelected()
    assert not screen.plan.dots["RUD"].isSelected()


def test_a_new_position_is_entered_beside_the_others(
    screen: PositionsScreen, desk: Desk, qtbot: QtBot
) -> None:
    screen.new_button.click()
    (dialog,) = screen.findChildren(RecordDialog)
    dialog.form.editor("code").editor.setText("ELE")  # type: ignore[union-attr]
    dialog.form.editor("name").editor.setText("elevator")  # type: ignore[union-attr]
    dialog.save()
    assert "must be given" in dialog.form.editor("function").refusal, "no position is guessed an aileron"
    choose(dialog.form.editor("function"), "Elevator")
    dialog.save()
    qtbot.waitUntil(lambda: "ELE" in [row.code for row in screen.table.rows_model.rows])
    desk.undo()
    qtbot.waitUntil(lambda: "ELE" not in [row.code for row in screen.table.rows_model.rows])


def test_several_dots_are_chosen_and_one_type_goes_to_all_in_one_step(
    screen: PositionsScreen, desk: Desk
) -> None:
    view = screen.plan.viewport()

    def middle(code: str) -> QPoint:
        dot = screen.plan.dots[code]
        return (QPointF(screen.plan.mapFromScene(dot.scenePos())) + dot.offset).toPoint()

    def marked() -> set[str]:
        return {code for code, dot in screen.plan.dots.items() if dot.isSelected()}

    QTest.mouseClick(view, LEFT, NONE, middle("AIL-L"))
    assert marked() == {"AIL-L"}
    assert not screen.several.isVisible()
    for code in ("RUD", "THR"):
        QTest.mouseClick(view, LEFT, Qt.KeyboardModifier.ControlModifier, middle(code))
    assert set(screen.chosen) == marked() == {"AIL-L", "RUD", "THR"}
    assert screen.several.title.text() == "Fit at these 3: AIL-L, RUD, THR"
    assert not screen.gauges.isVisible()
    QTest.mouseClick(view, LEFT, Qt.KeyboardModifier.ControlModifier, middle("AIL-L"))
    assert set(screen.chosen) == marked() == {"RUD", "THR"}
    QTest.mouseClick(view, LEFT, NONE, middle("THR"))
    assert marked() == {"THR"}
    assert screen.gauges.isVisible()
    corner = QPoint(2, 2)
    QTest.mousePress(view, LEFT, NONE, corner)
    for place in (view.rect().center(), view.rect().bottomRight() - corner):
        QTest.mouseMove(view, place)
    QTest.mouseRelease(view, LEFT, NONE, view.rect().bottomRight() - corner)
    assert len(screen.chosen) == len(marked()) == 3
    QTest.mouseClick(view, LEFT, NONE, corner)
    assert len(marked()) == 3, "a click beside the dots chooses nothing else"
    QTest.keyClick(screen.plan, Qt.Key.Key_F)
    screen.several.type.setEditText("TS-A")
    screen.several.main.click()
    fits = desk.aircraft(CODE).fits
    assert [fit.servo_type.code for fit in fits if fit.servo_type] == ["TS-A"] * 3
    assert len(screen.chosen) == 3, "what was fitted stays chosen"
    desk.undo()
    after = [fit.servo_type.code for fit in desk.aircraft(CODE).fits if fit.servo_type]
    assert after == ["TS-A", "TS-WEAK"]


def test_a_dot_has_a_menu_by_mouse_and_by_key(screen: PositionsScreen) -> None:
    asked: list[str] = []
    screen.plan.menu_wanted.disconnect()
    screen.plan.menu_wanted.connect(lambda code, _where: asked.append(code))
    screen.table.choose_row("RUD")
    screen.plan.setFocus()
    middle = screen.plan.viewport().rect().center()
    for reason in (QContextMenuEvent.Reason.Keyboard, QContextMenuEvent.Reason.Mouse):
        box = screen.plan.plaques["RUD"].center().toPoint()
        at = middle if reason is QContextMenuEvent.Reason.Keyboard else box
        QApplication.sendEvent(screen.plan.viewport(), QContextMenuEvent(reason, at, at))
    assert asked == ["RUD", "RUD"]
    words = [action.text() for action in screen.position_menu().actions()]
    assert {"Fit a servo…", "Copy the table", "Paste rows…"} <= set(words), words


def test_a_dragged_dot_is_stored_and_undone(screen: PositionsScreen, desk: Desk, qtbot: QtBot) -> None:
    dot = screen.plan.dots["RUD"]
    start = screen.plan.mapFromScene(dot.scenePos())
    view = screen.plan.viewport()
    QTest.mousePress(view, LEFT, NONE, start)
    for step in range(1, 9):
        QTest.mouseMove(view, start + QPointF(5 * step, -4 * step).toPoint())
    with qtbot.waitSignal(desk.touched):
        QTest.mouseRelease(view, LEFT, NONE, start + QPointF(40, -32).toPoint())
    stored = desk.fleet.record(Position, CODE, "RUD")
    assert stored is not None
    assert stored.plan_x == pytest.approx(dot.x() / 1000, abs=0.001)
    assert stored.plan_x is not None
    assert stored.plan_x > 0.55
    desk.undo()
    undone = desk.fleet.record(Position, CODE, "RUD")
    assert undone is not None
    assert undone.plan_x is None


def test_a_dot_moves_with_keys_and_stays_on_the_sheet(qtbot: QtBot) -> None:
    plan = PlanView()
    qtbot.addWidget(plan)
    outline = load_outline("jet")
    plan.show_plan(outline, (DotState("A", 1, "A", 0.995, 0.5, None),), LIGHT)
    plan.resize(400, 400)
    with qtbot.waitExposed(plan):
        plan.show()
    dot = plan.dots["A"]
    plan.setFocus()
    plan.scene().setFocusItem(dot)
    moves: list[tuple[str, float, float]] = []
    plan.dot_moved.connect(lambda *move: moves.append(move))
    for _ in range(3):
        QTest.keyClick(plan, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    assert moves[0] == ("A", 1.0, 0.5)
    assert dot.x() == outline.width


def test_an_undone_drag_puts_the_dot_back(screen: PositionsScreen, desk: Desk) -> None:
    before = screen.plan.dots["RUD"].pos()
    screen.plan.dot_moved.emit("RUD", 0.9, 0.1)
    assert screen.plan.dots["RUD"].pos() != before
    desk.undo()
    assert screen.plan.dots["RUD"].pos() == before


def test_a_spare_servo_chosen_in_the_cell_is_fitted_and_the_warning_goes(
    screen: PositionsScreen, desk: Desk, qtbot: QtBot
) -> None:
    cell = screen.table.cell("RUD", "Servo")
    screen.table.setCurrentIndex(cell)
    screen.table.edit(cell)
    box = screen.table.findChild(QComboBox)
    assert box is not None
    assert [box.itemData(at) for at in range(box.count())] == ["S-002", "S-003", "S-004", "\0off"]
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert screen.table.cell("RUD", "Servo").data() == "S-003  TS-A"
    assert str(desk.undo_label) == "Fit servo S-003 at RUD"
    taken = desk.fleet.record(Servo, "S-002")
    assert taken is not None
    assert taken.state is ServoState.IN_BAY
    difference = desk.difference(CODE)
    assert difference is not None
    assert any(finding.rule.startswith("torque-short") for finding in difference.gone)
    assert screen.plan.dots["RUD"].state.level is not Level.WARNING
    desk.undo()
    assert screen.table.cell("RUD", "Servo").data() == "S-002  TS-WEAK"


def test_a_servo_is_taken_off(screen: PositionsScreen, desk: Desk) -> None:
    screen.table.choose_row("RUD")
    screen.off_button.click()
    assert screen.table.cell("RUD", "Servo").data() == "none fitted"
    assert not screen.off_button.isEnabled()
    assert screen.plan.dots["RUD"].state.empty


def test_two_servos_change_places_in_one_step(screen: PositionsScreen, desk: Desk) -> None:
    screen.table.choose_row("RUD")
    (action,) = screen.swap_menu().actions()
    assert action.text() == "AIL-L  S-001  TS-A"
    action.trigger()
    shown = [screen.table.cell(code, "Servo").data() for code in ("AIL-L", "RUD")]
    assert shown == ["S-002  TS-WEAK", "S-001  TS-A"]
    desk.undo()
    shown = [screen.table.cell(code, "Servo").data() for code in ("AIL-L", "RUD")]
    assert shown == ["S-001  TS-A", "S-002  TS-WEAK"]
    assert len(desk.records(Installation, until_on=None)) == 2


def test_a_channel_that_is_not_recorded_is_entered_with_the_plug(screen: PositionsScreen, desk: Desk) -> None:
    assert screen.table.model().setData(screen.table.cell("THR", "Ch."), "3")
    assert desk.fleet.record(Channel, CODE, "main", 3) is not None
    assert screen.table.cell("THR", "Ch.").data() == "3"
    desk.undo()
    assert desk.fleet.record(Channel, CODE, "main", 3) is None
    assert screen.table.cell("THR", "Ch.").data() == "—"


def test_arm_and_lead_are_edited_in_the_table_with_units(screen: PositionsScreen, desk: Desk) -> None:
    model = screen.table.model()
    assert model.setData(screen.table.cell("RUD", "Arm"), "22 mm")
    assert model.setData(screen.table.cell("RUD", "Lead length"), "1 m")
    assert model.setData(screen.table.cell("RUD", "Lead gauge"), "22")
    row = screen.table.rows_model.rows[1]
    assert (row.fit.linkage.arm_mm, row.fit.lead.length_mm, row.fit.lead.awg) == (22, 1000, 22)


def test_a_linkage_that_is_not_recorded_is_entered(screen: PositionsScreen) -> None:
    assert screen.table.model().setData(screen.table.cell("THR", "Arm"), "12")
    assert screen.table.rows_model.rows[2].fit.linkage.arm_mm == 12


def test_a_gauge_without_a_lead_is_refused_with_what_to_do(
    screen: PositionsScreen, desk: Desk, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(desk.trouble) as blocker:
        assert not screen.table.model().setData(screen.table.cell("THR", "Lead gauge"), "22")
    assert str(blocker.args[0]) == "No lead is recorded at THR; enter its length first."


def test_a_number_that_cannot_be_had_says_what_is_missing(screen: PositionsScreen) -> None:
    cell = screen.table.cell("THR", "Control left")
    assert cell.data() == "—"
    assert cell.data(Qt.ItemDataRole.ToolTipRole).startswith("Not known: ")


def test_the_dialog_fits_a_new_servo_in_one_step(screen: PositionsScreen, desk: Desk, qtbot: QtBot) -> None:
    fit = desk.aircraft(CODE).fit("THR")
    assert fit is not None
    dialog = FitServoDialog(desk, fit)
    qtbot.addWidget(dialog)
    assert dialog.tag.text() == "S-005"
    dialog._tabs.setCurrentIndex(2)
    dialog.types.choose_row("TS-A")
    dialog._fit_it()
    assert screen.table.cell("THR", "Servo").data() == "S-005  TS-A"
    desk.undo()
    assert desk.fleet.record(Servo, "S-005") is None


def test_a_type_in_stock_is_fitted_as_a_new_servo_and_one_less_is_in_the_bay(
    screen: PositionsScreen, desk: Desk
) -> None:
    item = StockItem(code="servo TS-A", kind=StockKind.SERVO, part_type="TS-A", on_hand=2)
    desk.edit("Stock", lambda edit: edit.put(item))
    cell = screen.table.cell("THR", "Servo")
    words = [choice.words for choice in cell.data(CHOICES_ROLE)]
    assert "TS-A, new from Stores as S-005" in words
    assert screen.table.model().setData(cell, "\0new TS-A")
    assert screen.table.cell("THR", "Servo").data() == "S-005  TS-A"
    assert [stock_item.on_hand for stock_item in desk.records(StockItem)] == [1]
    desk.undo()
    assert [stock_item.on_hand for stock_item in desk.records(StockItem)] == [2]
    assert desk.fleet.record(Servo, "S-005") is None


def test_a_servo_from_another_place_moves_here(screen: PositionsScreen, desk: Desk, qtbot: QtBot) -> None:
    fit = desk.aircraft(CODE).fit("THR")
    assert fit is not None
    dialog = FitServoDialog(desk, fit)
    qtbot.addWidget(dialog)
    dialog._tabs.setCurrentWidget(dialog.elsewhere)
    first = dialog.elsewhere.rows_model.rows[0]
    dialog.elsewhere.setCurrentIndex(dialog.elsewhere.model().index(0, 0))
    dialog._fit_it()
    assert desk.aircraft(CODE).fit("THR").tag == first.servo  # type: ignore[union-attr]
    assert desk.aircraft(CODE).fit(first.position).tag is None  # type: ignore[union-attr]


def test_a_tag_in_use_is_refused_in_the_dialog(desk: Desk, qtbot: QtBot) -> None:
    fit = desk.aircraft(CODE).fit("THR")
    assert fit is not None
    dialog = FitServoDialog(desk, fit)
    qtbot.addWidget(dialog)
    dialog.tag.setText("S-001")
    dialog._tabs.setCurrentIndex(2)
    dialog.types.choose_row("TS-A")
    dialog._fit_it()
    assert dialog._refusal.text() == "Tag S-001 is in use; choose another one."


def test_the_next_tag_counts_on(desk: Desk) -> None:
    assert bay.next_tag(desk) == "S-005"


@pytest.mark.parametrize("name", OUTLINE_NAMES)
def test_every_outline_stays_on_its_sheet_and_is_alike_on_both_sides(name: str) -> None:
    outline = load_outline(name)
    for part in outline.parts:
        bounds = path_of(part).boundingRect()
        assert bounds.left() >= 0
        assert bounds.right() <= outline.width
        assert bounds.top() >= 0
        assert bounds.bottom() <= outline.height
    filled = [path_of(part).boundingRect() for part in outline.parts if part.filled]
    assert min(box.left() for box in filled) == pytest.approx(
        outline.width - max(box.right() for box in filled), abs=1
    )
    for across, along in outline.places.values():
        assert 0 <= across <= 1
        assert 0 <= along <= 1


@pytest.mark.parametrize("name", OUTLINE_NAMES)
def test_every_outline_leaves_ink(name: str, qtbot: QtBot) -> None:
    plan = PlanView()
    qtbot.addWidget(plan)
    plan.resize(300, 300)
    plan.show_plan(load_outline(name), (), LIGHT)
    image = plan.grab().toImage()
    line = QColor(LIGHT.line)
    inked = sum(
        abs(image.pixelColor(x, y).lightness() - line.lightness()) < 25
        for x in range(0, 300, 2)
        for y in range(0, 300, 2)
    )
    assert inked > 40
