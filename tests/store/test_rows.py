"""Every kind is an SQLModel class; the store reads and writes through it, and rows never leave the store."""

from __future__ import annotations

import ast
import dataclasses
from pathlib import Path

import pytest
from sqlalchemy import event
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import ORMExecuteState
from sqlmodel import Session, SQLModel, create_engine, select

from hangar.base.errors import BadInput
from hangar.parts import RECORD_KINDS, Airframe, Receiver, Record, Setting
from hangar.parts.choices import AircraftClass
from hangar.parts.fields import columns
from hangar.store import Fleet
from hangar.store.edit import Edit
from hangar.store.reading import READ_KINDS
from hangar.store.tables import ROW_OF, JournalChange, JournalEdit, PaperContent
from tests.all_cases import all_cases

STORE = Path(__file__).resolve().parents[2] / "hangar" / "store"
KEST = Airframe(code="KEST", name="Kestwyn", aircraft_class=AircraftClass.SPORT, span_mm=1500.0)
WRITES_SQL = {
    "looser.py": "upgrades",
    "door.py": "begins and ends transactions, knows a server's version",
    "edit.py": "a savepoint",
    "upgrades.py": "upgrades",
    "version_2.py": "upgrades",
    "tables.py": "the text of a check",
    "constraints.py": "the text of a check",
}
"""Files that hand SQL of their own to SQLAlchemy, and what for; others speak of rows and columns."""


@all_cases("kind", RECORD_KINDS)
def test_a_kind_is_one_sqlmodel_class_with_an_attribute_for_each_field(kind: type[Record]) -> None:
    made = ROW_OF[kind]
    assert issubclass(made, SQLModel)
    assert list(made.model_fields) == ["id", *(spec.name for spec in columns(kind))]
    for spec in columns(kind):
        assert made.__table__.c[spec.name].nullable == spec.optional
        assert made.model_fields[spec.name].annotation is not None


def test_rows_written_by_the_fleet_are_objects_and_the_tables_still_judge(tmp_path: Path) -> None:
    with Fleet.create(tmp_path / "fleet.hangar") as fleet:
        fleet.edit("Add", lambda edit: edit.put(KEST))
    engine = create_engine(f"sqlite:///{tmp_path / 'fleet.hangar'}")
    with Session(engine) as session:
        row = session.exec(select(ROW_OF[Airframe])).one()
        assert (row.code, row.span_mm) == ("KEST", 1500.0)
        row.span_mm = -1.0
        with pytest.raises(IntegrityError, match="ck_airframe_span_mm_least"):
            session.commit()
        session.rollback()
        edit = session.exec(select(JournalEdit)).one()
        change = session.exec(select(JournalChange)).one()
        assert (edit.label, edit.state, edit.turn, change.edit) == ("Add", "done", 1, edit.id)
        assert session.exec(select(PaperContent)).all() == []
    engine.dispose()


def test_the_fleet_reads_and_writes_within_its_session(tmp_path: Path) -> None:
    asked: list[type[SQLModel]] = []
    written: list[str] = []
    with Fleet.create(tmp_path / "fleet.hangar") as fleet:
        session = fleet._door.session

        @event.listens_for(session, "do_orm_execute")
        def _asks(state: ORMExecuteState) -> None:
            if state.is_select:
                asked.extend({mapper.class_ for mapper in state.all_mappers})

        @event.listens_for(session, "before_flush")
        def _writes(within: Session, *_: object) -> None:
            rows = (("new", within.new), ("dirty", within.dirty), ("deleted", within.deleted))
            written.extend(f"{how} {type(row).__name__}" for how, some in rows for row in some)

        fleet.edit("Add", lambda edit: edit.put(KEST))
        assert written == ["new AirframeRow", "new JournalEdit"]
        written.clear()
        fleet.edit("Change", lambda edit: edit.change(Airframe, ("KEST",), span_mm=1600.0))
        assert written == ["dirty AirframeRow", "new JournalEdit"]
        written.clear()
        fleet.edit("Remove", lambda edit: edit.remove(Airframe, ("KEST",)))
        assert written == ["deleted AirframeRow", "new JournalEdit"]
        written.clear()
        fleet.undo()
        assert written == ["new AirframeRow", "dirty JournalEdit"]
        asked.clear()
        assert fleet.aircraft("KEST").airframe.span_mm == 1600.0
        assert {ROW_OF[kind] for kind in READ_KINDS} == set(asked)


def test_what_leaves_the_store_is_a_frozen_part_and_the_session_keeps_no_row() -> None:
    with Fleet.in_memory() as fleet:
        fleet.edit("Add", lambda edit: edit.put(KEST))
        for record in (*fleet.records(Airframe), fleet.aircraft("KEST").airframe):
            assert type(record) is Airframe
            with pytest.raises(dataclasses.FrozenInstanceError):
                record.span_mm = 1.0  # type: ignore[misc]
        assert not fleet._door.session.identity_map.values()


def test_a_session_is_as_good_as_new_after_an_edit_that_the_database_refused() -> None:
    stray = Receiver(code="RX", aircraft="NONE", model_type="R8")

    def spoilt(edit: Edit) -> None:
        edit.put(KEST)
        edit._stored.insert(Airframe, [{"code": "KEST", "name": "Twice", "aircraft_class": "sport"}])

    with Fleet.in_memory() as fleet:
        for work in (spoilt, lambda edit: edit.put(stray), lambda edit: edit.put_all([stray, KEST])):
            with pytest.raises(BadInput):
                fleet.edit("Spoilt", work)
            assert not fleet._door.session.in_transaction()
            assert not fleet.records(Airframe)
            assert not fleet.records(Receiver)
            assert fleet.history() == ()
        fleet.edit("Add", lambda edit: edit.put(KEST))
        assert fleet.records(Airframe) == (KEST,)


def test_a_row_renamed_within_an_edit_is_found_under_its_new_name_by_all_that_name_it() -> None:
    def work(edit: Edit) -> None:
        edit.put(KEST)
        edit.put(Receiver(code="RX", aircraft="KEST", model_type="R8"))
        edit.rename(Airframe, ("KEST",), ("KITE",))
        edit.change(Receiver, ("KITE", "RX"), model_type="R9")

    with Fleet.in_memory() as fleet:
        fleet.edit("Make and rename", work)
        assert [(receiver.aircraft, receiver.model_type) for receiver in fleet.records(Receiver)] == [
            ("KITE", "R9")
        ]
        fleet.undo()
        assert fleet.records(Receiver) == ()
        fleet.redo()
        assert [airframe.code for airframe in fleet.records(Airframe)] == ["KITE"]


def test_many_rows_are_written_and_taken_back_as_one() -> None:
    many = [Setting(name=f"note.{number}", value=str(number)) for number in range(1_100)]
    with Fleet.in_memory() as fleet:
        fleet.edit("Many", lambda edit: edit.put_all(many))
        assert len(fleet.records(Setting)) == 1_100
        fleet.undo()
        assert fleet.records(Setting) == ()
        fleet.redo()
        assert {setting.value for setting in fleet.records(Setting)} == {
            str(number) for number in range(1_100)
        }


def test_sql_of_ones_own_stays_with_upgrades_checks_and_transactions() -> None:
    found = set()
    for path in STORE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module == "sqlalchemy":
                found |= {path.name for name in node.names if name.name == "text"}
            if isinstance(node, ast.Attribute) and node.attr == "exec_driver_sql":
                found.add(path.name)
    assert found == set(WRITES_SQL)
