"""Tables opened without a file: they are offered one, and their changes are not lost unasked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QAbstractButton, QApplication, QMessageBox
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe
from hangar.store import Fleet, take_out
from hangar.window.main_window import MainWindow
from hangar.window.room_list import AIRFRAME, DUE
from hangar.window.start import application, open_window
from tests.window.conftest import CODE


@pytest.fixture
def window(fleet: Fleet, qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """The hand-made fleet, opened from a folder of tables."""
    take_out(fleet, tmp_path / "tables")
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made, before_close_func=forget)
    assert made.files.open_place(str(tmp_path / "tables"))
    qtbot.waitUntil(lambda: made.desk is not None)
    yield made
    made.let_go()


def forget(window: MainWindow) -> None:
    """Let the window close without a question."""
    if window.desk is not None:
        window.desk.was_edited = False


def rename(window: MainWindow) -> None:
    assert window.desk is not None
    assert window.desk.edit("Rename", lambda edit: edit.change(Airframe, (CODE,), name="Skylark"))


def answer(words: str) -> list[str]:
    """Press a button of the question to come; returns what was asked, once it was."""
    asked: list[str] = []

    def press() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        asked.append(box.text())
        buttons: list[QAbstractButton] = [
            button for button in box.buttons() if button.text().replace("&", "") == words
        ]
        buttons[0].click()

    QTimer.singleShot(0, press)
    return asked


def test_tables_without_a_file_are_offered_one(window: MainWindow) -> None:
    assert "not kept in a fleet file" in window.notice.sentence
    assert window.notice.button.text() == "Save as a &fleet file…"
    assert not window.notice.button.isHidden()


def test_work_goes_on_in_the_file_at_the_same_place(window: MainWindow, tmp_path: Path) -> None:
    rename(window)
    assert window.rooms is not None
    window.rooms.open_folder(CODE)
    assert window.files.save_offer.keep(tmp_path / "mine")
    assert window.desk is not None
    assert window.desk.fleet.path == tmp_path / "mine.hangar"
    assert window.desk.aircraft(CODE).airframe.name == "Skylark"
    assert window.desk.undo_label == "Rename"
    assert (window.rooms.current, window.rooms.folder.code) == (AIRFRAME, CODE)
    assert "Saved to" in window.notice.sentence
    window.desk.undo()
    window.let_go()
    with Fleet.open(tmp_path / "mine.hangar") as fleet:
        assert fleet.aircraft(CODE).airframe.name == "Lark"


def test_a_room_without_an_aircraft_is_gone_back_to(window: MainWindow, tmp_path: Path) -> None:
    assert window.rooms is not None
    window.rooms.enter(DUE)
    assert window.files.save_offer.keep(tmp_path / "mine.hangar")
    assert window.rooms.current == DUE


def test_a_file_that_cannot_be_written_keeps_the_tables_open(window: MainWindow, tmp_path: Path) -> None:
    rename(window)
    assert not window.files.save_offer.keep(tmp_path / "no such folder" / "mine.hangar")
    assert window.desk is not None
    assert window.desk.fleet.is_in_memory
    assert window.desk.was_edited
    assert "mine.hangar" in window.notice.sentence


def test_closing_asks_only_when_something_was_changed(window: MainWindow) -> None:
    assert window.files.save_offer.may_leave()
    rename(window)
    asked = answer("Cancel")
    assert not window.close()
    assert asked == ["This fleet is not kept in a fleet file, and you changed it."]
    assert window.desk is not None
    answer("Lose the changes")
    assert window.close()
    assert window.desk is None


def test_another_fleet_is_not_opened_over_unsaved_changes(window: MainWindow) -> None:
    rename(window)
    asked = answer("Cancel")
    assert not window.files.open_demo()
    assert asked
    assert window.desk is not None
    assert window.desk.fleet.is_in_memory


def test_a_fleet_in_a_file_is_left_without_a_question(window: MainWindow, tmp_path: Path) -> None:
    assert window.files.new_at(tmp_path / "club.hangar")
    assert window.desk is not None
    window.desk.was_edited = True
    assert window.files.save_offer.may_leave()
