"""Every plan of a small case tried one by one: a second opinion that shares no option and no bound.

What each place could get is read from the records here; every combination becomes a changed aircraft that is
surveyed and judged by every rule, and units are counted here.
"""

from __future__ import annotations

import dataclasses
import itertools
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, Plan, PlanLine, ServoFit, ServoType, after_plan
from hangar.parts.choices import (
    Function,
    LinkageKind,
    PackJoin,
    PlanAction,
    RegulatorKind,
    RodMaterial,
    RodWork,
)
from hangar.refit.request import RefitRequest
from hangar.rules import Level
from hangar.rules.case import Case
from hangar.rules.inspecting import open_flags
from hangar.rules.registry import all_rules
from hangar.survey import survey
from tests.refit.generator import SmallCase

Units = dict[tuple[str, str], Level]
Worth = tuple[int, int, int]
"""Warnings, cautions, money in hundredths."""


@dataclass(frozen=True)
class Part:
    """What one place gets: lines, price, mass, tags, servo types bought, tags that come off."""

    lines: tuple[PlanLine, ...] = ()
    price: float = 0.0
    mass_g: float = 0.0
    tags: tuple[str, ...] = ()
    buys: frozenset[str] = frozenset()
    frees: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Tried:
    """One plan that was tried: its units and what it costs."""

    units: Units
    cents: int
    mass_g: float

    def count(self, level: Level) -> int:
        """How many units it has at a level."""
        return list(self.units.values()).count(level)


def every_plan(case: SmallCase, *, handwork: bool = False) -> Iterator[Tried]:
    """Every plan that the records allow, whatever it costs; with handwork or without."""
    lists = [list(group_parts(case, group)) for group in case.groups]
    lists += handwork_parts(case) if handwork else []
    lasting = {
        unit: level
        for unit, level in units_of(case.aircraft, case).items()
        if all_rules()[unit[0]].cures == ()
    }
    for parts in itertools.product(*lists, supply_parts(case)):
        tags = Counter(tag for part in parts for tag in part.tags)
        types = frozenset(code for part in parts for code in part.buys)
        most = case.limits.most_types
        if max(tags.values(), default=0) > 1 or (most is not None and len(types) > most):
            continue
        lines = [line for part in parts for line in part.lines]
        off = {line.from_stock for line in lines if line.from_aircraft}
        if off - frozenset[str]().union(*(part.frees for part in parts)):
            continue
        numbered = tuple(dataclasses.replace(line, number=at) for at, line in enumerate(lines, 1))
        plan = Plan(code="B", aircraft=case.aircraft.code, title="tried", lines=numbered)
        try:
            after = after_plan(case.aircraft, plan, case.library)
        except BadInput:
            continue
        cents = sum(round(100.0 * part.price) for part in parts)
        units = units_of(after, case)
        for unit, level in lasting.items():
            if units.get(unit) is not Level.WARNING:
                units[unit] = level
        yield Tried(units, cents, sum(part.mass_g for part in parts))


def units_of(aircraft: Aircraft, case: SmallCase) -> Units:
    """The gravest level of each rule at each group of positions, or at the aircraft."""
    seen = survey(aircraft, case.limits.conditions)
    group_of = {code: ", ".join(group) for group in case.groups for code in group}
    units: Units = {}
    for rule, flag in open_flags(Case(aircraft, seen, case.limits.thresholds)):
        if flag.level not in (Level.WARNING, Level.CAUTION):
            continue
        positions = {fit.code for fit in aircraft.fits} & set(flag.about)
        for place in {group_of.get(code, code) for code in positions} or {""}:
            if units.get((rule.slug, place)) is not Level.WARNING:
                units[rule.slug, place] = flag.level
    return units


def best_worth(
    case: SmallCase, plans: list[Tried], counted: tuple[Level, ...], budget: float | None
) -> Worth:
    """The least of warnings, cautions and money among plans that bring no worse unit of a counted level."""
    today = units_of(case.aircraft, case)
    worths = []
    for plan in plans:
        if budget is not None and plan.cents > round(100.0 * budget):
            continue
        if case.limits.mass_g is not None and plan.mass_g > case.limits.mass_g + 1e-9:
            continue
        if any(
            level in counted and (unit not in today or level.rank < today[unit].rank)
            for unit, level in plan.units.items()
        ):
            continue
        cautions = plan.count(Level.CAUTION) if Level.CAUTION in counted else 0
        worths.append((plan.count(Level.WARNING), cautions, plan.cents))
    return min(worths)


def group_parts(case: SmallCase, codes: tuple[str, ...]) -> Iterator[Part]:
    """Every servo type that goes into a group's place, each lead and arm, bought or from the bay."""
    fits = [fit for fit in case.aircraft.fits if fit.code in codes]
    if set(codes) & case.limits.locked:
        yield Part()
        return
    leads = [(), *_lead_changes(case, fits)]
    arms = [(), _own_arms(case, fits)] if _own_arms(case, fits) else [()]
    for arm, lead in itertools.product(arms, leads):
        lines = (*arm, *lead)
        yield Part(lines, sum(line.price or 0.0 for line in lines), _lead_mass_g(case, lead))
    for kind in case.library.servo_types.values():
        new = [fit for fit in fits if fit.servo_type is None or fit.servo_type.code != kind.code]
        if new and all(_goes_in(fit, kind) for fit in new):
            for lead in leads:
                yield from _of_type(case, new, kind, lead)


