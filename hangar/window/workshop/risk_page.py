"""How risk is counted: points by level, factors by what hangs on a finding, each set and restored."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hangar.base.errors import HangarError
from hangar.base.text import Arg, Text, text
from hangar.parts import Setting
from hangar.parts.choices import Criticality
from hangar.refit.risk import SETTING_PREFIX, RiskMeasure, risk_names, risk_setting, shipped_risk
from hangar.rules.finding import Level
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.told_line import ToldLine
from hangar.window.kit.words import level_word, put, say
from hangar.window.refit.stages_picture import risk_words, thing_word

if TYPE_CHECKING:
    from hangar.store import Edit


class RiskPage(QWidget):
    """One line for each number; the sentence that every plan shows stands above."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.words = PlainLabel(wordWrap=True)
        self.words.setAccessibleName(say("How risk is counted"))
        self.lines: dict[str, ToldLine] = {}
        self.restore_button = QPushButton(say("&Restore what was shipped"))
        form = QFormLayout()
        form.setHorizontalSpacing(14)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        width = self.fontMetrics().averageCharWidth()
        for name in risk_names():
            line = ToldLine(name_words(name))
            line.setMinimumWidth(width * 12)
            line.entered.connect(lambda name=name: self._enter(name))
            shipped = say("as shipped: {value}", value=f"{shipped_risk(name):g}")
            line.line.setToolTip(plain_tip(say("An empty line takes what was shipped.") + "\n" + shipped))
            row = QHBoxLayout()
            row.addWidget(line)
            beside = PlainLabel(shipped)
            beside.setObjectName("quiet")
            row.addWidget(beside)
            row.addStretch(1)
            label = PlainLabel(name_words(name))
            label.setBuddy(line)
            form.addRow(label, row)
            self.lines[name] = line
        used = PlainLabel(
            say("Stages of a refit and the budget for the fleet count risk by it; the factors also weigh "
                    "the shortage of torque that the search for the fleet makes least."), wordWrap=True
        )  # fmt: skip
        used.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 14, 14, 14)
        for widget in (self.words, used):
            column.addWidget(widget)
        column.addLayout(form)
        row_below = QHBoxLayout()
        row_below.addWidget(self.restore_button)
        row_below.addStretch(1)
        column.addLayout(row_below)
        column.addStretch(1)
        self.setFocusProxy(self.lines["warning"])
        self.restore_button.clicked.connect(self.restore)
        desk.touched.connect(lambda touched: self.read_again() if Setting.KIND in touched else None)
        self.read_again()

    def read_again(self) -> None:
        """Show the numbers in force."""
        settings: tuple[Setting, ...] = self._desk.records(Setting)
        own = {
            setting.name.removeprefix(SETTING_PREFIX)
            for setting in settings
            if setting.name.startswith(SETTING_PREFIX)
        }
        self.restore_button.setEnabled(bool(own) and not self._desk.read_only)
        try:
            measure = RiskMeasure.from_settings(settings)
        except HangarError as fault:
            self.words.setText(put(fault))
            return
        self.words.setText(risk_words(measure))
        values = {key.value: value for key, value in measure.by_level.items()}
        values |= {key.value: value for key, value in measure.by_criticality.items()}
        for name, line in self.lines.items():
            if not line.refusal:
                line.show_text(f"{values[name]:g}")
            line.setEnabled(not self._desk.read_only)

    def _enter(self, name: str) -> None:
        line = self.lines[name]

        def step() -> None:
            setting = risk_setting(name, line.text or str(shipped_risk(name)))
            if float(setting.value) == shipped_risk(name):
                self._remove([setting.name], text("Restore how risk is counted: {name}", name=_named(name)))
                return
            label = text("Change how risk is counted: {name}", name=_named(name))
            self._desk.change(label, lambda edit: edit.put(setting))

        if line.attempt(step):
            self.read_again()

    def restore(self) -> None:
        """Count as shipped again."""
        names = [
            setting.name for setting in self._desk.records(Setting) if setting.name.startswith(SETTING_PREFIX)
        ]
        for line in self.lines.values():
            line.refuse("")
        self._desk.attempt(lambda: self._remove(names, text("Restore how risk is counted")))

    def _remove(self, names: list[str], label: Text) -> None:
        kept = [name for name in names if self._desk.fleet.record(Setting, name) is not None]
        if kept:

            def work(edit: Edit) -> None:
                for name in kept:
                    edit.remove(Setting, (name,))

            self._desk.change(label, work)


def name_words(name: str) -> str:
    """What a line is for."""
    if name in list(Level):
        return say("Points of a finding: {level}", level=level_word(name))
    return say("Factor where it concerns: {what}", what=thing_word(name))


def _named(name: str) -> Arg:
    """The level or the thing that a line counts, as a label keeps it."""
    return Level(name) if name in list(Level) else Criticality(name)
