"""Garbage is looked for between events only: in no other thread, and not while Qt goes over its widgets."""

from __future__ import annotations

import gc
import weakref
from threading import Thread

from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from hangar.window.kit.garbage import GarbageTimer, collect_between_events


class Ring(QWidget):
    """A widget that holds itself."""

    def __init__(self) -> None:
        super().__init__()
        self.held = self


def test_a_widget_that_holds_itself_outlives_any_work_and_goes_with_the_next_events(
    qtbot: QtBot, qapp: QApplication
) -> None:
    collect_between_events(qapp)
    collect_between_events(qapp)
    assert len(qapp.findChildren(GarbageTimer)) == 1
    gone = weakref.ref(Ring())

    def work() -> None:
        rings: list[list[object]] = []
        for _ in range(50_000):
            rings.append([])
            rings[-1].append(rings[-1])

    beside = Thread(target=work)
    beside.start()
    beside.join()
    work()
    assert not gc.isenabled()
    assert gone() is not None, "looked for in the middle of the work"
    qtbot.waitUntil(lambda: gone() is None)
