"""Sentences of the core in another language, found again by their patterns.

The core writes its sentences in English, with names and numbers put in. A catalogue gives for each
pattern its like in another language; a sentence is taken apart into patterns, and the parts that stood
in their holes are taken apart in turn. What nobody translated stays as it is.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from hangar.base.unit_table import UNITS

HOLE = re.compile(r"\{([ntw])(\d+)(\^?)\}")
"""``{n1}`` a number with its unit, ``{w1}`` a name of the keeper's, ``{t1}`` words of ours."""

_NUMBER_WORDS = {
    "no": "keine", "one": "ein", "two": "zwei", "three": "drei", "four": "vier", "five": "fünf",
    "six": "sechs", "seven": "sieben", "eight": "acht", "nine": "neun", "ten": "zehn",
}  # fmt: skip
_AROUND_NUMBERS = {"at worst ": "schlimmstenfalls ", "about ": "etwa ", " to ": " bis "}
_SYMBOLS = "|".join(
    re.escape(symbol)
    for symbol in sorted({unit.symbol for unit in UNITS.values() if unit.symbol}, key=len, reverse=True)
)
_PLAIN = rf"[-+±]?(?:\d+(?:[.,:]\d+)*(?:e[-+]?\d+)?|∞)(?: ?(?:{_SYMBOLS}|lb|AWG|MHz)(?![A-Za-z]))?"
_NUMBER = re.compile(
    rf"(?:at worst |about )?(?:{_PLAIN}(?: to {_PLAIN})?|\d{{4}}-\d\d-\d\d|{'|'.join(_NUMBER_WORDS)})"
)
_JOINTS = (
    (". ", ". "), ("; and ", "; und "), ("; ", "; "), (": ", ": "), (", and ", " und "), (", or ", " oder "),
    (", ", ", "), (" and ", " und "), (" or ", " oder "), (" x ", " x "), (" / ", " / "), (" + ", " + "),
    (" - ", " - "),
)  # fmt: skip
"""Where a text of several parts is taken apart, the strongest first."""
_WORD = re.compile(r"[^\W\d_][^\W\d_'’-]*")
_NAME_WORDS = 5
_LONGEST = 900
_FEW = 0.01


def key_of(text: str) -> str:
    """A text without what its place in a sentence adds: a raised first letter and a full stop.

    >>> key_of("The rod may bow.")
    'the rod may bow'
    """
    text = text.strip()
    text = text.removesuffix(".") if not text.endswith("..") else text
    return text[:1].lower() + text[1:]


@dataclass(frozen=True)
class Said:
    """A text in the other language and how many English words are left in it."""

    text: str
    left: float


@dataclass(eq=False)
class _Pattern:
    """One pattern: the fixed texts with the holes between them, and its like."""

    english: str
    german: str
    fixed: tuple[str, ...] = field(init=False)
    holes: tuple[tuple[str, str], ...] = field(init=False)

    def __post_init__(self) -> None:
        key = key_of(self.english)
        self.holes = tuple((found[1], found[1] + found[2]) for found in HOLE.finditer(key))
        self.fixed = tuple(HOLE.sub("\0", key).split("\0"))

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

    def placed(self, text: str) -> Iterator[list[str]]:
        """Every way in which a text can be of this pattern: what stands in each hole."""
        first, last = self.fixed[0], self.fixed[-1]
        if not (text.startswith(first) and text.endswith(last)) or len(text) < self.length + len(self.holes):
            return
        yield from self._from(text[: len(text) - len(last)] if last else text, len(first), 0)

    def _from(self, text: str, start: int, hole: int) -> Iterator[list[str]]:
        kind = self.holes[hole][0]
        if hole == len(self.holes) - 1:
            rest = text[start:]
            if rest and (kind != "n" or _NUMBER.fullmatch(rest)):
                yield [rest]
            return
        follows = self.fixed[hole + 1]
        for end in self._ends(text, start, kind, follows):
            for more in self._from(text, end + len(follows), hole + 1):
                yield [text[start:end], *more]

    def _ends(self, text: str, start: int, kind: str, follows: str) -> Iterator[int]:
        if kind == "n":
            found = _NUMBER.match(text, start)
            while found and not text.startswith(follows, found.end()):
                found = _NUMBER.fullmatch(text, start, max(start, found.end() - 1)) or _shorter(text, found)
            if found:
                yield found.end()
            return
        end = text.find(follows, start + 1) if follows else -1
        while end > 0:
            yield end
            end = text.find(follows, end + 1)


