"""The main window: puts menus, rooms, panels and notices together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTime, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QMenuBar, QStatusBar, QVBoxLayout, QWidget

from hangar.base.places import COPIES_OF_SERVERS
from hangar.window.first_look import FirstLook
from hangar.window.host import Host
from hangar.window.kit.looks import family_of, wear
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import UNIT_WORDS, ViewSettings, unit_choice
from hangar.window.kit.words import put, room_titles, say, speak
from hangar.window.seat_memory import Place, go_to_place, keep_place, keep_window, restore_window, take_place

if TYPE_CHECKING:
    from hangar.acts.session import Session
    from hangar.base.figure import Figure
    from hangar.parts import Aircraft
    from hangar.store import Fleet
    from hangar.store.glance import Glimpse
    from hangar.window.file_menu import FileMenu
    from hangar.window.kit.field_text import WorkingPanel

# What only an open fleet needs is loaded inside the functions: the window must be on screen before.


SETTLE_MS = 80
"""The rooms are drawn before the fleet is looked over: both at once would make the first frame wait."""
LOWEST_UNITS = 560
"""Below so many units of height the foot goes."""


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
        self.follower: MainWindow | None = None
        """The window in another language that took this one's place."""
        self._shown: QWidget | None = None
        self._furnished = False
        room = self.screen().availableSize()
        self.resize(min(1500, room.width() * 94 // 100), min(920, room.height() * 92 // 100))
        restore_window(self)
        if glimpses:
            self._wear(plainly=True)
            self._shown = FirstLook(view, glimpses)
            self.setCentralWidget(self._shown)
        else:
            self.furnish()

    def furnish(self) -> None:
        """Put in menus, notices and the status line, under what is shown; once is enough."""
        if self._furnished:
            return
        self._furnished = True
        from hangar.window.file_menu import FileMenu
        from hangar.window.kit.notice import NoticeBar
        from hangar.window.menus import Menus
        from hangar.window.top_line import TopLine

        self._wear()
        self.view.changed.connect(self._wear)
        self.view.changed.connect(self._fit_height_soon)
        first_look = self.takeCentralWidget()
        if isinstance(first_look, FirstLook):
            first_look.give_way_to_frame()
        self.notice = NoticeBar()
        self.top = TopLine(self.view)
        self.foot = QStatusBar()
        self.foot.setSizeGripEnabled(False)
        self.files = FileMenu(self, self._data_folder)
        self.menus = Menus(self, self.view, self._acts())
        self.files.fill_print_menu(self.menus.print_menu)
        self.files.fill_recent_menu(self.menus.recent_menu)
        self.top.undo.clicked.connect(self.undo)
        self._kept = PlainLabel()
        self.foot.addWidget(self._kept)
        governed = say("Figures are estimates. The maker's manual, the club's rules and the law govern.")
        self.foot.addPermanentWidget(PlainLabel(governed))
        self._page = QWidget()
        self._frame = QHBoxLayout(self._page)
        self._frame.setContentsMargins(0, 0, 0, 0)
        self._frame.setSpacing(0)
        self._column = QVBoxLayout()
        self._column.setSpacing(0)
        self._frame.addLayout(self._column, 1)
        self._column.addWidget(self.top)
        self._column.addWidget(self.notice)
        self._column.addWidget(self.foot)
        if self._shown is not None:
            self._put_in(self._shown)
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
            "aircraft": partial(self.begin_entry, "kit"),
            "copy aircraft": partial(self.begin_entry, "copy"),
            "fit out": partial(self.begin_entry, "fit-out"),
            "how": self.ask_how,
            "log": self.open_quick_log,
            "changes": self.open_changes,
            "about": self.open_about,
            "preferences": self.open_preferences,
            "speak": self.speak_anew,
        }
        for name in UNIT_WORDS:
            acts[f"units {name}"] = partial(self._choose_units, name)
        return acts

    def open_quick_log(self) -> None:
        """Open the three lists by which a flight is logged."""
        if self.rooms is not None:
            self.rooms.open_quick_log()

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

    def open_again(self, place: str) -> None:
        """Open a fleet that was open before."""
        if self.files.save_offer.may_leave():
            self.files.open_place(place)

    def open_preferences(self) -> None:
        """Open what can be chosen about looks, language and units."""
        from hangar.window.preferences import Preferences

        def speak_later() -> None:
            # Not from within the dialog, which goes with the window.
            QTimer.singleShot(0, self, self.speak_anew)

        Preferences(self.view, self.desk, speak_later, self).open()

    def open_about(self) -> None:
        """Open the About box."""
        from hangar.window.about import AboutBox

        AboutBox(self).open()

    def _show_page(self, page: QWidget) -> None:
        if self._shown is not None:
            self._column.removeWidget(self._shown)
            self._shown.deleteLater()
        self._shown = page
        self._put_in(page)

    def _put_in(self, page: QWidget) -> None:
        """Between the lines above and the foot."""
        self._column.insertWidget(2, page, 1)

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
        self._kept.clear()
        self.menus.show_steps(None, None)
        self.menus.show_fleet_open(False, False)
        self.menus.rooms.clear()
        self.top.undo.hide()

    def speak_anew(self) -> None:
        """Show all anew in the language that was chosen; the fleet stays open, nothing is judged again."""
        app = QApplication.instance()
        assert app is not None
        speak(app, self.view.language)
        follower = MainWindow(self.view, self._data_folder)
        follower.setGeometry(self.geometry())
        follower.setWindowState(self.windowState())
        desk, rooms = self.desk, self.rooms
        if desk is None or rooms is None:
            follower.show_welcome()
        else:
            self.files.stop_work()
            desk.rest()
            self.desk = self.rooms = None
            follower.take_fleet(desk.fleet, session=desk.session, place=Place.in_(desk, rooms))
        follower.show()
        self.follower = follower
        self.close()
        self.deleteLater()

    def take_fleet(
        self, fleet: Fleet, aircraft: Iterable[Aircraft] = (), session: Session | None = None,
        place: Place | None = None,
    ) -> None:  # fmt: skip
        """Show this fleet instead of what is shown; the one open before is closed.

        Args:
            fleet: the fleet.
            aircraft: those of the fleet that were read already.
            session: the session in which it was open in another window.
            place: what was open there; the Flight Line for none.
        """
        from hangar.window.entry import Entry
        from hangar.window.kit.desk import Desk
        from hangar.window.navigator import Navigator
        from hangar.window.rooms import Rooms

        self.furnish()
        self.let_go()
        desk = Desk(fleet, self.view, read=aircraft, session=session, parent=self)
        self.desk = desk
        if place is None:
            self.rooms = Rooms(desk)
        else:
            desk.current.choose(place.aircraft, place.position)
            self.rooms = Rooms(desk, place.page)
            take_place(self.rooms, place)
        Navigator(desk, self.rooms)
        rail, field = self.rooms.lend_frame()
        self._rail = rail
        self._frame.insertWidget(0, rail)
        self.top.take_field(field)
        Entry(desk, self.rooms, self.files)
        self._show_page(self.rooms)
        self.rooms.room(self.rooms.current).setFocus()
        desk.how_asked.connect(self._explain)
        desk.touched.connect(self._touched)
        desk.trouble.connect(self.notice.trouble)
        for room, title in enumerate(room_titles()):
            action = self.menus.rooms.addAction(title)
            action.setShortcut(f"Alt+{room + 1}")
            action.triggered.connect(lambda _on=False, room=room: self._enter(room))
        self.notice.hide()
        go_to_place(self, self.rooms)
        self._touched()
        if fleet.read_only:
            held = say(", in use by {who}", who=fleet.held_by) if fleet.held_by else ""
            held = f": {put(fleet.hindrance)}" if fleet.hindrance else held
            self.notice.tell(say("This fleet is open for reading only{held}.", held=held))
        self.menus.show_fleet_open(True, not fleet.read_only)
        self.menus.show_units(self.view.units)
        QTimer.singleShot(SETTLE_MS, desk, desk.start_judging)
        self.fleet_opened.emit()

        if fleet.is_shared:
            from hangar.window.other_seats import OtherSeats

            OtherSeats(desk)
        if fleet.address is not None:
            from hangar.window.server_copies import ServerCopies

            ServerCopies(desk, fleet.address, self._data_folder / COPIES_OF_SERVERS)

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
        keep_place(self)
        desk, rooms, self.desk, self.rooms = self.desk, self.rooms, None, None
        self.top.take_field(None)
        if rooms is not None:
            for lent in (rooms.rail, rooms.search.field):
                lent.setParent(None)
                lent.deleteLater()
        if self.working is not None:
            self.removeDockWidget(self.working)
            self.working.deleteLater()
            self.working = None
        self.show_welcome()
        self.files.stop_work()
        desk.stop()
        desk.fleet.close()
        desk.deleteLater()

    def _enter(self, room: int) -> None:
        if self.rooms is not None:
            self.rooms.enter_room(room)

    def _touched(self) -> None:
        if self.desk is None:
            return
        desk = self.desk
        self.menus.show_steps(desk.undo_label, desk.redo_label)
        self.top.show_act(self.menus.actions["undo"], desk.undo_label)
        self.menus.show_units(self.view.units)
        self.notice.hide()
        self.setWindowTitle(say("{fleet} — Hangar", fleet=desk.fleet.title))
        self._tell_kept()

    def _tell_kept(self) -> None:
        """In the foot: whether what was entered is kept in a file, and since when."""
        desk = self.desk
        if desk is None:
            return
        now = QTime.currentTime().toString("HH:mm")
        if desk.fleet.is_in_memory:
            self._kept.setText(say("Not kept in a fleet file yet"))
        elif desk.read_only:
            self._kept.setText(say("Open for reading only"))
        else:
            self._kept.setText(say("All kept {time}", time=now))

    def begin_entry(self, way: str) -> None:
        """Enter an aircraft from its layout, copy one, or fit the current one out."""
        if self.desk is not None:
            self.desk.entry_wanted.emit(way)

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
            wear(app, self.view.look, self.view.points, plainly=plainly, family=family_of(self.view.face))

    def menuBar(self) -> QMenuBar:
        """The menus; they stand in the line above the rooms, beside the search."""
        return self.top.bar if self._furnished else super().menuBar()

    def statusBar(self) -> QStatusBar:
        """The foot of the window."""
        return self.foot

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_height()

    def _fit_height_soon(self) -> None:
        QTimer.singleShot(0, self, self._fit_height)

    def _fit_height(self) -> None:
        if self._furnished:
            self.foot.setMinimumHeight(self.foot.fontMetrics().height() + 8)
            self.foot.setVisible(self.height() * 10 / self.view.points >= LOWEST_UNITS)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.ThemeChange and self.view.colours == "system":
            self._wear()

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._furnished and not self.files.save_offer.may_leave():
            event.ignore()
            return
        keep_window(self)
        self.let_go()
        super().closeEvent(event)
