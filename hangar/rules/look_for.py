"""What to look for where a reading does not fit: likely causes by kind of reading, the first one first."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache

from hangar.base.places import resources_dir
from hangar.base.text import Text, fixed, text


@cache
def _causes() -> Mapping[str, Mapping[str, str]]:
    with (resources_dir() / "look_for.toml").open("rb") as file:
        return tomllib.load(file)


def look_for(kind: str, z: float) -> Text | None:
    """The likely causes of a reading that is too high or too low; None where none are known.

    Args:
        kind: kind of the reading, as the list has it.
        z: above 0 where it is too high.
    """
    causes = _causes().get(kind, {}).get("high" if z > 0.0 else "low")
    return None if causes is None else fixed(causes)


def look_and_read_again(kind: str, z: float) -> Text:
    """What to do about a reading that does not fit."""
    causes = look_for(kind, z)
    if causes is None:
        return text("Read it again.")
    return text("Look for {causes}; then read it again.", causes=causes)
