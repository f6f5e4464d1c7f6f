"""Tab comes to everything on a page, and what has the focus is seen to have it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QCheckBox,
    QLineEdit,
    QListWidget,
    QPushButton,
    QRadioButton,
    QSlider,
    QTabBar,
    QTableView,
    QTextBrowser,
    QToolButton,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

from hangar.window.kit.looks import DARK, LIGHT, Look, wear
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.strip import JoinedStrip
from hangar.window.main_window import MainWindow
from hangar.window.start import application
from tests.window.conftest import opened_demo
from tests.window.pages import pages_of

LEAST_PX = 60
"""A ring of 2 px around the smallest of them, a tick box, has about so many points."""


def _counted_as(widget: QWidget) -> object:
    if isinstance(widget, QAbstractButton) and (widget.group() is not None or widget.autoExclusive()):
        return widget.parentWidget() if widget.group() is None else widget.group()
    return widget


def stops(page: QWidget) -> dict[QWidget, object]:
    """What Tab should stop at, each with what it counts as: of buttons that go together, their group."""
    return {
        widget: _counted_as(widget)
        for widget in page.findChildren(QWidget)
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and widget.focusProxy() is None
        and widget.isVisible()
        and widget.isEnabled()
    }


def missed_by(window: MainWindow, key: Qt.Key) -> set[str]:
    """What a key that goes from stop to stop never comes to."""
    wanted = stops(window)
    reached: set[object] = set()
    # Links in a text and the parts of a date are stops of their own.
    for _ in range(3 * len(wanted) + 20):
        QTest.keyClick(window.focusWidget(), key)
        focus = window.focusWidget()
        reached.add(wanted.get(focus, focus))
        if reached.issuperset(wanted.values()):
            break
    return {f"{widget} {widget.accessibleName()}" for widget in wanted if wanted[widget] not in reached}


def test_tab_comes_to_everything_on_every_page_and_back(window: MainWindow, qtbot: QtBot) -> None:
    rooms = opened_demo(window, qtbot)
    window.activateWindow()
    missed, count = {}, 0
    for number, title in enumerate(rooms.titles):
        for name in pages_of(window, number):
            count += 1
            for key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
                if never := missed_by(window, key):
                    missed[title, name, key.name] = never
    assert missed == {}
    assert count > 20


def kinds() -> Iterator[QWidget]:
    """One of each kind of widget that takes the focus."""
    yield QPushButton("Act")
    main = QPushButton("Main")
    main.setProperty("main", True)
    yield main
    strip = JoinedStrip("Choice")
    for word in ("One", "Other"):
        strip.add(word)
    yield strip
    yield from (ListBox(), QLineEdit("Word"), QCheckBox("Tick"), QRadioButton("Dot"))
    yield QTextBrowser()
    tool = QToolButton()
    tool.setText("Tool")
    yield tool
    yield QSlider(Qt.Orientation.Horizontal)
    yield QTableView()
    yield QListWidget()
    tabs = QTabBar()
    for word in ("One", "Other"):
        tabs.addTab(word)
    yield tabs


@pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
def test_what_has_the_focus_is_seen_to_have_it(look: Look, qtbot: QtBot) -> None:
    app = application()
    wear(app, look, 10.0)
    page = QWidget()
    qtbot.addWidget(page)
    column = QVBoxLayout(page)
    made = list(kinds())
    for widget in made:
        column.addWidget(widget)
    rest = QPushButton("Elsewhere")
    column.addWidget(rest)
    page.resize(500, 900)
    page.show()
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)
    unseen = {}
    for widget in made:
        rest.setFocus()
        QApplication.processEvents()
        before = bytes(widget.grab().toImage().constBits())
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        QApplication.processEvents()
        after = bytes(widget.grab().toImage().constBits())
        points = sum(before[at : at + 4] != after[at : at + 4] for at in range(0, len(before), 4))
        if points < LEAST_PX:
            unseen[type(widget).__name__] = points
    app.setStyleSheet("")
    assert unseen == {}
