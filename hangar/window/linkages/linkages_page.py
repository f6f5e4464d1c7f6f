"""The page of linkages and leads: the worst of them, a row a position, the chosen one as a moving drawing."""

from __future__ import annotations

import time

from PySide6.QtCore import QEvent, QSignalBlocker, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import fitting
from hangar.answers.judging import Judgement
from hangar.answers.linkages import LinkageStudy, arm_holes
from hangar.base.text import text
from hangar.parts import Lead, Linkage, Record
from hangar.parts.fields import columns
from hangar.rules.finding import Level
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.motion_clock import Clock
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import Slider
from hangar.window.kit.strip import PageStack
from hangar.window.kit.verdict_bar import VerdictBar
from hangar.window.kit.words import say
from hangar.window.linkages.cut_list import CutList
from hangar.window.linkages.linkage_rows import (
    LinkageRow,
    LinkageTable,
    open_of_linkages,
)
from hangar.window.linkages.linkage_view import LinkageView
from hangar.window.linkages.linkage_words import LinkageWords
from hangar.window.linkages.ratio_plot import RatioPlot
from hangar.window.tables.all_columns import AllColumns

_FINE = 10
"""Steps of the slider for one degree."""
_LINES_ABOVE = 10
"""Lines of text that the table is never lower than: its heading and some rows."""


