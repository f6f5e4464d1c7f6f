"""A page that scrolls down only: its boxes stand in as many columns as the width has room for."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

Columns = Sequence[Sequence[QWidget]]
SPACING = 16


class ColumnPage(QScrollArea):
    """Boxes in columns, with something above and below them that takes the whole width."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plans: tuple[Columns, ...] = ()
        self._plan: Columns | None = None
        self._sheet = QWidget()
        self._whole = QVBoxLayout(self._sheet)
        self._whole.setContentsMargins(14, 12, 14, 12)
        self._whole.setSpacing(SPACING)
        self._middle: QHBoxLayout | None = None
        self.setWidgetResizable(True)

    def arrange(
        self, plans: Sequence[Columns], above: QWidget | None = None, below: QWidget | None = None
    ) -> None:
        """Lay the page out.

        Args:
            plans: the same boxes in ever fewer columns; the first plan that fits is taken, else the last.
            above: what stands over the columns.
            below: what stands under them.
        """
        self._plans = tuple(plans)
        if above is not None:
            self._whole.addWidget(above)
        self._middle = QHBoxLayout()
        self._middle.setSpacing(SPACING)
        self._whole.addLayout(self._middle)
        if below is not None:
            self._whole.addWidget(below)
        self._whole.addStretch(1)
        self._put(self._plans[-1])
        self.setWidget(self._sheet)

    @property
    def column_count(self) -> int:
        """How many columns there are room for."""
        return len(self._plan or ())

    @property
    def wanted_width(self) -> int:
        """The least width at which nothing of it scrolls sideways."""
        return self._sheet.minimumSizeHint().width() + self.verticalScrollBar().sizeHint().width() + 2

    def fit(self) -> None:
        """Take the plan with the most columns that the width has room for."""
        if not self._plans:
            return
        margins = self._whole.contentsMargins()
        room = self.viewport().width() - margins.left() - margins.right()
        fitting = (plan for plan in self._plans if _needed(plan) <= room)
        self._put(next(fitting, self._plans[-1]))

    def _put(self, plan: Columns) -> None:
        middle = self._middle
        if plan is self._plan or middle is None:
            return
        self._plan = plan
        while (taken := middle.takeAt(0)) is not None:
            column = taken.layout()
            while isinstance(column, QBoxLayout) and column.takeAt(0) is not None:
                pass
            if column is not None:
                column.deleteLater()
        for boxes in plan:
            column = QVBoxLayout()
            column.setSpacing(SPACING)
            for box in boxes:
                column.addWidget(box)
            column.addStretch(1)
            middle.addLayout(column, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            # The boxes take up the other font after their parent.
            QTimer.singleShot(0, self, self.fit)


def _needed(plan: Columns) -> int:
    """The width a plan needs."""
    wide = sum(max(box.minimumSizeHint().width() for box in boxes) for boxes in plan)
    return wide + SPACING * (len(plan) - 1)
