"""Long work away from the window: plain values in, plain values out, the answer comes as a signal."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QObject, QThreadPool, Signal
from shiboken6 import isValid

TURN_S = 0.0005
"""How long a task may keep the interpreter to itself while the window waits for it."""


class BackgroundTask(QObject):
    """One piece of work on the pool, owned by a long-lived parent.

    Signals, exactly one of them, once: ``done(answer)`` or ``failed(Exception)``; before it
    ``moved(object)`` for each ``report``.
    """

    done = Signal(object)
    failed = Signal(object)
    moved = Signal(object)

    def __init__(self, parent: QObject, work: Callable[[], object]) -> None:
        super().__init__(parent)
        self._job = _Job(work, self)
        self._post = _post()
        self._dropped = False

    def start(self) -> None:
        """Begin; signals arrive in the window's own thread."""
        job, post = self._job, self._post
        post.begin(job)
        QThreadPool.globalInstance().start(lambda: _run(job, post))

    def report(self, step: object) -> None:
        """Called by the work, on the pool: how far it is."""
        self._post.moved.emit(self._job, step)

    def drop(self) -> None:
        """Nobody wants the answer any more."""
        self._dropped = True

    def show_step(self, step: object) -> None:
        """Pass on how far the work is."""
        if not self._dropped:
            self.moved.emit(step)

    def take(self, answer: object, well: bool) -> None:
        """Pass the answer on; it may have been dropped while it waited for the window."""
        if not self._dropped:
            (self.done if well else self.failed).emit(answer)
        self.deleteLater()


@dataclass(eq=False)
class _Job:
    """What a thread of the pool holds: it must never be the last to let go of anything that Qt owns."""

    work: Callable[[], object] | None
    task: BackgroundTask | None


def _run(job: _Job, post: _Post) -> None:
    """On the pool."""
    try:
        answer = job.work() if job.work is not None else None
    except Exception as fault:  # noqa: BLE001 a border: what went wrong is told in the window
        post.came.emit(job, fault, False)
    else:
        post.came.emit(job, answer, True)


class _Post(QObject):
    """Carries answers from the pool to the window's thread.

    It lives as long as the application, so that no thread speaks through something that the window
    clears away at the same moment: a task goes with the page or fleet that owns it. While any work
    runs the threads take shorter turns, so that the window does not stutter.
    """

    came = Signal(object, object, bool)
    moved = Signal(object, object)

    def __init__(self, parent: QObject | None) -> None:
        super().__init__(parent)
        self._running: list[_Job] = []
        self.came.connect(self._hand_over)
        self.moved.connect(self._show_step)

    def begin(self, job: _Job) -> None:
        """A task begins."""
        if not self._running:
            self._turn_s = sys.getswitchinterval()
            sys.setswitchinterval(TURN_S)
        self._running.append(job)

    def _hand_over(self, job: _Job, answer: object, well: bool) -> None:
        self._running.remove(job)
        if not self._running:
            sys.setswitchinterval(self._turn_s)
        task, job.task, job.work = job.task, None, None
        if task is not None and isValid(task):
            task.take(answer, well)

    def _show_step(self, job: _Job, step: object) -> None:
        if job.task is not None and isValid(job.task):
            job.task.show_step(step)


_shared: list[_Post] = []


def _post() -> _Post:
    """The one of the running application, made in the window's thread."""
    if not _shared or not isValid(_shared[0]):
        _shared[:] = [_Post(QCoreApplication.instance())]
    return _shared[0]
