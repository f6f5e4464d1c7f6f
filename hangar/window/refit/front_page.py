"""Search the refits of one aircraft: limits on the left, the front in the middle, one refit in full."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import BadInput
from hangar.base.text import Text
from hangar.parts import Library
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import LONGEST_HEAD, folded
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say, say_plural
from hangar.window.refit.front_view import AXES, Axis, FrontView, point_html
from hangar.window.refit.plan_cards import money
from hangar.window.refit.plan_page import money_sign
from hangar.window.refit.plan_work import begin_plan
from hangar.window.refit.refit_form import RefitForm
from hangar.window.refit.refit_search import RefitSearch, reasons_of, search_front
from hangar.window.refit.search_state import SearchState
from hangar.window.refit.why_not import WhyNot
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.refit import Front, Limits
    from hangar.refit.front import Point

_ASKED_ABOUT = frozenset({"airframe", "position", "installation", "plan", "plan_line"})
"""Kinds of record that the fields of the search show."""
_GIVES_WAY = {"mass": 3, "volts": 4}
"""Figures that the table leaves out where there is no room, in this order."""


class FrontPage(QWidget):
    """Signals: ``left()`` back to the board; ``plan_kept(code)``; ``stages_wanted(aircraft, lines)``."""

    left = Signal()
    plan_kept = Signal(str)
    stages_wanted = Signal(str, object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.front: Front | None = None
        self._limits: Limits | None = None
        self._why: BackgroundTask | None = None
        self._reasons: dict[int, tuple[Text | str, ...]] = {}
        self.search = RefitSearch(desk)
        self.back = QPushButton(say("← &Board"))
        self.back.setAccessibleName(say("Back to the board"))
        self.asking = RefitForm(desk)
        self.aircraft, self.budget = self.asking.aircraft, self.asking.budget
        self.start_button = QPushButton(say("&Search"))
        self.stop_button = QPushButton(say("S&top"))
        self.progress = QProgressBar()
        self.progress.setAccessibleName(say("Progress of the search"))
        self.told = PlainLabel(wordWrap=True)
        self.across, self.up = ListBox(), ListBox()
        self.chart = FrontView(desk.view)
        self._model: RowsModel[tuple[int, Point]] = RowsModel(desk, self._columns(), lambda row: row[0], self)
        self.table = RowsView(self._model, say("Refits that none beats, as a table"))
        self.table.choose_whole_rows()
        self.page = QTextBrowser()
        self.page.setAccessibleName(say("The chosen refit in full"))
        self.why_not = WhyNot(desk)
        self.keep_button = QPushButton(say("&Keep as a plan"))
        self.stages_button = QPushButton(say("&In stages…"))
        self.stages_button.setToolTip(say("What to do this month and next, the most risk gone first."))
        self._fill_axes()
        self._arrange()
        self._connect()
        self._show_running()

    def _columns(self) -> tuple[Column[tuple[int, Point]], ...]:
        found: list[Column[tuple[int, Point]]] = [
            Column(say("Refit"), lambda row, _u: str(row[0]) if row[1].changes else say("as it is"),
                   raw=lambda row: row[0], number=True),
        ]  # fmt: skip
        return (
            *found,
            *(self._axis_column(axis) for axis in AXES),
            Column(say("Lines"), lambda row, _u: str(len(row[1].changes)), number=True, gives_way=2),
            Column(say("Cures"), lambda row, _u: str(len(row[1].cured)), number=True, gives_way=1),
        )

    def _axis_column(self, axis: Axis) -> Column[tuple[int, Point]]:
        def text(row: tuple[int, Point], units: Any) -> str:
            value = axis.value(row[1])
            if value is None:
                return "—"
            if axis.name == "price":
                return money(value, money_sign(self._desk))
            return axis.show(round(value, 3), units)

        return Column(
            folded(say(axis.words), LONGEST_HEAD),
            text,
            raw=lambda row: axis.value(row[1]),
            number=True,
            gives_way=_GIVES_WAY.get(axis.name, 0),
        )

    def _fill_axes(self) -> None:
        for box, name, start in ((self.across, say("Across"), 0), (self.up, say("Upwards"), 2)):
            box.setAccessibleName(name)
            box.setMinimumWidth(self.fontMetrics().averageCharWidth() * 10)
            for axis in AXES:
                box.addItem(say(axis.words), axis.name)
            box.setCurrentIndex(start)

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 10, 6, 10)
        whole = self._thirds = QSplitter(Qt.Orientation.Horizontal)
        whole.addWidget(self._asking())
        middle = QSplitter(Qt.Orientation.Vertical)
        middle.addWidget(self._drawing())
        below = QWidget()
        rows = QVBoxLayout(below)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(LeftOut(self.table, below))
        rows.addWidget(self.table, 1)
        middle.addWidget(below)
        middle.setSizes([430, 200])
        whole.addWidget(middle)
        whole.addWidget(self._telling())
        whole.setChildrenCollapsible(False)
        column.addWidget(whole, 1)
        column.addWidget(self.told)

    def _share(self) -> None:
        """What is asked has the width it wishes, where that is not too much of the page."""
        asked = min(self.asking.sizeHint().width() + 8, self.width() * 3 // 10)
        rest = self.width() - asked
        self._thirds.setSizes([asked, rest * 3 // 5, rest * 2 // 5])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self._share()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_thirds"):
            # The fields take up the other font after their parent.
            QTimer.singleShot(0, self, self._share)

    def _asking(self) -> QWidget:
        panel = QWidget()
        column = QVBoxLayout(panel)
        column.setContentsMargins(0, 0, 8, 0)
        column.addWidget(self.back, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.asking, 1)
        row = QHBoxLayout()
        row.addWidget(self.start_button)
        row.addWidget(self.stop_button)
        column.addLayout(row)
        column.addWidget(self.progress)
        return panel

    def _drawing(self) -> QWidget:
        panel = QWidget()
        column = QVBoxLayout(panel)
        column.setContentsMargins(0, 0, 0, 0)
        row = FlowRow()
        for label, box in ((say("Upwards"), self.up), (say("Across"), self.across)):
            words = PlainLabel(label)
            words.setBuddy(box)
            row.addWidget(side_by_side(words, box))
        column.addLayout(row)
        column.addWidget(self.chart, 1)
        return panel

    def _telling(self) -> QWidget:
        panel = QWidget()
        column = QVBoxLayout(panel)
        column.setContentsMargins(8, 0, 0, 0)
        self.page.setMinimumWidth(self.fontMetrics().averageCharWidth() * 19)
        column.addWidget(self.page, 1)
        column.addWidget(self.why_not)
        column.addLayout(FlowRow(self.keep_button, self.stages_button))
        return panel

    def _connect(self) -> None:
        self.back.clicked.connect(self.left)
        self.start_button.clicked.connect(self.begin)
        self.stop_button.clicked.connect(self._stop)
        self.keep_button.clicked.connect(self.keep)
        self.stages_button.clicked.connect(self._put_in_stages)
        self.state = SearchState(self.search, self.start_button, self.stop_button, self.progress)
        self.search.found.connect(self._take)
        self.search.failed.connect(self._desk.trouble)
        self.search.ended.connect(self._show_running)
        self.chart.point_chosen.connect(self._choose)
        self.table.row_chosen.connect(lambda row: self.chart.choose(row[0]) if row is not None else None)
        for box in (self.across, self.up):
            box.currentIndexChanged.connect(self._show_axes)
        self._desk.touched.connect(self._touched)
        self.destroyed.connect(self.search.leave)
        self.setFocusProxy(self.aircraft)

    def choose_aircraft(self, code: str) -> None:
        """Ask about this aircraft."""
        self.aircraft.setCurrentIndex(max(0, self.aircraft.findData(code)))

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & _ASKED_ABOUT:
            self.asking.list_aircraft()
        if self.front is not None and not self.search.is_running:
            self.told.setText(say("The fleet has changed since this search."))

    def begin(self) -> None:
        """Search."""
        code = self.aircraft.currentData()
        if code is not None:
            self._desk.attempt(lambda: self._start(str(code)))

    def _start(self, code: str) -> None:
        limits = self.asking.limits()
        aircraft, library = self._desk.aircraft(code), self._library()
        self._limits, self.front = limits, None
        self.why_not.show_front(None, None)
        self.told.setText("")
        self.search.start(lambda progress, stop: search_front(aircraft, library, limits, progress, stop))
        self._show_running()

    def _library(self) -> Library:
        return self._desk.basis().library

    def _stop(self) -> None:
        self.search.stop()
        self.told.setText(say("Stopping…"))

    def _show_running(self) -> None:
        running = self.state.show_running()
        point = self._point()
        self.keep_button.setEnabled(not running and point is not None and not self._desk.read_only)
        self.stages_button.setEnabled(not running and point is not None and bool(point.changes))

    def _take(self, front: Front) -> None:
        self.front = front
        self._reasons = {}
        self._model.show_rows(tuple(enumerate(front.points)))
        self.chart.show_points(front.points)
        self.why_not.show_front(front, self._limits)
        proof = say("Proved best on its steps.") if front.exact else say("Not proved best.")
        if any(str(doubt).startswith("Not proved best:") for doubt in front.doubts):
            proof = ""
        count = say_plural(
            "{count} refit that none beats.", "{count} refits that none beats.", count=len(front.points) - 1
        )
        hidden = say_plural("{count} more is not shown.", "{count} more are not shown.", count=front.hidden)
        hidden = hidden if front.hidden else ""
        doubts = map(put, front.doubts)
        self.told.setText(" ".join(part for part in (count, hidden, proof, *doubts) if part))
        self.chart.choose(0)

    def _show_axes(self) -> None:
        by_name = {axis.name: axis for axis in AXES}
        self.chart.show_axes(by_name[self.across.currentData()], by_name[self.up.currentData()])

    def _point(self) -> Point | None:
        front = self.front
        number = self.chart.chosen
        return front.points[number] if front is not None and 0 <= number < len(front.points) else None

    def _choose(self, number: int) -> None:
        self.table.choose_row(number)
        self._show_point()
        self._show_running()
        point, front, limits = self._point(), self.front, self._limits
        if point is not None:
            self.why_not.show_point(point)
        if point is None or front is None or limits is None or number in self._reasons or not point.changes:
            return
        if self._why is not None:
            self._why.drop()
        library = self._library()
        task = BackgroundTask(self._desk, lambda: reasons_of(front, library, limits, point))
        task.done.connect(lambda reasons: self._take_reasons(front, number, reasons))
        task.failed.connect(lambda fault: self._take_reasons(front, number, (put(fault),)))
        self._why = task
        task.start()

    def _take_reasons(self, front: Front, number: int, reasons: tuple[Text | str, ...]) -> None:
        self._why = None
        if front is self.front:
            self._reasons[number] = reasons
            self._show_point()

    def _show_point(self) -> None:
        point, front = self._point(), self.front
        if point is not None and front is not None:
            self.page.setHtml(point_html(self.chart, point, front, self._reasons.get(self.chart.chosen)))

    def _put_in_stages(self) -> None:
        point, front = self._point(), self.front
        if point is not None and front is not None:
            self.stages_wanted.emit(front.aircraft.code, point.changes)

    def keep(self) -> None:
        """Keep the chosen refit as a sketched plan."""
        point, front = self._point(), self.front
        if point is None or front is None:
            return

        def step() -> None:
            if not point.changes:
                raise BadInput("The aircraft as it is needs no plan; choose another point.")
            code = begin_plan(self._desk, front.aircraft.code, point.changes)
            self.plan_kept.emit(code)

        self._desk.attempt(step)
