"""A start opens where the last one ended: room, aircraft, position, tab, panes, window, fleets."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QApplication, QComboBox, QMenu
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe
from hangar.store import Fleet
from hangar.window.kit.looks import DARK, FONT, LIGHT, wear
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.preferences import Preferences, SeatPage
from hangar.window.room_list import AIRFRAME, COMPARE, FLIGHT_LINE, LADDER, PACKS, ROOMS, SHOPPING, TRY_OUT
from hangar.window.seat_memory import fill_recent, recent_fleets
from hangar.window.start import application
from tests.window.conftest import CODE


def window_on(path: Path, folder: Path, qtbot: QtBot) -> MainWindow:
    application()
    made = MainWindow(ViewSettings(folder / "window.ini"), folder)
    qtbot.addWidget(made)
    made.show_welcome()
    made.show()
    assert made.files.open_place(str(path))
    QApplication.processEvents()
    return made


@pytest.fixture
def path(tmp_path: Path, small_file: Path) -> Path:
    return Path(shutil.copy(small_file, tmp_path / small_file.name))


def test_all_six_rooms_keep_aircraft_and_position(path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    window = window_on(path, tmp_path, qtbot)
    assert window.rooms is not None
    assert window.desk is not None
    window.rooms.open_folder(CODE)
    window.rooms.folder.positions.table.choose_row("RUD")
    for room, pages in enumerate(ROOMS):
        window.rooms.enter_room(room)
        for page in pages:
            window.rooms.enter(page)
            QApplication.processEvents()
            here = window.desk.current
            assert (page, here.aircraft, here.position) == (page, CODE, "RUD")
    for page in (COMPARE, TRY_OUT):
        window.rooms.enter(page)
        place = window.rooms.room(page).place  # type: ignore[attr-defined]
        assert (place.code, place.fit.code) == (CODE, "RUD")
    window.close()


def test_a_start_opens_where_the_last_ended(path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    first = window_on(path, tmp_path, qtbot)
    assert first.rooms is not None
    first.rooms.enter(SHOPPING)
    first.rooms.open_folder(CODE)
    first.rooms.folder.positions.table.choose_row("RUD")
    first.rooms.folder.tabs.setCurrentIndex(2)
    first.resize(790, 612)
    first.close()
    again = window_on(path, tmp_path, qtbot)
    assert again.rooms is not None
    assert again.desk is not None
    assert again.rooms.current == AIRFRAME
    assert again.rooms.folder.tabs.currentIndex() == 2
    assert (again.desk.current.aircraft, again.desk.current.position) == (CODE, "RUD")
    assert again.size() == QSize(790, 612)
    again.rooms.enter_room(4)
    assert again.rooms.current == SHOPPING
    again.close()


def test_a_missing_aircraft_opens_the_flight_line(path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    first = window_on(path, tmp_path, qtbot)
    assert first.rooms is not None
    first.rooms.open_folder("WREN")
    first.close()
    with Fleet.open(path) as fleet:
        fleet.edit("Remove", lambda edit: edit.remove(Airframe, ("WREN",)))
    again = window_on(path, tmp_path, qtbot)
    assert again.rooms is not None
    assert again.rooms.current == FLIGHT_LINE
    again.close()


def test_what_was_kept_by_hand_and_fits_nothing_is_passed_over(
    path: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    view = ViewSettings(tmp_path / "window.ini")
    view.keep("places", {str(path): {"page": 99, "pages": [0, "x"], "aircraft": CODE, "tab": "two"}})
    view.keep("recent", [7, None, "/nowhere.hangar"])
    view.keep("window", "no such thing")
    window = window_on(path, tmp_path, qtbot)
    assert window.rooms is not None
    assert window.rooms.current == FLIGHT_LINE
    assert recent_fleets(view) == [str(path)]
    window.close()


def test_fleets_opened_last_are_listed_and_opened_again(path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    other = Path(shutil.copy(path, tmp_path / "other.hangar"))
    window = window_on(path, tmp_path, qtbot)
    assert window.files.open_place(str(other))
    menu = QMenu(window)
    fill_recent(menu, window)
    assert [action.text().split()[0] for action in menu.actions()] == ["other", path.stem]
    menu.actions()[1].trigger()
    assert window.desk is not None
    assert window.desk.fleet.path == path
    window.close()


def test_a_pane_keeps_the_width_that_was_chosen(path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    first = window_on(path, tmp_path, qtbot)
    assert first.rooms is not None
    first.resize(1400, 800)
    first.rooms.open_folder(CODE)
    halves = first.rooms.folder.positions.panes.halves
    halves.setSizes([700, sum(halves.sizes()) - 700])
    halves.splitterMoved.emit(700, 1)
    chosen = halves.sizes()[0] / sum(halves.sizes())
    first.close()
    again = window_on(path, tmp_path, qtbot)
    assert again.rooms is not None
    again.resize(1400, 800)
    again.rooms.enter(AIRFRAME)
    splitter = again.rooms.folder.positions.panes.halves
    qtbot.waitUntil(lambda: abs(splitter.sizes()[0] / sum(splitter.sizes()) - chosen) < 0.03)
    again.close()


def test_stores_and_refit_open_on_their_first_page_at_the_first_time(
    path: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    window = window_on(path, tmp_path, qtbot)
    assert window.rooms is not None
    window.rooms.enter_room(4)
    assert window.rooms.current == PACKS
    window.rooms.enter_room(5)
    assert window.rooms.current == LADDER
    window.close()


def test_order_and_columns_of_a_table_are_found_again(path: Path, tmp_path: Path, qtbot: QtBot) -> None:
    first = window_on(path, tmp_path, qtbot)
    assert first.rooms is not None
    first.rooms.open_folder(CODE)
    screen = first.rooms.folder.positions
    screen.table.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    screen.all_columns.setChecked(True)
    order = [screen.table.model().index(row, 1).data() for row in range(3)]
    first.close()
    again = window_on(path, tmp_path, qtbot)
    assert again.rooms is not None
    screen = again.rooms.folder.positions
    assert [screen.table.model().index(row, 1).data() for row in range(3)] == order == sorted(order)[::-1]
    assert screen.all_columns.isChecked()
    assert screen.table.shows_all
    assert screen.table.left_out == ()
    again.close()


def test_preferences_hold_looks_language_and_units_in_one_place(
    path: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    window = window_on(path, tmp_path, qtbot)
    assert window.desk is not None
    window.menus.actions["preferences"].trigger()
    box = window.findChild(Preferences)
    assert box is not None
    seat = box.seat
    view = window.view
    pick(seat.colours, "dark")
    assert view.look is DARK
    assert QApplication.palette().window().color().name().upper() == DARK.window
    seat.points.setValue(13)
    assert QApplication.font().pointSizeF() == 13.0
    pick(seat.face, "desktop")
    own = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).family()
    assert QApplication.font().family() == own
    pick(seat.face, "own")
    assert QApplication.font().family() == FONT
    pick(box.fleet.boxes["torque"], "ozf in")
    assert view.units.torque == "ozf in"
    assert str(window.desk.undo_label) == "Choose units"
    view.keep("panes/positions", [200, 700])
    seat.forget.click()
    assert view.kept("panes/positions", []) == []
    spoken: list[str] = []
    other = SeatPage(view, lambda: spoken.append(view.language))
    qtbot.addWidget(other)
    pick(other.language, "de")
    assert spoken == ["de"]
    box.close()
    window.close()
    wear(application(), LIGHT, 10.0)


def pick(box: QComboBox, value: str) -> None:
    """Choose an entry by its value, as a keeper does."""
    at = box.findData(value)
    assert at >= 0
    box.setCurrentIndex(at)
    box.activated.emit(at)
