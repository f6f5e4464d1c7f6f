"""The servos that each group of positions could have, with leads and arms, bought or from the bay."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from hangar.base.text import NOTHING, Amount, Arg, Text, listed, text
from hangar.parts import Aircraft, Lead, Library, PlanLine, ServoFit, ServoType
from hangar.parts.choices import Function, PlanAction
from hangar.physics.wire import area_mm2
from hangar.refit.bay import Bay
from hangar.refit.choice import AS_IT_IS, PLAN, Choice, ChoiceList
from hangar.refit.groups import Group, groups_of
from hangar.refit.refusal import LACKING, Refusal
from hangar.refit.request import RefitRequest
from hangar.rules.case import Case
from hangar.rules.cures import Cure
from hangar.survey.model import Survey
from hangar.survey.servos import rating_of

_COPPER_G_CM3 = 8.96
"""Density of copper at 20 C, standard handbooks."""
KINDS = frozenset({Cure.SERVO, Cure.ARM, Cure.LEAD})


def servo_lists(
    aircraft: Aircraft, survey: Survey, library: Library, bay: Bay, asking: RefitRequest
) -> tuple[ChoiceList, ...]:
    """For each matched group: as it is, other leads, the right arm, every type that goes in its place.

    Args:
        aircraft: as it is.
        survey: its survey.
        library: servo types and arms.
        bay: spares that can be taken.
        asking: what stays, prices and hours of small parts.
    """
    case = Case(aircraft, survey, asking.thresholds, library)
    maker = _Maker(case, library, bay, asking)
    lists = [maker.of_group(group) for group in maker.groups]
    wanted = {tag for choice_list in lists for choice in choice_list.choices for tag in choice.spares}
    return tuple(
        replace(
            choice_list,
            choices=tuple(
                replace(choice, frees=choice.frees & wanted, gives=choice.frees & bay.wanted)
                if choice.frees
                else choice
                for choice in choice_list.choices
            ),
        )
        for choice_list in lists
    )


class _Maker:
    """Makes the choices of one aircraft's groups."""

    def __init__(self, case: Case, library: Library, bay: Bay, asking: RefitRequest) -> None:
        self.case, self.library, self.bay, self.asking = case, library, bay, asking
        self.year = case.today.year
        self.groups = groups_of(case.aircraft, case.survey)

    def of_group(self, group: Group) -> ChoiceList:
        """The choices of one group, cheapest first among equals in the library's order."""
        if self.asking.locked & set(group.codes):
            return ChoiceList(
                name=group.name, places=group.codes, kinds=KINDS, choices=(AS_IT_IS,), locked=True
            )
        choices, refused = [AS_IT_IS, *self._kept(group)], []
        for code, kind in sorted(self.library.servo_types.items()):
            if all(fit.servo_type is not None and fit.servo_type.code == code for fit in group.fits):
                continue
            refusal = self._refusal(group, kind)
            if refusal is None:
                choices += self._of_type(group, kind)
            else:
                refused.append(refusal)
        return ChoiceList(
            name=group.name, places=group.codes, kinds=KINDS, choices=tuple(choices), refused=tuple(refused)
        )

    def _kept(self, group: Group) -> Iterator[Choice]:
        """The servos as they are with other leads, the arm that fits their spline, or both."""
        arms = [line for fit in group.fits for line in self._own_arm(fit)]
        for arm_lines in ([], arms) if arms else ([],):
            for leads in ((), *self._leads(group)):
                if arm_lines or leads:
                    yield self._choice(group, (*arm_lines, *leads))

    def _own_arm(self, fit: ServoFit) -> Iterator[PlanLine]:
        """An arm for the spline of the servo that is there, where the one on it is for another."""
        teeth = fit.installation.arm_teeth if fit.installation else None
        kind = fit.servo_type
        if kind is not None and teeth is not None and kind.spline_teeth not in (None, teeth):
            yield _arm(fit, kind, self.library, self.asking)

    def _leads(self, group: Group) -> Iterator[tuple[PlanLine, ...]]:
        for awg in self.asking.gauges:
            lines = tuple(
                self._line(PlanAction.CHANGE_LEAD, fit.code, awg=awg, price=self.asking.lead_price)
                for fit in group.fits
                if fit.lead is not None and (gauge_of(fit) or 99) > awg
            )
            if lines:
                yield lines

    def _of_type(self, group: Group, kind: ServoType) -> Iterator[Choice]:
        changed = [fit for fit in group.fits if fit.servo_type is None or fit.servo_type.code != kind.code]
        arms = [line for fit in changed for line in new_arm(fit, kind, self.library, self.asking)]
        for leads in ((), *self._leads(group)):
            for tags, untagged in self._from_bay(kind, len(changed)):
                bought = len(changed) - len(tags) - untagged
                if bought and (kind.price is None or self._is_past(kind)):
                    continue
                servos = []
                for place, fit in enumerate(changed):
                    tag = tags[place] if place < len(tags) else None
                    spare = place < len(tags) + untagged
                    servos.append(
                        self._line(PlanAction.FIT_SERVO, fit.code, part_type=kind.code, from_stock=tag,
                                   price=0.0 if spare else kind.price)
                    )  # fmt: skip
                spares = dict.fromkeys(tags, 1) | ({kind.code: untagged} if untagged else {})
                yield self._choice(
                    group, (*servos, *arms, *leads), spares, {kind.code: bought} if bought else {}
                )
            for giver, tags in self._set_free(group, kind):
                bought = max(0, len(changed) - len(tags))
                if bought and (kind.price is None or self._is_past(kind)):
                    continue
                taken = tags[: len(changed)]
                servos = [
                    self._line(PlanAction.FIT_SERVO, fit.code, part_type=kind.code, from_stock=tag,
                               from_aircraft=None if tag is None else giver,
                               price=kind.price if tag is None else 0.0)
                    for fit, tag in zip(changed, (*taken, *[None] * bought), strict=True)
                ]  # fmt: skip
                yield self._choice(
                    group, (*servos, *arms, *leads), dict.fromkeys(taken, 1),
                    {kind.code: bought} if bought else {},
                )  # fmt: skip

    def _set_free(self, group: Group, kind: ServoType) -> Iterator[tuple[str, tuple[str, ...]]]:
        """Aircraft and tags of the servos of a type that another group gives up, if it gets other ones."""
        for given in self.bay.offer.servos if self.bay.offer is not None else ():
            if given.to == group.codes and given.part_type == kind.code:
                yield given.aircraft, given.tags
        for other in self.groups:
            if other.codes == group.codes or self.asking.locked & set(other.codes):
                continue
            tags = tuple(
                fit.servo.tag
                for fit in other.fits
                if fit.servo is not None
                and fit.servo_type is not None
                and fit.servo_type.code == kind.code
                and not fit.elsewhere
                and fit.servo.tag in self.library.servos_elsewhere
            )
            if tags:
                yield self.case.aircraft.code, tags

    def _from_bay(self, kind: ServoType, most: int) -> Iterator[tuple[tuple[str, ...], int]]:
        """Tags and how many untagged servos could be taken: none, some, in every run of tags."""
        tags, untagged = self.bay.servo_tags.get(kind.code, ()), self.bay.untagged.get(kind.code, 0)
        for count in range(min(len(tags), most) + 1):
            for first in range(len(tags) - count + 1) if count else (0,):
                for loose in range(min(untagged, most - count) + 1):
                    yield tags[first : first + count], loose

    def _is_past(self, kind: ServoType) -> bool:
        """Whether a type is no longer made and the keeper has no source for it."""
        until = kind.made_until_year
        return until is not None and until < self.year and kind.code not in self.asking.sources

    def _line(
        self, action: PlanAction, place: str, *, part_type: str | None = None, from_stock: str | None = None,
        from_aircraft: str | None = None,
        awg: int | None = None, price: float | None = None,
    ) -> PlanLine:  # fmt: skip
        return PlanLine(
            plan=PLAN, number=1, action=action, place=place, part_type=part_type, from_stock=from_stock,
            from_aircraft=from_aircraft, awg=awg, price=price,
            hours_h=self.asking.hours(action),
        )  # fmt: skip

    def _choice(
        self, group: Group, lines: Sequence[PlanLine], spares: dict[str, int] | None = None,
        buys: dict[str, int] | None = None,
    ) -> Choice:  # fmt: skip
        return Choice(
            lines=tuple(lines), price=round(sum(line.price or 0.0 for line in lines), 2),
            hours=sum(line.hours_h or 0.0 for line in lines),
            mass_g=sum(self._mass_g(group, line) for line in lines), spares=spares or {}, buys=buys or {},
            frees=frozenset(
                fit.servo.tag
                for line in lines
                if line.action is PlanAction.FIT_SERVO
                for fit in group.fits
                if fit.code == line.place and fit.servo is not None
            ),
            does=frozenset(_CURE_OF[line.action] for line in lines),
        )  # fmt: skip

    def _mass_g(self, group: Group, line: PlanLine) -> float:
        fit = next(fit for fit in group.fits if fit.code == line.place)
        if line.action is PlanAction.FIT_SERVO:
            old = fit.servo_type.mass_g or 0.0 if fit.servo_type else 0.0
            return (self.library.servo_types[line.part_type or ""].mass_g or 0.0) - old
        if line.action is PlanAction.CHANGE_LEAD and isinstance(fit.lead, Lead) and line.awg is not None:
            old_awg = gauge_of(fit)
            added_mm2 = area_mm2(line.awg) - (area_mm2(old_awg) if old_awg is not None else 0.0)
            return 2.0 * added_mm2 * fit.lead.length_mm / 1000.0 * _COPPER_G_CM3
        return 0.0

    def _refusal(self, group: Group, kind: ServoType) -> Refusal | None:
        what = text("{place}: {what}", place=group.name, what=kind.code)
        lack = self._lacks(group, kind)
        if lack:
            return Refusal(what, LACKING[lack], lack)
        is_free = self.bay.servos(kind.code) or any(self._set_free(group, kind))
        if self._is_past(kind) and not is_free:
            why = text("it was made until {year} and none lies in Stores", year=kind.made_until_year)
            return Refusal(what, why, "made-until")
        for rule, check in _CHECKS.items():
            for fit in group.fits:
                if fit.servo_type is not None and fit.servo_type.code == kind.code:
                    continue
                why = check(self.case, fit, kind)
                if why:
                    return Refusal(what, why, rule)
        return None

    def _lacks(self, group: Group, kind: ServoType) -> str:
        if rating_of(kind) is None:
            return "rating"
        if kind.mass_g is None:
            return "mass"
        if kind.supply_max_v is None:
            return "highest volts"
        if kind.price is None and not self.bay.servos(kind.code) and not any(self._set_free(group, kind)):
            return "price"
        return ""


