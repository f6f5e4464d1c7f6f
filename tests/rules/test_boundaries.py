"""Checks of balance, rods, leads, gyro and regulator at their boundary, from both sides."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta

import pytest

from hangar.parts import Aircraft, BenchCheck, Stabiliser
from hangar.parts.choices import FormerEdge, MaxMeans, RegulatorKind, RodMaterial
from hangar.rules import Level, all_rules
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import (
    with_airframe,
    with_fit,
    with_gyro,
    with_pack,
    with_path,
    with_receiver,
    with_records,
    with_surface,
)
from hangar.rules.example_parts import DAY, at_hour
from hangar.survey import Scenario, survey
from tests.all_cases import all_cases

HAIR = 1e-4
"""How near to a limit both sides are tried, as a share of it."""

W, C, A = Level.WARNING, Level.CAUTION, Level.ADVISORY


@dataclass(frozen=True)
class Edge:
    """A limit of a rule: ``make`` puts a value into a field, ``inside`` and ``beyond`` are told there.

    ``at`` is the limit, or a function of an aircraft that works it out without the rule. ``more`` says
    whether more of it is worse.
    """

    slug: str
    field: str
    make: Callable[[float], Aircraft]
    at: float | Callable[[Aircraft], float]
    beyond: Level
    inside: Level | None = None
    more: bool = True
    is_whole: bool = False

    @property
    def name(self) -> str:
        return f"{self.slug} {self.field} {self.beyond}"


def _case(aircraft: Aircraft) -> Case:
    return Case(aircraft, survey(aircraft, ex.home_day()))


def _gravest(slug: str, aircraft: Aircraft) -> Level | None:
    flags = [flag.level for flag in all_rules()[slug].check(_case(aircraft))]
    judged = [level for level in flags if level is not Level.CANT_TELL]
    assert len(judged) == len(flags), f"{slug} waits for a field"
    return min(judged, key=lambda level: level.rank, default=None)


def _limit(name: str, aircraft: Aircraft | None = None) -> float:
    return _case(aircraft or ex.trainer()).limit(name)


def _lead(slug: str, field: str, at: float, beyond: Level, **more: object) -> Edge:
    keys = {"inside": None, "more": True, "is_whole": False}
    own = {name: more.pop(name) for name in list(more) if name in keys}
    return Edge(slug, field, lambda value: ex.elevator(lead={field: value, **more}), at, beyond, **own)  # type: ignore[arg-type]


def _gyro_for(value: float) -> Aircraft:
    gyro = Stabiliser(
        aircraft="EXT", code="G", supply_min_v=3.5, supply_max_v=value, max_means=MaxMeans.ABSOLUTE
    )
    return with_records(ex.trainer(), stabilisers=(gyro,))


def _tight(drawn_ma: float) -> Aircraft:
    check = BenchCheck(aircraft="EXT", position="ELE", checked_at=at_hour(7), neutral_ma=drawn_ma)
    return ex.elevator(linkage={"cable_note": "tight"}, bench_checks=(check,))


def _euler_n(length_mm: float, diameter_mm: float) -> float:
    """Column of steel, 200 GPa, with pinned ends: pi^2 E I / L^2 (L. Euler, De curvis elasticis, 1744)."""
    second_moment = math.pi * (diameter_mm / 1000.0) ** 4 / 64.0
    return math.pi**2 * 200e9 * second_moment / (length_mm / 1000.0) ** 2


def _rod(length_mm: float) -> Aircraft:
    return ex.elevator(
        linkage={"rod_free_mm": length_mm, "rod_diameter_mm": 1.5, "rod_material": RodMaterial.STEEL}
    )


def _strong(torque_nm: float) -> Aircraft:
    ratings = tuple(
        dataclasses.replace(row, torque_nm=torque_nm * row.rated_v / ex.STRONG.ratings[0].rated_v)
        for row in ex.STRONG.ratings
    )
    linkage = {"rod_diameter_mm": None, "arm_mm": 5.0, "horn_mm": 8.5}
    return ex.elevator(servo_type={"ratings": ratings}, linkage=linkage)


def _first_rated_nm(aircraft: Aircraft) -> float:
    fit = aircraft.fit("ELE")
    assert fit is not None
    assert fit.servo_type is not None
    return fit.servo_type.ratings[0].torque_nm or 0.0


def _pushing_n(aircraft: Aircraft) -> float:
    force = _case(aircraft).survey.positions["ELE"].rod_force_n
    assert force is not None
    return force.expected


def _where_euler_says(aircraft: Aircraft, share: float) -> float:
    force = _case(aircraft).survey.positions["ELE"].rod_force_n
    assert force is not None
    return math.sqrt(_euler_n(1000.0, 1.5) * share / force.expected) * 1000.0


def _regulated(**values: object) -> Aircraft:
    set_v = float(values.pop("set_v", 6.0))  # type: ignore[arg-type]
    return with_path(ex.helicopter(), **ex.regulated(set_v, **values))


def _linear(shed_w: float) -> Aircraft:
    return _regulated(regulator=RegulatorKind.LINEAR, shed_w=shed_w)


def _heat_w(aircraft: Aircraft) -> float:
    return _case(aircraft).scenario(Scenario.BRISK).regulator_w["A"].expected


def _land_v(aircraft: Aircraft) -> float:
    (volts,) = _case(aircraft).radio
    assert volts.land_v is not None
    return volts.land_v


def _total_a(aircraft: Aircraft, scenario: Scenario) -> float:
    total = _case(aircraft).scenario(scenario).total_a
    assert total is not None
    return total.expected


def _thirsty(stall_a: float) -> Aircraft:
    ratings = tuple(dataclasses.replace(row, stall_a=stall_a) for row in ex.STRONG.ratings)
    return with_fit(
        ex.giant(), "ELE-L", lead={"awg": 28, "length_mm": 100.0}, servo_type={"ratings": ratings}
    )


def _stall_a(aircraft: Aircraft) -> float:
    fit = aircraft.fit("ELE-L")
    assert fit is not None
    assert fit.servo_type is not None
    return fit.servo_type.ratings[0].stall_a or 0.0


def _brisk_a(aircraft: Aircraft, position: str) -> float:
    return _case(aircraft).scenario(Scenario.BRISK).servo_a[position].expected


def _asked_a(aircraft: Aircraft) -> float:
    asked = _case(aircraft).survey.supply.peak_a
    assert asked is not None
    return asked.expected


def _long_lead(length_mm: float) -> Aircraft:
    # A servo that works hard: its lead loses five per cent before it takes a third of the stall torque.
    return with_fit(
        with_surface(ex.giant(), "RUD", span_mm=550.0, root_chord_mm=130.0), "RUD",
        lead={"length_mm": length_mm, "awg": 26, "joints": 1},
    )  # fmt: skip


def _where_copper_says(aircraft: Aircraft, share: float) -> float:
    """Length at which so much of the bus volts is lost; AWG 26 copper has 133.9 mOhm/m (ASTM B258)."""
    case = _case(aircraft)
    position, bus = case.survey.positions["RUD"], case.peak.bus_v
    assert position.lead_current_a is not None
    assert position.lead_ohm is not None
    assert bus is not None
    fit = aircraft.fit("RUD")
    assert fit is not None
    assert fit.lead is not None
    joints = position.lead_ohm.expected - 2.0 * 0.1339 * fit.lead.length_mm / 1000.0
    lost_v = share / 100.0 * bus.expected
    return (lost_v / position.lead_current_a.expected - joints) / (2.0 * 0.1339) * 1000.0


EDGES = (
    # balance and mass
    Edge("cg-moved", "aft limit", lambda at: with_airframe(ex.trainer(), cg_measured_mm=at), 90.0, W, C),
    Edge("cg-moved", "fore limit", lambda at: with_airframe(ex.trainer(), cg_measured_mm=at), 70.0, W, C,
         more=False),
    Edge("cg-moved", "near aft", lambda at: with_airframe(ex.trainer(), cg_measured_mm=at), 88.0, C),
    Edge("cg-moved", "near fore", lambda at: with_airframe(ex.trainer(), cg_measured_mm=at), 72.0, C,
         more=False),
    Edge("mass-over-limit", "mass", lambda at: with_airframe(ex.trainer(), all_up_mass_g=at), 25000.0, W, A),
    Edge("mass-over-limit", "mass near", lambda at: with_airframe(ex.trainer(), all_up_mass_g=at),
         0.95 * 25000.0, A),
    Edge("wing-loading-high", "mass",
         lambda at: with_airframe(ex.trainer(), competition_class="F3F", all_up_mass_g=at),
         75.0 * 44.0, C, A),
    Edge("speed-over-limit", "dive speed",
         lambda at: with_airframe(with_surface(ex.jet(), load_speed_m_s=30.0), dive_speed_m_s=at), 89.4, C),
    # rods
    Edge("rod-buckling", "free length", _rod, lambda made: _where_euler_says(made, _limit("buckling-share")),
         C),
    Edge("torque-far-too-much", "torque, the rod not measured", _strong,
         lambda made: _first_rated_nm(made) * _limit("usual-rod-load", made) / _pushing_n(made), A),
    Edge("pull-pull-tension", "current at neutral", _tight, 8.0 + 50.0, C, A),
    # leads
    Edge("lead-drop", "length", _long_lead,
         lambda made: _where_copper_says(made, _limit("lead-drop-look", made)), A),
    Edge("lead-gauge-small", "stall current", _thirsty,
         lambda made: _stall_a(made) * _limit("gauge-28", made) / _brisk_a(made, "ELE-L"), C),
    Edge("lead-long-no-care", "length",
         lambda at: with_receiver(ex.elevator(lead={"length_mm": at, "twisted": False}), band_mhz=35.0),
         600.0, A),
    _lead("joints-too-many", "joints", 3, A, is_whole=True),
    _lead("lead-near-moving", "moving_mm", 13.0, W, more=False, moving_tied=False),
    _lead("lead-near-heat", "heat_mm", 25.0, W, inside=C, more=False, heat_sleeve=False),
    _lead("lead-near-heat", "heat_mm", 50.0, C, more=False, heat_sleeve=False),
    _lead("lead-unsupported", "support_mm", 610.0, C, inside=A),
    _lead("lead-unsupported", "support_mm", 300.0, A),
    _lead("lead-bend-tight", "bend_ratio", 6.0, A, more=False),
    _lead("former-unsleeved", "former_clearance_mm", 10.0, W, more=False, former_edge=FormerEdge.BARE_HARD),
    _lead("former-unsleeved", "former_clearance_mm", 10.0, C, more=False, former_edge=FormerEdge.BARE_WOOD),
    _lead("sleeve-short", "sleeve_mm", 180.0 + 2 * 25.0, C, more=False, sleeve="braided", exposed_mm=180.0),
    _lead("shrink-short", "shrink_mm", 13.0, A, more=False, sleeve="braided", shrink_pieces=2),
    _lead("antenna-carbon", "antenna_mm", 30.0, A, more=False),
    Edge("black-wire", "days",
         lambda at: with_pack(ex.elevator(lead={"inspected_on": None}),
                              pack={"bought_on": DAY - timedelta(days=round(at))}, pack_type={"life_y": 9.0}),
         1461, C, is_whole=True),
    # gyro
    Edge("gyro-over-volts", "highest volts, fresh", _gyro_for, 4 * 1.45, C, more=False),
    Edge("gyro-over-volts", "highest volts, rested", _gyro_for, 4 * 1.45 / 1.05, W, C, more=False),
    Edge("frame-rate-too-high", "output rate",
         lambda at: with_fit(ex.trainer(), "RUD", channel={"rate_hz": at}), 55.0 * 1.001, W),
    Edge("frame-rate-slow-digital-tail", "tail rate", lambda at: with_gyro(ex.helicopter(), rate_hz=at),
         0.5 * 333.0, A, more=False),
    Edge("pulse-narrow-on-wide", "pulse", lambda at: with_gyro(ex.helicopter(), pulse_us=at), 1620.0, W),
    Edge("pulse-narrow-on-wide", "pulse", lambda at: with_gyro(ex.helicopter(), pulse_us=at), 1420.0, W,
         more=False),
    Edge("deadband-vs-resolution", "dead band",
         lambda at: with_fit(ex.helicopter(), "TAIL", servo_type={"dead_band_us": at}), 5.0, A),
    # regulator
    Edge("regulator-current", "burst current", lambda at: _regulated(burst_a=at, continuous_a=400.0),
         _asked_a, W, more=False),
    Edge("regulator-current", "burst current of each of two",
         lambda at: with_path(ex.giant(), **ex.regulated(6.0, burst_a=at, continuous_a=400.0)),
         _asked_a, C, more=False),
    Edge("regulator-heat", "heat it can shed", _linear, _heat_w, W, C, more=False),
    Edge("regulator-heat", "heat it can shed", _linear,
         lambda made: _heat_w(made) / _limit("regulator-heat-share", made), C, more=False),
    Edge("regulator-dropout", "set volts", lambda at: _regulated(set_v=at, drop_out_v=0.6),
         lambda made: _land_v(made) - 0.6, A),
    Edge("regulator-dropout", "set volts", lambda at: _regulated(set_v=at, drop_out_v=0.6),
         lambda made: (_land_v(made) - 0.6) / 0.9, C, A),
    Edge("receiver-bus-current", "limit of the pins",
         lambda at: with_receiver(ex.giant(), bus_limit_a=at),
         lambda made: max(_total_a(made, Scenario.BRISK), _total_a(made, Scenario.PEAK) / 1.5), C,
         more=False),
    Edge("receiver-bus-current", "limit of the pins",
         lambda at: with_receiver(ex.giant(), bus_limit_a=at),
         lambda made: max(_total_a(made, Scenario.CRUISE), _total_a(made, Scenario.PEAK) / 3.0), W, C,
         more=False),
)  # fmt: skip


def _boundary(edge: Edge) -> float:
    """The limit; one that is worked out is found where value and limit meet, for both may hang together."""
    if not callable(edge.at):
        return edge.at
    value = 10.0
    for _ in range(60):
        value += 0.5 * (edge.at(edge.make(value)) - value)
    return value


def _sides(edge: Edge) -> tuple[float, float]:
    at = _boundary(edge)
    step = 1.0 if edge.is_whole else HAIR * abs(at)
    return (at, at + step) if edge.is_whole else (at - step, at + step)


@all_cases("edge", EDGES)
def test_a_check_changes_its_mind_at_its_limit_and_nowhere_else(edge: Edge) -> None:
    low, high = _sides(edge)
    inside, beyond = (low, high) if edge.more else (high, low)
    assert _gravest(edge.slug, edge.make(inside)) is edge.inside
    assert _gravest(edge.slug, edge.make(beyond)) is edge.beyond


@all_cases("edge", [edge for edge in EDGES if not callable(edge.at) and not edge.is_whole])
def test_the_limit_itself_is_allowed(edge: Edge) -> None:
    assert not callable(edge.at)
    level = _gravest(edge.slug, edge.make(edge.at))
    assert level in (edge.inside, edge.beyond)
    if edge.slug in ("cg-moved", "lead-near-moving", "lead-bend-tight", "shrink-short", "sleeve-short"):
        assert level is edge.inside


def test_where_a_rule_gives_a_margin_it_is_one_where_it_begins_to_speak() -> None:
    looked = 0
    # The margin of a mass is of its limit; the rule speaks a little below.
    for edge in [edge for edge in EDGES if edge.inside is None and edge.field != "mass near"]:
        low, high = _sides(edge)
        flags = list(all_rules()[edge.slug].check(_case(edge.make(high if edge.more else low))))
        for flag in flags:
            if flag.margin is not None and flag.level is edge.beyond:
                assert flag.margin == pytest.approx(1.0, rel=0.002), edge.name
                looked += 1
    assert looked >= 8


def test_every_rule_of_these_families_that_has_a_number_is_tried() -> None:
    tried = {edge.slug for edge in EDGES}
    without_a_number = {
        "extension-unlocked", "lead-hinge-bend", "clevis-no-keeper", "shrink-bore-wrong",
    }  # fmt: skip
    families = {"mass_balance", "rods", "leads", "lead_care", "sleeves", "pulses", "regulators"}
    meant = {slug for slug, rule in all_rules().items() if rule.family in families}
    assert meant - tried == without_a_number
