"""The invented fleet's tables hold only rows that Hangar can read, and the parts they promise."""

from __future__ import annotations

import csv
from datetime import date, datetime, timedelta
from enum import StrEnum
from functools import cache
from itertools import pairwise
from typing import Any

from hangar.base.places import demo_fleet_dir
from hangar.parts import (
    KIND_BY_NAME,
    RECORD_KINDS,
    Airframe,
    Installation,
    Pack,
    PlanLine,
    Position,
    Record,
    Servo,
    ServoRating,
    ServoType,
    StockItem,
)
from hangar.parts.choices import FeedRole, PlanAction
from hangar.parts.fields import FieldSpec, check_record, columns, key_of
from tests.all_cases import all_cases

TODAY = date(2026, 3, 14)


def _day(text: str) -> date:
    assert text.startswith("D"), f"{text} is no offset from today"
    return TODAY + timedelta(days=int(text[1:]))


def _value(spec: FieldSpec, text: str) -> Any:
    if spec.type is bool:
        return {"yes": True, "no": False}[text]
    if spec.type is datetime:
        day, clock = text.split()
        return datetime.combine(_day(day), datetime.strptime(clock, "%H:%M").time())  # noqa: DTZ007
    if spec.type is date:
        return _day(text)
    if spec.type in (int, float) or issubclass(spec.type, StrEnum):
        return spec.type(text)
    return text


def _records(kind: type[Record]) -> tuple[Any, ...]:
    return _table(kind.KIND)


@cache
def _table(name: str) -> tuple[Any, ...]:
    path = demo_fleet_dir() / f"{name.replace('-', '_')}.csv"
    if not path.exists():
        return ()
    kind = KIND_BY_NAME[name]
    by_name = {spec.name: spec for spec in columns(kind)}
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(
            kind(**{name: _value(by_name[name], text) for name, text in row.items() if text})
            for row in csv.DictReader(file)
        )


@all_cases("kind", RECORD_KINDS)
def test_every_row_is_a_possible_record_with_a_key_of_its_own(kind: type[Record]) -> None:
    records = _records(kind)
    for record in records:
        check_record(record)
    keys = [key_of(record) for record in records]
    assert len(set(keys)) == len(keys)


@all_cases("kind", RECORD_KINDS)
def test_every_row_names_only_records_that_are_there(kind: type[Record]) -> None:
    for link in kind.LINKS:
        known = {key_of(record) for record in _records(KIND_BY_NAME[link.kind])}
        for record in _records(kind):
            named = tuple(getattr(record, name) for name in link.fields)
            assert None in named or named in known, f"{kind.KIND} {key_of(record)} names {named}"


def test_no_table_is_left_without_a_kind() -> None:
    tables = {path.stem.replace("_", "-") for path in demo_fleet_dir().glob("*.csv")}
    assert tables <= set(KIND_BY_NAME)


def test_the_fleet_has_eight_aircraft_and_forty_eight_servos_of_fifteen_types() -> None:
    assert len(_records(Airframe)) == 8
    assert len(_records(Servo)) == 48
    assert len(_records(ServoType)) == 15
    assert len(_records(Pack)) == 15
    assert {row.servo_type for row in _records(ServoRating)} == {kind.code for kind in _records(ServoType)}


def test_every_servo_sits_in_one_place_and_only_0203_is_claimed_twice() -> None:
    stays = [stay for stay in _records(Installation) if stay.until_on is None]
    sure = [stay.servo for stay in stays if not stay.disputed]
    assert sorted(sure) == sorted(servo.tag for servo in _records(Servo))
    assert [(stay.servo, stay.aircraft) for stay in stays if stay.disputed] == [("0203", "ALB5")]


def test_ended_stays_do_not_overlap_another_stay_of_the_same_servo_or_place() -> None:
    for what in ("servo", "place"):
        held: dict[Any, list[tuple[date, date]]] = {}
        for stay in _records(Installation):
            if not stay.disputed:
                about = stay.servo if what == "servo" else (stay.aircraft, stay.position)
                held.setdefault(about, []).append((stay.since_on, stay.until_on or date.max))
        for about, spans in held.items():
            spans.sort()
            assert all(a[1] <= b[0] for a, b in pairwise(spans)), f"{about} overlaps"


def test_every_position_can_be_drawn_on_its_own_spot_of_the_plan_view() -> None:
    spots: dict[str, list[tuple[float, float]]] = {}
    for position in _records(Position):
        assert position.plan_x is not None
        assert position.plan_y is not None
        spots.setdefault(position.aircraft, []).append((position.plan_x, position.plan_y))
    for spot in spots.values():
        for n, (x, y) in enumerate(spot):
            assert all(abs(x - a) + abs(y - b) > 0.03 for a, b in spot[:n])


def test_three_plans_and_the_parts_bay_name_parts_that_the_library_knows() -> None:
    library = {
        record.code
        for name in ("servo-type", "pack-type", "regulator-type", "switch-type", "arm")
        for record in _records(KIND_BY_NAME[name])
    }
    assert len(_records(KIND_BY_NAME["plan"])) == 3
    for line in _records(PlanLine):
        assert line.part_type in library or line.action is PlanAction.CHANGE_LEAD
    assert {item.part_type for item in _records(StockItem) if item.part_type} <= library


def test_engines_have_packs_of_their_own() -> None:
    feeds = {key_of(feed): feed for feed in _records(KIND_BY_NAME["feed"])}
    roles = [feeds[fit.aircraft, fit.feed].role for fit in _records(KIND_BY_NAME["pack-fit"])]
    assert sum(role in (FeedRole.IGNITION, FeedRole.ENGINE_CONTROL) for role in roles) == 3
    assert sum(role in (FeedRole.RECEIVER, FeedRole.DRIVE) for role in roles) == 12
