"""The Linkages page: what turns what at each position, as a table and as a moving drawing."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum
from html import escape
from typing import Any

from PySide6.QtCore import QEvent, QSignalBlocker, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import fitting
from hangar.answers.judging import Judgement
from hangar.answers.linkages import LinkageStudy, linkage_studies
from hangar.base.figure import Figure
from hangar.base.text import Text, text
from hangar.base.units import ShowsNumbers
from hangar.parts import Linkage
from hangar.parts.fields import FieldSpec, columns
from hangar.rules.finding import Level
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import (
    LONGEST_HEAD,
    UNKNOWN,
    edit_text,
    field_text,
    folded,
    heading_of,
    read_field,
)
from hangar.window.kit.motion_clock import Clock
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import Slider
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_word, put, say
from hangar.window.linkages.linkage_view import LinkageView
from hangar.window.linkages.ratio_plot import RatioPlot
from hangar.window.records.paste_rows import paste_action
from hangar.window.tables.all_columns import AllColumns
from hangar.window.tables.columns import Column, choices_of, figure_column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


def standing_words(study: LinkageStudy, travel_deg: float, view: ViewSettings) -> str:
    """How a linkage stands at a servo travel, then its troubles, as rich text."""
    there, look = study.at(travel_deg), view.look
    title = f"<b>{escape(study.code)}</b>&nbsp; {escape(study.fit.position.name)}"
    if there is None or study.link is None:
        return f"{title}<br>{escape(put(study.why))}"
    turned = there.horn_deg - study.link.horn_neutral_deg
    way = say("up") if turned >= 0.05 else say("down") if turned <= -0.05 else say("neutral")
    rows = [
        (say("Servo travel"), f"{travel_deg:+.1f}°" if travel_deg else "0°"),
        (say("Surface"), f"{abs(turned):.1f}° {way}"),
        (say("Velocity ratio (surface ° per arm °)"), f"{abs(there.velocity_ratio):.2f}"),
        (say("Torque ratio (hinge over servo)"), f"{abs(there.torque_ratio):.2f}"),
        (say("Angle rod to horn (transmission angle)"), f"{there.transmission_deg:.0f}°"),
        (say("Angle rod to arm"), f"{there.servo_transmission_deg:.0f}°"),
    ]
    cells = "".join(
        f"<tr><td style='color:{look.soft}; padding-right:14px'>{escape(name)}</td>"
        f"<td align='right'><b>{escape(value)}</b></td></tr>"
        for name, value in rows
    )
    troubles = "".join(
        f"<div><span style='color:{look.levels[level].words}'><b>{escape(level_word(level))}</b></span> "
        f"{escape(text)}</div>"
        for level, text in troubles_of(study)
    )
    return f"{title}<table cellspacing='0'>{cells}</table>{troubles}"


def troubles_of(study: LinkageStudy) -> list[tuple[str, str]]:
    """Level and sentence of everything wrong in the travel that is used."""
    troubles = [(bind.level, put(bind.message)) for bind in study.binds]
    troubles += [
        (
            "caution",
            say(
                "Throw {way}: the linkage reaches {reached}, {wanted} is wanted.",
                way=throw.name,
                reached=f"{throw.reached.expected:.1f}°",
                wanted=f"{throw.wanted_deg:.1f}°",
            ),
        )
        for throw in study.throws
        if throw.is_short
    ]
    return troubles


def trouble_words(study: LinkageStudy) -> str:
    """Everything wrong with a linkage as plain text, line by line."""
    lines = [f"{level_word(level)}: {text}" for level, text in troubles_of(study)]
    lines += [say("Keep out: {zone}.", zone=zone.words) for zone in study.zones]
    return "\n".join(lines) or put(study.why) or say("Nothing found in the travel that is used.")


FIRST_FIELDS = {
    "kind": 8, "arm_mm": 12, "horn_mm": 11, "arm_angle_deg": 5, "rod_length_mm": 9, "servo_travel_deg": 2,
}  # fmt: skip
"""The fields beside the position, and in which order they give way to a narrow window."""
LINKAGE_FIELDS = ("position", *FIRST_FIELDS)
"""What pasted rows without headings stand for."""
_FINE = 10
"""Steps of the slider for one degree."""
_LINES_ABOVE = 8
"""Lines of text that the table is never lower than: its heading and some rows."""


def linkage_columns(desk: Desk) -> tuple[Column[LinkageStudy], ...]:
    """Position, geometry to edit, play and lead, what follows from them, and the rest of the record."""
    specs = {spec.name: spec for spec in columns(Linkage) if spec.name not in Linkage.KEY}
    rest = [spec for name, spec in specs.items() if name not in FIRST_FIELDS]
    return (
        Column(
            say("Position"),
            lambda row, _units: f"{row.code}  {row.fit.position.name}",
            level=lambda row: row.level,
            tip=trouble_words,
            widest=30,
        ),
        *(replace(_field(desk, specs[name]), gives_way=FIRST_FIELDS[name]) for name in FIRST_FIELDS),
        replace(_surveyed(say("Play"), "free_play_deg"), gives_way=13),
        Column(
            say("Lead"),
            lambda row, units: lead_words(row, units),
            raw=lambda row: row.fit.lead.length_mm if row.fit.lead else None,
            number=True,
            gives_way=14,
        ),
        replace(_surveyed(say("Lead\nloses"), "lead_drop_v"), gives_way=15),
        replace(figure_column(say("Ratio at\nneutral"), lambda row: row.ratio), gives_way=10),
        replace(figure_column(say("Least rod\nangle"), lambda row: row.least_angle), gives_way=6),
        _throw(0, say("Throw up,\nreached")),
        _throw(1, say("Throw down,\nreached")),
        replace(_surveyed(say("Travel\nused"), "servo_travel_deg"), gives_way=7),
        replace(_surveyed(say("Rod force\nat stall"), "rod_force_n"), gives_way=4),
        replace(_surveyed(say("Buckling\nload"), "rod_buckling_n"), gives_way=3),
        replace(_surveyed(say("Buckling load\nover rod force"), "rod_margin"), gives_way=2),
        *(replace(_field(desk, spec), gives_way=1) for spec in rest),
    )


def lead_words(row: LinkageStudy, units: ShowsNumbers) -> str:
    """Length and gauge of a position's lead; a stroke for what is not entered."""
    lead = row.fit.lead
    if lead is None:
        return UNKNOWN
    length = units.show(lead.length_mm, "mm")
    return length if lead.awg is None else f"{length}, AWG {lead.awg:g}"


