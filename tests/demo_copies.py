"""The invented fleet in memory, brought in once in a process and copied for every test that wants it."""

from __future__ import annotations

from datetime import date
from functools import cache

from hangar.base.places import demo_fleet_dir
from hangar.store import Fleet, bring_in
from hangar.store.door import file_door
from hangar.store.linking import connect

TODAY = date(2026, 3, 14)


@cache
def _brought_in(today: date) -> bytes:
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [demo_fleet_dir()], today=today)
        link = fleet._door.file
        assert link is not None
        return link.serialize()


def demo_copy(today: date = TODAY) -> Fleet:
    """A copy of its own of the invented fleet as it is brought in on a day."""
    link = connect(None)
    link.deserialize(_brought_in(today))
    return Fleet(file_door(link))