class LinkagesPage(QScrollArea):
    """The verdict, the table; below it drawing, words and ratio of the chosen linkage, or the cut list.

    Where large text leaves too few rows to the table, the whole page scrolls down.
    """

    def __init__(self, desk: Desk, clock: Clock = time.monotonic, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self.table = LinkageTable(desk, self)
        self.cut_button = QPushButton(say("&Cut list"))
        self.cut_button.setCheckable(True)
        self.cut_button.setToolTip(say("What to buy and to cut for the leads, in place of the drawing"))
        self.new_button = QPushButton(say("&New position…"))
        self.new_button.setEnabled(not desk.read_only)
        self.new_button.clicked.connect(lambda: desk.entry_wanted.emit("position"))
        self.verdict = VerdictBar(desk.view, self.new_button, self.cut_button)
        self.cut_list: CutList | None = None
        self.all_columns = AllColumns(self.table, self)
        self.drawing = LinkageView(desk.view, clock)
        self.plot = RatioPlot(desk.view)
        self.words = LinkageWords(desk.view)
        self.play_button = QPushButton(say("&Play"))
        self.neutral_button = QPushButton(say("&Neutral"))
        self.remove_button = QPushButton(say("&Remove linkage"))
        self.remove_lead_button = QPushButton(say("Remove lea&d"))
        self.travel = Slider(Qt.Orientation.Horizontal)
        self.travel.setAccessibleName(say("Servo travel"))
        self.travel.setPageStep(10 * _FINE)
        self.travel.setSingleStep(_FINE)
        self._code = self._shown = ""
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        label = PlainLabel(say("Servo &travel"))
        label.setBuddy(self.travel)
        sliding = side_by_side(label, self.travel)
        sliding.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        moves = FlowRow(self.play_button, self.neutral_button, sliding)
        for widget in (self.remove_button, self.remove_lead_button, self.all_columns):
            moves.addWidget(widget)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.drawing, 1)
        column.addLayout(moves)
        right = QSplitter(Qt.Orientation.Vertical)
        right.addWidget(self.words)
        right.addWidget(self.plot)
        right.setSizes([190, 240])
        right.setChildrenCollapsible(False)
        lower = QSplitter(Qt.Orientation.Horizontal)
        lower.addWidget(left)
        lower.addWidget(right)
        lower.setSizes([640, 400])
        lower.setChildrenCollapsible(False)
        self._lower = PageStack()
        self._lower.addWidget(lower)
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(self.table)
        halves.addWidget(self._lower)
        halves.setSizes([230, 430])
        halves.setChildrenCollapsible(False)
        whole = self._whole = QWidget()
        page = QVBoxLayout(whole)
        page.setContentsMargins(10, 10, 10, 10)
        page.addWidget(self.verdict)
        page.addWidget(halves, 1)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setAccessibleName(say("Linkages and leads"))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(whole)
        self._leave_room()

    def _leave_room(self) -> None:
        self.table.setMinimumHeight(self.fontMetrics().height() * _LINES_ABOVE)
        bar = self.verticalScrollBar().sizeHint().width()
        self.setMinimumWidth(self._whole.minimumSizeHint().width() + bar)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_whole"):
            self._leave_room()

    def _connect(self) -> None:
        self.table.row_chosen.connect(self._show_chosen)
        self.table.how_asked.connect(self._desk.how_asked)
        self.drawing.travel_changed.connect(self._travel_changed)
        self.drawing.playing_changed.connect(self._playing_changed)
        self.play_button.clicked.connect(self.drawing.toggle)
        self.neutral_button.clicked.connect(lambda: self._go_to(0.0))
        self.travel.valueChanged.connect(lambda value: self._go_to(value / _FINE))
        self.plot.travel_asked.connect(self._go_to)
        self.drawing.radius_dragged.connect(self._write_radius)
        self.cut_button.toggled.connect(self._turn)
        self.remove_button.clicked.connect(self.remove_chosen)
        self.remove_lead_button.clicked.connect(self.remove_lead)
        delete = QShortcut(QKeySequence.StandardKey.Delete, self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.remove_chosen)
        self._desk.view.changed.connect(self._write)

    @property
    def study(self) -> LinkageStudy | None:
        """The linkage that is shown."""
        row = self.table.current_row
        return row.study if isinstance(row, LinkageRow) else None

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the linkages and leads of an aircraft as it was judged last."""
        self._code, self._judgement = judgement.aircraft.code, judgement
        self._tell(judgement)
        self.table.show_judgement(judgement)
        self._choose_current()
        self._show_chosen(self.table.current_row)
        if self.cut_button.isChecked():
            self._turn(is_wanted=True)

    def _choose_current(self) -> None:
        """The row of the current position; without one the first that can be drawn."""
        current = self._desk.current
        if current.aircraft == self._code and current.position is not None:
            self.table.choose_row(current.position)
        rows = self.table.rows_model.rows
        if self.table.current_row is None and rows:
            self.table.choose_row(next((row for row in rows if row.study.link), rows[0]).code)

    def _tell(self, judgement: Judgement) -> None:
        """The worst that a linkage or a lead will do, and what more is open of them."""
        fits = judgement.aircraft.fits
        self.cut_button.setEnabled(bool(fits))
        self.new_button.setVisible(not fits)
        if not fits:
            words = say("No servo position is entered yet: there is nothing to judge.")
            self.verdict.tell(Level.CANT_TELL, words)
            return
        if not any(fit.linkage or fit.lead for fit in fits):
            words = say("No linkage and no lead is entered: nothing can be said of them.")
            more = say("Type arm, horn and rod, or the length of a lead, into the row of its position.")
            self.verdict.tell(Level.CANT_TELL, words, more)
            return
        self.verdict.tell_worst(
            open_of_linkages(judgement),
            say("No open findings of linkages and leads on the data entered."),
            lambda count: say("{count} more of linkages and leads under Findings.", count=count),
        )

    def _turn(self, is_wanted: bool) -> None:
        """Put the cut list in the place of the drawing, or the drawing back."""
        if is_wanted and self.cut_list is None:
            self.cut_list = CutList(self._desk)
            self._lower.addWidget(self.cut_list)
        if is_wanted and self.cut_list is not None and self._judgement is not None:
            self.drawing.pause()
            self.cut_list.show_aircraft(self._judgement.aircraft)
        self._lower.setCurrentIndex(int(is_wanted))
        self._leave_room()

    def _show_chosen(self, row: LinkageRow | None) -> None:
        study = row.study if row is not None else None
        has_link = study is not None and study.link is not None
        for widget in (self.play_button, self.neutral_button, self.travel):
            widget.setEnabled(has_link)
        recorded = row is not None and row.fit.linkage is not None
        self.remove_button.setEnabled(recorded and not self._desk.read_only)
        has_lead = row is not None and row.fit.lead is not None
        self.remove_lead_button.setEnabled(has_lead and not self._desk.read_only)
        if study is not None:
            with QSignalBlocker(self.travel):
                self.travel.setRange(round(study.low_deg * _FINE), round(study.high_deg * _FINE))
        holes = () if row is None else arm_holes(row.fit, self._desk.library())
        self.drawing.show_study(study, holes)
        self.plot.show_study(study)
        self._start_at_full_stick(row)
        self._travel_changed(self.drawing.travel_deg)

    def _start_at_full_stick(self, row: LinkageRow | None) -> None:
        """Another linkage is drawn as it stands at full stick; it also becomes the current position."""
        if row is None or f"{self._code} {row.code}" == self._shown:
            return
        self._shown = f"{self._code} {row.code}"
        self._go_to(row.study.full_stick_deg)
        if self.table.hasFocus():
            self._desk.current.choose(self._code, row.code)

    def _go_to(self, travel_deg: float) -> None:
        self.drawing.pause()
        self.drawing.set_travel(travel_deg)

    def _travel_changed(self, travel_deg: float) -> None:
        with QSignalBlocker(self.travel):
            self.travel.setValue(round(travel_deg * _FINE))
        self.plot.show_travel(travel_deg)
        self._write()

    def _playing_changed(self, playing: bool) -> None:
        self.play_button.setText(say("&Pause") if playing else say("&Play"))

    def _write(self) -> None:
        self.words.show_study(self.study, self.drawing.travel_deg)

    def _write_radius(self, field: str, radius_mm: float) -> None:
        """The tip of arm or horn was dragged: the record says so."""
        study = self.study
        if study is not None:
            spec = next(spec for spec in columns(Linkage) if spec.name == field)
            fit = study.fit
            self._desk.attempt(lambda: self._desk.do(fitting.set_part_field, fit, Linkage, spec, radius_mm))

    def remove_chosen(self) -> None:
        """Take the linkage at the chosen position out of the records; undo brings it back."""
        study = self.study
        if study is not None and study.fit.linkage is not None:
            self._remove(Linkage, study)

    def remove_lead(self) -> None:
        """Take the lead at the chosen position out of the records; undo brings it back."""
        study = self.study
        if study is not None and study.fit.lead is not None:
            self._remove(Lead, study)

    def _remove(self, kind: type[Record], study: LinkageStudy) -> None:
        if self._desk.read_only:
            return
        key = (study.fit.position.aircraft, study.code)
        label = (
            text("Remove linkage {position}", position=study.code)
            if kind is Linkage
            else text("Remove lead {position}", position=study.code)
        )
        self._desk.edit(label, lambda edit: edit.remove(kind, key))
