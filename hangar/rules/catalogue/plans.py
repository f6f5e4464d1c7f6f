"""Refit plans and Stores: what is short, reserved twice, half done, or would make things worse."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.figure import Input
from hangar.base.text import NOTHING, ItemList, Text, joined, listed, text
from hangar.parts import Aircraft, Library, Plan, PlanLine, ServoFit
from hangar.parts.choices import Criticality, Drive, PlanAction, PlanState
from hangar.parts.planned import after_plan
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_records
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Finding, Level
from hangar.rules.flag import Flag, Flags, worked
from hangar.rules.forbidding import FORBIDDING
from hangar.rules.inspecting import judged
from hangar.rules.registry import Scene, rule
from hangar.rules.words import parts_of
from hangar.survey import survey

_OPEN = (PlanState.SKETCHED, PlanState.PRICED, PlanState.PARTS_IN, PlanState.FITTING)
_PLANNED_FAMILIES = {
    "high_volts", "low_volts", "torque", "swash_matching", "pair_matching", "pulses", "pack_size",
    "pack_joining", "regulators", "switches", "leads", "lead_care", "fitting", "arms", "rods", "duty",
    "mass_balance", "ratings", "sleeves",
}  # fmt: skip
"""Families whose answer a plan can change; tests and papers of new parts come later."""
_GRAVE = (Level.WARNING, Level.CAUTION)
_WORST = len(Level)


def open_plans(plans: tuple[Plan, ...]) -> Iterator[Plan]:
    """Plans that are not carried out or dropped."""
    return (plan for plan in plans if plan.state in _OPEN)


def _open_lines(plan: Plan) -> Iterator[PlanLine]:
    return (line for line in plan.lines if line.done_on is None)


def needed(plan: Plan) -> Counter[str]:
    """How many parts of each type the open lines of a plan ask for."""
    count: Counter[str] = Counter()
    for line in _open_lines(plan):
        if line.part_type:
            count[line.part_type] += line.quantity
    return count


def _half_done(case: Case, plan: Plan) -> list[tuple[ServoFit, str]]:
    undone = []
    for line in _open_lines(plan):
        fit = case.aircraft.fit(line.place or "")
        if line.action is not PlanAction.FIT_SERVO or fit is None or fit.servo_type is None:
            continue
        wanted = line.part_type or ""
        mates = [servo for servo in case.servos if servo.function is fit.function and servo.code != fit.code]
        begun = any(mate.servo_type is not None and mate.servo_type.code == wanted for mate in mates)
        if begun and fit.servo_type.code != wanted:
            undone.append((fit, wanted))
    return undone


@rule(
    "analog-left-in-refit",
    title="Refit half done",
    levels=Level.CAUTION,
    flags=lambda: with_records(ex.half_refitted(), plans=ex.planned_ailerons(PlanState.PARTS_IN)),
    passes=lambda: with_records(ex.trainer(), plans=ex.planned_ailerons(PlanState.PARTS_IN)),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("the servo type that the plan fits at the other places")),
)
def analog_left_in_refit(case: Case) -> Flags:
    """
    Checks: for refits that are being fitted, old servos left beside new ones of the planned type in the same
        function.
    Consequence: half a set works worse than the old one.
    Can't tell when: never.
    Source: common practice, no source
    Remedy: Finish the set, or put the old servos back.
    """
    for plan in case.aircraft.plans:
        if plan.state not in (PlanState.FITTING, PlanState.PARTS_IN):
            continue
        undone = _half_done(case, plan)
        if undone:
            fits = [fit for fit, _ in undone]
            old = listed([_old_words(fit) for fit in fits])
            yield Flag(
                level=Level.CAUTION,
                about=parts_of(fits),
                message=text(
                    'Refit "{title}" is half done: {old} still fitted, {left} planned.',
                    title=plan.title,
                    old=old,
                    left=undone[0][1],
                ),
                criticality=fits[0].criticality,
                rests_on=(plan.code, *(fit.code for fit in fits)),
            )


def _old_words(fit: ServoFit) -> Text:
    kind = fit.servo_type
    is_analog = kind is not None and kind.drive is Drive.ANALOG
    return text(
        "{code} (analog) at {position}" if is_analog else "{code} at {position}",
        code=kind.code if kind else "?",
        position=fit.code,
    )


@rule(
    "plan-short",
    title="Plan lacks parts",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: Scene(with_records(ex.trainer(), plans=ex.planned()), library=ex.library(stock=0)),
    passes=lambda: Scene(with_records(ex.trainer(), plans=ex.planned()), library=ex.library(stock=1)),
    cures=(),
)
def plan_short(case: Case) -> Flags:
    """
    Checks: parts that the open lines of a plan ask for against Stores; a caution when the plan's date
        is near or fitting has begun.
    Consequence: a refit that stops half way grounds the aircraft.
    Can't tell when: never; it is asked only where Stores is at hand.
    Source: logic
    Remedy: Order them, or take them from another plan.
    """
    if case.library is None:
        return
    for plan in open_plans(case.aircraft.plans):
        short = {
            kind: count - case.library.stocked(kind)
            for kind, count in needed(plan).items()
            if count > case.library.stocked(kind)
        }
        if not short:
            continue
        soon = plan.due_on is not None and -case.days_since(plan.due_on) <= case.limit("plan-days")
        urgent = soon or plan.state is PlanState.FITTING
        price = sum(
            (line.price or 0.0) for line in _open_lines(plan) if line.part_type in short and line.price
        )
        yield Flag(
            level=Level.CAUTION if urgent else Level.ADVISORY,
            about=(plan.code,),
            message=text(
                'Plan "{title}" lacks {names}.',
                title=plan.title,
                names=listed([text("{n:g} × {kind}", n=n, kind=kind) for kind, n in short.items()]),
            ),
            detail=text("about {price:g} to buy", price=price) if price else NOTHING,
            figures=tuple(
                worked(
                    text("{kind} lacking", kind=kind),
                    n,
                    "",
                    "needed - in Stores",
                    Input(text("needed"), needed(plan)[kind]),
                )
                for kind, n in short.items()
            ),
            rests_on=("urgent" if urgent else "open", *(f"{kind} {n:g}" for kind, n in short.items())),
        )


@rule(
    "plan-makes-worse",
    title="Plan cures one thing and breaks another",
    levels=Level.CAUTION,
    flags=lambda: Scene(
        with_records(ex.trainer(), plans=ex.planned()), library=ex.library(stock=1, case_length_mm=60.0)
    ),
    passes=lambda: Scene(with_records(ex.trainer(), plans=ex.planned()), library=ex.library(stock=1)),
    cures=(),
)
def plan_makes_worse(case: Case) -> Flags:
    """
    Checks: the aircraft as it would be after each open plan, by the same survey and the same rules on volts,
        torque, packs, leads, fit and balance: warnings and cautions that are not there today.
    Consequence: the refit brings a fault of its own.
    Can't tell when: never; it is asked only where the type library is at hand.
    Source: logic: the planned state is judged as if it were there
    Remedy: Change the plan.
    """
    if case.library is None:
        return
    for plan in open_plans(case.aircraft.plans):
        try:
            after = after_plan(case.aircraft, plan, case.library)
        except BadInput as fault:
            yield Flag(
                level=Level.CAUTION,
                about=(plan.code,),
                message=text(
                    'Plan "{title}" cannot be carried out: {fault}', title=plan.title, fault=fault.text
                ),
                rests_on=(str(fault),),
            )
            continue
        fresh = _fresh(_Comparison(case, after))
        if fresh:
            titles = tuple(dict.fromkeys(_lowered(finding.title) for finding in fresh))
            yield Flag(
                level=Level.CAUTION,
                about=(plan.code,),
                message=text(
                    'Plan "{title}" would bring: {troubles}.',
                    title=plan.title,
                    troubles=ItemList(titles, ";"),
                ),
                detail=joined(*(finding.message for finding in fresh)),
                criticality=min((finding.criticality for finding in fresh), key=list(Criticality).index),
                rests_on=tuple(sorted({finding.rule for finding in fresh})),
            )


def _lowered(title: Text) -> Text:
    """A rule's title in the middle of a sentence."""
    return text("{title:small}", title=title)


