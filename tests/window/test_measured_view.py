"""Measured and predicted in the logbook: one row a reading with its word; one can be set aside."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from hangar.parts import SetAside
from hangar.window.kit.desk import Desk
from hangar.window.log.log_page import LogPage
from hangar.window.log.measured_view import MeasuredView
from tests.window.conftest import CODE


@pytest.fixture
def view(desk: Desk, qtbot: QtBot) -> MeasuredView:
    page = LogPage(desk)
    qtbot.addWidget(page)
    page.resize(1100, 700)

    def show() -> None:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        page.show_judgement(judgement)

    desk.touched.connect(lambda _touched: show())
    desk.judged.connect(lambda *_told: show())
    show()
    page.show()
    page.setCurrentWidget(page.measured)
    return page.measured


def words(view: MeasuredView) -> list[str]:
    model = view.table.model()
    last = model.columnCount() - 1
    return [str(model.index(row, last).data()) for row in range(model.rowCount())]


def test_a_reading_is_set_aside_and_taken_back_in(view: MeasuredView, desk: Desk, qtbot: QtBot) -> None:
    assert words(view)
    view.table.selectRow(0)
    qtbot.waitUntil(lambda: view.aside.isEnabled())
    assert view.message.text()
    view.turn_aside()
    assert len(desk.records(SetAside)) == 1
    qtbot.waitUntil(lambda: "set aside" in words(view))
    row = words(view).index("set aside")
    view.table.selectRow(row)
    view.turn_aside()
    assert not desk.records(SetAside)
    qtbot.waitUntil(lambda: "set aside" not in words(view))


def test_undo_takes_a_reading_back_in(view: MeasuredView, desk: Desk) -> None:
    view.table.selectRow(0)
    view.turn_aside()
    assert desk.records(SetAside)
    desk.undo()
    assert not desk.records(SetAside)
