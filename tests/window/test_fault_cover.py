"""One page's or room's fault never blocks another: it says so in its place, and the rest goes on."""

from __future__ import annotations

import logging
import sys
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QMessageBox, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.kit.desk import Desk
from hangar.window.kit.fault_cover import FaultCover
from hangar.window.kit.notice import catch_faults
from hangar.window.main_window import MainWindow
from hangar.window.power.power_screen import PowerScreen
from hangar.window.room_list import DUE, SPARES
from tests.window.conftest import CODE, opened_demo


def covers(widget: QWidget) -> list[FaultCover]:
    return widget.findChildren(FaultCover)


@pytest.fixture
def folder(desk: Desk, qtbot: QtBot) -> Iterator[AirframeFolder]:
    made = AirframeFolder(desk)
    qtbot.addWidget(made)
    made.resize(1200, 700)
    with qtbot.waitExposed(made):
        made.show()
    made.show_aircraft(CODE)
    yield made
    made.close()


@pytest.mark.usefixtures("expected_faults")
def test_a_page_that_fails_says_what_to_do_and_the_others_work(
    folder: AirframeFolder, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fail(_judgement: object) -> None:
        raise KeyError(4)

    monkeypatch.setattr(folder.linkages, "show_judgement", fail)
    folder.open_page(folder.linkages)
    place = folder.linkages.parentWidget()
    assert place is not None
    (cover,) = covers(place)
    assert cover.isVisible()
    assert "go on with the other pages" in cover.sentence.text()
    assert cover.geometry() == folder.linkages.rect()
    assert [
        record.exc_info[0] for record in caplog.records if record.levelno == logging.ERROR and record.exc_info
    ] == [KeyError]
    cover.findChildren(QPushButton)[0].click()
    assert "KeyError: 4" in QGuiApplication.clipboard().text()
    folder.resize(1000, 600)
    assert cover.geometry() == folder.linkages.rect()
    folder.open_page(folder.positions)
    assert folder.positions.table.model().rowCount() == 3
    folder.open_page(folder.linkages)
    folder.show_aircraft("WREN")
    assert "Wren" in folder.choice.currentText()
    assert len(covers(place)) == 1
    monkeypatch.undo()
    folder.show_aircraft(CODE)
    assert covers(place) == []


@pytest.mark.usefixtures("expected_faults")
def test_a_page_within_a_page_fails_alone(folder: AirframeFolder, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_self: object, _judgement: object) -> None:
        raise KeyError(4)

    monkeypatch.setattr(PowerScreen, "show_judgement", fail)
    folder.open_page(folder.power)
    assert len(covers(folder.power.supply)) == 1
    folder.power.setCurrentWidget(folder.power.packs)
    assert covers(folder.power.packs) == []


@pytest.mark.usefixtures("expected_faults")
def test_a_room_that_cannot_be_built_leaves_the_other_rooms_open(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    rooms = opened_demo(window, qtbot)

    def fail() -> QWidget:
        raise RuntimeError("no such luck")

    whole = rooms._builders
    monkeypatch.setattr(rooms, "_builders", {**whole, DUE: fail})
    rooms.enter(DUE)
    assert isinstance(rooms.page, FaultCover)
    assert rooms.current == DUE
    rooms.enter(SPARES)
    assert rooms.page is rooms.room(SPARES)
    monkeypatch.undo()
    rooms.enter(DUE)
    assert rooms.page is rooms.room(DUE)
    assert covers(rooms) == []


@pytest.mark.usefixtures("expected_faults")
def test_a_fault_that_comes_again_and_again_puts_up_one_dialog(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:

    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    parent = QWidget()
    qtbot.addWidget(parent)
    with qtbot.waitExposed(parent):
        parent.show()
    monkeypatch.setattr("hangar.window.kit.notice.QApplication.activeWindow", lambda: parent)
    catch_faults()
    for _ in range(5):
        sys.excepthook(KeyError, KeyError(4), None)
    boxes = parent.findChildren(QMessageBox, options=Qt.FindChildOption.FindDirectChildrenOnly)
    assert len(boxes) == 1
    boxes[0].close()