class _Comparison:
    """An aircraft as it is and as it would be; equal where every input of the comparison is."""

    def __init__(self, case: Case, after: Aircraft) -> None:
        self.case, self.after = case, after
        conditions = dataclasses.replace(case.conditions, defaults={})
        self._key = (
            case.aircraft, after, tuple(vars(conditions).values())[:-1],
            tuple(sorted(case.conditions.defaults.items())), tuple(sorted(case.thresholds.own.items())),
        )  # fmt: skip

    def __hash__(self) -> int:
        return hash(self._key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Comparison) and self._key == other._key


# A look at the same aircraft asks for its plans again, and the changed state costs a whole survey each.
@lru_cache(maxsize=64)
def _fresh(compared: _Comparison) -> tuple[Finding, ...]:
    """Warnings and cautions of the families that a plan can change, which are not there today."""
    case = compared.case
    today = _ranks(judged(case, _PLANNED_FAMILIES), case)
    planned = dataclasses.replace(
        case, aircraft=compared.after, survey=survey(compared.after, case.conditions), library=None
    )
    grave = [finding for finding in judged(planned, _PLANNED_FAMILIES) if finding.level in _GRAVE]
    grave.sort(key=_place)
    return tuple(
        finding
        for finding in grave
        if any(finding.level.rank < today.get(key, _WORST) for key in _keys(finding, case))
    )


