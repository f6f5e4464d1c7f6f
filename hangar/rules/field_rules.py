"""Figures of law and of codes, as data with source and date; no country is chosen."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import date
from functools import cache

from hangar.base.places import resources_dir
from hangar.base.units import format_quantity


@dataclass(frozen=True, kw_only=True)
class FieldRule:
    """One figure of a law or code.

    Attributes:
        item: what it is about.
        shown: the figure with its unit, a range, or words.
        where: country or body it holds for.
        source: text it is from.
        as_of: date of that text, where recorded.
        note: what to be careful about.
    """

    item: str
    shown: str
    where: str
    source: str
    as_of: date | None = None
    note: str = ""


@cache
def field_rules() -> tuple[FieldRule, ...]:
    """The table as it travels with Hangar; law and club rules govern where they differ.

    >>> field_rules()[0].shown
    '250 g'
    """
    with (resources_dir() / "field_rules.toml").open("rb") as file:
        rows = tomllib.load(file)["figure"]
    return tuple(
        FieldRule(
            item=row["item"],
            shown=_shown(row),
            where=row["where"],
            source=row["source"],
            as_of=date.fromisoformat(row["as_of"]) if "as_of" in row else None,
            note=row.get("note", ""),
        )
        for row in rows
    )


def _shown(row: dict[str, float | str]) -> str:
    unit = str(row.get("unit", ""))
    if "text" in row:
        return str(row["text"])
    if "low" in row:
        ends = (format_quantity(float(row[name]), unit) for name in ("low", "high"))
        return " to ".join(ends)
    return format_quantity(float(row["value"]), unit)
