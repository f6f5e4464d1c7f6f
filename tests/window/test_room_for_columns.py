"""Where a table has no room for all columns the least telling give way, and nothing else is lost."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from hangar.parts import RECORD_KINDS, Record, Servo
from hangar.parts.fields import columns
from hangar.window.kit.desk import Desk
from hangar.window.records.records_screen import _TELLING, RecordsScreen, giving_way
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import fitting_widths

LETTER = 10


def column(gives_way: int = 0, *, number: bool = False, wraps: bool = False) -> Column[str]:
    return Column("Head", lambda row, _units: row, number=number, gives_way=gives_way, wraps=wraps)


def widths(shown: tuple[Column[str], ...], wanted: tuple[int, ...], room: int, empty: int = -1) -> list[int]:
    nothing_in = [at == empty for at in range(len(shown))]
    return list(fitting_widths(shown, wanted, [60] * len(shown), nothing_in, room, LETTER))


def test_the_column_that_gives_way_first_is_left_out_and_no_other() -> None:
    shown = (column(number=True), column(2, number=True), column(1, number=True))
    assert widths(shown, (100, 100, 100), 250) == [100, 100, 0]


def test_of_equal_columns_the_last_goes_first() -> None:
    shown = (column(1, number=True), column(1, number=True), column(1, number=True))
    assert widths(shown, (100, 100, 100), 250) == [100, 100, 0]


def test_a_column_in_which_nothing_is_entered_goes_before_all_others() -> None:
    shown = (column(9, number=True), column(1, number=True), column(1, number=True))
    assert widths(shown, (100, 100, 100), 250, empty=0) == [0, 100, 100]


def test_words_are_cut_before_a_number_is_left_out() -> None:
    shown = (column(), column(1, number=True))
    assert widths(shown, (400, 100), 350) == [250, 100]


def test_a_sentence_that_goes_on_below_keeps_more_letters_than_a_name() -> None:
    shown = (column(wraps=True), column())
    sentence, name = widths(shown, (900, 400), 500)
    assert sentence > name
    assert sentence + name == 500


def test_nothing_is_cut_where_there_is_room() -> None:
    assert widths((column(), column(1)), (300, 200), 500) == [300, 200]


@pytest.mark.parametrize("kind", RECORD_KINDS, ids=lambda kind: str(kind.KIND))
def test_every_kind_keeps_its_key_and_ranks_fields_that_it_has(kind: type[Record]) -> None:
    names = [spec.name for spec in columns(kind)]
    order = giving_way(kind, names)
    assert all(order[name] == 0 for name in kind.KEY)
    assert all(order[name] > 0 for name in names if name not in kind.KEY)
    lines = _TELLING.get(kind, "").split()
    assert set(lines) <= set(names) - set(kind.KEY)
    assert len(lines) == len(set(lines))


@pytest.fixture
def screen(desk: Desk, qtbot: QtBot) -> RecordsScreen:
    made = RecordsScreen(desk, Servo)
    qtbot.addWidget(made)
    made.resize(600, 400)
    made.show()
    QApplication.processEvents()
    return made


def test_a_copy_of_a_narrow_table_takes_all_columns(screen: RecordsScreen) -> None:
    assert screen.table.left_out
    first = screen.table.cells_as_text().split("\n")[0].split("\t")
    assert len(first) == len(columns(Servo))
    screen.table.selectAll()
    assert screen.table.cells_as_text().split("\n")[0].split("\t") == first


def test_what_is_left_out_is_said_in_words_beside_the_table(screen: RecordsScreen) -> None:
    assert screen.left_out.isVisible()
    assert all(name in screen.left_out.message.text() for name in screen.table.left_out)
    screen.left_out.button.click()
    assert screen.table.left_out == ()
    assert screen.left_out.message.text() == ""
    assert screen.left_out.button.isVisible()


def test_the_cursor_stays_in_sight_when_its_column_is_left_out(screen: RecordsScreen, qtbot: QtBot) -> None:
    screen.left_out.button.click()
    table = screen.table
    last = len(table.rows_model.columns) - 1
    table.setCurrentIndex(table.model().index(1, last))
    screen.left_out.button.click()
    assert table.currentIndex().row() == 1
    assert not table.isColumnHidden(table.currentIndex().column())
    before = table.currentIndex().column()
    QTest.keyClick(table, Qt.Key.Key_Right)
    assert table.currentIndex().column() > before
    assert not table.isColumnHidden(table.currentIndex().column())
