"""What the program says, as a value: an English sentence with named holes, and what stands in them.

A text is made where the matter is known and put into words where it is read. Between the two it can be
compared, kept, counted and sent; language and units are chosen by the reader alone
(:mod:`hangar.base.reader`). ``str(text)`` is the English in the trade's SI units, for logs and JSON.

A hole holds one of these:

==================  =======================================================================
another Text        put into the same language
str                 the keeper's own word (a tag, a name): no reader ever changes it
a closed list's     its word, put into the language
member (StrEnum)
Amount, Span        a number, or a range, with its unit: in the keeper's units
int, float          a number; ``{share:.0f}`` writes it with a format, ``{count:word}`` in words
date                a calendar day
None                nothing
ItemList              several of these in a row, "and" before the last
==================  =======================================================================

``{who:^}`` raises the first letter, ``{who:small}`` lowers it, as English writes a common noun;
``{why:clause}`` leaves out the full stop at the end, for a sentence that stands within another. Another
word after the colon, such as ``{who:dative}``, which only a translation uses, asks for the form that the
catalogue gives the text in that context.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from enum import Enum
from functools import cache
from typing import Any

from hangar.base.unit_show import fitting, si_trade_unit
from hangar.base.unit_table import UNITS, unit_key
from hangar.base.values import value_class

_NO_ARGS: Mapping[str, Arg] = {}
_AS_CLAUSE = "{said:clause}"


@value_class
class Amount:
    """A number in the unit it is stored in; ``digits`` are the significant ones, None what suits the unit."""

    value: float
    unit: str
    digits: int | None = None

    def __str__(self) -> str:
        return ENGLISH.put(self)


@value_class
class Span:
    """A range of numbers in one stored unit; the unit is written once."""

    low: float
    high: float
    unit: str
    digits: int | None = None

    def __str__(self) -> str:
        return ENGLISH.put(self)


@value_class
class ItemList:
    """Several things in a row, the last behind ``joint``: "and", "or", "/", "+", or , ; . or nothing alone.

    With an empty joint nothing but a space stands between them.

    Past ``most`` the rest is counted: "A, B and 3 more".
    """

    items: tuple[Arg, ...]
    joint: str = "and"
    most: int = 0

    def __str__(self) -> str:
        return ENGLISH.put(self)


class Text:
    """One thing the program says.

    Attributes:
        key: the English sentence with named holes; it is what the catalogue is asked for.
        args: what stands in the holes; a hole without an argument stays empty.
        many: the same sentence where ``args["count"]`` is not 1, else empty.
        context: tells two uses of one English word apart for the translator, else empty.
        whole: set where it stands as a sentence of its own, with a capital letter and a full stop.
    """

    __slots__ = ("args", "context", "key", "many", "whole")

    def __init__(
        self,
        key: str,
        args: Mapping[str, Arg] = _NO_ARGS,
        *,
        many: str = "",
        context: str = "",
        whole: bool = False,
    ) -> None:
        self.key = key
        self.args = args
        self.many = many
        self.context = context
        self.whole = whole

    def __str__(self) -> str:
        return ENGLISH.put(self)

    def __repr__(self) -> str:
        return f"Text({str(self)!r})"

    def __bool__(self) -> bool:
        return bool(self.key)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Text):
            return NotImplemented
        return self is other or (
            self.key == other.key
            and self.args == other.args
            and self.whole == other.whole
            and self.many == other.many
            and self.context == other.context
        )

    def __hash__(self) -> int:
        # What else tells two texts apart is rare; the few that meet are compared.
        return hash((self.key, frozenset(self.args.items()))) if self.args else hash(self.key)

    def with_args(self, **args: Arg) -> Text:
        """The same text with other things in some of its holes."""
        return Text(self.key, {**self.args, **args}, many=self.many, context=self.context, whole=self.whole)

    def as_sentence(self) -> Text:
        """The text as a sentence of its own: a capital letter first, unless a keeper's word is, and a stop.

        >>> str(text("needs {load}", load=Amount(1.4, "N m")).as_sentence())
        'Needs 1.4 N·m.'
        >>> str(text("{pack} is old", pack="b1").as_sentence())
        'b1 is old.'
        """
        if not self.key or self.whole:
            return self
        return Text(self.key, self.args, many=self.many, context=self.context, whole=True)

    def as_clause(self) -> Text:
        """The text as a part of another sentence: without its full stop, in every language.

        >>> str(text("{what} ({why})", what="A1", why=text("{pack} is old.", pack="b1").as_clause()))
        'A1 (b1 is old)'
        """
        sentence = Text(self.key, self.args, many=self.many, context=self.context) if self.whole else self
        return Text(_AS_CLAUSE, {"said": sentence}) if self.key.endswith(".") else sentence


Arg = Text | Amount | Span | ItemList | str | int | float | date | None
"""What may stand in a hole."""

ARGS = (Text, Amount, Span, ItemList, str, int, float, date)
"""The same for :func:`isinstance`; None apart."""

NOTHING = Text("")
"""Says nothing; what has nothing to say is false."""


def text(key: str, /, **args: Arg) -> Text:
    """A text by its English, ``{name}`` where an argument goes.

    >>> str(text("Pack {pack} gives {volts}.", pack="B014", volts=Amount(8.4, "V")))
    'Pack B014 gives 8.4 V.'
    """
    return Text(key, args)


@cache
def fixed(key: str) -> Text:
    """A text without holes; the same key gives the same object."""
    return Text(key)


def as_text(words: Text | str) -> Text:
    """A text as it stands, or the program's own fixed words by their key."""
    return words if isinstance(words, Text) else fixed(words)


