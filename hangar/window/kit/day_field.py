"""A field for a day, and the button in it that opens a calendar with a button for today."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import QDate, QEvent, QLocale, QObject, Qt, Signal
from PySide6.QtGui import QCloseEvent, QFont, QIcon, QKeyEvent, QTextCharFormat
from PySide6.QtWidgets import (
    QCalendarWidget,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import BadInput
from hangar.window.kit.icons import icon
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.typed_day import typed_day
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import language_spoken, say


class CalendarBox(QFrame):
    """A month to choose a day from, and today; Escape closes it. Signals: ``left()`` when it closes."""

    left = Signal()

    def __init__(self, shown: date, today: date, chosen: Callable[[date], object], parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self._chosen = chosen
        self.month = QCalendarWidget()
        self.month.setAccessibleName(say("Calendar"))
        self.month.setLocale(QLocale(language_spoken()))
        self.month.setFirstDayOfWeek(QLocale.system().firstDayOfWeek())
        self.month.setVerticalHeaderFormat(QCalendarWidget.VerticalHeaderFormat.NoVerticalHeader)
        cell = self.month.fontMetrics().horizontalAdvance("00") * 2
        self.month.setMinimumSize(cell * 8, cell * 6)
        # Days are told apart by where they stand, not by a colour that cannot be read on every ground.
        plain_day = QTextCharFormat()
        plain_day.setFontWeight(QFont.Weight.Bold)
        plain_day.setForeground(self.palette().text())
        for day in (Qt.DayOfWeek.Saturday, Qt.DayOfWeek.Sunday):
            self.month.setWeekdayTextFormat(day, plain_day)
        for name, sign, words in (
            ("qt_calendar_prevmonth", "‹", say("Month before")),
            ("qt_calendar_nextmonth", "›", say("Next month")),
        ):
            turn = self.month.findChild(QToolButton, name)
            if turn is not None:
                turn.setIcon(QIcon())
                turn.setText(sign)
                turn.setAccessibleName(words)
        self.month.setSelectedDate(QDate(shown.year, shown.month, shown.day))
        self.today = QPushButton(say("Today, {day}", day=today.isoformat()))
        self.today.setAutoDefault(False)
        foot = QHBoxLayout()
        foot.addWidget(self.today)
        foot.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 8)
        column.addWidget(self.month)
        column.addLayout(foot)
        self.month.activated.connect(lambda day: self._take(date(day.year(), day.month(), day.day())))
        self.month.clicked.connect(lambda day: self._take(date(day.year(), day.month(), day.day())))
        self.today.clicked.connect(lambda: self._take(today))
        self.setFocusProxy(self.month)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.left.emit()
        super().closeEvent(event)

    def _take(self, day: date) -> None:
        self._chosen(day)
        self.close()


class DayButton(QToolButton):
    """Stands at the right in a line in which a day is typed; Alt+Down opens it from there."""

    def __init__(self, line: QLineEdit, view: ViewSettings) -> None:
        super().__init__(line)
        self._line, self._view = line, view
        self.calendar: CalendarBox | None = None
        self.setObjectName("inline")
        self.setAutoRaise(True)
        self.setCursor(Qt.CursorShape.ArrowCursor)
        # The line is the way by keys, as with any box.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(say("Calendar and today"))
        self.setToolTip(plain_tip(say("Calendar and today (Alt+Down)")))
        self.clicked.connect(self.open)
        line.installEventFilter(self)
        view.changed.connect(self._dress)
        self._dress()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
            if event.key() == Qt.Key.Key_Down and alt:
                self.open()
                return True
        elif event.type() in (QEvent.Type.Resize, QEvent.Type.FontChange):
            self._place()
        return super().eventFilter(watched, event)

    def _place(self) -> None:
        side = max(16, self._line.height() - 6)
        self.setGeometry(self._line.width() - side - 3, (self._line.height() - side) // 2, side, side)
        self._line.setTextMargins(0, 0, side, 0)

    def _dress(self) -> None:
        self.setIcon(icon("down", self._view.look.ink))

    def open(self) -> None:
        """Open the calendar below the line, on the day that stands there."""
        if not self._line.isEnabled() or self._line.isReadOnly():
            return
        today = self._view.today()
        try:
            shown = typed_day(self._line.text(), today)
        except ValueError:
            shown = today
        self.calendar = CalendarBox(shown, today, self._put, self)
        self.calendar.left.connect(self._forget)
        self.calendar.adjustSize()
        corner = self._line.mapToGlobal(self._line.rect().bottomLeft())
        room = self.screen().availableGeometry()
        high, wide = self.calendar.height(), self.calendar.width()
        if corner.y() + high > room.bottom():
            corner.setY(max(room.top(), self._line.mapToGlobal(self._line.rect().topLeft()).y() - high))
        corner.setX(max(room.left(), min(corner.x(), room.right() - wide)))
        self.calendar.move(corner)
        self.calendar.show()
        self.calendar.month.setFocus()

    def _forget(self) -> None:
        self.calendar = None

    def _put(self, day: date) -> None:
        """The day comes into the line as if it had been typed; a time of day behind it stays."""
        _, space, clock = self._line.text().strip().partition(" ")
        self._line.setText(day.isoformat() + (space + clock if ":" in clock else ""))
        self._line.setModified(True)
        self._line.setFocus()
        self._line.editingFinished.emit()


class DayLine(QLineEdit):
    """A line for a whole day, typed in any usual form or chosen from the calendar."""

    def __init__(self, view: ViewSettings, name: str) -> None:
        super().__init__()
        self._view = view
        self.setAccessibleName(name)
        self.setPlaceholderText("2031-05-20")
        DayButton(self, view)
        self.setMinimumWidth(self.fontMetrics().horizontalAdvance("0000-00-00") * 8 // 5)

    def show_day(self, day: date) -> None:
        """Put a day into the line."""
        self.setText(day.isoformat())

    @property
    def day(self) -> date:
        """The day that stands there. Raises: BadInput when it is none."""
        try:
            return typed_day(self.text(), self._view.today())
        except ValueError:
            raise BadInput(
                "{name} is {found}; allowed is a day such as 2031-05-20.",
                name=self.accessibleName(),
                found=repr(self.text()),
            ) from None
