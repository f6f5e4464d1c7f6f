"""Servos and packs swapped with another aircraft: a matched group for one, nothing worse there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from hangar.parts import Aircraft, FedPack, Library, PlanLine, PowerPath, ServoFit, ServoType
from hangar.parts.choices import FeedRole, PlanAction
from hangar.refit.bay import Bay
from hangar.refit.choice import PLAN, Choice, ChoiceList, swap_key
from hangar.refit.faults import is_graver
from hangar.refit.groups import Group
from hangar.refit.partners import Partner, kind_of, torque_nm
from hangar.refit.request import RefitRequest
from hangar.refit.servo_options import goes_in, new_arm
from hangar.refit.supplies import Supply, swapped_supply
from hangar.rules.cures import Cure

_MOST_KINDS, _MOST_PARTNERS = 3, 2
"""Servo types tried for one group, the strongest first, and groups of each, the one with most torque to spare
first: each try is a look at both aircraft."""


def with_swaps(
    aircraft: Aircraft, lists: Sequence[ChoiceList], library: Library, bay: Bay, asking: RefitRequest
) -> tuple[ChoiceList, ...]:
    """The lists of servos with swaps added, each of which cures something here and makes nothing worse there.

    Args:
        aircraft: as it is.
        lists: the servos of its matched groups.
        library: holds the servos of all aircraft by tag.
        bay: tells what other plans have reserved.
        asking: the aircraft to swap with, what stays, hours of work.
    """
    if asking.swap_with is None:
        return tuple(lists)
    own = Partner(aircraft, asking.conditions, asking.thresholds)
    maker = _Maker(own, library, bay, asking)
    return tuple(
        replace(choice_list, choices=(*choice_list.choices, *maker.of_list(choice_list)))
        for choice_list in lists
    )


@dataclass
class _Maker:
    """Makes the swaps of one aircraft's groups."""

    own: Partner
    library: Library
    bay: Bay
    asking: RefitRequest

    def of_list(self, choice_list: ChoiceList) -> Iterator[Choice]:
        """The swaps of one group, where another servo could cure something at it."""
        group = next((group for group in self.own.groups if group.codes == choice_list.places), None)
        if group is None or choice_list.locked or not self._is_free(self.own, group):
            return
        if any(self.own.faults_at(group.codes, Cure.SERVO)):
            yield from self._of_group(group)

    def _of_group(self, group: Group) -> Iterator[Choice]:
        """For each servo type that cures something here, the first group elsewhere that is no worse off."""
        pairs: dict[str, list[tuple[Partner, Group]]] = {}
        strength: dict[str, float] = {}
        assert self.asking.swap_with is not None
        code = self.own.aircraft.code
        for partner in self.asking.swap_with.of(code, self.asking.conditions, self.asking.thresholds):
            for theirs in partner.groups:
                kind = kind_of(theirs)
                if kind is not None and self._fits_both(group, partner, theirs, kind):
                    pairs.setdefault(kind.code, []).append((partner, theirs))
                    strength[kind.code] = torque_nm(kind)
        for kind_code in sorted(pairs, key=lambda kind_code: (-strength[kind_code], kind_code))[:_MOST_KINDS]:
            most_first = sorted(pairs[kind_code], key=lambda pair: -pair[0].reserve(pair[1]))
            swaps = (self._swap(group, *pair) for pair in most_first[:_MOST_PARTNERS])
            yield from list(filter(None, swaps))[:1]

    def _fits_both(self, group: Group, partner: Partner, theirs: Group, kind: ServoType) -> bool:
        """Whether each group's servos go into the places of the other."""
        if len(theirs.fits) != len(group.fits) or not self._is_free(partner, theirs):
            return False
        return all(
            mine.servo_type is not None
            and mine.servo_type.code != kind.code
            and goes_in(self.own.case, mine, kind)
            and goes_in(partner.case, other, mine.servo_type)
            for mine, other in zip(group.fits, theirs.fits, strict=True)
        )

    def _is_free(self, place: Partner, group: Group) -> bool:
        """Whether every servo of a group is a known one that sits there alone and is in no plan."""
        tags = {fit.servo.tag for fit in group.fits if fit.servo is not None}
        is_planned = place.planned & set(group.codes) or tags & set(self.bay.lack)
        return not is_planned and place.has_alone(group, self.library)

    def _swap(self, group: Group, partner: Partner, theirs: Group) -> Choice | None:
        """The swap, where it cures something here and makes nothing worse there."""
        here = self._lines(group, theirs, partner.aircraft.code)
        own = self.own.after(here, self.library)
        if own is None or not any(
            unit not in own[1] or is_graver(self.own.today[unit], own[1][unit])
            for unit in self.own.faults_at(group.codes, Cure.SERVO)
        ):
            return None
        there = self._lines(theirs, group, self.own.aircraft.code)
        other = partner.after(there, self.library)
        if other is None or partner.is_worse(other[1]):
            return None
        added_g = sum(map(_mass_g, theirs.fits)) - sum(map(_mass_g, group.fits))
        return Choice(
            lines=here,
            price=round(sum(line.price or 0.0 for line in (*here, *there)), 2),
            hours=sum(line.hours_h or 0.0 for line in (*here, *there)),
            mass_g=added_g,
            spares={swap_key(partner.aircraft.code): 1},
            does=frozenset({Cure.SERVO, Cure.ARM}),
            elsewhere={partner.aircraft.code: there},
        )  # fmt: skip

    def _lines(self, to: Group, from_group: Group, off: str) -> tuple[PlanLine, ...]:
        """Lines that fit the servos of one group at the places of another, with arms for them."""
        action, lines = PlanAction.FIT_SERVO, list[PlanLine]()
        for place, fit in zip(to.fits, from_group.fits, strict=True):
            servo, kind = fit.servo, fit.servo_type
            if servo is None or kind is None:
                continue
            line = PlanLine(
                plan=PLAN, number=1, action=action, place=place.code, part_type=kind.code,
                from_stock=servo.tag, from_aircraft=off, price=0.0, hours_h=self.asking.hours(action),
            )  # fmt: skip
            lines += [line, *new_arm(place, kind, self.library, self.asking)]
        return tuple(lines)


