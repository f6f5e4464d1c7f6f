"""What a noun says about its own fields is true, complete and refuses the impossible in a sentence."""

from __future__ import annotations

import dataclasses
from datetime import date, datetime
from enum import StrEnum
from typing import Any

import pytest

from hangar.base.errors import BadInput
from hangar.base.units import UNITS, name_and_unit
from hangar.parts import (
    KIND_BY_NAME,
    RECORD_KINDS,
    Airframe,
    PackType,
    Plan,
    Position,
    Receiver,
    Record,
    Servo,
    ServoRating,
    ServoType,
)
from hangar.parts.choices import AircraftClass, Drive
from hangar.parts.fields import check_record, columns, key_of, spec_of, specs, words_of
from tests.all_cases import all_cases

EVERY_KIND = all_cases("kind", RECORD_KINDS)
TYPES = (str, bool, int, float, date, datetime)


@EVERY_KIND
def test_a_kind_is_a_frozen_record_with_a_name_and_a_title(kind: type[Record]) -> None:
    assert dataclasses.is_dataclass(kind)
    assert kind.__dataclass_params__.frozen
    assert kind.KIND.lower().replace(" ", "-") == kind.KIND
    assert kind.TITLE
    assert kind.__doc__


@EVERY_KIND
def test_a_key_is_made_of_fields_that_are_always_given(kind: type[Record]) -> None:
    given = {spec.name for spec in columns(kind) if not spec.optional}
    assert set(kind.KEY) <= given


@EVERY_KIND
def test_every_field_is_of_a_type_that_tables_and_forms_know(kind: type[Record]) -> None:
    for spec in columns(kind):
        assert spec.type in TYPES or issubclass(spec.type, StrEnum), spec
        assert spec.label


@EVERY_KIND
def test_links_name_the_whole_key_of_a_kind_that_comes_earlier(kind: type[Record]) -> None:
    names = {spec.name: spec for spec in columns(kind)}
    for link in kind.LINKS:
        target = KIND_BY_NAME[link.kind]
        assert len(link.fields) == len(target.KEY)
        assert RECORD_KINDS.index(target) < RECORD_KINDS.index(kind)
        types = {spec.name: spec.type for spec in columns(target)}
        assert [names[field].type for field in link.fields] == [types[part] for part in target.KEY]


@EVERY_KIND
def test_what_is_owned_cannot_do_without_its_owner(kind: type[Record]) -> None:
    optional = {spec.name for spec in columns(kind) if spec.optional}
    for link in kind.LINKS:
        if link.owned:
            assert not optional & set(link.fields)


@EVERY_KIND
def test_ranges_are_ranges_and_belong_to_numbers(kind: type[Record]) -> None:
    for spec in columns(kind):
        low, high = spec.within.low, spec.within.high
        assert low is None or high is None or low < high
        assert (low is None and high is None) or spec.type in (int, float)


@EVERY_KIND
def test_a_measured_number_declares_its_unit_and_carries_it_in_its_name(kind: type[Record]) -> None:
    # Money, counts, shares and ratios have none; a prediction's value has the unit of its figure.
    plain = {"price", "cost", "on_hand", "wanted", "plan_x", "plan_y", "aspect_ratio", "bend_ratio", "value"}
    # A charge rate counts in capacities an hour, a transit time for 60 degrees; one letter says neither.
    other = {
        "minutes_since_charge": "min",
        "deg_to_half_torque": "deg",
        "charge_c": "C rate",
        "transit_s": "s/60deg",
        "awg": "AWG",
    }
    for spec in columns(kind):
        if spec.unit is not None:
            assert spec.type in (float, int), spec.name
            assert spec.unit in UNITS
            assert spec.unit == other.get(spec.name, name_and_unit(spec.name)[1]), f"{kind.KIND}.{spec.name}"
        else:
            assert spec.type is not float or spec.name in plain, f"{kind.KIND}.{spec.name}"


