"""Tables come in beside the window: it stays awake, and Stop leaves the fleet as it was."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QProgressDialog
from pytestqt.qtbot import QtBot

from hangar.acts import files
from hangar.base.errors import BadInput
from hangar.base.places import demo_fleet_dir
from hangar.window.kit.stoppable_task import Heed, StoppableTask
from hangar.window.kit.words import speak
from hangar.window.main_window import MainWindow
from hangar.window.start import application, open_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    assert made.files.new_at(tmp_path / "club.hangar")
    yield made
    made.let_go()


def test_tables_come_in_and_what_was_taken_is_told(window: MainWindow, qtbot: QtBot) -> None:
    taking = window.files.bring_in([demo_fleet_dir()])
    assert taking is not None
    with qtbot.waitSignal(taking.done):
        pass
    assert window.desk is not None
    assert window.desk.codes()
    assert window.notice.sentence.startswith("Taken: ")
    assert (window.desk.undo_label or "").startswith("Bring in")
    qtbot.waitUntil(lambda: not window.findChildren(QProgressDialog))


def test_stop_leaves_the_fleet_as_it_was(window: MainWindow, qtbot: QtBot) -> None:
    taking = window.files.bring_in([demo_fleet_dir()])
    assert taking is not None
    with qtbot.waitSignal(taking.stopped):
        taking.bar.canceled.emit()
    assert window.desk is not None
    assert (window.desk.codes(), window.desk.undo_label) == ((), None)
    assert window.notice.sentence == "Stopped; nothing was brought in."
    qtbot.waitUntil(lambda: not window.findChildren(StoppableTask))


def test_tables_that_cannot_be_read_are_told_of(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "notes.csv").write_text("one,two\n1,2\n")
    taking = window.files.bring_in([tmp_path / "notes.csv"])
    assert taking is not None
    with qtbot.waitSignal(taking.failed):
        pass
    assert "notes.csv" in window.notice.sentence


@pytest.fixture
def german(window: MainWindow) -> Iterator[MainWindow]:
    """The open window in a program that speaks German."""
    speak(application(), "de")
    yield window
    speak(application(), "en")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (
            ["Model,Ch,Servo", "Windrush,five,TS-31"],
            'liste.csv, Zeile 2, Ch: "five"',
        ),
        (["one,two", "1,2"], "liste.csv, Zeile 1"),
    ],
    ids=["some taken", "nothing taken"],
)
def test_the_report_is_told_in_german(
    german: MainWindow, qtbot: QtBot, tmp_path: Path, lines: list[str], told: str
) -> None:
    (tmp_path / "liste.csv").write_text("\n".join(lines))
    taking = german.files.bring_in([tmp_path / "liste.csv"])
    assert taking is not None
    qtbot.waitUntil(lambda: told in german.notice.sentence)
    assert "Refused" not in german.notice.sentence
    qtbot.waitUntil(lambda: not german.findChildren(StoppableTask))


def test_a_window_closed_meanwhile_stops_the_work(window: MainWindow, qtbot: QtBot, tmp_path: Path) -> None:
    taking = window.files.bring_in([demo_fleet_dir()])
    assert taking is not None
    with qtbot.waitSignal(taking.stopped):
        window.let_go()
    again = files.open_and_read(str(tmp_path / "club.hangar"))
    assert again.aircraft == ()
    again.fleet.close()


def test_the_share_is_shown_and_the_work_is_done_beside_the_window(qtbot: QtBot, window: MainWindow) -> None:
    seen: list[object] = []
    half_done, go_on = threading.Event(), threading.Event()

    def work(heed: Heed) -> str:
        seen.append(threading.current_thread() is threading.main_thread())
        heed(0.5)
        half_done.set()
        assert go_on.wait(900)
        return "answer"

    task = StoppableTask(window, "Working…", work)
    task.start()
    qtbot.waitUntil(lambda: half_done.is_set() and task.bar.value() == 50)
    with qtbot.waitSignal(task.done) as blocker:
        go_on.set()
    assert (seen, blocker.args) == ([False], ["answer"])


def test_what_the_work_raises_is_told(qtbot: QtBot, window: MainWindow) -> None:
    def work(_heed: Heed) -> None:
        raise BadInput("No such table.")

    task = StoppableTask(window, "Working…", work)
    with qtbot.waitSignal(task.failed) as blocker:
        task.start()
    assert str(blocker.args[0]) == "No such table."
