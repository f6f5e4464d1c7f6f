"""A take-out of version 1 kept proofs, predictions and ticks as settings; brought in they are records."""

from __future__ import annotations

from pathlib import Path

from hangar.parts import Airframe, Plan, PlanProof, Prediction, Setting, ShoppingTick
from hangar.parts.choices import AircraftClass
from hangar.store import Fleet
from hangar.store.tables_io import bring_in

ROWS = """name,value
units.torque,kgf·cm
gate.DUN refit 1.B0,2031-05-20
gate.Gone 7.B1,2031-05-20
gate.DUN refit 1.B2,some day
predicted.DUN refit 1.bus_min_v,4.91
shopping.got.servo ST-9,2
"""


def test_old_settings_are_brought_in_as_the_records_they_stood_for(tmp_path: Path) -> None:
    table = tmp_path / "setting.csv"
    table.write_text(ROWS, encoding="utf-8")
    with Fleet.in_memory() as fleet:
        frame = Airframe(code="DUN", name="Dunlin", aircraft_class=AircraftClass.SPORT)
        made = Plan(code="DUN refit 1", aircraft="DUN", title="Refit")
        fleet.edit("Plan", lambda edit: edit.put_all([frame, made]))
        report = bring_in(fleet, [table])
        assert [setting.name for setting in fleet.records(Setting)] == ["units.torque"]
        assert [(proof.plan, proof.proof) for proof in fleet.records(PlanProof)] == [("DUN refit 1", "B0")]
        assert [(prediction.figure, prediction.value) for prediction in fleet.records(Prediction)] == [
            ("bus_min_v", 4.91)
        ]
        assert [(tick.what, tick.wanted) for tick in fleet.records(ShoppingTick)] == [("servo ST-9", 2.0)]
        words = report.text()
        assert "Gone 7.B1" in str(words)
        assert "DUN refit 1.B2" in str(words)
        fleet.undo()
        assert not fleet.records(PlanProof)
