"""File dialogs begin where the keeper's files are, never where the program hides its own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.start import application


class Demand:
    """Stands in for the system's dialogs: keeps what they proposed and answers with a path."""

    def __init__(self) -> None:
        self.proposed: list[Path] = []
        self.answer = ""

    def one(self, _parent: object, _title: str, proposed: str, *_kinds: str) -> tuple[str, str]:
        self.proposed.append(Path(proposed))
        return self.answer, ""

    def many(self, _parent: object, _title: str, proposed: str, *_kinds: str) -> tuple[list[str], str]:
        self.proposed.append(Path(proposed))
        return [], ""

    def folder(self, _parent: object, _title: str, proposed: str) -> str:
        self.proposed.append(Path(proposed))
        return ""


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Demand:
    made = Demand()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", made.one)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", made.one)
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", made.many)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", made.folder)
    return made


@pytest.fixture
def documents(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "Documents"
    made.mkdir()
    monkeypatch.setattr(QStandardPaths, "writableLocation", lambda _which: str(made))
    return made


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> MainWindow:
    application()
    own = tmp_path / "share" / "hangar"
    own.mkdir(parents=True)
    made = MainWindow(ViewSettings(tmp_path / "window.ini"), own)
    qtbot.addWidget(made)
    return made


ASKS: dict[str, Callable[[MainWindow], object]] = {
    "new": lambda window: window.files.ask_new(),
    "open": lambda window: window.files.ask_open(),
    "bring in": lambda window: window.files.ask_bring_in(),
    "take out": lambda window: window.files.ask_take_out(),
    "copy": lambda window: window.files.ask_copy(),
    "restore": lambda window: window.files.ask_restore(),
    "keep": lambda window: window.files.save_offer.ask(),
}


@pytest.mark.parametrize("name", list(ASKS))
def test_the_keepers_documents_are_proposed(
    name: str, window: MainWindow, asked: Demand, documents: Path
) -> None:
    ASKS[name](window)
    (proposed,) = asked.proposed
    assert documents in (proposed, proposed.parent)


def test_the_folder_used_last_is_proposed_next_and_after_a_start(
    window: MainWindow, asked: Demand, documents: Path, tmp_path: Path
) -> None:
    club = tmp_path / "club"
    club.mkdir()
    asked.answer = str(club / "ours.hangar")
    window.files.ask_new()
    window.let_go()
    asked.answer = ""
    window.files.ask_open()
    assert asked.proposed == [documents / "fleet.hangar", club]
    assert ViewSettings(tmp_path / "window.ini").folder == club


def test_the_programs_own_folder_is_never_proposed(
    window: MainWindow, asked: Demand, documents: Path, tmp_path: Path
) -> None:
    window.view.remember_folder(tmp_path / "share" / "hangar")
    window.files.ask_new()
    assert asked.proposed == [documents / "fleet.hangar"]


def test_a_folder_that_is_gone_is_not_proposed(window: MainWindow, documents: Path, tmp_path: Path) -> None:
    window.view.remember_folder(tmp_path / "stick")
    assert window.view.folder == documents
