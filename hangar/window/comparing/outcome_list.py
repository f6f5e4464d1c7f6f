"""The verdict over a comparison or a try-out: the worst consequence, then what goes, comes and stays."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtWidgets import QTextBrowser, QWidget

from hangar.answers.judging import count_levels
from hangar.answers.outcomes import Outcome, Side
from hangar.rules.finding import Finding, Level
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, level_word, put, say

Verdict = tuple[Level | None, str, str]
"""Level, sentence, and what stands under it."""


def consequence_of(finding: Finding) -> str:
    """What the aircraft will do."""
    return put(finding.consequence or finding.message)


def comparison_verdict(outcome: Outcome, place: str, new_name: str, missing: tuple[str, ...]) -> Verdict:
    """The worst that comes with a servo, or that it ends, or that stays either way.

    What is not known of it stands before all but a warning: it must not look better than the one there.
    """
    worst = outcome.worst_change(place)
    if missing and (worst is None or worst[1].level is not Level.WARNING):
        sentence = say("Can't tell how {servo} would do here: not known: {fields}.", servo=new_name,
                       fields=", ".join(missing))  # fmt: skip
        return Level.CANT_TELL, sentence, count_words(outcome)
    if worst is None:
        return None, say("No finding comes or goes with {servo} here.", servo=new_name), count_words(outcome)
    side, finding = worst
    what = consequence_of(finding)
    if side is Side.NEW:
        sentence = say("With {servo}: {what}", servo=new_name, what=what)
    elif side is Side.GONE:
        sentence = say("As it is: {what}", what=what)
    else:
        sentence = say("Either way: {what}", what=what)
    return finding.level, sentence, count_words(outcome)


def trial_verdict(outcome: Outcome, place: str, *, is_turned: bool) -> Verdict:
    """The worst consequence that is left as tried; before anything is turned, the worst as it is."""
    worst = outcome.worst_left(place)
    counts = count_words(outcome) if is_turned else say("Nothing is turned yet.")
    if worst is None:
        return None, say("No open findings on the data entered."), counts
    _side, finding = worst
    what = consequence_of(finding)
    sentence = say("As tried: {what}", what=what) if is_turned else say("As it is: {what}", what=what)
    return finding.level, sentence, counts


def count_words(outcome: Outcome) -> str:
    """How many findings go, come and stay."""
    return say(
        "Goes: {gone}. New: {new}. Stays: {stays}.",
        gone=_counted(outcome.gone),
        new=_counted(outcome.new),
        stays=_counted(outcome.stays),
    )


def _counted(findings: Iterable[Finding]) -> str:
    parts = [level_count(level, count) for level, count in count_levels(findings).items() if count]
    return ", ".join(parts) or say("none")


class OutcomeList(QTextBrowser):
    """Every finding that comes, goes or stays; the new ones first, those that stay last."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.setAccessibleName(say("Findings that come and go"))

    def show_outcome(self, outcome: Outcome) -> None:
        """List them."""
        groups = ((say("New"), outcome.new), (say("Goes"), outcome.gone), (say("Stays"), outcome.stays))
        parts = [self._group(title, findings) for title, findings in groups if findings]
        self.setHtml("".join(parts) or escape(say("No open findings on the data entered.")))

    def _group(self, title: str, findings: tuple[Finding, ...]) -> str:
        lines = "".join(
            f"<br>&nbsp;&nbsp;<b style='color:{self._view.look.levels[finding.level].words}'>"
            f"{escape(level_word(finding.level))}</b> {escape(put(finding.message))}"
            for finding in findings
        )
        return f"<p><b>{escape(title)}</b> {len(findings)}{lines}</p>"
