"""The catalogues of words: ``python -m tests.catalogue`` brings every language up to date.

Babel keeps the catalogues (``resources/words/LANGUAGE.po``) and compiles them. The words are read out of
the source wherever one of ``SAYING`` is called with a literal, out of the record kinds, closed lists and
rules, and out of the data files. ``python -m tests.catalogue --missing`` prints what a language lacks; a
word without a translation is shown in English and fails nothing.
"""

from __future__ import annotations

import ast
import importlib
import io
import re
import sys
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

import hangar
from hangar.base.figure import Basis
from hangar.base.places import resources_dir
from hangar.base.reader import words_dir
from hangar.parts import KIND_BY_NAME, choices
from hangar.parts.choices import Duty
from hangar.parts.fields import columns
from hangar.rules import all_rules
from hangar.rules.gathering import plural_of
from hangar.survey.model import Scenario

HANGAR = Path(hangar.__file__).parent
SAYING: dict[str, tuple[int, ...]] = {
    "text": (0,), "fixed": (0,), "say": (0,), "as_text": (0,),
    "BadInput": (0,), "OutOfValidity": (0,), "Unreachable": (0,), "StoreFault": (0,), "BrokenFile": (0,),
    "NoAnswer": (0,),
    "read": (0,), "rated": (0,), "allowed": (0,), "worked": (0, 3), "made": (0, 3, 5), "note": (0,),
    "figure_column": (0,), "_figure_column": (0,), "figure": (0, 3, 4), "banded": (0, 3, 4),
    "lacks": (0,), "thing_at": (1,), "packs": (1, 2),
    "of_part": (0,), "of_servo": (2,), "heads": tuple(range(20)),
    "add_argument": (), "rule": (), "joined": (), "field": (),
}  # fmt: skip
"""Calls that are handed the program's words, and at which places."""
SAYING_BY_NAME = frozenset({"between", "title", "label", "help", "formula", "source", "tip", "noun"})
"""Keyword arguments that are the program's words in any call of ``SAYING``."""
_DATA = {
    "thresholds.toml": {"words", "source"},
    "class_defaults.toml": {"meaning", "source"},
    "checklists.toml": {"text", "say", "need", "pass_when", "title", "reading"},
    "measuring.toml": {"how", "cost"},
    "look_for.toml": {"high", "low"},
    "field_rules.toml": {"item", "text", "where", "source", "note"},
    "cautions.toml": {"text", "footer"},
    "wiring.toml": {"source"},
    "layouts.toml": {"title", "name"},
}
"""Data files and the keys under which words for readers stand."""


_BESIDE_CALLS = (
    "words", "particulars_page", "records_page", "logbook_tables", "shelves", "field_text",
    "about", "pack_words", "pack_page", "field_day", "log_page",
    "view_settings", "class_words", "paste_rows",
)  # fmt: skip
"""Modules of the window whose words stand in tables beside the calls."""


@dataclass(frozen=True)
class Word:
    """One thing that can be translated.

    Attributes:
        key: its English.
        many: the English of several, where there is one.
        context: which of several meanings is meant, where the source says so.
        place: the file it was found in.
    """

    key: str
    many: str = ""
    context: str = ""
    place: str = ""


def words_of_source(path: Path) -> Iterator[Word]:
    """Every word that a file says."""
    place = path.relative_to(HANGAR).as_posix()
    source = path.read_text(encoding="utf-8")
    if re.search(r"from sqlalchemy import [^\n]*\btext\b(?! as )", source):
        return  # There text(...) is a statement of SQL.
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call):
            yield from _of_call(node, place)
        elif isinstance(node, ast.ClassDef):
            yield from _of_list(node, place)


def words_of_tables(path: Path) -> Iterator[Word]:
    """The words that a module keeps in tables for ``say``."""
    for statement in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(statement, ast.Assign | ast.AnnAssign) and statement.value is not None:
            named = set(map(id, _names_in(statement.value)))
            for node in ast.walk(statement.value):
                if (
                    isinstance(node, ast.Constant)
                    and isinstance(node.value, str)
                    and id(node) not in named
                    and _reads_like_words(node.value)
                ):
                    yield Word(node.value, place=path.relative_to(HANGAR).as_posix())


