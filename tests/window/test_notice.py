"""The notice bar tells all there is to tell and leaves the window its room."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMainWindow
from pytestqt.qtbot import QtBot

from hangar.base.errors import BadInput
from hangar.base.reader import Reader
from hangar.window.kit.notice import NoticeBar, Words
from hangar.window.kit.words import speak
from hangar.window.start import application


@pytest.fixture
def bar(qtbot: QtBot) -> Iterator[NoticeBar]:
    window = QMainWindow()
    qtbot.addWidget(window)
    made = NoticeBar(window)
    window.setCentralWidget(made)
    window.resize(700, 400)
    with qtbot.waitExposed(window):
        window.show()
    yield made
    window.close()


def test_a_long_report_is_scrolled_and_the_window_stays_as_it_is(bar: NoticeBar) -> None:
    bar.tell("\n".join(f"row {row} was left out" for row in range(500)))
    (words,) = bar.findChildren(Words)
    assert bar.minimumSizeHint().height() < 400
    assert words.verticalScrollBar().maximum() > 0
    assert words.verticalScrollBar().value() == 0
    assert words.focusPolicy() & Qt.FocusPolicy.TabFocus, "it can be scrolled with the keys"
    assert bar.sentence.endswith("row 499 was left out")


def test_a_short_notice_is_one_line_high_and_a_wrapped_one_whole(bar: NoticeBar, qtbot: QtBot) -> None:
    (words,) = bar.findChildren(Words)
    bar.tell("Saved.")
    line = words.fontMetrics().lineSpacing()
    assert line <= words.height() < 2 * line
    assert words.focusPolicy() == Qt.FocusPolicy.NoFocus
    bar.tell("a sentence that goes on " * 12)
    qtbot.waitUntil(lambda: words.height() > 2 * line)
    assert words.verticalScrollBar().maximum() == 0


def test_an_error_is_told_in_the_language_and_units_of_the_window(bar: NoticeBar) -> None:
    app = application()
    speak(app, "de")
    try:
        bar.trouble(BadInput("There is no file or folder {source}.", source="{x} Tables"))
        assert bar.sentence == Reader("de").say("There is no file or folder {source}.", source="{x} Tables")
        assert "{x} Tables" in bar.sentence
        assert "There is" not in bar.sentence
    finally:
        speak(app, "en")
