"""Start, Stop and progress of a page on which the planner works: one rule for all of them."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QProgressBar, QPushButton

from hangar.base.text import Text
from hangar.window.kit.words import put
from hangar.window.refit.refit_search import RefitSearch


class SearchState(QObject):
    """Shows how far a search is, in the language of the window, and which button can be pressed."""

    def __init__(
        self, search: RefitSearch, start: QPushButton, stop: QPushButton, progress: QProgressBar
    ) -> None:
        super().__init__(search)
        self._search, self._start, self._stop, self._progress = search, start, stop, progress
        search.moved.connect(self._move)

    def show_running(self) -> bool:
        """Show whether a search is under way, and return it."""
        running = self._search.is_running
        self._start.setEnabled(not running)
        self._stop.setEnabled(running)
        self._progress.setVisible(running)
        return running

    def _move(self, share: float, words: Text | str) -> None:
        self._progress.setValue(round(100 * share))
        self._progress.setFormat(put(words))
