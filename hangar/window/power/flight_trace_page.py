"""The flight of an aircraft as its bus sees it: how long, the trace, and the lowest volts in words."""

from __future__ import annotations

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.base.errors import BadInput, HangarError
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.lead_on import LeadOn
from hangar.window.kit.plain_words import Markup, MarkupLabel, PlainLabel, markup, plain
from hangar.window.kit.words import decimal, put, say, sentence_case
from hangar.window.power.flight_trace import Trace, TracePicture, VoltsLimit, trace_of, volts_limits

USUAL_MIN, LEAST_MIN, MOST_MIN = 10.0, 0.5, 120.0


class FlightTracePage(QWidget):
    """Works the trace on the pool whenever it is looked at and something changed."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._task: BackgroundTask | None = None
        self._shown: tuple[Judgement, float] | None = None
        self._typed_min: float | None = None
        self.length = QLineEdit()
        self.length.setAccessibleName(say("Length of the flight"))
        self.length.setToolTip(say("How long the flight lasts, with any unit of time: 8 min, 450 s."))
        self.length.setMaximumWidth(self.length.fontMetrics().averageCharWidth() * 14)
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        self.verdict = MarkupLabel(wordWrap=True)
        self.verdict.setAccessibleName(say("Lowest volts of the flight"))
        self.moment = PlainLabel(
            say("Click on the trace, or use the arrow keys, to read a moment."), wordWrap=True
        )
        self.moment.setObjectName("quiet")
        self.basis = PlainLabel(
            say(
                "An estimate: ordinary flying, brisk stretches and short peaks as the load cases have them, "
                "from packs as charged as the load cases say. Measure in flight to know."
            ),
            wordWrap=True,
        )
        self.basis.setObjectName("quiet")
        self.picture = TracePicture(desk.view)
        self.lead_on = LeadOn(
            say("No pack is fitted: a flight has no volts to show."),
            say("Fit a pac&k…"),
            is_allowed=not desk.read_only,
        )
        self.lead_on.wanted.connect(lambda: desk.entry_wanted.emit("pack"))
        self._arrange()
        self.length.editingFinished.connect(self._length_typed)
        self.verdict.linkActivated.connect(self._ask_how)
        self.picture.moment_read.connect(self.moment.setText)
        desk.view.changed.connect(self._write)

    def _arrange(self) -> None:
        head = QHBoxLayout()
        label = PlainLabel(say("&Length of the flight"))
        label.setBuddy(self.length)
        for widget in (label, self.length, self.refusal):
            head.addWidget(widget)
        head.setStretchFactor(self.refusal, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addLayout(head)
        column.addWidget(self.lead_on)
        column.addWidget(self.verdict)
        column.addWidget(self.picture, 1)
        column.addWidget(self.moment)
        column.addWidget(self.basis)

    @property
    def minutes(self) -> float:
        """How long the flight is: as typed, else as planned for this aircraft."""
        planned = self._judgement.aircraft.airframe.flight_min if self._judgement else None
        return min(MOST_MIN, max(LEAST_MIN, self._typed_min or planned or USUAL_MIN))

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the flight of an aircraft as it was judged last."""
        if self._judgement is not None and judgement.aircraft.code != self._judgement.aircraft.code:
            self._typed_min = None
        self._judgement = judgement
        has_pack = any(path.packs for path in judgement.aircraft.paths)
        self.lead_on.setVisible(not has_pack)
        self.verdict.setVisible(has_pack)
        self._write()
        self._work()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._work()

    def _length_typed(self) -> None:
        if not self.length.isModified():
            return
        try:
            minutes = self._desk.view.reader.parse(self.length.text(), "min")
            if not LEAST_MIN <= minutes <= MOST_MIN:
                raise BadInput(
                    "A flight of {found} is not drawn; allowed are 30 s to 2 h.",
                    found=self.length.text().strip(),
                )
        except HangarError as fault:
            self.refusal.setText(put(fault))
            return
        self._typed_min = minutes
        self._write()
        self._work()

    def _work(self) -> None:
        """Begin the work when it is not done for what is shown; an older answer is dropped."""
        judgement = self._judgement
        wanted = None if judgement is None else (judgement, self.minutes)
        if judgement is None or not self.isVisible() or wanted == self._shown:
            return
        self._shown = wanted
        if self._task is not None:
            self._task.drop()
        surveyed, minutes = judgement.survey, self.minutes
        task = BackgroundTask(self._desk, lambda: trace_of(surveyed, minutes))
        task.done.connect(self._take)
        task.failed.connect(self._tell)
        self._task = task
        task.start()

    def _take(self, trace: Trace) -> None:
        self._task = None
        if self._judgement is not None:
            self.picture.show_trace(trace, volts_limits(self._judgement.aircraft))
        self._write()

    def _tell(self, fault: Exception) -> None:
        self._task = None
        self.picture.show_trace(None)
        self.verdict.show_markup(plain(sentence_case(put(fault))))

    def _write(self) -> None:
        """Write the length and the verdict in the units in use."""
        self.refusal.setText("")
        self.length.setText(self._desk.view.reader.show(self.minutes, "min"))
        self.length.setModified(False)
        trace = self.picture.trace
        if trace is not None and self._judgement is not None:
            self.verdict.show_markup(self._verdict_words(trace, volts_limits(self._judgement.aircraft)))

    def _verdict_words(self, trace: Trace, limits: tuple[VoltsLimit, ...]) -> Markup:
        units, look = self._desk.view.reader, self._desk.view.look
        lowest = trace.lowest_v
        link = markup(
            "<a style='color:{accent}' href='lowest'>{volts}</a>",
            accent=look.accent,
            volts=figure_text(lowest, units),
        )
        minutes = decimal(f"{trace.lowest_at_min:.1f}")
        sentence = say("Lowest bus volts {volts} after {minutes} min.", volts="{volts}", minutes=minutes)
        words = [markup(sentence, volts=link)]
        below = [limit for limit in limits if lowest.expected < limit.volts]
        for limit in below:
            volts = units.show(limit.volts, "V")
            words.append(plain(say("That is below the {volts} of {what}.", volts=volts, what=limit.words)))
        if limits and not below:
            least = lowest.expected - max(limit.volts for limit in limits)
            volts = units.show(least, "V")
            words.append(plain(say("{volts} stay above the lower limits.", volts=volts)))
        return Markup(" ").joined(words)

    def _ask_how(self, _link: str) -> None:
        if self.picture.trace is not None:
            self._desk.how_asked.emit(self.picture.trace.lowest_v)
