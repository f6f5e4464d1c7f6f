"""Start the window: what is loaded here decides how soon it is on screen."""

from __future__ import annotations

import sys
import threading
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

from platformdirs import user_config_path, user_data_path

import hangar.window.plain_import  # noqa: F401 before everything that imports Qt

# isort: split
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QApplication

from hangar.store.glance import glance
from hangar.window.language import speak
from hangar.window.main_window import MainWindow
from hangar.window.view_settings import ViewSettings

NAME = "hangar"


def run(place: Path | str | None = None, argv: Sequence[str] | None = None) -> int:
    """Show the window until it is closed.

    Args:
        place: a fleet file, a server's URL, or a folder of tables; None opens the last fleet, or
            the welcome page when there is none.
        argv: words for Qt; None takes none.

    Returns: the exit code.
    """
    from hangar.window.notice import catch_faults

    app = application(argv or ())
    window = open_window(place)
    catch_faults()
    code = app.exec()
    window.deleteLater()
    return code


def application(argv: Sequence[str] = ()) -> QApplication:
    """The Qt application, dressed as ours; the one that runs already, if one does."""
    running = QApplication.instance()
    app = running if isinstance(running, QApplication) else QApplication([sys.argv[0], *argv])
    app.setApplicationName(NAME)
    app.setApplicationDisplayName("Hangar")
    app.setDesktopFileName(NAME)
    app.setStyle("Fusion")
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
        loader = Loader(window)
        loader.loaded.connect(lambda: window.files.open_place(wanted))
        QTimer.singleShot(0, window, window.furnish)
        QTimer.singleShot(0, loader, loader.start)
    return window


class Loader(QObject):
    """Loads the rest of the program beside the event loop. Signals: ``loaded()``."""

    loaded = Signal()

    def start(self) -> None:
        """Begin."""
        threading.Thread(target=self._load, daemon=True, name="load the program").start()

    def _load(self) -> None:
        for name in ("hangar.store.fleet", "hangar.window.rooms", "hangar.window.working_panel"):
            import_module(name)
        self.loaded.emit()
