"""Which field of a record kind a heading of a table means, and in which unit its column is given."""

from __future__ import annotations

import re
from collections.abc import Hashable, Sequence
from functools import cache
from typing import NamedTuple

from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, text
from hangar.base.units import parse_quantity, symbol_of, unit_named, units_of_kind
from hangar.parts import Airframe, Arm, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.store.cells import Column
from hangar.store.kept_columns import kept_column
from hangar.store.limits import NUMBER_TEXT_MOST

_WITH_UNIT = re.compile(r"(.+?)\s*(?:\[(.+)\]|\((.+)\))")
_ALSO: dict[type[Record], dict[str, str]] = {
    Airframe: {
        "wing_span": "span_mm",
        "wingspan": "span_mm",
        "weight": "all_up_mass_g",
        "mass": "all_up_mass_g",
        "flying_weight": "all_up_mass_g",
        "auw": "all_up_mass_g",
        "all_up_weight": "all_up_mass_g",
        "empty_weight": "empty_mass_g",
    },
    Arm: {"holes": "holes_mm"},
}
"""What keepers call fields; a number's with a unit beside it only."""


def column_of(kind: type[Record], header: str) -> Column:
    """The field that a heading means, such as ``torque_nm``, ``torque [ozf in]`` or ``Wing Span (m)``.

    Raises: BadInput when there is none, or its unit is not there or does not fit.
    """
    if len(header) > NUMBER_TEXT_MOST:
        raise BadInput(
            "is a heading of {count} characters; allowed are {most}.",
            count=len(header),
            most=NUMBER_TEXT_MOST,
        )
    bracket = _WITH_UNIT.fullmatch(header)
    unit = (bracket[2] or bracket[3]) if bracket else None
    name = _squeezed(bracket[1] if bracket else header)
    fault: BadInput | None = None
    for spec in _fitting(kind, name, with_unit=unit is not None):
        try:
            return Column(spec, header, _unit(spec, unit) if unit else None)
        except BadInput as misfit:
            # Of a load's amperes and its seconds, "load [s]" means the one that the unit fits.
            fault = fault or misfit
    raise fault or _not_known(kind, name, header)


def is_headed_for(kind: type[Record], headers: Sequence[str]) -> bool:
    """Whether a table is one of a record kind: half of its headings at least are fields of it."""
    named = [header for header in headers if header and kept_column(kind, header) is None]
    return sum(_is_field(kind, header) for header in named) >= max(1, 0.5 * len(named))


def _is_field(kind: type[Record], header: str) -> bool:
    try:
        column_of(kind, header)
    except BadInput:
        return False
    return True


def doubt_of(kind: type[Record], header: str) -> Text | None:
    """What a heading was taken for where it could mean something else."""
    bracket = _WITH_UNIT.fullmatch(header)
    is_bare = kind is Airframe and bracket is not None and _squeezed(bracket[1]) in ("weight", "mass")
    return text("taken as the all-up mass.") if is_bare else None


def _fitting(kind: type[Record], name: str, *, with_unit: bool) -> list[FieldSpec]:
    """Fields of that very name first, then those that are called so; one with a unit only beside its unit."""
    names = _names_in(kind)
    named = [other_name.spec for other_name in names if name in (other_name.spec.name, other_name.plain)]
    called = [
        other_name.spec for other_name in names if name in other_name.every and other_name.spec not in named
    ]
    return [spec for spec in (*named, *called) if name == spec.name or with_unit or not _is_unclear(spec)]


def _is_unclear(spec: FieldSpec) -> bool:
    """Whether a bare number could be in more than one unit."""
    return spec.unit is not None and len(units_of_kind(unit_named(spec.unit).kind)) > 1


class _Names(NamedTuple):
    """A field with what it is called: its name in words, and every name of it, both squeezed."""

    spec: FieldSpec
    plain: str
    every: frozenset[str]


def _names_in(kind: type[Record]) -> tuple[_Names, ...]:
    """The names of all fields of a kind; made once, for a heading is held against those of every kind."""
    return _made_names(kind)  # type: ignore[arg-type]  # mypy looks at the instances' hash


@cache
def _made_names(kind: Hashable) -> tuple[_Names, ...]:
    made = []
    for spec in columns(kind):  # type: ignore[arg-type]
        also = (words for words, field in _ALSO.get(kind, {}).items() if field == spec.name)  # type: ignore[call-overload]
        plain = _squeezed(spec.plain_words)
        made.append(_Names(spec, plain, frozenset((plain, _squeezed(spec.label), *also))))
    return tuple(made)


def _not_known(kind: type[Record], name: str, header: str) -> BadInput:
    without_unit = next((names.spec for names in _names_in(kind) if name in names.every), None)
    stored = without_unit.unit if without_unit else None
    if stored is not None:
        symbol = symbol_of(unit_named(stored).key)
        return BadInput(
            "has no unit; write it with one, such as {header} [{symbol}].", header=header, symbol=symbol
        )
    fields = ", ".join(spec.name for spec in columns(kind))
    return BadInput("is no field of {kind}; the fields are {fields}.", kind=fixed(kind.TITLE), fields=fields)


def _squeezed(name: str) -> str:
    return re.sub(r"[\s-]+", "_", name.strip().lower())


def _unit(spec: FieldSpec, words: str) -> str:
    stored = spec.unit
    if stored is None:
        raise BadInput("{name} has no unit; found [{words}].", name=spec.name, words=words)
    return parse_quantity(f"1 {words}", unit_named(stored).kind).unit
