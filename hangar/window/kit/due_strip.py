"""What comes due as a calendar: one line an aircraft, what is overdue in a bin at the left edge."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.looks import CAP
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import language_spoken, put, say, say_plural

if TYPE_CHECKING:
    from hangar.survey import DueItem

SATURDAY = 5
HEAD, LEAST_LANE = 2.3, 1.2
"""How high the days above the lines are, and the least a line is, in heights of its print."""
RING = 0.32
"""Radius of a ring, in heights of its line's print."""


@dataclass(frozen=True)
class DueDay:
    """One thing that falls due: on which line, what, and on which day; days below 0 are overdue."""

    lane: str
    words: str
    due_on: date
    days: int
    item: DueItem | None = None

    @property
    def put_off_to(self) -> date | None:
        """The day it was put off to; it is due all the same."""
        return self.item.put_off.until_on if self.item and self.item.put_off else None

    @property
    def full_words(self) -> str:
        """The words, and how it was put off."""
        how = put_off_words(self.item) if self.item else ""
        return f"{self.words}; {how}" if how else self.words


def put_off_words(item: DueItem) -> str:
    """To which day a thing was put off and why; nothing where it was not."""
    if item.put_off is None:
        return ""
    return say(
        "put off to {day}: {reason}", day=item.put_off.until_on.isoformat(), reason=item.put_off.reason
    )


def due_day(aircraft: str, item: DueItem) -> DueDay:
    """A thing that falls due on an aircraft, in words; its code is not said again."""
    about = put(item.about)
    what = put(item.what)
    return DueDay(aircraft, what if about == aircraft else f"{what} {about}", item.due_on, item.days, item)


