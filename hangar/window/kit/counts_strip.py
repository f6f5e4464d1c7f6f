"""Findings by level on one line: shape, sign, number and word."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hangar.answers.judging import Judgement
from hangar.parts import Aircraft
from hangar.parts.choices import AircraftState
from hangar.parts.holding import grounding_snags
from hangar.rules.finding import Finding, Level
from hangar.rules.releasing import unknown_essentials
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, put, say, word_of

if TYPE_CHECKING:
    from hangar.rules.finding import Level


def state_words(aircraft: Aircraft, findings: tuple[Finding, ...] | None) -> str:
    """The aircraft's state; on the line is only what was judged and has no warning and no snag against it."""
    state = aircraft.airframe.state
    if state is AircraftState.ON_THE_LINE:
        if findings is None:
            return say("Not judged yet")
        if has_open_warning(findings):
            return say("Held: warnings open")
        if grounding_snags(aircraft.snags):
            return say("Held: open snag")
        if unknown_essentials(aircraft):
            return say("On the line, not judged")
    reason = aircraft.airframe.state_reason
    return f"{word_of(state)}: {reason}" if reason and state is AircraftState.HELD else word_of(state)


def pill_words(aircraft: Aircraft, findings: tuple[Finding, ...] | None) -> str:
    """The state in a word or two; the reason stands beside it."""
    if is_held(aircraft, findings):
        return word_of(AircraftState.HELD)
    state = aircraft.airframe.state
    if state is AircraftState.ON_THE_LINE and (findings is None or unknown_essentials(aircraft)):
        return say("Not judged yet") if findings is None else say("On the line, not judged")
    return word_of(state)


def is_held(aircraft: Aircraft, findings: tuple[Finding, ...] | None) -> bool:
    """Whether its state is held, by the keeper or by a warning or snag; on the bench it is on the bench."""
    state = aircraft.airframe.state
    if state is AircraftState.ON_THE_LINE and findings is not None:
        return has_open_warning(findings) or bool(grounding_snags(aircraft.snags))
    return state is AircraftState.HELD


def has_open_warning(findings: tuple[Finding, ...]) -> bool:
    """Whether a warning stands that nobody accepted."""
    return any(finding.is_open and finding.level is Level.WARNING for finding in findings)


def verdict_words(judgement: Judgement | None) -> str:
    """What can be said of warnings; never that it is safe."""
    if judgement is None:
        return say("Looking it over…")
    if has_open_warning(judgement.findings):
        return say("Do not fly before the warnings are cured")
    lacks = unknown_essentials(judgement.aircraft)
    if lacks:
        named = ", ".join(put(what) for what in lacks)
        return say("Cannot be judged; not on record: {what}", what=named)
    return say("No open warnings on the data entered")


def fleet_words(known: Collection[Judgement | None]) -> str:
    """What can be said of warnings over a whole fleet; nothing before every aircraft is judged."""
    judged = [judgement for judgement in known if judgement is not None]
    if not judged or len(judged) < len(known):
        return ""
    if any(has_open_warning(judgement.findings) for judgement in judged):
        return ""
    lacking = [judgement.aircraft.code for judgement in judged if unknown_essentials(judgement.aircraft)]
    if lacking:
        return say("Cannot be judged: {codes}.", codes=", ".join(lacking))
    return say("No open warnings on the data entered")


def failure_words(fault: Exception | None) -> str:
    """Why nothing can be said of an aircraft; empty when nothing failed."""
    return say("Could not be worked out: {why}", why=put(fault)) if fault else ""


def last_flight_words(last: date | None) -> str:
    """When it flew last."""
    if last is None:
        return say("No flight logged")
    return say("Last flight {day}", day=last.isoformat())


def worst_words(findings: Iterable[Finding]) -> str:
    """What the gravest open warning will make the aircraft do; empty where none is open."""
    warning = next(
        (finding for finding in findings if finding.is_open and finding.level is Level.WARNING), None
    )
    return "" if warning is None else put(warning.consequence or warning.message)


def due_words(judgement: Judgement | None) -> str:
    """What is due next; more than one overdue thing is counted."""
    if judgement is None:
        return ""
    if not judgement.due:
        return say("Nothing is due")
    first = judgement.due[0]
    overdue = sum(item.days < 0 for item in judgement.due)
    what, about = first.what, first.about
    if overdue > 1:
        return say("{count} things overdue, first {what} {about}", count=overdue, what=what, about=about)
    if overdue:
        return say("Overdue: {what} {about}", what=what, about=about)
    return say("Due {day}: {what} {about}", day=first.due_on, what=what, about=about)


GAP_EM = 1.6
_ENDLESS = 10_000
_WRAPPED = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap


