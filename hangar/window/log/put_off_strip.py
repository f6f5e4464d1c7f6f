"""Puts off what is chosen on the Due List, with a reason, or takes that back."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from hangar.window.kit.desk import Desk
from hangar.window.kit.until_strip import UntilStrip
from hangar.window.kit.words import put, say

if TYPE_CHECKING:
    from hangar.survey import DueItem

USUAL_DAYS = 7


class PutOffStrip(UntilStrip):
    """What is put off, to which day, and why."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(
            desk.view, say("Put off to"), say("Put &off"), say("Reason for putting it off"), parent
        )
        self._desk = desk
        self._aircraft = ""
        self._items: tuple[DueItem, ...] = ()
        self.given.connect(self._put_off)
        self.taken_back.connect(self._take_back)
        self.show_due("", ())

    @property
    def place(self) -> tuple[str, tuple[tuple[str, str], ...]]:
        """What it is about: the aircraft, and each duty with what that is about."""
        return self._aircraft, tuple((item.what, item.key) for item in self._items)

    def show_due(self, aircraft: str, items: tuple[DueItem, ...], until: date | None = None) -> None:
        """Offer to put these off; ``until`` is a day that was chosen elsewhere, such as by dragging."""
        before = self.place
        self._aircraft, self._items = aircraft, items
        same = self.place == before
        self.setEnabled(bool(items) and not self._desk.read_only)
        put_off = items[0].put_off if items and until is None else None
        if put_off is not None:
            self.fill(put_off.until_on, put_off.reason)
        elif not same or until is not None or self.give.isHidden():
            day = until or max([self._desk.today, *(item.due_on for item in items)]) + timedelta(USUAL_DAYS)
            self.fill(day, self.reason.text() if same else "")
        self.show_given(put_off is not None)
        self.label.setText(_words(aircraft, items))
        if until is not None:
            self.reason.setFocus()

    def _put_off(self) -> None:
        self._desk.attempt(self._write)

    def _write(self) -> None:
        from hangar.acts.putting_off import put_off

        until, reason, today = self.until.day, self.reason.text(), self._desk.today
        self._desk.do(put_off, self._aircraft, self._items, until, reason, today)

    def _take_back(self) -> None:
        from hangar.acts.putting_off import take_back_put_off

        self._desk.attempt(lambda: self._desk.do(take_back_put_off, self._aircraft, self._items))


def _words(aircraft: str, items: tuple[DueItem, ...]) -> str:
    """What would be put off."""
    if not items:
        return say("Put off to")
    what = ", ".join(dict.fromkeys(put(item.what) for item in items))
    return say("{aircraft}, {what}: put off to", aircraft=aircraft, what=what)
