"""What a plan may do at one place: options with their lines, in lists that exclude each other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from hangar.parts import PlanLine
from hangar.refit.refusal import Refusal
from hangar.rules.cures import Cure

PLAN = "REFIT"
"""Code of the plan that lines are written for until the keeper names it."""


def swap_key(code: str) -> str:
    """What stands for an aircraft among the spares: it takes part in one swap at most."""
    return f"swap with {code}"


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One option of a list.

    Attributes:
        lines: what is done, in order; none to leave it as it is. Parts from the bay have no tag yet.
        price: of what is bought.
        hours: of work.
        mass_g: change of mass.
        spares: how many parts of each type come from the bay, by tag or type.
        frees: tags of servos that come off with it and that another list of the plan could take.
        gives: tags of servos that come off with it and that other aircraft are offered.
        buys: how many servos of each type are bought.
        does: the actions it takes.
        elsewhere: what it does on other aircraft, by their codes; price and hours of that are among its own.
    """

    lines: tuple[PlanLine, ...] = ()
    price: float = 0.0
    hours: float = 0.0
    mass_g: float = 0.0
    spares: Mapping[str, int] = field(default_factory=dict)
    buys: Mapping[str, int] = field(default_factory=dict)
    frees: frozenset[str] = frozenset()
    gives: frozenset[str] = frozenset()
    does: frozenset[Cure] = frozenset()
    elsewhere: Mapping[str, tuple[PlanLine, ...]] = field(default_factory=dict)

    @property
    def is_as_it_is(self) -> bool:
        """Whether nothing is changed."""
        return not self.lines


AS_IT_IS = Choice()


@dataclass(frozen=True, kw_only=True)
class ChoiceList:
    """Options of which a plan takes exactly one.

    Attributes:
        name: what it is about, such as the positions of a swashplate.
        places: codes of the positions or power paths that its options touch.
        kinds: the actions its options may take; a rule that none of them cures does not look at it.
        choices: the options, the one that changes nothing first where that is allowed.
        refused: what was not offered, each with the first hard reason.
        locked: whether the keeper wants it as it is.
    """

    name: str
    places: tuple[str, ...]
    kinds: frozenset[Cure]
    choices: tuple[Choice, ...]
    refused: tuple[Refusal, ...] = ()
    locked: bool = False


def kinds_of(choices: Iterable[Choice]) -> frozenset[Cure]:
    """All actions that options take."""
    return frozenset(kind for choice in choices for kind in choice.does)