_CURE_OF = {
    PlanAction.FIT_SERVO: Cure.SERVO,
    PlanAction.CHANGE_ARM: Cure.ARM,
    PlanAction.CHANGE_LEAD: Cure.LEAD,
}


def new_arm(fit: ServoFit, kind: ServoType, library: Library, asking: RefitRequest) -> Iterator[PlanLine]:
    """An arm for the spline of another servo, where the one on record is for another."""
    teeth = fit.installation.arm_teeth if fit.installation else None
    if teeth is not None and teeth != kind.spline_teeth:
        yield _arm(fit, kind, library, asking)


def _arm(fit: ServoFit, kind: ServoType, library: Library, asking: RefitRequest) -> PlanLine:
    """An arm of the same radius for a spline; at the keeper's own price where the library has none."""
    fitting = [
        arm for arm in library.arms.values()
        if arm.spline_teeth == kind.spline_teeth and arm.price is not None
        and abs((arm.spline_mm or 0.0) - (kind.spline_mm or arm.spline_mm or 0.0)) < 0.15
    ]  # fmt: skip
    cheapest = min(fitting, key=lambda arm: (arm.price or 0.0, arm.code), default=None)
    return PlanLine(
        plan=PLAN, number=1, action=PlanAction.CHANGE_ARM, place=fit.code,
        part_type=None if cheapest is None else cheapest.code,
        arm_mm=fit.linkage.arm_mm if fit.linkage is not None else None,
        price=asking.arm_price if cheapest is None else cheapest.price,
        hours_h=asking.hours(PlanAction.CHANGE_ARM),
    )  # fmt: skip


