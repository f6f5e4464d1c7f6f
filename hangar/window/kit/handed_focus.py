"""A page that gives the focus on to one of its widgets when it is entered."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget


def hand_focus(page: QWidget, target: QWidget) -> None:
    """Let ``page.setFocus()`` reach a widget of it.

    Not by a focus proxy: Tab would go to that widget from whatever lies before the page, past all between.
    """

    def give_on(*reason: Any) -> None:
        target.setFocus(*reason)

    page.setFocus = give_on  # type: ignore[method-assign]