def text_in(context: str, key: str, /, **args: Arg) -> Text:
    """A text whose English has several meanings; ``context`` says which one is meant.

    >>> str(text_in("of a pack", "fit"))
    'fit'
    """
    return Text(key, args, context=context)


def plural(one: str, many: str, /, *, count: int, **args: Arg) -> Text:
    """A text about a number of things; a language may have more forms than two.

    >>> str(plural("{count:word} servo", "{count:word} servos", count=3))
    'three servos'
    >>> str(plural("one servo", "{count} servos", count=1))
    'one servo'
    """
    return Text(one, {"count": count, **args}, many=many)


def listed(items: Iterable[Arg], *, joint: str = "and", most: int = 6) -> ItemList:
    """Things in a row; past ``most`` the rest is counted.

    >>> str(listed(["0301", "0302", "0303"])), str(listed(["A", "B", "C"], most=2))
    ('0301, 0302 and 0303', 'A, B and 1 more')
    """
    return ItemList(tuple(items), joint, most)


def series(items: Iterable[Arg], joint: str = ";") -> Text:
    """Things one after the other with a sign between them, as one text; nothing for none.

    >>> str(series(["ELE", Amount(0.3, "N m")]))
    'ELE; 0.3 N·m'
    """
    held = tuple(items)
    return Text("{items}", {"items": ItemList(held, joint)}) if held else NOTHING


def joined(*texts: Text, between: str = "{first} {then}") -> Text:
    """Texts that have something to say, one after the other, put together by a pattern.

    >>> str(joined(text("Old."), NOTHING, text("Dry.")))
    'Old. Dry.'
    """
    sentences = [other_text for other_text in texts if other_text]
    if not sentences:
        return NOTHING
    whole = sentences[0]
    for then in sentences[1:]:
        whole = Text(between, {"first": whole, "then": then})
    return whole


def text_as_json(argument: Arg) -> Any:
    """A text, or what stands in its holes, as an object that ``json`` can write.

    >>> text_as_json(text("Pack {pack} gives {volts}.", pack="B014", volts=Amount(8.4, "V")))["args"]
    {'pack': 'B014', 'volts': {'value': 8.4, 'unit': 'V'}}
    """
    if isinstance(argument, Text):
        entry: dict[str, Any] = {"key": argument.key}
        if argument.many:
            entry["many"] = argument.many
        if argument.context:
            entry["context"] = argument.context
        if argument.args:
            entry["args"] = {name: text_as_json(arg) for name, arg in argument.args.items()}
        return {**entry, "whole": True} if argument.whole else entry
    if isinstance(argument, Amount):
        return {"value": argument.value, "unit": argument.unit, **_given(digits=argument.digits)}
    if isinstance(argument, Span):
        return {
            "low": argument.low,
            "high": argument.high,
            "unit": argument.unit,
            **_given(digits=argument.digits),
        }
    if isinstance(argument, ItemList):
        items = [text_as_json(item) for item in argument.items]
        return {"joint": argument.joint, "items": items, **_given(most=argument.most or None)}
    if isinstance(argument, Enum):
        return {"word": argument.value}
    return argument.isoformat() if isinstance(argument, date) else argument


