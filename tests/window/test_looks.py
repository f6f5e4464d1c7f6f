"""Both looks keep the contrast that the accessibility guidelines ask for."""

from __future__ import annotations

import subprocess
import sys

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication, QCheckBox, QListWidget, QListWidgetItem, QStyle
from pytestqt.qtbot import QtBot

from hangar.rules.finding import Level
from hangar.window.kit.level_marks import draw_mark, mark_shape
from hangar.window.kit.looks import DARK, LIGHT, Look, contrast, luminance, palette_of, wear
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.start import application

BOTH = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)
WORDS = 4.5
MARKS = 3.0


def test_contrast_agrees_with_published_pairs() -> None:
    # WCAG 2.1, definition of contrast ratio: black on white is 21:1; #767676 on white is the usual
    # example of a grey that just passes 4.5:1 (WebAIM, "Contrast and Color Accessibility").
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)
    assert luminance("#FF0000") == pytest.approx(0.2126)


@BOTH
def test_words_can_be_read_on_every_ground(look: Look) -> None:
    for ground in (look.window, look.paper, look.raised, look.chosen):
        assert contrast(look.ink, ground) >= WORDS, ground
    for ground in (look.window, look.paper, look.raised):
        assert contrast(look.soft, ground) >= WORDS, ground
        assert contrast(look.accent, ground) >= WORDS, ground
    assert contrast(look.on_accent, look.accent) >= WORDS


@BOTH
@pytest.mark.parametrize("level", list(Level))
def test_level_words_and_marks_stand_out(look: Look, level: Level) -> None:
    colours = look.levels[level]
    for ground in (look.window, look.paper, look.chosen):
        assert contrast(colours.words, ground) >= WORDS, ground
        assert contrast(colours.edge, ground) >= MARKS, ground
    assert contrast(colours.sign, colours.fill) >= WORDS


@BOTH
def test_lines_of_drawings_stand_out(look: Look) -> None:
    assert contrast(look.line, look.paper) >= MARKS
    assert contrast(look.line, look.outline) >= 2.0


@BOTH
def test_whatever_a_drawing_says_by_a_colour_stands_out_on_every_ground(look: Look) -> None:
    # Bars, rings, dots, curves and marks take their colours from these; ``hair`` and ``grid`` say nothing.
    washes = [colours.wash for colours in look.levels.values()]
    grounds = (look.window, look.paper, look.raised, look.sheet, look.outline, look.chosen, *washes)
    edges = [colours.edge for colours in look.levels.values()]
    for ground in grounds:
        for mark in (look.ink, look.soft, look.accent, look.line, look.focus, look.pen, *edges):
            assert contrast(mark, ground) >= MARKS, (mark, ground)
        for colours in look.levels.values():
            assert contrast(colours.words, ground) >= WORDS, (colours.words, ground)
    assert contrast(look.rail_ink, look.rail) >= WORDS


@BOTH
def test_disabled_words_can_still_be_read(look: Look) -> None:
    palette = palette_of(look)
    words = palette.color(palette.ColorGroup.Disabled, palette.ColorRole.Text).name()
    assert contrast(words, look.paper) >= WORDS


def test_every_level_has_a_shape_of_its_own() -> None:
    box = QRectF(0, 0, 40, 40)
    shapes = [mark_shape(level, box) for level in Level]
    corners = [shape.elementCount() for shape in shapes]
    assert len(set(corners)) == len(corners)
    for shape in shapes:
        assert box.adjusted(-0.5, -0.5, 0.5, 0.5).contains(shape.boundingRect())


def test_marks_differ_without_colour(view: ViewSettings) -> None:
    grey = []
    for level in Level:
        image = QImage(40, 40, QImage.Format.Format_ARGB32)
        image.fill(QColor(LIGHT.paper))
        painter = QPainter(image)
        draw_mark(painter, QRectF(2, 2, 36, 36), level, LIGHT)
        painter.end()
        bits = image.convertToFormat(QImage.Format.Format_Grayscale8).constBits()
        grey.append([byte < 200 for byte in bytes(bits)])
    for number in range(len(grey)):
        for other in range(number):
            unlike = sum(a != b for a, b in zip(grey[number], grey[other], strict=True))
            assert unlike > 60, (number, other)


@BOTH
def test_the_outline_of_a_box_to_tick_stands_out_where_it_is_drawn(look: Look, qtbot: QtBot) -> None:
    app = application()
    before = app.font()
    wear(app, look, 15.0)
    kept = QListWidget()
    qtbot.addWidget(kept)
    for state in (Qt.CheckState.Unchecked, Qt.CheckState.Checked):
        QListWidgetItem("RUD  servo", kept).setCheckState(state)
    kept.resize(240, 120)
    kept.show()
    QApplication.processEvents()
    picture = kept.viewport().grab().toImage()
    for row in range(2):
        room = kept.visualItemRect(kept.item(row))
        colours = {
            picture.pixelColor(x, room.center().y()).name() for x in range(room.left(), room.left() + 12)
        }
        ground = picture.pixelColor(room.right() - 2, room.center().y()).name()
        assert max(contrast(colour, ground) for colour in colours) >= MARKS, (row, colours)
    for ground in (look.window, look.paper, look.raised, look.chosen):
        assert contrast(look.soft, ground) >= MARKS, ground
    assert contrast(look.on_accent, look.accent) >= MARKS
    app.setStyleSheet("")
    app.setFont(before)


@BOTH
def test_boxes_to_tick_grow_with_the_text(look: Look, qtbot: QtBot) -> None:
    app = application()
    before = app.font()
    sizes = []
    for points in (10.0, 20.0):
        wear(app, look, points)
        box = QCheckBox("Supply may change")
        qtbot.addWidget(box)
        sizes.append(box.style().pixelMetric(QStyle.PixelMetric.PM_IndicatorWidth, None, box))
    assert sizes[1] >= 1.8 * sizes[0]
    app.setStyleSheet("")
    app.setFont(before)


_COLLECTED_WHILE_DRESSED = """
import gc
from PySide6.QtWidgets import QApplication, QLabel
from hangar.window.kit.collecting import collect_between_events
from hangar.window.kit.looks import DARK, LIGHT, wear

class Growing(QLabel):
    def changeEvent(self, event):
        super().changeEvent(event)
        self.held = [[] for _ in range(50)]

app = QApplication([])
collect_between_events(app)
shown = [Growing("shown") for _ in range(200)]
gc.set_threshold(3000, 1, 1)
for number in range(6):
    for _ in range(200):
        label = Growing("in a cycle")
        label.myself = label
    del label
    wear(app, (LIGHT, DARK)[number % 2], 10.0 + number % 3)
"""


def test_a_widget_in_a_cycle_does_not_end_the_program_when_it_changes_its_colours() -> None:
    # Qt keeps the addresses of all widgets while it styles them: none may be collected meanwhile.
    command = [sys.executable, "-c", _COLLECTED_WHILE_DRESSED]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
