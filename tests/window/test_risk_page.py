"""How risk is counted is set, refused, restored, and shown wherever a risk stands."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from hangar.parts import Plan, Setting
from hangar.refit.risk import RiskMeasure
from hangar.window.kit.desk import Desk
from hangar.window.refit.fleet_budget import FleetBudget
from hangar.window.workshop.risk_page import RiskPage
from hangar.window.workshop.workshop_rules import WorkshopRules

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> Iterator[RiskPage]:
    """The tab of the room on the hand-made fleet."""
    room = WorkshopRules(desk)
    qtbot.addWidget(room)
    room.show()
    room.setCurrentWidget(room.risk)
    yield room.risk
    room.close()


def type_into(page: RiskPage, name: str, text: str) -> None:
    line = page.lines[name].line
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text) if text else QTest.keyClick(line, Qt.Key.Key_Delete)
    QTest.keyClick(line, Qt.Key.Key_Return)


def test_points_and_factors_are_set_and_undone(page: RiskPage, desk: Desk) -> None:
    assert "common practice, no source" in page.words.text()
    type_into(page, "warning", "50")
    type_into(page, "comfort", "0,5")
    kept = {one.name: one.value for one in desk.records(Setting)}
    assert kept == {"risk.warning": "50", "risk.comfort": "0.5"}
    assert "Warning 50" in page.words.text()
    assert "comfort × 0.5" in page.words.text()
    assert "set among the limits" in page.words.text()
    desk.undo()
    assert page.lines["comfort"].text == "1"


@pytest.mark.parametrize(("name", "typed", "most"), [("warning", "lots", "100000"), ("flight", "-1", "1000")])
def test_an_impossible_number_is_refused_beside_its_line(
    page: RiskPage, desk: Desk, name: str, typed: str, most: str
) -> None:
    type_into(page, name, typed)
    assert f"a number from 0 to {most} is allowed." in page.lines[name].refusal
    assert page.lines[name].text == typed
    assert desk.records(Setting) == ()


def test_an_emptied_line_and_the_button_restore_what_was_shipped(page: RiskPage, desk: Desk) -> None:
    assert not page.restore_button.isEnabled()
    type_into(page, "warning", "50")
    type_into(page, "caution", "20")
    type_into(page, "warning", "")
    assert [one.name for one in desk.records(Setting)] == ["risk.caution"]
    assert page.lines["warning"].text == "100"
    type_into(page, "advisory", "3")
    QTest.mouseClick(page.restore_button, LEFT)
    assert RiskMeasure.from_settings(desk.records(Setting)) == RiskMeasure()
    assert desk.records(Setting) == ()
    desk.undo()
    assert len(desk.records(Setting)) == 2


def test_a_setting_that_cannot_be_read_is_told_on_the_page(page: RiskPage, desk: Desk) -> None:
    desk.change("Bring in", lambda edit: edit.put(Setting(name="risk.warning", value="x")))
    assert 'Setting risk.warning is "x"' in page.words.text()
    QTest.mouseClick(page.restore_button, LEFT)
    assert "Warning 100" in page.words.text()


def test_the_budget_for_the_fleet_counts_as_the_keeper_set_and_says_how(desk: Desk, qtbot: QtBot) -> None:
    settings = [Setting(name="risk.warning", value="7"), Setting(name="risk.caution", value="0")]
    desk.change("Count", lambda edit: edit.put_all(settings))
    page = FleetBudget(desk)
    qtbot.addWidget(page)
    page.budget.setText("0")
    with qtbot.waitSignal(page.search.ended):
        page.begin()
    plan = page.plan
    assert plan is not None
    own = RiskMeasure.from_settings(settings)
    for part in plan.parts:
        judgement = desk.judgement(part.aircraft.code)
        assert judgement is not None
        assert part.risk_before == own.of(judgement.findings)
        assert part.risk_after == own.of(part.point.findings_after)
    assert "Warning 7, Caution 0" in page.told.text()
    row = plan.parts[0].aircraft.code
    assert "Warning 7" in page.table.cell(row, "Risk after").data(Qt.ItemDataRole.ToolTipRole)
    assert page.table.cell(row, "Shortage before").isValid()
    page.keep()
    kept = len(desk.records(Plan))
    assert kept == sum(bool(part.point.changes) for part in plan.parts)
    if kept:
        desk.undo()
        assert desk.records(Plan) == ()


def test_a_budget_is_not_spent_by_a_measure_that_cannot_be_read(desk: Desk, qtbot: QtBot) -> None:
    desk.change("Bring in", lambda edit: edit.put(Setting(name="risk.flight", value="-2")))
    page = FleetBudget(desk)
    qtbot.addWidget(page)
    with qtbot.waitSignal(desk.trouble) as told:
        page.begin()
    assert "Setting risk.flight" in str(told.args[0])
    assert not page.search.is_running
