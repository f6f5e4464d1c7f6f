"""Bench and release: readings against what is expected, gates to tick, the way back to the line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime, time
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QGroupBox,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import releasing
from hangar.answers.bench_checks import BenchReadings, expected_of, is_off, off_pct, readings_of
from hangar.answers.board import gates, last_done, release_gaps, unticked
from hangar.answers.judging import Judgement
from hangar.answers.outlook import peak_bus
from hangar.base.figure import Figure
from hangar.base.text import Text, text
from hangar.base.units import ShowsNumbers
from hangar.parts import BenchCheck, Plan
from hangar.parts.fields import columns, key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import (
    LONGEST_HEAD,
    UNKNOWN,
    field_text,
    figure_text,
    folded,
    heading_of,
    in_unit,
    read_field,
)
from hangar.window.kit.plain_words import Markup, MarkupLabel, markup, plain
from hangar.window.kit.words import put, say
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Choice, Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


def missing_html(gaps: Sequence[Text], unticked: Sequence[str], left_open: Sequence[str] = ()) -> Markup:
    """What is missing before release, and what is open, each as a list, one to a line.

    Args:
        gaps: all that is missing; the sentences of the gates stand last.
        unticked: codes of the gates that are not ticked: their sentences stand beside the boxes already.
        left_open: what does not hinder a release, but is asked about; in words.
    """
    if not gaps and not left_open:
        return plain(say("Every proof is ticked and every reading entered."))
    sentences = [put(gap) for gap in gaps[: len(gaps) - len(unticked)]]
    if unticked:
        sentences.append(say("Proofs to tick: {codes}.", codes=", ".join(unticked)))
    lists = [
        (say("Missing before release:"), sentences),
        (say("Open, and asked about at release:"), left_open),
    ]
    return Markup().joined(_list(heading, lines) for heading, lines in lists if lines)


def _list(heading: str, lines: Sequence[str]) -> Markup:
    return markup(
        "<p>{heading}</p><ul style='margin-left: 0px; -qt-list-indent: 1'>{lines}</ul>",
        heading=heading,
        lines=Markup().joined(markup("<li>{words}</li>", words=words) for words in lines),
    )


_GIVES_WAY = (0, 5, 0, 9, 0, 11, 0, 10, 8, 7, 8, 6, 4, 3, 2, 1)
"""In which order the columns of the readings are left out: ticks, days and ends of travel, then the rest."""
_SPECS = {spec.name: spec for spec in columns(BenchCheck)}


class PlanBench(QSplitter):
    """Readings above, predicted and measured below; ``gates_page`` holds the gates and the release."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self._desk = desk
        self._plan: Plan | None = None
        self._model: RowsModel[BenchReadings] = RowsModel(
            desk, self._columns(), lambda row: row.position, self
        )
        self.readings = RowsView(self._model, say("Readings on the bench"))
        self.comparison_rows: RowsModel[tuple[str, str, str]] = RowsModel(
            desk, _comparison_columns(), lambda row: row[0], self
        )
        self.comparison = RowsView(self.comparison_rows, say("Predicted and measured"))
        self.comparison.choose_whole_rows()
        self.ticks: dict[str, QCheckBox] = {}
        self._open: tuple[str, ...] = ()
        self.release_button = QPushButton(say("Release to the &line"))
        self.although_button = QPushButton(say("Release &although this is open"))
        self.although_button.hide()
        self.missing = MarkupLabel(wordWrap=True)
        self.missing.setAccessibleName(say("What is missing before release"))
        self.addWidget(
            _titled(
                say("Readings and what is expected"),
                LeftOut(self.readings, self),
                self.readings,
            )
        )
        self.addWidget(_titled(say("Predicted and measured"), self.comparison))
        self.gates_page = self._gates()
        self.setSizes([300, 220])
        self.setChildrenCollapsible(False)
        self.release_button.clicked.connect(self._release)
        self.although_button.clicked.connect(self._release_although)

    def _gates(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        grid = QGridLayout()
        for row, gate in enumerate(gates()):
            box = QCheckBox(gate.code)
            box.setAccessibleName(f"{gate.code}  {put(gate.text)}")
            passed = say("Passed when: {words}", words=put(gate.pass_when))
            box.setAccessibleDescription(passed)
            box.clicked.connect(lambda on, code=gate.code: self._tick(code, on))
            self.ticks[gate.code] = box
            shown = markup("{text}<br><i>{passed}</i>", text=put(gate.text), passed=passed)
            words = MarkupLabel(shown, wordWrap=True)
            words.setBuddy(box)
            grid.addWidget(box, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(words, row, 1)
        grid.setColumnStretch(1, 1)
        column.addLayout(grid)
        column.addWidget(self.missing)
        column.addWidget(self.release_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.although_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(page)
        scroll.setAccessibleName(say("Proofs before release"))
        return scroll

    def _columns(self) -> tuple[Column[BenchReadings], ...]:
        bench_columns: list[Column[BenchReadings]] = [
            Column(say("Position"), lambda row, _units: f"{row.position}  {row.name}"),
            Column(say("Checked"), lambda row, _units: _when(row)),
        ]
        for name in ("bus_v", "neutral_ma", "moving_ma", "end_a_ma", "end_b_ma"):
            bench_columns += [self._measured(name), _expected_column(name)]
        bench_columns += [
            self._measured(name) for name in ("play_deg", "direction_ok", "centre_ok", "jitter")
        ]
        return tuple(
            replace(column, gives_way=way) for column, way in zip(bench_columns, _GIVES_WAY, strict=True)
        )

    def _measured(self, name: str) -> Column[BenchReadings]:
        spec = _SPECS[name]

        def value(row: BenchReadings) -> Any:
            return row.value(name)

        yes_or_no = (
            Choice(say("not known"), ""),
            Choice(say("yes"), say("yes")),
            Choice(say("no"), say("no")),
        )
        return Column(
            heading=folded(heading_of(spec), LONGEST_HEAD),
            text=lambda row, units: _reading_words(row, name, field_text(spec, value(row), units)),
            raw=value,
            level=lambda row: _caution() if is_off(row, name) else None,
            write=lambda row, text: self._write(row, name, text),
            show_for_edit=lambda row, units: (
                "" if value(row) is None else field_text(spec, value(row), units)
            ),
            choices=(lambda _row: yes_or_no) if spec.type is bool else None,
            number=spec.type is float,
        )

    def _write(self, row: BenchReadings, name: str, typed: str) -> None:
        value = read_field(_SPECS[name], typed, self._desk.view.reader)
        label = text("Enter a reading at {position}", position=row.position)
        check = row.holding(name)
        if check is not None:
            self._desk.change(label, lambda edit: edit.change(BenchCheck, key_of(check), **{name: value}))
            return
        when = datetime.combine(self._desk.today, time(12))
        made = BenchCheck(aircraft=row.aircraft, position=row.position, checked_at=when, **{name: value})
        self._desk.change(label, lambda edit: edit.put(made))

    def show_plan(self, plan: Plan, judgement: Judgement) -> None:
        """Show readings, gates and what is missing for this plan."""
        self._plan = plan
        thresholds = self._desk.basis().thresholds
        self._model.show_rows(readings_of(plan, judgement, thresholds))
        kept = {prediction.figure: prediction.value for prediction in plan.predictions}
        self.comparison_rows.show_rows(comparison_of(plan, judgement, self._desk.view.reader, kept))
        ticked = {proof.proof for proof in plan.proofs}
        for code, box in self.ticks.items():
            box.setChecked(code in ticked)
            box.setEnabled(not self._desk.read_only)
        gaps = release_gaps(plan, judgement.aircraft)
        self.release_button.setEnabled(not gaps and not self._desk.read_only)
        self._open = tuple(map(put, releasing.open_points(plan, judgement)))
        self.although_button.hide()
        self.missing.show_markup(missing_html(gaps, [gate.code for gate in unticked(plan)], self._open))

    def _tick(self, gate: str, ticked: bool) -> None:
        plan = self._plan
        if plan is not None:
            desk = self._desk
            aircraft = desk.aircraft(plan.aircraft)
            desk.attempt(lambda: desk.do(releasing.tick_gate, plan, gate, ticked, aircraft, desk.today))

    def _release(self) -> None:
        plan = self._plan
        if plan is None:
            return
        if self._open:
            self.although_button.show()
            self.although_button.setFocus()
            return
        self._desk.attempt(lambda: self._put_on_line(plan, although=False))

    def _release_although(self) -> None:
        plan = self._plan
        if plan is not None:
            self._desk.attempt(lambda: self._put_on_line(plan, although=True))

    def _put_on_line(self, plan: Plan, *, although: bool) -> None:
        desk, code = self._desk, plan.aircraft
        judgement = desk.judgement(code)
        desk.do(releasing.release, plan, desk.aircraft(code), judgement, desk.today, although=although)


def _titled(title: str, *widgets: QWidget) -> QGroupBox:
    box = QGroupBox(title)
    column = QVBoxLayout(box)
    column.setContentsMargins(2, 6, 2, 2)
    for widget in widgets:
        column.addWidget(widget)
    return box


def _caution() -> Any:
    from hangar.rules.finding import Level

    return Level.CAUTION


def _when(row: BenchReadings) -> str:
    return row.check.checked_at.strftime("%Y-%m-%d") if row.check else say("not yet")


def _reading_words(row: BenchReadings, field: str, words: str) -> str:
    share = off_pct(row, field)
    if share is None or field.startswith("end_"):
        return words
    return f"{words} ({share:+.0f} %)"


def _expected_column(name: str) -> Column[BenchReadings]:
    if name.startswith("end_"):
        return Column(say("at most"), lambda row, units: _band_words(row, name, units), number=True)
    words = say("at peak") if name == "bus_v" else say("expected")
    read_in = _SPECS[name].unit or ""
    return Column(
        heading=words,
        text=lambda row, units: figure_text(in_unit(expected_of(row, name), read_in), units),
        figure=lambda row: expected_of(row, name),
        number=True,
    )


def _band_words(row: BenchReadings, name: str, units: ShowsNumbers) -> str:
    high = next((band.high for band in row.bands.get(name, ()) if band.high is not None), None)
    return UNKNOWN if high is None else units.show(high, "mA", 3)


def _comparison_columns() -> tuple[Column[tuple[str, str, str]], ...]:
    return (
        Column(say("Figure"), lambda row, _units: row[0]),
        Column(say("Predicted"), lambda row, _units: row[1]),
        Column(say("Measured since the refit"), lambda row, _units: row[2]),
    )


def comparison_of(
    plan: Plan, judgement: Judgement, units: ShowsNumbers, kept: Mapping[str, float]
) -> tuple[tuple[str, str, str], ...]:
    """What was predicted when the work began beside what flights and scales said since.

    Volts and charge fall back on the aircraft as it is fitted where nothing was kept.
    """
    day, aircraft, survey = last_done(plan), judgement.aircraft, judgement.survey
    flights = [flight for flight in aircraft.flights if day is not None and flight.flown_on >= day]
    frame = aircraft.airframe
    weighed = frame.mass_measured_on is not None and day is not None and frame.mass_measured_on >= day
    balanced = frame.cg_measured_on is not None and day is not None and frame.cg_measured_on >= day
    lowest = min((flight.lowest_v for flight in flights if flight.lowest_v is not None), default=None)
    back = [flight.put_back_mah for flight in flights if flight.put_back_mah is not None]
    bus, charge = peak_bus(survey), survey.supply.flight_mah

    def row(
        words: str, name: str, unit: str, figure: Figure | None, measured: float | None
    ) -> tuple[str, str, str]:
        value = kept.get(name)
        predicted = figure_text(figure, units) if value is None else units.show(value, unit)
        wording = say("not measured yet") if measured is None else units.show(measured, unit)
        return words, predicted, wording

    return (
        row(say("Lowest bus volts"), "bus_v", "V", bus, lowest),
        row(say("Charge for a flight"), "flight_mah", "mAh", charge, sum(back) / len(back) if back else None),
        row(say("Mass ready to fly"), "mass_g", "g", None, frame.all_up_mass_g if weighed else None),
        row(say("Balance"), "balance_mm", "mm", None, frame.cg_measured_mm if balanced else None),
        (say("Flights since"), "", str(len(flights))),
    )
