"""Enter a new record of any kind in a form; it is added as one undoable edit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCompleter,
    QDialog,
    QDialogButtonBox,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import BadInput, HangarError
from hangar.base.text import Text, fixed, text
from hangar.parts import KIND_BY_NAME
from hangar.parts.fields import Record, columns, key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.records.record_form import RecordForm

if TYPE_CHECKING:
    from hangar.store import Edit


class _KeyInUse(BadInput):
    """A record of that name is there already."""


class RecordDialog(QDialog):
    """A form for a new record; ``preset`` fields are given and not asked for.

    Signals: ``made(key)`` when the record is added.
    """

    made = Signal(object)

    def __init__(
        self, desk: Desk, kind: type[Record], preset: Mapping[str, Any], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._kind = kind
        self._preset = dict(preset)
        self.setWindowTitle(say("New {what}", what=say(kind.TITLE)))
        self.resize(520, 560)
        asked = [spec.name for spec in columns(kind) if spec.name not in preset]
        self.form = RecordForm(kind, desk.view, asked)
        self.form.show_values({})
        self._offer_names()
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(self.form)
        scroll.setAccessibleName(say("Fields"))
        # Else the frame would have the focus and what is typed first would be lost.
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.form.editor(asked[0]).editor.setFocus()
        self.refusal = PlainLabel()
        self.refusal.setWordWrap(True)
        self.refusal.setObjectName("refusal")
        self.buttons = buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.save)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(scroll, 1)
        column.addWidget(self.refusal)
        column.addWidget(buttons)

    def _offer_names(self) -> None:
        """Under each line that names another record: the names there are, while one is typed."""
        for link in self._kind.LINKS:
            asked = [field for field in link.fields if field not in self._preset]
            if len(asked) != 1 or not isinstance(line := self.form.editor(asked[0]).editor, QLineEdit):
                continue
            kind = KIND_BY_NAME[link.kind]
            key_of_link = dict(zip(link.fields, kind.KEY, strict=True))
            given = {
                key_of_link[field]: self._preset[field] for field in link.fields if field in self._preset
            }
            names = [
                str(getattr(record, key_of_link[asked[0]])) for record in self._desk.records(kind, **given)
            ]
            offer = QCompleter(names, line)
            offer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            offer.setFilterMode(Qt.MatchFlag.MatchContains)
            line.setCompleter(offer)

    def save(self) -> None:
        """Add the record, or say what is wrong with it."""
        values = self.form.read_all()
        if values is None:
            self.refusal.setText(say("Some fields cannot be taken as they stand; see beside them."))
            return
        try:
            self._add(self._kind(**values, **self._preset))
        except HangarError as fault:
            self.refusal.setText("" if self.form.blame(fault) else put(fault))
            self._go_to_key(fault)
        else:
            self.accept()

    def _go_to_key(self, fault: HangarError) -> None:
        """Of a record that is there already the name is to be typed anew."""
        asked = [name for name in self._kind.KEY if name not in self._preset]
        if isinstance(fault, _KeyInUse) and asked:
            self.form.editor(asked[-1]).go_to()

    def _add(self, record: Record) -> None:
        key = key_of(record)
        name = " ".join(str(part) for part in key)
        if self._desk.fleet.record(self._kind, *key) is not None:
            raise _KeyInUse(
                "There is a {what} {name} already; choose another one.", what=self._kind.TITLE, name=name
            )
        label = text(
            "Add {what} {name}", what=fixed(self._kind.TITLE), name=" ".join(str(part) for part in key)
        )
        self.put_in(record, label)
        self.made.emit(key)

    def put_in(self, record: Record, label: Text) -> None:
        """Make the edit.

        Raises: HangarError when it is refused; nothing is changed then.
        """
        needed = self.needed_with(record)

        def put_all(edit: Edit) -> None:
            for new_record in (*needed, record):
                edit.put(new_record)

        self._desk.change(label, put_all)

    def needed_with(self, _record: Record) -> tuple[Record, ...]:
        """Records that this one names, are not there, and can be entered with it in the same edit."""
        return ()
