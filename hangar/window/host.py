"""The window of one fleet as its menus see it: what is open, and how something else is opened."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMainWindow

if TYPE_CHECKING:
    from hangar.parts import Aircraft
    from hangar.store import Fleet
    from hangar.window.kit.desk import Desk
    from hangar.window.kit.notice import NoticeBar
    from hangar.window.kit.view_settings import ViewSettings
    from hangar.window.menus import Menus
    from hangar.window.rooms import Rooms


class Host(QMainWindow):
    """What the main window promises to the objects that open, keep and close fleets in it."""

    view: ViewSettings
    desk: Desk | None
    rooms: Rooms | None
    notice: NoticeBar
    menus: Menus

    def show_welcome(self) -> None:
        """Show the first page."""
        raise NotImplementedError

    def take_fleet(self, fleet: Fleet, aircraft: Iterable[Aircraft] = ()) -> None:
        """Show this fleet instead of what is shown; ``aircraft`` are those that were read already."""
        raise NotImplementedError

    def let_go(self) -> None:
        """Close the open fleet."""
        raise NotImplementedError

    def open_again(self, place: str) -> None:
        """Open a fleet that was open before."""
        raise NotImplementedError

    def open_folder_code(self) -> str | None:
        """Code of the current aircraft, if there is one."""
        return None if self.desk is None else self.desk.current.aircraft
