"""A keeper's own sheet brought into a fleet: what the reading proposes, written within one edit."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.kept_text import kept_text
from hangar.base.part_day import part_day
from hangar.parts import KIND_BY_NAME, RECORD_KINDS, FieldOrigin, Record
from hangar.parts.fields import columns, key_of
from hangar.store.codec import checked_values
from hangar.store.edit import Edit
from hangar.store.intake.account import About, Account, State
from hangar.store.intake.grid import Grid
from hangar.store.intake.mapping import refuse_unfitting
from hangar.store.intake.proposal import NewRow, Proposal, SheetChange
from hangar.store.intake.reading import Answers, Reading, read_file
from hangar.store.intake.records import proposed
from hangar.store.keeper_present import known_of, present_of
from hangar.store.keeper_sources import SheetBefore, keep_source, sheet_before

Key = tuple[Any, ...]
Made = dict[type[Record], dict[Key, Record]]


@dataclass(slots=True)
class KeeperIntake:
    """What a keeper's sheet gave: its reading, how many records of each kind, and what changed."""

    reading: Reading
    taken: dict[str, int] = field(default_factory=dict)
    changes: tuple[SheetChange, ...] = ()


@dataclass(slots=True)
class Writable:
    """What of a proposal can be written: new records with what proposed them, and changes of others."""

    made: Made = field(default_factory=dict)
    sources: dict[int, NewRow] = field(default_factory=dict)
    changes: list[tuple[type[Record], Key, dict[str, Any]]] = field(default_factory=list)

    def records(self) -> Iterable[tuple[Record, NewRow]]:
        """The new records, each with what proposed it."""
        for some in self.made.values():
            for record in some.values():
                yield record, self.sources[id(record)]


def take_keeper_sheets(
    grids: Sequence[Grid],
    edit: Edit,
    today: date,
    answers: Answers | None = None,
    answers_name: str = "",
    are_rows: bool = False,
) -> KeeperIntake:
    """Write what keepers' own sheets say into the fleet of an edit.

    Without answers those hold that the keeper gave for the copy before. A few rows that were pasted,
    ``are_rows``, are no sheet that comes again: they are compared with the fleet only and not kept.

    Raises: BadInput when the answers name what the sheets do not have.
    """
    present, known = present_of(edit), known_of(edit)
    reading = read_file(grids, today, known, answers or Answers())
    if answers is not None and answers_name:
        refuse_unfitting(answers, reading, answers_name)
    before = SheetBefore("") if are_rows else sheet_before(edit, reading)
    if answers is None and not before.answers.are_none:
        reading = read_file(grids, today, known, before.answers)
    proposal = proposed(reading, present, before.reading(today, reading.answers))
    taken = KeeperIntake(reading, changes=tuple(proposal.changes))
    fitting = fitting_of(proposal, reading.account, edit.keys)
    _write(edit, fitting, taken)
    if (taken.taken or before.parts) and not are_rows:
        keep_source(edit, before, grids, today, reading)
    return taken


# -- what can be written ------------------------------------------------------------
def fitting_of(proposal: Proposal, account: Account, keys: Callable[[type[Record]], set[Key]]) -> Writable:
    """What of a proposal can be written; what cannot is doubted.

    ``keys`` gives the keys that the fleet has of a kind.
    """
    fitting = Writable()
    for new_record in proposal.records:
        kind = KIND_BY_NAME[new_record.kind]
        try:
            if new_record.key is not None:
                fitting.changes.append((kind, _key(kind, new_record.key), _values(kind, new_record.values)))
                continue
            record = kind(**_values(kind, new_record.values))
            checked_values(record)
        except BadInput as fault:
            for cell in {id(cell): cell for cell in new_record.cells.values()}.values():
                account.doubt(cell, About.RATING, fault.text)
            continue
        fitting.made.setdefault(kind, {})[key_of(record)] = record
        fitting.sources[id(record)] = new_record
    _drop_orphans(fitting.made, keys)
    return fitting


def _drop_orphans(made: Made, keys: Callable[[type[Record]], set[Key]]) -> None:
    """Leave out what names a record that could not be made."""
    present = {kind: keys(kind) for kind in {KIND_BY_NAME[link.kind] for kind in made for link in kind.LINKS}}
    dropped = True
    while dropped:
        dropped = False
        for kind, some in made.items():
            for key, record in list(some.items()):
                if not all(
                    _is_there(record, link.fields, KIND_BY_NAME[link.kind], made, present)
                    for link in kind.LINKS
                ):
                    del some[key]
                    dropped = True


def _is_there(
    record: Record, fields: Sequence[str], target: type[Record],
    made: Made, present: Mapping[type[Record], set[Key]],
) -> bool:  # fmt: skip
    key = tuple(getattr(record, name) for name in fields)
    return None in key or key in made.get(target, {}) or key in present.get(target, set())


def _values(kind: type[Record], given: Mapping[str, Any]) -> dict[str, Any]:
    by_key = {}
    for spec in columns(kind):
        if spec.name not in given:
            continue
        value = given[spec.name]
        if isinstance(value, str) and spec.type is datetime:
            value = datetime.combine(date.fromisoformat(value), time())
        elif isinstance(value, str) and spec.type is date:
            value = part_day(value)
        elif isinstance(value, str) and issubclass(spec.type, StrEnum):
            value = spec.type(value)
        by_key[spec.name] = value
    return by_key


def _key(kind: type[Record], key: Sequence[Any]) -> tuple[Any, ...]:
    given = dict(zip(kind.KEY, key, strict=True))
    values = _values(kind, given)
    return tuple(values[name] for name in kind.KEY)


# -- writing ------------------------------------------------------------
def _write(edit: Edit, fitting: Writable, taken: KeeperIntake) -> None:
    for kind, key, values in fitting.changes:
        named = tuple(values.get(name, part) for name, part in zip(kind.KEY, key, strict=True))
        if named != key:
            edit.rename(kind, key, named)
        edit.change(kind, named, **values)
        taken.taken[kind.KIND] = taken.taken.get(kind.KIND, 0) + 1
    origins = [
        origin for record, source in fitting.records() for origin in _origins(record, source, taken)
    ]  # fmt: skip
    for kind in RECORD_KINDS:
        some = fitting.made.get(kind)
        if some:
            edit.put_all(some.values())
            taken.taken[kind.KIND] = taken.taken.get(kind.KIND, 0) + len(some)
    edit.put_all(origins)


_FIELD_OF = {
    ("servo", "servo"): "servo_type",
    ("installation", "fitted"): "since_on",
    ("installation", "removed"): "until_on",
    ("lead", "lead"): "length_mm",
    ("pack", "pack"): "pack_type",
    ("pack", "bought"): "bought_on",
}
"""Fields that the cells of a role tell, where they are called otherwise."""


def _origins(record: Record, source: NewRow, taken: KeeperIntake) -> Iterable[FieldOrigin]:
    """The cells behind the doubted fields of a record."""
    account = taken.reading.account
    fields = {spec.name for spec in columns(type(record))}
    lines: set[str] = set()
    for role, cell in source.cells.items():
        name = _FIELD_OF.get((record.KIND, role), role)
        if account.state_of(cell) is not State.DOUBTED or name not in fields or name in lines:
            continue
        lines.add(name)
        entry = account.entry(cell)
        yield FieldOrigin(
            kind=record.KIND,
            record="|".join(str(part) for part in key_of(record)),
            field=name,
            file=entry.grid.file,
            tab=entry.grid.tab or None,
            row=cell.row,
            column=cell.column,
            text=cell.text[:1000],
            doubt=kept_text(entry.reason),
        )
