"""Dialogs of the logbook: close a snag, enter an inspection item by item."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from enum import StrEnum

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QGridLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.acts.flights import close_snag
from hangar.answers.judging import Judgement
from hangar.base.errors import HangarError
from hangar.base.kept_text import kept_text, read_kept
from hangar.base.text import Text, series, text
from hangar.parts import Inspection, Snag
from hangar.parts.choices import InspectionKind
from hangar.parts.thresholds import Thresholds
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say, word_of
from hangar.window.records.record_form import RecordForm


class ItemState(StrEnum):
    """What was found at one item of an inspection."""

    NOT_LOOKED_AT = "not looked at"
    OK = "ok"
    NOT_OK = "not ok"
    NOT_APPLICABLE = "does not apply"


_OF_THE_DAY = frozenset(
    {
        *("site", "motor-unplugged", "ignition-off", "restrained", "transmitter", "switches", "turbine"),
        *("turbine-clear", "arm-last", "spool-up", "take-off", "hover", "first-flight", "made-safe"),
        "after-flight",
    }
)
"""Lines of the field checklist that are about a day of flying, not about the aircraft."""


def inspection_items(judgement: Judgement, thresholds: Thresholds) -> tuple[Text, ...]:
    """What to look at on this aircraft: the lines of its field checklist, with its own figures."""
    from hangar.answers.case import AircraftCase
    from hangar.answers.checklists import lines_for
    from hangar.answers.field_steps import line_step

    case = AircraftCase(judgement=judgement, thresholds=thresholds)
    steps = (line_step(case, line) for line in lines_for(case.aircraft) if line.id not in _OF_THE_DAY)
    return tuple(text("{say}: {need}", say=step.say, need=step.need) for step in steps)


def inspection_of(
    aircraft: str,
    kind: InspectionKind,
    inspected_on: date,
    items: Mapping[Text, ItemState],
    remarks: str = "",
    by: str | None = None,
    next_due_on: date | None = None,
) -> Inspection:
    """An inspection from its items: passed when all looked at are well and none was left out."""
    wrong = [item.as_clause() for item, state in items.items() if state is ItemState.NOT_OK]
    not_looked_at = [item for item, state in items.items() if state is ItemState.NOT_LOOKED_AT]
    passed = False if wrong else None if not_looked_at else True
    parts: list[Text | str] = []
    if wrong:
        parts.append(text("not ok: {items}", items=series(wrong)))
    if not_looked_at:
        parts.append(text("not looked at: {count} of {all}", count=len(not_looked_at), all=len(items)))
    if remarks.strip():
        parts.append(remarks.strip())
    return Inspection(
        aircraft=aircraft,
        inspected_on=inspected_on,
        kind=kind,
        passed=passed,
        findings=kept_text(series(parts, ".")) if parts else None,
        by=by or None,
        next_due_on=next_due_on,
    )


class _LogDialog(QDialog):
    """Save and Cancel, and a line for what is refused."""

    def __init__(self, desk: Desk, title: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.desk = desk
        self.form: RecordForm
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        self.buttons.accepted.connect(self.save)
        self.buttons.rejected.connect(self.reject)

    def save(self) -> None:
        """Do it, or say why not."""

    def attempt(self, step: Callable[[], object]) -> None:
        """Do something and close; a refusal is shown instead."""
        try:
            step()
        except HangarError as fault:
            self.refusal.setText("" if self.form.blame(fault) else put(fault))
        else:
            self.accept()


class CloseSnagDialog(_LogDialog):
    """What was done about a snag, and when."""

    def __init__(self, desk: Desk, snag: Snag, parent: QWidget | None = None) -> None:
        super().__init__(desk, say("Close a snag"), parent)
        self._snag = snag
        label = PlainLabel(say("{day}: {text}", day=snag.raised_on, text=read_kept(snag.text)), wordWrap=True)
        self.form = RecordForm(Snag, desk.view, ("action", "closed_on"))
        self.form.show_values({"action": snag.action, "closed_on": desk.today})
        column = QVBoxLayout(self)
        for widget in (label, self.form, self.refusal, self.buttons):
            column.addWidget(widget)
        self.resize(520, 200)
        self.form.editor("action").setFocus()

    def save(self) -> None:
        values = self.form.read_all()
        if values is not None:
            day: date = values["closed_on"] or self.desk.today
            self.attempt(lambda: self.desk.do(close_snag, self._snag, values["action"] or "", day))


class InspectionDialog(_LogDialog):
    """An inspection: its kind and day, a state for each item, remarks, and when the next is due."""

    def __init__(self, desk: Desk, judgement: Judgement, parent: QWidget | None = None) -> None:
        aircraft = judgement.aircraft
        super().__init__(desk, say("Inspection of {code}", code=aircraft.code), parent)
        self._code = aircraft.code
        self.form = RecordForm(Inspection, desk.view, ("kind", "inspected_on", "by", "next_due_on"))
        self.form.show_values({"inspected_on": desk.today})
        thresholds = desk.basis().thresholds
        asked = inspection_items(judgement, thresholds)
        self.items = {item: self._box(put(item)) for item in asked}
        self.remarks = QLineEdit()
        self.remarks.setAccessibleName(say("Remarks"))
        self.all_ok = QPushButton(say("Set all not looked at to &ok"))
        self.all_ok.clicked.connect(self.set_all_ok)
        below = QFormLayout()
        below.addRow(say("&Remarks"), self.remarks)
        column = QVBoxLayout(self)
        column.addWidget(self.form)
        column.addWidget(self._list(), 1)
        column.addWidget(self.all_ok, 0, Qt.AlignmentFlag.AlignLeft)
        column.addLayout(below)
        column.addWidget(self.refusal)
        column.addWidget(self.buttons)
        self.resize(820, 640)

    def _box(self, words: str) -> QComboBox:
        box = ListBox()
        box.setAccessibleName(words)
        for state in ItemState:
            box.addItem(word_of(state), state.value)
        return box

    def _list(self) -> QScrollArea:
        page = QWidget()
        grid = QGridLayout(page)
        for row, (item, box) in enumerate(self.items.items()):
            label = PlainLabel(put(item), wordWrap=True)
            label.setBuddy(box)
            grid.addWidget(box, row, 0)
            grid.addWidget(label, row, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(len(self.items), 1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setAccessibleName(say("Items"))
        scroll.setWidget(page)
        return scroll

    def set_all_ok(self) -> None:
        """Items nobody said anything of are well."""
        for box in self.items.values():
            if box.currentData() == ItemState.NOT_LOOKED_AT:
                box.setCurrentIndex(box.findData(ItemState.OK.value))

    def save(self) -> None:
        values = self.form.read_all()
        if values is None:
            return
        states = {item: ItemState(box.currentData()) for item, box in self.items.items()}
        made = inspection_of(
            self._code,
            values["kind"],
            values["inspected_on"],
            states,
            self.remarks.text(),
            values["by"],
            values["next_due_on"],
        )
        label = text("Enter inspection of {code}", code=self._code)
        self.attempt(lambda: self.desk.change(label, lambda edit: edit.put(made)))
