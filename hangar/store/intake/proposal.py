"""What a reading proposes to write, and how that differs from what the fleet holds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from hangar.store.intake.grid import Cell


@dataclass(slots=True)
class Proposed:
    """A record as it would be written: its kind, its fields, and the cells that gave them.

    With ``key`` it is a change of some fields of the record of that key.
    """

    kind: str
    values: dict[str, Any]
    cells: dict[str, Cell] = field(default_factory=dict)
    key: tuple[Any, ...] | None = None


@dataclass(frozen=True, slots=True)
class Changed:
    """What a sheet that comes again says otherwise than the fleet; without a cell the sheet lacks it."""

    cell: Cell | None
    record: str
    field: str
    was: str
    now: str


@dataclass(slots=True)
class Proposal:
    """All that a reading would write, and how it differs from what is there."""

    records: list[Proposed]
    changes: list[Changed]
