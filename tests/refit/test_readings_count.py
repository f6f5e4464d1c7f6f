"""A plan changes because of a reading: what is known of an aircraft is what the search works with."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from hangar.parts import Aircraft, Library, LoadTest, RemarkOnSpeed
from hangar.refit import Front, Limits, plan
from hangar.rules import examples as ex
from hangar.survey import survey
from tests.refit.generator import DAY

CODE = "ELE"
LIMITS = Limits(conditions=DAY)
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


def least_price(front: Front) -> float:
    """What it costs at least to have no finding of the elevator's torque."""
    cured = [
        point.price
        for point in front.points
        if not any(finding.rule == "torque-short-surface" for finding in point.findings_after)
    ]
    return min(cured)


def test_a_surface_that_runs_out_early_asks_for_a_plan_that_nobody_needed() -> None:
    plain = plan(weak(), LIBRARY, {}, LIMITS)
    assert least_price(plain) == 0.0
    learned = survey(replace(weak(), remarks=(remark(20.0),)), DAY).positions[CODE].load_learned
    assert learned is not None
    early = 0.6 * learned.predicted_m_s
    noticed = replace(weak(), remarks=(remark(early), remark(early, 2)))
    found = plan(noticed, LIBRARY, {}, LIMITS)
    assert least_price(found) > 0.0
    load, known = (survey(aircraft, DAY).positions[CODE].load_nm for aircraft in (weak(), noticed))
    assert load is not None
    assert known is not None
    assert known.expected > 1.5 * load.expected


def test_the_load_that_was_flown_meets_the_new_servo_of_every_point() -> None:
    learned = survey(replace(weak(), remarks=(remark(20.0),)), DAY).positions[CODE].load_learned
    assert learned is not None
    early = 0.6 * learned.predicted_m_s
    plain = plan(weak(), LIBRARY, {}, LIMITS)
    found = plan(replace(weak(), remarks=(remark(early), remark(early, 2))), LIBRARY, {}, LIMITS)

    def margin(front: Front) -> float:
        (point,) = (
            point
            for point in front.points
            if [(line.place, line.part_type) for line in point.changes] == [(CODE, ex.STANDARD.code)]
        )
        assert point.weakest_margin is not None
        return point.weakest_margin

    assert margin(found) < margin(plain)


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
    before, after = plan(aircraft, LIBRARY, {}, LIMITS), plan(worn, LIBRARY, {}, LIMITS)
    assert before.today.worst_bus_v is not None
    assert after.today.worst_bus_v is not None
    assert after.today.worst_bus_v < before.today.worst_bus_v
    offered = [
        [[line.part_type for line in point.changes] for point in front.points] for front in (before, after)
    ]
    assert offered[0] != offered[1]
