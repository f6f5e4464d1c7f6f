"""Every constant of the models moved by a tenth, in all modules that took it over."""

from __future__ import annotations

import functools
import gc
import importlib
import pkgutil
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import ModuleType
from typing import Any

import hangar.physics
import hangar.rules
import hangar.survey
from hangar.rules import all_rules

_NAME = re.compile(r"_?[A-Z][A-Z0-9_]*")
_NATURE = re.compile(
    r"GRAVITY|_G$|PRESSURE|TEMPERATURE|LAPSE|GAS_CONSTANT|EARTH|HEAT_RATIO|ZERO|SUTHERLAND|DAYS|RESISTIVITY|"
    r"REFERENCE|INCH|SIXTY|ROUNDS|STEPS|TURNS|PANELS|SMALL|LEAST_OHM|NEARLY_V|Z90|HALF_PI|_MAD|NEUTRAL_PULSE|"
    r"DEGREES_PER|DEG_PER_US|LOWEST_M|HIGHEST_M|COLDEST|HOTTEST|DENSITY|GRID|SERIES_BELOW|KELVIN"
)
"""Constants of nature, units and the fineness of reckoning: they are what they are."""
_ELSEWHERE = (
    "hangar.physics.flight_",
    "hangar.physics.air",
    "hangar.physics.network_",
    "hangar.rules.example",
)
"""Modules that read flight logs, know the air or solve networks: no verdict's own numbers stand there."""
_KEPT = {"all_rules", "class_defaults", "shipped_thresholds", "_made", "_asked"}


def _modules() -> list[ModuleType]:
    all_rules()
    found = []
    for package in (hangar.physics, hangar.rules, hangar.survey):
        names = [info.name for info in pkgutil.walk_packages(package.__path__, f"{package.__name__}.")]
        found += [importlib.import_module(name) for name in names if not name.startswith(_ELSEWHERE)]
    return found


def constants() -> dict[str, tuple[ModuleType, str]]:
    """Every number that stands by itself under a name in capitals, by module and name."""
    found: dict[int, tuple[str, ModuleType, str]] = {}
    for module in _modules():
        for name, value in vars(module).items():
            if _NAME.fullmatch(name) and not _NATURE.search(name) and _is_number(value):
                # What a module took over from another is the same object and is moved with it.
                found.setdefault(
                    id(value), (f"{module.__name__.removeprefix('hangar.')}.{name}", module, name)
                )
    return {words: (module, name) for words, module, name in found.values()}


def _is_number(value: object) -> bool:
    if isinstance(value, dict):
        return bool(value) and all(isinstance(part, float) for part in value.values())
    return isinstance(value, float) and value not in (0.0, 1.0)


def _forget() -> None:
    """Empty every memory of worked results."""
    for thing in gc.get_objects():
        is_memory = isinstance(thing, functools._lru_cache_wrapper) and thing.__name__ not in _KEPT
        if is_memory and thing.__module__.startswith(("hangar.", "tests.rules.practice")):
            thing.cache_clear()


@contextmanager
def moved(module: ModuleType, name: str, times: float) -> Iterator[None]:
    """One constant so many times its value, everywhere, while it lasts."""
    value: Any = getattr(module, name)
    new = {key: times * part for key, part in value.items()} if isinstance(value, dict) else times * value
    places = [
        other
        for other_name, other in list(sys.modules.items())
        if other_name.startswith("hangar.") and vars(other).get(name) is value
    ]
    for place in places:
        setattr(place, name, new)
    _forget()
    try:
        yield
    finally:
        for place in places:
            setattr(place, name, value)
        _forget()
