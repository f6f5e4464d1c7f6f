"""The button that brings back the columns a table has no room for."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from hangar.window.tables.adaptive_table import AdaptiveTable


class AllColumns(QPushButton):
    """Seen only while there is more to see, or all is seen because of it.

    It has a parent from the first: shown without one it would be a window of its own for a moment.
    """

    def __init__(self, table: AdaptiveTable, parent: QWidget) -> None:
        super().__init__(parent)
        self._table = table
        self.setText(self.tr("All &columns"))
        self.setCheckable(True)
        self.toggled.connect(table.show_all)
        table.columns_left_out.connect(self._offer)
        self._offer(len(table.left_out))

    def _offer(self, left_out: int) -> None:
        self.setVisible(bool(left_out) or self.isChecked())
        told = self.tr("Not shown for want of room: {columns}.").format(
            columns=", ".join(self._table.left_out)
        )
        self.setToolTip(told if left_out else self.tr("Show only what there is room for."))
