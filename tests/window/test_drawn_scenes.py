"""Drawn scenes: reached by keys, told in words, in the program's text size, readable in both looks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QGraphicsSimpleTextItem,
    QLineEdit,
    QStyleOptionGraphicsItem,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

from hangar.parts.outlines import OUTLINE_NAMES, load_outline
from hangar.rules.finding import Level
from hangar.window.comparing.race_view import STEP_S
from hangar.window.comparing.side_by_side import SideBySide
from hangar.window.comparing.try_out import TryOut
from hangar.window.kit.desk import Desk
from hangar.window.kit.looks import DARK, LIGHT, Look, contrast, wear
from hangar.window.linkages.linkages_page import LinkagesPage
from hangar.window.positions.servo_dot import DotState, ServoDot
from hangar.window.power.power_screen import PowerScreen
from hangar.window.start import application
from tests.window.conftest import CODE

BOTH = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
WORDS, MARKS = 4.5, 3.0


@pytest.fixture
def power(desk: Desk, qtbot: QtBot) -> Iterator[PowerScreen]:
    made = PowerScreen(desk)
    qtbot.addWidget(made)
    made.resize(1000, 700)
    with qtbot.waitExposed(made):
        made.show()
    judgement = desk.judgement(CODE)
    assert judgement is not None
    made.show_judgement(judgement)
    yield made
    made.close()


def test_tab_goes_through_the_numbers_of_the_supply_and_out_again(power: PowerScreen, qtbot: QtBot) -> None:
    picture = power.picture
    frame = QWidget()
    qtbot.addWidget(frame)
    column = QVBoxLayout(frame)
    before, after = QLineEdit(), QLineEdit()
    for widget in (before, picture, after):
        column.addWidget(widget)
    with qtbot.waitExposed(frame):
        frame.show()
    before.setFocus()
    QTest.keyClick(before, Qt.Key.Key_Tab)
    lines: list[str] = []
    while picture.focused is not None and len(lines) <= len(picture.words):
        lines.append(picture.accessibleDescription())
        QTest.keyClick(picture, Qt.Key.Key_Tab)
        if after.hasFocus():
            break
    assert lines == [word.spoken for word in picture.words]
    assert after.hasFocus()


def test_a_number_of_the_supply_is_told_with_where_and_how_much(power: PowerScreen) -> None:
    words = " ".join(word.spoken for word in power.picture.words)
    assert "RUD  Rudder: " in words
    assert " V (" in words
    assert "from pack B-01 to bus: " in words
    assert " A (" in words


def test_arrow_keys_walk_the_supply_and_enter_asks_how(power: PowerScreen, desk: Desk, qtbot: QtBot) -> None:
    picture = power.picture
    picture.setFocus()
    picture.focus_on(picture.words[0])
    start = picture.words[0].sceneBoundingRect().center()
    QTest.keyClick(picture, Qt.Key.Key_Right)
    assert picture.focused is not None
    assert picture.focused.sceneBoundingRect().center().x() > start.x()
    with qtbot.waitSignal(desk.how_asked) as asked:
        QTest.keyClick(picture, Qt.Key.Key_Return)
    assert asked.args == [picture.focused.figure]


def test_the_words_of_the_supply_keep_the_size_of_the_text(power: PowerScreen, qtbot: QtBot) -> None:
    app, picture = application(), power.picture
    before = app.font().pointSizeF()
    try:
        for points in (10.0, 15.0):
            wear(app, LIGHT, points)
            power.resize(500, 300)
            qtbot.wait(10)
            texts = [
                qgraphics_item
                for qgraphics_item in picture.scene().items()
                if isinstance(qgraphics_item, QGraphicsSimpleTextItem)
            ]
            assert texts
            assert {text.font().pointSizeF() for text in texts} == {points}
            assert {round(text.sceneTransform().m11() * picture.transform().m11(), 3) for text in texts} == {
                1.0
            }
    finally:
        wear(app, LIGHT, before)


@pytest.fixture
def linkages(desk: Desk, qtbot: QtBot) -> Iterator[LinkagesPage]:
    made = LinkagesPage(desk)
    qtbot.addWidget(made)
    made.resize(1000, 700)
    with qtbot.waitExposed(made):
        made.show()
    judgement = desk.judgement(CODE)
    assert judgement is not None
    made.show_judgement(judgement)
    yield made
    made.close()


def test_arrow_keys_move_the_reading_point_of_the_ratio_and_tell_it(linkages: LinkagesPage) -> None:
    plot = linkages.plot
    linkages.neutral_button.click()
    plot.setFocus()
    QTest.keyClick(plot, Qt.Key.Key_Right)
    QTest.keyClick(plot, Qt.Key.Key_PageUp)
    assert linkages.drawing.travel_deg == pytest.approx(11.0)
    study = linkages.study
    assert study is not None
    there = study.at(11.0)
    assert there is not None
    wanted = f"Ratio {abs(there.velocity_ratio):.2f} at servo travel 11°."
    assert plot.accessibleDescription().startswith(wanted)
    QTest.keyClick(plot, Qt.Key.Key_End)
    assert linkages.drawing.travel_deg == pytest.approx(study.high_deg)
    QTest.keyClick(plot, Qt.Key.Key_Right)
    assert linkages.drawing.travel_deg == pytest.approx(study.high_deg)


def test_the_race_is_started_held_and_stepped_by_keys(desk: Desk, qtbot: QtBot) -> None:
    room = SideBySide(desk)
    qtbot.addWidget(room)
    with qtbot.waitExposed(room):
        room.show()
    room.show_place(CODE, "AIL-L")
    race = room.panel.race
    race.setFocus()
    QTest.keyClick(race, Qt.Key.Key_Space)
    assert race.running
    QTest.keyClick(race, Qt.Key.Key_Space)
    assert not race.running
    QTest.keyClick(race, Qt.Key.Key_Home)
    assert race.angles_deg() == (0.0, 0.0)
    QTest.keyClick(race, Qt.Key.Key_Right)
    assert race.passed_s == pytest.approx(STEP_S)
    old, new = race.angles_deg()
    assert race.accessibleDescription() == f"After 0.02 s: old {old:.0f}°, new {new:.0f}°."
    room.close()


def test_try_out_shows_the_present_at_once(desk: Desk, qtbot: QtBot) -> None:
    room = TryOut(desk)
    qtbot.addWidget(room)
    room.show()
    room.show_place(CODE, "AIL-L")
    assert room.is_asking
    position = room.answer and room.answer.judgement.survey.positions["AIL-L"]
    assert position is not None
    assert room.answer is not None
    assert room.answer.judgement is desk.judgement(CODE)
    assert {row.change for row in room.table.rows_model.rows} == {0.0}
    assert room.table.rows_model.rows
    qtbot.waitUntil(lambda: not room.is_asking)
    room.close()


@BOTH
@pytest.mark.parametrize("level", list(Level))
def test_the_number_of_a_dot_can_be_read_as_it_is_painted(look: Look, level: Level, qtbot: QtBot) -> None:
    application()
    dot = ServoDot(DotState("A", 8, "A", 0.5, 0.5, level), load_outline(OUTLINE_NAMES[0]), look)
    box = dot.boundingRect()
    image = QImage(round(box.width() * 8), round(box.height() * 8), QImage.Format.Format_RGB32)
    image.fill(QColor(look.outline))
    painter = QPainter(image)
    painter.scale(8, 8)
    painter.translate(-box.topLeft())
    dot.paint(painter, QStyleOptionGraphicsItem())
    painter.end()
    middle, half = image.rect().center(), round(dot.radius * 8 * 0.45)
    colours = Counter(
        image.pixelColor(x, y).name()
        for x in range(middle.x() - half, middle.x() + half, 2)
        for y in range(middle.y() - half, middle.y() + half, 2)
    )
    (ground, _), (ink, _) = colours.most_common(2)
    assert contrast(ground, ink) >= WORDS


@BOTH
def test_words_and_marks_of_drawings_stand_out_from_what_they_lie_on(look: Look) -> None:
    for words, ground in ((look.accent, look.raised), (look.soft, look.raised), (look.ink, look.outline)):
        assert contrast(words, ground) >= WORDS, (words, ground)
    for mark in (look.accent, look.ink, *(level.edge for level in look.levels.values())):
        for ground in (look.paper, look.outline):
            assert contrast(mark, ground) >= MARKS, (mark, ground)
