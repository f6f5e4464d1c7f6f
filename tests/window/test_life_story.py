"""Where a part has been: stays, tests, crashes and changes in one list, from any table with a tag in it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts import (
    RECORD_KINDS,
    BenchCheck,
    Flight,
    Installation,
    LoadTest,
    Pack,
    Record,
    Servo,
)
from hangar.parts.choices import ServoState
from hangar.parts.fields import columns
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import heading_of
from hangar.window.records.changes_dialog import changed_words
from hangar.window.records.life_story_dialog import LifeStoryDialog, life_story, summary_words
from hangar.window.records.records_screen import RecordsScreen
from hangar.window.tables.rows_model import part_of
from tests.window.conftest import CODE, TODAY

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal
CRASH = Flight(aircraft=CODE, flown_on=date(2031, 4, 1), minutes_min=2, crashed=True, remarks="tree")


@pytest.fixture
def moved(desk: Desk) -> Desk:
    """S-001 checked on the bench, in a crash, then moved to the rudder."""
    checked_at = datetime(2031, 3, 1, 9)  # noqa: DTZ001
    check = BenchCheck(aircraft=CODE, position="AIL-L", checked_at=checked_at, neutral_ma=30)
    desk.change("Log", lambda edit: edit.put_all([check, CRASH]))
    desk.change("Move", lambda edit: edit.fit_servo("S-001", CODE, "RUD", TODAY, "stronger"))
    return desk


def told(desk: Desk, tag: str) -> list[tuple[date, str, str]]:
    return [(event.when, event.what, event.where) for event in life_story(desk, Servo, tag)]


def test_a_moved_servo_remembers_where_it_was(moved: Desk) -> None:
    story = told(moved, "S-001")
    assert (date(2030, 1, 1), "fitted", "LARK AIL-L") in story
    assert (date(2031, 3, 1), "bench check", "LARK AIL-L") in story
    assert (date(2031, 4, 1), "crash", "LARK") in story
    assert (TODAY, "taken off after 504 days", "LARK AIL-L") in story
    assert (TODAY, "fitted", "LARK RUD") in story
    assert [when for when, _, _ in story] == sorted((when for when, _, _ in story), reverse=True)
    assert summary_words(moved, Servo, "S-001") == "TS-A, fitted, LARK RUD"


def test_a_crash_before_its_stay_is_not_its_own(moved: Desk) -> None:
    moved.change("Fit", lambda edit: edit.fit_servo("S-003", CODE, "AIL-L", TODAY))
    assert not [what for _, what, _ in told(moved, "S-003") if what == "crash"]


def test_edits_of_the_part_are_told_also_when_undone(desk: Desk) -> None:
    desk.change("Note play", lambda edit: edit.change(Servo, ("S-003",), play_deg=0.4))
    desk.undo()
    (event,) = [event for event in life_story(desk, Servo, "S-003") if "Note play" in event.what]
    assert event.what == "Note play (undone)"
    assert event.remark == "Free play at the arm: — → 0.4°"


def test_a_change_is_told_by_label_in_the_units_of_the_keeper(desk: Desk) -> None:
    before = {"torque_nm": 0.4, "transit_s": 0.15, "stall_a": None}
    words = changed_words("servo-rating", before, {**before, "torque_nm": 0.5}, IMPERIAL)
    assert words == "Stall torque: 56.6 ozf·in → 70.8 ozf·in"
    desk.change("Enter", lambda edit: edit.change(Servo, ("S-003",), state=ServoState.SCRAPPED, hours_h=12))
    (change,) = desk.fleet.history(Servo, ("S-003",))[:1]
    wording = changed_words(change.kind, change.before, change.after, desk.view.units)
    assert wording == "State: In Stores → Scrapped; Hours run: — → 12 h"


@pytest.mark.parametrize("kind", RECORD_KINDS, ids=lambda kind: str(kind.KIND))
def test_no_field_of_any_kind_is_told_by_its_stored_name(kind: type[Record]) -> None:
    for spec in columns(kind):
        words = changed_words(kind.KIND, {spec.name: None}, {spec.name: spec.default or 1}, SI_TRADE)
        assert words.startswith(f"{heading_of(spec)}: — → ")
        assert "_" not in words.split(":")[0]


def test_a_pack_tells_of_its_tests_and_stays(desk: Desk) -> None:
    words = {event.what for event in life_story(desk, Pack, "B-01")}
    assert {"fitted", "load test"} <= words


@pytest.mark.parametrize(
    ("row", "part"),
    [
        (Servo(tag="S-9", servo_type="T"), (Servo, "S-9")),
        (Pack(tag="B-9", pack_type="T"), (Pack, "B-9")),
        (Installation(servo="S-9", aircraft="A", position="P", since_on=TODAY), (Servo, "S-9")),
        (LoadTest(pack="B-9", tested_at=datetime(2031, 1, 1), load_a=1, rest_v=2, loaded_v=1), (Pack, "B-9")),  # noqa: DTZ001
        (CRASH, None),
        (None, None),
    ],
)
def test_the_part_of_a_row_is_found_in_any_table(row: object, part: object) -> None:
    assert part_of(row) == part


@pytest.fixture
def screen(desk: Desk, qtbot: QtBot) -> Iterator[RecordsScreen]:
    made = RecordsScreen(desk, Servo)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


def test_one_key_in_a_table_asks_for_the_story(moved: Desk, screen: RecordsScreen, qtbot: QtBot) -> None:
    modifiers = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    without_parts = RecordsScreen(moved, Flight, parent=screen).table
    with qtbot.assertNotEmitted(moved.story_wanted):
        QTest.keyClick(without_parts, Qt.Key.Key_H, modifiers)
    screen.table.setFocus()
    screen.table.choose_row(("S-001",))
    with qtbot.waitSignal(moved.story_wanted) as asked:
        QTest.keyClick(screen.table, Qt.Key.Key_H, modifiers)
    assert asked.args == [Servo, "S-001"]


def test_another_tag_can_be_typed_into_the_story(moved: Desk, screen: RecordsScreen) -> None:
    dialog = LifeStoryDialog(moved, Servo, "S-001", screen)
    dialog.open()
    tester = QAbstractItemModelTester(dialog.table.rows_model, Strict)
    assert dialog.windowTitle() == "Where has S-001 been?"
    dialog.tag.setText("B-01")
    QTest.keyClick(dialog.tag, Qt.Key.Key_Return)
    assert dialog.windowTitle() == "Where has B-01 been?"
    assert "P-A" in dialog.summary.text()
    assert tester is not None
    dialog.close()
