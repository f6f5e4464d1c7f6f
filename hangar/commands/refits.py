"""The command that plans refits: what clears, what is best for money, stages, or the whole fleet."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.base.text import Text, series, text
from hangar.commands.opening import NO_WARNING, basis_of, fleet_at, print_json
from hangar.commands.speaking import reader, units_of

if TYPE_CHECKING:
    from hangar.answers.judging import JudgingBasis
    from hangar.answers.purchases import Purchase
    from hangar.base.reader import Reader
    from hangar.parts import Aircraft, PlanLine
    from hangar.refit.answer import Answer, Stay, Unit
    from hangar.refit.fleet import FleetAnswer
    from hangar.refit.request import RefitRequest
    from hangar.refit.stages import Stages


def run_refit(arguments: argparse.Namespace) -> int:
    if arguments.whole_fleet == (arguments.aircraft is not None):
        raise BadInput("refit needs either --aircraft CODE or --whole-fleet; give one of them.")
    if arguments.plan is not None and arguments.stages is None:
        raise BadInput("refit --plan needs --stages MONEY...; give the money of each stage.")
    if arguments.whole_fleet:
        return _refit_fleet(arguments)
    if arguments.stages is not None and not all(budget >= 0.0 for budget in arguments.stages):
        raise BadInput("refit --stages takes the money of each stage; 0 or more is allowed.")
    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), fleet.aircraft(arguments.aircraft)
    if arguments.stages is not None:
        return _refit_in_stages(arguments, aircraft, basis)
    return _refit_aircraft(arguments, aircraft, basis)


def _asking(arguments: argparse.Namespace, basis: JudgingBasis) -> RefitRequest:
    """The keeper's limits with what was asked on the line."""
    from hangar.answers.refit_limits import usual_request

    second = True if arguments.second_pack else None
    return replace(usual_request(basis), budget=arguments.budget, second_pack=second)


def _refit_aircraft(arguments: argparse.Namespace, aircraft: Aircraft, basis: JudgingBasis) -> int:
    from hangar.refit.answer_as_json import answer_as_json
    from hangar.refit.ladder import best_for_budget, clear, next_step
    from hangar.refit.partners import Partners

    ask = next_step if arguments.next else clear if arguments.budget is None else best_for_budget
    asking = _asking(arguments, basis)
    if arguments.swaps:
        asking = replace(asking, swap_with=Partners(_whole_fleet(arguments)))
    answer = ask(aircraft, basis.library, asking)
    if arguments.json:
        print_json(answer_as_json(answer))
    else:
        _print_answer(answer, reader(units_of(basis)))
    return NO_WARNING


def _whole_fleet(arguments: argparse.Namespace) -> tuple[Aircraft, ...]:
    with fleet_at(arguments.fleet) as fleet:
        return fleet.whole_fleet()


def _print_answer(answer: Answer, reading: Reader) -> None:
    from hangar.refit.line_words import line_words

    print(_gain_words(answer, reading))
    for change in answer.changes:
        words = line_words(change.line, None if change.at else answer.aircraft)
        at = f"{change.at}, " if change.at else ""
        print(f"      {at}{reading.put(words)}")
        if change.cures:
            print(f"          {reading.say('else: {units}', units=_units(change.cures))}")
    if not answer.changes:
        print(f"      {reading.say('as it is')}")
    if answer.brings:
        print(f"  {reading.say('brings: {units}', units=_units(answer.brings))}")
    for stay in answer.stays:
        print(f"  {reading.put(_stay_words(stay))}")
    if answer.unknown:
        print(f"  {reading.say('cannot be told: {fields}', fields=series(answer.unknown))}")
    if not answer.proved:
        gap = reading.say(
            "Not proved best: up to {warnings} warnings, {cautions} cautions and {money:g} "
            "could still be saved.",
            warnings=answer.gap.warnings,
            cautions=answer.gap.cautions,
            money=answer.gap.money,
        )
        print(f"  {gap}")


def _stay_words(stay: Stay) -> Text:
    from hangar.rules.needs import need_words

    unit = _units((stay.unit,))
    if stay.need is not None:
        return text(
            "stays: {units}: {because}, {need}", units=unit, because=stay.because, need=need_words(stay.need)
        )
    if stay.words:
        return text("stays: {units}: {because}. {words}", units=unit, because=stay.because, words=stay.words)
    return text("stays: {units}: {because}", units=unit, because=stay.because)


def _units(units: Sequence[Unit]) -> Text:
    """Findings by level, title and places."""
    return series(text("{level} {finding}", level=unit.level, finding=unit.words) for unit in units)


def _refit_in_stages(arguments: argparse.Namespace, aircraft: Aircraft, basis: JudgingBasis) -> int:
    from hangar.refit.answer_as_json import stages_as_json
    from hangar.refit.bundles import givers_of, lines_elsewhere
    from hangar.refit.partners import Partners
    from hangar.refit.stages import best_in_stages, lines_in_stages

    asking, months = _asking(arguments, basis), arguments.stages
    lines = () if arguments.plan is None else _open_lines(aircraft, arguments.plan)
    fleet = _whole_fleet(arguments) if arguments.swaps or givers_of(aircraft.code, lines) else ()
    asking = replace(asking, swap_with=Partners(fleet) if fleet else None)
    if arguments.plan is None:
        staged = best_in_stages(aircraft, basis.library, asking, months)
    else:
        there = lines_elsewhere(aircraft.code, lines, fleet)
        staged = lines_in_stages(aircraft, lines, basis.library, asking, months, there)
    if arguments.json:
        print_json({**stages_as_json(staged), "plan": arguments.plan})
    else:
        _print_stages(staged, reader(units_of(basis)))
    return NO_WARNING


