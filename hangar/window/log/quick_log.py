"""Log a flight in three clicks: aircraft, pack, minutes; and the same again with one key."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QWidget,
)

from hangar.acts.flights import (
    MustNotFly,
    flight_today,
    last_flight,
    log_flights,
    minutes_offered,
    same_again,
)
from hangar.acts.hindrances import Hindrances
from hangar.base.errors import HangarError
from hangar.parts import Flight, Pack, PackFit
from hangar.parts.choices import AircraftState, PackState
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say

_VALUE = Qt.ItemDataRole.UserRole
_GONE = (AircraftState.PASSED_ON, AircraftState.WRITTEN_OFF)


class QuickLog(QDialog):
    """Three lists side by side; choosing the minutes logs the flight, undo takes it back."""

    def __init__(self, desk: Desk, aircraft: str | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk = desk
        self.setWindowTitle(say("Log a flight"))
        self.aircraft = self._list(say("Aircraft"))
        self.packs = self._list(say("Packs"))
        self.minutes = self._list(say("Minutes"))
        self.other = QLineEdit()
        self.other.setPlaceholderText(say("other minutes"))
        self.other.setAccessibleName(say("Other minutes"))
        self.log_button = QPushButton(say("&Log it"))
        self.again_button = QPushButton(say("&Same again"))
        self.again_button.setToolTip(say("Log the last flight of the fleet once more: Ctrl+Shift+L"))
        self.although_button = QPushButton(say("Log it all &the same"))
        self.although_button.hide()
        self._waiting: Flight | None = None
        self.message = PlainLabel(wordWrap=True)
        self.message.setAccessibleName(say("What was logged"))
        self._arrange()
        self._connect()
        self._fill(aircraft)
        self.resize(720, 430)

    def _list(self, name: str) -> QListWidget:
        made = QListWidget()
        made.setAccessibleName(name)
        return made

    def _arrange(self) -> None:
        grid = QGridLayout(self)
        for at, (words, widget) in enumerate(
            (
                (say("1 &Aircraft"), self.aircraft),
                (say("2 &Packs"), self.packs),
                (say("3 &Minutes"), self.minutes),
            )
        ):
            label = PlainLabel(words)
            label.setBuddy(widget)
            grid.addWidget(label, 0, at)
            grid.addWidget(widget, 1, at)
        grid.setColumnStretch(0, 3)
        grid.setColumnStretch(1, 3)
        grid.setColumnStretch(2, 2)
        grid.setRowStretch(1, 1)
        # Over the whole width: why an aircraft must not fly is not cut.
        grid.addWidget(self.message, 4, 0, 1, 3)
        grid.addWidget(self.other, 2, 2)
        grid.addWidget(self.log_button, 3, 2)
        grid.addWidget(self.although_button, 5, 0, 1, 3)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.addButton(self.again_button, QDialogButtonBox.ButtonRole.ActionRole)
        buttons.rejected.connect(self.reject)
        grid.addWidget(buttons, 6, 0, 1, 3)
        # Enter in a list or a line logs; a default button would take it, and Close what is said of it.
        for button in (self.log_button, self.although_button, *buttons.buttons()):
            button.setAutoDefault(False)  # type: ignore[attr-defined]

    def _connect(self) -> None:
        self.aircraft.currentItemChanged.connect(self._aircraft_chosen)
        self.minutes.itemClicked.connect(self._minutes_chosen)
        self.minutes.itemActivated.connect(self._minutes_typed)
        self.other.returnPressed.connect(self.log_other)
        self.log_button.clicked.connect(self.log_chosen)
        self.again_button.clicked.connect(self.again)
        self.although_button.clicked.connect(self.log_although)
        QShortcut(QKeySequence("Ctrl+Shift+L"), self).activated.connect(self.again)

    def _fill(self, wanted: str | None) -> None:
        flown = last_flight(self._desk.records(Flight))
        wanted = wanted or (flown.aircraft if flown else None)
        for frame in self._desk.fleet.airframes():
            if frame.state not in _GONE:
                item = QListWidgetItem(f"{frame.code}  {frame.name}", self.aircraft)
                item.setData(_VALUE, frame.code)
                if frame.code == wanted:
                    self.aircraft.setCurrentItem(item)
        if self.aircraft.currentItem() is None:
            self.aircraft.setCurrentRow(0)
        self.aircraft.setFocus()

    @property
    def code(self) -> str | None:
        """Code of the aircraft chosen."""
        item: QListWidgetItem | None = self.aircraft.currentItem()
        return None if item is None else str(item.data(_VALUE))

    def _aircraft_chosen(self) -> None:
        self._forget_waiting()
        self.message.setText("")
        self.packs.clear()
        self.minutes.clear()
        code = self.code
        if code is None:
            return
        flights = self._desk.records(Flight, aircraft=code)
        last = last_flight(flights)
        for tags in self._packs_of(code, last):
            item = QListWidgetItem(tags or say("no pack"), self.packs)
            item.setData(_VALUE, tags)
        self.packs.setCurrentRow(0)
        for count in minutes_offered(flights):
            item = QListWidgetItem(self._desk.view.reader.show(count, "min"), self.minutes)
            item.setData(_VALUE, count)

    def _packs_of(self, code: str, last: Flight | None) -> tuple[str, ...]:
        """What may have been flown: the last combination first, all packs fitted, then each spare one."""
        open_stays = [stay for stay in self._desk.records(PackFit) if stay.until_on is None]
        here = [stay.pack for stay in open_stays if stay.aircraft == code]
        fitted = {stay.pack for stay in open_stays}
        unfit = (PackState.QUARANTINE, PackState.RETIRED)
        spare = [
            pack.tag
            for pack in self._desk.records(Pack)
            if pack.tag not in fitted and pack.state not in unfit
        ]
        offered = [(last.packs or "") if last else "", ", ".join(here), *here, *spare, ""]
        offered = [tags for tags in dict.fromkeys(offered) if tags]
        return (*offered, "")

    def _minutes_chosen(self, item: QListWidgetItem) -> None:
        self._log(float(item.data(_VALUE)))

    def _minutes_typed(self, item: QListWidgetItem) -> None:
        # A double click has logged the flight with its first click already.
        if self.minutes.hasFocus() and not self.minutes.underMouse():
            self._log(float(item.data(_VALUE)))

    def log_other(self) -> None:
        """Log a flight of the minutes typed."""
        if not self.other.text().strip():
            self.message.setText(say("Choose the minutes of the flight, or type others."))
            return
        try:
            minutes = self._desk.view.reader.parse(self.other.text(), "min")
        except HangarError as fault:
            self.message.setText(put(fault))
            return
        self._log(minutes)

    def log_chosen(self) -> None:
        """Log a flight of the minutes typed, or of those chosen in the list."""
        item = self.minutes.currentItem()
        if self.other.text().strip() or item is None:
            self.log_other()
        else:
            self._log(float(item.data(_VALUE)))

    def again(self) -> None:
        """Log the last flight once more."""
        self._attempt(lambda: same_again(self._desk, self._desk.today))

    def ask(self, fault: MustNotFly) -> None:
        """Say why the aircraft must not fly, and offer to log the flight all the same."""
        self._waiting = fault.flight
        self.message.setText(put(fault.question))
        self.although_button.show()

    def log_although(self) -> None:
        """Log the flight that waits, of an aircraft that must not fly."""
        flight = self._waiting
        if flight is not None:
            self._attempt(lambda: flight, although=True)

    def _forget_waiting(self) -> None:
        self._waiting = None
        self.although_button.hide()

    def _attempt(self, made: Callable[[], Flight], *, although: bool = False) -> None:
        self._forget_waiting()
        try:
            flight = made()
            hindrances = Hindrances(self._desk.fleet, self._desk.today)
            self._desk.do(log_flights, [flight], hindrances, although=although)
            self._tell(flight)
        except MustNotFly as fault:
            self.ask(fault)
        except HangarError as fault:
            self.message.setText(put(fault))

    def _log(self, minutes: float) -> None:
        code = self.code
        if code is None:
            return
        item: QListWidgetItem | None = self.packs.currentItem()
        packs = None if item is None else str(item.data(_VALUE))
        self._attempt(lambda: flight_today(self._desk, code, packs, minutes, self._desk.today))

    def _tell(self, flight: Flight) -> None:
        self.other.clear()
        self.message.setText(
            say(
                "Logged: {aircraft}, flight {number} of {day}, {packs}, {minutes}. Ctrl+Z takes it back.",
                aircraft=flight.aircraft,
                number=flight.number,
                day=flight.flown_on,
                packs=flight.packs or say("no pack"),
                minutes=self._desk.view.reader.show(flight.minutes_min, "min"),
            )
        )
