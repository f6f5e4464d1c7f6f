"""Tables: their models keep Qt's contract, edits pass through the desk, cells can be copied."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from hangar.base.units import IMPERIAL
from hangar.parts import Airframe, Lead, Linkage
from hangar.rules.finding import Level
from hangar.window.findings.findings_panel import FindingsPanel
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.log.logbook_tables import LogbookTables
from hangar.window.power.power_screen import PowerScreen
from hangar.window.records.records_screen import RecordsScreen
from hangar.window.tables.columns import FIGURE_ROLE
from hangar.window.tables.rows_view import RowsView
from tests.window.conftest import CODE

Made = tuple[QAbstractItemModel, object]
Strict = QAbstractItemModelTester.FailureReportingMode.Fatal


def _records(desk: Desk) -> Made:
    screen = RecordsScreen(desk, Linkage, preset={"aircraft": CODE})
    return screen.table.rows_model, screen


def _sorted_records(desk: Desk) -> Made:
    screen = RecordsScreen(desk, Airframe)
    screen.table.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    return screen.table.model(), screen


def _findings(desk: Desk) -> Made:
    panel = FindingsPanel(desk)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    panel.show_findings(judgement.findings)
    return panel.table.rows_model, panel


def _paths(desk: Desk) -> Made:
    screen = PowerScreen(desk)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    screen.show_judgement(judgement)
    return screen.table.rows_model, screen


def _history(desk: Desk) -> Made:
    page = LogbookTables(desk)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    page.show_judgement(judgement)
    assert page.history is not None
    page.setCurrentWidget(page.history)
    return page.history.rows_model, page


def _cards(desk: Desk) -> Made:
    line = FlightLine(desk)
    return line.list, line


@pytest.mark.parametrize("make", [_records, _sorted_records, _findings, _paths, _history, _cards])
def test_models_keep_qts_contract_through_edit_and_undo(
    desk: Desk, qtbot: QtBot, make: Callable[[Desk], Made]
) -> None:
    model, keeper = make(desk)
    tester = QAbstractItemModelTester(model, Strict)
    assert model.rowCount() > 0
    desk.edit("Edit", lambda edit: edit.change(Linkage, (CODE, "RUD"), arm_mm=10))
    desk.edit("Add", lambda edit: edit.put(Airframe(code="ZOE", name="Zoe", aircraft_class="sport")))  # type: ignore[arg-type]
    desk.undo()
    desk.undo()
    assert keeper is None or keeper is not tester


@pytest.fixture
def linkages(desk: Desk, qtbot: QtBot) -> Iterator[RowsView]:
    screen = RecordsScreen(desk, Linkage, preset={"aircraft": CODE})
    qtbot.addWidget(screen)
    screen.show()
    yield screen.table
    screen.close()


def test_a_typed_length_in_another_unit_is_stored_and_undone(desk: Desk, linkages: RowsView) -> None:
    cell = linkages.cell((CODE, "RUD"), "Servo arm radius")
    assert cell.data() == "14 mm"
    assert linkages.model().setData(cell, "0.5 in")
    assert cell.data() == "12.7 mm"
    assert desk.fleet.record(Linkage, CODE, "RUD").arm_mm == pytest.approx(12.7)  # type: ignore[union-attr]
    desk.undo()
    assert linkages.cell((CODE, "RUD"), "Servo arm radius").data() == "14 mm"


def test_a_refused_cell_tells_and_changes_nothing(desk: Desk, linkages: RowsView, qtbot: QtBot) -> None:
    cell = linkages.cell((CODE, "RUD"), "Servo arm radius")
    before = desk.undo_label
    with qtbot.waitSignal(desk.trouble) as blocker:
        assert not linkages.model().setData(cell, "2 m")
    assert "allowed is 3 mm to 100 mm" in str(blocker.args[0])
    assert cell.data() == "14 mm"
    assert str(desk.undo_label) == before


def test_an_edit_elsewhere_keeps_the_cursor(desk: Desk, linkages: RowsView) -> None:
    cell = linkages.cell((CODE, "RUD"), "Horn radius")
    linkages.setCurrentIndex(cell)
    desk.edit("Edit", lambda edit: edit.change(Linkage, (CODE, "AIL-L"), arm_mm=10))
    assert linkages.currentIndex() == linkages.cell((CODE, "RUD"), "Horn radius")


def test_a_cell_is_edited_with_keys_alone(desk: Desk, linkages: RowsView, qtbot: QtBot) -> None:
    linkages.setCurrentIndex(linkages.cell((CODE, "RUD"), "Servo arm radius"))
    linkages.setFocus()
    QTest.keyClick(linkages, Qt.Key.Key_Return)
    editor = linkages.findChild(QLineEdit)
    assert editor is not None
    assert editor.text() == "14 mm"
    QTest.keyClicks(editor, "15 mm")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: linkages.cell((CODE, "RUD"), "Servo arm radius").data() == "15 mm")
    assert str(desk.undo_label) == "Change servo arm radius of linkage LARK RUD"


def test_a_cell_with_choices_offers_them(linkages: RowsView, qtbot: QtBot) -> None:
    index = linkages.cell((CODE, "RUD"), "Kind")
    linkages.setCurrentIndex(index)
    linkages.edit(index)
    box = linkages.findChild(QComboBox)
    assert box is not None
    words = [box.itemText(at) for at in range(box.count())]
    assert words == ["Pushrod", "Pull-pull", "Ball link", "Belt", "Direct"]


def test_a_table_is_copied_out_as_tab_separated_text(linkages: RowsView) -> None:
    linkages.clearSelection()
    linkages.copy_cells()
    lines = QGuiApplication.clipboard().text().split("\n")
    assert lines[0].split("\t")[:3] == ["Position", "Kind", "Servo arm radius"]
    assert [line.split("\t")[0] for line in lines[1:]] == ["AIL-L", "RUD"]
    assert lines[1].split("\t")[2] == "14 mm"


def test_chosen_cells_only_are_copied(linkages: RowsView) -> None:
    linkages.clearSelection()
    model = linkages.selectionModel()
    for heading in ("Servo arm radius", "Horn radius"):
        model.select(linkages.cell((CODE, "RUD"), heading), model.SelectionFlag.Select)
    assert linkages.cells_as_text() == "Servo arm radius\tHorn radius\n14 mm\t16 mm"


def test_other_units_are_shown_at_once(desk: Desk, linkages: RowsView) -> None:
    desk.choose_units(IMPERIAL)
    assert linkages.cell((CODE, "RUD"), "Servo arm radius").data() == "0.551 in"


def test_the_filter_hides_other_rows(desk: Desk, linkages: RowsView) -> None:
    linkages.filter_words("rud")
    assert linkages.model().rowCount() == 1


def test_a_row_is_removed_and_brought_back(desk: Desk, qtbot: QtBot) -> None:
    screen = RecordsScreen(desk, Lead, preset={"aircraft": CODE})
    qtbot.addWidget(screen)
    screen.table.choose_row((CODE, "RUD"))
    screen.remove_chosen()
    assert [lead.position for lead in screen.table.rows_model.rows] == ["AIL-L"]
    desk.undo()
    assert [lead.position for lead in screen.table.rows_model.rows] == ["AIL-L", "RUD"]


def test_a_table_without_a_row_offers_nothing_to_remove(desk: Desk, qtbot: QtBot) -> None:
    screen = RecordsScreen(desk, Lead, preset={"aircraft": "WREN"})
    qtbot.addWidget(screen)
    assert not screen.remove_button.isEnabled()
    screen.show_of(aircraft=CODE)
    assert screen.remove_button.isEnabled()


def test_numbers_sort_as_numbers(desk: Desk, qtbot: QtBot) -> None:
    desk.edit("Edit", lambda edit: edit.change(Lead, (CODE, "AIL-L"), length_mm=1100))
    screen = RecordsScreen(desk, Lead, preset={"aircraft": CODE})
    qtbot.addWidget(screen)
    headings = [column.heading.replace("\n", " ") for column in screen.table.rows_model.columns]
    at = headings.index("Length, tail and extensions")
    screen.table.sortByColumn(at, Qt.SortOrder.AscendingOrder)
    shown = [screen.table.model().index(row, at).data() for row in range(2)]
    assert shown == ["300 mm", "1100 mm"]


def test_a_level_is_spoken_and_drawn_not_only_coloured(desk: Desk, qtbot: QtBot) -> None:
    model, keeper = _findings(desk)
    first = model.index(0, 0)
    assert first.data() == "Warning"
    assert "Warning" in first.data(Qt.ItemDataRole.AccessibleTextRole)
    assert not first.data(Qt.ItemDataRole.DecorationRole).isNull()
    assert keeper is not None
    assert Level.WARNING.rank == 0


def test_a_computed_cell_answers_how(desk: Desk, qtbot: QtBot) -> None:
    screen = PowerScreen(desk)
    qtbot.addWidget(screen)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    screen.show_judgement(judgement)
    cell = screen.table.cell("RX-A", "Current")
    figure = cell.data(FIGURE_ROLE)
    assert figure is judgement.survey.scenarios[screen.scenario].path_a["RX-A"]
    screen.table.setCurrentIndex(cell)
    with qtbot.waitSignal(desk.how_asked) as asked:
        screen.table.how_action.trigger()
    assert asked.args == [figure]


def test_a_heading_on_two_lines_is_cut_on_none(linkages: RowsView) -> None:
    header = linkages.horizontalHeader()
    folded = [
        (at, column.heading)
        for at, column in enumerate(linkages.rows_model.columns)
        if "\n" in column.heading and not linkages.isColumnHidden(at)
    ]
    assert folded
    # Qt measures a heading to be cut as if all of it stood on one line.
    assert header.textElideMode() is Qt.TextElideMode.ElideNone
    for at, heading in folded:
        assert max(map(header.fontMetrics().horizontalAdvance, heading.split("\n"))) < header.sectionSize(at)
