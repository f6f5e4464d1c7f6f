"""What a rule declares for the planner: what cures it, what makes it worse, what a part would need."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import KW_ONLY, dataclass
from enum import Enum, StrEnum, auto
from types import MappingProxyType
from typing import Any

from hangar.base.text import NOTHING, Amount, Text, listed, text
from hangar.base.values import value_class
from hangar.rules.finding import Level


class Cure(StrEnum):
    """An action of a plan that can change a rule's verdict."""

    SERVO = "another servo"
    ARM = "another arm"
    HORN = "another hole of the horn"
    ROD = "another rod or guide"
    KEEPER = "a keeper on the clevis"
    LEAD = "another lead"
    LOCK = "a lock on the joints"
    SLEEVE = "a sleeve or grommet"
    HEAT_SLEEVE = "a heat sleeve"
    TIE = "ties on the lead"
    SHRINK = "shrink tube at the ends of a sleeve"
    FIXINGS = "screws and grommets"
    SUPPLY = "another supply"
    PULSE = "the pulse of the output"
    RATE = "the frame rate of the output"
    RECEIVER = "another receiver"
    CABLE = "the tension of the cable"
    LOOP = "a loop along the hinge"
    TWIST = "twisted wires"


PARTS = frozenset({Cure.SERVO, Cure.ARM, Cure.ROD, Cure.LEAD, Cure.SUPPLY, Cure.RECEIVER})
"""Actions that take a part of which the library may have none that is good enough."""
SMALL_WORK = frozenset(
    {
        *(Cure.KEEPER, Cure.LOCK, Cure.SLEEVE, Cure.HEAT_SLEEVE, Cure.TIE, Cure.SHRINK, Cure.FIXINGS),
        *(Cure.CABLE, Cure.LOOP, Cure.TWIST),
    }
)
"""Handwork that can always be done: what it cures never waits for a part."""


class Worse(Enum):
    """The one quantity of the supply that can only make a rule's verdict worse.

    It tells what one judged plan teaches of others: a verdict seen there is seen again wherever the
    same columns meet the same quantity, or one that is worse.

    Attributes:
        NOTHING: its own columns, wherever they are fitted.
        LESS_BUS_VOLTS: these columns, at these bus volts or less, on any supply.
        MORE_PEAK: this supply, at this peak current or more.
        MORE_PEAK_UNLIMITED: this supply, at this peak current or more while no regulator limits it.
        MORE_STALL: this supply, at this stall current or more.
        MORE_MEAN: this supply, at this mean current or more.
        MORE_CURRENT: this supply, at these currents or more, each of them: peak, stall, mean and brisk.
        LESS_PEAK: these columns, this supply, at this peak current or less.
        MORE_OPEN_VOLTS: these columns, any supply of this kind with these unloaded volts or more.
        WEAKEST: the column with the lowest highest volts, this supply.
        SUPPLY: this supply.
        FIXED: the aircraft.
    """

    NOTHING = auto()
    LESS_BUS_VOLTS = auto()
    MORE_PEAK = auto()
    MORE_PEAK_UNLIMITED = auto()
    MORE_STALL = auto()
    MORE_MEAN = auto()
    MORE_CURRENT = auto()
    LESS_PEAK = auto()
    MORE_OPEN_VOLTS = auto()
    WEAKEST = auto()
    SUPPLY = auto()
    FIXED = auto()


class OfServo(Enum):
    """The one property of a servo that a rule's verdict at its place hangs on, besides linkage and lead.

    It tells what one type that was judged teaches of others: a verdict is seen again with every type that
    is no better there.

    Attributes:
        TORQUE: stall torque at the volts that arrive; less is worse.
        HOLD: the same among servos of one kind, dead band and reading of how they hold.
        HIGHEST_VOLTS: highest volts and what they mean; the same is the same.
    """

    TORQUE = auto()
    HOLD = auto()
    HIGHEST_VOLTS = auto()


class SupplyPart(Enum):
    """A part of the power paths that a rule's verdict hangs on; with the same ones it is the same.

    Attributes:
        PACK: the packs of each path and how they are joined.
        REGULATOR: its type and the volts it is set to.
        SWITCH: its type.
        PATHS: how many paths there are, and whether each has a switch.
    """

    PACK = auto()
    REGULATOR = auto()
    SWITCH = auto()
    PATHS = auto()


def cure_words(cures: tuple[Cure, ...] | None) -> Text:
    """What a refit may cure it by, made of what its rule declares; nothing where no plan cures it.

    >>> str(cure_words((Cure.SUPPLY, Cure.SERVO)))
    'A refit may cure it by another supply or another servo.'
    """
    if not cures:
        return NOTHING
    return text("A refit may cure it by {cures}.", cures=listed(cures, joint="or", most=0))


WorseAt = Worse | Mapping[Level, Worse]


def worse_at(declared: WorseAt | None, level: Level) -> Worse | None:
    """What makes a rule worse at a level; None where it is not declared: then this very plan only.

    >>> worse_at({Level.WARNING: Worse.MORE_STALL}, Level.WARNING).name
    'MORE_STALL'
    """
    if declared is None or isinstance(declared, Worse):
        return declared
    return declared.get(level)


@value_class
class Need:
    """What a part would have to have to cure a flag.

    Attributes:
        part: ``servo``, ``arm``, ``pack``, ``regulator``, ``switch``, ``receiver`` or ``lead``.
        quantity: ``torque``, ``speed``, ``highest volts``, ``current``, ``capacity`` and the like.
        value: the least it needs, or the most where ``at_most``, in ``unit``.
        at: where it is needed, such as the bus volts, in ``at_unit``; None where it does not matter.
        within: further bounds by name, each with its unit, such as the width of the servo bay.
        at_most: whether ``value`` is the most and not the least.
        words: what is asked for, where that is no plain quantity; a kind of part has no ``value``.
    """

    _: KW_ONLY
    part: str
    quantity: str = ""
    value: float | None = None
    unit: str = ""
    at: float | None = None
    at_unit: str = ""
    within: tuple[tuple[str, float, str], ...] = ()
    at_most: bool = False
    words: Text = NOTHING


@dataclass(frozen=True, kw_only=True)
class Wants:
    """What a part would need to cure a rule, declared at the rule.

    Attributes:
        part: as in :class:`Need`.
        words: what is asked for; of a figure a function of it.
        quantity: what the figure is; empty where a kind of part is asked for.
        of: the figure of the flag that says how much, by the beginning of its name, or a function of case and
            flag; the greatest of several, or the least where ``at_most``.
        unit: of what a function gives; a figure has its own.
        at_most: whether the figure is the most and not the least.
    """

    part: str
    words: Text | Callable[[Amount], Text]
    quantity: str = ""
    of: str | Callable[[Any, Any], float | None] = ""
    unit: str = ""
    at_most: bool = False

    @property
    def is_kind(self) -> bool:
        """Whether a kind of part is asked for, no figure."""
        return isinstance(self.words, Text)


def frozen(declared: WorseAt | None) -> WorseAt | None:
    """A declaration that nobody can change."""
    return MappingProxyType(dict(declared)) if isinstance(declared, Mapping) else declared
