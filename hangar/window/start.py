"""Start the window: what is loaded here decides how soon it is on screen."""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from platformdirs import user_config_path, user_data_path

import hangar.window.plain_import  # noqa: F401 before everything that imports Qt

# isort: split
from PySide6.QtCore import QObject, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication

from hangar.store.glance import glance
from hangar.window.first_look import FirstLook
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.collecting import collect_between_events
from hangar.window.kit.looks import FONT, load_font
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import speak
from hangar.window.main_window import MainWindow

if TYPE_CHECKING:
    from hangar.acts.files import OpenFleet

NAME = "hangar"
UNSEEN_MS = 500
"""A window that nobody sees, such as one begun as an icon, goes on loading after this."""


def run(place: Path | str | None = None, argv: Sequence[str] | None = None) -> int:
    """Show the window until it is closed.

    Args:
        place: a fleet file, a server's URL, or a folder of tables; None opens the last fleet, or
            the welcome page when there is none.
        argv: words for Qt; None takes none.

    Returns: the exit code.
    """
    from hangar.window.kit.notice import catch_faults

    app = application(argv or ())
    window = open_window(place)
    catch_faults()
    code = app.exec()
    while window.follower is not None:
        window = window.follower
    QThreadPool.globalInstance().waitForDone()
    for loader in window.findChildren(Loader):
        loader.let_go()
    window.deleteLater()
    return code


def application(argv: Sequence[str] = ()) -> QApplication:
    """The Qt application, dressed as ours; the one that runs already, if one does."""
    running = QApplication.instance()
    app = running if isinstance(running, QApplication) else QApplication([sys.argv[0], *argv])
    # Who asks for a dressed one again gets it as it is: each widget there is would be styled anew.
    if app.desktopFileName() == NAME:
        return app
    collect_between_events(app)
    app.setApplicationName(NAME)
    app.setApplicationDisplayName("Hangar")
    app.setDesktopFileName(NAME)
    app.setStyle("Fusion")
    if not isinstance(running, QApplication):
        load_font()
        font = app.font()
        font.setFamilies([FONT])
        app.setFont(font)
    return app


def open_window(
    place: Path | str | None, config_folder: Path | None = None, data_folder: Path | None = None
) -> MainWindow:
    """Show the main window, with a first glance at the fleet in it, and open the fleet after that."""
    config = config_folder or user_config_path(NAME, appauthor=False, ensure_exists=True)
    data = data_folder or user_data_path(NAME, appauthor=False, ensure_exists=True)
    view = ViewSettings(config / "window.ini")
    speak(application(), view.language)
    wanted = str(place) if place is not None else view.last_fleet
    is_file = wanted is not None and "://" not in wanted and Path(wanted).is_file()
    if place is None and wanted is not None and "://" not in wanted and not is_file:
        wanted = None
    window = MainWindow(view, data, glance(Path(wanted)) if wanted is not None and is_file else ())
    if wanted is None:
        window.show_welcome()
    window.show()
    if wanted is not None:
        loader = Loader(window, wanted)
        look = window.centralWidget()
        if isinstance(look, FirstLook):
            look.painted.connect(loader.begin_soon)
        QTimer.singleShot(UNSEEN_MS if isinstance(look, FirstLook) else 0, loader, loader.begin)
    return window


class Loader(QObject):
    """Once the first look is on screen: loads the rest of the program and the fleet beside the event loop."""

    def __init__(self, window: MainWindow, place: str) -> None:
        super().__init__(window)
        self._window = window
        self._place = place
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self.begin)
        self._has_begun = False
        self._opened: OpenFleet | None = None

    def begin_soon(self) -> None:
        """Begin when what is being drawn is drawn."""
        if not self._has_begun:
            self._soon.start()

    def begin(self) -> None:
        """Begin, unless it was begun."""
        if self._has_begun:
            return
        self._has_begun = True
        self._window.furnish()
        task = BackgroundTask(self, self._load)
        task.done.connect(self._show)
        task.failed.connect(self._tell)
        task.start()

    def _load(self) -> None:
        for name in ("hangar.store.fleet", "hangar.window.rooms", "hangar.window.kit.desk"):
            import_module(name)
        # What is loaded stays: looking through it for garbage again and again would make the window stutter.
        gc.freeze()
        from hangar.acts.files import open_and_read

        self._opened = open_and_read(self._place)

    def _show(self) -> None:
        opened, self._opened = self._opened, None
        if opened is not None:
            self._window.files.show_fleet(opened.fleet, opened.aircraft)

    def _tell(self, fault: Exception) -> None:
        self._window.show_welcome()
        self._window.files.tell_fault(fault)

    def let_go(self) -> None:
        """Close a fleet that was opened for a window that is there no more."""
        opened, self._opened = self._opened, None
        if opened is not None:
            opened.fleet.close()
