"""One thing to turn: a slider and a typed value with its unit, or a list."""

from __future__ import annotations

from PySide6.QtCore import QObject, QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLineEdit, QWidget

from hangar.answers.trials import Knob
from hangar.base.errors import BadInput
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox, Slider
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say


class KnobRow(QObject):
    """The widgets of one knob in a row of a grid. Signals: ``turned()``."""

    turned = Signal()

    def __init__(self, knob: Knob, view: ViewSettings, parent: QWidget) -> None:
        super().__init__(parent)
        self.knob = knob
        self._view = view
        self.value = knob.today
        self.label = PlainLabel(put(knob.title), parent, wordWrap=True)
        self.slider = Slider(Qt.Orientation.Horizontal, parent)
        self.entry = QLineEdit(parent)
        self.list = ListBox(parent)
        for widget in (self.slider, self.entry, self.list):
            widget.setAccessibleName(put(knob.title))
        self.label.setBuddy(self.list if knob.names else self.slider)
        self.list.addItems([put(name) for name in knob.names])
        self.list.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.slider.setRange(0, max(1, round((knob.high - knob.low) / knob.step)))
        self.slider.setPageStep(max(1, self.slider.maximum() // 10))
        self.slider.valueChanged.connect(self._slid)
        self.entry.editingFinished.connect(self._typed)
        self.list.currentIndexChanged.connect(lambda at: self.set(float(at)))
        self.show_value()

    @property
    def is_turned(self) -> bool:
        """Whether it does not stand at today's value."""
        return self.knob.is_turned(self.value)

    def place(self, grid: QGridLayout, row: int) -> None:
        """Put the widgets into two rows of a grid."""
        grid.addWidget(self.label, 2 * row, 0, 1, 2)
        if self.knob.names:
            grid.addWidget(self.list, 2 * row + 1, 0, 1, 2)
        else:
            grid.addWidget(self.slider, 2 * row + 1, 0)
            grid.addWidget(self.entry, 2 * row + 1, 1)
        for widget in (self.slider, self.entry):
            widget.setVisible(not self.knob.names)
        self.list.setVisible(bool(self.knob.names))

    def set(self, value: float) -> None:
        """Turn it to a value, as far as it goes."""
        held = min(max(value, self.knob.low), self.knob.high)
        if held != self.value:
            self.value = held
            self.show_value()
            self.turned.emit()
        else:
            self.show_value()

    def reset(self) -> None:
        """Turn it back to today's value."""
        self.set(self.knob.today)

    def show_value(self) -> None:
        """Show where it stands, and today's value beside the title."""
        knob, units = self.knob, self._view.units
        with QSignalBlocker(self.slider), QSignalBlocker(self.list):
            self.slider.setValue(round((self.value - knob.low) / knob.step))
            self.list.setCurrentIndex(round(self.value) if knob.names else -1)
        if knob.names:
            return
        self.entry.setText(units.show(self.value, knob.unit))
        self.entry.setMinimumWidth(self.entry.fontMetrics().horizontalAdvance("0000.00 mmm"))
        self.entry.setMaximumWidth(self.entry.minimumWidth())
        today = units.show(knob.today, knob.unit)
        font = self.label.font()
        font.setBold(self.is_turned)
        self.label.setFont(font)
        text = say("{title} (today {today})", title=knob.title, today=today)
        self.label.setText(text if self.is_turned else put(knob.title))

    def _slid(self, at: int) -> None:
        value = self.knob.low + at * self.knob.step
        # Today's value seldom lies on a step; the step next to it means it.
        near = abs(value - self.knob.today) < 0.5 * self.knob.step
        self.set(self.knob.today if near else value)

    def _typed(self) -> None:
        try:
            value = self._view.units.parse(self.entry.text(), self.knob.unit)
        except BadInput as fault:
            self.entry.setToolTip(plain_tip(put(fault)))
            self.show_value()
            return
        self.entry.setToolTip("")
        if self._view.units.show(value, self.knob.unit) != self._view.units.show(self.value, self.knob.unit):
            self.set(value)
        else:
            self.show_value()
