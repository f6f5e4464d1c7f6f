"""Bounds that many formulas share, refused in one sentence.

Source: none; plain bounds.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.base.text import fixed


def finite(**values: float) -> None:
    """BadInput unless every value, named as its argument is, is a finite number.

    Raises:
        BadInput: as told.

    >>> finite(length_mm=2.0, turn_deg=-3.0)
    """
    for name, value in values.items():
        if not math.isfinite(value):
            raise BadInput("{name} is {value}; a finite number is wanted.", name=name, value=value)


def above_zero(value: float, name: str) -> float:
    """The value itself; BadInput unless it is finite and above 0.

    Raises:
        BadInput: as told.

    >>> above_zero(2.0, "length")
    2.0
    """
    if not (math.isfinite(value) and value > 0.0):
        raise BadInput("the {name} is {value:g}; a number above 0 is wanted.", name=fixed(name), value=value)
    return value


def zero_or_more(value: float, name: str) -> float:
    """The value itself; BadInput unless it is finite and not below 0.

    Raises:
        BadInput: as told.

    >>> zero_or_more(0.0, "length")
    0.0
    """
    if not (math.isfinite(value) and value >= 0.0):
        raise BadInput("the {name} is {value:g}; 0 or more is wanted.", name=fixed(name), value=value)
    return value
