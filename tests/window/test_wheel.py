"""The mouse wheel scrolls; it never chooses an entry, counts a number on or moves a slider."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractSlider,
    QAbstractSpinBox,
    QComboBox,
    QLabel,
    QScrollArea,
    QScrollBar,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

import hangar.window
from hangar.answers.judging import Judgement
from hangar.parts.choices import PowerKind
from hangar.window.airframe.particulars_page import ParticularsPage
from hangar.window.kit.desk import Desk
from hangar.window.kit.still_boxes import ListBox, NumberBox, Slider
from tests.window.conftest import CODE

WINDOW = Path(hangar.window.__file__).parent
OWN = WINDOW / "kit" / "still_boxes.py"
OF_QT = {
    "QComboBox",
    "QSpinBox",
    "QDoubleSpinBox",
    "QDateEdit",
    "QDateTimeEdit",
    "QTimeEdit",
    "QSlider",
    "QDial",
}
OF_QT |= {"QFontComboBox"}


def turn(widget: QWidget, steps: int = -1) -> None:
    """Turn the wheel of the mouse with the pointer in the middle of a widget, as the system tells it."""
    parent = widget.parentWidget()
    while parent is not None:
        if isinstance(parent, QScrollArea):
            parent.ensureWidgetVisible(widget)
        parent = parent.parentWidget()
    window = widget.window()
    at = widget.mapTo(window, widget.rect().center())
    QTest.wheelEvent(window.windowHandle(), QPointF(at), QPoint(0, 120 * steps))


def standing(widget: QWidget) -> object:
    """What a box shows, or where a slider stands."""
    if isinstance(widget, QComboBox):
        return widget.currentIndex()
    return widget.text() if isinstance(widget, QAbstractSpinBox) else widget.value()  # type: ignore[attr-defined]


def boxes(root: QWidget) -> Iterator[QWidget]:
    for widget in root.findChildren(QWidget):
        is_box = isinstance(widget, QComboBox | QAbstractSpinBox | QAbstractSlider)
        if is_box and widget.isVisible() and not isinstance(widget, QScrollBar):
            yield widget


@pytest.fixture(params=[ListBox, NumberBox, Slider])
def box(request: pytest.FixtureRequest, qapp: object) -> QWidget:
    made: QWidget = request.param()
    if isinstance(made, QComboBox):
        made.addItems(["Glow", "Turbine", "Petrol"])
        made.setCurrentIndex(1)
    elif isinstance(made, NumberBox | Slider):
        made.setRange(0, 10)
        made.setValue(5)
    return made


@pytest.mark.parametrize("has_focus", [False, True])
def test_the_wheel_leaves_a_box_and_scrolls_the_page(box: QWidget, qtbot: QtBot, has_focus: bool) -> None:
    page, area = QWidget(), QScrollArea()
    qtbot.addWidget(area)
    column = QVBoxLayout(page)
    column.addWidget(box)
    column.addWidget(QLabel("\n" * 80))
    area.setWidget(page)
    area.resize(300, 200)
    with qtbot.waitExposed(area):
        area.show()
    if has_focus:
        box.setFocus()
    before = standing(box)
    turn(box)
    assert standing(box) == before
    assert area.verticalScrollBar().value() > 0


def test_the_wheel_over_the_form_of_an_aircraft_edits_nothing(
    desk: Desk, judgement: Judgement, qtbot: QtBot
) -> None:
    page = ParticularsPage(desk)
    qtbot.addWidget(page)
    page.resize(1200, 700)
    page.show_judgement(judgement)
    with qtbot.waitExposed(page):
        page.show()
    qwidgets, before = list(boxes(page)), desk.fleet.history()
    assert len(qwidgets) > 5
    for qwidget in qwidgets:
        for steps in (-1, 1, 1):
            turn(qwidget, steps)
    assert desk.fleet.history() == before
    frame = next(frame for frame in desk.fleet.airframes() if frame.code == CODE)
    assert frame.power is PowerKind.GLOW


def test_every_box_of_the_window_is_made_in_the_one_place() -> None:
    made = [
        f"{path.relative_to(WINDOW)}:{node.lineno}"
        for path in WINDOW.rglob("*.py")
        if path != OWN
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in OF_QT)
        or (isinstance(node, ast.ClassDef) and any(getattr(base, "id", "") in OF_QT for base in node.bases))
    ]
    assert made == []
