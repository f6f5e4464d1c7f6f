"""The Positions screen: the aircraft from above beside what sits where and whether it is enough."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QKeySequence, QPalette, QShortcut
from PySide6.QtWidgets import (
    QListWidgetItem,
    QMenu,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import fitting
from hangar.answers import bay
from hangar.answers.judging import Judgement, worst_level
from hangar.parts import Position, ServoFit
from hangar.parts.outlines import first_place, outline_of
from hangar.window.findings.findings_panel import FindingsPanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, SentencePane
from hangar.window.kit.kept_splitter import KeptSplitter
from hangar.window.kit.late_page import LatePage
from hangar.window.kit.pane_set import PaneSet
from hangar.window.kit.place_chooser import COMPARE, TRY_OUT
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say
from hangar.window.positions.bay_strip import BayBox, fit_from_bay
from hangar.window.positions.fit_servo_dialog import FitServoDialog
from hangar.window.positions.fit_several_panel import FitSeveralPanel
from hangar.window.positions.new_position import NewPositionDialog
from hangar.window.positions.plan_view import PlanView
from hangar.window.positions.position_columns import (
    FROM_STOCK,
    TAKE_OFF,
    DrawingStrip,
    PositionRow,
    position_columns,
    position_rows,
    servo_words,
)
from hangar.window.positions.position_inspector import PositionGauges
from hangar.window.positions.servo_dot import DotState
from hangar.window.records.paste_rows import paste_action
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.tables.all_columns import AllColumns
from hangar.window.tables.columns import Choice
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

POSITION_FIELDS = ("code", "name", "function", "side", "channel")
"""What pasted rows without headings stand for, where a sheet's own words do not show it."""


