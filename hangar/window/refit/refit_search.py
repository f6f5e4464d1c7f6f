"""The planner at work beside the window: progress comes as signals, Stop is asked often."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from hangar.answers.reading import Progress, Stop
from hangar.base.text import Text
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.words import put

if TYPE_CHECKING:
    from hangar.parts import Aircraft, Library, PlanLine
    from hangar.refit.answer import Ladder
    from hangar.refit.fleet import FleetAnswer
    from hangar.refit.request import RefitRequest
    from hangar.refit.stages import Stages


class RefitSearch(QObject):
    """One search at a time.

    Signals: ``moved(share, words)``; then ``found(answer)`` or ``failed(Exception)``; ``ended()`` last.
    """

    moved = Signal(float, object)
    found = Signal(object)
    failed = Signal(object)
    ended = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._task: BackgroundTask | None = None
        self._stop = threading.Event()

    @property
    def is_running(self) -> bool:
        """Whether a search is under way."""
        return self._task is not None

    def start(self, work: Callable[[Progress, Stop], object]) -> None:
        """Begin a search; one that runs is stopped and its answer dropped."""
        self.leave()
        stop = threading.Event()
        self._stop = stop

        def tell(share: float, words: Text | str) -> None:
            task.report((share, words))

        task = BackgroundTask(self, lambda: work(tell, stop.is_set))
        task.moved.connect(lambda step: None if stop.is_set() else self.moved.emit(step[0], put(step[1])))
        task.done.connect(self._take)
        task.failed.connect(self._tell)
        self._task = task
        task.start()

    def stop(self) -> None:
        """Ask the search to end with what it has."""
        self._stop.set()

    def leave(self) -> None:
        """Stop, and take no answer any more."""
        self._stop.set()
        if self._task is not None:
            self._task.drop()
            self._task = None

    def _take(self, answer: object) -> None:
        self._task = None
        self.found.emit(answer)
        self.ended.emit()

    def _tell(self, fault: Exception) -> None:
        self._task = None
        self.failed.emit(fault)
        self.ended.emit()


def search_ladder(
    aircraft: Aircraft, library: Library, asking: RefitRequest, progress: Progress, stop: Stop
) -> Ladder:
    """The ladder of one aircraft."""
    from hangar.refit.ladder import ladder

    return ladder(aircraft, library, asking, progress=progress, stop=stop)


def search_fleet(
    fleet: tuple[Aircraft, ...], library: Library, asking: RefitRequest, progress: Progress, stop: Stop
) -> FleetAnswer:
    """One budget over the whole fleet."""
    from hangar.refit.fleet import fleet as asked

    return asked(fleet, library, asking, progress=progress, stop=stop)


def search_stages(
    aircraft: Aircraft,
    lines: tuple[PlanLine, ...],
    elsewhere: Mapping[str, tuple[PlanLine, ...]],
    budgets: tuple[float, ...],
    library: Library,
    asking: RefitRequest,
    progress: Progress,
    stop: Stop,
) -> Stages:
    """The stages of a refit."""
    from hangar.refit.stages import lines_in_stages

    return lines_in_stages(aircraft, lines, library, asking, budgets, elsewhere, progress=progress, stop=stop)
