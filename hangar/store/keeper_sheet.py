"""A keeper's own sheet brought into a fleet: what the reading proposes, written within one edit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.kept_text import kept_text
from hangar.base.part_day import part_day
from hangar.parts import (
    KIND_BY_NAME,
    RECORD_KINDS,
    Airframe,
    CapacityTest,
    Channel,
    Feed,
    FieldOrigin,
    Installation,
    Lead,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    Position,
    Record,
    Regulator,
    Servo,
    ServoRating,
    ServoType,
    SheetSource,
    StockItem,
)
from hangar.parts.fields import columns, key_of
from hangar.store.codec import checked_values
from hangar.store.edit import Edit
from hangar.store.intake.account import About, State
from hangar.store.intake.grid import Grid
from hangar.store.intake.kept import fingerprint, is_alike, packed, unpacked
from hangar.store.intake.mapping import refuse_unfitting
from hangar.store.intake.present import Present, PresentPlane, PresentSeat, PresentStock, PresentType
from hangar.store.intake.proposal import Changed, Proposed
from hangar.store.intake.reading import Answers, Known, Reading, read_file
from hangar.store.intake.records import proposed
from hangar.store.intake.vocabulary import squeezed


@dataclass(slots=True)
class KeeperTaken:
    """What a keeper's sheet gave: its reading, how many records of each kind, and what changed."""

    reading: Reading
    taken: dict[str, int] = field(default_factory=dict)
    changes: tuple[Changed, ...] = ()


def take_keeper_sheets(
    grids: Sequence[Grid], edit: Edit, today: date, answers: Answers, answers_name: str = ""
) -> KeeperTaken:
    """Write what keepers' own sheets say into the fleet of an edit.

    Raises: BadInput when the answers name what the sheets do not have.
    """
    present = _present(edit)
    reading = read_file(grids, today, _known(edit), answers)
    if answers_name:
        refuse_unfitting(answers, reading, answers_name)
    source = _base(edit, reading, today, answers)
    proposal = proposed(reading, present, source.base)
    taken = KeeperTaken(reading, changes=tuple(proposal.changes))
    _write(edit, proposal.records, taken)
    if taken.taken or source.base is not None:
        _keep_source(edit, source, grids, today, reading)
    return taken


# -- what is there ------------------------------------------------------------
def _known(edit: Edit) -> Known:
    makers = {squeezed(one.code): one.maker or "" for one in edit.records(ServoType)}
    torques = {
        (squeezed(one.servo_type), one.rated_v): one.torque_nm
        for one in edit.records(ServoRating)
        if one.torque_nm is not None
    }
    return Known(makers, torques)


def _present(edit: Edit) -> Present:
    ratings: dict[str, dict[float, tuple[float | None, float | None]]] = {}
    for rating in edit.records(ServoRating):
        ratings.setdefault(rating.servo_type, {})[rating.rated_v] = (rating.torque_nm, rating.transit_s)
    tests = {("load", one.pack, one.tested_at.date().isoformat()) for one in edit.records(LoadTest)}
    tests |= {("capacity", one.pack, one.tested_on.isoformat()) for one in edit.records(CapacityTest)}
    stock = edit.records(StockItem)
    tags = {one.tag for one in edit.records(Servo)}
    packs = {one.tag for one in edit.records(Pack)}
    return Present(
        planes=_planes(edit),
        types={
            squeezed(one.code): PresentType(
                one.code, one.maker or "", one.drive or "", ratings.get(one.code, {})
            )
            for one in edit.records(ServoType)
        },
        pack_types=frozenset(one.code for one in edit.records(PackType)),
        packs=frozenset(packs),
        codes=frozenset(one.code for one in edit.records(Airframe)),
        tags=frozenset(tags | packs),
        tests=frozenset(tests),
        stock={
            (one.kind.value, one.part_type or "", one.bin or ""): PresentStock(one.code, one.on_hand)
            for one in stock
        },
        stock_codes=frozenset(one.code for one in stock),
    )


def _planes(edit: Edit) -> dict[str, PresentPlane]:
    servo_types = {one.tag: one.servo_type for one in edit.records(Servo)}
    stays = edit.records(Installation)
    pack_types = {one.code: one for one in edit.records(PackType)}
    pack_kinds = {one.tag: pack_types[one.pack_type] for one in edit.records(Pack)}
    found = {}
    for frame in edit.records(Airframe):
        code = frame.code
        positions = edit.records(Position, aircraft=code)
        here = {one.position: one for one in stays if one.aircraft == code and one.until_on is None}
        function_of = {one.code: one.function.value for one in positions}
        past = {
            (function_of.get(one.position, ""), servo_types[one.servo])
            for one in stays
            if one.aircraft == code and one.until_on is not None
        }
        kinds = [pack_kinds[one.pack] for one in edit.records(PackFit, aircraft=code) if one.until_on is None]
        found[squeezed(frame.name)] = PresentPlane(
            code,
            frame.name,
            {name: getattr(frame, name) for name in ("span_mm", "all_up_mass_g", "aircraft_class", "power")},
            tuple(_seat(one, here.get(one.code), servo_types) for one in positions),
            frozenset(past),
            frozenset(one.number for one in edit.records(Channel, aircraft=code)),
            {one.position: one.length_mm for one in edit.records(Lead, aircraft=code)},
            tuple((one.chemistry.value, one.series, one.parallel, one.capacity_mah) for one in kinds),
            len(edit.records(Regulator, aircraft=code)),
            tuple(one.code for one in edit.records(Feed, aircraft=code)),
        )
    return found


