"""Pages in columns never scroll sideways, and no field gets too narrow for what is written in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.kit.column_page import ColumnPage
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import folded
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.looks import LIGHT, wear
from hangar.window.packs.battery_shelf import BatteryShelf
from hangar.window.start import application
from tests.window.conftest import CODE


@pytest.fixture(params=[10.0, 15.0], ids=lambda points: f"{points:g} pt")
def points(request: pytest.FixtureRequest) -> Iterator[float]:
    app = application()
    before = app.font().pointSizeF()
    wear(app, LIGHT, request.param)
    yield request.param
    wear(app, LIGHT, before)


def check(page: ColumnPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: page.horizontalScrollBar().maximum() == 0)
    lines = [edit for edit in page.findChildren(QLineEdit) if edit.isVisibleTo(page)]
    assert lines
    for line in lines:
        assert line.width() >= line.fontMetrics().horizontalAdvance("2026-11-25") + 4, line.accessibleName()
    for label in page.findChildren(QLabel):
        if label.isVisibleTo(page) and label.wordWrap() and label.text():
            assert label.height() >= label.heightForWidth(label.width()) - 1, label.text()


@pytest.mark.parametrize("width", [640, 1080, 1600])
def test_particulars_fit_the_width_with_every_field_readable(
    desk: Desk, qtbot: QtBot, points: float, width: int
) -> None:
    folder = AirframeFolder(desk)
    qtbot.addWidget(folder)
    folder.open_page(folder.particulars)
    folder.resize(width, 640)
    with qtbot.waitExposed(folder):
        folder.show()
    folder.show_aircraft(CODE)
    check(folder.particulars, qtbot)
    folder.close()


@pytest.mark.parametrize("width", [1080, 1600])
def test_a_pack_fits_the_width_with_every_word_readable(
    desk: Desk, qtbot: QtBot, points: float, width: int
) -> None:
    shelf = BatteryShelf(desk)
    qtbot.addWidget(shelf)
    shelf.resize(width, 640)
    with qtbot.waitExposed(shelf):
        shelf.show()
    shelf.open_pack("B-01")
    qtbot.waitUntil(lambda: shelf.packs.tree.horizontalScrollBar().maximum() == 0)
    check(shelf.packs.page, qtbot)
    shelf.close()


def test_more_width_gives_more_columns(desk: Desk, qtbot: QtBot) -> None:
    page = ColumnPage()
    qtbot.addWidget(page)
    boxes = [QLabel("a box of some words " * 2) for _ in range(3)]
    qlabel, two, three = boxes
    page.arrange((((qlabel,), (two,), (three,)), ((qlabel, two), (three,)), ((qlabel, two, three),)))
    wide = max(box.minimumSizeHint().width() for box in boxes)
    with qtbot.waitExposed(page):
        page.show()
    for columns in (1, 2, 3, 1):
        page.resize(round(wide * columns + 40 * columns + 60), 300)
        assert page.column_count == columns
        assert {box.parentWidget() for box in boxes} == {page.widget()}


def test_buttons_that_find_no_room_go_on_below(qtbot: QtBot) -> None:
    frame = QWidget()
    qtbot.addWidget(frame)
    buttons = [QPushButton(f"Button number {at}") for at in range(4)]
    column = QVBoxLayout(frame)
    column.addLayout(FlowRow(*buttons))
    column.addStretch(1)
    wide = buttons[0].sizeHint().width()
    with qtbot.waitExposed(frame):
        frame.show()
    frame.resize(wide * 6, 300)
    assert len({button.y() for button in buttons}) == 1
    frame.resize(round(wide * 2.6), 300)
    assert [button.y() for button in buttons][:2] == [buttons[0].y()] * 2
    assert buttons[2].y() > buttons[0].geometry().bottom()
    assert all(button.geometry().right() <= frame.width() for button in buttons)


def test_long_labels_break_near_their_middle() -> None:
    assert folded("Span") == "Span"
    assert folded("Engine stop from the transmitter") == "Engine stop from\nthe transmitter"
    assert folded("Kraftstoffmengenmessgerät") == "Kraftstoffmengenmessgerät"
