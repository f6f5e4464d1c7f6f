"""What a cell says of a servo and its work: "2x QR SK-210 (V-Kabel)", "L AIL x2", "4x RUD digital"."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from hangar.store.intake.vocabulary import Hit, lexicon, tokens

_TIMES_BEFORE = re.compile(
    r"(?<![\w.,-])([1-8])\s*[x×](?![\w])|(?<![\w.,-])([1-8])[x×](?=[A-Za-z]{2})", re.IGNORECASE
)
_TIMES_AFTER = re.compile(r"(?<![\w])[x×]\s*([1-8])(?![\w.,])", re.IGNORECASE)
_IN_BRACKETS = re.compile(r"\(\s*([1-8])\s*\)")
_WITH_Y = re.compile(r"(?<![\w])[YV]\s*,?\s*([1-8])(?![\w.,])")
_NUMBER_FIRST = re.compile(r"^\s*([1-8])\s+(?=[^\W\d])")
_NUMBERS = {"one": 1, "two": 2, "three": 3, "four": 4, "pair": 2}
_NAMELIKE = re.compile(r"[^\W\d_]+[\s-]?\d|\d+[\s-]?[^\W\d_]")
_SEPARATING = " -–—:;,/|=+."


class Phrase(NamedTuple):
    """What one cell says; ``functions`` are meanings in the order written, ``rest`` the words left over."""

    functions: tuple[str, ...] = ()
    side: str = ""
    number: int | None = None
    y_lead: bool = False
    drive: str = ""
    rest: str = ""
    no_servo: bool = False
    controller: bool = False
    supply: bool = False
    unknown: bool = False

    @property
    def function(self) -> str:
        """The work that counts where several are named."""
        if not self.functions:
            return ""
        for strong in ("gain", "mode", "cyclic"):
            if strong in self.functions:
                return strong
        if "steering" in self.functions and self.functions[0] in ("retract", "tail"):
            return "steering"
        return self.functions[0]


class _Text:
    """A text of which parts are claimed; what is claimed is blanked out."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.left = list(text)

    def claim(self, start: int, end: int) -> None:
        self.left[start:end] = " " * (end - start)

    def is_free(self, start: int, end: int) -> bool:
        return self.left[start:end] == list(self.text[start:end])

    @property
    def rest(self) -> str:
        return "".join(self.left)


@lru_cache(maxsize=20_000)
def read_phrase(text: str, language: str, kind: str) -> Phrase:
    """What a cell says of a servo; ``kind`` is "function", "servo" or "both" of them in one cell."""
    work = _Text(text[:300])
    if is_unknown(text):
        return Phrase(unknown=True)
    functions: list[str] = []
    if kind != "servo":
        functions = _functions(work, language)
    y_lead = _y_lead(work, language)
    count = _count(work, language, bool(functions))
    side = _side(work, language) if kind != "servo" else ""
    drive = _drive(work, language)
    rest = work.rest
    lex = lexicon("words")
    controller = lex.means(rest, "controller", language)
    supply = lexicon("kinds", "regulator").means(text, "bec") or bool(
        re.search(r"\b(?:set|dual)\b.*\d\s*V\b", rest)
    )
    no_servo = lex.means(rest, "no servo", language) and not re.search(r"[A-Za-z]{1,}[\s-]?\d", rest)
    unknown = "??" in rest or is_unknown(rest)
    return Phrase(
        tuple(functions), side, count, y_lead, drive, _clean(rest), no_servo, controller, supply, unknown
    )


def is_unknown(text: str) -> bool:
    """Whether a cell says that something is not known."""
    plain = text[:120].strip(" .!")
    return bool(plain) and (
        not plain.strip("?¿ ") or lexicon("words").is_wholly(plain.replace("?", " "), "unknown")
    )


def is_none(text: str) -> bool:
    """Whether a cell holds a stroke for nothing."""
    return bool(text.strip()) and not text.strip().strip("-–—/.x ")


def is_ditto(text: str) -> bool:
    """Whether a cell repeats the one above."""
    plain = text.strip()
    if not plain:
        return False
    if not plain.strip("\"'〃”“„″´`-–, ") and re.search("[\"'〃”“„″´`]", plain):
        return True
    return lexicon("words").is_wholly(plain.strip("().\"' "), "ditto")


def _functions(work: _Text, language: str) -> list[str]:
    names: list[str] = []
    for hit in lexicon("functions").find(work.text, language):
        if not work.is_free(hit.start, hit.end) and not (names and hit.start < hit.end):
            continue
        if _is_part_of_name(work.text, hit):
            continue
        names.append(hit.meaning)
        work.claim(hit.start, hit.end)
    return list(dict.fromkeys(names))


def _is_part_of_name(text: str, hit: Hit) -> bool:
    """A short word that a figure follows at once is the beginning of a type's name, such as "AF-300"."""
    word = text[hit.start : hit.end]
    return len(word) <= 3 and bool(re.match(r"-?\d{2}", text[hit.end : hit.end + 3]))


def _y_lead(work: _Text, language: str) -> bool:
    is_told = False
    for hit in lexicon("words").find(work.rest, language):
        if hit.meaning != "y lead":
            continue
        words = work.text[hit.start : hit.end]
        if len(words) == 1 and (
            not words.isupper() or re.match(r"[-\s]?\d", work.text[hit.end : hit.end + 2])
        ):
            continue
        is_told = True
        if not _WITH_Y.match(work.text, hit.start):
            work.claim(hit.start, hit.end)
    return is_told


