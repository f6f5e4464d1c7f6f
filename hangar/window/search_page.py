"""Search everywhere: a field above the rooms, and a page of what was found; Enter goes there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from hangar.parts import (
    Airframe,
    Arm,
    Installation,
    Pack,
    PackFit,
    PackType,
    Plan,
    Position,
    Receiver,
    Record,
    RegulatorType,
    Servo,
    ServoType,
    Snag,
    StockItem,
    Surface,
    SwitchType,
)
from hangar.parts.fields import columns, key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import field_text
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, sentence_case, word_of
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

SEARCHED: tuple[type[Record], ...] = (
    Airframe,
    Servo,
    Pack,
    Position,
    Surface,
    Receiver,
    ServoType,
    PackType,
    RegulatorType,
    SwitchType,
    Arm,
    StockItem,
    Plan,
    Snag,
)
MOST_HITS = 200
READ_FROM = frozenset({*(kind.KIND for kind in SEARCHED), Installation.KIND, PackFit.KIND})
"""Kinds of record that the index is read from."""


@dataclass(frozen=True, slots=True)
class FoundRecord:
    """A record that can be gone to; ``aircraft`` and ``position`` say where, if anywhere."""

    record: Record
    name: str
    about: str
    where: str
    words: str
    aircraft: str | None = None
    position: str | None = None

    @property
    def kind(self) -> type[Record]:
        """Kind of the record."""
        return type(self.record)

    @property
    def servo(self) -> Record | None:
        """The servo, where it is one."""
        return self.record if isinstance(self.record, Servo) else None

    @property
    def pack(self) -> Record | None:
        """The pack, where it is one."""
        return self.record if isinstance(self.record, Pack) else None


def build_index(desk: Desk) -> tuple[FoundRecord, ...]:
    """Everything that can be found, read in one pass over each kind of record."""
    servo_at = {
        installation.servo: installation
        for installation in desk.records(Installation)
        if installation.until_on is None and not installation.disputed
    }
    pack_at = {pack_fit.pack: pack_fit for pack_fit in desk.records(PackFit) if pack_fit.until_on is None}
    types = {record.code: record for kind in (ServoType, PackType) for record in desk.records(kind)}
    records = (record for kind in SEARCHED for record in desk.records(kind))
    return tuple(_found(desk, record, servo_at, pack_at, types) for record in records)


def _found(
    desk: Desk,
    record: Any,
    servo_at: dict[str, Installation],
    pack_at: dict[str, PackFit],
    types: dict[str, Any],
) -> FoundRecord:
    words = [*_texts(desk, record)]
    aircraft: str | None = getattr(record, "aircraft", None)
    position: str | None = None
    where = aircraft or ""
    if isinstance(record, Airframe):
        aircraft, where = record.code, word_of(record.aircraft_class)
    elif isinstance(record, Position):
        position = record.code
    elif isinstance(record, Servo):
        words += _texts(desk, types.get(record.servo_type))
        stay = servo_at.get(record.tag)
        if stay is not None:
            aircraft, position = stay.aircraft, stay.position
        where = f"{stay.aircraft} {stay.position}" if stay else record.bin or say(str(record.state))
    elif isinstance(record, Pack):
        words += _texts(desk, types.get(record.pack_type))
        fit = pack_at.get(record.tag)
        where = f"{fit.aircraft} {fit.feed}" if fit else record.bin or say(str(record.state))
        aircraft = fit.aircraft if fit else None
    key = [str(part) for part in key_of(record)]
    name = key[-1] if aircraft and len(key) > 1 and not isinstance(record, Snag) else " ".join(key)
    text = " ".join([record.TITLE, where, *words]).lower()
    if " mah" in text:
        text = f"{text} {text.replace(' mah', 'mah')}"
    return FoundRecord(record, name, _about(record), where, text, aircraft, position)


def _texts(desk: Desk, record: Any) -> Iterable[str]:
    """What stands in the fields of a record as shown; dates and yes or no are not searched."""
    if record is None:
        return
    for spec in columns(type(record)):
        value = getattr(record, spec.name)
        if value is None or isinstance(value, bool | date | datetime):
            continue
        if isinstance(value, str):
            yield value
        elif spec.unit in ("mAh", "AWG"):
            yield field_text(spec, value, desk.view.reader)
            yield f"{value:g} mAh" if spec.unit == "mAh" else f"AWG {value}"
        elif spec.name == "series":
            yield f"{value}s"


def _about(record: Any) -> str:
    for name in ("name", "title", "text", "servo_type", "pack_type", "maker", "part_type"):
        value = getattr(record, name, None)
        if value:
            return str(value)
    return ""


def search(index: Iterable[FoundRecord], text: str) -> tuple[FoundRecord, ...]:
    """What holds every word asked for: names that are the text first, then those that begin with it."""
    asked = text.lower().strip()
    wanted = asked.split()
    if not wanted:
        return ()
    hits = [record for record in index if all(word in record.words for word in wanted)]
    return tuple(sorted(hits, key=lambda hit: _rank(hit, asked, wanted))[:MOST_HITS])


def _rank(record: FoundRecord, asked: str, wanted: list[str]) -> tuple[int, int, str]:
    name = record.name.lower()
    if name == asked:
        place = 0
    elif name.startswith(asked):
        place = 1
    elif any(word in f"{name} {record.about.lower()}" for word in wanted):
        place = 2
    else:
        place = 3
    return place, SEARCHED.index(record.kind), record.name


def found_columns() -> tuple[Column[FoundRecord], ...]:
    """What it is, its name, what it is about, where it is."""
    return (
        Column(say("Kind"), lambda record, _units: say(sentence_case(record.kind.TITLE))),
        Column(say("Name"), lambda record, _units: record.name),
        Column(say("About"), lambda record, _units: record.about, widest=60),
        Column(say("Where"), lambda record, _units: record.where),
    )


class SearchField(QLineEdit):
    """Where words are typed. Signals: ``asked(text)``, ``into_list()``, ``left()``."""

    asked = Signal(str)
    into_list = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setPlaceholderText(say("Search (Ctrl+F)"))
        self.setAccessibleName(say("Search the fleet"))
        self.setToolTip(say("A tag, a word, or a size such as 2000 mAh; Ctrl+F"))
        self.setClearButtonEnabled(True)
        self._soon = QTimer(self, singleShot=True, interval=120)
        self._soon.timeout.connect(lambda: self.asked.emit(self.text()))
        self.textEdited.connect(lambda _text: self._soon.start())
        self.textChanged.connect(self._emptied)

    def _emptied(self, text: str) -> None:
        if not text:
            self._soon.stop()
            self.left.emit()

    def begin(self) -> None:
        """Take the focus with everything chosen, ready to be typed over."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.clear()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down):
            self._soon.stop()
            self.asked.emit(self.text())
            self.into_list.emit()
        else:
            super().keyPressEvent(event)


