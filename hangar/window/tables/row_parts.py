"""Which servo or pack a table row is about."""

from __future__ import annotations

from hangar.parts import Pack, Record, Servo


def part_of(row: object) -> tuple[type[Record], str] | None:
    """The servo or pack that a table row is about, whatever kind of row it is."""
    if isinstance(row, Servo | Pack):
        return type(row), row.tag
    for name, kind in (("servo", Servo), ("pack", Pack)):
        found = getattr(row, name, None)
        if isinstance(found, Servo | Pack):
            return type(found), found.tag
        if isinstance(found, str) and found:
            return kind, found
    fit = getattr(row, "fit", None)
    tag = getattr(fit, "tag", None)
    return (Servo, tag) if isinstance(tag, str) else None
