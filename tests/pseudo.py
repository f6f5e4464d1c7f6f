"""A language made of marks: what the catalogue says stands in brackets, what it does not say stands bare."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from babel.messages.catalog import Catalog

from hangar.base.reader import Reader
from hangar.base.text import holes_of
from hangar.base.unit_table import UNITS
from hangar.base.units import SI_TRADE, UnitChoice
from tests.catalogue import compiled, wanted_words

OPEN, CLOSE = "\N{MATHEMATICAL LEFT WHITE SQUARE BRACKET}", "\N{MATHEMATICAL RIGHT WHITE SQUARE BRACKET}"


def bracketed(pattern: str) -> str:
    """A sentence with its own words in brackets and its holes between them.

    >>> bracketed("Pack {pack} gives {volts}.").replace(OPEN, "[").replace(CLOSE, "]")
    '[Pack ]{pack}[ gives ]{volts}[.]'
    """
    parts = []
    for before, name, asked in holes_of(pattern):
        words = before.replace("{", "{{").replace("}", "}}")
        parts.append(f"{OPEN}{words}{CLOSE}" if words else "")
        parts.append(f"{{{name}:{asked}}}" if asked and asked != "small" else f"{{{name}}}" if name else "")
    return "".join(parts)


@cache
def pseudo_catalogue() -> Path:
    """The language as a compiled catalogue, made of every word that can be translated."""
    catalogue = Catalog(locale="en", charset="utf-8")
    for word in wanted_words():
        if word.key == ".":
            continue
        key = (word.key, word.many) if word.many else word.key
        lines = (bracketed(word.key), bracketed(word.many)) if word.many else bracketed(word.key)
        catalogue.add(key, lines, context=word.context or None)
    path = Path(mkdtemp()) / "xx.mo"
    path.write_bytes(compiled(catalogue))
    return path


def pseudo_reader(units: UnitChoice = SI_TRADE) -> Reader:
    """One who reads that language."""
    return Reader("xx", units, pseudo_catalogue())


_SYMBOLS = "|".join(
    re.escape(symbol) for symbol in sorted({unit.symbol for unit in UNITS.values()}, key=len, reverse=True)
)
_AMOUNT = re.compile(rf"(?<![\w-])[-+]?[\d∞][\d.,e]*(?:/\d+)? ?(?:{_SYMBOLS}|AWG)?(?![A-Za-z])")


def bare_words(words: str, keepers: set[str]) -> str:
    """What stands outside the brackets and is neither the keeper's nor a number with its unit."""
    rest = re.sub(f"{OPEN}[^{CLOSE}]*{CLOSE}", "\N{SYMBOL FOR SPACE}", words)
    names = sorted(keepers, key=len, reverse=True)
    rest = _without(rest, [name for name in names if " " in name])
    rest = _without(_AMOUNT.sub("", rest), names)
    return rest if any(letter.isalpha() for letter in rest) else ""


def _without(words: str, names: list[str]) -> str:
    for name in names:
        if name in words:
            words = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", "", words)
    return words
