"""Look at pasted rows before they are taken: bad cells are marked and named, good rows go in as one step."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING, Any, cast

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hangar.acts.flights import MustNotFly, log_flights
from hangar.acts.hindrances import Hindrances
from hangar.acts.pasting import cause_texts, needed_with, told_with
from hangar.base.errors import BadInput, HangarError
from hangar.base.text import fixed, listed, plural
from hangar.base.units import ShowsNumbers, symbol_of
from hangar.parts import Flight
from hangar.parts.fields import FieldSpec, Record, columns, key_of
from hangar.rules.finding import Level
from hangar.window.bring_in.pasted_rows import open_rows
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import heading_of, read_field
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.stoppable_task import StoppableTask
from hangar.window.kit.words import put, say
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from datetime import date

    from hangar.store import Edit, Fleet, Reach


Heed = Callable[[float], None]
KnownFleet = Mapping[tuple[Any, ...], Record]
_HEEDED, _PUT_TOGETHER = 20, 250
"""Rows that are read, and rows that are written, between two looks at whether to stop."""


@dataclass(frozen=True)
class PastedRow:
    """One pasted row: its cells, the fields that were refused with the reason, and the record made of it.

    ``is_new`` says whether it adds a record or changes one that is there.
    """

    number: int
    cells: tuple[str, ...]
    refused: Mapping[int, str] = field(default_factory=dict)
    refusal: str = ""
    record: Record | None = None
    is_new: bool = True
    needs: tuple[Record, ...] = ()
    """What it names, is not there, and is entered with it."""

    @property
    def is_good(self) -> bool:
        """Whether it can be taken."""
        return self.record is not None

    @property
    def outcome(self) -> str:
        """What becomes of it, in words."""
        if self.record is not None:
            words = say("adds a row") if self.is_new else say("changes a row")
            if not self.needs:
                return words
            return say("{what}, and with it {more}", what=words, more=listed(told_with(self.needs)))
        return "; ".join([*self.refused.values(), *([self.refusal] if self.refusal else [])])


@dataclass(frozen=True)
class PastedBlock:
    """A pasted block: its headings if it had any, the fields they stand for (None for none), its rows."""

    kind: type[Record]
    headings: tuple[str, ...]
    fields: tuple[FieldSpec | None, ...]
    rows: tuple[PastedRow, ...]

    @property
    def good(self) -> tuple[PastedRow, ...]:
        """The rows that can be taken."""
        return tuple(row for row in self.rows if row.is_good)

    @property
    def bad(self) -> tuple[PastedRow, ...]:
        """The rows that cannot."""
        return tuple(row for row in self.rows if not row.is_good)

    @property
    def causes(self) -> dict[str, list[int]]:
        """Each cause for which rows are left out, with the numbers of its rows."""
        rows_by_name: dict[str, list[int]] = {}
        for row in self.bad:
            for cause in (*row.refused.values(), *([row.refusal] if row.refusal else [])):
                rows_by_name.setdefault(cause, []).append(row.number)
        return rows_by_name


def read_block(
    desk: Desk,
    kind: type[Record],
    text: str,
    preset: Mapping[str, Any],
    shown: Sequence[str],
    heed: Heed | None = None,
) -> PastedBlock:
    """Read tab-separated rows.

    Args:
        preset: fields that every record of the table has.
        shown: the fields of the table in the order of its columns: what rows without headings stand for.
        heed: is told again and again which share is done.

    Returns: every row with what is wrong in it. A first row that names fields is taken as headings;
        a unit in brackets behind a heading holds for the bare numbers below it.
    Raises: BadInput when there is nothing to paste.
    """
    lines = [line.split("\t") for line in text.replace("\r\n", "\n").split("\n") if line.strip()]
    if not lines:
        raise BadInput("There is nothing to paste; copy some rows of a table first.")
    by_name = {spec.name: spec for spec in columns(kind)}
    named = [_named(cell, by_name) for cell in lines[0]]
    has_heads = sum(pair is not None for pair in named) * 2 > len(named)
    headings = tuple(lines[0]) if has_heads else ()
    fields: list[FieldSpec | None]
    if has_heads:
        lines = lines[1:]
        fields = [pair[0] if pair else None for pair in named]
        units = [pair[1] if pair else "" for pair in named]
    else:
        fields = list[FieldSpec | None](by_name[name] for name in shown)
        fields = fields[: max(len(line) for line in lines)]
        units = [""] * len(fields)
    known = {key_of(record): record for record in desk.fleet.records(kind)}
    rows = []
    for number, line in enumerate(lines, 1):
        cells = tuple(cell.strip() for cell in line)
        rows.append(_row(desk.view.reader, kind, number, cells, fields, units, preset, known))
        if heed is not None and number % _HEEDED == 0:
            heed(number / len(lines))
    return PastedBlock(kind, headings, tuple(fields), _with_needs(desk.fleet, _once_each(tuple(rows))))


def names_no_field(kind: type[Record], text: str) -> bool:
    """Whether the first of some rows is no row of headings that name fields of a kind."""
    by_name = {spec.name: spec for spec in columns(kind)}
    first = text.strip("\r\n").partition("\n")[0].split("\t")
    named = [_named(cell, by_name) for cell in first if cell.strip()]
    return sum(pair is not None for pair in named) * 2 <= len(named)


def _named(cell: str, by_name: Mapping[str, FieldSpec]) -> tuple[FieldSpec, str] | None:
    """The field a heading names, with the unit behind it."""
    words, _, rest = cell.replace("\n", " ").partition("[")
    unit = rest.partition("]")[0].strip()
    wanted = words.strip().lower()
    for spec in by_name.values():
        if wanted in (spec.name, spec.plain_words, spec.label.lower(), heading_of(spec).lower()):
            return spec, unit
    begun = [spec for spec in by_name.values() if wanted and spec.label.lower().startswith(f"{wanted} ")]
    return (begun[0], unit) if len(begun) == 1 else None


def _row(
    choice: ShowsNumbers,
    kind: type[Record],
    number: int,
    cells: tuple[str, ...],
    fields: Sequence[FieldSpec | None],
    units: Sequence[str],
    preset: Mapping[str, Any],
    known: KnownFleet,
) -> PastedRow:
    values, refused = dict(preset), {}
    for at, (cell, spec, unit) in enumerate(zip(cells, fields, units, strict=False)):
        # A blank where a value must stand takes the usual one, or keeps the one that is there.
        if spec is None or (not cell and not spec.optional):
            continue
        try:
            values[spec.name] = read_field(spec, _with_unit(cell, spec, unit), choice, is_pasted=True)
        except HangarError as fault:
            refused[at] = put(fault)
    row = PastedRow(number, cells, refused)
    return row if refused else _made(kind, values, row, known)


def _with_unit(cell: str, spec: FieldSpec, unit: str) -> str:
    bare = cell.replace(",", ".").lstrip("+-").replace(".", "", 1).isdigit()
    return f"{cell} {unit}" if unit and bare and spec.unit else cell


def _made(kind: type[Record], values: dict[str, Any], row: PastedRow, known: KnownFleet) -> PastedRow:
    missing = [name for name in kind.KEY if values.get(name) is None and _must_give(kind, name)]
    if missing:
        labels = ", ".join(heading_of(spec) for spec in columns(kind) if spec.name in missing)
        return replace(row, refusal=say("{fields} is missing; it must be given.", fields=labels))
    defaults = {spec.name: spec.default for spec in columns(kind) if spec.default is not None}
    key = [values.get(name, defaults.get(name)) for name in kind.KEY]
    there = known.get(tuple(key))
    try:
        made = replace(there, **values) if there is not None else kind(**values)  # type: ignore[type-var]
        for spec in columns(kind):
            spec.check(getattr(made, spec.name))
    except (HangarError, TypeError) as fault:
        return replace(row, refusal=_why(kind, values, fault))
    return replace(row, record=made, is_new=there is None)


def _must_give(kind: type[Record], name: str) -> bool:
    return next(spec for spec in columns(kind) if spec.name == name).default is None


def _why(kind: type[Record], values: Mapping[str, Any], fault: Exception) -> str:
    if isinstance(fault, HangarError):
        return put(fault)
    lacking = [
        heading_of(spec)
        for spec in columns(kind)
        if spec.name not in values and not spec.optional and spec.default is None
    ]
    return say("{fields} is missing; it must be given.", fields=", ".join(lacking))


def _once_each(rows: tuple[PastedRow, ...]) -> tuple[PastedRow, ...]:
    """Of rows that name the same record only the first is taken."""
    seen: dict[tuple[Any, ...], int] = {}
    checked = []
    for row in rows:
        if row.record is not None:
            first = seen.setdefault(key_of(row.record), row.number)
            if first != row.number:
                words = say("names the same record as row {number}; each may be named once", number=first)
                row = replace(row, record=None, refusal=words)
        checked.append(row)
    return tuple(checked)


def _with_needs(fleet: Fleet, rows: tuple[PastedRow, ...]) -> tuple[PastedRow, ...]:
    """The rows with what each needs besides; one that names what is not there is left out."""
    there: dict[type[Record], set[tuple[Any, ...]]] = {}

    def is_there(kind: type[Record], key: tuple[Any, ...]) -> bool:
        if kind not in there:
            there[kind] = {key_of(record) for record in fleet.records(kind)}
        return key in there[kind]

    for row in rows:
        if row.record is not None:
            is_there(type(row.record), ())
            there[type(row.record)].add(key_of(row.record))
    checked = []
    for row in rows:
        if row.record is not None:
            try:
                needs = needed_with(row.record, is_there)
            except HangarError as fault:
                row = replace(row, record=None, refusal=put(fault))
            else:
                for need in needs:
                    is_there(type(need), ())
                    there[type(need)].add(key_of(need))
                row = replace(row, needs=needs)
        checked.append(row)
    return tuple(checked)


def take_rows(
    fleet: Fleet, pasted: PastedBlock, heed: Heed | None = None, *, today: date, although: bool = False
) -> Reach:
    """Put all good rows in as one undoable edit.

    Args:
        heed: is told again and again which share is done; what it raises takes everything back.
        today: the day it is.
        although: log flights of aircraft that must not have flown all the same.

    Raises:
        MustNotFly: flights are among them that must be asked about.
        HangarError: the store refuses one. Nothing is changed then.
    """
    records = [row.record for row in pasted.good if row.record is not None]
    what = fixed(pasted.kind.TITLE)
    label = plural(
        "Paste {count} row of {what}", "Paste {count} rows of {what}", count=len(records), what=what
    )

    hindrances = Hindrances(fleet, today)

    needs = [need for row in pasted.good for need in row.needs]

    def work(edit: Edit) -> None:
        for need in needs:
            edit.put(need)
        for at in range(0, len(records), _PUT_TOGETHER):
            if heed is not None:
                heed(at / len(records))
            some = records[at : at + _PUT_TOGETHER]
            if pasted.kind is Flight:
                log_flights(edit, cast("list[Flight]", some), hindrances, although=although)
            else:
                edit.put_all(some)

    return fleet.edit(label, work)


def heading_with_unit(desk: Desk, spec: FieldSpec) -> str:
    """A field's heading with the unit that a bare number is read in."""
    unit = spec.unit
    return f"{heading_of(spec)} [{symbol_of(desk.view.reader.unit_for(unit))}]" if unit else heading_of(spec)


