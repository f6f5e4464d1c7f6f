"""Kept texts in the tables taken out: a sentence to read, and beside it what it is made again of.

A field in which the program may write (:class:`hangar.parts.fields.KeptText`) holds a text by its key and
what stands in it. Its column holds the sentence, as a keeper reads it; ``remarks_kept`` behind the columns
of the table holds the text itself with that sentence. Coming in again the text counts while the sentence
beside it still is what was written; a sentence that the keeper wrote anew is his own.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.kept_text import read_kept
from hangar.base.text import Arg, Text
from hangar.parts import Record
from hangar.parts.fields import FieldSpec, columns

Put = Callable[[Arg], str]
"""Puts a text into the words of whom the tables are for."""

_ENDING = "_kept"


def table_of(kind: type[Record], records: Iterable[Record], put: Put) -> tuple[list[str], list[list[Any]]]:
    """The headings and rows of a kind's table, kept texts as sentences; what they are made of at the end."""
    specs, held = columns(kind), list(records)
    names = [spec.name for spec in specs]
    rows = [[getattr(record, name) for name in names] for record in held]
    for at, spec in enumerate(specs):
        sentences = [read_kept(row[at]) if spec.is_said and row[at] else None for row in rows]
        if any(isinstance(words, Text) for words in sentences):
            names.append(spec.name + _ENDING)
            for row, words in zip(rows, sentences, strict=True):
                row.append(_put_beside(row, at, put(words)) if isinstance(words, Text) else None)
    return names, rows


def _put_beside(row: list[Any], at: int, sentence: str) -> str:
    kept = {"written": sentence, "text": json.loads(row[at])}
    row[at] = sentence
    return json.dumps(kept, ensure_ascii=False)


def kept_column(kind: type[Record], header: str) -> FieldSpec | None:
    """The field whose kept texts stand under a heading; None for any other heading."""
    return next((spec for spec in columns(kind) if spec.is_said and header == spec.name + _ENDING), None)


def whole_again(cell: str, sentence: str | None) -> str | None:
    """What a field held, of the cell of its kept text and the sentence that stands in its own.

    Raises: BadInput when the cell holds nothing that was written there.
    """
    if not cell:
        return sentence
    try:
        kept = json.loads(cell)
        written, words = kept["written"], json.dumps(kept["text"], ensure_ascii=False)
    except (ValueError, TypeError, KeyError, RecursionError):
        words, written = "", None
    if not isinstance(written, str) or not isinstance(read_kept(words), Text):
        raise BadInput(
            "is no sentence kept for a later look; allowed is what was taken out, or nothing: then the "
            "words beside it are yours."
        )
    return words if _same_words(written, sentence or "") else sentence


def _same_words(name: str, other: str) -> bool:
    """Whether two sentences are alike but for their spaces and ends of lines, which spreadsheets change."""
    return name.split() == other.split()
