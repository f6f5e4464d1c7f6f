"""Panes whose widths are remembered on this seat."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QSplitter, QWidget

from hangar.window.kit.view_settings import ViewSettings


class KeptSplitter(QSplitter):
    """A row or column of panes; what the keeper made of it is found again at the next start."""

    def __init__(
        self, view: ViewSettings, name: str, way: Qt.Orientation, parent: QWidget | None = None
    ) -> None:
        super().__init__(way, parent)
        self._view = view
        self._name = f"panes/{name}"
        self._is_restored = False
        self.setChildrenCollapsible(False)
        self.splitterMoved.connect(lambda _at, _which: view.keep(self._name, self.sizes()))

    @property
    def kept_sizes(self) -> list[int]:
        """The sizes that were chosen here; empty before any were."""
        kept = self._view.kept(self._name, [])
        are_sizes = isinstance(kept, list) and len(kept) == self.count()
        return [int(size) for size in kept] if are_sizes and all(isinstance(s, int) for s in kept) else []

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self._is_restored:
            self._is_restored = True
            if self.kept_sizes:
                self.setSizes(self.kept_sizes)
