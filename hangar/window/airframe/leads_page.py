"""The Leads page: runs with computed drop and current, the cut list with its totals, and all fields."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from hangar.acts import fitting
from hangar.answers.judging import Judgement, worst_level
from hangar.base.figure import Figure
from hangar.base.text import Text, raised
from hangar.base.units import ShowsNumbers
from hangar.parts import Lead, ServoFit
from hangar.parts.cutting import CutRule
from hangar.parts.fields import columns
from hangar.parts.protection import LeadCut, lead_cuts, wiring
from hangar.rules.finding import Finding
from hangar.survey.model import PositionSurvey
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN, edit_text, field_text, heading_of, read_field
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import put, say
from hangar.window.records.records_screen import RecordsScreen
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column, choices_of, figure_column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_HEADINGS = {
    "length_mm": "Run",
    "awg": "Gauge",
    "joints": "Joints",
    "lock": "Loosest\nlock",
    "former_edge": "Former\nedge",
    "exposed_mm": "Exposed\nrun",
    "sleeve": "Sleeve",
    "sleeve_mm": "Sleeve\nlength",
    "shrink_pieces": "End\nshrinks",
    "shrink_mm": "Shrink\nlength",
    "bundle_mm": "Bundle",
    "support_mm": "Support\nspacing",
}


_GIVES_WAY = {name: len(_HEADINGS) - at for at, name in enumerate(_HEADINGS) if at > 1}
"""In which order the fields of a run are left out where there is no room: the last first."""


@dataclass(frozen=True)
class LeadRow:
    """The lead at one position with its figures and findings."""

    fit: ServoFit
    survey: PositionSurvey | None
    findings: tuple[Finding, ...] = ()

    @property
    def servo(self) -> object:
        """The servo at its end."""
        return self.fit.servo


def lead_rows(judgement: Judgement) -> tuple[LeadRow, ...]:
    """One row for each position, with a lead or without."""
    return tuple(
        LeadRow(fit, judgement.survey.positions.get(fit.code), _about_lead(judgement, fit))
        for fit in judgement.aircraft.fits
    )


def _about_lead(judgement: Judgement, fit: ServoFit) -> tuple[Finding, ...]:
    return tuple(
        finding
        for finding in judgement.about(fit.code)
        if finding.rule.startswith(("lead", "joint", "sleeve"))
    )


def run_columns(desk: Desk) -> tuple[Column[LeadRow], ...]:
    """Position, the lead's fields, and what is computed of it."""
    return (
        Column(
            say("Position"),
            lambda row, _units: f"{row.fit.code}  {row.fit.position.name}",
            level=lambda row: worst_level(row.findings),
            tip=lambda row: "\n".join(put(finding.message) for finding in row.findings),
            widest=32,
        ),
        *(_field(desk, name) for name in ("length_mm", "awg", "joints")),
        _figure(say("Resistance"), "lead_ohm"),
        _figure(say("Current"), "lead_current_a"),
        _figure(say("Drop"), "lead_drop_v"),
        *(_field(desk, name) for name in tuple(_HEADINGS)[3:]),
    )


def _figure(heading: str, name: str) -> Column[LeadRow]:
    def figure(row: LeadRow) -> Figure | None:
        return getattr(row.survey, name) if row.survey else None

    def missing(row: LeadRow) -> tuple[Text, ...]:
        return row.survey.missing_for.get(name, ()) if row.survey else ()

    return figure_column(heading, figure, missing)


def _field(desk: Desk, name: str) -> Column[LeadRow]:
    spec = next(spec for spec in columns(Lead) if spec.name == name)
    listed = not issubclass(spec.type, int | float) and spec.type is not str

    def value(row: LeadRow) -> Any:
        return getattr(row.fit.lead, name) if row.fit.lead else None

    def write(row: LeadRow, text: str) -> None:
        typed = read_field(spec, text, desk.view.reader)
        desk.do(fitting.set_part_field, row.fit, Lead, spec, typed)

    return Column(
        say(_HEADINGS[name]),
        lambda row, units: field_text(spec, value(row), units),
        raw=value,
        write=write,
        choices=(lambda _row: choices_of(spec)) if listed else None,
        show_for_edit=lambda row, units: edit_text(spec, value(row), units),
        number=issubclass(spec.type, int | float),
        help=heading_of(spec),
        gives_way=_GIVES_WAY.get(name, 0),
    )


