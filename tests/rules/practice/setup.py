"""What a practice set-up is: an aircraft, what a practitioner says of it, and why."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hangar.parts import Aircraft
from hangar.rules import Level
from hangar.survey import Conditions


@dataclass(frozen=True, kw_only=True)
class Setup:
    """One set-up with its label. Every label: common practice, no source.

    Attributes:
        name: what it is, in a few words.
        why: why it flies, or what goes wrong.
        make: builds it.
        faults: slugs of the rules that may name its one fault; empty for one that is fine.
        least: the level that the fault must at least be told with.
        day: the day it is judged on; None for the examples' day at home.
    """

    name: str
    why: str
    make: Callable[[], Aircraft]
    faults: frozenset[str] = frozenset()
    least: Level = Level.WARNING
    day: Conditions | None = None

    @property
    def is_sound(self) -> bool:
        """Whether it flies as it is."""
        return not self.faults
