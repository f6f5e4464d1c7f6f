"""Flights on a sheet that comes back for an aircraft that must not fly are kept as such, and it is told."""

from __future__ import annotations

from pathlib import Path

from hangar.base.kept_text import said_in
from hangar.parts import Airframe, Flight, Snag
from hangar.parts.choices import AircraftState, Severity
from hangar.store import Fleet, bring_in
from tests.sheets.cases import TODAY
from tests.store.filled_sheets.answers import Sheets, filled


def flown(fleet: Fleet) -> Flight:
    (flight,) = (flight for flight in fleet.records(Flight, aircraft="CIND") if flight.flown_on == TODAY)
    return flight


def test_flights_of_an_aircraft_held_by_now_are_kept_as_such(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    hold = {"state": AircraftState.HELD, "state_reason": "spar cracked"}
    fleet.edit("hold", lambda edit: edit.change(Airframe, ("CIND",), **hold))
    out = filled(sheets, "field", "CIND", tmp_path / "flown.pdf", flight__1__Minutes="8", Remarks="gusty")
    report = bring_in(fleet, [out])
    assert str(said_in(flown(fleet).remarks)) == "Logged while not released: held: spar cracked. gusty"
    assert any(
        "although the aircraft must not fly: held: spar cracked." in str(n.reason) for n in report.doubtful
    )


def test_a_snag_that_grounds_it_counts_as_well(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    snag = Snag(aircraft="CIND", raised_on=TODAY, text="wing loose", severity=Severity.GROUNDS)
    fleet.edit("snag", lambda edit: edit.put(snag))
    bring_in(fleet, [filled(sheets, "field", "CIND", tmp_path / "flown.pdf", flight__1__Minutes="8")])
    assert str(said_in(flown(fleet).remarks)) == "Logged while not released: open snag: wing loose."


def test_flights_of_an_aircraft_on_the_line_are_kept_as_they_are(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    out = filled(sheets, "field", "CIND", tmp_path / "flown.pdf", flight__1__Minutes="8", Remarks="gusty")
    bring_in(fleet, [out])
    assert flown(fleet).remarks == "gusty"
