"""Any field of any record may be blank: rules say so, and never stumble."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

from hangar.parts import Aircraft, Record
from hangar.parts.fields import columns
from hangar.rules import Level, look
from hangar.rules import examples as ex
from tests.all_cases import all_cases

AIRCRAFT = {"trainer": ex.trainer, "helicopter": ex.helicopter, "giant": ex.giant, "jet": ex.jet}


def _without(node: Any, kind: type[Record], field: str) -> Any:
    """The tree with one field of every record of a kind blank."""
    if isinstance(node, tuple):
        return tuple(_without(each, kind, field) for each in node)
    if not dataclasses.is_dataclass(node) or isinstance(node, type):
        return node
    if isinstance(node, kind):
        node = dataclasses.replace(node, **{field: None})
    held = {spec.name: getattr(node, spec.name) for spec in dataclasses.fields(node)}
    changed = {name: _without(value, kind, field) for name, value in held.items() if _is_node(value)}
    return dataclasses.replace(node, **changed) if changed else node


def _is_node(value: Any) -> bool:
    return isinstance(value, tuple) or (dataclasses.is_dataclass(value) and not isinstance(value, type))


def _kinds(node: Any) -> Iterator[type[Record]]:
    if isinstance(node, Record):
        yield type(node)
    if isinstance(node, tuple):
        for each in node:
            yield from _kinds(each)
    elif _is_node(node):
        for spec in dataclasses.fields(node):
            yield from _kinds(getattr(node, spec.name))


def _cases() -> list[tuple[str, type[Record], str]]:
    return [
        (name, kind, spec.name)
        for name, make in AIRCRAFT.items()
        for kind in sorted(set(_kinds(make())), key=lambda kind: kind.KIND)
        for spec in columns(kind)
        if spec.optional
    ]


@all_cases("name", AIRCRAFT)
def test_no_blank_field_makes_a_rule_stumble(name: str) -> None:
    for owner, kind, field in _cases():
        if owner == name:
            look(_without(AIRCRAFT[name](), kind, field), ex.home_day())


VITAL = [
    ("servo-type", "supply_max_v"), ("servo-type", "supply_min_v"), ("servo-type", "spline_teeth"),
    ("receiver", "supply_min_v"), ("receiver", "supply_max_v"), ("receiver", "channels"),
    ("pack-type", "burst_a"), ("pack-type", "continuous_a"), ("airframe", "all_up_mass_g"),
    ("airframe", "cg_measured_mm"), ("airframe", "cg_fore_mm"), ("airframe", "flight_min"),
    ("linkage", "arm_mm"), ("linkage", "horn_mm"), ("surface", "throw_up_deg"), ("lead", "awg"),
    ("installation", "arm_teeth"), ("switch-type", "continuous_a"), ("servo-rating", "stall_a"),
    ("installation", "arm_screw"), ("airframe", "registration_place"), ("position", "channel"),
]  # fmt: skip


@all_cases("kind_name, field", VITAL)
def test_a_vital_blank_is_asked_for_by_name(kind_name: str, field: str) -> None:
    aircraft = ex.trainer()
    kind = next(kind for kind in _kinds(aircraft) if kind_name == kind.KIND)
    blank: Aircraft = _without(aircraft, kind, field)
    asked = [finding for finding in look(blank, ex.home_day()) if finding.missing]
    assert asked, f"{kind_name} {field} is blank and nobody asks"
    label = next(spec.label for spec in columns(kind) if spec.name == field)
    named = [words for finding in asked for words in finding.missing]
    assert any(label in str(words) for words in named)
    # A stall current is estimated from torque and speed, a throw is the usual one; the blank is named.
    if field not in ("stall_a", "throw_up_deg"):
        assert any(finding.level is Level.CANT_TELL for finding in asked)
