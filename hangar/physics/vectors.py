"""Three-number vectors as tuples: enough for linkages, without numpy's start-up time.

Source: vector algebra.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangar.base.errors import BadInput

Vector = tuple[float, float, float]


def as_vector(values: Sequence[float], name: str) -> Vector:
    """Three finite numbers as a vector; ``name`` says in the error which one was wrong.

    Raises:
        BadInput: not three finite numbers.

    >>> as_vector([1, 2, 3], "axis")
    (1.0, 2.0, 3.0)
    """
    if len(values) == 3:
        first, second, third = values
        if math.isfinite(first) and math.isfinite(second) and math.isfinite(third):
            return (float(first), float(second), float(third))
    raise BadInput("{name} is {found}; three finite numbers are wanted.", name=name, found=str(tuple(values)))


def unit_vector(values: Sequence[float], name: str) -> Vector:
    """The direction of a vector, at length one.

    Raises:
        BadInput: not three finite numbers, or no length.

    >>> unit_vector((0.0, 0.0, 5.0), "axis")
    (0.0, 0.0, 1.0)
    """
    vector = as_vector(values, name)
    length = math.hypot(*vector)
    if length < 1e-9:
        raise BadInput("{name} has no length; a direction is wanted.", name=name)
    return scaled(vector, 1.0 / length)


def across(direction: Sequence[float], axis: Vector, name: str) -> Vector:
    """A direction that must stand square to ``axis``, at length one and trued up.

    Raises:
        BadInput: a direction that does not stand square to the axis.

    >>> across((2.0, 0.0, 0.0), (0.0, 0.0, 1.0), "zero")
    (1.0, 0.0, 0.0)
    """
    first = unit_vector(direction, name)
    lean = dot(first, axis)
    if abs(lean) > 1e-3:
        raise BadInput(
            "{name} is {degrees:.2f} deg from its axis; 90 deg is wanted.",
            name=name,
            degrees=math.degrees(math.acos(lean)),
        )
    return unit_vector(plus(first, axis, -lean), name)


def dot(first: Vector, second: Vector) -> float:
    """Scalar product.

    >>> dot((1.0, 2.0, 3.0), (1.0, 0.0, 1.0))
    4.0
    """
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


def cross(first: Vector, second: Vector) -> Vector:
    """Vector product.

    >>> cross((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    (0.0, 0.0, 1.0)
    """
    return (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )


def scaled(vector: Vector, factor: float) -> Vector:
    """A vector times a number.

    >>> scaled((1.0, 2.0, 3.0), 2.0)
    (2.0, 4.0, 6.0)
    """
    return (vector[0] * factor, vector[1] * factor, vector[2] * factor)


def plus(first: Vector, second: Vector, factor: float = 1.0) -> Vector:
    """``first + factor x second``.

    >>> plus((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), 2.0)
    (1.0, 2.0, 0.0)
    """
    return (
        first[0] + factor * second[0],
        first[1] + factor * second[1],
        first[2] + factor * second[2],
    )
