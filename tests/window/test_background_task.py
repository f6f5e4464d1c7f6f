"""Long work away from the window ends with exactly one answer."""

from __future__ import annotations

import gc
import threading

from PySide6.QtCore import QObject, QThreadPool
from pytestqt.qtbot import QtBot

from hangar.window.kit.background_task import BackgroundTask


def test_an_answer_comes_back_in_the_windows_thread(qtbot: QtBot) -> None:
    owner = QObject()
    places: list[int] = []

    def work() -> str:
        places.append(threading.get_ident())
        return "done"

    task = BackgroundTask(owner, work)
    answers: list[object] = []
    task.done.connect(lambda answer: answers.append((answer, threading.get_ident())))
    with qtbot.waitSignal(task.destroyed):
        task.start()
    assert answers == [("done", threading.get_ident())]
    assert places != [threading.get_ident()]


def test_a_failure_comes_back_as_such(qtbot: QtBot) -> None:
    owner = QObject()
    fault = ValueError("no paper")

    def work() -> None:
        raise fault

    task = BackgroundTask(owner, work)
    with qtbot.waitSignal(task.failed) as blocker:
        task.start()
    assert blocker.args == [fault]


def test_a_dropped_errand_says_nothing(qtbot: QtBot) -> None:
    owner = QObject()
    task = BackgroundTask(owner, lambda: "done")
    answers: list[object] = []
    task.done.connect(answers.append)
    task.drop()
    with qtbot.waitSignal(task.destroyed):
        task.start()
    assert answers == []


def test_the_collector_rests_while_errands_run_and_wakes_in_the_windows_thread(qtbot: QtBot) -> None:
    parent = QObject()
    asleep: list[bool] = []
    first, second = (BackgroundTask(parent, lambda: asleep.append(not gc.isenabled())) for _ in range(2))
    with qtbot.waitSignals([first.done, second.done]):
        first.start()
        second.start()
    qtbot.waitUntil(gc.isenabled)
    assert asleep == [True, True]


def test_an_answer_that_waits_for_the_window_is_not_told_once_it_is_dropped(qtbot: QtBot) -> None:
    owner = QObject()
    finished = threading.Event()
    task = BackgroundTask(owner, lambda: "stale")
    task.destroyed.connect(finished.set)
    answers: list[object] = []
    task.done.connect(answers.append)
    task.start()
    assert QThreadPool.globalInstance().waitForDone(5_000)
    task.drop()
    qtbot.waitUntil(finished.is_set)
    assert answers == []
