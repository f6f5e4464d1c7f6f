"""The Power screen: the power paths as a table and the supply as a picture, by load case."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.finding_groups import System, system_of
from hangar.answers.judging import Judgement
from hangar.base.figure import Figure
from hangar.parts import Feed, PowerPath, Record, Regulator
from hangar.parts.fields import columns
from hangar.rules.finding import Level
from hangar.survey.model import Scenario, ScenarioSurvey, SupplySurvey
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN, edit_text, field_text, figure_text, heading_of, read_field
from hangar.window.kit.plain_words import Markup, MarkupLabel, PlainLabel, markup, plain
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.verdict_bar import VerdictBar
from hangar.window.kit.words import put, say, sentence_case, word_of
from hangar.window.packs.fit_pack_panel import FitPackPanel
from hangar.window.power.supply_places import supply_plan
from hangar.window.power.supply_view import SupplyView
from hangar.window.tables.all_columns import AllColumns
from hangar.window.tables.columns import Column, change_field, choices_of, figure_column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

TOTALS = ("bus_full_v", "bus_nominal_v", "peak_a", "mean_a", "flight_mah", "endurance_min",
          "flights_per_charge")  # fmt: skip
MOST_ROWS = 4
_PANEL_LETTERS, _BOTH_LETTERS = 46, 140
"""Width of the panel in letters, and of the page from which the picture stays beside it."""
FEED_FIELDS = {"lead_length_mm": 3, "lead_awg": 2, "joints": 1, "parallel_leads": 1, "isolated": 2}
"""Fields of a path, and in which order they give way to a narrow window."""


@dataclass(frozen=True)
class PathRow:
    """One power path with its figures in the load case shown."""

    path: PowerPath
    case: ScenarioSurvey
    supply: SupplySurvey


def path_columns(desk: Desk) -> tuple[Column[PathRow], ...]:
    """The columns of the table of power paths."""
    return (
        Column(say("Path"), lambda row, _units: row.path.feed.code),
        Column(say("Feeds"), lambda row, _units: word_of(row.path.feed.role), gives_way=7),
        Column(say("Packs"), lambda row, _units: pack_words(row.path)),
        Column(say("Switch"), lambda row, _units: _type_words(row.path.switch, "switch_type"), gives_way=6),
        Column(
            say("Regulator"),
            lambda row, _units: _type_words(row.path.regulator, "regulator_type"),
            gives_way=8,
        ),
        _field(desk, Regulator, "set_v", lambda row: row.path.regulator),
        *(
            replace(_field(desk, Feed, name, lambda row: row.path.feed), gives_way=order)
            for name, order in FEED_FIELDS.items()
        ),
        figure_column("Current", lambda row: row.case.path_a.get(row.path.feed.code)),
        figure_column("Regulator heat", lambda row: row.case.regulator_w.get(row.path.feed.code)),
        _giving(5, say("Fresh off charge"), lambda row: row.supply.path_full_v.get(row.path.feed.code)),
        _giving(9, say("Land at"), lambda row: row.supply.path_land_v.get(row.path.feed.code)),
        _giving(4, say("Resistance"), lambda row: row.supply.path_ohm.get(row.path.feed.code)),
    )


def _giving(order: int, heading: str, figure: Callable[[PathRow], Figure | None]) -> Column[PathRow]:
    """A column of numbers that gives way to a narrow window."""
    return replace(figure_column(heading, figure), gives_way=order)


def pack_words(path: PowerPath) -> str:
    """The packs of a path on one line."""
    return (
        ", ".join(
            f"{fed.pack.tag} ({fed.pack_type.chemistry} {fed.pack_type.series}S "
            f"{fed.pack_type.capacity_mah:g} mAh)"
            for fed in path.packs
        )
        or UNKNOWN
    )


def _type_words(part: Any, type_field: str) -> str:
    return UNKNOWN if part is None else f"{part.code}  {getattr(part, type_field)}"


def _field(
    desk: Desk, kind: type[Record], name: str, part: Callable[[PathRow], Record | None]
) -> Column[PathRow]:
    spec = next(spec for spec in columns(kind) if spec.name == name)

    def value(row: PathRow) -> Any:
        record = part(row)
        return getattr(record, name) if record else None

    def write(row: PathRow, text: str) -> None:
        record = part(row)
        if record is not None:
            change_field(desk, record, spec, read_field(spec, text, desk.view.reader))

    return Column(
        heading_of(spec),
        lambda row, units: field_text(spec, value(row), units),
        raw=value,
        write=write,
        choices=(lambda _row: choices_of(spec)) if spec.type is bool else None,
        show_for_edit=lambda row, units: edit_text(spec, value(row), units),
        number=spec.type is not bool,
        help=say(spec.help),
    )


class PowerScreen(QWidget):
    """The verdict on the supply, load case, totals, table and picture; beside it a pack can be fitted."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self.case_box = ListBox()
        self.case_box.setAccessibleName(say("Load case"))
        for scenario in Scenario:
            self.case_box.addItem(say(sentence_case(scenario)), scenario)
        self.case_box.setCurrentIndex(list(Scenario).index(Scenario.PEAK))
        self._totals = MarkupLabel(wordWrap=True)
        self._totals.setTextInteractionFlags(Qt.TextInteractionFlag.TextBrowserInteraction)
        self._totals.setAccessibleName(say("Totals of the supply"))
        self._asked: dict[str, Figure] = {}
        self._room_for = (0, 0)
        self._model: RowsModel[PathRow] = RowsModel(
            desk, path_columns(desk), lambda row: row.path.feed.code, self
        )
        self.table = RowsView(self._model, say("Power paths"))
        self.all_columns = AllColumns(self.table, self)
        self.picture = SupplyView()
        self.fit_button = QPushButton(say("Fit a pac&k…"))
        self.fit_button.setCheckable(True)
        self.fit_button.setToolTip(say("Pack, switch, regulator, path and lead in one go"))
        self.verdict = VerdictBar(desk.view, self.fit_button)
        self.fit_pack: FitPackPanel | None = None
        self._beside = QScrollArea(widgetResizable=True)
        self._beside.setFrameShape(QScrollArea.Shape.NoFrame)
        self._beside.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._beside.setAccessibleName(say("Fit a pack"))
        self._beside.hide()
        self._arrange()
        self.fit_button.toggled.connect(self._open_panel)
        self.case_box.currentIndexChanged.connect(self._show)
        self.table.how_asked.connect(desk.how_asked)
        self.picture.how_asked.connect(desk.how_asked)
        self._totals.linkActivated.connect(lambda name: desk.how_asked.emit(self._asked[name]))
        desk.view.changed.connect(self._show)

    def _arrange(self) -> None:
        head = QGridLayout()
        label = PlainLabel(say("L&oad case"))
        label.setBuddy(self.case_box)
        head.addWidget(label, 0, 0)
        head.addWidget(self.case_box, 0, 1)
        head.addWidget(self.all_columns, 1, 0, 1, 2)
        head.setColumnMinimumWidth(2, 20)
        head.addWidget(self._totals, 0, 3, 2, 1)
        head.setColumnStretch(3, 1)
        halves = self._halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(self.table)
        lower = QWidget()
        row = QHBoxLayout(lower)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.picture, 1)
        row.addWidget(self._beside)
        halves.addWidget(lower)
        halves.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.verdict)
        column.addLayout(head)
        column.addWidget(halves, 1)

    @property
    def scenario(self) -> Scenario:
        """The load case shown."""
        return Scenario(self.case_box.currentData())

    def show_judgement(self, judgement: Judgement) -> None:
        """Show an aircraft as it was judged last."""
        self._judgement = judgement
        self._show()

    def _show(self) -> None:
        if self._judgement is None:
            return
        aircraft, survey = self._judgement.aircraft, self._judgement.survey
        self._tell(self._judgement)
        case = survey.scenarios.get(self.scenario, ScenarioSurvey(scenario=self.scenario))
        self._model.show_rows(PathRow(path, case, survey.supply) for path in aircraft.paths)
        self._give_rows_room()
        plan = supply_plan(aircraft, survey, self.scenario)
        self.picture.show_plan(plan, self._desk.view.reader, self._desk.view.look)
        self._asked = {
            name: figure for name in TOTALS if (figure := getattr(survey.supply, name)) is not None
        }
        units, look = self._desk.view.reader, self._desk.view.look
        lines = [
            markup(
                "{name}: <a style='color:{accent}' href='{link}'>{value}</a>",
                name=sentence_case(put(figure.name)),
                accent=look.accent,
                link=name,
                value=figure_text(figure, units),
            )
            for name, figure in self._asked.items()
        ]
        nothing = plain(say("Not enough is known for totals."))
        self._totals.show_markup(Markup("&nbsp;&nbsp;·&nbsp; ").joined(lines) if lines else nothing)

    def _tell(self, judgement: Judgement) -> None:
        """The worst that the supply will do, and what more is open of it."""
        aircraft = judgement.aircraft
        if self.fit_pack is not None:
            self.fit_pack.show_aircraft(aircraft.code)
        self.fit_button.setEnabled(not self._desk.read_only)
        if not any(path.packs for path in aircraft.paths):
            words = say("No pack is fitted: nothing can be said of the supply.")
            self.verdict.tell(Level.CANT_TELL, words, say("Fit one here, with switch, path and lead."))
            self.fit_button.setChecked(not self._desk.read_only)
            return
        findings = [finding for finding in judgement.open_findings if system_of(finding) is System.POWER]
        self.verdict.tell_worst(
            findings,
            say("No open findings of the supply on the data entered."),
            lambda count: say("{count} more of the supply under Findings.", count=count),
        )

    def _open_panel(self, wanted: bool) -> None:
        """The panel beside the picture, or in its place where there is no room for both."""
        if wanted and self.fit_pack is None:
            self.fit_pack = FitPackPanel(self._desk)
            self.fit_pack.done.connect(lambda _words: self.fit_button.setChecked(False))
            self._beside.setWidget(self.fit_pack)
            if self._judgement is not None:
                self.fit_pack.show_aircraft(self._judgement.aircraft.code)
        self._beside.setVisible(wanted)
        self._share_width()
        if wanted and self.fit_pack is not None and self.fit_button.hasFocus():
            self.fit_pack.pack.setFocus()

    def _share_width(self) -> None:
        letter = self.fontMetrics().averageCharWidth()
        self._beside.setMinimumWidth(letter * _PANEL_LETTERS)
        is_open = not self._beside.isHidden()
        self.picture.setVisible(not is_open or self.width() > letter * _BOTH_LETTERS)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_width()

    def _give_rows_room(self) -> None:
        """The table as high as its rows, up to a few; the picture has the rest."""
        rows, table = len(self._model.rows), self.table
        if (rows, self.height()) == self._room_for:
            return
        self._room_for = (rows, self.height())
        bars = table.horizontalScrollBar().sizeHint().height() + 2 * table.frameWidth()
        shown = min(max(rows, 1), MOST_ROWS) * table.verticalHeader().defaultSectionSize()
        wanted = table.horizontalHeader().sizeHint().height() + shown + bars
        self._halves.setSizes([wanted, max(1, self._halves.height() - wanted)])
