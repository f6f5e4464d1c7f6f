"""What this seat remembers between starts: where one was in a fleet, the window, the fleets opened last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray
from PySide6.QtWidgets import QMenu

from hangar.window.kit.words import say
from hangar.window.room_list import AIRFRAME, ROOM_OF

if TYPE_CHECKING:
    from hangar.window.host import Host
    from hangar.window.kit.desk import Desk
    from hangar.window.kit.view_settings import ViewSettings
    from hangar.window.rooms import Rooms

MOST_FLEETS = 12
"""So many fleets are remembered; the oldest is forgotten first."""


@dataclass(frozen=True)
class Place:
    """Where one is in a fleet: the page, the last page of each room, aircraft, position, its tab."""

    page: int
    pages: list[object]
    aircraft: str | None = None
    position: str | None = None
    tab: int = 0

    @classmethod
    def in_(cls, desk: Desk, rooms: Rooms) -> Place:
        """What is open."""
        tab = rooms.folder.tabs.currentIndex() if rooms.is_built(AIRFRAME) else 0
        return cls(rooms.current, list(rooms.last_pages), desk.current.aircraft, desk.current.position, tab)

    @classmethod
    def kept(cls, kept: Mapping[str, object]) -> Place | None:
        """One that a seat remembered; None where that is no place of this version."""
        page, pages, tab = kept.get("page"), kept.get("pages"), kept.get("tab")
        aircraft, position = kept.get("aircraft"), kept.get("position")
        if not isinstance(page, int) or page not in ROOM_OF:
            return None
        return cls(
            page,
            pages if isinstance(pages, list) else [],
            aircraft if isinstance(aircraft, str) else None,
            position if isinstance(position, str) else None,
            tab if isinstance(tab, int) else 0,
        )


def keep_place(window: Host) -> None:
    """Remember the place that is open of the fleet."""
    desk, rooms = window.desk, window.rooms
    if desk is None or rooms is None or desk.fleet.path is None:
        return
    path = str(desk.fleet.path)
    known = {name: kept for name, kept in _places(window.view).items() if name != path}
    place = (path, asdict(Place.in_(desk, rooms)))
    window.view.keep("places", dict([*list(known.items())[-MOST_FLEETS + 1 :], place]))


def _places(view: ViewSettings) -> dict[str, dict[str, object]]:
    kept = view.kept("places", {})
    return {str(name): place for name, place in kept.items() if isinstance(place, dict)}


def go_to_place(window: Host, rooms: Rooms) -> None:
    """Open the fleet where it was left; on the Flight Line where the aircraft is there no more."""
    desk = window.desk
    if desk is None or desk.fleet.path is None:
        return
    place = Place.kept(_places(window.view).get(str(desk.fleet.path), {}))
    if place is not None and (place.aircraft is None or place.aircraft in desk.codes()):
        desk.current.choose(place.aircraft, place.position)
        rooms.enter(place.page)
        take_place(rooms, place)


def take_place(rooms: Rooms, place: Place) -> None:
    """Turn to the tab of a place whose page is open, and let the other rooms open as they did there."""
    rooms.remember_pages(place.pages)
    if place.page == AIRFRAME and rooms.is_built(AIRFRAME):
        rooms.folder.tabs.setCurrentIndex(place.tab)


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
