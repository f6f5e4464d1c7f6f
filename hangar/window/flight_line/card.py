"""What a card shows of one aircraft, and how it is drawn; the first thing on screen, so it needs little."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QImage, QPainter, QPainterPath, QPen

from hangar.base.outlines import load_outline
from hangar.window.kit.looks import CAP, LEAD, Look
from hangar.window.kit.outlines import draw_grid, draw_outline
from hangar.window.kit.words import level_count

LEAST_WIDE = 19
"""A card is never narrower, in heights of its print."""


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
    spots: tuple[tuple[float, float, str], ...] = ()
    """Where on the outline something is found: across and along it, and the gravest level there."""
    is_held: bool = False
    pill: str = ""
    """The state in a word or two; ``state`` says why."""
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
    abreast = max(1, int(room // (metrics.height() * LEAST_WIDE)))
    return QSize(room // abreast, round(metrics.height() * 9.6) + 12)


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
    box = place.adjusted(4, 4, -4, -4)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(edge)
    painter.setBrush(QColor(look.paper))
    painter.drawRoundedRect(box, 6, 6)
    sheet = box.adjusted(7, 7, 0, -7)
    sheet.setWidth(min(box.width() * 0.36, sheet.height()))
    draw_grid(painter, sheet, look)
    picture = sheet.adjusted(7, 7, -7, -7)
    if photo is None:
        outline = load_outline(card.outline)
        draw_outline(painter, picture, outline, look)
        _draw_spots(painter, picture, outline.width, outline.height, card, look, font)
    else:
        _draw_photo(painter, picture, photo)
    _write(painter, card, box.adjusted(sheet.width() + 16, 7, -9, -6), look, font)
    painter.restore()


def _draw_spots(
    painter: QPainter, room: QRectF, wide: float, high: float, card: Card, look: Look, font: QFont
) -> None:
    """Marks where something is wrong; the gravest lie on top."""
    from hangar.window.kit.level_marks import draw_mark

    scale = min(room.width() / wide, room.height() / high)
    side = QFontMetrics(font).height() * 0.9
    for across, along, level in card.spots:
        x = room.center().x() + (across - 0.5) * wide * scale
        y = room.center().y() + (along - 0.5) * high * scale
        draw_mark(painter, QRectF(x - side / 2, y - side / 2, side, side), level, look)


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
    small = _sized(font, CAP, False)
    line = QFontMetrics(small).height()
    title = f"{card.code}  {card.name}"
    top = _line(painter, title, room, room.top(), _sized(font, LEAD, True), look.ink)
    top = _line(painter, card.kind, room, top, small, look.soft) + 3
    top = _state_and_counts(painter, card, QRectF(room.left(), top, room.width(), line * 1.5), look, font)
    last = room.bottom() - line
    left = QRectF(room.left(), top + 3, room.width(), last - top - 5)
    levels = dict(card.counts)
    if "warning" in levels and card.worst:
        _lines(painter, card.worst, left, _sized(font, 1.0, True), look.levels["warning"].words)
    else:
        _lines(painter, card.verdict, left, font, look.ink)
    overdue = look.levels["warning"].words if card.is_overdue else look.soft
    _line(painter, card.due or card.flown, room, last, small, overdue if card.due else look.soft)


def _state_and_counts(painter: QPainter, card: Card, room: QRectF, look: Look, font: QFont) -> float:
    """The state in its frame, then each level's mark with its number; below where both find no room."""
    from hangar.window.kit.level_marks import draw_mark

    strong = _sized(font, CAP, True)
    metrics = QFontMetrics(strong)
    size = float(metrics.height())
    counts = sum(size * 1.5 + metrics.horizontalAdvance(str(count)) for _level, count in card.counts)
    held = look.levels["warning"]
    wanted = metrics.horizontalAdvance(card.pill or card.state) + size * 1.2
    beside = room.width() - counts - 4
    wraps = wanted > beside and bool(card.counts)
    pill = QRectF(room.left(), room.top(), min(wanted, room.width()), size * 1.35)
    painter.setPen(QPen(QColor(held.edge if card.is_held else look.line), 1))
    painter.setBrush(QColor(held.fill if card.is_held else look.paper))
    painter.drawRoundedRect(pill, pill.height() / 2, pill.height() / 2)
    painter.setFont(strong)
    painter.setPen(QColor(held.sign if card.is_held else look.ink))
    inner = pill.adjusted(size / 2, 0, -size / 2, 0)
    words = metrics.elidedText(card.pill or card.state, Qt.TextElideMode.ElideRight, int(inner.width()) + 2)
    painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, words)
    x = room.left() if wraps else pill.right() + size * 0.5
    y = pill.bottom() + 2 if wraps else pill.top()
    for level, count in card.counts:
        draw_mark(painter, QRectF(x, y + size * 0.18, size, size), level, look)
        painter.setFont(strong)
        painter.setPen(QColor(look.levels[level].words))
        number = str(count)
        cell = QRectF(x + size * 1.15, y, metrics.horizontalAdvance(number) + 2, size * 1.35)
        painter.drawText(cell, Qt.AlignmentFlag.AlignVCenter, number)
        x = cell.right() + size * 0.35
    return (y if wraps else pill.top()) + size * 1.35


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
        high = QFontMetrics(font).height()
        if room.height() < 2 * high:
            _line(painter, text, room, room.top(), font, colour)
            return
        text = _cut_to_two(text, QFontMetrics(font), room.width())
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawText(room, int(flags), text)


def _cut_to_two(text: str, metrics: QFontMetrics, wide: float) -> str:
    """As many words as two lines hold, and three dots."""
    words = text.split()
    first = ""
    while words and metrics.horizontalAdvance(f"{first} {words[0]}".strip()) <= wide:
        first = f"{first} {words.pop(0)}".strip()
    second = metrics.elidedText(" ".join(words), Qt.TextElideMode.ElideRight, int(wide))
    return f"{first}\n{second}"


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