def _field(desk: Desk, spec: FieldSpec) -> Column[LinkageStudy]:
    def value(row: LinkageStudy) -> Any:
        return getattr(row.fit.linkage, spec.name) if row.fit.linkage else None

    def write(row: LinkageStudy, text: str) -> None:
        desk.do(fitting.set_part_field, row.fit, Linkage, spec, read_field(spec, text, desk.view.reader))

    is_listed = spec.type is bool or issubclass(spec.type, StrEnum)
    return Column(
        folded(heading_of(spec), LONGEST_HEAD),
        lambda row, units: field_text(spec, value(row), units),
        raw=value,
        write=write,
        choices=(lambda _row: choices_of(spec)) if is_listed else None,
        show_for_edit=lambda row, units: edit_text(spec, value(row), units),
        number=spec.type in (float, int),
        help=say(spec.help),
    )


def _throw(which: int, heading: str) -> Column[LinkageStudy]:
    def figure(row: LinkageStudy) -> Figure | None:
        return row.throws[which].reached if len(row.throws) > which else None

    def level(row: LinkageStudy) -> Level | None:
        short = len(row.throws) > which and row.throws[which].is_short
        return Level.CAUTION if short else None

    return Column(
        heading,
        lambda row, _units: _throw_text(row, which),
        raw=lambda row: angle.expected if (angle := figure(row)) else None,
        figure=figure,
        level=level,
        number=True,
        help=say("Reached by the linkage, of what is wanted at the surface."),
    )


def _throw_text(row: LinkageStudy, which: int) -> str:
    if len(row.throws) <= which:
        return "—"
    throw = row.throws[which]
    reached = f"{throw.reached.expected:.0f}°"
    if throw.wanted_deg is None:
        return reached
    return say("{reached} of {wanted}", reached=reached, wanted=f"{throw.wanted_deg:.0f}°")


def _surveyed(heading: str, name: str) -> Column[LinkageStudy]:
    def missing(row: LinkageStudy) -> tuple[Text, ...]:
        return (row.survey.missing_for.get(name) or row.survey.missing) if row.survey else ()

    figure: Callable[[LinkageStudy], Figure | None] = lambda row: getattr(row.survey, name, None)  # noqa: E731
    return figure_column(heading, figure, missing)


