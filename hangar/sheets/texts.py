"""The words that sheets carry: checklist lines, cautions and the footer, chosen for one aircraft."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from hangar.answers.checklists import checklists
from hangar.base.places import resources_dir
from hangar.base.text import Arg, Text, series, text
from hangar.parts import Aircraft
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import Chemistry, PowerKind, RotorKind

if TYPE_CHECKING:
    from hangar.sheets.case import SheetCase
    from hangar.sheets.style import SheetStyle

ANY_POWER = "X"
_JET_POWERS = (PowerKind.TURBINE, PowerKind.ELECTRIC)
_PISTON_AND_ELECTRIC = (PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL)
"""What may drive an aircraft of which nobody entered it."""


PHASES: tuple[tuple[str, Text, Text], ...] = (
    ("home", text("Home"), text("the evening before")),
    ("pits", text("Pits"), text("nothing switched on; motor made safe")),
    ("power", text("Power on"), text("motor still made safe")),
    ("line", text("At the line"), text("motor armed here, not before")),
    ("after", text("After"), text("after each flight")),
)
"""Places and moments of a field day in their order: name, title, what holds there."""


@dataclass(frozen=True)
class CheckLine:
    """One line of the field checklist; ``phase`` says when, ``stop`` that a no puts the aircraft away."""

    id: str
    text: str
    kinds: Mapping[str, str]
    phase: str = ""
    stop: bool = False
    fitted: tuple[str, ...] = ()
    expected: str = ""
    source: str = ""


@dataclass(frozen=True)
class Caution:
    """One caution with whom it concerns; an empty list concerns everybody."""

    code: str
    text: str
    sheets: tuple[str, ...]
    kinds: tuple[str, ...] = ()
    powers: tuple[str, ...] = ()
    chemistries: tuple[str, ...] = ()
    source: str = ""


@cache
def _cautions() -> dict[str, Any]:
    return tomllib.loads((resources_dir() / "cautions.toml").read_text("utf-8"))


@cache
def check_lines() -> tuple[CheckLine, ...]:
    """Every line of the field checklist in the order of doing."""
    rows = checklists()["field"]
    return tuple(CheckLine(**{**row, "fitted": tuple(row.get("fitted", ()))}) for row in rows)


@cache
def cautions() -> tuple[Caution, ...]:
    """Every caution."""
    lists = ("sheets", "kinds", "powers", "chemistries")
    return tuple(
        Caution(**{**row, **{name: tuple(row.get(name, ())) for name in lists}})
        for row in _cautions()["caution"]
    )


def footer() -> str:
    """What stands at the bottom of every sheet."""
    return str(_cautions()["footer"])


def kind_of(aircraft: Aircraft) -> str:
    """Heli, aeroplane, sailplane or jet."""
    kinds = checklists()["kinds"]
    return next(str(kind) for kind, classes in kinds.items() if aircraft.airframe.aircraft_class in classes)


def cautions_for(aircraft: Aircraft, sheet: str) -> list[str]:
    """The cautions that a sheet for this aircraft carries; of what is not on record, those of every kind."""
    kind, powers = kind_of(aircraft), {aircraft.airframe.power}
    if is_power_unknown(aircraft.airframe):
        powers = set(_JET_POWERS if kind == "jet" else _PISTON_AND_ELECTRIC)
    chemistries = {fed.pack_type.chemistry for path in aircraft.paths for fed in path.packs}
    if not aircraft.paths or not all(path.packs for path in aircraft.paths):
        chemistries = set(Chemistry)
    return [
        caution.text
        for caution in cautions()
        if sheet in caution.sheets
        and (not caution.kinds or kind in caution.kinds)
        and (not caution.powers or powers & set(caution.powers))
        and (not caution.chemistries or chemistries & set(caution.chemistries))
    ]


def field_items(case: SheetCase, style: SheetStyle) -> list[Text]:
    """The checklist lines that this aircraft needs, with its own figure behind each."""
    return list(field_lines(case, style).values())


def field_lines(case: SheetCase, style: SheetStyle) -> dict[str, Text]:
    """The same by the unchanging names of the lines, in the order of doing."""
    aircraft = case.aircraft
    letter = checklists()["powers"][aircraft.airframe.power]
    functions = {fit.function for fit in aircraft.fits} | {channel.function for channel in aircraft.channels}
    items = {}
    for line in check_lines():
        powers = line.kinds.get(kind_of(aircraft), "")
        unasked = powers != ANY_POWER and letter not in powers
        unfitted = bool(line.fitted) and not functions & set(line.fitted)
        if unasked or unfitted or line.expected in _IN_TABLES:
            continue
        find = _EXPECTED.get(line.expected)
        value = find(case, style) if find else None
        said = text(line.text)
        items[line.id] = text("{line}: {found}.", line=said.as_clause(), found=value) if value else said
    return items


def phase_lines(case: SheetCase, style: SheetStyle, phase: str) -> dict[str, Text]:
    """Those of one place and moment, see :data:`PHASES`."""
    of_phase = {line.id for line in check_lines() if line.phase == phase}
    return {name: said for name, said in field_lines(case, style).items() if name in of_phase}


def _free_play(case: SheetCase, style: SheetStyle) -> Arg:
    limit = case.thresholds.value("play", case.aircraft.airframe.aircraft_class)
    return text("limit {angle}", angle=style.show(limit, "deg"))


def _pitch(case: SheetCase, style: SheetStyle) -> Arg:
    rotor = case.aircraft.rotor(RotorKind.MAIN)
    return text("to {angle}", angle=style.show(rotor.pitch_deg, "deg")) if rotor and rotor.pitch_deg else None


def _joints(case: SheetCase, _style: SheetStyle) -> Arg:
    jointed = [fit.code for fit in case.aircraft.fits if fit.lead and (fit.lead.joints or 0) > 1]
    return text("joints at {places}", places=series(jointed, ",")) if jointed else None


def _balance(case: SheetCase, style: SheetStyle) -> Arg:
    frame = case.aircraft.airframe
    fore, aft = style.show(frame.cg_fore_mm, "mm"), style.show(frame.cg_aft_mm, "mm")
    return text("{low} to {high}", low=fore, high=aft) if fore and aft else None


def _range(case: SheetCase, style: SheetStyle) -> Arg:
    checks = case.aircraft.range_checks
    distance = checks[-1].distance_m if checks else None
    return (
        text(
            "last {distance} on {day}",
            distance=style.show(distance, "m"),
            day=checks[-1].checked_on,
        )
        if distance
        else None
    )


_IN_TABLES = {"pack-minimum-volts", "throws", "failsafe-table"}
"""Lines that a table of the sheet carries with a box of its own for each part."""

_EXPECTED: dict[str, Callable[[SheetCase, SheetStyle], Arg]] = {
    "propeller": lambda case, _: case.aircraft.airframe.propeller,
    "free-play-limit": _free_play,
    "pitch-range": _pitch,
    "joint-list": _joints,
    "balance-range": _balance,
    "range-distance": _range,
    "site": lambda case, _: case.aircraft.airframe.site,
}


def known_expectations() -> Sequence[str]:
    """The figures that a checklist line can ask for by name."""
    return tuple(_EXPECTED)
