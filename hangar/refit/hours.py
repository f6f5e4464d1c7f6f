"""How long each action of a plan takes: one table, in the limits."""

from __future__ import annotations

from hangar.parts import PlanLine
from hangar.parts.choices import PlanAction
from hangar.parts.thresholds import Thresholds


def hours_of(action: PlanAction, thresholds: Thresholds) -> float:
    """Hours of work of one line, as the keeper set them or as shipped.

    >>> hours_of(PlanAction.FIT_SERVO, Thresholds())
    0.7
    """
    return thresholds.value(f"hours-{action.value.replace(' ', '-')}", None)


def hours_of_line(line: PlanLine, thresholds: Thresholds) -> float:
    """What the line says of itself, else the table's hours for each piece."""
    return line.quantity * hours_of(line.action, thresholds) if line.hours_h is None else line.hours_h
