"""A reading set aside, and taken back in: it stays on record, and every figure is worked without it."""

from __future__ import annotations

from datetime import date

from hangar.parts import Record, SetAside
from hangar.parts.readings import place_of
from hangar.store import Edit


def set_aside(edit: Edit, reading: Record, today: date, reason: str | None = None) -> None:
    """Let a reading count no more.

    Raises: BadInput when it is set aside already.
    """
    kind, key = place_of(reading)
    edit.put(SetAside(kind=kind, record=key, since_on=today, reason=reason))


def take_back_in(edit: Edit, reading: Record) -> None:
    """Let a reading that was set aside count again.

    Raises: BadInput when it was not set aside.
    """
    edit.remove(SetAside, place_of(reading))
