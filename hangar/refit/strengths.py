"""What every type would give at every position of a group, at any bus volts."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hangar.parts import Aircraft, Library, ServoFit, ServoType
from hangar.physics.air import Air
from hangar.physics.network_elements import Resistor
from hangar.refit.curves import Curves, Floats, Ints
from hangar.refit.grades import GradeRule, loop_shape
from hangar.refit.limits import Limits
from hangar.refit.options import KEEP, GroupOptions, slowest_s, wanted_margin, with_type
from hangar.rules.case import Case, works_from_v
from hangar.rules.starved import may_stop_below_v
from hangar.survey.defaults import Defaults, defaults_with
from hangar.survey.dive_speed import dive_speed_m_s
from hangar.survey.draws import idle_a, mean_draw
from hangar.survey.leads import lead_ohm
from hangar.survey.load_question import LoadQuestion
from hangar.survey.model import Survey
from hangar.survey.paths import BUS
from hangar.survey.position_load import load_at
from hangar.survey.servos import rating_of
from hangar.survey.supply import SupplyModel

NEARLY = 1e-9


@dataclass(frozen=True)
class Place:
    """One position: its load, what is wanted there, and what lies between bus and lead.

    ``upstream`` holds, for each resistance on the way, its ohms, the steady current of the gyro behind it
    and the positions behind it.
    """

    fit: ServoFit
    load_nm: float | None
    grading: GradeRule | None
    slowest_s: float
    weight: float
    upstream: tuple[tuple[float, float, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Variant:
    """A servo type with a lead gauge at one group; every option of a group is one of them."""

    servo_type: str
    awg: int | None


@dataclass(frozen=True)
class PlaceArrays:
    """One position over the variants of its group; below ``stops_v`` its servo may stop."""

    place: Place
    kind: Ints
    loops: tuple[tuple[float, float], ...]
    ohm: Floats
    idle_a: Floats
    average_a: Floats
    stops_v: Floats


@dataclass(frozen=True)
class GroupStrength:
    """The variants of a group with everything that the levels need."""

    variants: tuple[Variant, ...]
    option_variant: Ints
    places: tuple[PlaceArrays, ...]


@dataclass(frozen=True)
class AtLevel:
    """A group's variants at one level of bus volts.

    Attributes:
        margin_pct: least reserve of the group's positions: control left of a surface, torque over load of a
            servo on a rotor; infinite where no load is known.
        short: least of torque over the torque from which no check complains.
        slow_s: transit time of the position that misses its wish most; 0 where none does.
        spare_v: least volts at a servo above those below which it may stop.
        shortage: sum over positions of weight x squared share of the wanted torque that is lacking.
    """

    margin_pct: Floats
    short: Floats
    slow: NDArray[np.bool_]
    transit_s: Floats
    spare_v: Floats
    shortage: Floats


def places_of(aircraft: Aircraft, survey: Survey, model: SupplyModel, limits: Limits) -> dict[str, Place]:
    """Every position's load and way from the bus."""
    case = Case(aircraft, survey, limits.thresholds)
    found = {}
    for fit in aircraft.fits:
        grading = grading_of(aircraft, fit, survey, case, limits)
        found[fit.code] = Place(
            fit,
            None if grading is None else grading.load.load_nm.expected,
            grading,
            slowest_s(fit, limits),
            limits.risk.by_criticality[fit.criticality],
            tuple(_upstream(fit, model)),
        )
    return found


def grading_of(
    aircraft: Aircraft, fit: ServoFit, survey: Survey, case: Case, limits: Limits
) -> GradeRule | None:
    """How the torque at a position is graded; None where no load is known."""
    conditions = survey.conditions
    defaults = defaults_with(conditions.defaults)
    air = Air.at(conditions.altitude_m, conditions.air_c)
    question = LoadQuestion.of(aircraft, fit, air, defaults)
    load = load_at(question).load
    if load is None or not load.load_nm.expected > 0.0:
        return None
    return GradeRule(
        load, question, case.limit,
        dive_speed_m_s(aircraft.airframe, defaults) if load.points else 0.0,
        (1.0 if load.points else wanted_margin(case, fit)) * limits.margin_factor,
    )  # fmt: skip


def short_today(place: Place, survey: Survey) -> float | None:
    """Torque at a position today over that from which no check complains; None where it is not known."""
    torque = survey.positions[place.fit.code].torque_nm
    if place.grading is None or torque is None:
        return None
    defaults = defaults_with(survey.conditions.defaults)
    return torque.expected / place.grading.of(*loop_shape(place.fit, defaults)).needed_nm


