"""Sheets in another language: no word of ours stays English, the keeper's own stay, boxes read back alike."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog
from pypdf import PdfReader

from hangar.answers.case import planned_case
from hangar.answers.field_steps import field_steps
from hangar.answers.needs import open_plans
from hangar.base import reader
from hangar.base.reader import Reader
from hangar.base.text import holes_of, lowered
from hangar.base.unit_table import UNITS
from hangar.sheets import SHEETS, SheetStyle, write_sheet
from hangar.sheets.box_list import listed_boxes
from tests.catalogue import compiled, wanted_words
from tests.sheets.cases import demo_case, demo_cases
from tests.sheets.filling import box_names
from tests.sheets.reading import text_boxes, text_of
from tests.sheets.test_every_sheet import outside, overlapping

LANGUAGE = "zz"
OPEN, CLOSE = "\N{MATHEMATICAL LEFT WHITE SQUARE BRACKET}", "\N{MATHEMATICAL RIGHT WHITE SQUARE BRACKET}"
CODES = ["PERT", "MER60"]
READ_BACK = ["field", "bench", "charging"]
SIGNS = {"x", "S", "P", "AWG", "T", "mAh", "pt", "M", "in", "lb", "oz", "mil", "B", "Y"}
"""Signs of the trade, and the letter of the proofs B0 to B14, that are the same in every language."""


def bracketed(key: str) -> str:
    """A sentence about a third longer, its words in brackets, what stands in its holes outside of them."""
    parts = []
    for before, name, asked in holes_of(key):
        longer = re.sub(r"([aeiou])(?=\w)", r"\1\1", before.replace("{", "{{").replace("}", "}}"))
        parts.append(f"{OPEN}{longer}{CLOSE}" if re.search("[A-Za-z]", before) else longer)
        if name:
            parts.append("{" + name + (f":{asked}" if asked else "") + "}")
    return "".join(parts)


@pytest.fixture(scope="module")
def pseudo_words(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a language in which every word of ours that is in the catalogue is bracketed."""
    folder = tmp_path_factory.mktemp("words")
    catalogue = Catalog(locale="de", charset="utf-8")
    for word in wanted_words():
        if word.many:
            both = (bracketed(word.key), bracketed(word.many))
            catalogue.add((word.key, word.many), both, context=word.context or None)
        else:
            words = "," if word.key == reader.DECIMAL_MARK else bracketed(word.key)
            catalogue.add(word.key, words, context=word.context or None)
    (folder / f"{LANGUAGE}.mo").write_bytes(compiled(catalogue))
    return folder


