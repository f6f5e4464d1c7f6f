"""Check sums of the history: a bit that changed in an edit or a change on record is noticed.

A record that changed by itself differs from what the history makes of it; the history stands nowhere else,
so each of its rows carries a sum of all it says.
"""

from __future__ import annotations

import hashlib
import json
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select, update

from hangar.store.constraints import whole_schema

_BYTES = 8


def sum_of_edit(made_at: datetime, label: str, state: str, seat: str | None, turn: int) -> str:
    """The check sum of one edit of the fleet.

    >>> sum_of_edit(datetime(2026, 3, 14, 9, 30), "Fit 0302", "done", None, 7)
    '82cc95d09ac283d8'
    """
    return _sum(made_at.isoformat(timespec="microseconds"), label, state, seat, turn)


def sum_of_change(
    edit: int, kind: str, key: str, aircraft: str | None, before: str | None, after: str | None
) -> str:
    """The check sum of one change that an edit made."""
    return _sum(edit, kind, key, aircraft, before, after)


def _sum(*values: Any) -> str:
    return hashlib.blake2b(json.dumps(values).encode(), digest_size=_BYTES).hexdigest()


def seal(link: Connection) -> None:
    """Give every row of the history its check sum, as a file of an earlier version needs it."""
    tables = whole_schema().tables
    for table, sum_of in ((tables["journal_edit"], sum_of_edit), (tables["journal_change"], sum_of_change)):
        covered = [column for column in table.c if column.name not in ("id", "check_sum")]
        for row in link.execute(select(table.c.id, *covered)).all():
            number, *values = row
            link.execute(update(table).where(table.c.id == number).values(check_sum=sum_of(*values)))
