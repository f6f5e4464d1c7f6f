"""A keeper's own sheet looked through before it comes in: what is shown, asked, answered and taken back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from hangar.base.errors import BadInput
from hangar.parts import Airframe, Channel, Position, ServoRating
from hangar.parts.choices import Function
from hangar.store import Edit, Fleet
from hangar.store.intake.account import About
from hangar.store.intake.answering import with_column, with_said
from hangar.store.intake.reading import Answers
from hangar.store.rehearsal import Heard, Rehearsal, rehearsal_of
from hangar.window.bring_in.cell_looks import CELL_LOOKS, DOUBTED, LEFT, READ, UNUSED
from hangar.window.bring_in.grid_model import STATE_ROLE
from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog
from hangar.window.kit.looks import LOOKS, contrast
from hangar.window.main_window import MainWindow
from hangar.window.start import application, open_window

TODAY = date(2026, 3, 14)
LINES = (
    "My aircraft, spring list;;;;;;",
    "Model;Ch;Function;Servo;Type;Torque at 6 V;Fitted",
    "Windrush;1;left aileron;TE-20;digital;25;3/4/2019",
    "Windrush;2;elevator;TE-30;digital;30;5/6/2019",
    "Windrush;4;rudder;TE-20;digital;25;7/8/2019",
    "Marlet;1;aileron;TE-40;analog;22;?",
)
Sheet = Callable[..., Path]
R = TypeVar("R")


@pytest.fixture
def sheet(tmp_path: Path) -> Sheet:
    def write(*lines: str, name: str = "list.csv") -> Path:
        path = tmp_path / name
        path.write_text("\n".join(lines or LINES), encoding="utf-8")
        return path

    return write


@pytest.fixture
def shown(qtbot: QtBot, sheet: Sheet) -> RehearsalDialog:
    application()
    return dialog_of(qtbot, sheet())


def dialog_of(qtbot: QtBot, path: Path, fleet: Fleet | None = None) -> RehearsalDialog:
    made = rehearsal_of(fleet, [path], TODAY)
    assert made is not None
    dialog = RehearsalDialog(made, made.heard(made.before.answers), lambda: LOOKS["light"])
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def state_at(dialog: RehearsalDialog, row: int, column: int) -> str | None:
    model = dialog.sheet.grid_model
    return model.index(row - 1, column - 1).data(STATE_ROLE)  # type: ignore[no-any-return]


def settled(qtbot: QtBot, dialog: RehearsalDialog) -> None:
    qtbot.waitUntil(lambda: not dialog.is_reading)


def made_of(dialog: RehearsalDialog, kind: type[R]) -> list[R]:
    return [record for record, _ in dialog.heard.fitting.records() if isinstance(record, kind)]


def open_keys(dialog: RehearsalDialog) -> list[str]:
    return [question.key for question in dialog.heard.reading.account.questions()]


def tree_words(dialog: RehearsalDialog) -> list[str]:
    found = []
    for at in range(dialog.tree.topLevelItemCount()):
        item = dialog.tree.topLevelItem(at)
        assert item is not None
        found.append(item.text(0))
        found += [part.text(0) for part in (item.child(n) for n in range(item.childCount())) if part]
    return found


def test_every_cell_wears_what_became_of_it(shown: RehearsalDialog) -> None:
    assert state_at(shown, 3, 4) == READ
    assert state_at(shown, 3, 6) == state_at(shown, 6, 7) == DOUBTED
    assert state_at(shown, 1, 1) in (UNUSED, LEFT)
    assert state_at(shown, 1, 2) is None
    model = shown.sheet.grid_model
    words = model.index(2, 5).data(Qt.ItemDataRole.AccessibleTextRole)
    assert words == "F3: 25, doubted: is a torque without a unit"


def test_words_and_marks_of_cells_keep_their_contrast() -> None:
    assert set(CELL_LOOKS) == set(LOOKS)
    for looks in CELL_LOOKS.values():
        assert set(looks) == {READ, DOUBTED, UNUSED, LEFT}
        for look in looks.values():
            assert contrast(look.ink, look.paper) >= 4.5
            assert contrast(look.mark, look.paper) >= 3.0


def test_over_each_column_stands_what_it_is_taken_for(shown: RehearsalDialog) -> None:
    words = [shown.sheet.roles.words(at) for at in range(7)]
    assert words == [
        *("Aircraft", "Channel", "Function", "Servo", "Analog or digital", "Stall torque", "Fitted on"),
    ]


def test_a_question_is_answered_by_one_click_and_taken_back(shown: RehearsalDialog, qtbot: QtBot) -> None:
    panel = shown.questions
    unit = next(
        question for question in shown.heard.reading.account.questions() if question.about is About.UNIT
    )
    panel.go_to(unit.key)
    assert panel.asked.text() == (
        "“25”, “30”, “25” and 1 more below “Torque at 6 V”: In which unit are these figures?"
    )
    words = [str(choice.words) for choice in panel.choices]
    assert words[0] == "kgf·cm"
    assert "ozf·in" in words
    assert str(panel.choices[0].effect) == "25 is 2.45 N·m"
    panel.answer(words.index("ozf·in"))
    settled(qtbot, shown)
    assert unit.key not in open_keys(shown)
    assert state_at(shown, 3, 6) == READ
    torques = {rating.servo_type: rating.torque_nm for rating in made_of(shown, ServoRating)}
    # 1 ozf = 0.028349523125 kg x 9.80665 m/s2, 1 in = 25.4 mm: definitions.
    assert torques["TE-20"] == pytest.approx(25 * 0.028349523125 * 9.80665 * 0.0254, abs=1e-6)
    shown.undo()
    settled(qtbot, shown)
    assert unit.key in open_keys(shown)
    assert state_at(shown, 3, 6) == DOUBTED


def test_the_order_of_days_settles_all_days(shown: RehearsalDialog, qtbot: QtBot) -> None:
    shown.questions.go_to("day order")
    assert [str(choice.effect) for choice in shown.questions.choices] == [
        "3/4/2019 is 2019-04-03",
        "3/4/2019 is 2019-03-04",
    ]
    shown.questions.answer(1)
    settled(qtbot, shown)
    assert "day order" not in open_keys(shown)
    assert any("since 2019-03-04" in line for line in tree_words(shown))


def test_classes_are_said_for_the_chosen_aircraft_together(shown: RehearsalDialog, qtbot: QtBot) -> None:
    panel = shown.questions
    panel.go_to("class")
    assert panel.cells.count() == 2
    panel.kind.setCurrentIndex(panel.kind.findData("sport"))
    panel.drive.setCurrentIndex(panel.drive.findData("glow"))
    panel._say_classes()
    settled(qtbot, shown)
    assert "class" not in open_keys(shown)
    assert {(plane.aircraft_class, plane.power) for plane in shown.heard.reading.facts.planes.values()} == {
        ("sport", "glow")
    }


def test_the_chooser_over_a_column_says_role_and_unit(shown: RehearsalDialog, qtbot: QtBot) -> None:
    shown.sheet.choose_role(5)
    menu = shown.sheet.findChild(QMenu)
    assert menu is not None
    torque = next(action for action in menu.actions() if action.text() == "Stall torque")
    below = torque.menu()
    assert isinstance(below, QMenu)
    next(action for action in below.actions() if action.text() == "N·cm").trigger()
    menu.close()
    settled(qtbot, shown)
    assert shown.sheet.roles.words(5) == "Stall torque [N·cm]"
    shown.sheet.choose_role(3)
    menu = shown.sheet.findChildren(QMenu, options=Qt.FindChildOption.FindDirectChildrenOnly)[-1]
    next(action for action in menu.actions() if action.text() == "Not used").trigger()
    menu.close()
    settled(qtbot, shown)
    assert shown.sheet.roles.words(3) == "Not used"
    assert state_at(shown, 3, 4) == LEFT


def test_what_is_chosen_beside_the_sheet_is_lit_in_it_and_back(shown: RehearsalDialog) -> None:
    item = shown.tree.topLevelItem(0)
    assert item is not None
    shown.tree.setCurrentItem(item)
    assert shown.sheet.painter.lit == {(3, 1)}
    shown.sheet.setCurrentIndex(shown.sheet.grid_model.index(3, 2))
    current = shown.tree.currentItem()
    assert current is not None
    assert current.text(0).startswith("channel 2: elevator")


def test_a_sheet_on_its_side_has_its_choosers_beside_it(qtbot: QtBot, sheet: Sheet) -> None:
    application()
    path = sheet(
        ";Vela 2m;Upupa;Zigolo",
        "Span (mm);2050;1680;1500",
        "Ch 1;left aileron TE-20;aileron TE-30;aileron TE-20",
        "Ch 2;elevator TE-20;elevator TE-30;elevator TE-20",
        "Ch 3;throttle TE-20;throttle TE-20;throttle TE-20",
        "Ch 4;rudder TE-20;rudder TE-30;rudder TE-20",
    )
    dialog = dialog_of(qtbot, path)
    assert dialog.sheet.grid_model.lies_on_its_side
    assert not dialog.sheet.roles.has_roles
    assert dialog.sheet.sides.words(1) == "Span [mm]"
    assert dialog.sheet.sides.words(2) == "What is on the channel"


@pytest.mark.parametrize("answer", ["leave it out", "keep it as passed on"])
def test_what_was_passed_on_is_left_out_or_kept_as_such(tmp_path: Path, sheet: Sheet, answer: str) -> None:
    path = sheet("Modell;Kanal;Funktion;Servo", "Windrush;1;Querruder;TE-20", "VERKAUFT 2019:;;;",
                 "Marlet;1;Querruder;TE-20")  # fmt: skip
    made = rehearsal_of(None, [path], TODAY)
    assert made is not None
    heard = made.heard(with_said(Answers(), "gone", answer))
    states = {
        record.name: record.state.value
        for record, _ in heard.fitting.records()
        if isinstance(record, Airframe)
    }
    kept = {"Marlet": "passed on"} if answer == "keep it as passed on" else {}
    assert states == {"Windrush": "on the bench"} | kept
    assert "gone" not in [question.key for question in heard.reading.account.questions()]


def test_names_that_are_one_aircraft_become_one(sheet: Sheet) -> None:
    path = sheet("Model;Ch;Function;Servo", "Windrush;1;aileron;TE-20", "Windrusch;4;rudder;TE-20")
    made = rehearsal_of(None, [path], TODAY)
    assert made is not None
    (asked,) = [
        question
        for question in made.heard(Answers()).reading.account.questions()
        if question.about is About.NAME
    ]
    heard = made.heard(with_said(Answers(), asked.key, "one aircraft"))
    assert [plane.name for plane in heard.reading.facts.planes.values()] == ["Windrush"]
    heard = made.heard(with_said(Answers(), asked.key, "two aircraft"))
    assert len(heard.reading.facts.planes) == 2
    assert asked.key not in [question.key for question in heard.reading.account.questions()]


def test_a_column_is_no_other_s_role_once_it_is_said(sheet: Sheet) -> None:
    path = sheet("Model;No;Ch;Function;Servo", "Windrush;1;3;aileron;TE-20", "Windrush;2;4;rudder;TE-20")
    made = rehearsal_of(None, [path], TODAY)
    assert made is not None
    heard = made.heard(with_column(Answers(), "No", "channel"))
    roles = {column.heading: column.role for column in heard.reading.tables[0].columns.values()}
    assert roles["No"] == "channel"
    assert roles["Ch"] != "channel"
    channels = {record.channel for record, _ in heard.fitting.records() if isinstance(record, Position)}
    assert channels == {1, 2}


def test_a_fleet_that_is_only_read_takes_nothing_whatever_is_answered(
    shown: RehearsalDialog, qtbot: QtBot
) -> None:
    shown.only_look()
    shown.questions.answer(0)
    settled(qtbot, shown)
    assert not shown.take_button.isEnabled()
    assert "open for reading only" in shown.message.text()


def test_an_answer_that_fails_is_told_and_taken_back(
    shown: RehearsalDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_self: Rehearsal, _answers: Answers) -> Heard:
        raise BadInput("It cannot be read so.")

    monkeypatch.setattr(Rehearsal, "heard", broken)
    before = open_keys(shown)
    shown.questions.answer(0)
    settled(qtbot, shown)
    assert shown.message.text() == "It cannot be read so."
    assert shown.take_button.isEnabled()
    assert not shown.undo_button.isEnabled()
    assert open_keys(shown) == before


# -- in the window -----------------------------------------------------------------------------------------


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    made.show_welcome()
    yield made
    made.let_go()


def rehearsed(window: MainWindow, qtbot: QtBot, path: Path) -> RehearsalDialog:
    window.files.rehearse([path])
    qtbot.waitUntil(lambda: window.files.bringing.dialog is not None)
    dialog = window.files.bringing.dialog
    assert dialog is not None
    return dialog


def test_nothing_is_left_behind_when_the_keeper_stops(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, sheet: Sheet
) -> None:
    path = sheet()
    before = {path for path in tmp_path.rglob("*") if path.suffix != ".ini"}
    dialog = rehearsed(window, qtbot, path)
    dialog.questions.answer(0)
    settled(qtbot, dialog)
    QTest.mouseClick(dialog.stop_button, Qt.MouseButton.LeftButton)
    assert window.desk is None
    assert {path for path in tmp_path.rglob("*") if path.suffix != ".ini"} == before


def test_it_comes_in_as_one_step_and_is_read_so_next_year(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, sheet: Sheet
) -> None:
    assert window.files.new_at(tmp_path / "club.hangar")
    dialog = rehearsed(window, qtbot, sheet())
    unit = next(
        question for question in dialog.heard.reading.account.questions() if question.about is About.UNIT
    )
    dialog.questions.go_to(unit.key)
    dialog.questions.answer(0)
    settled(qtbot, dialog)
    assert window.desk is not None
    with qtbot.waitSignal(dialog.accepted):
        QTest.mouseClick(dialog.take_button, Qt.MouseButton.LeftButton)
    fleet = window.desk.fleet
    torques = {rating.servo_type: rating.torque_nm for rating in fleet.records(ServoRating)}
    assert len(fleet.records(Airframe)) == 2
    window.undo()
    assert fleet.records(Airframe) == ()
    window.redo()
    # A year later a servo sits on another channel: what was said of the columns still holds.
    window.files.bringing.dialog = None
    changed = [line.replace("Windrush;4;rudder", "Windrush;6;rudder") for line in LINES]
    later = rehearsed(window, qtbot, sheet(*changed))
    assert "read as you said then" in later.message.text()
    assert unit.key not in open_keys(later)
    assert tree_words(later)[:2] == ["Changes in the fleet", "Windrush rudder middle, channel: 4 -> 6"]
    with qtbot.waitSignal(later.accepted):
        QTest.mouseClick(later.take_button, Qt.MouseButton.LeftButton)
    rudder = next(position for position in fleet.records(Position) if position.code == "RUD")
    assert rudder.channel == 6
    assert {rating.servo_type: rating.torque_nm for rating in fleet.records(ServoRating)} == torques


def move(fleet: Fleet, code: str, place: str, channel: int) -> None:
    """Put a position on another channel."""

    def work(edit: Edit) -> None:
        edit.put(Channel(aircraft=code, port="main", number=channel, function=Function.RUDDER))
        edit.change(Position, (code, place), channel=channel, port="main")

    fleet.edit("move", work)


def test_where_sheet_and_fleet_differ_each_difference_is_answered(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, sheet: Sheet
) -> None:
    assert window.files.new_at(tmp_path / "club.hangar")
    dialog = rehearsed(window, qtbot, sheet())
    with qtbot.waitSignal(dialog.accepted):
        QTest.mouseClick(dialog.take_button, Qt.MouseButton.LeftButton)
    assert window.desk is not None
    fleet = window.desk.fleet
    code = next(airframe.code for airframe in fleet.records(Airframe) if airframe.name == "Windrush")
    for place, channel in (("RUD", 7), ("ELE", 8)):
        move(fleet, code, place, channel)
    window.files.bringing.dialog = None
    changed = [line.replace(";4;rudder", ";6;rudder").replace(";2;elev", ";5;elev") for line in LINES]
    later = rehearsed(window, qtbot, sheet(*changed))
    panel = later.questions
    panel.go_to("changed")
    assert [panel.cells.item(row).text() for row in range(panel.cells.count())] == [
        "Windrush elevator middle, channel: 8 -> 5",
        "Windrush rudder middle, channel: 7 -> 6",
    ]
    panel.cells.clearSelection()
    panel.cells.setCurrentRow(1)
    panel.answer(1)
    settled(qtbot, later)
    assert "changed" in open_keys(later)
    panel.go_to("changed")
    assert panel.cells.count() == 1
    panel.cells.selectAll()
    panel.answer(0)
    settled(qtbot, later)
    assert "changed" not in open_keys(later)
    with qtbot.waitSignal(later.accepted):
        QTest.mouseClick(later.take_button, Qt.MouseButton.LeftButton)
    assert {position.code: position.channel for position in fleet.records(Position, aircraft=code)} == {
        "AIL-L": 1, "ELE": 8, "RUD": 6,
    }  # fmt: skip
