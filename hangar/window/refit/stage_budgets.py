"""The money of each stage: as many lines as the keeper likes, each with a name such as "this month"."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hangar.base.errors import BadInput
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.told_line import ToldLine
from hangar.window.kit.words import put, say

MOST_MONEY = 1e7


class BudgetRow(QWidget):
    """Name and money of one stage."""

    def __init__(self, number: int, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name = QLineEdit(name)
        self.name.setAccessibleName(say("Name of stage {number}", number=number))
        self.money = ToldLine(say("Money of stage {number}", number=number), say("money"))
        self.remove = QPushButton("−")
        self.remove.setAccessibleName(say("Remove stage {number}", number=number))
        self.remove.setToolTip(plain_tip(self.remove.accessibleName()))
        self.remove.setFixedWidth(self.remove.fontMetrics().height() * 2)
        row = QHBoxLayout()
        row.addWidget(self.name, 3)
        row.addWidget(self.money, 2)
        row.addWidget(self.remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(row)
        # The sentence needs the whole width: it stands below the row, not in the column of the money.
        column.addWidget(self.money.refusal_label)

    def read(self) -> float:
        """The money as it is typed.

        Raises: BadInput with a sentence for this line.
        """
        text = self.money.text.replace(",", ".")
        try:
            value = float(text or "0")
        except ValueError:
            raise BadInput(
                'The money "{text}" is not a number; a number such as 120 is wanted.', text=text
            ) from None
        if not 0.0 <= value <= MOST_MONEY:
            raise BadInput(
                "The money is {text}; 0 to {most} is allowed.", text=text, most=f"{MOST_MONEY:.0f}"
            )
        return value


class StageBudgets(QWidget):
    """Signals: ``asked()`` when Enter was pressed in a line of money."""

    asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: list[BudgetRow] = []
        self.add_button = QPushButton(say("&Add a stage"))
        self._list = QVBoxLayout()
        self._list.setSpacing(4)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        label = PlainLabel(say("Money of each stage; what is left over goes on to the next."), wordWrap=True)
        label.setObjectName("quiet")
        column.addWidget(label)
        column.addLayout(self._list)
        row = QHBoxLayout()
        row.addWidget(self.add_button)
        row.addStretch(1)
        column.addLayout(row)
        self.add_button.clicked.connect(self._add_and_go)
        for name in (say("this month"), say("next month"), say("the month after")):
            self.add(name)
        hand_focus(self, self.rows[0].money)

    def add(self, name: str = "") -> BudgetRow:
        """Add a stage at the end."""
        number = len(self.rows) + 1
        made = BudgetRow(number, name or say("stage {number}", number=number))
        made.money.line.returnPressed.connect(self.asked)
        made.remove.clicked.connect(lambda: self.take_away(made))
        self.rows.append(made)
        self._list.addWidget(made)
        self._allow()
        return made

    def _add_and_go(self) -> None:
        self.add().money.setFocus()

    def take_away(self, row: BudgetRow) -> None:
        """Take a stage away; one always stays."""
        if len(self.rows) < 2:
            return
        at = self.rows.index(row)
        self.rows.remove(row)
        self._list.removeWidget(row)
        row.hide()
        row.deleteLater()
        self._allow()
        hand_focus(self, self.rows[0].money)
        self.rows[min(at, len(self.rows) - 1)].money.setFocus()

    def _allow(self) -> None:
        for row in self.rows:
            row.remove.setEnabled(len(self.rows) > 1)

    def read(self) -> list[tuple[str, float]] | None:
        """Name and money of every stage; None after saying beside each line what is wrong."""
        budgets: list[tuple[str, float]] = []
        refused: list[BudgetRow] = []
        for number, row in enumerate(self.rows, 1):
            name = row.name.text().strip() or say("stage {number}", number=number)
            try:
                budgets.append((name, row.read()))
                row.money.refuse("")
            except BadInput as fault:
                row.money.refuse(put(fault))
                refused.append(row)
        if refused:
            refused[0].money.setFocus()
        return None if refused else budgets
