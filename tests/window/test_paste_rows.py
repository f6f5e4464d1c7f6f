"""Rows pasted from a spreadsheet: bad cells are shown and named, the good rows are one undo step."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from hangar.base.errors import BadInput
from hangar.parts import Channel, Linkage, Pack, PackType, Position, Servo, ServoType, SheetSource
from hangar.parts.choices import Function, ServoState
from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog
from hangar.window.kit.desk import Desk
from hangar.window.packs.battery_shelf import PacksPage
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
    rows = "code\tsupply_min_v\tsupply_max_v\nX-1\t8.4\t6\nX-2\t4.8\t6"
    dialog = PasteDialog(desk, read_block(desk, ServoType, rows, {}, ()), screen)
    assert len(dialog.pasted.good) == 2
    before = desk.records(ServoType)
    dialog.take()
    assert "the lowest supply volts must be below the highest" in dialog.refusal.text()
    assert desk.records(ServoType) == before
    dialog.reject()


def test_a_row_brings_along_what_it_needs_in_one_step(desk: Desk, screen: RecordsScreen) -> None:
    dialog = paste(screen, "Tag\tType\nS-101\tTS-A\nS-102\tTS-NEW\nS-103\tTS-NEW\n")
    assert dialog.table.cell(2, "What becomes of it").data() == "adds a row, and with it servo type TS-NEW"
    assert dialog.table.cell(3, "What becomes of it").data() == "adds a row"
    before = desk.records(Servo), desk.records(ServoType)
    dialog.take_button.click()
    made = desk.fleet.record(ServoType, "TS-NEW")
    assert made is not None
    assert made.drive is None
    desk.undo()
    assert (desk.records(Servo), desk.records(ServoType)) == before


def test_a_position_brings_its_channel_and_a_linkage_its_position(desk: Desk) -> None:
    rows = "code\tname\tfunction\tchannel\nFLAP-L\tleft flap\tflap\t6\nFLAP-R\tright flap\tflap\t6"
    pasted = read_block(desk, Position, rows, {"aircraft": CODE}, ())
    assert [len(row.needs) for row in pasted.rows] == [1, 0]
    desk.attempt(lambda: desk.read_elsewhere(take_rows(desk.fleet, pasted, today=TODAY)))
    channel = desk.fleet.record(Channel, CODE, "main", 6)
    assert channel is not None
    assert channel.function is Function.FLAP
    pasted = read_block(desk, Linkage, "position\tservo arm radius\nELE\t12\nQX\t14", {"aircraft": CODE}, ())
    good, bad = pasted.rows
    (position,) = good.needs
    assert isinstance(position, Position)
    assert (position.code, position.function, position.side) == ("ELE", Function.ELEVATOR, None)
    assert bad.outcome == f"There is no position {CODE} QX."


def test_each_cause_is_told_in_one_sentence(desk: Desk, screen: RecordsScreen) -> None:
    dialog = paste(screen, "Tag\tType\nS-101\t\nS-102\t\nS-103\tTS-A\nS-104\t")
    assert dialog.causes.text() == "Rows 1, 2, 4: Type is missing; it must be given."


def test_rows_of_a_keeper_s_own_sheet_are_looked_through_first(desk: Desk, qtbot: QtBot) -> None:
    screen = RecordsScreen(desk, Position, preset={"aircraft": CODE})
    qtbot.addWidget(screen)
    screen.show()
    QGuiApplication.clipboard().setText("5\tleft flap\n6\tright flap")
    assert open_paste(desk, screen, Position, ("code", "name"), {"aircraft": CODE}) is None
    (dialog,) = screen.findChildren(RehearsalDialog)
    before = desk.records(Position)
    dialog.take_button.click()
    made = {position.code: position for position in desk.records(Position, aircraft=CODE)}
    assert (made["FLAP-L"].channel, made["FLAP-R"].channel) == (5, 6)
    assert desk.fleet.record(Channel, CODE, "main", 6) is not None
    assert str(desk.undo_label) == "Paste rows of a sheet"
    assert desk.records(SheetSource) == ()
    desk.undo()
    assert desk.records(Position) == before


def test_packs_of_a_log_make_their_types(desk: Desk, qtbot: QtBot) -> None:
    page = PacksPage(desk)
    qtbot.addWidget(page)
    QGuiApplication.clipboard().setText(
        "No.\tBattery\tBought\nP-71\tNiMH 4s 2000\t2019\nP-72\tLiFe 2s 2100\t2020"
    )
    (action,) = [action for action in page.tree.actions() if action.shortcut().toString() == "Ctrl+V"]
    action.trigger()
    (dialog,) = page.findChildren(RehearsalDialog)
    dialog.take_button.click()
    tags = {pack.tag: pack.pack_type for pack in desk.records(Pack)}
    assert tags["P-71"] == "NiMH 4S 2000"
    assert desk.fleet.record(PackType, "NiMH 4S 2000") is not None


def test_an_empty_clipboard_is_told(desk: Desk, screen: RecordsScreen, qtbot: QtBot) -> None:
    QGuiApplication.clipboard().setText("")
    with qtbot.waitSignal(desk.trouble) as blocker:
        assert open_paste(desk, screen, screen.kind, screen.names, screen.preset) is None
    assert "nothing to paste" in str(blocker.args[0])


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
