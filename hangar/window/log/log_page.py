"""The Logbook page: one time line with a filter, quick logging, snags and inspections."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QCheckBox, QDialog, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hangar.base.errors import HangarError
from hangar.parts import Snag
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.judging import Judgement
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import say, sentence_case
from hangar.window.log.log_dialogs import CloseSnagDialog, InspectionDialog
from hangar.window.log.log_edits import MustNotFly, next_snag_number, same_again
from hangar.window.log.log_rows import Entry, LogRow, log_columns, log_key, log_rows, open_snag
from hangar.window.log.logbook_tables import LogbookTables
from hangar.window.log.quick_log import QuickLog
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


class TimeLine(QWidget):
    """Every entry of one aircraft's log, the newest first."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._model: RowsModel[LogRow] = RowsModel(desk, log_columns(), log_key, self)
        self.table = RowsView(self._model, say("Log"))
        self.table.choose_whole_rows()
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only entries with…"))
        self.filter.setAccessibleName(say("Filter of the log"))
        self.filter.setClearButtonEnabled(True)
        self.entries = {entry: self._entry_box(entry) for entry in Entry}
        self.log_button = QPushButton(say("&Log a flight…"))
        self.again_button = QPushButton(say("Same &again"))
        self.raise_button = QPushButton(say("&Raise a snag…"))
        self.close_button = QPushButton(say("&Close the snag…"))
        self.inspect_button = QPushButton(say("Enter an &inspection…"))
        self._arrange()
        self._connect()

    def _entry_box(self, entry: Entry) -> QCheckBox:
        button = QCheckBox(say(sentence_case(entry)))
        button.setChecked(True)
        button.setAccessibleName(say("Show {what}", what=say(entry)))
        return button

    def _arrange(self) -> None:
        acts, filters = FlowRow(), FlowRow()
        for button in self._buttons():
            button.setEnabled(not self._desk.read_only)
            acts.addWidget(button)
        for one in self.entries.values():
            filters.addWidget(one)
        filters.addWidget(self.filter)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addLayout(acts)
        column.addLayout(filters)
        column.addWidget(self.table, 1)
        self.setFocusProxy(self.table)

    def _buttons(self) -> tuple[QPushButton, ...]:
        return self.log_button, self.again_button, self.raise_button, self.close_button, self.inspect_button

    def _connect(self) -> None:
        for button in self.entries.values():
            button.toggled.connect(lambda _on: self._show())
        self.filter.textChanged.connect(self.table.filter_words)
        self.log_button.clicked.connect(self.open_quick_log)
        self.again_button.clicked.connect(self.log_again)
        self.raise_button.clicked.connect(self.open_snag)
        self.close_button.clicked.connect(self.open_close_snag)
        self.inspect_button.clicked.connect(self.open_inspection)
        self.table.row_chosen.connect(lambda _row: self._snag_chosen())
        self.again_button.setToolTip(say("Log this aircraft's last flight once more (F6)"))
        again = QShortcut(QKeySequence("F6"), self)
        again.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        again.activated.connect(self.log_again)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the log of this aircraft."""
        self._judgement = judgement
        self._show()

    def _show(self) -> None:
        if self._judgement is None:
            return
        rows = log_rows(self._judgement.aircraft, self._desk.view.reader)
        wanted = {entry for entry, button in self.entries.items() if button.isChecked()}
        self._model.show_rows(row for row in rows if row.entry in wanted)
        self._snag_chosen()

    def _snag_chosen(self) -> None:
        is_open = open_snag(self.table.current_row) is not None
        self.close_button.setEnabled(is_open and not self._desk.read_only)
        tip = "" if is_open else say("Choose an open snag in the log first.")
        self.close_button.setToolTip(plain_tip(tip))

    @property
    def code(self) -> str:
        """Code of the aircraft shown."""
        return self._judgement.aircraft.code if self._judgement else ""

    def log_again(self) -> None:
        """Log this aircraft's last flight once more, as flown today."""
        if not self.code or self._desk.read_only:
            return
        try:
            same_again(self._desk, self.code)
        except MustNotFly as fault:
            self.open_quick_log().ask(fault)
        except HangarError as fault:
            self._desk.trouble.emit(fault)

    def open_quick_log(self) -> QuickLog:
        """Open the three lists of quick logging at this aircraft."""
        dialog = QuickLog(self._desk, self.code or None, self)
        dialog.open()
        return dialog

    def open_snag(self) -> QDialog:
        """Open the form for a snag found today."""
        preset = {
            "aircraft": self.code,
            "raised_on": self._desk.today,
            "number": next_snag_number(self._desk, self.code),
            "action": None,
            "closed_on": None,
        }
        dialog = RecordDialog(self._desk, Snag, preset, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def open_close_snag(self) -> CloseSnagDialog | None:
        """Ask what was done about the chosen snag."""
        snag = open_snag(self.table.current_row)
        if snag is None:
            return None
        dialog = CloseSnagDialog(self._desk, snag, self)
        dialog.open()
        return dialog

    def open_inspection(self) -> InspectionDialog | None:
        """Open the items of an inspection of this aircraft."""
        if self._judgement is None:
            return None
        dialog = InspectionDialog(self._desk, self._judgement, self)
        dialog.open()
        return dialog


class LogPage(LogbookTables):
    """The time line, and behind it the tables of each kind of record."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.time_line = TimeLine(desk)
        self.addTab(self.time_line, say("Time line"))
        self.tabBar().setAccessibleName(say("Tables of the logbook"))

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the log of this aircraft."""
        super().show_judgement(judgement)
        self.time_line.show_judgement(judgement)
