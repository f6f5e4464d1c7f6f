"""A form made from the fields of a record kind; each field says beside itself what it refuses."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from enum import StrEnum
from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import HangarError
from hangar.parts import FieldOrigin
from hangar.parts.fields import FieldSpec, Record, columns, key_of
from hangar.rules.origins import origin_words
from hangar.window.kit.day_field import DayButton
from hangar.window.kit.field_text import (
    edit_text,
    folded,
    heading_of,
    range_words,
    read_field,
    shown_unit,
)
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say, word_of, yes_no
from hangar.window.tables.columns import choices_of

USUAL_NUMBER, USUAL_WORDS = "0000-00-00", "a usual name"


class FieldLine(QLineEdit):
    """A line that never gets too narrow for what is usually written in it, whatever the text size."""

    def __init__(self, usual: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._usual = usual

    def minimumSizeHint(self) -> QSize:
        least = super().minimumSizeHint()
        return QSize(least.width() + self.fontMetrics().horizontalAdvance(self._usual), least.height())


class FieldEditor(QWidget):
    """One field: a list or a line, with its allowed range and any refusal beside it.

    Signals: ``entered(name, value)`` with the value to store; ``confirmed(name)`` when the keeper says that
    what his sheet said with a doubt is right.
    """

    entered = Signal(str, object)
    confirmed = Signal(str)

    def __init__(self, spec: FieldSpec, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.spec = spec
        self._view = view
        self._value: Any = None
        self._refusal = PlainLabel(wordWrap=True)
        self._refusal.setObjectName("refusal")
        self._refusal.hide()
        row = self._row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        self.editor = self._make_editor()
        self.editor.setAccessibleName(heading_of(spec))
        row.addWidget(self.editor, 1)
        self.day_button: DayButton | None = None
        if issubclass(spec.type, date) and isinstance(self.editor, QLineEdit):
            self.day_button = DayButton(self.editor, view)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self._refusal)
        self._column = column
        self.origin: QWidget | None = None
        self.setFocusProxy(self.editor)

    def keep_short(self, letters: int) -> None:
        """Be no wider than so many letters; a refusal below goes on beyond that."""
        metrics = self.fontMetrics()
        words = metrics.horizontalAdvance(say("not known")) + 5 * metrics.averageCharWidth()
        self.editor.setMaximumWidth(max(words, metrics.averageCharWidth() * letters))
        self._row.setAlignment(self.editor, Qt.AlignmentFlag.AlignLeft)

    def show_origin(self, words: str) -> None:
        """Say under the field which cell of a sheet it comes from, until it is confirmed; "" for none."""
        if self.origin is not None:
            self._column.removeWidget(self.origin)
            self.origin.deleteLater()
            self.origin = None
        if not words:
            return
        self.origin = QWidget()
        label = PlainLabel(words, wordWrap=True)
        label.setObjectName("quiet")
        button = QPushButton(say("Confirm"))
        button.setAutoDefault(False)
        button.setEnabled(self.editor.isEnabled())
        button.setAccessibleName(say("Confirm {field}", field=heading_of(self.spec)))
        button.clicked.connect(lambda: self.confirmed.emit(self.spec.name))
        row = QHBoxLayout(self.origin)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(label, 1)
        row.addWidget(button)
        self._column.addWidget(self.origin)

    def _make_editor(self) -> QComboBox | QLineEdit:
        if self.spec.type is bool or issubclass(self.spec.type, StrEnum):
            box = ListBox()
            for choice in choices_of(self.spec):
                box.addItem(choice.words, choice.value)
            box.activated.connect(self._enter)
            return box
        line = FieldLine(USUAL_WORDS if self.spec.type is str else USUAL_NUMBER)
        line.editingFinished.connect(self._enter)
        return line

    def refresh(self, value: Any) -> None:
        """Show the value stored meanwhile, but leave alone what the keeper has typed and not saved."""
        if self._is_unsaved(value):
            self._value = value
        else:
            self.show_value(value)

    def _is_unsaved(self, value: Any) -> bool:
        if not isinstance(self.editor, QLineEdit) or not self.editor.isModified():
            return False
        try:
            return bool(self.read() != value)
        except HangarError:
            return True

    def show_value(self, value: Any) -> None:
        """Show a stored value; a refusal that stood there goes away."""
        self._value = value
        self.refuse("")
        units = self._view.units
        if isinstance(self.editor, QComboBox):
            words = yes_no(value) if value is None or isinstance(value, bool) else word_of(value)
            at = self.editor.findText(words)
            # What must be chosen and is not yet is left open: the first of a list would be a guess.
            is_open = value is None and not self.spec.optional
            self.editor.setPlaceholderText(say("needed") if is_open else "")
            self.editor.setCurrentIndex(-1 if is_open else max(0, at))
            self.editor.setToolTip(plain_tip(say(self.spec.help)))
            return
        self.editor.setText(edit_text(self.spec, value, units))
        self.editor.setCursorPosition(0)
        self.editor.setPlaceholderText(say("not known") if self.spec.optional else say("needed"))
        self.editor.setToolTip(plain_tip(self._tip()))

    def _tip(self) -> str:
        allowed = range_words(self.spec, self._view.units)
        parts = [say(self.spec.help), say("Allowed: {range}.", range=allowed) if allowed else ""]
        unit = shown_unit(self.spec, self._view.units)
        if unit:
            parts.append(say("Any unit can be typed; a bare number is in {unit}.", unit=unit))
        if issubclass(self.spec.type, date):
            parts.append(say("Any usual form can be typed, such as 20.5.2031, +7 for a week on, or today."))
        return "\n".join(part for part in parts if part)

    def read(self) -> Any:
        """The value that stands in the editor.

        Raises: BadInput with a sentence about what is allowed.
        """
        return read_field(self.spec, self._typed(), self._view.units, self._view.today())

    def _typed(self) -> str:
        if isinstance(self.editor, QComboBox):
            return str(self.editor.currentData() or "")
        return str(self.editor.text())

    def refuse(self, sentence: str) -> None:
        """Say beside the field what is wrong; an empty sentence takes it back."""
        self._refusal.setText(sentence)
        self._refusal.setVisible(bool(sentence))
        self.editor.setAccessibleDescription(sentence)

    @property
    def refusal(self) -> str:
        """What stands beside the field."""
        return str(self._refusal.text())

    def go_to(self) -> None:
        """Put the cursor here, all of it marked, and bring it into sight."""
        self.editor.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(self.editor, QLineEdit):
            self.editor.selectAll()
        above = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        if above is not None:
            above.ensureWidgetVisible(self)

    def _enter(self) -> None:
        if self._typed() == self._shown_text():
            self.refuse("")
            return
        try:
            value = self.read()
        except HangarError as fault:
            self.refuse(put(fault))
            return
        self.refuse("")
        if value != self._value:
            self.entered.emit(self.spec.name, value)

    def _shown_text(self) -> str:
        if isinstance(self.editor, QComboBox):
            return "\0"
        return edit_text(self.spec, self._value, self._view.units)


class RecordForm(QWidget):
    """Editors for the fields of one record kind.

    Signals: ``entered(name, value)`` when the keeper finished a field with another value;
    ``confirmed(name)`` when he confirms one.
    """

    entered = Signal(str, object)
    confirmed = Signal(str)

    def __init__(
        self,
        kind: type[Record],
        view: ViewSettings,
        names: Iterable[str] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        by_name = {spec.name: spec for spec in columns(kind)}
        self._editors: dict[str, FieldEditor] = {}
        form = QFormLayout(self)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.setHorizontalSpacing(14)
        for name in by_name if names is None else names:
            editor = FieldEditor(by_name[name], view)
            editor.entered.connect(self.entered)
            editor.confirmed.connect(self.confirmed)
            label = PlainLabel(folded(heading_of(by_name[name])))
            label.setAlignment(form.labelAlignment())
            label.setBuddy(editor.editor)
            form.addRow(label, editor)
            self._editors[name] = editor
        self._view = view
        self._shown_key: tuple[str, tuple[Any, ...]] | None = None

    def editor(self, name: str) -> FieldEditor:
        """The editor of a field."""
        return self._editors[name]

    def show_record(self, record: Record) -> None:
        """Show the values of a record; of the one shown already, what was typed and not saved stays."""
        key = (record.KIND, key_of(record))
        is_same, self._shown_key = key == self._shown_key, key
        for name, editor in self._editors.items():
            show = editor.refresh if is_same else editor.show_value
            show(getattr(record, name))

    def show_origins(self, origins: Iterable[FieldOrigin]) -> None:
        """Say beside each field that is not confirmed which cell of a sheet it comes from."""
        words_by_field = {origin.field: put(origin_words(origin)) for origin in origins}
        for name, editor in self._editors.items():
            editor.show_origin(words_by_field.get(name, ""))

    def show_values(self, values: Mapping[str, Any]) -> None:
        """Show these values; fields not named show their default."""
        self._shown_key = None
        for name, editor in self._editors.items():
            editor.show_value(values.get(name, editor.spec.default))

    def read_all(self) -> dict[str, Any] | None:
        """All values; None after every editor that cannot be read has said why."""
        values: dict[str, Any] = {}
        wrong: FieldEditor | None = None
        for name, editor in self._editors.items():
            try:
                values[name] = editor.read()
            except HangarError as fault:
                editor.refuse(put(fault))
                wrong = wrong or editor
            else:
                editor.refuse("")
        if wrong is None:
            return values
        wrong.go_to()
        return None

    def blame(self, fault: HangarError) -> bool:
        """Say a refusal beside the field with whose label it begins, and go there; False where none is."""
        sentence = put(fault)
        start = sentence.casefold()
        called = [
            (len(label), editor)
            for editor in self._editors.values()
            if start.startswith((f"{(label := heading_of(editor.spec).casefold())} ", f"{label}:"))
        ]
        if not called:
            return False
        _, editor = max(called, key=lambda named: named[0])
        editor.refuse(sentence)
        editor.go_to()
        return True

    def try_entering(self, name: str, step: Callable[[], object]) -> None:
        """Do what a field asks for; a refusal is shown beside that field."""
        try:
            step()
        except HangarError as fault:
            self._editors[name].refuse(put(fault))
