"""Why not this servo: a type and a position are chosen, one sentence answers."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hangar.base.text import Text
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say
from hangar.window.refit.refit_search import why_not, why_not_in_full

if TYPE_CHECKING:
    from hangar.refit import Front, Limits
    from hangar.refit.front import Point


class WhyNot(QWidget):
    """Answers for the refit that is shown. The first answer is quick; the limit behind it may follow."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._asked: tuple[Front, Limits, Point] | None = None
        self._task: BackgroundTask | None = None
        self._known: dict[tuple[int, str], dict[str, Text]] = {}
        self.servo = ListBox()
        self.position = ListBox()
        self.answer = PlainLabel(wordWrap=True)
        self.answer.setAccessibleName(say("Why not this servo"))
        row = FlowRow()
        for words, box, name, told in (
            (say("&Why not"), self.servo, say("Servo type that was not chosen"),
             say("Choose any servo type of the library: one sentence says what stands against it.")),
            (say("at"), self.position, say("Position of the servo that was not chosen"),
             say("Choose the position that it would go to.")),
        ):  # fmt: skip
            label = PlainLabel(words)
            label.setBuddy(box)
            label.setToolTip(plain_tip(told))
            box.setAccessibleName(name)
            box.setToolTip(plain_tip(told))
            row.addWidget(side_by_side(label, box))
            box.activated.connect(self.ask)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.answer)
        self.setEnabled(False)

    def show_front(self, front: Front | None, limits: Limits | None) -> None:
        """Offer the types of the library and the positions of this front's aircraft."""
        self._drop()
        self._asked, self._known = None, {}
        self.servo.clear()
        self.position.clear()
        self.answer.setText("")
        self.setEnabled(front is not None and limits is not None)
        if front is None or limits is None or front.tables is None:
            return
        self._asked = (front, limits, front.today)
        self.servo.addItems(sorted(front.tables.library.servo_types))
        self.position.addItems([code for group in front.tables.groups for code in group.codes])
        self.servo.setCurrentIndex(-1)

    def show_point(self, point: Point) -> None:
        """Answer for this refit from here on."""
        if self._asked is not None:
            self._asked = (*self._asked[:2], point)
            self.ask()

    def ask(self) -> None:
        """Answer for what is chosen; nothing where no type is chosen yet."""
        self._drop()
        servo, position = self.servo.currentText(), self.position.currentText()
        if self._asked is None or not servo or not position:
            return
        front, limits, point = self._asked
        key = (front.points.index(point), position)
        if key in self._known and servo in self._known[key]:
            self._take(key, servo, self._known[key])
            return
        self.answer.setText(say("Working out why…"))
        library = self._desk.basis().library
        self._start(
            BackgroundTask(self._desk, lambda: why_not(front, library, limits, point, position, servo)),
            partial(self._take, key, servo),
        )

    def _start(self, task: BackgroundTask, take: object) -> None:
        task.done.connect(take)
        task.failed.connect(lambda fault: self.answer.setText(put(fault)))
        self._task = task
        task.start()

    def _drop(self) -> None:
        if self._task is not None:
            self._task.drop()
            self._task = None

    def _take(self, key: tuple[int, str], servo: str, told: dict[str, Text]) -> None:
        """Show an answer; where it only says that less would be left, look for the limit behind it."""
        self._task = None
        self._known.setdefault(key, {}).update(told)
        self.answer.setText(put(told[servo]))
        if (
            self._asked is None
            or f"{servo}!" in self._known[key]
            or "would leave less" not in told[servo].key
        ):
            return
        front, limits, point = self._asked
        library = self._desk.basis().library
        self._start(
            BackgroundTask(self._desk, lambda: why_not_in_full(front, library, limits, point, key[1], servo)),
            partial(self._take_in_full, key, servo),
        )

    def _take_in_full(self, key: tuple[int, str], servo: str, told: Text) -> None:
        self._task = None
        self._known[key] |= {servo: told, f"{servo}!": told}
        self.answer.setText(put(told))
