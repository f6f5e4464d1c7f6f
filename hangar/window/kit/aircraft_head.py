"""The line that names the current aircraft and position; both are changed here, for every room."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSignalBlocker, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetrics,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QShortcut,
)
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from hangar.answers.judging import Difference, count_levels, worst_level
from hangar.parts.outlines import Outline, outline_of
from hangar.rules.finding import Level
from hangar.window.kit.counts_strip import (
    CountsStrip,
    is_held,
    state_words,
    verdict_words,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.icons import icon
from hangar.window.kit.outlines import draw_outline
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say, word_of

NARROW_UNITS = 850
"""Below so many units of width the line is made low."""


def _is_narrow(widget: QWidget, view: ViewSettings) -> bool:
    return widget.window().width() * 10 / view.points < NARROW_UNITS


class Silhouette(QWidget):
    """A small picture of the aircraft."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._outline: Outline | None = None

    def sizeHint(self) -> QSize:
        side = round(self.fontMetrics().height() * (1.6 if _is_narrow(self, self._view) else 2.6))
        return QSize(side, side)

    def show_outline(self, outline: Outline | None) -> None:
        """Show this outline."""
        self._outline = outline
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._outline is not None:
            painter = QPainter(self)
            draw_outline(painter, QRectF(self.rect()), self._outline, self._view.look)
            painter.end()


class StatePill(QWidget):
    """The state of an aircraft in a word or two, framed; filled where a warning holds it."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._words = ""
        self._is_held = False

    def show_state(self, words: str, *, is_held: bool) -> None:
        """Show a state."""
        self._words, self._is_held = words, is_held
        self.setAccessibleName(words)
        self.setToolTip(plain_tip(words))
        self.updateGeometry()
        self.update()

    def _font(self) -> QFont:
        font = QFont(self.font())
        font.setBold(True)
        return font

    def sizeHint(self) -> QSize:
        if not self._words:
            return QSize(0, 0)
        self.ensurePolished()
        metrics = QFontMetrics(self._font())
        most = metrics.averageCharWidth() * 44
        wide = min(most, metrics.horizontalAdvance(self._words)) + metrics.height() * 3 // 2
        return QSize(wide, round(metrics.height() * 1.5))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if not self._words:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._view.look
        warning = look.levels[Level.WARNING]
        painter.setPen(QPen(QColor(warning.edge if self._is_held else look.line), 1.2))
        painter.setBrush(QColor(warning.fill if self._is_held else look.paper))
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.drawRoundedRect(box, box.height() / 2, box.height() / 2)
        painter.setFont(self._font())
        painter.setPen(QColor(warning.sign if self._is_held else look.ink))
        room = box.adjusted(box.height() / 3, 0, -box.height() / 3, 0)
        words = painter.fontMetrics().elidedText(self._words, Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, words)
        painter.end()


class PlaceTag(QWidget):
    """The current position: a dot with its channel, its code and name."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._channel, self._words = "", ""
        self._level: Level | None = None

    def show_place(self, channel: int | None, words: str, level: Level | None) -> None:
        """Show a position."""
        self._channel, self._words, self._level = str(channel or ""), words, level
        self.setAccessibleName(say("Position {which}", which=words))
        self.updateGeometry()
        self.update()

    def _font(self) -> QFont:
        font = QFont(self.font())
        font.setBold(True)
        return font

    def _side(self) -> int:
        return round(self.fontMetrics().height() * 1.5)

    def sizeHint(self) -> QSize:
        self.ensurePolished()
        wide = QFontMetrics(self._font()).horizontalAdvance(self._words) + 4
        return QSize(self._side() + 8 + wide, self._side())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look, side = self._view.look, self._side()
        colours = look.levels[self._level] if self._level else None
        painter.setPen(QPen(QColor(colours.edge if colours else look.ink), 1.4))
        painter.setBrush(QColor(colours.fill if colours else look.paper))
        disc = QRectF(1, (self.height() - side) / 2 + 1, side - 2, side - 2)
        painter.drawEllipse(disc)
        painter.setFont(self._font())
        painter.setPen(QColor(colours.sign if colours else look.ink))
        painter.drawText(disc, Qt.AlignmentFlag.AlignCenter, self._channel)
        painter.setPen(QColor(look.ink))
        room = QRectF(side + 6, 0, self.width() - side - 6, self.height())
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, self._words)
        painter.end()


