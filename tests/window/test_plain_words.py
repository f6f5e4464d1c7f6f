"""What the keeper writes is shown letter by letter, wherever it comes up: it is never taken for markup."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QAbstractListModel, Qt
from PySide6.QtGui import Qt as GuiQt
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import QAbstractItemView, QGraphicsView, QLabel, QTextEdit, QWidget
from pytestqt.qtbot import QtBot

import hangar.window
from hangar.answers.board import Step
from hangar.base.text import fixed
from hangar.parts import RECORD_KINDS, Attachment, Record, Setting
from hangar.parts.fields import columns
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import Markup, MarkupLabel, PlainLabel, markup, plain_tip
from hangar.window.refit.plan_work import StepCard

WINDOW = Path(hangar.window.__file__).parent
OWN = WINDOW / "kit" / "plain_words.py"
HOSTILE = "<b>ZQ</b> & <5 mm <i"
CODED = {
    "port",
    "duties",
    "holes_mm",
    "packs",
    "mixed_with",
    "inputs",
    "photo",
    "place",
    "part",
    "part_type",
    "from_stock",
    "from_aircraft",
}
"""Texts that are read as lists or as names of other records."""


def with_hostile_words(record: Record) -> Record:
    """A record with letters that look like markup behind each free text of it."""
    linked = {field for link in type(record).LINKS for field in link.fields}
    texts = {
        spec.name: f"{getattr(record, spec.name) or spec.label} {HOSTILE}"
        for spec in columns(type(record))
        if spec.type is str and spec.name not in linked | CODED | set(type(record).KEY)
    }
    return replace(record, **texts)  # type: ignore[type-var]  # every record is a dataclass


def make_hostile(desk: Desk) -> None:
    """Write what looks like markup behind every free text of the fleet."""
    kinds = [kind for kind in RECORD_KINDS if kind not in (Setting, Attachment)]
    records = [with_hostile_words(record) for kind in kinds for record in desk.records(kind)]
    desk.change("Write what looks like markup", lambda edit: edit.put_all(records))


def shown(text: str, rich: bool) -> str:
    """What can be read of a text."""
    if not rich:
        return text
    document = QTextDocument()
    document.setHtml(text)
    return str(document.toPlainText())


def is_rich(label: QLabel) -> bool:
    kind = label.textFormat()
    return kind is Qt.TextFormat.RichText or (
        kind is Qt.TextFormat.AutoText and GuiQt.mightBeRichText(label.text())
    )


def texts_of(root: QWidget) -> Iterator[tuple[str, str]]:
    """Every text on a scene as it can be read: labels, pages, tips of widgets, cells and drawn things."""
    for widget in (root, *root.findChildren(QWidget)):
        if isinstance(widget, QLabel):
            yield f"label {widget.accessibleName()}", shown(widget.text(), is_rich(widget))
        if isinstance(widget, QTextEdit):
            yield f"page {widget.accessibleName()}", widget.toPlainText()
        if widget.toolTip():
            yield (
                f"tip of {widget.accessibleName()}",
                shown(widget.toolTip(), GuiQt.mightBeRichText(widget.toolTip())),
            )
        if isinstance(widget, QGraphicsView) and widget.scene() is not None:
            tips = [item.toolTip() for item in widget.scene().items()]
            yield from (("tip in a picture", shown(tip, GuiQt.mightBeRichText(tip))) for tip in tips if tip)
        if isinstance(widget, QAbstractItemView) and widget.model() is not None:
            yield from tips_of_cells(widget)


def tips_of_cells(view: QAbstractItemView) -> Iterator[tuple[str, str]]:
    model = view.model()
    wide = 1 if isinstance(model, QAbstractListModel) else model.columnCount()
    for row in range(min(model.rowCount(), 200)):
        for column in range(wide):
            tip = model.index(row, column).data(Qt.ItemDataRole.ToolTipRole)
            if tip:
                yield f"tip of a cell of {view.accessibleName()}", shown(tip, GuiQt.mightBeRichText(tip))


def test_a_step_of_the_work_keeps_every_letter(qtbot: QtBot) -> None:
    words = "Free play <5 mm & arm <b 3"
    for following in (1, 2):
        card = StepCard(Step(1, fixed(words), fixed(words)), (), following, False)
        qtbot.addWidget(card)
        read = [text for _, text in texts_of(card)]
        assert len([text for text in read if text.replace("\u00a0", " ").endswith(words)]) == 2, read


@pytest.mark.parametrize("words", ["Free play <5 mm & arm <b 3", "a <b>c</b>", "R&D", "x < y\n<i>z"])
def test_a_tip_a_label_and_markup_keep_every_letter(qtbot: QtBot, words: str) -> None:
    tip = plain_tip(words)
    assert shown(tip, GuiQt.mightBeRichText(tip)) == words
    plain, rich = PlainLabel(words), MarkupLabel(markup("<b>{words}</b>", words=words))
    qtbot.addWidget(plain)
    qtbot.addWidget(rich)
    assert not is_rich(plain)
    assert shown(rich.text(), is_rich(rich)).split() == words.split()


def test_markup_within_markup_is_escaped_once() -> None:
    inner = markup("<i>{word}</i>", word="<5")
    assert markup("{inner} {word}", inner=inner, word="&") == "<i>&lt;5</i> &amp;"
    assert Markup(" · ").joined([inner, "<"]) == "<i>&lt;5</i> · &lt;"


def test_labels_and_tips_are_made_in_the_one_place() -> None:
    raw = []
    for path in WINDOW.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if path == OWN or not isinstance(node, ast.Call):
                continue
            if isinstance(node.func, ast.Name) and node.func.id == "QLabel":
                raw.append(f"{path.relative_to(WINDOW)}:{node.lineno} QLabel")
            if (
                isinstance(node.func, ast.Attribute)
                and node.func.attr == "setToolTip"
                and not is_fixed(node.args[0])
            ):
                raw.append(f"{path.relative_to(WINDOW)}:{node.lineno} setToolTip")
    assert raw == []


def is_fixed(value: ast.expr) -> bool:
    """Whether a tip is one text of ours, or was made plain."""
    if isinstance(value, ast.Constant):
        return True
    if not isinstance(value, ast.Call):
        return False
    name = value.func.id if isinstance(value.func, ast.Name) else getattr(value.func, "attr", "")
    return name == "plain_tip" or (name in ("tr", "say") and isinstance(value.args[0], ast.Constant))