def cut_columns() -> tuple[Column[LeadCut], ...]:
    """What the cut list says of each lead."""

    def length(heading: str, name: str) -> Column[LeadCut]:
        return Column(
            say(heading),
            lambda cut, units: _length(getattr(cut, name), units),
            raw=lambda cut: getattr(cut, name),
            number=True,
        )

    return (
        Column(say("Lead"), lambda cut, _units: cut.fit.code),
        length("Run", "run_mm"),
        length("With\nslack", "needed_mm"),
        length("Own\nlead", "own_mm"),
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


class LeadsPage(StripPages):
    """Tables of the leads of one aircraft."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(say("Tables of the leads"), parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._cut_for: tuple[LeadCut, ...] | None = None
        self.records: RecordsScreen | None = None
        self._runs: RowsModel[LeadRow] = RowsModel(desk, run_columns(desk), lambda row: row.fit.code, self)
        self._cuts: RowsModel[LeadCut] = RowsModel(desk, cut_columns(), lambda cut: cut.fit.code, self)
        self._totals: RowsModel[TotalRow] = RowsModel(desk, total_columns(), lambda row: row, self)
        self.runs = RowsView(self._runs, say("Runs of the leads"))
        self.cuts = RowsView(self._cuts, say("Cut list"))
        self.totals = RowsView(self._totals, say("Totals of the cut list"))
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        self._all = QWidget()
        self._all_column = QVBoxLayout(self._all)
        self._all_column.setContentsMargins(0, 0, 0, 0)
        self.addTab(self._boxed(LeftOut(self.runs, self), self.runs), say("Runs"))
        self.addTab(self._cut_page(), say("Cut list"))
        self.addTab(self._all, say("All fields"))
        self.runs.how_asked.connect(desk.how_asked)
        self.currentChanged.connect(self._show)

    def _boxed(self, *widgets: QWidget) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(10, 10, 10, 10)
        for widget in widgets:
            column.addWidget(widget)
        return page

    def _cut_page(self) -> QWidget:
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(self._boxed(LeftOut(self.cuts, self), self.cuts))
        halves.addWidget(self.totals)
        halves.setSizes([320, 240])
        halves.setChildrenCollapsible(False)
        return self._boxed(halves, self.message)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the leads of this aircraft."""
        self._judgement = judgement
        self._show()

    def _show(self) -> None:
        if self._judgement is None:
            return
        self._runs.show_rows(lead_rows(self._judgement))
        if self.currentIndex() == 1:
            self._show_cuts(lead_cuts(self._judgement.aircraft))
        elif self.currentIndex() == 2:
            self._show_records(self._judgement.aircraft.code)

    def _show_cuts(self, cuts: tuple[LeadCut, ...]) -> None:
        if cuts == self._cut_for:
            return
        self._cut_for = cuts
        self._cuts.show_rows(cuts)
        self._totals.show_rows(total_rows(cuts))
        assert self._judgement is not None
        without = [fit.code for fit in self._judgement.aircraft.fits if fit.lead is None]
        lines = [say("No lead recorded: {codes}.", codes=", ".join(without))] if without else []
        lines.append(
            say(
                "Allow {waste} % for waste. The same list is printed as File, Print, Cut list.",
                waste=wiring()["waste"]["pct"],
            )
        )
        self.message.setText(" ".join(lines))

    def _show_records(self, code: str) -> None:
        if self.records is None:
            self.records = RecordsScreen(self._desk, Lead, preset={"aircraft": code})
            self._all_column.addWidget(self.records)
        else:
            self.records.show_of(aircraft=code)
