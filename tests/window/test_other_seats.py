"""What others write is read again by itself; what clashes is told, and the typed value stays."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe
from hangar.store import Fleet
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.other_seats import OtherSeats
from hangar.window.records.record_form import RecordForm
from hangar.window.start import application, open_window
from tests.window.conftest import CODE

OFTEN_MS = 20


@pytest.fixture
def reader(fleet: Fleet, view: ViewSettings) -> Iterator[Desk]:
    """A desk that reads the hand-made fleet beside its writer."""
    assert fleet.path is not None
    with Fleet.open(fleet.path) as beside:
        desk = Desk(beside, view)
        yield desk
        desk.stop()
        desk.deleteLater()


def test_what_the_writer_changed_is_read_again(reader: Desk, fleet: Fleet, qtbot: QtBot) -> None:
    assert reader.aircraft(CODE).airframe.name == "Lark"
    OtherSeats(reader, OFTEN_MS)
    with qtbot.waitSignal(reader.touched) as blocker:
        fleet.edit("Rename", lambda edit: edit.change(Airframe, (CODE,), name="Skylark"))
    assert "airframe" in blocker.args[0]
    assert reader.aircraft(CODE).airframe.name == "Skylark"
    with qtbot.waitSignal(reader.touched):
        fleet.undo()
    assert reader.aircraft(CODE).airframe.name == "Lark"


def test_nothing_is_read_again_while_nobody_writes(reader: Desk, qtbot: QtBot) -> None:
    seats = OtherSeats(reader, OFTEN_MS)
    touched: list[object] = []
    reader.touched.connect(touched.append)
    with qtbot.waitSignals([seats.timer.timeout] * 3):
        pass
    assert touched == []


def test_only_trouble_that_lasts_is_told_and_once(reader: Desk, qtbot: QtBot) -> None:
    troubles: list[Exception] = []
    reader.trouble.connect(troubles.append)
    seats = OtherSeats(reader, OFTEN_MS)
    reader.fleet.close()
    with qtbot.waitSignals([seats.timer.timeout] * 5):
        pass
    assert [str(fault) for fault in troubles] == ["The fleet is closed."]


def test_only_a_shared_fleet_is_asked_after_and_no_timer_outlives_it(
    fleet: Fleet, qtbot: QtBot, tmp_path: Path
) -> None:
    application()
    window = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(window)
    assert window.files.new_at(tmp_path / "own.hangar")
    assert window.findChildren(OtherSeats) == []
    timers = count_timers(window)
    for _ in range(3):
        assert window.files.open_place(str(fleet.path))
        assert len(window.findChildren(OtherSeats)) == 1
        assert window.files.open_place(str(tmp_path / "own.hangar"))
        qtbot.waitUntil(lambda: window.findChildren(OtherSeats) == [])
    assert count_timers(window) == timers
    window.let_go()


def count_timers(window: MainWindow) -> int:
    gc.collect()
    return len(window.findChildren(QTimer))


def test_a_value_typed_but_not_saved_outlasts_what_others_change(desk: Desk, qtbot: QtBot) -> None:
    form = RecordForm(Airframe, desk.view, ["name", "span_mm"])
    qtbot.addWidget(form)
    form.show_record(desk.aircraft(CODE).airframe)
    name, span = form.editor("name").editor, form.editor("span_mm").editor
    assert isinstance(name, QLineEdit)
    assert isinstance(span, QLineEdit)
    name.end(False)
    QTest.keyClicks(name, " II")
    desk.edit("Widen", lambda edit: edit.change(Airframe, (CODE,), span_mm=1600, name="Wren"))
    form.show_record(desk.aircraft(CODE).airframe)
    assert (name.text(), span.text()[:4]) == ("Lark II", "1600")
    with qtbot.waitSignal(form.entered) as blocker:
        name.editingFinished.emit()
    assert blocker.args == ["name", "Lark II"]
    desk.edit("Rename", lambda edit: edit.change(Airframe, (CODE,), name="Lark II"))
    form.show_record(desk.aircraft(CODE).airframe)
    desk.undo()
    form.show_record(desk.aircraft(CODE).airframe)
    assert name.text() == "Wren"
