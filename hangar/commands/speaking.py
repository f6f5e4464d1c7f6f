"""Whose language a command speaks: the one asked for, the surroundings', or the one kept by the window."""

from __future__ import annotations

import os
from collections.abc import Sequence
from configparser import Error, RawConfigParser
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput, HangarError
from hangar.base.reader import Reader, languages
from hangar.base.text import Arg, series
from hangar.base.units import SI_TRADE, UnitChoice

if TYPE_CHECKING:
    from hangar.answers.judging import JudgingBasis

OPTION, VARIABLE = "--language", "HANGAR_LANGUAGE"
_SPOKEN = ["en"]


def speak(words: Sequence[str]) -> None:
    """Speak the language that the words of a command ask for, from here on.

    Without ``--language`` it is that of the variable ``HANGAR_LANGUAGE``, else the one chosen in the window
    on this seat, else English; the system's own language is not asked.

    Raises: BadInput for a language without a catalogue.
    """
    _SPOKEN[:] = ["en"]
    asked = _asked(words) or os.environ.get(VARIABLE, "")
    if asked and asked not in languages():
        raise BadInput(
            "'{found}' is no language that is spoken here; allowed is {languages}.",
            found=asked,
            languages=series(languages(), ","),
        )
    kept = asked or _of_the_seat()
    _SPOKEN[:] = [kept if kept in languages() else "en"]


def command_first(words: list[str]) -> list[str]:
    """The words with the command first, where the language is asked for before it.

    >>> command_first(["--language", "de", "inspect", "club.hangar"])
    ['inspect', 'club.hangar', '--language', 'de']
    """
    count = 2 if words[:1] == [OPTION] else 1 if words and words[0].startswith(f"{OPTION}=") else 0
    return [*words[count:], *words[:count]]


def _asked(words: Sequence[str]) -> str:
    for word, then in zip(words, [*words[1:], ""], strict=True):
        if word == OPTION:
            return then
        if word.startswith(f"{OPTION}="):
            return word.partition("=")[2]
    return ""


def _of_the_seat() -> str:
    """What the window keeps as its language; read without Qt, which takes longer than most commands."""
    from platformdirs import user_config_path

    kept = RawConfigParser(strict=False)
    try:
        kept.read(user_config_path("hangar", appauthor=False) / "window.ini", encoding="utf-8")
        return kept.get("General", "language", fallback="en")
    except (Error, OSError, ValueError):
        return "en"


def reader(units: UnitChoice = SI_TRADE) -> Reader:
    """Who reads what is printed, in these units."""
    return Reader(_SPOKEN[0], units)


def units_of(basis: JudgingBasis) -> UnitChoice:
    """The units in which the keeper of a fleet wants to read."""
    return UnitChoice.from_settings(basis.named)


def say(key: str, /, **args: Arg) -> str:
    """A sentence by its English, in the language spoken."""
    return reader().say(key, **args)


def fault_words(fault: HangarError) -> str:
    """What went wrong, in the language spoken."""
    return reader().put(fault.text)
