"""No label and no button is cut off, in German and in a language whose every phrase is longer than ours."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QDialog,
    QDialogButtonBox,
    QGroupBox,
    QLabel,
    QPushButton,
    QTextEdit,
    QWidget,
)

import hangar.window
from hangar.base.reader import Reader
from hangar.store import Fleet
from hangar.window.kit import words
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import page_titles
from hangar.window.main_window import MainWindow
from hangar.window.paper.print_dialog import PrintDialog
from hangar.window.room_list import FLIGHT_LINE
from hangar.window.start import application
from hangar.window.tables.all_columns import _CutLabel
from tests.pseudo import OPEN, pseudo_reader
from tests.scenes import is_drawn, wait_for
from tests.window.dialogs import all_dialogs
from tests.window.fits import cut_off, low_tables
from tests.window.letters import shared_letters
from tests.window.pages import let_it_settle, pages_of

SIZE = 1366, 768
HANGAR_WINDOW = Path(hangar.window.__file__).parent
SLACK_PX = 2


@pytest.fixture(scope="module", params=["marks", "de"])
def window(
    request: pytest.FixtureRequest, demo_file: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[MainWindow]:
    """The invented fleet in a small window, in German or in the language made of marks."""
    application()
    before = words._reading[0]
    words._reading[0] = pseudo_reader() if request.param == "marks" else Reader(request.param)
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
    if isinstance(widget, QGroupBox):
        return widget.fontMetrics().horizontalAdvance(widget.title()) > widget.width()
    return False


def words_on(widget: QWidget) -> str:
    """What is written on a label, a button or a group."""
    if isinstance(widget, QGroupBox):
        return widget.title()
    return widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""


def cut_in(name: str, shown: QWidget) -> set[str]:
    """What is cut of all that is seen within a widget, and stays so when it has been laid out."""
    parts = [widget for widget in shown.findChildren(QWidget) if widget.isVisible() and is_cut(widget)]
    if parts:
        let_it_settle()
    return {
        f"{name}: {type(widget).__name__} {words_on(widget)[:70]!r}"
        for widget in parts
        if widget.isVisible() and is_cut(widget)
    }


def is_marked(shown: QWidget) -> bool:
    """Whether anything seen within a widget is said in the language made of marks."""
    if words.current_reader().language == "de":
        return True
    parts = shown.findChildren(QWidget)
    texts = [part.text() for part in parts if isinstance(part, QLabel | QAbstractButton)]
    texts += [part.toPlainText() for part in parts if isinstance(part, QTextEdit)]
    return any(OPEN in text for text in texts)


@pytest.mark.parametrize("number", range(len(page_titles())), ids=lambda number: f"room {number}")
def test_no_label_and_no_button_is_cut_and_no_two_share_a_letter(window: MainWindow, number: int) -> None:
    assert window.rooms is not None
    cut, doubled, marked = set(), [], False
    for name in pages_of(window, number):
        QApplication.processEvents()
        marked |= is_marked(window)
        doubled += [(name, *texts) for texts in shared_letters(window, window.rooms.room(number))]
        cut |= {*cut_in(name, window), *low_tables(window), *cut_off(window)}
    assert doubled == []
    assert marked or number == FLIGHT_LINE, "the cards of the first room are drawn"
    assert sorted(cut) == []


def has_default(dialog: QDialog) -> bool:
    """Whether Return presses a button, where a dialog has one that does what it is for."""
    role = QDialogButtonBox.ButtonRole
    boxes = dialog.findChildren(QDialogButtonBox)
    doing = [box for box in boxes for made in box.buttons() if box.buttonRole(made) is role.AcceptRole]
    buttons = [button for button in dialog.findChildren(QPushButton) if button.isVisible()]
    return not doing or any(button.isDefault() for button in buttons)


@pytest.mark.usefixtures("expected_faults")
def test_no_label_and_no_button_of_any_dialog_there_is_is_cut(window: MainWindow) -> None:
    assert window.desk is not None
    cut, unmarked, large, without_default, kinds = set(), set(), {}, set(), set()
    for name, make in all_dialogs(window.desk, window):
        dialog = make()
        kinds |= {kind.__name__ for kind in type(dialog).__mro__}
        dialog.show()
        QApplication.processEvents()
        if isinstance(dialog, PrintDialog):
            wait_for(partial(is_drawn, dialog), "the preview of a sheet")
        cut |= cut_in(name, dialog)
        unmarked |= set() if is_marked(dialog) else {name}
        if dialog.width() > SIZE[0] or dialog.height() > SIZE[1]:
            large[name] = dialog.size().toTuple()
        if not has_default(dialog):
            without_default.add(name)
        dialog.close()
        dialog.deleteLater()
    assert sorted(cut) == []
    assert unmarked == set()
    assert large == {}
    assert without_default == set(), "Return presses nothing there"

    for module in HANGAR_WINDOW.rglob("*.py"):
        for name in re.findall(
            r"^class (\w+)\([^)]*(?:Dialog|QMessageBox)\)", module.read_text("utf-8"), re.M
        ):
            assert name in kinds, f"{name} of {module.name} is missing in tests/window/dialogs.py"
