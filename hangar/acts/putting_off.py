"""A thing that is due, put off to a later day with a reason: it stays due, and says so."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.parts import PutOff
from hangar.store import Edit
from hangar.survey import DueItem


def put_off(
    edit: Edit, aircraft: str, items: Iterable[DueItem], until_on: date, reason: str, today: date
) -> Text:
    """Put things of an aircraft off. Nothing that rests on them changes: they are as due as before.

    Returns: the name of the edit.

    Raises: BadInput without a reason, or for a day that is not later than today and than they are due.
    """
    items = tuple(items)
    if not reason.strip():
        raise BadInput("The reason is empty; write why this is put off.")
    earliest = max([today, *(item.due_on for item in items)])
    if until_on <= earliest:
        raise BadInput(
            "The day is {found}; allowed is a day after {earliest}.", found=until_on, earliest=earliest
        )
    for item in items:
        edit.put(
            PutOff(
                aircraft=aircraft,
                duty=item.what,
                about=item.key,
                until_on=until_on,
                reason=reason.strip(),
                put_off_on=today,
                done_on=item.done_on,
            )
        )
    return text("Put off what is due on {aircraft} to {day}", aircraft=aircraft, day=until_on)


def take_back_put_off(edit: Edit, aircraft: str, items: Iterable[DueItem]) -> Text:
    """Let things count as not put off. Returns: the name of the edit."""
    for item in items:
        if item.put_off is not None:
            edit.remove(PutOff, (aircraft, item.what, item.key))
    return text("Take back what was put off on {aircraft}", aircraft=aircraft)
