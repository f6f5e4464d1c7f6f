"""Every refit of a small case tried one by one: a second opinion on the planner, sharing none of its tables.

Each combination becomes a changed aircraft that is surveyed and inspected; what it may not do is read here
from the records themselves.
"""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hangar.parts import Aircraft, Plan, PlanLine, ServoFit, ServoType, after_plan
from hangar.parts.choices import Drive, RegulatorKind
from hangar.refit.grades import loop_shape
from hangar.refit.limits import MOST_RESERVE
from hangar.refit.strengths import grading_of
from hangar.rules import Finding, Level, inspect
from hangar.rules.case import Case
from hangar.survey import survey
from hangar.survey.defaults import class_defaults
from hangar.survey.model import Scenario, Survey
from hangar.survey.servos import rating_of
from hangar.survey.strength import delivered
from hangar.survey.supply import supply_model
from tests.refit.brute_choices import GroupChoice, SupplyChoice, group_choices, second_packs, supply_choices
from tests.refit.generator import SmallCase

Vector = tuple[int, int, int, int]


@dataclass(frozen=True)
class BruteFront:
    """Price in hundredths, grams, margin in percent and level in millivolts of the front.

    What the aircraft as it is equals is left out. ``possible`` tells whether any combination keeps all rules.
    """

    vectors: Counter[Vector]
    tried: int
    possible: bool


def brute_front(case: SmallCase) -> BruteFront:
    """The front by trying every combination; refits with a second pack are weighed among themselves."""
    before = _warnings(case.aircraft, case)
    found: dict[tuple[Vector, bool], bool] = {}
    tried = 0
    lists = [list(group_choices(case, group)) for group in case.groups]
    supplies = [*supply_choices(case), *(second_packs(case) if case.limits.second_pack else ())]
    for supply, groups in itertools.product(supplies, list(itertools.product(*lists))):
        tried += 1
        vector = _assessed(case, supply, groups, before)
        if vector is not None:
            nothing = not supply.lines and not any(group.lines for group in groups)
            key = vector, supply.second
            found[key] = found.get(key, False) or nothing
    best = [
        (one, second)
        for one, second in found
        if not any(_beats(other, one) for other, kind in found if kind is second)
    ]
    return BruteFront(Counter(one for one, second in best if not found[one, second]), tried, bool(found))


def _beats(one: Vector, other: Vector) -> bool:
    return (
        one != other
        and one[0] <= other[0]
        and one[1] <= other[1]
        and one[2] >= other[2]
        and one[3] >= other[3]
    )


def _each_alone_holds(after: Aircraft, case: SmallCase) -> bool:
    """Whether the bus keeps 0.3 V over the receiver's least with either pack alone."""
    least = max(each.supply_min_v or 0.0 for each in after.receivers)
    for path in after.paths:
        alone = survey(dataclasses.replace(after, paths=(path,)), case.limits.conditions)
        bus_v = alone.scenarios[Scenario.PEAK].bus_v
        if bus_v is None or bus_v.expected < least + 0.3:
            return False
    return True


def _assessed(
    case: SmallCase, supply: SupplyChoice, groups: Sequence[GroupChoice], before: set[tuple[str, str]]
) -> Vector | None:
    limits = case.limits
    price = supply.price + sum(group.price for group in groups)
    mass = _up(supply.mass_g) + sum(_up(group.mass_g) for group in groups)
    if limits.budget is not None and price > limits.budget + 1e-9:
        return None
    if limits.mass_g is not None and mass > limits.mass_g:
        return None
    types = {group.buys for group in groups} - {""}
    if limits.most_types is not None and len(types) > limits.most_types:
        return None
    taken: dict[str, int] = {}
    for group in groups:
        taken[group.uses[0]] = taken.get(group.uses[0], 0) + group.uses[1]
    for code, count in taken.items():
        if count > sum(servo.servo_type == code for servo in case.library.spare_servos.values()):
            return None
    after = _changed(case, supply, groups)
    if after is None or not _volts_allowed(case, after, {code: kind for g in groups for code, kind in g.new}):
        return None
    if _warnings(after, case) - before or (supply.second and not _each_alone_holds(after, case)):
        return None
    return _strong(case, after, round(100.0 * price), mass)


def _up(value: float) -> int:
    return math.ceil(value - 1e-6)


def _changed(case: SmallCase, supply: SupplyChoice, groups: Sequence[GroupChoice]) -> Aircraft | None:
    tags: set[str] = set()
    lines: list[PlanLine] = []
    parts: list[GroupChoice | SupplyChoice] = [*groups, supply]
    for line in (line for part in parts for line in part.lines):
        own = line
        if line.from_stock in tags:
            kind = line.part_type
            spare = next(
                tag for tag, servo in sorted(case.library.spare_servos.items())
                if servo.servo_type == kind and tag not in tags
            )  # fmt: skip
            own = dataclasses.replace(line, from_stock=spare)
        if own.from_stock:
            tags.add(own.from_stock)
        lines.append(dataclasses.replace(own, number=len(lines) + 1))
    plan = Plan(code="B", aircraft=case.aircraft.code, title="brute", lines=tuple(lines))
    return after_plan(case.aircraft, plan, case.library)


