"""The invented fleet as trees, and trees with something taken out of them."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from datetime import date
from functools import cache
from typing import Any, TypeVar

from hangar.parts import Aircraft, FedPack, Library, PowerPath, Record, ServoFit
from hangar.parts.fields import columns, key_of
from tests.demo_copies import demo_copy

TODAY = date(2026, 3, 14)
NODES = (Aircraft, ServoFit, PowerPath, FedPack)
Node = TypeVar("Node")


@cache
def demo() -> tuple[dict[str, Aircraft], Library]:
    """Every aircraft of the invented fleet by its code, and the library."""
    with demo_copy(TODAY) as fleet:
        return {aircraft.code: aircraft for aircraft in fleet.whole_fleet(TODAY)}, fleet.library()


def records(node: object) -> Iterator[Record]:
    """Every record of a tree, those that stand in it several times as often."""
    if isinstance(node, Record):
        yield node
    if isinstance(node, tuple):
        for each in node:
            yield from records(each)
    elif isinstance(node, (*NODES, Record)):
        for spec in dataclasses.fields(node):  # type: ignore[arg-type]
            value = getattr(node, spec.name)
            if isinstance(value, (tuple, Record, *NODES)):
                yield from records(value)


def entries(aircraft: Aircraft) -> tuple[tuple[Record, str], ...]:
    """Every field that is filled and may be blank, once for each record."""
    once = {(record.KIND, key_of(record)): record for record in records(aircraft)}
    return tuple(
        (record, spec.name)
        for record in once.values()
        for spec in columns(type(record))
        if spec.optional and getattr(record, spec.name) is not None and spec.name not in record.KEY
    )


def without_field(node: Node, record: Record, field: str) -> Node:
    """The tree with one field of one record blank, wherever that record stands."""
    entry: Any = record
    changed: Node = _mapped(node, record, dataclasses.replace(entry, **{field: None}))
    return changed


def without_record(node: Node, record: Record) -> Node:
    """The tree without one record, where a tree can do without it."""
    changed: Node = _mapped(node, record, None)
    return changed


def _mapped(node: Any, old: Record, new: Record | None) -> Any:
    if isinstance(node, tuple):
        found = (_mapped(each, old, new) for each in node)
        return tuple(each for each in found if each is not None)
    if not isinstance(node, NODES):
        return new if node == old else node
    values = {spec.name: getattr(node, spec.name) for spec in dataclasses.fields(node)}
    changed = {name: _mapped(value, old, new) for name, value in values.items()}
    needed = {"airframe", "position", "feed", "pack", "pack_type"} & set(values)
    if any(changed[name] is None for name in needed):
        return None if not isinstance(node, Aircraft) else node
    return dataclasses.replace(node, **changed)
