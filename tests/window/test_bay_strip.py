"""Servos of the bay beside the plan view: dragged onto a dot they are fitted there."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from hangar.parts import StockItem
from hangar.parts.choices import StockKind
from hangar.window.kit.desk import Desk
from hangar.window.positions.positions_screen import PositionsScreen
from tests.window.conftest import CODE

LEFT, NONE, COPY = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, Qt.DropAction.CopyAction


@pytest.fixture
def screen(desk: Desk, qtbot: QtBot) -> Iterator[PositionsScreen]:
    desk.change(
        "Put two servos in stock",
        lambda edit: edit.put(StockItem(code="N-1", kind=StockKind.SERVO, part_type="TS-A", on_hand=2)),
    )
    made = PositionsScreen(desk)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    show(made, desk)
    desk.judged.connect(lambda _code: show(made, desk))
    yield made
    made.close()


def show(screen: PositionsScreen, desk: Desk) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    screen.show_judgement(judgement)


def lines(screen: PositionsScreen) -> list[str]:
    return [screen.bay.item(row).text() for row in range(screen.bay.count())]


def drop(screen: PositionsScreen, data: QMimeData, at: QPoint) -> bool:
    """Drag over the plan view as the window system would, and let go."""
    view = screen.plan.viewport()
    for kind in (QDragEnterEvent, QDragMoveEvent):
        QApplication.sendEvent(view, kind(at, COPY, data, LEFT, NONE))
    last = QDropEvent(QPointF(at), COPY, data, LEFT, NONE)
    QApplication.sendEvent(view, last)
    return last.isAccepted()


def dot_at(screen: PositionsScreen, code: str) -> QPoint:
    return screen.plan.mapFromScene(screen.plan.dots[code].scenePos())


def tag_at(desk: Desk, code: str) -> str | None:
    fit = desk.aircraft(CODE).fit(code)
    assert fit is not None
    return fit.tag


def test_spares_and_stock_are_listed(screen: PositionsScreen) -> None:
    assert lines(screen) == ["S-003  TS-A", "S-004  TS-WEAK", "TS-A, new, 2 in Stores"]


def test_a_servo_dropped_on_a_dot_is_fitted_in_one_undoable_edit(screen: PositionsScreen, desk: Desk) -> None:
    assert drop(screen, screen.bay.mimeData([screen.bay.item(0)]), dot_at(screen, "RUD"))
    assert tag_at(desk, "RUD") == "S-003"
    show(screen, desk)
    assert "S-002  TS-WEAK" in lines(screen)
    desk.undo()
    assert tag_at(desk, "RUD") == "S-002"


def test_a_dropped_type_of_the_stock_gets_the_next_tag(screen: PositionsScreen, desk: Desk) -> None:
    assert drop(screen, screen.bay.mimeData([screen.bay.item(2)]), dot_at(screen, "THR"))
    assert tag_at(desk, "THR") == "S-005"
    left = desk.fleet.record(StockItem, "N-1")
    assert left is not None
    assert left.on_hand == 1


def test_a_drop_beside_the_dots_or_of_something_else_changes_nothing(
    screen: PositionsScreen, desk: Desk
) -> None:
    label = desk.undo_label
    drop(screen, screen.bay.mimeData([screen.bay.item(0)]), QPoint(2, 2))
    other = QMimeData()
    other.setText("S-003")
    drop(screen, other, dot_at(screen, "RUD"))
    assert str(desk.undo_label) == label
    assert tag_at(desk, "RUD") == "S-002"


def test_enter_in_the_list_fits_at_the_chosen_position(screen: PositionsScreen, desk: Desk) -> None:
    screen.table.choose_row("THR")
    screen.bay.setCurrentRow(1)
    screen.bay.setFocus()
    QTest.keyClick(screen.bay, Qt.Key.Key_Return)
    assert tag_at(desk, "THR") == "S-004"
