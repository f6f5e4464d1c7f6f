"""The table of how to find out what is not known, and the fields of one aircraft that it covers."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, TypeVar

from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.text import Text, fixed
from hangar.parts import Aircraft, FedPack, PowerPath, Record, ServoFit
from hangar.parts.fields import FieldSpec, key_of, specs
from hangar.survey import Survey
from hangar.survey.defaults import defaults_with
from hangar.survey.figures import field_missing

_NODES = (Aircraft, ServoFit, PowerPath, FedPack)
Node = TypeVar("Node")


@dataclass(frozen=True, slots=True)
class HowTo:
    """How to find out one thing.

    Attributes:
        how: what to do, in a sentence or two.
        minutes: time it takes one practised person.
        cost: what has to be at hand besides a tape and a caliper; ``none`` for nothing.
        low, high: between which values it plausibly lies, in the field's unit or as multiples.
        times: what they are multiples of; empty for the field's own unit.
        values: the values to try where there is no range.
    """

    how: Text
    minutes: float
    cost: Text
    low: float | None = None
    high: float | None = None
    times: str = ""
    values: tuple[Any, ...] = ()


@cache
def _table() -> tuple[Mapping[str, HowTo], tuple[tuple[str, HowTo], ...]]:
    with (resources_dir() / "measuring.toml").open("rb") as file:
        read = tomllib.load(file)
    wholes = tuple(
        (row["words"], HowTo(fixed(row["how"]), row["minutes"], fixed(row["cost"])))
        for row in read.pop("whole")
    )
    fields = {
        f"{kind}.{name}": HowTo(
            **{
                **row,
                "how": fixed(row["how"]),
                "cost": fixed(row["cost"]),
                "values": tuple(row.get("values", ())),
            }
        )
        for kind, rows in read.items()
        for name, row in rows.items()
    }
    return fields, wholes


def how_to_measure() -> Mapping[str, HowTo]:
    """Every field that the table covers, by ``record kind.field``."""
    return _table()[0]


def how_to_enter(missing: Text) -> HowTo:
    """What to do about a whole record that is missing, from the words that name it."""
    return next(how for words, how in _table()[1] if words in str(missing))


@dataclass(frozen=True, slots=True)
class Blank:
    """A field of one record that nobody has filled, with how to find it out."""

    record: Record
    spec: FieldSpec
    howto: HowTo

    @property
    def words(self) -> Text:
        """What rules call it when they wait for it."""
        return field_missing(self.record, self.spec.name)

    def plausible(self, surveyed: Survey) -> tuple[Any, ...]:
        """The values to try; none where what they are multiples of is not known either."""
        kind, howto = self.spec.type, self.howto
        if howto.values:
            return tuple(kind(value) for value in howto.values)
        if howto.low is None or howto.high is None:
            return ()
        scale = _scale(self.record, howto.times, surveyed)
        return () if scale is None else self._allowed(howto.low * scale, howto.high * scale)

    def _allowed(self, *values: float) -> tuple[Any, ...]:
        within = self.spec.within
        least = -float("inf") if within.low is None else within.low
        most = float("inf") if within.high is None else within.high
        return tuple(self.spec.type(min(max(value, least), most)) for value in values)

    def filled(self, aircraft: Aircraft, value: Any) -> Aircraft:
        """The aircraft as it would be with that value, everywhere the record stands."""
        record: Any = self.record
        changed = dataclasses.replace(record, **{self.spec.name: value})
        return _swapped(aircraft, self.record, changed)


def _scale(record: Record, times: str, surveyed: Survey) -> float | None:
    """What a range's bounds are multiples of."""
    source, _, name = times.partition(" ")
    if source == "own":
        entered = getattr(record, name)
        return None if entered is None else float(entered)
    if source == "supply":
        tags = [str(key_of(record)[0])]
        if record.KIND == "pack-type":
            paths = surveyed.aircraft.paths
            tags = [fed.pack.tag for path in paths for fed in path.packs if fed.pack_type.code == tags[0]]
        figures: Mapping[str, Any] = getattr(surveyed.supply, name)
        return next((figures[tag].expected for tag in tags if tag in figures), None)
    if source == "typical":
        typical = getattr(defaults_with(surveyed.conditions.defaults), name)
        try:
            return float(typical.value(surveyed.aircraft.airframe.aircraft_class))
        except BadInput:
            return None
    return 1.0


def blanks(aircraft: Aircraft) -> tuple[Blank, ...]:
    """Every field of an aircraft that is not known and that the table covers."""
    table = how_to_measure()
    blanks_here: list[Blank] = []
    seen: set[tuple[str, tuple[Any, ...]]] = set()
    for record in _records(aircraft):
        name = (record.KIND, key_of(record))
        if name not in seen:
            seen.add(name)
            blanks_here += [
                Blank(record, spec, table[f"{record.KIND}.{spec.name}"])
                for spec in specs(type(record))
                if getattr(record, spec.name) is None and f"{record.KIND}.{spec.name}" in table
            ]
    return tuple(blanks_here)


def _records(node: object) -> Iterator[Record]:
    if isinstance(node, Record):
        yield node
    elif isinstance(node, tuple):
        for part in node:
            yield from _records(part)
    elif isinstance(node, _NODES):
        for field in dataclasses.fields(node):
            yield from _records(getattr(node, field.name))


def _swapped(node: Node, old: Record, new: Record) -> Node:
    """A tree with one record changed; a type may stand in it several times."""
    swapped: Any = node
    if isinstance(node, Record):
        swapped = new if node == old else node
    elif isinstance(node, tuple):
        items = tuple(_swapped(part, old, new) for part in node)
        swapped = items if any(a is not b for a, b in zip(items, node, strict=True)) else node
    elif isinstance(node, _NODES):
        values = {field.name: getattr(node, field.name) for field in dataclasses.fields(node)}
        changed = {name: _swapped(value, old, new) for name, value in values.items()}
        changed = {name: value for name, value in changed.items() if value is not values[name]}
        swapped = dataclasses.replace(node, **changed) if changed else node
    return swapped  # type: ignore[no-any-return]
