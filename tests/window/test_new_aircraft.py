"""A new aircraft from its layout, a copy, and fitting out: what the pages show, take and refuse."""

from __future__ import annotations

from functools import partial

import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe, Lead, Linkage, Pack, Position, Servo, ServoType, Stabiliser, Switch
from hangar.parts.choices import PowerKind
from hangar.store import Edit
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.still_boxes import ListBox
from hangar.window.new_aircraft.fit_out_page import FitOutPage
from hangar.window.new_aircraft.kit_page import KitPage
from hangar.window.new_aircraft.workbench import Workbench
from tests.window.conftest import CODE


@pytest.fixture
def bench(desk: Desk, qtbot: QtBot) -> Workbench:
    made = Workbench(desk)
    qtbot.addWidget(made)
    made.resize(1280, 720)
    made.show()
    return made


def pick(box: ListBox, words: str) -> None:
    at = box.findText(words)
    assert at >= 0, words
    box.setCurrentIndex(at)
    box.activated.emit(at)


def begun(bench: Workbench, words: str) -> KitPage:
    bench.begin_kit()
    pick(bench.kit.questions.kind, words)
    return bench.kit


def fitting(bench: Workbench, desk: Desk) -> FitOutPage:
    begun(bench, "Helicopter, piston engine").questions.name.setText("Merlane 61")
    bench.kit.questions.code.setText("MER61")
    bench.kit.enter()
    return bench.fit_out


def line(field: object) -> QLineEdit:
    inner = getattr(field, "editor", field)
    assert isinstance(inner, QLineEdit)
    return inner


def test_nothing_is_proposed_before_a_class_is_chosen_and_no_power_that_it_does_not_name(
    bench: Workbench,
) -> None:
    bench.begin_kit()
    assert bench.kit.kit is None
    assert not bench.kit.enter_button.isEnabled()
    page = begun(bench, "Turbine jet")
    assert page.kit is not None
    assert page.kit.power is PowerKind.TURBINE
    page = begun(bench, "Giant-scale aeroplane")
    assert page.kit is not None
    assert page.kit.power is None
    pick(page.questions.boxes["drive"], "Petrol")
    assert page.kit.power is PowerKind.PETROL


def test_a_dot_and_a_channel_are_corrected_before_anything_is_entered(bench: Workbench, desk: Desk) -> None:
    page = begun(bench, "Helicopter, piston engine")
    page.plan.dot_moved.emit("CYC-2", 0.7, 0.3)
    cell = page.table.cell("CYC-2", "Ch.")
    assert page.table.model().setData(cell, "8")
    pick(page.questions.boxes["swashplate"], "140°")
    assert page.kit is not None
    kept = next(place for place in page.kit.places if place.code == "CYC-2")
    assert kept.at == (0.7, 0.3)
    page.questions.name.setText("Merlane 61")
    assert desk.fleet.undo_label is None or "Merlane" not in str(desk.fleet.undo_label)
    page.enter()
    position = desk.fleet.record(Position, "MERL61", "CYC-2")
    assert position is not None
    assert (position.plan_x, position.plan_y) == (0.7, 0.3)


def test_a_channel_that_is_taken_is_refused_in_one_sentence(bench: Workbench, desk: Desk) -> None:
    page = begun(bench, "Helicopter, piston engine")
    lines: list[str] = []
    desk.trouble.connect(lambda fault: lines.append(str(fault)))
    page.table.model().setData(page.table.cell("CYC-2", "Ch."), "1")
    assert lines == ["Channel 1 is that of CYC-1; choose a free one or change that first."]
    assert page.kit is not None
    assert next(place for place in page.kit.places if place.code == "CYC-2").channel == 2


def test_a_code_that_is_in_use_is_refused_and_what_was_typed_stays(bench: Workbench, desk: Desk) -> None:
    page = begun(bench, "Sport aeroplane")
    page.questions.code.setText(CODE)
    page.enter()
    assert page.refusal.text() == f"There is an aircraft {CODE} already; choose another code."
    assert page.questions.code.text() == CODE
    page.questions.code.setText("LARK2")
    page.enter()
    assert desk.fleet.record(Airframe, "LARK2") is not None
    assert bench.currentWidget() is bench.fit_out


def test_what_was_not_measured_stays_not_known(bench: Workbench, desk: Desk) -> None:
    page = begun(bench, "Sport aeroplane")
    page.questions.code.setText("NEW1")
    line(page.questions.span).setText("1.6 m")
    page.enter()
    frame = desk.fleet.record(Airframe, "NEW1")
    assert frame is not None
    assert (frame.span_mm, frame.all_up_mass_g, frame.power) == (1600, None, None)
    assert "still unknown" in bench.fit_out.unknown.text()


def test_places_without_a_servo_are_chosen_by_function_and_the_next_ones_follow(
    bench: Workbench, desk: Desk
) -> None:
    page = fitting(bench, desk)
    assert list(page.chosen) == ["CYC-1", "CYC-2", "CYC-3"]
    assert page.servos.main.text() == "Fit 3"
    page.servos.type.setEditText("TS-A")
    assert page.servos.new_type.isHidden()
    assert page.servos.aside.text() == "3 wanted, 1 in Stores"
    page.servos.submit()
    assert list(page.chosen) == ["TAIL"]
    tags = {fit.code: fit.tag for fit in desk.aircraft("MER61").fits}
    assert tags == {"CYC-1": "S-003", "CYC-2": "S-005", "CYC-3": "S-006", "TAIL": None}
    assert "Ctrl+Z takes it back" in page.message.text()
    desk.undo()
    assert all(fit.tag is None for fit in desk.aircraft("MER61").fits)
    servo = desk.fleet.record(Servo, "S-003")
    assert servo is not None
    assert servo.state == "in the bay"


