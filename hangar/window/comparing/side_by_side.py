"""The page Compare: the fitted servo against another one: verdict, race, and numbers with their case."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import QPushButton, QScrollArea, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.answers.outcomes import Outcome
from hangar.answers.trials import UNNAMED
from hangar.base.errors import HangarError
from hangar.base.figure import Figure
from hangar.base.units import ShowsNumbers
from hangar.parts import PlanLine, Servo, ServoFit, ServoType
from hangar.parts.choices import PlanAction
from hangar.rules.finding import Level
from hangar.survey.defaults import own_shares
from hangar.survey.model import Conditions, PositionSurvey
from hangar.survey.old_and_new import ComparedFigure, Comparison
from hangar.survey.servos import rating_of
from hangar.window.comparing.comparison_bars import (
    ComparisonBars,
    change_words,
    compared_figures,
    failing_words,
    value_words,
    verdict,
)
from hangar.window.comparing.outcome_list import comparison_verdict
from hangar.window.comparing.race_panel import RacePanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.kept_splitter import KeptSplitter
from hangar.window.kit.motion_clock import Clock
from hangar.window.kit.place_chooser import PlaceChooser, no_place_yet
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.strip import StripPages
from hangar.window.kit.verdict_bar import VerdictBar
from hangar.window.kit.when_seen import WhenSeen
from hangar.window.kit.words import decimal, put, say, sentence_case
from hangar.window.refit.plan_work import keep_plan
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column, basis_tip
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_SPARE, _NEW = "spare", "type"


LevelOf = Callable[[Figure | None, bool], Level | None]
"""The level of what is found of a figure, and whether it is the new one's."""


def comparison_columns(level_of: LevelOf) -> tuple[Column[ComparedFigure], ...]:
    """What, old, new, whether it is for the better, the change, and the case that both are worked for."""

    def side(heading: str, which: str) -> Column[ComparedFigure]:
        def figure(row: ComparedFigure) -> Figure | None:
            return getattr(row, which)  # type: ignore[no-any-return]

        def text(row: ComparedFigure, units: ShowsNumbers) -> str:
            return value_words(figure(row), row.unit, units)

        return Column(
            heading,
            text,
            figure=figure,
            level=lambda row: level_of(figure(row), which == "new"),
            tip=lambda row: basis_tip(figure(row)),
            number=True,
        )

    return (
        Column(say("What"), lambda row, _units: sentence_case(put(row.name))),
        side(say("Old"), "old"),
        side(say("New"), "new"),
        Column(say("In words"), lambda row, _units: verdict(row), gives_way=3),
        Column(say("Change"), change_words, number=True, gives_way=2),
        Column(say("Case"), lambda row, _units: put(row.case), gives_way=1),
    )


