"""Fit an aircraft out: choose places on drawing or table; servos, a pack and a gyro are fitted beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import fitting
from hangar.acts.copying import copy_positions, fill_down
from hangar.base.errors import HangarError
from hangar.parts import Aircraft, Lead, Linkage, Position, Record, ServoFit
from hangar.parts.choices import Function
from hangar.parts.fields import columns
from hangar.parts.outlines import first_place, outline_of
from hangar.rules.measuring import blanks
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN, edit_text, field_text, heading_of, read_field
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.words import level_word, put, say, say_plural, word_of
from hangar.window.new_aircraft.gyro_panel import GyroPanel
from hangar.window.new_aircraft.kit_page import NARROW
from hangar.window.packs.fit_pack_panel import FitPackPanel
from hangar.window.positions.fit_several_panel import FitSeveralPanel
from hangar.window.positions.plan_view import PlanView
from hangar.window.positions.servo_dot import DotState
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

FILLED: dict[int, tuple[type[Record], str]] = {
    3: (Linkage, "arm_mm"),
    4: (Linkage, "horn_mm"),
    5: (Lead, "length_mm"),
    6: (Lead, "awg"),
}
"""What may be filled down, by the number of its column."""


class FitOutPage(QWidget):
    """One aircraft with its places; each act is one edit that can be undone.

    Signals: ``findings_wanted(code)``; ``left()``.
    """

    findings_wanted = Signal(str)
    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.code = ""
        self._groups: list[tuple[str, tuple[str, ...]]] = []
        self.title = PlainLabel()
        self.title.setObjectName("lead")
        self.plan = PlanView()
        self._model: RowsModel[ServoFit] = RowsModel(desk, fit_out_columns(desk), lambda fit: fit.code, self)
        self.table = RowsView(self._model, say("Positions to be fitted"))
        self.table.setSelectionBehavior(RowsView.SelectionBehavior.SelectRows)
        self._group_row = QWidget()
        self._group_flow = FlowRow()
        self._group_row.setLayout(self._group_flow)
        self.group_buttons: list[QPushButton] = []
        self.servos = FitSeveralPanel(desk)
        self.pack = FitPackPanel(desk)
        self.gyro = GyroPanel(desk)
        self.message = PlainLabel(wordWrap=True)
        self.meaning = PlainLabel(wordWrap=True)
        self.meaning.setAccessibleName(say("What the last act means"))
        self._asks = False
        self.fill_button = self._tool(say("Fill do&wn"), self.fill_down, "Ctrl+Shift+D")
        self.copy_button = self._tool(say("Cop&y positions"), self.copy_positions, "Ctrl+Shift+Y")
        self.unknown = PlainLabel(wordWrap=True)
        self.unknown.setObjectName("quiet")
        self.findings_button = QPushButton(say("To its &findings"))
        self.findings_button.setProperty("main", True)
        self.findings_button.setAutoDefault(False)
        self.findings_button.clicked.connect(lambda: self.findings_wanted.emit(self.code))
        self.close_button = QPushButton(say("Close"))
        self.close_button.setAutoDefault(False)
        self.close_button.clicked.connect(self.left)
        self._arrange()
        self._keep_rows()
        self._connect()

    def _tool(self, words: str, act: Callable[[], None], key: str) -> QPushButton:
        button = QPushButton(words)
        button.setAutoDefault(False)
        button.setToolTip(plain_tip(key))
        button.clicked.connect(act)
        QShortcut(QKeySequence(key), self, act, context=Qt.ShortcutContext.WidgetWithChildrenShortcut)
        return button

    def _arrange(self) -> None:
        panels = QWidget()
        column = QVBoxLayout(panels)
        column.setContentsMargins(0, 0, 4, 0)
        column.setSpacing(8)
        for panel in (self.servos, self.pack, self.gyro):
            column.addWidget(panel)
        column.addStretch(1)
        self._scroll = QScrollArea(widgetResizable=True)
        self._scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setWidget(panels)
        upper = QWidget()
        top = QVBoxLayout(upper)
        top.setContentsMargins(0, 0, 0, 0)
        line = QHBoxLayout()
        line.addWidget(self._group_row, 1)
        line.addWidget(self.fill_button)
        line.addWidget(self.copy_button)
        top.addLayout(line)
        top.addWidget(self.table, 1)
        right = QSplitter(Qt.Orientation.Vertical)
        right.setChildrenCollapsible(False)
        right.addWidget(upper)
        right.addWidget(self._scroll)
        right.setSizes([250, 400])
        halves = QSplitter(Qt.Orientation.Horizontal)
        halves.setChildrenCollapsible(False)
        halves.addWidget(self.plan)
        halves.addWidget(right)
        halves.setSizes([400, 800])
        foot = QHBoxLayout()
        words = QVBoxLayout()
        words.addWidget(self.message)
        words.addWidget(self.meaning)
        words.addWidget(self.unknown)
        foot.addLayout(words, 1)
        foot.addWidget(self.close_button)
        foot.addWidget(self.findings_button)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 10, 12, 8)
        whole.addWidget(self.title)
        whole.addWidget(halves, 1)
        whole.addLayout(foot)
        QWidget.setTabOrder(self.plan, self.table)
        QWidget.setTabOrder(self.table, self.servos.type)
        QWidget.setTabOrder(self.servos.main, self.pack.pack)
        QWidget.setTabOrder(self.pack.main, self.gyro.code)
        QWidget.setTabOrder(self.gyro.main, self.findings_button)
        QWidget.setTabOrder(self.findings_button, self.close_button)

    def _connect(self) -> None:
        self.table.selectionModel().selectionChanged.connect(self._selected)
        self.plan.position_chosen.connect(lambda code: self.choose((code,)))
        self.plan.position_added.connect(lambda code: self.choose((*self.chosen, code)))
        self.plan.several_chosen.connect(self.choose)
        self.plan.position_opened.connect(lambda _code: self.servos.type.setFocus())
        self.plan.dot_moved.connect(self._dot_moved)
        for panel in (self.servos, self.pack, self.gyro):
            panel.done.connect(self._done)
        self._desk.touched.connect(self._read)
        self._desk.judged.connect(self._judged)
        self._desk.view.changed.connect(self._draw)
        QShortcut(QKeySequence("Ctrl+Return"), self, self.findings_button.click,
                  context=Qt.ShortcutContext.WidgetWithChildrenShortcut)  # fmt: skip

    def show_aircraft(self, code: str) -> None:
        """Fit this aircraft out; the places that want servos most are chosen at once."""
        self.code = code
        self.message.setText("")
        self.meaning.setText("")
        self._read()
        self.pack.show_aircraft(code)
        self._choose_next()
        self.servos.type.setFocus()

    def _aircraft(self) -> Aircraft | None:
        return self._desk.aircraft(self.code) if self.code in self._desk.codes() else None

    def _read(self) -> None:
        aircraft = self._aircraft()
        if aircraft is None:
            if self.code:
                # Undone meanwhile: there is nothing to fit out any more.
                self.code = ""
                self.left.emit()
            return
        chosen = self.chosen
        self.title.setText(f"{aircraft.code}  {aircraft.airframe.name}")
        self._model.show_rows(aircraft.fits)
        self.table.fit_columns()
        self.choose(chosen)
        self._tell_groups(aircraft)
        self._draw()
        count = len(blanks(aircraft))
        self.unknown.setText(
            say_plural(
                "{count} fact is still unknown. It counts as can't tell, never as good; the findings say "
                "what to measure first.",
                "{count} facts are still unknown. They count as can't tell, never as good; the findings say "
                "what to measure first.",
                count=count,
            )
        )

    def _tell_groups(self, aircraft: Aircraft) -> None:
        """Places of one function without a servo, to be chosen in one act."""
        empty = [fit for fit in aircraft.fits if fit.servo is None]
        by_function: dict[Function, list[str]] = {}
        for fit in sorted(empty, key=lambda fit: not fit.function.is_flight):
            by_function.setdefault(fit.function, []).append(fit.code)
        ordered = sorted(by_function.items(), key=lambda group: (not group[0].is_flight, -len(group[1])))
        groups = [(word_of(function), tuple(codes)) for function, codes in ordered]
        if len(groups) > 1:
            groups.append((say("All without a servo"), tuple(fit.code for fit in empty)))
        if groups == self._groups:
            return
        self._groups = groups
        for button in self.group_buttons:
            self._group_flow.removeWidget(button)
            button.deleteLater()
        self.group_buttons = []
        for words, codes in groups:
            button = QPushButton(f"{words}: {len(codes)}")
            button.setAutoDefault(False)
            button.setToolTip(plain_tip(", ".join(codes)))
            button.clicked.connect(lambda _on=False, codes=codes: self._choose_group(codes))
            self._group_flow.addWidget(button)
            self.group_buttons.append(button)
        self._group_row.setVisible(bool(groups))
        self._group_row.updateGeometry()

    def _choose_group(self, codes: Sequence[str]) -> None:
        self.choose(codes)
        self.servos.type.setFocus()

    def _choose_next(self) -> None:
        self.choose(self._groups[0][1] if self._groups else ())

    @property
    def chosen(self) -> tuple[str, ...]:
        """The positions chosen, in the order of the table."""
        return tuple(fit.code for fit in self.table.chosen_rows)

    def choose(self, codes: Sequence[str]) -> None:
        """Choose these positions."""
        self.table.choose_rows(codes)
        self._selected()

    def _selected(self) -> None:
        codes = self.chosen
        for code, dot in self.plan.dots.items():
            dot.setSelected(code in codes)
        if self._aircraft() is not None:
            self.servos.show_places(self.code, codes)
            self.gyro.show_places(self.code, codes)

    def _dot_moved(self, code: str, across: float, along: float) -> None:
        aircraft = self._aircraft()
        fit = aircraft.fit(code) if aircraft else None
        if fit is not None and not self._desk.attempt(
            lambda: self._desk.do(fitting.place_dot, fit, across, along)
        ):
            self._draw()

    def _draw(self) -> None:
        aircraft = self._aircraft()
        if aircraft is None:
            return
        outline = outline_of(aircraft)
        states = tuple(
            DotState(
                code=fit.code,
                channel=fit.position.channel,
                title=f"{fit.code} {fit.position.name}, {servo_words(fit)}",
                across=first_place(outline, fit.position)[0],
                along=first_place(outline, fit.position)[1],
                level=None,
                empty=fit.servo is None,
                head=fit.code,
                line=servo_words(fit),
            )
            for fit in aircraft.fits
        )
        self.plan.show_plan(outline, states, self._desk.view.look)
        self._selected()

    def fill_down(self) -> None:
        """Give the value in the first chosen row, in the column of the cursor, to the other chosen rows."""
        at = self.table.currentIndex().column()
        filled = FILLED.get(at)
        if filled is None:
            self.message.setText(
                say("To fill down, put the cursor on arm, horn, lead or gauge of the first row.")
            )
            return
        kind, name = filled
        keys = [(self.code, code) for code in self.chosen]
        self._attempt(lambda: self._desk.do(fill_down, kind, keys, name))

    def copy_positions(self) -> None:
        """Copy the chosen positions with linkage and lead; the copies are called on from them."""
        aircraft = self._aircraft()
        if aircraft is not None:
            codes = self.chosen
            self._attempt(lambda: self._desk.do(copy_positions, aircraft, codes, aircraft.code))

    def _attempt(self, act: Callable[[], object]) -> None:
        try:
            act()
        except HangarError as fault:
            self.message.setText(put(fault))
        else:
            self._tell_done(self._desk.undo_label or "")

    def _tell_done(self, label: str) -> None:
        self.message.setText(say("Done: {act}. Ctrl+Z takes it back.", act=label))
        self.meaning.setText("")
        self._asks = True

    def _judged(self, code: str) -> None:
        """Once the aircraft was judged anew: what came of the last act, the gravest first."""
        if code != self.code or not self._asks:
            return
        self._asks = False
        difference = self._desk.difference(code)
        if difference is None:
            return
        new = sorted(difference.new, key=lambda finding: finding.level.rank)
        lines = []
        if new:
            level, worst = level_word(new[0].level), put(new[0].message)
            lines.append(say("{level}, new: {message}", level=level, message=worst))
        if difference.gone:
            lines.append(
                say_plural(
                    "{count} finding is gone.", "{count} findings are gone.", count=len(difference.gone)
                )
            )
        self.meaning.setText(" ".join(lines))

    def _done(self, label: str) -> None:
        self._tell_done(label)
        if self.sender() is self.servos:
            self._choose_next()
            if self._groups:
                self.servos.type.setFocus()
            else:
                self.pack.pack.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "table"):
            self._keep_rows()

    def _keep_rows(self) -> None:
        """Four rows and the heading are seen, whatever the size of the text."""
        self.table.setMinimumHeight(round(self.fontMetrics().height() * 1.7 * 5.2))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.plan.setVisible(self.width() * 10 / self._desk.view.points >= NARROW)


def servo_words(fit: ServoFit) -> str:
    """Tag and type of the servo at a position, or that there is none."""
    return say("no servo yet") if fit.servo is None else f"{fit.servo.tag}  {fit.servo.servo_type}"


def fit_out_columns(desk: Desk) -> tuple[Column[ServoFit], ...]:
    """Channel, position, servo, arm, horn, lead and gauge."""
    return (
        _channel(desk),
        Column(say("Position"), lambda fit, _units: f"{fit.code}  {fit.position.name}", widest=44),
        Column(say("Servo"), lambda fit, _units: servo_words(fit)),
        _part(desk, Linkage, "arm_mm", say("Arm"), lambda fit: fit.linkage, 2),
        _part(desk, Linkage, "horn_mm", say("Horn"), lambda fit: fit.linkage, 1),
        _part(desk, Lead, "length_mm", say("Lead"), lambda fit: fit.lead, 3),
        _part(desk, Lead, "awg", say("Gauge"), lambda fit: fit.lead, 1),
    )


def _channel(desk: Desk) -> Column[ServoFit]:
    spec = next(spec for spec in columns(Position) if spec.name == "channel")

    def write(fit: ServoFit, typed: str) -> None:
        desk.do(fitting.set_channel, fit, read_field(spec, typed, desk.view.reader))

    return Column(
        say("Ch."),
        lambda fit, _units: UNKNOWN if fit.position.channel is None else str(fit.position.channel),
        raw=lambda fit: fit.position.channel,
        write=write,
        show_for_edit=lambda fit, units: edit_text(spec, fit.position.channel, units),
        number=True,
        help=say("Channel"),
    )


def _part(
    desk: Desk,
    kind: type[Record],
    name: str,
    heading: str,
    part: Callable[[ServoFit], Record | None],
    gives_way: int,
) -> Column[ServoFit]:
    spec = next(spec for spec in columns(kind) if spec.name == name)

    def value(fit: ServoFit) -> Any:
        record = part(fit)
        return getattr(record, name) if record else None

    def write(fit: ServoFit, typed: str) -> None:
        desk.do(fitting.set_part_field, fit, kind, spec, read_field(spec, typed, desk.view.reader))

    return Column(
        heading,
        lambda fit, units: field_text(spec, value(fit), units),
        raw=value,
        write=write,
        show_for_edit=lambda fit, units: edit_text(spec, value(fit), units),
        number=True,
        help=heading_of(spec),
        gives_way=gives_way,
    )