def _upstream(fit: ServoFit, model: SupplyModel) -> list[tuple[float, float, tuple[str, ...]]]:
    if model.network is None:
        return []
    elements = model.network.elements
    found, node = [], model.start.get(fit.code, BUS)
    while node != BUS:
        joint = next(
            (each for each in elements
             if isinstance(each, Resistor) and each.b == node and not each.name.startswith("lead to servo")),
            None,
        )  # fmt: skip
        if joint is None:
            break
        behind = _nodes_behind(node, model)
        steady = sum(
            getattr(each, "current_a", 0.0)
            for each in elements
            if each.name.startswith("draw of ") and getattr(each, "a", "") in behind
        )
        fed = tuple(code for code, start in model.start.items() if start in behind)
        found.append((joint.resistance_ohm, steady, fed))
        node = joint.a
    return found


def _nodes_behind(node: str, model: SupplyModel) -> set[str]:
    assert model.network is not None
    behind = {node}
    for each in model.network.elements:
        if isinstance(each, Resistor) and each.a in behind and each.b in set(model.start.values()):
            behind.add(each.b)
    return behind


def types_in(aircraft: Aircraft, library: Library) -> dict[str, ServoType]:
    """Every servo type of the library, and those of the aircraft that it may lack."""
    own = {fit.servo_type.code: fit.servo_type for fit in aircraft.fits if fit.servo_type is not None}
    return {**own, **library.servo_types}


def curves_of(types: Mapping[str, ServoType]) -> Curves:
    """Their ratings as curves."""
    return Curves.of([rating_of(kind) for kind in types.values()])


def group_strength(
    aircraft: Aircraft,
    lists: GroupOptions,
    places: Mapping[str, Place],
    types: Mapping[str, ServoType],
    defaults: Defaults,
    spare_idle_a: Mapping[str, float],
    limit: Callable[[str], float],
) -> GroupStrength:
    """A group's options as variants, with the lead and currents of each position."""
    variants: dict[Variant, int] = {}
    option_variant = []
    for option in lists.options:
        variant = Variant(option.servo_type, option.awg)
        option_variant.append(variants.setdefault(variant, len(variants)))
    order = {code: number for number, code in enumerate(types)}
    arrays = tuple(
        _place_arrays(aircraft, places[fit.code], list(variants), types, order, defaults, spare_idle_a, limit)
        for fit in lists.group.fits
    )
    return GroupStrength(tuple(variants), np.array(option_variant, np.int64), arrays)


def _place_arrays(
    aircraft: Aircraft,
    place: Place,
    variants: Sequence[Variant],
    types: Mapping[str, ServoType],
    order: Mapping[str, int],
    defaults: Defaults,
    spare_idle_a: Mapping[str, float],
    limit: Callable[[str], float],
) -> PlaceArrays:
    fit = place.fit
    kinds, loops, ohms, idles, averages, stops = [], [], [], [], [], []
    lead_cache: dict[int | None, float] = {}
    draw_cache: dict[tuple[object, ...], tuple[float, float]] = {}
    loop_cache: dict[tuple[object, ...], tuple[float, float]] = {}
    for variant in variants:
        kind = fit.servo_type if variant.servo_type == KEEP else types[variant.servo_type]
        awg = variant.awg if _thinner_than(fit, variant.awg) else None
        gauge = awg or (fit.lead.awg if fit.lead else None) or (kind.lead_awg if kind else None)
        if gauge not in lead_cache:
            ohm = lead_ohm(with_type(fit, kind, awg), defaults, [])
            lead_cache[gauge] = math.nan if ohm is None else ohm.expected
        ohms.append(lead_cache[gauge])
        kinds.append(order[kind.code] if kind else -1)
        key = (kind and kind.code, kind is fit.servo_type)
        changed = fit if kind is fit.servo_type else replace(fit, servo=None, servo_type=kind)
        if key not in loop_cache:
            loop_cache[key] = loop_shape(changed, defaults)
        loops.append(loop_cache[key])
        if key not in draw_cache:
            idle = idle_a(changed, defaults)[0] if kind else 0.0
            average = mean_draw(aircraft, changed, defaults).expected if kind else 0.0
            draw_cache[key] = idle, average
        idle, average = draw_cache[key]
        spare = spare_idle_a.get(variant.servo_type, 0.0) if kind is not fit.servo_type else 0.0
        idles.append(max(idle, spare))
        averages.append(average + max(0.0, spare - idle))
        stops.append(may_stop_below_v(changed, works_from_v(kind, limit)) if kind else 0.0)
    return PlaceArrays(
        place, np.array(kinds, np.int64), tuple(loops), np.array(ohms), np.array(idles), np.array(averages),
        np.array(stops),
    )  # fmt: skip


