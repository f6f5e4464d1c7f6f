"""Every room, tab, page and dialog of the window, one after the other, with the invented fleet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import NamedTuple

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QDialog, QTabWidget, QWidget

from hangar.parts import FlightLog, Servo
from hangar.store.intake.reading import Answers
from hangar.window.about import AboutBox
from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog
from hangar.window.guide import open_guide
from hangar.window.kit.desk import Desk
from hangar.window.kit.late_page import LatePage
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import say
from hangar.window.log.flight_log_dialog import FlightLogDialog
from hangar.window.log.quick_log import QuickLog
from hangar.window.main_window import MainWindow
from hangar.window.new_aircraft.workbench import Workbench
from hangar.window.paper.print_dialog import PrintDialog
from hangar.window.preferences import Preferences
from hangar.window.records.changes_dialog import ChangesDialog
from hangar.window.records.life_story_dialog import LifeStoryDialog
from hangar.window.refit.refit_board import RefitBoard
from hangar.window.room_list import AIRFRAME, LADDER, PLANS
from hangar.window.rooms import Rooms
from hangar.window.workshop.workshop_rules import LimitsDialog

AIRCRAFT = "MARQ"
PLAN = "Merlane digital"
SERVO = "0203"
SHORT, A_MOMENT, LONG = 50, 2_000, 180_000


class Scene(NamedTuple):
    """What is on screen: its name as part of a file name, and the widget to be drawn."""

    name: str
    widget: QWidget


def settle(milliseconds: int = 120) -> None:
    """Let everything that waits be drawn.

    Not by QTest.qWait: it keeps the interpreter to itself, and what is worked out beside the window waits.
    """
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def wait_for(reached: Callable[[], bool], what: str) -> None:
    """Let the window work until something is reached; a fault where it never is."""
    for _ in range(LONG // SHORT):
        if reached():
            return
        settle(SHORT)
    raise SystemExit(f"{what} was not reached within {LONG // 1000} s.")


def plain(title: str) -> str:
    """A title as part of a file name.

    >>> plain("Law and &codes")
    'law-and-codes'
    """
    words = "".join(letter if letter.isalnum() else " " for letter in title.replace("&", "").lower())
    return "-".join(words.split())


def rooms_of(window: MainWindow) -> Rooms:
    """The rooms of the open fleet."""
    assert window.rooms is not None
    return window.rooms


def scenes(window: MainWindow, *, whole_search: bool = False) -> Iterator[Scene]:
    """Go through all that can be seen; each scene is yielded while it is on screen.

    Args:
        whole_search: wait until the search for a refit has ended; without it, it is stopped after a moment.
    """
    rooms = rooms_of(window)
    for number, title in enumerate(rooms.titles):
        rooms.enter(number)
        room = rooms.room(number)
        if number == AIRFRAME:
            rooms.folder.show_aircraft(AIRCRAFT)
            names = tab_scenes("airframe", rooms.folder.tabs)
        elif number == LADDER:
            names = ladder_scenes(rooms.board, whole_search)
        elif number == PLANS:
            names = board_scenes(rooms.board)
        elif isinstance(room, StripPages):
            names = tab_scenes(plain(title), room)
        else:
            names = iter((plain(title),))
        for name in names:
            yield Scene(name, window)
    yield from entry_scenes(window)
    yield from dialog_scenes(window)


def entry_scenes(window: MainWindow) -> Iterator[Scene]:
    """A new aircraft from its layout and from one there is, and an aircraft that is fitted out."""
    window.begin_entry("kit")
    bench = window.findChild(Workbench)
    assert bench is not None
    yield Scene("new-aircraft-nothing-chosen", window)
    kind = bench.kit.questions.kind
    kind.setCurrentIndex(0)
    kind.activated.emit(0)
    yield Scene("new-aircraft", window)
    window.begin_entry("copy")
    yield Scene("copy-aircraft", window)
    window.begin_entry("fit-out")
    yield Scene("fit-out", window)
    bench.left.emit()


def tab_scenes(name: str, tabs: QTabWidget | StripPages) -> Iterator[str]:
    """Each tab in turn, and the tabs that are a page of it themselves."""
    for at in range(tabs.count()):
        tabs.setCurrentIndex(at)
        page, here = tabs.widget(at), f"{name}-{plain(tabs.tabText(at))}"
        page = page.page if isinstance(page, LatePage) else page
        if isinstance(page, QTabWidget | StripPages):
            yield from tab_scenes(here, page)
        else:
            yield here
    tabs.setCurrentIndex(0)


def ladder_scenes(board: RefitBoard, whole_search: bool) -> Iterator[str]:
    """The search for a refit, ended or stopped."""
    board.open_search(AIRCRAFT)
    if board.front.ladder is None:
        board.front.begin()
        if not whole_search:
            settle(A_MOMENT)
            board.front.search.stop()
        wait_for(lambda: not board.front.search.is_running, "the end of a search")
    yield "refit-search"


def board_scenes(board: RefitBoard) -> Iterator[str]:
    """The shelves, each page of a plan, its stages, the budget of the fleet."""
    board.open_board()
    yield "refit-board"
    board.open_plan(PLAN)
    wait_for(lambda: board.page.outlook is not None, "the outlook of a plan")
    yield from tab_scenes("plan", board.page.tabs)
    board.open_stages(PLAN)
    yield "plan-stages"
    board.setCurrentWidget(board.fleet)
    yield "fleet-budget"
    board.open_board()


def dialog_scenes(window: MainWindow) -> Iterator[Scene]:
    """What opens above the rooms, each closed before the next."""
    desk = window.desk
    assert desk is not None
    rooms_of(window).enter(AIRFRAME)
    for name, dialog in (
        ("print", window.files.ask_print()),
        ("enter-a-filled-sheet", window.files.ask_readings()),
        ("guide", open_guide(window)),
        *((name, make(desk, window)) for name, make in BOXES),
    ):
        assert dialog is not None
        dialog.show()
        if isinstance(dialog, PrintDialog):
            wait_for(partial(is_drawn, dialog), "the preview of a sheet")
        yield Scene(name, dialog)
        dialog.close()
        settle()


def is_drawn(dialog: PrintDialog) -> bool:
    """Whether the preview of a sheet stands as it was asked for."""
    return not dialog.is_drawing


def _about(desk: Desk, window: MainWindow) -> QDialog:
    return AboutBox(window)


def _changes(desk: Desk, window: MainWindow) -> QDialog:
    return ChangesDialog(desk, window)


def _life_story(desk: Desk, window: MainWindow) -> QDialog:
    return LifeStoryDialog(desk, Servo, SERVO, window)


def _quick_log(desk: Desk, window: MainWindow) -> QDialog:
    return QuickLog(desk, AIRCRAFT, window)


def _flight_log(desk: Desk, window: MainWindow) -> QDialog:
    log = desk.records(FlightLog, aircraft=AIRCRAFT)[0]
    dialog = FlightLogDialog(
        desk, say("Flight log {file} of {code}", file=log.file_name, code=AIRCRAFT), window
    )
    dialog.show_kept(log)
    return dialog


def _limits(desk: Desk, window: MainWindow) -> QDialog:
    return LimitsDialog(desk, window)


SHEET = (
    "Our club's aircraft, spring;;;;;;",
    "Model;Ch;Moves;Servo;Type;Torque at 6 V;Fitted",
    "Turnstone 60;1;left aileron;TE-20;digital;25;3/4/2019",
    ";5;right aileron;TE-20;digital;25;3/4/2019",
    ";2;elevator;TE-30;digital;30;1997",
    "Sandpiper;1;aileron;TE-11;analog;22;?",
    "Total;;;4;;;",
)


def own_sheet(desk: Desk, window: MainWindow) -> QDialog:
    """A keeper's own sheet looked through before it comes in."""
    from hangar.store.rehearsal import rehearsal_of_rows

    rows = "\n".join(SHEET).replace(";", "\t")
    made = rehearsal_of_rows(desk.fleet, rows, "spring.csv", "", desk.today)
    return RehearsalDialog(made, made.heard(Answers()), lambda: desk.view.look, window)


def _preferences(desk: Desk, window: MainWindow) -> QDialog:
    return Preferences(window.view, desk, lambda: None, window)


BOXES: tuple[tuple[str, Callable[[Desk, MainWindow], QDialog]], ...] = (
    ("about", _about),
    ("bring-in", own_sheet),
    ("changes-made", _changes),
    ("life-story", _life_story),
    ("flight-log", _flight_log),
    ("log-a-flight", _quick_log),
    ("limits", _limits),
    ("preferences", _preferences),
)
