"""Print a sheet: choose what stands on it, see its pages, then print, save or open it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, QTemporaryDir, QTimer, QUrl
from PySide6.QtGui import QDesktopServices, QKeyEvent, QKeySequence, QShortcut
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import BadInput, HangarError
from hangar.parts import Attachment
from hangar.window.kit.asking_files import ask_save
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox, NumberBox
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.paper.paper_printing import print_pages, printer_for
from hangar.window.paper.sheet_choices import SheetChoices
from hangar.window.paper.sheet_preview import FIT_PAGE, FIT_WIDTH, SheetPreview

if TYPE_CHECKING:
    from hangar.answers.judging import Judgement
    from hangar.sheets import SheetStyle


_CLUB = "club.name"


def sheet_work(
    desk: Desk, kind: str, codes: Sequence[str], style_of: Callable[[str], SheetStyle], *,
    with_photo: bool, for_phone: bool = False,
) -> Callable[[Path], Path]:  # fmt: skip
    """Work that writes a PDF with the sheets of some aircraft, or a page for a phone, to a place it returns.

    ``style_of`` is given the name of the club. Everything but photos is read from the fleet here; the work
    itself may be done on another thread.

    Raises: BadInput when no aircraft is chosen or the style is refused.
    """
    from hangar.sheets import SheetCase, write_sheet
    from hangar.sheets.phone_card import write_phone_card
    from hangar.sheets.photo import photos_of

    judged = _judged(desk, codes)
    if not judged:
        raise BadInput("Choose an aircraft first.")
    basis = desk.basis()
    style = style_of(basis.named.get(_CLUB, ""))
    look = photos_of(desk.records(Attachment), desk.fleet.paper) if with_photo else None
    cases = [
        SheetCase.of(judgement, basis, photo=look and look(judgement.aircraft.code)) for judgement in judged
    ]

    def work(out: Path) -> Path:
        if for_phone:
            write_phone_card(cases, out, style)
        else:
            write_sheet(kind, cases, out, style)
        return out

    return work


def _judged(desk: Desk, codes: Sequence[str]) -> list[Judgement]:
    """What was found of these aircraft; figures put aside stay so until a sheet prints them."""
    for code in codes:
        if desk.known(code) is None and desk.failure(code) is None:
            desk.judgement(code)
    return [judgement for judgement in map(desk.known, codes) if judgement is not None]


_PAUSE_MS, _SIDE_LETTERS = 200, 52
_RETURN = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_ZOOMS = (0.5, 0.75, 1.0, 1.5, 2.0)


class PrintDialog(QDialog):
    """Choices on the left, the pages on the right; every choice draws them anew beside the event loop."""

    def __init__(self, desk: Desk, kind: str, codes: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(say("Print a sheet"))
        self._desk = desk
        self._draft = QTemporaryDir()
        self._task: BackgroundTask | None = None
        self._content: bytes | None = None
        self._saved: Path | None = None
        self.choices = SheetChoices(desk, kind, codes)
        self.preview = SheetPreview()
        self.message = PlainLabel(wordWrap=True)
        self.message.setAccessibleName(say("What became of it"))
        self.page_box = NumberBox(minimum=0, maximum=0)
        self.page_box.setAccessibleName(say("Page"))
        self.back_button = QPushButton(say("Pa&ge before"))
        self.on_button = QPushButton(say("&Next page"))
        self.zoom_box = ListBox()
        self.zoom_box.setAccessibleName(say("Size on screen"))
        self.print_button = QPushButton(say("Pr&int…"))
        self.save_button = QPushButton(say("Sa&ve as PDF…"))
        self.phone_button = QPushButton(say("Save for a p&hone…"))
        self.open_button = QPushButton(say("&Open in the viewer"))
        self._later = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._arrange()
        self._connect()
        room = self.screen().availableSize()
        self.resize(min(1040, room.width() * 9 // 10), min(760, room.height() * 9 // 10))
        self.draw_again()

    def _arrange(self) -> None:
        for words, zoom in ((say("Whole page"), FIT_PAGE), (say("Page width"), FIT_WIDTH)):
            self.zoom_box.addItem(words, zoom)
        for share in _ZOOMS:
            self.zoom_box.addItem(f"{100 * share:.0f} %", share)
        self.zoom_box.setMinimumContentsLength(10)
        close = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        close.rejected.connect(self.reject)
        side = QWidget()
        side.setFixedWidth(self.fontMetrics().averageCharWidth() * _SIDE_LETTERS)
        left = QVBoxLayout(side)
        left.setContentsMargins(0, 0, 0, 0)
        left.addWidget(self.choices)
        left.addWidget(self.message)
        left.addStretch(1)
        for button in (self.print_button, self.save_button, self.phone_button, self.open_button):
            left.addWidget(button)
        left.addWidget(close)
        row = QHBoxLayout()
        for widget in (self.back_button, self.page_box, self.on_button):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.zoom_box)
        right = QVBoxLayout()
        right.addWidget(self.preview, 1)
        right.addLayout(row)
        whole = QHBoxLayout(self)
        whole.addWidget(side)
        whole.addLayout(right, 1)
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(False)
        self.print_button.setDefault(True)
        # Return in the page box turns to the page and must not print.
        self.page_box.installEventFilter(self)

    def _connect(self) -> None:
        self._later.timeout.connect(self.draw_again)
        self.choices.changed.connect(self._later.start)
        self.preview.turned.connect(self._turned)
        self.page_box.valueChanged.connect(self.preview.turn_to)
        self.back_button.clicked.connect(lambda: self.preview.turn_to(self.preview.number - 1))
        self.on_button.clicked.connect(lambda: self.preview.turn_to(self.preview.number + 1))
        self.zoom_box.activated.connect(lambda _at: self.preview.zoom_to(self.zoom_box.currentData()))
        self.preview.zoomed.connect(self._zoomed)
        for key, act in self.preview.keys().items():
            QShortcut(QKeySequence(key), self).activated.connect(act)
        self.print_button.clicked.connect(self.ask_print)
        self.save_button.clicked.connect(self.ask_save)
        self.phone_button.clicked.connect(self.ask_phone)
        self.open_button.clicked.connect(self.open_in_viewer)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress and event.key() in _RETURN:
            self.page_box.interpretText()
            return True
        return super().eventFilter(watched, event)

    def draw_again(self) -> BackgroundTask | None:
        """Draw the pages as chosen; None where the choice itself is refused."""
        self._later.stop()
        if self._task is not None:
            self._task.drop()
        self._saved = None
        try:
            work = sheet_work(
                self._desk, self.choices.kind, self.choices.codes, self.choices.style_of,
                with_photo=self.choices.wants_photo,
            )  # fmt: skip
        except HangarError as fault:
            self._refused(fault)
            return None
        out = self.draft_folder / "sheet.pdf"
        self._task = task = BackgroundTask(self, lambda: work(out).read_bytes())
        task.done.connect(self._drawn)
        task.failed.connect(self._refused)
        self._allow(False)
        self.message.setText(say("Drawing the pages…"))
        task.start()
        return task

    def _drawn(self, content: bytes) -> None:
        self._task, self._content = None, content
        self.preview.show_pdf(content)
        self._allow(True)
        self.message.setText("")

    def _refused(self, fault: object) -> None:
        self._task = self._content = None
        self.preview.show_pdf(None)
        self._allow(False)
        self.message.setText(sentence_case(put(fault)))

    def _allow(self, ready: bool) -> None:
        for button in (self.print_button, self.save_button, self.open_button):
            button.setEnabled(ready)
        for_phone = self.choices.kind == "field" and len(self.choices.codes) == 1
        self.phone_button.setVisible(for_phone)
        self.phone_button.setEnabled(ready)

    def _turned(self, number: int, count: int) -> None:
        self.page_box.blockSignals(True)
        self.page_box.setRange(min(1, count), count)
        self.page_box.setValue(number)
        self.page_box.setPrefix(say("page "))
        self.page_box.setSuffix(say(" of {count}", count=count))
        self.page_box.blockSignals(False)
        self.back_button.setEnabled(number > 1)
        self.on_button.setEnabled(number < count)

    def _zoomed(self, scale: float) -> None:
        self.zoom_box.setCurrentIndex(-1)
        self.zoom_box.setPlaceholderText(f"{100 * scale:.0f} %")

    @property
    def is_drawing(self) -> bool:
        """Whether pages are being drawn or about to be."""
        return self._task is not None or self._later.isActive()

    @property
    def draft_folder(self) -> Path:
        """Where the pages are drawn; it goes with the dialog unless a viewer reads there."""
        return Path(self._draft.path())

    @property
    def content(self) -> bytes:
        """The PDF shown; empty where none is."""
        return self._content or b""

    @property
    def file_name(self) -> str:
        """The name that a saved sheet is offered under."""
        codes = self.choices.codes
        return f"{self.choices.kind} {codes[0] if len(codes) == 1 else say('fleet')}.pdf"

    def ask_print(self) -> None:
        """Ask for the printer and the pages."""
        printer = printer_for(self.choices.paper_box.currentText(), self.file_name)
        dialog = QPrintDialog(printer, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, on=True)
        dialog.setMinMax(1, max(1, self.preview.count))
        dialog.accepted.connect(lambda: self.print_to(printer))
        QDialog.open(dialog)

    def print_to(self, printer: QPrinter) -> bool:
        """Print on a printer that is set up; what became of it is told."""
        if self._content is None:
            return False
        try:
            count = print_pages(self._content, printer)
        except HangarError as fault:
            self.message.setText(sentence_case(put(fault)))
            return False
        self.message.setText(say("Pages sent to the printer: {count}.", count=count))
        return True

    def ask_save(self) -> None:
        """Ask where the PDF goes."""
        title, kinds = say("Save as PDF"), say("PDF (*.pdf)")
        path = ask_save(self, self._desk.view, title, self.file_name, kinds)
        if path:
            self.save_to(path)

    def save_to(self, out: Path) -> bool:
        """Write the PDF shown to a file, whole or not at all."""
        if not self._written(out):
            return False
        self._saved = out
        self.message.setText(say("Written to {path}.", path=str(out)))
        return True

    def _written(self, out: Path) -> bool:
        """Whether the PDF shown could be written there; if not, it is told why."""
        from hangar.sheets.whole_file import write_whole

        if self._content is None:
            return False
        try:
            write_whole(self._content, out)
        except HangarError as fault:
            self.message.setText(sentence_case(put(fault)))
            return False
        return True

    def ask_phone(self) -> None:
        """Ask where the page for a phone goes."""
        title, kinds = say("Save for a phone"), say("HTML (*.html)")
        name = f"{Path(self.file_name).stem}.html"
        path = ask_save(self, self._desk.view, title, name, kinds)
        if path:
            self.save_for_phone(path)

    def save_for_phone(self, out: Path) -> bool:
        """Write the field checklist as a page for a phone; what became of it is told."""
        choices = self.choices
        try:
            write = sheet_work(
                self._desk, choices.kind, choices.codes, choices.style_of, with_photo=False, for_phone=True
            )
            write(out)
        except HangarError as fault:
            self.message.setText(sentence_case(put(fault)))
            return False
        self.message.setText(say("Written to {path}. Open it in the phone's browser.", path=str(out)))
        return True

    def open_in_viewer(self) -> bool:
        """Show the PDF in the program that the system opens PDFs with."""
        if self._content is None:
            return False
        path = self._saved
        if path is None:
            # The viewer may read it after this dialog is gone.
            self._draft.setAutoRemove(False)
            path = self.draft_folder / self.file_name
            if not self._written(path):
                return False
        good = QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
        if not good:
            self.message.setText(say("The system has no program to open {path} with.", path=str(path)))
        return good

    def done(self, result: int) -> None:
        if self._task is not None:
            self._task.drop()
        self.preview.let_go()
        super().done(result)
