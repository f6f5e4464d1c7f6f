"""What a card shows of one aircraft, and how it is drawn; the first thing on screen, so it needs little."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QImage, QPainter, QPainterPath, QPen

from hangar.base.outlines import load_outline
from hangar.window.kit.looks import Look
from hangar.window.kit.outlines import draw_outline
from hangar.window.kit.words import level_count, say


@dataclass(frozen=True, kw_only=True)
class Card:
    """What a card shows of one aircraft, all in words; ``counts`` are open findings by level.

    ``worst`` is what the gravest open warning will make it do; empty where none is open.

    The last four are not written on it; cards are chosen and ordered by them.
    """

    code: str
    name: str
    kind: str
    outline: str
    state: str
    verdict: str
    flown: str
    due: str = ""
    counts: tuple[tuple[str, int], ...] = ()
    worst: str = ""
    state_key: str = ""
    is_overdue: bool = False
    due_on: date | None = None
    flown_on: date | None = None

    @property
    def spoken(self) -> str:
        """The card read out."""
        counts = ", ".join(level_count(level, count) for level, count in self.counts)
        parts = (
            f"{self.code} {self.name}",
            self.kind,
            self.state,
            self.verdict,
            self.worst,
            counts,
            self.flown,
            self.due,
        )
        return ". ".join(part for part in parts if part)


def card_size(room: int, font: QFont) -> QSize:
    """How large each card is when as many as fit share a width.

    Args:
        room: the width there is, pixels.
        font: the font of the cards.
    """
    metrics = QFontMetrics(font)
    least = metrics.horizontalAdvance(say("No open warnings on the data entered")) * 1.5
    abreast = max(1, int(room // least))
    return QSize(room // abreast, round(metrics.height() * 10) + 42)


def filter_height(metrics: QFontMetrics) -> int:
    """How high the row above the cards is; the first look leaves as much room."""
    return metrics.height() + 24


def draw_card(
    painter: QPainter,
    place: QRectF,
    card: Card,
    look: Look,
    font: QFont,
    edge: QPen,
    photo: QImage | None = None,
) -> None:
    """Draw a card into its place, with a pen for its edge; the outline where there is no photo."""
    box = place.adjusted(6, 6, -6, -6)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(edge)
    painter.setBrush(QColor(look.paper))
    painter.drawRoundedRect(box, 10, 10)
    picture = box.adjusted(10, 12, 0, -12)
    picture.setWidth(box.width() * 0.24)
    if photo is None:
        draw_outline(painter, picture, load_outline(card.outline), look)
    else:
        _draw_photo(painter, picture, photo)
    _write(painter, card, box.adjusted(box.width() * 0.30, 12, -12, -10), look, font)
    painter.restore()


def _draw_photo(painter: QPainter, room: QRectF, photo: QImage) -> None:
    """The whole photo, as large as it fits, with round corners."""
    size = QSizeF(photo.size()).scaled(room.size(), Qt.AspectRatioMode.KeepAspectRatio)
    place = QRectF(room.topLeft(), size)
    place.moveCenter(room.center())
    shape = QPainterPath()
    shape.addRoundedRect(place, 5, 5)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.setClipPath(shape)
    painter.drawImage(place, photo)
    painter.restore()


def _write(painter: QPainter, card: Card, room: QRectF, look: Look, font: QFont) -> None:
    step = QFontMetrics(font).height() * 1.12
    title = f"{card.code}  {card.name}"
    top = _line(painter, title, room, room.top(), _sized(font, 1.18, True), look.ink) + 2
    top = _line(painter, card.kind, room, top, font, look.soft)
    top = _line(painter, card.state, room, top + step * 0.25, _sized(font, 1.0, True), look.ink)
    if card.counts:
        top = _counts(painter, card, room.translated(0, top + step * 0.1 - room.top()), look, font)
    small = _sized(font, 0.92, False)
    line = QFontMetrics(small).height()
    left = QRectF(room.left(), top, room.width(), room.bottom() - 2 * line - top)
    if "warning" in dict(card.counts):
        _lines(painter, card.worst, left, small, look.ink)
    else:
        _lines(painter, card.verdict, left, font, look.soft)
    _line(painter, card.flown, room, room.bottom() - 2 * line, small, look.soft)
    _line(painter, card.due, room, room.bottom() - line, small, look.soft)


def _counts(painter: QPainter, card: Card, room: QRectF, look: Look, font: QFont) -> float:
    """Marks with their counts in words, two in a row; returns where the next line begins."""
    from hangar.window.kit.level_marks import draw_mark

    top = room.top()
    size = float(QFontMetrics(font).height())
    across, left = room.width() / 2, room.left()
    for at, (level, count) in enumerate(card.counts):
        x, y = left + across * (at % 2), top + size * 1.28 * (at // 2)
        draw_mark(painter, QRectF(x, y, size, size), level, look)
        cell = QRectF(x + size * 1.35, y, across - size * 1.35, size)
        strong = _sized(font, 1.0, level == "warning")
        _line(painter, level_count(level, count), cell, y, strong, look.levels[level].words)
    return top + size * 1.28 * ((len(card.counts) + 1) // 2)


def _sized(font: QFont, factor: float, bold: bool) -> QFont:
    sized = QFont(font)
    sized.setPointSizeF(font.pointSizeF() * factor)
    sized.setBold(bold)
    return sized


def _lines(painter: QPainter, text: str, room: QRectF, font: QFont, colour: str) -> None:
    """Write on as many lines as there is room for; on one, cut, where there is no more."""
    flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
    whole = QFontMetrics(font).boundingRect(room.toRect(), int(flags), text)
    if whole.height() > room.height() or whole.width() > room.width():
        _line(painter, text, room, room.top(), font, colour)
        return
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawText(room, int(flags), text)


def _line(painter: QPainter, text: str, room: QRectF, top: float, font: QFont, colour: str) -> float:
    """Write one line, cut with an ellipsis where it is too long; returns where the next one begins."""
    painter.setFont(font)
    painter.setPen(QColor(colour))
    metrics = QFontMetrics(font)
    shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
    painter.drawText(
        QRectF(room.left(), top, room.width(), metrics.height()),
        Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
        shown,
    )
    return top + metrics.height()
