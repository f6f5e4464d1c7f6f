"""The units in which numbers are shown, one for each kind, and the money sign."""

from __future__ import annotations

from dataclasses import fields, replace

from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hangar.base.text import text
from hangar.base.units import UnitChoice, symbol_of, units_of_kind
from hangar.parts import Setting
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say

MONEY = "money.sign"


def _kind_words() -> dict[str, str]:
    return {
        "torque": say("Torque"),
        "length": say("Length"),
        "distance": say("Distance"),
        "mass": say("Mass"),
        "heavy_mass": say("Mass of an aircraft"),
        "speed": say("Speed"),
        "temperature": say("Temperature"),
        "area": say("Area"),
        "wing_loading": say("Wing loading"),
        "servo_speed": say("Servo speed"),
        "force": say("Force"),
    }


class UnitsPage(QWidget):
    """A list of units for each kind of number, and the money sign; kept with the fleet."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.boxes: dict[str, ListBox] = {}
        form = QFormLayout()
        for field in fields(UnitChoice):
            box = ListBox()
            words = _kind_words()[field.name]
            box.setAccessibleName(say("Unit of {kind}", kind=words))
            kind = {"distance": "length", "heavy_mass": "mass"}.get(field.name, field.name.replace("_", " "))
            for unit in units_of_kind(kind):
                box.addItem(symbol_of(unit.key) or unit.key, unit.key)
            box.activated.connect(lambda _at, name=field.name: self._choose(name))
            self.boxes[field.name] = box
            form.addRow(words, box)
        self.money = QLineEdit()
        self.money.setAccessibleName(say("Money sign"))
        self.money.setMaxLength(8)
        self.money.setPlaceholderText(say("none"))
        self.money.editingFinished.connect(self._keep_money)
        form.addRow(say("Money sign"), self.money)
        label = PlainLabel(
            say("Any unit can be typed everywhere; these are the ones in which numbers are shown.")
        )
        label.setWordWrap(True)
        label.setObjectName("quiet")
        page = QVBoxLayout(self)
        page.setContentsMargins(14, 14, 14, 14)
        page.addWidget(label)
        page.addLayout(form)
        page.addStretch(1)
        for box in self.boxes.values():
            box.setMaximumWidth(self.fontMetrics().averageCharWidth() * 26)
        self.money.setMaximumWidth(self.fontMetrics().averageCharWidth() * 26)
        desk.touched.connect(self.read_again)
        desk.view.changed.connect(self.read_again)
        self.read_again()

    def read_again(self) -> None:
        """Show the units in use and the money sign."""
        for name, box in self.boxes.items():
            box.setCurrentIndex(box.findData(getattr(self._desk.view.reader.units, name)))
        kept = self._desk.fleet.record(Setting, MONEY)
        self.money.setText(kept.value if kept else "")
        self.money.setEnabled(not self._desk.read_only)

    def _choose(self, name: str) -> None:
        key = str(self.boxes[name].currentData())
        if key != getattr(self._desk.view.reader.units, name):
            self._desk.choose_units(replace(self._desk.view.units, **{name: key}))

    def _keep_money(self) -> None:
        sign = self.money.text().strip()
        kept = self._desk.fleet.record(Setting, MONEY)
        if sign == (kept.value if kept else ""):
            return
        label = text("Choose the money sign")
        if sign:
            self._desk.edit(label, lambda edit: edit.put(Setting(name=MONEY, value=sign)))
        else:
            self._desk.edit(label, lambda edit: edit.remove(Setting, (MONEY,)))
