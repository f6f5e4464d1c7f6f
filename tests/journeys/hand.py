"""A keeper's hand at the window: real clicks and keys, each act counted and named.

An act is a click, a choice, or a field that is typed. Keys that only move on (Tab, arrows) are none, as
moving the pointer is none.
"""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QAbstractItemModel, QModelIndex, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLineEdit,
    QScrollArea,
    QTabWidget,
    QWidget,
)

from hangar.window.kit.strip import JoinedStrip
from hangar.window.main_window import MainWindow
from hangar.window.records.record_form import FieldEditor

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier
CONTROL, SHIFT, ALT = (
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.AltModifier,
)
MOST_TABS = 250


class Hand:
    """Works at a window by mouse or, ``by_keys``, without one; ``modal`` tells what stood in the way."""

    def __init__(self, window: MainWindow, *, by_keys: bool = False) -> None:
        self.window = window
        self.by_keys = by_keys
        self.acts: list[str] = []
        self.modal: list[str] = []

    def done(self, what: str) -> None:
        """One act more."""
        self.acts.append(what)
        QApplication.processEvents()
        above = QApplication.activeModalWidget()
        if above is not None:
            self.modal.append(f"{what}: {above.windowTitle()}")

    def told(self, title: str) -> str:
        """The acts, numbered, to be printed."""
        lines = [f"{title}: {len(self.acts)} acts, {len(self.modal)} modal dialogs"]
        return "\n".join([*lines, *(f"{number:3} {act}" for number, act in enumerate(self.acts, 1))])

    def go_to(self, widget: QWidget) -> None:
        """Bring the focus to a widget with Tab; by mouse there is nothing to do before the click."""
        target = widget.focusProxy() or widget
        if not self.by_keys:
            return
        passed: list[str] = []
        for _ in range(MOST_TABS):
            focus = QApplication.focusWidget()
            passed.append("nothing" if focus is None else _name(focus))
            if focus is target or (isinstance(target, QComboBox) and focus is target.lineEdit()):
                return
            assert focus is not None, "nothing has the focus"
            QTest.keyClick(focus, Qt.Key.Key_Tab)
            QApplication.processEvents()
        raise AssertionError(f"{_name(widget)} is not reached with Tab, only {passed[:40]}")

    def press(self, button: QAbstractButton) -> None:
        """Press a button: a click, or Space once the focus is there."""
        name = button.text().replace("&", "")
        self._show(button)
        assert button.isVisible(), f"{name} cannot be seen"
        assert button.isEnabled(), f"{name} cannot be pressed"
        self.go_to(button)
        if self.by_keys:
            QTest.keyClick(button, Qt.Key.Key_Space)
        else:
            QTest.mouseClick(button, LEFT)
        self.done(f"press {name}")

    def type(self, field: QWidget, words: str) -> None:
        """Type into a field, in place of what stands there."""
        line = _line(field)
        name = line.accessibleName()
        self._show(line)
        assert line.isVisible(), f"{name} cannot be seen"
        self.go_to(line)
        if not self.by_keys:
            QTest.mouseClick(line, LEFT)
        QTest.keyClick(line, Qt.Key.Key_A, CONTROL)
        QTest.keyClicks(line, words)
        popup = QApplication.activePopupWidget()
        if popup is not None:
            popup.hide()
        self.done(f"type {words} into {name}")

    def choose(self, box: QWidget, words: str) -> None:
        """Choose from a closed list."""
        if isinstance(box, FieldEditor):
            box = box.editor
        assert isinstance(box, QComboBox)
        self._show(box)
        assert box.isVisible(), f"{box.accessibleName()} cannot be seen"
        self.go_to(box)
        if self.by_keys:
            QTest.keyClick(box, Qt.Key.Key_Down, ALT)
        else:
            QTest.mouseClick(box, LEFT)
        QApplication.processEvents()
        popup = box.view()
        assert popup.isVisible(), f"{box.accessibleName()} does not open"
        at = next(row for row in range(box.count()) if box.itemText(row).startswith(words))
        QTest.keyClick(popup, Qt.Key.Key_Home)
        for _ in range(at):
            QTest.keyClick(popup, Qt.Key.Key_Down)
        QTest.keyClick(popup, Qt.Key.Key_Return)
        assert box.currentText().startswith(words), (box.currentText(), words)
        self.done(f"choose {words} of {box.accessibleName()}")

    def enter(self, room: int) -> None:
        """Go to a room by the rail."""
        assert self.window.rooms is not None
        self.press(self.window.rooms.rail.buttons[room])

    def turn_to(self, strip: JoinedStrip, words: str) -> None:
        """Turn to a page by its strip."""
        buttons = strip.findChildren(QAbstractButton)
        self.press(next(button for button in buttons if button.text().replace("&", "") == words))

    def open_tab(self, tabs: QTabWidget, words: str) -> None:
        """Turn to a page by its tab."""
        bar = tabs.tabBar()
        at = next(number for number in range(bar.count()) if bar.tabText(number).replace("&", "") == words)
        QTest.mouseClick(bar, LEFT, NONE, bar.tabRect(at).center())
        assert tabs.currentIndex() == at
        self.done(f"click the tab {words}")

    def pick(self, view: QAbstractItemView, words: str, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Click on the row of a list or table in which these words stand as a cell."""
        self._show(view)
        cell = next(cell for cell in _cells(view.model()) if str(cell.data()).split("  ")[0] == words)
        view.scrollTo(cell)
        QApplication.processEvents()
        QTest.mouseClick(view.viewport(), LEFT, modifiers, view.visualRect(cell).center())
        self.done(f"click {words} in {view.accessibleName()}")

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = NONE, what: str = "") -> None:
        """A key with a meaning of its own, such as Enter or an undo."""
        QTest.keyClick(QApplication.focusWidget() or self.window, key, modifiers)
        self.done(what or f"key {key.name}")

    def _show(self, widget: QWidget) -> None:
        """Scroll to a widget, as a keeper does with the wheel; Tab does it by itself."""
        above = widget.parentWidget()
        while above is not None:
            outer = above.parentWidget()
            area = outer.parentWidget() if outer is not None else None
            if isinstance(area, QScrollArea) and area.widget() is above:
                area.ensureWidgetVisible(widget)
            above = outer
        QApplication.processEvents()


def _cells(model: QAbstractItemModel, above: QModelIndex | None = None) -> Iterator[QModelIndex]:
    """Every cell of a list, table or tree."""
    above = above or QModelIndex()
    for row in range(model.rowCount(above)):
        for column in range(model.columnCount(above)):
            yield model.index(row, column, above)
        yield from _cells(model, model.index(row, 0, above))


def _line(field: QWidget) -> QLineEdit:
    if isinstance(field, FieldEditor):
        field = field.editor
    if isinstance(field, QComboBox):
        inner = field.lineEdit()
        assert inner is not None
        return inner
    assert isinstance(field, QLineEdit)
    return field


def _name(widget: QWidget) -> str:
    words = widget.accessibleName()
    return words or (widget.text() if isinstance(widget, QAbstractButton) else type(widget).__name__)
