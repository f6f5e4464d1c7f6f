"""The order of work: one card for each step, with what must be right before the next one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import plans
from hangar.answers.board import TAGGED, Step, order_of_work
from hangar.answers.plans import Sketch, plans_from, tags_offered
from hangar.parts import Library, Plan, PlanLine
from hangar.parts.choices import PlanState
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup, plain
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say

if TYPE_CHECKING:
    from hangar.refit.answer import Answer


class StepCard(QFrame):
    """One step. Signals: ``fit_asked(line, tag)``."""

    fit_asked = Signal(object, str)

    def __init__(self, step: Step, tags: tuple[str, ...], following: int, may_fit: bool) -> None:
        super().__init__()
        self.step = step
        self.setFrameShape(QFrame.Shape.StyledPanel)
        is_next = step.number == following
        waits = say("Next") if is_next else say("First") if step.number < following else say("Later")
        state = say("Done") if step.done else waits
        if step.done and step.line and step.line.done_on:
            state = say("Done {day}", day=step.line.done_on.isoformat())
        title = MarkupLabel(
            markup("<b>{number}.&nbsp; {words}</b>", number=step.number, words=put(step.words))
        )
        title.setWordWrap(True)
        check = PlainLabel(say("Before the next step: {check}", check=put(step.check)))
        check.setWordWrap(True)
        state_label = MarkupLabel(markup("<b>{state}</b>", state=state) if is_next else plain(state))
        words = QVBoxLayout()
        words.addWidget(title)
        words.addWidget(check)
        row = QHBoxLayout(self)
        row.addLayout(words, 1)
        row.addWidget(state_label)
        self.tag = ListBox()
        self.button = QPushButton(say("Fit &this step") if is_next else say("Fit this step"))
        if step.line is not None and not step.done:
            self._offer(step.line, tags, may_fit)
            row.addWidget(self.tag)
            row.addWidget(self.button)
        self.setAccessibleName(f"{step.number}. {put(step.words)}. {state}")

    def _offer(self, line: PlanLine, tags: tuple[str, ...], may_fit: bool) -> None:
        takes_tag = line.action in TAGGED
        self.tag.setEditable(True)
        self.tag.addItems(list(tags))
        self.tag.setAccessibleName(say("Tag of the part that goes in"))
        self.tag.setToolTip(say("Choose a spare, or type the tag of a part that is entered with this step."))
        if not takes_tag:
            self.tag.hide()
        self.button.setAccessibleName(say("Fit step {number}", number=self.step.number))
        self.button.setEnabled(may_fit)
        self.button.clicked.connect(lambda: self.fit_asked.emit(line, self.tag.currentText()))


class PlanWork(QScrollArea):
    """All steps of a plan below each other."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._plan: Plan | None = None
        self.cards: tuple[StepCard, ...] = ()
        self.setWidgetResizable(True)
        self.setAccessibleName(say("Order of work"))

    def show_plan(self, plan: Plan) -> None:
        """Show the steps of this plan."""
        self._plan = plan
        library = self._desk.basis().library
        steps = order_of_work(plan)
        following = next((step.number for step in steps if step.line and not step.done), len(steps))
        fitting = plan.state is PlanState.FITTING and not self._desk.read_only
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(14, 10, 14, 14)
        if not fitting:
            hint = PlainLabel(say("Steps can be fitted while the plan is in Fitting."))
            hint.setObjectName("quiet")
            column.addWidget(hint)
        cards = []
        for step in steps:
            card = StepCard(step, self._tags(step.line, library), following, fitting)
            card.fit_asked.connect(self._fit)
            column.addWidget(card)
            cards.append(card)
        if not steps:
            column.addWidget(PlainLabel(say("The plan has no line yet.")))
        column.addStretch(1)
        self.cards = tuple(cards)
        self.setWidget(page)

    def _tags(self, line: PlanLine | None, library: Library) -> tuple[str, ...]:
        if line is None or line.done_on is not None:
            return ()
        return tags_offered(self._desk, line, library)

    def _fit(self, line: PlanLine, tag: str) -> None:
        plan = self._plan
        if plan is not None:
            self._desk.attempt(lambda: carry_out(self._desk, plan, line, tag))


def begin_plan(desk: Desk, aircraft: str, lines: Iterable[PlanLine] = (), title: str = "") -> str:
    """Enter a plan, sketched; returns its code."""
    (plan,) = plans_from(desk, [Sketch(aircraft, tuple(lines), title)], desk.today)
    desk.do(plans.begin_plan, plan)
    return plan.code


def begin_plans(desk: Desk, answer: Answer) -> str:
    """Enter what an answer does as a sketched plan, with one for each aircraft that it swaps servos with.

    Returns: the code of its own plan.
    """
    sketches = [Sketch(answer.aircraft.code, answer.lines)]
    sketches += [Sketch(code, lines) for code, lines in answer.lines_elsewhere.items()]
    made = plans_from(desk, sketches, desk.today)
    if len(made) == 1:
        desk.do(plans.begin_plan, made[0])
    else:
        desk.do(plans.keep_plans, made)
    return made[0].code


def keep_plan(desk: Desk, aircraft: str, title: str, purpose: str, lines: Iterable[PlanLine]) -> str | None:
    """Keep what was tried as a plan; returns its code, or None when it was refused and told."""
    sketch = Sketch(aircraft, tuple(lines), title, purpose=purpose, code=f"{aircraft} {title}")
    (plan,) = plans_from(desk, [sketch], desk.today)
    return plan.code if desk.attempt(lambda: desk.do(plans.begin_plan, plan)) else None


def carry_out(desk: Desk, plan: Plan, line: PlanLine, tag: str = "") -> None:
    """Do a line of a plan today.

    Raises: BadInput when something it needs is missing; nothing is changed then.
    """
    desk.do(plans.carry_out, plan, line, desk.aircraft(plan.aircraft), desk.library(), desk.today, tag)
