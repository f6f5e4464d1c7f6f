"""The commands that change records: one sentence of what was done, or of why not, and one edit to undo."""

from __future__ import annotations

from pathlib import Path

import pytest

from hangar.base.kept_text import said_in
from hangar.base.places import demo_fleet_dir
from hangar.commands import main
from hangar.parts import Airframe, Flight, Plan, PlanLine, Servo, ServoType
from hangar.parts.choices import AircraftState, PlanAction, PlanState, ServoState
from hangar.store import Fleet

DEMO = str(demo_fleet_dir())


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("fleet") / "club.hangar"
    assert main(["bring-in", str(path), DEMO]) == 0
    return path


@pytest.fixture
def place(whole: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """A file of its own with the invented fleet."""
    copied = tmp_path / "club.hangar"
    copied.write_bytes(whole.read_bytes())
    capsys.readouterr()
    return str(copied)


def spare(place: str) -> Servo:
    """A servo that lies in the bay."""
    with Fleet.open(place) as fleet:
        made = Servo(tag="0990", servo_type=fleet.records(ServoType)[0].code)
        fleet.edit("Buy", lambda edit: edit.put(made))
        return made


def fitted(place: str) -> tuple[str, str, str]:
    """An aircraft, a position of it, and the tag of the servo there."""
    with Fleet.open(place, read_only=True) as fleet:
        return next(
            (aircraft.code, fit.code, fit.tag)
            for aircraft in fleet.whole_fleet()
            for fit in aircraft.fits
            if fit.tag
        )


def test_a_servo_is_fitted_and_the_other_goes_to_the_bay(
    place: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, position, old = fitted(place)
    new = spare(place).tag
    words = ["--aircraft", code, "--position", position, "--servo", new]
    assert main(["fit", place, *words]) == 0
    assert capsys.readouterr().out == f"Fit servo {new} at {position}.\n"
    with Fleet.open(place) as fleet:
        assert fleet.aircraft(code).fit(position).tag == new  # type: ignore[union-attr]
        assert fleet.record(Servo, old).state is ServoState.IN_BAY  # type: ignore[union-attr]
        assert str(fleet.undo_label) == f"Fit servo {new} at {position}"
        fleet.undo()
        assert fleet.aircraft(code).fit(position).tag == old  # type: ignore[union-attr]


def test_a_servo_is_taken_off_into_a_bin(place: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, position, old = fitted(place)
    words = ["take-off", place, "--aircraft", code, "--position", position]
    assert main([*words, "--to-bin", "C7"]) == 0
    assert capsys.readouterr().out == f"Take servo {old} off {position}.\n"
    with Fleet.open(place, read_only=True) as fleet:
        servo = fleet.record(Servo, old)
        assert servo is not None
        assert (servo.state, servo.bin) == (ServoState.IN_BAY, "C7")
    assert main(words) == 2
    assert capsys.readouterr().err == f"hangar: There is no servo at {position} to take off.\n"


def test_what_is_not_there_is_named_with_what_is(place: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, position, _ = fitted(place)
    for words, wording in (
        (["fit", place, "--aircraft", "NONE", "--position", "X", "--servo", "1"], 'no aircraft "NONE"'),
        (["fit", place, "--aircraft", code, "--position", "NONE", "--servo", "1"], f"{position}"),
        (["fit", place, "--aircraft", code, "--position", position, "--servo", "NONE"], "NONE"),
        (["log", place, "--aircraft", code, "--minutes", "5", "--pack", "NONE"], 'no pack "NONE"'),
        (["log", place, "--aircraft", code, "--minutes", "-5", "--although-held", "x"], "-5"),
        (["carry-out", place, "--plan", "NONE"], 'no plan "NONE"'),
        (["fit", DEMO, "--aircraft", code, "--position", position, "--servo", "1"], "not a fleet file"),
    ):
        assert main(words) == 2
        sentence = capsys.readouterr().err
        assert wording in sentence
        assert sentence.startswith("hangar: ")
        assert sentence.count("\n") == 1


def test_a_flight_of_a_held_aircraft_needs_a_reason_that_is_kept(
    place: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code = fitted(place)[0]
    hold = {"state": AircraftState.HELD, "state_reason": "spar cracked"}
    with Fleet.open(place) as fleet:
        fleet.edit("Hold", lambda edit: edit.change(Airframe, (code,), **hold))
        before = len(fleet.records(Flight, aircraft=code))
    words = ["log", place, "--aircraft", code, "--minutes", "7.5"]
    assert main(words) == 2
    refused = capsys.readouterr().err
    assert "must not fly: held: spar cracked" in refused
    assert refused.endswith("Give --although-held REASON to log it all the same.\n")
    assert main([*words, "--although-held", "hop on the test stand", "--remarks", "calm"]) == 0
    with Fleet.open(place, read_only=True) as fleet:
        flights = fleet.records(Flight, aircraft=code)
        assert len(flights) == before + 1
        made = max(flights, key=lambda flight: (flight.flown_on, flight.number))
        assert made.minutes_min == 7.5
        assert made.remarks is not None
        remarks = str(said_in(made.remarks))
        assert remarks.startswith("Logged while not released: held: spar cracked")
        assert remarks.endswith("calm hop on the test stand")


def test_the_open_lines_of_a_plan_are_carried_out(place: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, position, _ = fitted(place)
    servo = spare(place)
    line = PlanLine(
        plan="P1", number=1, action=PlanAction.FIT_SERVO, place=position,
        part_type=servo.servo_type, from_stock=servo.tag,
    )  # fmt: skip
    arm = PlanLine(plan="P1", number=2, action=PlanAction.CHANGE_ARM, place=position, arm_mm=9.0)
    plan = Plan(code="P1", aircraft=code, title="Stronger", lines=(line, arm))
    with Fleet.open(place) as fleet:
        fleet.edit("Begin", lambda edit: edit.put(plan))
    assert main(["carry-out", place, "--plan", "P1"]) == 2
    assert "move it to Fitting first" in capsys.readouterr().err
    with Fleet.open(place) as fleet:
        fleet.edit("Move", lambda edit: edit.change(Plan, ("P1",), state=PlanState.FITTING))
    assert main(["carry-out", place, "--plan", "P1", "--line", "3"]) == 2
    assert "no line 3; its lines: 1, 2" in capsys.readouterr().err
    assert main(["carry-out", place, "--plan", "P1", "--line", "1"]) == 0
    assert main(["carry-out", place, "--plan", "P1"]) == 0
    assert capsys.readouterr().out.count("Fit: ") == 2
    with Fleet.open(place, read_only=True) as fleet:
        whole = fleet.aircraft(code)
        fit = whole.fit(position)
        assert fit is not None
        assert fit.tag == servo.tag
        assert fit.linkage is not None
        assert fit.linkage.arm_mm == 9.0
        assert all(plan_line.done_on for plan_line in fleet.records(PlanLine, plan="P1"))
    assert main(["carry-out", place, "--plan", "P1"]) == 2
    assert "has no open line" in capsys.readouterr().err
