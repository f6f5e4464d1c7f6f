"""The command that plans refits: a front, stages, or one budget over the whole fleet."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.base.text import plural, series, text
from hangar.commands.opening import NO_WARNING, basis_of, fleet_at, print_json
from hangar.commands.speaking import reader, units_of

if TYPE_CHECKING:
    from hangar.answers.judging import JudgingBasis
    from hangar.base.reader import Reader
    from hangar.parts import Aircraft, PlanLine
    from hangar.refit import Front, Limits, Point
    from hangar.refit.stages import Stages


def run_refit(arguments: argparse.Namespace) -> int:
    from dataclasses import replace

    from hangar.answers.refit_limits import usual_limits
    from hangar.refit import front_as_json, plan

    if arguments.whole_fleet == (arguments.aircraft is not None):
        raise BadInput("refit needs either --aircraft CODE or --whole-fleet; give one of them.")
    if arguments.plan is not None and arguments.stages is None:
        raise BadInput("refit --plan needs --stages MONEY...; give the money of each stage.")
    if arguments.whole_fleet:
        return _refit_fleet(arguments)
    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), fleet.aircraft(arguments.aircraft)
    second = True if arguments.second_pack else None
    limits = replace(usual_limits(basis), budget=arguments.budget, second_pack=second)
    if arguments.stages is not None:
        return _refit_stages(arguments, aircraft, basis, limits)
    front = plan(aircraft, basis.library, limits=limits)
    if arguments.json:
        print_json(front_as_json(front, explained=arguments.explain))
    else:
        _print_front(front, reader(units_of(basis)), explained=arguments.explain)
    return NO_WARNING


def _refit_stages(
    arguments: argparse.Namespace, aircraft: Aircraft, basis: JudgingBasis, limits: Limits
) -> int:
    from hangar.refit.stages import stages, stages_as_json

    if not all(budget >= 0.0 for budget in arguments.stages):
        raise BadInput("refit --stages takes the money of each stage; 0 or more is allowed.")
    if arguments.plan is None:
        chosen: Point | Sequence[PlanLine] = _least_risk(aircraft, basis, limits, arguments.stages)
    else:
        chosen = _open_lines(aircraft, arguments.plan)
    staged = stages(aircraft, chosen, arguments.stages, basis.library, limits)
    if arguments.json:
        print_json({"aircraft": aircraft.code, "plan": arguments.plan, **stages_as_json(staged)})
    else:
        _print_stages(aircraft, staged, reader(units_of(basis)))
    return NO_WARNING


def _least_risk(aircraft: Aircraft, basis: JudgingBasis, limits: Limits, budgets: Sequence[float]) -> Point:
    """The refit of the front that leaves the least risk for all the money together."""
    from dataclasses import replace

    from hangar.refit import plan

    total = sum(budgets) if limits.budget is None else min(limits.budget, sum(budgets))
    front = plan(aircraft, basis.library, limits=replace(limits, budget=total))
    best = min(front.points, key=lambda point: (limits.risk.of(point.findings_after), point.price))
    if not best.changes:
        raise BadInput(
            "{code}: no refit for {total:g} leaves less risk; give more money.",
            code=aircraft.code,
            total=total,
        )
    return best


def _open_lines(aircraft: Aircraft, code: str) -> tuple[PlanLine, ...]:
    from hangar.refit.board import open_lines

    plans = {plan.code: plan for plan in aircraft.plans}
    if code not in plans:
        raise BadInput(
            "{aircraft} has no plan '{plan}'; its plans: {plans}.",
            aircraft=aircraft.code,
            plan=code,
            plans=series(plans, ",") or text("none"),
        )
    return open_lines(plans[code])


def _print_stages(aircraft: Aircraft, staged: Stages, reading: Reader) -> None:
    say, put = reading.say, reading.put
    risk = text("risk {risk:g} today", risk=staged.risk_today)
    if not staged.exact:
        risk = text("{risk}, not proved best", risk=risk)
    print(f"{aircraft.code}  {aircraft.airframe.name}: {put(risk)}")
    for number, stage in enumerate(staged.stages, 1):
        told = say(
            "stage {number}: {price:g} of {money:g} spent, risk {risk:g} left",
            number=number,
            price=stage.price,
            money=stage.at_hand,
            risk=stage.risk_after,
        )
        print(f"  {told}")
        for bundle in stage.bundles:
            print(f"      {put(bundle.words)}")
        print(f"      {put(stage.why)}")
    for bundle in staged.left:
        print(f"  {say('in no stage: {changes}', changes=bundle.words)}")
    for words in staged.notes:
        print(f"  {put(words)}")


def _refit_fleet(arguments: argparse.Namespace) -> int:
    from dataclasses import replace

    from hangar.answers.refit_limits import usual_limits
    from hangar.refit.fleet_plan import FLEET_LEVEL_STEP_V, fleet_as_json, plan_fleet

    if arguments.budget is None or arguments.stages is not None:
        raise BadInput("refit --whole-fleet needs --budget MONEY, 0 or more, and takes no --stages.")
    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), fleet.whole_fleet()
    limits = replace(usual_limits(basis), level_step_v=FLEET_LEVEL_STEP_V)
    plan = plan_fleet(aircraft, basis.library, arguments.budget, limits=limits)
    if arguments.json:
        print_json(fleet_as_json(plan))
        return NO_WARNING
    reading = reader(units_of(basis))
    figures = reading.say(
        "price {price:g} of {budget:g}, risk {risk_before:g} -> {risk_after:g}, "
        "shortage {shortage_before:.2f} -> {shortage_after:.2f}",
        price=plan.price,
        budget=plan.budget,
        risk_before=plan.risk_before,
        risk_after=plan.risk_after,
        shortage_before=plan.shortage_before,
        shortage_after=plan.shortage_after,
    )
    print(figures)
    for part in plan.parts:
        price = reading.say("price {price:g}", price=part.point.price)
        _print_changes(part.point, part.aircraft, f"{part.aircraft.code}  {price}", reading)
    for words in plan.notes:
        print(reading.put(words))
    return NO_WARNING


def _print_changes(point: Point, aircraft: Aircraft, title: str, reading: Reader) -> None:
    from hangar.refit.line_words import change_words

    print(title)
    for words in change_words(point.changes, aircraft):
        print(f"      {reading.put(words)}")
    if not point.changes:
        print(f"      {reading.say('as it is')}")


def _print_front(front: Front, reading: Reader, *, explained: bool) -> None:
    from hangar.refit.explain import explanations

    count = plural("{count} refit that none beats", "{count} refits that none beats", count=len(front.points))
    print(f"{front.aircraft.code}  {front.aircraft.airframe.name}: {reading.put(count)}")
    reasons = explanations(front) if explained else []
    unknown = text("not known")
    for at, point in enumerate(front.points):
        margin, bus = point.weakest_margin, point.worst_bus_v
        mass = reading.show(point.mass_change_g, "g")
        figures = reading.say(
            "price {price:g}, {mass}, weakest margin {margin}, peak bus {bus}",
            price=point.price,
            mass=mass if mass.startswith("-") else f"+{mass}",
            margin=unknown if margin is None else text("{margin:.2f}", margin=margin),
            bus=unknown if bus is None else text("{volts:.2f} V", volts=bus),
        )
        _print_changes(point, front.aircraft, f"  {figures}", reading)
        told = reasons[at] if reasons else {}
        for words in told.values() if point.changes else filter(None, [told.get("more_money")]):
            print(f"      {reading.put(words)}")
    for doubt in front.doubts:
        print(f"  {reading.put(doubt)}")
