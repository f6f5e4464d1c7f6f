"""Try-out: knobs change a copy, answers come at once, the aircraft is never touched."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.answers.trials import Trial, knobs_of, plan_lines, tried
from hangar.base.units import IMPERIAL
from hangar.parts import Airframe, Linkage, Plan, Regulator, RegulatorType
from hangar.parts.choices import PlanAction, RegulatorKind
from hangar.parts.power import Feed
from hangar.store import Edit
from hangar.survey.surveying import survey
from hangar.window.comparing.knob_row import TrialRow
from hangar.window.comparing.try_out import TryOut
from hangar.window.kit.desk import Desk
from tests.window.conftest import CODE


@pytest.fixture
def room(desk: Desk, qtbot: QtBot) -> Iterator[TryOut]:
    made = TryOut(desk)
    qtbot.addWidget(made)
    made.resize(1100, 700)
    made.show()
    made.show_place(CODE, "RUD")
    settle(made, qtbot)
    yield made
    settle(made, qtbot)
    made.close()


def settle(room: TryOut, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not room.is_asking)


def turn(room: TryOut, qtbot: QtBot, **values: float) -> None:
    for name, value in values.items():
        room.rows[name].set(value)
    settle(room, qtbot)


def row(room: TryOut, name: str) -> TrialRow:
    trial_row: TrialRow = next(one for one in room.table.rows_model.rows if one.name == name)
    return trial_row


def tried_value(room: TryOut, name: str) -> float:
    figure = row(room, name).tried
    assert figure is not None
    return figure.expected


def today_value(room: TryOut, name: str) -> float:
    figure = row(room, name).today
    assert figure is not None
    return figure.expected


def _fit_regulator(edit: Edit) -> None:
    edit.put(
        RegulatorType(
            code="R-A", regulator=RegulatorKind.LINEAR, drop_out_v=0.3, continuous_a=5,
            output_min_v=4.8, output_max_v=6.0,
        )
    )  # fmt: skip
    edit.put(Regulator(aircraft=CODE, code="REG", regulator_type="R-A", set_v=5.4))
    edit.change(Feed, (CODE, "RX-A"), regulator="REG")


def test_untouched_knobs_give_todays_figures(room: TryOut) -> None:
    rows = room.table.rows_model.rows
    assert rows
    assert all(one.change in (None, 0.0) for one in rows)
    assert room.answer is not None
    assert "Goes" not in room.difference.toPlainText()
    assert "New" not in room.difference.toPlainText()
    assert room.verdict.more.text() == "Nothing is turned yet."
    worst = min(finding.level.rank for finding in room.answer.judgement.open_findings)
    assert room.verdict.level is not None
    assert room.verdict.level.rank == worst
    assert not room.keep_button.isEnabled()
    assert not room.reset_button.isEnabled()


def test_a_shorter_arm_lightens_the_load_and_never_reaches_the_file(
    room: TryOut, desk: Desk, qtbot: QtBot
) -> None:
    before = desk.fleet.aircraft(CODE, today=desk.today)
    turn(room, qtbot, arm_mm=7.0)
    # Virtual work on a rod that stays level: the load goes with the arm's lever, which is what Pythagoras
    # leaves of the arm when its end has moved as far as the horn's (16 mm, 20 deg).
    moved_mm = 16 * math.sin(math.radians(20))
    levers = [math.sqrt(arm_mm**2 - moved_mm**2) for arm_mm in (7.0, 14.0)]
    share = tried_value(room, "load_nm") / today_value(room, "load_nm")
    assert share == pytest.approx(levers[0] / levers[1], rel=0.03)
    assert tried_value(room, "torque_share") < today_value(room, "torque_share")
    assert desk.fleet.aircraft(CODE, today=desk.today) == before
    assert str(desk.undo_label) == "Enter the fleet"


def test_the_load_grows_with_the_square_of_the_speed(room: TryOut, qtbot: QtBot) -> None:
    turn(room, qtbot, speed=17.5)
    assert tried_value(room, "load_nm") / today_value(room, "load_nm") == pytest.approx(0.25, rel=0.05)
    assert room.answer is not None
    assert room.answer.judgement.aircraft.airframe.dive_speed_m_s == pytest.approx(17.5)


def test_an_old_cold_pack_lets_the_bus_fall(room: TryOut, qtbot: QtBot) -> None:
    turn(room, qtbot, age=4.0)
    aged = tried_value(room, "bus_v")
    assert aged < today_value(room, "bus_v")
    turn(room, qtbot, temperature=-10.0)
    assert tried_value(room, "bus_v") < aged


def test_findings_that_come_and_go_are_told_in_words(room: TryOut, qtbot: QtBot) -> None:
    turn(room, qtbot, speed=10.0, throw=5.0)
    words = room.difference.toPlainText()
    assert "Goes" in words
    assert "warning" in words.lower()
    assert room.answer is not None
    levels = [finding.level.rank for finding in room.answer.judgement.open_findings]
    assert room.verdict.sentence.startswith("As tried: ")
    assert room.verdict.level is not None
    assert room.verdict.level.rank == min(levels)


def test_reset_brings_back_today(room: TryOut, qtbot: QtBot) -> None:
    turn(room, qtbot, arm_mm=9.0, awg=20.0)
    assert row(room, "load_nm").change
    QTest.mouseClick(room.reset_button, Qt.MouseButton.LeftButton)
    settle(room, qtbot)
    assert not any(knob_row.is_turned for knob_row in room.rows.values())
    assert row(room, "load_nm").change == 0.0


def test_what_a_plan_can_hold_is_kept_the_rest_is_named(room: TryOut, desk: Desk, qtbot: QtBot) -> None:
    turn(room, qtbot, arm_mm=10.0, awg=20.0, speed=20.0)
    assert "A plan cannot hold: Dive speed" in room.held_words.text()
    code = room.keep()
    plan = desk.fleet.record(Plan, code) if code else None
    assert plan is not None
    held = {(line.action, line.place, line.arm_mm, line.awg) for line in plan.lines}
    assert held == {
        (PlanAction.CHANGE_ARM, "RUD", 10.0, None),
        (PlanAction.CHANGE_LEAD, "RUD", None, 20),
    }
    assert "Dive speed" in (plan.purpose or "")
    settle(room, qtbot)
    assert room.rows["arm_mm"].value == 10.0
    desk.undo()
    assert desk.fleet.record(Plan, plan.code) is None


def test_what_no_plan_holds_cannot_be_kept(room: TryOut, qtbot: QtBot) -> None:
    turn(room, qtbot, temperature=0.0)
    assert not room.keep_button.isEnabled()
    assert room.keep() is None


def test_set_volts_become_a_plan_line(desk: Desk) -> None:
    desk.change("Fit a regulator", _fit_regulator)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    library = desk.basis().library
    fit = judgement.aircraft.fit("RUD")
    assert library is not None
    assert fit is not None
    knobs = knobs_of(judgement.survey, fit, library)
    volts = next(knob for knob in knobs if knob.name == "volts")
    assert (volts.low, volts.high, volts.today) == (4.8, 6.0, 5.4)
    (line,) = plan_lines(knobs, {"volts": 5.9})
    assert (line.action, line.place, line.set_v) == (PlanAction.SET_REGULATOR, "RX-A", 5.9)
    start = Trial(judgement.aircraft, judgement.survey.conditions)
    lifted = tried(start, knobs, {"volts": 5.9})
    assert survey(lifted.aircraft, lifted.conditions).supply.bus_full_v != judgement.survey.supply.bus_full_v
    assert tried(start, knobs, {}) == start


def test_another_pack_is_tried_through_the_library(room: TryOut, qtbot: QtBot) -> None:
    names = room.rows["pack"].knob.names
    turn(room, qtbot, pack=float(names.index("P-A")))
    assert room.answer is not None
    (path,) = room.answer.judgement.aircraft.paths
    assert path.packs[0].pack.tag == "new P-A"


def test_a_typed_value_may_carry_another_unit(room: TryOut, qtbot: QtBot) -> None:
    entry = room.rows["arm_mm"].entry
    entry.setText("0.5 in")
    QTest.keyClick(entry, Qt.Key.Key_Return)
    assert room.rows["arm_mm"].value == pytest.approx(12.7)
    entry.setText("a lot")
    QTest.keyClick(entry, Qt.Key.Key_Return)
    assert room.rows["arm_mm"].value == pytest.approx(12.7)
    assert entry.toolTip()
    settle(room, qtbot)


def test_arrow_keys_turn_a_knob(room: TryOut, qtbot: QtBot) -> None:
    slider = room.rows["arm_mm"].slider
    slider.setFocus()
    before = room.rows["arm_mm"].value
    QTest.keyClick(slider, Qt.Key.Key_Right)
    assert room.rows["arm_mm"].value > before
    settle(room, qtbot)


def test_only_the_newest_question_is_answered_after_a_burst(room: TryOut, qtbot: QtBot) -> None:
    for radius in (8.0, 9.0, 10.0, 11.0):
        room.rows["arm_mm"].set(radius)
    settle(room, qtbot)
    assert room.answer is not None
    fit = room.answer.judgement.aircraft.fit("RUD")
    assert fit is not None
    assert fit.linkage is not None
    assert fit.linkage.arm_mm == 11.0


def test_an_answer_to_another_position_is_dropped(room: TryOut, qtbot: QtBot) -> None:
    room.rows["arm_mm"].set(8.0)
    room.show_place(CODE, "AIL-L")
    settle(room, qtbot)
    assert not any(knob_row.is_turned for knob_row in room.rows.values())
    assert all(one.change in (None, 0.0) for one in room.table.rows_model.rows)


def test_an_edit_elsewhere_becomes_todays_value_and_the_trial_stays(
    room: TryOut, desk: Desk, qtbot: QtBot
) -> None:
    turn(room, qtbot, awg=20.0)
    desk.change("Arm", lambda edit: edit.change(Linkage, (CODE, "RUD"), arm_mm=11.0))
    settle(room, qtbot)
    assert room.rows["arm_mm"].knob.today == 11.0
    assert room.rows["awg"].value == 20.0


def test_an_aircraft_without_positions_says_so(room: TryOut, desk: Desk, qtbot: QtBot) -> None:
    room.show_place("WREN", "")
    settle(room, qtbot)
    assert room.table.rows_model.rows == ()
    assert "Choose" in room.crossing.text()
    desk.change("Remove", lambda edit: edit.remove(Airframe, ("WREN",)))
    settle(room, qtbot)
    assert room.place.code == CODE


def test_the_picture_tells_the_limit_speed_in_words_and_units(room: TryOut, desk: Desk, qtbot: QtBot) -> None:
    assert room.answer is not None
    assert room.answer.curve is not None
    limit = room.answer.curve.limit_m_s
    assert limit is not None
    assert desk.view.units.show(limit, "m/s") in room.picture.accessibleDescription()
    desk.view.use_units(IMPERIAL)
    settle(room, qtbot)
    assert "mph" in room.picture.accessibleDescription()
    assert "mph" in room.rows["speed"].entry.text()


def test_the_table_keeps_the_model_contract_and_answers_how(room: TryOut, desk: Desk, qtbot: QtBot) -> None:
    tester = QAbstractItemModelTester(
        room.table.rows_model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    turn(room, qtbot, arm_mm=9.0)
    room.table.setCurrentIndex(room.table.cell("load_nm", "Tried"))
    with qtbot.waitSignal(desk.how_asked):
        room.table.ask_how()
    tester.deleteLater()


def test_every_knob_has_a_name(room: TryOut) -> None:
    for knob_row in room.rows.values():
        for widget in (knob_row.slider, knob_row.entry, knob_row.list):
            assert widget.accessibleName() == str(knob_row.knob.title)