class LinkagesPage(QScrollArea):
    """Table above; drawing, words and ratio of the chosen linkage below.

    Where large text leaves too few rows to the table, the whole page scrolls down.
    """

    def __init__(self, desk: Desk, clock: Clock = time.monotonic, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._model: RowsModel[LinkageStudy] = RowsModel(
            desk, linkage_columns(desk), lambda row: row.code, self
        )
        self.table = RowsView(self._model, say("Linkages"))
        self.all_columns = AllColumns(self.table, self)
        self.drawing = LinkageView(desk.view, clock)
        self.plot = RatioPlot(desk.view)
        self.words = QTextBrowser()
        self.words.setAccessibleName(say("The linkage in words"))
        self.play_button = QPushButton(say("&Play"))
        self.neutral_button = QPushButton(say("&Neutral"))
        self.remove_button = QPushButton(say("&Remove linkage"))
        self.travel = Slider(Qt.Orientation.Horizontal)
        self.travel.setAccessibleName(say("Servo travel"))
        self.travel.setPageStep(10 * _FINE)
        self.travel.setSingleStep(_FINE)
        self._code = ""
        self.table.addAction(
            paste_action(desk, self.table, Linkage, LINKAGE_FIELDS, lambda: {"aircraft": self._code})
        )
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        moves = QHBoxLayout()
        label = PlainLabel(say("Servo &travel"))
        label.setBuddy(self.travel)
        for widget in (self.play_button, self.neutral_button, label):
            moves.addWidget(widget)
        moves.addWidget(self.travel, 1)
        acts = QHBoxLayout()
        acts.addWidget(self.remove_button)
        acts.addWidget(self.all_columns)
        acts.addStretch(1)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.drawing, 1)
        column.addLayout(moves)
        column.addLayout(acts)
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
        halves = self._halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(self.table)
        halves.addWidget(lower)
        halves.setSizes([230, 430])
        halves.setChildrenCollapsible(False)
        halves.setContentsMargins(10, 10, 10, 10)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setAccessibleName(say("Linkages"))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(halves)
        self._leave_room()

    def _leave_room(self) -> None:
        self.table.setMinimumHeight(self.fontMetrics().height() * _LINES_ABOVE)
        bar = self.verticalScrollBar().sizeHint().width()
        self.setMinimumWidth(self._halves.minimumSizeHint().width() + bar)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_halves"):
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
        self.remove_button.clicked.connect(self.remove_chosen)
        delete = QShortcut(QKeySequence.StandardKey.Delete, self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.remove_chosen)
        self._desk.view.changed.connect(self._write)

    @property
    def study(self) -> LinkageStudy | None:
        """The linkage that is shown."""
        row = self.table.current_row
        return row if isinstance(row, LinkageStudy) else None

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the linkages of an aircraft as it was judged last."""
        self._code = judgement.aircraft.code
        self._model.show_rows(linkage_studies(judgement.aircraft, judgement.survey))
        if self.table.current_row is None and self._model.rows:
            drawn = next((row for row in self._model.rows if row.link), self._model.rows[0])
            self.table.choose_row(drawn.code)
        self._show_chosen(self.table.current_row)

    def _show_chosen(self, row: LinkageStudy | None) -> None:
        has_link = row is not None and row.link is not None
        for widget in (self.play_button, self.neutral_button, self.travel):
            widget.setEnabled(has_link)
        recorded = row is not None and row.fit.linkage is not None
        self.remove_button.setEnabled(recorded and not self._desk.read_only)
        if row is not None:
            with QSignalBlocker(self.travel):
                self.travel.setRange(round(row.low_deg * _FINE), round(row.high_deg * _FINE))
        self.drawing.show_study(row)
        self.plot.show_study(row)
        self._travel_changed(self.drawing.travel_deg)

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
        study = self.study
        words = standing_words(study, self.drawing.travel_deg, self._desk.view) if study else ""
        self.words.setHtml(words)

    def remove_chosen(self) -> None:
        """Take the linkage at the chosen position out of the records; undo brings it back."""
        study = self.study
        if study is None or study.fit.linkage is None or self._desk.read_only:
            return
        key = (study.fit.position.aircraft, study.code)
        label = text("Remove linkage {position}", position=study.code)
        self._desk.edit(label, lambda edit: edit.remove(Linkage, key))
