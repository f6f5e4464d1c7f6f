"""The first page asks in which units numbers are shown; a fleet's own units go before it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QLocale
from PySide6.QtGui import QFont
from pytestqt.qtbot import QtBot

from hangar.base.units import IMPERIAL
from hangar.store import Fleet
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.start import application
from hangar.window.welcome import WelcomePage
from tests.window.pages import let_it_settle


@pytest.fixture
def seat(qtbot: QtBot, tmp_path: Path) -> ViewSettings:
    application()
    return ViewSettings(tmp_path / "seat.ini")


@pytest.mark.parametrize(("country", "units"), [("en_US", "inch"), ("de_DE", "metric-force")])
def test_the_first_start_proposes_what_the_country_thinks_in(
    seat: ViewSettings, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, country: str, units: str
) -> None:
    monkeypatch.setattr(QLocale, "system", lambda: QLocale(country))
    page = WelcomePage(seat)
    qtbot.addWidget(page)
    assert [name for name, button in page.units.items() if button.isChecked()] == [units]


def test_what_is_chosen_is_used_by_fleets_without_units_of_their_own(
    seat: ViewSettings, fleet: Fleet, qtbot: QtBot, tmp_path: Path
) -> None:
    page = WelcomePage(seat)
    qtbot.addWidget(page)
    page.units["metric-force"].click()
    again = ViewSettings(tmp_path / "seat.ini")
    desk = Desk(fleet, again)
    assert desk.view.units.torque == "kgf cm"
    desk.choose_units(IMPERIAL)
    desk.stop()
    page.units["si"].click()
    other = ViewSettings(tmp_path / "seat.ini")
    desk = Desk(fleet, other)
    assert desk.view.units == IMPERIAL
    desk.undo()
    assert desk.view.units.torque == "N m"
    desk.stop()


def test_the_ways_to_begin_grow_with_the_letters_and_wrap_where_it_is_narrow(
    seat: ViewSettings, qtbot: QtBot
) -> None:
    page = WelcomePage(seat)
    qtbot.addWidget(page)
    way = page.demo
    wide, one_line = way.sizeHint().width(), way.sizeHint().height()
    font = QFont(way.font())
    font.setPointSizeF(2 * font.pointSizeF())
    way.setFont(font)
    assert way.sizeHint().width() > 1.8 * wide
    assert way.sizeHint().height() > 1.5 * one_line
    assert way.heightForWidth(wide) > way.sizeHint().height()


@pytest.mark.parametrize("points", [10.0, 15.0, 20.0])
def test_the_first_page_has_room_for_all_its_words(seat: ViewSettings, qtbot: QtBot, points: float) -> None:
    page = WelcomePage(seat)
    qtbot.addWidget(page)
    font = page.font()
    font.setPointSizeF(points)
    page.setFont(font)
    page.resize(1366, 768)
    page.show()
    let_it_settle()
    for button in page.units.values():
        assert button.width() >= button.sizeHint().width(), (button.text(), button.size())
