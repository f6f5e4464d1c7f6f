"""Plan-view outlines drawn for Hangar: read once from the travelling data, for paper and screen.

Places of dots run from 0 to 1: across from the left edge (seen from above, nose up), along from
nose to tail. No drawing library is needed here.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from hangar.base.places import resources_dir

OUTLINE_NAMES = ("aeroplane", "biplane", "sailplane", "v-tail", "jet", "helicopter")

Stroke = tuple[str, tuple[float, ...]]
"""A path word (M, L, C or Z) with its absolute coordinates."""


@dataclass(frozen=True)
class OutlinePart:
    """One path of an outline."""

    strokes: tuple[Stroke, ...]
    filled: bool
    dashed: bool


@dataclass(frozen=True)
class Outline:
    """A plan view: its size, its paths, and first places for servo dots as fractions."""

    name: str
    title: str
    width: float
    height: float
    parts: tuple[OutlinePart, ...]
    places: Mapping[str, tuple[float, float]]

    def place_for(self, function: str, side: str | None) -> tuple[float, float]:
        """Where a servo of that function goes until the keeper drags it."""
        for name in (f"{function} {side}", f"{function} middle"):
            if name in self.places:
                return self.places[name]
        return {"left": (0.3, 0.5), "right": (0.7, 0.5)}.get(side or "", (0.5, 0.5))


def outline_for(aircraft_class: str | None, wing_count: int = 1, v_tail: bool = False) -> str:
    """Which outline suits an aircraft of a class.

    >>> outline_for("sail-fast"), outline_for("scale", wing_count=2), outline_for("heli-el")
    ('sailplane', 'biplane', 'helicopter')
    """
    aircraft_class = aircraft_class or ""
    if aircraft_class.startswith("heli"):
        return "helicopter"
    if v_tail:
        return "v-tail"
    if aircraft_class.startswith("sail"):
        return "sailplane"
    if aircraft_class.startswith("jet"):
        return "jet"
    return "biplane" if wing_count >= 2 else "aeroplane"


@cache
def _drawings() -> dict[str, Any]:
    return tomllib.loads((resources_dir() / "icons" / "outlines.toml").read_text("utf-8"))


@cache
def load_outline(name: str) -> Outline:
    """One outline from the travelling data."""
    drawing = _drawings()[name]
    width, height = drawing["size"]
    parts = tuple(
        OutlinePart(
            tuple(read_strokes(part["path"])), not part.get("line", False), bool(part.get("dashed", False))
        )
        for part in drawing["parts"]
    )
    places = {place: (float(x), float(y)) for place, (x, y) in drawing["places"].items()}
    return Outline(name, drawing["title"], float(width), float(height), parts, places)


def read_strokes(words: str) -> Iterator[Stroke]:
    """The path words M, L, C and Z with absolute coordinates.

    Source: W3C Scalable Vector Graphics 1.1, section 8.3.

    >>> list(read_strokes("M 0 0 L 1 2 Z"))
    [('M', (0.0, 0.0)), ('L', (1.0, 2.0)), ('Z', ())]
    """
    tokens = words.split()
    at, word = 0, "M"
    while at < len(tokens):
        if tokens[at].isalpha():
            word = tokens[at]
            at += 1
        if word == "Z":
            yield word, ()
            continue
        used = 6 if word == "C" else 2
        yield word, tuple(float(token) for token in tokens[at : at + used])
        at += used
        # Further pairs after a move are lines.
        word = "L" if word == "M" else word
