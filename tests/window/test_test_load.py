"""The current of a load test on the field is set by class in the limits and used wherever one is made."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from hangar.parts import LoadTest, Setting
from hangar.window.kit.desk import Desk
from hangar.window.log.field_day import FieldDay
from hangar.window.log.log_dialogs import InspectionDialog
from hangar.window.packs.battery_shelf import BatteryShelf
from hangar.window.workshop.workshop_rules import WorkshopRules
from tests.window.conftest import CODE


@pytest.fixture
def room(desk: Desk, qtbot: QtBot) -> WorkshopRules:
    """The room on the hand-made fleet."""
    made = WorkshopRules(desk)
    qtbot.addWidget(made)
    return made


def set_load(room: WorkshopRules, of_class: str, text: str) -> bool:
    room.limits.choice.setCurrentIndex(room.limits.choice.findData(of_class))
    cell = room.limits.table.cell(("test-load", of_class), "In force")
    return bool(room.limits.table.model().setData(cell, text))


def test_the_load_of_a_class_reaches_the_field_day_and_the_form(
    room: WorkshopRules, desk: Desk, qtbot: QtBot
) -> None:
    assert set_load(room, "sport", "1500 mA")
    assert [(setting.name, setting.value) for setting in desk.records(Setting)] == [
        ("threshold.test-load.sport", "1.5")
    ]
    day = FieldDay(desk)
    qtbot.addWidget(day)
    day.choice.choose(CODE)
    day.read_again()
    (row,) = day.test.rows_model.rows
    assert row.load_a == 1.5
    healthy = row.healthy_v
    desk.undo()
    day.read_again()
    (row,) = day.test.rows_model.rows
    assert row.load_a == 1.0
    # Half an ampere more through five cells of 20 mohm and more, for they have aged, takes 0.05 V: Ohm's law.
    assert 0.05 < row.healthy_v - healthy < 0.15


def test_a_pack_never_tested_is_asked_for_at_the_load_of_its_class(
    room: WorkshopRules, desk: Desk, qtbot: QtBot
) -> None:
    (tested,) = desk.records(LoadTest)
    desk.change("Forget", lambda edit: edit.remove(LoadTest, (tested.pack, tested.tested_at)))
    assert set_load(room, "sport", "2.5 A")
    shelf = BatteryShelf(desk)
    qtbot.addWidget(shelf)
    shelf.open_pack("B-01")
    form = shelf.packs.page.entry.form
    assert form.editor("load_a").read() == 2.5


@pytest.mark.parametrize("typed", ["0", "61 A", "-1"])
def test_a_load_that_no_tester_draws_is_refused(
    room: WorkshopRules, desk: Desk, qtbot: QtBot, typed: str
) -> None:
    with qtbot.waitSignal(desk.trouble) as blocker:
        assert not set_load(room, "giant", typed)
    assert "0.05 to 60 A is allowed" in str(blocker.args[0])
    assert desk.records(Setting) == ()


def test_an_inspection_asks_for_the_free_play_the_keeper_set(desk: Desk, qtbot: QtBot) -> None:
    desk.change("Play", lambda edit: edit.put(Setting(name="threshold.play", value="0.75")))
    judgement = desk.judgement(CODE)
    assert judgement is not None
    dialog = InspectionDialog(desk, judgement)
    qtbot.addWidget(dialog)
    assert any("Free play" in str(item) and "0.75° or less" in str(item) for item in dialog.items)