def _count(work: _Text, language: str, has_function: bool) -> int | None:
    for pattern in (_WITH_Y, _TIMES_BEFORE, _TIMES_AFTER, _IN_BRACKETS):
        match = pattern.search(work.rest)
        if match:
            work.claim(match.start(), match.end())
            return int(next(part for part in match.groups() if part))
    counted = _counted_nouns(work, language)
    if counted:
        return counted
    first = _NUMBER_FIRST.match(work.text)
    if first and has_function and work.is_free(first.start(1), first.end(1)):
        work.claim(first.start(1), first.end(1))
        return int(first[1])
    return None


def _counted_nouns(work: _Text, language: str) -> int | None:
    """ "2 servos", "2 off", "two servos", "a pair"."""
    words = tokens(work.rest)
    hits = {hit.start: hit for hit in lexicon("words").find(work.rest, language) if hit.meaning in _NUMBERS}
    nouns = {hit.start: hit for hit in lexicon("words").find(work.rest, language) if hit.meaning == "servo"}
    for at, token in enumerate(words):
        after = words[at + 1] if at + 1 < len(words) else None
        number = int(token.word) if re.fullmatch(r"[1-8]", token.word) else 0
        if not number and token.start in hits:
            number = _NUMBERS[hits[token.start].meaning]
            if hits[token.start].meaning == "pair" or (at == 0 and number > 1):
                work.claim(token.start, token.end)
                return number
        if number and after is not None and after.start in nouns:
            work.claim(token.start, nouns[after.start].end)
            return number
    return None


def _side(work: _Text, language: str) -> str:
    names: list[str] = []
    for hit in lexicon("sides").find(work.rest, language):
        follows = work.text[hit.end : hit.end + 2]
        if hit.end - hit.start == 1 and (
            re.match(r"[-\s]?\d", follows) or work.text[hit.start - 1 : hit.start] == "-"
        ):
            continue
        names.append(hit.meaning)
        work.claim(hit.start, hit.end)
    sides = set(names)
    return sides.pop() if len(sides) == 1 else ""


def _drive(work: _Text, language: str) -> str:
    for hit in lexicon("kinds", "drive").find(work.rest, language):
        if hit.end - hit.start >= 3:
            work.claim(hit.start, hit.end)
            return hit.meaning
    return ""


def _clean(words: str) -> str:
    plain = re.sub(r"[(\[]\s*[,;]*\s*[)\]]", " ", " ".join(words.split()))
    plain = " ".join(plain.split()).strip(_SEPARATING)
    for opening, closing in ("()", "[]"):
        if plain.count(opening) != plain.count(closing):
            plain = plain.replace(opening, " ").replace(closing, " ")
    return " ".join(plain.split()).strip(_SEPARATING)


_LONGEST_NAME = 120
"""No name of a type is longer; what is, is a note, and would take the pattern too long."""


def is_type_name(text: str) -> bool:
    """Whether words look like the name of a type: letters and figures together.

    >>> is_type_name("SK-210"), is_type_name("H9 mini"), is_type_name("Tankdeckel")
    (True, True, False)
    """
    return len(text) <= _LONGEST_NAME and bool(_NAMELIKE.search(text))


class CountNote(NamedTuple):
    """What a remark says of the number of servos."""

    number: int | None
    is_unsure: bool
    y_lead: bool


@lru_cache(maxsize=5_000)
def count_in_remark(text: str, language: str) -> CountNote:
    """The number of servos that a remark names, as in "2 off" or "un ou deux ?"."""
    lex = lexicon("words")
    hits = lex.find(text, language)
    meanings = [hit.meaning for hit in hits]
    numbers = [meaning for meaning in meanings if meaning in _NUMBERS]
    if len(set(numbers)) > 1 and ("or" in meanings or "?" in text):
        return CountNote(None, True, "y lead" in meanings)
    work = _Text(text)
    y_lead = _y_lead(work, language)
    match = _TIMES_BEFORE.search(text)
    if "each" in meanings:
        return CountNote(None, False, y_lead)
    counted = _counted_nouns(work, language)
    if counted is None and match and len(tokens(text)) <= 3:
        counted = int(next(part for part in match.groups() if part))
    return CountNote(counted, False, y_lead)


_CHANNEL_WORDS = re.compile(r"^\s*(?:\D{0,12}?)\s*(\d{1,2})(?:\s*\((\w+)\))?\s*$")
_CHANNELS = re.compile(r"(?<!\d)(\d{1,2})(?!\d)")


class Channels(NamedTuple):
    """The channels in a cell, and whether it speaks of a Y lead."""

    numbers: tuple[int, ...]
    y_lead: bool = False


def read_channels(text: str) -> Channels | None:
    """The channels that a cell names: "5", "CH 5", "1+5", "6/7", "1 (Y)"; None when it names none."""
    plain = text.strip()
    if len(plain) > 24:
        return None
    numbers = tuple(int(digits) for digits in _CHANNELS.findall(plain))
    letters = re.sub(r"[\d\s+/&,;.()\-]", "", plain)
    if not numbers or any(not 1 <= number <= 32 for number in numbers) or len(numbers) > 6:
        return None
    if (
        re.search(r"\d[.,]\d", plain)
        and len(numbers) == 2
        and re.fullmatch(r"\d+[.,]\d+", plain)
        and not re.fullmatch(r"\d{1,2}[.,]\d{1,2}", plain)
    ):
        return None
    if len(letters) > 8:
        return None
    return Channels(numbers, letters.endswith(("Y", "y")))
