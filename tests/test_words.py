"""One thing has one word: what DEVELOPERS.md rejects under "Words" stands nowhere that a keeper reads."""

from __future__ import annotations

import argparse
import ast
import re
from collections.abc import Callable, Iterator
from contextlib import redirect_stdout, suppress
from enum import StrEnum
from io import StringIO
from pathlib import Path

import pytest

from hangar.base.text import holes_of
from hangar.commands import COMMANDS
from hangar.commands.running import main
from hangar.parts import choices
from tests.catalogue import wanted_words as catalogue_words

ROOT = Path(__file__).resolve().parents[1]

REJECTED = {
    r"\bvoltages?\b": "volts",
    r"\bparts bay\b|\bParts bay\b": "Parts Bay, as the room is called",
    r"\b(?:from|in|to|of) the bay\b|\bin stock\b|\bstock items?\b": "Parts Bay; spare",
    r"\b[Bb]atter(?:y|ies)\b": "pack",
    r"\bairframes?\b|\bAirframes\b|\b[Mm]odels?\b": "aircraft",
    r"\b(?:[Ee]x|[Ii]m)port(?:s|ed|ing)?\b": "take out, bring in",
    r"\b[Gg]ates?\b": "proof",
    r"\b[Pp]romised\b": "reserved",
    r"\b(?:[Ss]eats?|[Ss]olvers?|[Ff]ront|Pareto|operating point)\b": "plain words",
    r"\b(?:in memory|[Bb]ytes|SHA|[Cc]hecksum|[Ii]ntegrity|None(?! of)|NaN|[Nn]ull)\b": "plain words",
    r"[A-Za-z]_[A-Za-z](?![a-z]*\)s)": "the label of a field, never its name",  # %(a_b)s is no word
    r"\b(?:us|mohm)\b|\d C\b(?!\))": "µs, mΩ, °C",
    r"\b(?:[Cc]olor|[Cc]enter|[Gg]ray|[Aa]luminum|[Gg]asoline|[Aa]irplane|[Aa]nalogue)s?\b": "as in Britain",
    r"(?i)safe to fly|flutter.free": "no open warnings on the data entered",
}
"""What is not said, and what is said instead."""

NAMES = (
    "model aircraft", "gate check", "at the gate",
    "Large Model Airplane Program", "National Model Aircraft Safety Code", "Academy of Model Aeronautics",
    "Model Aeronautics Association of Canada", "Model Aviation", "Model Flying",
    "lithium battery guidance", "announcement on lithium batteries", "battery encyclopaedia",
    "repaired model", "large-model band", "large turbine models", "drive voltage",
    "spare battery in the cabin",
)  # fmt: skip
"""Rooms, titles of what others published, and figures of law that settings are found by."""


def texts_of_the_window() -> Iterator[str]:
    stored = _stored_words()
    for word in catalogue_words():
        if word.place.startswith("window/") and word.key not in stored:
            yield from filter(None, (word.key, word.many))


def _stored_words() -> set[str]:
    return {str(item) for closed in vars(choices).values() if _is_list(closed) for item in closed}


def _is_list(closed: object) -> bool:
    return isinstance(closed, type) and issubclass(closed, StrEnum)


def texts_of_the_core() -> Iterator[str]:
    """What is said of a fleet: numbers and faults of single formulas are for whoever writes programs."""
    stored = _stored_words()
    for word in catalogue_words():
        if word.key not in stored and not word.place.startswith(("physics/", "base/", "window/")):
            yield from filter(None, (word.key, word.many))


def texts_of_the_commands() -> Iterator[str]:
    for command in ("", *COMMANDS):
        with redirect_stdout(StringIO()) as output, suppress(SystemExit):
            main([*filter(None, [command]), "--help"])
        assert output.getvalue()
        yield output.getvalue()


def texts_of_the_documents() -> Iterator[str]:
    """What keepers read beside the program; what stands in backticks is typed, not said."""
    for page in (ROOT / "README.md", ROOT / "resources/changelog.md", *ROOT.glob("resources/guide/*.md")):
        yield from re.sub(r"`[^`]*`|\]\([^)]*\)", "", page.read_text(encoding="utf-8")).split("\n\n")


@pytest.mark.parametrize(
    "texts", [texts_of_the_window, texts_of_the_core, texts_of_the_commands, texts_of_the_documents]
)
def test_no_rejected_word_is_said(texts: Callable[[], Iterator[str]]) -> None:
    found = []
    for text in texts():
        # Holes stand for other words, rules of a sheet for what is written by hand.
        rest = re.sub(r"\{\w+(:[^{}]*)?\}|_{3,}", "…", text)
        for name in NAMES:
            rest = rest.replace(name, "")
        found += [f"{text!r}: say {better}" for word, better in REJECTED.items() if re.search(word, rest)]
    assert not found


@pytest.mark.parametrize("word", REJECTED)
def test_every_pattern_of_a_rejected_word_finds_something(word: str) -> None:
    lines = (
        "voltage", "parts bay", "from the bay", "batteries", "airframe", "imported", "gates", "promised",
        "solver", "checksum", "supply_max", "25 C", "grays", "safe to fly",
    )  # fmt: skip
    assert any(re.search(word, text) for text in lines)


def test_like_acts_end_alike() -> None:
    """A label ends with three dots as one sign, or with one full stop, never with both or with a space."""
    assert not [text for text in texts_of_the_window() if text.endswith(("...", "….", " ."))]


def test_every_option_of_a_command_says_what_it_is_for() -> None:
    for name, (_about, add, _run) in COMMANDS.items():
        command = argparse.ArgumentParser(prog=name)
        add(command)
        assert not [action.dest for action in command._actions if not action.help], name


def test_what_the_window_says_fills_every_hole() -> None:
    # A hole without an argument stays empty: a sentence would lose its number.
    left_open = []
    for file in (Path(__file__).parents[1] / "hangar" / "window").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            names = {keyword.arg for keyword in node.keywords}
            if node.func.id not in ("say", "say_plural") or None in names:
                continue
            for pattern in node.args:
                if isinstance(pattern, ast.Constant) and isinstance(pattern.value, str):
                    missing = {name for _, name, _ in holes_of(pattern.value) if name} - names
                    left_open += [(file.name, node.lineno, name) for name in missing]
    assert left_open == []
