"""The Positions screen in little room: columns give way, dots keep apart, keys and jumps reach everything."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QTextBrowser
from pytestqt.qtbot import QtBot

from hangar.base.outlines import Outline
from hangar.parts import Position
from hangar.parts.outlines import OUTLINE_NAMES, load_outline
from hangar.window import room_list
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.comparing.side_by_side import SideBySide
from hangar.window.comparing.try_out import TryOut
from hangar.window.kit.desk import Desk
from hangar.window.kit.looks import LIGHT, wear
from hangar.window.kit.place_chooser import COMPARE, POSITION, TRY_OUT, places_of
from hangar.window.navigator import Navigator
from hangar.window.positions.plan_view import APART, PlanView, spread_apart
from hangar.window.positions.positions_screen import PositionsScreen
from hangar.window.positions.servo_dot import DotState
from hangar.window.rooms import Rooms
from hangar.window.start import application
from tests.window.conftest import CODE

NUMBERS = {"Ch.", "Torque needed", "Control left"}


@pytest.fixture
def folder(desk: Desk, qtbot: QtBot) -> Iterator[AirframeFolder]:
    made = AirframeFolder(desk)
    qtbot.addWidget(made)
    made.resize(1300, 800)
    with qtbot.waitExposed(made):
        made.show()
    made.show_aircraft(CODE)
    yield made
    made.close()


@pytest.fixture
def screen(folder: AirframeFolder) -> PositionsScreen:
    return folder.positions


@pytest.fixture
def large_text() -> Iterator[None]:
    app = application()
    before = app.font().pointSizeF()
    wear(app, LIGHT, 15.0)
    yield
    wear(app, LIGHT, before)


def shown_headings(screen: PositionsScreen) -> set[str]:
    columns = screen.table.rows_model.columns
    shown = (column for at, column in enumerate(columns) if not screen.table.isColumnHidden(at))
    return {one.heading.replace("\n", " ") for one in shown}


@pytest.mark.parametrize("width", [1060, 1090, 1176, 1500])
def test_the_table_never_scrolls_sideways_and_keeps_what_decides(
    folder: AirframeFolder, qtbot: QtBot, width: int
) -> None:
    folder.resize(width, 640)
    QApplication.processEvents()
    screen = folder.positions
    screen.panes.show_pane(1)
    qtbot.waitUntil(lambda: screen.table.horizontalScrollBar().maximum() == 0)
    assert NUMBERS | {"Position", "Servo"} <= shown_headings(screen)


@pytest.mark.usefixtures("large_text")
def test_large_text_leaves_the_deciding_numbers_uncut(
    folder: AirframeFolder, desk: Desk, qtbot: QtBot
) -> None:
    desk.view.choose_points(15.0)
    folder.resize(1086, 640)
    QApplication.processEvents()
    folder.positions.panes.show_pane(1)
    table = folder.positions.table
    qtbot.waitUntil(lambda: table.horizontalScrollBar().maximum() == 0)
    assert shown_headings(folder.positions) >= NUMBERS | {"Position", "Servo"}
    for at, column in enumerate(table.rows_model.columns):
        if column.number and not table.isColumnHidden(at):
            assert table.columnWidth(at) >= table.sizeHintForColumn(at), column.heading


def test_channel_and_servo_never_give_way_and_no_other_heading_could_be_taken_for_the_channel(
    screen: PositionsScreen,
) -> None:
    columns = {column.heading: column for column in screen.table.rows_model.columns}
    assert columns["Ch."].gives_way == columns["Servo"].gives_way == columns["Position"].gives_way == 0
    assert "No." not in columns
    assert "Dot" not in columns


def test_columns_left_out_are_named_and_come_back_when_asked_for(screen: PositionsScreen) -> None:
    left_out = screen.table.left_out
    assert left_out
    assert all(name in screen.all_columns.toolTip() for name in left_out)
    screen.all_columns.setChecked(True)
    assert screen.table.left_out == ()
    assert screen.all_columns.isVisible()
    screen.all_columns.setChecked(False)
    assert screen.table.left_out == left_out


def test_a_wider_window_shows_more_columns(folder: AirframeFolder, qtbot: QtBot) -> None:
    few = shown_headings(folder.positions)
    folder.resize(2700, 800)
    qtbot.waitUntil(lambda: shown_headings(folder.positions) > few)
    assert not folder.positions.all_columns.isVisible()


def test_crowded_places_are_spread_and_lonely_ones_stay() -> None:
    crowd = ((0.0, 0.0), (0.0, 0.0), (5.0, 0.0), (400.0, 0.0))
    spread = spread_apart(crowd, 20.0)
    assert spread == spread_apart(crowd, 20.0)
    assert spread[3] == crowd[3]
    for at, one in enumerate(spread):
        assert all(math.dist(one, other) >= 19.9 for other in spread[:at])


def plan_of_two(qtbot: QtBot) -> tuple[PlanView, Outline]:
    plan = PlanView()
    qtbot.addWidget(plan)
    plan.resize(400, 400)
    outline = load_outline(OUTLINE_NAMES[0])
    states = tuple(DotState(code, at, code, 0.5, 0.5, None) for at, code in enumerate("AB", 1))
    plan.show_plan(outline, states, LIGHT)
    with qtbot.waitExposed(plan):
        plan.show()
    return plan, outline


def test_dots_on_one_spot_are_drawn_apart_with_their_places_kept(qtbot: QtBot) -> None:
    plan, _outline = plan_of_two(qtbot)
    servo_dot, other = plan.dots.values()
    assert servo_dot.pos() == other.pos()
    step = servo_dot.offset - other.offset
    assert math.hypot(step.x(), step.y()) >= APART * servo_dot.radius - 0.5


def test_a_dot_that_was_set_aside_comes_to_lie_where_it_is_dropped(qtbot: QtBot) -> None:
    plan, outline = plan_of_two(qtbot)
    dot = plan.dots["B"]
    disc = plan.viewportTransform().map(dot.scenePos()) + dot.offset
    moves: list[tuple[str, float, float]] = []
    plan.dot_moved.connect(lambda *move: moves.append(move))
    button, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QTest.mousePress(plan.viewport(), button, none, disc.toPoint())
    target = disc + QPointF(60, -80)
    for part in (0.3, 0.6, 1.0):
        QTest.mouseMove(plan.viewport(), (disc + (target - disc) * part).toPoint())
    QTest.mouseRelease(plan.viewport(), button, none, target.toPoint())
    ((code, across, along),) = moves
    wanted = plan.mapToScene(target.toPoint())
    assert code == "B"
    assert across == pytest.approx(wanted.x() / outline.width, abs=0.01)
    assert along == pytest.approx(wanted.y() / outline.height, abs=0.01)


def test_arrow_keys_go_from_dot_to_dot_and_tell_it(screen: PositionsScreen, qtbot: QtBot) -> None:
    screen.table.choose_row("RUD")
    screen.plan.setFocus()
    QTest.keyClick(screen.plan, Qt.Key.Key_Left)
    assert screen.table.current_row.code == "AIL-L"
    assert screen.plan.accessibleDescription().startswith("channel 1, AIL-L")
    place = screen.plan.dots["AIL-L"].pos()
    QTest.keyClick(screen.plan, Qt.Key.Key_Left, Qt.KeyboardModifier.ControlModifier)
    assert screen.plan.dots["AIL-L"].pos() != place


def test_enter_on_a_dot_opens_the_servo_choice_and_space_chooses(
    screen: PositionsScreen, desk: Desk, qtbot: QtBot
) -> None:
    opened: list[str] = []
    chosen: list[str] = []
    screen.plan.position_opened.connect(opened.append)
    screen.plan.position_chosen.connect(chosen.append)
    screen.table.choose_row("THR")
    screen.plan.setFocus()
    QTest.keyClick(screen.plan, Qt.Key.Key_Space)
    assert (chosen, opened) == (["THR"], [])
    screen.plan.position_opened.disconnect(screen._open_at)
    QTest.keyClick(screen.plan, Qt.Key.Key_Return)
    assert opened == ["THR"]


def test_buttons_and_keys_take_the_position_to_other_rooms(
    screen: PositionsScreen, desk: Desk, qtbot: QtBot
) -> None:
    wanted: list[tuple[str, str, str]] = []
    desk.place_wanted.connect(lambda *place: wanted.append(place))
    screen.table.choose_row("RUD")
    screen.compare_button.click()
    screen.try_button.click()
    screen.table.setFocus()
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    QTest.keyClick(screen.table, Qt.Key.Key_S, both)
    QTest.keyClick(screen.table, Qt.Key.Key_T, both)
    assert [room for room, _code, _position in wanted] == [COMPARE, TRY_OUT, COMPARE, TRY_OUT]
    assert {place[1:] for place in wanted} == {(CODE, "RUD")}


def test_the_other_rooms_open_at_the_position(desk: Desk, qtbot: QtBot) -> None:
    rooms = Rooms(desk)
    Navigator(desk, rooms)
    qtbot.addWidget(rooms)
    with qtbot.waitExposed(rooms):
        rooms.show()
    desk.place_wanted.emit(COMPARE, CODE, "RUD")
    sides = rooms.room(room_list.COMPARE)
    assert rooms.current == room_list.COMPARE
    assert isinstance(sides, SideBySide)
    assert (sides.place.code, sides.place.fit and sides.place.fit.code) == (CODE, "RUD")
    desk.place_wanted.emit(TRY_OUT, CODE, "AIL-L")
    tries = rooms.room(room_list.TRY_OUT)
    assert rooms.current == room_list.TRY_OUT
    assert isinstance(tries, TryOut)
    assert tries.place.fit is not None
    assert tries.place.fit.code == "AIL-L"
    desk.place_wanted.emit(POSITION, CODE, "RUD")
    assert rooms.current == room_list.AIRFRAME
    assert rooms.folder.positions.table.current_row.code == "RUD"
    qtbot.waitUntil(lambda: not tries.is_asking)
    rooms.close()


def test_a_finding_about_a_servo_leads_to_the_rooms_for_its_position(
    screen: PositionsScreen, desk: Desk, qtbot: QtBot
) -> None:
    screen.table.choose_row("RUD")
    finding = screen.findings.table.current_row
    assert "RUD" in places_of(desk, finding)
    page: QTextBrowser = screen.findings.page
    assert f"go:{COMPARE}/RUD" in page.toHtml()
    wanted: list[tuple[str, str, str]] = []
    desk.place_wanted.connect(lambda *place: wanted.append(place))
    page.anchorClicked.emit(f"go:{TRY_OUT}/RUD")
    assert wanted == [(TRY_OUT, CODE, "RUD")]


def test_a_dot_placed_by_keys_keeps_its_own_place_when_it_is_set_aside(
    screen: PositionsScreen, desk: Desk
) -> None:
    desk.edit("Crowd", lambda edit: edit.change(Position, (CODE, "RUD"), plan_x=0.3, plan_y=0.3))
    desk.edit("Crowd", lambda edit: edit.change(Position, (CODE, "AIL-L"), plan_x=0.3, plan_y=0.3))
    screen.table.choose_row("RUD")
    assert not screen.plan.dots["RUD"].offset.isNull()
    screen.plan.setFocus()
    QTest.keyClick(screen.plan, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    kept = desk.fleet.record(Position, CODE, "RUD")
    assert kept is not None
    assert (kept.plan_x, kept.plan_y) == (0.3, 0.31)
