"""The whole window on the invented fleet: every room opens, reads well, and can be used by keys."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QDialog,
    QLabel,
    QListView,
    QPushButton,
    QTabBar,
    QWidget,
)
from pytestqt.qtbot import QtBot

from hangar.base.errors import StoreFault
from hangar.store import Fleet
from hangar.window.about import AboutBox
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.flight_line.cards import CARD_ROLE
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.log.due_list import DueList, days_words
from hangar.window.main_window import MainWindow
from hangar.window.room_list import AIRFRAME, DUE, FLIGHT_LINE
from hangar.window.rooms import Rooms
from hangar.window.start import application, open_window
from tests.window.conftest import opened_demo
from tests.window.letters import shared_letters
from tests.window.pages import let_it_settle, turn, turned_by

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


@pytest.fixture
def rooms(window: MainWindow, qtbot: QtBot) -> Rooms:
    return opened_demo(window, qtbot)


def everything_shown(window: MainWindow, rooms: Rooms) -> Iterator[str]:
    """Go through every room and every tab."""
    for number, title in enumerate(rooms.titles):
        rooms.enter(number)
        bars = turned_by(rooms.room(number))
        yield title
        for bar in bars:
            for at in range(bar.count()):
                words = turn(bar, at)
                let_it_settle()
                yield f"{title} / {words}"


def test_the_first_page_offers_four_ways(window: MainWindow) -> None:
    names = [button.accessibleName() for button in window.findChildren(QAbstractButton)]
    for way in (
        "Look at the invented fleet",
        "Bring in my own tables",
        "Begin an empty fleet",
        "Open a fleet",
    ):
        assert way in names
    assert window.desk is None
    assert not window.menus.actions["take out"].isEnabled()


def test_the_invented_fleet_is_copied_and_can_be_edited(window: MainWindow, rooms: Rooms) -> None:
    assert window.files.demo_path.exists()
    assert window.desk is not None
    assert not window.desk.read_only
    assert len(window.desk.codes()) >= 8


def test_an_opened_fleet_answers_to_the_arrow_keys_at_once(window: MainWindow, rooms: Rooms) -> None:
    line = rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    assert window.focusWidget() is line.cards


def test_every_aircraft_has_a_card_that_says_all_in_words(rooms: Rooms) -> None:
    line = rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    model = line.cards.model()
    spoken = [model.index(row, 0).data(Qt.ItemDataRole.AccessibleTextRole) for row in range(model.rowCount())]
    assert len(spoken) >= 8
    for words, row in zip(spoken, range(model.rowCount()), strict=True):
        card = model.index(row, 0).data(CARD_ROLE)
        assert card.code in words
        assert "flight" in words.lower()
        assert "safe to fly" not in words.lower()
    assert any("No open warnings on the data entered" in words for words in spoken)


def test_a_card_opens_its_folder_with_the_enter_key(rooms: Rooms, qtbot: QtBot) -> None:
    line = rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    line.cards.setFocus()
    line.cards.setCurrentIndex(line.cards.model().index(2, 0))
    QTest.keyClick(line.cards, Qt.Key.Key_Return)
    assert rooms.current == AIRFRAME
    assert rooms.folder.code == line.cards.model().index(2, 0).data(CARD_ROLE).code


def test_the_due_list_holds_the_whole_fleet_the_earliest_first(window: MainWindow, rooms: Rooms) -> None:
    rooms.enter(DUE)
    due = rooms.room(DUE)
    assert isinstance(due, DueList)
    desk = window.desk
    assert desk is not None
    soon = due.table.rows_model.rows
    due.later.setChecked(True)
    everything = due.table.rows_model.rows
    known = [judgement for judgement in map(desk.known, desk.codes()) if judgement is not None]
    assert len(everything) == sum(len(judgement.due) for judgement in known)
    assert 0 < len(soon) <= len(everything)
    days = [row.item.due_on for row in everything]
    assert days == sorted(days)
    assert days_words(-3) == "3 days overdue"
    assert days_words(0) == "today"


def test_cards_do_not_overlap_and_fit_the_width(rooms: Rooms) -> None:
    line = rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    QApplication.processEvents()
    places = [line.cards.visualRect(line.cards.model().index(row, 0)) for row in range(8)]
    for at, place in enumerate(places):
        assert place.right() <= line.cards.viewport().width()
        assert not any(place.intersects(other) for other in places[:at])


def test_every_page_is_named_uncut_and_within_the_window(window: MainWindow, rooms: Rooms) -> None:
    # With larger text every room is looked at in ``test_room_for_all``.
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    window.view.choose_points(10.0)
    nameless, cut, above, doubled = set(), set(), set(), set()
    for place in everything_shown(window, rooms):
        QApplication.processEvents()
        doubled |= {(place, *texts) for texts in shared_letters(window, rooms.room(rooms.current))}
        seen = [widget for widget in window.findChildren(QWidget) if widget.isVisible()]
        nameless |= {
            (place, type(widget).__name__, widget.objectName())
            for widget in seen
            if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and not _named(widget)
        }
        texts = [widget for widget in seen if isinstance(widget, QLabel | QPushButton) and _is_cut(widget)]
        if texts:
            # What was worked out beside the window may have come this moment.
            let_it_settle()
        cut |= {
            (place, widget.text()[:50], widget.size().toTuple(), _wanted(widget).toTuple())
            for widget in texts
            if widget.isVisible() and _is_cut(widget)
        }
        # No part of it flashes up as a window of its own.
        above |= {
            (place, type(other).__name__)
            for other in (*app.topLevelWidgets(), app.activeWindow() or window)
            if other.isVisible() and other is not window
        }
    least = window.minimumSizeHint()
    assert least.width() <= 1100
    assert least.height() <= 720
    assert not doubled, "Alt with a letter means one thing"
    assert not nameless
    assert not cut
    assert not above


def _named(widget: QWidget) -> bool:
    inner = widget.objectName().startswith(("qt_", "_qt")) or isinstance(widget, QTabBar)
    if inner or widget.focusProxy() is not None:
        return True
    if isinstance(widget, QAbstractButton) and widget.text():
        return True
    parent = widget.parentWidget()
    within = parent is not None and (
        isinstance(parent, QComboBox | QListView) or bool(parent.accessibleName())
    )
    return bool(widget.accessibleName()) or (within and not isinstance(widget, QPushButton))


def _wanted(widget: QLabel | QPushButton) -> QSize:
    if isinstance(widget, QLabel) and widget.wordWrap():
        return QSize(0, widget.heightForWidth(widget.width()))
    return widget.minimumSizeHint()


def _is_cut(widget: QLabel | QPushButton) -> bool:
    wanted = _wanted(widget)
    return bool(widget.text()) and (
        wanted.width() > widget.width() + 1 or wanted.height() > widget.height() + 1
    )


def test_shortcuts_do_not_clash(window: MainWindow, rooms: Rooms) -> None:
    actions = [*window.menus.actions.values(), *window.menus.rooms.actions()]
    keys = [action.shortcut().toString() for action in actions if not action.shortcut().isEmpty()]
    assert "Ctrl+Z" in keys
    assert len(keys) == len(set(keys))


def test_a_number_is_explained_beside_the_screens(window: MainWindow, rooms: Rooms, qtbot: QtBot) -> None:
    rooms.open_folder(rooms._desk.codes()[0])
    table = rooms.folder.positions.table
    row = next(row for row in table.rows_model.rows if row.survey and row.survey.load_nm)
    cell = table.cell(row.code, "Torque needed")
    table.scrollTo(cell)
    QTest.mouseClick(table.viewport(), LEFT, NONE, table.visualRect(cell).center())
    assert window.working is not None
    assert window.working.isVisible()
    assert str(row.survey.load_nm.working.formula).split()[0] in window.working.page.toPlainText()


def test_how_without_a_number_says_what_to_do(window: MainWindow, rooms: Rooms) -> None:
    rooms.rail.setFocus()
    window.ask_how()
    assert "Put the cursor on a computed number" in window.notice.sentence


def test_undo_and_redo_name_their_step(window: MainWindow, rooms: Rooms) -> None:
    rooms.open_folder(rooms._desk.codes()[0])
    table = rooms.folder.positions.table
    row = table.rows_model.rows[0]
    assert table.model().setData(table.cell(row.code, "Arm"), "11 mm")
    undo = window.menus.actions["undo"]
    assert undo.text().endswith(f"Change servo arm radius at {row.code}")
    undo.trigger()
    assert window.menus.actions["redo"].text().endswith(f"Change servo arm radius at {row.code}")


def test_a_refusal_is_told_and_goes_with_the_next_edit(window: MainWindow, rooms: Rooms) -> None:
    rooms.open_folder(rooms._desk.codes()[0])
    table = rooms.folder.positions.table
    code = table.rows_model.rows[0].code
    table.model().setData(table.cell(code, "Arm"), "9 m")
    assert "allowed is 3 mm to 100 mm" in window.notice.sentence
    table.model().setData(table.cell(code, "Arm"), "9 mm")
    assert window.notice.sentence == ""


@pytest.mark.usefixtures("expected_faults")
def test_a_fault_of_ours_opens_a_dialog_with_details(window: MainWindow, qtbot: QtBot) -> None:
    window.notice.trouble(ZeroDivisionError("by nothing"))
    (box,) = [qdialog for qdialog in window.findChildren(QDialog) if qdialog.isVisible()]
    assert "ZeroDivisionError: by nothing" in box.detailedText()  # type: ignore[attr-defined]
    box.close()
    window.notice.trouble(StoreFault("The disk is full."))
    assert window.notice.sentence == "The disk is full."


def test_a_fleet_held_by_another_window_opens_for_reading(window: MainWindow, tmp_path: Path) -> None:
    with Fleet.create(tmp_path / "held.hangar"):
        assert window.files.open_place(str(tmp_path / "held.hangar"))
        assert window.desk is not None
        assert window.desk.read_only
        assert "for reading only" in window.notice.sentence
        assert not window.menus.actions["aircraft"].isEnabled()
        window.let_go()


def test_a_file_that_is_no_fleet_is_told_of(window: MainWindow, tmp_path: Path) -> None:
    wrong = tmp_path / "letter.hangar"
    wrong.write_text("dear sir")
    assert not window.files.open_place(str(wrong))
    assert "letter.hangar" in window.notice.sentence
    assert window.desk is None


def test_an_empty_fleet_opens_every_room(window: MainWindow, tmp_path: Path) -> None:
    assert window.files.new_at(tmp_path / "empty.hangar")
    assert window.rooms is not None
    assert len(list(everything_shown(window, window.rooms))) > 10


def test_an_empty_fleet_says_how_to_begin(window: MainWindow, tmp_path: Path) -> None:
    assert window.files.new_at(tmp_path / "empty.hangar")
    assert window.rooms is not None
    line = window.rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    assert not line.none_yet.isHidden()
    assert line.cards.isHidden()


def test_tables_are_taken_out_and_brought_in(
    window: MainWindow, rooms: Rooms, tmp_path: Path, qtbot: QtBot
) -> None:
    folder = tmp_path / "tables"
    assert window.files.take_out(folder)
    assert (folder / "airframe.csv").exists()
    codes = rooms._desk.codes()
    assert window.files.new_at(tmp_path / "again.hangar")
    taking = window.files.bring_in([folder])
    assert taking is not None
    with qtbot.waitSignal(taking.done):
        pass
    assert window.desk is not None
    assert window.desk.codes() == codes


def test_the_last_fleet_opens_at_the_next_start(qtbot: QtBot, tmp_path: Path) -> None:
    application()
    first = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(first)
    first.files.new_at(tmp_path / "mine.hangar")
    first.close()
    again = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(again)
    qtbot.waitUntil(lambda: again.desk is not None)
    assert again.desk is not None
    assert again.desk.fleet.path == tmp_path / "mine.hangar"
    again.close()


def test_colours_and_text_size_last(window: MainWindow, tmp_path: Path, qtbot: QtBot) -> None:
    window.view.choose_colours("dark")
    window.view.choose_points(13)
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    assert app.font().pointSizeF() == 13
    assert app.palette().window().color().name().upper() == window.view.look.window
    assert window.view.look.is_dark
    again = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(again)
    assert again.view.colours == "dark"
    again.view.choose_points(10)
    again.view.choose_colours("light")


def test_the_about_box_carries_the_cautions_and_never_says_safe(qtbot: QtBot) -> None:
    box = AboutBox()
    qtbot.addWidget(box)
    words = " ".join(page.toPlainText() for page in box.findChildren(QWidget) if hasattr(page, "toPlainText"))
    assert "manual" in words
    assert "estimates" in words
    assert "safe to fly" not in words.lower()


def test_undoing_the_only_aircraft_leaves_no_ghost_in_the_folder(
    qtbot: QtBot, fleet: Fleet, desk: Desk
) -> None:
    folder = AirframeFolder(desk)
    qtbot.addWidget(folder)
    folder.show()
    folder.show_aircraft(desk.codes()[0])
    desk.undo()
    assert desk.codes() == ()
    assert "No aircraft is entered yet." in folder.head.pill.accessibleName()
    assert not folder.tabs.isEnabled()
    desk.redo()
    assert folder.code == desk.codes()[0]
    assert folder.choice.currentData() == folder.code
    assert folder.tabs.isEnabled()
