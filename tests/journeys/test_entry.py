"""An aircraft is entered and fitted out by few acts and without a dialog, by mouse and by keys alone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from hangar.acts.fit_several import SeveralFit, fit_several
from hangar.acts.new_aircraft import enter_kit
from hangar.answers.kits import make_kit
from hangar.parts import RECORD_KINDS, Linkage, Record, ServoType, Stabiliser, Surface
from hangar.parts.choices import AircraftClass, Drive, PowerKind, Swash
from hangar.store import Fleet
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.main_window import MainWindow
from hangar.window.new_aircraft.workbench import Workbench
from hangar.window.room_list import FLIGHT_LINE
from hangar.window.start import application, open_window
from tests.journeys.hand import CONTROL, Hand

MOST_HELICOPTER, MOST_COPY = 45, 15


def opened(qtbot: QtBot, folder: Path, path: Path) -> MainWindow:
    application()
    window = open_window(None, folder, folder)
    qtbot.addWidget(window)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    window.resize(1366, 768)
    assert window.files.open_place(str(path))
    QApplication.processEvents()
    return window


@pytest.fixture
def empty(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """A window with a fleet in which nothing is yet."""
    path = tmp_path / "club.hangar"
    Fleet.create(path).close()
    window = opened(qtbot, tmp_path, path)
    yield window
    window.let_go()


@pytest.fixture
def with_giant(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """A window with a fleet that has one giant of eight servos, measured and fitted."""
    path = tmp_path / "club.hangar"
    with Fleet.create(path) as fleet:
        kit = make_kit(
            AircraftClass.GIANT, {"ailerons": ("4",), "tail": ("2",), "rudder": ("1",), "drive": ("petrol",)}
        )
        fleet.do(enter_kit, kit, "GIA1", "Giant One", str)
        fleet.edit("Type", lambda edit: edit.put(ServoType(code="BIG-30", drive=Drive.DIGITAL)))
        aircraft = fleet.aircraft("GIA1")
        assert len(aircraft.fits) == 8
        what = SeveralFit(servo_type="BIG-30", arm_mm=25, horn_mm=30, lead_mm=600, lead_awg=22)
        fleet.do(fit_several, aircraft, [fit.code for fit in aircraft.fits], what, date(2031, 5, 20))
    window = opened(qtbot, tmp_path, path)
    yield window
    window.let_go()


def desk_of(window: MainWindow) -> Desk:
    assert window.desk is not None
    return window.desk


def bench_of(window: MainWindow) -> Workbench:
    assert window.rooms is not None
    (bench,) = window.rooms.stack.findChildren(Workbench)
    assert bench.isVisible()
    return bench


def contents(window: MainWindow) -> dict[str, tuple[Record, ...]]:
    fleet = desk_of(window).fleet
    return {kind.KIND: fleet.records(kind) for kind in RECORD_KINDS}


@pytest.mark.parametrize("by_keys", [False, True], ids=["mouse", "keys"])
def test_a_helicopter_is_entered_from_the_empty_fleet_to_its_findings(
    empty: MainWindow, qtbot: QtBot, by_keys: bool
) -> None:
    before = contents(empty)
    hand = Hand(empty, by_keys=by_keys)
    assert empty.rooms is not None
    line = empty.rooms.room(FLIGHT_LINE)
    assert isinstance(line, FlightLine)
    assert line.none_yet.isVisible()
    hand.press(line.none_yet.new)
    bench = bench_of(empty)
    asked = bench.kit.questions
    hand.choose(asked.kind, "Helicopter, piston engine")
    hand.choose(asked.boxes["head"], "Flybar")
    hand.choose(asked.boxes["drive"], "Glow")
    hand.type(asked.name, "Merlane 61")
    hand.type(asked.code, "MER61")
    hand.press(bench.kit.enter_button)
    page = bench.fit_out
    assert page.isVisible()
    assert list(page.servos.codes) == ["CYC-1", "CYC-2", "CYC-3"]
    hand.type(page.servos.type, "OF-D620")
    hand.choose(page.servos.of_type["drive"], "Digital")
    hand.type(page.servos.of_type["supply_min_v"], "4.8")
    hand.type(page.servos.of_type["supply_max_v"], "6")
    hand.type(page.servos.rating["rated_v"], "6")
    hand.type(page.servos.rating["torque_nm"], "0.9 Nm")
    hand.type(page.servos.rating["transit_s"], "0.16")
    hand.type(page.servos.rating["stall_a"], "1.6")
    hand.type(page.servos.tag, "0301")
    hand.type(page.servos.arm, "14")
    hand.type(page.servos.lead, "300")
    hand.type(page.servos.gauge, "24")
    hand.press(page.servos.main)
    hand.type(page.servos.type, "OF-N30")
    assert list(page.servos.codes) == ["TAIL"]
    hand.choose(page.servos.of_type["drive"], "Digital")
    hand.type(page.servos.of_type["supply_min_v"], "4.8")
    hand.type(page.servos.of_type["supply_max_v"], "6")
    hand.type(page.servos.rating["rated_v"], "6")
    hand.type(page.servos.rating["torque_nm"], "0.3 Nm")
    hand.type(page.servos.rating["transit_s"], "0.06")
    hand.type(page.servos.arm, "12")
    hand.press(page.servos.main)
    assert list(page.servos.codes) == ["THR"]
    hand.type(page.servos.type, "OF-D620")
    hand.type(page.servos.arm, "12")
    hand.press(page.servos.main)
    hand.type(page.pack.pack, "NiMH 5 cells 1500 mAh")
    hand.type(page.pack.lead, "200")
    hand.press(page.pack.main)
    hand.type(page.gyro.fields["model_type"], "HG-2")
    hand.type(page.gyro.fields["supply_min_v"], "4.5")
    hand.type(page.gyro.fields["supply_max_v"], "6")
    hand.press(page.gyro.main)
    hand.press(page.findings_button)
    qtbot.waitUntil(lambda: desk_of(empty).known("MER61") is not None)
    QApplication.processEvents()
    print(hand.told(f"a 60-size helicopter, {'keys' if by_keys else 'mouse'}"))
    assert empty.rooms.folder.code == "MER61"
    assert empty.rooms.folder.snags.isVisible()
    assert hand.modal == []
    assert len(hand.acts) <= MOST_HELICOPTER

    aircraft = desk_of(empty).fleet.aircraft("MER61")
    tags = {fit.code: fit.tag for fit in aircraft.fits}
    assert tags == {"CYC-1": "0301", "CYC-2": "0302", "CYC-3": "0303", "TAIL": "0304", "THR": "0305"}
    (kind,) = desk_of(empty).fleet.records(ServoType, code="OF-D620")
    (rating,) = kind.ratings
    assert (kind.drive, rating.stall_a) == (Drive.DIGITAL, 1.6)
    assert rating.torque_nm == pytest.approx(0.9)
    main = next(rotor for rotor in aircraft.rotors if rotor.rotor == "main")
    assert (main.flybar, main.swash, aircraft.airframe.power) == (True, Swash.THREE_120, PowerKind.GLOW)
    assert aircraft.airframe.all_up_mass_g is None
    (gyro,) = desk_of(empty).fleet.records(Stabiliser)
    assert (gyro.model_type, gyro.supply_min_v) == ("HG-2", 4.5)
    (path,) = aircraft.radio_paths
    assert [fed.pack.tag for fed in path.packs] == ["B001"]
    judgement = desk_of(empty).known("MER61")
    assert judgement is not None
    assert judgement.findings

    for _ in range(6):
        hand.key(Qt.Key.Key_Z, CONTROL, "undo")
    assert desk_of(empty).undo_label is None
    assert contents(empty) == before


@pytest.mark.parametrize("by_keys", [False, True], ids=["mouse", "keys"])
def test_an_eight_servo_giant_is_entered_from_a_copied_one(
    with_giant: MainWindow, qtbot: QtBot, by_keys: bool
) -> None:
    before = contents(with_giant)
    hand = Hand(with_giant, by_keys=by_keys)
    hand.key(Qt.Key.Key_C, CONTROL | Qt.KeyboardModifier.ShiftModifier, "Copy an aircraft…")
    bench = bench_of(with_giant)
    hand.type(bench.copy.panel.name, "Giant Two")
    hand.type(bench.copy.panel.code, "GIA2")
    hand.press(bench.copy.panel.main)
    page = bench.fit_out
    everything = next(button for button in page.group_buttons if button.text().endswith(": 8"))
    hand.press(everything)
    hand.type(page.servos.type, "BIG-30")
    hand.type(page.servos.tag, "0401")
    hand.press(page.servos.main)
    hand.type(page.pack.pack, "LiFe 2S 3000 mAh")
    hand.type(page.pack.lead, "250")
    hand.press(page.pack.main)
    hand.press(page.findings_button)
    qtbot.waitUntil(lambda: desk_of(with_giant).known("GIA2") is not None)
    QApplication.processEvents()
    print(hand.told(f"an eight-servo giant from a copied one, {'keys' if by_keys else 'mouse'}"))
    assert hand.modal == []
    assert len(hand.acts) <= MOST_COPY
    assert with_giant.rooms is not None
    assert with_giant.rooms.folder.code == "GIA2"

    fleet = desk_of(with_giant).fleet
    copy = fleet.aircraft("GIA2")
    assert sorted(str(fit.tag) for fit in copy.fits) == [f"04{number:02}" for number in range(1, 9)]
    arms = {linkage.arm_mm for linkage in fleet.records(Linkage, aircraft="GIA2")}
    assert arms == {25}
    assert {surface.span_mm for surface in fleet.records(Surface, aircraft="GIA2")} == {None}
    for _ in range(3):
        hand.key(Qt.Key.Key_Z, CONTROL, "undo")
    assert contents(with_giant) == before