MANY = 300
"""From so many rows on they are read and taken beside the window, with their share and a Stop button."""


def paste_columns(desk: Desk, pasted: PastedBlock) -> tuple[Column[PastedRow], ...]:
    """The cells as pasted, each bad one marked, and what becomes of the row."""

    def cell(at: int, row: PastedRow, _units: object) -> str:
        return row.cells[at] if at < len(row.cells) else ""

    def level(at: int, row: PastedRow) -> Level | None:
        return Level.CAUTION if at in row.refused else None

    def tip(at: int, row: PastedRow) -> str:
        return row.refused.get(at, "")

    def unknown(at: int) -> str:
        return say("{heading}: no such field, not taken", heading=pasted.headings[at].strip())

    shown = [
        Column(
            heading_with_unit(desk, spec) if spec else unknown(at),
            partial(cell, at),
            level=partial(level, at),
            tip=partial(tip, at),
            widest=26,
        )
        for at, spec in enumerate(pasted.fields)
    ]
    return (
        Column(say("Row"), lambda row, _units: str(row.number), raw=lambda row: row.number, number=True),
        *shown,
        Column(
            say("What becomes of it"),
            lambda row, _units: row.outcome if row.is_good else say("left out: {why}", why=row.outcome),
            level=lambda row: None if row.is_good else Level.CAUTION,
            tip=lambda row: row.outcome,
            widest=90,
        ),
    )


