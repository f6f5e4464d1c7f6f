"""The Logbook page: one time line, a flight in three clicks, snags closed, inspections by item."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from hangar.acts import hindrances
from hangar.acts.flights import (
    MustNotFly,
    close_snag,
    flight_today,
    log_flights,
    same_again,
)
from hangar.acts.hindrances import Hindrances
from hangar.base.errors import BadInput
from hangar.base.kept_text import said_in
from hangar.base.text import text
from hangar.parts import Airframe, Flight, Inspection, Pack, RangeCheck, Snag
from hangar.parts.choices import AircraftState, InspectionKind, PackState, Severity
from hangar.window.kit.desk import Desk
from hangar.window.log.flight_dialog import FlightDialog
from hangar.window.log.log_dialogs import ItemState, inspection_of
from hangar.window.log.log_page import Entry, LogPage, log_key
from hangar.window.log.logbook_tables import LogbookTables
from hangar.window.log.quick_log import QuickLog
from hangar.window.records.paste_rows import PasteDialog, read_block
from hangar.window.records.record_dialog import RecordDialog
from tests.window.conftest import CODE, TODAY

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal
LEFT, NONE = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
SNAG = Snag(aircraft=CODE, raised_on=date(2031, 5, 2), text="flap slow", severity=Severity.GROUNDS)


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> Iterator[LogPage]:
    made = LogPage(desk)
    qtbot.addWidget(made)
    made.resize(1100, 700)

    def show() -> None:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        made.show_judgement(judgement)

    desk.touched.connect(lambda _touched: show())
    show()
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()


@pytest.fixture
def released(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing keeps any aircraft from flying."""
    monkeypatch.setattr(Hindrances, "on", lambda *_asked: ())


def log(desk: Desk, flight: Flight, *, although: bool = False) -> None:
    desk.do(log_flights, [flight], Hindrances(desk.fleet, TODAY), although=although)


def entries(page: LogPage) -> list[str]:
    return [row.entry.value for row in page.time_line.table.rows_model.rows]


def test_the_time_line_holds_every_kind_the_newest_first(desk: Desk, page: LogPage) -> None:
    tester = QAbstractItemModelTester(page.time_line.table.rows_model, Strict)
    check = RangeCheck(aircraft=CODE, checked_on=date(2031, 5, 3), passed=False, distance_m=30)
    desk.change("Add", lambda edit: edit.put_all([SNAG, check]))
    rows = page.time_line.table.rows_model.rows
    assert entries(page) == ["load test", "range check", "snag", "flight", "inspection"]
    assert [row.level for row in rows] == ["", "warning", "warning", "", ""]
    assert tester is not None


def test_kinds_are_left_out_by_their_box(page: LogPage) -> None:
    page.time_line.entries[Entry.FLIGHT].setChecked(False)
    assert "flight" not in entries(page)
    page.time_line.entries[Entry.FLIGHT].setChecked(True)
    assert "flight" in entries(page)


@pytest.mark.usefixtures("released")
def test_three_clicks_log_a_flight(desk: Desk, qtbot: QtBot) -> None:
    dialog = QuickLog(desk)
    dialog.show()
    assert dialog.code == CODE
    for box, words in ((dialog.aircraft, "LARK  Lark"), (dialog.packs, "B-01"), (dialog.minutes, "9 min")):
        (item,) = box.findItems(words, Qt.MatchFlag.MatchExactly)
        QTest.mouseClick(box.viewport(), LEFT, NONE, box.visualItemRect(item).center())
    flights = desk.records(Flight, flown_on=TODAY)
    assert [(flight.aircraft, flight.packs, flight.minutes_min, flight.number) for flight in flights] == [
        (CODE, "B-01", 9.0, 1)
    ]
    assert "Logged: LARK, flight 1" in dialog.message.text()
    assert str(desk.undo_label) == "Log flight 1 of LARK"
    dialog.close()
    QApplication.processEvents()


@pytest.mark.usefixtures("released")
def test_other_minutes_are_typed_and_refused_where_impossible(desk: Desk, qtbot: QtBot) -> None:
    dialog = QuickLog(desk, CODE)
    dialog.show()
    dialog.other.setText("7,5")
    QTest.keyClick(dialog.other, Qt.Key.Key_Return)
    assert [flight.minutes_min for flight in desk.records(Flight, flown_on=TODAY)] == [7.5]
    dialog.other.setText("9999")
    QTest.keyClick(dialog.other, Qt.Key.Key_Return)
    assert "allowed" in dialog.message.text()
    dialog.other.setText("soon")
    QTest.keyClick(dialog.other, Qt.Key.Key_Return)
    assert len(desk.records(Flight, flown_on=TODAY)) == 1
    dialog.close()


