"""One thing to turn: a slider and a typed value with its unit, or a list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QObject, QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLineEdit, QWidget

from hangar.answers.judging import Judgement, JudgingBasis
from hangar.answers.trials import Knob, Trial
from hangar.base.errors import BadInput
from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Text
from hangar.base.units import ShowsNumbers
from hangar.survey.figure_cases import case_of
from hangar.survey.load_curve import LoadCurve
from hangar.survey.model import Scenario, Survey
from hangar.survey.old_and_new import MORE_IS_BETTER, ComparedFigure
from hangar.window.kit.field_text import UNKNOWN, figure_text
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox, Slider
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.tables.columns import Column, basis_tip

SAME_SHARE = 0.001
_POSITION = (
    "delivered_v", "load_nm", "torque_nm", "torque_share", "wanted_deg", "held_deg", "control_left",
    "full_to_m_s", "transit_s",
    "servo_travel_deg", "rod_force_n", "rod_margin", "lead_drop_v", "stall_a",
)  # fmt: skip
_SUPPLY = ("peak_a", "endurance_min")


@dataclass(frozen=True)
class Answer:
    """What the survey and the rules say of a trial, and the load line of the position asked about."""

    judgement: Judgement
    curve: LoadCurve | None


def answer_to(trial: Trial, basis: JudgingBasis, position: str, today_m_s: float | None) -> Answer:
    """Survey a trial and let the rules look at it.

    ``today_m_s`` is the speed of the position's load today, None where no air loads it.
    """
    from hangar.rules import inspect
    from hangar.survey import survey
    from hangar.survey.load_curve import load_curve

    surveyed = survey(trial.aircraft, trial.conditions)
    thresholds = basis.thresholds
    findings = inspect(trial.aircraft, surveyed, thresholds, basis.library)
    fastest = _fastest_m_s(surveyed, position, today_m_s)
    curve = load_curve(surveyed, position, fastest) if fastest else None
    return Answer(Judgement(aircraft=trial.aircraft, survey=surveyed, findings=findings), curve)


def answer_of_today(today: Judgement, position: str) -> Answer:
    """What stands before anything is turned; nothing is worked out for it but the load line."""
    from hangar.survey.load_curve import load_curve

    survey = today.survey.positions.get(position)
    speed = survey.load_speed_m_s.expected if survey and survey.load_speed_m_s else None
    fastest = _fastest_m_s(today.survey, position, speed)
    return Answer(today, load_curve(today.survey, position, fastest) if fastest else None)


def _fastest_m_s(surveyed: Survey, position: str, today_m_s: float | None) -> float | None:
    """A speed that shows today's load, the tried one, and where the lines cross if that is near."""
    survey = surveyed.positions.get(position)
    if today_m_s is None or survey is None or survey.load_speed_m_s is None:
        return None
    full_to = survey.full_to_m_s
    limit = full_to.expected if full_to else 0.0
    return max(1.5 * today_m_s, 1.15 * survey.load_speed_m_s.expected, min(1.15 * limit, 3.0 * today_m_s))


@dataclass(frozen=True)
class TrialRow:
    """One figure today and as tried, and the case that it is worked for."""

    name: str
    today: Figure | None
    tried: Figure | None
    case: Text = NOTHING

    @property
    def title(self) -> str:
        """What the figure is."""
        figure = self.today or self.tried
        return sentence_case(put(figure.name)) if figure else self.name

    @property
    def change(self) -> float | None:
        """Tried less today; None where one of them is not known."""
        if self.today is None or self.tried is None:
            return None
        change = self.tried.expected - self.today.expected
        return 0.0 if abs(change) <= SAME_SHARE * abs(self.today.expected) else change


def trial_rows(today: Survey, tried: Survey, position: str) -> tuple[TrialRow, ...]:
    """The figures of the position, then those of the supply; what neither knows is left out."""
    old, new = today.positions.get(position), tried.positions.get(position)
    rows = [
        TrialRow(name, getattr(old, name, None), getattr(new, name, None), case_of(name, new))
        for name in _POSITION
    ]
    rows.append(TrialRow("bus_v", _bus_v(today), _bus_v(tried), case_of("bus_v", None)))
    rows += [
        TrialRow(name, getattr(today.supply, name), getattr(tried.supply, name), case_of(name, None))
        for name in _SUPPLY
    ]
    return tuple(row for row in rows if row.today is not None or row.tried is not None)


def bar_rows(rows: Iterable[TrialRow]) -> tuple[ComparedFigure, ...]:
    """The rows as pairs of bars, where no load over air speed can be drawn."""
    return tuple(
        ComparedFigure(figure.name, figure.unit, row.today, row.tried, MORE_IS_BETTER.get(row.name), row.case)
        for row in rows
        if (figure := row.tried or row.today) is not None
    )


def _bus_v(surveyed: Survey) -> Figure | None:
    peak = surveyed.scenarios.get(Scenario.PEAK)
    return None if peak is None else peak.bus_v