def _thinner_than(fit: ServoFit, awg: int | None) -> bool:
    from hangar.refit.options import gauge_of

    return awg is not None and fit.lead is not None and (gauge_of(fit) or 99) > awg


def peak_currents_a(strength: GroupStrength, curves: Curves, nominal_v: float, share: float) -> list[Floats]:
    """Peak current of each position of a group over its variants."""
    found = []
    for each in strength.places:
        volts = np.full(len(each.kind), nominal_v)
        stall = np.where(each.kind >= 0, curves.at(each.kind, volts).supply_a, 0.0)
        found.append(share * stall + each.idle_a)
    return found


def at_level(
    strength: GroupStrength, curves: Curves, level_v: float, upstream_v: Sequence[Floats], usual_share: float
) -> AtLevel:
    """A group's variants with the bus at given volts.

    Args:
        strength: the group.
        curves: ratings of all types.
        level_v: bus volts.
        upstream_v: volts lost before each position's lead, by variant.
        usual_share: share of its stall current that a servo draws through its own lead without a known load.
    """
    count = len(strength.variants)
    margin, short = np.full(count, np.inf), np.full(count, np.inf)
    slow, transit, spare = np.zeros(count, np.bool_), np.zeros(count), np.full(count, np.inf)
    shortage = np.zeros(count)
    shortages: dict[tuple[object, ...], Floats] = {}
    for each, lost_v in zip(strength.places, upstream_v, strict=True):
        place = each.place
        alike = (
            place.grading and place.grading.likeness, place.slowest_s, place.weight,
            each.kind.tobytes(), each.loops, each.ohm.tobytes(), each.stops_v.tobytes(), lost_v.tobytes(),
        )  # fmt: skip
        if alike in shortages:
            shortage += shortages[alike]
            continue
        start_v = np.maximum(level_v - lost_v, 0.0)
        first = curves.at(each.kind, start_v)
        share = np.full(count, usual_share)
        if place.load_nm is not None:
            with np.errstate(divide="ignore", invalid="ignore"):
                asked = np.where(first.torque_nm > 0.0, place.load_nm / first.torque_nm, usual_share)
            share = np.minimum(1.0, asked)
        fall_v = share * first.stall_a * each.ohm
        volts = np.maximum(start_v - fall_v, 0.0)
        there = curves.at(each.kind, volts)
        spare = np.fmin(spare, volts - each.stops_v)
        with np.errstate(divide="ignore", invalid="ignore"):
            time = np.where(there.speed_rad_s > 0.0, math.pi / 3.0 / there.speed_rad_s, np.inf)
        late = time > place.slowest_s * (1.0 + NEARLY)
        transit = np.where(late, np.fmax(transit, time), transit)
        slow |= late
        if place.grading is not None:
            reserve, own = _graded(place.grading, each.loops, there.torque_nm)
            margin = np.fmin(margin, 100.0 * reserve)
            short = np.fmin(short, own)
            lacking = np.clip(1.0 - np.nan_to_num(own), 0.0, 1.0)
            shortages[alike] = place.weight * lacking**2
        else:
            shortages[alike] = np.zeros(count)
        shortage += shortages[alike]
    return AtLevel(margin, short, slow, transit, spare, shortage)


def _graded(
    grading: GradeRule, loops: tuple[tuple[float, float], ...], torque_nm: Floats
) -> tuple[Floats, Floats]:
    """Reserve of each variant, and its torque over the one from which no check complains."""
    reserve, own = np.full(len(loops), np.nan), np.zeros(len(loops))
    for loop in set(loops):
        at = np.array([each == loop for each in loops])
        grade = grading.of(*loop)
        known = np.where(np.isnan(torque_nm[at]), np.nan, grade.reserve_at(np.nan_to_num(torque_nm[at])))
        reserve[at] = known
        own[at] = torque_nm[at] / grade.needed_nm
    return reserve, own
