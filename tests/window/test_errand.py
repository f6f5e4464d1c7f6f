"""Long work away from the window ends with exactly one answer."""

from __future__ import annotations

import gc
import threading

from PySide6.QtCore import QObject, QThreadPool
from pytestqt.qtbot import QtBot

from hangar.window.kit.errand import Errand


def test_an_answer_comes_back_in_the_windows_thread(qtbot: QtBot) -> None:
    owner = QObject()
    places: list[int] = []

    def work() -> str:
        places.append(threading.get_ident())
        return "done"

    errand = Errand(owner, work)
    answers: list[object] = []
    errand.done.connect(lambda answer: answers.append((answer, threading.get_ident())))
    with qtbot.waitSignal(errand.destroyed):
        errand.start()
    assert answers == [("done", threading.get_ident())]
    assert places != [threading.get_ident()]


def test_a_failure_comes_back_as_such(qtbot: QtBot) -> None:
    owner = QObject()
    fault = ValueError("no paper")

    def work() -> None:
        raise fault

    errand = Errand(owner, work)
    with qtbot.waitSignal(errand.failed) as told:
        errand.start()
    assert told.args == [fault]


def test_a_dropped_errand_says_nothing(qtbot: QtBot) -> None:
    owner = QObject()
    errand = Errand(owner, lambda: "done")
    answers: list[object] = []
    errand.done.connect(answers.append)
    errand.drop()
    with qtbot.waitSignal(errand.destroyed):
        errand.start()
    assert answers == []


def test_the_collector_rests_while_errands_run_and_wakes_in_the_windows_thread(qtbot: QtBot) -> None:
    parent = QObject()
    asleep: list[bool] = []
    first, second = (Errand(parent, lambda: asleep.append(not gc.isenabled())) for _ in range(2))
    with qtbot.waitSignals([first.done, second.done]):
        first.start()
        second.start()
    qtbot.waitUntil(gc.isenabled)
    assert asleep == [True, True]


def test_an_answer_that_waits_for_the_window_is_not_told_once_it_is_dropped(qtbot: QtBot) -> None:
    owner = QObject()
    finished = threading.Event()
    errand = Errand(owner, lambda: "stale")
    errand.destroyed.connect(finished.set)
    answers: list[object] = []
    errand.done.connect(answers.append)
    errand.start()
    assert QThreadPool.globalInstance().waitForDone(5_000)
    errand.drop()
    qtbot.waitUntil(finished.is_set)
    assert answers == []
