"""Handwork and settings that a plan may take: each a list of its own, where a check asks or room is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from hangar.parts import Aircraft, Library, PlanLine, ServoFit, ServoType
from hangar.parts.choices import Function, LeadCare, LinkageKind, PlanAction, RodMaterial, RodWork
from hangar.refit.choice import AS_IT_IS, PLAN, Choice, ChoiceList
from hangar.refit.groups import Group, groups_of
from hangar.refit.request import RefitRequest
from hangar.rules.case import Case
from hangar.rules.cures import Cure
from hangar.rules.inspecting import judged
from hangar.rules.signals import output_pulse, output_rate
from hangar.survey.model import Survey

_CYCLIC = (Function.CYCLIC, Function.COLLECTIVE)
_FAMILIES = frozenset({"arms", "fitting", "lead_care", "leads", "rods", "sleeves"})
_ASKED: dict[str, tuple[Cure, PlanAction, LeadCare | RodWork | None]] = {
    "extension-unlocked": (Cure.LOCK, PlanAction.PROTECT_LEAD, LeadCare.LOCK),
    "former-unsleeved": (Cure.SLEEVE, PlanAction.PROTECT_LEAD, LeadCare.FORMER),
    "sleeve-short": (Cure.SLEEVE, PlanAction.PROTECT_LEAD, LeadCare.RUN_SLEEVE),
    "shrink-short": (Cure.SHRINK, PlanAction.PROTECT_LEAD, LeadCare.SHRINKS),
    "shrink-bore-wrong": (Cure.SHRINK, PlanAction.PROTECT_LEAD, LeadCare.SHRINKS),
    "lead-near-heat": (Cure.HEAT_SLEEVE, PlanAction.PROTECT_LEAD, LeadCare.HEAT_SLEEVE),
    "lead-near-moving": (Cure.TIE, PlanAction.PROTECT_LEAD, LeadCare.TIE_CLEAR),
    "lead-unsupported": (Cure.TIE, PlanAction.PROTECT_LEAD, LeadCare.SUPPORT),
    "lead-hinge-bend": (Cure.LOOP, PlanAction.PROTECT_LEAD, LeadCare.LOOP),
    "lead-long-no-care": (Cure.TWIST, PlanAction.PROTECT_LEAD, LeadCare.TWIST),
    "fixings-missing": (Cure.FIXINGS, PlanAction.FIT_FIXINGS, None),
    "arm-screw-missing": (Cure.FIXINGS, PlanAction.FIT_FIXINGS, None),
    "grommets-hard": (Cure.FIXINGS, PlanAction.FIT_FIXINGS, None),
    "clevis-no-keeper": (Cure.KEEPER, PlanAction.CHANGE_ROD, RodWork.KEEPER),
    "pull-pull-tension": (Cure.CABLE, PlanAction.CHANGE_ROD, RodWork.CABLE),
}
"""The handwork that a check asks for, by its rule."""
_ROD = (6.0, 4.0, RodMaterial.CARBON)
"""The rod that is offered where a thinner one is: diameter, bore and material. Common practice, no source."""
_HORN_STEPS_MM = (-3.0, 3.0, 6.0)
"""How much further out the next holes of a horn lie. Common practice, no source."""
_LEAST_HORN_MM = 3.0
_OTHER_ARM = (0.6, 1.5)
"""Share of the present radius between which another hole is looked for."""


def handwork_lists(
    aircraft: Aircraft, survey: Survey, library: Library, asking: RefitRequest
) -> tuple[ChoiceList, ...]:
    """Every handwork and setting that could be done or left.

    Args:
        aircraft: as it is.
        survey: its survey.
        library: arms with their holes, servo types with their pulses and rates, receivers.
        asking: what stays, prices and hours of small parts.
    """
    case = Case(aircraft, survey, asking.thresholds, library)
    groups = [group for group in groups_of(aircraft, survey) if not asking.locked & set(group.codes)]
    return (
        *(works for group in groups for works in _of_group(group, library, asking)),
        *_asked_for(case, asking),
        *_outputs(case, groups, library, asking),
        *_receivers(aircraft, library, asking),
    )


def _of_group(group: Group, library: Library, asking: RefitRequest) -> Iterator[ChoiceList]:
    """What interplays with the servos of a group: other holes of arms and horns, alike for all, and rods."""
    if not any(fit.function.is_flight or fit.function.is_surface for fit in group.fits):
        return
    for cure, works in (
        (Cure.ARM, list(_arm_holes(group, library, asking))),
        (Cure.HORN, list(_horn_holes(group, asking))),
    ):
        if works:
            yield _list(group.codes, cure, works)
    for fit in group.fits:
        rods = list(_rods(fit, asking))
        if rods:
            yield _list((fit.code,), Cure.ROD, [(line,) for line in rods])


def _asked_for(case: Case, asking: RefitRequest) -> Iterator[ChoiceList]:
    """Handwork that a check asks for today, at its positions."""
    codes = {fit.code for fit in case.aircraft.fits} - asking.locked
    offered: set[tuple[str, PlanAction, LeadCare | None, RodWork | None]] = set()
    for finding in judged(case, _FAMILIES):
        if finding.rule not in _ASKED:
            continue
        cure, action, how = _ASKED[finding.rule]
        care, rod = how if isinstance(how, LeadCare) else None, how if isinstance(how, RodWork) else None
        for code in finding.about:
            if code in codes and (code, action, care, rod) not in offered:
                offered.add((code, action, care, rod))
                price = 0.0 if rod is RodWork.CABLE else asking.small_price
                line = replace(_line(action, code, price, asking), care=care, rod=rod)
                yield _list((code,), cure, [(line,)])


def _rods(fit: ServoFit, asking: RefitRequest) -> Iterator[PlanLine]:
    """A guide at mid-length, and a carbon tube where the rod is thinner or nobody measured it."""
    linkage = fit.linkage
    if linkage is None or linkage.kind is not LinkageKind.PUSHROD:
        return
    work = _line(PlanAction.CHANGE_ROD, fit.code, asking.small_price, asking)
    if linkage.rod_free_mm or linkage.rod_length_mm:
        yield replace(work, rod=RodWork.GUIDE)
    diameter_mm, bore_mm, material = _ROD
    if linkage.rod_diameter_mm is None or diameter_mm > linkage.rod_diameter_mm:
        yield replace(
            work,
            rod=RodWork.NEW_ROD,
            rod_diameter_mm=diameter_mm,
            rod_bore_mm=bore_mm,
            rod_material=material,
        )


def _arm_holes(group: Group, library: Library, asking: RefitRequest) -> Iterator[tuple[PlanLine, ...]]:
    """Other holes that arms for the group's splines are known to have, where all have the same arm."""
    radii = {fit.linkage.arm_mm for fit in group.fits if fit.linkage}
    teeth = {fit.installation.arm_teeth for fit in group.fits if fit.installation}
    radius = next(iter(radii), None)
    if len(radii) != 1 or radius is None:
        return
    holes = {
        hole
        for arm in library.arms.values()
        if arm.spline_teeth in teeth
        for hole in arm.radii_mm
        if hole != radius and _OTHER_ARM[0] * radius <= hole <= _OTHER_ARM[1] * radius
    }
    for hole in sorted(holes, reverse=True):
        yield tuple(
            replace(_line(PlanAction.CHANGE_ARM, code, 0.0, asking), arm_mm=hole) for code in group.codes
        )


