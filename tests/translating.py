"""The words that can be translated, and their German: ``python -m tests.translating`` brings it up to date.

Words in the source are found wherever ``say`` or ``tr`` is called; words of closed lists, fields and
record kinds are asked of the modules that hold them.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from xml.etree import ElementTree as Xml

import PySide6

import hangar.base.class_words
import hangar.window
from hangar.base.figure import Basis
from hangar.base.places import resources_dir
from hangar.parts import KIND_BY_NAME, choices
from hangar.parts.fields import columns
from hangar.survey.due import Duty
from hangar.survey.model import Scenario

WINDOW = Path(hangar.window.__file__).parent
CLASSES = Path(hangar.base.class_words.__file__)
CATALOGUE = resources_dir() / "translations" / "hangar_de.ts"
CONTEXT = "words"
_SPEAKING = ("say", "tr", "figure_column", "_figure_column")
_BESIDE_CALLS = ("words", "particulars_page", "records_page", "logbook_tables", "shelves", "front_view",
                 "working_text", "view_settings", "about", "pack_words", "pack_page", "leads_rows",
                 "field_day_rows", "log_page", "class_words")  # fmt: skip
"""Modules whose words stand in tables beside the calls."""


def source_words(path: Path) -> set[str]:
    """Every literal that a file hands to ``say`` or ``tr``, and the tables of those that keep them there."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _name(node.func) in _SPEAKING and node.args:
            found |= set(_texts(node.args[0]))
    if path.stem in _BESIDE_CALLS:
        for statement in tree.body:
            if isinstance(statement, ast.Assign | ast.AnnAssign) and statement.value is not None:
                found |= {text for text in _texts(statement.value) if _reads_like_words(text)}
    return found


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Name):
        return function.id
    return function.attr if isinstance(function, ast.Attribute) else ""


def _texts(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body), *_texts(node.orelse))
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        for each in node.elts:
            yield from _texts(each)
    elif isinstance(node, ast.Dict):
        for value in node.values:
            yield from _texts(value)
    elif isinstance(node, ast.Call):
        for argument in node.args:
            yield from _texts(argument)


def _reads_like_words(text: str) -> bool:
    return (
        any(letter.isalpha() for letter in text)
        and text.isprintable()
        and "_" not in text
        and "{" not in text
        and len(text) > 2
    )


def list_words() -> set[str]:
    """Words of record kinds, their fields, and closed lists."""
    found: set[str] = set()
    for kind in KIND_BY_NAME.values():
        found.add(kind.TITLE)
        for spec in columns(kind):
            found |= {spec.label, spec.help}
    for closed in closed_lists():
        found |= {str(item) for item in closed}
    return found - {""}


def closed_lists() -> list[type[StrEnum]]:
    """Every list of which a field or a figure takes one word."""
    every = (each for each in vars(choices).values() if isinstance(each, type))
    return [
        Basis,
        Scenario,
        Duty,
        *(each for each in every if issubclass(each, StrEnum) and each is not StrEnum),
    ]


def words_of_many_places() -> set[str]:
    """Words of closed lists and record kinds that another list, kind or call in the window says too."""
    places: dict[str, set[str]] = {}
    for kind in KIND_BY_NAME.values():
        places.setdefault(kind.TITLE, set()).add("kinds of record")
    for closed in closed_lists():
        for item in closed:
            places.setdefault(str(item), set()).add(closed.__name__)
    for path in WINDOW.rglob("*.py"):
        for word in source_words(path):
            for spelt in (word, word[:1].lower() + word[1:]):
                if spelt in places:
                    places[spelt].add("the window")
    return {word for word, said in places.items() if len(said) > 1}


def wanted_words(files: Iterator[Path] | None = None) -> set[str]:
    """Every word to be translated; one spelling where only the first letter's case differs."""
    found = list_words()
    for path in files or (CLASSES, *WINDOW.rglob("*.py")):
        found |= source_words(path)
    found = {text for text in found if any(letter.isalpha() for letter in text)}
    return {text for text in found if not (text[:1].isupper() and text[:1].lower() + text[1:] in found)}


def read_catalogue() -> dict[str, str]:
    """The translations that there are."""
    if not CATALOGUE.exists():
        return {}
    root = Xml.parse(CATALOGUE).getroot()
    return {
        str(message.findtext("source")): str(message.findtext("translation") or "")
        for message in root.iter("message")
    }


def write_catalogue(translations: dict[str, str]) -> None:
    """Write the catalogue and what the program reads of it."""
    root = Xml.Element("TS", version="2.1", language="de_DE", sourcelanguage="en")
    context = Xml.SubElement(root, "context")
    Xml.SubElement(context, "name").text = CONTEXT
    for source in sorted(translations):
        message = Xml.SubElement(context, "message")
        Xml.SubElement(message, "source").text = source
        translation = Xml.SubElement(message, "translation")
        translation.text = translations[source]
        if not translations[source]:
            translation.set("type", "unfinished")
    Xml.indent(root)
    text = Xml.tostring(root, encoding="unicode")
    CATALOGUE.write_text(f'<?xml version="1.0" encoding="utf-8"?>\n<!DOCTYPE TS>\n{text}\n', encoding="utf-8")
    release = Path(PySide6.__file__).parent / "lrelease"
    subprocess.run([release, "-silent", CATALOGUE, "-qm", CATALOGUE.with_suffix(".qm")], check=True)


def main() -> None:
    """Add new words, drop those that are gone, and say which are still to be translated."""
    known = read_catalogue()
    fresh = {source: known.get(source, "") for source in wanted_words()}
    write_catalogue(fresh)
    missing = sorted(source for source, translation in fresh.items() if not translation)
    print(f"{len(fresh)} words, {len(missing)} to be translated")
    for source in missing:
        print(f"  {source!r}", file=sys.stderr)


if __name__ == "__main__":
    main()
