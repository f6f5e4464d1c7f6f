"""Two plan views beside each other: the aircraft now, and as a rung would leave it."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen
from PySide6.QtWidgets import QWidget

from hangar.parts import Aircraft
from hangar.parts.outlines import first_place, outline_of
from hangar.rules.finding import Finding, Level
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.outlines import draw_outline
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_word, say

_SIDE = 21.0


class BeforeAfter(DrawnPicture):
    """The dots wear the gravest open level of their position; a ring marks what the rung changes."""

    WISHED = (34, 14)
    LEAST = (22, 8)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Before and after"), parent)
        self._before: tuple[Aircraft, tuple[Finding, ...]] | None = None
        self._after: tuple[Aircraft, tuple[Finding, ...], frozenset[str]] | None = None
        self._title = ""

    def show_pair(
        self,
        before: tuple[Aircraft, tuple[Finding, ...]],
        after: tuple[Aircraft, tuple[Finding, ...]],
        changed: Iterable[str],
        title: str,
    ) -> None:
        """Show an aircraft before and after, and mark the positions that change."""
        self._before, self._title = before, title
        self._after = (*after, frozenset(changed))
        self.look_again()

    def look_again(self) -> None:
        """Tell what changes in words, too."""
        if self._before is not None and self._after is not None:
            old, new = levels_at(self._before[1]), levels_at(self._after[1])
            words = "; ".join(
                f"{code}: {_word(old.get(code))} → {_word(new.get(code))}" for code in sorted(self._after[2])
            )
            self.setAccessibleDescription(words)
            self.setToolTip(plain_tip(words))
        self.update()

    def draw(self, painter: QPainter) -> None:
        if self._before is None or self._after is None:
            return
        look, line = self._view.look, float(painter.fontMetrics().height())
        rect = QRectF(self.rect())
        half = rect.width() / 2
        bold = QFont(self.font())
        bold.setBold(True)
        for at, (title, aircraft, findings, changed) in enumerate(
            (
                (say("Now"), *self._before, frozenset[str]()),
                (self._title, *self._after),
            )
        ):
            box = QRectF(rect.left() + at * half, rect.top(), half, rect.height())
            painter.setFont(bold)
            painter.setPen(QColor(look.ink))
            painter.drawText(box.adjusted(10, 6, -10, 0), Qt.AlignmentFlag.AlignLeft, title)
            painter.setFont(self.font())
            inner = box.adjusted(line, line * 1.5, -line, -line * 0.6)
            self._draw_one(painter, inner, aircraft, findings, changed)
        painter.setPen(QPen(QColor(look.line), 1))
        painter.drawLine(QPointF(half, rect.top() + 8), QPointF(half, rect.bottom() - 8))

    def _draw_one(
        self, painter: QPainter, box: QRectF, aircraft: Aircraft, findings: tuple[Finding, ...],
        changed: frozenset[str],
    ) -> None:  # fmt: skip
        look, outline = self._view.look, outline_of(aircraft)
        draw_outline(painter, box, outline, look)
        scale = min(box.width() / outline.width, box.height() / outline.height)
        origin = box.center() - QPointF(outline.width * scale / 2, outline.height * scale / 2)
        levels = levels_at(findings)
        bold = QFont(self.font())
        bold.setBold(True)
        painter.setFont(bold)
        for number, fit in enumerate(aircraft.fits, 1):
            across, along = first_place(outline, fit.position)
            there = origin + QPointF(across * outline.width * scale, along * outline.height * scale)
            level = levels.get(fit.code)
            disc = QRectF(there.x() - _SIDE / 2, there.y() - _SIDE / 2, _SIDE, _SIDE)
            if fit.code in changed:
                painter.setPen(QPen(QColor(look.accent), 2.4))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(disc.adjusted(-4, -4, 4, 4))
            colours = None if level is None else look.levels[level.value]
            painter.setPen(QPen(QColor(look.ink if colours is None else colours.edge), 1.4))
            painter.setBrush(QColor(look.paper if colours is None else colours.fill))
            painter.drawEllipse(disc)
            painter.setPen(QColor(look.ink if colours is None else colours.sign))
            label = fit.position.channel or number
            painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, str(label))


def levels_at(findings: Iterable[Finding]) -> dict[str, Level]:
    """The gravest open warning or caution at each code that findings are about."""
    levels: dict[str, Level] = {}
    for finding in findings:
        for part in finding.with_folded():
            if not part.is_open or part.level not in (Level.WARNING, Level.CAUTION):
                continue
            for code in part.about:
                if code not in levels or part.level.rank < levels[code].rank:
                    levels[code] = part.level
    return levels


def _word(level: Level | None) -> str:
    return say("nothing open") if level is None else level_word(level)
