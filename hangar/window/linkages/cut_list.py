"""The cut list of an aircraft: what each lead asks for, and the best way to buy it all."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from hangar.base.text import Text, raised
from hangar.base.units import ShowsNumbers
from hangar.parts import Aircraft
from hangar.parts.cutting import CutRule
from hangar.parts.protection import LeadCut, lead_cuts, wiring
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


def cut_columns() -> tuple[Column[LeadCut], ...]:
    """What the cut list says of each lead."""

    def length(heading: str, name: str) -> Column[LeadCut]:
        return Column(
            heading,
            lambda cut, units: _length(getattr(cut, name), units),
            raw=lambda cut: getattr(cut, name),
            number=True,
        )

    return (
        Column(say("Lead"), lambda cut, _units: cut.fit.code),
        length(say("Run"), "run_mm"),
        length(say("With\nslack"), "needed_mm"),
        length(say("Own\nlead"), "own_mm"),
        Column(
            say("Buy"),
            lambda cut, _units: put(_buy_words(cut)),
            raw=lambda cut: cut.buy_mm,
            number=True,
        ),
        Column(say("Sleeve"), lambda cut, units: sleeve_words(cut, units)),
        Column(say("End shrink"), lambda cut, units: end_words(cut, units)),
        Column(say("Joints"), lambda cut, _units: _count(cut.joint_shrinks), number=True, gives_way=3),
        Column(
            say("Ties"), lambda cut, _units: str(cut.ties), raw=lambda cut: cut.ties, number=True, gives_way=2
        ),
        Column(say("Label, twice"), lambda cut, _units: cut.label, gives_way=1),
    )


def _buy_words(cut: LeadCut) -> Text:
    from hangar.sheets.cut_tables import buy_words

    return buy_words(cut)


def _length(value: float | None, units: ShowsNumbers) -> str:
    return UNKNOWN if value is None else units.show(value, "mm")


def _count(value: int | None) -> str:
    return UNKNOWN if value is None else (str(value) if value else say("none"))


def sleeve_words(cut: LeadCut, units: ShowsNumbers) -> str:
    """Length and bore of the sleeve; a record that does not say enough leaves it unknown."""
    if cut.sleeve_mm is None:
        return UNKNOWN
    if not cut.sleeve_mm:
        return say("none")
    bore = _length(cut.sleeve_bore_mm, units) if cut.sleeve_bore_mm else say("not known")
    return say("{length}, bore {bore}", length=_length(cut.sleeve_mm, units), bore=bore)


def end_words(cut: LeadCut, units: ShowsNumbers) -> str:
    """Pieces of shrink at the ends of the sleeve."""
    if not cut.end_shrinks:
        return say("none")
    piece = units.show(wiring()["shrink"]["end_mm"], "mm")
    return say("{count} of {length}", count=cut.end_shrinks, length=piece)


@dataclass(frozen=True)
class TotalRow:
    """One material over all leads: its pieces and the best way to buy them."""

    material: Text | str
    pieces_mm: tuple[int, ...]
    cutting: CutRule | None = None
    count: int = 0


def total_rows(cuts: tuple[LeadCut, ...]) -> tuple[TotalRow, ...]:
    """Leads to buy by length and gauge, then sleeves and shrinks, as the printed cut list counts them."""
    from hangar.sheets.cut_tables import cuttings, leads_to_buy

    leads = []
    for lead in leads_to_buy(cuts):
        gauge = f"{lead.awg} AWG" if lead.awg else say("gauge not known")
        kind = (
            say("extension, {gauge}", gauge=gauge)
            if lead.is_extension
            else say("whole lead, {gauge}", gauge=gauge)
        )
        leads.append(TotalRow(kind, (round(lead.length_mm),), count=lead.pieces))
    rest = [
        TotalRow(name, tuple(wanted), best, len(wanted)) for name, (wanted, best) in cuttings(cuts).items()
    ]
    return (*leads, *rest)


def total_columns() -> tuple[Column[TotalRow], ...]:
    """Material, how many, how long, what to buy, what is left over."""
    return (
        Column(say("Material"), lambda row, _units: raised(put(row.material))),
        Column(say("Pieces"), lambda row, _units: str(row.count), raw=lambda row: row.count, number=True),
        Column(say("Length"), lambda row, units: _total_length(row, units), number=True),
        Column(say("Buy"), lambda row, units: _bought(row, units)),
        Column(
            say("Left over"),
            lambda row, units: "" if row.cutting is None else _length(row.cutting.waste_mm, units),
            raw=lambda row: 0 if row.cutting is None else row.cutting.waste_mm,
            number=True,
        ),
    )


def _total_length(row: TotalRow, units: ShowsNumbers) -> str:
    if row.cutting is None:
        return say("{length} each", length=_length(row.pieces_mm[0], units))
    return say("{length} in all", length=_length(sum(row.pieces_mm), units))


def _bought(row: TotalRow, units: ShowsNumbers) -> str:
    if row.cutting is None:
        return str(row.count)
    bars: dict[int, int] = {}
    for bar in row.cutting.bars:
        bars[bar.stock_mm] = bars.get(bar.stock_mm, 0) + 1
    words = ", ".join(f"{count} x {_length(length, units)}" for length, count in sorted(bars.items()))
    return words if row.cutting.exact else say("{bars} (less may do)", bars=words)


class CutList(QWidget):
    """One row a lead; beside them the totals of each material; below, what no lead is recorded for."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cuts: tuple[LeadCut, ...] | None = None
        self._cut_model: RowsModel[LeadCut] = RowsModel(desk, cut_columns(), lambda cut: cut.fit.code, self)
        self._total_model: RowsModel[TotalRow] = RowsModel(desk, total_columns(), lambda row: row, self)
        self.cuts = RowsView(self._cut_model, say("Cut list"))
        self.totals = RowsView(self._total_model, say("Totals of the cut list"))
        self.notes = PlainLabel(wordWrap=True)
        self.notes.setObjectName("quiet")
        leads = QWidget()
        column = QVBoxLayout(leads)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(LeftOut(self.cuts, self, has_letter=False))
        column.addWidget(self.cuts, 1)
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(leads)
        halves.addWidget(self.totals)
        halves.setSizes([320, 240])
        halves.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(halves, 1)
        whole.addWidget(self.notes)

    def show_aircraft(self, aircraft: Aircraft) -> None:
        """Show what is to be cut for this aircraft."""
        cuts = lead_cuts(aircraft)
        if cuts == self._cuts:
            return
        self._cuts = cuts
        self._cut_model.show_rows(cuts)
        self._total_model.show_rows(total_rows(cuts))
        without = [fit.code for fit in aircraft.fits if fit.lead is None]
        lines = [say("No lead recorded: {codes}.", codes=", ".join(without))] if without else []
        lines.append(
            say(
                "Allow {waste} % for waste. The same list is printed as Paper, Print, Cut list.",
                waste=wiring()["waste"]["pct"],
            )
        )
        self.notes.setText(" ".join(lines))
