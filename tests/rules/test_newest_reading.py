"""A check that says nothing of a reading does not take the last reading away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, time, timedelta
from typing import Any

from hangar.parts import Aircraft, BenchCheck, Inspection
from hangar.parts.choices import InspectionKind
from hangar.rules import examples as ex
from hangar.rules import look
from hangar.rules.bench_readings import newest_check, newest_reading
from hangar.rules.changing import with_airframe, with_fit, with_records
from hangar.survey import Conditions, due_items
from tests.all_cases import all_cases

TODAY = Conditions(today=ex.DAY)


def ticked_today(aircraft: Aircraft, **values: Any) -> Aircraft:
    """The same aircraft after somebody ticked every control of a field sheet."""
    moment = datetime.combine(ex.DAY, time(9))
    fits = tuple(
        replace(
            fit,
            bench_checks=(
                *fit.bench_checks,
                BenchCheck(aircraft=aircraft.code, position=fit.code, checked_at=moment, **values),
            ),
        )
        for fit in aircraft.fits
    )
    return replace(aircraft, fits=fits)


def slugs(aircraft: Aircraft) -> set[str]:
    return {finding.rule for finding in look(aircraft, TODAY)}


def jittering() -> Aircraft:
    return ex.elevator(bench_checks=ex.checked("ELE", jitter=True))


def tight() -> Aircraft:
    drawing = ex.elevator(bench_checks=ex.checked("ELE", neutral_ma=600.0))
    return with_fit(drawing, "ELE", linkage={"cable_note": "tight"})


FAULTS: dict[str, Callable[[], Aircraft]] = {
    "linkage-bind": lambda: ex.elevator(bench_checks=ex.checked("ELE", end_a_ma=400.0)),
    "linkage-bind-corner": lambda: with_fit(
        ex.helicopter(), "CYC-1", bench_checks=ex.checked("CYC-1", aircraft="EXH", corner_ma=9000.0)
    ),
    "end-stop-hit": lambda: ex.elevator(bench_checks=ex.checked("ELE", stop_deg=15.0)),
    "ganged-fighting": lambda: ex.ganged(bench_checks=ex.checked("RUD-2", aircraft="EXG", ganged_ma=900.0)),
    "servo-sweep-noise": jittering,
    "pull-pull-tension": tight,
}


@all_cases("slug", FAULTS)
def test_a_newer_check_with_a_tick_only_leaves_the_fault_standing(slug: str) -> None:
    faulty = FAULTS[slug]()
    before = [
        (finding.level, str(finding.message)) for finding in look(faulty, TODAY) if finding.rule == slug
    ]
    after = [
        (finding.level, str(finding.message))
        for finding in look(ticked_today(faulty, direction_ok=True, centre_ok=True), TODAY)
        if finding.rule == slug
    ]
    assert before
    assert after == before


def test_a_newer_reading_takes_the_place_of_the_older_one() -> None:
    bound = FAULTS["linkage-bind"]()
    assert "linkage-bind" not in slugs(ticked_today(bound, end_a_ma=20.0, end_b_ma=20.0))
    assert "servo-sweep-noise" not in slugs(ticked_today(jittering(), jitter=False))


def test_currents_read_after_the_directions_were_proved_leave_them_proved() -> None:
    proved = with_airframe(ex.trainer(), refit_on=ex.ago(50))
    assert "direction-not-proved" not in slugs(proved)
    assert "direction-not-proved" not in slugs(ticked_today(proved, neutral_ma=10.0))
    assert "direction-not-proved" in slugs(ticked_today(proved, direction_ok=False))


def test_each_end_counts_as_it_was_read_last() -> None:
    moments = [datetime.combine(ex.DAY - timedelta(days=days), time()) for days in (3, 2, 1)]
    readings: tuple[dict[str, Any], ...] = ({"end_a_ma": 400.0}, {"end_b_ma": 20.0}, {"centre_ok": True})
    checks = tuple(
        BenchCheck(aircraft="EXT", position="ELE", checked_at=moment, **values)
        for moment, values in zip(moments, readings, strict=True)
    )
    fit = ex.elevator(bench_checks=checks).fit("ELE")
    assert fit is not None
    assert newest_reading(fit, "end_a_ma") == 400.0
    assert newest_check(fit, "end_a_ma", "end_b_ma") == checks[1]
    assert newest_check(fit, "stop_deg") is None
    assert "linkage-bind" in slugs(ex.elevator(bench_checks=checks))


def test_a_check_at_the_gate_takes_the_place_of_no_inspection() -> None:
    gate = Inspection(aircraft="EXT", inspected_on=ex.DAY, kind=InspectionKind.GATE, passed=True)
    overdue = with_records(ex.trainer(), inspections=(*ex.inspected(400, due=35), gate))
    assert "inspection-due" in slugs(overdue)
    bumped = with_records(ex.trainer(), flights=ex.flown(hard_landing=True))
    with_gate = with_records(bumped, inspections=(*bumped.inspections, gate))
    assert "hard-landing-unchecked" in slugs(with_gate)
    due = due_items(overdue, TODAY, lambda _name: 10.0)
    assert any("yearly inspection" in str(item.why) for item in due)
