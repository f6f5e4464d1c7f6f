"""One rung in full: what it clears, the aircraft before and after, its lines, and its one drawback."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hangar.base.units import ShowsNumbers
from hangar.refit.line_words import line_words
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import decimal, put, say
from hangar.window.refit.before_after import BeforeAfter
from hangar.window.refit.rung_words import (
    RungRow,
    VerdictLabel,
    cleared_words,
    drawback_words,
    money,
    stay_words,
    unit_words,
)
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.parts import PlanLine
    from hangar.refit.answer import Change


class RungPage(QWidget):
    """Shows the rung it is given."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._row: RungRow | None = None
        self._library = desk.library()
        self.head = VerdictLabel(desk.view)
        self.cleared = PlainLabel(wordWrap=True)
        self.cleared.setObjectName("quiet")
        self.picture = BeforeAfter(desk.view)
        self._model: RowsModel[Change] = RowsModel(
            desk, self._columns(), lambda change: change.line.number, self
        )
        self.table = RowsView(self._model, say("Lines of this rung"))
        self.table.choose_whole_rows()
        self.left_out = LeftOut(self.table, self)
        self.drawback = PlainLabel(wordWrap=True)
        self.stays = PlainLabel(wordWrap=True)
        self.stays.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.head)
        column.addWidget(self.cleared)
        column.addWidget(self.picture, 2)
        column.addWidget(self.left_out)
        column.addWidget(self.table, 3)
        column.addWidget(self.drawback)
        column.addWidget(self.stays)

    def _columns(self) -> tuple[Column[Change], ...]:
        def price(change: Change, _units: ShowsNumbers) -> str:
            line = change.line
            return "—" if line.price is None else f"{line.price * line.quantity:g}"

        return (
            Column(say("Do"), self._words, tip=lambda change: self._words(change, None), wraps=True),
            Column(say("Price"), price, raw=lambda change: change.line.price, number=True),
            Column(say("Work"), lambda change, _u: decimal(f"{change.hours:.1f} h"),
                   raw=lambda change: change.hours, number=True, gives_way=1),
            Column(say("In Stores"), self._stores, gives_way=2),
            Column(say("Clears"), lambda change, _u: str(len(change.cures) or ""),
                   raw=lambda change: len(change.cures), tip=_cures, number=True),
        )  # fmt: skip

    def _words(self, change: Change, _units: ShowsNumbers | None) -> str:
        if change.at:
            return say("{aircraft}, {done}", aircraft=change.at, done=line_words(change.line))
        aircraft = self._row.answer.aircraft if self._row is not None else None
        return put(line_words(change.line, aircraft))

    def _stores(self, change: Change, _units: ShowsNumbers) -> str:
        line = change.line
        if line.from_aircraft:
            return say("off {aircraft}", aircraft=line.from_aircraft)
        if line.from_stock:
            return say("{tag} is in", tag=line.from_stock)
        if not line.part_type:
            return say("no part")
        count = self._library.stocked(line.part_type)
        short = max(0.0, line.quantity - count)
        return say("{count:g} in, buy {short:g}", count=count, short=short)

    def show_rung(self, row: RungRow | None, sign: str) -> None:
        """Show this rung; None shows nothing."""
        self._row = row
        self._library = self._desk.library()
        shown = row is not None
        self.picture.setVisible(shown)
        self.table.setVisible(shown)
        if row is None:
            for label in (self.head, self.cleared, self.drawback, self.stays):
                label.setText("")
            return
        answer = row.answer
        name = say("Today") if row.is_today else say("For {price}", price=money(row.price, sign))
        self.head.setText(name)
        self.cleared.setText(say("nothing is changed") if row.is_today else cleared_words(row))
        self._model.show_rows(answer.changes)
        known = self._desk.judgement(answer.aircraft.code)
        before = known.findings if known is not None else ()
        after = answer.findings_after if answer.changes else before
        changed = [line.place for line in answer.lines if line.place]
        self.picture.show_pair((answer.aircraft, before), (answer.after, after), changed, name)
        self.drawback.setText(drawback_words(row))
        self.stays.setText(self._stay_words(row))

    def chosen_position(self) -> str:
        """The position of the chosen line, else of the first line at one, else the first of the aircraft."""
        assert self._row is not None
        answer = self._row.answer
        chosen = self.table.current_row if answer.changes else None
        first = (chosen.line,) if chosen is not None and not chosen.at else ()
        lines: list[PlanLine] = [*first, *answer.lines]
        places = [line.place for line in lines if line.place and answer.aircraft.fit(line.place)]
        return (places or [fit.code for fit in answer.aircraft.fits] or [""])[0]

    def _stay_words(self, row: RungRow) -> str:
        parts = [stay_words(stay) for stay in row.answer.stays[:4]]
        more = len(row.answer.stays) - len(parts)
        parts += [say("and {count} more", count=more)] if more > 0 else []
        unknown = [put(words) for words in row.answer.unknown[:2]]
        wording = say("What stays: {list}.", list="; ".join(parts)) if parts else ""
        blank = say("Not known, so not counted: {list}.", list="; ".join(unknown)) if unknown else ""
        return " ".join(part for part in (wording, blank) if part)


def _cures(change: Change) -> str:
    return "; ".join(map(unit_words, change.cures)) or say("goes with another line")
