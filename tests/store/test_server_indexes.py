"""The indexes that let a part be in one place only hold on a server too, and cost a file nothing."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateIndex

from hangar.parts import Installation
from hangar.store.constraints import prepare_for_server
from hangar.store.tables import TABLES

ROOT = Path(__file__).resolve().parents[2]


def test_a_server_is_told_which_stays_count() -> None:
    prepare_for_server()
    dialect = postgresql.dialect()  # type: ignore[no-untyped-call]
    made = [str(CreateIndex(index).compile(dialect=dialect)) for index in TABLES[Installation].indexes]
    conditional = [line for line in made if "one_open" in line]
    assert len(conditional) == 2
    assert all("UNIQUE" in line and "WHERE until_on IS NULL" in line for line in conditional)


def test_a_fleet_in_a_file_loads_no_server_dialect() -> None:
    script = "import sys, hangar.store.fleet; print('sqlalchemy.dialects.postgresql' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"
