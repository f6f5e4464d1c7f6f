"""Search everywhere: tags, words and sizes lead to the place; it stays quick with many aircraft."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe, Pack, Position, Record, Servo, ServoType
from hangar.parts.choices import AircraftClass, Function
from hangar.window.kit.desk import Desk
from hangar.window.navigator import Navigator
from hangar.window.room_list import AIRFRAME, FLIGHT_LINE, PACKS, SPARES, TYPES
from hangar.window.rooms import Rooms
from hangar.window.search_page import FoundRecord, build_index, search
from tests.window.conftest import CODE

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal


@pytest.fixture
def rooms(desk: Desk, qtbot: QtBot) -> Iterator[Rooms]:
    made = Rooms(desk)
    Navigator(desk, made)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


def hits(desk: Desk, text: str) -> list[tuple[type[Record], str]]:
    return [(record.kind, record.name) for record in search(build_index(desk), text)]


def test_a_tag_is_found_first(desk: Desk) -> None:
    assert hits(desk, "s-001")[0] == (Servo, "S-001")
    assert hits(desk, "B-01")[0] == (Pack, "B-01")
    assert hits(desk, "lark")[0] == (Airframe, "LARK")


@pytest.mark.parametrize("text", ["2000 mAh", "2000mah", "2000MAH nimh", "nimh 5s"])
def test_a_size_finds_the_pack_and_its_type(desk: Desk, text: str) -> None:
    found = hits(desk, text)
    assert (Pack, "B-01") in found
    assert all(name in ("B-01", "P-A") for _, name in found)


def test_every_word_must_be_held(desk: Desk) -> None:
    assert (Position, "RUD") in hits(desk, "lark rudder")
    assert hits(desk, "wren rudder") == []
    assert hits(desk, "   ") == []


def test_ctrl_f_words_and_enter_lead_to_a_fitted_servo(rooms: Rooms, qtbot: QtBot) -> None:
    QTest.keyClick(rooms.room(FLIGHT_LINE), Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    field = rooms.search.field
    assert field.hasFocus()
    QTest.keyClicks(field, "S-002")
    QTest.keyClick(field, Qt.Key.Key_Return)
    page = rooms.search.page
    assert rooms.stack.currentWidget() is page
    assert page.table.hasFocus()
    QTest.keyClick(page.table, Qt.Key.Key_Return)
    assert rooms.current == AIRFRAME
    assert rooms.folder.code == CODE
    assert rooms.folder.positions.table.current_row.code == "RUD"
    assert field.text() == ""


def go(rooms: Rooms, text: str) -> FoundRecord:
    rooms.search.look_for(text)
    record: FoundRecord = rooms.search.page.table.rows_model.rows[0]
    rooms.search.page.chosen.emit(record)
    return record


def test_a_spare_a_pack_and_a_type_open_where_they_are_kept(rooms: Rooms) -> None:
    go(rooms, "S-003")
    assert rooms.current == SPARES
    go(rooms, "B-01")
    assert rooms.current == PACKS
    assert rooms.room(PACKS).packs.page.case.tag == "B-01"  # type: ignore[attr-defined]
    go(rooms, "TS-WEAK")
    assert rooms.current == TYPES
    assert rooms.room(TYPES).screens[ServoType].table.current_row.code == "TS-WEAK"  # type: ignore[attr-defined]


def test_escape_leads_back_to_the_room(rooms: Rooms) -> None:
    before = rooms.stack.currentWidget()
    rooms.search.field.setText("lark")
    rooms.search.look_for("lark")
    QTest.keyClick(rooms.search.field, Qt.Key.Key_Escape)
    assert rooms.stack.currentWidget() is before


def test_what_is_not_there_is_told(rooms: Rooms) -> None:
    rooms.search.look_for("zeppelin")
    assert "zeppelin" in rooms.search.page.message.text()
    assert not rooms.search.page.table.rows_model.rows


def test_the_list_follows_edits_and_keeps_qts_contract(desk: Desk, rooms: Rooms) -> None:
    rooms.search.look_for("s-00")
    tester = QAbstractItemModelTester(rooms.search.page.table.rows_model, Strict)
    desk.change("Add", lambda edit: edit.put(Servo(tag="S-005", servo_type="TS-A")))
    assert "S-005" in [row.name for row in rooms.search.page.table.rows_model.rows]
    desk.undo()
    assert "S-005" not in [row.name for row in rooms.search.page.table.rows_model.rows]
    assert tester is not None


def test_ctrl_l_opens_the_quick_log(rooms: Rooms, qtbot: QtBot) -> None:
    from hangar.window.log.quick_log import QuickLog

    QTest.keyClick(rooms.rail, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    (dialog,) = rooms.findChildren(QuickLog)
    assert dialog.isVisible()
    dialog.close()


def test_three_hundred_aircraft_are_searched_within_a_blink(desk: Desk) -> None:
    def fleet() -> Iterator[Record]:
        for number in range(300):
            code = f"A{number:03d}"
            yield Airframe(code=code, name=f"Number {number}", aircraft_class=AircraftClass.SPORT)
            for at in range(6):
                yield Position(aircraft=code, code=f"P{at}", name="aileron", function=Function.AILERON)
                yield Servo(tag=f"T-{number:03d}-{at}", servo_type="TS-A")

    desk.change("Many", lambda edit: edit.put_all(list(fleet())))
    index = build_index(desk)
    began = time.thread_time()
    records = search(index, "t-299-5")
    took_s = time.thread_time() - began
    assert [record.name for record in records] == ["T-299-5"]
    assert len(index) > 3900
    assert took_s < 0.2
