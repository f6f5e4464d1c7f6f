"""Enter a load test of a pack: one load or two, and what they say before and after they are kept."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QGroupBox, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hangar.answers.packs import PackCase, verdict_of
from hangar.base.errors import HangarError
from hangar.base.text import text
from hangar.parts import Airframe, LoadTest, Pack
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.packs.pack_words import VerdictLine, tested_words
from hangar.window.records.record_form import RecordForm

if TYPE_CHECKING:
    from hangar.store import Edit

FIELDS = (
    *("load_a", "load_s", "rest_v", "loaded_v", "second_load_a", "second_v"),
    *("ambient_c", "pack_c", "minutes_since_charge", "tester"),
)


class LoadTestEntry(QGroupBox):
    """Load, seconds, volts at rest and loaded; any unit can be typed, Enter in a field goes on."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._case: PackCase | None = None
        self.setTitle(say("Load test now"))
        self.form = RecordForm(LoadTest, desk.view, FIELDS)
        self.preview = VerdictLine(desk.view, say("What this reading says"))
        self.preview.hide()
        self.enter_button = QPushButton(say("E&nter the test"))
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        column = QVBoxLayout(self)
        for widget in (self.form, self.preview, self.refusal, self.enter_button):
            column.addWidget(widget)
        column.addStretch(1)
        self.setEnabled(not desk.read_only)
        self.enter_button.clicked.connect(self.enter)
        enter = QShortcut(QKeySequence("Ctrl+Return"), self)
        enter.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        enter.activated.connect(self.enter)
        for name in FIELDS:
            line = self.form.editor(name).editor
            if isinstance(line, QLineEdit):
                line.textChanged.connect(self._look)

    def show_case(self, case: PackCase) -> None:
        """Ask for a test of this pack; what is typed for the same pack stays."""
        if self._case is not None and self._case.tag == case.tag:
            self._case = case
            return
        self._case = case
        self.refusal.setText("")
        self.form.show_values({"load_a": self._usual_load_a(case), "load_s": 10.0})
        self._look()

    def _usual_load_a(self, case: PackCase) -> float:
        from hangar.answers.checklists import test_load_a
        from hangar.parts.choices import AircraftClass

        if case.newest_test is not None:
            return case.newest_test.load_a
        frame = self._desk.fleet.record(Airframe, case.place.aircraft) if case.place else None
        thresholds = self._desk.basis().thresholds
        return test_load_a(frame.aircraft_class if frame else AircraftClass.SPORT, thresholds)

    def _read(self) -> LoadTest | None:
        """The test as it is typed, without complaining of what is not typed yet."""
        try:
            values = {name: self.form.editor(name).read() for name in FIELDS}
        except HangarError:
            return None
        return None if self._case is None else self._test(self._case, values)

    def _test(self, case: PackCase, values: dict[str, Any]) -> LoadTest:
        tested_at = datetime.combine(self._desk.today, datetime.now().time().replace(microsecond=0))  # noqa: DTZ005
        place = case.place.aircraft if case.place else None
        return LoadTest(pack=case.tag, tested_at=tested_at, aircraft=place, **values)

    def _look(self) -> None:
        test = self._read()
        self.preview.setVisible(test is not None)
        if test is not None and self._case is not None:
            verdict = verdict_of(self._case, test, self._desk.today)
            self.preview.show_verdict(tested_words(verdict, self._desk.view.reader))

    def enter(self) -> None:
        """Keep the test as one undoable edit, or say what is wrong with it."""
        case, values = self._case, self.form.read_all()
        if case is None or values is None or self._desk.read_only:
            return
        test = self._test(case, values)

        def work(edit: Edit) -> None:
            edit.put(test)
            edit.change(Pack, (case.tag,), rest_v=test.rest_v, rest_on=self._desk.today)

        try:
            self._desk.change(text("Enter load test of pack {tag}", tag=case.tag), work)
        except HangarError as fault:
            self.refusal.setText(put(fault))
            return
        self.refusal.setText("")
        kept = ("load_a", "load_s", "second_load_a", "ambient_c", "tester")
        self.form.show_values({name: getattr(test, name) for name in kept})
        self.form.editor("rest_v").setFocus()
