"""What each group of positions could have, and the first hard rule that each refused type breaks."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from hangar.base.text import NOTHING, Amount, Arg, Text, listed, text
from hangar.parts import Aircraft, Lead, Library, ServoFit, ServoType
from hangar.parts.choices import Drive, Function
from hangar.physics.wire import area_mm2
from hangar.refit.bay import Bay
from hangar.refit.groups import Group
from hangar.refit.limits import Limits
from hangar.refit.refusal import LACKING, Refusal
from hangar.rules.case import Case
from hangar.rules.signals import output_pulse, output_rate
from hangar.survey.model import Survey
from hangar.survey.servos import rating_of

KEEP = ""
_COPPER_G_CM3 = 8.96
"""Density of copper at 20 C, standard handbooks."""


@dataclass(frozen=True, kw_only=True)
class Option:
    """One choice of a group.

    Attributes:
        servo_type: the type that all its positions get; empty to keep what is there.
        awg: gauge that thinner leads are changed to; None leaves them.
        changed: positions that get another servo.
        spares: how many of them come from the bay.
        price: of servos, leads and arms to buy.
        mass_g: change of mass.
        leads: positions whose lead is changed.
        arms: positions that need an arm for another spline, with its library code and price.
    """

    servo_type: str = KEEP
    awg: int | None = None
    changed: tuple[str, ...] = ()
    spares: int = 0
    price: float = 0.0
    mass_g: float = 0.0
    leads: tuple[str, ...] = ()
    arms: tuple[tuple[str, str | None, float], ...] = ()

    @property
    def bought(self) -> int:
        """How many servos are bought."""
        return len(self.changed) - self.spares

    @property
    def is_as_it_is(self) -> bool:
        """Whether nothing is changed."""
        return not self.changed and not self.leads


@dataclass(frozen=True)
class GroupOptions:
    """Every choice of a group that no rule of fit refuses."""

    group: Group
    options: tuple[Option, ...]
    refused: tuple[Refusal, ...] = ()
    locked: bool = False
    own_types: tuple[ServoType | None, ...] = field(default=())


def option_lists(
    aircraft: Aircraft,
    survey: Survey,
    groups: Sequence[Group],
    library: Library,
    bay: Bay,
    limits: Limits,
    barred: frozenset[tuple[str, str]] = frozenset(),
) -> tuple[GroupOptions, ...]:
    """The choices of every group.

    Args:
        aircraft: as it is.
        survey: its survey.
        groups: from :func:`hangar.refit.groups.groups_of`.
        library: servo types and arms.
        bay: spares that can be taken.
        limits: locked positions, prices of leads and arms.
        barred: (group name, type) that the rules refused when the aircraft was put through them.
    """
    case = Case(aircraft, survey, limits.thresholds, library)
    return tuple(_options(case, group, library, bay, limits, barred) for group in groups)


def _options(
    case: Case, group: Group, library: Library, bay: Bay, limits: Limits, barred: frozenset[tuple[str, str]]
) -> GroupOptions:
    own = tuple(fit.servo_type for fit in group.fits)
    locked = any(code in limits.locked for code in group.codes)
    if locked:
        return GroupOptions(group, (Option(),), locked=True, own_types=own)
    found = list(_kept(group, limits))
    refused = []
    for code, kind in sorted(library.servo_types.items()):
        if all(each is not None and each.code == code for each in own):
            continue
        if (group.name, code) in barred:
            continue
        refusal = _refusal(case, group, kind, bay)
        if refusal is not None:
            refused.append(refusal)
            continue
        found += _of_type(group, kind, library, bay, limits)
    return GroupOptions(group, tuple(found), tuple(refused), own_types=own)


def _kept(group: Group, limits: Limits) -> Iterator[Option]:
    types = {fit.servo_type.code if fit.servo_type else None for fit in group.fits}
    if None in types or (group.strict and len(types) > 1):
        return
    yield Option()
    for awg in limits.gauges:
        leads = _thinner(group, awg)
        if leads:
            yield Option(
                awg=awg,
                leads=leads,
                price=len(leads) * limits.lead_price,
                mass_g=_lead_mass_g(group, leads, awg),
            )


def _thinner(group: Group, awg: int) -> tuple[str, ...]:
    return tuple(fit.code for fit in group.fits if fit.lead is not None and (gauge_of(fit) or 99) > awg)


def gauge_of(fit: ServoFit, kind: ServoType | None = None) -> int | None:
    """Gauge of the lead at a position: its own, else that of the servo's tail."""
    if fit.lead is not None and fit.lead.awg is not None:
        return fit.lead.awg
    kind = kind or fit.servo_type
    return kind.lead_awg if kind is not None else None


def _lead_mass_g(group: Group, leads: tuple[str, ...], awg: int) -> float:
    """Copper added by heavier power wires; the signal wire stays as thin as it is."""
    total = 0.0
    for fit in group.fits:
        if fit.code in leads and isinstance(fit.lead, Lead):
            old = gauge_of(fit)
            added_mm2 = area_mm2(awg) - (area_mm2(old) if old is not None else 0.0)
            total += 2.0 * added_mm2 * fit.lead.length_mm / 1000.0 * _COPPER_G_CM3
    return total