def _volts_allowed(case: SmallCase, after: Aircraft, new: dict[str, str]) -> bool:
    seen = survey(after, case.limits.conditions).supply
    assert seen.bus_full_v is not None
    assert seen.rested_full_v is not None
    regulator = after.paths[0].regulator_type
    regulated = regulator is not None and regulator.regulator is not RegulatorKind.PASS
    top = seen.bus_full_v.expected
    rested = top if regulated else seen.rested_full_v.expected
    for fit in after.fits:
        kind = fit.servo_type
        if kind is None or kind.supply_max_v is None:
            continue
        if fit.code in new:
            if not _within(case, after, kind, top, regulated):
                return False
        elif _over(after, kind, top, rested, regulated):
            return False
    return all(top <= (receiver.supply_max_v or 99.0) + 1e-9 for receiver in after.receivers)


def _nominal(after: Aircraft) -> float:
    kind = after.paths[0].packs[0].pack_type
    return kind.series * (1.2 if kind.chemistry.is_nickel else 3.7)


def _within(case: SmallCase, after: Aircraft, kind: ServoType, top: float, regulated: bool) -> bool:
    if kind.max_means == "nominal" and not regulated:
        return top <= (kind.supply_max_v or 0.0) or _nominal(after) <= (kind.supply_max_v or 0.0) + 1e-9
    return top <= (kind.supply_max_v or 0.0) + 1e-9


def _over(after: Aircraft, kind: ServoType, top: float, rested: float, regulated: bool) -> bool:
    most = kind.supply_max_v or 0.0
    if top <= most + 1e-9:
        return False
    if regulated:
        return True
    if kind.max_means == "nominal":
        return _nominal(after) > most + 1e-9
    return rested > most + 1e-9 or top > 1.05 * most


def _warnings(aircraft: Aircraft, case: SmallCase) -> set[tuple[str, str]]:
    """Every rule that warns, with each place it warns of."""
    codes = {fit.code for fit in aircraft.fits}
    found: set[tuple[str, str]] = set()

    def note(findings: tuple[Finding, ...]) -> None:
        for finding in findings:
            if finding.level is Level.WARNING:
                found.update((finding.rule, code) for code in (codes & set(finding.about) or {"-"}))
            note(finding.folded)

    note(inspect(aircraft, survey(aircraft, case.limits.conditions), case.limits.thresholds))
    return found


def _strong(case: SmallCase, after: Aircraft, price: int, mass: int) -> Vector | None:
    """The vector of a refit when torque, speed and volts hold at its level of bus volts."""
    seen = survey(after, case.limits.conditions)
    peak = seen.scenarios.get(Scenario.PEAK)
    if peak is None or peak.bus_v is None:
        return None
    floor_v = max((each.supply_min_v or 0.0 for each in after.receivers), default=0.0)
    level = _level(peak.bus_v.expected, max(2.5, floor_v), case.limits.level_step_mv)
    if level is None:
        return None
    weakest = min(100.0 * MOST_RESERVE, float(case.limits.margin_cap_pct))
    for fit in after.fits:
        own = _at_level(case, after, seen, fit, level)
        if own is None:
            return None
        weakest = min(weakest, own)
    return price, mass, _down(weakest, case.limits.margin_step_pct), level


def _down(value: float, step: int) -> int:
    return math.floor(value / step + 1e-9) * step


def _level(bus_v: float, lowest_v: float, step_mv: int) -> int | None:
    lowest = math.ceil(1000.0 * lowest_v - 1e-6)
    if 1000.0 * bus_v < lowest:
        return None
    return max(lowest, math.floor(1000.0 * bus_v + 1e-6) // step_mv * step_mv)


def _at_level(case: SmallCase, after: Aircraft, seen: Survey, fit: ServoFit, level: int) -> float | None:
    """Margin in percent with the bus at the level; None where a rule of strength is broken."""
    limits, defaults = case.limits, class_defaults()
    peak = seen.scenarios[Scenario.PEAK]
    assert peak.bus_v is not None
    lower = peak.bus_v.expected - level / 1000.0
    node_v = {node: volts - lower for node, volts in peak.node_v.items()}
    model = supply_model(after, limits.conditions, defaults)
    load = seen.positions[fit.code].load_nm
    assert fit.servo_type is not None
    rating = rating_of(fit.servo_type)
    assert rating is not None
    there = delivered(fit, rating, model, dataclasses.replace(peak, node_v=node_v), load, defaults, [])
    assert there is not None
    grading = grading_of(after, fit, seen, Case(after, seen, limits.thresholds), limits)
    margin = math.inf
    if grading is not None:
        grade = grading.of(*loop_shape(fit, defaults))
        margin = 100.0 * float(grade.reserve_at(np.array([there.torque.expected]))[0])
        if fit.code not in limits.locked and there.torque.expected < grade.needed_nm * (1.0 - 1e-9):
            return None
    if fit.code in limits.locked:
        return margin
    slowest = limits.transit_s.get(str(fit.function), math.inf)
    if there.transit is None or there.transit.expected > slowest + 1e-9:
        return None
    # A digital servo of a flight control may stop 15 % below the least volts that it works from.
    least_v = Case(after, seen, limits.thresholds).least_servo_v(fit) or 0.0
    stops = fit.servo_type.drive is Drive.DIGITAL and fit.function.is_flight
    return None if stops and there.volts.expected < 0.85 * least_v - 1e-9 else margin
