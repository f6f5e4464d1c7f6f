"""The aircraft of a field day: a row each, with its state, why, and its card; the ticked ones go along."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hangar.answers.judging import Judgement
from hangar.parts.choices import AircraftState
from hangar.parts.outlines import Outline, outline_of
from hangar.rules.finding import Level
from hangar.rules.releasing import flight_hindrances, unknown_essentials
from hangar.window.kit.counts_strip import verdict_words
from hangar.window.kit.desk import Desk
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.looks import Look
from hangar.window.kit.outlines import draw_grid, draw_outline
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import put, say, word_of

_CODE = Qt.ItemDataRole.UserRole
_ROW = Qt.ItemDataRole.UserRole + 1
_GONE = (AircraftState.PASSED_ON, AircraftState.WRITTEN_OFF)
MOST_LINES = 3
_LINES_HIGH = 5.0
_NARROW_EM = 46
"""Narrower than so many letters a row has no picture."""


@dataclass(frozen=True)
class WhyLine:
    """One line of why: a finding's consequence with its level, or what can be said without one."""

    level: Level | None
    words: str


@dataclass(frozen=True)
class DayRow:
    """What the row of an aircraft shows; ``is_held`` is None while it is not judged, or cannot be."""

    code: str
    name: str
    outline: Outline
    is_held: bool | None
    lines: tuple[WhyLine, ...]

    @property
    def state(self) -> str:
        """Held or not held; no more than that is ever said here."""
        if self.is_held is None:
            return say("NOT JUDGED")
        return say("HELD") if self.is_held else say("NOT HELD")

    @property
    def act(self) -> str:
        """The one act: the card of an aircraft that may go along, or what to rectify."""
        return say("Rectify…") if self.is_held else say("Card…")


def why_lines(judgement: Judgement | None) -> tuple[WhyLine, ...]:
    """At most three lines: what is open, the gravest first, then what the day asks.

    What is open beyond that is counted on the last line.
    """
    if judgement is None:
        return (WhyLine(None, verdict_words(None)),)
    hindrances = [put(words) for words in flight_hindrances(judgement.aircraft, judgement.findings)]
    grave = [
        finding for finding in judgement.open_findings if finding.level in (Level.WARNING, Level.CAUTION)
    ]
    warnings = [finding for finding in grave if finding.level is Level.WARNING]
    lines = [] if warnings else [WhyLine(None, words) for words in hindrances or [verdict_words(judgement)]]
    lines += [WhyLine(finding.level, put(finding.consequence or finding.message)) for finding in grave]
    if not warnings and not hindrances:
        lines += [WhyLine(None, words) for words in _tests(judgement)]
    if len(lines) > MOST_LINES:
        more = len(lines) - MOST_LINES + 1
        rest = lines[MOST_LINES - 1].level
        lines = [*lines[: MOST_LINES - 1], WhyLine(rest, say("and {count} more", count=more))]
    return tuple(lines)


def _tests(judgement: Judgement) -> list[str]:
    from hangar.answers.case import AircraftCase

    case = AircraftCase(judgement=judgement)
    tags = [fed.pack.tag for _, fed in case.tested_packs]
    return [say("Test under load that morning: {packs}", packs=", ".join(tags))] if tags else []


