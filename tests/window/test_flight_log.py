"""A logger's file is read in the logbook, chosen or dropped, shown beside what was predicted, and kept."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from pytestqt.qtbot import QtBot

from hangar.answers.flight_logs import Course
from hangar.parts import FlightLog, FlightLogTrace
from hangar.window.kit.desk import Desk
from hangar.window.log.course_picture import CoursePicture, differences
from hangar.window.log.flight_log_dialog import FlightLogDialog, dropped_log
from hangar.window.log.log_page import Entry, LogPage, log_key, log_rows
from tests.window.conftest import CODE


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> LogPage:
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
    return made


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Two minutes with a wait of ten seconds in the middle."""
    rows = []
    for at in range(1200):
        amps = 0.2 + (1.6 if at % 37 < 9 else 0.0) + 0.01 * (at % 5)
        if not 600 <= at < 700:
            rows.append(f"{0.1 * at:.1f},{5.2 - 0.15 * amps + 0.002 * (at % 3):.3f},{amps:.2f}")
    path = tmp_path / "sortie.csv"
    path.write_text("\n".join(["Time (s),Bus volts (V),Current (A)", *rows]), encoding="utf-8")
    return path


def dragged(*paths: Path) -> QMimeData:
    """Files as a file manager drags them."""
    made = QMimeData()
    made.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    return made


def read(page: LogPage, log: Path, qtbot: QtBot) -> FlightLogDialog:
    """The dialog once the file is read."""
    dialog = page.time_line.open_flight_log(log)
    assert dialog is not None
    qtbot.waitUntil(lambda: not dialog.is_reading)
    return dialog


def test_a_file_let_go_over_the_log_is_read(page: LogPage, log: Path, qtbot: QtBot) -> None:
    data = dragged(log)
    event = QDropEvent(
        QPointF(20, 20),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    page.time_line.dropEvent(event)
    dialog = page.time_line.findChild(FlightLogDialog)
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.read is not None)
    assert "sortie.csv" in dialog.windowTitle()
    assert "nothing was logged" in dialog.happened.text()
    assert dialog.picture.course is not None
    dialog.reject()


def test_only_one_table_is_taken(log: Path) -> None:
    assert dropped_log(dragged(log)) == log
    assert dropped_log(dragged(log, log.with_name("b.csv"))) is None
    assert dropped_log(dragged(log.with_suffix(".hangar"))) is None


def test_a_log_is_kept_shown_again_and_taken_back(page: LogPage, desk: Desk, log: Path, qtbot: QtBot) -> None:
    dialog = read(page, log, qtbot)
    shown = dialog.happened.text()
    dialog.keep()
    row = next(
        row for row in log_rows(desk.aircraft(CODE), desk.view.reader) if row.entry is Entry.FLIGHT_LOG
    )
    assert "to look at" in row.remark
    page.time_line.table.choose_row(log_key(row))
    assert page.time_line.show_button.isEnabled()
    again = page.time_line.open_kept_log()
    assert again is not None
    assert again.happened.text().splitlines()[0] == shown.splitlines()[0]
    assert again.keep_button.isHidden()
    assert again.picture.course is not None
    again.reject()
    desk.undo()
    assert desk.records(FlightLog, aircraft=CODE) == ()
    assert desk.records(FlightLogTrace, aircraft=CODE) == ()


def test_a_file_kept_already_is_refused_in_a_sentence(
    page: LogPage, desk: Desk, log: Path, qtbot: QtBot
) -> None:
    read(page, log, qtbot).keep()
    second = read(page, log, qtbot)
    second.keep()
    assert "kept already" in second.refusal.text()
    assert len(desk.records(FlightLog, aircraft=CODE)) == 1
    second.reject()


def test_what_is_no_log_is_told_and_cannot_be_kept(page: LogPage, tmp_path: Path, qtbot: QtBot) -> None:
    wrong = tmp_path / "letter.csv"
    wrong.write_text("Dear keeper,\nplease bring the trainer.\n", encoding="utf-8")
    dialog = read(page, wrong, qtbot)
    assert "letter.csv" in dialog.refusal.text()
    assert not dialog.keep_button.isEnabled()
    dialog.keep()
    assert dialog.isVisible()
    dialog.reject()


