"""Forms made from field specifications: what is refused stands beside its field."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QTableView
from pytestqt.qtbot import QtBot

from hangar.base.part_day import UNKNOWN_DAY, part_day
from hangar.base.units import IMPERIAL
from hangar.parts import (
    Accessory,
    Airframe,
    Channel,
    Feed,
    Flight,
    Installation,
    Lead,
    Linkage,
    PackFit,
    Position,
    Receiver,
    Regulator,
    Rotor,
    Servo,
    ServoType,
    Stabiliser,
    Surface,
    Switch,
)
from hangar.parts.choices import AircraftState
from hangar.parts.fields import columns, key_of
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.airframe.particulars_page import GROUPS, ParticularsPage
from hangar.window.kit.desk import Desk
from hangar.window.positions.new_position import NewPositionDialog
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.records.record_form import FieldEditor, RecordForm
from hangar.window.records.records_screen import RecordsScreen
from tests.scenes import tab_scenes
from tests.window.conftest import CODE, choose


def _page(desk: Desk, qtbot: QtBot) -> ParticularsPage:
    page = ParticularsPage(desk)
    qtbot.addWidget(page)

    def show() -> None:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        page.show_judgement(judgement)

    desk.touched.connect(show)
    show()
    return page


def _editor(page: ParticularsPage, name: str) -> FieldEditor:
    return page.forms[name].editor(name)


def _type(page: ParticularsPage, name: str, text: str) -> None:
    editor = _editor(page, name).editor
    editor.setText(text)  # type: ignore[union-attr]
    editor.editingFinished.emit()  # type: ignore[union-attr]


def test_every_field_of_an_airframe_is_on_the_form_once() -> None:
    names = [name for _title, group in GROUPS for name in group]
    assert sorted(names) == sorted(spec.name for spec in columns(Airframe))


def test_a_typed_value_is_stored_and_undone(desk: Desk, qtbot: QtBot) -> None:
    page = _page(desk, qtbot)
    _type(page, "span_mm", "60 in")
    assert desk.aircraft(CODE).airframe.span_mm == 1524.0
    assert _editor(page, "span_mm").editor.text() == "1524 mm"  # type: ignore[union-attr]
    assert str(desk.undo_label) == "Change span of aircraft LARK"
    desk.undo()
    assert _editor(page, "span_mm").editor.text() == "1500 mm"  # type: ignore[union-attr]


def test_a_refused_value_says_why_beside_its_field(desk: Desk, qtbot: QtBot) -> None:
    page = _page(desk, qtbot)
    _type(page, "span_mm", "40 m")
    assert _editor(page, "span_mm").refusal == "Span is 40000 mm; allowed is 100 mm to 12000 mm."
    assert desk.aircraft(CODE).airframe.span_mm == 1500
    _type(page, "span_mm", "1500 mm")
    assert _editor(page, "span_mm").refusal == ""


def test_a_check_across_fields_is_told_beside_the_field_changed(desk: Desk, qtbot: QtBot) -> None:
    page = _page(desk, qtbot)
    _type(page, "cg_fore_mm", "130")
    assert "fore balance limit must lie before the aft one" in _editor(page, "cg_fore_mm").refusal
    assert desk.aircraft(CODE).airframe.cg_fore_mm == 90


def test_leaving_a_field_untouched_changes_nothing(desk: Desk, qtbot: QtBot) -> None:
    page = _page(desk, qtbot)
    desk.choose_units(IMPERIAL)
    before = desk.undo_label
    for name in ("span_mm", "all_up_mass_g", "dive_speed_m_s"):
        _editor(page, name).editor.editingFinished.emit()  # type: ignore[union-attr]
    assert str(desk.undo_label) == before
    assert desk.aircraft(CODE).airframe.span_mm == 1500


def test_a_list_offers_words_and_stores_the_choice(desk: Desk, qtbot: QtBot) -> None:
    page = _page(desk, qtbot)
    box = _editor(page, "state").editor
    at = box.findText("Laid up")  # type: ignore[union-attr]
    box.setCurrentIndex(at)  # type: ignore[union-attr]
    box.activated.emit(at)  # type: ignore[union-attr]
    assert desk.aircraft(CODE).airframe.state is AircraftState.LAID_UP


def test_a_new_record_is_added_as_one_step(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Flight, {"aircraft": CODE})
    qtbot.addWidget(dialog)
    dialog.form.editor("flown_on").editor.setText("2031-05-20")  # type: ignore[union-attr]
    dialog.form.editor("minutes_min").editor.setText("8,5 min")  # type: ignore[union-attr]
    dialog.save()
    assert dialog.result() == RecordDialog.DialogCode.Accepted
    assert [flight.minutes_min for flight in desk.aircraft(CODE).flights] == [9, 8.5]
    desk.undo()
    assert len(desk.aircraft(CODE).flights) == 1


def test_the_first_field_of_a_new_record_has_the_focus(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Servo, {})
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.show()
        dialog.activateWindow()
    assert dialog.focusWidget() is dialog.form.editor("tag").editor


def test_every_part_of_an_aircraft_can_be_entered_in_its_folder(desk: Desk, qtbot: QtBot) -> None:
    folder = AirframeFolder(desk)
    qtbot.addWidget(folder)
    with qtbot.waitExposed(folder):
        folder.show()
    folder.show_aircraft(CODE)
    for _page in tab_scenes("", folder.tabs):
        QApplication.processEvents()
    offered = {screen.kind for screen in folder.findChildren(RecordsScreen) if screen.can_add}
    parts = {Position, Channel, Receiver, Stabiliser, Accessory, Surface, Rotor}
    assert offered >= parts | {Feed, Regulator, Switch, PackFit}
    # Linkage and lead are typed into the row of their position, every field of them.
    typed = [column for column in folder.linkages.table.rows_model.columns if column.write is not None]
    fields = [spec for kind in (Linkage, Lead) for spec in columns(kind) if spec.name not in kind.KEY]
    assert len(typed) == len(fields)


def test_a_new_record_without_what_is_needed_says_so(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Flight, {"aircraft": CODE})
    qtbot.addWidget(dialog)
    dialog.save()
    assert "must be given" in dialog.form.editor("minutes_min").refusal
    assert dialog.refusal.text()
    assert len(desk.aircraft(CODE).flights) == 1


def test_a_record_that_is_there_is_not_written_over(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Servo, {})
    qtbot.addWidget(dialog)
    dialog.form.editor("tag").editor.setText("S-001")  # type: ignore[union-attr]
    dialog.form.editor("servo_type").editor.setText("TS-WEAK")  # type: ignore[union-attr]
    dialog.save()
    assert dialog.refusal.text() == "There is a servo S-001 already; choose another one."
    kept = desk.fleet.record(Servo, "S-001")
    assert kept is not None
    assert kept.servo_type == "TS-A"


def test_a_new_position_brings_its_channel_along_in_the_same_edit(desk: Desk, qtbot: QtBot) -> None:
    dialog = NewPositionDialog(desk, CODE)
    qtbot.addWidget(dialog)
    for name, words in (("code", "SMOKE"), ("name", "smoke pump"), ("channel", "14")):
        line = dialog.form.editor(name).editor
        assert isinstance(line, QLineEdit)
        line.setText(words)
    choose(dialog.form.editor("function"), "Smoke")
    assert desk.fleet.record(Channel, CODE, "main", 14) is None
    dialog.save()
    assert dialog.refusal.text() == ""
    channel = desk.fleet.record(Channel, CODE, "main", 14)
    assert channel is not None
    assert channel.function == "smoke"
    desk.undo()
    assert desk.fleet.record(Channel, CODE, "main", 14) is None
    assert desk.fleet.record(Position, CODE, "SMOKE") is None


def test_a_line_that_names_another_record_offers_the_names_there_are(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Servo, {})
    qtbot.addWidget(dialog)
    line = dialog.form.editor("servo_type").editor
    assert isinstance(line, QLineEdit)
    offer = line.completer()
    model = offer.model()
    offered = {model.index(row, 0).data() for row in range(model.rowCount())}
    assert offered == {key_of(servo_type)[0] for servo_type in desk.records(ServoType)}
    assert offered


@pytest.mark.parametrize("said", ["1997", "1997-05", "1997-05-14"])
def test_saving_a_form_keeps_a_day_that_is_known_to_the_year_only(
    desk: Desk, qtbot: QtBot, said: str
) -> None:
    desk.change("Buy", lambda edit: edit.change(Servo, ("S-003",), bought_on=part_day(said)))
    servo = desk.fleet.record(Servo, "S-003")
    assert servo is not None
    form = RecordForm(Servo, desk.view)
    qtbot.addWidget(form)
    form.show_record(servo)
    values = form.read_all()
    assert values is not None
    assert values["bought_on"].isoformat() == said
    fresh = Servo(**values)
    desk.change("Save", lambda edit: edit.put(fresh))
    kept = desk.fleet.record(Servo, "S-003")
    assert kept is not None
    assert kept.bought_on is not None
    assert kept.bought_on.isoformat() == said


def test_a_day_of_which_nothing_is_known_stays_so_and_nonsense_is_refused(desk: Desk, qtbot: QtBot) -> None:
    form = RecordForm(Installation, desk.view, ("since_on", "until_on"))
    qtbot.addWidget(form)
    form.show_values({"since_on": UNKNOWN_DAY})
    values = form.read_all()
    assert values == {"since_on": UNKNOWN_DAY, "until_on": None}
    for wrong in ("97", "1997-13", "next spring"):
        form.editor("since_on").editor.setText(wrong)  # type: ignore[union-attr]
        assert form.read_all() is None
        assert "a date such as 2031-05-20, 2031-05, 2031 is wanted" in form.editor("since_on").refusal


def test_a_failed_save_goes_to_the_field_and_return_presses_the_default(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Flight, {"aircraft": CODE})
    qtbot.addWidget(dialog)
    dialog.show()
    day, minutes = dialog.form.editor("flown_on").editor, dialog.form.editor("minutes_min").editor
    assert isinstance(day, QLineEdit)
    assert isinstance(minutes, QLineEdit)
    day.setFocus()
    QTest.keyClicks(day, "soon")
    minutes.setFocus()
    QTest.keyClicks(minutes, "9")
    QTest.keyClick(minutes, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert "is not a date" in dialog.form.editor("flown_on").refusal
    assert dialog.focusWidget() is day
    assert day.selectedText() == "soon"
    QTest.keyClicks(day, "today")
    QTest.keyClick(day, Qt.Key.Key_Return)
    assert not dialog.isVisible()
    assert max(flight.flown_on for flight in desk.records(Flight)) == desk.today


def test_a_day_is_chosen_in_a_calendar_by_mouse_and_keys(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Flight, {"aircraft": CODE})
    qtbot.addWidget(dialog)
    dialog.show()
    field = dialog.form.editor("flown_on")
    line, button = field.editor, field.day_button
    assert isinstance(line, QLineEdit)
    assert button is not None
    line.setText("1.2.2031")
    button.click()
    assert button.calendar is not None
    assert button.calendar.month.selectedDate() == QDate(2031, 2, 1)
    QTest.mouseClick(button.calendar.today, Qt.MouseButton.LeftButton)
    assert line.text() == desk.today.isoformat()
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: button.calendar is not None)
    grid = button.calendar.month.findChild(QTableView)
    assert grid is not None
    QTest.keyClick(grid, Qt.Key.Key_Left)
    QTest.keyClick(grid, Qt.Key.Key_Return)
    assert line.text() == (desk.today - timedelta(days=1)).isoformat()
    dialog.close()


def test_a_refusal_of_the_whole_record_stands_beside_the_field_it_names(desk: Desk, qtbot: QtBot) -> None:
    dialog = RecordDialog(desk, Servo, {})
    qtbot.addWidget(dialog)
    dialog.show()
    tag, kind = dialog.form.editor("tag"), dialog.form.editor("servo_type")
    tag.editor.setText("S-001")  # type: ignore[union-attr]
    kind.editor.setText("TS-A")  # type: ignore[union-attr]
    dialog.save()
    assert "already" in dialog.refusal.text()
    assert dialog.focusWidget() is tag.editor