def _of_type(group: Group, kind: ServoType, library: Library, bay: Bay, limits: Limits) -> Iterator[Option]:
    changed = tuple(
        fit.code for fit in group.fits if fit.servo_type is None or fit.servo_type.code != kind.code
    )
    old_g = sum(
        (fit.servo_type.mass_g or 0.0) for fit in group.fits if fit.code in changed and fit.servo_type
    )
    arms = tuple(_arms(group, kind, changed, library, limits))
    most = min(len(changed), bay.servos(kind.code))
    counts = range(most + 1) if limits.mix_new_and_used else sorted({0, most if most == len(changed) else 0})
    for awg in (None, *limits.gauges):
        leads = () if awg is None else _thinner(group, awg)
        if awg is not None and not leads:
            continue
        mass = len(changed) * (kind.mass_g or 0.0) - old_g
        mass += 0.0 if awg is None else _lead_mass_g(group, leads, awg)
        small = sum(price for *_, price in arms) + len(leads) * limits.lead_price
        for spares in counts:
            bought = len(changed) - spares
            if bought and kind.price is None:
                continue
            yield Option(
                servo_type=kind.code, awg=awg, changed=changed, spares=spares, leads=leads, arms=arms,
                price=bought * (kind.price or 0.0) + small, mass_g=mass,
            )  # fmt: skip


def _arms(
    group: Group, kind: ServoType, changed: tuple[str, ...], library: Library, limits: Limits
) -> Iterator[tuple[str, str | None, float]]:
    """Arms for the positions whose arm does not fit the type's spline."""
    for fit in group.fits:
        teeth = fit.installation.arm_teeth if fit.installation else None
        if fit.code not in changed or teeth is None or teeth == kind.spline_teeth:
            continue
        fitting = [
            arm for arm in library.arms.values()
            if arm.spline_teeth == kind.spline_teeth and arm.price is not None
            and abs((arm.spline_mm or 0.0) - (kind.spline_mm or arm.spline_mm or 0.0)) < 0.15
        ]  # fmt: skip
        cheapest = min(fitting, key=lambda arm: (arm.price or 0.0, arm.code), default=None)
        if cheapest is None:
            yield fit.code, None, limits.arm_price
        else:
            yield fit.code, cheapest.code, cheapest.price or 0.0


_Check = Callable[[Case, ServoFit, ServoType], Text]


def _refusal(case: Case, group: Group, kind: ServoType, bay: Bay) -> Refusal | None:
    lack = _lacks(kind, bay)
    what = text("{place}: {what}", place=group.name, what=kind.code)
    if lack:
        return Refusal(what, LACKING[lack], lack)
    for rule, check in _CHECKS.items():
        for fit in group.fits:
            if fit.servo_type is not None and fit.servo_type.code == kind.code:
                continue
            why = check(case, fit, kind)
            if why:
                return Refusal(what, why, rule)
    return None


def _lacks(kind: ServoType, bay: Bay) -> str:
    if rating_of(kind) is None:
        return "rating"
    if kind.mass_g is None:
        return "mass"
    if kind.supply_max_v is None:
        return "highest volts"
    if kind.price is None and not bay.servos(kind.code):
        return "price"
    return ""


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
        said: dict[str, Arg] = {"position": fit.code, "bay": opening, "side": word, "size": own}
        if size is None:
            return Text("its size is not known; the bay of {position} is {bay} {side}", said)
        if size > bay:
            return Text("it is {size} {side}; the bay of {position} is {bay}", said)
        return Text(
            "it is {size} {side}; the bay of {position} is {bay} and must leave {room} free",
            {**said, "room": Amount(room, "mm")},
        )
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


def _other_pulse(case: Case, fit: ServoFit, kind: ServoType) -> Text:
    sent, _ = output_pulse(case, fit)
    if sent is None or abs(sent - kind.pulse_us) <= case.limit("pulse-distance"):
        return NOTHING
    return text(
        "it is made for {own:g} µs pulses; {position} sends {sent:g} µs",
        own=kind.pulse_us,
        position=fit.code,
        sent=sent,
    )


def _too_many_frames(case: Case, fit: ServoFit, kind: ServoType) -> Text:
    rate, _ = output_rate(case, fit)
    most = kind.max_rate_hz
    if most is None and kind.drive is Drive.ANALOG:
        most = case.limit("analog-rate")
    if rate is None or most is None or rate.expected <= most * 1.001:
        return NOTHING
    return text(
        "it bears {limit:g} frames a second; {position} sends {sent:.0f}",
        limit=most,
        position=fit.code,
        sent=rate.expected,
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
    "pulse": _other_pulse,
    "frame-rate": _too_many_frames,
    "duty": _other_duty,
}


def with_type(fit: ServoFit, kind: ServoType | None, awg: int | None) -> ServoFit:
    """The position with a fresh servo of a type and its lead no thinner than a gauge."""
    lead = fit.lead
    if awg is not None and lead is not None:
        lead = replace(lead, awg=awg)
    if kind is None or (fit.servo_type is not None and fit.servo_type.code == kind.code):
        return replace(fit, lead=lead)
    return replace(fit, lead=lead, servo=None, servo_type=kind)


def wanted_margin(case: Case, fit: ServoFit) -> float:
    """The torque margin that the rules ask of a position."""
    from hangar.parts.choices import Function

    if fit.function in (Function.CYCLIC, Function.COLLECTIVE):
        return case.limit("torque-margin-cyclic")
    return case.limit("torque-margin-tail" if fit.function is Function.TAIL else "torque-margin")


def slowest_s(fit: ServoFit, limits: Limits) -> float:
    """The longest transit time the keeper wishes at a position; infinite without a wish."""
    return limits.transit_s.get(fit.code, limits.transit_s.get(str(fit.function), math.inf))
