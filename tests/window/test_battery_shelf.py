"""The Battery Shelf: packs by chemistry, the two verdicts, a test entered, states, trends, storage."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from hangar.answers.pack_trends import capacity_trend, resistance_trend, shown_until
from hangar.answers.packs import PackCase, cell_spread_v, learned_of, pack_cases
from hangar.base.units import SI_TRADE
from hangar.parts import CapacityTest, CellReading, LoadTest, Pack, PackType, SetAside
from hangar.parts.choices import Chemistry, PackState
from hangar.window.kit.desk import Desk
from hangar.window.packs.battery_shelf import BatteryShelf
from hangar.window.packs.pack_words import (
    BAD,
    FIT,
    LOOK,
    UNKNOWN,
    ToDo,
    charge_words,
    health_words,
    storage_words,
    todo_words,
)
from hangar.window.packs.storage_list import StorageList
from hangar.window.packs.trend_picture import TrendPicture, nice_ticks
from tests.window.conftest import TODAY

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal


@pytest.fixture
def shelf(desk: Desk, qtbot: QtBot) -> Iterator[BatteryShelf]:
    made = BatteryShelf(desk)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


def case_of(desk: Desk, tag: str) -> PackCase:
    return next(case for case in pack_cases(desk) if case.tag == tag)


def add_lipo(desk: Desk, **fields: object) -> None:
    kind = PackType(code="L-3", chemistry=Chemistry.LIPO, series=3, capacity_mah=2200, cell_mohm=8)
    pack = Pack(tag="L-01", pack_type="L-3", **fields)  # type: ignore[arg-type]
    desk.change("Add", lambda edit: edit.put_all([kind, pack]))


def type_in(shelf: BatteryShelf, name: str, words: str) -> None:
    line = shelf.packs.page.entry.form.editor(name).editor
    assert isinstance(line, QLineEdit)
    line.setText(words)


def test_packs_stand_below_what_to_do_with_them(desk: Desk, shelf: BatteryShelf) -> None:
    tree = shelf.packs.tree

    def head_of(tag: str) -> str:
        assert tree.choose(tag)
        return str(tree.currentIndex().parent().data())

    add_lipo(desk)
    assert head_of("L-01") == "Can't tell: measure these  (1)" or "Can't tell" in head_of("L-01")
    # 12.6 V is a full 3S LiPo; 3.85 V a cell is where its maker wants it stored (common practice, no source).
    desk.change("Full", lambda edit: edit.change(Pack, ("L-01",), rest_v=12.6, state=PackState.STORAGE))
    assert head_of("L-01").startswith("Bring to storage volts")
    desk.change("Swollen", lambda edit: edit.change(Pack, ("L-01",), swollen=True))
    assert head_of("L-01").startswith("Take out of use")
    heads = [tree.packs.item(row).text() for row in range(tree.packs.rowCount())]
    order = [todo_words(todo) for todo in ToDo]
    assert [order.index(head.split("  (")[0]) for head in heads] == sorted(
        order.index(head.split("  (")[0]) for head in heads
    )
    shelf.packs.filter.setText("b-01")
    assert tree.packs.rowCount() == 1
    assert tree.tag == "B-01"


def test_the_tree_model_keeps_qts_contract(desk: Desk, shelf: BatteryShelf) -> None:
    tester = QAbstractItemModelTester(shelf.packs.tree.packs, Strict)
    add_lipo(desk)
    desk.undo()
    assert tester is not None


def test_a_test_typed_in_other_units_is_kept_and_undone(desk: Desk, shelf: BatteryShelf) -> None:
    shelf.open_pack("B-01")
    for name, words in (("load_a", "1000 mA"), ("rest_v", "6,60"), ("loaded_v", "6.55 V")):
        type_in(shelf, name, words)
    assert not shelf.packs.page.entry.preview.isHidden()
    before = desk.records(LoadTest)
    line = shelf.packs.page.entry.form.editor("loaded_v").editor
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    (newest,) = [test for test in desk.records(LoadTest) if test not in before]
    assert (newest.load_a, newest.rest_v, newest.loaded_v) == (1.0, 6.6, 6.55)
    assert newest.tested_at.date() == TODAY
    assert newest.aircraft == "LARK"
    assert desk.fleet.record(Pack, "B-01").rest_v == 6.6  # type: ignore[union-attr]
    assert str(desk.undo_label) == "Enter load test of pack B-01"
    desk.undo()
    assert desk.records(LoadTest) == before
    assert desk.fleet.record(Pack, "B-01").rest_v is None  # type: ignore[union-attr]


def test_an_impossible_test_is_refused_beside_the_fields(desk: Desk, shelf: BatteryShelf) -> None:
    shelf.open_pack("B-01")
    type_in(shelf, "rest_v", "6.2")
    type_in(shelf, "loaded_v", "6.4")
    before = len(desk.records(LoadTest))
    shelf.packs.page.entry.enter()
    assert "must not exceed the volts at rest" in shelf.packs.page.entry.refusal.text()
    type_in(shelf, "loaded_v", "")
    shelf.packs.page.entry.enter()
    assert shelf.packs.page.entry.form.editor("loaded_v").refusal
    assert len(desk.records(LoadTest)) == before


def test_charged_is_told_only_for_the_day_of_the_test(desk: Desk) -> None:
    # Five NiMH cells of 30 mohm at 1 A: good from 6.5 V, the trade anchor named with the formula.
    desk.change("New cells", lambda edit: edit.change(PackType, ("P-A",), cell_mohm=30))

    def told(loaded_v: float, day: date) -> str:
        test = LoadTest(
            pack="B-01",
            tested_at=datetime.combine(day, datetime.min.time()).replace(hour=23),
            load_a=1.0,
            rest_v=loaded_v + 0.17,
            loaded_v=loaded_v,
        )
        case = case_of(desk, "B-01")
        return charge_words(PackCase(case.pack, case.pack_type, load_tests=(test,)), TODAY, SI_TRADE).mark

    assert told(6.55, TODAY) == FIT
    assert told(6.2, TODAY) == LOOK
    assert told(5.5, TODAY) == BAD
    assert told(6.55, date(2031, 5, 19)) == UNKNOWN


def test_health_is_unknown_until_something_was_measured(desk: Desk) -> None:
    add_lipo(desk)
    case = case_of(desk, "L-01")
    assert health_words(case, TODAY, SI_TRADE).mark == UNKNOWN
    desk.change("Hurt", lambda edit: edit.change(Pack, ("L-01",), swollen=True))
    hurt = health_words(case_of(desk, "L-01"), TODAY, SI_TRADE)
    assert hurt.mark == BAD
    assert "swollen or crashed" in hurt.basis


def test_half_known_damage_is_no_clean_bill(desk: Desk) -> None:
    add_lipo(desk, swollen=False)
    assert health_words(case_of(desk, "L-01"), TODAY, SI_TRADE).mark == UNKNOWN


def test_cell_spread_is_of_the_last_readings_only(desk: Desk) -> None:
    add_lipo(desk)
    cells = [
        CellReading(pack="L-01", read_on=date(2031, 4, day), cell=cell, cell_v=volts)
        for day, cell, volts in ((1, 1, 4.2), (1, 2, 3.9), (9, 1, 4.10), (9, 2, 4.08))
    ]
    desk.change("Cells", lambda edit: edit.put_all(list(cells)))
    assert cell_spread_v(case_of(desk, "L-01"), loaded=False) == pytest.approx(0.02)
    assert cell_spread_v(case_of(desk, "L-01"), loaded=True) is None


@pytest.mark.parametrize("state", [PackState.QUARANTINE, PackState.RETIRED, PackState.STORAGE])
def test_a_state_is_one_click_and_undo_brings_the_old_one_back(
    desk: Desk, shelf: BatteryShelf, state: PackState
) -> None:
    shelf.open_pack("B-01")
    shelf.packs.page.buttons[state].click()
    assert desk.fleet.record(Pack, "B-01").state is state  # type: ignore[union-attr]
    assert not shelf.packs.page.buttons[state].isEnabled()
    if state is not PackState.STORAGE:
        assert shelf.packs.page.charging.text().startswith("NEVER charge it")
    desk.undo()
    assert desk.fleet.record(Pack, "B-01").state is PackState.IN_USE  # type: ignore[union-attr]


def test_a_full_lithium_pack_is_told_to_come_down_once_it_is_put_away(desk: Desk) -> None:
    add_lipo(desk, rest_v=12.5, rest_on=TODAY, charged_on=TODAY)
    assert storage_words(case_of(desk, "L-01"), desk).mark == FIT
    desk.change("Away", lambda edit: edit.change(Pack, ("L-01",), state=PackState.STORAGE))
    verdict = storage_words(case_of(desk, "L-01"), desk)
    assert verdict.mark == LOOK
    assert "11.4 V to 11.6 V" in verdict.words


def test_a_trend_needs_four_readings_and_tells_when_the_limit_is_met(desk: Desk) -> None:
    days = [date(2031, 1, 1), date(2031, 2, 1), date(2031, 3, 1), date(2031, 4, 1)]
    add_lipo(desk)
    for count, (day, mah) in enumerate(zip(days, (2150, 2100, 2050, 2000), strict=True), 1):
        test = CapacityTest(pack="L-01", tested_on=day, capacity_mah=mah)
        desk.change("Test", lambda edit, test=test: edit.put(test))  # type: ignore[misc]
        case = capacity_trend(case_of(desk, "L-01"))
        assert (case.line is None) == (count < 4)
    assert case.limit == pytest.approx(0.8 * 2200)
    assert case.meets_on is not None
    assert date(2031, 8, 1) < case.meets_on < date(2031, 10, 1)
    assert shown_until(case) > days[-1]
    assert "meets the limit about" in str(case.summary())


def test_a_falling_resistance_never_counts_as_past_its_limit(desk: Desk) -> None:
    add_lipo(desk)
    for month, loaded in ((1, 12.25), (2, 12.30), (3, 12.33), (4, 12.36)):
        at = datetime(2031, month, 1, 9)  # noqa: DTZ001
        test = LoadTest(pack="L-01", tested_at=at, load_a=5, rest_v=12.5, loaded_v=loaded)
        desk.change("Test", lambda edit, test=test: edit.put(test))  # type: ignore[misc]
    case = resistance_trend(case_of(desk, "L-01"), TODAY)
    assert len(case.readings) == 4
    assert case.meets_on is None


def test_the_picture_says_in_words_what_it_draws(desk: Desk, qtbot: QtBot) -> None:
    picture = TrendPicture(desk.view, "Capacity")
    qtbot.addWidget(picture)
    picture.resize(400, 240)
    case = capacity_trend(case_of(desk, "B-01"))
    picture.show_trend(case)
    empty = picture.grab().toImage()
    assert picture.accessibleDescription() == "No reading yet."
    test = CapacityTest(pack="B-01", tested_on=TODAY, capacity_mah=1900)
    desk.change("Test", lambda edit: edit.put(test))
    picture.show_trend(capacity_trend(case_of(desk, "B-01")))
    assert "One reading, 1900 mAh" in picture.accessibleDescription()
    assert picture.grab().toImage() != empty


def test_a_reading_is_set_aside_and_taken_back_in_by_one_button(desk: Desk, shelf: BatteryShelf) -> None:
    at = datetime(2031, 5, 1, 9)  # noqa: DTZ001
    test = LoadTest(pack="B-01", tested_at=at, load_a=1.0, rest_v=6.7, loaded_v=6.5, pack_c=20.0)
    desk.change("Test", lambda edit: edit.put(test))
    shelf.open_pack("B-01")
    page = shelf.packs.page

    def learned() -> float:
        return learned_of(case_of(desk, "B-01"), TODAY).cell_mohm.expected

    before, count = learned(), len(page.readings.rows_model.rows)
    page.readings.choose_place(0)
    page.aside.click()
    assert len(desk.records(SetAside)) == 1
    assert learned() != before
    assert len(page.readings.rows_model.rows) == count
    page.readings.choose_place(0)
    page.aside.click()
    assert desk.records(SetAside) == ()
    assert learned() == before
    desk.undo()
    assert learned() != before


def test_ticks_cover_the_range() -> None:
    for least, most in ((0.0, 1.0), (38.0, 97.0), (1100.0, 1310.0), (5.0, 5.0)):
        ticks = nice_ticks(least, most)
        assert ticks[0] <= least
        assert ticks[-1] >= most


def test_the_storage_list_holds_every_pack(desk: Desk, qtbot: QtBot) -> None:
    page = StorageList(desk)
    qtbot.addWidget(page)
    tester = QAbstractItemModelTester(page.table.rows_model, Strict)
    add_lipo(desk)
    assert [row.tag for row in page.table.rows_model.rows] == ["L-01", "B-01"]
    desk.undo()
    assert [row.tag for row in page.table.rows_model.rows] == ["B-01"]
    assert tester is not None
