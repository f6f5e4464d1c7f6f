"""Battery Shelf, Stores and Type Library: rooms made of tables."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import radians

from PySide6.QtWidgets import QWidget

from hangar.base.units import ShowsNumbers
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
    ServoBench,
    ServoRating,
    ServoTiming,
    ServoType,
    SetAside,
    StockItem,
    SwitchType,
    Tester,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import say
from hangar.window.records.records_screen import RecordsScreen
from hangar.window.tables.columns import Column

COMPARED_V = 6.0
"""Old and new servos alike are rated at it."""


def rated_columns() -> tuple[Column[ServoType], ...]:
    """Torque and time for 60 degrees at the compared voltage, where the type may have it."""
    volts = f"{COMPARED_V:g} V"
    return (
        Column(
            say("Torque at {volts}", volts=volts),
            partial(_shown, _torque_nm, "N m"),
            raw=_torque_nm,
            number=True,
            help=say("Stall torque from the ratings; blank where {volts} is outside them.", volts=volts),
        ),
        Column(
            say("Speed at {volts}", volts=volts),
            partial(_shown, _transit_s, "s/60deg"),
            raw=_transit_s,
            number=True,
            help=say("Without load, from the ratings; blank where {volts} is outside them.", volts=volts),
        ),
    )


def _rows_around(kind: ServoType) -> bool:
    """Whether the compared voltage lies within the type's rated rows."""
    volts = [row.rated_v for row in kind.ratings]
    return bool(volts) and min(volts) <= COMPARED_V <= max(volts)


def _torque_nm(kind: ServoType) -> float | None:
    from hangar.survey.servos import rating_of

    rating = rating_of(kind) if _rows_around(kind) else None
    return rating.at(COMPARED_V).stall_torque_nm if rating else None


def _transit_s(kind: ServoType) -> float | None:
    from hangar.survey.servos import rating_of

    rating = rating_of(kind) if _rows_around(kind) else None
    return radians(60.0) / rating.at(COMPARED_V).no_load_rad_s if rating else None


def _shown(
    value_of: Callable[[ServoType], float | None], unit: str, kind: ServoType, units: ShowsNumbers
) -> str:
    value = value_of(kind)
    return "" if value is None else units.show(value, unit)


BATTERY_SHELF: tuple[tuple[str, type[Record]], ...] = (
    ("Packs", Pack),
    ("Load tests", LoadTest),
    ("Capacity tests", CapacityTest),
    ("Cell readings", CellReading),
    ("Charges", Charge),
    ("Where they are", PackFit),
    ("Load testers", Tester),
    ("Readings set aside", SetAside),
)
PARTS_BAY: tuple[tuple[str, type[Record]], ...] = (
    ("Servos", Servo),
    ("Spares by type", StockItem),
    ("Servos on the bench", ServoBench),
    ("Timings of servos", ServoTiming),
)
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


class Shelf(StripPages):
    """Tables chosen by a box; each is read when it is first looked at."""

    def __init__(
        self, desk: Desk, kinds: tuple[tuple[str, type[Record]], ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(say("Tables"), parent, is_box=True)
        self._desk = desk
        self._kinds = kinds
        self.screens: dict[type[Record], RecordsScreen] = {}
        for title, _kind in kinds:
            self.addTab(QWidget(), say(title))
        self.currentChanged.connect(self._fill)
        self._fill(0)

    def open_kind(self, kind: type[Record]) -> RecordsScreen:
        """Go to the table of a kind of record."""
        self.setCurrentIndex([shown_kind for _, shown_kind in self._kinds].index(kind))
        return self.screens[kind]

    def _fill(self, at: int) -> None:
        kind = self._kinds[at][1]
        if kind in self.screens:
            return
        extra = rated_columns() if kind is ServoType else ()
        screen = RecordsScreen(self._desk, kind, extra=extra, extra_at=EXTRA_AT)
        self.screens[kind] = screen
        self.put_page(at, screen)
