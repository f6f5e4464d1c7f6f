"""Choose an aircraft and one of its servo positions."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from hangar.parts import Aircraft, ServoFit
from hangar.rules.finding import Finding
from hangar.window.kit.desk import Desk
from hangar.window.kit.lead_on import LeadOn
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say

COMPARE, TRY_OUT, POSITION = "compare", "try-out", "position"
"""What can be done with a position elsewhere."""
MOST_PLACES = 4
"""A finding that concerns more positions than that names the first of them only."""


def places_of(desk: Desk, finding: Finding) -> tuple[str, ...]:
    """Codes of the servo positions that a finding is about, by themselves or by their servos' tags."""
    if finding.aircraft not in desk.codes():
        return ()
    fits = desk.aircraft(finding.aircraft).fits
    named = [fit.code for fit in fits if {fit.code, fit.tag} & set(finding.about)]
    return tuple(named[:MOST_PLACES])


def no_place_yet(desk: Desk) -> LeadOn:
    """Leads on from an aircraft without servo positions."""
    words = say("This aircraft has no servo position yet.")
    made = LeadOn(words, say("&New position…"), is_allowed=not desk.read_only)
    made.wanted.connect(lambda: desk.entry_wanted.emit("position"))
    return made


class PlaceChooser(QWidget):
    """Two lists. Signals: ``chosen()`` when the keeper chose another aircraft or position."""

    chosen = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.aircraft_box = ListBox()
        self.aircraft_box.setAccessibleName(say("Aircraft"))
        self.position_box = ListBox()
        self.position_box.setAccessibleName(say("Position"))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for title, box in ((say("Air&craft"), self.aircraft_box), (say("&At"), self.position_box)):
            label = PlainLabel(title)
            label.setBuddy(box)
            row.addWidget(label)
            row.addWidget(box)
        self.aircraft_box.activated.connect(self._aircraft_chosen)
        self.position_box.activated.connect(self._tell)
        desk.current.changed.connect(self._follow)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._follow()

    def _follow(self) -> None:
        """Go along to the aircraft and position that are current in every room."""
        current = self._desk.current
        if not self.isVisible() or current.aircraft is None:
            return
        fit = self.fit
        is_same_place = current.position is None or (fit is not None and fit.code == current.position)
        if self.code != current.aircraft or not is_same_place:
            self.choose(current.aircraft, current.position)

    def _tell(self) -> None:
        fit = self.fit
        self.chosen.emit()
        self._desk.current.choose(self.code, fit.code if fit else None)

    @property
    def code(self) -> str | None:
        """Code of the aircraft chosen."""
        code = self.aircraft_box.currentData()
        return None if code is None else str(code)

    @property
    def aircraft(self) -> Aircraft | None:
        """The aircraft chosen, as it stands."""
        code = self.code
        return self._desk.aircraft(code) if code in self._desk.codes() and code else None

    @property
    def is_bare(self) -> bool:
        """Whether the aircraft has no servo position to choose."""
        aircraft = self.aircraft
        return aircraft is not None and not aircraft.fits

    @property
    def fit(self) -> ServoFit | None:
        """The position chosen, with what is on it."""
        aircraft, position = self.aircraft, self.position_box.currentData()
        return aircraft.fit(str(position)) if aircraft and position else None

    def read_again(self) -> None:
        """List the aircraft and positions there are, keeping what was chosen."""
        wanted = self.code or self._desk.current.aircraft
        with QSignalBlocker(self.aircraft_box):
            self.aircraft_box.clear()
            for airframe in self._desk.fleet.airframes():
                self.aircraft_box.addItem(f"{airframe.code}  {airframe.name}", airframe.code)
            self.aircraft_box.setCurrentIndex(max(0, self.aircraft_box.findData(wanted)))
        self._list_positions()

    def choose(self, code: str, position: str | None = None) -> None:
        """Choose an aircraft and, if given, a position of it."""
        at = self.aircraft_box.findData(code)
        if at >= 0:
            self.aircraft_box.setCurrentIndex(at)
            self._list_positions(position)
            self._tell()

    def _aircraft_chosen(self) -> None:
        self._list_positions()
        self._tell()

    def _list_positions(self, wanted: str | None = None) -> None:
        current = self._desk.current
        kept = wanted or (current.position if self.code == current.aircraft else None)
        kept = kept or self.position_box.currentData()
        self.position_box.clear()
        aircraft = self.aircraft
        fits = aircraft.fits if aircraft else ()
        for fit in fits:
            self.position_box.addItem(f"{fit.code}  {fit.position.name}", fit.code)
        first = next((fit.code for fit in fits if fit.servo_type is not None), None)
        at = self.position_box.findData(kept)
        self.position_box.setCurrentIndex(at if at >= 0 else max(0, self.position_box.findData(first)))
