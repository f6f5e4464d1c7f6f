"""From paper and tablet back into the fleet, in the real window."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from hangar.acts import files
from hangar.parts import BenchCheck, LoadTest
from hangar.sheets import SheetStyle, write_sheet
from hangar.window.main_window import MainWindow
from hangar.window.paper.sheet_readings import SheetReadings
from hangar.window.start import application, open_window
from tests.sheets.cases import demo_case
from tests.sheets.filling import TICK, fill_in_viewer


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    application()
    path = tmp_path / "fleet.hangar"
    files.demo_fleet(path).close()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    assert made.files.open_place(str(path))
    qtbot.waitUntil(lambda: made.desk is not None)
    yield made
    made.let_go()


def test_a_tablet_s_sheet_is_dropped_on_the_window_and_taken_back_with_undo(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet("field", [demo_case("MARQ")], out, SheetStyle(fillable=True))
    filled = fill_in_viewer(out, tmp_path / "filled.pdf", {"MARQ ELE-L Control": TICK})
    window.files.drop.take([filled])
    qtbot.waitUntil(lambda: window.notice.sentence.startswith("Taken: "))
    assert window.desk is not None
    checks = window.desk.fleet.records(BenchCheck, aircraft="MARQ")
    assert [check.position for check in checks if check.checked_at.date() == date.today()] == ["ELE-L"]
    assert window.desk.undo_label == "Bring in filled.pdf"
    window.undo()
    assert not any(
        bench_check.checked_at.date() == date.today()
        for bench_check in window.desk.fleet.records(BenchCheck, aircraft="MARQ")
    )


def test_a_filled_sheet_is_typed_in_from_the_menu(window: MainWindow, qtbot: QtBot) -> None:
    menu: QMenu = window.menus.print_menu
    menu.aboutToShow.emit()
    assert window.menus.actions["readings"] in menu.actions()
    window.menus.actions["readings"].trigger()
    page = window.findChild(SheetReadings)
    assert page is not None
    qtbot.waitUntil(page.isActiveWindow)
    page.choose("field", "MARQ")
    for what, text in (("At rest", "5,4 V"), ("Read", "5.2")):
        entry = page.line("B021", what).entry
        entry.setFocus()
        QTest.keyClicks(entry, text)
    QTest.keyClick(page, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert page.message.text().startswith("Kept: ")
    assert window.desk is not None
    assert any(
        (test.rest_v, test.loaded_v) == (5.4, 5.2)
        for test in window.desk.fleet.records(LoadTest, pack="B021")
        if test.tested_at.date() == date.today()
    )
    page.close()