def _of_type(
    case: SmallCase, new: list[ServoFit], kind: ServoType, leads: tuple[PlanLine, ...]
) -> Iterator[Part]:
    arms = [
        _arm(case, fit, kind)
        for fit in new
        if fit.installation
        and fit.installation.arm_teeth is not None
        and fit.installation.arm_teeth != kind.spline_teeth
    ]
    tags = sorted(tag for tag, servo in case.library.spare_servos.items() if servo.servo_type == kind.code)
    old_g = sum(fit.servo_type.mass_g or 0.0 for fit in new if fit.servo_type)
    mass = len(new) * (kind.mass_g or 0.0) - old_g + _lead_mass_g(case, leads)
    frees = frozenset(fit.servo.tag for fit in new if fit.servo)
    for count in range(min(len(tags), len(new)) + 1):
        for taken in itertools.combinations(tags, count):
            servos = [
                _line(
                    PlanAction.FIT_SERVO, fit.code, part_type=kind.code,
                    from_stock=taken[at] if at < count else None,
                )
                for at, fit in enumerate(new)
            ]  # fmt: skip
            bought = len(new) - count
            if bought and kind.price is None:
                continue
            price = bought * (kind.price or 0.0) + sum(line.price or 0.0 for line in (*arms, *leads))
            buys = frozenset({kind.code} if bought else ())
            yield Part((*servos, *arms, *leads), price, mass, taken, buys, frees)
    for taken in _moved(case, new, kind):
        bought = max(0, len(new) - len(taken))
        if bought and kind.price is None:
            continue
        own = (*taken[: len(new)], *[None] * bought)
        servos = [
            _line(PlanAction.FIT_SERVO, fit.code, part_type=kind.code, from_stock=tag,
                  from_aircraft=tag and case.aircraft.code)
            for fit, tag in zip(new, own, strict=True)
        ]  # fmt: skip
        price = bought * (kind.price or 0.0) + sum(line.price or 0.0 for line in (*arms, *leads))
        buys = frozenset({kind.code} if bought else ())
        yield Part((*servos, *arms, *leads), price, mass, taken[: len(new)], buys, frees)


def _moved(case: SmallCase, new: list[ServoFit], kind: ServoType) -> Iterator[tuple[str, ...]]:
    """Servos of a type that sit in another group, group by group."""
    for codes in case.groups:
        if {fit.code for fit in new} & set(codes):
            continue
        tags = [
            fit.servo.tag
            for fit in case.aircraft.fits
            if fit.code in codes and fit.servo and fit.servo_type and fit.servo_type.code == kind.code
        ]
        if tags and set(tags) <= set(case.library.servos_elsewhere):
            yield tuple(tags)


def _goes_in(fit: ServoFit, kind: ServoType) -> bool:
    place = fit.position
    for size, room in (
        (kind.case_length_mm, place.bay_length_mm),
        (kind.case_width_mm, place.bay_width_mm),
        (kind.case_height_mm, place.bay_height_mm),
    ):
        if room is not None and (size is None or size > room - 0.5):
            return False
    return True


def _lead_changes(case: SmallCase, fits: list[ServoFit]) -> Iterator[tuple[PlanLine, ...]]:
    for gauge in case.limits.gauges:
        thin = [fit for fit in fits if fit.lead is not None and (fit.lead.awg or 99) > gauge]
        if thin:
            price = case.limits.lead_price
            yield tuple(_line(PlanAction.CHANGE_LEAD, fit.code, awg=gauge, price=price) for fit in thin)


def _lead_mass_g(case: SmallCase, leads: tuple[PlanLine, ...]) -> float:
    total = 0.0
    for line in leads:
        fit = case.aircraft.fit(line.place or "")
        assert fit is not None
        assert fit.lead is not None
        new, old = (_area_mm2(gauge or 0) for gauge in (line.awg, fit.lead.awg))
        total += 2.0 * (new - old) * fit.lead.length_mm * 0.00896
    return total


def _area_mm2(awg: int) -> float:
    diameter_mm: float = 0.127 * 92.0 ** ((36 - awg) / 39.0)
    return 3.141592653589793 / 4.0 * diameter_mm * diameter_mm


def _own_arms(case: SmallCase, fits: list[ServoFit]) -> tuple[PlanLine, ...]:
    return tuple(
        _arm(case, fit, fit.servo_type)
        for fit in fits
        if fit.servo_type is not None
        and fit.installation is not None
        and fit.installation.arm_teeth is not None
        and fit.servo_type.spline_teeth not in (None, fit.installation.arm_teeth)
    )


