"""One verdict on one line: its question, mark, words, and below what it rests on."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_word, say
from hangar.window.packs.pack_words import FIT, Verdict
from hangar.window.packs.verdict_marks import verdict_icon


class VerdictLine(QWidget):
    """Shows a :class:`Verdict` under a question."""

    def __init__(self, view: ViewSettings, question: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._question = question
        self.verdict: Verdict | None = None
        self._mark = PlainLabel()
        self._words = PlainLabel(wordWrap=True)
        self._basis = PlainLabel(wordWrap=True)
        self._basis.setObjectName("quiet")
        asked = MarkupLabel(markup("<b>{question}</b>", question=question))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        grid.addWidget(asked, 0, 0, 1, 2)
        grid.addWidget(self._mark, 1, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self._words, 1, 1)
        grid.addWidget(self._basis, 2, 1)
        grid.setColumnStretch(1, 1)
        view.changed.connect(self._show)

    def show_verdict(self, verdict: Verdict) -> None:
        """Show this one."""
        self.verdict = verdict
        self._show()

    def _show(self) -> None:
        if self.verdict is None:
            return
        size = round(self.fontMetrics().height() * 1.2)
        self._mark.setPixmap(verdict_icon(self.verdict.mark, self._view.look, size).pixmap(size, size))
        self._words.setText(self.verdict.words)
        self._basis.setText(self.verdict.basis)
        self._basis.setVisible(bool(self.verdict.basis))
        level = say("Fit") if self.verdict.mark == FIT else level_word(self.verdict.mark)
        self._mark.setAccessibleName(level)
        self.setAccessibleName(f"{self._question} {level}. {self.verdict.words}. {self.verdict.basis}")
