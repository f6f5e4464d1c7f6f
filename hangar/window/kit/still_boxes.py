"""Lists, number fields and sliders that the mouse wheel never changes.

A wheel turned over a page means the page: Qt would let it choose another entry of a closed list under the
pointer, which edits a record that nobody looked at. These let the wheel through to what scrolls.
"""

from __future__ import annotations

from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QSlider, QSpinBox


class ListBox(QComboBox):
    """A closed list; the wheel scrolls it only while it is open."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class NumberBox(QSpinBox):
    """A field for a whole number with two small arrows."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class Slider(QSlider):
    """A handle to be drawn along a line."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
