"""The "How?" panel: shows the working of the number that was asked about."""

from __future__ import annotations

from PySide6.QtWidgets import QDockWidget, QTextBrowser, QWidget

from hangar.base.figure import Figure
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say
from hangar.window.kit.working_text import working_html


class WorkingPanel(QDockWidget):
    """Opens beside the screens when the keeper asks how a number was made."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("working")
        self.setWindowTitle(say("How?"))
        self._desk = desk
        self._figure: Figure | None = None
        self.page = QTextBrowser()
        self.page.setAccessibleName(say("Working of the chosen number"))
        self.page.document().setDocumentMargin(14)
        self.setWidget(self.page)
        self._make_room()
        self.hide()
        desk.how_asked.connect(self.explain)
        desk.view.changed.connect(self._write)
        desk.view.changed.connect(self._make_room)

    def explain(self, figure: Figure) -> None:
        """Show how a number was made."""
        self._figure = figure
        self._write()
        self.show()

    def _make_room(self) -> None:
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 40)

    def _write(self) -> None:
        if self._figure is not None:
            self.page.setHtml(working_html(self._figure, self._desk.view.reader))
