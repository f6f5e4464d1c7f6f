"""Two seats write to one fleet on a server: what clashes is told, the rest goes through."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from datetime import date

import pytest

from hangar.base.errors import BadInput, StoreFault
from hangar.commands import main
from hangar.parts import Airframe, Flight, Installation, Servo, Setting
from hangar.store import Conflict, Edit, Fleet, check_file
from tests.store.conftest import put_trainer

Seats = tuple[Fleet, Fleet]


@pytest.fixture
def seats(server: str) -> Iterator[Seats]:
    """Two seats that have both seen the same trainer."""
    with Fleet.open(server, seat="anna") as anna, Fleet.open(server, seat="bert") as bert:
        anna.edit("Build the trainer", put_trainer)
        assert bert.changes_elsewhere() is not None
        yield anna, bert


def bin_it(edit: Edit) -> None:
    edit.change(Servo, ("0801",), bin="A1")


def note_it(edit: Edit) -> None:
    edit.change(Servo, ("0801",), notes="noisy")


def test_a_stale_record_is_told_and_not_overwritten(seats: Seats) -> None:
    anna, bert = seats
    stale = bert.record(Servo, "0801")
    anna.edit("Bin it", bin_it)
    assert stale is not None
    with pytest.raises(Conflict) as fault:
        bert.edit("Note it", lambda edit: edit.put(stale))
    assert str(fault.value) == (
        'Not saved: servo 0801 was changed meanwhile by anna ("Bin it": bin is A1);'
        " look at it again, then save."
    )
    assert [servo.bin for servo in bert.records(Servo, tag="0801")] == ["A1"]
    bert.edit("Note it", note_it)
    assert [(servo.bin, servo.notes) for servo in anna.records(Servo, tag="0801")] == [("A1", "noisy")]


def test_what_a_refused_edit_met_is_still_told_to_be_read_again(seats: Seats) -> None:
    anna, bert = seats
    anna.edit("Bin it", bin_it)
    with pytest.raises(Conflict):
        bert.edit("Note it", note_it)
    assert set(bert.changes_elsewhere() or ()) == {"servo"}
    assert bert.changes_elsewhere() is None


def test_a_fleet_on_a_server_is_shared_and_lasts(seats: Seats) -> None:
    anna, _ = seats
    assert (anna.is_shared, anna.is_in_memory) == (True, False)


def test_edits_of_other_records_go_through(seats: Seats) -> None:
    anna, bert = seats
    anna.edit("Bin it", bin_it)
    bert.edit("Bin the other", lambda edit: edit.change(Servo, ("0802",), bin="B2"))
    assert [servo.bin for servo in anna.records(Servo)] == ["A1", "B2", None]


def test_a_servo_taken_by_both_is_told_to_the_second(seats: Seats) -> None:
    anna, bert = seats
    anna.edit("Fit", lambda edit: edit.fit_servo("0802", "DUN", "ELE", date(2025, 1, 1)))
    with pytest.raises(Conflict, match="0802"):
        bert.edit("Fit", lambda edit: edit.fit_servo("0802", "DUN", "AIL", date(2025, 1, 2)))
    assert [stay.position for stay in bert.records(Installation, servo="0802")] == ["ELE"]


def test_a_record_removed_or_made_by_the_other_is_told(seats: Seats) -> None:
    anna, bert = seats
    anna.edit("Remove", lambda edit: edit.remove(Servo, ("0803",)))
    with pytest.raises(Conflict, match="it was removed"):
        bert.edit("Put", lambda edit: edit.put(Servo(tag="0803", servo_type="TS-31", bin="C")))
    anna.edit("Put", lambda edit: edit.put(Servo(tag="0900", servo_type="TS-31", bin="C")))
    with pytest.raises(Conflict, match="it was made"):
        bert.edit("Put", lambda edit: edit.put(Servo(tag="0900", servo_type="TS-31")))
    assert [servo.bin for servo in bert.records(Servo, tag="0900")] == ["C"]


def test_an_undo_of_the_other_is_a_change_too(seats: Seats) -> None:
    anna, bert = seats
    anna.edit("Bin it", bin_it)
    assert set(bert.changes_elsewhere() or ()) == {"servo"}
    anna.undo()
    with pytest.raises(Conflict, match='anna \\(undid "Bin it": bin is blank\\)'):
        bert.edit("Note it", note_it)


def test_a_seat_is_told_what_others_changed_and_never_its_own(seats: Seats) -> None:
    anna, bert = seats
    assert anna.changes_elsewhere() is None
    anna.edit("Bin it", bin_it)
    touched = bert.changes_elsewhere()
    assert touched is not None
    assert set(touched) == {"servo"}
    assert touched.aircraft == {"DUN"}
    assert bert.changes_elsewhere() is None
    assert anna.changes_elsewhere() is None
    bert.edit("Note it", note_it)
    anna.edit("Name", lambda edit: edit.put(Setting(name="fleet.title", value="Larkenholt")))


def test_each_seat_undoes_its_own_edits_and_not_over_the_others(seats: Seats) -> None:
    anna, bert = seats
    anna.edit("Bin it", bin_it)
    bert.changes_elsewhere()
    bert.edit("Note the other", lambda edit: edit.change(Servo, ("0802",), notes="new"))
    assert (anna.undo_label, bert.undo_label) == ("Bin it", "Note the other")
    bert.edit("Bin it elsewhere", lambda edit: edit.change(Servo, ("0801",), bin="B2"))
    with pytest.raises(BadInput, match="servo 0801 was changed elsewhere since; this step cannot be taken"):
        anna.undo()
    bert.undo()
    anna.undo()
    assert [servo.bin for servo in anna.records(Servo, tag="0801")] == [None]
    assert [servo.notes for servo in anna.records(Servo, tag="0802")] == ["new"]
    assert {change.seat for change in anna.history()} == {"anna", "bert"}


def test_many_edits_at_once_from_two_seats_are_all_there(seats: Seats) -> None:
    faults: list[Exception] = []

    def fly(fleet: Fleet, day: date) -> None:
        try:
            for number in range(1, 41):
                fleet.edit("Fly", lambda edit, number=number: edit.put(  # type: ignore[misc]
                    Flight(aircraft="DUN", flown_on=day, number=number, minutes_min=8)))  # fmt: skip
                count_up(fleet)
        except Exception as fault:  # noqa: BLE001  handed to the test's own thread
            faults.append(fault)

    pilots = [
        threading.Thread(target=fly, args=(fleet, date(2025, 1, 1 + at))) for at, fleet in enumerate(seats)
    ]
    for pilot in pilots:
        pilot.start()
    for pilot in pilots:
        pilot.join()
    assert faults == []
    anna, _ = seats
    assert len(anna.records(Flight)) == 80
    (setting,) = anna.records(Setting, name="count")
    assert setting.value == "80"


def count_up(fleet: Fleet) -> None:
    """One more in a record that both seats fight for; a clash is told and tried again."""

    def add_one(edit: Edit) -> None:
        setting = edit.record(Setting, "count")
        edit.put(Setting(name="count", value=str(int(setting.value) + 1 if setting else 1)))

    while True:
        try:
            fleet.edit("Count", add_one)
            return
        except Conflict:
            continue


def test_a_seat_asleep_in_an_edit_holds_the_others_up_for_a_moment_only(seats: Seats) -> None:
    anna, bert = seats
    anna._door.begin_writing()
    bert._door.link.exec_driver_sql("SET lock_timeout = '100ms'")
    try:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr("hangar.store.door._WAIT", "100ms")
            with pytest.raises(StoreFault, match="somebody else is writing"):
                bert.edit("Note it", note_it)
    finally:
        anna._door.roll_back()
    bert.edit("Note it", note_it)


def test_a_connection_that_was_lost_between_edits_is_made_anew(seats: Seats) -> None:
    anna, bert = seats
    pid = bert._door.link.exec_driver_sql("SELECT pg_backend_pid()").scalar_one()
    anna._door.link.exec_driver_sql(f"SELECT pg_terminate_backend({pid})")
    bert.edit("Note it", note_it)
    assert str(bert.undo_label) == "Note it"
    assert anna.records(Airframe)[0].code == "DUN"


def test_a_fleet_on_a_server_can_be_inspected_and_checked_by_its_address(
    seats: Seats, server: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["inspect", server]) in (0, 1)
    assert "DUN  Dunnalow" in capsys.readouterr().out
    assert main(["check-file", server]) == 0
    assert "is sound" in capsys.readouterr().out
    anna, _ = seats
    anna._door.link.exec_driver_sql("UPDATE servo SET bin = 'Z9' WHERE tag = '0801'")
    assert "servo 0801: bin is 'Z9', the history says None" in str(check_file(server))
