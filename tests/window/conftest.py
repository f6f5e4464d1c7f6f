"""A small hand-made fleet on a desk, with its judgement made by the real survey and the real rules."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QComboBox
from pytestqt.qtbot import QtBot

from hangar.acts import files
from hangar.answers.judging import Judgement
from hangar.parts import (
    Airframe,
    Channel,
    Feed,
    Flight,
    Inspection,
    Installation,
    Lead,
    Linkage,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    Position,
    Receiver,
    Record,
    Servo,
    ServoRating,
    ServoType,
    Surface,
)
from hangar.parts.choices import (
    AircraftClass,
    AircraftState,
    Chemistry,
    Drive,
    Function,
    InspectionKind,
    PowerKind,
    ServoState,
    Side,
)
from hangar.store import Fleet
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.records.record_form import FieldEditor
from hangar.window.rooms import Rooms
from hangar.window.start import application, open_window

TODAY = date(2031, 5, 20)
CODE = "LARK"


def servo_type(code: str, torque_nm: float) -> ServoType:
    """A servo type with one rating at 6 V."""
    rating = ServoRating(servo_type=code, rated_v=6.0, torque_nm=torque_nm, transit_s=0.15, stall_a=1.5)
    return ServoType(
        code=code,
        drive=Drive.DIGITAL,
        supply_min_v=4.8,
        supply_max_v=7.4,
        idle_ma=10,
        run_a=0.2,
        ratings=(rating,),
    )


def hand_made_records() -> Iterator[Record]:
    """One aeroplane with a weak rudder servo, two spare servos, and an empty second aeroplane."""
    yield servo_type("TS-A", 0.9)
    yield servo_type("TS-WEAK", 0.02)
    yield Airframe(
        code=CODE,
        name="Lark",
        aircraft_class=AircraftClass.SPORT,
        power=PowerKind.GLOW,
        state=AircraftState.ON_THE_LINE,
        span_mm=1500,
        all_up_mass_g=2500,
        cg_fore_mm=90,
        cg_aft_mm=110,
        dive_speed_m_s=35,
    )
    yield Airframe(code="WREN", name="Wren", aircraft_class=AircraftClass.SAIL_THERMAL)
    yield Receiver(aircraft=CODE, supply_min_v=3.5, supply_max_v=8.4)
    yield from _position("AIL-L", "left aileron", Function.AILERON, Side.LEFT, 1)
    yield from _position("RUD", "rudder", Function.RUDDER, Side.MIDDLE, 4)
    yield Position(aircraft=CODE, code="THR", name="throttle", function=Function.THROTTLE)
    yield Servo(tag="S-001", servo_type="TS-A", state=ServoState.FITTED)
    yield Servo(tag="S-002", servo_type="TS-WEAK", state=ServoState.FITTED)
    yield Servo(tag="S-003", servo_type="TS-A")
    yield Servo(tag="S-004", servo_type="TS-WEAK")
    for tag, position in (("S-001", "AIL-L"), ("S-002", "RUD")):
        yield Installation(servo=tag, aircraft=CODE, position=position, since_on=date(2030, 1, 1))
    yield PackType(code="P-A", chemistry=Chemistry.NIMH, series=5, capacity_mah=2000, cell_mohm=20)
    yield Pack(tag="B-01", pack_type="P-A", cell_mohm=22, cell_mohm_on=date(2031, 1, 1))
    yield Feed(aircraft=CODE, code="RX-A", lead_length_mm=200, lead_awg=22)
    yield PackFit(pack="B-01", aircraft=CODE, feed="RX-A", since_on=date(2030, 1, 1))
    tested_at = datetime.fromisoformat("2031-05-20 09:00")
    yield LoadTest(pack="B-01", tested_at=tested_at, load_a=1.0, rest_v=6.6, loaded_v=6.3)
    yield Flight(aircraft=CODE, flown_on=date(2031, 5, 1), minutes_min=9)
    yield Inspection(
        aircraft=CODE,
        inspected_on=date(2031, 1, 10),
        kind=InspectionKind.YEARLY,
        passed=True,
        next_due_on=date(2032, 1, 10),
    )


def _position(code: str, name: str, function: Function, side: Side, channel: int) -> Iterator[Record]:
    yield Channel(aircraft=CODE, number=channel, function=function)
    yield Surface(
        aircraft=CODE,
        code=f"{code}-S",
        name=name,
        function=function,
        side=side,
        span_mm=400,
        root_chord_mm=60,
        whole_chord_mm=250,
        throw_up_deg=20,
        throw_down_deg=20,
    )
    yield Position(
        aircraft=CODE,
        code=code,
        name=name,
        function=function,
        side=side,
        channel=channel,
        surface=f"{code}-S",
    )
    yield Linkage(aircraft=CODE, position=code, arm_mm=14, horn_mm=16)
    yield Lead(aircraft=CODE, position=code, length_mm=300, awg=26, joints=1)


@pytest.fixture
def expected_faults() -> None:
    """A fault is made on purpose: what is written of it in the log does not fail this test."""


@pytest.fixture(autouse=True)
def no_fault_is_covered_up(
    request: pytest.FixtureRequest, caplog: pytest.LogCaptureFixture
) -> Iterator[None]:
    """A page that fails is covered for the keeper; a test it must fail."""
    yield
    if "expected_faults" not in request.fixturenames:
        records = [get_record for phase in ("setup", "call") for get_record in caplog.get_records(phase)]
        assert [
            record.getMessage() for record in records if record.name.startswith("hangar") and record.exc_info
        ] == []


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented fleet as a file of the name that the window looks for; to be copied, not opened."""
    path = tmp_path_factory.mktemp("demo") / "invented fleet.hangar"
    files.demo_fleet(path).close()
    return path


