"""The race with its sliders: load at the arm, volts, angle, and how much slower it is shown."""

from __future__ import annotations

import time

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QPushButton,
    QSlider,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.race import Racer, result_words
from hangar.parts import ServoType
from hangar.physics.servo_motion import TYPICAL_TIME_CONSTANT_S
from hangar.window.comparing.race_view import RaceView
from hangar.window.kit.flow_row import FlowRow, SentencePane
from hangar.window.kit.motion_clock import Clock
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox, Slider
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, put, say

USUAL_V, USUAL_ANGLE_DEG = 6.0, 60
_LOAD_STEPS, _PER_VOLT = 200, 20
SLOWER = (1, 4, 20)


class RacePanel(SentencePane):
    """Arms above, sliders below, and the result in words."""

    def __init__(
        self, view: ViewSettings, clock: Clock = time.monotonic, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._view = view
        self._types: tuple[ServoType | None, ServoType | None] = (None, None)
        self._names = ("", "")
        self._true_v: tuple[float | None, float | None] = (None, None)
        self._most_nm = 1.0
        self._own_nm = 0.0
        self.race = RaceView(view, clock)
        self.load = _slider(say("Load at the arm"), 0, _LOAD_STEPS, 10)
        self.volts = _slider(say("Volts at both servos"), 3 * _PER_VOLT, 9 * _PER_VOLT, 10)
        self.volts.setValue(round(USUAL_V * _PER_VOLT))
        self.angle = _slider(say("Angle to turn"), 10, 120, 10)
        self.angle.setValue(USUAL_ANGLE_DEG)
        self.true_volts = QCheckBox(say("Each at its &true volts on this bus"))
        self.true_volts.setChecked(True)
        self.start_button = QPushButton(say("&Race"))
        self.slower = ListBox()
        self.slower.setAccessibleName(say("How fast the race is shown"))
        for times in SLOWER:
            words = say("in real time") if times == 1 else say("{count} times slower", count=times)
            self.slower.addItem(words, times)
        self.load_words, self.volt_words, self.angle_words = PlainLabel(), PlainLabel(), PlainLabel()
        self.result = PlainLabel(wordWrap=True)
        self.result.setAccessibleName(say("Result of the race"))
        self.basis = PlainLabel(wordWrap=True)
        self.basis.setObjectName("quiet")
        self._arrange()
        self._connect()

    def _arrange(self) -> None:
        grid = QGridLayout()
        rows = (
            (say("Load at the ar&m"), self.load, self.load_words),
            (say("V&olts"), self.volts, self.volt_words),
            (say("A&ngle"), self.angle, self.angle_words),
        )
        for at, (title, slider, words) in enumerate(rows):
            label = PlainLabel(title)
            label.setBuddy(slider)
            grid.addWidget(label, at, 0)
            grid.addWidget(slider, at, 1)
            grid.addWidget(words, at, 2)
        grid.setColumnStretch(1, 1)
        start = FlowRow(self.start_button, self.slower, self.true_volts)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.race, 1)
        column.addWidget(self.result)
        column.addLayout(start)
        column.addLayout(grid)
        column.addWidget(self.basis)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._leave_room()

    def _leave_room(self) -> None:
        """The race keeps its least height, whatever the words under it need at this width."""
        self.race.setMinimumHeight(self.race.minimumSizeHint().height())

    def _connect(self) -> None:
        for slider in (self.load, self.volts, self.angle):
            slider.valueChanged.connect(self.set_up)
        self.true_volts.toggled.connect(self.set_up)
        self.start_button.clicked.connect(self.run)
        self.race.start_wanted.connect(self.run)
        self._view.changed.connect(self.set_up)

    @property
    def load_nm(self) -> float:
        """Torque against both arms: the position's own until the slider is moved."""
        slid = self._most_nm * self.load.value() / _LOAD_STEPS
        near = abs(slid - self._own_nm) <= 0.5 * self._most_nm / _LOAD_STEPS
        return self._own_nm if near else slid

    def show_servos(
        self,
        old: tuple[str, ServoType | None, float | None],
        new: tuple[str, ServoType | None, float | None],
        load_nm: float | None,
    ) -> None:
        """Show two servos, each by name, type and true volts, against the load of the position."""
        self._names, self._types, self._true_v = (old[0], new[0]), (old[1], new[1]), (old[2], new[2])
        known = None not in self._true_v
        with QSignalBlocker(self.true_volts):
            if self.true_volts.isEnabled() != known:
                self.true_volts.setChecked(known)
            self.true_volts.setEnabled(known)
        self._own_nm = load_nm or 0.0
        self._most_nm = self._most_torque(self._own_nm)
        with QSignalBlocker(self.load):
            self.load.setValue(round(_LOAD_STEPS * self._own_nm / self._most_nm))
        self.set_up()

    def _most_torque(self, load_nm: float) -> float:
        rated = [
            row.torque_nm for kind in self._types if kind is not None for row in kind.ratings if row.torque_nm
        ]
        return 1.25 * max([*rated, load_nm], default=0.0) or 1.0

    def set_up(self) -> None:
        """Put both at the start as the sliders say."""
        true = self.true_volts.isChecked()
        self.volts.setEnabled(not true)
        volts = [
            true_v if true and true_v is not None else self.volts.value() / _PER_VOLT
            for true_v in self._true_v
        ]
        angle = float(self.angle.value())
        old, new = (
            Racer.of(name, kind, volt, self.load_nm, angle)
            for name, kind, volt in zip(self._names, self._types, volts, strict=True)
        )
        self.load_words.setText(self._view.units.show(self.load_nm, "N m"))
        self.volt_words.setText(" / ".join(dict.fromkeys(decimal(f"{volt:.2f} V") for volt in volts)))
        self.angle_words.setText(f"{angle:.0f}°")
        self.race.show_racers(old, new, angle)
        self.result.setText(put(result_words(old, new)))
        self.basis.setText(say("A steady load, full drive all the way; from the rated torque and speed."))
        self.basis.setToolTip(
            plain_tip(
                say(
                    "From the rated torque and speed at these volts; run-up taken as {ms} ms, typical for "
                    "servos whose inertia nobody states. A steady load, full drive all the way.",
                    ms=f"{1000 * TYPICAL_TIME_CONSTANT_S:.0f}",
                )
            )
        )

        self._leave_room()

    def run(self) -> None:
        """Let them go."""
        self.race.start(float(self.slower.currentData()))


def _slider(name: str, low: int, high: int, page: int) -> QSlider:
    slider = Slider(Qt.Orientation.Horizontal)
    slider.setAccessibleName(name)
    slider.setRange(low, high)
    slider.setPageStep(page)
    return slider