def _names_in(table: ast.expr) -> Iterator[ast.AST]:
    """What a table is asked by and no reader sees: pairs that are keys, and lists of names in one string."""
    for node in ast.walk(table):
        if isinstance(node, ast.Dict):
            for key in node.keys:
                yield from ast.walk(key) if isinstance(key, ast.Tuple) else ()
        elif isinstance(node, ast.Attribute) and node.attr == "split":
            yield node.value


def _reads_like_words(text: str) -> bool:
    worded = any(letter.isalpha() for letter in text) and text.isprintable() and len(text) > 2
    return worded and "_" not in text and "{" not in text


def _of_call(node: ast.Call, place: str) -> Iterator[Word]:
    name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    if name in ("text_in", "say_in") and len(node.args) > 1:
        for context in _literals(node.args[0]):
            for key in _literals(node.args[1]):
                yield Word(key, context=context, place=place)
    elif name in ("plural", "say_plural") and len(node.args) > 1:
        for literal, many in zip(_literals(node.args[0]), _literals(node.args[1]), strict=False):
            yield Word(literal, many, place=place)
    elif name in SAYING:
        wanted = [node.args[at] for at in SAYING[name] if at < len(node.args)]
        wanted += [keyword.value for keyword in node.keywords if keyword.arg in SAYING_BY_NAME]
        for argument in wanted:
            for key in _literals(argument):
                yield Word(key, place=place)
                if name in ("of_part", "of_servo") and key != "aircraft":
                    yield Word(plural_of(key), place=place)


def _of_list(node: ast.ClassDef, place: str) -> Iterator[Word]:
    """The words of a closed list."""
    if any(isinstance(base, ast.Name) and base.id == "StrEnum" for base in node.bases):
        for statement in node.body:
            if isinstance(statement, ast.Assign):
                for key in _literals(statement.value):
                    yield Word(key, place=place)


