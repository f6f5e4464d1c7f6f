"""Servos swapped with another aircraft: a matched group for a matched group, nothing worse there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from hangar.parts import Aircraft, Library, PlanLine, ServoFit, ServoType
from hangar.parts.choices import PlanAction
from hangar.refit.bay import Bay
from hangar.refit.choice import PLAN, Choice, ChoiceList, Swap
from hangar.refit.groups import Group
from hangar.refit.partners import COUNTED, Partner, is_graver
from hangar.refit.request import RefitRequest
from hangar.refit.servo_options import goes_in, new_arm
from hangar.rules.cures import Cure
from hangar.rules.registry import all_rules

_MOST_KINDS, _MOST_PARTNERS = 3, 2
"""Servo types tried for one group, the strongest first, and groups of each, the one with most torque to spare
first: each try is a look at both aircraft."""


def swap_key(code: str) -> str:
    """What stands for an aircraft among the spares: it takes part in one swap at most."""
    return f"swap with {code}"


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
        if any(self._faults_at(group)):
            yield from self._of_group(group)

    def _faults_at(self, group: Group) -> Iterator[tuple[str, str]]:
        """Warnings and cautions at a group that another servo can cure."""
        for (slug, place), level in self.own.today.items():
            if place in group.codes and level in COUNTED and Cure.SERVO in (all_rules()[slug].cures or ()):
                yield slug, place

    def _of_group(self, group: Group) -> Iterator[Choice]:
        """For each servo type that cures something here, the first group elsewhere that is no worse off."""
        pairs: dict[str, list[tuple[Partner, Group]]] = {}
        strength: dict[str, float] = {}
        assert self.asking.swap_with is not None
        code = self.own.aircraft.code
        for partner in self.asking.swap_with.of(code, self.asking.conditions, self.asking.thresholds):
            for theirs in partner.groups:
                kind = _kind_of(theirs)
                if kind is not None and self._fits_both(group, partner, theirs, kind):
                    pairs.setdefault(kind.code, []).append((partner, theirs))
                    strength[kind.code] = _torque_nm(kind)
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
        return not place.planned & set(group.codes) and all(
            fit.servo is not None
            and not fit.elsewhere
            and fit.servo.tag in self.library.servos_elsewhere
            and fit.servo.tag not in self.bay.lack
            for fit in group.fits
        )

    def _swap(self, group: Group, partner: Partner, theirs: Group) -> Choice | None:
        """The swap, where it cures something here and makes nothing worse there."""
        here = self._lines(group, theirs, partner.aircraft.code)
        own = self.own.after(here, self.library)
        if own is None or not any(
            unit not in own[1] or is_graver(self.own.today[unit], own[1][unit])
            for unit in self._faults_at(group)
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
            swap=Swap(
                aircraft=partner.aircraft, after=other[0], lines=there, gain=partner.gain(other[1])
            ),
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


def _kind_of(group: Group) -> ServoType | None:
    """The type of all servos of a group; None where they differ or one is missing."""
    kinds = {fit.servo_type.code if fit.servo_type else "": fit.servo_type for fit in group.fits}
    return next(iter(kinds.values())) if len(kinds) == 1 else None


def _torque_nm(kind: ServoType) -> float:
    return max((row.torque_nm or 0.0 for row in kind.ratings), default=0.0)


def _mass_g(fit: ServoFit) -> float:
    return fit.servo_type.mass_g or 0.0 if fit.servo_type else 0.0
