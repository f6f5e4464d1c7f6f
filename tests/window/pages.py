"""Every room of the main window with all its tabs and pages, brought to the top one after the other."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtWidgets import QApplication, QTabWidget

from hangar.window.main_window import MainWindow
from hangar.window.refit.refit_board import RefitBoard
from hangar.window.room_list import FOLDER
from tests.scenes import AIRCRAFT, PLAN, tab_scenes


def pages_of(window: MainWindow, number: int) -> Iterator[str]:
    """Bring every page of a room to the top, one after the other, and name it."""
    assert window.rooms is not None
    assert window.desk is not None
    window.rooms.enter(number)
    room = window.rooms.room(number)
    if number == FOLDER:
        window.desk.judgement(AIRCRAFT)
        window.rooms.folder.show_aircraft(AIRCRAFT)
        names = tab_scenes("folder", window.rooms.folder.tabs)
    elif isinstance(room, RefitBoard):
        names = _board_pages(room)
    else:
        names = tab_scenes("", room) if isinstance(room, QTabWidget) else iter(("",))
    for name in names:
        QApplication.processEvents()
        yield name


def _board_pages(board: RefitBoard) -> Iterator[str]:
    board.open_board()
    yield "board"
    board.open_plan(PLAN)
    yield from tab_scenes("plan", board.page.tabs)
    board.open_stages(PLAN)
    yield "stages"
    board.open_search(AIRCRAFT)
    yield "search"
    board.setCurrentWidget(board.fleet)
    yield "fleet"
    board.open_board()