def pack_swaps(aircraft: Aircraft, library: Library, bay: Bay, asking: RefitRequest) -> tuple[Supply, ...]:
    """The supply with the one pack of another aircraft, which gets the one that comes off.

    Each cures something here and makes nothing worse there; the packs of most capacity are tried.
    """
    own = None if asking.swap_with is None else Partner(aircraft, asking.conditions, asking.thresholds)
    path = _lone_path(own, library, bay)
    if own is None or path is None or not asking.change_supply or path.feed.code in asking.locked:
        return ()
    assert asking.swap_with is not None
    if asking.swap_with.is_shared(path.packs[0].pack.tag):
        return ()
    faults = list(own.faults_at((), Cure.SUPPLY))
    partners = asking.swap_with.of(aircraft.code, asking.conditions, asking.thresholds)
    is_shared = asking.swap_with.is_shared
    pairs = [
        (partner, theirs)
        for partner in partners
        if (theirs := _lone_path(partner, library, bay)) and not is_shared(theirs.packs[0].pack.tag)
    ]
    pairs.sort(key=lambda pair: -pair[1].packs[0].pack_type.capacity_mah)
    swaps = (_pack_swap(own, path, faults, *pair, library, asking) for pair in pairs[:_MOST_KINDS] if faults)
    return tuple(filter(None, swaps))


def _lone_path(place: Partner | None, library: Library, bay: Bay) -> PowerPath | None:
    """The one power path of an aircraft, with one receiver pack that no plan wants and that is known."""
    paths = () if place is None else place.aircraft.radio_paths
    if place is None or len(paths) != 1 or len(paths[0].packs) != 1:
        return None
    (path,) = paths
    tag, is_receiver = path.packs[0].pack.tag, path.feed.role is FeedRole.RECEIVER
    is_free = tag in library.packs_elsewhere and tag not in bay.lack and path.feed.code not in place.planned
    return path if is_receiver and is_free else None


def _pack_swap(
    own: Partner, path: PowerPath, faults: Sequence[tuple[str, str]], partner: Partner, theirs: PowerPath,
    library: Library, asking: RefitRequest,
) -> Supply | None:  # fmt: skip
    mine, other = path.packs[0], theirs.packs[0]
    if mine.pack_type.code == other.pack_type.code:
        return None
    here = _pack_line(path, other, partner.aircraft.code, asking)
    there = _pack_line(theirs, mine, own.aircraft.code, asking)
    added_g = (other.pack_type.mass_g or 0.0) - (mine.pack_type.mass_g or 0.0)
    supply = swapped_supply(own.aircraft, library, here, added_g, asking)
    at_home = own.after((here,), library) if supply is not None else None
    if (
        supply is None
        or at_home is None
        or not any(unit not in at_home[1] or is_graver(own.today[unit], at_home[1][unit]) for unit in faults)
    ):
        return None
    away = partner.after((there,), library)
    if away is None or partner.is_worse(away[1]):
        return None
    code = partner.aircraft.code
    return replace(
        supply,
        spares={swap_key(code): 1},
        elsewhere={code: (there,)},
        hours=supply.hours + (there.hours_h or 0.0),
    )


def _pack_line(path: PowerPath, fed: FedPack, off: str, asking: RefitRequest) -> PlanLine:
    return PlanLine(
        plan=PLAN, number=1, action=PlanAction.FIT_PACK, place=path.feed.code, part_type=fed.pack_type.code,
        from_stock=fed.pack.tag, from_aircraft=off, price=0.0, hours_h=asking.hours(PlanAction.FIT_PACK),
    )  # fmt: skip


def _mass_g(fit: ServoFit) -> float:
    return fit.servo_type.mass_g or 0.0 if fit.servo_type else 0.0
