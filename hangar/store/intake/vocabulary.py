"""The words of keepers in six languages, read from the resource files, and finding them in a text."""

from __future__ import annotations

import difflib
import re
import tomllib
import unicodedata
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from pathlib import Path
from typing import NamedTuple

from hangar.base.places import resources_dir

LANGUAGES = ("en", "de", "fr", "it", "nl", "es")
_SHORT = 3
"""A word of no more letters means something in its own language only."""

_LIKE = 0.86
_LONGEST = 500
"""Characters of a text that are understood; what follows is a story."""

_WORD = re.compile(r"[^\W_]+")


class Token(NamedTuple):
    """A word of a text, folded, and where it stands in the text as written."""

    word: str
    start: int
    end: int


class Hit(NamedTuple):
    """A phrase found in a text: what it means and where it stands."""

    meaning: str
    start: int
    end: int
    languages: frozenset[str]
    words: int


@lru_cache(maxsize=20_000)
def tokens(text: str) -> tuple[Token, ...]:
    """The words of a text without case and accents.

    >>> [token.word for token in tokens("Höhenruder (li.)")]
    ['hohenruder', 'li']
    """
    return tuple(Token(folded(match[0]), match.start(), match.end()) for match in _WORD.finditer(text))


def folded(text: str) -> str:
    """A text in small letters without accents."""
    plain = (
        text.lower()
        .replace("ß", "ss")
        .replace("œ", "oe")
        .replace("æ", "ae")
        .replace("µ", "u")
        .replace("ø", "o")
    )
    return "".join(sign for sign in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(sign))


@lru_cache(maxsize=20_000)
def squeezed(text: str) -> str:
    """A text reduced to its letters and figures, to compare names."""
    return "".join(token.word for token in tokens(text))


class Lexicon:
    """Phrases and what they mean; a phrase may mean several things and belong to several languages."""

    def __init__(self, entries: Mapping[str, Mapping[str, Iterable[str]]]) -> None:
        self._exact: dict[str, list[tuple[tuple[str, ...], str, frozenset[str]]]] = {}
        self._stems: dict[str, list[tuple[tuple[str, ...], str, frozenset[str]]]] = {}
        self.whole: dict[tuple[str, ...], set[str]] = {}
        gathered: dict[tuple[tuple[str, ...], str], set[str]] = {}
        for meaning, by_language in entries.items():
            for language, phrases in by_language.items():
                for phrase in phrases:
                    words = tuple(
                        token.word + ("*" if phrase[token.end : token.end + 1] == "*" else "")
                        for token in tokens(phrase)
                    )
                    if words:
                        gathered.setdefault((words, meaning), set()).add(language)
        for (words, meaning), languages in gathered.items():
            place, key = (self._stems, words[0][:2]) if words[0].endswith("*") else (self._exact, words[0])
            place.setdefault(key, []).append((words, meaning, frozenset(languages)))
            self.whole.setdefault(words, set()).add(meaning)
        self._long_words = {words[0]: words for words in self.whole if len(words) == 1 and len(words[0]) >= 5}
        self._cache: dict[tuple[str, str], tuple[Hit, ...]] = {}

    def find(self, text: str, language: str = "") -> tuple[Hit, ...]:
        """The phrases in a text from left to right, the longest at each place; all meanings of each.

        With a language, words of up to three letters must belong to it.
        """
        text = text[:_LONGEST]
        key = (text, language)
        cached = self._cache.get(key)
        if cached is None:
            if len(self._cache) > 50_000:
                self._cache.clear()
            cached = self._cache[key] = tuple(self._find(tokens(text), language))
        return cached

    def _find(self, words: tuple[Token, ...], language: str) -> list[Hit]:
        hits: list[Hit] = []
        at = 0
        while at < len(words):
            best = self._at(words, at, language)
            hits += best
            at += best[0].words if best else 1
        return hits

    def _at(self, words: tuple[Token, ...], at: int, language: str) -> list[Hit]:
        first = words[at].word
        candidates = [*self._exact.get(first, ()), *self._stems.get(first[:2], ())]
        bare = first.rstrip("0123456789")
        if bare != first and len(bare) >= _SHORT:
            candidates += self._exact.get(bare, ())
        fitting = [
            candidate
            for candidate in candidates
            if _fits(candidate[0], words, at) and _is_spoken(candidate, language)
        ]
        longest = max((len(phrase[0]) for phrase in fitting), default=0)
        end = words[at + longest - 1].end if longest else 0
        best = [phrase for phrase in fitting if len(phrase[0]) == longest]
        # A word whole says more than the beginning of one.
        whole = [phrase for phrase in best if not phrase[0][-1].endswith("*")] or best
        return [Hit(meaning, words[at].start, end, languages, longest) for _, meaning, languages in whole]

    def meanings(self, text: str, language: str = "") -> dict[str, int]:
        """What a text means as a whole, with how many of its words say so."""
        counts: dict[str, int] = {}
        for hit in self.find(text, language):
            counts[hit.meaning] = max(counts.get(hit.meaning, 0), hit.words)
        return counts

    def means(self, text: str, meaning: str, language: str = "") -> bool:
        """Whether a text holds a phrase of that meaning."""
        return any(hit.meaning == meaning for hit in self.find(text, language))

    def is_wholly(self, text: str, meaning: str, language: str = "") -> bool:
        """Whether every word of a text belongs to phrases of that meaning."""
        count = len(tokens(text))
        spans = {hit.start: hit.words for hit in self.find(text, language) if hit.meaning == meaning}
        return count > 0 and sum(spans.values()) == count

    def begins(self, text: str, meaning: str, language: str = "") -> bool:
        """Whether a text begins with a phrase of that meaning."""
        words = tokens(text)
        return any(
            hit.meaning == meaning and words and hit.start == words[0].start
            for hit in self.find(text, language)
        )

    def like(self, word: str) -> set[str]:
        """What a mistyped word of five letters or more may mean."""
        if len(word) < 5:
            return set()
        near = difflib.get_close_matches(
            word, [long_word for long_word in self._long_words if long_word[0] == word[0]], n=1, cutoff=_LIKE
        )
        return set().union(*(self.whole[self._long_words[name]] for name in near))


