"""The practice set-ups with one limit, value or constant moved by a tenth: no verdict hangs on a hair."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from hangar.parts.choices import AircraftClass
from hangar.parts.thresholds import Thresholds, shipped_thresholds
from hangar.rules.examples import DAY
from hangar.survey import Conditions
from hangar.survey.defaults import class_defaults
from tests.rules.practice.constants import constants, moved
from tests.rules.practice.judging import SETUPS, Tally, judge, surveyed, tally
from tests.rules.practice.setup import Setup

TENTH = (0.9, 1.1)
_LAW = ("mark-mass", "mass-notice", "turbine-speed", "turbine-stop", "wing-loading-f3f", "travel-free",
        "travel-limit")  # fmt: skip
"""Limits of law and contest: they are what they are."""


def moved_limits() -> Iterator[tuple[str, Thresholds]]:
    """Every limit of ours, a tenth lower and a tenth higher, in all classes; shares stay below the whole."""
    for name, shipped_threshold in shipped_thresholds().items():
        for times in TENTH if name not in _LAW else ():
            most = 100.0 if shipped_threshold.unit == "%" and shipped_threshold.default <= 100.0 else math.inf
            own = {
                f"{name}.{kind}": min(most, times * shipped_threshold.shipped(kind)) for kind in AircraftClass
            }
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


def constant_shakes() -> Iterator[tuple[str, Tally]]:
    """What becomes of all set-ups with each constant of the models a tenth lower and a tenth higher.

    A constant that moves nothing in every eighth set-up, figures included, is passed over.
    """
    few = SETUPS[::8]
    before = _figures(few)
    for words, (module, name) in constants().items():
        for times in TENTH:
            with moved(module, name, times):
                counts = tally(judge(setup) for setup in SETUPS) if _figures(few) != before else None
            if counts is not None:
                yield f"{words} x {times}", counts


def _figures(setups: Sequence[Setup]) -> list[object]:
    """What the checks say of some set-ups, with every number."""
    return [
        (finding.rule, finding.level, finding.margin, str(finding.message))
        for setup in setups
        for finding in judge(setup).findings
    ] + [
        (code, position.control, position.torque_nm, position.load_nm, position.delivered_v)
        for setup in setups
        for code, position in surveyed(setup).positions.items()
    ]


def every_shake() -> Iterator[tuple[str, Tally]]:
    """What becomes of all set-ups under each of them."""
    for name, thresholds in moved_limits():
        yield name, tally(judge(setup, thresholds) for setup in SETUPS)
    for name, conditions in moved_values():
        yield name, tally(judge(setup, conditions=conditions) for setup in SETUPS)
    yield from constant_shakes()
