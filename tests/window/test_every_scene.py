"""On every scene what the keeper writes is shown letter by letter, and no box follows the wheel."""

from __future__ import annotations

import re

from pytestqt.qtbot import QtBot

from hangar.window.main_window import MainWindow
from tests.scenes import scenes
from tests.window.conftest import opened_demo
from tests.window.test_plain_words import make_hostile, texts_of
from tests.window.test_wheel import boxes, standing, turn


def test_hostile_words_are_shown_letter_by_letter_and_no_box_follows_the_wheel(
    window: MainWindow, qtbot: QtBot
) -> None:
    opened_demo(window, qtbot)
    desk = window.desk
    assert desk is not None
    make_hostile(desk)
    edits = desk.fleet.history()
    read: set[str] = set()
    turned: set[str] = set()
    for scene in scenes(window):
        for where, text in texts_of(scene.widget):
            for match in re.finditer("ZQ", text):
                read.add(f"{scene.name}: {where}")
                around = text[max(0, match.start() - 3) : match.end() + 4]
                assert "<b>ZQ</b>".startswith(around), f"{scene.name}: {where}: {text}"
        for box in boxes(scene.widget):
            turned.add(f"{scene.name} {box.accessibleName()}")
            before = standing(box)
            turn(box)
            turn(box, 1)
            turn(box, 1)
            assert standing(box) == before, f"{scene.name}: {box.accessibleName()}"
    assert len(read) > 20, sorted(read)
    assert len(turned) > 40, sorted(turned)
    assert desk.fleet.history() == edits
