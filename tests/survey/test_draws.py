"""What servos draw and what an incomplete supply leaves unsaid."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from itertools import product

import pytest

from hangar.parts import PowerPath
from hangar.parts.choices import FeedRole, PackJoin
from hangar.survey import Scenario, ScenarioSurvey, survey
from hangar.survey.as_json import survey_json
from tests.all_cases import all_cases
from tests.survey.fleets import (
    CONDITIONS,
    MK_G30,
    NIMH_4,
    OF_D620,
    TS_31,
    biplane,
    helicopter,
    on_regulator,
    pack,
    servo_type,
    trainer,
)


def bus_v(case: ScenarioSurvey) -> float:
    assert case.bus_v is not None
    return case.bus_v.expected


def test_a_servo_without_stall_current_draws_what_the_power_balance_expects() -> None:
    # Torque x speed / (0.65 x volts): 1.9613 N m, 0.10 s for 60 degrees, 7.4 V.
    silent = servo_type("ZZ", (7.4, 1.9613, 0.10, None))
    aircraft = on_regulator(set_v=7.4)
    fits = tuple(replace(fit, servo_type=silent) for fit in aircraft.fits)
    supply = survey(replace(aircraft, fits=fits), CONDITIONS).supply
    assert supply.peak_a is not None
    by_hand = 1.9613 * (math.pi / 3 / 0.10) / (0.65 * 7.4)
    at_rest = 0.060 + 4 * 0.040
    least = survey(replace(aircraft, fits=fits), CONDITIONS).least[Scenario.PEAK]
    assert least.total_a is not None
    assert least.total_a.expected == pytest.approx(at_rest + 0.3 * 4 * by_hand * 0.65 / 0.90, rel=1e-6)
    assert supply.peak_a.expected == pytest.approx(at_rest + 0.3 * 4 * by_hand)


def test_an_unrated_servo_leaves_no_peak_that_could_look_good() -> None:
    aircraft = trainer()
    fits = (replace(aircraft.fits[0], servo_type=replace(TS_31, ratings=())), *aircraft.fits[1:])
    surveyed = survey(replace(aircraft, fits=fits), CONDITIONS)
    assert surveyed.supply.peak_a is None
    assert Scenario.PEAK not in surveyed.scenarios
    assert "servo type TS-31: ratings" in map(str, surveyed.supply.missing)


def test_a_regulator_without_its_setting_leaves_the_bus_unknown() -> None:
    surveyed = survey(on_regulator(set_v=None), CONDITIONS)
    assert surveyed.scenarios == {}
    assert surveyed.supply.bus_full_v is None
    assert "regulator R: set volts" in map(str, surveyed.supply.missing)
    assert "regulator R: set volts" in map(str, surveyed.positions["AIL"].missing)


def test_a_bigger_servo_set_draws_more_and_lowers_the_bus() -> None:
    aircraft = trainer()
    strong = replace(aircraft, fits=tuple(replace(fit, servo_type=OF_D620) for fit in aircraft.fits))
    before, after = survey(aircraft, CONDITIONS), survey(strong, CONDITIONS)
    assert bus_v(after.scenarios[Scenario.PEAK]) < bus_v(before.scenarios[Scenario.PEAK])


def test_a_digital_servos_average_depends_on_class_and_function() -> None:
    surveyed = survey(biplane(), CONDITIONS)
    average = surveyed.positions["AIL-L"].average_a
    assert average is not None
    # At rest 60 mA, turning 15 % of the flight at 0.3 A, and 2 % of the 5.88 A at 6 V above that.
    assert average.expected == pytest.approx(0.060 + 0.15 * 0.3 + 0.02 * (5.88 - 0.3))
    heli = survey(helicopter(), CONDITIONS)
    cyclic, tail = heli.positions["CYC1"].average_a, heli.positions["TAIL"].average_a
    assert cyclic is not None
    assert tail is not None
    assert cyclic.expected == pytest.approx(0.060 + 0.45 * 0.3 + 0.035 * (5.88 - 0.3))
    assert tail.expected == pytest.approx(0.070 + 0.5 * 0.3 + 0.06 * (3.90 - 0.3))
    assert MK_G30.drive == "digital"


def test_a_path_that_feeds_no_radio_is_left_out() -> None:
    aircraft = trainer()
    ignition = PowerPath(
        feed=replace(aircraft.paths[0].feed, code="IGN", role=FeedRole.IGNITION), packs=(pack(NIMH_4, "B5"),)
    )
    surveyed = survey(replace(aircraft, paths=(*aircraft.paths, ignition)), CONDITIONS)
    assert set(surveyed.supply.path_full_v) == {"RX"}


@all_cases(
    "scenario, make",
    product(list(Scenario), [trainer, helicopter, biplane, partial(on_regulator, set_v=6.0)]),
)
def test_currents_of_all_servos_and_the_steady_ones_sum_to_the_total(make, scenario) -> None:  # type: ignore[no-untyped-def]
    surveyed = survey(make(), CONDITIONS)
    if scenario not in surveyed.scenarios:
        assert scenario is Scenario.ONE_LOST
        return
    case = surveyed.scenarios[scenario]
    assert case.total_a is not None
    assert case.steady_a is not None
    assert set(case.servo_a) == {fit.code for fit in surveyed.aircraft.fits}
    drawn = sum(figure.expected for figure in case.servo_a.values()) + case.steady_a.expected
    assert drawn == pytest.approx(case.total_a.expected, rel=1e-9)
    # Kirchhoff's current law at the bus: what the paths put on it leaves through the leads.
    given = sum(figure.expected for figure in {**case.path_a, **case.regulator_a}.values())
    assert drawn == pytest.approx(given, abs=1e-6)


def test_a_servo_s_current_is_its_share_of_stall_and_its_idle_worked_by_hand() -> None:
    # 0.3 of a stall current of 0.73 A at 4.8 V and 8 mA at rest, as sheet and class say.
    current = survey(trainer(), CONDITIONS).scenarios[Scenario.PEAK].servo_a["AIL"]
    assert current.expected == pytest.approx(0.3 * 0.73 + 0.008, rel=1e-6)
    assert current.unit == "A"
    asked = {str(item.name): item.value for item in current.working.inputs}
    assert asked["stall current at the nominal bus volts"] == pytest.approx(0.73)
    assert asked["idle current"] == 8


@all_cases(
    "scenario, make", product([Scenario.IDLE, Scenario.CRUISE, Scenario.PEAK], [trainer, helicopter, biplane])
)
def test_a_servo_s_current_is_what_its_own_lead_drops_its_volts_by(make, scenario) -> None:  # type: ignore[no-untyped-def]
    surveyed = survey(make(), CONDITIONS)
    case = surveyed.scenarios[scenario]
    for fit in surveyed.aircraft.fits:
        ohm = surveyed.positions[fit.code].lead_ohm
        assert ohm is not None
        start = "bus" if fit.through is None else f"gyro {fit.through.code}"
        drop_v = case.node_v[start] - case.node_v[f"servo {fit.code}"]
        assert case.servo_a[fit.code].expected * ohm.expected == pytest.approx(drop_v, abs=1e-6)


def test_a_servo_whose_volts_stall_it_draws_volts_over_its_stalled_resistance() -> None:
    # Stall 60 A at 4.8 V: four of them pull the bus so low that none can draw its share.
    hungry = servo_type("HH", (4.8, 3.0, 0.15, 60.0))
    aircraft = trainer()
    fits = tuple(replace(fit, servo_type=hungry) for fit in aircraft.fits)
    case = survey(replace(aircraft, fits=fits), CONDITIONS).scenarios[Scenario.PEAK]
    current = case.servo_a["AIL"].expected
    assert current < 0.3 * 60.0
    idle = (
        0.008
        if fits[0].servo_type is None or fits[0].servo_type.idle_ma is None
        else (fits[0].servo_type.idle_ma / 1000.0)
    )
    assert current - idle == pytest.approx(case.node_v["servo AIL"] / (4.8 / 60.0), rel=1e-6)


def test_servo_currents_are_in_the_plain_form() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    plain = survey_json(surveyed)["scenarios"][str(Scenario.PEAK)]
    assert set(plain["servo_a"]) == set(surveyed.positions)
    assert plain["servo_a"]["AIL"]["value"] == surveyed.scenarios[Scenario.PEAK].servo_a["AIL"].expected
    assert plain["servo_a"]["AIL"]["unit"] == "A"
    assert plain["steady_a"]["value"] == pytest.approx(0.060)


@all_cases("make", [trainer, helicopter, biplane, partial(on_regulator, set_v=6.0)])
def test_volts_fall_from_pack_to_bus_by_ohms_law(make) -> None:  # type: ignore[no-untyped-def]
    surveyed = survey(make(), CONDITIONS)
    for case in surveyed.scenarios.values():
        for path in surveyed.aircraft.radio_paths:
            code = path.feed.code
            if code == case.lost:
                assert not any(key.startswith(f"{code} ") for key in case.pack_v)
                continue
            keys = [f"{code} {fed.pack.tag}" for fed in path.packs]
            volts = [case.pack_v[key].expected for key in keys]
            amps = [case.pack_a[key].expected for key in keys]
            joined = sum(volts) if path.feed.join is PackJoin.SERIES else volts[0]
            assert joined == pytest.approx(case.node_v[f"{code} packs"])
            together = amps[0] if path.feed.join is PackJoin.SERIES else sum(amps)
            assert together == pytest.approx(case.path_a[code].expected)
            if code in case.switch_v:
                drop = joined - case.switch_v[code].expected
                ohm = 0.025 if path.switch_type is None else (path.switch_type.contact_mohm or 25) / 1000
                assert drop == pytest.approx(together * ohm, rel=1e-6, abs=1e-9)
            if code in case.regulator_in_v:
                # A linear regulator's heat: what goes in less what comes out, and its own standing current.
                into_w = case.regulator_in_v[code].expected * case.path_a[code].expected
                assert case.bus_v is not None
                out_w = case.bus_v.expected * case.regulator_a[code].expected
                assert case.regulator_w[code].expected == pytest.approx(into_w - out_w, rel=1e-6, abs=1e-9)
