"""What holds for every test: none rests on how fast the machine is."""

from __future__ import annotations

import builtins
import gc
import os
import sys
from collections.abc import Generator
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from hangar.base.units import SI_TRADE
from hangar.window.kit.collecting import collect_between_events, collect_when_due
from hangar.window.kit.words import read_in

PATIENCE_MS = int(os.environ.get("HANGAR_TEST_PATIENCE_S", "600")) * 1000
"""How long a test waits: it goes on as soon as that is there, a busy core only makes it late."""

os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
# Programs are started by the hundred: what one process has compiled is there for the others.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# A process for each core works already; more threads in each would wait for one another.
builtins.__import__ = getattr(builtins, "__orig_import__", builtins.__import__)
# PySide's own is twice as slow; the program does the same (``hangar.window.plain_import``).

settings.register_profile("hangar", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("hangar")


def pytest_collection_finish() -> None:
    """What was collected stays until the end: no look for what is left need go over it, nor often.

    Left at Python's own numbers, looking for cycles takes a sixth of the time of the tests.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_teardown() -> Generator[None, object, object]:
    """What a test showed is gone when it has ended: else the next ones style and fill it with their own.

    So are the units a test chose: the next ones read numbers in the usual ones.
    """
    try:
        return (yield)
    finally:
        read_in(SI_TRADE)
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        if QCoreApplication.instance() is not None:
            collect_when_due()


class PatientBot(QtBot):
    """Waits as long as it takes, where the one it stands for gives up after five seconds.

    It keeps every widget it is given until the test has ended: held weakly, one that only the test's function
    named would go while its events still wait.
    """

    def addWidget(self, widget: Any, **more: Any) -> None:
        self.__dict__.setdefault("kept", []).append(widget)
        super().addWidget(widget, **more)

    def waitUntil(self, callback: Any, *, timeout: int = PATIENCE_MS) -> None:
        super().waitUntil(callback, timeout=timeout)

    def waitSignal(self, signal: Any, *, timeout: int = PATIENCE_MS, **more: Any) -> Any:
        return super().waitSignal(signal, timeout=timeout, **more)

    def waitSignals(self, signals: Any, *, timeout: int = PATIENCE_MS, **more: Any) -> Any:
        return super().waitSignals(signals, timeout=timeout, **more)

    def waitExposed(self, widget: Any, *, timeout: int = PATIENCE_MS) -> Any:
        return super().waitExposed(widget, timeout=timeout)

    def waitActive(self, widget: Any, *, timeout: int = PATIENCE_MS) -> Any:
        return super().waitActive(widget, timeout=timeout)


@pytest.fixture
def qtbot(qapp: QApplication, request: pytest.FixtureRequest) -> QtBot:
    """The bot of every test of the window."""
    collect_between_events(qapp)
    return PatientBot(request)
