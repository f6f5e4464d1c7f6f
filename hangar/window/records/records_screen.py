"""A table of all records of one kind, with adding, removing, filtering and editing in place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hangar.base.text import fixed, text
from hangar.parts import (
    BenchCheck,
    Channel,
    Feed,
    Flight,
    Installation,
    Lead,
    Pack,
    PackType,
    Position,
    RangeCheck,
    Receiver,
    Record,
    RegulatorType,
    Rotor,
    Servo,
    ServoType,
    Snag,
    Stabiliser,
    StockItem,
    Surface,
    SwitchType,
)
from hangar.parts.fields import columns, key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, sentence_case
from hangar.window.records.paste_rows import paste_action
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column, field_columns
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_TELLING: dict[type[Record], str] = {
    ServoType: "drive supply_max_v mass_g run_a price idle_ma supply_min_v gear maker spline_teeth "
    "case_length_mm case_width_mm case_height_mm max_rate_hz pulse_us",
    PackType: "chemistry series capacity_mah continuous_a cell_mohm mass_g connector parallel price maker "
    "burst_a lead_awg charge_c",
    RegulatorType: "output_max_v continuous_a burst_a input_max_v regulator output_min_v drop_out_v "
    "fails_through price mass_g maker efficiency_pct",
    SwitchType: "switch continuous_a contact_mohm burst_a contacts price maker mass_g",
    Position: "name function side channel surface through port bay_length_mm bay_width_mm bay_height_mm",
    Channel: "function y_lead reverse centre_us travel_low_pct travel_high_pct failsafe rate_hz pulse_us "
    "failsafe_proved_on expo_pct mixed_with",
    Receiver: "model_type channels supply_max_v supply_min_v failsafe maker idle_ma bus_limit_a band_mhz "
    "pulse_us frame_ms",
    Stabiliser: "model_type supply_max_v rate_hz pulse_us maker idle_ma supply_min_v",
    Surface: "name function side span_mm root_chord_mm tip_chord_mm throw_up_deg throw_down_deg "
    "mass_balanced play_deg hinge gap_sealed load_speed_m_s carried",
    Rotor: "head_rpm diameter_mm blades blade_length_mm blade_chord_mm flybar swash pitch_deg blade_mass_g",
    Lead: "length_mm awg joints lock sleeve inspected_on former_edge exposed_mm twisted moving_tied",
    Feed: "role switch regulator lead_length_mm lead_awg joints isolated join joint_limit_a",
    Servo: "servo_type state bin bought_on hours_h tested_on gear_condition play_deg sweep_clean flights "
    "idle_ma stall_a centring_us maker_serial made_year price notes bought_used",
    Installation: "until_on why arm_teeth arm_screw_locked screws_fitted screws_of grommets_fitted "
    "grommets_of matched_on arm_material",
    Pack: "pack_type state bin cycles capacity_mah cell_mohm charged_on rest_v capacity_on swollen crashed "
    "bought_on notes",
    BenchCheck: "neutral_ma moving_ma end_a_ma end_b_ma bus_v jitter direction_ok centre_ok play_deg "
    "throw_up_deg throw_down_deg by",
    RangeCheck: "passed distance_m method site motor_on",
    Flight: "minutes_min packs put_back_mah lowest_v remarks hard_landing crashed landings pilot wind_m_s",
    Snag: "text severity closed_on action part",
    StockItem: "part_type on_hand wanted kind unit bin text price supplier use_by_on",
}
"""Fields behind the key, the most telling first. Of kinds that are not here the first fields tell most."""


def giving_way(kind: type[Record], names: Sequence[str]) -> dict[str, int]:
    """In which order the fields of a table are left out: 0 never, the least first.

    Args:
        names: the fields of the table, in order.

    >>> giving_way(RangeCheck, ("checked_on", "method", "passed", "site"))
    {'checked_on': 0, 'method': 4, 'passed': 6, 'site': 3}
    """
    listed = _TELLING[kind].split() if kind in _TELLING else [spec.name for spec in columns(kind)]
    last = len(listed) + 1
    rank = {name: last - at for at, name in enumerate(listed)}
    return {name: 0 if name in kind.KEY else rank.get(name, 1) for name in names}


FILTER_FROM = 12
"""A table shorter than this needs no filter."""


class RecordsScreen(QWidget):
    """One kind of record as a table.

    Args of the constructor:
        preset: fields every record here has (the aircraft, say); they are not shown nor asked for.
        names: the fields to show, in order; None shows all.
        extra: further read-only columns, before the field number ``extra_at`` or behind all.
        form: the form for a new record.
    """

    def __init__(
        self,
        desk: Desk,
        kind: type[Record],
        *,
        preset: Mapping[str, Any] | None = None,
        names: Sequence[str] | None = None,
        extra: Iterable[Column[Any]] = (),
        extra_at: int | None = None,
        can_add: bool = True,
        form: type[RecordDialog] = RecordDialog,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self.kind = kind
        self._form = form
        self._preset: dict[str, Any] = dict(preset or {})
        shown = names or [spec.name for spec in columns(kind) if spec.name not in self._preset]
        order = giving_way(kind, shown)
        columns_shown = tuple(
            replace(column, gives_way=order[name])
            for name, column in zip(shown, field_columns(desk, kind, shown), strict=True)
        )
        self._model: RowsModel[Record] = RowsModel(
            desk,
            (*columns_shown[:extra_at], *extra, *(() if extra_at is None else columns_shown[extra_at:])),
            key_of,
            self,
        )
        self.names = tuple(shown)
        title = say(sentence_case(kind.TITLE))
        self.table = RowsView(self._model, title)
        self.left_out = LeftOut(self.table, self)
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only rows with…"))
        self.filter.setAccessibleName(say("Filter of {table}", table=title))
        self.filter.setClearButtonEnabled(True)
        self.add_button = QPushButton(say("&Add…"))
        self.add_button.setAccessibleName(say("Add {what}", what=title))
        self.remove_button = QPushButton(say("&Remove"))
        self.remove_button.setAccessibleName(say("Remove {what}", what=title))
        self.empty = PlainLabel(
            say("Nothing is entered here yet: add the first, or paste rows (Ctrl+V).")
            if can_add and not desk.read_only
            else say("Nothing is entered here yet.")
        )
        self.empty.setObjectName("quiet")
        self.can_add = can_add
        self._arrange(can_add)
        self._connect()
        self.read_again()

    def _arrange(self, can_add: bool) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        row = QHBoxLayout()
        column.addLayout(row)
        row.addWidget(self.filter, 2)
        row.addWidget(self.empty)
        row.addWidget(self.left_out, 5)
        row.addStretch(1)
        row.addWidget(self.add_button)
        row.addWidget(self.remove_button)
        for button in (self.add_button, self.remove_button):
            button.setVisible(can_add)
            button.setEnabled(not self._desk.read_only)
        column.addWidget(self.table, 1)

    def _connect(self) -> None:
        self.filter.textChanged.connect(self.table.filter_words)
        self.add_button.clicked.connect(self.open_new)
        self.remove_button.clicked.connect(self.remove_chosen)
        delete = QShortcut(QKeySequence.StandardKey.Delete, self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.remove_chosen)
        self.table.how_asked.connect(self._desk.how_asked)
        if self.can_add:
            self.table.addAction(
                paste_action(self._desk, self.table, self.kind, self.names, lambda: self.preset)
            )
        self._desk.touched.connect(self._touched)

    @property
    def preset(self) -> dict[str, Any]:
        """Fields that every record here has."""
        return dict(self._preset)

    def show_of(self, **preset: Any) -> None:
        """Show the records that have these fields instead."""
        self._preset = preset
        self.read_again()

    def read_again(self) -> None:
        """Read the rows from the fleet."""
        rows = self._desk.records(self.kind, **self._preset)
        self._model.show_rows(rows)
        self.empty.setVisible(not rows)
        self.remove_button.setEnabled(bool(rows) and not self._desk.read_only)
        self.filter.setVisible(len(rows) >= FILTER_FROM or bool(self.filter.text()))

    def _touched(self, touched: frozenset[str]) -> None:
        if self.kind.KIND in touched:
            self.read_again()

    def open_new(self) -> RecordDialog:
        """Open the form for a new record."""
        dialog = self._form(self._desk, self.kind, self._preset, self)
        dialog.made.connect(self.table.choose_row)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def remove_chosen(self) -> None:
        """Take the record under the cursor away; undo brings it back."""
        record = self.table.current_row
        if record is None or self._desk.read_only:
            return
        key = key_of(record)
        label = text(
            "Remove {what} {name}", what=fixed(self.kind.TITLE), name=" ".join(str(part) for part in key)
        )
        self._desk.edit(label, lambda edit: edit.remove(self.kind, key))
