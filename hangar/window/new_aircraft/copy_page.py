"""Copy an aircraft there is: layout, channels, arms, leads and limits; never tags, packs, log or readings."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hangar.acts.copying import copy_aircraft
from hangar.answers.kits import code_for
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say
from hangar.window.records.act_panel import ActPanel, LabelledField, plain_line


class CopyPanel(ActPanel):
    """Which one, and what the copy is called."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, say("Copy an aircraft"), parent)
        self.source = ListBox()
        self.source.setAccessibleName(say("Aircraft to copy"))
        self.name = plain_line(say("Name"), 16)
        self.code = plain_line(say("Code"), 6)
        self.code.setMaxLength(6)
        self.add_row(LabelledField(say("Copy of"), self.source))
        self.add_row(LabelledField(say("Name"), self.name), LabelledField(say("Code"), self.code))
        about = PlainLabel(
            say(
                "The copy takes layout, channels, arms, leads and limits. It takes no servos, packs, log "
                "entries or readings: what was measured on one aircraft is not known of another."
            ),
            wordWrap=True,
        )
        about.setObjectName("quiet")
        self._column.insertWidget(self._column.count() - 2, about)
        self.main.setText(say("Copy it"))
        self.made = ""
        self.name.textChanged.connect(self._propose)

    def show_source(self, code: str) -> None:
        """Offer every aircraft; this one stands first."""
        self.source.clear()
        for aircraft in self._desk.read_all():
            self.source.addItem(f"{aircraft.code}  {aircraft.airframe.name}", aircraft.code)
        self.source.setCurrentIndex(max(0, self.source.findData(code)))
        self.main.setEnabled(self.source.count() > 0 and not self._desk.read_only)

    def _propose(self) -> None:
        name = self.name.text().strip()
        self.code.setPlaceholderText(code_for(name, self._desk.codes()) if name else "")

    def submit(self) -> None:
        source = str(self.source.currentData() or "")
        code = self.code.text().strip() or self.code.placeholderText()
        name = self.name.text()
        self.made = code
        if self.attempt(lambda: self._desk.do(copy_aircraft, source, code, name)):
            self.name.clear()
            self.code.clear()
        else:
            self.name.setFocus()


class CopyPage(QWidget):
    """Signals: ``entered(code)``; ``left()``."""

    entered = Signal(str)
    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.panel = CopyPanel(desk)
        self.cancel_button = QPushButton(say("Cancel"))
        self.cancel_button.setAutoDefault(False)
        self.cancel_button.clicked.connect(self.left)
        self.panel.add_to_foot(self.cancel_button)
        QWidget.setTabOrder(self.panel.main, self.cancel_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 16, 16, 16)
        column.addWidget(self.panel)
        column.addStretch(1)
        self.panel.setMaximumWidth(self.fontMetrics().averageCharWidth() * 110)
        self.panel.done.connect(lambda _label: self.entered.emit(self.panel.made))

    def begin(self, code: str) -> None:
        """Copy this aircraft, unless another one is chosen."""
        self.panel.show_source(code)
        self.panel.name.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
