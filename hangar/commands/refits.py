"""The command that plans refits: a front, stages, or one budget over the whole fleet."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.commands.opening import NO_WARNING, Ground, fleet_at, print_json

if TYPE_CHECKING:
    from hangar.base.units import UnitChoice
    from hangar.parts import Aircraft, PlanLine
    from hangar.refit import Front, Limits, Point
    from hangar.refit.stages import Stages


def run_refit(arguments: argparse.Namespace) -> int:
    from hangar.refit import Limits, front_as_json, plan

    if arguments.whole_fleet == (arguments.aircraft is not None):
        raise BadInput("refit needs either --aircraft CODE or --whole-fleet; give one of them.")
    if arguments.plan is not None and arguments.stages is None:
        raise BadInput("refit --plan needs --stages MONEY...; give the money of each stage.")
    if arguments.whole_fleet:
        return _refit_fleet(arguments)
    with fleet_at(arguments.fleet) as fleet:
        ground, aircraft = Ground.of(fleet), fleet.aircraft(arguments.aircraft)
    limits = Limits(
        budget=arguments.budget, thresholds=ground.thresholds, risk=ground.risk(),
        second_pack=True if arguments.second_pack else None,
    )  # fmt: skip
    if arguments.stages is not None:
        return _refit_stages(arguments, aircraft, ground, limits)
    front = plan(aircraft, ground.library, limits=limits)
    if arguments.json:
        print_json(front_as_json(front, explained=arguments.explain))
    else:
        _print_front(front, ground.units, explained=arguments.explain)
    return NO_WARNING


def _refit_stages(arguments: argparse.Namespace, aircraft: Aircraft, ground: Ground, limits: Limits) -> int:
    from hangar.refit.stages import stages, stages_as_json

    if not all(budget >= 0.0 for budget in arguments.stages):
        raise BadInput("refit --stages takes the money of each stage; 0 or more is allowed.")
    if arguments.plan is None:
        chosen: Point | Sequence[PlanLine] = _least_risk(aircraft, ground, limits, arguments.stages)
    else:
        chosen = _open_lines(aircraft, arguments.plan)
    staged = stages(aircraft, chosen, arguments.stages, ground.library, limits)
    if arguments.json:
        print_json({"aircraft": aircraft.code, "plan": arguments.plan, **stages_as_json(staged)})
    else:
        _print_stages(aircraft, staged)
    return NO_WARNING


def _least_risk(aircraft: Aircraft, ground: Ground, limits: Limits, budgets: Sequence[float]) -> Point:
    """The refit of the front that leaves the least risk for all the money together."""
    from dataclasses import replace

    from hangar.refit import plan

    total = sum(budgets) if limits.budget is None else min(limits.budget, sum(budgets))
    front = plan(aircraft, ground.library, limits=replace(limits, budget=total))
    best = min(front.points, key=lambda point: (limits.risk.of(point.findings_after), point.price))
    if not best.changes:
        raise BadInput(f"{aircraft.code}: no refit for {total:g} leaves less risk; give more money.")
    return best


def _open_lines(aircraft: Aircraft, code: str) -> tuple[PlanLine, ...]:
    from hangar.refit.board import open_lines

    found = {each.code: each for each in aircraft.plans}
    if code not in found:
        known = ", ".join(found) or "none"
        raise BadInput(f"{aircraft.code} has no plan {code!r}; its plans: {known}.")
    return open_lines(found[code])


def _print_stages(aircraft: Aircraft, staged: Stages) -> None:
    proof = "" if staged.exact else ", not proved best"
    print(f"{aircraft.code}  {aircraft.airframe.name}: risk {staged.risk_today:g} today{proof}")
    for number, stage in enumerate(staged.stages, 1):
        money = f"{stage.price:g} of {stage.at_hand:g} spent"
        print(f"  stage {number}: {money}, risk {stage.risk_after:g} left")
        for bundle in stage.bundles:
            print(f"      {bundle.words}")
        print(f"      {stage.why}")
    for bundle in staged.left:
        print(f"  in no stage: {bundle.words}")
    for words in staged.notes:
        print(f"  {words}")


def _refit_fleet(arguments: argparse.Namespace) -> int:
    from hangar.refit import Limits
    from hangar.refit.fleet_plan import FLEET_LEVEL_STEP_V, fleet_as_json, plan_fleet

    if arguments.budget is None or arguments.stages is not None:
        raise BadInput("refit --whole-fleet needs --budget MONEY, 0 or more, and takes no --stages.")
    with fleet_at(arguments.fleet) as fleet:
        ground, aircraft = Ground.of(fleet), fleet.whole_fleet()
    limits = Limits(level_step_v=FLEET_LEVEL_STEP_V, thresholds=ground.thresholds, risk=ground.risk())
    found = plan_fleet(aircraft, ground.library, arguments.budget, limits=limits)
    if arguments.json:
        print_json(fleet_as_json(found))
        return NO_WARNING
    shortage = f"shortage {found.shortage_before:.2f} -> {found.shortage_after:.2f}"
    risk = f"risk {found.risk_before:g} -> {found.risk_after:g}"
    print(f"price {found.price:g} of {found.budget:g}, {risk}, {shortage}")
    for part in found.parts:
        _print_changes(part.point, part.aircraft, f"{part.aircraft.code}  price {part.point.price:g}")
    print("\n".join(map(str, found.notes)))
    return NO_WARNING


def _print_changes(point: Point, aircraft: Aircraft, title: str) -> None:
    from hangar.refit.line_words import change_words

    print(title)
    for words in change_words(point.changes, aircraft):
        print(f"      {words}")
    if not point.changes:
        print("      as it is")


def _print_front(front: Front, units: UnitChoice, *, explained: bool) -> None:
    from hangar.refit.explain import explanations

    print(
        f"{front.aircraft.code}  {front.aircraft.airframe.name}: {len(front.points)} refits that none beats"
    )
    reasons = explanations(front) if explained else []
    for at, point in enumerate(front.points):
        margin = "not known" if point.weakest_margin is None else f"{point.weakest_margin:.2f}"
        bus = "not known" if point.worst_bus_v is None else f"{point.worst_bus_v:.2f} V"
        mass = units.show(point.mass_change_g, "g")
        figures = f"{'' if mass.startswith('-') else '+'}{mass}, weakest margin {margin}, peak bus {bus}"
        _print_changes(point, front.aircraft, f"  price {point.price:g}, {figures}")
        told = reasons[at] if reasons else {}
        for words in told.values() if point.changes else filter(None, [told.get("more_money")]):
            print(f"      {words}")
    for doubt in front.doubts:
        print(f"  {doubt}")
