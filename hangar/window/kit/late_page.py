"""A page that is built when somebody first wants it: what is not looked at costs no start and no switch."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hangar.answers.judging import Judgement

Page = TypeVar("Page", bound=QWidget)


class LatePage(QWidget, Generic[Page]):
    """The place of a page that shows one aircraft."""

    def __init__(self, build: Callable[[], Page], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._build = build
        self._page: Page | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    @property
    def page(self) -> Page:
        """The page itself, built now if it was not wanted before."""
        if self._page is None:
            self._page = self._build()
            self._column.addWidget(self._page)
            # By itself it would be on view after the next event only.
            self._page.show()
        return self._page

    def holds(self, page: QWidget) -> bool:
        """Whether a page is this one, or lies on it."""
        return self._page is not None and (self._page is page or self._page.isAncestorOf(page))

    def show_judgement(self, judgement: Judgement) -> None:
        """Show an aircraft as it was judged last."""
        self.page.show_judgement(judgement)  # type: ignore[attr-defined]  # pages have it
