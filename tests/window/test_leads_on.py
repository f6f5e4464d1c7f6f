"""No page is a dead end: while there is nothing to show it says so and has the button that begins."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QDialog, QLabel, QTextEdit, QWidget
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe
from hangar.parts.choices import AircraftClass
from hangar.store import Fleet
from hangar.window.flight_line.empty_fleet import EmptyFleet
from hangar.window.kit.strip import StripPages
from hangar.window.main_window import MainWindow
from hangar.window.records.record_form import RecordForm
from hangar.window.room_list import AIRFRAME, FINDINGS, OF_AIRCRAFT, PACKS
from hangar.window.start import application, open_window
from tests.scenes import tab_scenes
from tests.window.pages import let_it_settle

BARE = "TRY"


@pytest.fixture(params=["no aircraft", "a bare aircraft"])
def window(request: pytest.FixtureRequest, qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """A fleet with nothing in it, or with one aircraft of which only the name is known."""
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    made.resize(1366, 768)
    fleet = Fleet.create(tmp_path / "new.hangar")
    if request.param == "a bare aircraft":
        _enter(fleet)
    made.take_fleet(fleet)
    assert made.desk is not None
    for code in made.desk.codes():
        made.desk.judgement(code)
    yield made
    made.let_go()


def _enter(fleet: Fleet) -> None:
    bare = Airframe(code=BARE, name="Trial", aircraft_class=AircraftClass.SPORT)
    fleet.edit("Enter", lambda edit: edit.put(bare))


def _pages(window: MainWindow) -> Iterator[tuple[str, QWidget]]:
    """Every page that can be opened, with its name."""
    rooms = window.rooms
    assert rooms is not None
    for number, title in enumerate(rooms.titles):
        rooms.enter(number)
        page = rooms.page
        assert page is not None
        names: Iterator[str] = iter(("",))
        if number == AIRFRAME and not isinstance(page, EmptyFleet):
            rooms.folder.show_aircraft(BARE)
            names = tab_scenes("", rooms.folder.tabs)
        elif isinstance(page, StripPages):
            names = tab_scenes("", page)
        for name in names:
            let_it_settle()
            yield f"{title} {name}", page


def _reject_form(window: MainWindow, qtbot: QtBot) -> None:
    """Wait for a form, and leave it."""
    qtbot.waitUntil(lambda: any(form.isVisible() for form in window.findChildren(QDialog)))
    for form in window.findChildren(QDialog):
        form.reject()


def test_every_page_without_anything_to_show_says_so_and_leads_on(window: MainWindow) -> None:
    dead_ends = []
    count = 0
    for name, page in _pages(window):
        count += 1
        seen = [widget for widget in page.findChildren(QWidget) if widget.isVisible()]
        tables = [table for table in seen if isinstance(table, QAbstractItemView)]
        has_form = any(isinstance(widget, RecordForm) for widget in seen)
        if has_form or any(table.model().rowCount() for table in tables):
            continue
        acts = [
            button
            for button in seen
            if isinstance(button, QAbstractButton)
            and button.isEnabled()
            and (button.text().endswith("…") or button.property("main"))
        ]
        words = [
            text
            for widget in seen
            if isinstance(widget, QLabel | QTextEdit)
            and (text := widget.text() if isinstance(widget, QLabel) else widget.toPlainText())
            and text.rstrip().endswith((".", "…"))
        ]
        if not acts or not words:
            dead_ends.append((name, len(acts), words))
    assert not dead_ends, "; ".join(map(str, dead_ends))
    assert count > 12


@pytest.mark.parametrize("window", ["no aircraft"], indirect=True)
def test_the_first_aircraft_opens_the_page_that_waited_for_it(window: MainWindow) -> None:
    rooms, desk = window.rooms, window.desk
    assert rooms is not None
    assert desk is not None
    for number in sorted(OF_AIRCRAFT):
        rooms.enter(number)
        assert isinstance(rooms.page, EmptyFleet)
    rooms.enter(FINDINGS)
    bare = Airframe(code=BARE, name="Trial", aircraft_class=AircraftClass.SPORT)
    desk.change("Enter", lambda edit: edit.put(bare))
    assert rooms.page is rooms.room(FINDINGS)
    desk.undo()
    assert isinstance(rooms.page, EmptyFleet)


@pytest.mark.parametrize("window", ["a bare aircraft"], indirect=True)
def test_the_buttons_begin_what_they_say(window: MainWindow, qtbot: QtBot) -> None:
    rooms, desk = window.rooms, window.desk
    assert rooms is not None
    assert desk is not None
    rooms.open_folder(BARE)
    folder = rooms.folder
    folder.open_page(folder.power)
    folder.power.setCurrentWidget(folder.power.trace)
    folder.power.trace.lead_on.button.click()
    assert folder.power.currentWidget() is folder.power.supply
    assert folder.power.supply.fit_button.isChecked()
    folder.open_page(folder.linkages)
    assert "nothing to judge" in folder.linkages.verdict.sentence
    folder.linkages.new_button.click()
    _reject_form(window, qtbot)
    assert folder.tabs.currentWidget() is folder.positions or folder.positions.isVisible()
    rooms.enter(PACKS)
    shelf = rooms.room(PACKS)
    shelf.setCurrentIndex(1)  # type: ignore[attr-defined]
    shelf.widget(1).lead_on.button.click()  # type: ignore[attr-defined]
    _reject_form(window, qtbot)
