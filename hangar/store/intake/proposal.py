"""What a reading proposes to write, and how that differs from what the fleet holds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from hangar.base.text import Arg, Text, fixed, text
from hangar.store.intake.account import About
from hangar.store.intake.grid import Cell

FIELD_WORDS = {
    "span_mm": "span",
    "all_up_mass_g": "mass, ready to fly",
    "aircraft_class": "class",
    "power": "drive",
    "channel": "channel",
    "servo type": "servo type",
    "aircraft": "aircraft",
    "row": "row",
    "on hand": "on hand",
    "since_on": "fitted since",
    "drive": "analog or digital",
    "torque_nm": "stall torque",
}
WORDS_OF_TABLES = tuple(FIELD_WORDS.values())


@dataclass(slots=True)
class NewRow:
    """A record as it would be written: its kind, its fields, and the cells that gave them.

    With ``key`` it is a change of some fields of the record of that key.
    """

    kind: str
    values: dict[str, Any]
    cells: dict[str, Cell] = field(default_factory=dict)
    key: tuple[Any, ...] | None = None


@dataclass(frozen=True, slots=True)
class SheetChange:
    """What a sheet that comes again says otherwise than the fleet; without a cell the sheet lacks it."""

    cell: Cell | None
    record: Text
    field: str
    """Its name for programs; :attr:`words` says it to people."""
    was: Arg
    now: Arg

    @property
    def words(self) -> Text:
        """The change in words."""
        field = fixed(FIELD_WORDS[self.field])
        return text(
            "{record}, {field}: {was} -> {now}", record=self.record, field=field, was=self.was, now=self.now
        )

    @property
    def key(self) -> str:
        """By which the keeper's answer names it."""
        return f"{About.CHANGED}:{self.record}, {self.field}"


@dataclass(slots=True)
class Proposal:
    """All that a reading would write, how it differs from what is there, and what is asked of that."""

    records: list[NewRow]
    changes: list[SheetChange]
    asked: list[SheetChange] = field(default_factory=list)
