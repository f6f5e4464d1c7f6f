"""The step to version 2: proofs, predictions and ticks become records; what is not known may stay so.

Until then they were settings, ``gate.PLAN.PROOF``, ``predicted.PLAN.FIGURE`` and ``shopping.got.WHAT``, which
stayed when their plan was removed and were taken over by the next plan of that code.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, text

from hangar.parts.holding import logged_although
from hangar.store.check_sums import seal
from hangar.store.constraints import prepare_for_server, whole_schema
from hangar.store.looser import make_anew
from hangar.store.old_settings import PREDICTION, PROOF, TICK, Place, Values, place_of, values_of

NEW_TABLES = (
    *("plan_proof", "prediction", "shopping_tick", "sheet_source", "field_origin"),
    *("servo_bench", "servo_timing", "remark_on_speed", "tester", "set_aside"),
    *("flight_log_trace", "flight_log_pack", "flight_log", "supply_check", "path_check", "put_off"),
)
"""Tables that version 1 had not. Written out in full before version 3 is begun, as DEVELOPERS.md says."""

LOOSER_TABLES = (
    *(
        "airframe",
        "installation",
        "pack",
        "pack_fit",
        "position",
        "regulator_type",
        "servo",
        "servo_rating",
        "servo_type",
    ),
    *("surface", "channel", "load_test", "plan_line", "rotor", "bench_check"),
    *("journal_edit", "journal_change"),
)
"""Tables whose days may be known in part, whose fields may be left open, whose closed lists grew, or that
gained fields."""

_TABLE = {PROOF: "plan_proof", PREDICTION: "prediction", TICK: "shopping_tick"}


def to_version_2(link: Connection) -> None:
    """Make the new tables, and move what was kept as settings into them, with its history."""
    if link.dialect.name != "sqlite":
        prepare_for_server()
    schema = whole_schema()
    schema.create_all(link, tables=[schema.tables[name] for name in NEW_TABLES])
    make_anew(link, schema, LOOSER_TABLES)
    retold = _History()
    changes = link.execute(text(_CHANGES)).all()
    retold.follow(change for change in changes if change.state == "done")
    _fill(link, _standing(link, retold))
    retold.follow(change for change in changes if change.state == "undone")
    _write(link, retold)
    _keep_as_texts(link)
    seal(link)


_CHANGES = """
SELECT c.id, c.edit, c.kind, c.key, c.before, c.after, e.state
FROM journal_change c JOIN journal_edit e ON e.id = c.edit
WHERE c.kind IN ('setting', 'plan') AND e.state IN ('done', 'undone')
ORDER BY c.edit, c.id
"""


_ALTHOUGH = re.compile(r"Logged while not released: (.+?)\.(?: (.*))?", re.DOTALL)
"""How the program's own English began in the remarks of a flight."""


def _keep_as_texts(link: Connection) -> None:
    """Keep as a text what the program wrote into the remarks of flights, in the log and its history."""
    for row in link.execute(text("SELECT id, remarks FROM flight WHERE remarks LIKE 'Logged while%'")).all():
        values = {"id": row.id, "remarks": _as_text(row.remarks)}
        link.execute(text("UPDATE flight SET remarks = :remarks WHERE id = :id"), values)
    for side in ("before", "after"):
        rows = link.execute(
            text(f"SELECT id, {side} AS kept FROM journal_change"  # noqa: S608
                 f" WHERE kind = 'flight' AND {side} LIKE '%Logged while%'")
        ).all()  # fmt: skip
        for row in rows:
            try:
                held = json.loads(row.kept)
                kept = json.dumps({**held, "remarks": _as_text(held["remarks"])}, ensure_ascii=False)
            except (ValueError, TypeError, KeyError):
                continue
            statement = text(f"UPDATE journal_change SET {side} = :kept WHERE id = :id")  # noqa: S608
            link.execute(statement, {"id": row.id, "kept": kept})


def _as_text(remarks: str) -> str:
    """Remarks that begin as the program began them, as a kept text that reads the same in English."""
    match = _ALTHOUGH.fullmatch(remarks)
    return logged_although([match[1]], match[2]) if match else remarks


