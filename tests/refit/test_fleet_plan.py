from __future__ import annotations

import dataclasses
import json
import shutil
from pathlib import Path

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.commands.running import main
from hangar.parts import Aircraft, Library, Pack, Servo
from hangar.parts.choices import PlanAction
from hangar.refit import Limits
from hangar.refit.fleet_plan import FleetPlan, fleet_as_json, plan_fleet
from hangar.refit.prove import assessed, changed, new_warnings
from hangar.refit.risk import RiskMeasure, risk_setting
from hangar.rules import example_parts as parts
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_pack
from hangar.survey import survey
from tests.all_cases import all_cases
from tests.refit.generator import DAY

LIMITS = Limits(conditions=DAY, level_step_v=0.2, gauges=())
TYPES = {
    kind.code: dataclasses.replace(kind, price=price)
    for kind, price in ((ex.STANDARD, 14.0), (ex.STRONG, 80.0), (ex.CYCLIC, 60.0))
}
WANTED = {"EXT": 1.5, "EXH": 2.0}


def tired(aircraft: Aircraft, code: str, *positions: str, share: float = 0.15) -> Aircraft:
    """An aircraft under another code whose servos at some positions have lost most of their torque."""
    for place in positions:
        fit = aircraft.fit(place)
        assert fit is not None
        assert fit.servo_type is not None
        aircraft = with_fit(
            aircraft, place, servo_type={"code": "worn", "ratings": ex.weaker(fit.servo_type, share)}
        )
    return with_airframe(aircraft, code=code, dive_speed_m_s=60.0)


def fleet() -> list[Aircraft]:
    return [
        tired(ex.trainer(), "ONE", "ELE", "RUD"),
        tired(ex.trainer(), "TWO", "AIL-L", "AIL-R", share=0.25),
        tired(ex.trainer(), "THREE", "RUD", share=0.3),
    ]


def library(spares: int = 1) -> Library:
    bay = {f"09{at:02d}": Servo(tag=f"09{at:02d}", servo_type=ex.STANDARD.code) for at in range(spares)}
    return Library(servo_types=TYPES, spare_servos=bay)


def spent(budget: float, spares: int = 1) -> FleetPlan:
    return plan_fleet(fleet(), library(spares), budget, {}, LIMITS)


def test_more_money_never_leaves_more_shortage_and_the_budget_is_kept() -> None:
    plans = [spent(budget) for budget in (0.0, 14.0, 28.0, 42.0, 100.0)]
    shortages = [plan.shortage_after for plan in plans]
    assert shortages == sorted(shortages, reverse=True)
    assert shortages[0] > shortages[-1]
    assert all(plan.price <= plan.budget and plan.exact for plan in plans)


def test_one_spare_is_given_out_once_and_where_it_helps_most() -> None:
    plan = spent(0.0)
    tags = [line.from_stock for part in plan.parts for line in part.point.changes if line.from_stock]
    assert tags == ["0900"]
    helped = {
        part.aircraft.code: part.shortage_before - part.shortage_after
        for part in plan.parts
        if part.point.changes
    }
    alone = {
        aircraft.code: max(
            part.shortage_before - part.shortage_after
            for part in plan_fleet([aircraft], library(), 0.0, {}, LIMITS).parts
        )
        for aircraft in fleet()
    }
    assert next(iter(helped.values())) == pytest.approx(max(alone.values()))


