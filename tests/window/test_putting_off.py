"""What is due is put off with a reason, by dragging its ring or in the line below the list."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from hangar.parts import PutOff
from hangar.window.kit.desk import Desk
from hangar.window.kit.due_strip import DueStrip, due_day, put_off_words
from hangar.window.log.due_list import DueList
from tests.window.conftest import TODAY, judged


@pytest.fixture
def due(desk: Desk, qtbot: QtBot) -> DueList:
    judged(desk)
    shown = DueList(desk)
    qtbot.addWidget(shown)
    shown.resize(1100, 700)
    with qtbot.waitExposed(shown):
        shown.show()
    return shown


def _ring(strip: DueStrip) -> tuple[QPoint, int]:
    """Where the first ring is, and how many things it stands for."""
    strip.repaint()
    _box, middle, items = strip._rings[0]
    return middle.toPoint(), len(items)


def _drag(strip: DueStrip, days: int) -> None:
    """Drag the first ring over so many days from today."""
    start, _count = _ring(strip)
    _names, left, step = strip._columns()
    end = QPoint(round(left + (days + 0.5) * step), start.y())
    QTest.mousePress(strip, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(strip, end)
    strip.repaint()
    QTest.mouseRelease(strip, Qt.MouseButton.LeftButton, pos=end)


def test_a_dragged_ring_asks_for_a_reason_and_what_it_stands_for_stays_due(due: DueList, desk: Desk) -> None:
    _where, count = _ring(due.strip)
    before = [row.item.days for row in due.table.rows_model.rows]
    _drag(due.strip, 12)
    assert due.putting_off.until.day == TODAY + timedelta(days=12)
    assert due.putting_off.reason.hasFocus()
    assert not desk.records(PutOff)
    QTest.keyClicks(due.putting_off.reason, "away until then")
    QTest.keyClick(due.putting_off.reason, Qt.Key.Key_Return)
    put_off = desk.records(PutOff)
    assert len(put_off) == count
    assert {(record.until_on, record.reason) for record in put_off} == {
        (TODAY + timedelta(days=12), "away until then")
    }
    judged(desk)
    due.read_again()
    rows = due.table.rows_model.rows
    assert [row.item.days for row in rows] == before
    assert sum("away until then" in put_off_words(row.item) for row in rows) == count
    assert "away until then" in due.strip.accessibleDescription()
    due.putting_off.take_back.click()
    assert not desk.records(PutOff)
    desk.undo()
    assert desk.records(PutOff) == put_off
    desk.undo()
    assert not desk.records(PutOff)


def test_neither_a_missing_reason_nor_a_day_that_is_no_later_is_taken(
    due: DueList, desk: Desk, qtbot: QtBot
) -> None:
    _drag(due.strip, 12)
    with qtbot.waitSignal(desk.trouble) as blocker:
        due.putting_off.give.click()
    assert "reason is empty" in str(blocker.args[0])
    due.putting_off.reason.setText("no time")
    for typed, words in (("today", "allowed is a day after"), ("32.13.", "allowed is a day such as")):
        due.putting_off.until.setText(typed)
        with qtbot.waitSignal(desk.trouble) as blocker:
            due.putting_off.give.click()
        assert words in str(blocker.args[0])
    assert not desk.records(PutOff)


def test_a_ring_dragged_to_an_earlier_day_or_on_the_flight_line_asks_nothing(
    due: DueList, desk: Desk, qtbot: QtBot
) -> None:
    asked: list[object] = []
    due.strip.put_off.connect(lambda *what: asked.append(what))
    _drag(due.strip, 0)
    assert asked == []
    _drag(due.strip, 1)
    assert len(asked) == 1
    elsewhere = DueStrip(desk.view)
    qtbot.addWidget(elsewhere)
    elsewhere.put_off.connect(lambda *what: asked.append(what))
    every = [due_day(row.aircraft, row.item) for row in due.table.rows_model.rows]
    elsewhere.show_due([every[0].lane], every, desk.today, 21)
    elsewhere.resize(due.strip.size())
    with qtbot.waitExposed(elsewhere):
        elsewhere.show()
    _drag(elsewhere, 12)
    assert len(asked) == 1


def test_the_row_that_is_chosen_is_put_off_by_keys(due: DueList, desk: Desk) -> None:
    row = due.table.rows_model.rows[0]
    due.table.choose_row((row.aircraft, row.item.what, row.item.key))
    due.putting_off.until.setText("+20")
    QTest.keyClicks(due.putting_off.reason, "new pack ordered")
    QTest.keyClick(due.putting_off.reason, Qt.Key.Key_Return)
    [record] = desk.records(PutOff)
    assert (record.duty, record.about) == (row.item.what, row.item.key)
    assert record.until_on == TODAY + timedelta(days=20)
