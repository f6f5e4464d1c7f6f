"""Drawing, table and inspector of a page: side by side where there is room, else turned by a strip."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hangar.window.kit.kept_splitter import KeptSplitter
from hangar.window.kit.strip import JoinedStrip, PageStack
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say

WIDE, NARROW, SINGLE = "wide", "narrow", "single"
NARROW_UNITS, SINGLE_UNITS = 1060, 780
"""Below so many units of its width the table lies behind the drawing; below so many everything does."""
SHARES = {WIDE: 0.41, NARROW: 0.5}
WIDEST_UNITS = 680
"""The drawing takes no more units of the width, however wide the page is."""


class PaneSet(QWidget):
    """Three panes; one too narrow leaves the row and becomes a choice. F6 goes to the next, Shift+F6 back.

    Signals: ``turned()`` when another pane is shown in the place of one.
    """

    turned = Signal()

    def __init__(
        self,
        view: ViewSettings,
        name: str,
        panes: tuple[tuple[str, QWidget], tuple[str, QWidget], tuple[str, QWidget]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._view = view
        self._panes = tuple(pane for _title, pane in panes)
        self.mode = ""
        self.two, self.three = JoinedStrip(say("Drawing or table")), JoinedStrip(say("Which pane"))
        for title, _pane in panes[:2]:
            self.two.add(title)
        for title, _pane in panes:
            self.three.add(title)
        self._stack = PageStack()
        self._left = QWidget()
        column = QVBoxLayout(self._left)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        strips = QHBoxLayout()
        strips.addWidget(self.two)
        strips.addWidget(self.three)
        strips.addStretch(1)
        column.addLayout(strips)
        column.addWidget(self._stack, 1)
        self._right = KeptSplitter(view, f"{name} right", Qt.Orientation.Vertical)
        self.halves = KeptSplitter(view, name, Qt.Orientation.Horizontal)
        self.halves.addWidget(self._left)
        self.halves.addWidget(self._right)
        self.halves.setStretchFactor(1, 1)
        frame = QVBoxLayout(self)
        frame.setContentsMargins(0, 0, 0, 0)
        frame.addWidget(self.halves)
        self._stack.addWidget(self._panes[0])
        self.two.changed.connect(self.show_pane)
        self.three.changed.connect(self.show_pane)
        for keys, step in (("F6", 1), ("Shift+F6", -1)):
            key = QShortcut(QKeySequence(keys), self)
            key.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            key.activated.connect(lambda step=step: self.step(step))
        self._later = QTimer(self, singleShot=True, interval=0)
        self._later.timeout.connect(self.fit)
        self._take_mode(WIDE)

    def show_pane(self, at: int) -> None:
        """Bring a pane to the front, where it lies behind another."""
        if self._later.isActive():
            self._later.stop()
            self.fit()
        pane = self._panes[at]
        if self._stack.indexOf(pane) >= 0:
            self._stack.setCurrentWidget(pane)
            for strip in (self.two, self.three):
                strip.choose(at)
        self.turned.emit()

    def step(self, way: int) -> None:
        """Go to the next pane, with the focus in it."""
        focus = self.focusWidget()
        here = next((at for at, pane in enumerate(self._panes) if pane.isAncestorOf(focus)), 0)
        at = (here + way) % len(self._panes)
        self.show_pane(at)
        pane = self._panes[at]
        inside = [
            child
            for child in pane.findChildren(QWidget)
            if child.isVisible() and child.focusPolicy() & Qt.FocusPolicy.TabFocus
        ]
        if inside:
            inside[0].setFocus(Qt.FocusReason.TabFocusReason)

    def minimumSizeHint(self) -> QSize:
        """One pane at a time is the least; the others come to stand beside it where there is room."""
        least = QSize(0, 0)
        for pane in self._panes:
            least = least.expandedTo(pane.minimumSizeHint())
        shown = self._stack.currentWidget() or self._panes[0]
        if self.mode != SINGLE:
            return QSize(least.width(), self.halves.minimumSizeHint().height())
        high = self.three.sizeHint().height() + 4
        return QSize(least.width(), shown.minimumSizeHint().height() + high)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._fitting_mode() == self.mode or not self.isVisible():
            self.fit()
        else:
            # Panes that change places lose their handles: not while Qt goes over all widgets that there are.
            # Before they are on view they find their places at once.
            self._later.start()

    def _fitting_mode(self) -> str:
        units = self.width() * 10 / self._view.points
        return WIDE if units >= NARROW_UNITS else NARROW if units >= SINGLE_UNITS else SINGLE

    def fit(self) -> None:
        """Put the panes as the width allows at the size of the print."""
        self._take_mode(self._fitting_mode())
        if self.mode == SINGLE:
            return
        kept = self.halves.kept_sizes
        share = kept[0] / max(1, sum(kept)) if kept else SHARES[self.mode]
        most = self.width() if kept else round(WIDEST_UNITS * self._view.points / 10)
        left = min(most, round(self.width() * share))
        self.halves.setSizes([left, self.width() - left])

    def _take_mode(self, mode: str) -> None:
        if mode == self.mode:
            return
        self.mode = mode
        _drawing, table, inspector = self._panes
        if mode == WIDE:
            self._right.insertWidget(0, table)
        else:
            self._stack.insertWidget(1, table)
        if mode == SINGLE:
            self._stack.addWidget(inspector)
        else:
            self._right.addWidget(inspector)
        # What a stack hides stays hidden when it is taken out.
        for pane in (table, inspector):
            if self._stack.indexOf(pane) < 0:
                pane.show()
        if mode == WIDE and not self._right.kept_sizes:
            self._right.setSizes([250, 400])
        self._right.setVisible(mode != SINGLE)
        self.two.setVisible(mode == NARROW)
        self.three.setVisible(mode == SINGLE)
        self.show_pane(max(0, (self.three if mode == SINGLE else self.two).chosen) if mode != WIDE else 0)
