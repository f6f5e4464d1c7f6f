"""Every stored value against the history: finds the flipped bit that no integrity check of SQLite sees."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any

from sqlalchemy import select

from hangar.parts import RECORD_KINDS, Attachment, Record
from hangar.parts.papers import PaperPlace
from hangar.store.codec import Key, name_of
from hangar.store.faults import links_to
from hangar.store.journal import CHANGES, EDITS, Step, step_of
from hangar.store.papers import CONTENTS
from hangar.store.shelf import Shelf, key_of_values

Rows = dict[Key, dict[str, Any]]


def content_faults(shelf: Shelf, most: int = 20) -> tuple[str, ...]:
    """Where the records differ from what the edits on record made of them, and papers from their sums.

    Every row came in through an edit, and every edit is in the journal; so the standing edits, made
    again on nothing, must give the very same rows.
    """
    faults: list[str] = []
    for fault in (*_against_history(shelf), *_against_sums(shelf)):
        if len(faults) == most:
            break
        faults.append(fault)
    return tuple(faults)


def _against_history(shelf: Shelf) -> Iterator[str]:
    told = _made_again(shelf)
    for kind in RECORD_KINDS:
        present: Rows = {key_of_values(kind, row): row for row in shelf.rows(kind)}
        wanted = told.get(kind.KIND, {})
        for key in sorted(present.keys() | wanted.keys(), key=str):
            yield from _differences(kind, key, present.get(key), wanted.get(key))


def _differences(
    kind: type[Record], key: Key, present: dict[str, Any] | None, wanted: dict[str, Any] | None
) -> Iterator[str]:
    name = name_of(kind, key)
    if wanted is None or present is None:
        yield f"{name} is in the {'history' if present is None else 'table'} only"
        return
    for field, value in present.items():
        if value != wanted[field]:
            yield f"{name}: {field} is {value!r}, the history says {wanted[field]!r}"


def _made_again(shelf: Shelf) -> dict[str, Rows]:
    statement = (
        select(CHANGES)
        .join(EDITS, EDITS.c.id == CHANGES.c.edit)
        .where(EDITS.c.state == "done")
        .order_by(CHANGES.c.edit, CHANGES.c.id)
    )
    told: dict[str, Rows] = {}
    for row in shelf.link.execute(statement):
        _take(told, step_of(row))
    return told


def _take(told: dict[str, Rows], step: Step) -> None:
    rows = told.setdefault(step.kind.KIND, {})
    if step.before is not None:
        rows.pop(key_of_values(step.kind, step.before), None)
    if step.after is not None:
        rows[step.key] = dict(step.after)
    if step.renames and step.before is not None:
        _follow(told, step.kind, key_of_values(step.kind, step.before), step.key)


def _follow(told: dict[str, Rows], kind: type[Record], old: Key, new: Key) -> None:
    """Give the new key to all that name the record, as the database does by itself."""
    for other, fields, _ in links_to(kind):
        rows = told.get(other.KIND, {})
        for key, row in list(rows.items()):
            if tuple(row[field] for field in fields) != old:
                continue
            del rows[key]
            row.update(zip(fields, new, strict=True))
            now = key_of_values(other, row)
            rows[now] = row
            if now != key:
                _follow(told, other, key, now)


def _against_sums(shelf: Shelf) -> Iterator[str]:
    held = set()
    for noted, content in shelf.link.execute(select(CONTENTS.c.sha256, CONTENTS.c.content)):
        held.add(noted)
        if hashlib.sha256(content).hexdigest() != noted:
            yield f"the content of the paper with check sum {noted[:12]} was changed"
    for paper in shelf.records(Attachment, place=PaperPlace.INSIDE):
        if paper.sha256 not in held:
            yield f"the content of paper {paper.name} is missing"