def _fits(phrase: tuple[str, ...], words: tuple[Token, ...], at: int) -> bool:
    if at + len(phrase) > len(words):
        return False
    for entry, token in zip(phrase, words[at:], strict=False):
        if entry.endswith("*"):
            if not token.word.startswith(entry[:-1]):
                return False
        elif entry != token.word and not (len(entry) >= _SHORT and entry == token.word.rstrip("0123456789")):
            return False
    return True


def _is_spoken(entry: tuple[tuple[str, ...], str, frozenset[str]], language: str) -> bool:
    words, _, languages = entry
    return not language or language in languages or len("".join(words)) > _SHORT


def _load(name: str) -> dict[str, object]:
    place: Path = resources_dir() / "intake" / f"{name}.toml"
    return tomllib.loads(place.read_text(encoding="utf-8"))


@cache
def lexicon(name: str, part: str = "") -> Lexicon:
    """The phrases of a resource file, or of one part of it."""
    data = _load(name)
    return Lexicon(data[part] if part else data)  # type: ignore[arg-type]


@cache
def month_of() -> dict[str, int]:
    """The number of each month by its names and short forms, folded."""
    counts: dict[str, int] = {}
    for names in _load("months").values():
        for number, words in enumerate(names, start=1):  # type: ignore[arg-type, var-annotated]
            for word in words:
                counts.setdefault(folded(word), number)
    return counts


class WrittenUnit(NamedTuple):
    """A unit as keepers write it: the stored unit is reached by the factor."""

    symbol: str
    factor: float


@cache
def units_of(dimension: str) -> dict[str, WrittenUnit]:
    """The units of a dimension (torque, speed, volts, length ...) by their squeezed spellings."""
    units: dict[str, WrittenUnit] = {}
    for entry in _load("units")[dimension]:  # type: ignore[attr-defined]
        for written in entry["written"]:
            units.setdefault(unit_squeezed(written), WrittenUnit(entry["unit"], float(entry["factor"])))
    return units


def unit_squeezed(text: str) -> str:
    """A unit without blanks, dots, strokes and the like between its parts."""
    return re.sub(r"[^a-z0-9\"'”ω]", "", text.lower().replace("²", "2").replace("’", "'"))


@cache
def chemistries() -> tuple[Lexicon, dict[str, tuple[float, ...]]]:
    """The names of cell chemistries, and the volts keepers count a cell with."""
    data = _load("chemistry")
    words = {name: {"en": entry["written"]} for name, entry in data.items()}  # type: ignore[index]
    return Lexicon(words), {name: tuple(entry["cell_v"]) for name, entry in data.items()}  # type: ignore[index]


def known_words(text: str) -> int:
    """How many words of a text the vocabulary knows; a measure of whether it was decoded rightly."""
    lines = text[:20_000].splitlines()
    names = ("roles", "functions", "words")
    return sum(len(lexicon(name).find(line)) for name in names for line in lines)


def language_of(texts: Iterable[str]) -> str:
    """The language most of the texts are in, or "" where none stands out."""
    counts = dict.fromkeys(LANGUAGES, 0.0)
    for text in texts:
        for name, weight in (("roles", 2.0), ("functions", 2.0), ("words", 1.0)):
            for hit in lexicon(name).find(text):
                if hit.end - hit.start > 2:
                    for language in hit.languages:
                        counts[language] += weight / len(hit.languages)
    best = max(counts, key=lambda count: (counts[count], -LANGUAGES.index(count)))
    return best if counts[best] > 0 else ""
