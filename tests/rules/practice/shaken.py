"""The practice set-ups with one limit or typical value moved by a tenth: verdicts must not hang on a hair."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangar.parts.choices import AircraftClass
from hangar.parts.thresholds import Thresholds, shipped_thresholds
from hangar.rules.examples import DAY
from hangar.survey import Conditions
from hangar.survey.defaults import class_defaults
from tests.rules.practice.judging import SETUPS, Tally, judge, tally

TENTH = (0.9, 1.1)
_LAW = ("mark-mass", "mass-notice", "turbine-speed", "turbine-stop", "wing-loading-f3f", "travel-free",
        "travel-limit")  # fmt: skip
"""Limits of law and contest: they are what they are."""


def moved_limits() -> Iterator[tuple[str, Thresholds]]:
    """Every limit of ours, a tenth lower and a tenth higher, in all classes; shares stay below the whole."""
    for name, one in shipped_thresholds().items():
        for times in TENTH if name not in _LAW else ():
            most = 100.0 if one.unit == "%" and one.default <= 100.0 else math.inf
            own = {f"{name}.{kind}": min(most, times * one.shipped(kind)) for kind in AircraftClass}
            yield f"{name} x {times}", Thresholds(own)


def moved_values() -> Iterator[tuple[str, Conditions]]:
    """Every typical value, a tenth lower and a tenth higher, for all its keys; shares stay below 1."""
    defaults = class_defaults()
    for name in vars(type(defaults))["__dataclass_fields__"]:
        typical = getattr(defaults, name)
        share = typical.unit == "ratio" and max(typical.by.values()) <= 1.0
        for times in TENTH:
            own = {
                f"{name}.{key}": min(1.0, times * value) if share else times * value
                for key, value in typical.by.items()
            }
            yield f"{name} x {times}", Conditions(today=DAY, defaults=own)


def every_shake() -> Iterator[tuple[str, Tally]]:
    """What becomes of all set-ups under each of them."""
    for name, thresholds in moved_limits():
        yield name, tally(judge(setup, thresholds) for setup in SETUPS)
    for name, conditions in moved_values():
        yield name, tally(judge(setup, conditions=conditions) for setup in SETUPS)
