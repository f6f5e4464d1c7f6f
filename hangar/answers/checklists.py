"""What the checklists set: lines for an aircraft in their order, stages of a bench check, load of a test."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from hangar.base.places import resources_dir
from hangar.base.text import Text, text
from hangar.parts import Aircraft
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import AircraftClass, RotorKind
from hangar.parts.thresholds import Thresholds

ANY_POWER = "X"
PHASES: tuple[tuple[str, Text, Text], ...] = (
    ("home", text("Home"), text("the evening before")),
    ("pits", text("Pits"), text("nothing switched on; motor made safe")),
    ("power", text("Power on"), text("motor still made safe")),
    ("line", text("At the line"), text("motor armed here, not before")),
    ("after", text("After"), text("after each flight")),
)
"""Places and moments of a field day in their order: name, title, what holds there."""
RELEASED_AFTER = "line"
"""The phase behind which the aircraft is released to fly."""


@dataclass(frozen=True)
class CheckLine:
    """One line of the field checklist, see resources/checklists.toml."""

    id: str
    say: str
    need: str
    kinds: Mapping[str, str]
    phase: str = ""
    stop: bool = False
    fitted: tuple[str, ...] = ()
    only: str = ""
    parts: str = ""
    value: str = ""
    unit: str = ""
    source: str = ""


@cache
def checklists() -> Mapping[str, Any]:
    """Every list of the checklists by its name: field, bench, build, and what they name."""
    return tomllib.loads((resources_dir() / "checklists.toml").read_text("utf-8"))


def bench_stages() -> Sequence[Mapping[str, Any]]:
    """The stages of a bench check in the order of doing, with their limits."""
    stages: Sequence[Mapping[str, Any]] = checklists()["bench"]
    return stages


def stage(code: str) -> Mapping[str, Any]:
    """One stage by its code."""
    return next(row for row in bench_stages() if row["code"] == code)


@cache
def check_lines() -> tuple[CheckLine, ...]:
    """Every line of the field checklist in the order of doing."""
    return tuple(
        CheckLine(**{**row, "fitted": tuple(row.get("fitted", ()))}) for row in checklists()["field"]
    )


def kind_of(aircraft: Aircraft) -> str:
    """Heli, aeroplane, sailplane or jet."""
    kinds = checklists()["kinds"]
    return next(str(kind) for kind, classes in kinds.items() if aircraft.airframe.aircraft_class in classes)


def lines_for(aircraft: Aircraft) -> list[CheckLine]:
    """The lines of the field checklist that this aircraft needs; those of every power while none is known."""
    letters = _power_letters(aircraft)
    functions = {fit.function for fit in aircraft.fits} | {channel.function for channel in aircraft.channels}
    kind, flybar = kind_of(aircraft), _flybar(aircraft)
    return [
        line
        for line in check_lines()
        if (powers := line.kinds.get(kind, ""))
        and (powers == ANY_POWER or letters & set(powers))
        and (not line.fitted or functions & set(line.fitted))
        and not (line.only == "flybar" and flybar is False)
        and not (line.only == "no flybar" and flybar is True)
    ]


def _power_letters(aircraft: Aircraft) -> set[str]:
    if is_power_unknown(aircraft.airframe):
        return set("EIT")
    return {checklists()["powers"][aircraft.airframe.power]}


def _flybar(aircraft: Aircraft) -> bool | None:
    rotor = aircraft.rotor(RotorKind.MAIN)
    return rotor.flybar if rotor else None


def test_load_a(aircraft_class: AircraftClass | None, thresholds: Thresholds) -> float:
    """Current at which a pack of such an aircraft is tested on the field, as the keeper set it."""
    return thresholds.value("test-load", aircraft_class)
