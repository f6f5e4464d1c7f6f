"""Next Field Day: choose the aircraft that go along, and see what they need the evening before."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtWidgets import (
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.judging import Judgement, worst_level
from hangar.parts.choices import AircraftState
from hangar.rules.releasing import flight_hindrances, unknown_essentials
from hangar.rules.thresholds import Thresholds
from hangar.window.kit.counts_strip import verdict_words
from hangar.window.kit.desk import Desk
from hangar.window.kit.level_marks import mark_icon
from hangar.window.kit.plain_words import Markup, MarkupLabel, markup, plain, plain_tip
from hangar.window.kit.words import counted, say, word_of
from hangar.window.log.field_day_rows import (
    charge_columns,
    day_packs,
    due_columns,
    due_rows,
    load_test_columns,
    open_columns,
    open_rows,
    take_columns,
    take_rows,
)
from hangar.window.paper.printing import PrintRow
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_CODE = Qt.ItemDataRole.UserRole
_GONE = (AircraftState.PASSED_ON, AircraftState.WRITTEN_OFF)
_WITHIN_DAYS = 3


class Choice(QListWidget):
    """The aircraft of the fleet, each with a box to tick; Space ticks the one under the cursor."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen: set[str] = set()
        self._fit_icons()
        self.setSpacing(2)
        desk.view.changed.connect(self._wear)
        self._wear()
        self.setAccessibleName(say("Aircraft to take along"))
        self.read_again()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit_icons()

    def _wear(self) -> None:
        # The plain style draws an empty box almost as dark as dark paper.
        look = self._desk.view.look
        self.setStyleSheet(
            f"QListWidget::indicator {{ width: 0.9em; height: 0.9em; border: 2px solid {look.soft}; "
            f"background: {look.paper}; }} "
            f"QListWidget::indicator:checked {{ background: {look.accent}; border: 2px solid {look.ink}; }} "
            "QListWidget::item { padding: 2px; } "
            f"QListWidget::item:selected {{ background: {look.chosen}; color: {look.ink}; }}"
        )

    def _fit_icons(self) -> None:
        side = round(self.fontMetrics().height() * 1.1)
        self.setIconSize(QSize(side, side))
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 30)

    def read_again(self) -> None:
        """Read the aircraft; those that are still there stay chosen."""
        known = self._desk.fleet.airframes() if self._desk.codes() else ()
        frames = [one for one in known if one.state not in _GONE]
        self._chosen &= {frame.code for frame in frames}
        at = self.currentRow()
        self.blockSignals(True)
        self.clear()
        for frame in frames:
            item = QListWidgetItem(f"{frame.code}  {frame.name}", self)
            item.setData(_CODE, frame.code)
            item.setToolTip(plain_tip(f"{word_of(frame.aircraft_class)}, {word_of(frame.state)}"))
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            ticked = Qt.CheckState.Checked if frame.code in self._chosen else Qt.CheckState.Unchecked
            item.setCheckState(ticked)
            self._mark(item)
        self.setCurrentRow(max(0, at))
        self.blockSignals(False)

    def _mark(self, item: QListWidgetItem) -> None:
        judgement = self._desk.known(str(item.data(_CODE)))
        level = worst_level(judgement.findings) if judgement else None
        words = verdict_words(judgement)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{item.text()}: {words}")
        if level is not None:
            item.setIcon(mark_icon(level, self._desk.view.look))

    def take(self, item: QListWidgetItem) -> None:
        """Keep what is ticked."""
        code = str(item.data(_CODE))
        if item.checkState() is Qt.CheckState.Checked:
            self._chosen.add(code)
        else:
            self._chosen.discard(code)

    def choose(self, *codes: str) -> None:
        """Tick just these."""
        for row in range(self.count()):
            item = self.item(row)
            wanted = Qt.CheckState.Checked if item.data(_CODE) in codes else Qt.CheckState.Unchecked
            item.setCheckState(wanted)

    def filter_words(self, text: str) -> None:
        """Show only aircraft with these words; hidden ones stay as they are."""
        for row in range(self.count()):
            item = self.item(row)
            item.setHidden(text.lower() not in item.text().lower())

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of the aircraft chosen, in the fleet's order."""
        every = (str(self.item(row).data(_CODE)) for row in range(self.count()))
        return tuple(code for code in every if code in self._chosen)


