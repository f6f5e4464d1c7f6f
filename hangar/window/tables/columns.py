"""What a table column shows of a row and how a cell of it is edited."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any, Generic, TypeVar

from PySide6.QtCore import Qt

from hangar.base.figure import Figure
from hangar.base.text import Text, fixed, text
from hangar.base.units import ShowsNumbers
from hangar.parts.fields import FieldSpec, Record, columns, key_of
from hangar.rules.finding import Level
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import (
    LONGEST_HEAD,
    dated_basis,
    edit_text,
    field_text,
    figure_text,
    folded,
    heading_of,
    read_field,
)
from hangar.window.kit.level_marks import mark_icon
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import level_word, put, say, word_of

FIGURE_ROLE = Qt.ItemDataRole.UserRole + 1
SORT_ROLE = Qt.ItemDataRole.UserRole + 2
ROW_ROLE = Qt.ItemDataRole.UserRole + 3
CHOICES_ROLE = Qt.ItemDataRole.UserRole + 4

_Role = Qt.ItemDataRole
RowT = TypeVar("RowT")


@dataclass(frozen=True)
class Choice:
    """One entry of a list in a cell: what is shown and what is handed to ``write``."""

    words: str
    value: str


@dataclass(frozen=True)
class Column(Generic[RowT]):
    """One column.

    ``write`` takes the row and the typed text (or the value of a ``Choice``) and makes the edit;
    it raises BadInput for what cannot be read. ``show_for_edit`` is the text an editor starts with;
    ``widest`` the letters a column shows before the rest is cut; ``gives_way`` in which order columns are
    left out where a table has no room for all, 0 never; ``wraps`` lets its sentences go on below where the
    column is cut.
    """

    heading: str
    text: Callable[[RowT, ShowsNumbers], str]
    raw: Callable[[RowT], Any] | None = None
    figure: Callable[[RowT], Figure | None] | None = None
    level: Callable[[RowT], Level | None] | None = None
    tip: Callable[[RowT], str] | None = None
    write: Callable[[RowT, str], None] | None = None
    choices: Callable[[RowT], tuple[Choice, ...]] | None = None
    show_for_edit: Callable[[RowT, ShowsNumbers], str] | None = None
    number: bool = False
    widest: int = 52
    help: str = ""
    gives_way: int = 0
    wraps: bool = False


def figure_column(
    heading: str,
    figure: Callable[[RowT], Figure | None],
    missing: Callable[[RowT], tuple[Text, ...]] | None = None,
    help_text: str = "",
) -> Column[RowT]:
    """A column of computed numbers; each can be asked how it was made.

    ``missing`` names what is not known where there is no number.
    """
    return Column(
        heading=say(heading),
        text=lambda row, units: figure_text(figure(row), units),
        raw=lambda row: _expected(figure(row)),
        figure=figure,
        tip=lambda row: basis_tip(figure(row), missing(row) if missing else ()),
        number=True,
        help=help_text,
    )


def _expected(figure: Figure | None) -> float | None:
    return figure.expected if figure else None


def basis_tip(figure: Figure | None, missing: tuple[Text, ...] = ()) -> str:
    """The line shown over a computed number."""
    if figure is None and missing:
        return say("Not known: {fields}.", fields=", ".join(map(put, missing)))
    if figure is None:
        return say("Cannot be worked out from the data entered.")
    return say(
        "{name}: {basis}. Click or press Ctrl+H to see how.",
        name=put(figure.name),
        basis=dated_basis(figure),
    )


def field_columns(
    desk: Desk, kind: type[Record], names: Iterable[str] | None = None, *, editable: bool = True
) -> tuple[Column[Any], ...]:
    """Columns for the fields of a record kind, edited through the desk.

    Args:
        names: the fields wanted, in that order; None takes all.
        editable: False makes them read-only; key fields always are.
    """
    by_name = {spec.name: spec for spec in columns(kind)}
    wanted = tuple(by_name) if names is None else tuple(names)
    return tuple(_field_column(desk, kind, by_name[name], editable) for name in wanted)


def _field_column(desk: Desk, kind: type[Record], spec: FieldSpec, editable: bool) -> Column[Any]:
    can_edit = editable and spec.name not in kind.KEY

    def write(row: Record, text: str) -> None:
        value = read_field(spec, text, desk.view.reader, desk.today)
        change_field(desk, row, spec, value)

    def value_of(row: Record) -> Any:
        return getattr(row, spec.name)

    is_listed = spec.type is bool or issubclass(spec.type, StrEnum)

    return Column(
        heading=folded(heading_of(spec), LONGEST_HEAD),
        text=lambda row, units: field_text(spec, value_of(row), units),
        raw=value_of,
        write=write if can_edit else None,
        choices=(lambda _row: choices_of(spec)) if is_listed else None,
        show_for_edit=lambda row, units: edit_text(spec, value_of(row), units),
        number=spec.type is float or (spec.type is int and not spec.is_year),
        help=say(spec.help),
    )


def choices_of(spec: FieldSpec) -> tuple[Choice, ...]:
    """What a list in a form or cell offers for a field."""
    unknown = (Choice(say("not known"), ""),) if spec.optional else ()
    if spec.type is bool:
        return (*unknown, Choice(say("yes"), say("yes")), Choice(say("no"), say("no")))
    words = (word_of(item) for item in spec.type)  # type: ignore[attr-defined]
    return (*unknown, *(Choice(word, word) for word in words))


def change_field(desk: Desk, record: Record, spec: FieldSpec, value: Any) -> None:
    """Change one field of a record as one undoable edit; nothing when it is the same.

    Raises: HangarError when the change is refused.
    """
    if value == getattr(record, spec.name):
        return
    key = key_of(record)
    label = text(
        "Change {field} of {what} {name}",
        field=fixed(spec.label),
        what=fixed(record.TITLE),
        name=" ".join(str(part) for part in key),
    )
    desk.change(label, lambda edit: edit.change(type(record), key, **{spec.name: value}))


def _text(desk: Desk, row: Any, column: Column[Any]) -> str:
    return column.text(row, desk.view.reader)


def _editing(desk: Desk, row: Any, column: Column[Any]) -> str:
    return (column.show_for_edit or column.text)(row, desk.view.reader)


def _tip(_desk: Desk, row: Any, column: Column[Any]) -> str | None:
    tip = column.tip(row) if column.tip else ""
    return plain_tip(tip) if tip else None


def _mark(desk: Desk, row: Any, column: Column[Any]) -> Any:
    level = column.level(row) if column.level else None
    return mark_icon(level, desk.view.look) if level else None


def _figure(_desk: Desk, row: Any, column: Column[Any]) -> Figure | None:
    return column.figure(row) if column.figure else None


def _sorting(desk: Desk, row: Any, column: Column[Any]) -> Any:
    if column.raw is None:
        return _text(desk, row, column)
    value = column.raw(row)
    if value is None:
        return float("-inf") if column.number else ""
    return value.isoformat() if isinstance(value, date) else value


_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


def alignment(column: Column[Any]) -> Qt.AlignmentFlag:
    """To which side the words of a column stand."""
    return _RIGHT if column.number else _LEFT


def _spoken(desk: Desk, row: Any, column: Column[Any]) -> str:
    level = column.level(row) if column.level else None
    heading = column.heading.replace("\n", " ")
    words = f"{heading}: {_text(desk, row, column)}"
    return f"{words}, {level_word(level)}" if level else words


def _row(_desk: Desk, row: Any, _column: Column[Any]) -> Any:
    return row


def _choices(_desk: Desk, row: Any, column: Column[Any]) -> Any:
    return column.choices(row) if column.choices else None


ANSWERS: dict[int, Callable[[Desk, Any, Column[Any]], Any]] = {
    _Role.DisplayRole: _text,
    _Role.EditRole: _editing,
    _Role.ToolTipRole: _tip,
    _Role.DecorationRole: _mark,
    _Role.TextAlignmentRole: lambda _desk, _row, column: alignment(column),
    _Role.AccessibleTextRole: _spoken,
    FIGURE_ROLE: _figure,
    SORT_ROLE: _sorting,
    ROW_ROLE: _row,
    CHOICES_ROLE: _choices,
}
"""What a cell answers to each of Qt's roles, from the desk, its row and its column."""
