"""Alt with a letter means one thing: no menu and no two controls of a page share a letter."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QGroupBox,
    QLabel,
    QTabBar,
    QWidget,
)

from hangar.base.reader import languages
from hangar.store import Fleet
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import speak
from hangar.window.main_window import MainWindow
from hangar.window.start import application
from tests.window.pages import pages_of


@pytest.fixture(params=languages())
def window(request: pytest.FixtureRequest, demo_file: Path, tmp_path: Path) -> Iterator[MainWindow]:
    """The invented fleet in each language."""
    app = application()
    speak(app, request.param)
    made = MainWindow(ViewSettings(tmp_path / "window.ini"), tmp_path)
    copy = tmp_path / "fleet.hangar"
    copy.write_bytes(demo_file.read_bytes())
    made.take_fleet(Fleet.open(copy))
    made.show()
    yield made
    made.close()
    made.deleteLater()
    speak(app, "en")


def letter_of(text: str) -> str | None:
    """The letter that a text is reached by.

    >>> letter_of("Save && &close"), letter_of("Close")
    ('c', None)
    """
    match = re.search(r"&(\w)", text.replace("&&", ""))
    return match.group(1).lower() if match else None


def texts_of(widget: QWidget) -> Iterator[str]:
    """Every text of a visible control below a widget that may have a letter."""
    for child in widget.findChildren(QWidget):
        if not child.isVisible():
            continue
        if isinstance(child, QTabBar):
            yield from (child.tabText(at) for at in range(child.count()))
        elif isinstance(child, QAbstractButton) or (isinstance(child, QLabel) and child.buddy() is not None):
            yield child.text()
        elif isinstance(child, QGroupBox):
            yield child.title()


def test_each_letter_means_one_thing_on_every_page(window: MainWindow) -> None:
    assert window.rooms is not None
    menus = [action.text() for action in window.menuBar().actions()]
    doubled = {}
    for number, title in enumerate(window.rooms.titles):
        for name in pages_of(window, number):
            QApplication.processEvents()
            taken: dict[str, list[str]] = {}
            for text in (*menus, *texts_of(window.rooms.room(number))):
                letter = letter_of(text)
                if letter is not None:
                    taken.setdefault(letter, []).append(text)
            for letter, texts in taken.items():
                if len(texts) > 1:
                    doubled[title, name, letter] = texts
    assert doubled == {}