def _horn_holes(group: Group, asking: RefitRequest) -> Iterator[tuple[PlanLine, ...]]:
    """The next holes on the horns of a group that has them all alike."""
    radii = {fit.linkage.horn_mm for fit in group.fits if fit.linkage}
    radius = next(iter(radii), None)
    if len(radii) != 1 or radius is None or any(not fit.function.is_surface for fit in group.fits):
        return
    for step_mm in _HORN_STEPS_MM:
        if radius + step_mm < _LEAST_HORN_MM:
            continue
        yield tuple(
            replace(_line(PlanAction.SET_HORN, code, 0.0, asking), horn_mm=radius + step_mm)
            for code in group.codes
        )


def _outputs(
    case: Case, groups: Iterable[Group], library: Library, asking: RefitRequest
) -> Iterator[ChoiceList]:
    """Pulse and frame rate that types of the library are made for: of gyros, and where a check asks for it.

    A receiver's own outputs can seldom be set; they are offered where one of them is wrong today.
    """
    wrong = {code for finding in judged(case, frozenset({"pulses"})) for code in finding.about}
    seen: set[tuple[object, ...]] = set()
    for group in groups:
        outputs: dict[tuple[object, ...], str] = {}
        for fit in group.fits:
            if fit.through is not None and (fit.function is Function.TAIL or fit.function in _CYCLIC):
                outputs.setdefault((fit.through.code, fit.function is Function.TAIL), fit.code)
            elif fit.channel is not None and fit.code in wrong:
                outputs.setdefault((fit.channel.port, fit.channel.number), fit.code)
        if outputs and not seen & set(outputs):
            seen |= set(outputs)
            kinds = (*library.servo_types.values(), *(fit.servo_type for fit in group.fits))
            known = [kind for kind in kinds if kind is not None]
            yield from _settings(case, group, tuple(outputs.values()), known, asking)