def _seat(position: Position, stay: Installation | None, servo_types: Mapping[str, str]) -> PresentSeat:
    place = (position.code, position.function.value, position.side or "", position.channel)
    if stay is None:
        return PresentSeat(*place)
    return PresentSeat(*place, stay.servo, servo_types[stay.servo], stay.since_on.isoformat())


# -- the copy that was brought in before ------------------------------------------------------------
@dataclass(slots=True)
class _Source:
    code: str
    parts: list[SheetSource]
    base: Reading | None


def _base(edit: Edit, reading: Reading, today: date, answers: Answers) -> _Source:
    """The sheet of which this one is a later copy, as it was then."""
    mine = fingerprint(reading)
    by_code: dict[str, list[SheetSource]] = {}
    for part in edit.records(SheetSource):
        by_code.setdefault(part.code, []).append(part)
    for code, parts in by_code.items():
        parts.sort(key=lambda one: one.part)
        if is_alike(mine, parts[0].headings or ""):
            grids = unpacked(one.content for one in parts)
            return _Source(code, parts, read_file(grids, today, Known(), answers) if grids else None)
    number = len(by_code) + 1
    while f"sheet {number}" in by_code:
        number += 1
    return _Source(f"sheet {number}", [], None)


def _keep_source(edit: Edit, source: _Source, grids: Sequence[Grid], today: date, reading: Reading) -> None:
    pieces = packed(grids)
    if [one.content for one in source.parts] == pieces:
        return
    for part in source.parts:
        edit.remove(SheetSource, (part.code, part.part))
    files = ", ".join(dict.fromkeys(grid.file for grid in grids))
    for number, piece in enumerate(pieces, start=1):
        headings = fingerprint(reading)[:30_000] if number == 1 else None
        edit.put(
            SheetSource(
                code=source.code,
                part=number,
                file=files[:1000],
                read_on=today,
                headings=headings,
                content=piece,
            )
        )


# -- writing ------------------------------------------------------------
def _write(edit: Edit, records: Iterable[Proposed], taken: KeeperTaken) -> None:
    account = taken.reading.account
    made: dict[type[Record], dict[tuple[Any, ...], Record]] = {}
    sources: dict[int, Proposed] = {}
    for one in records:
        kind = KIND_BY_NAME[one.kind]
        try:
            if one.key is not None:
                edit.change(kind, _key(kind, one.key), **_values(kind, one.values))
                taken.taken[one.kind] = taken.taken.get(one.kind, 0) + 1
                continue
            record = kind(**_values(kind, one.values))
            checked_values(record)
        except BadInput as fault:
            for cell in {id(cell): cell for cell in one.cells.values()}.values():
                account.doubt(cell, About.RATING, fault.text)
            continue
        made.setdefault(kind, {})[key_of(record)] = record
        sources[id(record)] = one
    _drop_orphans(edit, made)
    origins = [
        origin
        for some in made.values()
        for record in some.values()
        for origin in _origins(record, sources[id(record)], taken)
    ]
    for kind in RECORD_KINDS:
        some = made.get(kind)
        if some:
            edit.put_all(some.values())
            taken.taken[kind.KIND] = taken.taken.get(kind.KIND, 0) + len(some)
    edit.put_all(origins)


def _drop_orphans(edit: Edit, made: dict[type[Record], dict[tuple[Any, ...], Record]]) -> None:
    """Leave out what names a record that could not be made."""
    present = {
        kind: edit.keys(kind) for kind in {KIND_BY_NAME[link.kind] for kind in made for link in kind.LINKS}
    }
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
    made: Mapping[type[Record], Mapping[tuple[Any, ...], Record]], present: Mapping[type[Record], set[Any]],
) -> bool:  # fmt: skip
    key = tuple(getattr(record, name) for name in fields)
    return None in key or key in made.get(target, {}) or key in present.get(target, set())


def _values(kind: type[Record], given: Mapping[str, Any]) -> dict[str, Any]:
    found = {}
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
        found[spec.name] = value
    return found


def _key(kind: type[Record], key: Sequence[Any]) -> tuple[Any, ...]:
    given = dict(zip(kind.KEY, key, strict=True))
    values = _values(kind, given)
    return tuple(values[name] for name in kind.KEY)


def _origins(record: Record, source: Proposed, taken: KeeperTaken) -> Iterable[FieldOrigin]:
    """The cells behind the doubted fields of a record."""
    account = taken.reading.account
    for name, cell in source.cells.items():
        if account.state_of(cell) is not State.DOUBTED:
            continue
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
