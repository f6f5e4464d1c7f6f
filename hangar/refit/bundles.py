"""The lines of a plan in bundles of what is done together, here and where parts come off elsewhere."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from hangar.base.text import Text, series, text
from hangar.parts import Aircraft, PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.bay import OVER
from hangar.refit.groups import groups_of
from hangar.refit.hours import hours_of_line
from hangar.refit.line_words import change_words
from hangar.refit.request import RefitRequest
from hangar.survey import survey

_WITH_THE_SERVO = frozenset(
    {
        *(PlanAction.FIT_SERVO, PlanAction.CHANGE_ARM, PlanAction.CHANGE_LEAD),
        *(PlanAction.FIT_FIXINGS, PlanAction.PROTECT_LEAD),
    }
)
"""What is done to a servo that a new one takes away again, so that it is done with the new one."""
_SUPPLY = frozenset(
    {
        *(PlanAction.FIT_PACK, PlanAction.FIT_REGULATOR, PlanAction.SET_REGULATOR, PlanAction.FIT_SWITCH),
        *(PlanAction.JOIN_PACKS, PlanAction.FIT_RECEIVER),
    }
)


@dataclass(frozen=True)
class Bundle:
    """Changes that are done together: a matched group, the whole supply, or one handwork.

    Attributes:
        lines: what is done on the aircraft.
        hours: of all work.
        elsewhere: what is done with it on other aircraft that its parts come off, by their codes.
    """

    lines: tuple[PlanLine, ...]
    hours: float = 0.0
    elsewhere: Mapping[str, tuple[PlanLine, ...]] = field(default_factory=dict, hash=False)

    @property
    def every_line(self) -> tuple[PlanLine, ...]:
        """What is done on the aircraft and elsewhere."""
        return (*self.lines, *(line for lines in self.elsewhere.values() for line in lines))

    @property
    def price(self) -> float:
        """What its parts cost; a line without a price counts as nothing."""
        return sum((line.price or 0.0) * line.quantity for line in self.every_line)

    @property
    def words(self) -> Text:
        """Its changes in a row."""
        words = change_words(self.lines)
        for code, lines in self.elsewhere.items():
            words += [text("{aircraft}, {change}", aircraft=code, change=own) for own in change_words(lines)]
        return series(words)


def lines_elsewhere(
    code: str, lines: Sequence[PlanLine], fleet: Iterable[Aircraft]
) -> dict[str, tuple[PlanLine, ...]]:
    """What open plans of other aircraft do at the places that parts of these lines come off."""
    there = {}
    for other in fleet:
        places = places_given_up(other, lines) if other.code != code else frozenset()
        own = (line for plan in other.plans if plan.state not in OVER for line in plan.lines)
        taken = tuple(line for line in own if line.place in places and line.done_on is None)
        if taken:
            there[other.code] = taken
    return there


def places_given_up(aircraft: Aircraft, lines: Iterable[PlanLine]) -> frozenset[str]:
    """Positions and power paths of an aircraft whose servo, pack or regulator some lines take off it."""
    taken = [line for line in lines if line.from_aircraft == aircraft.code]
    tags = {line.from_stock for line in taken if line.from_stock}
    types = {line.part_type for line in taken if line.action is PlanAction.FIT_REGULATOR}
    places = {fit.code for fit in aircraft.fits if fit.servo is not None and fit.servo.tag in tags}
    for path in aircraft.paths:
        has_type = path.regulator_type is not None and path.regulator_type.code in types
        if has_type or any(fed.pack.tag in tags for fed in path.packs):
            places.add(path.feed.code)
    return frozenset(places)


def bundles_of(
    aircraft: Aircraft, lines: Sequence[PlanLine], asking: RefitRequest,
    elsewhere: Mapping[str, Sequence[PlanLine]] | None = None,
) -> tuple[Bundle, ...]:  # fmt: skip
    """The lines in bundles: a matched group's servos with what goes with them, each handwork, the supply.

    The supply is last, as its lines are carried out last. What takes parts off one other aircraft
    is one bundle.
    """
    groups = groups_of(aircraft, survey(aircraft, asking.conditions))
    home = {code: at for at, group in enumerate(groups) for code in group.codes}
    homes = [home.get(line.place or "", len(groups)) for line in lines]
    new = {at for at, line in zip(homes, lines, strict=True) if line.action is PlanAction.FIT_SERVO}
    lines_by_key: dict[tuple[int, int, str], list[PlanLine]] = {}
    for at, line in zip(homes, lines, strict=True):
        if line.action in _SUPPLY:
            key = (2, 0, "")
        elif at in new and line.action in _WITH_THE_SERVO:
            key = (0, at, "")
        else:
            key = (1, at, line.action.value)
        lines_by_key.setdefault(key, []).append(line)
    bundles: list[tuple[PlanLine, ...]] = []
    for key in sorted(lines_by_key):
        own = tuple(lines_by_key[key])
        joined = [
            bundle for bundle in bundles if givers_of(aircraft.code, bundle) & givers_of(aircraft.code, own)
        ]
        bundles = [bundle for bundle in bundles if bundle not in joined]
        bundles.append((*itertools.chain(*joined), *own))
    return tuple(_bundle(aircraft, own, elsewhere or {}, asking) for own in bundles)


def givers_of(code: str, lines: Iterable[PlanLine]) -> frozenset[str]:
    """Other aircraft than one that parts of some lines come off."""
    return frozenset(line.from_aircraft for line in lines if line.from_aircraft) - {code}


def _bundle(
    aircraft: Aircraft, lines: tuple[PlanLine, ...], elsewhere: Mapping[str, Sequence[PlanLine]],
    asking: RefitRequest,
) -> Bundle:  # fmt: skip
    givers = sorted(givers_of(aircraft.code, lines))
    bundle = Bundle(lines, 0.0, {code: tuple(elsewhere[code]) for code in givers if code in elsewhere})
    return replace(bundle, hours=sum(hours_of_line(line, asking.thresholds) for line in bundle.every_line))


def set_free(aircraft: Aircraft, bundle: Bundle) -> frozenset[str]:
    """Tags of servos and packs that come off with a bundle."""
    places = {
        line.place for line in bundle.lines if line.action in (PlanAction.FIT_SERVO, PlanAction.FIT_PACK)
    }
    servos = (fit.servo for fit in aircraft.fits if fit.code in places)
    packs = (fed.pack for path in aircraft.paths if path.feed.code in places for fed in path.packs)
    return frozenset(part.tag for part in (*servos, *packs) if part is not None)
