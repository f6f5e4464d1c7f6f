"""Volts lost in a lead: an advisory by themselves, as grave as the control they cost, from both sides."""

from __future__ import annotations

import pytest

from hangar.parts import Aircraft
from hangar.physics.wire import drop_v
from hangar.rules import Level, inspect
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_surface
from hangar.rules.lead_cost import control_level, lead_cost, stall_share, torque_without_loss
from hangar.survey import PositionSurvey, Survey, survey
from hangar.survey.model import Scenario

RANK = [None, Level.ADVISORY, Level.CAUTION, Level.WARNING]


def loaded(span_mm: float, lead_mm: float, chord_mm: float = 140.0) -> Aircraft:
    """The giant with a rudder of some size behind a long lead, on a servo that low volts do not stop."""
    surface = with_surface(ex.giant(), "RUD", span_mm=span_mm, root_chord_mm=chord_mm)
    return with_fit(surface, "RUD", lead={"length_mm": lead_mm, "awg": 26}, servo_type={"supply_min_v": 2.0})


def seen(aircraft: Aircraft) -> tuple[Survey, PositionSurvey]:
    looked = survey(aircraft, ex.home_day())
    return looked, looked.positions["RUD"]


def told(aircraft: Aircraft, rule: str = "lead-drop") -> Level | None:
    levels = [
        other_finding.level
        for finding in inspect(aircraft, survey(aircraft, ex.home_day()))
        for other_finding in finding.with_folded()
        if other_finding.rule == rule and "RUD" in other_finding.about
    ]
    return min(levels, key=lambda level: level.rank, default=None)


def share_lost(aircraft: Aircraft) -> float:
    looked, position = seen(aircraft)
    bus = next(case.bus_v for name, case in looked.scenarios.items() if name == "peak")
    assert bus is not None
    assert position.lead_drop_v is not None
    return position.lead_drop_v.expected / bus.expected


def test_the_lead_carries_the_expected_load_and_the_design_load_is_its_band() -> None:
    _, position = seen(loaded(350.0, 600.0))
    current, ohm, drop = position.lead_current_a, position.lead_ohm, position.lead_drop_v
    assert current is not None
    assert ohm is not None
    assert drop is not None
    assert position.load_nm is not None
    assert position.stall_a is not None
    assert drop.expected == pytest.approx(drop_v(current.expected, ohm.expected))
    assert drop.band.design > 1.2 * drop.expected, "the pessimism stands in the band"
    assert drop.band.low < drop.expected
    # A light load draws little: there is no floor where it is known.
    assert current.expected < 0.4 * position.stall_a.expected


def test_volts_alone_are_an_advisory_from_five_percent_on() -> None:
    length, below = 100.0, None
    while share_lost(loaded(650.0, length)) < 0.05:
        below, length = length, 1.05 * length
    assert below is not None
    assert told(loaded(650.0, below)) is None
    assert told(loaded(650.0, length)) is Level.ADVISORY
    assert told(loaded(650.0, length), "torque-short-surface") is None


def test_a_lead_that_takes_a_third_of_the_stall_torque_is_a_caution() -> None:
    def left(aircraft: Aircraft) -> float:
        fit = aircraft.fit("RUD")
        assert fit is not None
        share = stall_share(Case(aircraft, seen(aircraft)[0]), fit)
        assert share is not None
        return share

    length = 300.0
    while left(loaded(600.0, length)) > 0.67:
        length *= 1.02
    # At stall a servo is a resistance: bus volts over stall current; lead and servo share the volts (Ohm).
    looked, position = seen(loaded(600.0, length))
    assert position.lead_ohm is not None
    bus = looked.scenarios[Scenario.PEAK].bus_v
    assert bus is not None
    stall_a = 4.71 + (8.24 - 4.71) * (bus.expected - 4.8) / (8.4 - 4.8)
    inner_ohm = bus.expected / stall_a
    assert left(loaded(600.0, length)) == pytest.approx(
        inner_ohm / (inner_ohm + position.lead_ohm.expected), rel=0.01
    )
    assert told(loaded(600.0, length)) is Level.CAUTION
    assert told(loaded(600.0, length / 1.05)) is Level.ADVISORY


