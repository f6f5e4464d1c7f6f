"""The first evening with Hangar: look round, swap a servo, see what that does, undo it, come back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QMenu
from pytestqt.qtbot import QtBot

from hangar.rules.finding import Finding
from hangar.store import Fleet
from hangar.window.flight_line.cards import CARD_ROLE
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.main_window import MainWindow
from hangar.window.paper.print_dialog import PrintDialog
from hangar.window.positions.position_columns import FROM_STOCK, PositionRow
from hangar.window.room_list import FLIGHT_LINE, ROOMS
from hangar.window.start import application, open_window
from hangar.window.tables.rows_view import RowsView

LEFT = Qt.MouseButton.LeftButton
NONE, CONTROL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.resize(1400, 880)
    yield made
    made.let_go()


def desk_of(window: MainWindow) -> Desk:
    assert window.desk is not None
    return window.desk


def wait_for_findings(window: MainWindow, qtbot: QtBot) -> None:
    desk = desk_of(window)
    qtbot.waitUntil(lambda: all(desk.known(code) is not None for code in desk.codes()))


def click_demo(window: MainWindow, qtbot: QtBot) -> None:
    (button,) = [
        button
        for button in window.findChildren(QAbstractButton)
        if button.accessibleName() == "Look at the invented fleet"
    ]
    QTest.mouseClick(button, LEFT)
    wait_for_findings(window, qtbot)


def open_card(window: MainWindow, code: str) -> None:
    """Walk to the aircraft's card with the arrow keys and press Enter."""
    assert window.rooms is not None
    line = window.rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    cards = line.cards
    cards.setFocus()
    QTest.keyClick(cards, Qt.Key.Key_Home)
    for _step in range(cards.model().rowCount()):
        if cards.currentIndex().data(CARD_ROLE).code == code:
            break
        QTest.keyClick(cards, Qt.Key.Key_Right)
    QTest.keyClick(cards, Qt.Key.Key_Return)
    assert window.rooms.folder.code == code


def click_cell(table: RowsView, key: str, heading: str) -> QPoint:
    index = table.cell(key, heading)
    table.scrollTo(index)
    place = table.visualRect(index).center()
    QTest.mouseClick(table.viewport(), LEFT, NONE, place)
    return place


def choose_in_cell(table: RowsView, key: str, heading: str, words: str) -> None:
    """Click the cell, press Enter, walk down the list to these words, press Enter."""
    click_cell(table, key, heading)
    QTest.keyClick(table, Qt.Key.Key_Return)
    box = table.findChild(QComboBox)
    assert box is not None
    QApplication.processEvents()
    popup = box.view()
    assert popup.isVisible()
    while popup.currentIndex().data() != words:
        before = popup.currentIndex()
        QTest.keyClick(popup, Qt.Key.Key_Down)
        assert popup.currentIndex() != before
    QTest.keyClick(popup, Qt.Key.Key_Return)


def servo_words(choice: str) -> str:
    """How the table writes the servo that a choice such as "TS-31, new from Stores as 0908" fits."""
    servo_type, tag = choice.split(", new from Stores as ")
    return f"{tag}  {servo_type}"


def findings_of(window: MainWindow, code: str) -> set[tuple[str, str, tuple[str, ...]]]:
    judgement = desk_of(window).judgement(code)
    assert judgement is not None
    return {
        (finding.rule, finding.level.value, finding.about)
        for finding in judgement.findings
        if finding.is_open
    }


def spare_and_place(window: MainWindow) -> tuple[str, PositionRow, str]:
    """An aircraft, a position on it, and the words of a type in stock that is another than the one there."""
    desk = desk_of(window)
    for code in desk.codes():
        assert window.rooms is not None
        window.rooms.open_folder(code)
        positions = window.rooms.folder.positions
        for row in positions.table.rows_model.rows:
            for choice in positions._choices(row):
                other_type = row.fit.servo is not None and row.fit.servo.servo_type not in choice.words
                if other_type and choice.value.startswith(FROM_STOCK):
                    return code, row, choice.words
    raise AssertionError("the invented fleet has no spare servo of another type")