def test_closing_while_it_reads_asks_for_nothing_more(page: LogPage, log: Path, qtbot: QtBot) -> None:
    dialog = page.time_line.open_flight_log(log)
    assert dialog is not None
    dialog.reject()
    qtbot.wait(300)
    assert page.time_line.findChild(FlightLogDialog) is None


def test_the_picture_draws_what_is_known(desk: Desk, qtbot: QtBot) -> None:
    picture = CoursePicture(desk.view)
    qtbot.addWidget(picture)
    picture.resize(500, 300)
    whole = Course((60.0, 120.0, 180.0), (5.1, None, 4.6), (5.2, 5.0, 4.9), (0.5, None, 3.0))
    assert differences(whole)[0] == pytest.approx(-0.1)
    assert differences(whole)[1] is None
    nothing = Course((60.0, 120.0), (None, None), (None, None), (0.5, 3.0))
    drawn = []
    for course in (whole, nothing, None):
        picture.show_course(course, [90.0])
        drawn.append(picture.grab().toImage())
        assert picture.accessibleDescription()
    assert drawn[0] != drawn[1]
    assert drawn[1] != drawn[2]
    picture.show_course(whole)
    assert "4.6 V measured, 4.9 V predicted" in picture.accessibleDescription()


def test_a_column_that_was_taken_wrongly_is_put_right_and_read_again(
    page: LogPage, tmp_path: Path, qtbot: QtBot
) -> None:
    rows = []
    for at in range(1200):
        busy = float(at % 37 < 9)
        rows.append(f"{0.1 * at:.1f},{5.2 - 0.15 * busy:.3f},{5.6 - 0.1 * busy:.3f},{0.2 + 1.6 * busy:.2f}")
    path = tmp_path / "two-volts.csv"
    path.write_text("\n".join(["Time (s),First V,Second V,Current (A)", *rows]), encoding="utf-8")
    dialog = read(page, path, qtbot)
    assert dialog.read is not None
    assert dialog.read.report.minimum_v == pytest.approx(5.05, abs=0.01)
    choosers = dialog.choosers.columns
    choosers["First V"].setCurrentIndex(choosers["First V"].findData("unused"))
    choosers["Second V"].setCurrentIndex(choosers["Second V"].findData("bus [V]"))
    choosers["Second V"].activated.emit(0)
    qtbot.waitUntil(lambda: not dialog.is_reading)
    assert dialog.read.report.minimum_v == pytest.approx(5.5, abs=0.01)
    dialog.keep()
    again = read(page, path.rename(path.with_name("next.csv")), qtbot)
    assert again.read is not None
    assert again.read.report.minimum_v == pytest.approx(5.5, abs=0.01)
    again.reject()


def test_each_flight_of_a_file_can_be_read_and_kept(
    page: LogPage, tmp_path: Path, qtbot: QtBot, desk: Desk
) -> None:
    rows = []
    for start, volts in ((0.0, 5.2), (2000.0, 5.0)):
        for at in range(1200):
            amps = 0.2 + (1.6 if at % 37 < 9 else 0.0)
            rows.append(f"{start + 0.1 * at:.1f},{volts - 0.15 * amps:.3f},{amps:.2f}")
    path = tmp_path / "two-flights.csv"
    path.write_text("\n".join(["Time (s),Bus volts (V),Current (A)", *rows]), encoding="utf-8")
    dialog = read(page, path, qtbot)
    assert dialog.read is not None
    assert dialog.read.flight.flights == 2
    dialog.keep()
    other = read(page, path, qtbot)
    assert other.read is not None
    wanted = 3 - other.read.flight.number
    other.choosers.flight.setCurrentIndex(wanted - 1)
    other.choosers.flight.activated.emit(wanted - 1)
    qtbot.waitUntil(lambda: not other.is_reading)
    assert other.read.flight.number == wanted
    other.keep()
    assert len(desk.records(FlightLog)) == 2
