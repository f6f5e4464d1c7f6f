"""What was doubted of a sheet stays beside its record until it is confirmed or written anew."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from hangar.acts.confirming import confirm
from hangar.parts import Aircraft, Airframe, FieldOrigin, Installation, Position, ServoRating
from hangar.parts.choices import AircraftClass, Side
from hangar.parts.fields import columns
from hangar.parts.readings import place_of
from hangar.rules import Finding, inspect
from hangar.rules.origins import NOT_CONFIRMED, origin_words, origins_about
from hangar.store import Fleet, bring_in, check_file
from hangar.survey import Conditions, survey

TODAY = date(2026, 3, 14)
LINES = (
    "Model;Ch;Function;Servo;Torque at 6 V;Fitted",
    "Windrush;1;2x aileron;TE-20;25;3/4/2019",
    "Windrush;4;rudder;TE-30;30 kgcm;1999?",
)


@pytest.fixture
def fleet(tmp_path: Path) -> Iterator[Fleet]:
    (tmp_path / "list.csv").write_text("\n".join(LINES), encoding="utf-8")
    with Fleet.create(tmp_path / "club.hangar") as made:
        bring_in(made, [tmp_path / "list.csv"], today=TODAY)
        yield made


def found_of(aircraft: Aircraft) -> tuple[Finding, ...]:
    return inspect(aircraft, survey(aircraft, Conditions(today=TODAY)))


def origins(fleet: Fleet) -> dict[tuple[str, str, str], FieldOrigin]:
    return {(origin.kind, origin.record, origin.field): origin for origin in fleet.records(FieldOrigin)}


def test_every_origin_names_a_field_of_a_record_that_is_there(fleet: Fleet) -> None:
    from hangar.parts import KIND_BY_NAME

    assert fleet.records(FieldOrigin)
    for origin in fleet.records(FieldOrigin):
        kind = KIND_BY_NAME[origin.kind]
        assert origin.field in {spec.name for spec in columns(kind)}
        assert origin.record in {place_of(record)[1] for record in fleet.records(kind)}


def test_the_aircraft_knows_what_is_not_confirmed_and_a_rule_says_so(fleet: Fleet) -> None:
    (aircraft,) = fleet.whole_fleet()
    assert {origin.field for origin in aircraft.origins} >= {
        "aircraft_class",
        "power",
        "function",
        "since_on",
    }
    assert aircraft.origins == fleet.aircraft("WIND").origins
    (finding,) = [
        other_finding for other_finding in found_of(aircraft) if other_finding.rule == NOT_CONFIRMED
    ]
    assert str(len(aircraft.origins)) in str(finding.message) or "fields read" in str(finding.message)
    about = origins_about(aircraft, ("RUD",))
    assert {origin.field for origin in about} == {"since_on"}
    assert next(str(origin_words(origin)) for origin in about).startswith('list.csv, row 3: "1999?" ')


def test_confirming_is_one_step_that_can_be_undone(fleet: Fleet) -> None:
    (aircraft,) = fleet.whole_fleet()
    before = origins(fleet)
    fleet.do(confirm, aircraft.origins[:1])
    assert len(origins(fleet)) == len(before) - 1
    fleet.undo()
    assert origins(fleet) == before
    fleet.do(confirm, aircraft.origins)
    (aircraft,) = fleet.whole_fleet()
    assert aircraft.origins == ()
    assert [finding for finding in found_of(aircraft) if finding.rule == NOT_CONFIRMED] == []


def test_a_field_that_is_written_anew_is_no_longer_doubted(fleet: Fleet) -> None:
    fleet.edit("say", lambda edit: edit.change(Airframe, ("WIND",), aircraft_class=AircraftClass.SPORT))
    fields = {origin.field for origin in fleet.records(FieldOrigin, kind="airframe")}
    assert fields == {"power"}
    position = next(origin for origin in fleet.records(FieldOrigin) if origin.field == "function").record
    key = tuple(position.split("|"))
    fleet.edit("side", lambda edit: edit.change(Position, key, side=Side.LEFT))
    assert ("position", position, "function") in origins(fleet)
    fleet.undo()
    fleet.undo()
    assert {origin.field for origin in fleet.records(FieldOrigin, kind="airframe")} == {
        "aircraft_class",
        "power",
    }


def test_what_is_renamed_takes_its_doubts_along_and_what_goes_takes_them_away(
    fleet: Fleet, tmp_path: Path
) -> None:
    before = origins(fleet)
    fleet.edit("rename", lambda edit: edit.rename(Airframe, ("WIND",), ("RUSH",)))
    after = origins(fleet)
    assert len(after) == len(before)
    assert not any("WIND" in origin.record.split("|") for origin in after.values())
    stays = {place_of(installation)[1] for installation in fleet.records(Installation)}
    assert {origin.record for origin in after.values() if origin.kind == "installation"} <= stays
    assert fleet.whole_fleet()[0].origins
    fleet.undo()
    assert origins(fleet) == before
    fleet.edit("remove", lambda edit: edit.remove(Airframe, ("WIND",)))
    assert {origin.kind for origin in fleet.records(FieldOrigin)} <= {"servo", "servo-type", "servo-rating"}
    fleet.undo()
    assert origins(fleet) == before
    fleet.close()
    assert check_file(tmp_path / "club.hangar").sound


def test_an_edit_of_a_doubted_type_reaches_the_aircraft_that_has_it(fleet: Fleet) -> None:
    doubted = [origin for origin in fleet.records(FieldOrigin) if origin.kind == "installation"]
    touched = fleet.do(confirm, doubted[:1])
    assert touched.aircraft == {"WIND"}
    rating = fleet.records(ServoRating)[0]
    fleet.edit(
        "rate", lambda edit: edit.change(ServoRating, (rating.servo_type, rating.rated_v), stall_a=1.0)
    )
    assert not fleet.records(FieldOrigin, kind="servo-rating", field="stall_a")
