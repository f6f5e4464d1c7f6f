"""The Linkages page: the drawing turns as the physics says, zones and throws are told, edits are stored."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.answers.judging import Judgement
from hangar.answers.linkages import LinkageStudy, linkage_studies
from hangar.parts import Arm, Lead, Linkage, ServoType, Surface
from hangar.parts.protection import lead_cuts
from hangar.physics.linkage_sweep import BindState
from hangar.rules.finding import Level
from hangar.store import Edit
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.looks import LOOKS
from hangar.window.kit.words import put
from hangar.window.linkages.cut_list import CutList
from hangar.window.linkages.linkage_rows import open_of_linkages
from hangar.window.linkages.linkage_view import SWING_S
from hangar.window.linkages.linkage_words import standing_words, trouble_words
from hangar.window.linkages.linkages_page import LinkagesPage
from hangar.window.linkages.tip_drag import nearest_radius
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


def judged(desk: Desk) -> Judgement:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    return judgement


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
    page.neutral_button.click()
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
    page.neutral_button.click()
    frame = page.drawing.frame()
    assert frame is not None
    top = frame.at((0.0, 7.0)).toPoint()
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
    page.neutral_button.click()
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
    cell = page.table.cell("RUD", "Arm")
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


def test_linkage_and_lead_of_a_position_stand_in_one_row(page: LinkagesPage, desk: Desk) -> None:
    assert [row.code for row in page.table.rows_model.rows] == ["AIL-L", "RUD", "THR"]
    assert page.table.cell("THR", "Lead").data() == "—"
    assert page.table.cell("AIL-L", "Lead").data() == "300 mm"
    row = page.table.rows_model.rows[0]
    drop = row.survey.lead_drop_v
    assert page.table.cell("AIL-L", "Lead loses").data() == figure_text(drop, desk.view.units)
    current, resistance = row.survey.lead_current_a, row.survey.lead_ohm
    assert drop.expected == pytest.approx(current.expected * resistance.expected, rel=0.02)


def test_a_thicker_gauge_typed_in_the_row_drops_less(page: LinkagesPage, desk: Desk) -> None:
    def drop() -> float:
        show(page, desk)
        return float(page.table.rows_model.rows[0].survey.lead_drop_v.expected)

    before = drop()
    assert page.table.model().setData(page.table.cell("AIL-L", "Gauge"), "20")
    lead = desk.fleet.record(Lead, CODE, "AIL-L")
    assert lead is not None
    assert lead.awg == 20
    assert drop() < before / 2
    desk.undo()
    assert drop() == pytest.approx(before)


def test_a_removed_lead_comes_back_with_undo(page: LinkagesPage, desk: Desk) -> None:
    page.table.choose_row("AIL-L")
    page.remove_lead_button.click()
    assert desk.fleet.record(Lead, CODE, "AIL-L") is None
    desk.undo()
    assert desk.fleet.record(Lead, CODE, "AIL-L") is not None


def verdict_level(page: LinkagesPage) -> Level | None:
    return page.verdict.level


def test_the_verdict_names_the_worst_of_linkages_and_leads(page: LinkagesPage, desk: Desk) -> None:
    desk.change("Thin", lambda edit: edit.change(Lead, (CODE, "AIL-L"), length_mm=6000, awg=28))
    show(page, desk)
    findings = open_of_linkages(judged(desk))
    assert verdict_level(page) in (Level.WARNING, Level.CAUTION)
    assert page.verdict.level is min((finding.level for finding in findings), key=lambda level: level.rank)
    worst = {
        put(finding.consequence or finding.message)
        for finding in findings
        if finding.level is page.verdict.level
    }
    assert page.verdict.sentence in worst

    def bare(edit: Edit) -> None:
        for kind in (Linkage, Lead):
            for code in ("AIL-L", "RUD"):
                edit.remove(kind, (CODE, code))

    desk.change("Bare", bare)
    show(page, desk)
    assert verdict_level(page) is Level.CANT_TELL
    assert "Type arm, horn and rod" in page.verdict.more.text()


def opened_cut_list(page: LinkagesPage) -> CutList:
    page.cut_button.click()
    assert page.cut_list is not None
    assert page.cut_list.isVisible()
    assert not page.drawing.isVisible()
    return page.cut_list


def test_the_cut_list_is_the_printed_one(page: LinkagesPage, desk: Desk) -> None:
    cut_list = opened_cut_list(page)
    assert cut_list.cuts.rows_model.rows == lead_cuts(judged(desk).aircraft)
    # Common practice in the table of rules: 300 + 30 + 20 + 2 % = 356, next size sold 400.
    assert cut_list.cuts.cell("AIL-L", "With slack").data() == "356 mm"
    assert cut_list.cuts.cell("AIL-L", "Buy").data() == "whole 400 mm"
    (total,) = cut_list.totals.rows_model.rows
    assert (total.material, total.count, total.pieces_mm) == ("whole lead, 26 AWG", 2, (400,))
    assert "THR" in cut_list.notes.text()


def test_an_exposed_run_asks_for_sleeve_and_shrink(page: LinkagesPage, desk: Desk) -> None:
    cut_list = opened_cut_list(page)
    testers = [
        QAbstractItemModelTester(table.rows_model, QAbstractItemModelTester.FailureReportingMode.Fatal)
        for table in (cut_list.cuts, cut_list.totals)
    ]
    desk.change(
        "Expose", lambda edit: edit.change(Lead, (CODE, "RUD"), exposed_mm=640, length_mm=940, bundle_mm=4.0)
    )
    show(page, desk)
    # 640 mm exposed: (640 + 2 x 25) x 1.10 = 759 mm of braid; bore 4 x 1.15 to 4 x 1.5.
    assert cut_list.cuts.cell("RUD", "Sleeve").data() == "759 mm, bore 5 mm"
    materials = {str(row.material): row for row in cut_list.totals.rows_model.rows}
    assert materials["sleeve, bore 5 mm"].cutting is not None
    assert materials["sleeve, bore 5 mm"].cutting.bought_mm >= 759
    desk.change("Less", lambda edit: edit.remove(Lead, (CODE, "AIL-L")))
    show(page, desk)
    assert len(testers) == 2


def drag(page: LinkagesPage, start: QPointF, end: QPointF) -> None:
    QTest.mousePress(page.drawing, Qt.MouseButton.LeftButton, pos=start.toPoint())
    QTest.mouseMove(page.drawing, end.toPoint())
    QTest.mouseRelease(page.drawing, Qt.MouseButton.LeftButton, pos=end.toPoint())


def test_the_tip_of_arm_and_horn_is_dragged_to_another_radius(page: LinkagesPage, desk: Desk) -> None:
    page.table.choose_row("RUD")
    page.neutral_button.click()
    link, frame = page.study.link if page.study else None, page.drawing.frame()
    assert link is not None
    assert frame is not None
    drag(page, frame.at((0.0, link.arm_mm)), frame.at((0.0, link.arm_mm - 3.1)))
    kept = desk.fleet.record(Linkage, CODE, "RUD")
    assert kept is not None
    # To half a millimetre, where no arm with holes is known.
    assert kept.arm_mm == link.arm_mm - 3.0
    assert page.drawing.travel_deg == 0.0, "it is not turned as well"
    desk.undo()
    show(page, desk)
    page.neutral_button.click()
    frame = page.drawing.frame()
    assert frame is not None
    hinge = (link.horn_pivot[0], link.horn_pivot[1])
    up = (hinge[0], hinge[1] + link.horn_mm)
    drag(page, frame.beyond(up), frame.beyond((up[0], up[1] - 2.0)))
    kept = desk.fleet.record(Linkage, CODE, "RUD")
    assert kept is not None
    assert (kept.arm_mm, kept.horn_mm) == (link.arm_mm, link.horn_mm - 2.0)


def test_a_dragged_arm_goes_from_hole_to_hole_of_the_arms_that_fit(page: LinkagesPage, desk: Desk) -> None:

    def enter_arms(edit: Edit) -> None:
        edit.change(ServoType, ("TS-WEAK",), spline_teeth=25)
        edit.put(Arm(code="25T", spline_teeth=25, holes_mm="10, 12, 16"))
        edit.put(Arm(code="23T", spline_teeth=23, holes_mm="11"))

    desk.change("Arms", enter_arms)
    show(page, desk)
    page.table.choose_row("RUD")
    page.neutral_button.click()
    frame = page.drawing.frame()
    assert frame is not None
    drag(page, frame.at((0.0, 14.0)), frame.at((0.0, 10.8)))
    kept = desk.fleet.record(Linkage, CODE, "RUD")
    assert kept is not None
    assert kept.arm_mm == 10.0
    assert nearest_radius(11.4, "arm_mm", (10.0, 12.0)) == 12.0
    assert nearest_radius(0.2, "arm_mm", ()) == 3.0
    assert nearest_radius(500.0, "horn_mm", ()) == 150.0