def _given(**values: int | None) -> dict[str, int]:
    return {name: value for name, value in values.items() if value is not None}


_DEEPEST = 60
"""Texts within texts that are read; what the program says is never half as deep."""


def text_from_json(entry: Any, depth: int = 0) -> Arg:
    """A text, or what stood in its holes, as :func:`text_as_json` made it; a day comes back as its words.

    Raises: KeyError, TypeError, ValueError for an object that it did not make.

    >>> str(text_from_json(text_as_json(text("{pack} gives {volts}.", pack="B1", volts=Amount(8.4, "V")))))
    'B1 gives 8.4 V.'
    """
    if not isinstance(entry, dict):
        return entry  # type: ignore[no-any-return]
    if depth > _DEEPEST:
        raise ValueError
    if "key" in entry:
        args = {name: text_from_json(arg, depth + 1) for name, arg in entry.get("args", {}).items()}
        many, context = entry.get("many", ""), entry.get("context", "")
        return Text(entry["key"], args, many=many, context=context, whole=entry.get("whole", False))
    if "value" in entry:
        return Amount(entry["value"], entry["unit"], entry.get("digits"))
    if "low" in entry:
        return Span(entry["low"], entry["high"], entry["unit"], entry.get("digits"))
    if "items" in entry:
        items = tuple(text_from_json(item, depth + 1) for item in entry["items"])
        return ItemList(items, entry["joint"], entry.get("most", 0))
    return Text(entry["word"])


_HOLE = re.compile(r"\{(\w+)(?::([^{}]*))?\}|\{\{|\}\}")
_NUMBER_FORMAT = re.compile(r"[+,]?\d*[.,]?\d*[dfgen%]$")


@cache
def holes_of(pattern: str) -> tuple[tuple[str, str, str], ...]:
    """A sentence taken apart: what stands before each hole, its name, and what is asked of it.

    The last row has no hole. Doubled braces stand for one.

    >>> holes_of("{who} has {count:word}.")
    (('', 'who', ''), (' has ', 'count', 'word'), ('.', '', ''))
    """
    rows = []
    before, at = "", 0
    for match in _HOLE.finditer(pattern):
        before += pattern[at : match.start()]
        at = match.end()
        if match[1] is None:
            before += match[0][0]
        else:
            rows.append((before, match[1], match[2] or ""))
            before = ""
    return (*rows, (before + pattern[at:], "", ""))


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


