"""Sentences of the core in another language, found again by their patterns.

The core writes its sentences in English, with names and numbers put in. A catalogue gives for each
pattern its like in another language; a sentence is taken apart into patterns, and the parts that stood
in their holes are taken apart in turn. What nobody translated stays as it is.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from hangar.base.sentence_patterns import CODE, HOLE, NUMBER, WORD, Pattern, key_of, number_words, whole_words

_JOINTS = (
    (". ", ". "), ("; and ", "; und "), ("; ", "; "), (": ", ": "), (", and ", " und "), (", or ", " oder "),
    (", ", ", "), (" and ", " und "), (" or ", " oder "), (" x ", " x "), (" / ", " / "), (" + ", " + "),
    (" - ", " - "),
)  # fmt: skip
"""Where a text of several parts is taken apart, the strongest first."""
_STRONG = (". ", "; and ", "; ", ": ")
"""Joints whose parts are sentences of their own: one of them may stay English."""
_NAME_WORDS, _MOST_WORDS = 5, 40
_TELLING = 16
"""Letters that a pattern must have of its own to be told where a part of it stays English."""
_NEVER_NAMES = frozenset({
    "a", "an", "and", "are", "at", "by", "each", "for", "from", "gets", "give", "gives", "has", "have",
    "in", "is", "it", "its", "not", "of", "on", "or", "than", "that", "the", "they", "this", "to", "was",
    "were", "when", "with",
})  # fmt: skip
"""Words that make a sentence of what might be a name."""
_LONGEST = 900
_FEW = 0.01
_SURE = 0.15
_ALL_TOLD = 0.5
"""Below this nothing but names is left of the English."""


@dataclass(frozen=True)
class Said:
    """A text in the other language and how many English words are left in it.

    ``loose`` is set where a single word was found in a list of words and not among the sentences: it may
    be meant otherwise beside other words.
    """

    text: str
    left: float
    loose: bool = False


class Sentences:
    """A catalogue of patterns that turns the core's sentences into another language.

    Args:
        entries: the other language by the English pattern; empty ones count as missing.
        words: gives a single word or label, or None where it knows none.

    >>> german = Sentences({"{t1} has {n1} joints": "{t1}: {n1} Stellen", "the {w1} lead": "Leitung {w1^}"})
    >>> german.say("The left aileron lead has three joints.")
    'Leitung Left aileron: drei Stellen.'
    """

    def __init__(self, entries: Mapping[str, str], words: Callable[[str], str | None] | None = None) -> None:
        self._words = words or (lambda _text: None)
        self._whole: dict[str, str] = {}
        self._known: tuple[dict[str, Said], dict[str, Said]] = ({}, {})
        self._vocabulary: set[str] = set()
        patterns = []
        for english, german in entries.items():
            self._vocabulary.update(word.lower() for word in whole_words(HOLE.sub(" ", english)))
            if german and HOLE.search(english):
                patterns.append(Pattern(english, german))
            elif german:
                self._whole.setdefault(key_of(english), german.removesuffix("."))
        self._by_word = _indexed(patterns)
        # While a sentence is taken apart its place in _known says so: another thread must not read that.
        self._lock = RLock()

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
        with self._lock:
            found = self._told(text, loosely=False)
            if found.left < _SURE:
                return found
            return min(found, self._told(text, loosely=True), key=lambda said: said.left)

    def _told(self, text: str, *, loosely: bool) -> Said:
        bare = text.strip()
        if not bare:
            return Said(text, 0.0)
        if len(text) > _LONGEST:
            return self._long(text, loosely=loosely)
        key = key_of(text)
        known = self._known[loosely].get(key)
        if known is None:
            self._known[loosely][key] = Said(key, float("inf"))
            known = self._known[loosely][key] = self._found(key, loosely)
        shown = known.text
        if text[0].isupper():
            shown = shown[:1].upper() + shown[1:]
        name, _, rest = bare.partition(" ")
        low = name[:1].lower() + name[1:]
        if rest and name not in shown and low in shown and low not in self._vocabulary:
            shown = shown.replace(low, name, 1)
        if bare[-1] == "." and shown[-1:] != ".":
            shown += "."
        return known if shown == known.text else Said(shown, known.left, known.loose)

    def _long(self, text: str, *, loosely: bool) -> Said:
        """A text of many sentences, one by one; a single one of that length stays as it is."""
        pieces = _split(text, ". ")
        if len(pieces) < 2:
            return Said(text, 1.0)
        parts = [self._told(piece, loosely=loosely) for piece in pieces]
        return Said(". ".join(part.text for part in parts), sum(part.left for part in parts))

    def _found(self, key: str, loosely: bool) -> Said:
        whole = self._whole.get(key)
        if whole:
            return Said(whole, 0.0)
        word = self._words(key)
        if word:
            return Said(word, 0.0 if " " in key else 2 * _FEW, loose=" " not in key)
        if NUMBER.fullmatch(key):
            return Said(number_words(key), 0.0)
        best = Said(key, float(self._english_in(key)))
        if best.left == 0.0:
            return best
        ways = [self._by_pattern, self._quoted, self._apart]
        for way in [*ways, self._side_by_side] if loosely else ways:
            best = min((best, *way(key, best.left, loosely)), key=lambda said: said.left)
            if best.left < _FEW:
                break
        return best

    def _english_in(self, text: str) -> int:
        return sum(
            word.lower() in self._vocabulary
            for token in text.split()
            if not CODE.match(token)
            for word in WORD.findall(token)
            if len(word) > 1
        )

    def _by_pattern(self, key: str, bound: float, loosely: bool) -> Iterator[Said]:
        for pattern in self._candidates(key):
            for parts in pattern.placed(key):
                said = self._filled(pattern, parts, bound, loosely)
                if said is not None:
                    bound = said.left
                    yield said
                    if bound < _FEW:
                        return

    def _candidates(self, key: str) -> list[Pattern]:
        words = {word.lower() for word in WORD.findall(key)}
        found = [
            pattern
            for word in words
            for pattern, needed in self._by_word.get(word, ())
            if needed <= words and pattern.may_be(key)
        ]
        return sorted(found, key=lambda pattern: -pattern.length)

    def _filled(self, pattern: Pattern, parts: list[str], bound: float, loosely: bool) -> Said | None:
        left, told = 0.0, {}
        for (kind, name), part in sorted(zip(pattern.holes, parts, strict=True), key=lambda each: each[0]):
            said = self._in_hole(kind, part, loosely)
            left += said.left
            if left >= bound or (left >= _ALL_TOLD and pattern.length < _TELLING):
                return None
            told[name] = said.text
        return Said(pattern.filled(told), left)

    def _in_hole(self, kind: str, part: str, loosely: bool) -> Said:
        if kind == "n":
            return Said(number_words(part), 0.0)
        if kind == "quoted":
            return Said(part, 0.0)
        if kind == "t":
            bare = part.strip()
            said = self._told(bare, loosely=loosely)
            return said if bare == part else Said(part.replace(bare, said.text), said.left)
        named = self._as_name(part)
        if kind == "place" and named.left < _ALL_TOLD:
            said = self._told(part, loosely=False)
            return said if said.left < 5 * _FEW else named
        return named

    def _as_name(self, part: str) -> Said:
        """A text taken for a name of the keeper's; what is long or holds words of a sentence is none."""
        words = part.split()
        told = sum(word in _NEVER_NAMES for word in words)
        ours = sum(word.islower() and word in self._vocabulary for word in words)
        long = len(words) > _NAME_WORDS or any(mark in part for mark in (";", ": ", ", ", ". "))
        return Said(part, _FEW * (len(words) + 4 * ours) + told + (len(words) if long else 0.0))

    def _quoted(self, key: str, _bound: float, loosely: bool) -> Iterator[Said]:
        if len(key) > 2 and key[0] == key[-1] == '"' and '"' not in key[1:-1]:
            inner = self._told(key[1:-1], loosely=loosely)
            yield Said(f"„{inner.text}“", inner.left)
        head, mark, tail = key.rpartition("(")
        if mark and tail.endswith(")") and ")" not in tail[:-1]:
            inner = self._told(tail[:-1], loosely=loosely)
            before = self._told(head.rstrip(), loosely=loosely) if head else Said("", 0.0)
            yield Said(f"{before.text} ({inner.text})".strip(), before.left + inner.left)

    def _apart(self, key: str, bound: float, loosely: bool) -> Iterator[Said]:
        for joint, shown in _JOINTS:
            pieces = _split(key, joint) if joint in key else ()
            if len(pieces) > 1:
                parts = [self._told(piece, loosely=loosely) for piece in pieces]
                left = sum(part.left for part in parts)
                if left < (bound if joint in _STRONG else min(bound, _ALL_TOLD)):
                    bound = left
                    yield Said(shown.join(part.text for part in parts), left)

    def _side_by_side(self, key: str, bound: float, _loosely: bool) -> Iterator[Said]:
        """Two texts one after the other, as in a subject and what is told of it."""
        words = key.split(" ")
        bound = min(bound, _ALL_TOLD)
        for at in range(1, min(len(words), _MOST_WORDS)):
            head = self._told(" ".join(words[:at]), loosely=False)
            if head.loose or head.left >= bound:
                continue
            tail = self._told(" ".join(words[at:]), loosely=False)
            left = head.left + tail.left + _FEW
            if left < bound and not tail.loose:
                bound = left
                yield Said(f"{head.text} {tail.text}", left)


def _split(text: str, joint: str) -> list[str]:
    """A text in its parts; what stands in brackets or between quotation marks is not taken apart."""
    pieces, start, at = [], 0, text.find(joint)
    while at >= 0:
        piece = text[start:at]
        if piece.count("(") == piece.count(")") and piece.count('"') % 2 == 0:
            pieces.append(piece)
            start = at + len(joint)
        at = text.find(joint, at + 1)
    return [*pieces, text[start:]]


def _indexed(patterns: Iterable[Pattern]) -> dict[str, list[tuple[Pattern, frozenset[str]]]]:
    """Patterns by the rarest of their words."""
    held = [pattern for pattern in patterns if pattern.anchors]
    often = Counter(word for pattern in held for word in set(pattern.anchors))
    found: dict[str, list[tuple[Pattern, frozenset[str]]]] = {}
    for pattern in held:
        rarest = min(pattern.anchors, key=lambda word: (often[word], word))
        found.setdefault(rarest, []).append((pattern, frozenset(pattern.anchors)))
    return found
