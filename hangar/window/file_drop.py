"""Files dropped on the window: a fleet is opened, tables and filled sheets are brought in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QMimeData, QObject
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QWidget

FLEET_ENDING = ".hangar"
TAKEN_ENDINGS = (".csv", ".tsv", ".txt", ".tab", ".xlsx", ".xlsm", ".ods", ".pdf", ".json")


class FileDrop(QObject):
    """Watches a window for files that are let go over it; other files are not taken."""

    def __init__(
        self,
        window: QWidget,
        open_fleet: Callable[[str], object],
        bring_in: Callable[[list[Path]], object],
    ) -> None:
        super().__init__(window)
        self._open_fleet, self._bring_in = open_fleet, bring_in
        window.setAcceptDrops(True)
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take files that are ours; everything else goes on."""
        if isinstance(event, QDragEnterEvent) and ours(event.mimeData()):
            event.acceptProposedAction()
            return True
        if event.type() == QEvent.Type.Drop and isinstance(event, QDropEvent):
            files = ours(event.mimeData())
            if files:
                event.acceptProposedAction()
                self.take(files)
                return True
        return super().eventFilter(watched, event)

    def take(self, files: Sequence[Path]) -> None:
        """Open the first fleet among them, or bring the others in."""
        fleets = [path for path in files if path.suffix.lower() == FLEET_ENDING]
        if fleets:
            self._open_fleet(str(fleets[0]))
        else:
            self._bring_in(list(files))


def ours(dragged: QMimeData) -> list[Path]:
    """The files among what is dragged that the program can read."""
    files = [Path(url.toLocalFile()) for url in dragged.urls() if url.isLocalFile()]
    return [path for path in files if path.suffix.lower() in (FLEET_ENDING, *TAKEN_ENDINGS)]
