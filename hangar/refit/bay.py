"""The parts bay as the planner counts it: what lies there, less what other plans have reserved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from hangar.parts import Aircraft, Library, Plan, StockItem
from hangar.parts.choices import PlanState, ServoState, StockKind

OVER = (PlanState.FLOWN_IN, PlanState.DROPPED)
"""States of plans that reserve nothing any more."""
PartsBay = Mapping[str, int] | Iterable[StockItem] | None
"""Untagged spares by type, or as stock items; None takes the library's stock."""


@dataclass(frozen=True, kw_only=True)
class Given:
    """Parts of one type that another aircraft's plan may give up.

    Attributes:
        aircraft: that they come off.
        part_type: of all of them.
        tags: of each.
        to: the positions they may come to, for servos.
    """

    aircraft: str
    part_type: str
    tags: tuple[str, ...]
    to: tuple[str, ...] = ()


def regulator_key(part_type: str, code: str) -> str:
    """What stands for a regulator that comes off an aircraft among the spares; it has no tag of its own."""
    return f"{part_type} off {code}"


@dataclass(frozen=True)
class Offer:
    """What the other aircraft of a fleet may give up for one, and which tags of its own they are offered."""

    servos: tuple[Given, ...] = ()
    packs: tuple[Given, ...] = ()
    wanted: frozenset[str] = frozenset()

    @property
    def tags(self) -> frozenset[str]:
        """All that is offered."""
        return frozenset(tag for given in (*self.servos, *self.packs) for tag in given.tags)


@dataclass(frozen=True, kw_only=True)
class Bay:
    """Spares by type: tags of single servos and packs, and how many untagged servos lie there.

    ``offer`` is there where other aircraft draw on it too: then buying what lies there is a choice.
    """

    servo_tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    pack_tags: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    untagged: Mapping[str, int] = field(default_factory=dict)
    lack: Mapping[str, str] = field(default_factory=dict)
    offer: Offer | None = None

    @property
    def wanted(self) -> frozenset[str]:
        """Tags of parts of the aircraft itself that others are offered."""
        return frozenset() if self.offer is None else self.offer.wanted

    def servos(self, servo_type: str) -> int:
        """How many servos of a type can be taken."""
        return len(self.servo_tags.get(servo_type, ())) + self.untagged.get(servo_type, 0)


def bay_of(library: Library, parts_bay: PartsBay, aircraft: Aircraft | None = None) -> Bay:
    """What can be taken from the bay.

    Args:
        library: holds the tagged spares, the stock and all plans.
        parts_bay: untagged servos by type or as stock items; None takes the library's.
        aircraft: its own plans reserve nothing against it.
    """
    reserved = reserved_tags(library.plans, aircraft)
    servos: dict[str, list[str]] = {}
    for tag, servo in sorted(library.spare_servos.items()):
        if tag not in reserved and servo.state is ServoState.IN_BAY:
            servos.setdefault(servo.servo_type, []).append(tag)
    packs: dict[str, list[str]] = {}
    for tag, pack in sorted(library.spare_packs.items()):
        if tag not in reserved:
            packs.setdefault(pack.pack_type, []).append(tag)
    return Bay(
        servo_tags={kind: tuple(tags) for kind, tags in servos.items()},
        pack_tags={kind: tuple(tags) for kind, tags in packs.items()},
        untagged=_untagged(library.stock if parts_bay is None else parts_bay),
        lack=dict(reserved),
    )


def reserved_tags(plans: Iterable[Plan], aircraft: Aircraft | None = None) -> dict[str, str]:
    """Tags that other plans want from the bay, with the plan's code."""
    return {
        line.from_stock: plan.code
        for plan in plans
        if plan.state not in OVER and (aircraft is None or plan.aircraft != aircraft.code)
        for line in plan.lines
        if line.from_stock and line.done_on is None
    }


def _untagged(parts_bay: Mapping[str, int] | Iterable[StockItem]) -> dict[str, int]:
    if isinstance(parts_bay, Mapping):
        return {kind: int(count) for kind, count in parts_bay.items() if count > 0}
    counts: dict[str, int] = {}
    for item in parts_bay:
        if item.kind is StockKind.SERVO and item.part_type and item.on_hand >= 1:
            counts[item.part_type] = counts.get(item.part_type, 0) + int(item.on_hand)
    return counts