class DayChoice(QListWidget):
    """A row an aircraft, each with a box to tick; Space ticks the one under the cursor.

    Signals: ``card_wanted(code)`` by the button of a row, a double click or Enter.
    """

    card_wanted = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen: set[str] = set()
        self.setItemDelegate(_DayCells(desk, self))
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._fit()
        self.setSpacing(2)
        desk.view.changed.connect(self._fit)
        self.itemActivated.connect(lambda item: self.card_wanted.emit(str(item.data(_CODE))))
        self.setAccessibleName(say("Aircraft to take along"))
        self.read_again()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 36)
        self.scheduleDelayedItemsLayout()

    def read_again(self) -> None:
        """Read the aircraft; those that are still there stay chosen."""
        known = self._desk.fleet.airframes() if self._desk.codes() else ()
        frames = [airframe for airframe in known if airframe.state not in _GONE]
        self._chosen &= {frame.code for frame in frames}
        at = self.currentRow()
        self.blockSignals(True)
        self.clear()
        for frame in frames:
            item = QListWidgetItem(f"{frame.code}  {frame.name}", self)
            row = self._row(frame.code, frame.name)
            item.setData(_CODE, frame.code)
            item.setData(_ROW, row)
            wording = "\n".join(line.words for line in row.lines)
            kind = f"{word_of(frame.aircraft_class)}, {word_of(frame.state)}"
            item.setToolTip(plain_tip(f"{kind}\n{wording}"))
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            ticked = Qt.CheckState.Checked if frame.code in self._chosen else Qt.CheckState.Unchecked
            item.setCheckState(ticked)
            words = "; ".join(line.words for line in row.lines)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{item.text()}: {row.state}: {words}")
        self.setCurrentRow(max(0, at))
        self.blockSignals(False)

    def _row(self, code: str, name: str) -> DayRow:
        judgement = self._desk.known(code)
        outline = outline_of(judgement.aircraft if judgement else self._desk.aircraft(code))
        held = None
        if judgement is not None:
            held = bool(flight_hindrances(judgement.aircraft, judgement.findings))
            if not held and unknown_essentials(judgement.aircraft):
                held = None
        return DayRow(code, name, outline, held, why_lines(judgement))

    def row_of(self, code: str) -> DayRow | None:
        """What the row of an aircraft shows."""
        rows = (self.item(at).data(_ROW) for at in range(self.count()))
        return next((row for row in rows if row.code == code), None)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        item = self.itemAt(event.position().toPoint())
        if item is not None and self._is_on_button(item, event.position().toPoint()):
            self.card_wanted.emit(str(item.data(_CODE)))
            return
        super().mouseReleaseEvent(event)

    def _is_on_button(self, item: QListWidgetItem, point: QPoint) -> bool:
        return button_place(self.visualItemRect(item), item.data(_ROW).act, self.fontMetrics()).contains(
            point
        )

    def take(self, item: QListWidgetItem) -> None:
        """Keep what is ticked."""
        code = str(item.data(_CODE))
        if item.checkState() is Qt.CheckState.Checked:
            self._chosen.add(code)
        else:
            self._chosen.discard(code)

    def choose(self, *codes: str) -> None:
        """Tick just these."""
        for row in range(self.count()):
            item = self.item(row)
            wanted = Qt.CheckState.Checked if item.data(_CODE) in codes else Qt.CheckState.Unchecked
            item.setCheckState(wanted)

    def filter_words(self, text: str) -> None:
        """Show only aircraft with these words; hidden ones stay as they are."""
        for row in range(self.count()):
            item = self.item(row)
            item.setHidden(text.lower() not in item.text().lower())

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of the aircraft chosen, in the fleet's order."""
        every = (str(self.item(row).data(_CODE)) for row in range(self.count()))
        return tuple(code for code in every if code in self._chosen)


