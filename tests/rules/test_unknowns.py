"""Nothing unknown ever looks good: a blank never clears a warning without being named."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from functools import cache
from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hangar.parts import Acceptance, Aircraft, Airframe, Record
from hangar.parts.choices import AircraftClass, PowerKind
from hangar.rules import Finding, Level, acceptance_of, inspect, look, summary
from hangar.rules.changing import with_records
from hangar.survey import Conditions, survey
from hangar.survey.figures import field_missing
from tests.all_cases import all_cases
from tests.rules.demo_trees import TODAY, demo, entries, records, without_field, without_record

HOME = Conditions(today=TODAY)
MANY = settings(max_examples=80, suppress_health_check=list(HealthCheck))

STILL_TOLD = {
    (
        "surface",
        "load_speed_m_s",
    ): "a point of flight of the keeper's own; without it those of the class hold",
    ("surface", "whole_chord_mm"): "the load hardly rests on it, and the usual one is typical",
    ("airframe", "mass_limit_g"): "the same rule then says that no limit is entered",
    ("feed", "regulator"): "a name that joins two records, which stay in the tree",
    ("feed", "switch"): "a name that joins two records, which stay in the tree",
}
"""Entries whose blank is told in another way."""


def _flat(findings: Iterable[Finding]) -> list[Finding]:
    return [other_finding for finding in findings for other_finding in finding.with_folded()]


def _warnings(findings: Iterable[Finding]) -> set[str]:
    return {finding.rule for finding in _flat(findings) if finding.level is Level.WARNING}


def _named(findings: Iterable[Finding]) -> set[str]:
    return {str(words) for finding in _flat(findings) for words in finding.missing}


def codes() -> list[str]:
    return sorted(demo()[0])


@cache
def _as_it_is(code: str) -> tuple[Finding, ...]:
    return look(demo()[0][code], HOME)


def _check_blank(aircraft: Aircraft, record: Record, field: str) -> None:
    after = look(without_field(aircraft, record, field), HOME)
    gone = _warnings(_as_it_is(aircraft.code)) - _warnings(after)
    if gone and (record.KIND, field) not in STILL_TOLD:
        assert str(field_missing(record, field)) in _named(after), (record.KIND, field, gone)


@MANY
@given(data=st.data())
def test_a_blank_never_clears_a_warning_without_being_named(data: st.DataObject) -> None:
    aircraft = demo()[0][data.draw(st.sampled_from(codes()))]
    record, field = data.draw(st.sampled_from(entries(aircraft)))
    _check_blank(aircraft, record, field)


@pytest.mark.slow
@pytest.mark.parametrize("code", ["CIND", "PERT", "SISK"])
def test_no_blank_at_all_clears_a_warning_without_being_named(code: str) -> None:
    aircraft = demo()[0][code]
    warned = [finding for finding in _flat(_as_it_is(code)) if finding.level is Level.WARNING]
    concerned = {part for finding in warned for part in finding.about}
    for record, field in entries(aircraft):
        named = {str(getattr(record, name)) for name in record.KEY}
        if named & concerned or record.KIND in ("airframe", "channel", "receiver", "servo-type"):
            _check_blank(aircraft, record, field)


@MANY
@given(data=st.data())
def test_no_rule_stumbles_whatever_is_taken_out(data: st.DataObject) -> None:
    trees, library = demo()
    aircraft = trees[data.draw(st.sampled_from(codes()))]
    field_day = data.draw(st.booleans())
    for _ in range(data.draw(st.integers(1, 12))):
        if data.draw(st.booleans()):
            record, field = data.draw(st.sampled_from(entries(aircraft)))
            aircraft = without_field(aircraft, record, field)
        else:
            aircraft = without_record(aircraft, data.draw(st.sampled_from(list(records(aircraft)))))
    looked = survey(aircraft, Conditions(today=TODAY, field_day=field_day))
    for finding in _flat(inspect(aircraft, looked, library=library)):
        assert str(finding.message).endswith((".", "?"))
        assert str(finding.remedy)
        assert finding.missing or finding.level is not Level.CANT_TELL


@all_cases("kind, power", product(AircraftClass, PowerKind))
def test_an_empty_aircraft_of_any_class_cannot_be_told(kind: AircraftClass, power: PowerKind) -> None:
    empty = Aircraft(
        airframe=Airframe(code="NEW", name="Empty", aircraft_class=kind, power=power), read_on=TODAY
    )
    findings = look(empty, HOME)
    assert any(finding.level is Level.CANT_TELL for finding in findings)
    assert any(finding.rule == "data-missing-vital" for finding in _flat(findings))
    assert "cannot be told" in str(summary(findings))


def _accepted(aircraft: Aircraft, *acceptances: Acceptance) -> tuple[Finding, ...]:
    return look(with_records(aircraft, acceptances=acceptances), HOME)


@all_cases("code", codes)
def test_what_is_accepted_stays_in_sight_and_comes_back_on_its_day_or_with_its_inputs(code: str) -> None:
    aircraft = with_records(demo()[0][code], acceptances=())
    findings = _flat(look(aircraft, HOME))
    for finding in findings:
        if finding.level is Level.CANT_TELL:
            continue
        until = acceptance_of(finding, TODAY + timedelta(days=10), "looked at, flown gently")
        past = acceptance_of(finding, TODAY - timedelta(days=1), "last week")
        other = Acceptance(**{**vars(until), "inputs": "something else"})
        for record, is_open, returned in ((until, False, False), (past, True, True), (other, True, True)):
            again = [
                other_finding
                for other_finding in _flat(_accepted(aircraft, record))
                if (other_finding.rule, other_finding.about) == (finding.rule, finding.about)
            ]
            assert [(finding.is_open, finding.returned) for finding in again] == [(is_open, returned)]


def test_the_whole_fleet_never_reads_as_a_clean_bill() -> None:
    for aircraft in demo()[0].values():
        words = str(summary(look(aircraft, HOME)))
        assert "open warning" in words
        assert "safe" not in words
