"""The Shopping List: what the plans need and the bay lacks, to tick off, to print, to take along."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QGroupBox, QSplitter, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.answers.needs import Need, fleet_needs
from hangar.base.text import text
from hangar.base.units import ShowsNumbers
from hangar.parts import Airframe, Pack, Plan, PlanLine, Servo, ShoppingTick, StockItem
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.lead_on import LeadOn
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.paper.printing import PrintRow
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

TICKED, UNTICKED = "☑", "☐"


@dataclass(frozen=True)
class NeedRow:
    """One thing to buy or to take from the bay, ticked off or not."""

    need: Need
    is_ticked: bool = False

    @property
    def key(self) -> str:
        """What the need is for."""
        return self.need.part_type

    @property
    def buy(self) -> float:
        """How much is to be bought, rounded up as the sheet prints it."""
        return math.ceil(self.need.to_buy * 100) / 100


def shopping_columns() -> tuple[Column[NeedRow], ...]:
    """Tick, supplier, what, how many, for which plans, price."""
    return (
        Column(
            say("Got it"),
            lambda row, _units: f"{TICKED} {say('yes')}" if row.is_ticked else f"{UNTICKED} {say('no')}",
            help=say("Space or a click ticks it off"),
        ),
        Column(say("Supplier"), lambda row, _units: put(row.need.supplier or say("not recorded"))),
        Column(say("What"), lambda row, _units: put(row.need.what), wraps=True),
        Column(
            say("Buy"),
            lambda row, _units: amount(row.buy, row.need.unit),
            raw=lambda row: row.buy,
            number=True,
        ),
        Column(
            say("In Stores"),
            lambda row, _units: f"{row.need.on_hand:g}",
            raw=lambda row: row.need.on_hand,
            number=True,
            gives_way=2,
        ),
        Column(say("Bin"), lambda row, _units: row.need.bin or "", gives_way=3),
        Column(say("For"), lambda row, _units: ", ".join(map(put, row.need.reasons)), wraps=True),
        Column(
            say("Each"),
            lambda row, _units: money(row.need.price),
            raw=lambda row: row.need.price,
            number=True,
            gives_way=1,
        ),
        Column(
            say("Together"),
            lambda row, _units: money(row.need.cost),
            raw=lambda row: row.need.cost,
            number=True,
        ),
    )


def bay_columns() -> tuple[Column[NeedRow], ...]:
    """What the plans take from the bay."""
    return (
        Column(say("What"), lambda row, _units: put(row.need.what), wraps=True),
        Column(
            say("Take"),
            lambda row, _units: amount(row.need.taken, row.need.unit),
            raw=lambda row: row.need.taken,
            number=True,
        ),
        Column(say("Bin"), lambda row, _units: row.need.bin or UNKNOWN),
        Column(say("For"), lambda row, _units: ", ".join(map(put, row.need.reasons)), wraps=True),
    )


def amount(number: float, unit: str) -> str:
    """A count with its unit; pieces go without saying."""
    return f"{number:g}" if unit in ("", "pieces") else f"{number:g} {unit}"


def money(price: float | None) -> str:
    """An amount of money as the sheets print it."""
    from hangar.sheets.style import SheetStyle

    return SheetStyle().price(price) or UNKNOWN


def sum_words(rows: Iterable[NeedRow]) -> str:
    """What all of it costs, and what it costs without what is ticked off."""
    all_rows = tuple(rows)
    unticked = [row for row in all_rows if not row.is_ticked]
    unpriced = [put(row.need.what) for row in unticked if row.need.price is None]
    words = say(
        "{count} still to buy, {sum} together, of {all} in all.",
        count=len(unticked),
        sum=money(_cost(unticked)),
        all=money(_cost(all_rows)),
    )
    lacking = say("Without {what}, whose price is not known.", what=", ".join(unpriced))
    return f"{words} {lacking}" if unpriced else words


def _cost(rows: Iterable[NeedRow]) -> float:
    return sum(row.need.cost or 0.0 for row in rows)


def as_csv(rows: Iterable[NeedRow], units: ShowsNumbers) -> str:
    """The list as comma-separated values, the same cells as on screen."""
    out = io.StringIO()
    writer = csv.writer(out)
    columns = shopping_columns()
    writer.writerow(column.heading for column in columns)
    for row in rows:
        writer.writerow(_plain(column.text(row, units)) for column in columns)
    return out.getvalue()


def _plain(cell: str) -> str:
    return cell.removeprefix(TICKED).removeprefix(UNTICKED).strip().replace(UNKNOWN, "")


_KINDS = frozenset(kind.KIND for kind in (Plan, PlanLine, StockItem, Servo, Pack, Airframe, ShoppingTick))


class ShoppingList(QWidget):
    """One row for each thing to buy, by supplier. Ticks are kept with the fleet, undo takes one back."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._buy: RowsModel[NeedRow] = RowsModel(desk, shopping_columns(), lambda row: row.key, self)
        self._take: RowsModel[NeedRow] = RowsModel(desk, bay_columns(), lambda row: row.key, self)
        self.table = RowsView(self._buy, say("To buy"))
        self.table.choose_whole_rows()
        self.bay = RowsView(self._take, say("To take from Stores"))
        self.bay.choose_whole_rows()
        self.message = PlainLabel(wordWrap=True)
        nothing = say("Nothing is to be bought: the plans need nothing that does not lie in Stores.")
        self.lead_on = LeadOn(nothing, say("Open the &plans"))
        self.lead_on.wanted.connect(lambda: desk.entry_wanted.emit("plan"))
        self.print_row = PrintRow(desk)
        self.print_row.add_sheet("shopping", say("&Print the list…"), self._judged)
        self.print_row.add_text("shopping list", say("Save as &CSV…"), self.csv_text)
        self._arrange()
        self._connect()
        self.read_again()

    def _arrange(self) -> None:
        halves = QSplitter(Qt.Orientation.Vertical)
        for title, table in (
            (say("To buy"), self.table),
            (say("To take from Stores"), self.bay),
        ):
            box = QGroupBox(title)
            column = QVBoxLayout(box)
            column.addWidget(LeftOut(table, box))
            column.addWidget(table, 1)
            halves.addWidget(box)
        halves.setSizes([420, 200])
        halves.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.message)
        column.addWidget(self.lead_on)
        column.addWidget(halves, 1)
        column.addWidget(self.print_row)
        hand_focus(self, self.table)

    def _connect(self) -> None:
        space = QShortcut(QKeySequence(Qt.Key.Key_Space), self.table)
        space.setContext(Qt.ShortcutContext.WidgetShortcut)
        space.activated.connect(self.toggle_current)
        self.table.activated.connect(lambda _index: self.toggle_current())
        self.table.clicked.connect(self._clicked)
        self._desk.touched.connect(self._touched)

    def read_again(self) -> None:
        """Count all needs."""
        kept: Iterable[ShoppingTick] = self._desk.records(ShoppingTick)
        got = {tick.what: tick.wanted for tick in kept}
        rows = [NeedRow(need) for need in fleet_needs(self._desk)]
        # A tick stands for the number that was wanted; more of the same is to be bought again.
        rows = [replace(row, is_ticked=got.get(row.key) == row.buy) for row in rows]
        self._buy.show_rows(row for row in rows if row.need.to_buy > 0)
        self._take.show_rows(row for row in rows if row.need.taken > 0)
        self._tell()

    def _tell(self) -> None:
        self.message.setText(sum_words(self._buy.rows))
        self.message.setVisible(bool(self._buy.rows))
        self.lead_on.setVisible(not self._buy.rows)

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & _KINDS:
            self.read_again()

    def _clicked(self, index: QModelIndex) -> None:
        if index.column() == 0:
            self.toggle_current()

    def toggle_current(self) -> None:
        """Tick the row under the cursor off, or take the tick back."""
        row = self.table.current_row
        if row is None or self._desk.read_only:
            return
        if row.is_ticked:
            label = text("Take the tick at {what} back", what=row.key)
            self._desk.edit(label, lambda edit: edit.remove(ShoppingTick, (row.key,)))
        else:
            label = text("Tick {what} off", what=row.key)
            self._desk.edit(label, lambda edit: edit.put(ShoppingTick(what=row.key, wanted=row.buy)))

    def csv_text(self) -> str:
        """The list as comma-separated values."""
        return as_csv(self._buy.rows, self._desk.view.reader)

    def _judged(self) -> tuple[Judgement, ...]:
        judgements = (self._desk.judgement(code) for code in self._desk.codes())
        return tuple(judgement for judgement in judgements if judgement is not None)
