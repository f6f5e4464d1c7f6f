"""Bringing in: a keeper's own sheet is looked through first, anything else comes in at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject
from shiboken6 import isValid

from hangar.acts import files
from hangar.window.host import Host
from hangar.window.kit.asking_files import ask_save
from hangar.window.kit.words import put, say

if TYPE_CHECKING:
    from hangar.parts import Aircraft
    from hangar.store import BringInReport, Fleet
    from hangar.store.intake.reading import Answers
    from hangar.store.rehearsal import Heard, Rehearsal
    from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog
    from hangar.window.kit.stoppable_task import Heed, StoppableTask

# The store and the page are loaded inside the functions: the window must be on screen before them.


class FileWork(Protocol):
    """What the File menu does for it."""

    def ask_new(self) -> None:
        """Ask where a new fleet goes."""

    def show_fleet(self, fleet: Fleet, aircraft: Iterable[Aircraft] = ()) -> None:
        """Show an open fleet."""

    def tell_fault(self, fault: Exception) -> None:
        """Tell what went wrong with a file."""

    def stoppable_task(self, words: str, work: Callable[[Heed], object]) -> StoppableTask:
        """Work beside the window that is stopped when the fleet is closed."""


class BringingIn(QObject):
    """Belongs to the File menu; every refusal is told in the window's notice bar."""

    def __init__(self, window: Host, menu: FileWork) -> None:
        super().__init__(window)
        self._window, self._menu = window, menu
        self.dialog: RehearsalDialog | None = None

    def rehearse(self, sources: list[Path]) -> StoppableTask:
        """Read a keeper's own sheets beside the window and show them; what else it is comes in at once."""
        desk, notice = self._window.desk, self._window.notice
        fleet = desk.fleet if desk is not None else None
        today = desk.today if desk is not None else date.today()
        reading = self._menu.stoppable_task(
            say("Reading the sheet…"), lambda heed: files.rehearse(fleet, sources, today, heed)
        )

        def begin_again() -> None:
            if desk is not None and desk is self._window.desk:
                desk.start_judging()

        def read(heard: tuple[Rehearsal, Heard] | None) -> None:
            begin_again()
            if heard is not None:
                self._show(*heard)
                return
            if self._window.desk is None:
                self._menu.ask_new()
            self.bring_in(sources)

        def failed(fault: Exception) -> None:
            begin_again()
            self._menu.tell_fault(fault)

        def stopped() -> None:
            begin_again()
            notice.tell(say("Stopped; nothing was brought in."))

        reading.done.connect(read)
        reading.failed.connect(failed)
        reading.stopped.connect(stopped)
        if desk is not None:
            desk.rest()
        reading.start()
        return reading

    def _show(self, rehearsal: Rehearsal, heard: Heard) -> None:
        from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog

        view = self._window.view
        dialog = RehearsalDialog(rehearsal, heard, lambda: view.look, self._window)
        self.dialog = dialog
        desk = self._window.desk
        if desk is not None and desk.read_only:
            dialog.only_look()
        dialog.wanted.connect(lambda answers: self._take(dialog, list(rehearsal.sources), answers))
        dialog.open()

    def _take(self, dialog: RehearsalDialog, sources: list[Path], answers: Answers) -> None:
        if self._window.desk is not None:
            taking = self.bring_in(sources, answers)
            if taking is not None:
                taking.done.connect(lambda _report: dialog.accept())
            return
        view = self._window.view
        name = f"{sources[0].stem}.hangar"
        path = ask_save(dialog, view, say("Where shall the new fleet go?"), name, say("Fleets (*.hangar)"))
        if path is None:
            return
        making = self._menu.stoppable_task(
            say("Bringing the sheet in…"), lambda heed: files.fleet_of_sheets(path, sources, answers, heed)
        )
        making.done.connect(partial(self._begun, dialog))
        making.failed.connect(partial(self._refused, dialog))
        making.start()

    def _begun(self, dialog: RehearsalDialog, made: tuple[files.OpenFleet, BringInReport]) -> None:
        opened, report = made
        dialog.accept()
        self._menu.show_fleet(opened.fleet, opened.aircraft)
        self._window.notice.tell(report.text(cache(put)))

    def _refused(self, dialog: RehearsalDialog, fault: Exception) -> None:
        if isValid(dialog):
            dialog.tell(put(fault))

    def bring_in(self, sources: list[Path], answers: Answers | None = None) -> StoppableTask | None:
        """Bring these tables into the open fleet beside the window, and tell what was taken and refused."""
        desk = self._window.desk
        if desk is None:
            return None
        fleet, notice = desk.fleet, self._window.notice
        taking = self._menu.stoppable_task(
            say("Bringing the tables in…"), lambda heed: files.bring_in(fleet, sources, heed, answers)
        )

        def taken(report: BringInReport) -> None:
            desk.everything_changed()
            notice.tell(report.text(cache(put)))

        def refused(fault: Exception) -> None:
            desk.start_judging()
            self._menu.tell_fault(fault)

        def stopped() -> None:
            desk.start_judging()
            notice.tell(say("Stopped; nothing was brought in."))

        taking.done.connect(taken)
        taking.failed.connect(refused)
        taking.stopped.connect(stopped)
        desk.rest()
        taking.start()
        return taking