def _open_lines(aircraft: Aircraft, code: str) -> tuple[PlanLine, ...]:
    from hangar.answers.board import open_lines

    plans = {plan.code: plan for plan in aircraft.plans}
    if code not in plans:
        raise BadInput(
            "{aircraft} has no plan '{plan}'; its plans: {plans}.",
            aircraft=aircraft.code,
            plan=code,
            plans=series(plans, ",") or text("none"),
        )
    return open_lines(plans[code])


def _print_stages(staged: Stages, reading: Reader) -> None:
    say, put, aircraft = reading.say, reading.put, staged.aircraft
    today = say(
        "{warnings} warnings and {cautions} cautions today",
        warnings=staged.today.warnings,
        cautions=staged.today.cautions,
    )
    print(f"{aircraft.code}  {aircraft.airframe.name}: {today}")
    for number, stage in enumerate(staged.stages, 1):
        heading = say(
            "stage {number}: {price:g} of {money:g} spent, {hours:g} h; {warnings} and {cautions} left",
            number=number,
            price=stage.price,
            money=stage.at_hand,
            hours=stage.hours,
            warnings=stage.answer.left.warnings,
            cautions=stage.answer.left.cautions,
        )
        print(f"  {heading}")
        for bundle in stage.bundles:
            print(f"      {put(bundle.words)}")
        if stage.clears:
            print(f"          {say('clears: {units}', units=_units(stage.clears))}")
        if stage.answer.brings:
            print(f"          {say('brings: {units}', units=_units(stage.answer.brings))}")
    for bundle, why in staged.left:
        print(f"  {say('in no stage: {changes}: {why}', changes=bundle.words, why=why)}")
    if staged.unpriced:
        print(f"  {say('{count} lines have no price and count as costing nothing', count=staged.unpriced)}")
    if not staged.proved:
        print(f"  {say('Not proved best.')}")


def _refit_fleet(arguments: argparse.Namespace) -> int:
    from hangar.answers.purchases import purchases_as_json, purchases_of
    from hangar.refit.answer_as_json import fleet_answer_as_json
    from hangar.refit.fleet import fleet as whole_fleet

    if arguments.budget is None or arguments.stages is not None:
        raise BadInput("refit --whole-fleet needs --budget MONEY, 0 or more, and takes no --stages.")
    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), fleet.whole_fleet()
    answer = whole_fleet(aircraft, basis.library, _asking(arguments, basis))
    bought = purchases_of(answer, basis.library)
    if arguments.json:
        print_json({**fleet_answer_as_json(answer), "purchases": purchases_as_json(bought)})
    else:
        _print_fleet(answer, bought, reader(units_of(basis)))
    return NO_WARNING


def _print_fleet(answer: FleetAnswer, bought: Sequence[Purchase], reading: Reader) -> None:
    say, put = reading.say, reading.put
    print(say("{price:g} of {budget:g} spent", price=answer.money, budget=answer.budget))
    for part in answer.parts:
        _print_work(part, reading)
    print(say("to buy:"))
    for row in bought:
        words = say(
            "{supplier}: {count:g} x {what}, {price:g} each, {cost:g} together, for {aircraft}",
            supplier=row.supplier or text("supplier not recorded"),
            count=row.count,
            what=row.what,
            price=row.price or 0.0,
            cost=row.cost or 0.0,
            aircraft=", ".join(row.aircraft),
        )
        print(f"  {words}")
    for what, code in answer.spares:
        print(f"  {say('from Stores: {what} for {aircraft}', what=what, aircraft=code)}")
    if answer.not_asked:
        print(put(text("Not looked at: {list}.", list=", ".join(answer.not_asked))))
    if not answer.proved:
        gap = say(
            "Not proved best: another choice could leave up to {gap:.0f} less, counted in cautions.",
            gap=max(1.0, answer.worth - answer.bound),
        )
        print(gap)


def _print_work(part: Answer, reading: Reader) -> None:
    """One aircraft of a fleet: what it gains, and its work in order."""
    from hangar.answers.board import order_of_work
    from hangar.parts import Plan

    print(f"{_gain_words(part, reading)}")
    if not part.changes:
        print(f"      {reading.say('as it is')}")
        return
    hours = {change.line.number: change.hours for change in part.changes}
    plan = Plan(code=part.lines[0].plan, aircraft=part.aircraft.code, title="", lines=part.lines)
    for step in order_of_work(plan):
        if step.line is None:
            print(f"      {step.number}. {reading.put(step.words)}")
        else:
            hours_words = reading.say("{hours:g} h", hours=hours[step.line.number])
            print(f"      {step.number}. {reading.put(step.words)}  {hours_words}")
    if part.clears:
        print(f"          {reading.say('clears: {units}', units=_units(part.clears))}")


def _gain_words(answer: Answer, reading: Reader) -> str:
    """An aircraft with its findings today and after its plan, and what that costs."""
    left, today = answer.left, answer.today
    words = reading.say(
        "{warnings} warnings and {cautions} cautions today; "
        "{left_warnings} and {left_cautions} for {money:g} and {hours:g} h",
        warnings=today.warnings,
        cautions=today.cautions,
        left_warnings=left.warnings,
        left_cautions=left.cautions,
        money=left.money,
        hours=left.hours,
    )
    return f"{answer.aircraft.code}  {answer.aircraft.airframe.name}: {words}"
