"""The first look shows every aircraft before the program is loaded, then gives way to the rooms."""

from __future__ import annotations

import shutil
from pathlib import Path

from pytestqt.qtbot import QtBot

from hangar.store.glance import glance
from hangar.window.first_look import FirstLook, first_card
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.room_list import FLIGHT_LINE
from hangar.window.start import application, open_window


def test_the_last_fleet_is_on_screen_before_it_is_opened(
    qtbot: QtBot, tmp_path: Path, demo_file: Path
) -> None:
    application()
    path = tmp_path / demo_file.name
    shutil.copy(demo_file, path)
    window = open_window(path, tmp_path, tmp_path)
    qtbot.addWidget(window)
    assert window.desk is None
    (first_look,) = window.findChildren(FirstLook)
    assert [card.code for card in first_look.cards] == [glimpse.code for glimpse in glance(path)]
    assert not window.menuBar().actions()
    qtbot.waitUntil(lambda: window.desk is not None)
    assert window.rooms is not None
    line = window.rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    early = [first_card(glimpse) for glimpse in glance(path)]
    for first, later in zip(early, line.list.cards, strict=True):
        assert (first.code, first.name, first.kind, first.outline, first.flown) == (
            later.code,
            later.name,
            later.kind,
            later.outline,
            later.flown,
        )
    window.close()


def test_a_fleet_that_cannot_be_opened_leads_to_the_first_page_with_the_reason(
    qtbot: QtBot, tmp_path: Path
) -> None:
    application()
    wrong = tmp_path / "letter.hangar"
    wrong.write_text("dear sir")
    window = open_window(wrong, tmp_path, tmp_path)
    qtbot.addWidget(window)
    qtbot.waitUntil(lambda: hasattr(window, "notice") and bool(window.notice.sentence))
    assert "letter.hangar" in window.notice.sentence
    assert window.desk is None
    window.close()


def test_a_folder_of_tables_opens_in_memory_and_says_so(
    qtbot: QtBot, tmp_path: Path, demo_file: Path
) -> None:
    application()
    from hangar.store import Fleet, take_out

    with Fleet.open(demo_file, read_only=True) as fleet:
        take_out(fleet, tmp_path / "tables")
        codes = fleet.aircraft_codes()
    window = open_window(tmp_path / "tables", tmp_path, tmp_path)
    qtbot.addWidget(window)
    qtbot.waitUntil(lambda: window.desk is not None)
    assert window.desk is not None
    assert window.desk.codes() == codes
    assert "not kept in a fleet file" in window.notice.sentence
    window.close()
