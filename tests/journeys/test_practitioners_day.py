"""A practitioner's day: a helicopter is inherited, entered, tested, refitted, released, flown and undone.

Five analog servos and a five-cell pack come with it; three of the servos are swapped one after another for
digital ones, and what is said is read at each step.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QListWidget
from pytestqt.qtbot import QtBot

from hangar.answers.board import gates
from hangar.parts import Airframe, Flight, Installation, LoadTest, Plan, Servo, ServoRating, ServoType
from hangar.parts.choices import AircraftState, Drive, PlanState
from hangar.rules.finding import Level
from hangar.store import Fleet
from hangar.window.comparing.side_by_side import SideBySide
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.words import put
from hangar.window.log.quick_log import QuickLog
from hangar.window.main_window import MainWindow
from hangar.window.packs.battery_shelf import BatteryShelf
from hangar.window.packs.load_test_entry import LoadTestEntry
from hangar.window.paper.print_dialog import PrintDialog
from hangar.window.records.life_story_dialog import LifeStoryDialog
from hangar.window.records.shelves import Shelf
from hangar.window.refit.plan_cards import CardButton
from hangar.window.room_frame import RoomFrame
from hangar.window.room_list import AIRFRAME, COMPARE, FLIGHT_LINE, PACKS, ROOM_OF, SPARES, STORES
from tests.journeys.hand import CONTROL, LEFT, SHIFT, Hand
from tests.journeys.test_entry import bench_of, contents, desk_of, opened

CODE = "MER61"
MIXED = {"mixed-kinds-swash", "mixed-types-swash", "speed-mismatch-swash"}


def servo_type(code: str, drive: Drive, torque_nm: float, transit_s: float) -> ServoType:
    rating = ServoRating(servo_type=code, rated_v=4.8, torque_nm=torque_nm, transit_s=transit_s, stall_a=1.4)
    return ServoType(
        code=code, drive=drive, supply_min_v=4.8, supply_max_v=6, max_rate_hz=60, price=30, ratings=(rating,)
    )


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """A fleet without aircraft; two types are known, and four digital servos lie in Stores."""
    path = tmp_path / "club.hangar"
    with Fleet.create(path) as fleet:
        old, new = (
            servo_type("TS-45H", Drive.ANALOG, 0.45, 0.22),
            servo_type("OF-D620", Drive.DIGITAL, 0.6, 0.16),
        )
        spares = [Servo(tag=f"030{number}", servo_type="OF-D620") for number in range(1, 5)]
        fleet.edit("Stores", lambda edit: edit.put_all([old, new, *spares]))
    made = opened(qtbot, tmp_path, path)
    yield made
    made.let_go()


def said_of(window: MainWindow) -> list[str]:
    judgement = desk_of(window).judgement(CODE)
    assert judgement is not None
    return [put(finding.message) for finding in judgement.findings if finding.is_open]


def rules_of(window: MainWindow) -> set[str]:
    judgement = desk_of(window).judgement(CODE)
    assert judgement is not None
    every = [other_finding for finding in judgement.findings for other_finding in (finding, *finding.folded)]
    return {finding.rule for finding in every if finding.level in (Level.WARNING, Level.CAUTION)}


def test_a_practitioners_day(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_of(window)
    before = contents(window)
    hand = Hand(window)
    assert window.rooms is not None
    sentences: list[str] = []

    # Inherited: entered with what stands on it.
    line = window.rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    hand.press(line.none_yet.new)
    bench = bench_of(window)
    asked = bench.kit.questions
    hand.choose(asked.kind, "Helicopter, piston engine")
    hand.choose(asked.boxes["head"], "Flybar")
    hand.choose(asked.boxes["drive"], "Glow")
    hand.type(asked.name, "Merlane 61")
    hand.type(asked.code, CODE)
    hand.press(bench.kit.enter_button)
    page = bench.fit_out
    hand.press(next(button for button in page.group_buttons if button.text().endswith(": 5")))
    hand.type(page.servos.type, "TS-45H")
    hand.type(page.servos.tag, "0101")
    hand.type(page.servos.arm, "14")
    hand.type(page.servos.lead, "300")
    hand.type(page.servos.gauge, "26")
    hand.press(page.servos.main)
    hand.type(page.pack.pack, "NiMH 5 cells 1500 mAh")
    hand.type(page.pack.lead, "200")
    hand.type(page.pack.gauge, "22")
    hand.press(page.pack.main)
    assert hand.modal == []
    tags = {fit.code: str(fit.tag) for fit in desk.aircraft(CODE).fits}
    assert sorted(tags.values()) == ["0101", "0102", "0103", "0104", "0105"]

    # The pack is tested at 1 A.
    hand.enter(STORES)
    shelf = window.rooms.room(PACKS)
    assert isinstance(shelf, BatteryShelf)
    hand.pick(shelf.packs.tree, "B001")
    entry = next(entry for entry in shelf.findChildren(LoadTestEntry) if entry.isVisible())
    hand.type(entry.form.editor("load_a"), "1")
    hand.type(entry.form.editor("rest_v"), "6.5")
    hand.type(entry.form.editor("loaded_v"), "6.12")
    hand.press(entry.enter_button)
    (test,) = desk.records(LoadTest)
    assert (test.pack, test.load_a, test.rest_v, test.loaded_v) == ("B001", 1, 6.5, 6.12)
    sentences.append(f"tested: {said_of(window)[:2]}")

    # Three servos are swapped, one after another; a plate of two kinds of servo is told of until it is one.
    places = ("CYC-1", "CYC-2", "CYC-3")
    assert not rules_of(window) & MIXED
    for number, place in enumerate(places, 1):
        hand.key(Qt.Key.Key_F, CONTROL | SHIFT, "Ctrl+Shift+F: fit out")
        hand.pick(page.table, place)
        hand.type(page.servos.type, "OF-D620")
        hand.press(page.servos.main)
        fit = desk.aircraft(CODE).fit(place)
        assert fit is not None
        assert fit.tag == f"030{number}"
        assert desk.judgement(CODE) is not None
        difference = desk.difference(CODE)
        assert difference is not None
        mixed = rules_of(window) & MIXED
        phrases = [put(finding.message) for finding in difference.new]
        sentences.append(f"swapped {place}: {sorted(mixed)}; new: {phrases[:2]}")
        assert bool(mixed) == (number < 3), sentences
        assert ("unlike kind" in page.meaning.text()) == (number < 3), page.meaning.text()
    for tag in (tags[place] for place in places):
        servo = desk.fleet.record(Servo, tag)
        assert servo is not None
        assert servo.state == "in the bay"

    # The tail servo is compared with the last spare, and that is kept as a plan.
    hand.enter(ROOM_OF[AIRFRAME])
    positions = window.rooms.folder.positions
    hand.pick(positions.table, "TAIL")
    hand.press(positions.compare_button)
    sides = window.rooms.room(COMPARE)
    assert isinstance(sides, SideBySide)
    hand.choose(sides.servo_box, "0304")
    assert sides.verdict.sentence
    sentences.append(f"compared: {sides.verdict.sentence}")
    hand.press(sides.keep_button)
    (plan,) = desk.records(Plan)
    assert [(line.place, line.from_stock) for line in plan.lines] == [("TAIL", "0304")]

    # Planned, fitted, proved, and released although things are open.
    frame = window.rooms.stack.currentWidget()
    assert isinstance(frame, RoomFrame)
    hand.turn_to(frame.strip, "Plan and order of work")
    board = window.rooms.board
    hand.press(next(card for card in board.findChildren(CardButton) if card.isVisible()))

    def move_on(state: PlanState) -> None:
        qtbot.waitUntil(lambda: board.page.outlook is not None)
        assert board.page.moves[state].isEnabled(), board.page.missing.text()
        hand.press(board.page.moves[state])

    move_on(PlanState.PRICED)
    move_on(PlanState.PARTS_IN)
    move_on(PlanState.FITTING)
    qtbot.waitUntil(lambda: board.page.outlook is not None)
    hand.open_tab(board.page.tabs, "Order of work")
    card = next(card for card in board.page.work.cards if card.step.line)
    hand.press(card.button)
    fit = desk.aircraft(CODE).fit("TAIL")
    assert fit is not None
    assert fit.tag == "0304"
    hand.open_tab(board.page.tabs, "Bench check")
    readings = board.page.bench.readings
    cell = readings.cell("TAIL", "Volts at the servo")
    readings.scrollTo(cell)
    QTest.mouseClick(readings.viewport(), LEFT, pos=readings.visualRect(cell).center())
    QTest.keyClick(readings, Qt.Key.Key_F2)
    editor = readings.viewport().focusWidget()
    assert isinstance(editor, QLineEdit)
    QTest.keyClicks(editor, "5.1 V")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    hand.done("type 5.1 V as read at the tail")
    assert str(cell.data()).startswith("5.1")
    hand.open_tab(board.page.tabs, "Proofs and release")
    for gate in gates():
        hand.press(board.page.bench.ticks[gate.code])
    move_on(PlanState.BENCH_PROVED)
    hand.press(board.page.bench.release_button)
    airframe = desk.fleet.record(Airframe, CODE)
    assert airframe is not None
    assert airframe.state is AircraftState.ON_THE_BENCH
    sentences.append(f"open at release: {board.page.bench.missing.text()[:160]}")
    hand.press(board.page.bench.although_button)
    airframe = desk.fleet.record(Airframe, CODE)
    assert airframe is not None
    assert airframe.state is AircraftState.ON_THE_LINE
    assert "open" in str(desk.undo_label)

    # Printed.
    out = tmp_path / "field.pdf"
    monkeypatch.setattr(
        "hangar.window.kit.asking_files.QFileDialog.getSaveFileName", lambda *_words: (str(out), "")
    )
    hand.enter(ROOM_OF[AIRFRAME])
    hand.key(Qt.Key.Key_P, CONTROL, "Ctrl+P: print")
    dialog = next(above for above in window.findChildren(PrintDialog) if above.isVisible())
    qtbot.waitUntil(dialog.save_button.isEnabled)
    QTest.mouseClick(dialog.save_button, LEFT)
    dialog.reject()
    words = PdfReader(out).pages[0].extract_text()
    assert CODE in words
    assert "safe to fly" not in words.lower()

    # Logged: it must not fly as it stands, so that is asked first and kept with the flight.
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    hand.key(Qt.Key.Key_L, CONTROL, "Ctrl+L: log a flight")
    log = next(quick_log for quick_log in window.findChildren(QuickLog) if quick_log.isVisible())
    assert isinstance(log.aircraft, QListWidget)
    QTest.keyClick(log.other, Qt.Key.Key_A, CONTROL)
    QTest.keyClicks(log.other, "8")
    QTest.keyClick(log.other, Qt.Key.Key_Return)
    if not log.although_button.isHidden():
        sentences.append(f"logging: {log.message.text()[:160]}")
        QTest.mouseClick(log.although_button, LEFT)
    (flight,) = desk.records(Flight)
    assert (flight.aircraft, flight.minutes_min) == (CODE, 8)
    log.reject()

    # Where has servo 3 been?
    third = tags["CYC-3"]
    hand.enter(STORES)
    frame = window.rooms.stack.currentWidget()
    assert isinstance(frame, RoomFrame)
    hand.turn_to(frame.strip, "Spares")
    spares = window.rooms.room(SPARES)
    assert isinstance(spares, Shelf)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    table = spares.open_kind(Servo).table
    hand.pick(table, third)
    hand.key(Qt.Key.Key_H, CONTROL | SHIFT, "Ctrl+Shift+H: where has this part been?")
    story = next(dialog for dialog in window.findChildren(LifeStoryDialog) if dialog.isVisible())
    lines = story.table.cells_as_text()
    assert f"{CODE}" in lines
    assert "CYC-3" in lines
    (stay,) = desk.records(Installation, servo=third)
    assert stay.until_on is not None
    sentences.append(f"servo {third}: {story.summary.text()}")
    story.reject()

    print(hand.told("a practitioner's day"))
    print("\n".join(sentences))

    # All of it is taken back, to the last field.
    assert QApplication.activeModalWidget() is None
    window.activateWindow()
    window.rooms.open_folder(CODE)
    window.rooms.folder.tabs.setFocus()
    qtbot.waitUntil(window.isActiveWindow)
    for _ in range(200):
        if desk.undo_label is None or str(desk.undo_label).startswith("Stores"):
            break
        QTest.keyClick(window, Qt.Key.Key_Z, CONTROL)
        QApplication.processEvents()
    assert desk.undo_label is not None
    assert contents(window) == before
