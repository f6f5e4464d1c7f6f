"""What the File menu does: asks for files, opens, brings in, takes out, prints."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtWidgets import QFileDialog, QMenu
from shiboken6 import isValid

from hangar.acts import files
from hangar.base.errors import HangarError
from hangar.base.places import COPIES_OF_SERVERS
from hangar.window.bringing_in import BringingIn
from hangar.window.file_drop import FileDrop
from hangar.window.host import Host
from hangar.window.kit.asking_files import ask_folder, ask_open, ask_open_many, ask_save
from hangar.window.kit.words import put, say
from hangar.window.room_list import FLIGHT_LINE, PACKS, SHOPPING
from hangar.window.save_offer import SaveOffer
from hangar.window.seat_memory import fill_recent, remember_recent

if TYPE_CHECKING:
    from hangar.base.text import Text
    from hangar.parts import Aircraft
    from hangar.store import Fleet
    from hangar.window.kit.stoppable_task import Heed, StoppableTask
    from hangar.window.paper.print_dialog import PrintDialog
    from hangar.window.paper.sheet_readings import SheetReadings

ENDING = ".hangar"
_SHEET_OF = {FLIGHT_LINE: "fleet", PACKS: "charging", SHOPPING: "shopping"}
"""What Ctrl+P prints of a page that is about the fleet; of any other, the field checklist of the aircraft."""
BROUGHT_IN = "*.csv *.tsv *.txt *.tab *.xlsx *.xlsm *.ods *.pdf *.json"


class FileMenu(QObject):
    """Belongs to the main window; every refusal is told in its notice bar."""

    def __init__(self, window: Host, data_folder: Path) -> None:
        super().__init__(window)
        self._window = window
        self._folder = data_folder
        self.save_offer = SaveOffer(window, self.attempt, self.open_place)
        self.bringing = BringingIn(window, self)
        self._under_way: StoppableTask | None = None
        print_key = QShortcut(QKeySequence(QKeySequence.StandardKey.Print), window)
        print_key.activated.connect(self.ask_print_here)
        self.drop = FileDrop(window, self.open_place, self.rehearse)

    def acts(self) -> dict[str, Callable[[], object]]:
        """What the menu's actions do, by name."""
        return {
            "new": self.ask_new,
            "open": self.ask_open,
            "demo": self.open_demo,
            "bring in": self.ask_bring_in,
            "take out": self.ask_take_out,
            "copy": self.ask_copy,
            "restore": self.ask_restore,
            "readings": self.ask_readings,
        }

    @property
    def demo_path(self) -> Path:
        """Where the keeper's own copy of the invented fleet lies."""
        return self._folder / f"invented fleet{ENDING}"

    def open_demo(self) -> bool:
        """Open the invented fleet, making a copy of it first where there is none."""
        return self.save_offer.may_leave() and self._open(lambda: files.demo_fleet(self.demo_path))

    def open_place(self, place: str) -> bool:
        """Open the fleet at that place; tables are read beside the window, and shown when they are."""
        if files.are_tables(place):
            self._open_tables(place)
            return True
        return self._open(lambda: files.open_fleet(place))

    def new_at(self, path: Path) -> bool:
        """Begin an empty fleet."""
        return self._open(lambda: files.new_fleet(path))

    def _open(self, way: Callable[[], Fleet]) -> bool:
        fleets: list[Fleet] = []
        if not self.attempt(lambda: fleets.append(way())):
            if self._window.desk is None:
                self._window.show_welcome()
            return False
        self.show_fleet(fleets[0])
        return True

    def _open_tables(self, place: str) -> StoppableTask:
        reading = self.stoppable_task(
            say("Reading the tables…"), lambda heed: files.open_and_read(place, heed)
        )
        reading.done.connect(self._show_opened)
        reading.failed.connect(self.tell_fault)
        reading.stopped.connect(lambda: self._window.notice.tell(say("Stopped; nothing was opened.")))
        reading.start()
        return reading

    def _show_opened(self, opened: files.OpenFleet) -> None:
        self.show_fleet(opened.fleet, opened.aircraft)

    def stop_work(self) -> None:
        """Ask what is being read or brought in to end: the fleet is about to be closed."""
        if self._under_way is not None and isValid(self._under_way):
            self._under_way.stop()

    def stoppable_task(self, words: str, work: Callable[[Heed], object]) -> StoppableTask:
        """Work beside the window that is stopped when the fleet is closed."""
        from hangar.window.kit.stoppable_task import StoppableTask

        self._under_way = StoppableTask(self._window, words, work)
        return self._under_way

    def show_fleet(self, fleet: Fleet, aircraft: Iterable[Aircraft] = ()) -> None:
        """Show an open fleet, its aircraft perhaps read already, and remember it for the next start."""
        self._window.take_fleet(fleet, aircraft)
        if fleet.path is not None:
            self._window.view.remember_fleet(str(fleet.path))
            remember_recent(self._window.view, str(fleet.path))
        elif fleet.is_in_memory:
            self.save_offer.offer()

    def attempt(self, step: Callable[[], object]) -> bool:
        QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            step()
        except (HangarError, OSError) as fault:
            self.tell_fault(fault)
            return False
        finally:
            QGuiApplication.restoreOverrideCursor()
        return True

    def tell_fault(self, fault: Exception) -> None:
        """Tell what went wrong with a file; of a damaged one its newest backup is offered."""
        backup = getattr(fault, "newest_backup", None)
        notice = self._window.notice
        if backup is not None:
            path: Path = getattr(fault, "path")  # noqa: B009 the class is loaded with the store only
            value, cost = (put(getattr(fault, name, "")) for name in ("found", "cost"))
            sentence = say(
                "{found} Its newest backup is {name}. {cost}", found=value, name=backup.name, cost=cost
            )
            notice.tell(sentence, say("&Put the backup in its place"), lambda: self.restore(path, backup))
        elif isinstance(fault, files.EmptyIntake):
            report = fault.report.text(cache(put))
            notice.tell(say("Nothing was brought in. {report}", report=report))
        elif isinstance(fault, OSError):
            notice.tell(str(fault))
        else:
            notice.trouble(fault)

    def ask_open(self) -> None:
        """Ask which fleet to open."""
        if not self.save_offer.may_leave():
            return
        view = self._window.view
        path = ask_open(self._window, view, say("Open a fleet"), say("Fleets (*.hangar)"))
        if path:
            self.open_place(str(path))

    def ask_new(self) -> None:
        """Ask where a new fleet goes."""
        if not self.save_offer.may_leave():
            return
        path = self._ask_save(say("Begin an empty fleet"), f"fleet{ENDING}", say("Fleets (*.hangar)"))
        if path:
            self.new_at(path)

    def ask_bring_in(self) -> None:
        """Ask for tables; where a new fleet goes is asked last."""
        kinds = say("Spreadsheets, tables and filled sheets") + f" ({BROUGHT_IN})"
        paths = ask_open_many(self._window, self._window.view, say("Bring in tables"), kinds)
        if paths:
            self.rehearse(paths)

    def rehearse(self, sources: list[Path]) -> StoppableTask:
        """Read a keeper's own sheets beside the window and show them; what else it is comes in at once."""
        return self.bringing.rehearse(sources)

    def bring_in(self, sources: list[Path]) -> StoppableTask | None:
        """Bring these tables into the open fleet beside the window, and tell what was taken and refused."""
        return self.bringing.bring_in(sources)

    def ask_take_out(self) -> None:
        """Ask for the folder that the tables go to."""
        folder = ask_folder(self._window, self._window.view, say("Take tables out to a folder"))
        if folder:
            self.take_out(folder)

    def take_out(self, folder: Path) -> bool:
        """Write all tables into a folder."""
        desk = self._window.desk
        if desk is None:
            return False
        counts: list[int] = []
        good = self.attempt(lambda: counts.append(files.take_out(desk.fleet, folder, put)))
        if good:
            words = say("{count} tables were written to {folder}.", count=counts[0], folder=str(folder))
            self._window.notice.tell(words)
        return good

    def ask_copy(self) -> None:
        """Ask where a copy of the fleet goes."""
        if self.save_offer.is_in_memory:
            self.save_offer.ask()
            return
        path = self._ask_save(say("Save a copy"), f"copy{ENDING}", say("Fleets (*.hangar)"))
        desk = self._window.desk
        if path and desk is not None and self.attempt(lambda: desk.fleet.save_copy(path)):
            self._window.notice.tell(say("A copy was saved to {path}.", path=str(path)))

    def ask_restore(self) -> None:
        """Ask which backup to put back; without an open fleet, ask first of which file."""
        if not self.save_offer.may_leave():
            return
        desk = self._window.desk
        if desk is not None and desk.fleet.address is not None:
            self._ask_restore_server(desk.fleet.address)
            return
        path = desk.fleet.path if desk is not None else None
        if path is None:
            view = self._window.view
            path = ask_open(self._window, view, say("Restore which fleet?"), say("Fleets (*.hangar)"))
        if path is None:
            return
        backup, _ = QFileDialog.getOpenFileName(
            self._window,
            say("Restore a backup"),
            str(files.backups_beside(path)),
            say("Fleets (*.hangar)"),
        )
        if backup:
            self.restore(path, Path(backup))

    def _ask_restore_server(self, address: str) -> None:
        folder = self._folder / COPIES_OF_SERVERS
        copy, _ = QFileDialog.getOpenFileName(
            self._window,
            say("Restore a backup"),
            str(files.copies_of_server(address, folder)),
            say("Fleets (*.hangar)"),
        )
        if copy:
            self.restore_server(address, Path(copy), folder)

    def restore_server(self, address: str, copy: Path, folder: Path) -> bool:
        """Make a fleet on a server what its copy holds; the open window is told as the others are."""
        outcome: list[Text] = []
        good = self.attempt(lambda: outcome.append(files.restore_server(address, copy, folder)))
        if good:
            self._window.notice.tell(put(outcome[0]))
        return good

    def restore(self, path: Path, backup: Path) -> bool:
        """Put a backup in the place of a fleet file and open it; the replaced file is set aside."""
        self._window.let_go()
        aside: list[Path] = []
        good = self.attempt(lambda: aside.append(files.restore(path, backup)))
        refusal = self._window.notice.sentence
        opened = self.open_place(str(path))
        if good and opened:
            kept = str(aside[0])
            words = say("{name} was restored; what lay there is kept as {aside}.", name=path.name, aside=kept)
            self._window.notice.tell(words)
        elif opened:
            self._window.notice.tell(refusal)
        return good

    def fill_recent_menu(self, menu: QMenu) -> None:
        """List the fleets opened last when the menu opens."""
        menu.aboutToShow.connect(lambda: fill_recent(menu, self._window))

    def fill_print_menu(self, menu: QMenu) -> None:
        """List the sheets when the menu opens; loading them earlier would slow the start."""

        def fill() -> None:
            menu.clear()
            code = self._window.open_folder_code()
            if code is not None:
                self._list_sheets(menu.addMenu(say("Of &{code}", code=code)), whole_fleet=False)
            self._list_sheets(menu.addMenu(say("Of &every aircraft")), whole_fleet=True)
            menu.addSeparator()
            menu.addAction(self._window.menus.actions["readings"])

        menu.aboutToShow.connect(fill)

    def _list_sheets(self, menu: QMenu, *, whole_fleet: bool) -> None:
        for kind, title in _sheet_kinds().items():
            action = menu.addAction(f"{title}…")
            action.triggered.connect(
                lambda _on=False, kind=kind: self.ask_print(kind, whole_fleet=whole_fleet)
            )

    def ask_print(self, kind: str = "field", *, whole_fleet: bool = False) -> PrintDialog | None:
        """Show the print dialog for a sheet of the open aircraft or of all; None without a fleet."""
        desk = self._window.desk
        if desk is None:
            return None
        code = self._window.open_folder_code()
        codes = desk.codes() if whole_fleet or code is None else (code,)
        from hangar.window.paper.printing import open_print_dialog

        return open_print_dialog(desk, kind, tuple(codes), self._window)

    def ask_print_here(self) -> PrintDialog | None:
        """Show the print dialog for the sheet that belongs to the page on screen."""
        rooms = self._window.rooms
        if rooms is None:
            return None
        kind = _SHEET_OF.get(rooms.current)
        return self.ask_print() if kind is None else self.ask_print(kind, whole_fleet=True)

    def ask_readings(self) -> SheetReadings | None:
        """Show the page on which a filled sheet is typed in; None without a fleet."""
        # Sheets are loaded with the first page, for the start must be quick.
        from hangar.window.paper.sheet_readings import open_sheet_readings

        window = self._window
        if window.desk is None:
            return None
        return open_sheet_readings(window.desk, window.open_folder_code(), window)

    def _ask_save(self, title: str, name: str, kinds: str) -> Path | None:
        return ask_save(self._window, self._window.view, title, name, kinds)


def _sheet_kinds() -> dict[str, str]:
    """The sheets that can be printed for aircraft, by name, with their titles."""
    from hangar.sheets import SHEETS

    return {name: say(kind.title) for name, kind in SHEETS.items()}