def button_place(row: QRect, words: str, metrics: QFontMetrics) -> QRect:
    """Where the button of a row stands."""
    wide, high = metrics.horizontalAdvance(words) + 28, max(28, round(metrics.height() * 1.7))
    return QRect(row.right() - wide - 10, row.center().y() - high // 2, wide, high)


def tick_place(row: QRect, metrics: QFontMetrics) -> QRect:
    """Where the box to tick stands."""
    side = round(metrics.height() * 0.95)
    return QRect(row.left() + 10, row.center().y() - side // 2, side, side)


class _DayCells(QStyledItemDelegate):
    """Draws a row: box, silhouette, name, state, three lines, button."""

    def __init__(self, desk: Desk, parent: DayChoice) -> None:
        super().__init__(parent)
        self._desk = desk

    def sizeHint(self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(10, round(option.fontMetrics.height() * _LINES_HIGH))

    def editorEvent(self, event, model, option, index) -> bool:  # type: ignore[no-untyped-def]
        # The box stands where this delegate draws it, not where the style would.
        if isinstance(event, QMouseEvent):
            near = tick_place(option.rect, option.fontMetrics).adjusted(-8, -8, 8, 8)
            if event.type() != QEvent.Type.MouseButtonRelease or not near.contains(
                event.position().toPoint()
            ):
                return False
            ticked = Qt.CheckState(index.data(Qt.ItemDataRole.CheckStateRole)) is Qt.CheckState.Checked
            state = Qt.CheckState.Unchecked if ticked else Qt.CheckState.Checked
            return bool(model.setData(index, state, Qt.ItemDataRole.CheckStateRole))
        return bool(super().editorEvent(event, model, option, index))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        row, look, room = index.data(_ROW), self._desk.view.look, option.rect
        metrics, high = option.fontMetrics, option.fontMetrics.height()
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        has_focus = bool(option.state & QStyle.StateFlag.State_HasFocus)
        painter.setPen(QPen(QColor(look.focus if has_focus else look.hair), 2 if has_focus else 1))
        painter.setBrush(QColor(look.chosen if chosen else look.paper))
        painter.drawRoundedRect(QRectF(room).adjusted(1, 1, -1, -1), 6, 6)
        tick = tick_place(room, metrics)
        ticked = Qt.CheckState(index.data(Qt.ItemDataRole.CheckStateRole)) is Qt.CheckState.Checked
        _draw_tick(painter, tick, look, is_ticked=ticked)
        left = tick.right() + 12
        if room.width() > metrics.averageCharWidth() * _NARROW_EM:
            sheet = QRectF(left, room.top() + 7, room.height() - 14, room.height() - 14)
            draw_grid(painter, sheet, look)
            draw_outline(painter, sheet.adjusted(4, 4, -4, -4), row.outline, look)
            left = round(sheet.right()) + 12
        button = button_place(room, row.act, metrics)
        _draw_button(painter, button, row.act, look, option.font)
        head = QFont(option.font)
        head.setBold(True)
        painter.setFont(head)
        painter.setPen(QColor(look.ink))
        line = QRect(left, room.top() + 5, button.left() - left - 10, round(high * 1.15))
        _draw_state(painter, line, row, look)
        painter.setFont(option.font)
        for at, why in enumerate(row.lines):
            top = line.bottom() + 3 + at * round(high * 1.05)
            _draw_why(painter, QRect(left, top, line.width(), high), why, look)
        painter.restore()


def _draw_tick(painter: QPainter, box: QRect, look: Look, *, is_ticked: bool) -> None:
    painter.setPen(QPen(QColor(look.ink if is_ticked else look.soft), 2))
    painter.setBrush(QColor(look.accent if is_ticked else look.paper))
    painter.drawRoundedRect(box, 3, 3)
    if is_ticked:
        painter.setPen(QPen(QColor(look.on_accent), 2))
        x, y, side = box.left(), box.top(), box.width()
        painter.drawLine(x + side // 4, y + side // 2, x + side * 2 // 5, y + side * 7 // 10)
        painter.drawLine(x + side * 2 // 5, y + side * 7 // 10, x + side * 3 // 4, y + side * 3 // 10)


def _draw_button(painter: QPainter, box: QRect, words: str, look: Look, font: QFont) -> None:
    painter.setPen(QPen(QColor(look.line), 1))
    painter.setBrush(QColor(look.paper))
    painter.drawRoundedRect(QRectF(box).adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
    painter.setFont(font)
    painter.setPen(QColor(look.ink))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def _draw_state(painter: QPainter, line: QRect, row: DayRow, look: Look) -> None:
    """The name, and behind it the state in a frame."""
    metrics = painter.fontMetrics()
    state_wide = metrics.horizontalAdvance(row.state) + metrics.height()
    name = metrics.elidedText(
        f"{row.code}  {row.name}", Qt.TextElideMode.ElideRight, line.width() - state_wide - 12
    )
    painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, name)
    warning = look.levels[Level.WARNING]
    pill = QRectF(line.left() + metrics.horizontalAdvance(name) + 10, line.top(), state_wide, line.height())
    painter.setPen(QPen(QColor(warning.edge if row.is_held else look.line), 1.2))
    painter.setBrush(QColor(warning.fill if row.is_held else look.paper))
    painter.drawRoundedRect(pill, pill.height() / 2, pill.height() / 2)
    painter.setPen(QColor(warning.sign if row.is_held else look.ink))
    painter.drawText(pill, Qt.AlignmentFlag.AlignCenter, row.state)


def _draw_why(painter: QPainter, line: QRect, why: WhyLine, look: Look) -> None:
    side = round(line.height() * 0.85)
    if why.level is not None:
        draw_mark(painter, QRectF(line.left(), line.top() + 1, side, side), why.level, look)
    painter.setPen(QColor(look.ink))
    room = line.adjusted(side + 6, 0, 0, 0)
    words = painter.fontMetrics().elidedText(why.words, Qt.TextElideMode.ElideRight, room.width())
    painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)
