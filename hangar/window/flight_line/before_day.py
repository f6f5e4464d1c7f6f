"""What to do before the next field day: at most six acts, each with what it clears."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.rules.finding import Finding, Level
from hangar.window.kit.desk import Desk
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.words import put, say, say_plural

MOST_ACTS = 6
SOON_DAYS = 7
MOST_DUE = 30
"""Things that fall due named in the tip; those beyond are counted."""


@dataclass(frozen=True)
class ActToDo:
    """One act: its aircraft, what to do, what it is for, the level that it would clear."""

    aircraft: str
    words: str
    why: str
    level: Level | None = None


def acts_to_do(known: Iterable[Judgement]) -> tuple[ActToDo, ...]:
    """The cure of the gravest open warning of each aircraft, most warnings first; then what is due soon."""
    judged = tuple(known)
    warned = [(open_warnings(judgement), judgement.aircraft.code) for judgement in judged]
    gravest = sorted((pair for pair in warned if pair[0]), key=lambda pair: (-len(pair[0]), pair[1]))
    acts = [_cure(code, warnings[0], len(warnings)) for warnings, code in gravest[:MOST_ACTS]]
    due = [
        (judgement.aircraft.code, item)
        for judgement in judged
        for item in judgement.due
        if item.days <= SOON_DAYS
    ]
    if due:
        words = say_plural(
            "{count} thing falls due within a week", "{count} things fall due within a week", count=len(due)
        )
        why = [f"{code} {put(item.what)} {put(item.about)}" for code, item in due[:MOST_DUE]]
        if len(due) > MOST_DUE:
            why.append(say_plural("{count} more", "{count} more", count=len(due) - MOST_DUE))
        acts = [*acts[: MOST_ACTS - 1], ActToDo("", words, "; ".join(why))]
    return tuple(acts)


def open_warnings(judgement: Judgement) -> list[Finding]:
    """The warnings that nobody has accepted in writing."""
    return [finding for finding in judgement.findings if finding.is_open and finding.level is Level.WARNING]


def _cure(code: str, finding: Finding, count: int) -> ActToDo:
    words = put(finding.remedy) or put(finding.message)
    more = say_plural("{count} warning open", "{count} warnings open", count=count)
    why = put(finding.consequence or finding.message)
    return ActToDo(code, f"{code}: {words}", f"{why} ({more})", finding.level)


class _Mark(QWidget):
    """The mark of a level as large as a letter."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.level: Level | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        side = round(self.fontMetrics().height() * 1.1)
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self.level is not None:
            painter = QPainter(self)
            draw_mark(painter, QRectF(self.rect()), self.level, self._desk.view.look)
            painter.end()


class _Line(QWidget):
    """One act on two lines."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.mark = _Mark(desk)
        self.words = PlainLabel(wordWrap=True)
        self.words.setObjectName("strong")
        self.why = PlainLabel(wordWrap=True)
        self.why.setObjectName("cap")
        lines = QVBoxLayout()
        lines.setSpacing(0)
        lines.addWidget(self.words)
        lines.addWidget(self.why)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 2)
        row.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(lines, 1)

    def show_act(self, act: ActToDo) -> None:
        """Show an act."""
        self.mark.level = act.level
        self.words.setText(_shortened(act.words))
        self.why.setText(_shortened(act.why))
        self.setToolTip(plain_tip(f"{act.words}\n{act.why}"))
        self.mark.update()


LONGEST = 110


def _shortened(words: str) -> str:
    return words if len(words) <= LONGEST else f"{words[: LONGEST - 1].rstrip()}…"


class BeforeDay(QWidget):
    """The pane at the right of the Flight Line. Signals: ``day_wanted()``."""

    day_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setObjectName("pane")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setAccessibleName(say("Before the next field day"))
        title = PlainLabel(say("Before the next field day"), wordWrap=True)
        title.setObjectName("title")
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        self.lines = tuple(_Line(desk) for _ in range(MOST_ACTS))
        self.day_button = QPushButton(say("Open Field Day"))
        self.day_button.setProperty("main", True)
        self.day_button.clicked.connect(self.day_wanted)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.addWidget(title)
        column.addWidget(self.message)
        column.addWidget(self._scrolled(), 1)
        column.addWidget(self.day_button, 0, Qt.AlignmentFlag.AlignLeft)

    def _scrolled(self) -> QScrollArea:
        """The acts, which scroll down where there are more than the pane has room for."""
        held = QWidget()
        lines = QVBoxLayout(held)
        lines.setContentsMargins(0, 0, 4, 0)
        for line in self.lines:
            lines.addWidget(line)
        lines.addStretch(1)
        area = QScrollArea()
        area.setWidget(held)
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setAccessibleName(say("What to do before the next field day"))
        area.viewport().setAutoFillBackground(False)
        held.setAutoFillBackground(False)
        return area

    def read_again(self) -> None:
        """Show what is known so far."""
        codes = self._desk.codes()
        known = [judgement for judgement in map(self._desk.known, codes) if judgement is not None]
        acts = acts_to_do(known)
        for line, act in zip(self.lines, (*acts, *[None] * MOST_ACTS), strict=False):
            line.setVisible(act is not None)
            if act is not None:
                line.show_act(act)
        held = sum(bool(open_warnings(judgement)) for judgement in known)
        self.message.setText(
            say("Still looking them over…")
            if len(known) < len(codes)
            else say_plural(
                "{count} aircraft with warnings open.", "{count} aircraft with warnings open.", count=held
            )
            if held
            else say("No open warnings on the data entered.")
        )
