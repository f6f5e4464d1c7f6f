"""Small values that are made by the thousand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

_Kind = TypeVar("_Kind")


@dataclass_transform(frozen_default=True)
def value_class(kind: type[_Kind]) -> type[_Kind]:
    """A dataclass with slots, compared and hashed by its fields, whose fields nobody may set.

    It is the type checker that refuses to set one. A dataclass frozen by Python itself costs twice as
    much to make, and one aircraft computed and judged is more than a thousand of these.

    >>> @value_class
    ... class Place:
    ...     east_m: float
    >>> Place(2.0) == Place(2.0), Place(2.0)
    (True, Place(east_m=2.0))
    """
    return dataclass(slots=True, unsafe_hash=True)(kind)
