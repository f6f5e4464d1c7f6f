"""Every room of the main window with all its tabs and pages, brought to the top one after the other."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtWidgets import QApplication, QTabBar, QWidget

from hangar.window.kit.strip import JoinedStrip, StripPages
from hangar.window.main_window import MainWindow
from hangar.window.refit.refit_board import RefitBoard
from hangar.window.room_list import AIRFRAME, PLANS
from tests.scenes import AIRCRAFT, PLAN, tab_scenes


def pages_of(window: MainWindow, number: int) -> Iterator[str]:
    """Bring every page of a room to the top, one after the other, and name it."""
    assert window.rooms is not None
    assert window.desk is not None
    window.rooms.enter(number)
    room = window.rooms.room(number)
    if number == AIRFRAME:
        window.desk.judgement(AIRCRAFT)
        window.rooms.folder.show_aircraft(AIRCRAFT)
        names = tab_scenes("airframe", window.rooms.folder.tabs)
    elif number == PLANS:
        names = _board_pages(window.rooms.board)
    else:
        names = tab_scenes("", room) if isinstance(room, StripPages) else iter(("",))
    for name in names:
        let_it_settle()
        yield name


def let_it_settle() -> None:
    """Let all be laid out that waits, and what waits for that: a page that was just built asks some times."""
    for _ in range(12):
        QApplication.processEvents()


def turned_by(widget: QWidget) -> list[QTabBar | JoinedStrip]:
    """Everything within a room that turns its pages."""
    bars = [bar for bar in widget.findChildren(QTabBar) if bar.count()]
    return [*bars, *(strip for strip in widget.findChildren(JoinedStrip) if strip.count())]


def turn(bar: QTabBar | JoinedStrip, at: int) -> str:
    """Turn to a page. Returns: what it is called."""
    if isinstance(bar, JoinedStrip):
        bar.choose(at)
        return bar.words(at)
    bar.setCurrentIndex(at)
    return bar.tabText(at)


def _board_pages(board: RefitBoard) -> Iterator[str]:
    board.open_board()
    yield "board"
    board.open_plan(PLAN)
    yield from tab_scenes("plan", board.page.tabs)
    board.open_stages(PLAN)
    yield "stages"
    board.setCurrentWidget(board.fleet)
    yield "fleet"
    board.open_board()
