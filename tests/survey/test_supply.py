"""The supply checked by Ohm's and Kirchhoff's laws worked by hand, and by the sum of its power."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.figure import Basis
from hangar.parts import Aircraft, Channel
from hangar.parts.choices import FeedRole, Function, PackJoin
from hangar.survey import Conditions, Scenario, ScenarioSurvey, Survey, survey
from tests.all_cases import all_cases
from tests.survey.fleets import (
    CONDITIONS,
    LIION_2,
    NIMH_4,
    biplane,
    helicopter,
    on_regulator,
    pack,
    trainer,
)

# 20 AWG 10.15, 22 AWG 16.14, 28 AWG 64.90 ohm per 1000 ft at 20 C: NBS copper wire tables, Circular 31.
# Strands lie 2 % longer (NEC chapter 9 table 8, 7 strands); 25 C adds 0.393 % a kelvin (IEC 60028).
WARM_STRANDS = 1.02 * (1.0 + 0.00393 * 5.0)
AWG_20_OHM_M = 10.15 / 304.8 * WARM_STRANDS
AWG_22_OHM_M = 16.14 / 304.8 * WARM_STRANDS
AWG_28_OHM_M = 64.90 / 304.8 * WARM_STRANDS
CONTACT_OHM = 0.010
COOLER = 1 / 293.15 - 1 / 298.15
"""Packs at 20 C against the 25 C of their figures."""


def cell_ohm(surveyed: Survey, tag: str) -> float:
    return surveyed.supply.pack_cell_mohm[tag].expected / 1000.0


def tag_of(surveyed: Survey, path: int) -> str:
    return surveyed.aircraft.paths[path].packs[0].pack.tag


def bus_v(case: ScenarioSurvey) -> float:
    assert case.bus_v is not None
    return case.bus_v.expected


def test_bus_volts_of_one_pack_follow_ohms_law_in_series() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    # Peak: 0.3 of four stall currents of 0.73 A at 4.8 V, the idle of four servos, and the receiver.
    current = 0.3 * 4 * 0.73 + 4 * 0.008 + 0.060
    cells = 4 * cell_ohm(surveyed, "B1") * math.exp(2000.0 * COOLER)
    lead = 2 * (0.250 * AWG_22_OHM_M + 2 * CONTACT_OHM)
    expected = 4 * 1.27 - current * (cells + 0.025 + lead)
    assert bus_v(surveyed.scenarios[Scenario.PEAK]) == pytest.approx(expected, abs=1e-4)
    case = surveyed.scenarios[Scenario.PEAK]
    assert case.total_a is not None
    assert case.total_a.expected == pytest.approx(current, rel=1e-6)


def test_volts_at_a_servo_are_bus_volts_less_its_own_lead() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    lead = 2 * (0.300 * AWG_28_OHM_M + CONTACT_OHM)
    position = surveyed.positions["AIL"]
    assert position.lead_ohm is not None
    assert position.lead_ohm.expected == pytest.approx(lead, rel=2e-4)
    drop = (0.3 * 0.73 + 0.008) * lead
    at_servo = position.servo_v[Scenario.PEAK].expected
    assert at_servo == pytest.approx(bus_v(surveyed.scenarios[Scenario.PEAK]) - drop, abs=1e-5)


def test_two_packs_on_one_bus_share_by_their_resistance() -> None:
    aircraft = biplane(isolated=False)
    surveyed = survey(aircraft, CONDITIONS)
    idle = surveyed.scenarios[Scenario.IDLE]
    both = [surveyed.supply.path_ohm["A"].expected, surveyed.supply.path_ohm["B"].expected]
    assert both[0] == pytest.approx(both[1])
    assert idle.path_a["A"].expected == pytest.approx(idle.path_a["B"].expected)


def unlike_packs(*, isolated: bool) -> Aircraft:
    aircraft = biplane(isolated=isolated)
    first, second = aircraft.paths
    nickel = replace(NIMH_4, series=5, code="N5")
    return replace(aircraft, paths=(first, replace(second, packs=(pack(nickel, "B8", 20.0, 1900.0),))))


def test_an_unlike_pack_joined_plainly_is_charged_by_the_other_as_kirchhoff_says() -> None:
    surveyed = survey(unlike_packs(isolated=False), CONDITIONS)
    idle = surveyed.scenarios[Scenario.IDLE]
    outside = 0.006 + 2 * (0.300 * AWG_20_OHM_M + CONTACT_OHM) + 0.010
    lithium_v, nickel_v = 2 * 3.746, 5 * 1.27
    lithium_ohm = 2 * cell_ohm(surveyed, tag_of(surveyed, 0)) * math.exp(2300.0 * COOLER) + outside
    nickel_ohm = 5 * cell_ohm(surveyed, "B8") * math.exp(2000.0 * COOLER) + outside
    load = 5 * 0.060 + 0.008 + 0.110
    volts = (lithium_v / lithium_ohm + nickel_v / nickel_ohm - load) / (1 / lithium_ohm + 1 / nickel_ohm)
    assert bus_v(idle) == pytest.approx(volts, abs=2e-3)
    assert idle.path_a["B"].expected == pytest.approx((nickel_v - volts) / nickel_ohm, abs=0.02)
    assert idle.path_a["B"].expected < -1.0
    assert any("being charged" in str(remark) for remark in idle.remarks)


def test_isolation_keeps_the_weaker_pack_from_being_charged() -> None:
    idle = survey(unlike_packs(isolated=True), CONDITIONS).scenarios[Scenario.IDLE]
    assert idle.path_a["B"].expected == pytest.approx(0.0, abs=1e-9)
    assert idle.remarks == ()


def test_the_only_path_has_nothing_to_be_isolated_from() -> None:
    aircraft = trainer()
    path = aircraft.paths[0]
    stated = replace(aircraft, paths=(replace(path, feed=replace(path.feed, isolated=True)),))
    before, after = survey(aircraft, CONDITIONS), survey(stated, CONDITIONS)
    assert bus_v(after.scenarios[Scenario.PEAK]) == bus_v(before.scenarios[Scenario.PEAK])


def test_two_bare_paths_said_to_be_isolated_lose_a_diodes_volts() -> None:
    aircraft = trainer()
    path = replace(aircraft.paths[0], feed=replace(aircraft.paths[0].feed, isolated=True))
    twin = replace(path, feed=replace(path.feed, code="RX2"), packs=(pack(NIMH_4, "B2", 26.0, 1900.0),))
    idle = survey(replace(aircraft, paths=(path, twin)), CONDITIONS).scenarios[Scenario.IDLE]
    alone = survey(aircraft, CONDITIONS).scenarios[Scenario.IDLE]
    # Schottky diode, 0.3 V: common practice, no source.
    assert bus_v(alone) - bus_v(idle) == pytest.approx(0.3, abs=0.02)


@all_cases(
    "scenario, make",
    product([Scenario.IDLE, Scenario.CRUISE, Scenario.BRISK, Scenario.PEAK], [trainer, helicopter, biplane]),
)
def test_packs_give_the_power_that_loads_and_resistances_take(make, scenario) -> None:  # type: ignore[no-untyped-def]
    aircraft = make()
    surveyed = survey(aircraft, CONDITIONS)
    case = surveyed.scenarios[scenario]
    given_w = sum(
        case.path_a[path.feed.code].expected * case.node_v[f"{path.feed.code} packs"]
        for path in aircraft.paths
    )
    loads_w = 0.0
    for name, amps in case.branch_a.items():
        if name.startswith("servo "):
            loads_w += amps * case.node_v[name]
        elif name.startswith("draw of gyro"):
            loads_w += amps * case.node_v["gyro FBL"]
        elif name.startswith("draw of "):
            loads_w += amps * case.node_v["bus"]
    heat_w = sum(figure.expected for figure in case.regulator_w.values())
    lost_w = given_w - loads_w - heat_w
    drops_w = 0.0
    for path in aircraft.paths:
        code = path.feed.code
        amps = case.path_a[code].expected
        end = f"{code} lead end"
        to_bus = case.node_v[end] if end in case.node_v else case.node_v["bus"]
        drops_w += amps * (case.node_v[f"{code} packs"] - to_bus)
        if end in case.node_v and not case.regulator_w:
            drops_w += amps * (to_bus - case.node_v["bus"])
    for code in surveyed.positions:
        amps = case.branch_a[f"lead to {code}"]
        fit = aircraft.fit(code)
        start = "bus" if fit is None or fit.through is None else "gyro FBL"
        drops_w += amps * (case.node_v[start] - case.node_v[f"servo {code}"])
    if "gyro FBL" in case.node_v:
        drops_w += case.branch_a["lead to gyro FBL"] * (case.node_v["bus"] - case.node_v["gyro FBL"])
    assert lost_w == pytest.approx(drops_w, rel=1e-6, abs=1e-9)


def test_heat_of_a_linear_regulator_is_the_volts_it_takes_off_times_the_current() -> None:
    surveyed = survey(on_regulator(set_v=6.0), CONDITIONS)
    cruise = surveyed.scenarios[Scenario.CRUISE]
    current = cruise.regulator_a["RX"].expected
    standing = 0.015
    input_v = cruise.node_v["RX lead end"]
    by_hand = input_v * (current + standing) - bus_v(cruise) * current
    assert cruise.regulator_w["RX"].expected == pytest.approx(by_hand, rel=1e-9)
    assert bus_v(cruise) == pytest.approx(6.0 - 0.010 * current, abs=1e-6)
    assert surveyed.supply.bus_full_v is not None
    assert surveyed.supply.bus_full_v.expected == 6.0
    assert surveyed.supply.full_v is not None
    assert surveyed.supply.full_v.expected == pytest.approx(8.4)


def test_a_regulator_that_limits_is_said_in_words() -> None:
    weak = survey(on_regulator(set_v=6.0, burst_a=0.5), CONDITIONS).scenarios[Scenario.PEAK]
    assert weak.regulator_state["RX"] == "limiting"
    assert "limits its current" in str(weak.remarks[0])
    assert weak.regulator_a["RX"].expected == pytest.approx(0.5, rel=1e-6)


def test_a_regulator_without_headroom_follows_its_input_down() -> None:
    case = survey(on_regulator(set_v=7.4), CONDITIONS).scenarios[Scenario.CRUISE]
    assert case.regulator_state["RX"] == "drop-out"
    current = case.regulator_a["RX"].expected
    assert bus_v(case) == pytest.approx(case.node_v["RX lead end"] - 0.6 - 0.010 * current, abs=1e-6)
    assert "too little above its output" in str(case.remarks[0])


def test_a_switching_supply_takes_power_over_efficiency_from_its_packs() -> None:
    case = survey(helicopter(), CONDITIONS).scenarios[Scenario.PEAK]
    output_w = case.regulator_a["MAIN"].expected * bus_v(case)
    input_w = case.node_v["MAIN lead end"] * (case.path_a["MAIN"].expected - 0.015)
    assert output_w / input_w == pytest.approx(0.88, rel=1e-6)


def test_packs_in_series_add_their_volts_and_resistance() -> None:
    surveyed = survey(helicopter(), CONDITIONS)
    assert surveyed.supply.path_full_v["MAIN"].expected == pytest.approx(12 * 4.20)
    assert surveyed.scenarios[Scenario.IDLE].node_v["MAIN packs"] == pytest.approx(12 * 3.84, abs=0.01)
    inner = 6 * 0.0021 + 6 * 0.0022
    assert surveyed.supply.path_ohm["MAIN"].expected > inner


def test_packs_side_by_side_halve_the_resistance_and_add_their_charge() -> None:
    aircraft = trainer()
    path = aircraft.paths[0]
    fed_pack = pack(NIMH_4, "B1", 26.0, 1900.0)
    two = pack(NIMH_4, "B2", 26.0, 1900.0)
    doubled = replace(
        aircraft,
        paths=(replace(path, feed=replace(path.feed, join=PackJoin.PLAIN_Y), packs=(fed_pack, two)),),
    )
    single, double = survey(aircraft, CONDITIONS).supply, survey(doubled, CONDITIONS).supply
    value = single.pack_cell_mohm["B1"].expected / 1000.0
    outside = single.path_ohm["RX"].expected - 4 * value
    assert double.path_ohm["RX"].expected == pytest.approx(outside + 2 * value, rel=1e-9)
    assert single.endurance_min is not None
    assert double.endurance_min is not None
    assert double.endurance_min.expected == pytest.approx(2 * single.endurance_min.expected, rel=1e-6)


def test_peak_current_is_the_class_share_of_all_stall_currents_at_nominal_volts() -> None:
    supply = survey(trainer(), CONDITIONS).supply
    assert supply.peak_a is not None
    assert supply.peak_a.expected == pytest.approx(0.060 + 4 * 0.008 + 0.3 * 4 * 0.73)
    supply = survey(trainer(), Conditions(today=CONDITIONS.today, defaults={"peak_share.sport": 0.6})).supply
    assert supply.peak_a is not None
    assert supply.peak_a.expected == pytest.approx(0.060 + 4 * 0.008 + 0.6 * 4 * 0.73)


def test_mean_current_is_the_sum_of_the_average_currents() -> None:
    supply = survey(trainer(), CONDITIONS).supply
    assert supply.mean_a is not None
    # Analog servos of 0.91 A at 6 V, 8 mA at rest and 0.3 A turning; the throttle turns seldom.
    surfaces = 3 * (0.008 + 0.12 * 0.3 + 0.02 * 0.61)
    throttle = 0.008 + 0.03 * 0.3 + 0.005 * 0.61
    assert supply.mean_a.expected == pytest.approx(surfaces + throttle + 0.060)
    assert supply.mean_a.basis is Basis.TYPICAL


def test_endurance_and_flights_come_from_charge_over_current() -> None:
    supply = survey(trainer(), CONDITIONS).supply
    assert supply.endurance_min is not None
    assert supply.endurance_min.expected == pytest.approx(0.8 * 1.9 / 0.24865 * 60.0, rel=1e-9)
    assert supply.flights_per_charge is not None
    assert supply.flights_per_charge.expected == math.floor(0.8 * 1.9 / (0.24865 * 12.0 / 60.0))


def test_the_motors_pack_gives_no_endurance_of_the_radio() -> None:
    assert helicopter().paths[0].feed.role is FeedRole.DRIVE
    assert survey(helicopter(), CONDITIONS).supply.endurance_min is None


@all_cases("make", [trainer, helicopter, biplane])
def test_more_current_or_a_worse_pack_never_gives_more_volts(make) -> None:  # type: ignore[no-untyped-def]
    cases = survey(make(), CONDITIONS).scenarios
    order = [Scenario.IDLE, Scenario.CRUISE, Scenario.BRISK, Scenario.PEAK]
    volts = [bus_v(cases[scenario]) for scenario in order]
    assert all(more <= less + 1e-9 for less, more in pairwise(volts))
    assert bus_v(cases[Scenario.COLD]) <= bus_v(cases[Scenario.PEAK]) + 1e-9
    assert bus_v(cases[Scenario.AGED]) <= bus_v(cases[Scenario.PEAK]) + 1e-9


def test_one_path_lost_leaves_the_other_with_everything() -> None:
    surveyed = survey(biplane(), CONDITIONS)
    case = surveyed.scenarios[Scenario.ONE_LOST]
    assert case.lost in {"A", "B"}
    assert case.lost not in case.path_a
    assert bus_v(case) < bus_v(surveyed.scenarios[Scenario.PEAK])
    assert sum(figure.expected for figure in case.path_a.values()) == pytest.approx(
        case.total_a.expected if case.total_a else 0.0
    )


def test_an_aircraft_with_one_path_has_no_case_of_one_lost() -> None:
    assert Scenario.ONE_LOST not in survey(trainer(), CONDITIONS).scenarios


def test_with_three_paths_the_one_that_is_missed_most_is_taken_away() -> None:
    aircraft = biplane()
    strong = replace(
        aircraft.paths[0],
        feed=replace(aircraft.paths[0].feed, code="C"),
        packs=(pack(LIION_2, "B35", cell_mohm=2.0, capacity_mah=2900.0),),
    )
    case = survey(replace(aircraft, paths=(*aircraft.paths, strong)), CONDITIONS).scenarios[Scenario.ONE_LOST]
    assert case.lost == "C"


@given(lead_mm=st.floats(50.0, 3000.0), longer_mm=st.floats(10.0, 3000.0))
def test_a_longer_lead_never_gives_a_servo_more_volts(lead_mm: float, longer_mm: float) -> None:
    volts = [_aileron_v(length) for length in (lead_mm, lead_mm + longer_mm)]
    assert volts[1] < volts[0]


def _aileron_v(lead_mm: float) -> float:
    aircraft = trainer()
    fits = tuple(
        replace(fit, lead=replace(fit.lead, length_mm=lead_mm)) if fit.code == "AIL" and fit.lead else fit
        for fit in aircraft.fits
    )
    delivered = survey(replace(aircraft, fits=fits), CONDITIONS).positions["AIL"].delivered_v
    assert delivered is not None
    return delivered.expected


@given(mohm=st.floats(1.0, 80.0), more=st.floats(0.5, 200.0))
def test_a_worse_pack_never_holds_the_bus_higher(mohm: float, more: float) -> None:
    volts = []
    for cell_mohm in (mohm, mohm + more):
        aircraft = trainer()
        path = replace(aircraft.paths[0], packs=(pack(NIMH_4, "B1", cell_mohm, 1900.0),))
        volts.append(bus_v(survey(replace(aircraft, paths=(path,)), CONDITIONS).scenarios[Scenario.PEAK]))
    assert volts[1] < volts[0]


def test_a_y_lead_shares_its_first_joint() -> None:
    aircraft = trainer()
    channel = Channel(aircraft="TR", number=1, function=Function.AILERON, y_lead=True)
    shared = replace(
        aircraft,
        fits=tuple(
            replace(fit, channel=channel) if fit.code in {"AIL", "ELE"} else fit for fit in aircraft.fits
        ),
    )
    alone, together = survey(aircraft, CONDITIONS), survey(shared, CONDITIONS)
    drop = (
        together.scenarios[Scenario.PEAK].node_v["bus"] - together.scenarios[Scenario.PEAK].node_v["Y main 1"]
    )
    assert drop == pytest.approx(2 * CONTACT_OHM * 2 * (0.3 * 0.73 + 0.008), rel=1e-6)
    before, after = (
        other_survey.positions["AIL"].servo_v[Scenario.PEAK].expected for other_survey in (alone, together)
    )
    assert after < before


def test_what_rests_on_assumed_contacts_shares_or_charge_is_typical() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    aileron = surveyed.positions["AIL"]
    figures = (
        aileron.lead_ohm, aileron.delivered_v, aileron.lead_drop_v, surveyed.supply.peak_a,
        surveyed.supply.mean_a, surveyed.supply.endurance_min, surveyed.scenarios[Scenario.PEAK].bus_v,
    )  # fmt: skip
    for figure in figures:
        assert figure is not None
        assert figure.basis is Basis.TYPICAL, str(figure.name)
    pack = surveyed.supply.pack_cell_mohm["B1"]
    assert pack.basis is not Basis.TYPICAL, "a measured pack stays what it is"
