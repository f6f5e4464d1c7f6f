"""What is asked of the ladder, on one line: most money, what may change, what stays as it is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLineEdit, QMenu, QPushButton, QWidget

from hangar.answers.refit_limits import usual_request
from hangar.base.errors import BadInput
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.refit.request import RefitRequest


class LadderForm(QWidget):
    """The fields; ``asking()`` is what stands in them."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.code: str | None = None
        self.budget = QLineEdit()
        self.budget.setPlaceholderText(say("no limit"))
        self.budget.setAccessibleName(say("Most money"))
        self.budget.setMaximumWidth(self.fontMetrics().averageCharWidth() * 12)
        self.may_change = ListBox()
        self.may_change.setAccessibleName(say("May change"))
        self.may_change.addItem(say("servos and supply"), True)
        self.may_change.addItem(say("servos, no supply"), False)
        self.may_change.addItem(say("swaps with other aircraft too"), None)
        self.keep = QPushButton()
        self.menu = QMenu(self.keep)
        self.keep.setMenu(self.menu)
        row = FlowRow(gap=12)
        self.setLayout(row)
        for words, field in (
            (say("Most &money"), self.budget),
            (say("May &change"), self.may_change),
            (say("Stays as it is"), self.keep),
        ):
            label = PlainLabel(words)
            label.setBuddy(field)
            row.addWidget(side_by_side(label, field))
        self._tell_kept()

    def show_aircraft(self, code: str) -> None:
        """Offer the positions and power paths of this aircraft; what was ticked stays so."""
        ticked = self.locked() if code == self.code else frozenset[str]()
        self.code = code
        self.menu.clear()
        aircraft = self._desk.aircraft(code)
        places = [
            (fit.code, f"{fit.code}  {fit.servo_type.code if fit.servo_type else say('no servo')}")
            for fit in aircraft.fits
        ]
        places += [(path.feed.code, path.feed.code) for path in aircraft.radio_paths]
        for place, words in places:
            action = QAction(words, self.menu, checkable=True, checked=place in ticked)
            action.setData(place)
            action.toggled.connect(lambda _on: self._tell_kept())
            self.menu.addAction(action)
        self._tell_kept()

    def locked(self) -> frozenset[str]:
        """Places that are to stay."""
        return frozenset(str(action.data()) for action in self.menu.actions() if action.isChecked())

    def _tell_kept(self) -> None:
        names = sorted(self.locked())
        words = ", ".join(names[:2]) + (f" + {len(names) - 2}" if len(names) > 2 else "")
        self.keep.setText(words or say("nothing"))
        self.keep.setAccessibleName(say("Stays as it is: {list}", list=", ".join(names) or say("nothing")))

    def asking(self) -> RefitRequest:
        """What is asked as it stands in the fields.

        Raises: BadInput for a budget that is no number.
        """
        from hangar.refit.partners import Partners

        may_change = self.may_change.currentData()
        return replace(
            usual_request(self._desk.basis()),
            budget=self._money(),
            locked=self.locked(),
            change_supply=may_change is not False,
            swap_with=Partners(self._desk.read_all()) if may_change is None else None,
        )

    def _money(self) -> float | None:
        text = self.budget.text().strip()
        if not text:
            return None
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            value = -1.0
        if value < 0.0:
            raise BadInput(
                say('{label}: "{text}" is not an amount; 0 or more is allowed, such as 300.',
                    label=self.budget.accessibleName(), text=text)
            )  # fmt: skip
        return value