def test_a_lead_is_as_grave_as_the_control_it_costs() -> None:
    blamed = set()
    for chord_mm, span_mm in ((160.0, 1300.0), (200.0, 900.0), (200.0, 1100.0), (240.0, 700.0)):
        for lead_mm in (200.0, 800.0, 2000.0, 4000.0):
            aircraft = loaded(span_mm, lead_mm, chord_mm)
            fit = aircraft.fit("RUD")
            assert fit is not None
            case = Case(aircraft, seen(aircraft)[0])
            gain = torque_without_loss(case, fit)
            assert gain is not None
            now, without = control_level(case, fit), control_level(case, fit, gain)
            assert RANK.index(without) <= RANK.index(now)
            cost = lead_cost(case, fit)
            assert cost == (now if RANK.index(without) < RANK.index(now) else None)
            if share_lost(aircraft) > 0.051:
                share = stall_share(case, fit)
                assert share is not None
                weak = Level.CAUTION if share < 0.67 else Level.ADVISORY
                assert told(aircraft) is (weak if cost in (None, Level.ADVISORY) else cost)
                blamed.add(told(aircraft))
    assert blamed == {Level.ADVISORY, Level.CAUTION, Level.WARNING}


def test_a_lead_that_takes_all_the_volts_is_a_warning() -> None:
    aircraft = loaded(1300.0, 4000.0, 240.0)
    assert share_lost(aircraft) > 1.0
    assert told(aircraft) is Level.WARNING


def test_a_longer_lead_never_costs_less_control() -> None:
    seen_levels = []
    for lead_mm in range(200, 5200, 500):
        aircraft = loaded(900.0, float(lead_mm), 200.0)
        fit = aircraft.fit("RUD")
        assert fit is not None
        seen_levels.append(RANK.index(control_level(Case(aircraft, seen(aircraft)[0]), fit)))
    assert seen_levels == sorted(seen_levels)
    assert len(set(seen_levels)) > 1


def test_a_heavy_lead_on_a_servo_far_too_weak_is_not_to_blame() -> None:
    weak = with_fit(
        with_surface(ex.giant(), "RUD", span_mm=1300.0, root_chord_mm=160.0), "RUD",
        lead={"length_mm": 900.0, "awg": 24}, servo_type={"ratings": ex.weaker(ex.STRONG, 0.2)},
    )  # fmt: skip
    fit = weak.fit("RUD")
    assert fit is not None
    case = Case(weak, seen(weak)[0])
    assert control_level(case, fit) is Level.WARNING
    assert lead_cost(case, fit) is None


def test_a_rotor_servo_is_judged_with_and_without_its_lead() -> None:
    tail = with_fit(ex.helicopter(), "TAIL", servo_type={"ratings": ex.weaker(ex.TAIL, 0.02)})
    long_lead = with_fit(tail, "TAIL", lead={"length_mm": 3000.0, "awg": 28})
    fit = long_lead.fit("TAIL")
    assert fit is not None
    case = Case(long_lead, survey(long_lead, ex.home_day()))
    assert control_level(case, fit) is Level.WARNING
    assert control_level(case, fit, 1000.0) is None


def test_a_lead_that_starves_its_servo_is_as_grave_as_that() -> None:
    plain = loaded(800.0, 700.0, 160.0)
    _, position = seen(plain)
    volts, drop = position.delivered_v, position.lead_drop_v
    assert volts is not None
    assert drop is not None
    for least, level in (
        (volts.expected - 0.05, Level.ADVISORY),
        (volts.expected + 0.05, Level.CAUTION),
        (volts.expected / 0.84, Level.WARNING),
    ):
        starved = with_fit(plain, "RUD", servo_type={"supply_min_v": least})
        assert told(starved) is level, least
    # Where the bus itself gives too little the lead is not to blame.
    above = volts.expected + drop.expected + 0.05
    assert told(with_fit(plain, "RUD", servo_type={"supply_min_v": above})) is Level.ADVISORY