class PasteDialog(QDialog):
    """The preview; only good rows are taken."""

    def __init__(self, desk: Desk, pasted: PastedBlock, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk, self.pasted = desk, pasted
        self.setWindowTitle(say("Paste rows of {what}", what=say(pasted.kind.TITLE)))
        self.resize(940, 460)
        model: RowsModel[PastedRow] = RowsModel(
            desk, paste_columns(desk, pasted), lambda row: row.number, self
        )
        model.show_rows(pasted.rows)
        self.table = RowsView(model, say("Rows to paste"))
        words = say("Can be taken: {good}. Left out: {bad}.", good=len(pasted.good), bad=len(pasted.bad))
        label = PlainLabel(words, wordWrap=True)
        self.causes = PlainLabel("\n".join(map(put, cause_texts(pasted.causes))), wordWrap=True)
        self.causes.setVisible(bool(pasted.bad))
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        self.take_button = buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.take_button.setText(say("&Take the good rows"))
        self.take_button.setEnabled(bool(pasted.good))
        self._although = False
        buttons.accepted.connect(self.take)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(label)
        column.addWidget(self.causes)
        column.addWidget(self.table, 1)
        column.addWidget(self.refusal)
        column.addWidget(buttons)

    def take(self) -> None:
        """Take the good rows in one step, or say why the store would not."""
        desk, pasted = self._desk, self.pasted
        work = partial(take_rows, desk.fleet, pasted, today=desk.today, although=self._although)
        if len(pasted.good) < MANY:
            try:
                self._taken(work())
            except HangarError as fault:
                self._refused(fault)
            return
        taking = StoppableTask(self, say("Taking the rows…"), work)
        taking.done.connect(self._taken)
        taking.failed.connect(self._refused)
        taking.stopped.connect(lambda: self._not_taken(say("Stopped; no row was taken.")))
        self.take_button.setEnabled(False)
        desk.rest()
        taking.start()

    def _taken(self, touched: Reach) -> None:
        self._desk.was_edited = True
        self._desk.read_elsewhere(touched)
        self._desk.start_judging()
        self.accept()

    def _refused(self, fault: HangarError) -> None:
        if isinstance(fault, MustNotFly):
            self._although = True
            self.take_button.setText(say("Log them all &the same"))
            self._not_taken(put(fault.question))
        else:
            self._not_taken(put(fault))

    def _not_taken(self, words: str) -> None:
        self._desk.start_judging()
        self.take_button.setEnabled(True)
        self.refusal.setText(words)


def paste_action(
    desk: Desk,
    table: QWidget,
    kind: type[Record],
    names: Sequence[str],
    preset: Callable[[], Mapping[str, Any]],
) -> QAction:
    """The action that pastes the clipboard's rows into a table of records.

    Args:
        desk: where the rows go.
        table: the table that has the focus when rows are pasted.
        kind: of the records.
        names: fields of the table, in its order.
        preset: gives the fields that every record of the table has at the time.
    """
    action = QAction(say("Paste rows…"), table)
    action.setShortcut(QKeySequence(QKeySequence.StandardKey.Paste))
    action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
    action.triggered.connect(lambda: open_paste(desk, table, kind, names, preset()))
    action.setEnabled(not desk.read_only)
    return action


def open_paste(
    desk: Desk, parent: QWidget, kind: type[Record], names: Sequence[str], preset: Mapping[str, Any]
) -> PasteDialog | None:
    """Open the preview of what is on the clipboard; None where it follows later, or after telling why not."""
    text = QGuiApplication.clipboard().text()
    if names_no_field(kind, text) and open_rows(desk, parent, kind, text, str(preset.get("aircraft", ""))):
        return None
    if text.count("\n") < MANY:
        try:
            return _open(desk, parent, read_block(desk, kind, text, preset, names))
        except HangarError as fault:
            desk.trouble.emit(fault)
            return None
    reading = StoppableTask(
        parent, say("Reading the rows…"), lambda heed: read_block(desk, kind, text, preset, names, heed)
    )
    reading.done.connect(lambda pasted: _open(desk, parent, pasted))
    reading.failed.connect(desk.trouble)
    reading.start()
    return None


def _open(desk: Desk, parent: QWidget, pasted: PastedBlock) -> PasteDialog:
    dialog = PasteDialog(desk, pasted, parent)
    dialog.open()
    return dialog
