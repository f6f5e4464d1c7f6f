"""Any fleet that can be kept comes out as tables and in again equal, and any edits can be undone."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.parts import (
    KIND_BY_NAME,
    RECORD_KINDS,
    Airframe,
    Attachment,
    Installation,
    PackFit,
    PaperPlace,
    Position,
    Record,
    Servo,
)
from hangar.parts.fields import FieldSpec, columns, key_of
from hangar.store import Edit, Fleet, bring_in, take_out
from hangar.store.codec import broken_rule, shape_of
from hangar.store.content_check import content_faults
from tests.store.conftest import HAS_SERVER
from tests.store.server import emptied

DAY = date(2026, 3, 14)
Draw = Callable[[st.SearchStrategy[Any]], Any]
Made = dict[type[Record], list[Record]]

_LETTERS = st.characters(
    codec="utf-8",
    exclude_categories=("Cs", "Cc", "Zl", "Zp"),
    include_characters="\n",
    exclude_characters="\ufffe\uffff",
)
TEXTS = st.one_of(
    st.text(_LETTERS, min_size=1, max_size=12).map(str.strip).filter(bool),
    st.sampled_from(
        [
            "=1+1",
            "-",
            "+3",
            "#N/A",
            "_x0041_",
            "@x",
            "'",
            "'=",
            "D-3",
            "1,5",
            "yes",
            'a "quoted" word',
            "a,b;c",
            "0301",
        ]
    ),
)
# Shrinking a whole fleet takes minutes and says little more than the first failure does.
EASY = settings(
    max_examples=int(os.environ.get("HANGAR_TEST_FLEETS", "8")),
    database=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def values_of(spec: FieldSpec) -> st.SearchStrategy[Any]:
    low, high = spec.within.low, spec.within.high
    if issubclass(spec.type, StrEnum):
        found: st.SearchStrategy[Any] = st.sampled_from(list(spec.type))
    elif spec.type is float:
        found = st.floats(
            low if low is not None else -1e9, high if high is not None else 1e9, allow_nan=False
        )
    elif spec.type is int:
        found = st.integers(
            int(low if low is not None else -1000), int(high if high is not None else 100_000)
        )
    elif spec.type is date:
        found = st.dates(date(1930, 1, 1), date(2100, 1, 1))
    elif spec.type is datetime:
        found = st.datetimes(datetime(1930, 1, 1), datetime(2100, 1, 1))  # noqa: DTZ001
    else:
        found = {bool: st.booleans(), str: TEXTS}[spec.type]
    return st.none() | found if spec.optional else found


def linked_values(kind: type[Record], made: Made, draw: Draw) -> dict[str, Any] | None:
    """Key parts that name records already made; None when a record that must be named is not there."""
    optional = {spec.name for spec in columns(kind) if spec.optional}
    given_values: dict[str, Any] = {}
    for link in kind.LINKS:
        targets = [key_of(target) for target in made.get(KIND_BY_NAME[link.kind], [])]
        fitting = [
            key for key in targets
            if all(given_values.get(name, part) == part for name, part in zip(link.fields, key, strict=True))
        ]  # fmt: skip
        loose = [name for name in link.fields if name in optional]
        if loose and (not fitting or draw(st.booleans())):
            given_values[loose[-1]] = None
        elif not fitting:
            return None
        else:
            given_values.update(zip(link.fields, draw(st.sampled_from(fitting)), strict=True))
    return given_values


def make_record(kind: type[Record], made: Made, draw: Draw) -> Record | None:
    linked = linked_values(kind, made, draw)
    if linked is None:
        return None
    values = {spec.name: draw(values_of(spec)) for spec in columns(kind) if spec.name not in linked} | linked
    plain = {name: value.value if isinstance(value, StrEnum) else value for name, value in values.items()}
    return None if broken_rule(kind, plain) else kind(**values)


def is_new(record: Record, made: Made) -> bool:
    """Whether nothing made before has its key, or holds the place it claims."""
    others = made.get(type(record), [])
    if key_of(record) in {key_of(other) for other in others}:
        return False
    if isinstance(record, Installation) and record.until_on is None and not record.disputed:
        held = [
            record
            for record in others
            if isinstance(record, Installation) and record.until_on is None and not record.disputed
        ]
        place = (record.aircraft, record.position)
        return all(
            installation.servo != record.servo and (installation.aircraft, installation.position) != place
            for installation in held
        )
    if isinstance(record, PackFit) and record.until_on is None:
        return all(
            not isinstance(other_record, PackFit) or other_record.until_on or other_record.pack != record.pack
            for other_record in others
        )
    return True


@st.composite
def fleets(draw: Draw) -> list[Record]:
    """Records of every kind, each naming only records that are there."""
    made: Made = {}
    for kind in RECORD_KINDS:
        for _ in range(draw(st.integers(0, 2))):
            record = make_record(kind, made, draw)
            if record is not None and is_new(record, made):
                made.setdefault(kind, []).append(record)
    return [record for records in made.values() for record in records]


def dump(fleet: Fleet) -> dict[type[Record], tuple[Record, ...]]:
    return {kind: fleet.records(kind) for kind in RECORD_KINDS}


@pytest.mark.parametrize("name", ["tables", "fleet.xlsx"])
@EASY
@given(fleets())
def test_taking_out_and_bringing_in_gives_an_equal_fleet(name: str, records: list[Record]) -> None:
    with Fleet.in_memory() as first, Fleet.in_memory() as second, tempfile.TemporaryDirectory() as folder:
        first.edit("Put", lambda edit: edit.put_all(records))
        take_out(first, Path(folder) / name)
        rehearsal = bring_in(second, [Path(folder) / name], today=DAY, dry_run=True)
        assert second.undo_label is None
        report = bring_in(second, [Path(folder) / name], today=DAY)
        assert report == rehearsal
        assert report.refused == ()
        assert dump(second) == dump(first)
        assert second.whole_fleet(DAY) == first.whole_fleet(DAY)
        assert tuple(map(str, content_faults(second._stored, alone=True))) == paper_faults(records)
        if second.undo_label:
            second.undo()
        assert not any(dump(second).values())


def paper_faults(records: list[Record]) -> tuple[str, ...]:
    """What a check says of papers that were made up without bytes."""
    inside = [
        record for record in records if isinstance(record, Attachment) and record.place is PaperPlace.INSIDE
    ]
    return tuple(
        f"the content of paper {attachment.name} is missing" for attachment in sorted(inside, key=key_of)
    )


@pytest.mark.skipif(not HAS_SERVER, reason="PostgreSQL's initdb is not installed")
@settings(EASY, suppress_health_check=list(HealthCheck))
@given(records=fleets())
def test_a_server_keeps_any_fleet_as_the_file_does(server_address: str, records: list[Record]) -> None:
    with Fleet.in_memory() as near, Fleet.open(emptied(server_address)) as far:
        for fleet in (near, far):
            fleet.edit("Put", lambda edit: edit.put_all(records))
        assert dump(far) == dump(near)
        assert far.whole_fleet(DAY) == near.whole_fleet(DAY)
        if far.undo_label:
            far.undo()
        assert not any(dump(far).values())


@EASY
@given(fleets())
def test_what_was_put_is_what_is_read(records: list[Record]) -> None:
    with Fleet.in_memory() as fleet:
        fleet.edit("Put", lambda edit: edit.put_all(records))
        for record in records:
            found = fleet.record(type(record), *key_of(record))
            assert found is not None
            children = {name: () for name, _ in shape_of(type(found)).children}
            assert replace(found, **children) == record  # type: ignore[type-var]


def some_edit(kind: type[Record], fleet: Fleet, draw: Draw) -> Callable[[Edit], None]:
    """A change, a removal, a new name or a swap of some record of the fleet."""
    records = fleet.records(kind)
    record = draw(st.sampled_from(records))
    key = key_of(record)
    what = draw(st.sampled_from(["change", "remove", "rename", "fit"]))
    servos = fleet.records(Servo)
    if what == "fit" and servos and kind is Position:
        tag = draw(st.sampled_from([servo.tag for servo in servos]))
        return lambda edit: edit.fit_servo(tag, key[0], key[1], date(2101, 1, 1))
    if what == "remove":
        return lambda edit: edit.remove(kind, key)
    if what == "rename" and isinstance(key[-1], str) and kind in (Airframe, Servo, Position):
        return lambda edit: edit.rename(kind, key, (*key[:-1], draw(TEXTS)))
    loose = [
        spec for spec in columns(kind) if spec.optional and not any(spec.name in k.fields for k in kind.LINKS)
    ]
    if not loose:
        return lambda edit: edit.put(record)
    spec = draw(st.sampled_from(loose))
    return lambda edit: edit.change(kind, key, **{spec.name: draw(values_of(spec))})


@EASY
@given(fleets(), st.data())
def test_undoing_everything_and_doing_it_again_ends_where_it_was(
    records: list[Record], data: st.DataObject
) -> None:
    with Fleet.in_memory() as fleet:
        states = [dump(fleet)]
        if fleet.edit("Put", lambda edit: edit.put_all(records)):
            states.append(dump(fleet))
        for number in range(data.draw(st.integers(0, 4))):
            kinds = [kind for kind in RECORD_KINDS if fleet.records(kind)]
            if not kinds:
                break
            work = some_edit(data.draw(st.sampled_from(kinds)), fleet, data.draw)
            try:
                changed = fleet.edit(f"Edit {number}", work)
            except BadInput:
                assert dump(fleet) == states[-1]
                continue
            if changed:
                states.append(dump(fleet))
        for before in reversed(states[:-1]):
            fleet.undo()
            assert dump(fleet) == before
        assert fleet.undo() is None
        for after in states[1:]:
            fleet.redo()
            assert dump(fleet) == after
        assert fleet.redo() is None
        inside = fleet.records(Attachment, place=PaperPlace.INSIDE)
        assert tuple(map(str, content_faults(fleet._stored, alone=True))) == paper_faults(list(inside))
