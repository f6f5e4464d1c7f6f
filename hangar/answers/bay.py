"""Servos that lie in the Parts Bay, and the tags that are free for new ones."""

from __future__ import annotations

from collections.abc import Iterable

from hangar.answers.reading import Records
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


def counted_on(tags: Iterable[str], first: str) -> str:
    """The highest numbered tag counted on; the first one where none has a number.

    >>> counted_on(["B-09", "spare"], "B-01")
    'B-10'
    """
    numbered = [(tag.rstrip("0123456789"), tag) for tag in tags if tag and tag[-1].isdigit()]
    if not numbered:
        return first
    stem, tag = max(numbered, key=lambda pair: int(pair[1][len(pair[0]) :]))
    digits = tag[len(stem) :]
    return f"{stem}{int(digits) + 1:0{len(digits)}d}"
