"""Limits are changed with effect on the findings at once, and restored; units and money are kept."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from hangar.parts import Setting
from hangar.window.kit.desk import Desk
from hangar.window.workshop.units_page import UnitsPage
from hangar.window.workshop.workshop_rules import WorkshopRules
from tests.window.conftest import CODE


@pytest.fixture
def units(desk: Desk, qtbot: QtBot) -> UnitsPage:
    made = UnitsPage(desk)
    qtbot.addWidget(made)
    return made


@pytest.fixture
def room(desk: Desk, qtbot: QtBot) -> WorkshopRules:
    """The room on the hand-made fleet."""
    made = WorkshopRules(desk)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    made.show()
    return made


def margin_limit(room: WorkshopRules) -> QModelIndex:
    key = ("torque-margin", None)
    return room.limits.table.cell(key, "In force")


def test_a_limit_is_changed_and_the_findings_follow(room: WorkshopRules, desk: Desk) -> None:
    before = desk.judgement(CODE)
    assert before is not None
    table = room.limits.table
    assert table.model().setData(margin_limit(room), "400")
    assert desk.fleet.record(Setting, "threshold.torque-margin").value == "400.0"  # type: ignore[union-attr]
    after = desk.judgement(CODE)
    assert after is not None
    assert {f.message for f in after.findings} != {f.message for f in before.findings}
    assert "changed" in table.cell(("torque-margin", None), "Changed").data()


def test_restoring_takes_the_keepers_value_away_and_undo_brings_it_back(
    room: WorkshopRules, desk: Desk
) -> None:
    table = room.limits.table
    table.model().setData(margin_limit(room), "3")
    table.choose_row(("torque-margin", None))
    assert room.limits.restore_button.isEnabled()
    room.limits.restore_button.click()
    assert desk.records(Setting) == ()
    desk.undo()
    assert desk.fleet.record(Setting, "threshold.torque-margin").value == "3.0"  # type: ignore[union-attr]


def test_a_limit_for_one_class_leaves_the_others(room: WorkshopRules, desk: Desk) -> None:
    room.limits.choice.setCurrentIndex(room.limits.choice.findData("giant"))
    table = room.limits.table
    table.model().setData(table.cell(("torque-margin", "giant"), "In force"), "2,5")
    assert [(setting.name, setting.value) for setting in desk.records(Setting)] == [
        ("threshold.torque-margin.giant", "2.5")
    ]
    room.limits.choice.setCurrentIndex(room.limits.choice.findData("sport"))
    assert table.cell(("torque-margin", "sport"), "Changed").data() == ""


def test_a_limit_that_is_no_number_is_refused_in_words(room: WorkshopRules, desk: Desk, qtbot: QtBot) -> None:
    with qtbot.waitSignal(desk.trouble) as blocker:
        room.limits.table.model().setData(margin_limit(room), "lots")
    assert '"lots" is not a number' in str(blocker.args[0])
    assert desk.records(Setting) == ()


def test_a_unit_is_chosen_for_one_kind_alone(units: UnitsPage, desk: Desk) -> None:
    box = units.boxes["torque"]
    box.setCurrentIndex(box.findData("ozf in"))
    box.activated.emit(box.currentIndex())
    assert (desk.view.units.torque, desk.view.units.mass) == ("ozf in", "g")


def test_the_money_sign_is_kept_and_undone(units: UnitsPage, desk: Desk) -> None:
    units.money.setText("EUR")
    units.money.editingFinished.emit()
    assert desk.fleet.record(Setting, "money.sign").value == "EUR"  # type: ignore[union-attr]
    desk.undo()
    assert units.money.text() == ""


def test_the_limits_are_a_sound_model_with_a_source_each(room: WorkshopRules) -> None:
    QAbstractItemModelTester(room.limits.table.rows_model)
    assert all(row.threshold.source for row in room.limits.table.rows_model.rows)
