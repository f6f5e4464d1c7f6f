"""A panel of few fields with one main act: Enter does it, a refusal stands below, nothing opens."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import HangarError
from hangar.parts.fields import Record, columns
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say
from hangar.window.records.record_form import FieldEditor


class LabelledField(QWidget):
    """A short label with its field to the right."""

    def __init__(self, words: str, field: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.label = PlainLabel(words)
        self.label.setBuddy(field)
        self.field = field
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        # A refusal below the field must not move its label.
        self.label.setMinimumHeight(field.minimumSizeHint().height())
        row.addWidget(self.label, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(field, 1)


def field_of(desk: Desk, kind: type[Record], name: str, *, may_be_open: bool = True) -> FieldEditor:
    """An editor for one field of a record kind, with the field's own units and limits."""
    spec = next(spec for spec in columns(kind) if spec.name == name)
    editor = FieldEditor(replace(spec, optional=spec.optional or may_be_open), desk.view)
    editor.show_value(None)
    if spec.type in (int, float):
        editor.keep_short(16)
    return editor


class TypeBox(ListBox):
    """A list in which something else may be typed; what is typed is never changed by it."""

    def __init__(self, name: str, placeholder: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setEditable(True)
        self.setInsertPolicy(ListBox.InsertPolicy.NoInsert)
        self.setAccessibleName(name)
        line = self.lineEdit()
        assert line is not None
        line.setAccessibleName(name)
        line.setPlaceholderText(placeholder)
        # Nothing is completed by itself: a name that begins as another one does may be a new one.
        self.setCompleter(None)  # type: ignore[arg-type]
        self.setSizeAdjustPolicy(ListBox.SizeAdjustPolicy.AdjustToContents)
        self.setMinimumContentsLength(20)

    def offer(self, choices: list[tuple[str, str]]) -> None:
        """Offer these, each with its words and its value; what is typed stays."""
        typed = self.currentText()
        self.blockSignals(True)
        self.clear()
        for words, value in choices:
            self.addItem(words, value)
        self.setCurrentIndex(-1)
        self.setEditText(typed)
        self.blockSignals(False)

    @property
    def value(self) -> str:
        """The value of the entry that stands there, else what is typed."""
        typed = self.currentText().strip()
        at = self.findText(typed, Qt.MatchFlag.MatchFixedString)
        return str(self.itemData(at)) if typed and at >= 0 else typed

    def show_value(self, value: str) -> None:
        """Show an entry by its value, or a text as typed."""
        at = self.findData(value)
        self.setCurrentIndex(at)
        if at < 0:
            self.setEditText(value)


class ActPanel(QFrame):
    """A box with a title, rows of fields and one main button. Signals: ``done(str)`` with what was done."""

    done = Signal(str)

    def __init__(self, desk: Desk, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("pane")
        self._desk = desk
        self._last: QWidget | None = None
        self.title = PlainLabel(title)
        self.title.setObjectName("lead")
        self.aside = PlainLabel()
        self.aside.setObjectName("quiet")
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        self.refusal.hide()
        self.main = QPushButton()
        self.main.setProperty("main", True)
        self.main.setAutoDefault(False)
        self.main.clicked.connect(self.submit)
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.aside)
        self._foot = QHBoxLayout()
        self._foot.addWidget(self.main)
        self._foot.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(12, 10, 12, 10)
        self._column.setSpacing(8)
        self._column.addLayout(head)
        self._column.addWidget(self.refusal)
        self._column.addLayout(self._foot)

    def add_row(self, *fields: QWidget) -> QWidget:
        """One more row of fields; it goes on below where the width ends."""
        row = QWidget()
        row.setLayout(FlowRow(*fields, gap=12))
        self._column.insertWidget(self._column.count() - 2, row)
        for field in fields:
            inner = field.field if isinstance(field, LabelledField) else field
            target = inner.editor if isinstance(inner, FieldEditor) else inner
            if isinstance(target, PlainLabel):
                continue
            if self._last is not None:
                QWidget.setTabOrder(self._last, target)
            self._last = target
        if self._last is not None:
            QWidget.setTabOrder(self._last, self.main)
        for line in row.findChildren(QLineEdit):
            line.installEventFilter(self)
        return row

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # A line in which nothing was typed leaves Ctrl+Z to the fleet.
        if (
            isinstance(event, QKeyEvent)
            and event.type() is QEvent.Type.ShortcutOverride
            and event.matches(QKeySequence.StandardKey.Undo)
            and isinstance(watched, QLineEdit)
            and not watched.isUndoAvailable()
        ):
            event.ignore()
            return True
        return super().eventFilter(watched, event)

    def add_to_foot(self, widget: QWidget) -> None:
        """A quiet thing beside the main button."""
        self._foot.addWidget(widget)

    def refuse(self, sentence: str) -> None:
        """Say what is wrong; an empty sentence takes it back."""
        self.refusal.setText(sentence)
        self.refusal.setVisible(bool(sentence))
        self.main.setAccessibleDescription(sentence)

    def read(self, *editors: FieldEditor) -> list[object] | None:
        """What stands in these fields; None after each that cannot be read has said why."""
        values: list[object] = []
        wrong: FieldEditor | None = None
        for editor in editors:
            try:
                values.append(editor.read())
                editor.refuse("")
            except HangarError as fault:
                editor.refuse(put(fault))
                wrong = wrong or editor
        if wrong is not None:
            wrong.editor.setFocus()
            return None
        return values

    def attempt(self, act: Callable[[], object]) -> bool:
        """Do an act; a refusal is told in the panel."""
        try:
            act()
        except HangarError as fault:
            self.refuse(put(fault))
            return False
        self.refuse("")
        self.done.emit(self._desk.undo_label or "")
        return True

    def submit(self) -> None:
        """Do the main act."""
        raise NotImplementedError

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.main.isEnabled():
            self.submit()
            return
        super().keyPressEvent(event)


def plain_line(name: str, letters: int, placeholder: str = "") -> QLineEdit:
    """A short line to type in, so many letters wide."""
    line = QLineEdit()
    line.setAccessibleName(name)
    line.setPlaceholderText(placeholder)
    line.setMinimumWidth(line.fontMetrics().averageCharWidth() * (letters + 3))
    return line


def named(words: str) -> str:
    """A label without the sign of its key, as the name of a field."""
    return say(words).replace("&", "")
