"""What an edit is called, as the journal keeps it: words, or a text with what it is about."""

from __future__ import annotations

import json

from hangar.base.text import Text, text_as_json, text_from_json

_SIGN = '{"key": '
"""How a label begins that is a text."""


def kept_label(label: Text | str) -> str:
    """A label as the journal keeps it; a text is put into words where it is read."""
    return json.dumps(text_as_json(label), ensure_ascii=False) if isinstance(label, Text) else label


def read_label(kept: str) -> Text | str:
    """A label out of the journal.

    >>> from hangar.base.text import text
    >>> str(read_label(kept_label(text("Fit servo {tag}", tag="0301")))), read_label("Fit servo 0301")
    ('Fit servo 0301', 'Fit servo 0301')
    """
    if not kept.startswith(_SIGN):
        return kept
    try:
        said = text_from_json(json.loads(kept))
    except (ValueError, TypeError, KeyError):
        return kept
    return said if isinstance(said, Text) else kept
