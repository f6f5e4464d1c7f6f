"""What every place of a small case could get, read from its records: each group of servos, the supply."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from hangar.parts import PlanLine, ServoFit, ServoType
from hangar.parts.choices import Drive, Function, PlanAction, RegulatorKind
from tests.refit.generator import SmallCase

_COPPER_G_MM3 = 0.00896


@dataclass(frozen=True)
class GroupChoice:
    """What a group gets: a type or nothing, how many of it from the bay, a lead gauge or none."""

    lines: tuple[PlanLine, ...]
    price: float
    mass_g: float
    uses: tuple[str, int] = ("", 0)
    buys: str = ""
    new: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class SupplyChoice:
    """What the supply gets; ``second`` where that is a second pack."""

    lines: tuple[PlanLine, ...] = ()
    price: float = 0.0
    mass_g: float = 0.0
    second: bool = False


def supply_choices(case: SmallCase) -> Iterator[SupplyChoice]:
    """The pack, regulator and switch there are, each changed or left."""
    path, library = case.aircraft.paths[0], case.library
    packs = [SupplyChoice()]
    old_pack = path.packs[0].pack_type.mass_g or 0.0
    for kind in library.pack_types.values():
        ((price, tag),) = _packs_of(case, kind.code, 1)
        line = _line(1, PlanAction.FIT_PACK, path.feed.code, part_type=kind.code, from_stock=tag)
        packs.append(SupplyChoice((line,), price, (kind.mass_g or 0.0) - old_pack))
    regulators = [SupplyChoice()]
    for regulator in library.regulator_types.values():
        set_v = None if regulator.regulator is RegulatorKind.PASS else 6.0
        line = _line(1, PlanAction.FIT_REGULATOR, path.feed.code, part_type=regulator.code, set_v=set_v)
        regulators.append(SupplyChoice((line,), regulator.price or 0.0, regulator.mass_g or 0.0))
    switches = [SupplyChoice()]
    old_switch = path.switch_type.mass_g or 0.0 if path.switch_type else 0.0
    for switch in library.switch_types.values():
        line = _line(1, PlanAction.FIT_SWITCH, path.feed.code, part_type=switch.code)
        switches.append(SupplyChoice((line,), switch.price or 0.0, (switch.mass_g or 0.0) - old_switch))
    for parts in itertools.product(packs, regulators, switches):
        yield SupplyChoice(
            tuple(line for part in parts for line in part.lines),
            sum(part.price for part in parts),
            sum(part.mass_g for part in parts),
        )


def second_packs(case: SmallCase) -> Iterator[SupplyChoice]:
    """A board with two isolated inputs, a second pack like the first or two new ones, and its switch."""
    path, library = case.aircraft.paths[0], case.library
    own, first = path.packs[0].pack_type, path.feed.code
    boards = [each for each in library.regulator_types.values() if each.inputs >= 2 and each.isolated]
    for board, kind, both, switch, both_switches in itertools.product(
        boards, library.pack_types.values(), (False, True), library.switch_types.values(), (False, True)
    ):
        alike = kind.chemistry is own.chemistry and kind.series == own.series
        if (both and kind.code == own.code) or not (both or alike):
            continue
        old_switch = path.switch_type
        if both_switches and old_switch is not None and old_switch.code == switch.code:
            continue
        places = [first, "SECOND"] if both else ["SECOND"]
        packs = _packs_of(case, kind.code, len(places))
        lines = [
            _line(1, PlanAction.FIT_PACK, place, part_type=kind.code, from_stock=tag)
            for place, (_, tag) in zip(places, packs, strict=True)
        ]
        lines.append(_line(1, PlanAction.FIT_REGULATOR, "ISOLATOR", part_type=board.code))
        lines += [
            _line(1, PlanAction.FIT_SWITCH, place, part_type=switch.code)
            for place in ([first, "SECOND"] if both_switches else ["SECOND"])
        ]
        switches = 2 if both_switches else 1
        mass = len(places) * (kind.mass_g or 0.0) + (board.mass_g or 0.0) + switches * (switch.mass_g or 0.0)
        mass -= (own.mass_g or 0.0) if both else 0.0
        mass -= (old_switch.mass_g or 0.0) if both_switches and old_switch is not None else 0.0
        price = sum(each for each, _ in packs) + (board.price or 0.0) + switches * (switch.price or 0.0)
        yield SupplyChoice(tuple(lines), price, mass, True)


def _packs_of(case: SmallCase, code: str, count: int) -> list[tuple[float, str | None]]:
    """Price and tag of some packs of a type, those of the bay first."""
    tags = sorted(tag for tag, pack in case.library.spare_packs.items() if pack.pack_type == code)
    price = case.library.pack_types[code].price or 0.0
    return [(0.0, tags[number]) if number < len(tags) else (price, None) for number in range(count)]


def group_choices(case: SmallCase, codes: tuple[str, ...]) -> Iterator[GroupChoice]:
    """Every servo type, lead and spare for positions that are refitted together."""
    fits = [fit for fit in case.aircraft.fits if fit.code in codes]
    yield GroupChoice((), 0.0, 0.0)
    if set(codes) & case.limits.locked:
        return
    for gauge in (None, *case.limits.gauges):
        thin = [fit for fit in fits if gauge is not None and fit.lead and (fit.lead.awg or 99) > gauge]
        if gauge is not None and not thin:
            continue
        leads = [_line(1, PlanAction.CHANGE_LEAD, fit.code, awg=gauge) for fit in thin]
        price = len(leads) * case.limits.lead_price
        mass = sum(_copper_g(fit, gauge or 0) for fit in thin)
        if leads:
            yield GroupChoice(tuple(leads), price, mass)
        for kind in case.library.servo_types.values():
            yield from _with_type(case, fits, kind, tuple(leads), price, mass)


def _with_type(
    case: SmallCase,
    fits: list[ServoFit],
    kind: ServoType,
    leads: tuple[PlanLine, ...],
    price: float,
    mass: float,
) -> Iterator[GroupChoice]:
    new = [fit for fit in fits if fit.servo_type is None or fit.servo_type.code != kind.code]
    if not new or not all(_fits_the_place(case, fit, kind) for fit in new):
        return
    arms = [
        min(arm.price or 0.0 for arm in case.library.arms.values() if arm.spline_teeth == kind.spline_teeth)
        for fit in new
        if fit.installation and fit.installation.arm_teeth != kind.spline_teeth
    ]
    mass += sum(
        (kind.mass_g or 0.0) - (fit.servo_type.mass_g or 0.0 if fit.servo_type else 0.0) for fit in new
    )
    tags = sorted(tag for tag, servo in case.library.spare_servos.items() if servo.servo_type == kind.code)
    for spares in range(min(len(tags), len(new)) + 1):
        servos = [
            _line(1, PlanAction.FIT_SERVO, fit.code, part_type=kind.code,
                  from_stock=tags[place] if place < spares else None)
            for place, fit in enumerate(new)
        ]  # fmt: skip
        cost = price + sum(arms) + (len(new) - spares) * (kind.price or 0.0)
        yield GroupChoice(
            (*servos, *leads), cost, mass, (kind.code, spares), kind.code if spares < len(new) else "",
            tuple((fit.code, kind.code) for fit in new),
        )  # fmt: skip


def _fits_the_place(case: SmallCase, fit: ServoFit, kind: ServoType) -> bool:
    place = fit.position
    for size, room in (
        (kind.case_length_mm, place.bay_length_mm),
        (kind.case_width_mm, place.bay_width_mm),
        (kind.case_height_mm, place.bay_height_mm),
    ):
        if size is None or (room is not None and size > room - 0.5):
            return False
    behind_gyro = fit.through is not None and fit.function is Function.TAIL
    pulse = fit.through.pulse_us if behind_gyro and fit.through else 1520.0
    rate = fit.through.rate_hz if behind_gyro and fit.through else 50.0
    bears = kind.max_rate_hz or (60.0 if kind.drive is Drive.ANALOG else 1e9)
    return abs((pulse or 0.0) - kind.pulse_us) <= 100.0 and (rate or 0.0) <= bears


def _copper_g(fit: ServoFit, gauge: int) -> float:
    assert fit.lead is not None
    areas: list[float] = [
        math.pi / 4.0 * (0.127 * 92.0 ** ((36 - awg) / 39.0)) ** 2 for awg in (gauge, fit.lead.awg or 0)
    ]
    return 2.0 * (areas[0] - areas[1]) * fit.lead.length_mm * _COPPER_G_MM3


def _line(number: int, action: PlanAction, place: str, **values: object) -> PlanLine:
    return dataclasses.replace(PlanLine(plan="B", number=number, action=action, place=place), **values)  # type: ignore[arg-type]