def test_a_type_that_the_library_lacks_is_asked_for_in_the_same_panel(bench: Workbench, desk: Desk) -> None:
    page = fitting(bench, desk)
    page.servos.type.setEditText("OF-D620")
    assert not page.servos.new_type.isHidden()
    line(page.servos.rating["torque_nm"]).setText("0.9 Nm")
    page.servos.submit()
    assert page.servos.rating["rated_v"].refusal == "At which volts? A rating belongs to volts."
    assert desk.fleet.record(ServoType, "OF-D620") is None
    line(page.servos.rating["rated_v"]).setText("banana")
    page.servos.submit()
    assert "banana" in page.servos.rating["rated_v"].refusal
    line(page.servos.rating["rated_v"]).setText("6")
    page.servos.submit()
    kind = desk.fleet.record(ServoType, "OF-D620")
    assert kind is not None
    assert [rating.rated_v for rating in kind.ratings] == [6.0]
    assert kind.drive is None
    assert page.servos.new_type.isHidden()


def test_enter_in_a_field_does_the_panels_act(bench: Workbench, desk: Desk) -> None:
    page = fitting(bench, desk)
    page.servos.type.setEditText("TS-A")
    line(page.servos.arm).setText("14")
    QTest.keyClick(line(page.servos.arm), Qt.Key.Key_Return)
    arms = {linkage.position: linkage.arm_mm for linkage in desk.records(Linkage, aircraft="MER61")}
    assert arms == {"CYC-1": 14, "CYC-2": 14, "CYC-3": 14, "TAIL": None}


def test_a_pack_is_refused_until_it_is_told_what_it_is(bench: Workbench, desk: Desk) -> None:
    page = fitting(bench, desk)
    page.pack.pack.setEditText("something")
    page.pack.submit()
    assert "does not tell what pack it is" in page.pack.refusal.text()
    page.pack.pack.setEditText("NiMH 5 cells 1500 mAh")
    page.pack.switch.setEditText("EL-15")
    page.pack.submit()
    assert "say what kind of switch it is" in page.pack.refusal.text()
    page.pack.switch_kind.setCurrentIndex(page.pack.switch_kind.findText("Electronic"))
    page.pack.submit()
    assert page.pack.refusal.text() == ""
    (switch,) = desk.records(Switch, aircraft="MER61")
    assert switch.switch_type == "EL-15"
    assert desk.fleet.record(Pack, "B-02") is not None


def test_a_gyro_is_told_where_it_stands(bench: Workbench, desk: Desk) -> None:
    page = fitting(bench, desk)
    assert page.gyro.code.value == "GYRO"
    line(page.gyro.fields["model_type"]).setText("HG-2")
    page.gyro.submit()
    (gyro,) = desk.records(Stabiliser, aircraft="MER61")
    assert (gyro.model_type, gyro.supply_min_v) == ("HG-2", None)


def test_a_copy_goes_on_to_be_fitted_out(bench: Workbench, desk: Desk) -> None:
    bench.begin_copy(CODE)
    panel = bench.copy.panel
    assert panel.source.currentData() == CODE
    panel.name.setText("Lark Two")
    assert panel.code.placeholderText() == "LARK2"
    panel.submit()
    assert bench.currentWidget() is bench.fit_out
    assert bench.fit_out.code == "LARK2"
    assert all(fit.servo is None for fit in desk.aircraft("LARK2").fits)
    desk.undo()
    assert "LARK2" not in desk.codes()
    assert bench.fit_out.code == ""


def test_an_empty_fleet_shows_three_ways_on(desk: Desk, qtbot: QtBot) -> None:
    flight_line = FlightLine(desk)
    qtbot.addWidget(flight_line)
    flight_line.show()
    assert not flight_line.none_yet.isVisible()
    for code in desk.codes():
        desk.edit("Remove", partial(Edit.remove, kind=Airframe, key=(code,)))
    assert flight_line.none_yet.isVisible()
    wanted: list[str] = []
    desk.entry_wanted.connect(wanted.append)
    for button in (flight_line.none_yet.new, flight_line.none_yet.table, flight_line.none_yet.demo):
        button.click()
    assert wanted == ["kit", "table", "demo"]


def test_a_value_is_filled_down_and_positions_are_copied(bench: Workbench, desk: Desk) -> None:
    page = fitting(bench, desk)
    page.fill_down()
    assert "put the cursor on arm" in page.message.text()
    assert page.table.model().setData(page.table.cell("CYC-1", "Lead"), "300")
    page.choose(("CYC-1", "CYC-2", "CYC-3"))
    page.table.selectionModel().setCurrentIndex(
        page.table.cell("CYC-1", "Lead"), QItemSelectionModel.SelectionFlag.NoUpdate
    )
    QTest.mouseClick(page.fill_button, Qt.MouseButton.LeftButton)
    leads = {lead.position: lead.length_mm for lead in desk.records(Lead, aircraft="MER61")}
    assert leads == {"CYC-1": 300, "CYC-2": 300, "CYC-3": 300}
    page.choose(("TAIL",))
    QTest.mouseClick(page.copy_button, Qt.MouseButton.LeftButton)
    assert desk.aircraft("MER61").fit("TAIL-2") is not None
    desk.undo()
    assert desk.aircraft("MER61").fit("TAIL-2") is None


def test_what_an_act_means_is_said_below(bench: Workbench, desk: Desk, qtbot: QtBot) -> None:
    page = fitting(bench, desk)
    desk.judgement("MER61")
    page.servos.type.setEditText("TS-A")
    page.servos.submit()
    qtbot.waitUntil(lambda: desk.known("MER61") is not None)
    qtbot.waitUntil(lambda: page.meaning.text() != "")
    assert "finding" in page.meaning.text() or "new:" in page.meaning.text()