def _place(finding: Finding) -> tuple[int, int, float]:
    """What forbids the plan comes first, then by level and margin."""
    forbids = finding.level is Level.WARNING and finding.rule in FORBIDDING
    first = FORBIDDING.index(finding.rule) if forbids else len(FORBIDDING)
    return first, finding.level.rank, finding.margin if finding.margin is not None else 9.0


def _keys(finding: Finding, case: Case) -> list[tuple[str, str]]:
    """What makes a finding the same one before and after: its rule and places, as tags change."""
    places = [part for part in finding.about if case.aircraft.fit(part) is not None]
    return [(finding.rule, place) for place in places or [""]]


def _ranks(findings: Iterable[Finding], case: Case) -> dict[tuple[str, str], int]:
    ranks: dict[tuple[str, str], int] = {}
    for finding in findings:
        for key in _keys(finding, case):
            ranks[key] = min(finding.level.rank, ranks.get(key, _WORST))
    return ranks


def _promised(library: Library) -> dict[str, list[Plan]]:
    tags: dict[str, list[Plan]] = {}
    for plan in open_plans(library.plans):
        for line in _open_lines(plan):
            if line.from_stock:
                tags.setdefault(line.from_stock, []).append(plan)
    return tags


@rule(
    "part-reserved-twice",
    title="Reserved for two plans",
    levels=Level.CAUTION,
    flags=lambda: Scene(with_records(ex.trainer(), plans=ex.planned()), library=ex.rival_library(stock=1)),
    passes=lambda: Scene(with_records(ex.trainer(), plans=ex.planned()), library=ex.rival_library(stock=2)),
    cures=(),
    worse=Worse.FIXED,
)
def part_reserved_twice(case: Case) -> Flags:
    """
    Checks: tagged parts that two open plans take from Stores, and types of which all open plans
        together ask for more than lies there while this aircraft's plan alone would be served.
    Consequence: the second refit stops half way.
    Can't tell when: never; it is asked only where Stores is at hand.
    Source: logic
    Remedy: Order, or settle which plan goes first.
    """
    library = case.library
    if library is None:
        return
    plans_here = list(open_plans(case.aircraft.plans))
    codes = {plan.code for plan in plans_here}
    for tag, plans in _promised(library).items():
        if len(plans) > 1 and codes & {plan.code for plan in plans}:
            yield _twice(tag, sorted({plan.code for plan in plans}))
    others = [plan for plan in open_plans(library.plans) if plan.code not in codes]
    for plan in plans_here:
        for kind, count in needed(plan).items():
            rivals = [other for other in others if needed(other)[kind]]
            total = count + sum(needed(other)[kind] for other in rivals)
            if rivals and count <= library.stocked(kind) < total:
                yield _twice(kind, sorted({plan.code, *(rival.code for rival in rivals)}))


def _twice(part: str, plans: list[str]) -> Flag:
    return Flag(
        level=Level.CAUTION,
        about=(part,),
        message=text(
            "Plans {plans} both reserve {part}, and there are not enough.", plans=listed(plans), part=part
        ),
        rests_on=tuple(plans),
    )


@rule(
    "stock-below-minimum",
    title="Spares below the minimum",
    levels=Level.ADVISORY,
    flags=lambda: Scene(ex.trainer(), library=ex.spares(on_hand=0)),
    passes=lambda: Scene(ex.trainer(), library=ex.spares(on_hand=2)),
    cures=(),
    worse=Worse.FIXED,
)
def stock_below_minimum(case: Case) -> Flags:
    """
    Checks: spares of the servo, pack, regulator and switch types of this aircraft against the minimum
        wanted.
    Consequence: a spare that is not there costs a flying day.
    Can't tell when: never; it is asked only where Stores is at hand.
    Source: logic
    Remedy: Order.
    """
    if case.library is None:
        return
    types = {fit.servo_type.code for fit in case.servos if fit.servo_type}
    types |= {fed.pack_type.code for fed in case.packs}
    types |= {path.regulator_type.code for path in case.aircraft.paths if path.regulator_type}
    types |= {path.switch_type.code for path in case.aircraft.paths if path.switch_type}
    for item in case.library.stock:
        if item.part_type in types and item.wanted is not None and item.on_hand < item.wanted:
            yield Flag(
                level=Level.ADVISORY,
                about=(item.code,),
                message=text(
                    "Stores holds {on_hand:g} {part_type}; {wanted:g} is the minimum.",
                    on_hand=item.on_hand,
                    part_type=item.part_type,
                    wanted=item.wanted,
                ),
                rests_on=(item.on_hand, item.wanted),
            )
