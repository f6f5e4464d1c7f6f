"""Another unit draws anew what is on view, and the rest when it comes into view; nothing is judged again."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from hangar.acts.session import Session
from hangar.window.kit.desk import Desk
from hangar.window.kit.when_seen import WhenSeen
from hangar.window.packs.battery_shelf import PacksPage
from hangar.window.refit.ladder_page import LadderPage


def test_what_is_not_on_view_is_drawn_once_as_it_is_shown(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    drawn: list[int] = []
    seen = WhenSeen(widget, lambda: drawn.append(1))
    seen.ask()
    seen.ask()
    assert not drawn
    widget.show()
    assert len(drawn) == 1
    seen.ask()
    assert len(drawn) == 2
    widget.hide()
    widget.show()
    assert len(drawn) == 2


def test_other_units_judge_nothing_and_leave_a_hidden_page_for_later(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: Counter[str] = Counter()
    for owner, name in ((PacksPage, "_list"), (PacksPage, "read_again"), (Session, "keep")):
        method: Any = getattr(owner, name)

        def call(self: Any, *given: Any, name: str = name, method: Any = method) -> Any:
            calls[name] += 1
            return method(self, *given)

        monkeypatch.setattr(owner, name, call)
    page = PacksPage(desk)
    qtbot.addWidget(page)
    for code in desk.codes():
        desk.judgement(code)
    calls.clear()
    desk.choose_units(desk.view.units.__class__())
    desk.view.changed.emit()
    assert not calls
    page.show()
    assert calls["_list"] == 1
    assert calls["keep"] == 0


def test_a_ladder_that_is_gone_hears_of_no_other_units(desk: Desk, qtbot: QtBot) -> None:
    page = LadderPage(desk)
    page.deleteLater()
    qtbot.waitUntil(lambda: _is_gone(page))
    # A fault within a signal fails the test.
    desk.view.changed.emit()


def _is_gone(widget: QWidget) -> bool:
    from shiboken6 import isValid

    return not isValid(widget)
