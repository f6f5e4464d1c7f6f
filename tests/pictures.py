"""Pictures of all that can be seen, with the invented fleet: ``python -m tests.pictures AIRFRAME``.

Each scene is drawn light and dark at two text sizes; with ``--fewer`` light at the small and dark at the
large one only. ``--front-page`` writes the pictures of README instead, into resources. What Qt or Python
complains of while drawing, a picture without anything on it, and a scene that looks like another one, is a
fault.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
import traceback
import warnings
from pathlib import Path
from types import TracebackType

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from hangar.acts import files
from hangar.base.places import resources_dir
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.room_list import AIRFRAME, FLIGHT_LINE
from hangar.window.start import application
from tests.scenes import AIRCRAFT, own_sheet, rooms_of, scenes, settle

WIDTH, HEIGHT, DIALOG_HEIGHT = 1400, 880, 620
ALL = tuple((look, points) for points in (10.0, 15.0) for look in ("light", "dark"))
FEWER = (("light", 10.0), ("dark", 15.0))
FEWEST_COLOURS = 3
MOST_BYTES = 300_000
NO_WINDOW_MANAGER = "This plugin does not support "


class Faults:
    """Collects what goes wrong while pictures are drawn."""

    def __init__(self) -> None:
        self.found: list[str] = []
        self._drawn: dict[tuple[str, float, bytes], str] = {}

    def listen(self) -> None:
        """Take in what Qt and Python would print."""
        qInstallMessageHandler(self._qt_said)
        sys.excepthook = self._raised
        warnings.simplefilter("error")

    def _qt_said(self, level: QtMsgType, _where: QMessageLogContext, words: str) -> None:
        if level is not QtMsgType.QtDebugMsg and not words.startswith(NO_WINDOW_MANAGER):
            self.found.append(f"Qt said: {words}")

    def _raised(self, kind: type[BaseException], fault: BaseException, trail: TracebackType | None) -> None:
        self.found.append("".join(traceback.format_exception(kind, fault, trail)))

    def look_at(self, name: str, look: str, points: float, picture: QImage) -> None:
        """Remember a picture that shows nothing, or the same as one before."""
        if len(set(_sample(picture))) < FEWEST_COLOURS:
            self.found.append(f"{name}, {look}, {points:g} pt: nothing is drawn.")
        seen = self._drawn.setdefault((look, points, bytes(picture.constBits())), name)
        if seen != name:
            self.found.append(f"{name}, {look}, {points:g} pt: looks exactly like {seen}.")


def _sample(picture: QImage) -> list[int]:
    return [picture.pixel(x, y) for x in range(0, picture.width(), 7) for y in range(0, picture.height(), 7)]


def open_window(folder: Path) -> MainWindow:
    """The main window with the welcome page."""
    application()
    window = MainWindow(ViewSettings(folder / "window.ini"), folder)
    window.resize(WIDTH, HEIGHT)
    window.show_welcome()
    window.show()
    settle()
    return window


def take_demo(window: MainWindow, folder: Path) -> None:
    """Open the invented fleet, every aircraft judged."""
    window.take_fleet(files.demo_fleet(folder / "invented fleet.hangar"))
    assert window.desk is not None
    for code in window.desk.codes():
        window.desk.judgement(code)
    settle()


def put_away(window: MainWindow) -> None:
    """Close the window for good."""
    window.close()
    window.deleteLater()
    settle()


def draw_all(out: Path, manners: tuple[tuple[str, float], ...], faults: Faults) -> list[Path]:
    """Write a picture of every scene in each of these looks and text sizes."""
    out.mkdir(parents=True, exist_ok=True)
    written = []

    def draw(name: str, widget: QWidget, look: str, points: float) -> None:
        settle()
        picture = widget.grab().toImage()
        faults.look_at(name, look, points, picture)
        path = out / f"{name}-{look}-{points:g}.png"
        picture.save(str(path))
        written.append(path)

    with tempfile.TemporaryDirectory() as folder:
        window = open_window(Path(folder))
        for look, points in manners:
            window.view.choose_points(points)
            window.view.choose_colours(look)
            draw("welcome", window, look, points)
        take_demo(window, Path(folder))
        for look, points in manners:
            window.view.choose_points(points)
            window.view.choose_colours(look)
            for name, widget in scenes(window, whole_search=True):
                draw(name, widget, look, points)
        put_away(window)
    return written


def draw_front_page() -> list[Path]:
    """Write the pictures of the project's front page."""
    folder = resources_dir() / "pictures"
    folder.mkdir(exist_ok=True)
    written = []
    with tempfile.TemporaryDirectory() as place:
        window = open_window(Path(place))
        window.view.choose_colours("light")
        take_demo(window, Path(place))
        rooms = rooms_of(window)
        for room, name in ((FLIGHT_LINE, "flight-line"), (AIRFRAME, "positions")):
            rooms.enter(room)
            if room == AIRFRAME:
                rooms.folder.show_aircraft(AIRCRAFT)
                rooms.folder.open_page(rooms.folder.positions)
            settle(400)
            path = folder / f"{name}.png"
            window.grab().save(str(path), "PNG", 0)
            written.append(path)
        assert window.desk is not None
        sheet = own_sheet(window.desk, window)
        sheet.resize(WIDTH, DIALOG_HEIGHT)
        sheet.show()
        settle(400)
        written.append(folder / "own-sheet.png")
        sheet.grab().save(str(written[-1]), "PNG", 0)
        sheet.reject()
        put_away(window)
    for path in written:
        if path.stat().st_size > MOST_BYTES:
            raise SystemExit(
                f"{path.name} has {path.stat().st_size} bytes; at most {MOST_BYTES} are allowed."
            )
    return written


def main() -> int:
    """Write the pictures asked for; 1 where drawing them showed a fault."""
    asking = argparse.ArgumentParser(prog="python -m tests.pictures")
    asking.add_argument("folder", type=Path, nargs="?")
    asking.add_argument("--fewer", action="store_true", help="two of the four looks")
    asking.add_argument("--front-page", action="store_true", help="the pictures of README")
    asked = asking.parse_args()
    faults = Faults()
    faults.listen()
    begun = time.monotonic()
    written = draw_front_page() if asked.front_page else []
    if asked.folder is not None:
        written += draw_all(asked.folder, FEWER if asked.fewer else ALL, faults)
    elif not asked.front_page:
        asking.error("needs a folder, or --front-page")
    taken = time.monotonic() - begun
    print(f"{len(written)} pictures drawn in {taken:.0f} s, {len(faults.found)} faults.")
    print("\n".join(faults.found), file=sys.stderr)
    return 1 if faults.found else 0


if __name__ == "__main__":
    sys.exit(main())