def test_a_servo_is_swapped_seen_undone_and_found_again(window: MainWindow, qtbot: QtBot) -> None:
    click_demo(window, qtbot)
    code, row, words = spare_and_place(window)
    assert window.rooms is not None
    window.rooms.enter(FLIGHT_LINE)
    open_card(window, code)
    table = window.rooms.folder.positions.table
    old_servo = table.cell(row.code, "Servo").data()
    old_findings = findings_of(window, code)
    old_torque = table.cell(row.code, "Torque there").data()

    choose_in_cell(table, row.code, "Servo", words)

    new_servo = servo_words(words)
    qtbot.waitUntil(lambda: table.cell(row.code, "Servo").data() == new_servo)
    assert table.cell(row.code, "Torque there").data() != old_torque
    new_findings = findings_of(window, code)
    assert new_findings != old_findings
    difference = desk_of(window).difference(code)
    assert difference is not None
    assert {key(finding) for finding in difference.gone} == old_findings - new_findings
    assert window.rooms.folder.change.text().startswith("The last edit: ")
    path = desk_of(window).fleet.path
    assert path is not None

    window.close()
    assert window.desk is None
    with Fleet.open(path, read_only=True) as reopened:
        fit = reopened.aircraft(code).fit(row.code)
        assert fit is not None
        assert f"{fit.tag}  {fit.servo_type.code if fit.servo_type else ''}" == new_servo

    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    assert window.files.open_place(str(path))
    wait_for_findings(window, qtbot)
    assert window.rooms is not None
    window.rooms.open_folder(code)
    table = window.rooms.folder.positions.table
    assert table.cell(row.code, "Servo").data() == new_servo
    undo: QAction = window.menus.actions["undo"]
    assert "Fit new servo" in undo.text()
    QTest.keyClick(window, Qt.Key.Key_Z, CONTROL)
    qtbot.waitUntil(lambda: table.cell(row.code, "Servo").data() == old_servo)
    assert findings_of(window, code) == old_findings
    assert table.cell(row.code, "Torque there").data() == old_torque


def key(finding: Finding) -> tuple[str, str, tuple[str, ...]]:
    return finding.rule, finding.level.value, finding.about


def test_a_number_is_asked_how_with_the_keyboard(window: MainWindow, qtbot: QtBot) -> None:
    click_demo(window, qtbot)
    code, row, _words = spare_and_place(window)
    open_card(window, code)
    assert window.rooms is not None
    table = window.rooms.folder.positions.table
    place = table.cell(row.code, "Volts there")
    assert place.data() != "—"
    table.setFocus()
    table.setCurrentIndex(place)
    QTest.keyClick(table, Qt.Key.Key_H, CONTROL)
    assert window.working is not None
    assert window.working.isVisible()
    text = window.working.page.toPlainText()
    assert "How it was worked out" in text
    assert place.data() in text


def test_a_field_checklist_is_printed_from_the_menu(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    click_demo(window, qtbot)
    code = desk_of(window).codes()[0]
    open_card(window, code)
    out = tmp_path / "field.pdf"
    monkeypatch.setattr(
        "hangar.window.kit.asking_files.QFileDialog.getSaveFileName", lambda *_words: (str(out), "")
    )
    menu: QMenu = window.menus.print_menu
    menu.aboutToShow.emit()
    this_aircraft = next(sub for sub in menu.findChildren(QMenu) if code in sub.title())
    next(action for action in this_aircraft.actions() if action.text() == "Field checklist…").trigger()
    (dialog,) = window.findChildren(PrintDialog)
    qtbot.waitUntil(dialog.save_button.isEnabled)
    QTest.mouseClick(dialog.save_button, LEFT)
    assert str(out) in dialog.message.text()
    dialog.reject()
    pages = PdfReader(out).pages
    assert len(pages) >= 1
    words = pages[0].extract_text()
    assert code in words
    assert "safe to fly" not in words.lower()


def test_every_room_is_reached_with_keys(window: MainWindow, qtbot: QtBot) -> None:
    click_demo(window, qtbot)
    assert window.rooms is not None
    for number, pages in enumerate(ROOMS):
        QTest.keyClick(window, Qt.Key(Qt.Key.Key_1 + number), Qt.KeyboardModifier.AltModifier)
        QApplication.processEvents()
        assert window.rooms.rail.current == number
        assert window.rooms.current in pages