def test_the_plan_is_the_best_of_every_split_of_the_budget() -> None:
    """Each aircraft alone at each budget, then every split of the money: no shared solver state."""
    budget, step = 42, 14
    without_bay = library(0)
    alone = [
        [plan_fleet([aircraft], without_bay, float(money), {}, LIMITS).shortage_after
         for money in range(0, budget + 1, step)]
        for aircraft in fleet()
    ]  # fmt: skip
    shares = range(budget // step + 1)
    best = min(
        alone[0][one] + alone[1][two] + alone[2][three]
        for one in shares for two in shares for three in shares
        if one + two + three <= budget // step
    )  # fmt: skip
    assert spent(float(budget), 0).shortage_after == pytest.approx(best)


def test_the_shortage_that_is_told_is_no_less_than_what_survey_gives() -> None:
    for part in spent(60.0).parts:
        seen = survey(changed(part.aircraft, part.point.changes, library()), DAY)
        weights = {fit.code: 3.0 if fit.function.is_flight else 2.0 for fit in part.aircraft.fits}
        own = 0.0
        for code, position in seen.positions.items():
            if position.torque_share is not None:
                # No less than what lets the air drive the servo back.
                own += weights[code] * max(0.0, 1.0 - 1.0 / position.torque_share.expected) ** 2
        assert own <= part.shortage_after + 1e-3


def test_no_refit_of_the_fleet_brings_a_new_warning() -> None:
    for part in spent(100.0).parts:
        before = assessed(part.aircraft, LIMITS)
        after = assessed(changed(part.aircraft, part.point.changes, library()), LIMITS)
        assert not new_warnings(before.findings, after)


def test_a_stopped_fleet_search_says_so() -> None:
    plan = plan_fleet(fleet(), library(), 100.0, {}, LIMITS, stop=lambda: True)
    assert not plan.exact
    assert any("not proved best" in str(note) for note in plan.notes)


def test_fleet_json_can_be_written_and_names_every_aircraft() -> None:
    said = json.loads(json.dumps(fleet_as_json(spent(50.0))))
    assert [each["aircraft"] for each in said["aircraft"]] == ["ONE", "TWO", "THREE"]
    assert said["price"] <= 50.0
    assert said["gap"] == 0.0
    assert "common practice, no source" in said["notes"][0]


def test_the_risk_of_a_fleet_is_what_the_keepers_measure_gives_its_findings() -> None:
    settings = [risk_setting("warning", "7"), risk_setting("caution", "0"), risk_setting("flight", "1")]
    measure = RiskMeasure.from_settings(settings)
    own = dataclasses.replace(LIMITS, risk=measure)
    plan = plan_fleet(fleet(), library(), 60.0, {}, own)
    shipped = spent(60.0)
    assert plan.risk_before != shipped.risk_before
    assert plan.notes[0] == measure.words
    for part in plan.parts:
        after = assessed(changed(part.aircraft, part.point.changes, library()), own)
        assert part.risk_before == measure.of(assessed(part.aircraft, own).findings)
        assert part.risk_after == measure.of(after.findings)


def test_a_fleet_search_spends_by_the_keepers_factors() -> None:
    own = dataclasses.replace(LIMITS, risk=RiskMeasure.from_settings([risk_setting("flight", "0")]))
    plan = plan_fleet(fleet(), library(0), 28.0, {}, own)
    assert plan.shortage_before == 0.0
    assert spent(28.0, 0).shortage_before > 0.0
    assert plan.price == 0.0


def short_of_supply(code: str) -> Aircraft:
    """An aircraft whose pack sags so far that its servos are too weak, though strong enough on another."""
    aircraft = with_pack(ex.trainer(), pack={"cell_mohm": 200.0}, pack_type={"cell_mohm": 200.0})
    aircraft = with_fit(aircraft, "ELE", servo_type={"code": "worn", "ratings": ex.weaker(ex.STANDARD, 0.4)})
    return with_airframe(aircraft, code=code, dive_speed_m_s=60.0)


def packs_in_bay(count: int) -> Library:
    kind = dataclasses.replace(ex.NICKEL_4, code="P-bay", mass_g=110.0, price=30.0, cell_mohm=5.0)
    spares = {
        f"B90{at}": Pack(tag=f"B90{at}", pack_type=kind.code, bought_on=parts.ago(30), cycles=0)
        for at in range(count)
    }
    return Library(pack_types={kind.code: kind}, spare_packs=spares)


def packs_given(plan: FleetPlan) -> list[str | None]:
    return [
        line.from_stock
        for part in plan.parts
        for line in part.point.changes
        if line.action is PlanAction.FIT_PACK
    ]


@all_cases(
    "spares, budget, given",
    [
        (0, 0.0, []),
        (1, 0.0, ["B900"]),
        (1, 30.0, ["B900", None]),
        (2, 0.0, ["B900", "B901"]),
        (3, 100.0, ["B900", "B901"]),
    ],
)
def test_spare_packs_are_given_out_once_each_before_one_is_bought(
    spares: int, budget: float, given: list[str | None]
) -> None:
    two = [short_of_supply("ONE"), short_of_supply("TWO")]
    plan = plan_fleet(two, packs_in_bay(spares), budget, {}, LIMITS)
    assert sorted(packs_given(plan), key=str) == sorted(given, key=str)
    assert plan.price == 30.0 * given.count(None)
    assert plan.exact
    for part in plan.parts:
        after = assessed(changed(part.aircraft, part.point.changes, packs_in_bay(spares)), LIMITS)
        assert part.point.worst_bus_v == after.worst_bus_v


def test_the_command_judges_the_fleet_with_the_keepers_thresholds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shortages = []
    for wanted in (0.3, 0.99):
        tables = tmp_path / f"wanted {wanted}"
        shutil.copytree(demo_fleet_dir(), tables)
        with (tables / "setting.csv").open("a", encoding="utf-8") as file:
            file.write(f"threshold.control-caution,{wanted}\n")
        assert main(["refit", str(tables), "--whole-fleet", "--budget", "0", "--json"]) == 0
        shortages.append(json.loads(capsys.readouterr().out)["shortage_before"])
    assert shortages[0] < shortages[1]
