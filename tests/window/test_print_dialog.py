"""The print dialog: every choice reaches the pages, and these are turned, saved, printed and opened."""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QObject, QSettings, Qt, QThreadPool, QUrl, Slot
from PySide6.QtGui import QColor, QDesktopServices
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QCheckBox,
    QComboBox,
    QLabel,
    QPushButton,
    QSpinBox,
    QWidget,
)
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from hangar.parts import Setting
from hangar.sheets import SHEETS
from hangar.store import Edit, Fleet, Owner
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.main_window import MainWindow
from hangar.window.paper.paper_printing import printer_for
from hangar.window.paper.print_dialog import PrintDialog
from hangar.window.paper.printing import open_print_dialog
from hangar.window.paper.sheet_choices import SheetChoices, sheet_titles
from hangar.window.paper.sheet_preview import FIT_WIDTH
from hangar.window.room_list import AIRFRAME, PACKS, SHOPPING
from tests.sheets.test_photo import picture
from tests.window.conftest import CODE, TODAY


def settled(qtbot: QtBot, dialog: PrintDialog) -> PrintDialog:
    """The dialog once its pages are drawn or refused."""
    qtbot.waitUntil(lambda: not dialog.is_drawing)
    return dialog


def choose(qtbot: QtBot, dialog: PrintDialog, kind: str) -> PrintDialog:
    box = dialog.choices.kind_box
    box.setCurrentIndex(box.findData(kind))
    return settled(qtbot, dialog)


@pytest.fixture
def dialog(desk: Desk, qtbot: QtBot, tmp_path: Path) -> Iterator[PrintDialog]:
    made = PrintDialog(desk, "field", (CODE,))
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield settled(qtbot, made)
    made.close()


def saved(dialog: PrintDialog, out: Path) -> PdfReader:
    assert dialog.save_to(out)
    return PdfReader(out)


def words(reader: PdfReader) -> str:
    return " ".join(page.extract_text() for page in reader.pages)


def test_the_pages_are_shown_as_they_will_be_printed(dialog: PrintDialog) -> None:
    assert dialog.preview.count == dialog.preview.number == 1
    assert "Lark" in dialog.preview.accessibleDescription()
    image = dialog.preview.paper.image
    white = QColor("white").rgb()
    assert image.pixel(2, 2) == white
    inks = {image.pixel(x, y) for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)}
    assert len(inks) > 5


def test_every_choice_reaches_the_file(dialog: PrintDialog, qtbot: QtBot, tmp_path: Path) -> None:
    choices, out = dialog.choices, tmp_path / "x.pdf"
    assert not saved(dialog, out).get_fields()
    choices.fillable_box.setChecked(True)
    choices.paper_box.setCurrentText("Letter")
    settled(qtbot, dialog)
    reader = saved(dialog, out)
    assert reader.get_fields()
    assert float(reader.pages[0].mediabox.height) == pytest.approx(792)
    choose(qtbot, dialog, "passport")
    assert "Price" in words(saved(dialog, out))
    choices.prices_box.setChecked(False)
    choices.own_box.setChecked(False)
    settled(qtbot, dialog)
    bare = words(saved(dialog, out))
    assert "Price" not in bare
    assert "Club number" not in bare


