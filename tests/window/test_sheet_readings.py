"""A filled sheet is typed in as it lies on the desk: same boxes, same order, one edit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QDialogButtonBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from hangar.acts import files
from hangar.parts import BenchCheck, Inspection, LoadTest, Snag
from hangar.parts.sheet_boxes import READ_BACK, answers_of, plain_name
from hangar.sheets import SheetStyle, write_sheet
from hangar.store import Fleet, bring_in
from hangar.window.file_drop import FileDrop, ours
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.paper.sheet_readings import SheetReadings
from tests.all_cases import all_cases
from tests.sheets.cases import demo_case, demo_cases
from tests.sheets.filling import TICK, fill
from tests.window.conftest import CODE, TODAY

MIDNIGHT = datetime.combine(TODAY, time())


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> SheetReadings:
    made = SheetReadings(desk, CODE)
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.fixture
def demo_desk(demo_file: Path, tmp_path: Path, view: ViewSettings) -> Iterator[Desk]:
    copy = tmp_path / "demo.hangar"
    copy.write_bytes(demo_file.read_bytes())
    with files.open_fleet(str(copy)) as fleet:
        made = Desk(fleet, view)
        yield made
        made.stop()


def type_into(page: SheetReadings, about: str, what: str, text: str) -> None:
    entry = page.line(about, what).entry
    entry.setFocus()
    if isinstance(entry, QCheckBox):
        QTest.keyClick(entry, Qt.Key.Key_Space)
    else:
        entry.clear()
        QTest.keyClicks(entry, text)


def mark_of(page: SheetReadings, about: str, what: str) -> str:
    return page.line(about, what).verdict.text()


@pytest.mark.parametrize("kind", READ_BACK)
def test_the_boxes_stand_in_the_order_of_the_paper(
    kind: str, demo_desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, [demo_case("NIM7")], out, SheetStyle(fillable=True))
    printed = [
        str(box.get_object()["/T"])
        for paper in PdfReader(out).pages
        for box in paper.get("/Annots", [])
        if not str(box.get_object()["/T"]).endswith(" stamp")
    ]
    page = SheetReadings(demo_desk, "NIM7")
    qtbot.addWidget(page)
    page.choose(kind, "NIM7")
    start = plain_name(answers_of("NIM7", kind))
    shown = [
        " ".join(word for word in (start, line.box.about, plain_name(line.box.what)) if word)
        for line in page.lines
    ]
    # Boxes for figures that nobody knows are filled in where the figure is kept, not here.
    assert [name for name in printed if name in shown] == shown
    assert len(shown) > (3 if kind == "charging" else 40)


@all_cases("case", demo_cases)
def test_every_aircraft_has_its_three_sheets_to_type_in(case: object, demo_desk: Desk, qtbot: QtBot) -> None:
    code = case.aircraft.code  # type: ignore[attr-defined]
    page = SheetReadings(demo_desk, code)
    qtbot.addWidget(page)
    for kind in READ_BACK:
        page.choose(kind, code)
        assert page.lines
        assert all(line.entry.accessibleName() for line in page.lines)


def test_a_sheet_is_typed_down_with_the_keys_and_kept_as_one_edit(
    page: SheetReadings, desk: Desk, fleet: Fleet
) -> None:
    first = page.lines[0].entry
    assert QApplication.focusWidget() is first or first.hasFocus()
    before = len(fleet.history())
    for text in ("", "6,8 V", "6300 mV"):
        entry = QApplication.focusWidget() or first
        assert isinstance(entry, QLineEdit)
        QTest.keyClicks(entry, text)
        QTest.keyClick(entry, Qt.Key.Key_Return)
    tested = QApplication.focusWidget()
    assert isinstance(tested, QCheckBox)
    QTest.keyClick(tested, Qt.Key.Key_Space)
    assert tested.isChecked()
    QTest.keyClick(tested, Qt.Key.Key_Up)
    assert page.line("B-01", "Read").entry.hasFocus()
    type_into(page, "AIL-L", "Control", "")
    type_into(page, "", "Looked at by", "Ada")
    type_into(page, "", "Snag found", "wheel loose")
    QTest.keyClick(page, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    test = fleet.record(LoadTest, "B-01", MIDNIGHT)
    assert test is not None
    assert (test.rest_v, test.by) == (6.8, "Ada")
    assert test.loaded_v == pytest.approx(6.3)
    check = fleet.record(BenchCheck, CODE, "AIL-L", MIDNIGHT)
    assert check is not None
    assert check.direction_ok
    assert [snag.text for snag in fleet.records(Snag)] == ["wheel loose"]
    assert page.message.text().startswith("Kept: ")
    assert not any(line.is_filled for line in page.lines)
    assert str(fleet.undo_label) == f"Enter field checklist of {CODE}"
    desk.undo()
    assert fleet.record(LoadTest, "B-01", MIDNIGHT) is None
    assert not fleet.records(Snag)
    assert len(fleet.history()) >= before


def test_the_verdict_stands_beside_the_reading_at_once(page: SheetReadings) -> None:
    page.choose("bench", CODE)
    for text, words in (("20", "within"), ("19°", "within"), ("25", "OUT"), ("", "")):
        type_into(page, "AIL-L", "Up deg", text)
        assert mark_of(page, "AIL-L", "Up deg") == words
    type_into(page, "AIL-L", "End A", "3 A")
    assert mark_of(page, "AIL-L", "End A") == "OUT"
    type_into(page, "AIL-L-S", "Play", "0.5°")
    assert mark_of(page, "AIL-L-S", "Play") == "within"
    type_into(page, "AIL-L-S", "Play", "9 mm")
    assert mark_of(page, "AIL-L-S", "Play") == "OUT"
    type_into(page, "B13", "Balance mm", "100 mm")
    assert mark_of(page, "B13", "Balance mm") == "within"
    type_into(page, "B13", "Balance mm", "14 cm")
    assert mark_of(page, "B13", "Balance mm") == "OUT"
    assert page.line("AIL-L", "Up deg").mark.pixmap().isNull()
    assert not page.line("AIL-L", "End A").mark.pixmap().isNull()


def test_an_entry_that_cannot_be_read_is_told_beside_its_box_and_nothing_is_kept(
    page: SheetReadings, fleet: Fleet
) -> None:
    page.choose("bench", CODE)
    type_into(page, "AIL-L", "Neutral", "a little")
    type_into(page, "RUD", "Neutral", "9")
    page.save()
    assert "cannot be read" in mark_of(page, "AIL-L", "Neutral")
    assert "AIL-L Neutral" in page.message.text()
    assert page.line("AIL-L", "Neutral").entry.hasFocus()
    assert not fleet.records(BenchCheck)
    type_into(page, "AIL-L", "Neutral", "9")
    page.save()
    assert {check.position for check in fleet.records(BenchCheck)} == {"AIL-L", "RUD"}


def test_what_is_typed_and_not_kept_stands_there_again(desk: Desk, qtbot: QtBot) -> None:
    first = SheetReadings(desk, CODE)
    qtbot.addWidget(first)
    type_into(first, "", "Looked at by", "Ada")
    first.choose("bench", CODE)
    first.choose("field", CODE)
    assert first.line("", "Looked at by").text == "Ada"
    first.reject()
    again = SheetReadings(desk, CODE)
    qtbot.addWidget(again)
    assert again.line("", "Looked at by").text == "Ada"


def test_an_empty_page_keeps_nothing(page: SheetReadings, fleet: Fleet) -> None:
    changes = len(fleet.history())
    page.save()
    assert page.message.text() == "Nothing is filled in yet."
    assert len(fleet.history()) == changes


def test_screen_and_tablet_write_the_same_records(demo_desk: Desk, qtbot: QtBot, tmp_path: Path) -> None:
    answers = {"Neutral": "9,5", "End A": "0.03 A", "Up deg": "21"}
    page = SheetReadings(demo_desk, "MARQ")
    qtbot.addWidget(page)
    page.choose("bench", "MARQ")
    for what, text in answers.items():
        page.line("ELE-L", what).show_text(text)
    page.line("B0", "Passed").show_text("yes")
    page.save()
    today = date.today()
    typed = demo_desk.fleet.records(BenchCheck, aircraft="MARQ")
    looked = [
        inspection
        for inspection in demo_desk.fleet.records(Inspection, aircraft="MARQ")
        if inspection.inspected_on == today
    ]
    demo_desk.undo()
    out = tmp_path / "sheet.pdf"
    write_sheet("bench", [demo_case("MARQ")], out, SheetStyle(fillable=True))
    texts = {f"MARQ bench ELE-L {what}": text for what, text in answers.items()}
    filled = fill(out, tmp_path / "filled.pdf", {**texts, "MARQ bench B0 Passed": TICK})
    bring_in(demo_desk.fleet, [filled])
    assert demo_desk.fleet.records(BenchCheck, aircraft="MARQ") == typed
    assert looked
    assert looked == [
        inspection
        for inspection in demo_desk.fleet.records(Inspection, aircraft="MARQ")
        if inspection.inspected_on == today
    ]


def test_the_button_that_keeps_is_the_last_stop_of_the_enter_key(page: SheetReadings) -> None:
    last = page.lines[-1].entry
    last.setFocus()
    QTest.keyClick(last, Qt.Key.Key_Return)
    assert page.buttons.button(QDialogButtonBox.StandardButton.Save).hasFocus()


def test_only_files_that_the_program_reads_are_taken_when_dropped(tmp_path: Path) -> None:
    dragged = QMimeData()
    dragged.setUrls([QUrl.fromLocalFile(str(tmp_path / name)) for name in ("a.pdf", "b.csv", "c.jpg")])
    assert [path.name for path in ours(dragged)] == ["a.pdf", "b.csv"]
    nothing = QMimeData()
    nothing.setText("words")
    assert ours(nothing) == []


def test_a_file_that_is_dropped_is_brought_in_and_a_fleet_is_opened(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    opened: list[str] = []
    brought: list[list[Path]] = []
    FileDrop(window, opened.append, brought.append)
    for names in (["one.pdf", "two.pdf"], ["fleet.hangar"], ["photo.jpg"]):
        dragged = QMimeData()
        dragged.setUrls([QUrl.fromLocalFile(f"/away/{name}") for name in names])
        how = Qt.DropAction.CopyAction, dragged, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        QApplication.sendEvent(window, QDragEnterEvent(QPoint(5, 5), *how))
        QApplication.sendEvent(window, QDropEvent(QPointF(5, 5), *how))
    assert [[path.name for path in each] for each in brought] == [["one.pdf", "two.pdf"]]
    assert [Path(words).name for words in opened] == ["fleet.hangar"]


def test_a_key_that_means_something_to_the_box_stays_with_it(page: SheetReadings) -> None:
    entry = page.line("", "Looked at by").entry
    entry.setFocus()
    event = QKeyEvent(QKeyEvent.Type.KeyPress, Qt.Key.Key_A, Qt.KeyboardModifier.NoModifier, "a")
    assert not page.eventFilter(entry, event)


def test_an_empty_box_says_in_which_unit_a_bare_number_is_read(page: SheetReadings) -> None:
    def hint(about: str, what: str) -> str:
        entry = page.line(about, what).entry
        assert isinstance(entry, QLineEdit)
        return entry.placeholderText()

    assert hint("B-01", "At rest") == "V"
    assert hint("", "Date, time") == TODAY.isoformat()
    page.choose("bench", CODE)
    assert (hint("AIL-L", "Neutral"), hint("AIL-L", "Up deg"), hint("AIL-L-S", "Play")) == ("mA", "°", "mm")
    assert (hint("B12", "Range m"), hint("B13", "Mass"), hint("B2", "Idle A")) == ("m", "g", "A")
