"""A glance tells the same of a fleet as opening it, and never fails."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hangar.parts import Airframe, Channel, Flight, Position
from hangar.parts.choices import AircraftClass, AircraftState, Function
from hangar.store import Edit, Fleet
from hangar.store.glance import Glimpse, glance


def _enter(edit: Edit) -> None:
    edit.put(
        Airframe(
            code="VEE",
            name="Vee",
            aircraft_class=AircraftClass.SAIL_FAST,
            state=AircraftState.HELD,
            state_reason="loose spar",
        )
    )
    edit.put(Airframe(code="BIP", name="Bip", aircraft_class=AircraftClass.SCALE, wing_count=2))
    edit.put(Channel(aircraft="VEE", number=1, function=Function.V_TAIL))
    edit.put(Position(aircraft="VEE", code="VT-L", name="left", function=Function.V_TAIL, channel=1))
    for day in (date(2031, 5, 1), date(2031, 4, 1)):
        edit.put(Flight(aircraft="VEE", flown_on=day, minutes_min=5))


def test_a_glance_agrees_with_the_opened_fleet(tmp_path: Path) -> None:
    path = tmp_path / "small.hangar"
    with Fleet.create(path) as fleet:
        fleet.edit("Enter", _enter)
        seen = glance(path)
        airframes = fleet.airframes()
    assert [glimpse.code for glimpse in seen] == [airframe.code for airframe in airframes]
    assert seen[0] == Glimpse("BIP", "Bip", "scale", "on the bench", None, 2, False, None)
    assert seen[1] == Glimpse("VEE", "Vee", "sail-fast", "held", "loose spar", 1, True, "2031-05-01")


def test_what_cannot_be_read_gives_no_glimpse(tmp_path: Path) -> None:
    wrong = tmp_path / "letter.hangar"
    wrong.write_text("dear sir")
    assert glance(wrong) == ()
    assert glance(tmp_path / "nowhere.hangar") == ()
    assert not (tmp_path / "nowhere.hangar").exists()
