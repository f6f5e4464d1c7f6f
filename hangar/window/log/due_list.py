"""What comes due on every aircraft: as a calendar, and as a list, the earliest first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from hangar.window.kit.desk import Desk
from hangar.window.kit.due_strip import DueStrip, due_day, put_off_words
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.strip import JoinedStrip
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.log.put_off_strip import PutOffStrip
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.survey import DueItem

SOON_DAYS = 30
SPANS = (21, 42, 182)
"""Days that the calendar shows."""


@dataclass(frozen=True)
class DueRow:
    """One thing that falls due on one aircraft."""

    aircraft: str
    item: DueItem


def days_words(days: int) -> str:
    """How long there is still time."""
    if days == -1:
        return say("since yesterday")
    if days < 0:
        return say("{count} days overdue", count=-days)
    near = {0: say("today"), 1: say("tomorrow")}
    return near.get(days) or say("in {count} days", count=days)


def due_columns() -> tuple[Column[DueRow], ...]:
    """When, how soon, where, what, why."""
    return (
        Column(say("Due"), lambda row, _units: row.item.due_on.isoformat(), raw=lambda row: row.item.due_on),
        Column(
            say("Time left"), lambda row, _units: days_words(row.item.days), raw=lambda row: row.item.days
        ),
        Column(say("Aircraft"), lambda row, _units: row.aircraft),
        Column(say("What"), lambda row, _units: say(sentence_case(str(row.item.what)))),
        Column(say("Concerns"), lambda row, _units: put(row.item.about)),
        Column(say("Why"), lambda row, _units: _why(row.item), wraps=True),
    )


def _why(item: DueItem) -> str:
    """The record it comes from, and how it was put off."""
    how = put_off_words(item)
    return f"{put(item.why)}; {how}" if how else put(item.why)


class DueList(QWidget):
    """All that is overdue or due soon; everything on demand.

    A ring that is dragged along the calendar, and the line below the list, put a thing off with a reason.
    """

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._model: RowsModel[DueRow] = RowsModel(
            desk, due_columns(), lambda row: (row.aircraft, row.item.what, row.item.key), self
        )
        self.table = RowsView(self._model, say("What falls due"))
        self.table.choose_whole_rows()
        hand_focus(self, self.table)
        self.strip = DueStrip(desk.view, can_put_off=True)
        self.putting_off = PutOffStrip(desk)
        self.strip.put_off.connect(self.putting_off.show_due)
        self.table.row_chosen.connect(lambda _row: self._choose())
        self.span = JoinedStrip(say("How far the calendar goes"))
        for words in (say("3 weeks"), say("6 weeks"), say("Season")):
            self.span.add(words)
        self.span.choose(1)
        self.span.changed.connect(lambda _at: self.read_again())
        self.later = QCheckBox(say("&Show also what is due after {count} days", count=SOON_DAYS))
        self.message = PlainLabel()
        self.message.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        row = QHBoxLayout()
        column.addLayout(row)
        row.addWidget(self.span)
        row.addWidget(self.later)
        row.addStretch(1)
        row.addWidget(self.message)
        column.addWidget(self.strip, 1)
        column.addWidget(self.table, 1)
        column.addWidget(self.putting_off)
        self._soon = QTimer(self, singleShot=True, interval=30)
        self._soon.timeout.connect(self.read_again)
        self.later.toggled.connect(self.read_again)
        desk.judged.connect(lambda _code: self._soon.start())
        self.read_again()

    def read_again(self) -> None:
        """Gather what is due on every aircraft looked at so far."""
        known = [self._desk.known(code) for code in self._desk.codes()]
        rows = [
            DueRow(judgement.aircraft.code, item)
            for judgement in known
            if judgement is not None
            for item in judgement.due
        ]
        every = [due_day(row.aircraft, row.item) for row in rows]
        lanes = list(dict.fromkeys(item.lane for item in every))
        self.strip.show_due(lanes, every, self._desk.today, SPANS[self.span.chosen])
        shown = [row for row in rows if self.later.isChecked() or row.item.days <= SOON_DAYS]
        self._model.show_rows(sorted(shown, key=lambda row: (row.item.due_on, row.aircraft)))
        overdue = sum(row.item.days < 0 for row in rows)
        self.message.setText(say("{count} overdue", count=overdue) if overdue else "")
        aircraft, places = self.putting_off.place
        still = (row.item for row in rows if row.aircraft == aircraft)
        items = tuple(item for item in still if (item.what, item.key) in places)
        if items:
            self.putting_off.show_due(aircraft, items)
        else:
            self._choose()

    def _choose(self) -> None:
        row = self.table.current_row
        self.putting_off.show_due(row.aircraft if row else "", (row.item,) if row else ())
