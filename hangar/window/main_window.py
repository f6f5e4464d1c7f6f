"""The main window: puts menus, rooms, panels and notices together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from hangar.window.first_look import FirstLook
from hangar.window.host import Host
from hangar.window.kit.looks import wear
from hangar.window.kit.view_settings import UNIT_WORDS, ViewSettings, unit_choice
from hangar.window.kit.words import put, say

if TYPE_CHECKING:
    from hangar.base.figure import Figure
    from hangar.parts import Aircraft
    from hangar.store import Fleet
    from hangar.store.glance import Glimpse
    from hangar.window.file_menu import FileMenu
    from hangar.window.kit.field_text import WorkingPanel

# What only an open fleet needs is loaded inside the functions: the window must be on screen before.


SETTLE_MS = 80
"""The rooms are drawn before the fleet is looked over: both at once would make the first frame wait."""
COUNTING_MS = 30
"""Findings that come in one after the other are counted together."""


class MainWindow(Host):
    """One open fleet, or the welcome page. Signals: ``fleet_opened()``."""

    fleet_opened = Signal()

    files: FileMenu

    def __init__(self, view: ViewSettings, data_folder: Path, glimpses: Sequence[Glimpse] = ()) -> None:
        super().__init__()
        self.view = view
        self.desk = None
        self.rooms = None
        self.working: WorkingPanel | None = None
        self._data_folder = data_folder
        view.own_folder = data_folder
        self._shown: QWidget | None = None
        self._furnished = False
        self._counting = QTimer(self, singleShot=True, interval=COUNTING_MS)
        self._counting.timeout.connect(self._count)
        room = self.screen().availableSize()
        self.resize(min(1500, room.width() * 94 // 100), min(920, room.height() * 92 // 100))
        if glimpses:
            self._wear(plainly=True)
            self._shown = FirstLook(view.look, glimpses)
            self.setCentralWidget(self._shown)
        else:
            self.furnish()

    def furnish(self) -> None:
        """Put in menus, notices and the status line, under what is shown; once is enough."""
        if self._furnished:
            return
        self._furnished = True
        from hangar.window.file_menu import FileMenu
        from hangar.window.kit.counts_strip import CountsStrip
        from hangar.window.kit.notice import NoticeBar
        from hangar.window.menus import Menus

        self._wear()
        self.view.changed.connect(self._wear)
        first_look = self.takeCentralWidget()
        if isinstance(first_look, FirstLook):
            first_look.make_room_for_menus(False)
        self.notice = NoticeBar()
        self.files = FileMenu(self, self._data_folder)
        self.menus = Menus(self, self.view, self._acts())
        self.files.fill_print_menu(self.menus.print_menu)
        self._tally = CountsStrip(self.view, say("Open findings of the fleet"))
        self.statusBar().addPermanentWidget(self._tally)
        self._page = QWidget()
        self._column = QVBoxLayout(self._page)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.notice)
        if self._shown is not None:
            self._column.addWidget(self._shown, 1)
        self.setCentralWidget(self._page)
        self.menus.show_steps(None, None)
        self.menus.show_fleet_open(False, False)

    def _acts(self) -> dict[str, Callable[[], object]]:
        from hangar.window.menus import text_size_acts

        acts: dict[str, Callable[[], object]] = {
            **self.files.acts(),
            **text_size_acts(self.view),
            "quit": self.close,
            "undo": self.undo,
            "redo": self.redo,
            "aircraft": self.open_new_aircraft,
            "how": self.ask_how,
            "changes": self.open_changes,
            "about": self.open_about,
        }
        for name in UNIT_WORDS:
            acts[f"units {name}"] = partial(self._choose_units, name)
        return acts

    def open_changes(self) -> None:
        """Show every change made to the fleet."""
        from hangar.window.records.changes_dialog import ChangesDialog

        if self.desk is not None:
            ChangesDialog(self.desk, self).open()

    def undo(self) -> None:
        """Take the last edit back."""
        if self.desk is not None:
            self.desk.undo()

    def redo(self) -> None:
        """Make the edit again that was taken back last."""
        if self.desk is not None:
            self.desk.redo()

    def _choose_units(self, name: str) -> None:
        if self.desk is not None:
            self.desk.choose_units(unit_choice(name))

    def open_about(self) -> None:
        """Open the About box."""
        from hangar.window.about import AboutBox

        AboutBox(self).open()

    def _show_page(self, page: QWidget) -> None:
        if self._shown is not None:
            self._column.removeWidget(self._shown)
            self._shown.deleteLater()
        self._shown = page
        self._column.addWidget(page, 1)

    def show_welcome(self) -> None:
        """Show the first page."""
        from hangar.window.welcome import WelcomePage

        page = WelcomePage(self.view)
        page.demo_wanted.connect(self.files.open_demo)
        page.open_wanted.connect(self.files.ask_open)
        page.new_wanted.connect(self.files.ask_new)
        page.bring_in_wanted.connect(self.files.ask_bring_in)
        self._show_page(page)
        self.setWindowTitle(say("Hangar"))
        self._tally.show_counts({})
        self.menus.show_steps(None, None)
        self.menus.show_fleet_open(False, False)
        self.menus.rooms.clear()

    def take_fleet(self, fleet: Fleet, aircraft: Iterable[Aircraft] = ()) -> None:
        """Show this fleet instead of what is shown; the one open before is closed.

        ``aircraft`` are those of the fleet where they were read already.
        """
        from hangar.window.kit.desk import Desk
        from hangar.window.navigator import Navigator
        from hangar.window.rooms import Rooms

        self.furnish()
        self.let_go()
        desk = Desk(fleet, self.view, read=aircraft, parent=self)
        self.desk = desk
        self.rooms = Rooms(desk)
        Navigator(desk, self.rooms)
        self._show_page(self.rooms)
        self.rooms.room(self.rooms.current).setFocus()
        desk.how_asked.connect(self._explain)
        desk.touched.connect(self._touched)
        desk.trouble.connect(self.notice.trouble)
        desk.judged.connect(lambda _code: self._counting.start())
        for number, title in enumerate(self.rooms.titles):
            action = self.menus.rooms.addAction(title)
            action.setShortcut(f"Ctrl+{number + 1}" if number < 9 else f"Ctrl+Alt+{number - 8}")
            action.triggered.connect(lambda _on=False, number=number: self._enter(number))
        self.notice.hide()
        self._touched()
        if fleet.read_only:
            held = say(", in use by {who}", who=fleet.held_by) if fleet.held_by else ""
            held = f": {put(fleet.hindrance)}" if fleet.hindrance else held
            self.notice.tell(say("This fleet is open for reading only{held}.", held=held))
        elif not desk.codes():
            words = say(
                "No aircraft is entered yet. Edit, New aircraft (Ctrl+Shift+N) enters one by hand; "
                "File, Bring in tables reads your own."
            )
            self.notice.tell(words)
        self.menus.show_fleet_open(True, not fleet.read_only)
        self.menus.show_units(self.view.units)
        QTimer.singleShot(SETTLE_MS, desk, desk.start_judging)
        self.fleet_opened.emit()

        if fleet.is_shared:
            from hangar.window.other_seats import OtherSeats

            OtherSeats(desk)

    def _explain(self, figure: Figure) -> None:
        from hangar.window.kit.field_text import WorkingPanel

        if self.working is None and self.desk is not None:
            self.working = WorkingPanel(self.desk, self)
            self.addDockWidget(Qt.DockWidgetArea.RightDockWidgetArea, self.working)
        if self.working is not None:
            self.working.explain(figure)

    def let_go(self) -> None:
        """Close the open fleet and go back to the first page."""
        if self.desk is None:
            return
        desk, self.desk, self.rooms = self.desk, None, None
        if self.working is not None:
            self.removeDockWidget(self.working)
            self.working.deleteLater()
            self.working = None
        self.show_welcome()
        self.files.stop_work()
        desk.stop()
        desk.fleet.close()
        desk.deleteLater()

    def _enter(self, number: int) -> None:
        if self.rooms is not None:
            self.rooms.enter(number)

    def _touched(self) -> None:
        if self.desk is None:
            return
        desk = self.desk
        self.menus.show_steps(desk.undo_label, desk.redo_label)
        self.menus.show_units(self.view.units)
        self.notice.hide()
        self.setWindowTitle(say("{fleet} — Hangar", fleet=desk.fleet.title))
        self._count()

    def _count(self) -> None:
        if self.desk is None:
            return
        from hangar.answers.judging import count_levels
        from hangar.window.kit.counts_strip import fleet_words

        known = [self.desk.known(code) for code in self.desk.codes()]
        counts = count_levels(f for judgement in known if judgement is not None for f in judgement.findings)
        self._tally.show_counts(counts, fleet_words(known))

    def open_new_aircraft(self) -> None:
        """Open the form for a new aircraft."""
        from hangar.window.airframe.new_aircraft import NewAircraftDialog

        if self.desk is not None:
            dialog = NewAircraftDialog(self.desk, self)
            dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            dialog.open()

    def ask_how(self) -> None:
        """Explain the number under the cursor of the table that has the focus."""
        from hangar.window.tables.rows_view import RowsView

        table = QApplication.focusWidget()
        if isinstance(table, RowsView) and table.asked_figure is not None:
            table.ask_how()
        else:
            self.notice.tell(say("Put the cursor on a computed number in a table first, then ask how."))

    def _wear(self, *, plainly: bool = False) -> None:
        app = QApplication.instance()
        if isinstance(app, QApplication):
            wear(app, self.view.look, self.view.points, plainly=plainly)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.ThemeChange and self.view.colours == "system":
            self._wear()

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._furnished and not self.files.save_offer.may_leave():
            event.ignore()
            return
        self.let_go()
        super().closeEvent(event)
