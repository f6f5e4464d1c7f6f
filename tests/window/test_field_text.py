"""What is shown of a field, and what may be typed into it."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure
from hangar.base.text import text
from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts import Airframe, Flight, Lead, Linkage, LoadTest, Pack, Record, ServoRating
from hangar.parts.choices import AircraftState
from hangar.parts.fields import FieldSpec, columns
from hangar.window.kit.field_text import edit_text, field_text, figure_text, range_words, read_field
from hangar.window.kit.typed_day import typed_day
from tests.all_cases import all_cases


def spec(kind: type[Record], name: str) -> FieldSpec:
    return next(column for column in columns(kind) if column.name == name)


@pytest.mark.parametrize(
    ("kind", "name", "typed", "stored"),
    [
        (ServoRating, "torque_nm", "45 ozf in", 0.3177698),
        (ServoRating, "torque_nm", "4,6 kgf cm", 0.4511059),
        (Linkage, "arm_mm", "22 mm", 22.0),
        (Linkage, "arm_mm", "0.5 in", 12.7),
        (Linkage, "arm_mm", "14", 14.0),
    ],
)
def test_typed_units_become_stored_units(kind: type[Record], name: str, typed: str, stored: float) -> None:
    # Factors: NIST Special Publication 811 (1 ozf in = 0.007061552 N m, 1 kgf cm = 0.0980665 N m).
    assert read_field(spec(kind, name), typed, SI_TRADE) == pytest.approx(stored, rel=1e-6)


def test_a_bare_number_is_in_the_units_shown() -> None:
    assert read_field(spec(Airframe, "span_mm"), "60", IMPERIAL) == pytest.approx(1524.0)


def test_nothing_typed_means_not_known() -> None:
    assert read_field(spec(Linkage, "arm_mm"), "  ", SI_TRADE) is None


def test_nothing_typed_is_refused_where_a_value_is_needed() -> None:
    with pytest.raises(BadInput, match="must be given"):
        read_field(spec(Lead, "length_mm"), "", SI_TRADE)


def test_a_number_out_of_range_is_refused_in_the_units_shown() -> None:
    with pytest.raises(BadInput, match=r"allowed is 0\.118 in to 3\.937 in"):
        read_field(spec(Linkage, "arm_mm"), "9 in", IMPERIAL)


def test_three_values_of_a_yes_no_field_stay_apart() -> None:
    kill = spec(Airframe, "ignition_kill")
    assert [read_field(kill, text, SI_TRADE) for text in ("yes", "no", "")] == [True, False, None]
    assert [field_text(kill, value, SI_TRADE) for value in (True, False, None)] == ["yes", "no", "—"]


def test_words_of_a_list_are_read_back() -> None:
    state = spec(Airframe, "state")
    shown = field_text(state, AircraftState.LAID_UP, SI_TRADE)
    assert shown == "Laid up"
    assert read_field(state, shown, SI_TRADE) is AircraftState.LAID_UP


def test_a_word_not_in_the_list_is_refused_with_the_list() -> None:
    with pytest.raises(BadInput, match="allowed is On the line, On the bench"):
        read_field(spec(Airframe, "state"), "flying", SI_TRADE)


def test_dates_are_read_and_refused_with_an_example() -> None:
    day = spec(Airframe, "refit_on")
    assert read_field(day, "2031-02-28", SI_TRADE) == date(2031, 2, 28)
    with pytest.raises(BadInput, match="2031-05-20"):
        read_field(day, "29.2.31", SI_TRADE)


@pytest.mark.parametrize("units", [SI_TRADE, IMPERIAL])
def test_what_an_editor_shows_is_read_back_nearly_equal(units: object) -> None:
    for name, value in (("span_mm", 1523.0), ("all_up_mass_g", 4512.0), ("dive_speed_m_s", 37.5)):
        field = spec(Airframe, name)
        shown = edit_text(field, value, SI_TRADE if units is SI_TRADE else IMPERIAL)
        read = read_field(field, shown, SI_TRADE if units is SI_TRADE else IMPERIAL)
        assert read == pytest.approx(value, rel=0.01)


def test_a_figure_shows_its_band() -> None:
    figure = Figure(text("load"), 0.42, "N m", 0.31, 0.55, Basis.COMPUTED)
    assert figure_text(figure, SI_TRADE) == "0.42 (0.31–0.55) N·m"
    assert figure_text(Figure(text("volts"), 5.0, "V"), SI_TRADE) == "5 V"
    assert figure_text(None, SI_TRADE) == "—"


def test_ranges_are_told_in_words() -> None:
    assert range_words(spec(Linkage, "arm_mm"), SI_TRADE) == "3 mm to 100 mm"
    assert range_words(spec(Airframe, "cost"), SI_TRADE) == "0 or more"


THE_DAY = date(2031, 5, 20)


@all_cases(
    "typed, stored",
    [
        ("2031-05-20", date(2031, 5, 20)),
        ("20.5.2031", date(2031, 5, 20)),
        ("1. 6.", date(2031, 6, 1)),
        ("24.12.97", date(1997, 12, 24)),
        ("24/12/1997", date(1997, 12, 24)),
        ("20 May 2031", date(2031, 5, 20)),
        ("May 20, 2031", date(2031, 5, 20)),
        ("20 september", date(2031, 9, 20)),
        ("today", THE_DAY),
        ("Yesterday", date(2031, 5, 19)),
        ("+14", date(2031, 6, 3)),
    ],
)
def test_a_day_is_read_in_every_usual_form(typed: str, stored: date) -> None:
    assert read_field(spec(Flight, "flown_on"), typed, SI_TRADE, THE_DAY) == stored


def test_the_country_says_what_a_stroke_stands_between() -> None:
    # Unicode Common Locale Data Repository: short dates are M/d/yy in en-US, dd/MM/y in en-GB.
    assert typed_day("3/4/2031", THE_DAY, month_first=True) == date(2031, 3, 4)
    assert typed_day("3/4/2031", THE_DAY, month_first=False) == date(2031, 4, 3)
    assert typed_day("3.4.2031", THE_DAY, month_first=True) == date(2031, 4, 3)
    with pytest.raises(BadInput, match="is not a date"):
        read_field(spec(Flight, "flown_on"), "3/4/2031", SI_TRADE, THE_DAY, is_pasted=True)
    moment = read_field(spec(LoadTest, "tested_at"), "20.5.2031 9:30", SI_TRADE)
    assert moment == datetime.fromisoformat("2031-05-20 09:30")


@all_cases("typed", ["31.2.2031", "2031", "5/2031", "soon", "20 may june 2031", "3", "32 May"])
def test_what_is_no_day_is_refused_with_an_example(typed: str) -> None:
    with pytest.raises(BadInput, match="a date such as 2031-05-20"):
        read_field(spec(Flight, "flown_on"), typed, SI_TRADE, THE_DAY)


def test_a_day_known_in_part_may_be_a_month() -> None:
    inexact = next(column for column in columns(Pack) if column.is_inexact)
    assert read_field(inexact, "5/1997", SI_TRADE, THE_DAY).isoformat() == "1997-05"
