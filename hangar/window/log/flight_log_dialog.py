"""A logger's file beside the aircraft that flew it: figures, picture, what happened; it can be kept."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QPushButton, QVBoxLayout, QWidget

from hangar.acts.flight_record import keep_log, read_log
from hangar.answers.flight_lines import FlightLines, lines_of, lines_of_kept
from hangar.answers.flight_logs import Course, course_of, remembered, unpacked
from hangar.answers.flight_record import FlightRead
from hangar.answers.judging import Judgement
from hangar.base.errors import HangarError
from hangar.parts import FlightLog, FlightLogTrace
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import Markup, MarkupLabel, PlainLabel, markup
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.log.column_choosers import ColumnChoosers
from hangar.window.log.course_picture import CoursePicture

LOG_ENDINGS = (".csv", ".tsv", ".txt", ".log")


def dropped_log(dragged: QMimeData) -> Path | None:
    """The one file among what is dragged that may be a logger's; None for several or another kind."""
    files = [Path(url.toLocalFile()) for url in dragged.urls() if url.isLocalFile()]
    if len(files) != 1 or files[0].suffix.lower() not in LOG_ENDINGS:
        return None
    return files[0]


class FlightLogDialog(QDialog):
    """Shows a log that is read now, or one that was kept."""

    def __init__(self, desk: Desk, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._desk = desk
        self.read: FlightRead | None = None
        self._lines: FlightLines | None = None
        self._task: BackgroundTask | None = None
        self.figures = MarkupLabel(wordWrap=True)
        self.figures.setAccessibleName(say("Figures of the flight"))
        self.happened = PlainLabel(wordWrap=True)
        self.happened.setAccessibleName(say("What happened in the flight"))
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        self.picture = CoursePicture(desk.view)
        self.choosers = ColumnChoosers()
        self.choosers.hide()
        self._source: tuple[Path, Judgement] | None = None
        self.keep_button = QPushButton(say("&Keep with the aircraft"))
        self.keep_button.setEnabled(False)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.buttons.addButton(self.keep_button, QDialogButtonBox.ButtonRole.ActionRole)
        self.keep_button.clicked.connect(self.keep)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        shown = (self.choosers, self.figures, self.picture, self.happened, self.refusal, self.buttons)
        for widget in shown:
            column.addWidget(widget, 1 if widget is self.picture else 0)
        self.choosers.chosen.connect(self.read_again)
        desk.view.changed.connect(self._write)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.resize(880, 660)

    @property
    def is_reading(self) -> bool:
        """Whether the file is being read."""
        return self._task is not None

    def read_file(self, path: Path, judgement: Judgement) -> None:
        """Read a file as a flight of this aircraft, beside the event loop."""
        self._source = path, judgement
        self._read(remembered(self._desk.records(FlightLog)), None)

    def read_again(self) -> None:
        """Read the file again with its columns as they are chosen now, and the flight that is chosen."""
        if self.read is not None:
            line = self.read.flight.heading_line
            self._read({line: self.choosers.mapping}, self.choosers.wanted)

    def _read(self, known: Mapping[str, Mapping[str, str]], flight: int | None) -> None:
        if self._source is None:
            return
        path, judgement = self._source
        self.refusal.clear()
        self.keep_button.setEnabled(False)
        self.figures.setText(markup("{words}", words=say("{file} is read…", file=path.name)))
        surveyed = judgement.survey
        if self._task is not None:
            self._task.drop()
        self._task = BackgroundTask(
            self._desk, lambda: read_log(path, surveyed, remembered=known, flight=flight)
        )
        self._task.done.connect(self._take)
        self._task.failed.connect(self._refuse)
        self._task.start()

    def show_kept(self, log: FlightLog) -> None:
        """Show what is kept of a log."""
        self.keep_button.hide()
        key = {"aircraft": log.aircraft, "flown_on": log.flown_on, "number": log.number}
        traces = self._desk.records(FlightLogTrace, **key)
        self._show(lines_of_kept(log), unpacked(traces[0].trace) if traces else None)

    def _take(self, read: FlightRead) -> None:
        self._task = None
        self.read = read
        self.choosers.show_flight(read.flight)
        self.choosers.show()
        self.keep_button.setEnabled(not self._desk.read_only)
        self._show(lines_of(read), course_of(read))

    def _refuse(self, fault: Exception) -> None:
        self._task = None
        self.figures.clear()
        if not isinstance(fault, HangarError):
            self._desk.trouble.emit(fault)
        self.refusal.setText(put(fault.text) if isinstance(fault, HangarError) else str(fault))

    def _show(self, lines: FlightLines, course: Course | None) -> None:
        self._lines = lines
        self.picture.show_course(course, [start_s for start_s, _ in lines.events])
        self._write()

    def _write(self) -> None:
        lines = self._lines
        if lines is None:
            return
        shown = [
            markup("{what}: <b>{value}</b>", what=sentence_case(put(what)), value=put(value))
            for what, value in lines.figures
        ]
        self.figures.setText(Markup(" &nbsp; ").joined(shown))
        happened = [f"{number}  {put(event)}" for number, (_, event) in enumerate(lines.events, start=1)]
        happened += [say("Not sure: {what}", what=put(doubt)) for doubt in lines.doubts]
        happened += [sentence_case(put(note)) for note in lines.notes]
        self.happened.setText("\n".join(happened) or say("Nothing out of the ordinary was found in it."))

    def keep(self) -> None:
        """Keep summary and course with the aircraft; a refusal is told here."""
        if self.read is None or self._desk.read_only:
            return
        try:
            self._desk.do(keep_log, self.read, self._desk.today)
        except HangarError as fault:
            self.refusal.setText(put(fault.text))
            return
        self.accept()

    def reject(self) -> None:
        """Close; what is still being read is wanted no more."""
        if self._task is not None:
            self._task.drop()
            self._task = None
        super().reject()
