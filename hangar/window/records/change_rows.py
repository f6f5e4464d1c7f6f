"""Changes made to records as rows of a table, and the fields changed in words."""

from __future__ import annotations

from typing import Any

from hangar.window.kit.words import say
from hangar.window.tables.columns import Column


def change_key(change: Any) -> tuple[Any, ...]:
    """What makes a change the same row when the table is shown again."""
    return (change.when, change.label, change.kind, tuple(change.key), change.undone)


def change_columns() -> tuple[Column[Any], ...]:
    """When, what, and the values before and after."""
    return (
        Column(say("When"), lambda one, _units: one.when.strftime("%Y-%m-%d %H:%M:%S")),
        Column(say("What was done"), lambda one, _units: one.label, wraps=True),
        Column(say("Record"), lambda one, _units: f"{one.kind} {' '.join(map(str, one.key))}"),
        Column(say("Fields changed"), lambda one, _units: changed_words(one.before, one.after), wraps=True),
        Column(say("Undone"), lambda one, _units: say("undone") if one.undone else ""),
    )


def changed_words(before: dict[str, Any] | None, after: dict[str, Any] | None) -> str:
    """The fields that differ, old and new value."""
    if before is None or after is None:
        return say("added") if before is None else say("removed")
    return "; ".join(
        f"{name}: {before.get(name)} → {value}" for name, value in after.items() if before.get(name) != value
    )
