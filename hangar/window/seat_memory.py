"""What this seat remembers between starts: where one was in a fleet, the window, the fleets opened last."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray
from PySide6.QtWidgets import QMenu

from hangar.window.kit.words import say
from hangar.window.room_list import AIRFRAME, ROOM_OF

if TYPE_CHECKING:
    from hangar.window.host import Host
    from hangar.window.kit.view_settings import ViewSettings
    from hangar.window.rooms import Rooms

MOST_FLEETS = 12
"""So many fleets are remembered; the oldest is forgotten first."""


def keep_place(window: Host) -> None:
    """Remember room, aircraft, position and tab of the open fleet."""
    desk, rooms = window.desk, window.rooms
    if desk is None or rooms is None or desk.fleet.path is None:
        return
    place: dict[str, object] = {
        "page": rooms.current,
        "pages": rooms.last_pages,
        "aircraft": desk.current.aircraft,
        "position": desk.current.position,
        "tab": rooms.folder.tabs.currentIndex() if rooms.is_built(AIRFRAME) else 0,
    }
    path = str(desk.fleet.path)
    known = {name: kept for name, kept in _places(window.view).items() if name != path}
    window.view.keep("places", dict([*list(known.items())[-MOST_FLEETS + 1 :], (path, place)]))


def _places(view: ViewSettings) -> dict[str, dict[str, object]]:
    kept = view.kept("places", {})
    return {str(name): place for name, place in kept.items() if isinstance(place, dict)}


def go_to_place(window: Host, rooms: Rooms) -> None:
    """Open the fleet where it was left; on the Flight Line where the aircraft is there no more."""
    desk = window.desk
    if desk is None or desk.fleet.path is None:
        return
    place = _places(window.view).get(str(desk.fleet.path))
    if place is None:
        return
    aircraft, position, page = place.get("aircraft"), place.get("position"), place.get("page")
    if aircraft is not None and aircraft not in desk.codes():
        return
    if isinstance(aircraft, str):
        desk.current.choose(aircraft, position if isinstance(position, str) else None)
    pages = place.get("pages")
    if isinstance(pages, list):
        rooms.remember_pages(pages)
    if isinstance(page, int) and page in ROOM_OF:
        rooms.enter(page)
        tab = place.get("tab")
        if page == AIRFRAME and isinstance(tab, int):
            rooms.folder.tabs.setCurrentIndex(tab)


def keep_window(window: Host) -> None:
    """Remember size and place of the window, and whether it fills the screen."""
    window.view.keep("window", bytes(window.saveGeometry().toBase64().data()).decode())


def restore_window(window: Host) -> bool:
    """Give the window the size and place it had; False before the first time."""
    kept = window.view.kept("window", "")
    return bool(kept) and window.restoreGeometry(QByteArray.fromBase64(QByteArray(str(kept).encode())))


def fill_recent(menu: QMenu, window: Host) -> None:
    """List the fleets opened last, the newest first; one that lies there no more is left out."""
    menu.clear()
    for place in recent_fleets(window.view):
        action = menu.addAction(f"{Path(place).stem}    {Path(place).parent}")
        action.triggered.connect(lambda _on=False, place=place: window.open_again(place))
    menu.setEnabled(bool(menu.actions()))
    if not menu.actions():
        menu.addAction(say("Nothing yet")).setEnabled(False)


def recent_fleets(view: ViewSettings) -> list[str]:
    """The fleet files opened last that are still there, the newest first."""
    kept = view.kept("recent", [])
    return [str(place) for place in kept if Path(str(place)).is_file()]


def remember_recent(view: ViewSettings, place: str) -> None:
    """Put a fleet first among those opened last."""
    others = [str(kept) for kept in view.kept("recent", []) if str(kept) != place]
    view.keep("recent", [place, *others][:MOST_FLEETS])
