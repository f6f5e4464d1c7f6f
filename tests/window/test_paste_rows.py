"""Rows pasted from a spreadsheet: bad cells are shown and named, the good rows are one undo step."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.base.errors import BadInput
from hangar.parts import Linkage, Servo
from hangar.parts.choices import ServoState
from hangar.window.kit.desk import Desk
from hangar.window.records.paste_rows import MANY, PasteDialog, open_paste, read_block, take_rows
from hangar.window.records.records_screen import RecordsScreen
from tests.window.conftest import CODE, TODAY

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal
SERVOS = "Tag\tType\tBin\tState\nS-101\tTS-A\tA1\tin the bay\nS-102\tTS-A\tA1\tlost\nS-001\tTS-A\tA9\t\n"


@pytest.fixture
def screen(desk: Desk, qtbot: QtBot) -> Iterator[RecordsScreen]:
    made = RecordsScreen(desk, Servo, names=("tag", "servo_type", "bin", "hours_h"))
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


def paste(screen: RecordsScreen, text: str) -> PasteDialog:
    QGuiApplication.clipboard().setText(text)
    screen.table.setFocus()
    QTest.keyClick(screen.table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    (dialog,) = screen.findChildren(PasteDialog)
    return dialog


def test_every_row_tells_what_becomes_of_it(desk: Desk) -> None:
    pasted = read_block(desk, Servo, SERVOS, {}, ())
    good, bad, blank = pasted.rows
    assert (good.is_good, good.outcome) == (True, "adds a row")
    assert not bad.is_good
    assert list(bad.refused) == [3]
    assert '"lost" is not in the list' in bad.outcome
    assert blank.outcome == "changes a row"
    assert blank.record.state is ServoState.FITTED  # type: ignore[union-attr]


def test_rows_without_headings_follow_the_columns_shown(desk: Desk) -> None:
    pasted = read_block(desk, Servo, "S-103\tTS-A\tB2\t1,5 h", {}, ("tag", "servo_type", "bin", "hours_h"))
    (row,) = pasted.rows
    assert isinstance(row.record, Servo)
    assert (row.record.tag, row.record.bin, row.record.hours_h) == ("S-103", "B2", 1.5)


def test_a_unit_behind_the_heading_holds_for_bare_numbers(desk: Desk) -> None:
    text = "position\tservo arm radius [in]\thorn\nRUD\t0.5\t20 mm\nAIL-L\t12 mm\t9 m"
    pasted = read_block(desk, Linkage, text, {"aircraft": CODE}, ())
    rudder, aileron = pasted.rows
    assert isinstance(rudder.record, Linkage)
    assert rudder.record.arm_mm == pytest.approx(12.7)
    assert rudder.record.horn_mm == 20
    assert rudder.outcome == "changes a row"
    assert "allowed is" in aileron.outcome


def test_a_row_that_changes_keeps_the_fields_it_does_not_name(desk: Desk) -> None:
    desk.change("Note", lambda edit: edit.change(Servo, ("S-003",), notes="kept"))
    (row,) = read_block(desk, Servo, "tag\tbin\nS-003\tC4", {}, ()).rows
    assert isinstance(row.record, Servo)
    assert (row.record.bin, row.record.notes, row.record.servo_type) == ("C4", "kept", "TS-A")


def test_a_record_may_be_named_once_only_and_must_be_whole(desk: Desk) -> None:
    first, twice, half = read_block(desk, Servo, "tag\ttype\nX-1\tTS-A\nX-1\tTS-A\nX-2\t", {}, ()).rows
    assert first.is_good
    assert "same record as row 1" in twice.outcome
    assert "Type is missing" in half.outcome


def test_a_heading_may_be_the_beginning_of_a_label_and_an_unknown_one_is_named(
    desk: Desk, screen: RecordsScreen
) -> None:
    dialog = paste(screen, "Tag\tType\tFree play [deg]\tColour\nS-101\tTS-A\t0.3\tred")
    (row,) = dialog.pasted.rows
    assert row.record.play_deg == 0.3  # type: ignore[union-attr]
    headings = [column.heading for column in dialog.table.rows_model.columns]
    assert "Colour: no such field, not taken" in headings
    dialog.reject()


def test_nothing_to_paste_is_told(desk: Desk) -> None:
    with pytest.raises(BadInput, match="nothing to paste"):
        read_block(desk, Servo, " \n", {}, ())


def test_ctrl_v_shows_the_preview_and_the_good_rows_are_one_step(desk: Desk, screen: RecordsScreen) -> None:
    dialog = paste(screen, "Tag\tType\nS-101\tTS-A\nS-102\tTS-A\nS-103\t\n")
    tester = QAbstractItemModelTester(dialog.table.rows_model, Strict)
    assert dialog.table.cell(3, "What becomes of it").data().startswith("left out: ")
    before = len(desk.records(Servo))
    dialog.take_button.click()
    assert len(desk.records(Servo)) == before + 2
    assert desk.fleet.record(Servo, "S-101").state is ServoState.IN_BAY  # type: ignore[union-attr]
    assert str(desk.undo_label) == "Paste 2 rows of servo"
    desk.undo()
    assert len(desk.records(Servo)) == before
    assert tester is not None


def test_what_the_store_refuses_changes_nothing_and_is_told(desk: Desk, screen: RecordsScreen) -> None:
    dialog = paste(screen, "Tag\tType\nS-101\tTS-A\nS-102\tNO-SUCH-TYPE\n")
    before = len(desk.records(Servo))
    dialog.take()
    assert "NO-SUCH-TYPE" in dialog.refusal.text()
    assert len(desk.records(Servo)) == before
    dialog.reject()


def test_an_empty_clipboard_is_told(desk: Desk, screen: RecordsScreen, qtbot: QtBot) -> None:
    QGuiApplication.clipboard().setText("")
    with qtbot.waitSignal(desk.trouble) as told:
        assert open_paste(desk, screen, screen.kind, screen.names, screen.preset) is None
    assert "nothing to paste" in str(told.args[0])


def many(count: int) -> str:
    return "tag\ttype\n" + "\n".join(f"X-{number}\tTS-A" for number in range(count))


def dialog_of(screen: RecordsScreen, qtbot: QtBot) -> PasteDialog:
    qtbot.waitUntil(lambda: len(screen.findChildren(PasteDialog)) == 1)
    (dialog,) = screen.findChildren(PasteDialog)
    return dialog


def test_many_rows_are_read_and_taken_beside_the_window_and_undone_as_one(
    screen: RecordsScreen, desk: Desk, qtbot: QtBot
) -> None:
    before = len(desk.records(Servo))
    QGuiApplication.clipboard().setText(many(MANY + 50))
    assert open_paste(desk, screen, screen.kind, screen.names, screen.preset) is None
    dialog = dialog_of(screen, qtbot)
    assert len(dialog.pasted.good) == MANY + 50
    dialog.take()
    assert len(desk.records(Servo)) == before, "the window went on before the rows were in"
    qtbot.waitUntil(lambda: len(desk.records(Servo)) == before + MANY + 50)
    qtbot.waitUntil(lambda: screen.table.model().rowCount() == before + MANY + 50)
    desk.undo()
    assert len(desk.records(Servo)) == before


def test_stopping_leaves_no_row_behind(desk: Desk) -> None:
    before = len(desk.records(Servo))
    pasted = read_block(desk, Servo, many(MANY * 2), {}, ())

    def heed(share: float) -> None:
        if share > 0:
            raise StopIteration

    with pytest.raises(StopIteration):
        take_rows(desk.fleet, pasted, heed, today=TODAY)
    assert len(desk.records(Servo)) == before
    with pytest.raises(StopIteration):
        read_block(desk, Servo, many(MANY), {}, (), heed)
