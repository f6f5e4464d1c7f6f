"""Goes through every page of a fleet and tells as JSON what a keeper could not use; run as a program.

``python -m tests.window.walk FLEET FOLDER``; the factor of the screen comes with the environment.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QGraphicsView,
    QLineEdit,
    QTableView,
    QWidget,
)

from hangar.store import Fleet
from hangar.window.kit.strip import StripPages
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.room_list import AIRFRAME
from hangar.window.start import application

SIZE = 1366, 768
NAMED = QAbstractButton | QComboBox | QLineEdit | QTableView | QGraphicsView


def pages(window: MainWindow) -> Iterator[str]:
    """Bring each page to the top, one after the other."""
    rooms = window.rooms
    assert rooms is not None
    for number, title in enumerate(rooms.titles):
        rooms.enter(number)
        room = rooms.room(number)
        if number == AIRFRAME:
            folder = rooms.folder
            folder.show_aircraft(rooms.folder.code or "LARK")
            for at in range(folder.tabs.count()):
                folder.tabs.setCurrentIndex(at)
                yield f"{title}, {folder.tabs.tabText(at)}"
        elif isinstance(room, StripPages):
            for at in range(room.count()):
                room.setCurrentIndex(at)
                yield f"{title}, {room.tabText(at)}"
        else:
            yield title


def unnamed(window: MainWindow) -> set[str]:
    """What can have the focus and has neither words nor a name for those who do not see it."""
    bare = set()
    for widget in window.findChildren(QWidget):
        reached = widget.isVisible() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        if reached and isinstance(widget, NAMED) and not _name(widget):
            bare.add(f"{type(widget).__name__} in {type(widget.parentWidget()).__name__}")
    return bare


def _name(widget: QWidget) -> str:
    return widget.accessibleName() or (widget.text() if isinstance(widget, QAbstractButton) else "")


def main(fleet: str, folder: str) -> None:
    """Print what was found."""
    application()
    window = MainWindow(ViewSettings(Path(folder) / "window.ini"), Path(folder))
    window.take_fleet(Fleet.open(Path(fleet)))
    window.resize(*SIZE)
    window.show()
    seen: dict[str, object] = {"pages": [], "too large": [], "unnamed": [], "ratios": []}
    for name in pages(window):
        QApplication.processEvents()
        seen["pages"].append(name)  # type: ignore[attr-defined]
        least = window.minimumSizeHint()
        if least.width() > SIZE[0] or least.height() > SIZE[1]:
            seen["too large"].append([name, least.width(), least.height()])  # type: ignore[attr-defined]
        seen["unnamed"] += [f"{name}: {bare}" for bare in sorted(unnamed(window))]  # type: ignore[operator]
    picture = window.grab()
    seen["ratios"] = [picture.devicePixelRatio(), picture.width(), picture.height()]
    sys.stdout.write(json.dumps(seen))
    sys.stdout.flush()
    window.close()


if __name__ == "__main__":
    main(*sys.argv[1:3])
