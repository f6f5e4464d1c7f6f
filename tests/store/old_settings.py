"""Fleets of version 1, with what it kept as settings and their history, as its own edits left them."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, text

from hangar.store.file_engine import engine_of
from hangar.store.upgrades import STEPS, upgrade
from hangar.store.version_2 import NEW_TABLES

FRAME = {"code": "DUN", "name": "Dunlin", "aircraft_class": "sport", "power": "none", "state": "on the line",
         "wing_count": 1}  # fmt: skip
Change = tuple[str, dict[str, Any] | None, dict[str, Any] | None]
OldEdit = tuple[str, Sequence[Change], str]
"""Label, changes, and how it stands in the history."""


def setting(name: str, value: str) -> dict[str, Any]:
    return {"name": name, "value": value}


def plan(code: str) -> dict[str, Any]:
    return {"code": code, "aircraft": "DUN", "title": code, "state": "sketched"}


def put(kind: str, values: dict[str, Any]) -> Change:
    return (kind, None, values)


def gone(kind: str, values: dict[str, Any]) -> Change:
    return (kind, values, None)


class OldFleet:
    """Writes rows and history the way version 1 did."""

    def __init__(self, link: Connection) -> None:
        self.link = link
        self._turn = 0

    def edit(self, label: str, *changes: Change, state: str = "done") -> None:
        """Enter an edit, and its rows where it stands."""
        self._turn += 1
        self.link.execute(
            text("INSERT INTO journal_edit (made_at, label, state, turn)"
                 " VALUES ('2026-03-14 09:30:00', :label, :state, :turn)"),
            {"label": label, "state": state, "turn": self._turn},
        )  # fmt: skip
        number = self.link.execute(text("SELECT max(id) FROM journal_edit")).scalar_one()
        for kind, before, after in changes:
            name = (after or before or {})["name" if kind == "setting" else "code"]
            row_values = {"edit": number, "kind": kind, "key": json.dumps([name])}
            row_values |= {at: row and json.dumps(row) for at, row in (("before", before), ("after", after))}
            self.link.execute(
                text("INSERT INTO journal_change (edit, kind, key, before, after)"
                     " VALUES (:edit, :kind, :key, :before, :after)"), row_values
            )  # fmt: skip
            if state == "done":
                self.row(kind, before, after)

    def row(self, kind: str, before: dict[str, Any] | None, after: dict[str, Any] | None) -> None:
        """Change a row alone."""
        key = "name" if kind == "setting" else "code"
        if before is not None:
            self.link.execute(text(f'DELETE FROM "{kind}" WHERE {key} = :key'), {"key": before[key]})
        if after is not None:
            names = ", ".join(after)
            values = ", ".join(f":{name}" for name in after)
            self.link.execute(text(f'INSERT INTO "{kind}" ({names}) VALUES ({values})'), after)


def old_file(path: Path, edits: Sequence[OldEdit]) -> None:
    """A file of version 1 with these edits."""
    file = sqlite3.connect(path, isolation_level=None)
    upgrade(file, STEPS[:1])
    link = engine_of(file).connect()
    fleet = OldFleet(link)
    fleet.edit("Build", put("airframe", FRAME))
    for label, changes, state in edits:
        fleet.edit(label, *changes, state=state)
    link.close()
    file.close()


def made_old(link: Connection, edits: Sequence[OldEdit]) -> None:
    """Turn an empty fleet on a server into one of version 1 with these edits."""
    for name in NEW_TABLES:
        link.execute(text(f"DROP TABLE {name}"))
    link.execute(text("UPDATE hangar_version SET version = 1"))
    fleet = OldFleet(link)
    fleet.edit("Build", put("airframe", FRAME))
    for label, changes, state in edits:
        fleet.edit(label, *changes, state=state)
