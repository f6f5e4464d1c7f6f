"""Every number of every record may come in any unit of its kind, named by the heading or by the cell."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from hangar.base.units import convert, unit_named, units_of_kind
from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.store.cells import Column, Habits, read_cell
from hangar.store.headings import column_of
from tests.all_cases import all_cases

HABITS = Habits(date(2026, 3, 14))


def numbers_with_units() -> Iterator[tuple[type[Record], FieldSpec, str]]:
    for kind in RECORD_KINDS:
        for spec in columns(kind):
            stored = spec.unit
            if spec.type is float and stored is not None:
                yield kind, spec, stored


CASES = list(numbers_with_units())


def inside(spec: FieldSpec) -> float:
    """A value somewhere within the field's hard range."""
    low = 0.0 if spec.within.low is None else spec.within.low
    high = low + 10 if spec.within.high is None else spec.within.high
    return low + (high - low) * 0.37


@all_cases("kind, spec, stored", CASES)
def test_any_unit_of_its_kind_is_read_in_a_heading_and_in_a_cell(
    kind: type[Record], spec: FieldSpec, stored: str
) -> None:
    value = inside(spec)
    for unit in units_of_kind(unit_named(stored).kind):
        shown = convert(value, stored, unit.key)
        column = column_of(kind, f"{spec.plain_words} [{unit.key}]")
        assert column.spec == spec
        assert read_cell(column, repr(shown), HABITS)[0] == pytest.approx(value, rel=1e-9), unit.key
        assert read_cell(column, shown, HABITS)[0] == pytest.approx(value, rel=1e-9), unit.key
        plain = Column(spec, spec.name)
        cell = f"{shown:.15f} {unit.key}"
        assert read_cell(plain, cell, HABITS)[0] == pytest.approx(value, rel=1e-5, abs=1e-6), cell


def test_there_are_many_such_numbers() -> None:
    assert len(CASES) > 100
