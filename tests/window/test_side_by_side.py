"""Side by Side: the comparison is the survey's, the race follows the clock, the choice becomes a plan."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QSlider
from pytestqt.qtbot import QtBot

from hangar.answers.race import Racer, result_words
from hangar.base.figure import Figure
from hangar.base.text import text
from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts import Plan, Servo, ServoRating, ServoType
from hangar.parts.choices import PlanAction
from hangar.physics.servo_motion import TYPICAL_TIME_CONSTANT_S, step_time_s
from hangar.rules.finding import Level
from hangar.survey.model import Conditions
from hangar.survey.old_and_new import ComparedFigure, compare
from hangar.window.comparing.comparison_bars import change_words, verdict
from hangar.window.comparing.race_view import LINGER_S
from hangar.window.comparing.side_by_side import SideBySide
from hangar.window.kit.desk import Desk
from tests.window.conftest import CODE, TODAY, servo_type


class Hand:
    """A clock turned by hand."""

    def __init__(self) -> None:
        self.seconds = 7.0

    def __call__(self) -> float:
        return self.seconds


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def room(desk: Desk, hand: Hand, qtbot: QtBot) -> Iterator[SideBySide]:
    made = SideBySide(desk, hand)
    qtbot.addWidget(made)
    made.resize(1100, 700)
    made.show()
    made.show_place(CODE, "RUD")
    yield made
    made.close()


def choose(room: SideBySide, code: str) -> None:
    codes = [room.servo_box.itemData(at)[1] for at in range(room.servo_box.count())]
    room.servo_box.setCurrentIndex(codes.index(code))
    room.compare()


def compared(old: float | None, new: float | None, better: bool | None) -> ComparedFigure:
    figures = [None if value is None else Figure(text("mass"), value, "g") for value in (old, new)]
    return ComparedFigure(text("mass"), "g", figures[0], figures[1], better)


def test_the_table_shows_what_the_survey_compares(room: SideBySide, desk: Desk) -> None:
    choose(room, "TS-A")
    aircraft = desk.aircraft(CODE)
    kind = desk.basis().library
    assert kind is not None
    expected = compare(aircraft, "RUD", kind.servo_types["TS-A"], Conditions(today=TODAY))
    shown = {str(row.name): row for row in room.table.rows_model.rows}
    for figure in expected.figures:
        assert shown[str(figure.name)] == figure
    assert "deflection held in the air" in shown


def test_the_bars_leave_out_nothing_that_is_known(room: SideBySide) -> None:
    choose(room, "TS-A")
    barred = {str(figure.name) for figure in room.bars.figures}
    assert {"torque", "time for 60°", "current stalled", "bus volts in the peak"} <= barred
    assert "Torque: old" in room.bars.accessibleDescription()


@pytest.mark.parametrize(
    ("old", "new", "better", "word", "change"),
    [
        (10.0, 12.0, False, "worse", "▲ 2 g (+20%)"),
        (12.0, 9.0, False, "better", "▼ 3 g (-25%)"),
        (10.0, 12.0, True, "better", "▲ 2 g (+20%)"),
        (10.0, 10.0, True, "the same", "="),
        (10.0, 12.0, None, "other", "▲ 2 g (+20%)"),
        (None, 12.0, True, "not known", "—"),
    ],
)
def test_each_change_has_its_word(
    desk: Desk, old: float | None, new: float | None, better: bool | None, word: str, change: str
) -> None:
    figure = compared(old, new, better)
    assert verdict(figure) == word
    assert change_words(figure, desk.view.units) == change


def test_spares_stand_before_new_servos(room: SideBySide) -> None:
    kinds = [room.servo_box.itemData(at)[0] for at in range(room.servo_box.count())]
    assert kinds == sorted(kinds)
    assert kinds.count("spare") == 2


def test_the_race_takes_as_long_as_the_dynamic_model_says() -> None:
    kind = servo_type("TS-X", 0.9)
    racer = Racer.of("TS-X", kind, 6.0, 0.3, 60.0)
    no_load = math.pi / 3 / 0.15
    expected = step_time_s(
        stall_torque_nm=0.9,
        no_load_rad_s=no_load,
        inertia_kg_m2=TYPICAL_TIME_CONSTANT_S * 0.9 / no_load,
        load_torque_nm=0.3,
        angle_deg=60.0,
    )
    assert racer.arrives_s == pytest.approx(expected)


def test_the_result_is_told_in_words_and_numbers() -> None:
    strong = Racer.of("strong", servo_type("S", 0.9), 6.0, 0.3, 60.0)
    weak = Racer.of("weak", servo_type("W", 0.4), 6.0, 0.3, 60.0)
    words = str(result_words(weak, strong))
    assert words.startswith(f"strong is there after {strong.arrives_s:.3f} s.")
    assert f"weak needs {weak.arrives_s:.3f} s" in words
    stalled = Racer.of("tiny", servo_type("T", 0.1), 6.0, 0.3, 60.0)
    assert "tiny never arrives" in str(result_words(stalled, strong))
    assert "33 % of it" in str(result_words(stalled, strong))
    assert str(result_words(stalled, stalled)) == "Neither arrives: this load stalls both."
    unknown = Racer.of("bare", ServoType(code="B", drive=servo_type("T", 1).drive), 6.0, 0.3, 60.0)
    assert "ratings are not known" in str(result_words(unknown, strong))


def test_the_arms_stand_where_the_clock_says(room: SideBySide, hand: Hand) -> None:
    choose(room, "TS-A")
    race = room.panel.race
    assert race.racers is not None
    room.panel.start_button.click()
    assert race.running
    hand.seconds += 0.05
    race.clock.tick()
    assert race.angles_deg() == pytest.approx([racer.angle_deg(0.05) for racer in race.racers])
    assert 0.0 < race.angles_deg()[1] < 60.0


def test_the_race_ends_by_itself_and_when_the_room_is_left(room: SideBySide, hand: Hand) -> None:
    choose(room, "TS-A")
    room.panel.load.setValue(0)
    race = room.panel.race
    assert race.racers is not None
    room.panel.start_button.click()
    hand.seconds += max(racer.arrives_s for racer in race.racers) + LINGER_S + 0.01
    race.clock.tick()
    assert not race.running
    assert race.angles_deg() == (60.0, 60.0)
    room.panel.start_button.click()
    room.hide()
    assert not race.running


def test_slow_motion_stretches_the_time(room: SideBySide, hand: Hand) -> None:
    choose(room, "TS-A")
    room.panel.slower.setCurrentIndex(room.panel.slower.findData(20))
    room.panel.start_button.click()
    hand.seconds += 1.0
    room.panel.race.clock.tick()
    assert room.panel.race.passed_s == pytest.approx(0.05)


def test_each_runs_at_its_true_volts_until_the_keeper_sets_them(room: SideBySide) -> None:
    choose(room, "TS-A")
    assert room.comparison is not None
    true = [survey.positions["RUD"].delivered_v for survey in (room.comparison.before, room.comparison.after)]
    race = room.panel.race
    assert race.racers is not None
    assert [racer.volts for racer in race.racers] == [figure.expected for figure in true if figure]
    assert not room.panel.volts.isEnabled()
    room.panel.true_volts.click()
    room.panel.volts.setValue(round(5.0 * 20))
    assert [racer.volts for racer in race.racers or ()] == [5.0, 5.0]


def test_the_race_starts_with_the_load_of_the_position(room: SideBySide) -> None:
    choose(room, "TS-A")
    assert room.comparison is not None
    load = room.comparison.before.positions["RUD"].load_nm
    assert load is not None
    assert room.panel.load_nm == load.expected


def test_volts_outside_the_rating_are_told(room: SideBySide) -> None:
    choose(room, "TS-A")
    assert room.comparison is not None
    volts = room.comparison.after.positions["RUD"].delivered_v
    assert volts is not None
    # Its only rated row is at 6 V.
    assert volts.expected > 6.0
    assert f"TS-A is fed {volts.expected:.2f} V, above the highest rated volts" in room.remarks.text()


def test_more_load_takes_longer(room: SideBySide) -> None:
    choose(room, "TS-A")
    race, load = room.panel.race, room.panel.load
    load.setValue(0)
    light = [racer.arrives_s for racer in race.racers or ()]
    load.setValue(100)
    heavy = [racer.arrives_s for racer in race.racers or ()]
    assert all(more > less for more, less in zip(heavy, light, strict=True))
    assert "N·m" in room.panel.load_words.text()


def test_the_new_servo_is_kept_as_a_plan_and_undone(room: SideBySide, desk: Desk) -> None:
    choose(room, "TS-A")
    code = room.keep()
    assert code is not None
    plan = desk.fleet.record(Plan, code)
    assert plan is not None
    assert plan.aircraft == CODE
    (line,) = plan.lines
    assert (line.action, line.place, line.part_type) == (PlanAction.FIT_SERVO, "RUD", "TS-A")
    assert room.keep() != code
    desk.undo()
    desk.undo()
    assert desk.fleet.record(Plan, code) is None


def test_a_spare_goes_into_the_plan_with_its_tag(room: SideBySide, desk: Desk) -> None:
    desk.change("Measure", lambda edit: edit.change(Servo, ("S-003",), idle_ma=99.0))
    choose(room, "S-003")
    idle = next(row for row in room.table.rows_model.rows if str(row.name) == "current at rest")
    assert idle.new is not None
    assert idle.new.expected == pytest.approx(0.099)
    code = room.keep()
    plan = desk.fleet.record(Plan, code) if code else None
    assert plan is not None
    assert plan.lines[0].from_stock == "S-003"


def test_a_position_without_a_servo_still_answers(room: SideBySide) -> None:
    room.show_place(CODE, "THR")
    assert room.comparison is not None
    assert room.comparison.old_type is None
    room.show_place("WREN", "")
    assert room.comparison is None
    assert not room.keep_button.isEnabled()


def test_an_edit_elsewhere_is_taken_up(room: SideBySide, desk: Desk) -> None:
    choose(room, "TS-A")
    desk.change("Price", lambda edit: edit.change(ServoType, ("TS-A",), price=31.0))
    price = next(row for row in room.table.rows_model.rows if str(row.name) == "price")
    assert price.new is not None
    assert price.new.expected == 31.0


def test_numbers_answer_how_and_follow_the_units(room: SideBySide, desk: Desk, qtbot: QtBot) -> None:
    choose(room, "TS-A")
    room.table.setCurrentIndex(room.table.cell("torque", "New"))
    with qtbot.waitSignal(desk.how_asked):
        room.table.ask_how()
    desk.view.use_units(IMPERIAL)
    assert "ozf" in room.table.cell("torque", "New").data()
    assert "ozf" in room.bars.accessibleDescription()


def test_the_table_keeps_the_model_contract(room: SideBySide) -> None:
    tester = QAbstractItemModelTester(
        room.table.rows_model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    choose(room, "TS-A")
    room.show_place(CODE, "AIL-L")
    tester.deleteLater()


def test_everything_that_takes_the_focus_has_a_name(room: SideBySide) -> None:
    named = (room.place.aircraft_box, room.place.position_box, room.servo_box, room.table, room.panel.race)
    for widget in (*named, *room.findChildren(QSlider)):
        assert widget.accessibleName()


def test_a_servo_that_pulls_the_bus_down_is_not_called_better() -> None:
    from hangar.window.comparing.comparison_bars import failing_words
    from tests.sheets.cases import demo_case

    case = demo_case("ALB5")
    comparison = compare(case.aircraft, "RUD", case.library.servo_types["MK-G40"], case.survey.conditions)
    why = "at peak current the bus falls to 2.3 V; receiver RX works down to 3.5 V."
    assert failing_words(comparison, SI_TRADE).startswith(f"Do not fit it: {why}")
    (bus,) = (row for row in comparison.figures if str(row.name) == "bus volts in the peak")
    assert verdict(bus) == "worse"
    assert change_words(bus, SI_TRADE) == "▼ 2.81 V (-55%)"


def test_the_page_opens_with_the_worst_consequence(room: SideBySide, desk: Desk) -> None:
    weak = ServoRating(servo_type="TS-W", rated_v=6.0, torque_nm=0.05, transit_s=0.2, stall_a=0.2)
    desk.edit("Weak", lambda edit: edit.put(replace(servo_type("TS-W", 0.05), ratings=(weak,))))
    room.show_place(CODE, "RUD")
    choose(room, "TS-W")
    outcome = room.outcome
    assert outcome is not None
    levels = [finding.level.rank for finding in outcome.after.about("RUD")]
    assert room.verdict.level is not None
    assert room.verdict.level.rank == min(levels)
    gravest = {
        str(finding.consequence) for finding in outcome.after.findings if finding.level.rank == min(levels)
    }
    assert room.verdict.sentence.split(": ", 1)[1] in gravest
    assert room.verdict.more.text().startswith("Goes: ")
    # The verdict, the picture, the numbers stand in this order.
    tops = [room.verdict.geometry().top(), room.panel.mapTo(room, room.panel.rect().topLeft()).y()]
    assert tops == sorted(tops)
    assert (
        room.panel.mapTo(room, room.panel.rect().topLeft()).x()
        < room.table.mapTo(room, room.table.rect().topLeft()).x()
    )
    assert Level.WARNING in {room._level_of(row.new, True) for row in room.table.rows_model.rows}


def test_what_is_not_known_of_a_servo_is_never_better(room: SideBySide, desk: Desk) -> None:
    desk.edit("Bare", lambda edit: edit.put(ServoType(code="TS-U", drive=servo_type("T", 1).drive)))
    room.show_place(CODE, "RUD")
    choose(room, "TS-U")
    assert room.verdict.level in (Level.WARNING, Level.CANT_TELL)
    assert room.verdict.level is Level.WARNING or "Can't tell how TS-U" in room.verdict.sentence


def test_every_number_names_its_case(room: SideBySide) -> None:
    choose(room, "TS-A")
    cases = {str(row.name): str(row.case) for row in room.table.rows_model.rows}
    assert room.comparison is not None
    control = room.comparison.before.positions["RUD"].control
    least = min(control, key=lambda point: point.left)
    assert f"{least.speed_m_s:.3g} m/s" in cases["control left"]
    assert cases["volts at the servo"] == "at peak current"
    assert all(case for name, case in cases.items() if name not in ("mass", "price", "balance"))
