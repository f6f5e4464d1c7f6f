"""Writes the sample file of the present version; run once a version, before it leaves the workshop.

    python -m tests.store.make_sample

A sample of a version that is in keepers' hands is never written again.
"""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from datetime import date, datetime
from pathlib import Path

from hangar.parts import Plan, PlanProof, Prediction, Servo, ShoppingTick
from hangar.store import Edit, Fleet, Owner
from hangar.store.backups import SUFFIX
from hangar.store.upgrades import VERSION
from tests.store.conftest import put_trainer

SAMPLES = Path(__file__).with_name("files")
MOMENT = datetime(2026, 3, 14, 9, 30)  # noqa: DTZ001
PLAN = "DUN refit 1"
PAPER = b"%PDF-1.4 a short paper\n"


def make_sample(place: Path) -> None:
    """A small fleet with a history, an undone edit and a paper."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sample.hangar"
        paper = Path(folder) / "weighing.pdf"
        paper.write_bytes(PAPER)
        with Fleet.create(path, clock=lambda: MOMENT, seat="keeper") as fleet:
            fleet.edit("Build the trainer", build)
            fleet.edit("Attach", lambda edit: attach(edit, paper))
            fleet.edit("Move", lambda edit: edit.fit_servo("0801", "DUN", "ELE", date(2026, 3, 1), "weak"))
            fleet.edit("Bin it", lambda edit: edit.change(Servo, ("0802",), bin="A1"))
            fleet.undo()
        link = sqlite3.connect(path, isolation_level=None)
        link.execute("PRAGMA page_size = 512")
        link.execute("VACUUM")
        link.close()
        shutil.copyfile(path, place)


def build(edit: Edit) -> None:
    """The trainer with a plan that is half proved, and a thing ticked off the shopping list."""
    put_trainer(edit)
    edit.put(
        Plan(
            code=PLAN,
            aircraft="DUN",
            title="Stronger elevator",
            proofs=(PlanProof(plan=PLAN, proof="B0", ticked_on=MOMENT.date()),),
            predictions=(Prediction(plan=PLAN, figure="bus_v", value=5.1),),
        )
    )
    edit.put(ShoppingTick(what="TS-31", wanted=2))


def attach(edit: Edit, paper: Path) -> None:
    edit.attach(paper, Owner(aircraft="DUN"), MOMENT.date())


if __name__ == "__main__":
    make_sample(SAMPLES / f"version_{VERSION}{SUFFIX}")
