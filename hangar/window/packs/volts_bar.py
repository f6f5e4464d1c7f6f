"""Volts a cell as a bar: the whole span of the chemistry, the zone to store at, and where the pack lies."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPolygonF
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from hangar.answers.packs import PackCase
from hangar.window.kit.desk import Desk
from hangar.window.kit.looks import Look
from hangar.window.packs.pack_words import FIT, UNKNOWN, storage_words

BAR_ROLE = Qt.ItemDataRole.UserRole + 7
LEAST_EM = 10
"""The least width of a bar with its number, in heights of the print."""


@dataclass(frozen=True)
class CellBar:
    """Volts of one cell: the span drawn, the zone to store at, where it lies; None where not known."""

    least_v: float
    most_v: float
    zone: tuple[float, float] | None
    volts: float | None
    words: str
    mark: str

    def part(self, volts: float) -> float:
        """Where some volts lie on the bar, 0 at its left end to 1."""
        return min(1.0, max(0.0, (volts - self.least_v) / (self.most_v - self.least_v)))


def cell_bar(case: PackCase, desk: Desk) -> CellBar:
    """The bar of a pack, from its resting volts read last."""
    from hangar.physics.pack import cell

    kind = case.pack_type
    volts = cell(kind.chemistry)
    rest = case.pack.rest_v
    each_v = None if rest is None else rest / max(1, kind.series)
    zone = (
        None
        if volts.storage_low_v is None or volts.storage_high_v is None
        else (volts.storage_low_v, volts.storage_high_v)
    )
    words = "?" if each_v is None else desk.view.reader.show(each_v, "V", 3)
    return CellBar(
        volts.never_below_v,
        volts.full_v,
        zone,
        each_v,
        words,
        storage_words(case, desk).mark if each_v is not None else UNKNOWN,
    )


class VoltsDelegate(QStyledItemDelegate):
    """Draws the bar of a cell with the number behind it; a pack never read has an empty bar and a query."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk

    def sizeHint(self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        high = QFontMetrics(option.font).height()
        return QSize(high * LEAST_EM, high + 8)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        super().paint(painter, option, index)
        bar = index.data(BAR_ROLE)
        if isinstance(bar, CellBar):
            painter.save()
            draw_bar(painter, QRectF(option.rect).adjusted(6, 2, -6, -2), bar, self._desk.view.look)
            painter.restore()


def draw_bar(painter: QPainter, room: QRectF, bar: CellBar, look: Look) -> None:
    """The bar on the left, the number at the right end."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    metrics = painter.fontMetrics()
    words_wide = metrics.horizontalAdvance("0.000 V") + 6
    track = QRectF(room.left(), room.center().y() - 3, max(20.0, room.width() - words_wide), 7)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.raised))
    painter.drawRoundedRect(track, 2, 2)
    if bar.zone is not None:
        left, right = (track.left() + track.width() * bar.part(volts) for volts in bar.zone)
        painter.setBrush(QColor(look.line))
        painter.drawRect(QRectF(left, track.top(), max(3.0, right - left), track.height()))
    is_open = bar.mark not in (FIT, UNKNOWN)
    colours = look.levels.get(bar.mark) if is_open else None
    if bar.volts is not None:
        x = track.left() + track.width() * bar.part(bar.volts)
        tip = QPolygonF(
            [QPointF(x, track.bottom() + 1), QPointF(x - 5, track.top() - 6), QPointF(x + 5, track.top() - 6)]
        )
        painter.setPen(QColor(colours.edge if colours else look.ink))
        painter.setBrush(QColor(colours.fill if colours else look.ink))
        painter.drawPolygon(tip)
    font = QFont(painter.font())
    font.setBold(is_open)
    painter.setFont(font)
    painter.setPen(QColor(colours.words if colours else look.ink))
    flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
    painter.drawText(room, flags, bar.words)
