"""Bounds that many formulas share, refused in one sentence."""

from __future__ import annotations

import math

from hangar.base.errors import BadInput


def above_zero(value: float, name: str) -> float:
    """The value itself; BadInput unless it is finite and above 0."""
    if not (math.isfinite(value) and value > 0.0):
        raise BadInput(f"the {name} is {value:g}; a number above 0 is wanted.")
    return value


def zero_or_more(value: float, name: str) -> float:
    """The value itself; BadInput unless it is finite and not below 0."""
    if not (math.isfinite(value) and value >= 0.0):
        raise BadInput(f"the {name} is {value:g}; 0 or more is wanted.")
    return value
