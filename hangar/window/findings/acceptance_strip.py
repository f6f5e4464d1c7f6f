"""The strip that accepts a finding in writing until a date, or takes that back."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtWidgets import QWidget

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.parts import Acceptance
from hangar.parts.fields import key_of
from hangar.rules.accepting import acceptance_of
from hangar.rules.finding import Finding
from hangar.window.kit.desk import Desk
from hangar.window.kit.until_strip import UntilStrip
from hangar.window.kit.words import say

USUAL_DAYS = 30


class AcceptanceStrip(UntilStrip):
    """Until when, why, and the two buttons."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        accept = say("Accept in writing")
        super().__init__(desk.view, say("Accept &until"), accept, say("Reason for accepting"), parent)
        self._desk = desk
        self._finding: Finding | None = None
        self.given.connect(self._accept)
        self.taken_back.connect(self._withdraw)
        self.show_finding(None)

    def show_finding(self, finding: Finding | None) -> None:
        """Offer what can be done with this finding."""
        same = finding is not None and self._finding is not None and _is_same(finding, self._finding)
        self._finding = finding
        accepted = finding is not None and finding.accepted_until is not None
        self.setEnabled(finding is not None and not self._desk.read_only)
        self.show_given(accepted)
        if not same or accepted:
            until = finding.accepted_until if finding and finding.accepted_until else self._usual_until()
            reason = (finding.accepted_because or "") if finding else ""
            self.fill(until, reason)

    def _usual_until(self) -> date:
        return self._desk.today + timedelta(days=USUAL_DAYS)

    def _accept(self) -> None:
        if self._finding is not None:
            finding = self._finding
            self._desk.attempt(lambda: self._write(finding))

    def _write(self, finding: Finding) -> None:
        reason = self.reason.text().strip()
        until = self.until.day
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
