"""The tables of the logbook: flights, checks, inspections, and every change made."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from PySide6.QtWidgets import QWidget

from hangar.answers.judging import Judgement
from hangar.parts import (
    BenchCheck,
    Flight,
    Inspection,
    Installation,
    PathCheck,
    PutOff,
    RangeCheck,
    Record,
    RemarkOnSpeed,
    SupplyCheck,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say
from hangar.window.log.flight_dialog import FlightDialog
from hangar.window.records.changes_dialog import change_columns, change_key
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.records.records_page import RecordsPage
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

LOGBOOK_KINDS: tuple[tuple[str, type[Record]], ...] = (
    ("Flights", Flight),
    ("Inspections", Inspection),
    ("Put off", PutOff),
    ("Range checks", RangeCheck),
    ("Bench checks", BenchCheck),
    ("Supply checks", SupplyCheck),
    ("Power path checks", PathCheck),
    ("Servos in place", Installation),
    ("Remarks on speed", RemarkOnSpeed),
)


class LogbookTables(RecordsPage):
    """Flights and checks, and every change made to this aircraft."""

    FORMS: ClassVar[Mapping[type[Record], type[RecordDialog]]] = {Flight: FlightDialog}

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, LOGBOOK_KINDS, parent)
        self._changes: RowsModel[Any] = RowsModel(desk, change_columns(), change_key, self)
        self.history: RowsView | None = None
        self._is_read = False
        self.currentChanged.connect(self._read_changes)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the log of this aircraft."""
        super().show_judgement(judgement)
        if self.history is None:
            self.history = RowsView(self._changes, say("Changes made"))
            self.addTab(self.history, say("Changes made"))
        self._is_read = False
        self._read_changes()

    def _read_changes(self) -> None:
        """Read the changes where their table is open: an aircraft may have thousands of them."""
        if not self._is_read and self.history is not None and self.currentWidget() is self.history:
            self._is_read = True
            self._changes.show_rows(self._desk.fleet.history(aircraft=self._code))
