"""Patterns of sentences: fixed words with holes for names, numbers and further words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from hangar.base.unit_table import UNITS

HOLE = re.compile(r"\{([ntw])(\d+)(\^?)\}")
"""``{n1}`` a number with its unit, ``{w1}`` a name of the keeper's, ``{t1}`` words of ours."""
_WRITTEN_OUT = {
    "no": "keine", "one": "ein", "two": "zwei", "three": "drei", "four": "vier", "five": "fünf",
    "six": "sechs", "seven": "sieben", "eight": "acht", "nine": "neun", "ten": "zehn",
}  # fmt: skip
_AROUND_NUMBERS = {
    "at worst ": "schlimmstenfalls ",
    "about ": "etwa ",
    " to ": " bis ",
    " years": " Jahre",
    " months": " Monate",
}
_SYMBOLS = "|".join(
    re.escape(symbol)
    for symbol in sorted({unit.symbol for unit in UNITS.values() if unit.symbol}, key=len, reverse=True)
)
_PLAIN = rf"[-+±]?(?:\d+(?:[.,:]\d+)*(?:e[-+]?\d+)?|∞)(?: ?(?:{_SYMBOLS}|lb|AWG|MHz)(?![A-Za-z]))?"
NUMBER = re.compile(
    rf"(?:at worst |about )?(?:\d{{4}}-\d\d-\d\d|{_PLAIN}(?: to {_PLAIN})?|{'|'.join(_WRITTEN_OUT)})"
)
WORD = re.compile(r"[^\W\d_][^\W\d_'’-]*")
CODE = re.compile(r"\S*(?:\d|\w[A-Z]|[A-Z]-)")
"""What makes a code or tag of a keeper's of a word: figures, or capitals within it."""


def key_of(text: str) -> str:
    """A text without what its place in a sentence adds: a raised first letter and a full stop.

    >>> key_of("The rod may bow.")
    'the rod may bow'
    """
    text = text.strip()
    text = text.removesuffix(".") if not text.endswith("..") else text
    return text if CODE.match(text) else text[:1].lower() + text[1:]


@dataclass(eq=False)
class Pattern:
    """One pattern: the fixed texts with the holes between them, and its like."""

    english: str
    german: str
    fixed: tuple[str, ...] = field(init=False)
    holes: tuple[tuple[str, str], ...] = field(init=False)

    def __post_init__(self) -> None:
        key = key_of(self.english)
        self.fixed = tuple(HOLE.sub("\0", key).split("\0"))
        raised = {found[1] + found[2] for found in HOLE.finditer(self.german) if found[3]}
        self.holes = tuple(
            (self._kind(found[1], at, found[1] + found[2] in raised), found[1] + found[2])
            for at, found in enumerate(HOLE.finditer(key))
        )

    def _kind(self, kind: str, hole: int, raised: bool) -> str:
        """What may stand in a hole: a name in quotation marks is left alone, one of a place may be ours."""
        if kind == "w" and self.fixed[hole].endswith('"') and self.fixed[hole + 1].startswith('"'):
            return "quoted"
        return "place" if raised else kind

    @cached_property
    def length(self) -> int:
        return sum(map(len, self.fixed))

    @cached_property
    def anchors(self) -> tuple[str, ...]:
        """Words that a text must have to be of this pattern."""
        return tuple(word.lower() for part in self.fixed for word in whole_words(part))

    def filled(self, parts: Mapping[str, str]) -> str:
        def put(found: re.Match[str]) -> str:
            text = parts[found[1] + found[2]]
            return text[:1].upper() + text[1:] if found[3] else text

        return HOLE.sub(put, self.german)

    def may_be(self, text: str) -> bool:
        """Whether a text begins and ends like this pattern."""
        return text.startswith(self.fixed[0]) and text.endswith(self.fixed[-1]) and len(text) >= self.length

    def placed(self, text: str) -> Iterator[list[str]]:
        """Every way in which a text can be of this pattern: what stands in each hole."""
        first, last = self.fixed[0], self.fixed[-1]
        yield from self._from(text[: len(text) - len(last)] if last else text, len(first), 0)

    def _from(self, text: str, start: int, hole: int) -> Iterator[list[str]]:
        kind = self.holes[hole][0]
        if hole == len(self.holes) - 1:
            rest = text[start:]
            if (rest or self._is_glued(hole)) and (kind != "n" or NUMBER.fullmatch(rest)):
                yield [rest]
            return
        follows = self.fixed[hole + 1]
        ends = _number_ends(text, start, follows) if kind == "n" else self._ends(text, start, hole)
        for end in ends:
            for more in self._from(text, end + len(follows), hole + 1):
                yield [text[start:end], *more]

    def _is_glued(self, hole: int) -> bool:
        """Whether a hole for words stands right after a word, so that it may be empty."""
        return self.holes[hole][0] == "t" and self.fixed[hole][-1:].isalpha()

    def _ends(self, text: str, start: int, hole: int) -> Iterator[int]:
        follows = self.fixed[hole + 1]
        end = text.find(follows, start + (0 if self._is_glued(hole) else 1)) if follows else -1
        while end >= 0:
            yield end
            end = text.find(follows, end + 1)


def _number_ends(text: str, start: int, follows: str) -> Iterator[int]:
    """Where a number ends: with its unit or the end of its range, or before those."""
    found = NUMBER.match(text, start)
    while found:
        if text.startswith(follows, found.end()):
            yield found.end()
            return
        found = _shorter(text, found)


def _shorter(text: str, found: re.Match[str]) -> re.Match[str] | None:
    """A number without what was taken for its unit or for the end of a range."""
    for end in range(found.end() - 1, found.start(), -1):
        shorter = NUMBER.fullmatch(text, found.start(), end)
        if shorter:
            return shorter
    return None


def whole_words(text: str) -> list[str]:
    """The words of a fixed text; those that touch a hole are no whole words."""
    return [found[0] for found in WORD.finditer(text) if len(found[0]) > 1 or found[0] in "aAI"]


def number_words(text: str) -> str:
    """A number as it is, the words around it in German.

    >>> number_words("at worst 3 to 4 mm"), number_words("three")
    ('schlimmstenfalls 3 bis 4 mm', 'drei')
    """
    if text in _WRITTEN_OUT:
        return _WRITTEN_OUT[text]
    for english, german in _AROUND_NUMBERS.items():
        text = text.replace(english, german)
    return text
