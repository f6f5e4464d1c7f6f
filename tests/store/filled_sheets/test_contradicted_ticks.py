"""A tick that what was seen, or what is set, contradicts is no proof; what was seen raises a warning."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hangar.base.kept_text import said_in
from hangar.parts import Channel, Inspection, Snag
from hangar.parts.choices import FailsafeAction, Function, InspectionKind, Severity
from hangar.parts.fields import key_of
from hangar.rules import inspect, open_warnings
from hangar.store import Fleet, bring_in
from hangar.store.report import BringInReport
from hangar.survey import Conditions, survey
from tests.sheets.cases import TODAY
from tests.sheets.filling import TICK
from tests.store.filled_sheets.answers import Sheets, filled


def throttle(fleet: Fleet, code: str = "CIND") -> Channel:
    channels = [
        channel for channel in fleet.records(Channel, aircraft=code) if channel.function is Function.THROTTLE
    ]
    return channels[0]


def set_to(fleet: Fleet, failsafe: FailsafeAction) -> None:
    channel = throttle(fleet)
    with_it = replace(channel, failsafe=failsafe, failsafe_proved_on=None)
    fleet.edit("set", lambda edit: edit.put(with_it))


def warnings_of(fleet: Fleet, code: str = "CIND") -> list[str]:
    aircraft = fleet.aircraft(code, today=TODAY)
    return [
        str(open_warning.message)
        for open_warning in open_warnings(inspect(aircraft, survey(aircraft, Conditions(today=TODAY))))
    ]


def told(report: BringInReport) -> str:
    return " ".join(str(note.reason) for note in report.refused)


def test_full_throttle_with_the_box_ticked_is_no_proof_and_raises_a_warning(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    set_to(fleet, FailsafeAction.OFF)
    out = filled(
        sheets,
        "bench",
        "CIND",
        tmp_path / "full.pdf",
        THR__Failsafe=TICK,
        THR__It__did="full throttle",
    )
    report = bring_in(fleet, [out])
    assert throttle(fleet).failsafe_proved_on is None
    assert "is no proof, for it did 'full throttle'; allowed is off." in told(report)
    (snag,) = [snag for snag in fleet.records(Snag, aircraft="CIND") if snag.raised_on == TODAY]
    assert snag.severity is Severity.GROUNDS
    assert any("full throttle" in message for message in warnings_of(fleet))
    bring_in(fleet, [out])
    assert len([snag for snag in fleet.records(Snag, aircraft="CIND") if snag.raised_on == TODAY]) == 1


@pytest.mark.parametrize("kind", ["field", "bench"])
def test_a_tick_beside_a_setting_that_is_wrong_is_no_proof(
    kind: str, fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    set_to(fleet, FailsafeAction.HOLD)
    report = bring_in(fleet, [filled(sheets, kind, "CIND", tmp_path / "held.pdf", THR__Failsafe=TICK)])
    assert throttle(fleet).failsafe_proved_on is None
    assert "is no proof, for the channel is set to hold; allowed is idle or off." in told(report)


def test_a_tick_that_agrees_is_a_proof(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    set_to(fleet, FailsafeAction.OFF)
    out = filled(sheets, "bench", "CIND", tmp_path / "off.pdf", THR__Failsafe=TICK, THR__It__did="Off")
    report = bring_in(fleet, [out])
    assert throttle(fleet).failsafe_proved_on == TODAY
    assert not report.refused


def test_the_stage_is_not_passed_while_one_output_did_what_it_must_not(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    set_to(fleet, FailsafeAction.OFF)
    out = filled(
        sheets, "bench", "CIND", tmp_path / "stage.pdf",
        B9__Passed=TICK, B0__Passed=TICK, THR__It__did="full throttle",
    )  # fmt: skip
    report = bring_in(fleet, [out])
    assert "is not passed, for THR did 'full throttle' without a signal." in told(report)
    gate = fleet.record(Inspection, "CIND", TODAY, InspectionKind.GATE)
    assert gate is not None
    assert "ticked: B0;" in str(said_in(gate.findings))
    assert "B9" in str(said_in(gate.findings)).partition("not ticked:")[2]


def test_a_surface_that_did_something_else_than_it_is_set_to_is_no_proof(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    channel = next(channel for channel in fleet.records(Channel, aircraft="CIND") if channel.number == 4)
    fleet.edit("set", lambda edit: edit.change(Channel, key_of(channel), failsafe=FailsafeAction.HOLD))
    out = filled(
        sheets, "bench", "CIND", tmp_path / "surface.pdf", RUD__Failsafe=TICK, RUD__It__did="neutral"
    )
    report = bring_in(fleet, [out])
    assert "is no proof, for it did 'neutral'; allowed is hold." in told(report)
    (snag,) = [snag for snag in fleet.records(Snag, aircraft="CIND") if snag.raised_on == TODAY]
    assert snag.severity is Severity.LIMITS


def test_a_turbine_that_stops_too_late_has_proved_nothing(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    off = replace(throttle(fleet, "PERT"), failsafe=FailsafeAction.OFF, failsafe_proved_on=None)
    fleet.edit("set", lambda edit: edit.put(off))
    for seconds, proved in (("3.5", None), ("1.6", TODAY)):
        answers = {
            "channel main 3 Failsafe": TICK,
            "channel main 3 It did": "Off",
            "channel main 3 After": seconds,
        }
        report = bring_in(fleet, [filled(sheets, "bench", "PERT", tmp_path / f"{seconds}.pdf", **answers)])
        assert throttle(fleet, "PERT").failsafe_proved_on == proved
        late = "is no proof, for it took 3.5 s; allowed is 2 s or less."
        assert (late in told(report)) == (proved is None)
