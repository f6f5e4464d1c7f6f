"""A plan changes because of a reading: what is known of an aircraft is what the search works with."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from hangar.parts import Aircraft, Library, LoadTest, Plan, PlanLine, RemarkOnSpeed, after_plan
from hangar.parts.choices import PlanAction
from hangar.refit.ladder import Questions
from hangar.refit.request import RefitRequest
from hangar.rules import examples as ex
from hangar.survey import survey
from tests.refit.generator import DAY

CODE = "ELE"
ASKING = RefitRequest(conditions=DAY)
TYPES = {kind.code: replace(kind, price=price) for kind, price in ((ex.STANDARD, 14.0), (ex.STRONG, 80.0))}
PACKS = {kind.code: replace(kind, price=30.0) for kind in (ex.NICKEL_4, ex.LITHIUM_2)}
LIBRARY = Library(servo_types=TYPES, pack_types=PACKS)


def weak() -> Aircraft:
    """A trainer whose elevator holds enough by what is worked out, as it is read from a fleet."""
    made = ex.trainer()
    fits = []
    for fit in made.fits:
        kind = fit.servo_type
        assert kind is not None
        if fit.code == CODE:
            kind = replace(kind, code="weak", ratings=ex.weaker(kind, 0.6))
        fits.append(replace(fit, servo_type=kind, flown_type=kind))
    return replace(made, fits=tuple(fits))


def remark(speed_m_s: float, number: int = 1) -> RemarkOnSpeed:
    return RemarkOnSpeed(
        aircraft=weak().code, surface=CODE, noted_on=ex.DAY - timedelta(days=3), number=number,
        speed_m_s=speed_m_s, runs_out=True,
    )  # fmt: skip


def is_short(aircraft: Aircraft) -> bool:
    """Whether the elevator's torque is found to be short."""
    today = Questions(aircraft, LIBRARY, ASKING).search.today
    return any(slug == "torque-short-surface" for slug, _ in today.units)


def test_a_surface_that_runs_out_early_asks_for_a_plan_that_nobody_needed() -> None:
    assert not is_short(weak())
    learned = survey(replace(weak(), remarks=(remark(20.0),)), DAY).positions[CODE].load_learned
    assert learned is not None
    early = 0.4 * learned.predicted_m_s
    noticed = replace(weak(), remarks=(remark(early), remark(early, 2)))
    assert is_short(noticed)
    answer = Questions(noticed, LIBRARY, ASKING).best(None)
    assert CODE in {line.place for line in answer.lines}
    assert "torque-short-surface" in {unit.rule for unit in answer.clears}
    assert answer.left.money > 0.0
    load, known = (survey(aircraft, DAY).positions[CODE].load_nm for aircraft in (weak(), noticed))
    assert load is not None
    assert known is not None
    assert known.expected > 1.5 * load.expected


def test_the_load_that_was_flown_meets_the_new_servo() -> None:
    learned = survey(replace(weak(), remarks=(remark(20.0),)), DAY).positions[CODE].load_learned
    assert learned is not None
    early = 0.4 * learned.predicted_m_s

    def reserve(aircraft: Aircraft) -> float:
        line = PlanLine(
            plan="P", number=1, action=PlanAction.FIT_SERVO, place=CODE, part_type=ex.STANDARD.code
        )
        plan = Plan(code="P", aircraft=aircraft.code, title="P", lines=(line,))
        after = survey(after_plan(aircraft, plan, LIBRARY), DAY).positions[CODE].reserve
        assert after is not None
        return after.expected

    assert reserve(replace(weak(), remarks=(remark(early), remark(early, 2)))) < reserve(weak())


def test_a_worn_pack_by_its_load_test_is_what_the_plan_has_to_cope_with() -> None:
    aircraft = ex.trainer()
    path = aircraft.paths[0]
    fed = path.packs[0]
    tests = tuple(
        LoadTest(
            pack=fed.pack.tag, tested_at=datetime.combine(ex.ago(days), datetime.min.time()), load_a=1.0,
            rest_v=5.36, loaded_v=5.36 - 0.312, second_load_a=3.0, second_v=5.36 - 3.0 * 0.312, pack_c=25.0,
            minutes_since_charge=600.0,
        )
        for days in (9, 5, 2)
    )  # fmt: skip
    worn = replace(aircraft, paths=(replace(path, packs=(replace(fed, load_tests=tests),)),))
    before, after = (
        Questions(other_aircraft, LIBRARY, ASKING).search.today for other_aircraft in (aircraft, worn)
    )
    assert before.bus_v is not None
    assert after.bus_v is not None
    assert after.bus_v[0] < before.bus_v[0]
    assert after.count > before.count
