"""The plainer pages of the Airframe Folder: particulars, records by position, findings, logbook."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGroupBox, QSplitter, QTabWidget, QVBoxLayout, QWidget

from hangar.parts import (
    Accessory,
    Airframe,
    BenchCheck,
    Channel,
    Feed,
    Flight,
    Inspection,
    Installation,
    PackFit,
    Position,
    RangeCheck,
    Receiver,
    Record,
    Regulator,
    Rotor,
    Snag,
    Stabiliser,
    Surface,
    Switch,
)
from hangar.parts.fields import columns
from hangar.window.column_page import ColumnPage
from hangar.window.columns import Column, change_field
from hangar.window.desk import Desk
from hangar.window.findings_panel import FindingsPanel
from hangar.window.judging import Judgement
from hangar.window.measure_panel import MeasurePanel
from hangar.window.record_form import RecordForm
from hangar.window.records_screen import RecordsScreen
from hangar.window.rows_model import RowsModel
from hangar.window.rows_view import RowsView
from hangar.window.words import say

GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Who it is", ("code", "name", "aircraft_class", "power", "state", "state_reason", "maker", "model_type",
                   "serial", "built_year", "acquired_on", "acquired_from", "cost", "site", "notes")),
    ("Size and mass", ("span_mm", "length_mm", "wing_area_dm2", "mean_chord_mm", "wing_count",
                       "empty_mass_g", "all_up_mass_g", "mass_measured_on", "mass_limit_g")),
    ("Balance", ("cg_datum", "cg_fore_mm", "cg_aft_mm", "cg_measured_mm", "cg_measured_on")),
    ("Flight", ("level_speed_m_s", "dive_speed_m_s", "flight_min", "flights_per_charge", "propeller",
                "metal_propeller", "engine_stop", "ignition_kill", "turbine_stop_s", "extinguisher_on")),
    ("Papers", ("registration", "registration_place", "club_number", "competition_class", "refit_on",
                "for_sale", "photo")),
)  # fmt: skip


class ParticularsPage(ColumnPage):
    """The airframe's fields in groups; each edit is undoable, each refusal stands beside its field."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._airframe: Airframe | None = None
        self.setAccessibleName(self.tr("Particulars"))
        self._specs = {spec.name: spec for spec in columns(Airframe)}
        self.forms: dict[str, RecordForm] = {}
        who, size, balance, flight, papers = (self._group(title, names) for title, names in GROUPS)
        self.arrange(
            (
                ((who,), (size, balance), (flight, papers)),
                ((who, papers), (size, balance, flight)),
                ((who, size, balance, flight, papers),),
            )
        )
        desk.view.changed.connect(self._show)

    def _group(self, title: str, names: tuple[str, ...]) -> QGroupBox:
        box = QGroupBox(say(title))
        form = RecordForm(Airframe, self._desk.view, names)
        column = QVBoxLayout(box)
        column.addWidget(form)
        column.addStretch(1)
        for name in names:
            form.editor(name).setEnabled(not self._desk.read_only and name not in Airframe.KEY)
            self.forms[name] = form
        form.entered.connect(self._entered)
        return box

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the aircraft's particulars."""
        if judgement.aircraft.airframe != self._airframe:
            self._airframe = judgement.aircraft.airframe
            self._show()

    def _show(self) -> None:
        if self._airframe is not None:
            for form in dict.fromkeys(self.forms.values()):
                form.show_record(self._airframe)

    def _entered(self, name: str, value: object) -> None:
        airframe = self._airframe
        if airframe is not None:
            self.forms[name].try_entering(
                name, lambda: change_field(self._desk, airframe, self._specs[name], value)
            )


