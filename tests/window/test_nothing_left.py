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
        f"{type(get_object).__module__}.{type(get_object).__name__}"
        for get_object in gc.get_objects()
        if isinstance(get_object, kind)
        and isValid(get_object)
        and type(get_object).__module__.startswith("hangar")
    )


def named(objects: list[QObject]) -> Counter[str]:
    return Counter(type(thing).__name__ for thing in objects)


def test_going_round_opening_again_and_closing_leave_nothing_behind(window: MainWindow, qtbot: QtBot) -> None:
    threads = threading.active_count()
    rooms = opened_demo(window, qtbot)
    # Pages within pages are built when they are first seen, so two rounds reach them all.
    for _round in range(2):
        go_everywhere(rooms)
    settled(qtbot)
    first, before = ours(QWidget), named(window.findChildren(QObject))

    go_everywhere(rooms)
    settled(qtbot)
    assert named(window.findChildren(QObject)) - before == Counter()

    rooms = opened_demo(window, qtbot)
    go_everywhere(rooms)
    settled(qtbot)
    assert ours(QWidget) - first == Counter()

    rooms.open_quick_log()
    for dialog in window.findChildren(QDialog):
        dialog.close()
    window.let_go()
    window.show_welcome()
    settled(qtbot)
    running = [timer for timer in window.findChildren(QTimer) if timer.isActive()]
    assert not running, [(type(timer.parent()).__name__, timer.interval()) for timer in running]
    dialogs = [widget for widget in QApplication.topLevelWidgets() if isinstance(widget, QDialog)]
    assert not [dialog for dialog in dialogs if dialog.isVisible()]
    assert threading.active_count() <= threads
