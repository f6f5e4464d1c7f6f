"""A chosen refit as the lines of a plan."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hangar.parts import Aircraft, Plan, PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.bay import Bay
from hangar.refit.limits import Limits
from hangar.refit.options import Option
from hangar.refit.supplies import Supply
from hangar.refit.supply_changes import PLAN


def plan_lines(
    aircraft: Aircraft, options: Sequence[Option], supply: Supply, bay: Bay, limits: Limits
) -> tuple[PlanLine, ...]:
    """The changes of a refit, servos first, then the supply, numbered from 1.

    Args:
        aircraft: as it is.
        options: one for each group.
        supply: the supply that goes with them.
        bay: spares, whose tags are given out in order.
        limits: prices of small parts.
    """
    tags = {kind: list(each) for kind, each in bay.servo_tags.items()}
    lines = [line for option in options for line in _of_option(aircraft, option, tags, limits)]
    return tuple(replace(line, number=number) for number, line in enumerate((*lines, *supply.lines), 1))


def _of_option(
    aircraft: Aircraft, option: Option, tags: dict[str, list[str]], limits: Limits
) -> Iterator[PlanLine]:
    price = _price_of_one(option, limits)
    arms = {code: (arm, cost) for code, arm, cost in option.arms}
    for place, code in enumerate(option.changed):
        spare = place < option.spares
        own = tags.get(option.servo_type, [])
        arm, arm_price = arms.get(code, (None, 0.0))
        arm_line = None if code not in arms else _arm_line(aircraft, code, arm, arm_price)
        with_arm = arm_price if arm_line is None else 0.0
        yield PlanLine(
            plan=PLAN, number=1, action=PlanAction.FIT_SERVO, place=code, part_type=option.servo_type,
            from_stock=own.pop(0) if spare and own else None,
            price=round((0.0 if spare else price) + with_arm, 2),
        )  # fmt: skip
        if arm_line is not None:
            yield arm_line
    for code in option.leads:
        yield PlanLine(
            plan=PLAN, number=1, action=PlanAction.CHANGE_LEAD, place=code, awg=option.awg,
            price=limits.lead_price,
        )  # fmt: skip


def _price_of_one(option: Option, limits: Limits) -> float:
    small = len(option.leads) * limits.lead_price + sum(price for *_, price in option.arms)
    return (option.price - small) / option.bought if option.bought else 0.0


def _arm_line(aircraft: Aircraft, code: str, arm: str | None, price: float) -> PlanLine | None:
    """An arm of the same radius for the new spline; None where no radius is recorded."""
    fit = aircraft.fit(code)
    radius = fit.linkage.arm_mm if fit is not None and fit.linkage is not None else None
    if radius is None:
        return None
    return PlanLine(
        plan=PLAN, number=1, action=PlanAction.CHANGE_ARM, place=code, part_type=arm, arm_mm=radius,
        price=price,
    )  # fmt: skip


def plan_of(aircraft: Aircraft, lines: Sequence[PlanLine], code: str = PLAN, title: str = "Refit") -> Plan:
    """The lines as a plan that can be written to the fleet file."""
    return Plan(
        code=code,
        aircraft=aircraft.code,
        title=title,
        lines=tuple(replace(line, plan=code) for line in lines),
    )
