"""What the checklists set: the stages of a bench check with their limits, and the load of a pack's test."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from hangar.base.places import resources_dir
from hangar.parts.choices import AircraftClass
from hangar.parts.thresholds import Thresholds


@cache
def checklists() -> Mapping[str, Any]:
    """Every list of the checklists by its name: field, bench, build, and what they name."""
    return tomllib.loads((resources_dir() / "checklists.toml").read_text("utf-8"))


def bench_stages() -> Sequence[Mapping[str, Any]]:
    """The stages of a bench check in the order of doing, with their limits."""
    stages: Sequence[Mapping[str, Any]] = checklists()["bench"]
    return stages


def stage(code: str) -> Mapping[str, Any]:
    """One stage of a bench check by its code."""
    return next(row for row in bench_stages() if row["code"] == code)


def test_load_a(aircraft_class: AircraftClass | None, thresholds: Thresholds) -> float:
    """Current at which a pack of such an aircraft is tested on the field, as the keeper set it."""
    return thresholds.value("test-load", aircraft_class)
