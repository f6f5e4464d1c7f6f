"""The Findings room: findings of the whole fleet, with filters."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.judging import count_levels
from hangar.rules.finding import Finding, Level
from hangar.window.findings.findings_panel import FindingsPanel, finding_key
from hangar.window.findings.system_matrix import SystemMatrix
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.level_marks import mark_icon
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.when_seen import WhenSeen
from hangar.window.kit.words import level_count, level_word, put, say, sentence_case, word_of


class SnagSheet(QWidget):
    """All findings by what to do, or gravest first; by aircraft and system, by level and by words.

    Signals: ``limits_wanted()``.
    """

    limits_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._found: dict[str, tuple[Finding, ...]] = {}
        self.panel = FindingsPanel(desk, with_aircraft=True)
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only findings with…"))
        self.filter.setAccessibleName(say("Filter of findings"))
        self.filter.setClearButtonEnabled(True)
        self._titles: dict[object, str] = {}
        self.matrix = SystemMatrix(desk.view)
        self.panel.put_above(self.matrix)
        self.order = ListBox()
        self.order.setAccessibleName(say("Order of the findings"))
        self.order.addItems([say("Grouped by what to do"), say("Gravest first")])
        self.panel.table.group_by(self._title_of)
        self.levels = {level: self._level_button(level) for level in Level}
        self.with_accepted = QCheckBox(say("with &accepted ones"))
        self.message = PlainLabel()
        self.message.setObjectName("quiet")
        self.limits_button = QPushButton(say("&Limits…"))
        self.limits_button.setToolTip(say("The numbers that the checks hold the figures against"))
        self.limits_button.clicked.connect(self.limits_wanted)
        kinds = FlowRow(*self.levels.values(), self.with_accepted, self.order, self.limits_button)
        kinds.setContentsMargins(10, 10, 10, 0)
        row = QHBoxLayout()
        row.setContentsMargins(10, 6, 10, 4)
        row.addWidget(self.filter, 1)
        row.addWidget(self.message)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(kinds)
        column.addLayout(row)
        column.addWidget(self.panel, 1)
        hand_focus(self, self.panel.table)
        self._later = QTimer(self, singleShot=True, interval=30)
        self._later.timeout.connect(self.read_again)
        self.filter.textChanged.connect(self.panel.table.filter_words)
        self.with_accepted.toggled.connect(self.read_again)
        self.order.activated.connect(self.read_again)
        self.matrix.chosen.connect(self.read_again)
        self.panel.turned.connect(self._fit_matrix)
        desk.judged.connect(lambda _code: self._later.start())
        desk.touched.connect(lambda _touched: self._later.start())
        desk.view.changed.connect(WhenSeen(self, self._later.start).ask)
        self.panel.table.how_asked.connect(desk.how_asked)
        self.read_again()

    def _level_button(self, level: Level) -> QToolButton:
        button = QToolButton()
        button.setCheckable(True)
        button.setChecked(True)
        button.setAutoRaise(False)
        button.setAccessibleName(level_word(level))
        button.toggled.connect(lambda _on: self.read_again())
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        return button

    def read_again(self) -> None:
        """Gather the findings of every aircraft looked at so far."""
        codes = self._desk.codes()
        self._found = {code: self._findings_of(code) for code in codes}
        findings_now = [finding for findings in self._found.values() for finding in findings]
        counts = count_levels(findings_now)
        for level, button in self.levels.items():
            button.setIcon(mark_icon(level, self._desk.view.look))
            button.setText(level_count(level, counts[level]))
        self._fit_matrix()
        self.matrix.show_findings(codes, findings_now)
        wanted = [finding for finding in findings_now if self._is_wanted(finding)]
        self.panel.show_findings(self._in_order(wanted))
        waiting = sum(self._desk.known(code) is None for code in codes)
        words = [say("{count} aircraft still to look at", count=waiting)] if waiting else []
        cell = self.matrix.cell_chosen
        if cell is not None:
            words.append(say("only {aircraft}, {system}", aircraft=cell[0], system=word_of(cell[1])))
        self.message.setText("; ".join(words))

    def _fit_matrix(self) -> None:
        """The matrix where there is room for it beside the finding that is read."""
        shown = self.panel.is_beside
        if not shown:
            self.matrix.clearSelection()
        self.matrix.setVisible(shown)

    def _in_order(self, findings: list[Finding]) -> list[Finding]:
        self._titles = {}
        gravest_first = sorted(findings, key=_gravity)
        if self.order.currentIndex():
            return gravest_first
        from hangar.answers.finding_groups import by_cure

        known = {code: self._desk.known(code) for code in self._desk.codes()}
        fleet = {code: judgement.aircraft for code, judgement in known.items() if judgement is not None}
        groups = by_cure(gravest_first, fleet)
        for group in groups:
            title = sentence_case(put(group.title))
            self._titles.update({finding_key(finding): title for finding in group.findings})
        return [finding for group in groups for finding in group.findings]

    def _title_of(self, finding: Finding) -> str:
        return self._titles.get(finding_key(finding), "")

    def _findings_of(self, code: str) -> tuple[Finding, ...]:
        """Those of an aircraft; those before an edit while it is worked out, so that the cursor stays."""
        known = self._desk.known(code)
        if known is not None:
            return known.findings
        return () if self._desk.failure(code) else self._found.get(code, ())

    def _is_wanted(self, finding: Finding) -> bool:
        if not finding.is_open and not self.with_accepted.isChecked():
            return False
        return self.levels[finding.level].isChecked() and self.matrix.is_wanted(finding)


def _gravity(finding: Finding) -> tuple[int, str]:
    return finding.level.rank, finding.aircraft
