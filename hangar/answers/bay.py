"""Servos that lie in Stores, and the tags that are free for new ones."""

from __future__ import annotations

from collections.abc import Iterable

from hangar.answers.reading import Records
from hangar.base.errors import BadInput
from hangar.parts import Servo, StockItem
from hangar.parts.choices import ServoState, StockKind


def spare_servos(fleet: Records) -> tuple[Servo, ...]:
    """Servos that lie in the bay and may be fitted, by tag."""
    fit_for_use = (ServoState.IN_BAY, ServoState.RESERVED)
    servos: Iterable[Servo] = fleet.records(Servo)
    return tuple(
        sorted((servo for servo in servos if servo.state in fit_for_use), key=lambda servo: servo.tag)
    )


def stocked_types(fleet: Records) -> dict[str, float]:
    """Servo types that lie in the bay without a tag of their own, with how many there are."""
    counts: dict[str, float] = {}
    for item in servo_stock(fleet.records(StockItem)):
        counts[str(item.part_type)] = counts.get(str(item.part_type), 0) + item.on_hand
    return counts


def servo_stock(items: Iterable[StockItem]) -> list[StockItem]:
    """The items of the stock that are servos, at least one of them left."""
    return [item for item in items if item.kind is StockKind.SERVO and item.part_type and item.on_hand >= 1]


def next_tag(fleet: Records) -> str:
    """A servo tag that is free: the highest numbered one, counted on."""
    return counted_on([servo.tag for servo in fleet.records(Servo)], "S-001")


def tags_from(fleet: Records, servo_type: str, count: int, first: str = "") -> tuple[str, ...]:
    """Tags for so many servos of a type: from a first one counted on, or spares of the type, then new ones.

    Raises: BadInput for a first tag without a number where more than one is wanted.
    """
    if first:
        if count > 1 and not first[-1].isdigit():
            raise BadInput("Tag {tag} has no number at its end to count on from.", tag=first)
        tags = [first]
        while len(tags) < count:
            tags.append(next_after(tags[-1]))
        return tuple(tags)
    spares = [servo.tag for servo in spare_servos(fleet) if servo.servo_type == servo_type]
    tags = spares[:count]
    known = [servo.tag for servo in fleet.records(Servo)]
    while len(tags) < count:
        tags.append(counted_on(known, "S-001"))
        known.append(tags[-1])
    return tuple(tags)


def next_after(tag: str) -> str:
    """A tag with its number counted on by one.

    >>> next_after("0309"), next_after("S-99")
    ('0310', 'S-100')
    """
    stem = tag.rstrip("0123456789")
    digits = tag[len(stem) :]
    return f"{stem}{int(digits) + 1:0{len(digits)}d}"


def counted_on(tags: Iterable[str], first: str) -> str:
    """The highest numbered tag counted on; the first one where none has a number.

    >>> counted_on(["B-09", "spare"], "B-01")
    'B-10'
    """
    numbered = [(tag.rstrip("0123456789"), tag) for tag in tags if tag and tag[-1].isdigit()]
    if not numbered:
        return first
    return next_after(max(numbered, key=lambda pair: int(pair[1][len(pair[0]) :]))[1])