def _shorter(text: str, found: re.Match[str]) -> re.Match[str] | None:
    """A number without what was taken for its unit or for the end of a range."""
    for end in range(found.end() - 1, found.start(), -1):
        shorter = _NUMBER.fullmatch(text, found.start(), end)
        if shorter:
            return shorter
    return None


def whole_words(text: str) -> list[str]:
    """The words of a fixed text; those that touch a hole are no whole words."""
    return [found[0] for found in _WORD.finditer(text) if len(found[0]) > 1 or found[0] in "aAI"]


class Sentences:
    """A catalogue of patterns that turns the core's sentences into another language.

    Args:
        entries: the other language by the English pattern; empty ones count as missing.
        words: gives a single word or label, or None where it knows none.

    >>> german = Sentences({"{t1} has no keeper": "{t1}: ohne Sicherung", "the {w1} clevis": "Gabelkopf {w1^}"})
    >>> german.say("The left aileron clevis has no keeper.")
    'Gabelkopf Left aileron: ohne Sicherung.'
    """

    def __init__(self, entries: Mapping[str, str], words: Callable[[str], str | None] | None = None) -> None:
        self._words = words or (lambda _text: None)
        self._whole: dict[str, str] = {}
        self._known: dict[str, Said] = {}
        self._vocabulary: set[str] = set()
        patterns = []
        for english, german in entries.items():
            self._vocabulary.update(word.lower() for word in whole_words(HOLE.sub(" ", english)))
            if german and HOLE.search(english):
                patterns.append(_Pattern(english, german))
            elif german:
                self._whole.setdefault(key_of(english), german.removesuffix("."))
        self._by_word = _indexed(patterns)

    @classmethod
    def read(cls, path: Path, words: Callable[[str], str | None] | None = None) -> Sentences:
        """The catalogue kept in a file."""
        grouped: dict[str, dict[str, str]] = json.loads(path.read_text(encoding="utf-8"))
        return cls({key: value for group in grouped.values() for key, value in group.items()}, words)

    def say(self, text: str) -> str:
        """A sentence in the other language; what is not known stays English."""
        return self.said(text).text

    def said(self, text: str) -> Said:
        """The same, with the number of English words that are left."""
        if not text or text.isspace() or len(text) > _LONGEST:
            return Said(text, 0.0 if not text.strip() else 1.0)
        stop = "." if text.rstrip().endswith(".") and not text.rstrip().endswith("..") else ""
        found = self._best(key_of(text))
        shown = found.text
        if text[:1].isupper():
            shown = shown[:1].upper() + shown[1:]
        return Said(shown + (stop if not shown.endswith(stop or "\0") else ""), found.left)

    def _best(self, key: str) -> Said:
        known = self._known.get(key)
        if known is None:
            self._known[key] = Said(key, float("inf"))
            known = self._known[key] = self._found(key)
        return known

    def _found(self, key: str) -> Said:
        whole = self._whole.get(key) or self._words(key)
        if whole:
            return Said(whole, 0.0)
        if _NUMBER.fullmatch(key):
            return Said(number_words(key), 0.0)
        best = Said(key, float(self._english_in(key)))
        if best.left == 0.0:
            return best
        for ways in (self._by_pattern, self._quoted, self._apart, self._side_by_side):
            best = min((best, *ways(key, best.left)), key=lambda said: said.left)
            if best.left < 0.5:
                break
        return best

    def _english_in(self, text: str) -> int:
        return sum(word.lower() in self._vocabulary for word in _WORD.findall(text))

    def _by_pattern(self, key: str, bound: float) -> Iterator[Said]:
        for pattern in self._candidates(key):
            for parts in pattern.placed(key):
                said = self._filled(pattern, parts, bound)
                if said is not None:
                    bound = said.left
                    yield said
                    if bound < _FEW:
                        return

    def _candidates(self, key: str) -> list[_Pattern]:
        words = {word.lower() for word in _WORD.findall(key)}
        found = {
            id(pattern): pattern
            for word in words
            for pattern, needed in self._by_word.get(word, ())
            if needed <= words
        }
        return sorted(found.values(), key=lambda pattern: -pattern.length)

    def _filled(self, pattern: _Pattern, parts: list[str], bound: float) -> Said | None:
        left, told = 0.0, {}
        for (kind, name), part in sorted(zip(pattern.holes, parts, strict=True), key=lambda each: each[0]):
            said = self._in_hole(kind, part)
            left += said.left
            if left >= bound:
                return None
            told[name] = said.text
        return Said(pattern.filled(told), left)

    def _in_hole(self, kind: str, part: str) -> Said:
        if kind == "n":
            return Said(number_words(part), 0.0)
        if kind == "w":
            words = part.split()
            long = len(words) > _NAME_WORDS or any(mark in part for mark in (";", ": ", ", ", ". ", " and "))
            return Said(part, _FEW * len(words) + (len(words) if long else 0.0))
        return self.said(part) if part.strip() == part else Said(part, 9.0)

    def _quoted(self, key: str, _bound: float) -> Iterator[Said]:
        if len(key) > 2 and key[0] == key[-1] == '"' and '"' not in key[1:-1]:
            inner = self.said(key[1:-1])
            yield Said(f"„{inner.text}“", inner.left)
        if key[0] == "(" and key[-1] == ")" and "(" not in key[1:]:
            inner = self.said(key[1:-1])
            yield Said(f"({inner.text})", inner.left)
        head, mark, tail = key.rpartition(" (")
        if mark and tail.endswith(")") and ")" not in tail[:-1]:
            before, inner = self.said(head), self.said(tail[:-1])
            yield Said(f"{before.text} ({inner.text})", before.left + inner.left)

    def _apart(self, key: str, bound: float) -> Iterator[Said]:
        for joint, shown in _JOINTS:
            if joint in key:
                parts = [self.said(part) for part in key.split(joint)]
                left = sum(part.left for part in parts)
                if left < bound:
                    bound = left
                    yield Said(shown.join(part.text for part in parts), left)

    def _side_by_side(self, key: str, bound: float) -> Iterator[Said]:
        """Two texts one after the other, as in a subject and what is told of it."""
        words = key.split(" ")
        if len(words) > 40:
            return
        for at in range(1, len(words)):
            head, tail = self.said(" ".join(words[:at])), self.said(" ".join(words[at:]))
            left = head.left + tail.left + _FEW
            if left < bound:
                bound = left
                yield Said(f"{head.text} {tail.text}", left)


def number_words(text: str) -> str:
    """A number as it is, the words around it in German.

    >>> number_words("at worst 3 to 4 mm"), number_words("three")
    ('schlimmstenfalls 3 bis 4 mm', 'drei')
    """
    if text in _NUMBER_WORDS:
        return _NUMBER_WORDS[text]
    for english, german in _AROUND_NUMBERS.items():
        text = text.replace(english, german)
    return text


def _indexed(patterns: Iterable[_Pattern]) -> dict[str, list[tuple[_Pattern, frozenset[str]]]]:
    """Patterns by the rarest of their words."""
    held = [pattern for pattern in patterns if pattern.anchors]
    often = Counter(word for pattern in held for word in set(pattern.anchors))
    found: dict[str, list[tuple[_Pattern, frozenset[str]]]] = {}
    for pattern in held:
        rarest = min(pattern.anchors, key=lambda word: (often[word], word))
        found.setdefault(rarest, []).append((pattern, frozenset(pattern.anchors)))
    return found
