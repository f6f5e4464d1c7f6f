"""What the fleet holds already, as far as a sheet that comes again is compared with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

PackKind = tuple[str, int, int, float]


@dataclass(frozen=True, slots=True)
class PresentSeat:
    """A position with the servo that is there today; "" where there is none."""

    code: str
    function: str
    side: str
    channel: int | None
    servo: str = ""
    servo_type: str = ""
    since: str = ""


@dataclass(frozen=True, slots=True)
class PresentPlane:
    """An aircraft of the fleet."""

    code: str
    name: str
    fields: Mapping[str, Any]
    seats: tuple[PresentSeat, ...] = ()
    past: frozenset[tuple[str, str]] = frozenset()
    """Servo types that were at a function and are no longer."""

    channels: frozenset[int] = frozenset()
    leads: Mapping[str, float] = field(default_factory=dict)
    packs: tuple[PackKind, ...] = ()
    regulators: int = 0
    feeds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PresentType:
    """A servo type of the fleet with its ratings by volts: stall torque and time for 60 degrees."""

    code: str
    maker: str
    drive: str
    ratings: Mapping[float, tuple[float | None, float | None]]


@dataclass(frozen=True, slots=True)
class PresentStock:
    """Untagged spares of a type in a place."""

    code: str
    on_hand: float


@dataclass(frozen=True, slots=True)
class Present:
    """The fleet; aircraft and types by their squeezed names."""

    planes: Mapping[str, PresentPlane] = field(default_factory=dict)
    types: Mapping[str, PresentType] = field(default_factory=dict)
    pack_types: frozenset[str] = frozenset()
    packs: frozenset[str] = frozenset()
    codes: frozenset[str] = frozenset()
    tags: frozenset[str] = frozenset()
    tests: frozenset[tuple[str, str, str]] = frozenset()
    stock: Mapping[tuple[str, str, str], PresentStock] = field(default_factory=dict)
    stock_codes: frozenset[str] = frozenset()


NOTHING = Present()
