"""The six rooms of the window, the pages in them, and the rail that leads to them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QVBoxLayout, QWidget

from hangar.window.kit.icons import draw_icon
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, room_titles, say

(
    FLIGHT_LINE,
    AIRFRAME,
    FINDINGS,
    FIELD_DAY,
    DUE,
    PACKS,
    SPARES,
    TYPES,
    SHOPPING,
    LADDER,
    COMPARE,
    TRY_OUT,
    PLANS,
) = range(13)
"""The pages, each by a number."""

ROOMS: tuple[tuple[int, ...], ...] = (
    (FLIGHT_LINE,),
    (AIRFRAME,),
    (FINDINGS,),
    (FIELD_DAY, DUE),
    (PACKS, SPARES, TYPES, SHOPPING),
    (LADDER, COMPARE, TRY_OUT, PLANS),
)
"""The pages of each room, in the order of its strip; the first is the one that is entered first."""
OF_AIRCRAFT = frozenset({AIRFRAME, FINDINGS, FIELD_DAY, DUE, LADDER, COMPARE, TRY_OUT, PLANS})
"""Pages that have nothing to show before the first aircraft is entered."""
STORES, REFIT = 4, 5
"""Rooms whose number is asked for."""
ROOM_OF: Mapping[int, int] = MappingProxyType(
    {page: room for room, pages in enumerate(ROOMS) for page in pages}
)
"""The room that a page lies in."""
ROOM_ICONS = ("flight-line", "airframe", "findings", "field-day", "stores", "refit")


def are_pages(pages: Sequence[object]) -> bool:
    """Whether these name one page of each room."""
    return len(pages) == len(ROOMS) and all(page in room for page, room in zip(pages, ROOMS, strict=True))


class RailButton(QAbstractButton):
    """One room on the rail: its icon, its word, the number of what is open there."""

    def __init__(self, rail: Rail, number: int, title: str) -> None:
        super().__init__(rail)
        self._rail = rail
        self._number = number
        self._count = 0
        self.setText(title)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.show_count(0)

    def show_count(self, count: int) -> None:
        """Show how many warnings are open; nothing for none."""
        self._count = count
        counted = f", {level_count('warning', count)}" if count else ""
        self.setAccessibleName(f"{self.text()}{counted}")
        self.setToolTip(plain_tip(f"{self.text()}{counted}\nAlt+{self._number + 1}"))
        self.update()

    @property
    def count(self) -> int:
        """The number shown at the icon."""
        return self._count

    def sizeHint(self) -> QSize:
        return QSize(self._rail.wide, self._rail.unit(74 if self._rail.has_words else 56))

    def paintEvent(self, _event: QPaintEvent) -> None:
        look, unit = self._rail.view.look, self._rail.unit
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = look.rail_ink
        if self.isChecked():
            # The chosen room joins the page on its right.
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(look.window))
            place = QRectF(self.rect()).adjusted(unit(6), unit(3), unit(12), -unit(3))
            painter.drawRoundedRect(place, unit(6), unit(6))
            ink = look.accent
        if self.hasFocus():
            painter.setPen(QPen(QColor(look.focus if self.isChecked() else look.rail_ink), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(unit(8), unit(5), -3, -unit(5)), 4, 4)
        side, high = unit(26), self.height()
        top = unit(12) if self._rail.has_words else (high - side) / 2
        icon = QRectF((self.width() - side) / 2, top, side, side)
        draw_icon(painter, icon, ROOM_ICONS[self._number], ink)
        if self._rail.has_words:
            font = self._rail.word_font(self.isChecked())
            painter.setFont(font)
            painter.setPen(QColor(ink))
            room = QRectF(0, icon.bottom(), self.width(), high - icon.bottom() - unit(4))
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter, self.text())
        if self._count:
            self._draw_count(painter, icon)
        painter.end()

    def _draw_count(self, painter: QPainter, icon: QRectF) -> None:
        level = self._rail.view.look.levels["warning"]
        painter.setFont(self._rail.word_font(is_bold=True))
        words = str(self._count)
        high = painter.fontMetrics().height()
        wide = max(high, painter.fontMetrics().horizontalAdvance(words) + self._rail.unit(8))
        left = min(icon.right() - self._rail.unit(6), self.width() - wide - 2)
        badge = QRectF(left, icon.top() - high * 0.4, wide, high)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(level.fill))
        painter.drawRoundedRect(badge, high / 2, high / 2)
        painter.setPen(QColor(level.sign))
        painter.drawText(badge, Qt.AlignmentFlag.AlignCenter, words)


class Rail(QWidget):
    """The six rooms down the left edge; Alt and a number goes there from anywhere.

    Signals: ``asked(room)`` when a room is chosen.
    """

    asked = Signal(int)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = view
        self.has_words = True
        self.setAccessibleName(say("Rooms"))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        self.buttons = tuple(RailButton(self, at, title) for at, title in enumerate(room_titles()))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        column.setSpacing(0)
        for at, button in enumerate(self.buttons):
            column.addWidget(button)
            button.clicked.connect(lambda _on=False, at=at: self.asked.emit(at))
        column.addStretch(1)
        self.buttons[0].setChecked(True)
        self.setFocusProxy(self.buttons[0])
        view.changed.connect(self.fit)
        self.fit()

    def unit(self, units: float) -> int:
        """So many units of the drawing, a pixel at 10 points each, as the print is now."""
        return round(units * self.view.points / 10)

    def word_font(self, is_bold: bool) -> QFont:
        """The small print of the words below the icons."""
        font = QFont(self.font())
        font.setPointSizeF(self.view.points * 0.86)
        font.setBold(is_bold)
        return font

    @property
    def wide(self) -> int:
        """The width of the rail."""
        if not self.has_words:
            return self.unit(50)
        metrics = QFontMetrics(self.word_font(is_bold=True))
        words = max(metrics.horizontalAdvance(button.text()) for button in self.buttons)
        return max(self.unit(88), words + self.unit(16))

    def show_words(self, are_shown: bool) -> None:
        """Leave the words to the tips where the window is narrow for its print, or show them."""
        if are_shown != self.has_words:
            self.has_words = are_shown
            self.fit()

    def fit(self) -> None:
        """Follow the size of the print."""
        self.setFixedWidth(self.wide)
        for button in self.buttons:
            button.setFixedSize(button.sizeHint())
        self.update()

    @property
    def current(self) -> int:
        """Number of the room chosen."""
        return next((at for at, button in enumerate(self.buttons) if button.isChecked()), 0)

    def choose(self, room: int) -> None:
        """Mark a room as the one that is open."""
        self.buttons[room].setChecked(True)
        self.setFocusProxy(self.buttons[room])

    def show_count(self, room: int, count: int) -> None:
        """Show a number at a room's icon."""
        self.buttons[room].show_count(count)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        at = (self.current + step) % len(self.buttons)
        self.asked.emit(at)
        self.buttons[at].setFocus(Qt.FocusReason.TabFocusReason)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self.view.look.rail))
        painter.end()