@pytest.fixture
def view(qtbot: QtBot, tmp_path: Path) -> ViewSettings:
    """Settings of this seat in a file of their own."""
    application()
    return ViewSettings(tmp_path / "window.ini")


@pytest.fixture(scope="session")
def small_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The hand-made fleet as a file; to be copied, not opened."""
    path = tmp_path_factory.mktemp("small") / "small.hangar"
    with Fleet.create(path) as made:
        made.edit("Enter the fleet", lambda edit: edit.put_all(list(hand_made_records())))
    return path


@pytest.fixture
def fleet(tmp_path: Path, small_file: Path) -> Iterator[Fleet]:
    """The hand-made fleet in a file."""
    shutil.copy(small_file, tmp_path / small_file.name)
    with Fleet.open(tmp_path / small_file.name) as made:
        yield made


@pytest.fixture
def desk(fleet: Fleet, view: ViewSettings) -> Iterator[Desk]:
    """A desk with the hand-made fleet."""
    made = Desk(fleet, view, today=lambda: TODAY)
    yield made
    made.stop()


@pytest.fixture
def judgement(desk: Desk) -> Judgement:
    """The hand-made aeroplane, surveyed and judged."""
    return judged(desk)


def judged(desk: Desk) -> Judgement:
    """The hand-made aeroplane as it stands."""
    found = desk.judgement(CODE)
    assert found is not None
    return found


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path, demo_file: Path) -> Iterator[MainWindow]:
    """The whole window with the welcome page, the invented fleet ready beside it."""
    application()
    shutil.copy(demo_file, tmp_path / demo_file.name)
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    made.resize(1400, 880)
    yield made
    made.let_go()


def opened_demo(window: MainWindow, qtbot: QtBot) -> Rooms:
    """The rooms of the invented fleet, every aircraft judged."""
    assert window.files.open_demo()
    desk = window.desk
    assert desk is not None
    qtbot.waitUntil(lambda: all(desk.known(code) is not None for code in desk.codes()))
    assert window.rooms is not None
    return window.rooms


def choose(editor: FieldEditor, words: str) -> None:
    """Choose from the list of a field, as a click does."""
    box = editor.editor
    assert isinstance(box, QComboBox)
    at = box.findText(words)
    box.setCurrentIndex(at)
    box.activated.emit(at)
