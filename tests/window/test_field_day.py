"""Next Field Day and the Shopping List: the lists agree with the sheets and follow every edit."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.answers.needs import fleet_needs, needs_of
from hangar.parts import Pack, Plan, PlanLine, StockItem
from hangar.parts.choices import PackState, PlanAction, StockKind
from hangar.rules.finding import Level
from hangar.sheets import SheetCase
from hangar.window.kit.desk import Desk
from hangar.window.log.day_choice import MOST_LINES, button_place, tick_place, why_lines
from hangar.window.log.field_day import FieldDay
from hangar.window.refit.shopping_list import ShoppingList
from tests.window.conftest import CODE

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal


@pytest.fixture
def day(desk: Desk, qtbot: QtBot) -> Iterator[FieldDay]:
    made = FieldDay(desk)
    qtbot.addWidget(made)
    made.resize(1100, 700)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


def test_nothing_is_listed_until_an_aircraft_is_ticked(day: FieldDay) -> None:
    assert all(not view.rows_model.rows for view in day.tables.values())
    assert "Tick the aircraft" in day.message.text()
    assert day.print_row.print_sheets("field", day.judged()) is None
    assert day.print_row.message.text() == "Choose an aircraft first."


def test_the_space_key_takes_an_aircraft_along(day: FieldDay, qtbot: QtBot) -> None:
    day.choice.setFocus()
    day.choice.setCurrentRow(0)
    QTest.keyClick(day.choice, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bool(day.take.rows_model.rows))
    assert day.choice.codes == (CODE,)
    QTest.keyClick(day.choice, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not day.take.rows_model.rows)


def test_the_lists_hold_what_the_aircraft_needs(desk: Desk, day: FieldDay) -> None:
    day.choice.choose(CODE)
    day.read_again()
    judgement = desk.judgement(CODE)
    assert judgement is not None
    (test,) = day.test.rows_model.rows
    # Five NiMH cells, field minimum 1.22 V each when new: common practice, no source; these have aged.
    assert 5.95 < test.least_v < 6.10
    assert day.test.model().index(0, 3).data() == f"{test.least_v:.3g} V"
    assert [row.fed.pack.tag for row in day.charge.rows_model.rows] == ["B-01"]
    grave = [
        open_finding
        for open_finding in judgement.open_findings
        if open_finding.level.value in ("warning", "caution")
    ]
    assert len(day.open.rows_model.rows) == len(grave) > 0
    assert [row.finding.level.rank for row in day.open.rows_model.rows] == sorted(
        finding.level.rank for finding in grave
    )
    due = [item for item in judgement.due if item.days <= 3]
    assert len(day.due.rows_model.rows) == len(due)
    taken = [str(row.what) for row in day.take.rows_model.rows]
    assert "Load tester" in taken
    assert "Fuel, glow plug, plug spanner and starter" in taken
    assert "Spare S-003, TS-A" in taken
    assert "safe to fly" not in day.message.text().lower()


def test_a_quarantined_pack_is_never_to_be_charged(desk: Desk, day: FieldDay, qtbot: QtBot) -> None:
    day.choice.choose(CODE)
    desk.change("Away", lambda edit: edit.change(Pack, ("B-01",), state=PackState.QUARANTINE))
    qtbot.waitUntil(lambda: bool(day.charge.rows_model.rows))
    assert day.charge.model().index(0, 4).data() == "NEVER charge it: quarantine."


def test_all_field_sheets_go_into_one_file(desk: Desk, day: FieldDay, qtbot: QtBot, tmp_path: Path) -> None:
    day.choice.choose(CODE, "WREN")
    dialog = day.print_row.print_sheets("field", day.judged())
    assert dialog is not None
    qtbot.waitUntil(lambda: not dialog.is_drawing)
    assert dialog.save_to(tmp_path / "day.pdf")
    dialog.close()
    from pypdf import PdfReader

    pages = [page.extract_text() for page in PdfReader(tmp_path / "day.pdf").pages]
    assert any("Lark" in page for page in pages)
    assert any("Wren" in page for page in pages)


def test_every_list_keeps_qts_contract(desk: Desk, day: FieldDay) -> None:
    testers = [QAbstractItemModelTester(view.rows_model, Strict) for view in day.tables.values()]
    day.choice.choose(CODE)
    day.read_again()
    day.choice.choose()
    day.read_again()
    assert len(testers) == 5


def plan() -> Plan:
    strong = PlanLine(
        plan="P1", number=1, action=PlanAction.FIT_SERVO, place="RUD", part_type="TS-A", quantity=4, price=20
    )
    done = replace(strong, number=2, quantity=1, price=None, done_on=date(2031, 1, 1))
    return Plan(code="P1", aircraft=CODE, title="Stronger", lines=(strong, done))


@pytest.fixture
def shopping(desk: Desk, qtbot: QtBot) -> ShoppingList:
    items = [
        StockItem(code="ties", kind=StockKind.OTHER, text="cable ties", on_hand=10, wanted=50, price=0.1),
        StockItem(code="tape", kind=StockKind.OTHER, text="tape", on_hand=3, wanted=2),
    ]
    desk.change("Plan", lambda edit: edit.put_all([plan(), *items]))
    made = ShoppingList(desk)
    qtbot.addWidget(made)
    return made


def test_the_list_counts_plans_less_the_bay_and_its_minimum(desk: Desk, shopping: ShoppingList) -> None:
    found = {row.key: (row.buy, row.need.cost) for row in shopping.table.rows_model.rows}
    # Four wanted, one TS-A lies in the bay (S-003): three at 20. Fifty ties wanted, ten there.
    assert found == {"TS-A": (3, 60), "ties": (40, 4.0)}
    assert [row.key for row in shopping.bay.rows_model.rows] == ["TS-A"]
    assert shopping.message.text().startswith("2 still to buy, 64 together")


def test_the_figures_are_those_of_the_printed_list(desk: Desk, shopping: ShoppingList) -> None:
    judged = [desk.judgement(code) for code in desk.codes()]
    library = desk.fleet.library()
    cases = [SheetCase(judgement=judgement, library=library) for judgement in judged if judgement]
    assert list(fleet_needs(desk)) == needs_of([case.aircraft for case in cases], cases[0].library)


def test_a_tick_lasts_through_an_edit(desk: Desk, shopping: ShoppingList) -> None:
    shopping.table.choose_row("ties")
    shopping.toggle_current()
    assert shopping.table.cell("ties", "Got it").data() == "☑ yes"
    assert "1 still to buy, 60 together" in shopping.message.text()
    desk.change("More", lambda edit: edit.change(StockItem, ("tape",), on_hand=0))
    assert shopping.table.cell("ties", "Got it").data() == "☑ yes"
    assert "tape, whose price is not known" in shopping.message.text()


def test_a_tick_is_kept_with_the_fleet_until_more_is_wanted(
    desk: Desk, shopping: ShoppingList, qtbot: QtBot
) -> None:
    shopping.table.choose_row("ties")
    shopping.toggle_current()
    again = ShoppingList(desk)
    qtbot.addWidget(again)
    assert again.table.cell("ties", "Got it").data() == "☑ yes"
    desk.change("More ties", lambda edit: edit.change(StockItem, ("ties",), wanted=60))
    assert again.table.cell("ties", "Got it").data() == "☐ no"
    desk.undo()
    assert again.table.cell("ties", "Got it").data() == "☑ yes"
    desk.undo()
    assert again.table.cell("ties", "Got it").data() == "☐ no"


def test_the_saved_table_holds_the_rows_shown(shopping: ShoppingList, tmp_path: Path) -> None:
    out = tmp_path / "list.csv"
    shopping.print_row.write_text(shopping.csv_text(), out)
    rows = list(csv.DictReader(io.StringIO(out.read_text("utf-8"))))
    assert [(row["What"], row["Buy"], row["Together"]) for row in rows] == [
        ("cable ties", "40", "4"),
        ("servo TS-A", "3", "60"),
    ]


def test_a_place_that_cannot_be_written_is_told(
    desk: Desk, shopping: ShoppingList, tmp_path: Path, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(desk.trouble) as blocker:
        shopping.print_row.write_text("x", tmp_path / "no such folder" / "list.csv")
    assert "cannot be written" in str(blocker.args[0])


def test_the_shopping_tables_keep_qts_contract(desk: Desk, shopping: ShoppingList) -> None:
    testers = [QAbstractItemModelTester(view.rows_model, Strict) for view in (shopping.table, shopping.bay)]
    desk.change("Done", lambda edit: edit.put(replace(plan(), lines=(plan().lines[1],))))
    assert [row.key for row in shopping.table.rows_model.rows] == ["ties"]
    desk.undo()
    assert len(testers) == 2


def test_each_row_says_held_or_not_and_why(desk: Desk, day: FieldDay, qtbot: QtBot) -> None:
    for code in desk.codes():
        judgement = desk.judgement(code)
        assert judgement is not None
        day.read_again()
        row = day.choice.row_of(code)
        assert row is not None
        warnings = [
            open_finding for open_finding in judgement.open_findings if open_finding.level is Level.WARNING
        ]
        if warnings:
            assert (row.state, row.act) == ("HELD", "Rectify…")
            assert row.lines[0].level is Level.WARNING
            assert row.lines[0].words == str(warnings[0].consequence or warnings[0].message)
        else:
            assert row.state in ("NOT HELD", "NOT JUDGED", "HELD")
        assert 1 <= len(row.lines) <= MOST_LINES
        assert not any(word in row.state for word in ("OK", "safe", "ready"))


def test_what_is_not_yet_judged_is_not_said_to_be_not_held(desk: Desk, day: FieldDay) -> None:
    day.read_again()
    unknown = [code for code in desk.codes() if desk.known(code) is None]
    for code in unknown:
        row = day.choice.row_of(code)
        assert row is not None
        assert row.state == "NOT JUDGED"
    assert why_lines(None)[0].level is None


def test_the_box_and_the_button_of_a_row_answer_the_mouse(desk: Desk, day: FieldDay, qtbot: QtBot) -> None:
    desk.judgement(CODE)
    day.read_again()
    item = next(day.choice.item(at) for at in range(day.choice.count()) if CODE in day.choice.item(at).text())
    place = day.choice.visualItemRect(item)
    tick = tick_place(place, day.choice.fontMetrics()).center()
    QTest.mouseClick(day.choice.viewport(), Qt.MouseButton.LeftButton, pos=tick)
    assert day.choice.codes == (CODE,)
    row = day.choice.row_of(CODE)
    assert row is not None
    day.choice.card_wanted.disconnect(day._open_card)
    button = button_place(place, row.act, day.choice.fontMetrics()).center()
    with qtbot.waitSignal(day.choice.card_wanted) as wanted:
        QTest.mouseClick(day.choice.viewport(), Qt.MouseButton.LeftButton, pos=button)
    assert wanted.args == [CODE]
    assert day.choice.codes == (CODE,)
