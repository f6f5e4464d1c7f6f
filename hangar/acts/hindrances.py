"""What stood against flying an aircraft on a day: asked of every flight that is entered, however it comes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from hangar.answers.judging import JudgingBasis, judge_aircraft
from hangar.base.text import Text, fixed
from hangar.parts import Airframe, Flight, Snag
from hangar.parts.choices import AircraftState
from hangar.parts.holding import recorded_hindrances
from hangar.rules.releasing import flight_hindrances

if TYPE_CHECKING:
    from hangar.store import Fleet

_OF_THE_LOG = (Flight.KIND, Snag.KIND)
"""Kinds of the log: that one was entered later does not change what stood on an earlier day."""


@dataclass
class Hindrances:
    """Why aircraft must not fly, or must not have flown, each worked out once for a day.

    Attributes:
        fleet: whose aircraft they are; it may be read in the middle of an edit.
        today: the day of today; a later day is judged as today.
    """

    fleet: Fleet
    today: date
    _known: dict[tuple[str, date], tuple[Text, ...]] = field(default_factory=dict)

    def on(self, code: str, day: date) -> tuple[Text, ...]:
        """Why an aircraft must not fly on that day; none for an aircraft that is not there.

        Of a day gone by it is what can still be told: all of it where nothing was changed since, else the
        hold and the grounding snags that stood on that day.
        """
        asked = code, min(day, self.today)
        if asked not in self._known:
            self._known[asked] = self._look(*asked)
        return self._known[asked]

    def _look(self, code: str, day: date) -> tuple[Text, ...]:
        if code not in self.fleet.aircraft_codes():
            return ()
        aircraft = self.fleet.aircraft(code, today=day)
        if day < self.today and self._was_changed_after(code, day):
            frame = aircraft.airframe
            if frame.state is not AircraftState.HELD or not self._was_held_on(code, day):
                frame = replace(frame, state=AircraftState.ON_THE_LINE)
            return recorded_hindrances(frame, self._snags_open_on(code, day))
        basis = JudgingBasis.of(self.fleet, day)
        try:
            findings = judge_aircraft(aircraft, basis).findings
        except Exception:  # noqa: BLE001 a border: what cannot be judged is not taken for sound
            return (NOT_JUDGED, *recorded_hindrances(aircraft.airframe, aircraft.snags))
        return flight_hindrances(aircraft, findings)

    def _snags_open_on(self, code: str, day: date) -> Iterable[Snag]:
        for snag in self.fleet.records(Snag, aircraft=code):
            if snag.raised_on <= day and (snag.closed_on is None or snag.closed_on > day):
                yield replace(snag, closed_on=None)

    def _was_changed_after(self, code: str, day: date) -> bool:
        return any(
            change.when.date() > day
            for change in self.fleet.history(aircraft=code)
            if not change.undone and change.kind not in _OF_THE_LOG
        )

    def _was_held_on(self, code: str, day: date) -> bool:
        """Whether an aircraft that is held was so on that day already."""
        for change in self.fleet.history(Airframe, (code,)):
            if change.undone:
                continue
            if not change.before or change.before["state"] != AircraftState.HELD:
                return change.when.date() <= day
        return True


NOT_JUDGED = fixed("it could not be judged")
