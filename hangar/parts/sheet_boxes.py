"""Names of the boxes of a filled sheet: the sheet prints by them, and what is written comes back by them."""

from __future__ import annotations

import re

FIELD, BENCH = "field", "bench"
"""The sheets whose boxes are read back."""

LONGEST_NAME = 60
_NOT_PLAIN = re.compile(r"[^0-9A-Za-z_+ -]+")


def plain_name(words: str) -> str:
    """Words as the name of a form field; a PDF form keeps full stops for its own tree.

    >>> plain_name("MARQ bench After, s")
    'MARQ bench After  s'
    """
    return _NOT_PLAIN.sub(" ", words).strip()[:LONGEST_NAME] or "field"


def answers_of(aircraft: str, sheet: str) -> str:
    """What the names of all boxes of an aircraft's sheet begin with.

    >>> answers_of("MARQ", BENCH)
    'MARQ bench'
    """
    return aircraft if sheet == FIELD else f"{aircraft} {sheet}"


def output_about(position: str | None, port: str, number: int | None) -> str:
    """What names an output in its boxes: its position, or its channel where no servo hangs on it.

    >>> output_about(None, "main", 4)
    'channel main 4'
    """
    return position if position is not None else f"channel {port} {number}"


def full_name(aircraft: str, sheet: str, about: str, what: str) -> str:
    """The name of one box.

    >>> full_name("MARQ", FIELD, "B021", "Read")
    'MARQ B021 Read'
    """
    return plain_name(f"{answers_of(aircraft, sheet)} {about} {what}")
