"""An edit takes the same work after many edits as after a few, counted in the steps of SQLite's machine."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from sqlalchemy import event
from sqlalchemy.engine import Engine

from hangar.parts import Airframe
from hangar.parts.choices import AircraftClass
from hangar.store import Fleet

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