def test_labels_take_a_sheet_a_start_and_parts_and_refuse_what_is_too_small(
    dialog: PrintDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    choices = dialog.choices
    choose(qtbot, dialog, "labels")
    choices.label_box.setCurrentIndex(choices.label_box.findData("3x10"))
    choices.start_box.setValue(30)
    settled(qtbot, dialog)
    assert choices.paper_box.currentText() == "Letter"
    assert choices.start_box.maximum() == 30
    assert dialog.preview.count > 1
    choices.label_box.setCurrentIndex(choices.label_box.findData("7x27"))
    settled(qtbot, dialog)
    assert "too small" in dialog.message.text()
    assert dialog.preview.count == 0
    assert not dialog.print_button.isEnabled()
    assert not dialog.save_to(tmp_path / "x.pdf")
    for part in ("pack", "servo"):
        choices.part_boxes[part].setChecked(False)
    settled(qtbot, dialog)
    assert dialog.message.text() == ""
    assert dialog.print_button.isEnabled()
    choices.part_boxes["lead"].setChecked(False)
    settled(qtbot, dialog)
    assert "asked for nothing" in dialog.message.text()


def test_only_choices_that_count_for_a_kind_are_shown(dialog: PrintDialog, qtbot: QtBot) -> None:
    choices = dialog.choices
    assert not choices.label_box.isVisible()
    assert choices.fillable_box.isVisible()
    choose(qtbot, dialog, "labels")
    assert choices.label_box.isVisible()
    assert not choices.fillable_box.isVisible()
    choose(qtbot, dialog, "shopping")
    assert choices.prices_box.isVisible()
    assert not choices.own_box.isVisible()


def test_choices_are_remembered_for_each_kind_on_this_seat(
    desk: Desk, dialog: PrintDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog.choices.fillable_box.setChecked(True)
    dialog.choices.paper_box.setCurrentText("Letter")
    choose(qtbot, dialog, "labels")
    choices = dialog.choices
    choices.label_box.setCurrentIndex(choices.label_box.findData("3x7"))
    choices.part_boxes["lead"].setChecked(False)
    choices.start_box.setValue(4)
    choose(qtbot, dialog, "passport")
    choices.prices_box.setChecked(False)
    dialog.close()
    again = SheetChoices(desk, "field", (CODE,))
    qtbot.addWidget(again)
    assert (again.fillable_box.isChecked(), again.paper_box.currentText()) == (True, "Letter")
    again.kind_box.setCurrentIndex(again.kind_box.findData("labels"))
    assert again.label_box.currentData() == "3x7"
    assert again.paper_box.currentText() == "A4"
    assert not again.part_boxes["lead"].isChecked()
    assert again.start_box.value() == 1
    again.kind_box.setCurrentIndex(again.kind_box.findData("passport"))
    assert not again.prices_box.isChecked()
    other_seat = ViewSettings(tmp_path / "other.ini")
    assert other_seat.sheet_choices("passport") == {}


@pytest.mark.parametrize(
    "kept", ["", "nonsense", "[1]", '{"paper": "A0", "prices": "perhaps", "grey": null}']
)
def test_choices_that_cannot_be_read_are_as_if_nothing_had_been_kept(
    kept: str, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat).setValue("sheets/field", kept)
    choices = SheetChoices(desk, "field", (CODE,))
    qtbot.addWidget(choices)
    assert choices.paper_box.currentText() in ("A4", "Letter")
    assert choices.prices_box.isChecked()


def test_the_aircraft_can_be_changed_to_all(dialog: PrintDialog, qtbot: QtBot) -> None:
    box = dialog.choices.aircraft_box
    assert [box.itemText(at) for at in range(box.count())] == [
        "Lark (LARK)", "Every aircraft (2)", "Wren (WREN)",
    ]  # fmt: skip
    box.setCurrentIndex(1)
    settled(qtbot, dialog)
    assert dialog.preview.count == 2
    assert dialog.file_name == "field fleet.pdf"


def test_keys_turn_pages_and_change_the_size_wherever_the_cursor_is(
    dialog: PrintDialog, qtbot: QtBot
) -> None:
    dialog.choices.aircraft_box.setCurrentIndex(1)
    settled(qtbot, dialog)
    dialog.choices.kind_box.setFocus()
    QTest.keyClick(dialog, Qt.Key.Key_PageDown)
    assert dialog.preview.number == 2
    assert dialog.page_box.value() == 2
    QTest.keyClick(dialog, Qt.Key.Key_PageDown)
    assert dialog.preview.number == 2
    assert not dialog.on_button.isEnabled()
    QTest.keyClick(dialog, Qt.Key.Key_PageUp)
    assert dialog.preview.number == 1
    dialog.resize(1040, 690)
    QApplication.processEvents()
    before = dialog.preview.scale
    QTest.keyClick(dialog, Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
    assert dialog.preview.scale == pytest.approx(before * 1.25)
    assert dialog.zoom_box.placeholderText() == f"{125 * before:.0f} %"
    QTest.keyClick(dialog, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert dialog.preview.scale == pytest.approx(before)
    dialog.preview.zoom_to(FIT_WIDTH)
    assert dialog.preview.paper.width() <= dialog.preview.viewport().width()
    assert dialog.preview.scale > before


def test_return_prints_but_in_the_page_box_turns_to_the_page(dialog: PrintDialog, qtbot: QtBot) -> None:
    settled(qtbot, dialog)
    pressed: list[bool] = []
    dialog.print_button.clicked.disconnect()
    dialog.print_button.clicked.connect(lambda: pressed.append(True))
    QTest.keyClick(dialog.page_box, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert pressed == []
    dialog.choices.kind_box.setFocus()
    QTest.keyClick(dialog.choices.kind_box, Qt.Key.Key_Return)
    assert len(pressed) == 1


def test_pages_are_printed_true_to_size(dialog: PrintDialog, qtbot: QtBot, tmp_path: Path) -> None:
    dialog.choices.aircraft_box.setCurrentIndex(1)
    settled(qtbot, dialog)
    out = tmp_path / "printed.pdf"
    printer = printer_for("A4", "test")
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(out))
    assert dialog.print_to(printer)
    assert dialog.message.text() == "Pages sent to the printer: 2."
    reader = PdfReader(out)
    assert len(reader.pages) == 2
    width, height = (
        float(side) for side in (reader.pages[0].mediabox.width, reader.pages[0].mediabox.height)
    )
    assert (width, height) == pytest.approx((595.3, 841.9), abs=1.0)
    import zxingcpp
    from pypdfium2 import PdfDocument

    document, drawn = PdfDocument(out), PdfDocument(dialog.content)
    # The code stands where it stood: five points are a tenth of its side.
    places = [
        [code.position.top_left for code in zxingcpp.read_barcodes(each[0].render(scale=3).to_pil())]
        for each in (document, drawn)
    ]
    document.close()
    drawn.close()
    (printed,), (shown,) = places
    assert abs(printed.x - shown.x) <= 5
    assert abs(printed.y - shown.y) <= 5


def test_a_range_of_pages_is_honoured(dialog: PrintDialog, qtbot: QtBot, tmp_path: Path) -> None:
    dialog.choices.aircraft_box.setCurrentIndex(1)
    settled(qtbot, dialog)
    printer = printer_for("A4", "test")
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setFromTo(2, 2)
    assert dialog.print_to(printer)
    assert len(PdfReader(tmp_path / "printed.pdf").pages) == 1


@pytest.mark.qt_log_ignore(r"^QPainter::begin\(\): Returned false")
def test_a_printer_that_refuses_is_told(dialog: PrintDialog, tmp_path: Path) -> None:
    printer = printer_for("A4", "test")
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "missing" / "printed.pdf"))
    assert not dialog.print_to(printer)
    assert "does not take the pages" in dialog.message.text()


def test_a_file_that_cannot_be_written_is_told(dialog: PrintDialog, tmp_path: Path) -> None:
    assert not dialog.save_to(tmp_path / "missing" / "x.pdf")
    assert "cannot be written: No such file or directory." in dialog.message.text()
    assert list(tmp_path.glob("*.part")) == []


def test_a_fleet_is_not_written_over_by_a_sheet(dialog: PrintDialog, tmp_path: Path) -> None:
    fleet = tmp_path / "club.hangar"
    fleet.write_bytes(b"SQLite format 3")
    assert not dialog.save_to(fleet)
    assert "is no PDF and stays" in dialog.message.text()
    assert fleet.read_bytes() == b"SQLite format 3"


def test_a_draft_folder_that_is_gone_is_told_and_not_raised(dialog: PrintDialog) -> None:
    dialog.draft_folder.joinpath("sheet.pdf").unlink()
    dialog.draft_folder.rmdir()
    assert not dialog.open_in_viewer()
    assert "cannot be written: No such file or directory." in dialog.message.text()


def test_the_systems_viewer_is_given_a_file_that_outlives_the_dialog(
    dialog: PrintDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    opened: list[QUrl] = []

    class Handler(QObject):
        @Slot(QUrl)
        def show(self, url: QUrl) -> None:
            opened.append(url)

    handler = Handler()
    QDesktopServices.setUrlHandler("file", handler, "show")  # type: ignore[arg-type]
    try:
        assert dialog.open_in_viewer()
        assert dialog.save_to(tmp_path / "kept.pdf")
        assert dialog.open_in_viewer()
    finally:
        QDesktopServices.unsetUrlHandler("file")
    dialog.close()
    first, second = (Path(url.toLocalFile()) for url in opened)
    assert first.read_bytes().startswith(b"%PDF")
    assert second == tmp_path / "kept.pdf"
    first.unlink()


def test_the_photo_and_the_club_reach_the_sheet(
    desk: Desk, dialog: PrintDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "side.jpg").write_bytes(picture())

    def work(edit: Edit) -> None:
        edit.attach(tmp_path / "side.jpg", Owner(aircraft=CODE), TODAY)
        edit.put(Setting(name="club.name", value="Larkenholt Model Flying Club"))

    desk.change("Keep", work)
    choose(qtbot, dialog, "passport")
    assert len(saved(dialog, tmp_path / "x.pdf").pages[0].images) == 1
    choose(qtbot, dialog, "fleet")
    assert "Larkenholt Model Flying Club" in words(saved(dialog, tmp_path / "x.pdf"))


def test_every_control_has_a_name_and_can_be_reached_by_tab(dialog: PrintDialog) -> None:
    for kind in (QComboBox, QSpinBox, QCheckBox, QPushButton):
        for qwidget in dialog.findChildren(kind):
            assert qwidget.accessibleName() or qwidget.text()  # type: ignore[attr-defined]
            assert qwidget.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert dialog.preview.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_ctrl_p_prints_the_open_fleet_and_nothing_without_one(
    qtbot: QtBot, view: ViewSettings, fleet: Fleet, tmp_path: Path
) -> None:
    window = MainWindow(view, tmp_path)
    qtbot.addWidget(window)
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    assert window.files.ask_print() is None
    window.take_fleet(fleet)
    QTest.keyClick(window, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: bool(window.findChildren(PrintDialog)))
    (dialog,) = window.findChildren(PrintDialog)
    settled(qtbot, dialog)
    assert dialog.choices.kind == "fleet", "the Flight Line is about the fleet"
    assert dialog.preview.count >= 1
    dialog.close()
    assert window.rooms is not None
    for page, kind in ((SHOPPING, "shopping"), (PACKS, "charging"), (AIRFRAME, "field")):
        window.rooms.enter(page)
        other = window.files.ask_print_here()
        assert other is not None
        assert other.choices.kind == kind
        settled(qtbot, other)
        other.close()
    window.close()


def letters(dialog: PrintDialog) -> list[str]:
    """The letters that are pressed with Alt for what can be seen."""
    texts = [qlabel.text() for qlabel in dialog.findChildren(QLabel) if qlabel.isVisible()]
    texts += [button.text() for button in dialog.findChildren(QAbstractButton) if button.isVisible()]
    marked = [re.search("&([^& ])", text) for text in texts]
    return [match[1].lower() for match in marked if match]


@pytest.mark.parametrize("kind", ["field", "labels", "passport"])
def test_no_letter_is_given_to_two_controls(dialog: PrintDialog, qtbot: QtBot, kind: str) -> None:
    choose(qtbot, dialog, kind)
    lines = letters(dialog)
    assert len(lines) >= 8
    assert len(set(lines)) == len(lines), sorted(lines)


def test_a_closed_dialog_leaves_nothing_behind(desk: Desk, qtbot: QtBot, tmp_path: Path) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    made = [open_print_dialog(desk, "field", (CODE,), parent)]
    draft = settled(qtbot, made[0]).draft_folder
    assert draft.exists()
    made[0].close()
    qtbot.waitUntil(lambda: not isValid(made[0]))
    assert not parent.findChildren(PrintDialog)
    made.clear()
    gc.collect()
    assert not draft.exists()


def test_a_dialog_closed_while_it_draws_is_let_go(desk: Desk, qtbot: QtBot, tmp_path: Path) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    made = open_print_dialog(desk, "working", (CODE,), parent)
    assert made.is_drawing
    made.close()
    qtbot.waitUntil(lambda: not isValid(made))
    qtbot.waitUntil(lambda: QThreadPool.globalInstance().activeThreadCount() == 0)


def test_every_kind_of_sheet_can_be_chosen_under_its_title(view: ViewSettings) -> None:
    assert sheet_titles() == {name: kind.title for name, kind in SHEETS.items()}


def test_the_field_checklist_is_written_for_a_phone(
    dialog: PrintDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    choose(qtbot, dialog, "field")
    assert dialog.phone_button.isVisibleTo(dialog)
    out = tmp_path / "card.html"
    assert dialog.save_for_phone(out)
    assert out.read_text(encoding="utf-8").startswith("<!doctype html>")
    out.write_bytes(b"a fleet")
    assert not dialog.save_for_phone(out)
    assert "stays" in dialog.message.text()
    choose(qtbot, dialog, "bench")
    assert not dialog.phone_button.isVisibleTo(dialog)
