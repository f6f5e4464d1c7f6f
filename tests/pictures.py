"""Pictures of every room and tab with the invented fleet: ``python -m tests.pictures FOLDER``."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QTabWidget, QWidget

from hangar.base.places import resources_dir
from hangar.window import file_work
from hangar.window.main_window import MainWindow
from hangar.window.refit_board import RefitBoard
from hangar.window.room_list import FLIGHT_LINE, FOLDER
from hangar.window.rooms import Rooms
from hangar.window.start import application
from hangar.window.view_settings import ViewSettings

AIRCRAFT = "MARQ"
PLAN = "Merlane digital"
WIDTH, HEIGHT = 1400, 880
LOOKS = ("light", "dark")
POINTS = (10.0, 15.0)
MOST_BYTES = 300_000


def settle(milliseconds: int = 120) -> None:
    """Let everything that waits be drawn."""
    QTest.qWait(milliseconds)


def open_window(folder: Path) -> MainWindow:
    """The main window with the invented fleet, every aircraft judged."""
    application()
    window = MainWindow(ViewSettings(folder / "window.ini"), folder)
    window.resize(WIDTH, HEIGHT)
    window.take_fleet(file_work.demo_fleet(folder / "invented fleet.hangar"))
    window.show()
    desk = window.desk
    assert desk is not None
    for code in desk.codes():
        desk.judgement(code)
    settle()
    return window


def rooms_of(window: MainWindow) -> Rooms:
    """The rooms of the open fleet."""
    assert window.rooms is not None
    return window.rooms


def tabs_in(widget: QWidget) -> QTabWidget | None:
    """The tabs of a room that are on top."""
    return widget if isinstance(widget, QTabWidget) else widget.findChild(QTabWidget)


def plain(title: str) -> str:
    """A title as part of a file name."""
    words = "".join(letter if letter.isalnum() else " " for letter in title.lower())
    return "-".join(words.split())


def scenes(window: MainWindow) -> Iterator[str]:
    """Go through every room and tab; each name is yielded while its scene is on screen."""
    rooms = rooms_of(window)
    for number, title in enumerate(rooms.titles):
        rooms.enter(number)
        room = rooms.room(number)
        if number == FOLDER:
            rooms.folder.show_aircraft(AIRCRAFT)
            yield from tab_scenes("folder", rooms.folder.tabs)
        elif isinstance(room, RefitBoard):
            yield from board_scenes(room)
        elif isinstance(room, QTabWidget):
            yield from tab_scenes(plain(title), room)
        else:
            yield plain(title)


def tab_scenes(name: str, tabs: QTabWidget) -> Iterator[str]:
    """Each tab in turn."""
    for at in range(tabs.count()):
        tabs.setCurrentIndex(at)
        yield f"{name}-{plain(tabs.tabText(at))}"


def board_scenes(board: RefitBoard) -> Iterator[str]:
    """The shelves, each page of a plan, and the search."""
    board.open_board()
    yield "refit-board"
    board.open_plan(PLAN)
    for _ in range(200):
        if board.page.outlook is not None:
            break
        settle(50)
    yield from tab_scenes("plan", board.page.tabs)
    board.open_search(AIRCRAFT)
    if board.front.front is None:
        board.front.begin()
        while board.front.search.is_running:
            settle(50)
        board.front.chart.choose(min(3, len(board.front.chart.placed()) - 1))
        settle(4000)
    yield "refit-search"
    board.setCurrentWidget(board.fleet)
    yield "fleet-budget"
    board.open_board()


def draw_all(out: Path) -> list[Path]:
    """Write a picture of every scene in both looks and at both text sizes."""
    out.mkdir(parents=True, exist_ok=True)
    written = []
    with tempfile.TemporaryDirectory() as folder:
        window = open_window(Path(folder))
        for points in POINTS:
            window.view.choose_points(points)
            for look in LOOKS:
                window.view.choose_colours(look)
                for name in scenes(window):
                    settle()
                    path = out / f"{name}-{look}-{points:g}.png"
                    window.grab().save(str(path))
                    written.append(path)
        window.close()
        window.deleteLater()
        settle()
    return written


def draw_readme() -> list[Path]:
    """Write the pictures of the project's front page."""
    folder = resources_dir() / "pictures"
    folder.mkdir(exist_ok=True)
    written = []
    with tempfile.TemporaryDirectory() as place:
        window = open_window(Path(place))
        window.view.choose_colours("light")
        rooms = rooms_of(window)
        for room, name in ((FLIGHT_LINE, "flight-line"), (FOLDER, "positions")):
            rooms.enter(room)
            if room == FOLDER:
                rooms.folder.show_aircraft(AIRCRAFT)
                rooms.folder.tabs.setCurrentWidget(rooms.folder.positions)
            settle(400)
            path = folder / f"{name}.png"
            window.grab().save(str(path), "PNG", 0)
            written.append(path)
        window.close()
        window.deleteLater()
        settle()
    for path in written:
        if path.stat().st_size > MOST_BYTES:
            raise SystemExit(
                f"{path.name} has {path.stat().st_size} bytes; at most {MOST_BYTES} are allowed."
            )
    return written


def main() -> None:
    """Write all pictures into the folder named on the command line."""
    if len(sys.argv) != 2:
        raise SystemExit("usage: python -m tests.pictures FOLDER")
    for path in (*draw_readme(), *draw_all(Path(sys.argv[1]))):
        print(path.name, path.stat().st_size)


if __name__ == "__main__":
    main()