class SearchPage(QWidget):
    """What was found. Signals: ``chosen(Found)`` when the keeper wants to go there."""

    chosen = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._index: tuple[FoundRecord, ...] | None = None
        self._text = ""
        self._model: RowsModel[FoundRecord] = RowsModel(
            desk, found_columns(), lambda record: (record.kind.KIND, record.where, record.name), self
        )
        self.table = RowsView(self._model, say("What was found"))
        self.table.choose_whole_rows()
        self.message = PlainLabel()
        self.message.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.message)
        column.addWidget(self.table, 1)
        hand_focus(self, self.table)
        # The table tells of Enter; the platform decides whether a double click is told that way too.
        self.table.activated.connect(lambda _index: self._go())
        desk.touched.connect(self._touched)

    def look_for(self, text: str) -> None:
        """Show what holds these words."""
        self._text = text
        if self._index is None:
            self._index = build_index(self._desk)
        records = search(self._index, text)
        self._model.show_rows(records)
        if records:
            self.table.selectRow(0)
        self.message.setText(self._words(len(records)))

    def _words(self, count: int) -> str:
        if not count:
            return say("Nothing on record holds “{text}”.", text=self._text)
        if count >= MOST_HITS:
            return say("The first {count} of many; more words find less.", count=MOST_HITS)
        return say("{count} found. Enter goes there.", count=count)

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & READ_FROM:
            self._index = None
            if self.isVisible():
                self.look_for(self._text)

    def _go(self) -> None:
        chosen = self.table.current_row
        if chosen is not None:
            self.chosen.emit(chosen)
