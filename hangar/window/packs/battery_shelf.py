"""The Battery Shelf: packs by what to do with a page for each, what to store how, and all tables."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt
from PySide6.QtGui import QResizeEvent, QShowEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QSplitter,
    QTreeView,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.judging import settings_judged_by
from hangar.answers.packs import PackCase, pack_cases
from hangar.parts import (
    CapacityTest,
    CellReading,
    Charge,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    Setting,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.strip import StripPages
from hangar.window.kit.when_seen import WhenSeen
from hangar.window.kit.words import level_word, say
from hangar.window.packs.pack_page import PackPage
from hangar.window.packs.pack_words import (
    FIT,
    ToDo,
    Verdict,
    charge_words,
    health_words,
    state_title,
    storage_words,
    title_words,
    to_do,
    todo_words,
    verdict_icon,
)
from hangar.window.packs.storage_list import StorageList
from hangar.window.packs.volts_bar import BAR_ROLE, VoltsDelegate, cell_bar
from hangar.window.records.paste_rows import paste_action
from hangar.window.records.shelves import BATTERY_SHELF, Shelf

_KINDS = frozenset(
    kind.KIND for kind in (Pack, PackType, PackFit, LoadTest, CapacityTest, CellReading, Charge, Setting)
)
PACK_FIELDS = ("tag", "pack_type", "bought_on", "cycles")
"""What pasted rows without headings stand for."""

_CELLS, _STATE, _VOLTS = 1, 2, 5
_FIRST_TO_GO = (_STATE, _CELLS)
_TAG = Qt.ItemDataRole.UserRole + 1


class PackTree(QTreeView):
    """Packs below what to do with them, each with its two verdicts and its volts a cell."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.packs = QStandardItemModel(self)
        self.setModel(self.packs)
        self.setAccessibleName(say("Packs by what to do"))
        self.setEditTriggers(QTreeView.EditTrigger.NoEditTriggers)
        self.setUniformRowHeights(True)
        self.setIndentation(14)
        self.setItemDelegateForColumn(_VOLTS, VoltsDelegate(desk, self))
        self.setAlternatingRowColors(False)

    def show_cases(self, cases: tuple[PackCase, ...], words: str = "") -> None:
        """Show these packs, or those of them that hold some words; the chosen one stays chosen."""
        tag = self.tag
        self.packs.clear()
        self.packs.setHorizontalHeaderLabels(
            [
                say("Pack"),
                say("What it is"),
                say("State"),
                say("Charged?"),
                say("Healthy?"),
                say("Volts a cell"),
            ]
        )
        wanted = [case for case in cases if words.lower() in _searched(case)]
        groups: dict[ToDo, list[PackCase]] = {}
        for case in wanted:
            groups.setdefault(to_do(case, self._desk), []).append(case)
        for todo in sorted(groups, key=list(ToDo).index):
            some = groups[todo]
            head = _item(f"{todo_words(todo)}  ({len(some)})")
            font = head.font()
            font.setBold(True)
            head.setFont(font)
            for case in some:
                head.appendRow(self._row(case))
            self.packs.appendRow(head)
            self.setFirstColumnSpanned(self.packs.rowCount() - 1, QModelIndex(), True)
        self.expandAll()
        self._fit()
        if not self.choose(tag) and wanted:
            self.choose(str(self.packs.index(0, 0, self.packs.index(0, 0)).data(_TAG)))

    def _row(self, case: PackCase) -> list[QStandardItem]:
        today, units = self._desk.today, self._desk.view.reader
        tag = _item(case.tag)
        tag.setData(case.tag, _TAG)
        tag.setToolTip(plain_tip(f"{title_words(case)}, {state_title(case.pack.state)}"))
        return [
            tag,
            _item(title_words(case)),
            _item(state_title(case.pack.state)),
            self._verdict(charge_words(case, today, units)),
            self._verdict(health_words(case, today, units)),
            self._volts(case),
        ]

    def _volts(self, case: PackCase) -> QStandardItem:
        """How full a cell is, against the zone to store it at."""
        bar = cell_bar(case, self._desk)
        item = _item("")
        item.setData(bar, BAR_ROLE)
        verdict = storage_words(case, self._desk)
        item.setToolTip(plain_tip(verdict.words))
        item.setAccessibleText(f"{bar.words}. {verdict.words}")
        return item

    def _verdict(self, verdict: Verdict) -> QStandardItem:
        short = say("fit") if verdict.mark == FIT else level_word(verdict.mark).lower()
        item = _item(short)
        item.setIcon(verdict_icon(verdict.mark, self._desk.view.look))
        item.setToolTip(plain_tip(f"{verdict.words}\n{verdict.basis}".strip()))
        item.setAccessibleText(verdict.words)
        return item

    @property
    def wanted_width(self) -> int:
        """The width at which every column shows in full."""
        bar = self.verticalScrollBar().sizeHint().width()
        return sum(self._wide(at) for at in range(self.packs.columnCount())) + bar + 2

    def _wide(self, at: int) -> int:
        return max(self.sizeHintForColumn(at), self.header().sectionSizeHint(at))

    def _fit(self) -> None:
        """Columns as wide as their words; what the page tells too gives way where the room ends."""
        if not self.packs.columnCount():
            return
        for at in range(self.packs.columnCount()):
            self.setColumnHidden(at, False)
        widths = [self._wide(at) for at in range(self.packs.columnCount())]
        for at, wide in enumerate(widths):
            self.setColumnWidth(at, wide)
        for at in _FIRST_TO_GO:
            if sum(widths) > self.viewport().width():
                self.setColumnHidden(at, True)
                widths[at] = 0
        over = sum(widths) - self.viewport().width()
        if over > 0:
            self.setColumnWidth(_VOLTS, max(widths[_VOLTS] // 2, widths[_VOLTS] - over))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    @property
    def tag(self) -> str:
        """Tag of the chosen pack; empty on a heading."""
        return str(self.currentIndex().siblingAtColumn(0).data(_TAG) or "")

    def choose(self, tag: str) -> bool:
        """Put the cursor on a pack; returns whether it is there."""
        for row in range(self.packs.rowCount()):
            head = self.packs.index(row, 0)
            for child in range(self.packs.rowCount(head)):
                index = self.packs.index(child, 0, head)
                if index.data(_TAG) == tag:
                    flags = QItemSelectionModel.SelectionFlag
                    chosen = flags.ClearAndSelect | flags.Rows
                    self.selectionModel().setCurrentIndex(index, chosen)
                    return True
        return False


def _item(words: str) -> QStandardItem:
    item = QStandardItem(words)
    item.setEditable(False)
    return item


def _searched(case: PackCase) -> str:
    return (
        f"{case.tag} {title_words(case)} {case.pack.pack_type} {case.pack.state} {case.place_words}".lower()
    )


class PacksPage(QSplitter):
    """The packs on the left, the chosen one on the right."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._cases: tuple[PackCase, ...] = ()
        self.tree = PackTree(desk)
        self.page = PackPage(desk)
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only packs with…"))
        self.filter.setAccessibleName(say("Filter of packs"))
        self.filter.setClearButtonEnabled(True)
        self.empty = PlainLabel(say("No pack is entered yet."), wordWrap=True)
        self.add_button = QPushButton(say("New p&ack…"))
        self.add_button.setProperty("main", True)
        self.add_button.setEnabled(not desk.read_only)
        self.empty.setObjectName("quiet")
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(10, 10, 4, 10)
        row = QHBoxLayout()
        row.addWidget(self.filter)
        column.addLayout(row)
        column.addWidget(self.empty)
        column.addWidget(self.add_button)
        column.addWidget(self.tree, 1)
        self.addWidget(left)
        self.addWidget(self.page)
        self.setSizes([480, 760])
        self.setChildrenCollapsible(False)
        hand_focus(self, self.tree)
        self.tree.addAction(paste_action(desk, self.tree, Pack, PACK_FIELDS, dict))
        self.filter.textChanged.connect(self._list)
        self.tree.selectionModel().currentChanged.connect(self._chosen)
        self._judged_by = settings_judged_by(desk.records(Setting))
        desk.touched.connect(self._touched)
        desk.view.changed.connect(WhenSeen(self, self._list).ask)
        self.read_again()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        wide = self.width()
        beside = max(wide - self.page.wanted_width - self.handleWidth(), wide * 2 // 5)
        left = min(self.tree.wanted_width + 24, wide * 11 // 20, beside)
        self.setSizes([left, self.width() - left])

    def read_again(self) -> None:
        """Read all packs."""
        self._cases = pack_cases(self._desk)
        self._list()

    def _list(self) -> None:
        self.tree.show_cases(self._cases, self.filter.text())
        for widget in (self.empty, self.add_button):
            widget.setVisible(not self._cases)
        self.tree.setVisible(bool(self._cases))
        self.page.setVisible(bool(self._cases))
        self._chosen()

    def _chosen(self, *_indexes: object) -> None:
        case = next((case for case in self._cases if case.tag == self.tree.tag), None)
        if case is not None:
            self.page.show_case(case)

    def _touched(self, touched: frozenset[str]) -> None:
        if not touched & _KINDS:
            return
        judged_by = settings_judged_by(self._desk.records(Setting))
        if touched <= {Setting.KIND} and judged_by == self._judged_by:
            return
        self._judged_by = judged_by
        self.read_again()


class BatteryShelf(StripPages):
    """Packs, storage, and the tables of everything recorded of packs."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(say("Pages of the packs"), parent)
        self._desk = desk
        self.packs = PacksPage(desk)
        self._late: dict[int, Callable[[], QWidget]] = {}
        self.addTab(self.packs, say("One by one"))
        self._late[self.addTab(QWidget(), say("Storage and charging"))] = self._storage
        self._late[self.addTab(QWidget(), say("All tables"))] = lambda: Shelf(desk, BATTERY_SHELF)
        hand_focus(self, self.packs.tree)
        self.packs.add_button.clicked.connect(self._add_pack)
        self.currentChanged.connect(self._fill)

    def _storage(self) -> StorageList:
        made = StorageList(self._desk)
        made.lead_on.wanted.connect(self._add_pack)
        return made

    def _fill(self, at: int) -> None:
        """Build a page when it is first looked at."""
        if at in self._late:
            self.put_page(at, self._late.pop(at)())

    def _add_pack(self) -> None:
        """The form of a new pack, over the table that it goes into."""
        at = self.count() - 1
        self.setCurrentIndex(at)
        shelf = self.widget(at)
        if isinstance(shelf, Shelf):
            shelf.open_kind(Pack).add_button.click()

    def open_pack(self, tag: str) -> None:
        """Show the page of a pack."""
        self.setCurrentIndex(0)
        self.packs.filter.clear()
        self.packs.tree.choose(tag)