class PositionsScreen(QWidget):
    """Plan view, table, and the findings of the chosen position."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._is_filling = False
        self.plan = PlanView()
        self.bay_box = BayBox(desk)
        self.bay = self.bay_box.strip
        self._model: RowsModel[PositionRow] = RowsModel(
            desk, position_columns(desk, self._choices), lambda row: row.code, self
        )
        self.table = RowsView(self._model, say("Positions"))
        self.findings = FindingsPanel(desk)
        self.fit_button = QPushButton(say("Fit a &servo…"))
        self.new_button = QPushButton(say("&New position…"))
        self.new_button.setEnabled(not desk.read_only)
        self.off_button = QPushButton(say("&Take off"))
        self.off_button.setToolTip(say("Take the servo off and put it in Stores"))
        self.swap_button = QPushButton(say("S&wap with…"))
        self.compare_button = QPushButton(say("&Compare…"))
        self.try_button = QPushButton(say("Tr&y out…"))
        self.all_columns = AllColumns(self.table, self)
        self.compare_action = self._action(say("Compare servos side by side"), "Ctrl+Shift+S", COMPARE)
        self.try_action = self._action(say("Try things out here"), "Ctrl+Shift+T", TRY_OUT)
        self.fit_action = self._plain_action(say("Fit a servo…"), self._open_fit)
        self.off_action = self._plain_action(say("Take the servo off"), self._take_off)
        self.on_drawing = DrawingStrip(desk)
        self.gauges = PositionGauges(desk)
        self._several = LatePage(lambda: FitSeveralPanel(desk))
        self.name = PlainLabel()
        self.name.setObjectName("lead")
        self.name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.paste_action = paste_action(
            desk, self.table, Position, POSITION_FIELDS, lambda: {"aircraft": self.code or ""}
        )
        self.table.addAction(self.paste_action)
        self._arrange()
        self._connect()

    @property
    def code(self) -> str | None:
        """The aircraft that is shown."""
        return self._judgement.aircraft.code if self._judgement is not None else None

    @property
    def several(self) -> FitSeveralPanel:
        """The panel that fits one type to several positions."""
        return self._several.page

    def _action(self, words: str, keys: str, room: str) -> QAction:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.triggered.connect(lambda: self._take_to(room))
        self.addAction(action)
        self.table.addAction(action)
        return action

    def _plain_action(self, words: str, act: Callable[[], object]) -> QAction:
        action = QAction(words, self)
        action.triggered.connect(lambda _on=False: act())
        self.table.addAction(action)
        return action

    def _arrange(self) -> None:
        self.fit_button.setProperty("main", True)
        self.compare_button.setToolTip(say("Compare this servo with another one (Ctrl+Shift+S)"))
        self.try_button.setToolTip(say("Try things out at this position on a copy (Ctrl+Shift+T)"))
        upper = SentencePane()
        column = QVBoxLayout(upper)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.table, 1)
        column.addLayout(FlowRow(self.new_button, self.all_columns))
        inspector = SentencePane()
        inspector.setObjectName("pane")
        inspector.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        below = QVBoxLayout(inspector)
        below.setContentsMargins(12, 8, 12, 8)
        below.setSpacing(6)
        acts = QWidget()
        acts.setLayout(
            FlowRow(self.fit_button, self.compare_button, self.try_button, self.off_button, self.swap_button)
        )
        self._of_one = (self.name, acts, self.gauges, self.findings)
        for widget in self._of_one:
            below.addWidget(widget, 1 if widget is self.findings else 0)
        self._of_several = QScrollArea(widgetResizable=True)
        self._of_several.setFrameShape(QScrollArea.Shape.NoFrame)
        self._of_several.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        held = QWidget()
        held.setBackgroundRole(QPalette.ColorRole.Base)
        held.setAutoFillBackground(True)
        panel = QVBoxLayout(held)
        panel.setContentsMargins(0, 0, 0, 0)
        panel.addWidget(self._several)
        panel.addStretch(1)
        self._of_several.setWidget(held)
        self._of_several.hide()
        below.addWidget(self._of_several, 1)
        self.panes = PaneSet(
            self._desk.view,
            "positions",
            ((say("Drawing"), self._left()), (say("Table"), upper), (say("This position"), inspector)),
        )
        frame = QVBoxLayout(self)
        frame.setContentsMargins(12, 6, 12, 8)
        frame.addWidget(self.panes)

    def _left(self) -> QWidget:
        """The plan view, and below it what lies in the bay."""
        drawing = QWidget()
        column = QVBoxLayout(drawing)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.on_drawing)
        column.addWidget(self.plan, 1)
        left = KeptSplitter(self._desk.view, "positions left", Qt.Orientation.Vertical)
        left.addWidget(drawing)
        left.addWidget(self.bay_box)
        left.setStretchFactor(0, 1)
        left.setSizes([560, 110])
        left.setChildrenCollapsible(False)
        return left

    def _connect(self) -> None:
        self.table.row_chosen.connect(self._row_chosen)
        self.table.how_asked.connect(self._desk.how_asked)
        self.plan.position_chosen.connect(self._dot_chosen)
        self.plan.position_added.connect(self._dot_added)
        self.plan.several_chosen.connect(self.choose)
        self.table.selectionModel().selectionChanged.connect(lambda: self._tell_several())
        fitting_key = QShortcut(QKeySequence("F"), self.plan)
        fitting_key.setContext(Qt.ShortcutContext.WidgetShortcut)
        fitting_key.activated.connect(self._fit_chosen)
        self.plan.position_opened.connect(self._open_at)
        self.plan.dot_moved.connect(self._dot_moved)
        self.plan.servo_dropped.connect(self._servo_dropped)
        self.plan.menu_wanted.connect(self._open_menu)
        self.on_drawing.changed.connect(lambda _number: self._draw_plan())
        self.bay.itemActivated.connect(self._bay_activated)
        self.compare_button.clicked.connect(self.compare_action.trigger)
        self.try_button.clicked.connect(self.try_action.trigger)
        self.fit_button.clicked.connect(self._open_fit)
        self.new_button.clicked.connect(self.open_new)
        self.off_button.clicked.connect(self._take_off)
        self.swap_button.clicked.connect(self._open_swaps)
        self._desk.view.changed.connect(self._draw_plan)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show an aircraft as it was judged last."""
        self._judgement = judgement
        self._is_filling = True
        self._model.show_rows(position_rows(judgement))
        self._draw_plan()
        self.bay_box.read_again()
        self._choose_current(judgement.aircraft.code)
        self._row_chosen(self.table.current_row)
        self._is_filling = False

    def _choose_current(self, code: str) -> None:
        """Choose the row of the current position; without one the first, which does not become current."""
        current = self._desk.current
        if current.aircraft == code and current.position is not None:
            self.table.choose_row(current.position)
        elif self.table.current_row is None and self._model.rows:
            self.table.choose_row(self._model.rows[0].code)

    def _draw_plan(self) -> None:
        if self._judgement is None:
            return
        outline = outline_of(self._judgement.aircraft)
        states = tuple(
            DotState(
                code=row.code,
                channel=row.fit.position.channel,
                title=f"{row.code} {row.fit.position.name}, {servo_words(row.fit)}",
                across=first_place(outline, row.fit.position)[0],
                along=first_place(outline, row.fit.position)[1],
                level=worst_level(row.findings),
                empty=row.fit.servo is None,
                head="  ".join(filter(None, (row.code, servo_words(row.fit)))),
                line=self.on_drawing.line_of(row),
            )
            for row in self._model.rows
        )
        self.plan.show_plan(outline, states, self._desk.view.look)

    def _open_menu(self, code: str, where: QPoint) -> None:
        """What can be done with the position of a dot."""
        self.table.choose_row(code)
        self.position_menu().popup(where)

    def position_menu(self) -> QMenu:
        """What can be done with the chosen position."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addActions([self.fit_action, self.off_action, self.compare_action, self.try_action])
        menu.addMenu(self.swap_menu()).setText(say("Swap with"))
        menu.addActions([self.table.how_action, self.table.story_action])
        menu.addActions([self.table.copy_action, self.paste_action])
        return menu

    def _take_to(self, room: str) -> None:
        row = self.table.current_row
        if row is not None:
            self._desk.place_wanted.emit(room, row.fit.position.aircraft, row.code)

    def _open_at(self, code: str) -> None:
        self.table.choose_row(code)
        self._open_fit()

    def _row_chosen(self, row: PositionRow | None) -> None:
        for button in (self.fit_button, self.off_button, self.swap_button):
            button.setEnabled(row is not None and not self._desk.read_only)
        for action in (self.compare_action, self.try_action):
            action.setEnabled(row is not None)
        self.compare_button.setEnabled(row is not None)
        self.try_button.setEnabled(row is not None)
        self.gauges.show_position(row.fit if row else None, row.survey if row else None)
        none_yet = say("No servo position yet: enter the first with New position…")
        self.name.setText(
            f"{row.code} {row.fit.position.name}    {servo_words(row.fit)}" if row else none_yet
        )
        for action in (self.fit_action, self.off_action):
            action.setEnabled(row is not None and not self._desk.read_only)
        if row is None:
            self.findings.show_findings(())
            return
        self.off_action.setEnabled(row.fit.servo is not None and not self._desk.read_only)
        self.off_button.setEnabled(row.fit.servo is not None and not self._desk.read_only)
        if not self._is_filling and self.isVisible() and self.code == row.fit.position.aircraft:
            self._desk.current.choose(row.fit.position.aircraft, row.code)
        if len(self.chosen) < 2:
            self.plan.choose(row.code)
        self.findings.show_findings(row.findings)

    @property
    def chosen(self) -> tuple[str, ...]:
        """The positions chosen, in the order of the table."""
        return tuple(row.code for row in self.table.chosen_rows)

    def choose(self, codes: Sequence[str]) -> None:
        """Choose these positions; of several the pane beside them fits one type to all."""
        self.table.choose_rows(codes)
        self._tell_several()

    def _dot_chosen(self, code: str) -> None:
        if len(self.chosen) > 1:
            self.table.clearSelection()
        self.table.choose_row(code)
        self.plan.choose(code)

    def _dot_added(self, code: str) -> None:
        """One more is chosen, or one less where it was chosen already."""
        before = self.chosen or tuple(filter(None, (self._current_code(),)))
        others = tuple(other for other in before if other != code)
        self.choose(others if code in before and others else (*others, code))

    def _current_code(self) -> str | None:
        row = self.table.current_row
        return row.code if row is not None else None

    def _tell_several(self) -> None:
        """The pane of one position, or of the several that are chosen."""
        codes = self.chosen
        are_several = len(codes) > 1 and not self._desk.read_only
        for widget in self._of_one:
            widget.setHidden(are_several)
        self._of_several.setVisible(are_several)
        if len(codes) > 1:
            self.plan.choose(*codes)
        if are_several and self.code is not None:
            self.several.show_places(self.code, codes)

    def _fit_chosen(self) -> None:
        """Fit to the choice: the panel of several, or the dialog of one."""
        if len(self.chosen) > 1:
            self.several.type.setFocus()
        else:
            self._open_fit()

    def _choices(self, row: PositionRow) -> tuple[Choice, ...]:
        """What the servo list of a cell offers: the present one, spares, types in stock, taking it off."""
        present = row.fit.tag
        stay = (Choice(servo_words(row.fit), present or ""),)
        spares = tuple(
            Choice(f"{spare_servo.tag}  {spare_servo.servo_type}", spare_servo.tag)
            for spare_servo in bay.spare_servos(self._desk)
        )
        tag = bay.next_tag(self._desk)
        stocked = tuple(
            Choice(
                say("{type}, new from Stores as {tag}", type=code, tag=tag),
                f"{FROM_STOCK}{code}",
            )
            for code in bay.stocked_types(self._desk)
        )
        off = (Choice(say("Take it off, to Stores"), TAKE_OFF),) if present else ()
        return (*stay, *spares, *stocked, *off)

    def _dot_moved(self, code: str, across: float, along: float) -> None:
        fit = self._fit_of(code)
        if fit is not None and not self._desk.attempt(
            lambda: self._desk.do(fitting.place_dot, fit, across, along)
        ):
            self._draw_plan()

    def _servo_dropped(self, code: str, what: str) -> None:
        fit = self._fit_of(code)
        if fit is not None and not self._desk.read_only:
            self.table.choose_row(code)
            self._desk.attempt(lambda: fit_from_bay(self._desk, fit, what))

    def _bay_activated(self, item: QListWidgetItem) -> None:
        row = self.table.current_row
        if row is not None:
            self._servo_dropped(row.code, self.bay.what_of(item))

    def _fit_of(self, code: str) -> ServoFit | None:
        return self._judgement.aircraft.fit(code) if self._judgement else None

    def _open_fit(self) -> None:
        row = self.table.current_row
        if row is not None and not self._desk.read_only:
            dialog = FitServoDialog(self._desk, row.fit, self)
            dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            dialog.open()

    def open_new(self) -> RecordDialog | None:
        """Open the form for a new position."""
        if self._judgement is None:
            return None
        dialog = NewPositionDialog(self._desk, self._judgement.aircraft.code, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def _take_off(self) -> None:
        row = self.table.current_row
        if row is not None:
            self._desk.attempt(lambda: self._desk.do(fitting.take_off, row.fit, self._desk.today))

    def _open_swaps(self) -> None:
        menu = self.swap_menu()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self.swap_button.mapToGlobal(self.swap_button.rect().bottomLeft()))

    def swap_menu(self) -> QMenu:
        """The other positions whose servo can change places with the chosen one's."""
        menu = QMenu(self)
        chosen = self.table.current_row
        for row in self._model.rows:
            if chosen is not None and row.code != chosen.code and row.fit.servo is not None:
                action = menu.addAction(f"{row.code}  {servo_words(row.fit)}")
                action.triggered.connect(lambda _on=False, other=row.fit: self._swap(chosen.fit, other))
        return menu

    def _swap(self, servo_fit: ServoFit, other: ServoFit) -> None:
        self._desk.attempt(lambda: self._desk.do(fitting.swap, servo_fit, other, self._desk.today))
