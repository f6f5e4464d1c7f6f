"""The rungs of the ladder one below the other: money, name, what stays as marks; one of them chosen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hangar.rules.finding import Level
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, say
from hangar.window.refit.rung_words import RungRow, badge_of, closing_words, money, stays_words, title_of

ROW_ROLE = Qt.ItemDataRole.UserRole + 1


class RungList(QListWidget):
    """Signals: ``rung_chosen(RungRow)``."""

    rung_chosen = Signal(object)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view_settings = view
        self.sign = ""
        self._rows: tuple[RungRow, ...] = ()
        self.setAccessibleName(say("Rungs of the ladder"))
        self.setItemDelegate(_RungDelegate(self))
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(True)
        self.currentItemChanged.connect(self._tell)
        view.changed.connect(self.viewport().update)

    def show_rungs(self, rows: Sequence[RungRow], sign: str, chosen: int) -> None:
        """Show these rungs and choose one of them."""
        self.sign, self._rows = sign, tuple(rows)
        self.blockSignals(True)
        self.clear()
        for row in rows:
            item = QListWidgetItem(spoken(row, sign), self)
            item.setData(ROW_ROLE, row)
        self.blockSignals(False)
        if rows:
            self.setCurrentRow(min(chosen, len(rows) - 1))

    @property
    def rung(self) -> RungRow | None:
        """The rung that is chosen."""
        at = self.currentRow()
        return self._rows[at] if 0 <= at < len(self._rows) else None

    def _tell(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.rung_chosen.emit(item.data(ROW_ROLE))


def spoken(row: RungRow, sign: str) -> str:
    """A rung read out."""
    marks = ", ".join(
        level_count(level, count)
        for level, count in ((Level.WARNING, row.warnings), (Level.CAUTION, row.cautions))
        if count
    )
    named = (money(row.price, sign), title_of(row), badge_of(row), stays_words(row))
    return ". ".join(part for part in (*named, marks, closing_words(row)) if part)


class _RungDelegate(QStyledItemDelegate):
    """Draws a rung: the ladder's rail with its money on the left, the words on the right."""

    def __init__(self, rungs: RungList) -> None:
        super().__init__(rungs)
        self._list = rungs

    def sizeHint(self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        line = option.fontMetrics.height()
        return QSize(line * 14, round(line * 4.5))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        row: RungRow = index.data(ROW_ROLE)
        look = self._list.view_settings.look
        rect = QRectF(option.rect)
        font: QFont = option.font
        state = option.state
        metrics = QFontMetrics(font)
        line = float(metrics.height())
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(rect, QColor(look.paper))
        left = rect.left() + line * 5.2
        if chosen:
            box = rect.adjusted(line * 5.9, 3, -4, -3)
            painter.fillRect(box, QColor(look.chosen))
            painter.fillRect(QRectF(box.left(), box.top(), 4, box.height()), QColor(look.accent))
        self._draw_rail(painter, rect, left, row, index.row(), chosen)
        bold = QFont(font)
        bold.setBold(True)
        bold.setPointSizeF(font.pointSizeF() * 1.15)
        painter.setFont(bold)
        painter.setPen(QColor(look.ink))
        price = QRectF(rect.left() + 4, rect.top(), line * 4.3, rect.height())
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        words = money(row.price, "")
        painter.drawText(price, right, words)
        text = rect.adjusted(line * 6.6, line * 0.35, -line * 0.6, -line * 0.3)
        self._draw_words(painter, text, font, row, chosen)
        if state & QStyle.StateFlag.State_HasFocus and chosen:
            painter.setPen(QPen(QColor(look.focus), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(line * 5.9, 3, -4, -3))
        painter.restore()

    def _draw_rail(
        self, painter: QPainter, rect: QRectF, left: float, row: RungRow, at: int, chosen: bool
    ) -> None:
        look = self._list.view_settings.look
        top = rect.center().y() if at == 0 else rect.top()
        bottom = rect.center().y() if at == self._list.count() - 1 else rect.bottom()
        painter.setPen(QPen(QColor(look.line), 3))
        painter.drawLine(int(left), int(top), int(left), int(bottom))
        painter.setPen(QPen(QColor(look.accent if chosen or not row.is_today else look.line), 2))
        painter.setBrush(QColor(look.accent if chosen else look.paper))
        painter.drawEllipse(QRectF(left - 7, rect.center().y() - 7, 14, 14))

    def _draw_words(self, painter: QPainter, box: QRectF, font: QFont, row: RungRow, chosen: bool) -> None:
        look = self._list.view_settings.look
        bold = QFont(font)
        bold.setBold(True)
        metrics, line = QFontMetrics(bold), float(QFontMetrics(font).height())
        title, badge = title_of(row), badge_of(row)
        badge_wide = QFontMetrics(font).horizontalAdvance(badge) + line if badge else 0.0
        painter.setFont(bold)
        painter.setPen(QColor(look.ink))
        room = box.width() - badge_wide
        shown = metrics.elidedText(title, Qt.TextElideMode.ElideRight, int(room))
        painter.drawText(QRectF(box.left(), box.top(), room, line * 1.2), _LEFT, shown)
        painter.setFont(font)
        if badge:
            at = box.left() + metrics.horizontalAdvance(shown) + line * 0.6
            pill = QRectF(at, box.top(), badge_wide - line * 0.3, line * 1.2)
            painter.setPen(QPen(QColor(look.accent), 1.2))
            painter.setBrush(QColor(look.paper))
            painter.drawRoundedRect(pill, pill.height() / 2, pill.height() / 2)
            painter.setPen(QColor(look.accent))
            painter.drawText(pill, Qt.AlignmentFlag.AlignCenter, badge)
        painter.setPen(QColor(look.ink if chosen else look.soft))
        stays = QFontMetrics(font).elidedText(stays_words(row), Qt.TextElideMode.ElideRight, int(box.width()))
        painter.drawText(QRectF(box.left(), box.top() + line * 1.25, box.width(), line * 1.2), _LEFT, stays)
        self._draw_marks(painter, QRectF(box.left(), box.top() + line * 2.6, box.width(), line), row)

    def _draw_marks(self, painter: QPainter, box: QRectF, row: RungRow) -> None:
        look, side = self._list.view_settings.look, box.height() * 0.95
        at = box.left()
        painter.setPen(QColor(look.soft))
        counts = ((Level.WARNING, row.warnings), (Level.CAUTION, row.cautions))
        room_for = int(box.width() / (side + 2)) - 3
        shares = sum(count for _, count in counts) > room_for
        for level, count in counts:
            drawn = min(count, max(1, room_for // 2 - 1)) if shares else count
            for _ in range(drawn):
                draw_mark(painter, QRectF(at, box.top(), side, side), level.value, look)
                at += side + 2
            if count > drawn:
                words = f"+{count - drawn}"
                painter.setPen(QColor(look.soft))
                painter.drawText(QRectF(at + 2, box.top(), side * 3, side), _LEFT, words)
                at += painter.fontMetrics().horizontalAdvance(words) + 6
        closing = closing_words(row)
        if closing:
            painter.setPen(QColor(look.soft))
            room = QRectF(at + 6, box.top(), max(0.0, box.right() - at - 6), side)
            words = painter.fontMetrics().elidedText(closing, Qt.TextElideMode.ElideRight, int(room.width()))
            painter.drawText(room, _LEFT, words)


_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
