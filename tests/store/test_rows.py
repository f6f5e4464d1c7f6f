"""Scripts can read and write a fleet file as SQLModel objects; Hangar itself waits for none of it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError
from sqlmodel import Session, SQLModel, create_engine, select

from hangar.parts import RECORD_KINDS, Airframe, Record
from hangar.parts.choices import AircraftClass
from hangar.parts.fields import columns
from hangar.store import Fleet
from hangar.store.rows import row_class
from tests.all_cases import all_cases

ROOT = Path(__file__).resolve().parents[2]


@all_cases("kind", RECORD_KINDS)
def test_a_kind_is_one_sqlmodel_class_with_an_attribute_for_each_field(kind: type[Record]) -> None:
    made = row_class(kind.KIND)
    assert issubclass(made, SQLModel)
    assert list(made.model_fields) == ["id", *(spec.name for spec in columns(kind))]


def test_rows_written_by_the_fleet_are_objects_and_the_tables_still_judge(tmp_path: Path) -> None:
    airframe = Airframe(code="KEST", name="Kestwyn", aircraft_class=AircraftClass.SPORT, span_mm=1500.0)
    with Fleet.create(tmp_path / "fleet.hangar") as fleet:
        fleet.edit("Add", lambda edit: edit.put(airframe))
    engine = create_engine(f"sqlite:///{tmp_path / 'fleet.hangar'}")
    with Session(engine) as session:
        row = session.exec(select(row_class("airframe"))).one()
        assert (row.code, row.span_mm) == ("KEST", 1500.0)  # type: ignore[attr-defined]
        row.span_mm = -1.0
        with pytest.raises(IntegrityError, match="ck_airframe_span_mm_least"):
            session.commit()
    engine.dispose()


def test_opening_and_editing_a_fleet_loads_no_sqlmodel(tmp_path: Path) -> None:
    script = f"""
import sys
from hangar.store import Fleet
from hangar.parts import Setting
with Fleet.create({str(tmp_path / "one.hangar")!r}) as fleet:
    fleet.edit("Name", lambda edit: edit.put(Setting(name="fleet.title", value="One")))
    assert fleet.title == "One"
print(sorted({{"sqlmodel", "pydantic", "sqlalchemy.orm.session"}} & set(sys.modules)))
"""
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
