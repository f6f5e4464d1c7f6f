"""What the aircraft of a fleet offer each other: parts that one could use and another could give up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from hangar.parts import Library
from hangar.parts.choices import FeedRole
from hangar.refit.bay import Given, Offer, regulator_key, reserved_tags
from hangar.refit.groups import Group
from hangar.refit.partners import Partner, Partners, kind_of, torque_nm
from hangar.refit.request import RefitRequest
from hangar.refit.servo_options import goes_in
from hangar.rules.cures import Cure

_MOST_KINDS, _MOST_GIVERS, _MOST_FREED = 3, 2, 1
"""Types offered to one place, the strongest first; of each the groups with most torque to spare, which may do
with less, and those that lack something, which get other ones anyway."""
_MOST_PACKS, _MOST_FREED_PACKS = 3, 2
"""Packs offered to one aircraft: those of most capacity, and those of aircraft that lack something."""


@dataclass
class Offers:
    """What is offered to each aircraft, and what each is asked for.

    A part goes where it could cure something, and what is there goes back where it fits. Nothing is promised:
    a plan of the fleet takes a part only where the plan of its owner gives it up.
    """

    partners: Partners
    library: Library
    asking: RefitRequest
    _servos: dict[str, list[Given]] = field(default_factory=dict)
    _packs: dict[str, list[Given]] = field(default_factory=dict)

    def offer(self, code: str) -> Offer:
        """What an aircraft is offered, and which of its own parts are wanted."""
        every = [*_each(self._servos), *_each(self._packs)]
        wanted = frozenset(tag for given in every if given.aircraft == code for tag in given.tags)
        regulators = (kind for kind, givers in self.regulators.items() if code in givers)
        wanted |= {regulator_key(kind, code) for kind in regulators}
        servos, packs = self._servos.get(code, []), self._packs.get(code, [])
        return Offer(tuple(dict.fromkeys(servos)), tuple(dict.fromkeys(packs)), wanted)

    def __post_init__(self) -> None:
        self.reserved = frozenset(reserved_tags(self.library.plans))
        self.given_packs: dict[str, tuple[Given, ...]] = {}

    @cached_property
    def regulators(self) -> dict[str, tuple[str, ...]]:
        """For each regulator type that is sold, the aircraft whose plan may give one up."""
        flying = self.partners.of("", self.asking.conditions, self.asking.thresholds)
        found: dict[str, dict[str, None]] = {}
        for giver in flying if self.asking.swaps and self.asking.change_supply else ():
            held = self._held(giver)
            for path in giver.aircraft.radio_paths:
                kind = path.regulator_type
                is_free = path.regulator is not None and not {path.feed.code, path.regulator.code} & held
                if kind is not None and kind.price is not None and is_free:
                    found.setdefault(kind.code, {})[giver.aircraft.code] = None
        return {code: tuple(givers) for code, givers in found.items()}

    def take_in(self, code: str) -> None:
        """Find what could cure something on an aircraft; one that is laid up takes no part."""
        flying = self.partners.of("", self.asking.conditions, self.asking.thresholds)
        own = next((partner for partner in flying if partner.aircraft.code == code), None)
        if own is None:
            return
        others = [partner for partner in flying if partner is not own]
        for group in own.groups:
            if self._may_change(own, group) and any(own.faults_at(group.codes, Cure.SERVO)):
                self._servos_for(own, group, others)
        if any(own.faults_at((), Cure.SUPPLY)):
            self._packs_for(own, others)

    def _servos_for(self, own: Partner, group: Group, others: Sequence[Partner]) -> None:
        pairs: dict[str, list[tuple[Partner, Group]]] = {}
        strength: dict[str, float] = {}
        for other in others:
            for theirs in other.groups:
                kind = kind_of(theirs)
                if kind is not None and self._fits(own, group, other, theirs):
                    pairs.setdefault(kind.code, []).append((other, theirs))
                    strength[kind.code] = torque_nm(kind)
        for kind_code in sorted(pairs, key=lambda code: (-strength[code], code))[:_MOST_KINDS]:
            most_first = sorted(pairs[kind_code], key=lambda pair: -pair[0].reserve(pair[1]))
            freed = [pair for pair in most_first if any(pair[0].faults_at(pair[1].codes, Cure.SERVO))]
            for other, theirs in (*most_first[:_MOST_GIVERS], *freed[:_MOST_FREED]):
                self._give_servos(other, theirs, own, group)
                if self._may_change(own, group) and self._fits(other, theirs, own, group):
                    self._give_servos(own, group, other, theirs)

    def _fits(self, own: Partner, group: Group, other: Partner, theirs: Group) -> bool:
        """Whether the servos of another aircraft's group could come to a group of one."""
        kind = kind_of(theirs)
        return (
            kind is not None
            and self._may_change(other, theirs)
            and other.has_alone(theirs, self.library)
            and len(theirs.fits) >= len(group.fits)
            and not all(fit.servo_type is not None and fit.servo_type.code == kind.code for fit in group.fits)
            and all(goes_in(own.case, fit, kind) for fit in group.fits)
        )

    def _may_change(self, place: Partner, group: Group) -> bool:
        return not (self.asking.locked | place.planned) & set(group.codes)

    def _give_servos(self, giver: Partner, group: Group, to: Partner, place: Group) -> None:
        kind, held = kind_of(group), self._held(giver)
        tags = tuple(fit.servo.tag for fit in group.fits if fit.servo is not None)
        if kind is not None and not held & set(tags):
            given = Given(aircraft=giver.aircraft.code, part_type=kind.code, tags=tags, to=place.codes)
            self._servos.setdefault(to.aircraft.code, []).append(given)

    def _held(self, giver: Partner) -> frozenset[str]:
        """Tags that open plans of any aircraft take already, and places that its own plans change."""
        planned = (place for place in giver.planned if place)
        return self.reserved.union(planned, self.asking.locked)

    def _packs_for(self, own: Partner, others: Sequence[Partner]) -> None:
        if not self.asking.change_supply:
            return
        pairs = [(other, given) for other in others for given in self._packs_of(other)]
        pairs.sort(key=lambda pair: -self._capacity_mah(pair[1]))
        freed = [pair for pair in pairs if any(pair[0].faults_at((), Cure.SUPPLY))]
        back = self._packs_of(own)
        for other, given in (*pairs[:_MOST_PACKS], *freed[:_MOST_FREED_PACKS]):
            self._packs.setdefault(own.aircraft.code, []).append(given)
            self._packs.setdefault(other.aircraft.code, []).extend(back)

    def _packs_of(self, giver: Partner) -> tuple[Given, ...]:
        """The packs that feed the radio of an aircraft alone and are in no plan, looked for once."""
        code = giver.aircraft.code
        if code not in self.given_packs:
            self.given_packs[code] = tuple(self._packs_off(giver))
        return self.given_packs[code]

    def _packs_off(self, giver: Partner) -> Iterator[Given]:
        held = self._held(giver)
        for path in giver.aircraft.radio_paths:
            for fed in path.packs if path.feed.role is FeedRole.RECEIVER else ():
                tag, code = fed.pack.tag, path.feed.code
                is_known = (
                    tag in self.library.packs_elsewhere and fed.pack_type.code in self.library.pack_types
                )
                if is_known and not self.partners.is_shared(tag) and not {tag, code} & held:
                    yield Given(aircraft=giver.aircraft.code, part_type=fed.pack_type.code, tags=(tag,))

    def _capacity_mah(self, given: Given) -> float:
        return self.library.pack_type(given.part_type).capacity_mah


def _each(given: dict[str, list[Given]]) -> Iterable[Given]:
    return (one for every in given.values() for one in every)
