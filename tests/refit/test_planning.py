from __future__ import annotations

import dataclasses
import json
import subprocess
import sys

import pytest

from hangar.base.errors import BadInput
from hangar.base.reader import Reader
from hangar.base.units import IMPERIAL
from hangar.parts import Library, Plan, PlanLine, Servo, after_plan
from hangar.parts.choices import Function, Gear, PlanAction
from hangar.refit import Front, Limits, front_as_json, plan
from hangar.refit.explain import Explainer
from hangar.refit.prove import assessed, changed
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_records
from hangar.survey import survey
from tests.refit.generator import DAY, large_aircraft, large_library

LIMITS = Limits(conditions=DAY)
TYPES = {
    kind.code: dataclasses.replace(kind, price=price)
    for kind, price in ((ex.STANDARD, 14.0), (ex.STRONG, 80.0), (ex.CYCLIC, 60.0), (ex.TAIL, 90.0))
}
PACKS = {kind.code: dataclasses.replace(kind, price=30.0) for kind in (ex.NICKEL_4, ex.LITHIUM_2)}
LIBRARY = Library(servo_types=TYPES, pack_types=PACKS)


def weak_helicopter_front(limits: Limits = LIMITS) -> Front:
    aircraft = with_fit(
        ex.helicopter(), "CYC-1", servo_type={"ratings": ex.weaker(ex.CYCLIC, 0.1), "code": "old"}
    )
    return plan(aircraft, LIBRARY, {}, limits)


def test_doing_nothing_is_always_the_first_point() -> None:
    for front in (plan(ex.trainer(), LIBRARY, {}, LIMITS), plan(ex.trainer(), Library(), {}, LIMITS)):
        assert front.today.changes == ()
        assert front.today.price == 0.0
    assert weak_helicopter_front().today.findings_after


def test_every_point_says_what_survey_says_of_the_changed_aircraft() -> None:
    front = weak_helicopter_front()
    assert len(front.points) > 2
    for point in front.points[1:]:
        after = assessed(changed(front.aircraft, point.changes, LIBRARY), LIMITS)
        assert point.weakest_margin == after.weakest_margin
        assert point.worst_bus_v == after.worst_bus_v
        assert point.findings_after == after.findings
        assert point.certified is not None
        assert 100.0 * (point.weakest_margin or 0.0) >= point.certified[2] - 1e-6
        assert 1000.0 * (point.worst_bus_v or 0.0) >= point.certified[3] - 1e-3
        assert point.price == pytest.approx(sum(line.price or 0.0 for line in point.changes))


def test_a_swashplate_is_never_left_with_unlike_servos() -> None:
    front = weak_helicopter_front()
    for point in front.points[1:]:
        after = changed(front.aircraft, point.changes, LIBRARY)
        types = {
            fit.servo_type.code for fit in after.fits if fit.function is Function.CYCLIC and fit.servo_type
        }
        assert len(types) == 1


def test_only_the_odd_servo_of_a_matched_set_is_bought() -> None:
    bought = [
        [line.place for line in point.changes if line.part_type == ex.CYCLIC.code]
        for point in weak_helicopter_front().points[1:]
    ]
    assert ["CYC-1"] in bought


def test_spares_come_from_the_bay_by_tag_and_reserved_ones_do_not() -> None:
    aircraft = with_fit(
        ex.trainer(), "ELE", servo_type={"ratings": ex.weaker(ex.STANDARD, 0.1), "code": "old"}
    )
    spares = {tag: Servo(tag=tag, servo_type=ex.STANDARD.code) for tag in ("0901", "0902")}
    line = PlanLine(plan="P", number=1, action=PlanAction.FIT_SERVO, place="ELE", part_type=ex.STANDARD.code,
                    from_stock="0901")  # fmt: skip
    other = Plan(code="P", aircraft="OTHER", title="other", lines=(line,))
    limits = dataclasses.replace(LIMITS, change_supply=False)
    free = plan(aircraft, dataclasses.replace(LIBRARY, spare_servos=spares), {}, limits)
    taken = plan(aircraft, dataclasses.replace(LIBRARY, spare_servos=spares, plans=(other,)), {}, limits)
    assert [each.from_stock for each in free.points[1].changes] == ["0901"]
    assert free.points[1].price == 0.0
    assert [each.from_stock for each in taken.points[1].changes] == ["0902"]


def test_locked_positions_stay_and_the_budget_is_kept() -> None:
    front = weak_helicopter_front(dataclasses.replace(LIMITS, locked=frozenset({"TAIL"}), budget=100.0))
    assert len(front.points) > 1
    for point in front.points:
        assert point.price <= 100.0
        assert "TAIL" not in {line.place for line in point.changes}


