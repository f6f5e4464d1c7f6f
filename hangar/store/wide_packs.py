"""The packs of a keeper's sheet and the power paths they feed."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from hangar.base.errors import BadInput, words_of
from hangar.base.text import text
from hangar.base.units import convert, parse_number, parse_quantity
from hangar.parts import Feed, Pack, PackFit, PackType
from hangar.store.codec import checked_values
from hangar.store.wide_aircraft import FoundAircraft
from hangar.store.wide_book import Book, Line
from hangar.store.wide_columns import Role
from hangar.store.wide_words import cells_of, chemistry_of

_SAME = re.compile(r"same|ditto|dto\.?|\"|''|as above|idem", re.IGNORECASE)
_NONE = re.compile(r"none|no|-+|\?+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Taken:
    """A pack of one aircraft as its row wrote it."""

    text: str
    type_code: str


def take_packs(book: Book, aircraft: Iterable[FoundAircraft]) -> None:
    """Take the packs that the rows of each aircraft name; "same" means the pack of the row above."""
    made: list[tuple[Line, str]] = []
    tags = {pack.tag for pack in book.known(Pack)}
    for entry in aircraft:
        fed = {fit.feed for fit in book.known(PackFit) if fit.aircraft == entry.code and fit.until_on is None}
        feeds = {feed.code for feed in book.known(Feed) if feed.aircraft == entry.code}
        taken: list[_Taken] = []
        for line in entry.lines:
            pack = _pack_of(book, line, taken)
            if pack is None:
                continue
            taken.append(pack)
            feed = f"RX-{chr(ord('A') + len(taken) - 1)}"
            if feed in fed:
                words = text(
                    "{code} {feed} has a pack already; nothing was changed.", code=entry.code, feed=feed
                )
                book.state(line.number, Role.PACK, pack.text, words)
                continue
            tag = _made_tag(len(made) + 1, tags)
            tags.add(tag)
            made.append((line, tag))
            if feed not in feeds:
                book.take(Feed(aircraft=entry.code, code=feed), line)
            book.take(Pack(tag=tag, pack_type=pack.type_code), line)
            book.take(PackFit(pack=tag, aircraft=entry.code, feed=feed, since_on=book.today), line)
            if len(taken) > 1:
                book.doubt(
                    line,
                    Role.PACK,
                    text("is a second pack; taken as power path {feed} of its own.", feed=feed),
                )
    if made:
        (first, tag), (_, last) = made[0], made[-1]
        day = book.today.isoformat()
        words = text(
            "pack tags {tag} to {last} were made up; the packs count as in place from {day} on.",
            tag=tag,
            last=last,
            day=day,
        )
        if len(made) == 1:
            words = text(
                "pack tag {tag} was made up; the pack counts as in place from {day} on.", tag=tag, day=day
            )
        book.state(first.number, Role.PACK, first.text(Role.PACK), words)


def _made_tag(number: int, tags: set[str]) -> str:
    while f"WP-{number:02d}" in tags:
        number += 1
    return f"WP-{number:02d}"


def _pack_of(book: Book, line: Line, taken: list[_Taken]) -> _Taken | None:
    """The pack that a row names for the first time; its type is taken."""
    words = line.text(Role.PACK)
    if not words or _NONE.fullmatch(words):
        return None
    if _SAME.fullmatch(words):
        if not taken:
            book.refuse(
                line, Role.PACK, text("points at a row above, but no pack is named there; it was left out.")
            )
        return None
    if (
        any(pack.text == words for pack in taken)
        and not line.text(Role.CELLS)
        and not line.text(Role.CAPACITY)
    ):
        return None
    pack_type = _pack_type(book, line, words)
    if pack_type is None or any(pack.type_code == pack_type.code for pack in taken):
        return None
    if pack_type.code not in {known.code for known in book.known(PackType)}:
        book.take(pack_type, line)
        book.state(line.number, Role.PACK, words, text("taken as pack type {code}.", code=pack_type.code))
    return _Taken(words, pack_type.code)


def _pack_type(book: Book, line: Line, words: str) -> PackType | None:
    known = next((each for each in book.known(PackType) if each.code.lower() == words.lower()), None)
    if known is not None:
        return known
    chemistry = chemistry_of(words)
    if chemistry is None:
        book.refuse(line, Role.PACK, text("names no cell chemistry; the pack was left out."))
        return None
    series = _series(book, line, words)
    capacity_mah = _capacity(book, line)
    if series is None or capacity_mah is None:
        return None
    stem = re.sub(r"\b\d{1,2}\s*(?:s|cells?)\b", "", words, flags=re.IGNORECASE).strip(" ,-") or str(
        chemistry
    )
    made = PackType(
        code=f"{stem} {series}x{capacity_mah:g}",
        chemistry=chemistry,
        series=series,
        capacity_mah=capacity_mah,
    )
    try:
        checked_values(made)
    except BadInput as fault:
        book.refuse(line, Role.PACK, text("{fault} The pack was left out.", fault=words_of(fault)))
        return None
    return made


def _series(book: Book, line: Line, words: str) -> int | None:
    named, given = cells_of(words), line.text(Role.CELLS)
    if not given:
        if named is None:
            book.refuse(line, Role.PACK, text("gives no number of cells; the pack was left out."))
        return named
    try:
        number = cells_of(given) or parse_number(given)[0]
    except BadInput as fault:
        book.refuse(line, Role.CELLS, text("{fault} The pack was left out.", fault=words_of(fault)))
        return None
    if number != int(number):
        book.refuse(line, Role.CELLS, text("is no whole number of cells; the pack was left out."))
        return None
    if named is not None and named != number:
        book.doubt(
            line,
            Role.CELLS,
            text(
                "differs from the {named} cells of the pack's name; {number:g} were taken.",
                named=named,
                number=number,
            ),
        )
    return int(number)


def _capacity(book: Book, line: Line) -> float | None:
    given = line.text(Role.CAPACITY)
    if not given:
        book.refuse(line, Role.PACK, text("gives no capacity; the pack was left out."))
        return None
    try:
        read = parse_quantity(given, "charge", book.layout.units.get(Role.CAPACITY, "mAh"))
    except BadInput as fault:
        book.refuse(line, Role.CAPACITY, text("{fault} The pack was left out.", fault=words_of(fault)))
        return None
    for words in read.doubts:
        book.doubt(line, Role.CAPACITY, words)
    return convert(read.value, read.unit, "mAh")