def _literals(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from _literals(node.body)
        yield from _literals(node.orelse)
    elif isinstance(node, ast.BoolOp):
        for value in node.values:
            yield from _literals(value)


def words_of_records() -> Iterator[Word]:
    """Titles, labels, helps and rules of the record kinds."""
    for kind in KIND_BY_NAME.values():
        place = f"record {kind.KIND}"
        yield Word(kind.TITLE, place=place)
        for spec in columns(kind):
            yield Word(spec.label, place=place)
            yield Word(spec.help, place=place)
        for _condition, sentence in kind.RULES:
            yield Word(sentence, place=place)


def words_of_rules() -> Iterator[Word]:
    """What each rule says of itself."""
    for rule in all_rules().values():
        place = f"rule {rule.slug}"
        yield Word(rule.title.key, place=place)
        for section in rule.doc.values():
            yield Word(section, place=place)


def words_of_data() -> Iterator[Word]:
    """Words of the data files that readers see."""
    for file, keys in _DATA.items():
        with (resources_dir() / file).open("rb") as opened:
            for key in _under(tomllib.load(opened), keys):
                yield Word(key, place=file)


def _under(node: object, keys: set[str]) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            if key in keys and isinstance(value, str):
                yield value
            elif not isinstance(value, str):
                yield from _under(value, keys)
    elif isinstance(node, list):
        for item in node:
            yield from _under(item, keys)


def words_kept() -> Iterator[Word]:
    """Words that a module below the window keeps in tables: it names them in ``WORDS_OF_TABLES``."""
    for path in sorted(HANGAR.rglob("*.py")):
        if (
            "\nWORDS_OF_TABLES = " in (source := path.read_text(encoding="utf-8"))
            or "= WORDS_OF_TABLES = " in source
        ):
            module = ".".join(("hangar", *path.relative_to(HANGAR).with_suffix("").parts))
            for key in importlib.import_module(module.removesuffix(".__init__")).WORDS_OF_TABLES:
                yield Word(key, place=path.relative_to(HANGAR).as_posix())


@cache
def wanted_words() -> tuple[Word, ...]:
    """Every word that can be translated, each once, in the order of the places they stand in."""
    found: dict[tuple[str, str], Word] = {}
    sources = [words_of_source(path) for path in sorted(HANGAR.rglob("*.py"))]
    tables = [words_of_tables(path) for path in sorted(HANGAR.rglob("*.py")) if path.stem in _BESIDE_CALLS]
    for words in (*sources, *tables, words_kept(), words_of_records(), words_of_rules(), words_of_data()):
        for word in words:
            if any(letter.isalpha() for letter in word.key) or word.key == ".":
                known = found.get((word.key, word.context))
                if known is None or (word.many and not known.many):
                    found[word.key, word.context] = word
    return tuple(found.values())


def read_catalogue(path: Path) -> Catalog:
    """A language's catalogue; an empty one where there is none."""
    if not path.exists():
        return Catalog(locale=path.stem, charset="utf-8")
    with path.open("rb") as file:
        return read_po(file, locale=path.stem, charset="utf-8")


def updated(old: Catalog, words: Iterable[Word]) -> Catalog:
    """The catalogue with the words there are now; what was translated stays translated."""
    made = old.creation_date  # A new day in each writing would be a conflict in each merge.
    fresh = Catalog(
        locale=old.locale, charset="utf-8", project="Hangar", header_comment="", creation_date=made
    )
    for word in words:
        key = (word.key, word.many) if word.many else word.key
        before = old.get(word.key, word.context or None)
        translation = before.string if before is not None else None
        if word.many and isinstance(translation, str):
            alone = old.get(word.many, word.context or None)
            translation = (
                (translation, str(alone.string) if alone is not None and alone.string else translation)
                if translation
                else None
            )
        if not word.many and isinstance(translation, tuple | list):
            translation = translation[0]
        fresh.add(key, translation, locations=[(word.place, 0)], context=word.context or None)
    return fresh


def translations(language: str) -> dict[str, str]:
    """What a language says for each English sentence; empty where nobody translated it."""
    strings_by_key: dict[str, str] = {}
    for message in read_catalogue(words_dir() / f"{language}.po"):
        keys = message.id if isinstance(message.id, tuple | list) else (message.id,)
        strings = message.string if isinstance(message.string, tuple | list) else (message.string,)
        strings_by_key.update({str(key): string or "" for key, string in zip(keys, strings, strict=False)})
    strings_by_key.pop("", None)
    return strings_by_key


def words_of_many_places() -> set[str]:
    """Words of closed lists and record kinds that another list, kind or call in the window says too."""
    places: dict[str, set[str]] = {}
    for kind in KIND_BY_NAME.values():
        places.setdefault(kind.TITLE, set()).add("kinds of record")
    lists: list[type[StrEnum]] = [Basis, Scenario, Duty]
    every = (var for var in vars(choices).values() if isinstance(var, type))
    lists += [each for each in every if issubclass(each, StrEnum) and each is not StrEnum]
    for closed in lists:
        for item in closed:
            places.setdefault(str(item), set()).add(closed.__name__)
    for path in sorted((HANGAR / "window").rglob("*.py")):
        for word in words_of_source(path):
            for spelt in (word.key, word.key[:1].lower() + word.key[1:]):
                if spelt in places:
                    places[spelt].add("the window")
    return {word for word, place in places.items() if len(place) > 1}


def missing(catalogue: Catalog) -> list[str]:
    """What nobody translated yet."""
    lines = {message.id for message in catalogue if message.id and _is_said(message.string)}
    return [
        str(message.id)
        for message in catalogue
        if message.id
        and message.id not in lines
        and not (isinstance(message.id, str) and message.id[:1].lower() + message.id[1:] in lines)
    ]


def _is_said(string: object) -> bool:
    """Whether every form has a translation."""
    return all(string) if isinstance(string, tuple | list) else bool(string)


def compiled(catalogue: Catalog) -> bytes:
    """What the program reads of it."""
    buffer = io.BytesIO()
    write_mo(buffer, catalogue)
    return buffer.getvalue()


def write_catalogue(path: Path, catalogue: Catalog) -> None:
    """Write a language's catalogue and what the program reads of it."""
    with path.open("wb") as file:
        write_po(file, catalogue, width=110, sort_output=False, omit_header=False, include_lineno=False)
    path.with_suffix(".mo").write_bytes(compiled(catalogue))


def main() -> None:
    """Bring every language up to date, or say what is missing."""
    words = wanted_words()
    for path in sorted(words_dir().glob("*.po")):
        catalogue = updated(read_catalogue(path), words)
        lacking = missing(catalogue)
        if "--missing" not in sys.argv:
            write_catalogue(path, catalogue)
        print(f"{path.stem}: {len(words)} words, {len(lacking)} without a translation")
        if "--missing" in sys.argv:
            for key in lacking:
                print(f"  {key!r}")


if __name__ == "__main__":
    main()