def goes_in(case: Case, fit: ServoFit, kind: ServoType) -> bool:
    """Whether enough is known of a servo type to judge it, and nothing that no rule asks keeps it out."""
    is_known = rating_of(kind) is not None and kind.mass_g is not None and kind.supply_max_v is not None
    return is_known and not any(check(case, fit, kind) for check in _CHECKS.values())


def gauge_of(fit: ServoFit, kind: ServoType | None = None) -> int | None:
    """Gauge of the lead at a position: its own, else that of the servo's tail."""
    if fit.lead is not None and fit.lead.awg is not None:
        return fit.lead.awg
    kind = kind or fit.servo_type
    return kind.lead_awg if kind is not None else None


_Check = Callable[[Case, ServoFit, ServoType], Text]


def _too_big(case: Case, fit: ServoFit, kind: ServoType) -> Text:
    room, position = case.limit("bay-clearance"), fit.position
    for word, size, bay in (
        (text("long"), kind.case_length_mm, position.bay_length_mm),
        (text("wide"), kind.case_width_mm, position.bay_width_mm),
        (text("high"), kind.case_height_mm, position.bay_height_mm),
    ):
        if bay is None or (size is not None and size <= bay - room):
            continue
        opening, own = Amount(bay, "mm"), None if size is None else Amount(size, "mm")
        held: dict[str, Arg] = {"position": fit.code, "bay": opening, "side": word, "size": own}
        if size is None:
            return text("its size is not known; the bay of {position} is {bay} {side}", **held)
        if size > bay:
            return text("it is {size} {side}; the bay of {position} is {bay}", **held)
        return text(
            "it is {size} {side}; the bay of {position} is {bay} and must leave {room} free",
            room=Amount(room, "mm"), **held,
        )  # fmt: skip
    wing, thick = position.wing_depth_mm, kind.case_width_mm
    if wing is not None and thick is not None and thick > wing - case.limit("wing-clearance"):
        return text(
            "it is {size} thick; the wing at {position} is {depth} deep",
            size=Amount(thick, "mm"),
            position=fit.code,
            depth=Amount(wing, "mm"),
        )
    return NOTHING


def _other_screws(case: Case, fit: ServoFit, kind: ServoType) -> Text:
    bay, own = fit.position.bay_screw_mm, kind.screw_length_mm
    if bay is None or own is None or abs(bay - own) <= case.limit("screw-distance"):
        return NOTHING
    return text(
        "its screws are {own} apart; those of {position} are {bay}",
        own=Amount(own, "mm"),
        position=fit.code,
        bay=Amount(bay, "mm"),
    )


def _other_duty(_case: Case, fit: ServoFit, kind: ServoType) -> Text:
    if not kind.duties:
        return NOTHING
    duties = [word.strip() for word in kind.duties.split(",")]
    if str(fit.function) in duties:
        return NOTHING
    named = [Function(word) if word in list(Function) else word for word in duties]
    return text(
        "it is marked fit for {duties}, not {function}",
        duties=listed(named, joint=",", most=0),
        function=fit.function,
    )


_CHECKS: dict[str, _Check] = {
    "size": _too_big,
    "screws": _other_screws,
    "duty": _other_duty,
}
"""What no rule may be asked for: a servo that does not go into its place, or is marked for other work."""
