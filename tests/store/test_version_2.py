"""Version 2: proofs, predictions and shopping ticks were settings, and are records that go with a plan."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import create_engine
from sqlalchemy.engine import make_url

from hangar.base.errors import StoreFault
from hangar.base.kept_text import said_in
from hangar.base.reader import Reader
from hangar.parts import Airframe, Flight, Installation, Plan, PlanProof, Prediction, Setting, ShoppingTick
from hangar.parts.choices import AircraftClass
from hangar.store import Fleet, bring_in, check_file
from hangar.store.schema_check import SUMS, made, sum_of
from hangar.store.upgrades import STEPS, VERSION, upgrade
from tests.store.conftest import HAS_SERVER
from tests.store.old_settings import OldEdit, gone, made_old, old_file, plan, put, setting

B0 = setting("gate.DUN refit 1.B0", "2031-05-20")
B1 = setting("gate.DUN refit 1.B1", "2031-05-21")
OLD_B0 = setting("gate.Winter 2.0.B0", "2030-11-02")
VOLTS = setting("predicted.DUN refit 1.bus_v", "5.9")
GOT = setting("shopping.got.TS-31", "4")
EDITS = (
    ("Begin the old plan", [put("plan", plan("Winter 2.0"))], "done"),
    ("Tick B0 of the old plan", [put("setting", OLD_B0)], "done"),
    ("Remove the old plan", [gone("plan", plan("Winter 2.0"))], "done"),
    ("Begin plan", [put("plan", plan("DUN refit 1")), put("setting", VOLTS)], "done"),
    ("Tick proof B0", [put("setting", B0)], "done"),
    ("Tick off", [put("setting", GOT)], "done"),
    ("Name the fleet", [put("setting", setting("fleet.title", "Our club"))], "done"),
    ("Tick nonsense", [put("setting", setting("gate.DUN refit 1.B3", "some day"))], "done"),
    ("Tick proof B1", [put("setting", B1)], "undone"),
)


def proofs(fleet: Fleet) -> dict[tuple[str, str], date]:
    return {(proof.plan, proof.proof): proof.ticked_on for proof in fleet.records(PlanProof)}


def look_at(fleet: Fleet) -> None:
    """What every fleet that was led to version 2 from these edits must show."""
    assert proofs(fleet) == {("DUN refit 1", "B0"): date(2031, 5, 20)}
    assert [(prediction.figure, prediction.value) for prediction in fleet.records(Prediction)] == [
        ("bus_v", 5.9)
    ]
    assert [(tick.what, tick.wanted) for tick in fleet.records(ShoppingTick)] == [("TS-31", 4.0)]
    assert [other_setting.name for other_setting in fleet.records(Setting)] == ["fleet.title"]
    (kept,) = fleet.records(Plan)
    assert [proof.proof for proof in kept.proofs] == ["B0"]
    assert fleet.aircraft("DUN").plans == (kept,)


def test_ticks_and_predictions_become_records_of_their_plan_and_the_rest_is_dropped(tmp_path: Path) -> None:
    path = tmp_path / "old.hangar"
    old_file(path, EDITS)
    with Fleet.open(path) as fleet:
        look_at(fleet)
    report = check_file(path)
    assert report.sound, report.faults
    assert report.version == 2


def test_the_steps_before_can_still_be_undone_and_done_again(tmp_path: Path) -> None:
    path = tmp_path / "old.hangar"
    old_file(path, EDITS)
    with Fleet.open(path) as fleet:
        assert (fleet.undo_label, fleet.redo_label) == ("Name the fleet", "Tick proof B1")
        fleet.redo()
        assert set(proofs(fleet)) == {("DUN refit 1", "B0"), ("DUN refit 1", "B1")}
        for _ in range(4):
            fleet.undo()
        assert proofs(fleet) == {}
        assert [prediction.figure for prediction in fleet.records(Prediction)] == ["bus_v"]
        fleet.undo()
        assert str(fleet.undo_label) == "Remove the old plan"
        fleet.undo()
        assert proofs(fleet) == {("Winter 2.0", "B0"): date(2030, 11, 2)}
        for _ in range(3):
            fleet.undo()
        assert fleet.records(Airframe) == ()
        while fleet.redo_label:
            fleet.redo()
        assert set(proofs(fleet)) == {("DUN refit 1", "B0"), ("DUN refit 1", "B1")}
    assert check_file(path).sound


def test_a_plan_that_took_over_the_ticks_of_a_removed_one_loses_them(tmp_path: Path) -> None:
    path = tmp_path / "old.hangar"
    again: list[OldEdit] = [
        ("Begin", [put("plan", plan("P"))], "done"),
        ("Tick", [put("setting", setting("gate.P.B0", "2031-01-01"))], "done"),
        ("Remove", [gone("plan", plan("P"))], "done"),
        ("Begin again", [put("plan", plan("P"))], "done"),
        ("Tick B1", [put("setting", setting("gate.P.B1", "2031-02-02"))], "done"),
        ("Untick B0", [gone("setting", setting("gate.P.B0", "2031-01-01"))], "undone"),
    ]
    old_file(path, again)
    with Fleet.open(path) as fleet:
        assert proofs(fleet) == {("P", "B1"): date(2031, 2, 2)}
        assert fleet.redo_label is None
    assert check_file(path).sound


def test_a_renamed_plan_keeps_its_ticks(tmp_path: Path) -> None:
    path = tmp_path / "old.hangar"
    renamed: list[OldEdit] = [
        ("Begin", [put("plan", plan("P"))], "done"),
        ("Tick", [put("setting", setting("gate.P.B0", "2031-01-01"))], "done"),
        ("Rename", [("plan", plan("P"), plan("Q"))], "done"),
    ]
    old_file(path, renamed)
    with Fleet.open(path) as fleet:
        assert proofs(fleet) == {("Q", "B0"): date(2031, 1, 1)}
        fleet.undo()
        assert proofs(fleet) == {("P", "B0"): date(2031, 1, 1)}
        fleet.redo()
    assert check_file(path).sound


OLD_REMARKS = "Logged while not released: held: spar cracked. gusty"
FLIGHT = {
    "aircraft": "DUN",
    "flown_on": "2031-05-20",
    "number": 1,
    "minutes_min": 6.0,
    "remarks": OLD_REMARKS,
}


def test_what_the_program_wrote_into_remarks_is_kept_as_a_text(tmp_path: Path) -> None:
    path = tmp_path / "old.hangar"
    old_file(path, EDITS[:1])
    with closing(sqlite3.connect(path)) as link:
        names = ", ".join(FLIGHT)
        link.execute(f"INSERT INTO flight ({names}) VALUES (?, ?, ?, ?, ?)", list(FLIGHT.values()))
        link.execute("INSERT INTO journal_edit (made_at, label, state, turn)"
                     " VALUES ('2026-03-14 09:30:00', 'Log', 'done', 9)")  # fmt: skip
        link.execute(
            "INSERT INTO journal_change (edit, kind, key, after)"
            " VALUES ((SELECT max(id) FROM journal_edit), 'flight', ?, ?)",
            (json.dumps(["DUN", "2031-05-20", 1]), json.dumps(FLIGHT)),
        )
        link.commit()
    with Fleet.open(path) as fleet:
        sentence = said_in(fleet.records(Flight)[0].remarks)
        assert str(sentence) == OLD_REMARKS
        assert Reader("de").put(sentence).endswith("gusty")
        assert "nicht freigegeben" in Reader("de").put(sentence)
        fleet.undo()
        assert fleet.records(Flight) == ()
        fleet.redo()
    assert check_file(path).sound


def test_an_old_file_that_is_only_read_shows_the_same_and_stays_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "old.hangar"
    old_file(path, EDITS)
    before = path.read_bytes()
    with Fleet.open(path, read_only=True) as fleet:
        look_at(fleet)
        with pytest.raises(StoreFault):
            fleet.edit("Tick", lambda edit: edit.remove(PlanProof, ("DUN refit 1", "B0")))
    assert path.read_bytes() == before


@pytest.mark.skipif(not HAS_SERVER, reason="PostgreSQL's initdb is not installed")
def test_a_fleet_on_a_server_takes_the_same_step(server: str, tmp_path: Path) -> None:
    engine = create_engine(make_url(server).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        made_old(link, EDITS)
    engine.dispose()
    with pytest.raises(StoreFault, match="is of version 1 and must be upgraded; open it for writing once"):
        Fleet.open(server, read_only=True)
    with Fleet.open(server) as fleet:
        look_at(fleet)
    with Fleet.open(server, read_only=True) as fleet:
        look_at(fleet)
    assert check_file(server).sound
    # What a keeper's sheet does not say may stay unknown in the tables that were there before.
    sheet = tmp_path / "list.csv"
    sheet.write_text(
        "Model;Ch;Function;Servo;Torque at 6 V;Fitted\nRush;1;2x aileron;TE-20;;1997\nRush;4;rudder;TE-30;25;"
    )
    with Fleet.open(server) as fleet:
        bring_in(fleet, [sheet])
        days = {
            installation.since_on.isoformat() for installation in fleet.records(Installation, aircraft="RUSH")
        }
        assert days == {"1997", ""}
        assert {
            airframe.aircraft_class for airframe in fleet.records(Airframe) if airframe.code == "RUSH"
        } == {None}
        assert fleet.aircraft("RUSH").origins
        fleet.undo()
        look_at(fleet)
    assert check_file(server).sound
    # What the server was given must not be taken from the tables of files made later in this process.
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as fresh:
        upgrade(fresh, STEPS)
        assert sum_of(made(fresh)) == SUMS[VERSION]


@pytest.mark.skipif(not HAS_SERVER, reason="PostgreSQL's initdb is not installed")
def test_a_step_that_fails_on_a_server_leaves_it_as_it_was(server: str) -> None:
    engine = create_engine(make_url(server).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        made_old(link, EDITS)
        # A table in the way of the one that the step makes.
        link.exec_driver_sql("CREATE TABLE other (id INTEGER)")
        link.exec_driver_sql("CREATE INDEX uq_plan_proof ON other (id)")
    with pytest.raises(StoreFault, match="could not be upgraded and is as it was"):
        Fleet.open(server)
    with engine.begin() as link:
        link.exec_driver_sql("DROP TABLE other")
        assert link.exec_driver_sql("SELECT version FROM hangar_version").scalar_one() == 1
    engine.dispose()
    with Fleet.open(server) as fleet:
        look_at(fleet)


def test_a_removed_plan_takes_its_ticks_along_and_a_new_one_of_its_code_starts_blank(fleet: Fleet) -> None:
    plan_of_ours = Plan(
        code="P",
        aircraft="DUN",
        title="P",
        proofs=(PlanProof(plan="P", proof="B0", ticked_on=date(2031, 1, 1)),),
        predictions=(Prediction(plan="P", figure="bus_v", value=5.9),),
    )
    fleet.edit(
        "Build",
        lambda edit: edit.put(Airframe(code="DUN", name="Dunlin", aircraft_class=AircraftClass.SPORT)),
    )
    fleet.edit("Begin", lambda edit: edit.put(plan_of_ours))
    fleet.edit("Remove", lambda edit: edit.remove(Plan, ("P",)))
    assert (fleet.records(PlanProof), fleet.records(Prediction)) == ((), ())
    fleet.edit("Begin again", lambda edit: edit.put(Plan(code="P", aircraft="DUN", title="P")))
    assert fleet.records(Plan)[0].proofs == ()
    fleet.undo()
    fleet.undo()
    assert fleet.records(Plan) == (plan_of_ours,)
    fleet.edit("Rename", lambda edit: edit.rename(Plan, ("P",), ("Q",)))
    assert list(proofs(fleet)) == [("Q", "B0")]
