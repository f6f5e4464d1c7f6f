"""All that can be chosen about how Hangar looks and speaks, in one place: on this seat, and in this fleet."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QPushButton, QVBoxLayout, QWidget

from hangar.base.reader import language_name, languages
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox, NumberBox
from hangar.window.kit.strip import StripPages
from hangar.window.kit.view_settings import LEAST_POINTS, MOST_POINTS, UNIT_WORDS, ViewSettings
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.window.kit.desk import Desk


class SeatPage(QWidget):
    """Colours, size of the print, face, language, and the units of a fleet that keeps none of its own."""

    def __init__(
        self, view: ViewSettings, speak: Callable[[], object], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._view, self._speak = view, speak
        self.colours = _box(
            say("Colours"),
            (("system", say("Like the system")), ("light", say("Light")), ("dark", say("Dark"))),
        )
        self.points = NumberBox(minimum=round(LEAST_POINTS), maximum=round(MOST_POINTS))
        self.points.setSuffix(f" {say('pt')}")
        self.points.setAccessibleName(say("Size of the text"))
        self.face = _box(say("Face"), (("own", say("Hangar's own")), ("desktop", say("The desktop's"))))
        self.language = _box(
            say("Language"),
            (("system", say("Like the system")), *((code, language_name(code)) for code in languages())),
        )
        self.units = _box(say("Units of new fleets"), tuple(UNIT_WORDS.items()))
        self.forget = QPushButton(say("Put panes and tables back as they came"))
        self.forget.setAutoDefault(False)
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        form = QFormLayout()
        for field in (self.colours, self.points, self.face, self.language, self.units):
            form.addRow(field.accessibleName(), field)
        page = QVBoxLayout(self)
        page.setContentsMargins(14, 14, 14, 14)
        page.setSpacing(12)
        page.addLayout(form)
        page.addWidget(self.forget, 0, Qt.AlignmentFlag.AlignLeft)
        page.addWidget(self.message)
        page.addStretch(1)
        self.colours.activated.connect(lambda _at: view.choose_colours(str(self.colours.currentData())))
        self.points.valueChanged.connect(lambda points: view.choose_points(float(points)))
        self.face.activated.connect(lambda _at: view.choose_face(str(self.face.currentData())))
        self.units.activated.connect(lambda _at: view.choose_seat_units(str(self.units.currentData())))
        self.language.activated.connect(self._choose_language)
        self.forget.clicked.connect(self._forget)
        view.changed.connect(self.read_again)
        self.read_again()

    def read_again(self) -> None:
        """Show what is chosen."""
        view = self._view
        for box, value in (
            (self.colours, view.colours),
            (self.face, view.face),
            (self.language, view.language),
            (self.units, view.seat_units),
        ):
            box.setCurrentIndex(max(0, box.findData(value)))
        self.points.blockSignals(True)
        self.points.setValue(round(view.points))
        self.points.blockSignals(False)

    def _choose_language(self) -> None:
        chosen = str(self.language.currentData())
        if chosen != self._view.language:
            self._view.choose_language(chosen)
            self._speak()

    def _forget(self) -> None:
        self._view.forget("panes")
        self._view.forget("table")
        self.message.setText(say("Panes and tables stand as they came from the next start on."))


class Preferences(QDialog):
    """What holds on this seat, and with a fleet open what holds in it; each choice is taken at once."""

    def __init__(
        self,
        view: ViewSettings,
        desk: Desk | None,
        speak: Callable[[], object],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Preferences"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.pages = StripPages(say("Preferences"))
        self.seat = SeatPage(view, speak)
        self.pages.addTab(self.seat, say("On this computer"))
        if desk is not None:
            from hangar.window.workshop.units_page import UnitsPage

            self.fleet = UnitsPage(desk)
            self.pages.addTab(self.fleet, say("Units and money of this fleet"))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self.pages, 1)
        column.addWidget(buttons)
        room = self.screen().availableSize()
        self.resize(min(560, room.width() * 9 // 10), min(620, room.height() * 9 // 10))


def _box(name: str, choices: tuple[tuple[str, str], ...]) -> ListBox:
    box = ListBox()
    box.setAccessibleName(name)
    for value, words in choices:
        box.addItem(words, value)
    return box
