"""A word that stands in many records is held once in memory; of thousands of aircraft most words are such."""

from __future__ import annotations

from enum import StrEnum

from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import columns
from tests.demo_copies import demo_copy


def texts_of(record: Record) -> list[str]:
    values = (getattr(record, spec.name) for spec in columns(type(record)))
    return [value for value in values if isinstance(value, str) and not isinstance(value, StrEnum)]


def test_equal_texts_of_a_fleet_that_was_read_are_one() -> None:
    with demo_copy() as fleet:
        records = [record for kind in RECORD_KINDS for record in fleet.records(kind)]
        aircraft = fleet.whole_fleet()
    held = [word for record in records for word in texts_of(record)]
    assert len(held) > 3 * len(set(held))
    assert len({id(word) for word in held}) == len(set(held))
    for plane in aircraft:
        assert all(fit.position.aircraft is plane.airframe.code for fit in plane.fits)