def trial_columns() -> tuple[Column[TrialRow], ...]:
    """What, today, tried, and the change."""

    def side(heading: str, which: str) -> Column[TrialRow]:
        def figure(row: TrialRow) -> Figure | None:
            return getattr(row, which)  # type: ignore[no-any-return]

        return Column(
            heading,
            lambda row, units: figure_text(figure(row), units),
            figure=figure,
            tip=lambda row: basis_tip(figure(row)),
            number=True,
        )

    return (
        Column(say("What"), lambda row, _units: row.title, tip=lambda row: row.title, widest=36),
        side(say("Today"), "today"),
        side(say("Tried"), "tried"),
        Column(say("Change"), change_words, number=True, gives_way=2),
        Column(say("Case"), lambda row, _units: put(row.case), gives_way=1),
    )


def change_words(row: TrialRow, units: ShowsNumbers) -> str:
    """The change with an arrow that says which way."""
    figure = row.tried or row.today
    if row.change is None or figure is None:
        return UNKNOWN
    if row.change == 0.0:
        return "="
    sign = "▲" if row.change > 0.0 else "▼"
    return f"{sign} {units.show(abs(row.change), figure.unit)}"


class KnobRow(QObject):
    """The widgets of one knob in a row of a grid. Signals: ``turned()``."""

    turned = Signal()

    def __init__(self, knob: Knob, view: ViewSettings, parent: QWidget) -> None:
        super().__init__(parent)
        self.knob = knob
        self._view = view
        self.value = knob.today
        self.label = PlainLabel(put(knob.title), parent, wordWrap=True)
        self.slider = Slider(Qt.Orientation.Horizontal, parent)
        self.entry = QLineEdit(parent)
        self.list = ListBox(parent)
        for widget in (self.slider, self.entry, self.list):
            widget.setAccessibleName(put(knob.title))
        self.label.setBuddy(self.list if knob.names else self.slider)
        self.list.addItems([put(name) for name in knob.names])
        self.list.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.slider.setRange(0, max(1, round((knob.high - knob.low) / knob.step)))
        self.slider.setPageStep(max(1, self.slider.maximum() // 10))
        self.slider.valueChanged.connect(self._slid)
        self.entry.editingFinished.connect(self._typed)
        self.list.currentIndexChanged.connect(lambda at: self.set(float(at)))
        self.show_value()

    @property
    def is_turned(self) -> bool:
        """Whether it does not stand at today's value."""
        return self.knob.is_turned(self.value)

    def place(self, grid: QGridLayout, row: int) -> None:
        """Put the widgets into two rows of a grid."""
        grid.addWidget(self.label, 2 * row, 0, 1, 2)
        if self.knob.names:
            grid.addWidget(self.list, 2 * row + 1, 0, 1, 2)
        else:
            grid.addWidget(self.slider, 2 * row + 1, 0)
            grid.addWidget(self.entry, 2 * row + 1, 1)
        for widget in (self.slider, self.entry):
            widget.setVisible(not self.knob.names)
        self.list.setVisible(bool(self.knob.names))

    def set(self, value: float) -> None:
        """Turn it to a value, as far as it goes."""
        held = min(max(value, self.knob.low), self.knob.high)
        if held != self.value:
            self.value = held
            self.show_value()
            self.turned.emit()
        else:
            self.show_value()

    def reset(self) -> None:
        """Turn it back to today's value."""
        self.set(self.knob.today)

    def show_value(self) -> None:
        """Show where it stands, and today's value beside the title."""
        knob, units = self.knob, self._view.units
        with QSignalBlocker(self.slider), QSignalBlocker(self.list):
            self.slider.setValue(round((self.value - knob.low) / knob.step))
            self.list.setCurrentIndex(round(self.value) if knob.names else -1)
        if knob.names:
            return
        self.entry.setText(units.show(self.value, knob.unit))
        self.entry.setMinimumWidth(self.entry.fontMetrics().horizontalAdvance("0000.00 mmm"))
        self.entry.setMaximumWidth(self.entry.minimumWidth())
        today = units.show(knob.today, knob.unit)
        font = self.label.font()
        font.setBold(self.is_turned)
        self.label.setFont(font)
        text = say("{title} (today {today})", title=knob.title, today=today)
        self.label.setText(text if self.is_turned else put(knob.title))

    def _slid(self, at: int) -> None:
        value = self.knob.low + at * self.knob.step
        # Today's value seldom lies on a step; the step next to it means it.
        near = abs(value - self.knob.today) < 0.5 * self.knob.step
        self.set(self.knob.today if near else value)

    def _typed(self) -> None:
        try:
            value = self._view.units.parse(self.entry.text(), self.knob.unit)
        except BadInput as fault:
            self.entry.setToolTip(plain_tip(put(fault)))
            self.show_value()
            return
        self.entry.setToolTip("")
        if self._view.units.show(value, self.knob.unit) != self._view.units.show(self.value, self.knob.unit):
            self.set(value)
        else:
            self.show_value()
