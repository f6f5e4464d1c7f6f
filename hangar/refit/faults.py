"""What is wrong at each place of an aircraft, at its gravest."""

from __future__ import annotations

from collections.abc import Iterable

from hangar.parts import Aircraft
from hangar.rules.finding import Level
from hangar.rules.flag import Flag

Faults = dict[tuple[str, str], Level]
"""The gravest level of each rule at each position, or at the aircraft."""


def is_graver(level: Level, other: Level | None) -> bool:
    """Whether a level is graver than another one, or than nothing."""
    return other is None or level.rank < other.rank


def faults_of(aircraft: Aircraft, flags: Iterable[tuple[str, Flag]]) -> Faults:
    """The faults of an aircraft.

    Args:
        aircraft: the aircraft.
        flags: what was noticed of it, each behind the slug of its rule.
    """
    gravest: Faults = {}
    for slug, flag in flags:
        places = [code for code in flag.about if aircraft.fit(code) is not None]
        for place in places or [""]:
            if is_graver(flag.level, gravest.get((slug, place))):
                gravest[slug, place] = flag.level
    return gravest