def _settings(
    case: Case, group: Group, places: Sequence[str], kinds: Sequence[ServoType], asking: RefitRequest
) -> Iterator[ChoiceList]:
    fit = next(fit for fit in group.fits if fit.code == places[0])
    sent, _ = output_pulse(case, fit)
    rate, _ = output_rate(case, fit)
    pulses = sorted({kind.pulse_us for kind in kinds} - {sent})
    if pulses and sent is not None:
        pulse = _line(PlanAction.SET_PULSE, fit.code, 0.0, asking)
        works = [tuple(replace(pulse, place=code, pulse_us=value) for code in places) for value in pulses]
        yield _list(group.codes, Cure.PULSE, works)
    known = {kind.max_rate_hz for kind in kinds if kind.max_rate_hz is not None}
    rates = sorted(
        value
        for value in known | {case.limit("analog-rate")}
        if rate is not None and abs(value - rate.expected) > 1e-3 * value
    )
    if rates:
        setting = _line(PlanAction.SET_RATE, fit.code, 0.0, asking)
        works = [tuple(replace(setting, place=code, rate_hz=value) for code in places) for value in rates]
        yield _list(group.codes, Cure.RATE, works)


def _receivers(aircraft: Aircraft, library: Library, asking: RefitRequest) -> Iterator[ChoiceList]:
    """Receivers of other types that lie in the bay or whose price is known from it."""
    prices = {item.part_type: item for item in library.stock if item.part_type in library.receivers}
    for receiver in aircraft.receivers:
        if receiver.code in asking.locked:
            continue
        lines = []
        for code in sorted(library.receivers):
            item = prices.get(code)
            if code == receiver.model_type or item is None or (item.on_hand < 1 and item.price is None):
                continue
            price = 0.0 if item.on_hand >= 1 else item.price or 0.0
            line = _line(PlanAction.FIT_RECEIVER, receiver.code, price, asking)
            lines.append((replace(line, part_type=code),))
        if lines:
            yield _list((receiver.code,), Cure.RECEIVER, lines)


def _line(action: PlanAction, place: str, price: float, asking: RefitRequest) -> PlanLine:
    hours = asking.hours(action)
    return PlanLine(plan=PLAN, number=1, action=action, place=place, price=price, hours_h=hours)


def _list(places: tuple[str, ...], cure: Cure, works: Iterable[tuple[PlanLine, ...]]) -> ChoiceList:
    kinds = frozenset({cure})
    return ChoiceList(
        name=", ".join(places),
        places=places,
        kinds=kinds,
        choices=(
            AS_IT_IS,
            *(
                Choice(
                    lines=tuple(lines),
                    price=round(sum(line.price or 0.0 for line in lines), 2),
                    hours=sum(line.hours_h or 0.0 for line in lines),
                    does=kinds,
                )
                for lines in works
            ),
        ),
    )