class SideBySide(QWidget):
    """Choose a position and a servo; the verdict, under it the race and beside that numbers and bars."""

    def __init__(self, desk: Desk, clock: Clock = time.monotonic, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._stale = True
        self.comparison: Comparison | None = None
        self.outcome: Outcome | None = None
        self.place = PlaceChooser(desk)
        self.servo_box = ListBox()
        self.servo_box.setAccessibleName(say("New servo"))
        self.keep_button = QPushButton(say("&Keep as a plan"))
        self.lead_on = no_place_yet(desk)
        self.verdict = VerdictBar(desk.view, self.keep_button)
        self.remarks = PlainLabel(wordWrap=True)
        self.remarks.setObjectName("quiet")
        self.remarks.setAccessibleName(say("Remarks"))
        self.bars = ComparisonBars(desk.view)
        self._model: RowsModel[ComparedFigure] = RowsModel(
            desk, comparison_columns(self._level_of), lambda row: str(row.name), self
        )
        self.table = RowsView(self._model, say("Old and new servo"))
        self.tabs = StripPages(say("Numbers or bars"))
        self.panel = RacePanel(desk.view, clock)
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        label = PlainLabel(say("Ne&w servo"))
        label.setBuddy(self.servo_box)
        head = FlowRow(self.place, side_by_side(label, self.servo_box), gap=16)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setAccessibleName(say("Old and new servo as bars"))
        scroll.setWidget(self.bars)
        numbers = QWidget()
        column = QVBoxLayout(numbers)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(LeftOut(self.table, numbers))
        column.addWidget(self.table, 1)
        self.tabs.addTab(numbers, say("N&umbers"))
        self.tabs.addTab(scroll, say("&Bars"))
        halves = KeptSplitter(self._desk.view, "compare", Qt.Orientation.Horizontal)
        halves.addWidget(self.panel)
        halves.addWidget(self.tabs)
        halves.setSizes([420, 820])
        halves.setChildrenCollapsible(False)
        self._halves = halves
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 12, 12, 12)
        column.addLayout(head)
        column.addWidget(self.lead_on)
        column.addWidget(self.verdict)
        column.addWidget(self.remarks)
        column.addWidget(halves, 1)
        column.addStretch(0)
        hand_focus(self, self.servo_box)

    def _connect(self) -> None:
        self.place.chosen.connect(self._place_chosen)
        self.servo_box.activated.connect(self.compare)
        self.keep_button.clicked.connect(self.keep)
        self.table.how_asked.connect(self._desk.how_asked)
        self._desk.touched.connect(self._touched)
        self._desk.view.changed.connect(WhenSeen(self, self._write).ask)

    def showEvent(self, _event: object) -> None:
        self._refresh()

    def _touched(self) -> None:
        self._stale = True
        self._refresh()

    def _refresh(self) -> None:
        """Read what there is, when it changed and somebody looks."""
        if self._stale and self.isVisible():
            self._stale = False
            self.place.read_again()
            self._list_servos()
            self.compare()

    def _place_chosen(self) -> None:
        self._list_servos()
        self.compare()

    def show_place(self, code: str, position: str) -> None:
        """Compare at this position."""
        self._refresh()
        self.place.choose(code, position)

    def _list_servos(self) -> None:
        """Spares first, then every type of the library, keeping what was chosen."""
        kept, fit = self.servo_box.currentData(), self.place.fit
        library = self._desk.basis().library
        with QSignalBlocker(self.servo_box):
            self.servo_box.clear()
            spares = library.spare_servos.values()
            for spare in spares:
                self.servo_box.addItem(
                    say("{tag}  {type}, from Stores", tag=spare.tag, type=spare.servo_type),
                    (_SPARE, spare.tag),
                )
            for code in library.servo_types:
                self.servo_box.addItem(say("{type}, new", type=code), (_NEW, code))
            choices = [self.servo_box.itemData(at) for at in range(self.servo_box.count())]
            at = choices.index(kept) if kept in choices else self._first_other(fit, choices)
            self.servo_box.setCurrentIndex(at)

    def _first_other(self, fit: ServoFit | None, choices: list[Any]) -> int:
        present = fit.servo_type.code if fit and fit.servo_type else ""
        others = [at for at, (_kind, code) in enumerate(choices) if code != present]
        return others[0] if others else 0 if choices else -1

    def _chosen(self) -> tuple[ServoType | None, Servo | None]:
        """The type to compare with and, for a spare, the servo itself."""
        data, library = self.servo_box.currentData(), self._desk.basis().library
        if data is None:
            return None, None
        kind, code = data
        servo = library.spare_servos.get(code) if kind == _SPARE else None
        return library.servo_types.get(servo.servo_type if servo else code), servo

    def compare(self) -> None:
        """Work both out and show them."""
        from hangar.survey.old_and_new import compare

        fit, aircraft = self.place.fit, self.place.aircraft
        new_type, servo = self._chosen()
        self.comparison = self.outcome = None
        if fit is not None and aircraft is not None and new_type is not None:
            try:
                shares = own_shares(self._desk.basis().thresholds.own)
                day = Conditions(today=self._desk.today, defaults=shares)
                self.comparison = compare(aircraft, fit.code, new_type, day, servo=servo)
                self.outcome = self._outcome(self.comparison)
            except HangarError as fault:
                self._desk.trouble.emit(fault)
        self.keep_button.setEnabled(self.comparison is not None and not self._desk.read_only)
        self._write()
        self._set_up_race()

    def _outcome(self, comparison: Comparison) -> Outcome:
        """What the checks say of the aircraft with either servo."""
        from hangar.rules import inspect

        basis = self._desk.basis()
        before, after = (
            Judgement(
                aircraft=surveyed.aircraft,
                survey=surveyed,
                findings=inspect(surveyed.aircraft, surveyed, basis.thresholds, basis.library),
            )
            for surveyed in _both(comparison)
        )
        return Outcome.of(before, after)

    def _level_of(self, figure: Figure | None, is_new: bool) -> Level | None:
        if self.outcome is None or self.comparison is None:
            return None
        return self.outcome.level_of(figure, self.comparison.position, after=is_new)

    def _verdict(self, comparison: Comparison) -> None:
        failing = failing_words(comparison, self._desk.view.reader)
        if self.outcome is None:
            return
        new = comparison.after.positions[comparison.position]
        lacks = () if new.torque_nm is not None or failing else tuple(map(put, new.missing))
        level, sentence, more = comparison_verdict(
            self.outcome, comparison.position, self._names(comparison)[1], lacks
        )
        if failing:
            level, sentence = Level.WARNING, failing
        self.verdict.tell(level, sentence, more)

    def _names(self, comparison: Comparison) -> tuple[str, str]:
        fit = self.place.fit
        old = fit.tag if fit and fit.tag else ""
        old_type = comparison.old_type.code if comparison.old_type else say("none fitted")
        _kind, servo = self._chosen()
        new = f"{servo.tag} {comparison.new_type.code}" if servo else comparison.new_type.code
        return f"{old} {old_type}".strip(), new

    def _write(self) -> None:
        comparison = self.comparison
        self.lead_on.setVisible(self.place.is_bare)
        self.verdict.setVisible(not self.place.is_bare)
        self._halves.setVisible(comparison is not None)
        if comparison is None:
            self._model.show_rows(())
            self.bars.show_figures((), "", "")
            self.verdict.tell(None, say("Choose a position and a servo to compare."))
            self.remarks.clear()
            return
        figures = compared_figures(comparison)
        self._model.show_rows(figures)
        self.table.fit_columns()
        self.bars.show_figures(figures, *self._names(comparison))
        self._verdict(comparison)
        self.remarks.setText(self._remarks(comparison))

    def _remarks(self, comparison: Comparison) -> str:
        volts = [survey.positions[comparison.position].delivered_v for survey in _both(comparison)]
        words = ""
        if None not in volts:
            old, new = (decimal(f"{volt.expected:.2f} V") for volt in volts if volt is not None)
            words = say(
                "Each at the volts it leaves itself on this bus: old {old}, new {new} at the servo. ",
                old=old,
                new=new,
            )
        words += "".join(f"{sentence} " for sentence in self._beyond_rating(comparison))
        if comparison.missing:
            words += say("Not known: {fields}.", fields=", ".join(map(put, comparison.missing)))
        return words

    def _beyond_rating(self, comparison: Comparison) -> list[str]:
        """Which of the two is fed outside the volts that its maker rates it at."""
        kinds = (comparison.old_type, comparison.new_type)
        fails = (comparison.old_fails, comparison.new_fails)
        rows = []
        for kind, name, survey, failing in zip(
            kinds, self._names(comparison), _both(comparison), fails, strict=True
        ):
            volts, rating = _volts(survey.positions[comparison.position]), rating_of(kind) if kind else None
            # On a bus that fails no figure of the servo is given at all.
            if failing is None and volts is not None and rating is not None:
                flags = sorted(rating.at(max(volts, 0.0)).flags)
                rows += [
                    say(
                        "{name} is fed {volts}, {flag}: its figures are estimates there.",
                        name=name,
                        volts=decimal(f"{volts:.2f} V"),
                        flag=put(flag),
                    )
                    for flag in flags[-1:]
                ]
        return rows

    def _set_up_race(self) -> None:
        comparison = self.comparison
        if comparison is None:
            self.panel.show_servos(("", None, None), ("", None, None), None)
            return
        old, new = (survey.positions[comparison.position] for survey in _both(comparison))
        names = self._names(comparison)
        load = old.load_nm or new.load_nm
        self.panel.show_servos(
            (names[0], comparison.old_type, None if comparison.old_fails else _volts(old)),
            (names[1], comparison.new_type, None if comparison.new_fails else _volts(new)),
            load.expected if load else None,
        )

    def keep(self) -> str | None:
        """Keep the new servo as a plan of one line; returns the plan's code."""
        fit = self.place.fit
        new_type, servo = self._chosen()
        if fit is None or new_type is None:
            return None
        line = PlanLine(
            plan=UNNAMED,
            number=1,
            action=PlanAction.FIT_SERVO,
            place=fit.code,
            part_type=new_type.code,
            from_stock=servo.tag if servo else None,
            price=0.0 if servo else new_type.price,
        )
        title = say("{type} at {position}", type=new_type.code, position=fit.code)
        purpose = self.verdict.sentence
        code = keep_plan(self._desk, fit.position.aircraft, title, purpose, (line,))
        if code:
            self.remarks.setText(say("Kept as plan {code}; undo takes it back.", code=code))
        return code


def _both(comparison: Comparison) -> tuple[Any, Any]:
    return comparison.before, comparison.after


def _volts(position: PositionSurvey) -> float | None:
    return position.delivered_v.expected if position.delivered_v else None
