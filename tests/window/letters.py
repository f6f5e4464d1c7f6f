"""Alt with a letter means one thing: no menu and no two controls of a page share a letter."""

from __future__ import annotations

import re
from collections.abc import Iterator

from PySide6.QtWidgets import QAbstractButton, QGroupBox, QLabel, QTabBar, QWidget

from hangar.window.main_window import MainWindow


def shared_letters(window: MainWindow, room: QWidget) -> list[tuple[str, ...]]:
    """Texts on screen that are reached by the same letter as another: the menus and one room."""
    by_letter: dict[str, list[str]] = {}
    menus = (action.text() for action in window.menuBar().actions())
    for text in (*menus, *texts_of(room)):
        letter = letter_of(text)
        if letter is not None:
            by_letter.setdefault(letter, []).append(text)
    return [tuple(texts) for texts in by_letter.values() if len(texts) > 1]


def letter_of(text: str) -> str | None:
    """The letter that a text is reached by.

    >>> letter_of("Save && &close"), letter_of("Close")
    ('c', None)
    """
    match = re.search(r"&(\w)", text.replace("&&", ""))
    return match.group(1).lower() if match else None


def texts_of(widget: QWidget) -> Iterator[str]:
    """Every text of a visible control below a widget that may have a letter."""
    for child in widget.findChildren(QWidget):
        if not child.isVisible():
            continue
        if isinstance(child, QTabBar):
            yield from (child.tabText(at) for at in range(child.count()))
        elif isinstance(child, QAbstractButton) or (isinstance(child, QLabel) and child.buddy() is not None):
            yield child.text()
        elif isinstance(child, QGroupBox):
            yield child.title()
