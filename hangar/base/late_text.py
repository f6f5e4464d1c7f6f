"""A text that is made when it is first read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hangar.base.text import Text


class LateText(Text):
    """A text that is made when it is first read: one whose numbers cost more than the verdict it belongs to.

    It always says something.
    """

    __slots__ = ("_make",)

    def __init__(self, make: Callable[[], Text]) -> None:
        self._make = make

    def __getattr__(self, name: str) -> Any:
        # Asked for what is not there yet only.
        if name not in Text.__slots__:
            raise AttributeError(name)
        self.settle()
        return getattr(self, name)

    def __bool__(self) -> bool:
        return True

    def settle(self) -> None:
        """Make it now, so that it holds no longer what it is made of."""
        made = self._make()
        self.key, self.args, self.whole = made.key, made.args, made.whole
        self.many, self.context = made.many, made.context
        self._make = lambda: made
