"""The cautions of a sheet, and what stands at its foot."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

from hangar.answers.checklists import kind_of
from hangar.base.places import resources_dir
from hangar.parts import Aircraft
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import Chemistry, PowerKind

_JET_POWERS = (PowerKind.TURBINE, PowerKind.ELECTRIC)
_PISTON_AND_ELECTRIC = (PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL)
"""What may drive an aircraft of which nobody entered it."""


@dataclass(frozen=True)
class Caution:
    """One caution with whom it concerns; an empty list concerns everybody.

    ``before`` names the phase or the line of the field checklist in front of which it is printed.
    """

    code: str
    text: str
    sheets: tuple[str, ...]
    kinds: tuple[str, ...] = ()
    powers: tuple[str, ...] = ()
    chemistries: tuple[str, ...] = ()
    before: str = ""
    source: str = ""


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((resources_dir() / "cautions.toml").read_text("utf-8"))


@cache
def cautions() -> tuple[Caution, ...]:
    """Every caution."""
    lists = ("sheets", "kinds", "powers", "chemistries")
    return tuple(
        Caution(**{**row, **{name: tuple(row.get(name, ())) for name in lists}})
        for row in _table()["caution"]
    )


def footer() -> str:
    """What stands at the bottom of every sheet."""
    return str(_table()["footer"])


def cautions_of(aircraft: Aircraft, sheet: str) -> list[Caution]:
    """The cautions that a sheet for this aircraft carries; of what is not on record, those of every kind."""
    kind, powers = kind_of(aircraft), {aircraft.airframe.power}
    if is_power_unknown(aircraft.airframe):
        powers = set(_JET_POWERS if kind == "jet" else _PISTON_AND_ELECTRIC)
    chemistries = {fed.pack_type.chemistry for path in aircraft.paths for fed in path.packs}
    if not aircraft.paths or not all(path.packs for path in aircraft.paths):
        chemistries = set(Chemistry)
    return [
        caution
        for caution in cautions()
        if sheet in caution.sheets
        and (not caution.kinds or kind in caution.kinds)
        and (not caution.powers or powers & set(caution.powers))
        and (not caution.chemistries or chemistries & set(caution.chemistries))
    ]


def cautions_for(aircraft: Aircraft, sheet: str) -> list[str]:
    """The same as the sentences alone."""
    return [caution.text for caution in cautions_of(aircraft, sheet)]