class Wording:
    """Puts what the program says into English in SI units; a reader changes language and units.

    Each method that a language or a choice of units may change stands by itself.
    """

    def word(self, key: str, context: str = "") -> str:  # noqa: ARG002  (a language may ask for it)
        """The pattern of a sentence in the language; the English where nobody translated it."""
        return key

    def plural(self, one: str, many: str, count: int) -> str:
        """The pattern for that many things."""
        return one if count == 1 else many

    def number(self, written: str) -> str:
        """A number as English writes it, in the manner of the language."""
        return written

    def show(self, value: float, unit: str, digits: int | None = None) -> str:
        """A stored value with its unit, in the units chosen."""
        key = unit_key(unit)
        return self.number(fitting(value, UNITS[key], si_trade_unit(key), digits))

    def in_words(self, count: int) -> str:
        """A small number in words, as it stands before a noun; a large one in digits."""
        return self.word(_NUMBERS[count]) if 0 <= count < len(_NUMBERS) else str(count)

    def day(self, day: date) -> str:
        """A calendar day, as written everywhere in the program (ISO 8601)."""
        return day.isoformat()

    def put(self, argument: Arg, form: str = "") -> str:
        """Anything that may stand in a hole, in words."""
        if isinstance(argument, Text):
            return self._text(argument, form)
        if isinstance(argument, str):
            return self.word(argument.value, form) if isinstance(argument, Enum) else str(argument)
        if isinstance(argument, Amount):
            return self.show(argument.value, argument.unit, argument.digits)
        if isinstance(argument, Span):
            return self._span(argument)
        if isinstance(argument, ItemList):
            return self._row(argument, form)
        if isinstance(argument, date):
            return self.day(argument)
        if argument is None:
            return ""
        return self._plain_number(argument, form)

    def _text(self, sentence: Text, form: str = "") -> str:
        if sentence.many:
            count = sentence.args.get("count")
            pattern = self.plural(sentence.key, sentence.many, count if isinstance(count, int) else 0)
        else:
            pattern = self.word(sentence.key, form or sentence.context)
        parts = []
        for before, name, asked in holes_of(pattern):
            parts.append(before)
            if name and (arg := sentence.args.get(name)) is not None:
                parts.append(self._filled(arg, asked))
        written = "".join(parts)
        if sentence.whole and written:
            written = written if self._named_first(sentence, pattern) else raised(written)
            return written if written.endswith((".", "?", "!")) else written + "."
        return written

    def _filled(self, arg: Arg, asked: str) -> str:
        if asked == "^":
            return self.put(arg) if self._is_name(arg) else raised(self.put(arg))
        if asked == "small":
            return lowered(self.put(arg))
        if asked == "clause":
            return self.put(arg).removesuffix(".")
        if asked == "word" and isinstance(arg, int):
            return self.in_words(arg)
        return self.put(arg, asked)

    def _named_first(self, sentence: Text, pattern: str) -> bool:
        before, name, asked = holes_of(pattern)[0]
        return not before and asked != "small" and self._is_name(sentence.args.get(name))

    def _is_name(self, arg: Arg | None) -> bool:
        if isinstance(arg, Text):
            return self._named_first(arg, self.word(arg.key, arg.context))
        if isinstance(arg, ItemList):
            return bool(arg.items) and self._is_name(arg.items[0])
        return isinstance(arg, str) and not isinstance(arg, Enum)

    def _span(self, span: Span) -> str:
        first, last = (self.show(value, span.unit, span.digits) for value in (span.low, span.high))
        if first == last:
            return last
        number, _, name = first.partition(" ")
        return self._text(
            text("{low} to {high}", low=number if last.partition(" ")[2] == name else first, high=last), ""
        )

    def _row(self, listing: ItemList, form: str) -> str:
        words = [self.put(item, form) for item in listing.items]
        if listing.most and len(words) > listing.most:
            rest = len(words) - listing.most
            more = text("{first} and {count} more", first=", ".join(words[: listing.most]), count=rest)
            return self._text(more)
        if len(words) < 2 or listing.joint in _PLAIN_JOINTS:
            return f"{listing.joint} ".join(words)
        pair = _PAIRS.get(listing.joint, _PAIRS["and"])
        return self._text(Text(pair, {"first": ", ".join(words[:-1]), "last": words[-1]}))

    def _plain_number(self, value: float, form: str) -> str:
        if form and _NUMBER_FORMAT.match(form):
            return self.number(format(value, form))
        return self.number(str(value))


_PLAIN_JOINTS = frozenset(("", ",", ";", "."))
_PAIRS = {
    "and": "{first} and {last}",
    "or": "{first} or {last}",
    "/": "{first}/{last}",
    "+": "{first} + {last}",
}


WORDS_OF_TABLES = (*_NUMBERS, *_PAIRS.values())


def lowered(words: str) -> str:
    """Words with their first letter lowered, where it begins a word of small letters.

    >>> lowered("Elevator"), lowered("0301"), lowered("V-tail left")
    ('elevator', '0301', 'V-tail left')
    """
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def raised(words: str) -> str:
    """Words with their first letter raised.

    >>> raised("elevator"), raised("0301")
    ('Elevator', '0301')
    """
    return words[:1].upper() + words[1:]


ENGLISH = Wording()
