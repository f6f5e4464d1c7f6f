"""Shows the life story of a servo or pack; any table with a tag in it leads here."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hangar.parts import Pack, Record, Servo
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, sentence_case
from hangar.window.records.life_story import StoryEvent, life_story, summary_words
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


def story_columns() -> tuple[Column[tuple[int, StoryEvent]], ...]:
    """When, what, where, remark."""
    return (
        Column(say("Day"), lambda row, _units: row[1].when.isoformat(), raw=lambda row: row[1].when),
        Column(say("What"), lambda row, _units: sentence_case(row[1].what)),
        Column(say("Where"), lambda row, _units: row[1].where),
        Column(say("Remark"), lambda row, _units: row[1].remark, tip=lambda row: row[1].remark, wraps=True),
    )


class LifeStoryDialog(QDialog):
    """The events of a part's life, the newest first."""

    def __init__(self, desk: Desk, kind: type[Record], tag: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk, self._kind = desk, kind
        self.resize(900, 480)
        self.tag = QLineEdit(tag)
        self.tag.setAccessibleName(say("Tag of the part"))
        self.tag.setMaximumWidth(self.fontMetrics().averageCharWidth() * 24)
        self.summary = PlainLabel(wordWrap=True)
        self._model: RowsModel[tuple[int, StoryEvent]] = RowsModel(
            desk, story_columns(), lambda row: row, self
        )
        self.table = RowsView(self._model, say("Where it has been"))
        self.table.choose_whole_rows()
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        row = QHBoxLayout()
        label = PlainLabel(say("&Tag"))
        label.setBuddy(self.tag)
        row.addWidget(label)
        row.addWidget(self.tag)
        row.addWidget(self.summary, 1)
        column = QVBoxLayout(self)
        column.addLayout(row)
        column.addWidget(self.table, 1)
        column.addWidget(buttons)
        self.tag.editingFinished.connect(self._asked)
        desk.touched.connect(self._show)
        self._show()
        self.table.setFocus()

    def _asked(self) -> None:
        tag = self.tag.text().strip()
        for kind in (self._kind, Servo, Pack):
            if self._desk.fleet.record(kind, tag) is not None:
                self._kind = kind
                break
        self._show()

    def _show(self) -> None:
        tag = self.tag.text().strip()
        self.setWindowTitle(say("Where has {tag} been?", tag=tag))
        self.summary.setText(summary_words(self._desk, self._kind, tag))
        self._model.show_rows(enumerate(life_story(self._desk, self._kind, tag)))
