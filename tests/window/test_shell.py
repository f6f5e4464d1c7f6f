"""The shell: six rooms on a rail, never a second strip of tabs, one count of warnings everywhere."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QTabBar, QWidget
from pytestqt.qtbot import QtBot

from hangar.answers.judging import count_levels
from hangar.rules.finding import Level
from hangar.window.findings.snag_sheet import SnagSheet
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.strip import MOST_JOINED, JoinedStrip
from hangar.window.kit.words import room_titles
from hangar.window.main_window import MainWindow
from hangar.window.room_list import FINDINGS, FLIGHT_LINE, LADDER, PLANS, ROOM_OF
from hangar.window.rooms import Rooms
from tests.window.conftest import opened_demo
from tests.window.pages import pages_of


@pytest.fixture
def rooms(window: MainWindow, qtbot: QtBot) -> Rooms:
    return opened_demo(window, qtbot)


def test_six_rooms_each_with_an_icon_a_word_and_a_key(window: MainWindow, rooms: Rooms) -> None:
    assert len(rooms.rail.buttons) == len(room_titles()) == 6
    for number, button in enumerate(rooms.rail.buttons):
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)
        assert rooms.rail.current == number
        assert ROOM_OF[rooms.current] == number
        assert f"Alt+{number + 1}" in button.toolTip()
        picture = button.grab().toImage()
        colours = {picture.pixel(x, y) for x in range(0, picture.width(), 2) for y in range(picture.height())}
        assert len(colours) > 3, button.text()


def test_arrow_keys_on_the_rail_go_from_room_to_room(rooms: Rooms) -> None:
    rooms.rail.buttons[0].setFocus()
    QTest.keyClick(rooms.rail.buttons[0], Qt.Key.Key_Down)
    assert rooms.rail.current == 1
    QTest.keyClick(rooms.rail.buttons[1], Qt.Key.Key_Up)
    assert rooms.rail.current == 0


def test_the_same_warnings_are_counted_on_rail_cards_and_findings(
    window: MainWindow, rooms: Rooms, qtbot: QtBot
) -> None:
    assert window.desk is not None
    known = [window.desk.known(code) for code in window.desk.codes()]
    counted = count_levels(f for judgement in known if judgement for f in judgement.findings)[Level.WARNING]
    assert counted > 0
    badge = rooms.rail.buttons[ROOM_OF[FINDINGS]]
    qtbot.waitUntil(lambda: badge.count == counted)
    line = rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    assert sum(dict(card.counts).get("warning", 0) for card in line.list.cards) == counted
    sheet = rooms.room(FINDINGS)
    assert isinstance(sheet, SnagSheet)
    assert re.search(r"\d+", sheet.levels[Level.WARNING].text()).group() == str(counted)  # type: ignore[union-attr]
    for judgement in known:
        if judgement is None:
            continue
        code = judgement.aircraft.code
        window.desk.current.choose(code)
        rooms.open_folder(code)
        words = rooms.folder.counts.words
        own = count_levels(judgement.findings)[Level.WARNING]
        assert not own or re.search(rf"\b{own} warning", words), (code, words)


@pytest.mark.parametrize("number", [number for number in ROOM_OF if number not in (LADDER, PLANS)])
def test_no_page_has_a_second_strip_of_tabs(window: MainWindow, rooms: Rooms, number: int) -> None:
    for name in pages_of(window, number):
        page = rooms.page
        assert isinstance(page, QWidget)
        bars = [bar for bar in page.findChildren(QTabBar) if bar.isVisible() and bar.count() > 1]
        assert len(bars) <= 1, name


def test_a_strip_without_room_is_a_box_and_keeps_what_was_chosen(qtbot: QtBot) -> None:
    strip = JoinedStrip("Which")
    qtbot.addWidget(strip)
    for words in ("Servo", "Volts", "Control left", "Torque"):
        strip.add(words)
    strip.show()
    QApplication.processEvents()
    strip.resize(strip.sizeHint())
    numbers: list[int] = []
    strip.changed.connect(numbers.append)
    strip.choose(2)
    assert strip.box.isHidden()
    strip.resize(strip.minimumSizeHint())
    QApplication.processEvents()
    assert strip.box.isVisible()
    assert (strip.box.currentIndex(), strip.chosen, numbers) == (2, 2, [2])
    for number in range(MOST_JOINED):
        strip.add(str(number))
    strip.resize(2000, 40)
    assert strip.box.isVisible(), "a choice of many is a box"


def test_f4_opens_the_list_of_aircraft_and_the_cross_lets_go_of_the_position(
    window: MainWindow, rooms: Rooms
) -> None:
    assert window.desk is not None
    rooms.open_folder("MARQ")
    QApplication.processEvents()
    rooms.folder.positions.table.choose_row("ELE-L")
    current = window.desk.current
    assert (current.aircraft, current.position) == ("MARQ", "ELE-L")
    head = rooms.folder.head
    assert "ELE-L" in head.place.accessibleName()
    head.drop_button.click()
    assert (current.aircraft, current.position) == ("MARQ", None)
    QTest.keyClick(window, Qt.Key.Key_F4)
    QApplication.processEvents()
    assert head.choice.view().isVisible()
    head.choice.hidePopup()


def test_a_dot_is_chosen_by_typing_its_channel(window: MainWindow, rooms: Rooms) -> None:
    rooms.open_folder("MARQ")
    QApplication.processEvents()
    screen = rooms.folder.positions
    wanted = next(row for row in screen.table.rows_model.rows if row.fit.position.channel == 4)
    screen.plan.setFocus()
    QTest.keyClick(screen.plan, Qt.Key.Key_4)
    assert screen.table.current_row.fit.position.channel == wanted.fit.position.channel
    words = [action.text() for action in screen.position_menu().actions()]
    assert "Fit a servo…" in words
    assert "Take the servo off" in words


def test_no_plaque_lies_on_a_dot_or_on_another(window: MainWindow, rooms: Rooms) -> None:
    window.resize(1400, 880)
    for code in window.desk.codes() if window.desk else ():
        rooms.open_folder(code)
        QApplication.processEvents()
        plan = rooms.folder.positions.plan
        boxes = list(plan.plaques.values())
        assert boxes, code
        for at, box in enumerate(boxes):
            assert not any(box.intersects(other) for other in boxes[:at]), code
            for dot in plan.dots.values():
                assert not box.contains(plan._middle(dot)), (code, dot.state.code)