class CountsStrip(QWidget):
    """Shows the levels that have findings, then a closing sentence.

    One that ``wraps`` writes the sentence under them where it needs the room; else it is cut. One that
    ``is_short`` shows marks and numbers only; words and sentence are in its tip.
    """

    def __init__(
        self,
        view: ViewSettings,
        name: str,
        parent: QWidget | None = None,
        *,
        wraps: bool = False,
        is_short: bool = False,
    ) -> None:
        super().__init__(parent)
        self._wraps = wraps
        self._is_short = is_short
        self._view = view
        self._name = name
        self._counts: dict[Level, int] = {}
        self._sentence = ""
        self.setAccessibleName(name)
        # Where the window is too small for all lines it gives way to one, and the sentence is cut.
        upright = QSizePolicy.Policy.Maximum if wraps else QSizePolicy.Policy.Fixed
        self.setSizePolicy(QSizePolicy.Policy.Preferred, upright)
        view.changed.connect(self.updateGeometry)

    @property
    def words(self) -> str:
        """Everything shown, as text."""
        parts = [level_count(level, count) for level, count in self._counts.items()]
        return ", ".join([*parts, self._sentence] if self._sentence else parts)

    def show_counts(self, counts: Mapping[Level, int], sentence: str = "") -> None:
        """Show these counts; levels without findings are left out."""
        self._counts = {level: count for level, count in counts.items() if count}
        self._sentence = sentence
        self.setAccessibleName(f"{self._name}: {self.words}")
        self.setToolTip(plain_tip(self.words))
        self.updateGeometry()
        self.update()

    def _font(self) -> QFont:
        font = QFont(self.font())
        font.setBold(True)
        return font

    @property
    def _shown_sentence(self) -> str:
        return "" if self._is_short else self._sentence

    def _count_words(self, level: Level, count: int) -> str:
        return str(count) if self._is_short else level_count(level, count)

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        width = self._counts_width() + metrics.horizontalAdvance(self._shown_sentence)
        high = self.heightForWidth(self.width()) if self._wraps else self._line_high() + 6
        return QSize(round(width) + 4, high)

    def minimumSizeHint(self) -> QSize:
        return QSize(60, self._line_high() + 6)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.updateGeometry()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def heightForWidth(self, width: int) -> int:
        """One line, or more where the sentence needs lines of its own."""
        if self._fits(width):
            return self._line_high() + 6
        return self._below() + self._sentence_high(width) + 6

    @property
    def _gap(self) -> float:
        return GAP_EM / 2 if self._is_short else GAP_EM

    def _line_high(self) -> int:
        return QFontMetrics(self._font()).height()

    def _counts_width(self) -> float:
        bold, height = QFontMetrics(self._font()), self._line_high()
        return sum(
            height * (1.3 + self._gap) + bold.horizontalAdvance(self._count_words(level, count))
            for level, count in self._counts.items()
        )

    def _fits(self, width: float) -> bool:
        return self._counts_width() + self.fontMetrics().horizontalAdvance(self._shown_sentence) <= width

    def _below(self) -> int:
        """Where the sentence begins when it has lines of its own."""
        return round(self._line_high() * 1.15) if self._counts else 0

    def _sentence_high(self, width: int) -> int:
        room = QRect(0, 0, max(width, 1), _ENDLESS)
        return self.fontMetrics().boundingRect(room, int(_WRAPPED), self._sentence).height()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        look = self._view.look
        height = self._line_high()
        below = not self._fits(self.width()) and self.height() >= self.heightForWidth(self.width()) - 3
        left, top = 0.0, 3.0 if below else (self.height() - height) / 2
        for level, count in self._counts.items():
            draw_mark(painter, QRectF(left, top, height, height), level, look)
            left += height * 1.3
            words = self._count_words(level, count)
            left = self._write(painter, words, left, top, look.levels[level].words, self._font())
            left += height * self._gap
        if self._shown_sentence and below:
            painter.setFont(self.font())
            painter.setPen(QColor(look.ink))
            room = QRectF(0, 3 + self._below(), self.width(), self.height())
            painter.drawText(room, int(_WRAPPED), self._sentence)
        elif self._shown_sentence:
            self._write(painter, self._sentence, left, top, look.ink, self.font())
        painter.end()

    def _write(
        self, painter: QPainter, text: str, left: float, top: float, colour: str, font: QFont
    ) -> float:
        painter.setFont(font)
        painter.setPen(QColor(colour))
        metrics = QFontMetrics(font)
        room = QRectF(left, top, max(0.0, self.width() - left), self._line_high())
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)
        return left + metrics.horizontalAdvance(text)