def test_a_unit_is_what_the_field_declares_and_no_guess_from_its_name() -> None:
    shares = {spec.name: spec.unit for spec in columns(Position) if spec.name.startswith("plan_")}
    assert shares == {"plan_x": None, "plan_y": None}
    assert spec_of(PackType, "charge_c").unit == "C rate"
    assert spec_of(Receiver, "band_mhz").unit == "MHz"


@EVERY_KIND
def test_defaults_are_allowed_values(kind: type[Record]) -> None:
    for spec in columns(kind):
        if spec.default is not None:
            assert spec.check(spec.default) == spec.default


def test_children_are_no_columns() -> None:
    assert [spec.name for spec in specs(ServoType) if spec.children] == ["ratings"]
    assert [spec.children for spec in specs(Plan) if spec.children] == [
        "plan-line",
        "plan-proof",
        "prediction",
    ]
    assert "ratings" not in {spec.name for spec in columns(ServoType)}


def test_a_key_is_read_in_its_written_order() -> None:
    rating = ServoRating(servo_type="TS-31", rated_v=4.8, torque_nm=0.31, transit_s=0.22)
    assert key_of(rating) == ("TS-31", 4.8)


@all_cases(
    "name, words",
    [
        (("torque_nm", "N m"), "torque"),
        (("level_speed_m_s", "m/s"), "level speed"),
        (("cell_mohm", "mohm"), "cell"),
        (("supply_max_v", "V"), "supply max"),
        (("state_reason", None), "state reason"),
        (("plan_y", None), "plan y"),
        (("v", "V"), "v"),
    ],
)
def test_a_field_name_reads_as_words_without_its_unit(name: tuple[str, str | None], words: str) -> None:
    assert words_of(*name) == words


@all_cases(
    "kind, name, value, sentence",
    [
        (Servo, "play_deg", 11, "free play at the arm is 11; allowed is 0 to 10."),
        (Servo, "play_deg", -0.1, "free play at the arm is -0.1; allowed is 0 to 10."),
        (Servo, "price", -1, "price is -1; allowed is 0 or more."),
        (Servo, "play_deg", float("nan"), "free play at the arm is nan; expected a number."),
        (Servo, "play_deg", float("inf"), "free play at the arm is inf; expected a number."),
        (Servo, "play_deg", "2", "free play at the arm is '2'; expected a number."),
        (Servo, "flights", 1.5, "flights is 1.5; expected a whole number."),
        (Servo, "tag", None, "tag is missing; it must be given."),
        (Servo, "tag", "  ", "tag is empty; it must be given."),
        (Servo, "tag", 7, "tag is 7; expected text."),
        (Servo, "bought_on", "today", "bought on is 'today'; expected a date YYYY-MM-DD."),
        (Servo, "bought_used", "maybe", "bought used is 'maybe'; expected yes or no."),
        (ServoType, "drive", "steam", "kind is 'steam'; expected one of analog, digital."),
    ],
)
def test_an_impossible_value_is_refused_in_a_sentence(
    kind: type[Record], name: str, value: Any, sentence: str
) -> None:
    with pytest.raises(BadInput) as fault:
        spec_of(kind, name).check(value)
    assert str(fault.value) == sentence


@all_cases(
    "name, value, kept",
    [
        ("play_deg", 0, 0.0),
        ("play_deg", 10, 10.0),
        ("flights", 3.0, 3),
        ("bin", None, None),
        ("bin", "A1", "A1"),
    ],
)
def test_a_possible_value_is_kept_in_its_own_type(name: str, value: Any, kept: Any) -> None:
    found = spec_of(Servo, name).check(value)
    assert found == kept
    assert type(found) is type(kept)


def test_a_bad_record_is_named_with_its_field() -> None:
    check_record(ServoType(code="TS-31", drive=Drive.ANALOG))
    with pytest.raises(BadInput, match=r"^aircraft ALB: span is 5; allowed is 100 to 12000\.$"):
        check_record(Airframe(code="ALB", name="Albion", aircraft_class=AircraftClass.SCALE, span_mm=5))
