"""Figures of law and of codes, as data with source and date that the keeper edits; no country is chosen."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import date
from functools import cache

from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.units import format_quantity
from hangar.parts import Setting

SETTING_PREFIX = "field-rule."


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

    @property
    def key(self) -> str:
        """What settings call it: its item and where it holds."""
        words = re.sub(r"[^a-z0-9]+", "-", f"{self.item} {self.where}".lower())
        return words.strip("-")


@cache
def shipped_field_rules() -> tuple[FieldRule, ...]:
    """The table as it travels with Hangar; law and club rules govern where they differ."""
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


def field_rules(settings: Iterable[Setting] = ()) -> tuple[FieldRule, ...]:
    """The table in force: the keeper's row where he wrote one, else the shipped one; his further rows last.

    Raises:
        BadInput: a setting of the table cannot be read.

    >>> field_rules()[0].shown
    '250 g'
    """
    own = {
        each.name.removeprefix(SETTING_PREFIX): _read(each)
        for each in settings
        if each.name.startswith(SETTING_PREFIX)
    }
    rows = [own.pop(each.key, each) for each in shipped_field_rules()]
    return (
        *(each for each in rows if each is not None),
        *(each for each in own.values() if each is not None),
    )


def changed_field_rule(figure: FieldRule, key: str | None = None) -> Setting:
    """The setting that puts the keeper's own row in force.

    Args:
        figure: the row as it is to be; item, figure, where and source are not empty.
        key: the row it takes the place of; None for a row of its own.

    Raises:
        BadInput: a word of the row is missing.
    """
    for name in ("item", "shown", "where", "source"):
        if not getattr(figure, name).strip():
            raise BadInput(f"field rule: {name} is empty; it must be given.")
    row = asdict(figure) | {"as_of": figure.as_of.isoformat() if figure.as_of else None}
    return Setting(name=f"{SETTING_PREFIX}{key or figure.key}", value=json.dumps(row, ensure_ascii=False))


def hidden_field_rule(key: str) -> Setting:
    """The setting that takes a shipped row out of the table."""
    return Setting(name=f"{SETTING_PREFIX}{key}", value="null")


def restored_field_rules(settings: Iterable[Setting], key: str | None = None) -> tuple[Setting, ...]:
    """The settings to take away so that one shipped row, or the whole shipped table, is in force again."""
    wanted = None if key is None else f"{SETTING_PREFIX}{key}"
    return tuple(
        each for each in settings if each.name.startswith(SETTING_PREFIX) and wanted in (None, each.name)
    )


def _read(setting: Setting) -> FieldRule | None:
    try:
        row = json.loads(setting.value)
        if row is None:
            return None
        day = row.pop("as_of", None)
        return FieldRule(**row, as_of=date.fromisoformat(day) if day else None)
    except (ValueError, TypeError, AttributeError) as fault:
        raise BadInput(
            f"Setting {setting.name} cannot be read as a field rule; restore the shipped row."
        ) from fault


def _shown(row: dict[str, float | str]) -> str:
    unit = str(row.get("unit", ""))
    if "text" in row:
        return str(row["text"])
    if "low" in row:
        ends = (format_quantity(float(row[name]), unit) for name in ("low", "high"))
        return " to ".join(ends)
    return format_quantity(float(row["value"]), unit)
