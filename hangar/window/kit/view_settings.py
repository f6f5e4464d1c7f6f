"""How things are looked at: colours and text size of this seat, units of the open fleet."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QLocale, QObject, QSettings, QStandardPaths, Qt, Signal
from PySide6.QtGui import QGuiApplication

from hangar.base.reader import Reader
from hangar.window.kit.looks import DARK, LIGHT, Look
from hangar.window.kit.words import current_reader, read_in

if TYPE_CHECKING:
    from hangar.base.units import UnitChoice

UNIT_WORDS = {"si": "N·m, mm, g", "metric-force": "kgf·cm, mm, g", "inch": "ozf·in, in, oz"}
"""The choices of units in the menu; what each stands for is loaded with the first fleet."""
LEAST_POINTS, USUAL_POINTS, MOST_POINTS = 7.0, 10.0, 24.0


@cache
def unit_choice(name: str) -> UnitChoice:
    """The units that a choice of the menu stands for."""
    from hangar.base.units import IMPERIAL, SI_TRADE, UnitChoice

    metric_force = UnitChoice(torque="kgf cm", speed="km/h")
    return {"si": SI_TRADE, "metric-force": metric_force, "inch": IMPERIAL}[name]


class ViewSettings(QObject):
    """Colours and text size, kept between starts, and the units in use; tells of every change."""

    changed = Signal()

    def __init__(self, file: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._kept = QSettings(str(file), QSettings.Format.IniFormat)
        self._units: UnitChoice | None = None
        self.today: Callable[[], date] = date.today
        """The day that it is; that of the open fleet's desk while there is one."""
        self.own_folder: Path | None = None
        """Where the program keeps its own files; it is hidden from most keepers and never proposed."""
        read_in(self.units)

    @property
    def units(self) -> UnitChoice:
        """The units in which numbers are shown and typed; each fleet keeps its own."""
        return self._units or unit_choice(self.seat_units)

    @property
    def reader(self) -> Reader:
        """The language spoken and the units in which numbers are shown and typed."""
        return current_reader().with_units(self.units)

    @property
    def seat_units(self) -> str:
        """Which choice of units this seat uses for a fleet that keeps none of its own."""
        kept = str(self._kept.value("units", "si"))
        return kept if kept in UNIT_WORDS else "si"

    def choose_seat_units(self, name: str) -> None:
        """Use these units for fleets that keep none of their own."""
        self._keep("units", name)

    def propose_seat_units(self) -> None:
        """At the very first start: what the keeper's country most likely thinks in."""
        if self._kept.value("units") is None:
            metric = QLocale.system().measurementSystem() is QLocale.MeasurementSystem.MetricSystem
            self._kept.setValue("units", "metric-force" if metric else "inch")

    @property
    def colours(self) -> str:
        """``light``, ``dark`` or ``system``."""
        return str(self._kept.value("colours", "system"))

    @property
    def language(self) -> str:
        """``system`` or the short name of a language."""
        return str(self._kept.value("language", "system"))

    def choose_language(self, name: str) -> None:
        """Keep the language to speak from here on."""
        self._kept.setValue("language", name)

    @property
    def face(self) -> str:
        """``own`` for the face that travels with the program, or ``desktop``."""
        return "desktop" if self._kept.value("face") == "desktop" else "own"

    def choose_face(self, name: str) -> None:
        """Write in another face."""
        self._keep("face", name)

    @property
    def look(self) -> Look:
        """The colours to wear."""
        if self.colours == "system":
            scheme = QGuiApplication.styleHints().colorScheme()
            return DARK if scheme is Qt.ColorScheme.Dark else LIGHT
        return DARK if self.colours == "dark" else LIGHT

    @property
    def points(self) -> float:
        """Text size in points."""
        try:
            chosen = float(str(self._kept.value("points", USUAL_POINTS)))
        except ValueError:
            chosen = USUAL_POINTS
        return min(MOST_POINTS, max(LEAST_POINTS, chosen))

    @property
    def last_fleet(self) -> str | None:
        """The fleet that was open last."""
        kept = self._kept.value("last fleet")
        return str(kept) if kept else None

    def sheet_choices(self, kind: str) -> dict[str, object]:
        """How sheets of that kind were printed last on this seat; empty before the first."""
        try:
            kept = json.loads(str(self._kept.value(f"sheets/{kind}", "{}")))
        except ValueError:
            return {}
        return kept if isinstance(kept, dict) else {}

    def keep_sheet_choices(self, kind: str, choices: Mapping[str, object]) -> None:
        """Print sheets of that kind so the next time."""
        self._kept.setValue(f"sheets/{kind}", json.dumps(choices))

    def use_units(self, units: UnitChoice) -> None:
        """Show numbers in these units from here on."""
        changed = units != self.units
        self._units = units
        read_in(units)
        if changed:
            self.changed.emit()

    def choose_colours(self, name: str) -> None:
        """Wear other colours."""
        self._keep("colours", name)

    def choose_points(self, points: float) -> None:
        """Write larger or smaller."""
        self._keep("points", min(MOST_POINTS, max(LEAST_POINTS, points)))

    def remember_fleet(self, place: str) -> None:
        """Remember which fleet to open at the next start."""
        self._kept.setValue("last fleet", place)

    @property
    def folder(self) -> Path:
        """The folder to propose for a file: the one used last, else the keeper's documents."""
        used = self._kept.value("last folder")
        documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        for place in (used, documents):
            if place and Path(str(place)).is_dir() and not self._is_own(Path(str(place))):
                return Path(str(place))
        return Path.home()

    def remember_folder(self, folder: Path) -> None:
        """Remember the folder that a file was read from or written to."""
        self._kept.setValue("last folder", str(folder))

    def _is_own(self, folder: Path) -> bool:
        own = self.own_folder
        return own is not None and folder.resolve().is_relative_to(own.resolve())

    def kept(self, name: str, default: Any) -> Any:
        """What was kept under a name, of the sort of ``default``; that where nothing fitting is kept."""
        try:
            kept = json.loads(str(self._kept.value(f"seat/{name}", "null")))
        except ValueError:
            return default
        return kept if isinstance(kept, type(default)) else default

    def keep(self, name: str, value: object) -> None:
        """Keep something between starts that nothing on screen follows."""
        self._kept.setValue(f"seat/{name}", json.dumps(value))

    def forget(self, group: str) -> None:
        """Forget all that was kept under a name that begins so, such as ``panes``."""
        self._kept.remove(f"seat/{group}")

    def _keep(self, name: str, value: object) -> None:
        self._kept.setValue(name, value)
        self.changed.emit()
