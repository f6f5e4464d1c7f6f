"""No label and no button is cut off, not even in a language whose every phrase is longer than ours."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QWidget

from hangar.store import Fleet
from hangar.window.kit import words
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import page_titles
from hangar.window.main_window import MainWindow
from hangar.window.room_list import FLIGHT_LINE
from hangar.window.start import application
from hangar.window.tables.all_columns import _CutLabel
from tests.pseudo import OPEN, pseudo_reader
from tests.window.pages import pages_of

SIZE = 1366, 768
SLACK_PX = 2


@pytest.fixture(scope="module")
def window(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[MainWindow]:
    """The invented fleet in a small window, in the language made of marks."""
    application()
    before = words._reading[0]
    words._reading[0] = pseudo_reader()
    folder = tmp_path_factory.mktemp("marks")
    copy = folder / "fleet.hangar"
    copy.write_bytes(demo_file.read_bytes())
    made = MainWindow(ViewSettings(folder / "window.ini"), folder)
    made.take_fleet(Fleet.open(copy))
    made.resize(*SIZE)
    made.show()
    yield made
    made.close()
    made.deleteLater()
    words._reading[0] = before


def is_cut(widget: QWidget) -> bool:
    """Whether what is written on it has no room."""
    if isinstance(widget, QLabel):
        # What names left-out columns is cut on purpose, and whole in its tip.
        if isinstance(widget, _CutLabel):
            return False
        if not widget.text() or widget.pixmap().width() or widget.textFormat() is Qt.TextFormat.RichText:
            return False
        if widget.wordWrap():
            return bool(widget.heightForWidth(widget.width()) > widget.height() + SLACK_PX)
        return bool(widget.sizeHint().width() > widget.width() + SLACK_PX)
    if isinstance(widget, QAbstractButton):
        # A button of one sign is as narrow as it was made.
        return len(widget.text()) > 1 and widget.sizeHint().width() > widget.width() + SLACK_PX
    return False


@pytest.mark.parametrize("number", range(len(page_titles())), ids=lambda number: f"room {number}")
def test_no_label_and_no_button_is_cut(window: MainWindow, number: int) -> None:
    cut, said = set(), 0
    for name in pages_of(window, number):
        QApplication.processEvents()
        for widget in window.findChildren(QWidget):
            if widget.isVisible() and isinstance(widget, QLabel | QAbstractButton):
                said += OPEN in widget.text()
                if is_cut(widget):
                    cut.add(f"{name}: {type(widget).__name__} {widget.text()[:70]!r}")
    assert said or number == FLIGHT_LINE, "the cards of the first room are drawn"
    assert sorted(cut) == []
