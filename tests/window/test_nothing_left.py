"""Closing a fleet leaves nothing behind: no widget, no running timer, no thread, no dialog."""

from __future__ import annotations

import gc
import threading
from collections import Counter

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from hangar.window.main_window import MainWindow
from hangar.window.rooms import Rooms
from tests.window.conftest import opened_demo
from tests.window.pages import turn, turned_by


def go_everywhere(rooms: Rooms) -> None:
    for number in range(len(rooms.titles)):
        rooms.enter(number)
        for bar in turned_by(rooms.room(number)):
            for at in range(bar.count()):
                turn(bar, at)
                QApplication.processEvents()
    rooms.enter(0)


def settled(qtbot: QtBot) -> None:
    """Wait until the pool is idle and what waits to be deleted is gone."""
    qtbot.waitUntil(lambda: QThreadPool.globalInstance().activeThreadCount() == 0)
    for _round in range(3):
        QApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        gc.collect()


def ours(kind: type[QObject]) -> Counter[str]:
    """Living objects of a Qt kind that Hangar made, by the name of their class."""
    return Counter(
        f"{type(one).__module__}.{type(one).__name__}"
        for one in gc.get_objects()
        if isinstance(one, kind) and isValid(one) and type(one).__module__.startswith("hangar")
    )


def test_going_round_again_makes_no_more_widgets(window: MainWindow, qtbot: QtBot) -> None:
    rooms = opened_demo(window, qtbot)
    # Pages within pages are built when they are first seen, so two rounds reach them all.
    for _round in range(2):
        go_everywhere(rooms)
    settled(qtbot)
    before = Counter(type(one).__name__ for one in window.findChildren(QObject))
    go_everywhere(rooms)
    settled(qtbot)
    after = Counter(type(one).__name__ for one in window.findChildren(QObject))
    assert after - before == Counter()


def test_opening_the_fleet_again_leaves_nothing_of_the_first(window: MainWindow, qtbot: QtBot) -> None:
    go_everywhere(opened_demo(window, qtbot))
    settled(qtbot)
    first = ours(QWidget)
    go_everywhere(opened_demo(window, qtbot))
    settled(qtbot)
    assert ours(QWidget) - first == Counter()


def test_closing_leaves_no_thread_no_timer_and_no_dialog(window: MainWindow, qtbot: QtBot) -> None:
    threads = threading.active_count()
    rooms = opened_demo(window, qtbot)
    go_everywhere(rooms)
    rooms.open_quick_log()
    for dialog in window.findChildren(QDialog):
        dialog.close()
    window.let_go()
    window.show_welcome()
    settled(qtbot)
    running = [one for one in window.findChildren(QTimer) if one.isActive()]
    assert not running, [(type(one.parent()).__name__, one.interval()) for one in running]
    assert not [one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog) and one.isVisible()]
    assert threading.active_count() <= threads
