"""A first glance at a fleet file, quick enough to be on screen before the store is loaded."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path

_ASK = """
SELECT code, name, aircraft_class, state, state_reason, wing_count,
       EXISTS (SELECT 1 FROM position WHERE aircraft = airframe.code AND function = 'v-tail'),
       (SELECT max(flown_on) FROM flight WHERE aircraft = airframe.code)
FROM airframe ORDER BY code
"""


@dataclass(frozen=True, slots=True)
class Glimpse:
    """What a card shows of an aircraft before it is looked over; the day is written YYYY-MM-DD."""

    code: str
    name: str
    aircraft_class: str
    state: str
    state_reason: str | None
    wing_count: int
    v_tail: bool
    last_flown_on: str | None


def glance(path: Path) -> tuple[Glimpse, ...]:
    """The aircraft of a fleet file; none when it cannot be read, which opening it will explain."""
    try:
        link = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, timeout=0.1)
        try:
            rows = link.execute(_ASK).fetchall()
        finally:
            link.close()
    except (sqlite3.Error, OSError, UnicodeError):
        return ()
    return tuple(
        Glimpse(code, name, kind, state, reason, wings, bool(v_tail), flown)
        for code, name, kind, state, reason, wings, v_tail, flown in rows
    )
