"""Enter a filled sheet: the boxes of the paper in the paper's order, typed in and kept as one edit."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import HangarError
from hangar.base.units import symbol_of
from hangar.parts import KIND_BY_NAME
from hangar.parts.sheet_boxes import BALANCE_MM, BENCH_UNITS, MASS, RANGE_M, READ_BACK, Stamp
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import current_reader, put, say
from hangar.window.paper.reading_lines import ENTRY, EXPECTED, NAME, VERDICT, ReadingLine

if TYPE_CHECKING:
    from hangar.sheets import SheetCase
    from hangar.sheets.box_list import ListedBox, ListedPart, ListedRow
    from hangar.store.filled_sheet import Outcome, Remark

_PLAIN_HEADS = (
    "", "Pack", "Position", "Surface", "Function", "Servo", "Where", "What it is", "What to do",
    "Mode, cells",
)  # fmt: skip
"""Heads whose cells say by themselves what they are."""

_OWN_UNITS = {
    "At rest": "V",
    "Load": "A",
    "Read": "V",
    "Put back": "mAh",
    "Play": "mm",
    RANGE_M: "m",
    MASS: "g",
    BALANCE_MM: "mm",
}
"""Stored units of readings that are typed in the keeper's own."""

_PAPER_UNITS = {
    **BENCH_UNITS,
    **dict.fromkeys(("Up deg", "Down deg"), "deg"),
    **dict.fromkeys(("Up mm", "Down mm"), "mm"),
    "After": "s",
    "Minutes": "min",
}
"""Units that the paper names itself."""

_ROOM_BELOW_PX = 150
_NOT_TOLD = ("-", "____", "")
_FORWARD = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down)
Drafts = dict[tuple[str, str], dict[str, str]]
_drafts: WeakKeyDictionary[Desk, Drafts] = WeakKeyDictionary()


def open_sheet_readings(desk: Desk, code: str | None, parent: QWidget | None) -> SheetReadings:
    """Show the page for an aircraft's sheets; what was typed there and not kept stands there again."""
    page = SheetReadings(desk, code, parent)
    page.open()
    return page


