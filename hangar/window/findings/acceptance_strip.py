"""The strip that accepts a finding in writing until a date, or takes that back."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QDate
from PySide6.QtWidgets import QLineEdit, QPushButton, QWidget

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.parts import Acceptance
from hangar.parts.fields import key_of
from hangar.rules.accepting import acceptance_of
from hangar.rules.finding import Finding
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import DateBox
from hangar.window.kit.words import say

USUAL_DAYS = 30


class AcceptanceStrip(QWidget):
    """Until when, why, and the two buttons."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._finding: Finding | None = None
        self.until = DateBox()
        self.until.setCalendarPopup(True)
        self.until.setDisplayFormat("yyyy-MM-dd")
        self.until.setAccessibleName(say("Accept until"))
        self.reason = QLineEdit()
        self.reason.setPlaceholderText(say("Reason, in your own words"))
        self.reason.setAccessibleName(say("Reason for accepting"))
        self.accept = QPushButton(say("Accept in writing"))
        self.withdraw = QPushButton(say("Take back"))
        label = PlainLabel(say("Accept &until"))
        label.setBuddy(self.until)
        row = FlowRow(side_by_side(label, self.until), self.reason, self.accept, self.withdraw)
        self.setLayout(row)
        self.accept.clicked.connect(self._accept)
        self.reason.returnPressed.connect(self._accept)
        self.withdraw.clicked.connect(self._withdraw)
        self.show_finding(None)

    def show_finding(self, finding: Finding | None) -> None:
        """Offer what can be done with this finding."""
        same = finding is not None and self._finding is not None and _is_same(finding, self._finding)
        self._finding = finding
        accepted = finding is not None and finding.accepted_until is not None
        self.setEnabled(finding is not None and not self._desk.read_only)
        self.accept.setVisible(not accepted)
        self.withdraw.setVisible(accepted)
        self.until.setEnabled(not accepted)
        self.reason.setEnabled(not accepted)
        if not same or accepted:
            until = finding.accepted_until if finding and finding.accepted_until else self._usual_until()
            self.until.setDate(QDate(until.year, until.month, until.day))
            self.reason.setText((finding.accepted_because or "") if finding else "")

    def _usual_until(self) -> date:
        return self._desk.today + timedelta(days=USUAL_DAYS)

    def _accept(self) -> None:
        if self._finding is not None:
            finding = self._finding
            self._desk.attempt(lambda: self._write(finding))

    def _write(self, finding: Finding) -> None:
        reason = self.reason.text().strip()
        picked = self.until.date()
        until = date(picked.year(), picked.month(), picked.day())
        if not reason:
            raise BadInput("The reason is empty; write why this finding is accepted.")
        if until < self._desk.today:
            raise BadInput("The day lies in the past; choose today or a later day.")
        record = acceptance_of(finding, until, reason)
        self._desk.change(text("Accept {rule}", rule=finding.rule), lambda edit: edit.put(record))

    def _withdraw(self) -> None:
        if self._finding is None:
            return
        finding = self._finding
        record = acceptance_of(finding, self._desk.today, "")
        key = key_of(record)
        label = text("Take back the acceptance of {rule}", rule=finding.rule)
        self._desk.edit(label, lambda edit: edit.remove(Acceptance, key))


def _is_same(finding: Finding, other: Finding) -> bool:
    """Whether both are one matter, so that a reason half written stays when the fleet is judged anew."""
    return (finding.aircraft, finding.rule, finding.about) == (other.aircraft, other.rule, other.about)
