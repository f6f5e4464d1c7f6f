"""Words on screen: plain wherever they may be the keeper's, markup only where it is written here.

Qt takes for markup whatever looks like it: a note "<5 mm & arm <b 3" would lose its end. A label is therefore
a :class:`PlainLabel`, or a :class:`MarkupLabel` that takes nothing but :class:`Markup`; a tip goes through
:func:`plain_tip`.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget


class Markup(str):
    """Text that is markup already: what the keeper wrote stands escaped in it."""

    __slots__ = ()

    def joined(self, parts: Iterable[str]) -> Markup:
        """The parts with this between them, each escaped that is no markup."""
        return Markup(self.join(str(_escaped(part)) for part in parts))


def markup(template: str, **parts: object) -> Markup:
    """A template with its holes filled; whatever is put in is escaped, unless it is markup itself.

    >>> markup("<b>{name}</b>", name="arm <b 3")
    '<b>arm &lt;b 3</b>'
    >>> markup("{inner}!", inner=markup("<i>{word}</i>", word="a & b"))
    '<i>a &amp; b</i>!'
    """
    return Markup(template.format(**{name: _escaped(part) for name, part in parts.items()}))


def plain(text: str) -> Markup:
    """Text without markup as markup."""
    return Markup(escape(text))


def _escaped(part: object) -> str:
    return part if isinstance(part, Markup) else escape(str(part))


def plain_tip(text: str) -> str:
    """A text as a tip that shows every letter of it.

    >>> plain_tip("Free play")
    'Free play'
    """
    if "<" not in text:
        return text
    return f"<p style='white-space: pre-wrap'>{escape(text)}</p>"


class PlainLabel(QLabel):
    """Words shown letter by letter."""

    def __init__(self, text: str = "", parent: QWidget | None = None, *, wordWrap: bool = False) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setText(text)
        self.setWordWrap(wordWrap)


class MarkupLabel(QLabel):
    """Words with markup of ours, set by ``show_markup`` only."""

    def __init__(
        self, text: Markup | None = None, parent: QWidget | None = None, *, wordWrap: bool = False
    ) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setWordWrap(wordWrap)
        if text is not None:
            self.show_markup(text)

    def show_markup(self, text: Markup) -> None:
        """Show this."""
        self.setText(text)
