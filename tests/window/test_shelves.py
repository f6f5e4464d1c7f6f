"""Stores and Type Library: rooms of tables, used by keys."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QDialog, QLineEdit
from pytestqt.qtbot import QtBot

from hangar.parts import Servo, ServoRating, ServoType
from hangar.window.kit.desk import Desk
from hangar.window.records.shelves import PARTS_BAY, TYPE_LIBRARY, Shelf, rated_columns
from tests.window.conftest import servo_type

TORQUE, SPEED = "Torque at 6 V", "Speed at 6 V"


@pytest.fixture
def library(desk: Desk, qtbot: QtBot) -> Iterator[Shelf]:
    made = Shelf(desk, TYPE_LIBRARY)
    qtbot.addWidget(made)
    made.resize(1000, 500)
    made.show()
    yield made
    made.close()


def test_servo_types_are_compared_at_one_voltage(library: Shelf) -> None:
    table = library.screens[ServoType].table
    assert table.cell(("TS-A",), TORQUE).data() == "0.9 N·m"
    assert table.cell(("TS-A",), SPEED).data() == "0.15 s/60°"


def test_a_type_rated_on_both_sides_lies_between_its_rows() -> None:
    torque, speed = rated_columns()
    rows = (
        ServoRating(servo_type="X", rated_v=4.8, torque_nm=0.8, transit_s=0.20),
        ServoRating(servo_type="X", rated_v=7.4, torque_nm=1.2, transit_s=0.12),
    )
    both = replace(servo_type("X", 1.0), ratings=rows)
    assert torque.raw is not None
    assert speed.raw is not None
    # By hand: 1.2 of 2.6 V above the lower row.
    assert torque.raw(both) == pytest.approx(0.8 + 0.4 * 1.2 / 2.6)
    assert 0.12 < speed.raw(both) < 0.20


def test_outside_its_rated_rows_nothing_is_claimed() -> None:
    torque, _speed = rated_columns()
    high = ServoRating(servo_type="X", rated_v=7.4, torque_nm=1.2, transit_s=0.12)
    assert torque.raw is not None
    assert torque.raw(replace(servo_type("X", 1.0), ratings=(high,))) is None
    assert torque.raw(replace(servo_type("X", 1.0), ratings=())) is None


def test_the_tables_keep_qts_contract_while_rows_come_and_go(library: Shelf, desk: Desk) -> None:
    mode = QAbstractItemModelTester.FailureReportingMode.Fatal
    tester = QAbstractItemModelTester(library.screens[ServoType].table.rows_model, mode)
    desk.change("One more type", lambda edit: edit.put(servo_type("TS-B", 0.5)))
    assert library.screens[ServoType].table.cell(("TS-B",), TORQUE).data() == "0.5 N·m"
    desk.undo()
    assert tester.model() is not None


def test_a_servo_is_added_by_keys_and_removed_with_undo(desk: Desk, qtbot: QtBot) -> None:
    bay = Shelf(desk, PARTS_BAY)
    qtbot.addWidget(bay)
    bay.resize(1000, 500)
    bay.show()
    screen = bay.open_kind(Servo)
    dialog = screen.open_new()
    fields = {edit.accessibleName(): edit for edit in dialog.findChildren(QLineEdit)}
    QTest.keyClicks(fields["Tag"], "S-900")
    kind = next(name for name in fields if "type" in name.lower())
    QTest.keyClicks(fields[kind], "TS-A")
    QTest.keyClick(dialog, Qt.Key.Key_Return)
    assert desk.fleet.record(Servo, "S-900") is not None
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert screen.table.current_row.tag == "S-900"
    screen.table.setFocus()
    screen.remove_chosen()
    assert desk.fleet.record(Servo, "S-900") is None
    desk.undo()
    assert desk.fleet.record(Servo, "S-900") is not None
