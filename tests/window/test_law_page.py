"""The table of law and codes is edited, added to, thinned out and restored, each step undone as one."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QTableView
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe, Setting
from hangar.rules.field_rules import field_rules, shipped_field_rules
from hangar.window.kit.desk import Desk
from hangar.window.workshop.law_page import LawPage
from hangar.window.workshop.workshop_rules import WorkshopRules
from tests.window.conftest import CODE

KEY = "registration-needed-above-united-states-of-america"
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> Iterator[LawPage]:
    """The tab of the room on the hand-made fleet."""
    room = WorkshopRules(desk)
    qtbot.addWidget(room)
    room.resize(1200, 800)
    room.show()
    room.setCurrentWidget(room.law)
    room.law.table.choose_row(KEY)
    yield room.law
    room.close()


def type_into(page: LawPage, field: str, text: str) -> None:
    line = page.form.lines[field].line
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text) if text else QTest.keyClick(line, Qt.Key.Key_Delete)
    QTest.keyClick(line, Qt.Key.Key_Return)


def in_force(desk: Desk) -> dict[str, str]:
    return {rule.key: rule.shown for rule in field_rules(desk.records(Setting))}


def test_rows_are_as_high_as_their_sentences_whatever_changes(page: LawPage, desk: Desk) -> None:
    table = page.table

    def as_high_as_asked_of_qt() -> list[int]:
        QApplication.processEvents()
        high = [table.rowHeight(row) for row in range(table.model().rowCount())]
        header = table.verticalHeader()
        least = [max(header.minimumSectionSize(), header.sectionSizeHint(row)) for row in range(len(high))]
        assert high == [max(low, QTableView.sizeHintForRow(table, row)) for row, low in enumerate(least)]
        return high

    seen = [as_high_as_asked_of_qt()]
    page.window().resize(700, 800)
    seen.append(as_high_as_asked_of_qt())
    table.setColumnWidth(1, 60)
    seen.append(as_high_as_asked_of_qt())
    type_into(page, "shown", "900 g, but 250 g where a club has put up a notice that says so")
    seen.append(as_high_as_asked_of_qt())
    table.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    as_high_as_asked_of_qt()
    table.filter_words("reg")
    seen.append(as_high_as_asked_of_qt())
    table.filter_words("")
    font = table.font()
    font.setPointSizeF(font.pointSizeF() * 1.5)
    table.setFont(font)
    seen.append(as_high_as_asked_of_qt())
    assert len({sum(high) for high in seen}) >= 5


def test_a_figure_is_typed_anew_and_taken_back_as_one_step(page: LawPage, desk: Desk) -> None:
    type_into(page, "shown", "900 g")
    assert in_force(desk)[KEY] == "900 g"
    assert page.table.cell(KEY, "Figure").data() == "900 g"
    assert "changed" in page.table.cell(KEY, "State").data()
    type_into(page, "as_of", "2031-02-03")
    type_into(page, "note", "club only")
    desk.undo()
    desk.undo()
    assert in_force(desk)[KEY] == "900 g"
    desk.undo()
    assert in_force(desk)[KEY] == "250 g"
    assert page.form.lines["shown"].text == "250 g"


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("as_of", "last spring", '"last spring" is no day of the calendar'),
        ("source", "", "the source is empty"),
        ("shown", "", "the figure is empty"),
    ],
)
def test_a_refused_entry_is_told_beside_its_field_and_kept_as_typed(
    page: LawPage, desk: Desk, field: str, typed: str, said: str
) -> None:
    type_into(page, field, typed)
    line = page.form.lines[field]
    assert said in line.refusal
    assert line.refusal.count(".") == 1
    assert line.text == typed
    assert desk.records(Setting) == ()


def test_a_row_of_ones_own_is_added_and_taken_away(page: LawPage, desk: Desk) -> None:
    QTest.mouseClick(page.add_button, LEFT)
    QTest.mouseClick(page.keep_button, LEFT)
    assert "what it is about is empty" in page.form.lines["item"].refusal
    assert page.form.lines["note"].refusal == ""
    own = {"item": "quiet hours", "shown": "13 to 15 h", "where": "Sallow Down", "source": "club rules"}
    for field, text in own.items():
        type_into(page, field, text)
    QTest.mouseClick(page.keep_button, LEFT)
    assert in_force(desk)["quiet-hours-sallow-down"] == "13 to 15 h"
    assert page.row is not None
    assert page.row.key == "quiet-hours-sallow-down"
    assert not page.restore_button.isEnabled()
    QTest.mouseClick(page.hide_button, LEFT)
    assert desk.records(Setting) == ()
    desk.undo()
    assert "quiet-hours-sallow-down" in in_force(desk)


def test_a_second_row_about_the_same_thing_is_refused(page: LawPage, desk: Desk) -> None:
    QTest.mouseClick(page.add_button, LEFT)
    same = {"item": "registration needed above", "where": "United States of America"}
    for field, text in (same | {"shown": "1 g", "source": "x"}).items():
        type_into(page, field, text)
    QTest.mouseClick(page.keep_button, LEFT)
    assert "is there already" in page.form.lines["item"].refusal
    assert desk.records(Setting) == ()


def test_a_row_is_hidden_seen_again_and_restored(page: LawPage, desk: Desk) -> None:
    QTest.mouseClick(page.hide_button, LEFT)
    assert KEY not in in_force(desk)
    assert not page.table.cell(KEY, "About").isValid()
    assert "Hidden rows: 1" in page.message.text()
    page.hidden_too.click()
    page.table.choose_row(KEY)
    assert "hidden" in page.table.cell(KEY, "State").data()
    QTest.mouseClick(page.restore_button, LEFT)
    assert in_force(desk)[KEY] == "250 g"
    assert desk.records(Setting) == ()


def test_a_body_is_left_out_with_the_space_bar_and_chosen_again(page: LawPage, desk: Desk) -> None:
    names = [page.bodies.item(at).text() for at in range(page.bodies.count())]
    page.bodies.setFocus()
    page.bodies.setCurrentRow(names.index("FAI contests"))
    QTest.keyClick(page.bodies, Qt.Key.Key_Space)
    assert "FAI contests" not in {rule.where for rule in field_rules(desk.records(Setting))}
    assert page.bodies.currentItem().text() == "FAI contests"
    QTest.keyClick(page.bodies, Qt.Key.Key_Space)
    assert desk.records(Setting) == ()
    desk.undo()
    assert len(page.table.rows_model.rows) < len(shipped_field_rules())


def test_the_whole_table_is_restored_as_one_step(page: LawPage, desk: Desk) -> None:
    type_into(page, "shown", "900 g")
    page.bodies.item(0).setCheckState(Qt.CheckState.Unchecked)
    QTest.mouseClick(page.restore_all_button, LEFT)
    assert desk.records(Setting) == ()
    assert not page.restore_all_button.isEnabled()
    desk.undo()
    assert len(desk.records(Setting)) == 2


def test_a_figure_becomes_the_limit_of_the_checks_and_a_finding_goes(page: LawPage, desk: Desk) -> None:
    desk.change("Sell nothing", lambda edit: edit.change(Airframe, (CODE,), registration=None))
    assert "id-missing" in rules_found(desk)
    type_into(page, "shown", "3 kg")
    assert "id-missing" in rules_found(desk)
    QTest.mouseClick(page.use_button, LEFT)
    assert desk.fleet.record(Setting, "threshold.mark-mass").value == "3000"  # type: ignore[union-attr]
    assert "id-missing" not in rules_found(desk)
    assert page.table.cell(KEY, "The checks use").data() == "3 kg"
    type_into(page, "shown", "by feel")
    QTest.mouseClick(page.use_button, LEFT)
    assert '"by feel" is none' in page.form.lines["shown"].refusal


def rules_found(desk: Desk) -> set[str]:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    return {finding.rule for finding in judgement.findings}


def test_a_row_that_cannot_be_read_is_told_and_restored(page: LawPage, desk: Desk) -> None:
    desk.change("Bring in", lambda edit: edit.put(Setting(name=f"field-rule.{KEY}", value="{")))
    assert "cannot be read" in page.table.cell(KEY, "State").data()
    page.table.choose_row(KEY)
    QTest.mouseClick(page.restore_button, LEFT)
    assert desk.records(Setting) == ()


def test_the_table_of_law_is_a_sound_model(page: LawPage) -> None:
    QAbstractItemModelTester(page.table.rows_model)
    assert all(row.rule.source for row in page.table.rows_model.rows)
