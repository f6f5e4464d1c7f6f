"""A fleet that is open in memory only: it is offered a file, and not left with changes unasked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QMessageBox

from hangar.acts import files
from hangar.window.host import Host
from hangar.window.kit.asking_files import ask_save
from hangar.window.kit.words import say
from hangar.window.room_list import AIRFRAME


class SaveOffer(QObject):
    """Belongs to the main window.

    Args of the constructor:
        attempt: does a step with files, and tells what went wrong; whether it went well.
        open_place: opens the fleet of a file.
    """

    def __init__(
        self,
        window: Host,
        attempt: Callable[[Callable[[], object]], bool],
        open_place: Callable[[str], bool],
    ) -> None:
        super().__init__(window)
        self._window = window
        self._attempt, self._open_place = attempt, open_place

    @property
    def is_in_memory(self) -> bool:
        """Whether the open fleet has no file."""
        desk = self._window.desk
        return desk is not None and desk.fleet.is_in_memory

    def offer(self) -> None:
        """Say that the open tables are in memory only, with a button that gives them a file."""
        self._window.notice.tell(
            say("These tables are not kept in a fleet file; what you change lasts until you close them."),
            say("Save as a &fleet file…"),
            self.ask,
        )

    def ask(self) -> bool:
        """Ask for a file and go on working in it."""
        view, kinds = self._window.view, say("Fleets (*.hangar)")
        path = ask_save(self._window, view, say("Save as a fleet file"), "fleet.hangar", kinds)
        return path is not None and self.keep(path)

    def keep(self, path: Path) -> bool:
        """Write the open fleet to a file and open that, at the same place."""
        window = self._window
        desk, rooms = window.desk, window.rooms
        if desk is None or rooms is None:
            return False
        room, code = rooms.current, window.open_folder_code()
        if not self._attempt(lambda: desk.fleet.save_copy(files.fleet_path(path))):
            return False
        # It is in the file, so that leaving it to open the file loses nothing.
        desk.was_edited = False
        if not self._open_place(str(files.fleet_path(path))):
            return False
        if window.rooms is not None:
            if room == AIRFRAME and code is not None:
                window.rooms.open_folder(code)
            else:
                window.rooms.enter(room)
        window.notice.tell(say("Saved to {path}; what you change is kept there.", path=str(path)))
        return True

    def may_leave(self) -> bool:
        """Whether the open fleet can be closed; asks when that would lose what was changed."""
        desk = self._window.desk
        if desk is None or not (self.is_in_memory and desk.was_edited):
            return True
        box = self.question()
        box.exec()
        role = box.buttonRole(box.clickedButton())
        box.deleteLater()
        if role is QMessageBox.ButtonRole.DestructiveRole:
            return True
        return role is QMessageBox.ButtonRole.AcceptRole and self.ask()

    def question(self) -> QMessageBox:
        """What is asked before changes would be lost."""
        box = QMessageBox(self._window)
        box.setIcon(QMessageBox.Icon.Question)
        box.setTextFormat(Qt.TextFormat.PlainText)
        box.setWindowTitle(say("Keep what you changed?"))
        box.setText(say("This fleet is not kept in a fleet file, and you changed it."))
        box.setInformativeText(say("Without a file the changes are lost."))
        save = box.addButton(say("Save as a &fleet file…"), QMessageBox.ButtonRole.AcceptRole)
        box.addButton(say("&Lose the changes"), QMessageBox.ButtonRole.DestructiveRole)
        box.addButton(QMessageBox.StandardButton.Cancel)
        box.setDefaultButton(save)
        return box
