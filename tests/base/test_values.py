"""Small values: compared and hashed by what they hold."""

from __future__ import annotations

import pytest

from hangar.base.figure import Band, Figure
from hangar.base.text import text
from hangar.base.values import value_class


@value_class
class Place:
    east_m: float
    north_m: float = 0.0


def test_values_that_hold_the_same_are_equal_and_hash_alike() -> None:
    assert Place(1.0, 2.0) == Place(1.0, 2.0)
    assert hash(Place(1.0, 2.0)) == hash(Place(1.0, 2.0))
    assert Place(1.0, 2.0) != Place(1.0, 3.0)


def test_values_of_two_kinds_are_never_equal() -> None:
    values: list[object] = [Band(1.0, 1.0, 1.0), Figure(text("load"), 1.0, "N m")]
    assert values[0] != values[1]


def test_a_value_takes_no_field_that_it_does_not_have() -> None:
    with pytest.raises(AttributeError):
        Place(1.0).up_m = 3.0  # type: ignore[attr-defined]