def test_a_pack_in_quarantine_is_not_offered(desk: Desk, qtbot: QtBot) -> None:
    packs = [
        Pack(tag="B-02", pack_type="P-A"),
        Pack(tag="B-03", pack_type="P-A", state=PackState.QUARANTINE),
    ]
    desk.change("Add", lambda edit: edit.put_all(list(packs)))
    dialog = QuickLog(desk, CODE)
    offered = [dialog.packs.item(row).text() for row in range(dialog.packs.count())]
    assert "B-02" in offered
    assert "B-03" not in offered
    dialog.close()
    dialog.deleteLater()


@pytest.mark.usefixtures("released")
def test_the_same_again_is_one_key(desk: Desk, page: LogPage, qtbot: QtBot) -> None:
    page.time_line.table.setFocus()
    QTest.keyClick(page.time_line.table, Qt.Key.Key_F6)
    QTest.keyClick(page.time_line.table, Qt.Key.Key_F6)
    today = desk.records(Flight, flown_on=TODAY)
    assert [(one.number, one.minutes_min) for one in today] == [(1, 9.0), (2, 9.0)]
    assert entries(page).count("flight") == 3
    desk.undo()
    assert len(desk.records(Flight, flown_on=TODAY)) == 1


def test_a_flight_of_an_aircraft_that_must_not_fly_is_asked_about_and_kept_as_such(desk: Desk) -> None:
    dialog = QuickLog(desk, CODE)
    dialog.show()
    assert not dialog.although_button.isVisible()
    dialog.other.setText("8")
    QTest.keyClick(dialog.other, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert not desk.records(Flight, flown_on=TODAY)
    assert "LARK must not fly" in dialog.message.text()
    assert re.search(r"warnings? (is|are) open", dialog.message.text())
    assert dialog.although_button.isVisible()
    dialog.although_button.click()
    (flight,) = desk.records(Flight, flown_on=TODAY)
    assert flight.minutes_min == 8.0
    assert str(said_in(flight.remarks)).startswith("Logged while not released: ")
    assert not dialog.although_button.isVisible()
    dialog.close()


def test_the_acts_below_refuse_until_it_is_confirmed(desk: Desk) -> None:
    hold = {"state": AircraftState.HELD, "state_reason": "spar cracked"}
    desk.change("Hold", lambda edit: edit.change(Airframe, ("WREN",), **hold))
    with pytest.raises(MustNotFly, match=r"WREN must not fly: held: spar cracked"):
        log(desk, flight_today(desk, "WREN", None, 5.0, TODAY))
    with pytest.raises(MustNotFly):
        log(desk, same_again(desk, TODAY, CODE))
    log(desk, flight_today(desk, "WREN", None, 5.0, TODAY), although=True)
    (kept,) = desk.records(Flight, aircraft="WREN")
    assert "held: spar cracked" in str(said_in(kept.remarks))


def test_an_aircraft_that_cannot_be_judged_is_not_taken_for_sound(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_given: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(hindrances, "judge_aircraft", fail)
    with pytest.raises(MustNotFly, match="could not be judged"):
        log(desk, flight_today(desk, CODE, None, 5.0, TODAY))


def test_a_flight_typed_into_the_logbook_table_is_asked_about_too(desk: Desk) -> None:
    tables = LogbookTables(desk)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    tables.show_judgement(judgement)
    dialog = tables.screens[Flight].open_new()
    assert isinstance(dialog, FlightDialog)
    dialog.form.editor("flown_on").show_value(TODAY)
    dialog.form.editor("minutes_min").show_value(7.0)
    dialog.save()
    assert not desk.records(Flight, flown_on=TODAY)
    assert "LARK must not fly" in dialog.refusal.text()
    assert dialog.although_button.isVisible()
    dialog.although_button.click()
    (kept,) = desk.records(Flight, flown_on=TODAY)
    assert str(said_in(kept.remarks)).startswith("Logged while not released: ")
    assert not dialog.isVisible()


def test_pasted_flights_are_asked_about_in_one_question(desk: Desk) -> None:
    text = "aircraft\tflown on\tnumber\tminutes\n" + "\n".join(
        f"{code}\t{TODAY.isoformat()}\t{number}\t6" for code, number in ((CODE, 1), (CODE, 2), ("WREN", 1))
    )
    dialog = PasteDialog(desk, read_block(desk, Flight, text, {}, ()))
    assert len(dialog.pasted.good) == 3
    dialog.take()
    assert not desk.records(Flight, flown_on=TODAY)
    assert CODE in dialog.refusal.text()
    assert "must not fly" in dialog.refusal.text()
    dialog.take_button.click()
    assert len(desk.records(Flight, flown_on=TODAY)) == 3
    desk.undo()
    assert not desk.records(Flight, flown_on=TODAY)


def test_a_day_gone_by_is_held_against_what_stood_then(desk: Desk) -> None:
    before = date.today() - timedelta(days=400)  # the journal is written by the clock
    hold = {"state": AircraftState.HELD, "state_reason": "spar cracked"}
    desk.change("Hold", lambda edit: edit.change(Airframe, ("WREN",), **hold))
    stood = Hindrances(desk.fleet, TODAY)
    assert any("spar cracked" in str(reason) for reason in stood.on("WREN", TODAY))
    assert stood.on("WREN", before) == (), "it was not held then, and nobody knows its warnings of then"
    raised = Snag(
        aircraft="WREN", raised_on=before, number=9, text="wing bolt gone", severity=Severity.GROUNDS
    )
    desk.change("Snag", lambda edit: edit.put(raised))
    stood = Hindrances(desk.fleet, TODAY)
    assert "wing bolt gone" in str(stood.on("WREN", before + timedelta(days=1)))
    assert stood.on("WREN", before - timedelta(days=1)) == ()
    assert stood.on("NOBODY", TODAY) == ()


def test_the_key_for_the_same_again_asks_too(desk: Desk, page: LogPage) -> None:
    page.time_line.table.setFocus()
    QTest.keyClick(page.time_line.table, Qt.Key.Key_F6)
    assert not desk.records(Flight, flown_on=TODAY)
    (dialog,) = page.findChildren(QuickLog)
    assert "must not fly" in dialog.message.text()
    dialog.although_button.click()
    assert len(desk.records(Flight, flown_on=TODAY)) == 1
    dialog.close()


def test_there_is_nothing_to_repeat_for_an_aircraft_that_never_flew(desk: Desk) -> None:
    with pytest.raises(BadInput, match="No flight is logged yet"):
        same_again(desk, TODAY, "WREN")


def test_a_snag_is_raised_and_closed_with_what_was_done(desk: Desk, page: LogPage) -> None:
    raised = page.time_line.open_snag()
    assert isinstance(raised, RecordDialog)
    raised.form.editor("text").editor.setText("nose leg sticky")  # type: ignore[union-attr]
    raised.save()
    (snag,) = desk.records(Snag)
    assert (snag.raised_on, snag.number, snag.text) == (TODAY, 1, "nose leg sticky")
    table = page.time_line.table
    table.choose_row(next(log_key(row) for row in table.rows_model.rows if row.entry is Entry.SNAG))
    assert page.time_line.close_button.isEnabled()
    dialog = page.time_line.open_close_snag()
    assert dialog is not None
    dialog.save()
    assert "What was done is missing" in dialog.refusal.text()
    dialog.form.editor("action").editor.setText("greased")  # type: ignore[union-attr]
    dialog.save()
    (closed,) = desk.records(Snag)
    assert (closed.action, closed.closed_on) == ("greased", TODAY)
    assert not page.time_line.close_button.isEnabled()
    assert entries(page).count("snag") == 2


def test_a_snag_cannot_close_before_it_was_raised(desk: Desk) -> None:
    desk.change("Add", lambda edit: edit.put(SNAG))
    with pytest.raises(BadInput, match="cannot be closed before"):
        desk.do(close_snag, SNAG, "done", date(2031, 5, 1))


def test_an_inspection_is_passed_only_when_every_item_is_well() -> None:
    def made(*states: ItemState) -> Inspection:
        items = {text("item {at}.", at=at): state for at, state in enumerate(states)}
        return inspection_of(CODE, InspectionKind.YEARLY, TODAY, items, "dusty")

    assert made(ItemState.OK, ItemState.NOT_APPLICABLE).passed is True
    unfinished = made(ItemState.OK, ItemState.NOT_LOOKED_AT)
    assert unfinished.passed is None
    assert str(said_in(unfinished.findings)) == "not looked at: 1 of 2. dusty"
    wrong = made(ItemState.NOT_OK, ItemState.NOT_LOOKED_AT)
    assert wrong.passed is False
    assert str(said_in(wrong.findings)) == "not ok: item 0. not looked at: 1 of 2. dusty"


def test_an_inspection_is_entered_from_its_items(desk: Desk, page: LogPage) -> None:
    dialog = page.time_line.open_inspection()
    assert dialog is not None
    assert len(dialog.items) > 5
    dialog.set_all_ok()
    dialog.save()
    assert "must be given" in dialog.form.editor("kind").refusal, "which inspection it was is not guessed"
    dialog.form.editor("kind").show_value(InspectionKind.PRE_SEASON)
    dialog.save()
    newest = max(desk.records(Inspection), key=lambda one: one.inspected_on)
    assert (newest.inspected_on, newest.passed, newest.findings) == (TODAY, True, None)
    desk.undo()
    assert len(desk.records(Inspection)) == 1


def test_logging_without_minutes_asks_for_them_and_logs_nothing(desk: Desk, qtbot: QtBot) -> None:
    dialog = QuickLog(desk, CODE)
    qtbot.addWidget(dialog)
    before = desk.records(Flight)
    dialog.minutes.setCurrentRow(-1)
    dialog.log_button.click()
    assert dialog.message.text() == "Choose the minutes of the flight, or type others."
    assert desk.records(Flight) == before
