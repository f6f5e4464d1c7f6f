"""Every room and tab has room in a small window with large and with very large text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QTableView
from pytestqt.qtbot import QtBot

from hangar.base.reader import languages
from hangar.store import Fleet
from hangar.window.findings.snag_sheet import SnagSheet
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, page_titles, speak
from hangar.window.main_window import MainWindow
from hangar.window.room_list import AIRFRAME, FINDINGS, TRY_OUT
from hangar.window.start import application
from hangar.window.tables.all_columns import AllColumns
from hangar.window.tables.rows_view import RowsView
from tests.window.fits import cut_choices, cut_off, low_tables
from tests.window.letters import shared_letters
from tests.window.pages import let_it_settle, pages_of
from tests.window.test_cut_words import cut_in

SMALL, LARGE_SCREEN = (1366, 768), (1920, 1080)
LARGE = tuple((language, 15.0) for language in languages())
VERY_LARGE = tuple((language, 20.0) for language in languages())
every_room = pytest.mark.parametrize("number", range(len(page_titles())), ids=lambda number: f"room {number}")
large_text = pytest.mark.parametrize("window", LARGE, indirect=True, ids=str)
any_text = pytest.mark.parametrize("window", LARGE + VERY_LARGE, indirect=True, ids=str)


@pytest.fixture(scope="module")
def window(
    request: pytest.FixtureRequest, demo_file: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[MainWindow]:
    """The invented fleet in a small window, in a language and with text of so many points."""
    language, points = request.param
    app = application()
    before = app.font()
    speak(app, language)
    folder = tmp_path_factory.mktemp("narrow")
    view = ViewSettings(folder / "window.ini")
    view.choose_points(points)
    made = MainWindow(view, folder)
    copy = folder / "fleet.hangar"
    copy.write_bytes(demo_file.read_bytes())
    made.take_fleet(Fleet.open(copy))
    made.resize(*SMALL)
    made.show()
    yield made
    made.close()
    made.deleteLater()
    speak(app, "en")
    app.setStyleSheet("")
    app.setFont(before)


@any_text
@every_room
def test_a_room_fits_a_screen_uncut_no_table_is_low_or_scrolls_sideways_and_no_two_texts_share_a_letter(
    window: MainWindow, number: int
) -> None:
    assert window.rooms is not None
    too_large, scrolling, unnamed, doubled, faults = [], [], [], [], set()
    for name in pages_of(window, number):
        doubled += [(name, *texts) for texts in shared_letters(window, window.rooms.room(number))]
        least = window.minimumSizeHint()
        if least.width() > SMALL[0] or least.height() > SMALL[1]:
            too_large.append((window.rooms.titles[number], name, least.width(), least.height()))
        if window.view.points > LARGE[0][1]:
            # Very large text is looked at on the large screen that it is for.
            window.resize(*LARGE_SCREEN)
            let_it_settle()
        here = (*low_tables(window), *cut_off(window), *cut_choices(window), *cut_in("", window))
        faults |= {(name, fault) for fault in here}
        window.resize(*SMALL)
        tables = [table for table in window.findChildren(RowsView) if table.isVisible()]
        # With very large text a table may scroll.
        for table in tables if window.view.points <= LARGE[0][1] else ():
            if table.horizontalScrollBar().maximum() > 0:
                scrolling.append((name, table.accessibleName()))
            buttons = [columns for columns in window.findChildren(AllColumns) if columns.isVisible()]
            if table.left_out and not any(table.left_out[-1] in button.toolTip() for button in buttons):
                unnamed.append((name, table.accessibleName(), table.left_out))
    assert too_large == []
    assert faults == set()
    assert doubled == [], "Alt with a letter means one thing"
    assert scrolling == []
    assert unnamed == [], "what a table leaves out is named beside it"


@any_text
def test_findings_fit_while_the_fleet_is_still_looked_at(window: MainWindow) -> None:
    assert window.rooms is not None
    sheet = window.rooms.room(FINDINGS)
    assert isinstance(sheet, SnagSheet)
    for level, button in sheet.levels.items():
        button.setText(level_count(level, 1234))
    sheet.message.setText("300 aircraft still to look at")
    QApplication.processEvents()
    assert sheet.minimumSizeHint().width() <= SMALL[0] // 2


def _scrolls(table: QTableView) -> int:
    QApplication.processEvents()
    return int(table.horizontalScrollBar().maximum())


@large_text
def test_the_tables_of_power_linkages_and_try_out_do_not_scroll_sideways(
    window: MainWindow, qtbot: QtBot
) -> None:
    assert window.rooms is not None
    window.rooms.enter(AIRFRAME)
    folder = window.rooms.folder
    code = "PERT"
    folder.show_aircraft(code)
    for page, table in ((folder.power, folder.power.supply.table), (folder.linkages, folder.linkages.table)):
        folder.open_page(page)
        if page is folder.power:
            folder.power.setCurrentWidget(folder.power.supply)
        qtbot.waitUntil(lambda table=table: table.model().rowCount() > 0)  # type: ignore[misc]
        assert _scrolls(table) == 0
        assert table.left_out
        page_button = (
            folder.linkages.all_columns if page is folder.linkages else folder.power.supply.all_columns
        )
        assert page_button.isVisible()
        page_button.click()
        assert table.left_out == ()
        assert _scrolls(table) > 0
        page_button.click()
        assert _scrolls(table) == 0
    window.rooms.enter(TRY_OUT)
    room = window.rooms.room(TRY_OUT)
    qtbot.waitUntil(lambda: room.table.model().rowCount() > 0)  # type: ignore[attr-defined]
    qtbot.waitUntil(lambda: _scrolls(room.table) == 0)  # type: ignore[attr-defined]


@pytest.mark.parametrize("window", VERY_LARGE, indirect=True, ids=str)
def test_the_linkages_keep_three_rows_with_very_large_text(window: MainWindow, qtbot: QtBot) -> None:
    assert window.rooms is not None
    window.rooms.enter(AIRFRAME)
    folder = window.rooms.folder
    folder.show_aircraft("MARQ")
    folder.open_page(folder.linkages)
    table = folder.linkages.table
    qtbot.waitUntil(lambda: table.model().rowCount() >= 3)
    qtbot.waitUntil(lambda: table.viewport().height() >= 3 * table.rowHeight(0))
    assert _scrolls(table) == 0