class AircraftHead(QWidget):
    """Silhouette, code and name to switch by, state, counts, position; what the last edit did."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        view = desk.view
        self.picture = Silhouette(view)
        self.choice = ListBox()
        self.choice.setObjectName("title")
        self.choice.setAccessibleName(say("Aircraft shown"))
        self.choice.setToolTip(say("Switch to another aircraft (F4)"))
        self.choice.setSizeAdjustPolicy(ListBox.SizeAdjustPolicy.AdjustToContents)
        self.pill = StatePill(view)
        self.counts = CountsStrip(view, say("Findings of this aircraft"), is_short=True)
        self.place = PlaceTag(view)
        self.drop_button = QToolButton()
        self.drop_button.setAccessibleName(say("Let go of the position"))
        self.drop_button.setToolTip(say("Let go of the position"))
        self.drop_button.setAutoRaise(True)
        self.change = PlainLabel()
        self.change.setObjectName("quiet")
        self.change.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.change.setAccessibleName(say("What the last edit did to the findings"))
        self._arrange()
        self._connect()
        self.read_again()

    def _arrange(self) -> None:
        self._where = QWidget()
        row = QHBoxLayout(self._where)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        row.addWidget(self.place)
        row.addWidget(self.drop_button)
        self._where.hide()
        line = FlowRow(self.picture, self.choice, self.pill, self.counts, self._where, gap=12)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 4, 12, 0)
        column.setSpacing(2)
        column.addLayout(line)
        column.addWidget(self.change)

    def _connect(self) -> None:
        desk = self._desk
        self.choice.activated.connect(lambda: desk.current.choose(str(self.choice.currentData())))
        self.drop_button.clicked.connect(desk.current.drop_position)
        switch = QShortcut(QKeySequence("F4"), self)
        switch.activated.connect(self.choice.showPopup)
        desk.current.changed.connect(self.show_current)
        desk.judged.connect(lambda code: self.show_current() if code == desk.current.aircraft else None)
        desk.touched.connect(self._touched)
        desk.view.changed.connect(self.show_current)

    def _touched(self, touched: frozenset[str]) -> None:
        if "airframe" in touched:
            self.read_again()
        else:
            self.show_current()

    def read_again(self) -> None:
        """List the aircraft there are."""
        with QSignalBlocker(self.choice):
            self.choice.clear()
            for airframe in self._desk.fleet.airframes():
                self.choice.addItem(f"{airframe.code}  {airframe.name}", airframe.code)
        self.show_current()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        is_hidden = _is_narrow(self, self._desk.view) or not self.change.text()
        if self.change.isHidden() != is_hidden:
            self.change.setHidden(is_hidden)
            self.picture.updateGeometry()

    def show_current(self) -> None:
        """Show the current aircraft and position."""
        code, look = self._desk.current.aircraft, self._desk.view.look
        self.choice.setCurrentIndex(self.choice.findData(code))
        self.drop_button.setIcon(icon("close", look.soft))
        judgement = self._desk.known(code) if code else None
        known = code is not None and code in self._desk.codes()
        self.choice.setVisible(known)
        if not known or code is None:
            self.picture.show_outline(None)
            self.pill.show_state(say("No aircraft is entered yet."), is_held=False)
            self.counts.show_counts({})
            self.change.clear()
            self._fit()
            self._where.hide()
            return
        aircraft = self._desk.aircraft(code)
        findings = judgement.findings if judgement else None
        self.picture.show_outline(outline_of(aircraft))
        self.picture.setToolTip(plain_tip(word_of(aircraft.airframe.aircraft_class)))
        self.pill.show_state(state_words(aircraft, findings), is_held=is_held(aircraft, findings))
        counts = count_levels(findings) if findings is not None else {}
        self.counts.show_counts(counts, verdict_words(judgement))
        difference = self._desk.difference(code)
        self.change.setText(difference_words(difference))
        self.change.setToolTip(plain_tip(difference_tip(difference)))
        self._fit()
        position = self._desk.current.position
        fit = next((fit for fit in aircraft.fits if fit.code == position), None)
        self._where.setVisible(fit is not None)
        if fit is not None:
            level = worst_level(judgement.about(fit.code, fit.tag)) if judgement else None
            self.place.show_place(fit.position.channel, f"{fit.code} {fit.position.name}", level)


def difference_words(difference: Difference | None) -> str:
    """What the last edit did to the findings, on one line; nothing before there was one."""
    if difference is None:
        return ""
    if not difference.gone and not difference.new:
        return say("The last edit changed no finding.")
    gone = say("{count} gone", count=len(difference.gone))
    new = say("{count} new", count=len(difference.new))
    first = put((*difference.new, *difference.gone)[0].message)
    return say("The last edit: {gone}, {new}. {first}", gone=gone, new=new, first=first)


def difference_tip(difference: Difference | None) -> str:
    """All findings that came or went."""
    if difference is None:
        return ""
    lines = [say("gone: {line}", line=put(finding.message)) for finding in difference.gone]
    lines += [say("new: {line}", line=put(finding.message)) for finding in difference.new]
    return "\n".join(lines)
