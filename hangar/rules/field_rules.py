"""Figures of law and of codes, as data with source and date that the keeper edits; no country is chosen."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace
from datetime import date
from functools import cache

from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.units import format_quantity
from hangar.parts import Setting

SETTING_PREFIX = "field-rule."
LEFT_OUT = "field-rules.left-out"
"""Setting with the countries and bodies whose figures the keeper does not want to see."""


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
        limit: name of the limit of the checks that this figure can set; empty where no check uses one.
    """

    item: str
    shown: str
    where: str
    source: str
    as_of: date | None = None
    note: str = ""
    limit: str = ""

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
            limit=row.get("limit", ""),
        )
        for row in rows
    )


@dataclass(frozen=True, kw_only=True)
class FieldRuleRow:
    """One row of the table with how it came to be there.

    Attributes:
        key: what settings call it.
        rule: the row in force; the shipped one where it is hidden or the keeper's cannot be read.
        shipped: the row that travels with Hangar; None for one that the keeper added.
        is_hidden: whether the keeper took it out of the table, by itself or with its country or body.
        fault: why the keeper's row cannot be read; empty when it can.
    """

    key: str
    rule: FieldRule
    shipped: FieldRule | None
    is_hidden: bool = False
    fault: str = ""

    @property
    def is_own(self) -> bool:
        """Whether the keeper added it."""
        return self.shipped is None

    @property
    def is_changed(self) -> bool:
        """Whether it reads otherwise than the shipped one."""
        return self.shipped is not None and self.rule != self.shipped


def field_rule_rows(settings: Iterable[Setting] = ()) -> tuple[FieldRuleRow, ...]:
    """Every row, the hidden ones as well: shipped ones in their order, the keeper's own last.

    >>> field_rule_rows([hidden_field_rule(shipped_field_rules()[0].key)])[0].is_hidden
    True
    """
    kept = tuple(settings)
    left_out = left_out_bodies(kept)
    by_name = {
        setting.name.removeprefix(SETTING_PREFIX): setting
        for setting in kept
        if setting.name.startswith(SETTING_PREFIX)
    }
    rows = [
        _row(field_rule.key, field_rule, by_name.pop(field_rule.key, None))
        for field_rule in shipped_field_rules()
    ]
    rows += [_row(key, None, setting) for key, setting in by_name.items()]
    return tuple(
        replace(row, is_hidden=row.is_hidden or row.rule.where in left_out) for row in rows if row is not None
    )


def _row(key: str, shipped: FieldRule | None, setting: Setting | None) -> FieldRuleRow | None:
    fault, rule = "", shipped
    if setting is not None:
        try:
            rule = _read(setting)
        except BadInput as error:
            fault = str(error)
    if rule is None and shipped is None and not fault:
        return None
    unread = FieldRule(item=key, shown="", where="", source="")
    return FieldRuleRow(
        key=key, rule=rule or shipped or unread, shipped=shipped, is_hidden=rule is None, fault=fault
    )


def field_rules(settings: Iterable[Setting] = ()) -> tuple[FieldRule, ...]:
    """The table in force: the keeper's row where he wrote one, else the shipped one; his further rows last.

    Raises:
        BadInput: a setting of the table cannot be read.

    >>> field_rules()[0].shown
    '250 g'
    """
    rows = field_rule_rows(settings)
    for row in rows:
        if row.fault:
            raise BadInput(row.fault)
    return tuple(row.rule for row in rows if not row.is_hidden)


def bodies_of(settings: Iterable[Setting] = ()) -> tuple[tuple[str, bool], ...]:
    """The countries and bodies of the table in order, each with whether its figures are shown."""
    kept = tuple(settings)
    left_out = left_out_bodies(kept)
    names = dict.fromkeys(row.rule.where for row in field_rule_rows(kept) if row.rule.where)
    return tuple((name, name not in left_out) for name in names)


def left_out_bodies(settings: Iterable[Setting]) -> frozenset[str]:
    """The countries and bodies whose figures are not shown; none where the setting cannot be read."""
    for setting in settings:
        if setting.name == LEFT_OUT:
            try:
                return frozenset(str(name) for name in json.loads(setting.value))
            except (ValueError, TypeError):
                return frozenset()
    return frozenset()


def leaving_out(names: Iterable[str]) -> Setting:
    """The setting that leaves the figures of these countries and bodies out.

    >>> leaving_out(["airlines"])
    Setting(name='field-rules.left-out', value='["airlines"]')
    """
    return Setting(name=LEFT_OUT, value=json.dumps(sorted(set(names)), ensure_ascii=False))


_NAMES = {
    "item": "what it is about",
    "shown": "the figure",
    "where": "where it holds",
    "source": "the source",
}


def field_rule_gaps(figure: FieldRule) -> dict[str, str]:
    """What a row lacks: a sentence for each field that must be given.

    >>> field_rule_gaps(FieldRule(item="noise", shown="", where="Sallow Down", source="club rules"))
    {'shown': 'Field rule: the figure is empty; it must be given.'}
    """
    return {
        name: f"Field rule: {words} is empty; it must be given."
        for name, words in _NAMES.items()
        if not str(getattr(figure, name)).strip()
    }


def changed_field_rule(figure: FieldRule, key: str | None = None) -> Setting:
    """The setting that puts the keeper's own row in force.

    Args:
        figure: the row as it is to be; item, figure, where and source are not empty.
        key: the row it takes the place of; None for a row of its own.

    Raises:
        BadInput: a word of the row is missing.
    """
    for gap in field_rule_gaps(figure).values():
        raise BadInput(gap)
    row = asdict(figure) | {"as_of": figure.as_of.isoformat() if figure.as_of else None}
    return Setting(name=f"{SETTING_PREFIX}{key or figure.key}", value=json.dumps(row, ensure_ascii=False))


def hidden_field_rule(key: str) -> Setting:
    """The setting that takes a shipped row out of the table."""
    return Setting(name=f"{SETTING_PREFIX}{key}", value="null")


def restored_field_rules(settings: Iterable[Setting], key: str | None = None) -> tuple[Setting, ...]:
    """The settings to take away so that one shipped row, or the whole shipped table, is in force again."""
    wanted = None if key is None else f"{SETTING_PREFIX}{key}"
    return tuple(
        setting
        for setting in settings
        if setting.name.startswith(SETTING_PREFIX) and wanted in (None, setting.name)
    )


def _read(setting: Setting) -> FieldRule | None:
    try:
        row = json.loads(setting.value)
        if row is None:
            return None
        day = row.pop("as_of", None)
        if not all(isinstance(value, str) for value in row.values()):
            raise TypeError("words are wanted")
        return FieldRule(**row, as_of=date.fromisoformat(day) if day else None)
    except (ValueError, TypeError, AttributeError) as fault:
        raise BadInput(
            "Setting {name} cannot be read as a field rule; restore the shipped row.", name=setting.name
        ) from fault


def _shown(row: dict[str, float | str]) -> str:
    unit = str(row.get("unit", ""))
    if "text" in row:
        return str(row["text"])
    if "low" in row:
        ends = (format_quantity(float(row[name]), unit) for name in ("low", "high"))
        return " to ".join(ends)
    return format_quantity(float(row["value"]), unit)
