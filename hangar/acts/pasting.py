"""What a pasted row needs besides itself: the records it names that are not there and follow from it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, plural, text
from hangar.parts import KIND_BY_NAME, Channel, PackType, Position, Record, ServoType
from hangar.parts.choices import Chemistry, Function, Side

_CAUSES_MOST, _ROWS_NAMED = 4, 6
IsThere = Callable[[type[Record], tuple[Any, ...]], bool]


def needed_with(record: Record, is_there: IsThere) -> tuple[Record, ...]:
    """The records that one names, that are not there, and that it tells enough of to enter them with it.

    A channel has the function of its position, a servo type its code and nothing more, a pack type what
    its code says of chemistry, cells and capacity, a position what its code says of its work.

    Raises: BadInput for one that it does not tell enough of.
    """
    records: list[Record] = []
    for link in type(record).LINKS:
        key = tuple(getattr(record, name) for name in link.fields)
        kind = KIND_BY_NAME[link.kind]
        if None in key or is_there(kind, key):
            continue
        made = _made(kind, key, record)
        if made is None:
            raise BadInput(
                "There is no {kind} {name}.", kind=fixed(kind.TITLE), name=" ".join(str(part) for part in key)
            )
        records += [*needed_with(made, is_there), made]
    return tuple(records)


def _made(kind: type[Record], key: Sequence[Any], record: Record) -> Record | None:
    if kind is Channel and isinstance(record, Position):
        aircraft, port, number = key
        return Channel(aircraft=aircraft, port=port, number=number, function=record.function)
    if kind is ServoType:
        return ServoType(code=key[0])
    if kind is PackType:
        return _pack_type(key[0])
    if kind is Position:
        return _position(*key)
    return None


def _pack_type(code: str) -> PackType | None:
    from hangar.store.intake.packs import read_pack

    read = read_pack(code)
    if read is None or not (read.is_whole and read.chemistry and read.series and read.capacity_mah):
        return None
    return PackType(
        code=code, chemistry=Chemistry(read.chemistry), series=read.series, parallel=read.parallel,
        capacity_mah=read.capacity_mah,
    )  # fmt: skip


def _position(aircraft: str, code: str) -> Position | None:
    """A position whose code says what it works, as ours do: AIL-L, RUD, FLAP-R-2."""
    from hangar.store.intake.records import function_of_code

    lines = function_of_code(code)
    if lines is None:
        return None
    function, side = lines
    return Position(
        aircraft=aircraft,
        code=code,
        name=code,
        function=Function(function),
        side=Side(side) if side else None,
    )


def told_with(needs: Sequence[Record]) -> tuple[Text | str, ...]:
    """What is entered with a row, by kind and name."""
    from hangar.store.codec import name_of

    return tuple(name_of(type(need), tuple(getattr(need, part) for part in need.KEY)) for need in needs)


def cause_texts(causes: Mapping[str, Sequence[int]]) -> list[Text]:
    """One line for each cause for which rows are left out, with the numbers of the rows."""
    lines = [
        plural("Row {rows}: {why}", "Rows {rows}: {why}", count=len(rows), rows=_numbers(rows), why=why)
        for why, rows in list(causes.items())[:_CAUSES_MOST]
    ]
    more = len(causes) - _CAUSES_MOST
    if more > 0:
        lines.append(text("And {count} causes more; each row names its own.", count=more))
    return lines


def _numbers(rows: Sequence[int]) -> str:
    named = ", ".join(str(row) for row in rows[:_ROWS_NAMED])
    return named if len(rows) <= _ROWS_NAMED else f"{named}, …"
