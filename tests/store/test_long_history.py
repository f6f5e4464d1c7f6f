"""An edit takes the same work after many edits as after a few, counted in the steps of SQLite's machine."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

import pytest
from sqlalchemy import event
from sqlalchemy.engine import Engine

from hangar.parts import Airframe
from hangar.parts.choices import AircraftClass
from hangar.store import Edit, Fleet
from hangar.store.journal import history

EVERY = 10
"""SQLite tells each time that it has taken so many steps."""


@pytest.fixture
def steps() -> Iterator[list[int]]:
    """How many steps the databases opened from here on have taken, told by every tenth."""
    told = [0]

    def count() -> int:
        told[0] += EVERY
        return 0

    def opened(connection: object, _record: object) -> None:
        connection.set_progress_handler(count, EVERY)  # type: ignore[attr-defined]

    event.listen(Engine, "connect", opened)
    yield told
    event.remove(Engine, "connect", opened)


def taken(steps: list[int], work: Callable[[], object]) -> int:
    """Steps of some work."""
    before = steps[0]
    work()
    return steps[0] - before


def test_an_edit_its_undo_and_redo_do_not_look_through_the_history(steps: list[int]) -> None:
    with Fleet.in_memory() as fleet:
        airframe = Airframe(code="A1", name="One", aircraft_class=AircraftClass.SPORT)

        def name_it(number: int) -> None:
            fleet.edit("Name it", lambda edit: edit.put(replace(airframe, name=f"Name {number}")))

        name_it(0)
        works: tuple[Callable[[], object], ...] = (lambda: name_it(-1), fleet.undo, fleet.redo)
        name_it(1)
        few = [taken(steps, work) for work in works]
        for number in range(400):
            name_it(number)
        many = [taken(steps, work) for work in works]
    assert min(few) > 0
    assert all(late <= early + 100 for late, early in zip(many, few, strict=True)), (few, many)


def test_all_of_a_history_is_read_change_by_change(steps: list[int]) -> None:
    with Fleet.in_memory() as fleet:
        for number in range(300):
            airframe = Airframe(code="A1", name=f"Name {number}", aircraft_class=AircraftClass.SPORT)
            fleet.edit("Name it", partial(Edit.put, record=airframe))
        with fleet.one_moment():
            changes = history(fleet._stored)
            first = taken(steps, lambda: next(changes))
            others = taken(steps, lambda: list(changes))
        assert 0 < 10 * first < others
        # A word that stands in all changes is held once.
        codes = [(change.after or {})["code"] for change in fleet.history()]
    assert len(codes) == 300
    assert len({id(code) for code in codes}) == 1


def test_the_history_of_a_record_is_found_by_its_key_among_those_of_its_kind(steps: list[int]) -> None:
    with Fleet.in_memory() as fleet:
        sport = AircraftClass.SPORT

        def name_it(code: str, name: str) -> None:
            fleet.edit("Name it", lambda edit: edit.put(Airframe(code=code, name=name, aircraft_class=sport)))

        def names() -> list[str]:
            return [(change.after or {})["name"] for change in fleet.history(Airframe, ("A2",))]

        name_it("A1", "One")
        name_it("A1", "Two")
        fleet.edit("Rename it", lambda edit: edit.rename(Airframe, ("A1",), ("A2",)))
        # Another record under the old key is none of its history.
        name_it("A1", "Another")
        name_it("A2", "Three")
        wanted = ["Three", "Two", "Two", "One"]
        assert names() == wanted
        few = taken(steps, names)
        for number in range(400):
            name_it("B", f"Name {number}")
        assert names() == wanted
        assert 0 < taken(steps, names) <= few + 100
