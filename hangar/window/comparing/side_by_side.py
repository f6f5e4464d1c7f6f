"""The Side by Side room: the servo that is fitted against another one, in bars, numbers and a race."""

from __future__ import annotations

import time
from typing import Any

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.trials import UNNAMED
from hangar.base.errors import HangarError
from hangar.base.figure import Figure
from hangar.base.units import ShowsNumbers
from hangar.parts import PlanLine, Servo, ServoFit, ServoType
from hangar.parts.choices import PlanAction
from hangar.survey.defaults import own_shares
from hangar.survey.model import Conditions, PositionSurvey
from hangar.survey.old_and_new import ComparedFigure, Comparison
from hangar.survey.servos import rating_of
from hangar.window.comparing.comparison_bars import (
    ComparisonBars,
    change_words,
    compared_figures,
    headline,
    value_words,
    verdict,
)
from hangar.window.comparing.race_panel import RacePanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.kept_splitter import KeptSplitter
from hangar.window.kit.motion_clock import Clock
from hangar.window.kit.place_chooser import PlaceChooser
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.refit.plan_work import keep_plan
from hangar.window.tables.columns import Column, basis_tip
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_SPARE, _NEW = "spare", "type"


def comparison_columns() -> tuple[Column[ComparedFigure], ...]:
    """What, old, new, the change, and whether it is for the better."""

    def side(heading: str, which: str) -> Column[ComparedFigure]:
        def figure(row: ComparedFigure) -> Figure | None:
            return getattr(row, which)  # type: ignore[no-any-return]

        def text(row: ComparedFigure, units: ShowsNumbers) -> str:
            return value_words(figure(row), row.unit, units)

        return Column(heading, text, figure=figure, tip=lambda row: basis_tip(figure(row)), number=True)

    return (
        Column(say("What"), lambda row, _units: sentence_case(put(row.name))),
        side(say("Old"), "old"),
        side(say("New"), "new"),
        Column(say("In words"), lambda row, _units: verdict(row)),
        Column(say("Change"), change_words, number=True),
    )


class SideBySide(QWidget):
    """Choose a position and a servo; bars and table on the left, the race on the right."""

    def __init__(self, desk: Desk, clock: Clock = time.monotonic, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._stale = True
        self.comparison: Comparison | None = None
        self.place = PlaceChooser(desk)
        self.servo_box = ListBox()
        self.servo_box.setAccessibleName(say("New servo"))
        self.keep_button = QPushButton(say("&Keep as a plan"))
        self.headline = PlainLabel(wordWrap=True)
        self.headline.setAccessibleName(say("What changes"))
        self.said = PlainLabel(wordWrap=True)
        self.said.setObjectName("quiet")
        self.said.setAccessibleName(say("Remarks"))
        self.bars = ComparisonBars(desk.view)
        self._model: RowsModel[ComparedFigure] = RowsModel(
            desk, comparison_columns(), lambda row: str(row.name), self
        )
        self.table = RowsView(self._model, say("Old and new servo"))
        self.tabs = StripPages(say("Bars or numbers"))
        self.panel = RacePanel(desk.view, clock)
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.place)
        head.addStretch(1)
        head.addWidget(self.keep_button)
        choice = QHBoxLayout()
        label = PlainLabel(say("Ne&w servo"))
        label.setBuddy(self.servo_box)
        choice.addWidget(label)
        choice.addWidget(self.servo_box)
        choice.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setAccessibleName(say("Old and new servo as bars"))
        scroll.setWidget(self.bars)
        self.tabs.addTab(scroll, say("&Bars"))
        self.tabs.addTab(self.table, say("N&umbers"))
        halves = KeptSplitter(self._desk.view, "compare", Qt.Orientation.Horizontal)
        halves.addWidget(self.tabs)
        halves.addWidget(self.panel)
        halves.setSizes([560, 560])
        halves.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 12, 12, 12)
        column.addLayout(head)
        column.addLayout(choice)
        column.addWidget(self.headline)
        column.addWidget(self.said)
        column.addWidget(halves, 1)
        self.setFocusProxy(self.servo_box)

    def _connect(self) -> None:
        self.place.chosen.connect(self._place_chosen)
        self.servo_box.activated.connect(self.compare)
        self.keep_button.clicked.connect(self.keep)
        self.table.how_asked.connect(self._desk.how_asked)
        self._desk.touched.connect(self._touched)
        self._desk.view.changed.connect(self._write)

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
        self.comparison = None
        if fit is not None and aircraft is not None and new_type is not None:
            try:
                own = own_shares(self._desk.basis().thresholds.own)
                day = Conditions(today=self._desk.today, defaults=own)
                self.comparison = compare(aircraft, fit.code, new_type, day, servo=servo)
            except HangarError as fault:
                self._desk.trouble.emit(fault)
        self.keep_button.setEnabled(self.comparison is not None and not self._desk.read_only)
        self._write()
        self._set_up_race()

    def _names(self, comparison: Comparison) -> tuple[str, str]:
        fit = self.place.fit
        old = fit.tag if fit and fit.tag else ""
        old_type = comparison.old_type.code if comparison.old_type else say("none fitted")
        _kind, servo = self._chosen()
        new = f"{servo.tag} {comparison.new_type.code}" if servo else comparison.new_type.code
        return f"{old} {old_type}".strip(), new

    def _write(self) -> None:
        comparison = self.comparison
        if comparison is None:
            self._model.show_rows(())
            self.bars.show_figures((), "", "")
            self.headline.setText(say("Choose a position and a servo to compare."))
            self.said.clear()
            return
        figures = compared_figures(comparison)
        self._model.show_rows(figures)
        self.table.fit_columns()
        self.bars.show_figures(figures, *self._names(comparison))
        self.headline.setText(headline(comparison, figures, self._desk.view.reader))
        self.said.setText(self._remarks(comparison))

    def _remarks(self, comparison: Comparison) -> str:
        volts = [survey.positions[comparison.position].delivered_v for survey in _both(comparison)]
        told = ""
        if None not in volts:
            old, new = (f"{volt.expected:.2f} V" for volt in volts if volt is not None)
            told = say(
                "Each at the volts it leaves itself on this bus: old {old}, new {new} at the servo. ",
                old=old,
                new=new,
            )
        told += "".join(f"{sentence} " for sentence in self._beyond_rating(comparison))
        if comparison.missing:
            told += say("Not known: {fields}.", fields=", ".join(map(put, comparison.missing)))
        return told

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
                        volts=f"{volts:.2f} V",
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
        purpose = self.headline.text()
        code = keep_plan(self._desk, fit.position.aircraft, title, purpose, (line,))
        if code:
            self.said.setText(say("Kept as plan {code}; undo takes it back.", code=code))
        return code


def _both(comparison: Comparison) -> tuple[Any, Any]:
    return comparison.before, comparison.after


def _volts(position: PositionSurvey) -> float | None:
    return position.delivered_v.expected if position.delivered_v else None