def test_each_refused_type_says_the_rule_and_the_numbers() -> None:
    types = {
        **TYPES,
        "wide": dataclasses.replace(ex.STRONG, code="wide", price=9.0, case_width_mm=25.0),
        "narrow": dataclasses.replace(ex.STRONG, code="narrow", price=9.0, pulse_us=760.0),
        "low": dataclasses.replace(ex.STRONG, code="low", price=9.0, supply_max_v=4.8),
        "unpriced": dataclasses.replace(ex.STRONG, code="unpriced"),
        "slow": dataclasses.replace(ex.slower(ex.STRONG, 3.0), code="slow", price=9.0),
        "feeble": dataclasses.replace(
            ex.STRONG, code="feeble", price=9.0, ratings=ex.weaker(ex.STRONG, 0.01)
        ),
    }
    limits = dataclasses.replace(LIMITS, transit_s={"elevator": 0.3}, change_supply=False)
    front = plan(ex.trainer(), Library(servo_types=types), {}, limits)
    told = {
        str(each.what): (each.rule, str(each.why))
        for each in front.refused
        if str(each.what).startswith("ELE:")
    }
    assert told["ELE: wide"] == ("size", "it is 25 mm wide; the bay of ELE is 21 mm")
    assert told["ELE: narrow"][0] == "pulse"
    assert told["ELE: low"][0] == "over-volts"
    assert told["ELE: unpriced"] == ("price", "its price is not known")
    assert told["ELE: slow"][0] == "speed"
    assert told["ELE: feeble"][0] == "torque"
    assert all(any(figure.isdigit() for figure in why) for _, why in told.values() if "known" not in why)


def test_two_runs_give_the_same_plans() -> None:
    one, two = (json.dumps(front_as_json(weak_helicopter_front())) for _ in range(2))
    assert one == two


def test_the_order_of_the_library_does_not_matter() -> None:
    turned = dataclasses.replace(LIBRARY, servo_types=dict(reversed(TYPES.items())))
    aircraft = ex.helicopter()
    assert front_as_json(plan(aircraft, turned, {}, LIMITS)) == front_as_json(
        plan(aircraft, LIBRARY, {}, LIMITS)
    )


def test_json_has_the_promised_names_and_can_be_written() -> None:
    said = json.loads(json.dumps(front_as_json(weak_helicopter_front())))
    assert said["aircraft"] == "EXH"
    assert said["exact"] is True
    assert {"price", "mass_change_g", "weakest_margin", "worst_bus_v", "changes", "findings_after"} == set(
        said["front"][1]
    )
    assert said["front"][1]["changes"][0]["action"] in {action.value for action in PlanAction}
    assert all(set(each) == {"what", "why"} for each in said["refused"])


def test_a_point_becomes_a_plan_that_does_the_same() -> None:
    front = weak_helicopter_front()
    point = front.points[1]
    made = point.plan(front.aircraft, "Refit EXH", "Strong swashplate")
    assert made.code == "Refit EXH"
    assert {line.plan for line in made.lines} == {"Refit EXH"}
    seen = survey(after_plan(front.aircraft, made, LIBRARY), DAY)
    assert seen.scenarios["peak"].bus_v is not None  # type: ignore[index]
    assert seen.scenarios["peak"].bus_v.expected == point.worst_bus_v  # type: ignore[index]


def test_a_stopped_search_says_that_it_is_not_proved() -> None:
    asked = 0

    def soon() -> bool:
        nonlocal asked
        asked += 1
        return asked > 3

    front = plan(ex.helicopter(), LIBRARY, {}, LIMITS, stop=soon)
    assert front.stopped
    assert not front.exact
    assert any("not proved best" in str(doubt) for doubt in front.doubts)
    assert front.today.changes == ()


def test_progress_rises_from_nothing_to_proving() -> None:
    told: list[tuple[float, str]] = []
    plan(ex.helicopter(), LIBRARY, {}, LIMITS, progress=lambda share, words: told.append((share, str(words))))
    shares = [share for share, _ in told]
    assert shares[0] == 0.0
    assert max(shares) <= 1.0
    assert told[-1][1] == "proving"


def test_a_group_that_nothing_cures_may_stay_and_is_named() -> None:
    aircraft = with_fit(
        ex.trainer(), "RUD", servo_type={"ratings": ex.weaker(ex.STANDARD, 0.05), "code": "old"}
    )
    small = {"old type": dataclasses.replace(ex.STANDARD, code="old type", price=5.0, case_width_mm=99.0)}
    front = plan(aircraft, Library(servo_types=small), {}, LIMITS)
    assert any("RUD" in str(doubt) and "Nothing meets every rule" in str(doubt) for doubt in front.doubts)


