"""Doubted fields of a keeper's sheet: they follow their record, and end when the field is written anew."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Protocol, TypeVar

from hangar.parts import KIND_BY_NAME, FieldOrigin, Record

R = TypeVar("R", bound=Record)


class RecordEdit(Protocol):
    """The edit that the record changes in."""

    def records(self, kind: type[R], /, **equal: Any) -> tuple[R, ...]:
        """The records whose fields equal the given ones."""

    def put(self, record: Record) -> None:
        """Write a record."""

    def remove(self, kind: type[Record], key: Sequence[Any]) -> None:
        """Take a record away."""


def record_name(key: Iterable[Any]) -> str:
    """A record's key as an origin names it."""
    return "|".join(str(part) for part in key)


def settle_origins(
    edit: RecordEdit, kind: type[Record], key: Sequence[Any], changed: Iterable[str] | None = None
) -> None:
    """Forget what was doubted of the changed fields of a record, or of all of it where it is gone."""
    if kind is FieldOrigin:
        return
    names = None if changed is None else set(changed)
    if names is not None and not names:
        return
    for origin in edit.records(FieldOrigin, kind=kind.KIND, record=record_name(key)):
        if names is None or origin.field in names:
            edit.remove(FieldOrigin, (origin.kind, origin.record, origin.field))


def rename_origins(edit: RecordEdit, kind: type[Record], old: Sequence[Any], new: Sequence[Any]) -> None:
    """Let the origins of a record, and of all that names it in its key, follow its new key."""
    before, after = [str(part) for part in old], [str(part) for part in new]
    for origin in edit.records(FieldOrigin):
        named = _renamed(KIND_BY_NAME.get(origin.kind), origin.record.split("|"), kind, before, after)
        if named is not None:
            edit.remove(FieldOrigin, (origin.kind, origin.record, origin.field))
            edit.put(
                FieldOrigin(
                    kind=origin.kind,
                    record="|".join(named),
                    field=origin.field,
                    file=origin.file,
                    tab=origin.tab,
                    row=origin.row,
                    column=origin.column,
                    text=origin.text,
                    doubt=origin.doubt,
                )
            )


def _renamed(
    target: type[Record] | None, parts: list[str], kind: type[Record], before: list[str], after: list[str]
) -> list[str] | None:
    """The parts of a key after a record was renamed; None where it does not name that record."""
    if target is None or len(parts) != len(target.KEY):
        return None
    if target is kind:
        return after if parts == before else None
    made = list(parts)
    for link in target.LINKS:
        if not all(name in target.KEY for name in link.fields):
            continue
        at = [target.KEY.index(name) for name in link.fields]
        # What the key names may itself be known by what was renamed: a position by its aircraft.
        named = _renamed(KIND_BY_NAME.get(link.kind), [parts[place] for place in at], kind, before, after)
        for place, part in zip(at, named or (), strict=False):
            made[place] = part
    return made if made != parts else None
