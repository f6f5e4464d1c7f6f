"""What of a page on screen has no room: tables too low, and what is cut off by its pane."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QComboBox,
    QLabel,
    QLineEdit,
    QStyle,
    QStyleOptionComboBox,
    QTextBrowser,
    QWidget,
)

from hangar.window.tables.rows_view import LEAST_ROWS, RowsView

SLACK_PX = 2
SEEN = QAbstractButton | QLabel | QLineEdit | QComboBox | QAbstractItemView | QTextBrowser


def low_tables(window: QWidget) -> list[str]:
    """Tables that show fewer rows than a few, though they have more."""
    low = []
    for table in window.findChildren(RowsView):
        count = table.model().rowCount() if table.isVisible() else 0
        usual = table.verticalHeader().defaultSectionSize()
        wanted = sum(min(table.rowHeight(row), 2 * usual) for row in range(min(LEAST_ROWS, count)))
        if table.viewport().height() < wanted - SLACK_PX:
            low.append(f"{table.accessibleName()}: {table.viewport().height()} px of {wanted}")
    return low


def cut_off(window: QWidget) -> list[str]:
    """What reaches out of the pane that it lies in, where that does not scroll."""
    return [
        f"{type(widget).__name__} {widget.accessibleName() or _words(widget)} in {type(pane).__name__}"
        for widget in window.findChildren(QWidget)
        if isinstance(widget, SEEN) and widget.isVisible() and not widget.size().isEmpty()
        for pane in (_too_small_pane(widget, window),)
        if pane is not None
    ]


def cut_choices(window: QWidget) -> list[str]:
    """Closed lists with less room than what is chosen in them takes."""
    cut = []
    for box in window.findChildren(QComboBox):
        if box.isVisible() and not box.isEditable():
            option = QStyleOptionComboBox()
            box.initStyleOption(option)
            part = QStyle.SubControl.SC_ComboBoxEditField
            room = box.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, box).width()
            if box.fontMetrics().horizontalAdvance(box.currentText()) > room + SLACK_PX:
                cut.append(f"{box.accessibleName()}: {box.currentText()}")
    return cut


def _words(widget: QWidget) -> str:
    return widget.text()[:40] if isinstance(widget, QLabel | QAbstractButton) else ""


def _too_small_pane(widget: QWidget, window: QWidget) -> QWidget | None:
    inner = widget
    while inner is not window and not inner.isWindow():
        pane = inner.parentWidget()
        if pane is None or _scrolls(pane):
            return None
        if not pane.rect().adjusted(-SLACK_PX, -SLACK_PX, SLACK_PX, SLACK_PX).contains(inner.geometry()):
            return pane
        inner = pane
    return None


def _scrolls(pane: QWidget) -> bool:
    area = pane.parentWidget()
    return isinstance(area, QAbstractScrollArea) and pane is area.viewport()
