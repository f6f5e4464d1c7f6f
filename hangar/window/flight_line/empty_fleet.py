"""The Flight Line of a fleet without aircraft: three ways on."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from hangar.base.outlines import OUTLINE_NAMES, load_outline
from hangar.window.kit.desk import Desk
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.outlines import outline_pen, path_of
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say

NARROW = 800
"""Below so many units of width the three ways stand one below the other."""


class Row(QWidget):
    """The six plan views side by side, as drawings of what may stand here."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        view.changed.connect(self.update)
        self.setAccessibleName(say("Drawings of six kinds of aircraft"))

    def sizeHint(self) -> QSize:
        return QSize(600, 220)

    def minimumSizeHint(self) -> QSize:
        return QSize(200, 60)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._view.look
        wide = self.width() / len(OUTLINE_NAMES)
        for at, name in enumerate(OUTLINE_NAMES):
            outline = load_outline(name)
            room = QRectF(at * wide + 8, 8, wide - 16, self.height() - 16)
            scale = min(room.width() / outline.width, room.height() / outline.height)
            painter.save()
            painter.translate(room.center() - QPointF(outline.width, outline.height) * scale / 2)
            painter.scale(scale, scale)
            for part in outline.parts:
                pen = outline_pen(part, look, 1.3)
                pen.setCosmetic(True)
                painter.setPen(pen)
                painter.setBrush(QColor(look.outline) if part.filled else Qt.BrushStyle.NoBrush)
                painter.drawPath(path_of(part))
            painter.restore()


class EmptyFleet(QScrollArea):
    """What stands in the place of a page that has no aircraft to show; its ways go through the desk."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        view = self._view = desk.view
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        page = QWidget()
        title = PlainLabel(say("No aircraft yet. Start with the one you would fly next."), wordWrap=True)
        title.setObjectName("lead")
        self.ways = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self.ways.setSpacing(12)
        self.new = self._way(
            say("Build one from its layout"),
            say("Choose class and layout; positions, channels and surfaces appear as a drawing to correct."),
            say("&New aircraft…"),
            is_main=True,
        )
        self.table = self._way(
            say("Bring your own list"),
            say("Any spreadsheet or a folder of tables; what is clear goes in, the rest is asked."),
            say("&Bring in tables…"),
        )
        self.demo = self._way(
            say("Look round first"),
            say("Invented aircraft with invented faults, in a file of their own."),
            say("Open the &invented fleet"),
        )
        for button, way in ((self.new, "kit"), (self.table, "table"), (self.demo, "demo")):
            button.clicked.connect(lambda _on=False, way=way: desk.entry_wanted.emit(way))
        for button in (self.new, self.table):
            button.setEnabled(not desk.read_only)
        column = QVBoxLayout(page)
        column.setContentsMargins(16, 16, 16, 16)
        column.setSpacing(12)
        column.addWidget(title)
        column.addWidget(Row(view), 1)
        column.addLayout(self.ways)
        self.setWidget(page)
        hand_focus(self, self.new)

    def _way(self, title: str, about: str, act: str, *, is_main: bool = False) -> QPushButton:
        card = QFrame()
        card.setObjectName("pane")
        head = PlainLabel(title, wordWrap=True)
        head.setObjectName("lead")
        words = PlainLabel(about, wordWrap=True)
        button = QPushButton(act)
        button.setAutoDefault(True)
        if is_main:
            button.setProperty("main", True)
        column = QVBoxLayout(card)
        column.setContentsMargins(14, 12, 14, 12)
        column.addWidget(head)
        column.addWidget(words)
        column.addStretch(1)
        column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.ways.addWidget(card, 1)
        return button

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]
        is_narrow = self.width() * 10 / self._view.points < NARROW
        way = QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight
        self.ways.setDirection(way)
