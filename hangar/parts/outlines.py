"""Which plan-view outline suits an aircraft, and where the dots of its positions stand."""

from __future__ import annotations

from hangar.base.outlines import OUTLINE_NAMES, Outline, OutlinePart, load_outline, outline_for
from hangar.parts import Aircraft, Airframe, Position
from hangar.parts.choices import Function

__all__ = [
    "OUTLINE_NAMES",
    "Outline",
    "OutlinePart",
    "first_place",
    "load_outline",
    "outline_name",
    "outline_of",
]


def outline_name(airframe: Airframe, v_tail: bool = False) -> str:
    """Which outline suits an airframe.

    >>> from hangar.parts.choices import AircraftClass
    >>> outline_name(Airframe(code="A1", name="Lark", aircraft_class=AircraftClass.SAIL_FAST))
    'sailplane'
    """
    return outline_for(airframe.aircraft_class, airframe.wing_count, v_tail)


def outline_of(aircraft: Aircraft) -> Outline:
    """The outline of an aircraft."""
    v_tail = any(fit.function is Function.V_TAIL for fit in aircraft.fits)
    return load_outline(outline_name(aircraft.airframe, v_tail))


def first_place(outline: Outline, position: Position) -> tuple[float, float]:
    """Where a position's dot stands: as the keeper put it, or the usual place."""
    usual = outline.place_for(position.function, position.side)
    across = usual[0] if position.plan_x is None else position.plan_x
    along = usual[1] if position.plan_y is None else position.plan_y
    return across, along
