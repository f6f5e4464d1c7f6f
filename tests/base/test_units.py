"""Units: what keepers type is read as they mean it, and what is shown reads back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.base.reader import Reader
from hangar.base.text import Span, text
from hangar.base.unit_text import parse_number
from hangar.base.units import (
    IMPERIAL,
    KINDS,
    SI_TRADE,
    UNITS,
    UnitChoice,
    convert,
    format_quantity,
    name_and_unit,
    parse_quantity,
    parse_rating,
    unit_named,
    units_of_kind,
)
from tests.all_cases import all_cases

STRAIGHT = sorted(key for key, unit in UNITS.items() if not unit.reciprocal)
WRITTEN = sorted(key for key, unit in UNITS.items() if unit.symbol)
sizes = st.floats(min_value=1e-3, max_value=1e6)


@given(st.sampled_from(sorted(UNITS)), sizes, st.data())
def test_there_and_back_gives_the_same_value(key: str, value: float, data: st.DataObject) -> None:
    other = data.draw(st.sampled_from([unit.key for unit in units_of_kind(UNITS[key].kind)]))
    assert convert(convert(value, key, other), other, key) == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(st.sampled_from(WRITTEN), sizes)
def test_what_is_shown_reads_back_as_the_same_value_and_unit(key: str, value: float) -> None:
    read = parse_quantity(format_quantity(value, key, digits=15), UNITS[key].kind)
    assert read.unit == key
    assert read.value == pytest.approx(value, rel=1e-13)
    assert read.doubts == ()


@given(st.sampled_from(STRAIGHT), sizes)
def test_the_usual_digits_lose_less_than_a_hundredth_of_a_thousand(key: str, value: float) -> None:
    shown = format_quantity(value, key)
    number = float(shown.removesuffix(UNITS[key].symbol))
    tolerance = max(0.005 * abs(value), 0.5 * 10.0 ** -UNITS[key].decimals)
    assert abs(number - value) <= tolerance * 1.0001


@given(st.sampled_from(STRAIGHT), sizes, sizes)
def test_a_greater_value_stays_greater_in_any_other_unit(key: str, first: float, second: float) -> None:
    base = units_of_kind(UNITS[key].kind)[0].key
    low, high = sorted((first, second))
    assert convert(low, key, base) <= convert(high, key, base)


@all_cases(
    "text, value, unit",
    [
        ("45 ozf in", 45.0, "ozf in"),
        ("45 ozin", 45.0, "ozf in"),
        ("44 oz-in", 44.0, "ozf in"),
        ("3.2 kg-cm", 3.2, "kgf cm"),
        ("5.6kg cm", 5.6, "kgf cm"),
        ("4,6 kgf cm", 4.6, "kgf cm"),
        ("9.7 kgf·cm", 9.7, "kgf cm"),
        ("9.7\u00a0kgf\u22c5cm", 9.7, "kgf cm"),
        ("0.9 N.m", 0.9, "N m"),
        ("0.9Nm", 0.9, "N m"),
        ("-0.5 N m", -0.5, "N m"),
        ("\u22120.5 N m", -0.5, "N m"),
        (".5 lbf in", 0.5, "lbf in"),
    ],
)
def test_torque_is_read_in_the_spellings_of_notebooks(text: str, value: float, unit: str) -> None:
    read = parse_quantity(text, "torque")
    assert (read.value, read.unit, read.doubts) == (value, unit, ())


@all_cases(
    "text, value, unit, told",
    [
        ("106oz", 106.0, "ozf in", "ozf·in"),
        ("3,2kg/cm", 3.2, "kgf cm", "kgf·cm"),
        ("3.1 kg", 3.1, "kgf cm", "kgf·cm"),
        ("44 oz/in", 44.0, "ozf in", "ozf·in"),
    ],
)
def test_a_spelling_that_cannot_mean_torque_is_read_but_told(
    text: str, value: float, unit: str, told: str
) -> None:
    read = parse_quantity(text, "torque")
    assert (read.value, read.unit) == (value, unit)
    assert len(read.doubts) == 1
    assert told in str(read.doubts[0])


@all_cases(
    "text, kind, value, unit",
    [
        (".22 s/60", "servo speed", 0.22, "s/60deg"),
        (".22 sec/60°", "servo_speed", 0.22, "s/60deg"),
        ("12in", "length", 12.0, "in"),
        ("12 in.", "length", 12.0, "in"),
        ('72"', "length", 72.0, "in"),
        ("1 1/2 in", "length", 1.5, "in"),
        ("6 ft 2 in", "length", 74.0, "in"),
        ("6' 2\"", "length", 74.0, "in"),
        ("600mm", "length", 600.0, "mm"),
        ("1 234 mm", "length", 1234.0, "mm"),
        ("4.8V", "voltage", 4.8, "V"),
        ("26ga", "gauge", 26.0, "AWG"),
        ("760us", "time", 760.0, "us"),
        ("1520 \u03bcs", "time", 1520.0, "us"),
        ("20 °C", "temperature", 20.0, "C"),
        ("2000 mAh", "charge", 2000.0, "mAh"),
        ("35 dm²", "area", 35.0, "dm2"),
        ("45 %", "ratio", 45.0, "%"),
        ("12 m\u03a9", "resistance", 12.0, "mohm"),
    ],
)
def test_other_kinds_are_read_as_typed(text: str, kind: str, value: float, unit: str) -> None:
    read = parse_quantity(text, kind)
    assert (read.value, read.unit, read.doubts) == (value, unit, ())


def test_a_lead_that_names_length_and_gauge_gives_either_and_tells_the_other() -> None:
    length = parse_quantity("24 in 26ga", "length")
    gauge = parse_quantity("24 in 26ga", "gauge")
    assert (length.value, length.unit) == (24.0, "in")
    assert (gauge.value, gauge.unit) == (26.0, "AWG")
    assert "26 AWG" in str(length.doubts[0])


def test_a_bare_number_takes_the_default_unit_only() -> None:
    assert parse_quantity("44", "torque", "ozf in").unit == "ozf in"
    with pytest.raises(BadInput, match="does not name a unit of torque"):
        parse_quantity("44", "torque")


@all_cases(
    "text, kind",
    [
        ("", "length"),
        ("wide", "length"),
        ("5 mm wide", "length"),
        ("5 index", "length"),
        ("5 V", "length"),
        ("5 mm 6 mm", "length"),
        ("1.2.3 mm", "length"),
        ("nan mm", "length"),
        ("3 mm", "colour"),
    ],
)
def test_text_that_is_no_such_quantity_is_refused_in_a_sentence(text: str, kind: str) -> None:
    with pytest.raises(BadInput) as refused:
        parse_quantity(text, kind)
    assert str(refused.value).endswith(".")


@all_cases(
    "text, value, doubtful",
    [
        ("4,6", 4.6, False),
        ("0,139", 0.139, False),
        ("1,234.5", 1234.5, False),
        ("1.234,5", 1234.5, False),
        ("1,234,567", 1234567.0, False),
        ("1'234", 1234.0, False),
        ("1.234", 1.234, False),
        ("1,234", 1234.0, True),
    ],
)
def test_commas_and_dots_are_read_with_care(text: str, value: float, doubtful: bool) -> None:
    read, doubt = parse_number(text)
    assert read == value
    assert (doubt is not None) is doubtful


@all_cases(
    "text, kind, default, ratings",
    [
        (
            "1.8kgcm@4.8 / 2.3kgcm@6.0",
            "torque",
            None,
            [(1.8, "kgf cm", 4.8), (2.3, "kgf cm", 6.0)],
        ),
        ("3.7 / 4.7", "torque", "kgf cm", [(3.7, "kgf cm", None), (4.7, "kgf cm", None)]),
        ("1.8 / 2.3 kgcm", "torque", "ozf in", [(1.8, "kgf cm", None), (2.3, "kgf cm", None)]),
        ("9.7 kgf·cm @ 6.0", "torque", None, [(9.7, "kgf cm", 6.0)]),
        ("0.142/0.112", "servo speed", "s/60deg", [(0.142, "s/60deg", None), (0.112, "s/60deg", None)]),
        (".22 s/60", "servo speed", None, [(0.22, "s/60deg", None)]),
        (".22 s/60 / .18 s/60", "servo speed", None, [(0.22, "s/60deg", None), (0.18, "s/60deg", None)]),
        ("4.8V: 3.2 kg-cm, 6V: 4.1 kg-cm", "torque", None, [(3.2, "kgf cm", 4.8), (4.1, "kgf cm", 6.0)]),
        ("3.2 kg-cm (4.8V) / 4.1 kg-cm (6V)", "torque", None, [(3.2, "kgf cm", 4.8), (4.1, "kgf cm", 6.0)]),
        ("3,7@4,8; 4,7@6", "torque", "kgf cm", [(3.7, "kgf cm", 4.8), (4.7, "kgf cm", 6.0)]),
        ("4.8/6.0", "voltage", "V", [(4.8, "V", None), (6.0, "V", None)]),
    ],
)
def test_ratings_keep_each_value_with_its_voltage(
    text: str, kind: str, default: str | None, ratings: list[tuple[float, str, float | None]]
) -> None:
    assert [tuple(rating) for rating in parse_rating(text, kind, default)] == ratings


@all_cases("text", ["", "3.7 / x", "3.7 kgcm torque", "see sheet"])
def test_a_rating_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_rating(text, "torque", "kgf cm")


@all_cases(
    "field, unit",
    [
        ("span_mm", "mm"),
        ("torque_nm", "N m"),
        ("stall_a", "A"),
        ("idle_ma", "mA"),
        ("pulse_us", "us"),
        ("mass_g", "g"),
        ("area_dm2", "dm2"),
        ("speed_m_s", "m/s"),
        ("capacity_mah", "mAh"),
        ("dcir_mohm", "mohm"),
        ("resistance_ohm", "ohm"),
        ("rate_hz", "Hz"),
        ("head_rpm", "rpm"),
        ("angle_deg", "deg"),
        ("temp_c", "C"),
        ("time_s", "s"),
        ("minutes_min", "min"),
        ("hours_h", "h"),
        ("days_d", "d"),
        ("years_y", "y"),
        ("power_w", "W"),
        ("energy_wh", "Wh"),
        ("percent_pct", "%"),
        ("distance_m", "m"),
        ("volts_v", "V"),
        ("density_kg_m3", "kg/m3"),
        ("inertia_kg_m2", "kg m2"),
        ("slope_per_rad", "1/rad"),
        ("resistance_ohm_per_m", "ohm/m"),
        ("speed_rad_s", "rad/s"),
        ("cost_per_m", None),
        ("maker", None),
        ("mm", None),
    ],
)
def test_a_fields_name_tells_its_unit(field: str, unit: str | None) -> None:
    assert name_and_unit(field)[1] == unit


def test_every_unit_is_found_by_its_key_and_by_a_symbol_that_is_no_key() -> None:
    for key, unit in UNITS.items():
        assert unit_named(key) is unit
        if unit.symbol and unit.symbol not in UNITS:
            assert unit_named(unit.symbol) is unit
    # A charge rate is written with the letter that is the key of another unit; there the key goes first.
    shared = {unit.key for unit in UNITS.values() if UNITS.get(unit.symbol, unit) is not unit}
    assert shared == {"C rate"}
    assert {unit.kind for unit in UNITS.values()} == set(KINDS)


@all_cases(
    "value, unit, to_unit, shown",
    [
        (0.29420, "N m", "kgf cm", "3 kgf·cm"),
        (0.29420, "N m", "ozf in", "41.7 ozf·in"),
        (1250.0, "g", None, "1250 g"),
        (12345.6, "mm", None, "12346 mm"),
        (4.8, "V", None, "4.8 V"),
        (-0.001, "deg", None, "-0.001°"),
        (0.0, "N m", None, "0 N·m"),
        (math.inf, "N", None, "∞ N"),
        (0.45, "ratio", "%", "45%"),
        (6.981317, "rad/s", "s/60deg", "0.15 s/60°"),
        (12.5, "money", None, "12.5"),
    ],
)
def test_values_are_shown_with_sensible_digits(
    value: float, unit: str, to_unit: str | None, shown: str
) -> None:
    assert format_quantity(value, unit, to_unit) == shown


def test_what_is_no_number_or_no_such_unit_is_refused() -> None:
    with pytest.raises(BadInput, match="no number"):
        format_quantity(math.nan, "N m")
    with pytest.raises(BadInput, match="no unit"):
        convert(1.0, "furlong", "m")
    with pytest.raises(BadInput, match="one kind"):
        convert(1.0, "N m", "mm")
    with pytest.raises(BadInput, match="other than zero"):
        convert(0.0, "s/60deg", "rad/s")


def test_a_choice_of_units_shows_types_and_gives_the_other_unit() -> None:
    assert SI_TRADE.show_both(1524.0, "mm") == "1524 mm (60 in)"
    assert IMPERIAL.show(0.2942, "N m") == "41.7 ozf·in"
    assert IMPERIAL.show(4.8, "V") == "4.8 V"
    assert IMPERIAL.show(120.0, "m") == "393.7 ft"
    assert IMPERIAL.other(4.8, "V") == ""
    assert IMPERIAL.parse("12", "mm") == pytest.approx(304.8)
    assert IMPERIAL.parse("30 cm", "mm") == pytest.approx(300.0)


@all_cases(
    "units, value, stored, shown",
    [
        (IMPERIAL, 4762.72, "g", "10.5 lb"),
        (IMPERIAL, 60.0, "g", "2.12 oz"),
        (IMPERIAL, 900.0, "mm", "35.4 in"),
        (IMPERIAL, 914.4, "mm", "36 in"),
        (IMPERIAL, 31.75, "mm", "1.25 in"),
        (SI_TRADE, 13608.0, "g", "13.608 kg"),
        (SI_TRADE, 998.0, "g", "998 g"),
        (SI_TRADE, 1500.0, "mm", "1500 mm"),
        (IMPERIAL, math.inf, "g", "∞ oz"),
    ],
)
def test_what_is_shown_has_a_unit_that_fits_its_size(
    units: UnitChoice, value: float, stored: str, shown: str
) -> None:
    assert units.show(value, stored) == shown


def test_a_range_over_two_units_names_both() -> None:
    span = Span(900.0, 1100.0, "g")
    assert Reader().put(text("{span}", span=span)) == "900 g to 1.1 kg"
    assert Reader(units=IMPERIAL).put(text("{span}", span=Span(800.0, 1000.0, "g"))) == "28.2 oz to 2.205 lb"
    assert Reader().put(text("{span}", span=Span(1100.0, 1200.0, "g"))) == "1.1 to 1.2 kg"


@given(sizes, st.sampled_from(["N m", "mm", "g", "m/s", "dm2", "s/60deg", "N", "C"]))
def test_a_choice_reads_back_what_it_shows(value: float, stored: str) -> None:
    shown = IMPERIAL.show(value, stored, digits=15)
    assert IMPERIAL.parse(shown, stored) == pytest.approx(value, rel=1e-9, abs=1e-9)


def test_a_choice_of_a_unit_of_the_wrong_kind_is_refused() -> None:
    with pytest.raises(BadInput, match="cannot be chosen for torque"):
        UnitChoice(torque="mm")


def test_torque_for_each_degree_goes_with_the_torque_chosen() -> None:
    # By definition 1 kgf cm is 0.0980665 N m (ISO 80000-4: standard acceleration 9.80665 m/s²).
    in_kgf_cm = UnitChoice(torque="kgf cm")
    assert in_kgf_cm.show(0.0980665, "N m/deg") == "1 kgf·cm/°"
    assert IMPERIAL.show(0.0980665, "N m/deg") == "13.9 ozf·in/°"
    assert SI_TRADE.show(0.485, "N m/deg") == "0.485 N·m/°"