@dataclass
class _History:
    """The history told anew, as if these had been records from the start.

    A plan that was removed took its proofs along then, so undoing the removal brings them back.
    """

    plans: set[str] = field(default_factory=set)
    records: dict[Place, Values] = field(default_factory=dict)
    named: set[Place] = field(default_factory=set)
    changed: list[dict[str, Any]] = field(default_factory=list)
    added: list[dict[str, Any]] = field(default_factory=list)
    left_out: list[dict[str, Any]] = field(default_factory=list)

    def follow(self, changes: Iterable[Row[Any]]) -> None:
        """Take the changes in their order."""
        for change in changes:
            try:
                before, after = (
                    None if it is None else json.loads(it) for it in (change.before, change.after)
                )
            except ValueError:
                continue
            if change.kind == "plan":
                self._plan(change.edit, _text(before, "code"), _text(after, "code"))
            else:
                self._setting(change, _text(before or after, "name"), _text(after, "value"))

    def _plan(self, edit: int, before: str | None, after: str | None) -> None:
        owned = [place for place in self.records if len(place) == 3 and place[1] == before]
        if before is not None and after is None:
            for place in owned:
                self.added.append({"edit": edit, **_told(place, self.records.pop(place), None)})
        elif before is not None and after is not None and before != after:
            for place in owned:
                moved = self.records.pop(place)
                self.records[place[0], after, place[2]] = {**moved, "plan": after}
        self.plans.discard(before or "")
        if after is not None:
            self.plans.add(after)

    def _setting(self, row: Row[Any], name: str | None, value: str | None) -> None:
        place = place_of(name or "")
        if place is None:
            return
        self.named.add(place)
        has_owner = place[0] == TICK or place[1] in self.plans
        after = values_of(place, value) if value is not None and has_owner else None
        before = self.records.pop(place, None)
        if after is not None:
            self.records[place] = after
        if before == after:
            self.left_out.append({"id": row.id, "edit": row.edit})
        else:
            self.changed.append({"id": row.id, **_told(place, before, after)})


def _text(values: Any, name: str) -> str | None:
    value = values.get(name) if isinstance(values, dict) else None
    return value if isinstance(value, str) else None


def _told(place: Place, before: Values | None, after: Values | None) -> dict[str, Any]:
    kind, *key = place
    rows = (None if state is None else json.dumps(state, ensure_ascii=False) for state in (before, after))
    return {"kind": kind, "key": json.dumps(key), **dict(zip(("before", "after"), rows, strict=True))}


def _standing(link: Connection, retold: _History) -> dict[Place, Values]:
    """The records that stand today: the history's, and settings that it does not name."""
    records = dict(retold.records)
    for name, value in link.execute(text("SELECT name, value FROM setting")).all():
        place = place_of(name)
        values = None if place is None else values_of(place, value)
        if place is not None and values is not None and place not in retold.named:
            records[place] = values
    plans = set(link.execute(text('SELECT code FROM "plan"')).scalars())
    return {place: values for place, values in records.items() if place[0] == TICK or place[1] in plans}


def _fill(link: Connection, records: Mapping[Place, Values]) -> None:
    for place, values in records.items():
        held = (
            {**values, "ticked_on": date.fromisoformat(values["ticked_on"])} if place[0] == PROOF else values
        )
        table = whole_schema().tables[_TABLE[place[0]]]
        link.execute(table.insert().values(**held))
    kept = link.execute(text("SELECT id, name FROM setting")).all()
    gone = [{"id": row.id} for row in kept if place_of(row.name) is not None]
    if gone:
        link.execute(text("DELETE FROM setting WHERE id = :id"), gone)


def _write(link: Connection, retold: _History) -> None:
    for statement, rows in (
        ("UPDATE journal_change SET kind = :kind, key = :key, before = :before, after = :after"
         " WHERE id = :id",
         retold.changed),
        ("DELETE FROM journal_change WHERE id = :id", retold.left_out),
        ("DELETE FROM journal_edit WHERE id = :edit"
         " AND NOT EXISTS (SELECT 1 FROM journal_change WHERE edit = :edit)", retold.left_out),
        ("INSERT INTO journal_change (edit, kind, key, before, after)"
         " VALUES (:edit, :kind, :key, :before, :after)", retold.added),
    ):  # fmt: skip
        if rows:
            link.execute(text(statement), rows)