class FieldDay(QWidget):
    """Aircraft on the left; charge list, load tests, things to take, due and open things on the right."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.choice = Choice(desk)
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only aircraft with…"))
        self.filter.setAccessibleName(say("Filter of aircraft"))
        self.filter.setClearButtonEnabled(True)
        self.none_button = QPushButton(say("Take &none"))
        self.told = MarkupLabel(wordWrap=True)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setAccessibleName(say("Lists for the day"))
        self.tables: dict[str, RowsView] = {}
        self.open = self._table("open", say("Open findings"), open_columns())
        self.charge = self._table("charge", say("Charge"), charge_columns())
        self.test = self._table("test", say("Test under load"), load_test_columns())
        self.due = self._table("due", say("Due"), due_columns())
        self.take = self._table("take", say("Tools and spares"), take_columns())
        self.print_row = PrintRow(desk)
        self.print_row.add_sheet("field", say("&Print all field sheets…"), self.judged)
        self.print_row.add_sheet("charging", say("Print the &charging card…"), self.judged)
        self._arrange()
        self._later = QTimer(self, singleShot=True, interval=30)
        self._later.timeout.connect(self.read_again)
        self.choice.itemChanged.connect(self._ticked)
        self.filter.textChanged.connect(self.choice.filter_words)
        self.none_button.clicked.connect(lambda: self.choice.choose())
        desk.touched.connect(lambda _touched: self._later.start())
        desk.judged.connect(lambda _code: self._later.start())
        desk.view.changed.connect(self._later.start)
        self.read_again()

    def _table(self, name: str, title: str, columns: tuple[Column[Any], ...]) -> RowsView:
        model: RowsModel[Any] = RowsModel(self._desk, columns, lambda row: row, self)
        view = RowsView(model, title)
        view.choose_whole_rows()
        self.tables[name] = view
        return view

    def _arrange(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(10, 10, 4, 10)
        for widget in (self.filter, self.choice, self.none_button):
            column.addWidget(widget)
        right = QWidget()
        lists = QVBoxLayout(right)
        lists.setContentsMargins(4, 10, 10, 10)
        for view in self.tables.values():
            self.tabs.addTab(view, view.accessibleName())
        for one in (self.told, self.tabs, self.print_row):
            lists.addWidget(one)
        halves = QSplitter()
        halves.addWidget(left)
        halves.addWidget(right)
        halves.setSizes([250, 950])
        halves.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(halves)
        self.setFocusProxy(self.choice)

    def _ticked(self, item: QListWidgetItem) -> None:
        self.choice.take(item)
        self._later.start()

    def judged(self) -> tuple[Judgement, ...]:
        """The judgements of the aircraft chosen."""
        found = (self._desk.judgement(code) for code in self.choice.codes)
        return tuple(one for one in found if one is not None)

    def read_again(self) -> None:
        """Make all lists again for the aircraft chosen."""
        self.choice.read_again()
        self.choice.filter_words(self.filter.text())
        judged = self.judged()
        packs = day_packs(judged, Thresholds.from_settings(self._desk.around().settings))
        self.open.rows_model.show_rows(open_rows(judged))
        self.charge.rows_model.show_rows(packs)
        self.test.rows_model.show_rows(row for row in packs if row.is_tested)
        self.due.rows_model.show_rows(due_rows(judged, _WITHIN_DAYS))
        aircraft = [one.aircraft for one in judged]
        self.take.rows_model.show_rows(take_rows(aircraft, self._desk.around().library) if aircraft else ())
        for at, view in enumerate(self.tables.values()):
            count = len(view.rows_model.rows)
            self.tabs.setTabText(
                at, f"{view.accessibleName()}  ({count})" if count else view.accessibleName()
            )
        self.told.show_markup(self._words(judged))

    def _words(self, judged: tuple[Judgement, ...]) -> Markup:
        if not judged:
            return plain(say("Tick the aircraft that go along; the lists for the day appear here."))
        codes = ", ".join(one.aircraft.code for one in judged)
        one, many = say("{count} aircraft goes along: {codes}."), say("{count} aircraft go along: {codes}.")
        words = counted(len(judged), one, many).replace("{codes}", codes)
        warned = " ".join(self._warnings(judged))
        if warned:
            return markup("{words} <b>{warned}</b>", words=words, warned=warned)
        return plain(f"{words} {say('No open warnings on the data entered.')}")

    def _warnings(self, judged: tuple[Judgement, ...]) -> Iterator[str]:
        """Which must not fly, and which cannot be judged at all."""
        held = [one.aircraft.code for one in judged if flight_hindrances(one.aircraft, one.findings)]
        if held:
            yield say("Must not fly as they are: {codes}.", codes=", ".join(held))
        sound = {one.aircraft.code for one in judged if not unknown_essentials(one.aircraft)}
        unjudged = [code for code in self.choice.codes if code not in sound]
        if unjudged:
            yield say("Cannot be judged: {codes}.", codes=", ".join(unjudged))
