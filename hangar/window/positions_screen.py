"""The Positions screen: the aircraft from above beside what sits where and whether it is enough."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QMenu, QPushButton, QSplitter, QVBoxLayout, QWidget

from hangar.parts import ServoFit
from hangar.parts.outlines import first_place, outline_of
from hangar.window import position_edits
from hangar.window.columns import Choice
from hangar.window.desk import Desk
from hangar.window.findings_panel import FindingsPanel
from hangar.window.fit_servo_dialog import FitServoDialog
from hangar.window.judging import Judgement, worst_level
from hangar.window.plan_view import DotState, PlanView
from hangar.window.positions_rows import (
    FROM_STOCK,
    TAKE_OFF,
    PositionRow,
    position_columns,
    position_rows,
    servo_words,
)
from hangar.window.rows_model import RowsModel
from hangar.window.rows_view import RowsView
from hangar.window.words import say


class PositionsScreen(QWidget):
    """Plan view, table, and the findings of the chosen position."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self.plan = PlanView()
        self._model: RowsModel[PositionRow] = RowsModel(
            desk, position_columns(desk, self._choices), lambda row: row.code, self
        )
        self.table = RowsView(self._model, self.tr("Positions"))
        self.findings = FindingsPanel(desk)
        self.fit_button = QPushButton(self.tr("&Fit a servo…"))
        self.off_button = QPushButton(self.tr("&Take off to the bay"))
        self.swap_button = QPushButton(self.tr("S&wap with…"))
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        buttons = QHBoxLayout()
        buttons.setContentsMargins(8, 6, 8, 6)
        for button in (self.fit_button, self.off_button, self.swap_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        upper = QWidget()
        column = QVBoxLayout(upper)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.table, 1)
        column.addLayout(buttons)
        right = QSplitter(Qt.Orientation.Vertical)
        right.addWidget(upper)
        right.addWidget(self.findings)
        right.setSizes([330, 380])
        whole = QSplitter(Qt.Orientation.Horizontal)
        whole.addWidget(self.plan)
        whole.addWidget(right)
        whole.setSizes([310, 970])
        whole.setStretchFactor(1, 1)
        whole.setChildrenCollapsible(False)
        frame = QVBoxLayout(self)
        frame.setContentsMargins(0, 0, 0, 0)
        frame.addWidget(whole)

    def _connect(self) -> None:
        self.table.row_chosen.connect(self._row_chosen)
        self.table.how_asked.connect(self._desk.how_asked)
        self.plan.position_chosen.connect(self.table.choose_row)
        self.plan.dot_moved.connect(self._dot_moved)
        self.fit_button.clicked.connect(self._open_fit)
        self.off_button.clicked.connect(self._take_off)
        self.swap_button.clicked.connect(self._open_swaps)
        self._desk.view.changed.connect(self._draw_plan)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show an aircraft as it was judged last."""
        self._judgement = judgement
        self._model.show_rows(position_rows(judgement))
        self._draw_plan()
        if self.table.current_row is None and self._model.rows:
            self.table.choose_row(self._model.rows[0].code)
        self._row_chosen(self.table.current_row)

    def _draw_plan(self) -> None:
        if self._judgement is None:
            return
        outline = outline_of(self._judgement.aircraft)
        states = tuple(
            DotState(
                code=row.code,
                number=row.number,
                title=f"{row.code} {row.fit.position.name}, {servo_words(row.fit)}",
                across=first_place(outline, row.fit.position)[0],
                along=first_place(outline, row.fit.position)[1],
                level=worst_level(row.findings),
                empty=row.fit.servo is None,
            )
            for row in self._model.rows
        )
        self.plan.show_plan(outline, states, self._desk.view.look)

    def _row_chosen(self, row: PositionRow | None) -> None:
        for button in (self.fit_button, self.off_button, self.swap_button):
            button.setEnabled(row is not None and not self._desk.read_only)
        if row is None:
            self.findings.show_findings(())
            return
        self.off_button.setEnabled(row.fit.servo is not None and not self._desk.read_only)
        self.plan.choose(row.code)
        self.findings.show_findings(row.findings)

    def _choices(self, row: PositionRow) -> tuple[Choice, ...]:
        """What the servo list of a cell offers: the present one, spares, types in stock, taking it off."""
        present = row.fit.tag
        stay = (Choice(servo_words(row.fit), present or ""),)
        spares = tuple(
            Choice(f"{one.tag}  {one.servo_type}", one.tag) for one in position_edits.spare_servos(self._desk)
        )
        tag = position_edits.next_tag(self._desk)
        stocked = tuple(
            Choice(say("{type}, new from the bay as {tag}").format(type=code, tag=tag), f"{FROM_STOCK}{code}")
            for code in position_edits.stocked_types(self._desk)
        )
        off = (Choice(say("Take it off to the bay"), TAKE_OFF),) if present else ()
        return (*stay, *spares, *stocked, *off)

    def _dot_moved(self, code: str, across: float, along: float) -> None:
        fit = self._fit_of(code)
        if fit is not None and not self._desk.attempt(
            lambda: position_edits.place_dot(self._desk, fit, across, along)
        ):
            self._draw_plan()

    def _fit_of(self, code: str) -> ServoFit | None:
        return self._judgement.aircraft.fit(code) if self._judgement else None

    def _open_fit(self) -> None:
        row = self.table.current_row
        if row is not None:
            dialog = FitServoDialog(self._desk, row.fit, self)
            dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            dialog.open()

    def _take_off(self) -> None:
        row = self.table.current_row
        if row is not None:
            self._desk.attempt(lambda: position_edits.take_off(self._desk, row.fit))

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

    def _swap(self, one: ServoFit, other: ServoFit) -> None:
        self._desk.attempt(lambda: position_edits.swap(self._desk, one, other))
