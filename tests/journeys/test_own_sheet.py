"""A keeper comes with the sheet he has kept for years, and has his fleet on the Flight Line in ten clicks."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QFileDialog, QPushButton
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe, Installation, ServoRating
from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog
from hangar.window.flight_line.cards import CARD_ROLE
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.main_window import MainWindow
from hangar.window.room_list import FLIGHT_LINE
from hangar.window.start import application, open_window

MOST = 10
CHOOSE_A_FILE, SAY_WHERE = 2, 1
"""Clicks in the system's own windows: the file and Open; Save, the name stands there already."""

SHEET = (
    "My models, kept since 1998;;;;;;;;",
    ";;;;;;;;",
    "Model;Ch;Moves;Servo;Type;Torque at 6 V;Fitted;Battery;Remarks",
    "Turnstone 60;1;left aileron;TE-20;dig;25;3/4/2019;NiMH 4s 2000;",
    ";5;right aileron;TE-20;dig;25;3/4/2019;;",
    ";2;elevator;TE-30;dig;30;5/6/2021;;slight play",
    ";4;rudder;TE-30;dig;30;1997;;",
    ";3;throttle;TE-11;analog;22;?;;",
    "Sandpiper;1;aileron;TE-11;analog;22;2/3/2020;LiFe 2s 1100;",
    ";2;elevator;TE-11;analog;22;2/3/2020;;",
    "Total;;;7;;;;;",
)


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.resize(1366, 768)
    yield made
    made.let_go()


class Keeper:
    """Clicks on what he sees, and counts."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        self.clicks = 0

    def click(self, button: QAbstractButton) -> None:
        assert button.isVisible()
        assert button.isEnabled()
        self.clicks += 1
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def way(self, words: str) -> QAbstractButton:
        """The button of the first page with these words."""
        every = self.window.findChildren(QAbstractButton)
        return next(button for button in every if button.accessibleName() == words)

    def answer_with(self, dialog: RehearsalDialog, words: str) -> QPushButton:
        """The button of an answer that is on screen."""
        every = dialog.questions.answers.findChildren(QPushButton)
        return next(button for button in every if button.isVisible() and words in button.text())

    def question(self, dialog: RehearsalDialog, words: str) -> QPushButton:
        """The button that leads to a question."""
        every = dialog.questions.ways.findChildren(QPushButton)
        return next(button for button in every if button.isVisible() and words in button.text())


def test_his_fleet_is_on_the_flight_line_within_ten_clicks(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, fleet_path = tmp_path / "my models.csv", tmp_path / "my models.hangar"
    path.write_text("\n".join(SHEET), encoding="cp1252")
    keeper = Keeper(window)

    def chosen(*_args: object) -> tuple[list[str], str]:
        keeper.clicks += CHOOSE_A_FILE
        return [str(path)], ""

    def saved(*_args: object) -> tuple[str, str]:
        keeper.clicks += SAY_WHERE
        assert not fleet_path.exists()
        return str(fleet_path), ""

    monkeypatch.setattr(QFileDialog, "getOpenFileNames", chosen)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", saved)

    keeper.click(keeper.way("Bring in my own tables"))
    qtbot.waitUntil(lambda: window.files.bringing.dialog is not None)
    dialog = window.files.bringing.dialog
    assert dialog is not None
    for title, answer in (("Unit", "kgf·cm"), ("Order of days", "The day first")):
        keeper.click(keeper.question(dialog, title))
        keeper.click(keeper.answer_with(dialog, answer))
        qtbot.waitUntil(lambda: not dialog.is_reading)
    keeper.click(dialog.take_button)
    qtbot.waitUntil(lambda: window.desk is not None)

    assert keeper.clicks <= MOST
    assert window.rooms is not None
    assert window.rooms.current == FLIGHT_LINE
    line = window.rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    cards = line.cards.model()
    shown = {cards.index(row, 0).data(CARD_ROLE).code for row in range(cards.rowCount())}
    assert window.desk is not None
    fleet = window.desk.fleet
    assert shown == {airframe.code for airframe in fleet.records(Airframe)}
    assert {airframe.name for airframe in fleet.records(Airframe)} == {"Turnstone 60", "Sandpiper"}
    days = {installation.since_on.isoformat() for installation in fleet.records(Installation)}
    assert days == {"2019-04-03", "2021-06-05", "1997", "", "2020-03-02"}
    torques = {rating.servo_type: rating.torque_nm for rating in fleet.records(ServoRating)}
    # 1 kgf = 9.80665 N: standard gravity, ISO 80000-4.
    assert torques["TE-30"] == pytest.approx(30 * 9.80665 / 100)
    assert fleet_path.exists()