class SheetReadings(QDialog):
    """Choose sheet and aircraft, type down the page, keep it all with one button."""

    def __init__(self, desk: Desk, code: str | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(say("Enter a filled sheet"))
        self._desk = desk
        self._stamp: Stamp | None = None
        self._shown: tuple[str, str] | None = None
        self.lines: list[ReadingLine] = []
        self.sheet = ListBox()
        self.sheet.setAccessibleName(say("Sheet"))
        self.aircraft = ListBox()
        self.aircraft.setAccessibleName(say("Aircraft"))
        self.message = PlainLabel(wordWrap=True)
        self.message.setAccessibleName(say("What became of it"))
        self.area = QScrollArea(widgetResizable=True)
        self.area.setAccessibleName(say("Boxes of the sheet"))
        self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Close
        )
        self._fill(code)
        self._arrange()
        self._connect()
        self.show_sheet()

    def _fill(self, code: str | None) -> None:
        from hangar.sheets import SHEETS

        for kind in READ_BACK:
            self.sheet.addItem(say(SHEETS[kind].title), kind)
        for frame in self._desk.fleet.airframes():
            self.aircraft.addItem(f"{frame.code}  {frame.name}", frame.code)
        self.aircraft.setCurrentIndex(max(0, self.aircraft.findData(code)))

    def _arrange(self) -> None:
        top = QHBoxLayout()
        for words, box in ((say("&Sheet"), self.sheet), (say("&Aircraft"), self.aircraft)):
            label = PlainLabel(words)
            label.setBuddy(box)
            top.addWidget(label)
            top.addWidget(box)
        top.addStretch(1)
        hint = PlainLabel(
            say("Enter goes down, Space ticks, any unit can be typed. Ctrl+Enter keeps it all."),
            wordWrap=True,
        )
        hint.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.addLayout(top)
        column.addWidget(hint)
        column.addWidget(self.area, 1)
        column.addWidget(self.message)
        column.addWidget(self.buttons)
        save = self.buttons.button(QDialogButtonBox.StandardButton.Save)
        save.setText(say("&Keep these readings"))
        save.setEnabled(not self._desk.read_only)
        for button in self.buttons.buttons():
            button.setAutoDefault(False)  # type: ignore[attr-defined]
        letter = self.fontMetrics().averageCharWidth()
        self.resize(min(letter * 130, 1300), 700)

    def _connect(self) -> None:
        self.sheet.activated.connect(self.show_sheet)
        self.aircraft.activated.connect(self.show_sheet)
        self.buttons.accepted.connect(self.save)
        self.buttons.rejected.connect(self.reject)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            QShortcut(QKeySequence(keys), self).activated.connect(self.save)

    @property
    def kind(self) -> str:
        """The sheet chosen."""
        return str(self.sheet.currentData())

    @property
    def code(self) -> str:
        """The aircraft chosen."""
        return str(self.aircraft.currentData() or "")

    def choose(self, kind: str, code: str) -> None:
        """Show this sheet of this aircraft."""
        self.sheet.setCurrentIndex(self.sheet.findData(kind))
        self.aircraft.setCurrentIndex(self.aircraft.findData(code))
        self.show_sheet()

    def line(self, about: str, what: str) -> ReadingLine:
        """The box of that name."""
        return next(line for line in self.lines if (line.box.about, line.box.what) == (about, what))

    def show_sheet(self) -> None:
        """Lay out the boxes of the sheet that is chosen."""
        self._keep_draft()
        self.message.setText("")
        self.lines = []
        self._shown = None
        case = self._case()
        if case is None:
            self.area.setWidget(PlainLabel(say("There is no aircraft to enter readings for.")))
            return
        from hangar.sheets import SheetStyle
        from hangar.sheets.box_list import listed_boxes

        style = SheetStyle(
            units=self._desk.view.units, language=current_reader().language, printed_on=self._desk.today
        )
        try:
            parts, self._stamp = listed_boxes(self.kind, case, style)
        except HangarError as fault:
            self._desk.trouble.emit(fault)
            return
        self.area.setWidget(self._page(parts, case, style))
        self._shown = (self.kind, self.code)
        for name, typed in self._drafts().get(self._shown, {}).items():
            for line in self.lines:
                if _name(line) == name:
                    line.show_text(typed)
        if self.lines:
            self.lines[0].entry.setFocus()

    def _case(self) -> SheetCase | None:
        judgement = self._desk.judgement(self.code) if self.code else None
        if judgement is None:
            return None
        from hangar.sheets import SheetCase

        return SheetCase.of(judgement, self._desk.basis())

    def _page(self, parts: tuple[ListedPart, ...], case: SheetCase, style: object) -> QWidget:
        from hangar.answers.bench_bands import expected_case
        from hangar.sheets import SheetStyle

        assert isinstance(style, SheetStyle)
        after = expected_case(self.kind, case)
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(12, 8, 12, 12)
        grid.setColumnStretch(NAME, 3)
        grid.setColumnStretch(ENTRY, 2)
        grid.setColumnStretch(EXPECTED, 2)
        grid.setColumnStretch(VERDICT, 3)
        for part in parts:
            if part.title:
                title = MarkupLabel(markup("<b>{words}</b>", words=put(part.title)), wordWrap=True)
                title.setContentsMargins(0, 10, 0, 2)
                grid.addWidget(title, grid.rowCount(), NAME, 1, VERDICT + 1)
            for row in part.rows:
                self._add_row(grid, row, after, page)
        grid.setRowStretch(grid.rowCount(), 1)
        return page

    def _add_row(self, grid: QGridLayout, row: ListedRow, case: SheetCase, page: QWidget) -> None:
        from hangar.answers.bench_bands import bands_of

        words = _row_words(row)
        one_tick = len(row.boxes) == 1 and row.boxes[0].tick and all(not head for head, _ in row.words)
        if words and not one_tick:
            label = PlainLabel(words, wordWrap=True)
            label.setContentsMargins(0, 6, 0, 0)
            grid.addWidget(label, grid.rowCount(), NAME, 1, VERDICT + 1)
        for box in row.boxes:
            bands = bands_of(self.kind, case, self._desk.view.units, box.about, box.what)
            line = ReadingLine(box, bands, self._desk.view, self._hint(box), page, words if one_tick else "")
            line.put_into(grid, grid.rowCount())
            line.entry.installEventFilter(self)
            line.entry.setEnabled(not self._desk.read_only)
            self.lines.append(line)

    def _hint(self, box: ListedBox) -> str:
        """The unit of a bare number, or what is read at a stage; today where the date may stay blank."""
        if box.what in ("Date", "Date, time"):
            return self._desk.today.isoformat()
        if box.what in _OWN_UNITS:
            return symbol_of(self._desk.view.reader.unit_for(_OWN_UNITS[box.what]))
        return symbol_of(_PAPER_UNITS[box.what]) if box.what in _PAPER_UNITS else ""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter and the arrows go from box to box, as the eye goes down the paper."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
            if plain and event.key() in (*_FORWARD, Qt.Key.Key_Up):
                self._go(watched, -1 if event.key() == Qt.Key.Key_Up else 1)
                return True
        if event.type() == QEvent.Type.FocusIn and isinstance(watched, QWidget):
            self.area.ensureWidgetVisible(watched)
        return super().eventFilter(watched, event)

    def _go(self, entry: QObject, step: int) -> None:
        entries = [line.entry for line in self.lines]
        at = next((number for number, box in enumerate(entries) if box is entry), 0) + step
        if 0 <= at < len(entries):
            entries[at].setFocus()
        elif at == len(entries):
            self.buttons.button(QDialogButtonBox.StandardButton.Save).setFocus()

    def save(self) -> None:
        """Keep every reading as one undoable edit, or say beside the boxes what is wrong with them."""
        if self._shown is None or self._desk.read_only:
            return
        if not any(line.is_filled for line in self.lines):
            self.message.setText(say("Nothing is filled in yet."))
            return
        from hangar.acts.filled_sheets import EntryFault, TypedSheet, enter_sheet
        from hangar.store.filled_sheet import Answer

        answers = [Answer(line.box.about, line.box.what, line.text) for line in self.lines]
        sheet = TypedSheet(self.kind, self.code, answers, self._stamp.plan if self._stamp else None)
        try:
            self._desk.do(enter_sheet, self._desk.fleet, sheet, self._desk.today)
        except HangarError as fault:
            self._tell_refused(fault, fault.refused if isinstance(fault, EntryFault) else ())
            return
        self._drafts().pop(self._shown, None)
        self._shown = None
        self.show_sheet()
        self.message.setText(_outcome_words(sheet.outcome))

    def _tell_refused(self, fault: HangarError, refused: Iterable[Remark]) -> None:
        self.message.setText(put(fault))
        first: ReadingLine | None = None
        for remark in refused:
            line = self._line_of(remark)
            if line is not None:
                line.refuse(put(remark.reason))
                first = first or line
        if first is not None:
            first.entry.setFocus()
            # What was just said makes its row higher; only then is its place known.
            QTimer.singleShot(0, self, self._show_whole)

    def _show_whole(self) -> None:
        entry = QApplication.focusWidget()
        if entry is not None and self.area.isAncestorOf(entry):
            self.area.ensureWidgetVisible(entry, 50, _ROOM_BELOW_PX)

    def _line_of(self, remark: Remark) -> ReadingLine | None:
        answer = remark.answer
        if answer is None:
            return None
        return next(
            (line for line in self.lines if (line.box.about, line.box.what) == (answer.about, answer.what)),
            None,
        )

    def _drafts(self) -> Drafts:
        return _drafts.setdefault(self._desk, {})

    def _keep_draft(self) -> None:
        if self._shown is not None:
            typed = {_name(line): line.text for line in self.lines if line.is_filled}
            self._drafts()[self._shown] = typed

    def done(self, result: int) -> None:
        """Close; what is typed waits for the next time."""
        self._keep_draft()
        super().done(result)


def _name(line: ReadingLine) -> str:
    return f"{line.box.about} {line.box.what}"


def _row_words(row: ListedRow) -> str:
    parts = [
        put(words) if str(head) in _PLAIN_HEADS else f"{put(head)}{_between(str(head))} {put(words)}"
        for head, words in row.words
        if str(words) not in _NOT_TOLD
    ]
    return "  ·  ".join(parts)


def _between(head: str) -> str:
    return "" if head == "Ch" else ":"


def _outcome_words(outcome: Outcome) -> str:
    counts = ", ".join(f"{say(KIND_BY_NAME[kind].TITLE)} {count}" for kind, count in outcome.taken.items())
    lines = [say("Kept: {counts}. Undo takes it back.", counts=counts)]
    for remark in (*outcome.doubtful, *outcome.stated):
        about = f"{remark.answer.box}: " if remark.answer else ""
        if remark.answer is not None or remark in outcome.doubtful:
            lines.append(f"{about}{put(remark.reason)}")
    return "\n".join(lines)
