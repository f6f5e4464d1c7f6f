"""What is not confirmed of an aircraft: fields that come from a keeper's sheet and were doubted there."""

from __future__ import annotations

from hangar.base.kept_text import said_in
from hangar.base.text import Arg, Text, fixed, text
from hangar.parts import KIND_BY_NAME, Aircraft, FieldOrigin
from hangar.parts.fields import columns

NOT_CONFIRMED = "not-confirmed"
"""The rule that names what is not confirmed."""


def origin_words(origin: FieldOrigin) -> Text:
    """The cell that a field came from, with what is doubted about it."""
    place = text("{file}, row {row}", file=origin.file, row=origin.row)
    if origin.tab:
        place = text("{file} [{tab}], row {row}", file=origin.file, tab=origin.tab, row=origin.row)
    doubt: Arg = said_in(origin.doubt) or None
    if doubt is None:
        return text('{place}: "{found}"', place=place, found=origin.text)
    return text('{place}: "{found}" {doubt}', place=place, found=origin.text, doubt=doubt)


def origin_field(origin: FieldOrigin) -> Text:
    """The field of a record that is not confirmed: "position DUN AIL-L: function"."""
    kind = KIND_BY_NAME.get(origin.kind)
    label = (
        next((spec.label for spec in columns(kind) if spec.name == origin.field), origin.field)
        if kind
        else ""
    )
    return text(
        "{kind} {record}: {field}",
        kind=fixed(kind.TITLE) if kind else origin.kind,
        record=origin.record.replace("|", " "),
        field=fixed(label),
    )


def parts_named(origin: FieldOrigin) -> frozenset[str]:
    """The codes and tags that the record of an origin is known by."""
    return frozenset(origin.record.split("|"))


def origins_about(aircraft: Aircraft, about: tuple[str, ...]) -> tuple[FieldOrigin, ...]:
    """What is not confirmed of the parts that a finding concerns, and of what sits there."""
    if not aircraft.origins:
        return ()
    names = set(about)
    for fit in aircraft.fits:
        if fit.code in names or (fit.tag and fit.tag in names):
            names |= {fit.code, fit.tag or "", fit.servo.servo_type if fit.servo else ""}
    names -= {"", aircraft.code}
    return tuple(origin for origin in aircraft.origins if parts_named(origin) & names)
