"""Battery Shelf, Parts Bay and Type Library: rooms made of tables."""

from __future__ import annotations

from PySide6.QtWidgets import QTabWidget, QWidget

from hangar.parts import (
    Arm,
    CapacityTest,
    CellReading,
    Charge,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    Record,
    RegulatorType,
    Servo,
    ServoRating,
    ServoType,
    StockItem,
    SwitchType,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say
from hangar.window.records.rated_columns import rated_columns
from hangar.window.records.records_screen import RecordsScreen

BATTERY_SHELF: tuple[tuple[str, type[Record]], ...] = (
    ("Packs", Pack),
    ("Load tests", LoadTest),
    ("Capacity tests", CapacityTest),
    ("Cell readings", CellReading),
    ("Charges", Charge),
    ("Where they are", PackFit),
)
PARTS_BAY: tuple[tuple[str, type[Record]], ...] = (("Servos", Servo), ("Spares by type", StockItem))
TYPE_LIBRARY: tuple[tuple[str, type[Record]], ...] = (
    ("Servo types", ServoType),
    ("Servo ratings", ServoRating),
    ("Arms", Arm),
    ("Pack types", PackType),
    ("Regulator types", RegulatorType),
    ("Switch types", SwitchType),
)
EXTRA_AT = 3
"""Behind code, maker and drive."""


class Shelf(QTabWidget):
    """Tables behind tabs; each is read when it is first looked at."""

    def __init__(
        self, desk: Desk, kinds: tuple[tuple[str, type[Record]], ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._kinds = kinds
        self.screens: dict[type[Record], RecordsScreen] = {}
        self.setDocumentMode(True)
        for title, _kind in kinds:
            self.addTab(QWidget(), say(title))
        self.currentChanged.connect(self._fill)
        self._fill(0)

    def open_kind(self, kind: type[Record]) -> RecordsScreen:
        """Go to the table of a kind of record."""
        self.setCurrentIndex([each for _, each in self._kinds].index(kind))
        return self.screens[kind]

    def _fill(self, at: int) -> None:
        title, kind = self._kinds[at]
        if kind in self.screens:
            return
        extra = rated_columns() if kind is ServoType else ()
        screen = RecordsScreen(self._desk, kind, extra=extra, extra_at=EXTRA_AT)
        self.screens[kind] = screen
        empty = self.widget(at)
        self.blockSignals(True)
        self.removeTab(at)
        self.insertTab(at, screen, say(title))
        self.setCurrentIndex(at)
        self.blockSignals(False)
        if empty is not None:
            empty.deleteLater()