@pytest.fixture
def pseudo(pseudo_words: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The language is found beside the others."""
    monkeypatch.setattr(reader, "words_dir", lambda: pseudo_words)


def keepers_words(record: Any) -> Iterator[str]:
    """Everything that somebody typed into records: all texts that are no word of a closed list."""
    if isinstance(record, Enum | date | datetime | int | float | None):
        return
    if isinstance(record, str):
        yield record
    elif is_dataclass(record):
        for field in fields(record):
            yield from keepers_words(getattr(record, field.name))
    elif isinstance(record, dict):
        yield from keepers_words(list(record.keys()))
        yield from keepers_words(list(record.values()))
    elif isinstance(record, Iterable):
        for part in record:
            yield from keepers_words(part)


def outside_brackets(words: str) -> str:
    """What stands in no bracket."""
    depth, left = 0, []
    for sign in words:
        depth += (sign == OPEN) - (sign == CLOSE)
        left.append(" " if depth or sign == CLOSE else sign)
    return "".join(left)


def without_phrases(words: str, own: Iterable[str]) -> str:
    """The words without whole phrases of the keeper's: a word of his remarks excuses no sentence of ours."""
    words = " ".join(words.split())
    for phrase in sorted({" ".join(phrase.split()) for phrase in own}, key=len, reverse=True):
        for wording in (phrase, lowered(phrase)):
            if wording in words:
                words = re.sub(rf"(?<!\w){re.escape(wording)}(?!\w)", " ", words)
    return words


def words_in(text: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]+", text))


@pytest.mark.parametrize("kind", SHEETS)
@pytest.mark.parametrize("code", CODES)
@pytest.mark.usefixtures("pseudo")
def test_no_word_of_ours_stays_english(kind: str, code: str, tmp_path: Path) -> None:
    case, out = demo_case(code), tmp_path / "sheet.pdf"
    write_sheet(kind, [case], out, SheetStyle(language=LANGUAGE))
    # What a plan brings is called after its place, as a record of the keeper's would be.
    planned = [planned_case(case, plan).aircraft for plan in open_plans(case.aircraft)]
    own = {words for words in keepers_words([case.aircraft, case.library, *planned]) if words.strip()}
    left = words_in(without_phrases(outside_brackets(" ".join(text_of(out))), own))
    signs = words_in(" ".join([*(unit.symbol for unit in UNITS.values()), case.revision])) | SIGNS
    assert sorted(left - signs) == []


@pytest.mark.usefixtures("pseudo")
def test_a_step_with_a_figure_is_in_the_catalogue() -> None:
    style, bare, figured = SheetStyle(language=LANGUAGE), {}, set()
    for case in demo_cases():
        own = {words for words in keepers_words([case.aircraft]) if words.strip()}
        for step in field_steps(case):
            figured |= {step.line} if step.recorded else set()
            for argument in (step.say, step.need, step.recorded):
                left = words_in(without_phrases(outside_brackets(style.put(argument)), own))
                if left - SIGNS - {unit.symbol for unit in UNITS.values()}:
                    bare[step.line] = style.put(argument)
    assert bare == {}
    assert len(figured) > 4, "the invented fleet has figures behind lines"


def test_a_word_of_ours_that_nobody_can_translate_would_be_seen() -> None:
    assert words_in(outside_brackets(f"{OPEN}Puump ooff{CLOSE} RX-1: not known")) == {"RX", "not", "known"}


@pytest.mark.parametrize("kind", [kind for kind in SHEETS if kind != "labels"])
@pytest.mark.usefixtures("pseudo")
def test_longer_words_stay_on_the_page_and_off_each_other(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, [demo_case("MER60")], out, SheetStyle(language=LANGUAGE))
    assert outside(out) == []
    assert overlapping(text_boxes(out)) == []


@pytest.mark.parametrize("kind", READ_BACK)
@pytest.mark.parametrize("code", CODES)
def test_a_box_has_one_name_in_every_language(kind: str, code: str, tmp_path: Path) -> None:
    case = demo_case(code)
    names = []
    for language in ("en", "de"):
        out = tmp_path / f"{language}.pdf"
        write_sheet(kind, [case], out, SheetStyle(language=language, fillable=True))
        names.append(box_names(out))
    assert names[0] == names[1]
    assert len(names[0]) > 3


@pytest.mark.parametrize("kind", READ_BACK)
def test_the_page_of_readings_asks_in_its_language_for_the_same_boxes(kind: str) -> None:
    case = demo_case("PERT")
    english, german = (
        [
            box
            for part in listed_boxes(kind, case, SheetStyle(language=each))[0]
            for row in part.rows
            for box in row.boxes
        ]
        for each in ("en", "de")
    )
    assert [(box.about, box.what, box.tick) for box in english] == [
        (box.about, box.what, box.tick) for box in german
    ]
    heads = [box.head for box in english if box.head]
    assert heads == [box.head for box in german if box.head]
    assert all(Reader("de").put(head) != Reader("en").put(head) for head in heads if str(head) == "Read")


def test_a_german_sheet_has_german_words_commas_and_title(tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet("bench", [demo_case("PERT")], out, SheetStyle(language="de"))
    words = " ".join(text_of(out))
    assert "WERKBANKPRÜFUNG" in words
    assert "15,8 kg" in words
    assert "left aileron" in words
    meta = PdfReader(out).metadata
    assert meta is not None
    assert meta.title == "Werkbankprüfung: Peregal T"
    root: Any = PdfReader(out).root_object
    assert root["/Lang"] == "de"