class RecordsPage(QTabWidget):
    """Several tables of records that belong to one aircraft."""

    def __init__(
        self, desk: Desk, kinds: tuple[tuple[str, type[Record]], ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._kinds = kinds
        self.setTabBarAutoHide(True)
        self.tabBar().setAccessibleName(self.tr("Tables of this aircraft"))
        self.screens: dict[type[Record], RecordsScreen] = {}
        self._code = ""

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the records of this aircraft."""
        code = judgement.aircraft.code
        if not self.screens:
            for title, kind in self._kinds:
                screen = RecordsScreen(self._desk, kind, preset={"aircraft": code})
                self.screens[kind] = screen
                self.addTab(screen, say(title))
        elif code != self._code:
            for screen in self.screens.values():
                screen.show_of(aircraft=code)
        self._code = code


LOGBOOK_KINDS: tuple[tuple[str, type[Record]], ...] = (
    ("Flights", Flight),
    ("Inspections", Inspection),
    ("Range checks", RangeCheck),
    ("Bench checks", BenchCheck),
    ("Servos' stays", Installation),
)
RADIO_KINDS: tuple[tuple[str, type[Record]], ...] = (
    ("Positions", Position),
    ("Channels", Channel),
    ("Receivers", Receiver),
    ("Gyros", Stabiliser),
    ("Other devices", Accessory),
    ("Surfaces", Surface),
    ("Rotors", Rotor),
)
SUPPLY_KINDS: tuple[tuple[str, type[Record]], ...] = (
    ("Power paths", Feed),
    ("Regulators", Regulator),
    ("Switches", Switch),
    ("Packs fitted", PackFit),
)


class LogbookPage(RecordsPage):
    """Flights and checks, and every change made to this aircraft."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, LOGBOOK_KINDS, parent)
        self._changes: RowsModel[Any] = RowsModel(desk, change_columns(), change_key, self)
        self.history: RowsView | None = None

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the log of this aircraft."""
        super().show_judgement(judgement)
        if self.history is None:
            self.history = RowsView(self._changes, self.tr("Changes made"))
            self.addTab(self.history, self.tr("Changes made"))
        self._changes.show_rows(self._desk.fleet.history(aircraft=judgement.aircraft.code))


def change_key(change: Any) -> tuple[Any, ...]:
    """What makes a change the same row when the table is shown again."""
    return (change.when, change.label, change.kind, tuple(change.key), change.undone)


def change_columns() -> tuple[Column[Any], ...]:
    """When, what, and the values before and after."""
    return (
        Column(say("When"), lambda one, _units: one.when.strftime("%Y-%m-%d %H:%M:%S")),
        Column(say("What was done"), lambda one, _units: one.label),
        Column(say("Record"), lambda one, _units: f"{one.kind} {' '.join(map(str, one.key))}"),
        Column(say("Fields changed"), lambda one, _units: changed_words(one.before, one.after)),
        Column(say("Undone"), lambda one, _units: say("undone") if one.undone else ""),
    )


def changed_words(before: dict[str, Any] | None, after: dict[str, Any] | None) -> str:
    """The fields that differ, old and new value."""
    if before is None or after is None:
        return say("added") if before is None else say("removed")
    return "; ".join(
        f"{name}: {before.get(name)} → {value}" for name, value in after.items() if before.get(name) != value
    )


class SnagsPage(QSplitter):
    """Findings of the rules above; below, snags the keeper wrote down and what is worth measuring next."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self._desk = desk
        self.panel = FindingsPanel(desk)
        self.addWidget(self.panel)
        self.snags: RecordsScreen | None = None
        self.measure = MeasurePanel(desk)
        self.lists = QTabWidget()
        self.lists.setDocumentMode(True)
        self.lists.tabBar().setAccessibleName(self.tr("Lists below the findings"))
        self.measure.counted.connect(self._count)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show what is wrong with this aircraft, and what is not known of it."""
        code = judgement.aircraft.code
        if self.snags is None:
            self.snags = RecordsScreen(self._desk, Snag, preset={"aircraft": code})
            self.lists.addTab(self.snags, self.tr("Snags"))
            self.lists.addTab(self.measure, self.tr("Worth measuring next"))
            self.addWidget(self.lists)
            self.setSizes([380, 300])
        else:
            self.snags.show_of(aircraft=code)
        self.panel.show_findings(judgement.findings)
        self.measure.show_judgement(judgement)

    def _count(self, count: int) -> None:
        title = self.tr("Worth measuring next")
        self.lists.setTabText(self.lists.indexOf(self.measure), f"{title} ({count})" if count else title)
