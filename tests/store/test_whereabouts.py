"""Where has servo 0801 been? Every stay, state, hour and test, and never two places at once."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from hangar.base.errors import BadInput
from hangar.parts import Airframe, BenchCheck, CapacityTest, Flight, Installation, LoadTest, Position, Servo
from hangar.parts.choices import AircraftClass, Function, ServoState
from hangar.store import Edit, Fleet


def put_second_aircraft(edit: Edit) -> None:
    edit.put(Airframe(code="KES", name="Kestwyn", aircraft_class=AircraftClass.SCALE))
    edit.put(Position(aircraft="KES", code="RUD", name="rudder", function=Function.RUDDER))


def live_a_life(fleet: Fleet) -> None:
    """Servo 0801: from the trainer to the second aircraft, to the bay, suspect, tested, scrapped."""
    fleet.edit("Build the scale model", put_second_aircraft)
    for day, minutes in ((date(2024, 3, 1), 10.0), (date(2024, 4, 1), 20.0), (date(2025, 1, 1), 30.0)):
        fleet.edit("Fly", lambda edit, day=day, minutes=minutes: edit.put(  # type: ignore[misc]
            Flight(aircraft="DUN", flown_on=day, minutes_min=minutes)))  # fmt: skip
    check = BenchCheck(aircraft="DUN", position="AIL", checked_at=datetime(2024, 2, 1, 10), play_deg=0.3)  # noqa: DTZ001
    fleet.edit("Check", lambda edit: edit.put(check))
    fleet.edit("Move", lambda edit: edit.fit_servo("0801", "KES", "RUD", date(2024, 6, 1), "needed there"))
    fleet.edit("Take out", lambda edit: edit.unfit_servo("0801", date(2024, 9, 1), why="winter"))
    fleet.edit("Bin it", lambda edit: edit.change(Servo, ("0801",), bin="A3"))
    fleet.edit("Fit", lambda edit: edit.fit_servo("0801", "KES", "RUD", date(2025, 3, 1)))
    fleet.edit("Hard landing", lambda edit: edit.unfit_servo("0801", date(2025, 4, 1), ServoState.SUSPECT))
    tested = {"tested_on": date(2025, 4, 5), "play_deg": 1.5, "hours_h": 41.0}
    fleet.edit("Test", lambda edit: edit.change(Servo, ("0801",), **tested))
    fleet.edit("Scrap", lambda edit: edit.change(Servo, ("0801",), state=ServoState.SCRAPPED))


def test_a_servos_whole_life_can_be_told(trainer: Fleet) -> None:
    live_a_life(trainer)
    whereabouts = trainer.whereabouts("0801")
    places = [
        (stay.aircraft, stay.place, stay.since_on, stay.until_on, stay.why) for stay in whereabouts.stays
    ]
    assert places == [
        ("DUN", "AIL", date(2024, 1, 1), date(2024, 6, 1), "first fit"),
        ("KES", "RUD", date(2024, 6, 1), date(2024, 9, 1), "needed there"),
        ("KES", "RUD", date(2025, 3, 1), date(2025, 4, 1), None),
    ]
    assert [(stay.flights, stay.flown_h) for stay in whereabouts.stays] == [
        (2, 0.5),
        (None, None),
        (None, None),
    ]
    assert [len(stay.bench_checks) for stay in whereabouts.stays] == [1, 0, 0]
    states = ["in the bay", "fitted", "in the bay", "in the bay", "fitted", "suspect", "scrapped"]
    assert [state.state for state in whereabouts.states] == states
    assert whereabouts.states[3].bin == "A3"
    (test,) = whereabouts.servo_tests
    assert (test.tested_on, test.play_deg, test.hours_h) == (date(2025, 4, 5), 1.5, 41.0)
    assert isinstance(whereabouts.part, Servo)
    assert (whereabouts.part.state, whereabouts.part.hours_h) == (ServoState.SCRAPPED, 41.0)


def test_a_stay_knows_its_place_what_was_flown_and_why(trainer: Fleet) -> None:
    live_a_life(trainer)
    whereabouts = trainer.whereabouts("0801")
    first = whereabouts.stays[0]
    assert (first.aircraft, first.place, first.why) == ("DUN", "AIL", "first fit")
    assert (first.since_on, first.until_on) == (date(2024, 1, 1), date(2024, 6, 1))
    assert (first.flights, first.flown_h) == (2, 0.5)
    assert ("suspect", "Hard landing") in [(state.state, state.label) for state in whereabouts.states]


def test_an_undone_move_is_no_part_of_the_story(trainer: Fleet) -> None:
    before = trainer.whereabouts("0801")
    trainer.edit("Take out", lambda edit: edit.unfit_servo("0801", date(2024, 9, 1), ServoState.SCRAPPED))
    trainer.undo()
    assert trainer.whereabouts("0801") == before


def test_a_packs_places_and_tests_are_told_too(trainer: Fleet) -> None:
    load = LoadTest(pack="B061", tested_at=datetime(2025, 6, 1, 9), load_a=1, rest_v=5.3, loaded_v=5.2)  # noqa: DTZ001
    full = CapacityTest(pack="B061", tested_on=date(2025, 6, 2), capacity_mah=1900)
    trainer.edit("Test", lambda edit: edit.put_all([load, full]))
    whereabouts = trainer.whereabouts("B061")
    assert [(stay.aircraft, stay.place) for stay in whereabouts.stays] == [("DUN", "RX")]
    assert whereabouts.tests == (load, full)


def test_a_tag_that_is_not_there_is_told(trainer: Fleet) -> None:
    with pytest.raises(BadInput, match="There is no servo and no pack 0417 in the file"):
        trainer.whereabouts("0417")


@pytest.mark.parametrize(
    ("servo", "position"), [("0801", "ELE"), ("0802", "AIL")], ids=["one servo twice", "two in one place"]
)
def test_the_database_itself_refuses_two_places_at_once(trainer: Fleet, servo: str, position: str) -> None:
    statement = text(
        "INSERT INTO installation (servo, aircraft, position, since_on, disputed)"
        " VALUES (:servo, 'DUN', :position, '2025-06-01', false)"
    )
    trainer._door.begin_writing()
    with pytest.raises(IntegrityError):
        trainer._door.link.execute(statement, {"servo": servo, "position": position})
    trainer._door.roll_back()
    assert len(trainer.records(Installation)) == 1


def test_the_history_can_be_asked_for_the_fleet_the_aircraft_and_the_part(trainer: Fleet) -> None:
    live_a_life(trainer)
    fleet, aircraft, part = (
        trainer.history(),
        trainer.history(aircraft="KES"),
        trainer.history(Servo, ("0801",)),
    )
    assert {change.label for change in fleet} > {change.label for change in aircraft} > set()
    assert [change.label for change in part][:2] == ["Scrap", "Test"]
    assert all(change.seat for change in fleet)
