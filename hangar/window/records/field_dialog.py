"""Fill in one field of one record, with how to find it out beside it."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hangar.acts.confirming import confirm
from hangar.parts import FieldOrigin
from hangar.parts.fields import Record, columns
from hangar.parts.readings import place_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say
from hangar.window.records.record_form import RecordForm
from hangar.window.tables.columns import change_field


class FieldDialog(QDialog):
    """One field; what is typed is kept as one undoable edit."""

    def __init__(
        self, desk: Desk, record: Record, name: str, how: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._record = record
        self._spec = next(spec for spec in columns(type(record)) if spec.name == name)
        self.setWindowTitle(say("Enter what was measured"))
        self.form = RecordForm(type(record), desk.view, (name,))
        self.form.show_record(record)
        kind, place = place_of(record)
        self._origins: tuple[FieldOrigin, ...] = desk.records(
            FieldOrigin, kind=kind, record=place, field=name
        )
        self.form.show_origins(self._origins)
        self.form.confirmed.connect(self._confirm)
        self.how = PlainLabel(how, wordWrap=True)
        self.how.setMinimumWidth(self.fontMetrics().averageCharWidth() * 48)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.save)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        for widget in (self.how, self.form, buttons):
            column.addWidget(widget)
        self.form.editor(name).setFocus()

    def _confirm(self) -> None:
        if self._desk.attempt(lambda: self._desk.do(confirm, self._origins)):
            self.reject()

    def save(self) -> None:
        """Keep what is typed, or say beside the field what is wrong with it."""
        values = self.form.read_all()
        if values is None:
            return
        name = self._spec.name
        self.form.try_entering(name, lambda: change_field(self._desk, self._record, self._spec, values[name]))
        if not self.form.editor(name).refusal:
            self.accept()
