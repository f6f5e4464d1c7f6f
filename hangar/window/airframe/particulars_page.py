"""The Particulars page: the airframe's own fields, in groups."""

from __future__ import annotations

from PySide6.QtWidgets import QGroupBox, QVBoxLayout, QWidget

from hangar.acts.confirming import confirm
from hangar.answers.judging import Judgement
from hangar.parts import Airframe, FieldOrigin
from hangar.parts.fields import columns
from hangar.parts.readings import place_of
from hangar.window.kit.column_page import ColumnPage
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say
from hangar.window.records.record_form import RecordForm
from hangar.window.tables.columns import change_field

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
        self._origins: tuple[FieldOrigin, ...] = ()
        self.setAccessibleName(say("Particulars"))
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
        form.confirmed.connect(self._confirmed)
        return box

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the aircraft's particulars."""
        aircraft = judgement.aircraft
        place = place_of(aircraft.airframe)
        origins = tuple(origin for origin in aircraft.origins if (origin.kind, origin.record) == place)
        if aircraft.airframe != self._airframe or origins != self._origins:
            self._airframe, self._origins = aircraft.airframe, origins
            self._show()

    def _show(self) -> None:
        if self._airframe is not None:
            for form in dict.fromkeys(self.forms.values()):
                form.show_record(self._airframe)
                form.show_origins(self._origins)

    def _confirmed(self, name: str) -> None:
        some = [origin for origin in self._origins if origin.field == name]
        self._desk.attempt(lambda: self._desk.do(confirm, some))

    def _entered(self, name: str, value: object) -> None:
        airframe = self._airframe
        if airframe is not None:
            self.forms[name].try_entering(
                name, lambda: change_field(self._desk, airframe, self._specs[name], value)
            )
