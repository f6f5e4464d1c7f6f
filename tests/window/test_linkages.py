"""The Linkages page: the drawing turns as the physics says, zones and throws are told, edits are stored."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.answers.linkages import LinkageStudy, linkage_studies
from hangar.parts import Linkage, Surface
from hangar.physics.linkage_sweep import BindState
from hangar.rules.finding import Level
from hangar.store import Edit
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.looks import LOOKS
from hangar.window.linkages.linkage_view import SWING_S
from hangar.window.linkages.linkages_page import LinkagesPage, standing_words, trouble_words
from tests.window.conftest import CODE


class Hand:
    """A clock turned by hand."""

    def __init__(self) -> None:
        self.seconds = 100.0

    def __call__(self) -> float:
        return self.seconds


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def page(desk: Desk, hand: Hand, qtbot: QtBot) -> Iterator[LinkagesPage]:
    made = LinkagesPage(desk, hand)
    qtbot.addWidget(made)
    made.resize(1100, 700)
    show(made, desk)
    made.show()
    yield made
    made.close()


def show(page: LinkagesPage, desk: Desk) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    page.show_judgement(judgement)


def study_of(desk: Desk, code: str) -> LinkageStudy:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    return next(
        study for study in linkage_studies(judgement.aircraft, judgement.survey) if study.code == code
    )


def change(desk: Desk, **values: object) -> None:
    desk.change("Change", lambda edit: edit.change(Linkage, (CODE, "RUD"), **values))


def test_the_drawing_turns_as_far_as_the_survey_says(desk: Desk) -> None:
    # Two ways to the same number: the survey drives the linkage from its horn, the drawing from its arm.
    change(desk, arm_mm=12, horn_mm=17, arm_angle_deg=105, rod_length_mm=70)
    study = study_of(desk, "RUD")
    assert study.drive is not None
    assert study.link is not None
    for deflection in (-20.0, -7.0, 12.0, 20.0):
        travel = study.drive.at(deflection).travel_deg
        assert study.link.deflection_deg(travel) == pytest.approx(deflection, abs=1e-6)


def test_a_parallel_linkage_has_the_ratio_of_its_radii(desk: Desk) -> None:
    study = study_of(desk, "RUD")
    assert study.ratio is not None
    assert study.ratio.expected == pytest.approx(14 / 16)
    assert study.level is None


def test_an_arm_that_goes_past_the_line_of_the_rod_shows_where(desk: Desk) -> None:
    change(desk, servo_travel_deg=110, horn_mm=40)
    zones = study_of(desk, "RUD").zones
    states = [zone.state for zone in zones]
    assert BindState.SERVO_DEAD_CENTRE in states
    dead = next(zone for zone in zones if zone.state is BindState.SERVO_DEAD_CENTRE and zone.low_deg > 0)
    # Arm and rod stand in line a little off a quarter turn, for the rod is tilted by then.
    assert dead.low_deg < 90 < dead.high_deg + 10
    assert "dead centre of the servo" in str(dead.name)
    assert dead.level is Level.WARNING


def test_a_rod_that_cannot_follow_binds(desk: Desk) -> None:
    change(desk, arm_mm=30, horn_mm=12, rod_length_mm=60)
    study = study_of(desk, "RUD")
    bound = [zone for zone in study.zones if zone.state is BindState.HARD_BIND]
    assert bound
    assert study.high_deg < study.limit_deg
    # A horn of 12 mm takes up at most its own length each way, of an arm of 30 mm: asin(12 / 30) = 24 deg.
    assert study.high_deg < 2 * math.degrees(math.asin(12 / 30))


def test_a_throw_out_of_reach_is_a_caution_in_words(desk: Desk) -> None:
    def work(edit: Edit) -> None:
        edit.change(Linkage, (CODE, "RUD"), servo_travel_deg=20)
        edit.change(Surface, (CODE, "RUD-S"), throw_up_deg=30.0)

    desk.change("Short", work)
    study = study_of(desk, "RUD")
    up = study.throws[0]
    assert up.is_short
    assert up.wanted_deg == 30.0
    assert study.level is Level.CAUTION
    assert "30.0° is wanted" in trouble_words(study)


def test_what_is_not_recorded_is_named_instead_of_drawn(desk: Desk, page: LinkagesPage) -> None:
    page.table.choose_row("THR")
    assert page.study is not None
    assert page.study.link is None
    assert "not recorded" in str(page.study.why)
    assert "not recorded" in page.words.toPlainText()
    assert not page.play_button.isEnabled()


def test_arrow_keys_move_the_arm_and_stop_at_the_ends(page: LinkagesPage) -> None:
    page.table.choose_row("RUD")
    page.drawing.setFocus()
    QTest.keyClick(page.drawing, Qt.Key.Key_Up)
    assert page.drawing.travel_deg == 1.0
    QTest.keyClick(page.drawing, Qt.Key.Key_PageDown)
    assert page.drawing.travel_deg == -9.0
    QTest.keyClick(page.drawing, Qt.Key.Key_End)
    QTest.keyClick(page.drawing, Qt.Key.Key_PageUp)
    assert page.drawing.travel_deg == pytest.approx(60.0)
    QTest.keyClick(page.drawing, Qt.Key.Key_0)
    assert page.drawing.travel_deg == 0.0


def test_the_arm_follows_the_mouse(page: LinkagesPage) -> None:
    page.table.choose_row("RUD")
    frame = page.drawing.frame()
    assert frame is not None
    top = frame.at((0.0, 14.0)).toPoint()
    left = frame.at((-14.0 * math.sin(math.radians(30)), 14.0 * math.cos(math.radians(30)))).toPoint()
    QTest.mousePress(page.drawing, Qt.MouseButton.LeftButton, pos=top)
    QTest.mouseMove(page.drawing, left)
    QTest.mouseRelease(page.drawing, Qt.MouseButton.LeftButton, pos=left)
    assert page.drawing.travel_deg == pytest.approx(30.0, abs=1.5)
    before = page.drawing.travel_deg
    QTest.mouseMove(page.drawing, top + QPoint(40, 0))
    assert page.drawing.travel_deg == before


def test_slider_drawing_plot_and_words_tell_the_same_travel(page: LinkagesPage) -> None:
    page.table.choose_row("RUD")
    page.travel.setValue(250)
    assert page.drawing.travel_deg == 25.0
    assert "+25.0°" in page.words.toPlainText()
    page.plot.travel_asked.emit(-12.0)
    assert page.travel.value() == -120


def test_playing_swings_by_the_clock_and_stops_when_hidden(page: LinkagesPage, hand: Hand) -> None:
    page.table.choose_row("RUD")
    page.play_button.click()
    assert page.drawing.playing
    assert page.play_button.text() == "&Pause"
    hand.seconds += SWING_S / 4
    page.drawing.clock.tick()
    assert page.drawing.travel_deg == pytest.approx(60.0)
    hand.seconds += SWING_S / 2
    page.drawing.clock.tick()
    assert page.drawing.travel_deg == pytest.approx(-60.0)
    page.hide()
    assert not page.drawing.playing
    assert page.play_button.text() == "&Play"


def test_an_edit_in_the_table_is_stored_in_any_unit_and_redraws(page: LinkagesPage, desk: Desk) -> None:
    page.table.choose_row("RUD")
    cell = page.table.cell("RUD", "Servo arm radius")
    assert page.table.model().setData(cell, "0.5 in")
    kept = desk.fleet.record(Linkage, CODE, "RUD")
    assert kept is not None
    assert kept.arm_mm == pytest.approx(12.7)
    show(page, desk)
    assert page.study is not None
    assert page.study.link is not None
    assert page.study.link.arm_mm == pytest.approx(12.7)


def test_a_removed_linkage_comes_back_with_undo(page: LinkagesPage, desk: Desk) -> None:
    page.table.choose_row("RUD")
    page.remove_button.click()
    assert desk.fleet.record(Linkage, CODE, "RUD") is None
    desk.undo()
    assert desk.fleet.record(Linkage, CODE, "RUD") is not None


def test_ratio_and_throw_answer_how(page: LinkagesPage, desk: Desk, qtbot: QtBot) -> None:
    for heading in ("Ratio at neutral", "Throw up, reached", "Least rod angle"):
        page.table.setCurrentIndex(page.table.cell("RUD", heading))
        with qtbot.waitSignal(desk.how_asked):
            page.table.ask_how()


def test_words_keep_their_contrast_and_name_the_ratios(desk: Desk, page: LinkagesPage) -> None:
    for name in LOOKS:
        desk.view.choose_colours(name)
        words = standing_words(study_of(desk, "RUD"), 10.0, desk.view)
        assert "Velocity ratio" in words
        assert "Torque ratio" in words
        assert LOOKS[name].soft in words


def test_the_table_keeps_the_model_contract(page: LinkagesPage, desk: Desk) -> None:
    tester = QAbstractItemModelTester(
        page.table.rows_model, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    change(desk, arm_mm=9)
    show(page, desk)
    desk.view.choose_points(14)
    tester.deleteLater()


def test_everything_that_takes_the_focus_has_a_name(page: LinkagesPage) -> None:
    for widget in (page.table, page.drawing, page.travel, page.plot, page.words):
        assert widget.accessibleName()
    assert "servo travel" in page.drawing.accessibleDescription()


def test_the_lead_of_a_position_stands_in_its_row(page: LinkagesPage, desk: Desk) -> None:
    row = next(study for study in page.table.rows_model.rows if study.fit.lead is not None)
    lead = row.fit.lead
    assert lead is not None
    shown = page.table.cell(row.code, "Lead").data()
    assert f"{lead.length_mm:g} mm" in shown
    drop = row.survey.lead_drop_v if row.survey else None
    loses = page.table.cell(row.code, "Lead loses").data()
    assert drop is not None
    assert loses == figure_text(drop, desk.view.units)
