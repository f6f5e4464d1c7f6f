"""The limits of the checks by class, and the figures of law and codes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.judging import count_levels
from hangar.base.errors import BadInput
from hangar.base.text import fixed, text
from hangar.base.units import ShowsNumbers
from hangar.parts import Setting
from hangar.parts.choices import AircraftClass
from hangar.parts.thresholds import Threshold, Thresholds, setting_name, shipped_thresholds
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import level_count, put, say, sentence_case, word_of
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView
from hangar.window.workshop.law_page import LawPage


@dataclass(frozen=True)
class LimitRow:
    """One limit as it holds for a class, or for all classes."""

    threshold: Threshold
    aircraft_class: AircraftClass | None
    own: float | None

    @property
    def shipped(self) -> float:
        """The value that travels with the program."""
        if self.aircraft_class is None:
            return self.threshold.default
        return self.threshold.shipped(self.aircraft_class)

    @property
    def value(self) -> float:
        """The value in force."""
        return self.shipped if self.own is None else self.own

    @property
    def is_changed(self) -> bool:
        """Whether the keeper set another value."""
        return self.own is not None and not math.isclose(self.own, self.shipped)


class WorkshopRules(StripPages):
    """Limits, law and codes."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(say("Limits and figures"), parent)
        self.limits = LimitsPage(desk)
        self.addTab(self.limits, say("Limits of the checks"))
        self.law = LawPage(desk)
        self.addTab(self.law, say("Law and codes"))
        self.setAccessibleName(say("Limits"))


class LimitsDialog(QDialog):
    """The limits above the room that they were asked for from."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Limits"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.rules = WorkshopRules(desk)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.rules, 1)
        column.addWidget(buttons)
        room = self.screen().availableSize()
        self.resize(min(1100, room.width() * 9 // 10), min(700, room.height() * 9 // 10))


class LimitsPage(QWidget):
    """Every limit, for one class or for all; an edit judges the fleet again at once."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._before = ""
        self.choice = ListBox()
        self.choice.setAccessibleName(say("Class"))
        self.choice.addItem(say("All classes"), None)
        for aircraft_class in AircraftClass:
            self.choice.addItem(word_of(aircraft_class), aircraft_class.value)
        self._model: RowsModel[LimitRow] = RowsModel(
            desk, self._columns(), lambda row: (row.threshold.name, row.aircraft_class), self
        )
        self.table = RowsView(self._model, say("Limits of the checks"))
        self.restore_button = QPushButton(say("&Restore what was shipped"))
        self.effect = PlainLabel()
        self.effect.setAccessibleName(say("Open findings of the fleet"))
        self.effect.setWordWrap(True)
        words = PlainLabel(say("&Class"))
        words.setBuddy(self.choice)
        row = QHBoxLayout()
        row.addLayout(FlowRow(side_by_side(words, self.choice), self.restore_button))
        row.addWidget(self.effect, 1)
        self.left_out = LeftOut(self.table, self)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addLayout(row)
        column.addWidget(self.left_out)
        column.addWidget(self.table, 1)
        hand_focus(self, self.table)
        delete = QShortcut(QKeySequence.StandardKey.Delete, self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.restore)
        self.choice.currentIndexChanged.connect(self.read_again)
        self.restore_button.clicked.connect(self.restore)
        self.table.row_chosen.connect(lambda _row: self._allow())
        desk.touched.connect(self._touched)
        desk.judged.connect(self._show_effect)
        self.read_again()

    def _columns(self) -> tuple[Column[LimitRow], ...]:
        return (
            Column(say("Changed"), lambda row, _u: "✎ " + say("changed") if row.is_changed else "",
                   gives_way=2),
            Column(
                say("What it limits"), lambda row, _u: sentence_case(put(row.threshold.words)), wraps=True
            ),
            Column(
                say("In force"),
                lambda row, units: _shown(row, row.value, units),
                raw=lambda row: row.value,
                write=self._write,
                number=True,
            ),
            Column(say("As shipped"), lambda row, units: _shown(row, row.shipped, units),
                   raw=lambda row: row.shipped, number=True, gives_way=4),
            Column(say("Source"), lambda row, _u: put(row.threshold.source),
                   tip=lambda row: put(row.threshold.source), gives_way=3, wraps=True),
            Column(say("Name"), lambda row, _u: row.threshold.name, gives_way=1),
        )  # fmt: skip

    def read_again(self) -> None:
        """Read the keeper's limits."""
        chosen = self.choice.currentData()
        kind = AircraftClass(chosen) if chosen else None
        thresholds = Thresholds.from_settings(self._desk.records(Setting))
        self._model.show_rows(
            LimitRow(shipped_threshold, kind, _own(thresholds, shipped_threshold.name, kind))
            for shipped_threshold in shipped_thresholds().values()
        )
        self._show_effect()
        self._allow()

    def _touched(self, touched: frozenset[str]) -> None:
        if Setting.KIND in touched:
            self.read_again()

    def _allow(self) -> None:
        row = self.table.current_row
        is_own = row is not None and self._desk.fleet.record(Setting, _name(row)) is not None
        self.restore_button.setEnabled(bool(is_own) and not self._desk.read_only)

    def _write(self, row: LimitRow, typed: str) -> None:
        unit = row.threshold.unit
        value = self._desk.view.reader.parse(typed, unit) if unit else _plain(typed)
        if not row.threshold.least <= value <= row.threshold.most:
            raise BadInput(
                "The limit is {text}; {allowed} is allowed.",
                text=typed,
                allowed=put(row.threshold.allowed),
            )
        self._before = self._counts()
        label = text("Set limit {name}", name=fixed(row.threshold.words))
        self._desk.change(label, lambda edit: edit.put(Setting(name=_name(row), value=repr(value))))

    def restore(self) -> None:
        """Give the limit under the cursor back its shipped value."""
        row = self.table.current_row
        if row is None or self._desk.read_only or self._desk.fleet.record(Setting, _name(row)) is None:
            return
        self._before = self._counts()
        label = text("Restore limit {name}", name=fixed(row.threshold.words))
        self._desk.edit(label, lambda edit: edit.remove(Setting, (_name(row),)))

    def _counts(self) -> str:
        known = [self._desk.known(code) for code in self._desk.codes()]
        counts = count_levels(f for judgement in known if judgement is not None for f in judgement.findings)
        words = ", ".join(level_count(level.value, count) for level, count in counts.items())
        waiting = sum(judgement is None for judgement in known)
        return words + (say(" ({count} aircraft still to be judged)", count=waiting) if waiting else "")

    def _show_effect(self) -> None:
        fresh = self._counts()
        if self._before and self._before != fresh:
            self.effect.setText(say("Before the edit: {before}. At present: {fresh}.",
                before=self._before, fresh=fresh))  # fmt: skip
        else:
            self.effect.setText(say("Open findings: {counts}.", counts=fresh))


def _own(thresholds: Thresholds, name: str, kind: AircraftClass | None) -> float | None:
    general = thresholds.own.get(name)
    return general if kind is None else thresholds.own.get(f"{name}.{kind}", general)


def _name(row: LimitRow) -> str:
    return setting_name(row.threshold.name, row.aircraft_class)


def _shown(row: LimitRow, value: float, units: ShowsNumbers) -> str:
    unit = row.threshold.unit
    return units.show(value, unit) if unit else f"{value:g}"


def _plain(text: str) -> float:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise BadInput('The limit "{text}" is not a number; a number such as 1.5 is wanted.', text=text)
    return value