def test_impossible_limits_are_refused() -> None:
    with pytest.raises(BadInput, match="budget"):
        Limits(budget=-1.0)


def test_the_planner_is_light_to_import() -> None:
    code = "import sys, hangar.refit; print(any(m in sys.modules for m in ('numpy', 'scipy', 'highspy')))"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "False"


def test_the_solver_prints_nothing_of_its_own() -> None:
    code = (
        "from tests.refit.tables_by_chance import Chance, level_tables_by_chance\n"
        "from hangar.refit.level_programme import Question, cheapest\n"
        "cheapest(level_tables_by_chance(4, Chance(levels=1))[0], Question())"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout == ""


def explained(limits: Limits = LIMITS) -> tuple[Explainer, Front]:
    front = weak_helicopter_front(limits)
    return Explainer.of(front, front.aircraft, LIBRARY, {}, limits), front


def test_why_not_names_the_rule_or_the_price() -> None:
    explainer, front = explained()
    point = front.points[1]
    assert "frames a second" in str(explainer.why_not("TAIL", ex.STANDARD.code, point))
    answer = str(explainer.why_not("TAIL", ex.CYCLIC.code, point))
    assert "TAIL" in answer
    assert answer.endswith(".")
    assert "holds no servo" in str(explainer.why_not("NOWHERE", ex.CYCLIC.code, point))


def test_the_next_best_and_more_money_are_told_in_one_sentence() -> None:
    explainer, front = explained()
    point = front.points[1]
    assert str(explainer.next_best(point)).startswith(("The next best costs", "There is no other"))
    assert str(explainer.more_money(front.points[-1])).endswith(".")
    assert str(explainer.more_money(front.today)).startswith("The next step costs")


def test_a_tight_budget_is_named_as_what_stands_against_a_dearer_servo() -> None:
    kinds = {**TYPES, "dear": dataclasses.replace(ex.CYCLIC, code="dear", price=500.0)}
    aircraft = with_fit(
        ex.trainer(), "ELE", servo_type={"ratings": ex.weaker(ex.STANDARD, 0.1), "code": "old"}
    )
    limits = dataclasses.replace(LIMITS, budget=100.0, gauges=(), change_supply=False)
    front = plan(aircraft, Library(servo_types=kinds), {}, limits)
    explainer = Explainer.of(front, aircraft, Library(servo_types=kinds), {}, limits)
    point = next(each for each in front.points if each.changes)
    assert str(explainer.why_not("ELE", "dear", point)) == "dear at ELE is held back by the budget."


def test_the_limit_that_binds_is_named_with_what_it_costs() -> None:
    aircraft = with_fit(
        ex.trainer(), "ELE", servo_type={"ratings": ex.weaker(ex.STANDARD, 0.1), "code": "old"}
    )
    kinds = {
        "cheap": dataclasses.replace(ex.STANDARD, code="cheap", price=10.0, mass_g=90.0),
        "light": dataclasses.replace(ex.STANDARD, code="light", price=40.0, mass_g=45.0),
    }
    limits = dataclasses.replace(LIMITS, mass_g=0.0, gauges=(), change_supply=False)
    front = plan(aircraft, Library(servo_types=kinds), {}, limits)
    explainer = Explainer.of(front, aircraft, Library(servo_types=kinds), {}, limits)
    point = next(each for each in front.points if each.changes)
    assert [line.part_type for line in point.changes] == ["light"]
    assert str(explainer.binding(point)) == (
        "If it might weigh more, the same margin and volts would cost 30.00 less."
    )


def test_a_large_library_is_planned_and_every_shown_point_is_proved() -> None:
    limits = dataclasses.replace(
        LIMITS, budget=500.0, gauges=(), price_step=5.0, mass_step_g=5, margin_step_pct=10
    )
    front = plan(large_aircraft(3), large_library(3, 100), {}, limits)
    assert len(front.points) > 5
    assert all(point.findings_after is not None for point in front.points)
    shown = [(point.price, point.mass_change_g) for point in front.points[1:]]
    assert shown == sorted(shown)


def test_json_explains_every_point_in_one_sentence_each_when_asked() -> None:
    front = weak_helicopter_front()
    said = front_as_json(front, explained=True)["explanations"]
    assert "explanations" not in front_as_json(front)
    assert len(said) == len(front.points)
    assert said[0]["binding"] == "Nothing is changed, so nothing is held back."
    for each in said:
        assert set(each) == {"binding", "next_best", "more_money"}
        assert all(words.endswith(".") for words in each.values()), each
    assert any("The next step costs" in each["more_money"] for each in said)


def test_an_explanation_rests_on_the_tables_that_made_the_front() -> None:
    aircraft = with_fit(
        with_airframe(ex.helicopter(), all_up_mass_g=5000.0), "CYC-1",
        servo_type={"ratings": ex.weaker(ex.CYCLIC, 0.1), "code": "old"},
    )  # fmt: skip
    kinds = {
        code: dataclasses.replace(ex.CYCLIC, code=code, price=price, gear=gear)
        for code, price, gear in (("nylon", 20.0, Gear.NYLON), ("steel", 80.0, Gear.STEEL))
    }
    locked = frozenset({"THR", "TAIL"})
    limits = dataclasses.replace(LIMITS, gauges=(), change_supply=False, locked=locked)
    shelf = Library(servo_types=kinds)
    front = plan(aircraft, shelf, {}, limits)
    assert any(refusal.rule == "gear-vs-duty" and "nylon" in str(refusal.what) for refusal in front.refused)
    point = next(point for point in front.points if point.changes)
    asked = Explainer.of(front, aircraft, shelf, {}, limits)
    assert asked.tables is front.tables
    assert "nylon" not in str(asked.next_best(point))
    rebuilt = Explainer.of(dataclasses.replace(front, tables=None), aircraft, shelf, {}, limits)
    assert rebuilt.next_best(point) != asked.next_best(point), "what the rules barred is lost in new tables"


def test_a_gain_that_two_decimals_cannot_show_is_told_with_three_or_not_at_all() -> None:
    front = weak_helicopter_front()
    today = dataclasses.replace(front.today, weakest_margin=1.620)
    for margin, said in (
        (1.623, "More money buys no more margin."),
        (1.628, "from 1.620 to 1.628"),
        (1.64, "from 1.62 to 1.64"),
    ):
        step = dataclasses.replace(front.points[1], price=10.0, weakest_margin=margin)
        told = Explainer.of(dataclasses.replace(front, points=(today, step)), front.aircraft, LIBRARY)
        assert said in str(told.more_money(today))


def test_a_tight_bay_is_told_in_the_keepers_units_with_the_room_to_leave() -> None:
    aircraft = with_fit(ex.trainer(), "ELE", position={"bay_width_mm": 20.32})
    kinds = {"wide": dataclasses.replace(ex.STANDARD, code="wide", price=10.0, case_width_mm=20.1)}
    limits = dataclasses.replace(LIMITS, change_supply=False)
    front = plan(aircraft, Library(servo_types=kinds), {}, limits)
    why = {str(each.what): each.why for each in front.refused}["ELE: wide"]
    assert str(why) == "it is 20.1 mm wide; the bay of ELE is 20.32 mm and must leave 0.5 mm free"
    inches = Reader("en", IMPERIAL).put(why)
    assert inches.startswith("it is 0.791 in wide; the bay of ELE is 0.8 in and must leave ")


def test_a_finding_of_a_pack_is_not_cured_by_another_pack_of_which_the_same_is_found() -> None:
    aircraft = with_records(ex.giant(), paths=lambda paths: paths[:1])
    kind = dataclasses.replace(ex.LITHIUM_2, code="P-new", mass_g=150.0, price=30.0)
    front = plan(aircraft, Library(pack_types={kind.code: kind}), {}, LIMITS)
    swapped = [point for point in front.points if any(line.part_type == "P-new" for line in point.changes)]
    assert swapped
    for point in swapped:
        assert "single-pack-giant" in {finding.rule for finding in point.findings_after}
        assert "single-pack-giant" not in {finding.rule for finding in point.cured}


def test_the_next_best_is_not_the_same_servo_bought_instead_of_taken() -> None:
    aircraft = with_fit(
        ex.trainer(), "ELE", servo_type={"ratings": ex.weaker(ex.STANDARD, 0.1), "code": "old"}
    )
    shelf = Library(servo_types={ex.STANDARD.code: TYPES[ex.STANDARD.code]})
    limits = dataclasses.replace(LIMITS, gauges=(), change_supply=False)
    front = plan(aircraft, shelf, {ex.STANDARD.code: 1}, limits)
    point = next(each for each in front.points if each.changes)
    assert point.price == 0.0
    asked = Explainer.of(front, aircraft, shelf, {ex.STANDARD.code: 1}, limits)
    assert (
        str(asked.next_best(point))
        == "There is no other refit with as much margin and volts for as little mass."
    )