def _arm(case: SmallCase, fit: ServoFit, kind: ServoType) -> PlanLine:
    alike = [arm for arm in case.library.arms.values() if arm.spline_teeth == kind.spline_teeth]
    cheapest = min(alike, key=lambda arm: (arm.price or 0.0, arm.code))
    radius = fit.linkage.arm_mm if fit.linkage else None
    return _line(
        PlanAction.CHANGE_ARM, fit.code, part_type=cheapest.code, arm_mm=radius, price=cheapest.price
    )


def handwork_parts(case: SmallCase) -> list[list[Part]]:
    """What can be done by hand at each place that may change: done in one way, or left."""
    found: list[list[Part]] = []
    price = RefitRequest().small_price
    for codes in case.groups:
        if set(codes) & case.limits.locked:
            continue
        fits = [fit for fit in case.aircraft.fits if fit.code in codes]
        found.append([Part(lines) for lines in _horns(fits)])
        for fit in fits:
            link, stay = fit.linkage, fit.installation
            rods = [_line(PlanAction.CHANGE_ROD, fit.code, price=price, **own) for own in _rods(fit)]
            found.append([Part((rod,), price) for rod in rods])
            if link is not None and link.clevis_keeper is False:
                keeper = _line(PlanAction.CHANGE_ROD, fit.code, price=price, rod=RodWork.KEEPER)
                found.append([Part((keeper,), price)])
            if stay is not None and (stay.screws_fitted or 0) < (stay.screws_of or 0):
                found.append([Part((_line(PlanAction.FIT_FIXINGS, fit.code, price=price),), price)])
    return [[Part(), *parts] for parts in found if parts]


def _horns(fits: list[ServoFit]) -> Iterator[tuple[PlanLine, ...]]:
    """Holes 3 mm further in, 3 mm and 6 mm further out, on horns that are alike."""
    radii = {fit.linkage.horn_mm if fit.linkage else None for fit in fits}
    if len(radii) != 1 or None in radii or not all(fit.function.is_surface for fit in fits):
        return
    radius = radii.pop() or 0.0
    for hole in (radius - 3.0, radius + 3.0, radius + 6.0):
        if hole >= 3.0:
            yield tuple(_line(PlanAction.SET_HORN, fit.code, horn_mm=hole, price=0.0) for fit in fits)


def _rods(fit: ServoFit) -> Iterator[dict[str, object]]:
    """A guide at mid-length, and a carbon tube of 6 mm where the rod is thinner."""
    link = fit.linkage
    if link is None or link.kind is not LinkageKind.PUSHROD or fit.function is Function.THROTTLE:
        return
    if link.rod_free_mm or link.rod_length_mm:
        yield {"rod": RodWork.GUIDE}
    if link.rod_diameter_mm is None or link.rod_diameter_mm < 6.0:
        yield {"rod": RodWork.NEW_ROD, "rod_diameter_mm": 6.0, "rod_bore_mm": 4.0,
               "rod_material": RodMaterial.CARBON}  # fmt: skip


def supply_parts(case: SmallCase) -> Iterator[Part]:
    """Pack, regulator and switch of the one power path, each left or changed."""
    path, library = case.aircraft.paths[0], case.library
    code, own = path.feed.code, path.packs[0].pack_type
    packs, regulators, switches = [Part()], [Part()], [Part()]
    for pack in library.pack_types.values():
        if pack.code != own.code:
            mass = (pack.mass_g or 0.0) - (own.mass_g or 0.0)
            line = _line(PlanAction.FIT_PACK, code, part_type=pack.code)
            packs.append(Part((line,), pack.price or 0.0, mass))
        if (pack.chemistry, pack.series) == (own.chemistry, own.series):
            more = _line(PlanAction.JOIN_PACKS, code, part_type=pack.code, join=PackJoin.PLAIN_Y)
            price, mass = pack.price or 0.0, pack.mass_g or 0.0
            if pack.code == own.code:
                packs.append(Part((more,), price, mass))
            else:
                packs.append(Part((line, more), 2.0 * price, 2.0 * mass - (own.mass_g or 0.0)))
    for kind in library.regulator_types.values():
        set_v = None if kind.regulator is RegulatorKind.PASS else case.limits.set_points_v[0]
        line = _line(PlanAction.FIT_REGULATOR, code, part_type=kind.code, set_v=set_v)
        old_g = path.regulator_type.mass_g or 0.0 if path.regulator_type else 0.0
        regulators.append(Part((line,), kind.price or 0.0, (kind.mass_g or 0.0) - old_g))
    if path.switch_type is not None or path.feed.switch is not None:
        for switch in library.switch_types.values():
            line = _line(PlanAction.FIT_SWITCH, code, part_type=switch.code)
            old_g = path.switch_type.mass_g or 0.0 if path.switch_type else 0.0
            switches.append(Part((line,), switch.price or 0.0, (switch.mass_g or 0.0) - old_g))
    for parts in itertools.product(packs, regulators, switches):
        yield Part(
            tuple(line for part in parts for line in part.lines),
            sum(part.price for part in parts),
            sum(part.mass_g for part in parts),
        )


def _line(action: PlanAction, place: str, **values: object) -> PlanLine:
    return dataclasses.replace(PlanLine(plan="B", number=1, action=action, place=place), **values)  # type: ignore[arg-type]
