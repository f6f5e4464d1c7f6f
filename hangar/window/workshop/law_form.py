"""One row of the table of law and codes in a form: typed, refused beside the field, kept."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QWidget

from hangar.base.errors import BadInput
from hangar.rules.field_rules import FieldRule, field_rule_gaps
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.told_line import ToldLine
from hangar.window.kit.typed_day import typed_day
from hangar.window.kit.words import put, say

EMPTY = FieldRule(item="", shown="", where="", source="")


class LawForm(QWidget):
    """Signals: ``entered(field)`` when a field of the row shown was typed anew."""

    entered = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rule = EMPTY
        self._key: str | None = None
        self.lines: dict[str, ToldLine] = {}
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for name, words, hint in (
            ("item", say("&About"), ""),
            ("shown", say("Fi&gure"), say("a figure with its unit, a range, or words")),
            ("where", say("&Where it holds"), say("a country or a body")),
            ("source", say("&Source"), say("the text it is from")),
            ("as_of", say("As &of"), say("date such as 2026-04-01; may stay empty")),
            ("note", say("&Note"), say("may stay empty")),
        ):
            line = ToldLine(words.replace("&", ""), hint)
            line.entered.connect(lambda name=name: self.entered.emit(name))
            label = PlainLabel(words)
            label.setBuddy(line)
            form.addRow(label, line)
            self.lines[name] = line

    def show_rule(self, key: str | None, rule: FieldRule) -> None:
        """Show a row; a field of the same row that stands refused keeps what was typed."""
        same = key == self._key
        self._key, self._rule = key, rule
        for name, line in self.lines.items():
            if not (same and line.refusal):
                value = getattr(rule, name)
                line.show_text(value.isoformat() if isinstance(value, date) else value or "")

    def read_field(self, name: str) -> FieldRule:
        """The row shown with one field as it is typed.

        Raises: BadInput with a sentence for that field.
        """
        typed = self.lines[name].text
        value: Any = _day(typed) if name == "as_of" else typed
        rule = replace(self._rule, **{name: value})
        gap = field_rule_gaps(rule).get(name)
        if gap:
            raise BadInput(gap)
        return rule

    def read_all(self) -> FieldRule | None:
        """The row as it is typed; None after saying beside each field what is wrong."""
        field_rule = self._rule
        refused: list[ToldLine] = []
        for name, line in self.lines.items():
            try:
                field_rule = replace(field_rule, **{name: getattr(self.read_field(name), name)})
                line.refuse("")
            except BadInput as fault:
                line.refuse(put(fault))
                refused.append(line)
        if refused:
            refused[0].setFocus()
        return None if refused else field_rule


def _day(text: str) -> date | None:
    if not text:
        return None
    try:
        return typed_day(text, date.today())
    except ValueError:
        raise BadInput(
            'The date "{text}" is no day of the calendar; write it as 2026-04-01, or leave it empty.',
            text=text,
        ) from None
