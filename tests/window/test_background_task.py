"""Long work away from the window ends with exactly one answer."""

from __future__ import annotations

import gc
import subprocess
import sys
import threading

from PySide6.QtCore import QObject, QThreadPool
from PySide6.QtWidgets import QLabel
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


_OWNERS_CLEARED_AWAY = """
from PySide6.QtCore import QObject, QThreadPool
from PySide6.QtWidgets import QApplication
from shiboken6 import delete
from hangar.window.kit.background_task import BackgroundTask

app = QApplication([])
QThreadPool.globalInstance().setMaxThreadCount(8)
for number in range(1000):
    owner = QObject()
    for _ in range(6):
        task = BackgroundTask(owner, lambda: task.report(1))
        task.start()
    if number % 2:
        app.processEvents()
    delete(owner)
    app.processEvents()
QThreadPool.globalInstance().waitForDone()
"""


def test_a_page_may_be_cleared_away_while_its_work_speaks() -> None:
    # In a process of its own: a signal through something that goes at the same moment ends the program.
    command = [sys.executable, "-c", _OWNERS_CLEARED_AWAY]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_the_collector_runs_in_the_windows_thread_alone(qtbot: QtBot) -> None:
    owner = QObject()
    task = BackgroundTask(owner, gc.isenabled)
    with qtbot.waitSignal(task.done) as blocker:
        task.start()
    assert blocker.args == [False]
    kept = [[] for _ in range(gc.get_threshold()[0] + 1)]  # type: ignore[var-annotated]
    label = QLabel("in a cycle")
    label.myself = label  # type: ignore[attr-defined]
    with qtbot.waitSignal(label.destroyed):
        del label
    assert kept


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
