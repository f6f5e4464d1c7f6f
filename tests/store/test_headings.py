"""Headings as keepers write them: read with a unit, and what a refusal says to do."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from hangar.base.text import fixed
from hangar.parts import Airframe
from hangar.parts.choices import AircraftClass
from hangar.store import CellNote, Fleet, bring_in

TODAY = date(2026, 3, 14)
Write = Callable[..., Path]


def test_a_keepers_table_of_models_is_read_with_units_in_its_headings(fleet: Fleet, write: Write) -> None:
    path = write(
        "Models.csv",
        "Code;Name;Class;Power;Wing Span (m);Weight [kg]",
        "BIP1;Old biplane;giant;petrol;2,4;11,5",
    )
    report = bring_in(fleet, [path], today=TODAY)
    assert not report.refused
    (made,) = fleet.records(Airframe)
    assert (made.aircraft_class, made.power) == (AircraftClass.GIANT, "petrol")
    assert made.span_mm == pytest.approx(2400)
    assert made.all_up_mass_g == pytest.approx(11500)
    assert [(note.column, str(note.reason)) for note in report.doubtful] == [
        ("Weight [kg]", "taken as the all-up mass.")
    ]


def test_a_heading_whose_unit_is_missing_is_told_how_to_give_one(fleet: Fleet, write: Write) -> None:
    path = write("aircraft.csv", "code,name,class,Wing Span,Weight", "BIP1,Old biplane,giant,2400,11500")
    assert [(note.column, str(note.reason)) for note in bring_in(fleet, [path], today=TODAY).refused] == [
        ("Wing Span", "has no unit; write it with one, such as Wing Span [mm]."),
        ("Weight", "has no unit; write it with one, such as Weight [g]."),
    ]


def test_a_table_about_something_else_brings_nothing_and_is_told(fleet: Fleet, write: Write) -> None:
    path = write("gardening.csv", "plant,place", "rose,south")
    report = bring_in(fleet, [path], today=TODAY)
    assert not report.taken
    assert fleet.undo_label is None
    assert report.account is not None


def test_a_remark_that_quotes_the_cell_quotes_it_once() -> None:
    note = CellNote("s.csv", 2, "Speed", "fast", fixed('"fast" cannot be read. It was left out.'))
    assert str(note) == 's.csv, row 2, Speed: "fast" cannot be read. It was left out.'
    assert (
        str(CellNote("s.csv", 2, "Speed", "fast", fixed("is odd."))) == 's.csv, row 2, Speed: "fast" is odd.'
    )