class DueStrip(QWidget):
    """Days across, aircraft down.

    Signals: ``lane_opened(aircraft)`` on a double click or Enter; ``put_off(aircraft, items, day)`` when a
    ring, or the mark of what is overdue, was dragged to a later day, where that is allowed.
    """

    lane_opened = Signal(str)
    put_off = Signal(str, object, object)

    def __init__(
        self, view: ViewSettings, parent: QWidget | None = None, *, can_put_off: bool = False
    ) -> None:
        super().__init__(parent)
        self._view = view
        self._can_put_off = can_put_off
        self._rings: list[tuple[QRectF, QPointF, tuple[DueDay, ...]]] = []
        self._dragged: tuple[QPointF, tuple[DueDay, ...]] | None = None
        self._drag_x = 0.0
        self._lanes: tuple[str, ...] = ()
        self._of_lane: dict[str, list[DueDay]] = {}
        self._today = date.today()
        self._count = 21
        self._chosen = 0
        self._spots: list[tuple[QRectF, str]] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(say("What comes due, as a calendar"))
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        view.changed.connect(self.updateGeometry)

    def show_due(self, lanes: Sequence[str], items: Iterable[DueDay], today: date, days: int) -> None:
        """Show what falls due within so many days, each on the line of its aircraft."""
        self._lanes, self._today, self._count = tuple(lanes), today, days
        every = tuple(items)
        self._of_lane = {}
        for item in every:
            self._of_lane.setdefault(item.lane, []).append(item)
        self._chosen = min(self._chosen, max(0, len(self._lanes) - 1))
        overdue = sum(item.days < 0 for item in every)
        self.setAccessibleDescription(
            say_plural("{count} thing overdue", "{count} things overdue", count=overdue)
            + ". "
            + "; ".join(f"{item.lane} {item.due_on.isoformat()} {item.full_words}" for item in every)
        )
        self.updateGeometry()
        self.update()

    def _small(self, *, is_bold: bool = False) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * CAP)
        font.setBold(is_bold)
        return font

    @property
    def _line_high(self) -> float:
        return QFontMetricsF(self._small()).height()

    def sizeHint(self) -> QSize:
        high = self._line_high
        return QSize(round(high * 30), round(high * (2.6 + 1.35 * max(1, len(self._lanes)))))

    def minimumSizeHint(self) -> QSize:
        return QSize(round(self._line_high * 16), self.sizeHint().height())

    def lanes_in(self, height: float) -> int:
        """How many lines have room in so many pixels, at least one."""
        high = self._line_high
        return max(1, int((height - high * HEAD) // (high * LEAST_LANE)))

    def _lane_high(self) -> float:
        high = self._line_high
        return max(high * LEAST_LANE, (self.height() - high * HEAD) / max(1, len(self._lanes)))

    def _columns(self) -> tuple[float, float, float]:
        """Where the bin of the overdue begins, where the days begin, and how wide a day is."""
        bold = QFontMetricsF(self._small(is_bold=True))
        names = max((bold.horizontalAdvance(lane) for lane in self._lanes), default=0.0) + 14
        bin_wide = max(bold.horizontalAdvance(say("overdue")) + 12, self._line_high * 3.4)
        left = names + bin_wide
        return names, left, max(4.0, (self.width() - left - 2) / max(1, self._count))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look, high = self._view.look, self._line_high
        names, left, step = self._columns()
        top = high * HEAD
        lane_high = self._lane_high()
        bottom = top + lane_high * len(self._lanes)
        self._spots, self._rings = [], []
        self._draw_days(painter, left, step, top, bottom)
        wash = QColor(look.levels["warning"].wash)
        painter.fillRect(QRectF(names, top, left - names, bottom - top), wash)
        painter.setFont(self._small(is_bold=True))
        painter.setPen(QColor(look.levels["warning"].words))
        head = QRectF(names, high, left - names - 4, high * 1.2)
        painter.drawText(head, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, say("overdue"))
        for at, lane in enumerate(self._lanes):
            room = QRectF(0, top + at * lane_high, self.width(), lane_high)
            if room.top() > self.height():
                break
            painter.setPen(QPen(QColor(look.hair), 1))
            painter.drawLine(QPointF(0, room.top()), QPointF(self.width(), room.top()))
            painter.setFont(self._small(is_bold=True))
            painter.setPen(QColor(look.ink))
            painter.drawText(room.adjusted(4, 0, 0, 0), Qt.AlignmentFlag.AlignVCenter, lane)
            self._draw_lane(painter, lane, room, names, left, step)
            if self.hasFocus() and at == self._chosen:
                painter.setPen(QPen(QColor(look.focus), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(room.adjusted(1, 1, -2, -1))
        self._draw_dragged(painter, bottom)
        painter.end()

    def _draw_days(self, painter: QPainter, left: float, step: float, top: float, bottom: float) -> None:
        look, high = self._view.look, self._line_high
        locale = QLocale(language_spoken())
        every = max(1, round(high * 1.6 / step))
        for number in range(self._count):
            day = self._today + timedelta(days=number)
            x = left + number * step
            is_weekend = day.weekday() >= SATURDAY
            if is_weekend:
                painter.fillRect(QRectF(x, top, step, bottom - top), QColor(look.raised))
            painter.setFont(self._small(is_bold=is_weekend))
            painter.setPen(QColor(look.ink if is_weekend else look.soft))
            if number % every == 0:
                cell = QRectF(x - step, high, 3 * step, high * 1.2)
                painter.drawText(cell, Qt.AlignmentFlag.AlignCenter, str(day.day))
            if number == 0 or day.weekday() == 0:
                painter.setFont(self._small())
                words = f"{day.day} {locale.monthName(day.month, QLocale.FormatType.ShortFormat)}"
                if number == 0 or step * 7 > high * 4:
                    painter.drawText(QRectF(x + 2, 0, high * 8, high), Qt.AlignmentFlag.AlignLeft, words)
                painter.setPen(QPen(QColor(look.hair), 1))
                painter.drawLine(QPointF(x, 0), QPointF(x, bottom))

    def _draw_lane(
        self, painter: QPainter, lane: str, room: QRectF, names: float, left: float, step: float
    ) -> None:
        look, high = self._view.look, self._line_high
        mine = self._of_lane.get(lane, [])
        overdue = [item for item in mine if item.days < 0]
        if overdue:
            side = high * 0.95
            mark = QRectF(names + 6, room.center().y() - side / 2, side, side)
            draw_mark(painter, mark, "caution", look)
            painter.setFont(self._small(is_bold=True))
            painter.setPen(QColor(look.ink))
            beside = QRectF(mark.right() + 4, room.top(), left - mark.right() - 4, room.height())
            painter.drawText(beside, Qt.AlignmentFlag.AlignVCenter, str(len(overdue)))
            words = "\n".join(f"{item.due_on.isoformat()}  {item.full_words}" for item in overdue)
            self._spots.append((QRectF(names, room.top(), left - names, room.height()), words))
            self._rings.append((mark.adjusted(-3, -3, 3, 3), mark.center(), tuple(overdue)))
        for item in mine:
            if item.put_off_to is not None and item.days < self._count:
                start = left + (item.days + 0.5) * step if item.days >= 0 else left
                self._draw_put_off(painter, start, left, step, room, item.put_off_to)
        free = left
        days = sorted({item.due_on for item in mine if 0 <= item.days < self._count})
        painter.setFont(self._small())
        for number, day in enumerate(days):
            here = tuple(item for item in mine if item.due_on == day)
            there = [item.words for item in here]
            x = left + ((day - self._today).days + 0.5) * step
            painter.setPen(QPen(QColor(look.accent), 1.8))
            painter.setBrush(QColor(look.paper))
            middle = QPointF(x, room.center().y())
            painter.drawEllipse(middle, high * RING, high * RING)
            reach = high * RING + 3
            box = QRectF(x - reach, middle.y() - reach, 2 * reach, 2 * reach)
            self._rings.append((box, middle, here))
            after = days[number + 1] if number + 1 < len(days) else None
            end = self.width() - 4.0 if after is None else left + ((after - self._today).days + 0.3) * step
            text_left = x + high * 0.55
            words = there[0] if len(there) == 1 else f"{there[0]} +{len(there) - 1}"
            shown = QFontMetricsF(painter.font()).elidedText(
                words, Qt.TextElideMode.ElideRight, max(0.0, end - text_left)
            )
            painter.setPen(QColor(look.ink))
            if text_left >= free and len(shown) > 1:
                cell = QRectF(text_left, room.top(), end - text_left, room.height())
                painter.drawText(cell, Qt.AlignmentFlag.AlignVCenter, shown)
                free = text_left + QFontMetricsF(painter.font()).horizontalAdvance(shown)
            spot = QRectF(x - step / 2, room.top(), max(step, free - x), room.height())
            self._spots.append((spot, "\n".join([day.isoformat(), *(item.full_words for item in here)])))

    def _draw_put_off(
        self, painter: QPainter, start: float, left: float, step: float, room: QRectF, until: date
    ) -> None:
        """A dotted line from where it is due to a small stroke on the day to which it was put off."""
        look, y = self._view.look, room.bottom() - 3
        days = (until - self._today).days
        end = min(left + (days + 0.5) * step, self.width() - 3.0)
        if end <= start:
            return
        painter.setPen(QPen(QColor(look.accent), 1.5, Qt.PenStyle.DotLine))
        painter.drawLine(QPointF(start, y), QPointF(end, y))
        if days < self._count:
            painter.setPen(QPen(QColor(look.accent), 2))
            painter.drawLine(QPointF(end, y - self._line_high * RING), QPointF(end, y))

    def _draw_dragged(self, painter: QPainter, bottom: float) -> None:
        """The day over which a ring is held."""
        if self._dragged is None:
            return
        look, high = self._view.look, self._line_high
        origin, _items = self._dragged
        day = self._day_under(self._drag_x)
        painter.setPen(QPen(QColor(look.accent), 1.5, Qt.PenStyle.DotLine))
        painter.setBrush(QColor(look.paper))
        painter.drawLine(origin, QPointF(self._drag_x, origin.y()))
        painter.drawLine(QPointF(self._drag_x, high * HEAD), QPointF(self._drag_x, bottom))
        painter.setPen(QPen(QColor(look.accent), 1.8))
        painter.drawEllipse(QPointF(self._drag_x, origin.y()), high * RING, high * RING)
        if day is not None:
            painter.setFont(self._small(is_bold=True))
            words = day.isoformat()
            wide = QFontMetricsF(painter.font()).horizontalAdvance(words) + 10
            box = QRectF(min(self._drag_x + 4, self.width() - wide), high * 0.1, wide, high * 1.2)
            painter.fillRect(box, QColor(look.chosen))
            painter.setPen(QColor(look.ink))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _day_under(self, x: float) -> date | None:
        """The day at a place across; None left of today."""
        _names, left, step = self._columns()
        return self._today + timedelta(days=int((x - left) // step)) if x >= left else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        where = event.position()
        if self._can_put_off and event.button() is Qt.MouseButton.LeftButton:
            ring = next(((middle, items) for box, middle, items in self._rings if box.contains(where)), None)
            if ring is not None:
                self._dragged, self._drag_x = ring, where.x()
        super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        dragged, self._dragged = self._dragged, None
        if dragged is not None:
            self.update()
            _origin, items = dragged
            day = self._day_under(event.position().x())
            if day is not None and day > max(self._today, *(item.due_on for item in items)):
                self.put_off.emit(items[0].lane, tuple(item.item for item in items), day)
        super().mouseReleaseEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if self._dragged is not None:
            self._drag_x = at.x()
            self.update()
            return
        on_ring = self._can_put_off and any(box.contains(at) for box, _middle, _items in self._rings)
        self.setCursor(Qt.CursorShape.SizeHorCursor if on_ring else Qt.CursorShape.ArrowCursor)
        words = next((words for spot, words in self._spots if spot.contains(at)), "")
        QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        top = self._line_high * HEAD
        if self._lanes and event.position().y() > top:
            self._open(int((event.position().y() - top) // self._lane_high()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        if step is not None and self._lanes:
            self._chosen = (self._chosen + step) % len(self._lanes)
            self.update()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self._chosen)
        else:
            super().keyPressEvent(event)

    def _open(self, at: int) -> None:
        if 0 <= at < len(self._lanes):
            self.lane_opened.emit(self._lanes[at])
