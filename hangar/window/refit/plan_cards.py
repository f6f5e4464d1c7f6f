"""Plans as cards on shelves, one shelf for each state, the earliest on top."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QGridLayout, QHBoxLayout, QLabel, QScrollArea, QWidget

from hangar.answers.board import ORDER, Move, cost_of
from hangar.answers.outlook import Outlook, ballast_of, supply_g
from hangar.base.units import ShowsNumbers
from hangar.parts import Plan
from hangar.parts.choices import PlanState
from hangar.rules.forbidding import forbidding, parts_brought
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup, plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, put, say, say_plural, word_of

SHELVES = (*ORDER, PlanState.DROPPED)


@dataclass(frozen=True)
class PlanCard:
    """What a card says of a plan, all in words."""

    code: str
    aircraft: str
    title: str
    done: int
    lines: int
    cost: str
    due: str
    next_step: str

    @property
    def progress(self) -> str:
        """How many lines are carried out."""
        return say_plural(
            "{done} of {count} line done", "{done} of {count} lines done", count=self.lines, done=self.done
        )

    @property
    def spoken(self) -> str:
        """The card read out."""
        parts = (f"{self.aircraft} {self.title}", self.progress, self.cost, self.due, self.next_step)
        return ". ".join(part for part in parts if part)


def card_of(plan: Plan, moves: Iterable[Move], money_sign: str) -> PlanCard:
    """A plan as a card; the next step is the first thing missing, or the state it may go to."""
    forward = next((move for move in moves if move.state in ORDER), None)
    if plan.state in (PlanState.FLOWN_IN, PlanState.DROPPED) or forward is None:
        step = ""
    elif forward.is_open:
        step = say("Ready for: {state}", state=word_of(forward.state))
    else:
        step = say("Missing: {what}", what=put(forward.missing[0]))
    return PlanCard(
        code=plan.code,
        aircraft=plan.aircraft,
        title=plan.title,
        done=sum(line.done_on is not None for line in plan.lines),
        lines=len(plan.lines),
        cost=cost_words(plan, money_sign),
        due=say("due {day}", day=plan.due_on.isoformat()) if plan.due_on else "",
        next_step=step,
    )


class CardButton(QAbstractButton):
    """One card; opened by a click, Enter or Space."""

    def __init__(self, view: ViewSettings, card: PlanCard, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.card = card
        self.setAccessibleName(card.spoken)
        self.setToolTip(plain_tip(card.next_step))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(metrics.averageCharWidth() * 42, round(metrics.height() * 5.3) + 22)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def keyPressEvent(self, event: object) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):  # type: ignore[attr-defined]
            self.click()
        else:
            super().keyPressEvent(event)  # type: ignore[arg-type]

    def paintEvent(self, _event: QPaintEvent) -> None:
        look, card = self._view.look, self.card
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        strong = self.hasFocus() or self.underMouse()
        painter.setPen(QPen(QColor(look.accent if strong else look.line), 2.4 if strong else 1.0))
        painter.setBrush(QColor(look.paper))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 8, 8)
        inner = QRectF(self.rect()).adjusted(11, 8, -11, -9)
        bold = QFont(self.font())
        bold.setBold(True)
        line = float(self.fontMetrics().height())
        rows = (
            (card.title, bold, look.ink),
            (card.aircraft, self.font(), look.soft),
            (" · ".join(part for part in (card.progress, card.due) if part), self.font(), look.ink),
            (card.cost, self.font(), look.ink),
            (card.next_step, self.font(), look.soft),
        )
        for at, (words, font, colour) in enumerate(rows):
            painter.setFont(font)
            painter.setPen(QColor(colour))
            short = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, int(inner.width()))
            box = QRectF(inner.left(), inner.top() + at * line * 1.02, inner.width(), line * 1.1)
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, short)
        self._draw_progress(painter, inner)
        painter.end()

    def _draw_progress(self, painter: QPainter, inner: QRectF) -> None:
        look = self._view.look
        bar = QRectF(inner.left(), inner.bottom() - 3, inner.width(), 4)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.raised))
        painter.drawRoundedRect(bar, 2, 2)
        if self.card.lines and self.card.done:
            bar.setWidth(bar.width() * self.card.done / self.card.lines)
            painter.setBrush(QColor(look.accent))
            painter.drawRoundedRect(bar, 2, 2)


class Shelves(QScrollArea):
    """Seven shelves below each other. Signals: ``plan_opened(code)``."""

    plan_opened = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setWidgetResizable(True)
        self.setAccessibleName(say("Plans by state"))
        self.cards: dict[str, CardButton] = {}
        self.setFrameShape(QScrollArea.Shape.NoFrame)

    def show_cards(self, cards: Iterable[tuple[PlanState, PlanCard]]) -> None:
        """Put these cards on their shelves; the focus stays on the same plan."""
        focused = next((code for code, button in self.cards.items() if button.hasFocus()), None)
        by_state: dict[PlanState, list[PlanCard]] = {state: [] for state in SHELVES}
        for state, card in cards:
            by_state[state].append(card)
        self.cards = {}
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(14, 6, 14, 14)
        grid.setVerticalSpacing(10)
        for row, (state, on_shelf) in enumerate(by_state.items()):
            grid.addWidget(self._title(state, len(on_shelf)), row, 0, Qt.AlignmentFlag.AlignVCenter)
            grid.addWidget(self._shelf(on_shelf), row, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(len(by_state), 1)
        self.setWidget(page)
        if focused in self.cards:
            self.cards[focused].setFocus()

    def _title(self, state: PlanState, count: int) -> QLabel:
        words = say_plural("{count} plan", "{count} plans", count=count) if count else say("empty")
        label = MarkupLabel(
            markup("<b>{state}</b><br><span>{words}</span>", state=word_of(state), words=words)
        )
        label.setMinimumWidth(self.fontMetrics().averageCharWidth() * 16)
        return label

    def _shelf(self, cards: list[PlanCard]) -> QWidget:
        shelf = QWidget()
        row = QHBoxLayout(shelf)
        row.setContentsMargins(0, 2, 0, 2)
        row.setSpacing(12)
        for card in cards:
            button = CardButton(self._desk.view, card)
            button.clicked.connect(lambda _on=False, code=card.code: self.plan_opened.emit(code))
            self.cards[card.code] = button
            row.addWidget(button)
        if not cards:
            empty = PlainLabel("—")
            empty.setObjectName("quiet")
            row.addWidget(empty)
        row.addStretch(1)
        return shelf


def do_not_fit_words(outlook: Outlook) -> str:
    """Which parts of the plan must not be fitted, and why; empty where nothing forbids it."""
    why = forbidding(outlook.before.findings, outlook.after.findings)
    if not why:
        return ""
    parts = ", ".join(
        say("{part} at {place}", part=part, place=place) for part, place in parts_brought(outlook.plan.lines)
    )
    return say(
        "Do not fit {parts}: {why}", parts=parts, why=" ".join(put(finding.message) for finding in why)
    )


def money(value: float, sign: str) -> str:
    """A price with the keeper's money sign.

    >>> money(12.5, "EUR")
    '12.50 EUR'
    """
    return decimal(f"{value:.2f} {sign}".rstrip())


def cost_words(plan: Plan, sign: str) -> str:
    """What a plan costs, and how many lines have no price."""
    total, unpriced = cost_of(plan)
    words = money(total, sign)
    if not unpriced:
        return words
    return say_plural(
        "{cost}, {count} line without a price",
        "{cost}, {count} lines without a price",
        count=unpriced,
        cost=words,
    )


def mass_words(outlook: Outlook, units: ShowsNumbers) -> str:
    """What is added, and what could not be counted."""
    sign = "+" if outlook.mass_g >= 0 else ""
    words = f"{sign}{units.show(outlook.mass_g, 'g')}"
    if not outlook.unweighed:
        return words
    return say("{mass}, mass not known of {types}", mass=words, types=", ".join(outlook.unweighed))


def balance_words(outlook: Outlook, units: ShowsNumbers) -> str:
    """Where the balance is expected, within what range, and what ballast that asks for."""
    frame = outlook.before.aircraft.airframe
    words = figure_text(outlook.balance, units)
    if frame.cg_fore_mm is not None and frame.cg_aft_mm is not None:
        low, high = units.show(frame.cg_fore_mm, "mm"), units.show(frame.cg_aft_mm, "mm")
        words = say("{balance}, wanted {low} to {high}", balance=words, low=low, high=high)
        words += _ballast_words(outlook, units)
    unplaced = supply_g(outlook)
    if unplaced:
        mass = units.show(unplaced, "g")
        words += "; " + say("without {mass} of supply whose place is not recorded", mass=mass)
    if outlook.balance_lacks:
        words += "; " + say("not known: {what}", what=", ".join(map(put, outlook.balance_lacks[:3])))
    return words


def _ballast_words(outlook: Outlook, units: ShowsNumbers) -> str:
    """Ballast that brings the balance back to the middle, where it has left the range."""
    frame = outlook.before.aircraft.airframe
    fore, aft = frame.cg_fore_mm, frame.cg_aft_mm
    if outlook.balance is None or fore is None or aft is None or frame.all_up_mass_g is None:
        return ""
    if fore <= outlook.balance.expected <= aft:
        return "; " + say("no ballast needed")
    ballast = ballast_of(outlook)
    if ballast is None:
        return "; " + say("outside it")
    grams, place = ballast
    return "; " + say(
        "{mass} of ballast at {place} brings it to the middle",
        mass=units.show(grams, "g"),
        place=units.show(place, "mm"),
    )
