"""A text as it is kept in a file: its key and what stands in it, to be put into words where it is read.

A field that may hold one is marked :class:`hangar.parts.fields.KeptText`; what the keeper wrote there
himself is kept as it is.
"""

from __future__ import annotations

import json

from hangar.base.text import Text, text_as_json, text_from_json

_SIGN = '{"key": '
"""How a kept text begins."""


def kept_text(sentence: Text | str) -> str:
    """What is said as a file keeps it; the keeper's own words are kept as they are."""
    return json.dumps(text_as_json(sentence), ensure_ascii=False) if isinstance(sentence, Text) else sentence


def read_kept(kept: str) -> Text | str:
    """What a file keeps, as it is said.

    >>> from hangar.base.text import text
    >>> str(read_kept(kept_text(text("Fit servo {tag}", tag="0301")))), read_kept("Fit servo 0301")
    ('Fit servo 0301', 'Fit servo 0301')
    """
    if not kept.startswith(_SIGN):
        return kept
    try:
        argument = text_from_json(json.loads(kept))
    except (ValueError, TypeError, KeyError, RecursionError):
        return kept
    return argument if isinstance(argument, Text) else kept


def said_in(kept: str | None) -> Text | str:
    """The same of a field that may be empty; nothing is said there."""
    return read_kept(kept) if kept else ""
