"""The verdict at the head of a page: a sentence in the colours of its level, its mark, an act or two."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hangar.rules.finding import Finding, Level
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.looks import LEAD
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_word, put, say

_BAR, _CORNER = 4.0, 6.0


class VerdictBar(QWidget):
    """A sentence, what stands under it in body print, and buttons at the right.

    Without a level it has neither mark nor colour: nothing here stands for "good".
    """

    def __init__(self, view: ViewSettings, *acts: QPushButton, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.level: Level | None = None
        self.title = PlainLabel(wordWrap=True)
        self.more = PlainLabel(wordWrap=True)
        self._mark = _Mark(view)
        for label in (self.title, self.more):
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            label.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        words = QVBoxLayout()
        words.setSpacing(2)
        words.addWidget(self.title)
        words.addWidget(self.more)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 12, 8)
        row.setSpacing(10)
        row.addWidget(self._mark)
        row.addLayout(words, 1)
        for act in acts:
            row.addWidget(act)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        view.changed.connect(self._dress)
        self._dress()

    @property
    def sentence(self) -> str:
        """The sentence shown."""
        return str(self.title.text())

    def tell(self, level: Level | None, sentence: str, more: str = "") -> None:
        """Show a verdict."""
        self.level = level
        self.title.setText(sentence)
        self.more.setText(more)
        self.more.setVisible(bool(more))
        self._mark.show_level(level)
        word = f"{level_word(level)}: " if level is not None else ""
        self.setAccessibleName(say("Verdict"))
        self.setAccessibleDescription(f"{word}{sentence} {more}".strip())
        self.title.setAccessibleName(f"{word}{sentence}")
        self._dress()

    def tell_worst(self, findings: Sequence[Finding], nothing: str, rest: Callable[[int], str]) -> None:
        """Show the consequence of the gravest of these findings.

        Args:
            nothing: what is said where there is none.
            rest: says how many more there are.
        """
        if not findings:
            self.tell(None, nothing)
            return
        worst = min(findings, key=lambda finding: finding.level.rank)
        more = [put(worst.message)] if worst.consequence else []
        if len(findings) > 1:
            more.append(rest(len(findings) - 1))
        self.tell(worst.level, put(worst.consequence or worst.message), " ".join(more))

    def _dress(self) -> None:
        look = self._view.look
        font = QFont(self.font())
        font.setBold(True)
        font.setPointSizeF(self._view.points * LEAD)
        if font != self.title.font():
            self.title.setFont(font)
        ink = look.ink if self.level is None else look.levels[self.level].words
        # A palette set on a label gives way to the style sheet of the program; a sheet of its own does not.
        self.title.setStyleSheet(f"color: {ink}; background: transparent;")
        self.more.setStyleSheet(f"color: {look.ink}; background: transparent;")
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_mark"):
            self._dress()

    def paintEvent(self, _event: QPaintEvent) -> None:
        look = self._view.look
        colours = None if self.level is None else look.levels[self.level]
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QPen(QColor(colours.edge if colours else look.hair), 1))
        painter.setBrush(QColor(colours.wash if colours else look.paper))
        painter.drawRoundedRect(room, _CORNER, _CORNER)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(colours.edge if colours else look.line))
        bar = room.adjusted(0, 1, 0, -1)
        bar.setWidth(_BAR)
        painter.drawRect(bar)
        painter.end()


class _Mark(QWidget):
    """The mark of a level, about as high as a line and a half."""

    def __init__(self, view: ViewSettings) -> None:
        super().__init__()
        self._view = view
        self._level: Level | None = None
        self.hide()

    def show_level(self, level: Level | None) -> None:
        """Show the mark of this level."""
        self._level = level
        side = round(self.fontMetrics().height() * 1.5)
        self.setFixedSize(side, side)
        self.setVisible(level is not None)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._level is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw_mark(painter, QRectF(self.rect()).adjusted(1, 1, -1, -1), self._level, self._view.look)
        painter.end()
