"""The language of the program: English as written, or German from the catalogue that travels with it."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from hangar.base.places import resources_dir
from hangar.base.reader import Reader
from hangar.base.units import SI_TRADE, UnitChoice

if TYPE_CHECKING:
    from hangar.base.sentences import Sentences

CONTEXT = "words"
LANGUAGES = {"en": "English", "de": "Deutsch"}
"""Each language under its own name."""
_SPOKEN = "hangar language"


class Catalogue(QTranslator):
    """Words by their English; a word with a raised first letter is found by its plain spelling too."""

    def translate(
        self, _context: str, text: str, _disambiguation: str | None = None, _count: int = -1
    ) -> str | None:
        """The translation, or None where the text stays as it is written."""
        found = super().translate(CONTEXT, text)
        if not found and text[:1].isupper():
            plain = super().translate(CONTEXT, text[:1].lower() + text[1:])
            found = plain[:1].upper() + plain[1:] if plain else ""
        return found or None


def language_of(choice: str) -> str:
    """The language a choice stands for: the system's where it is one of ours, else English.

    >>> language_of("de")
    'de'
    """
    if choice in LANGUAGES:
        return choice
    wanted = QLocale.system().name().partition("_")[0]
    return wanted if wanted in LANGUAGES else "en"


@cache
def _sentences(language: str) -> Sentences:
    """The core's sentences in a language, read when the first of them is shown."""
    from hangar.base.sentences import Sentences

    return Sentences.read(resources_dir() / "translations" / f"sentences_{language}.json", _plain_word)


def _plain_word(text: str) -> str | None:
    """A single word or label in the language of the program; None where it has none."""
    for spelling in (text, text[:1].upper() + text[1:]):
        found = QCoreApplication.translate(CONTEXT, spelling)
        if found != spelling:
            return found
    return None


def language_spoken() -> str:
    """The short name of the language that the program speaks; English before it was told any."""
    app = QCoreApplication.instance()
    return str((app.property(_SPOKEN) if app is not None else None) or "en")


_reading: list[Reader] = []


def current_reader() -> Reader:
    """Who reads now: the language spoken, and the units last chosen."""
    language = language_spoken()
    if not _reading or _reading[0].language != language:
        units = _reading[0].units if _reading else SI_TRADE
        _reading[:] = [Reader(language, units)]
    return _reading[0]


def read_in(units: UnitChoice) -> None:
    """Show numbers in these units from here on."""
    _reading[:] = [current_reader().with_units(units)]


def told_in_language(sentence: str) -> str:
    """A sentence of the core as the program speaks; it stays as it is where nobody translated it."""
    language = language_spoken()
    return _sentences(language).say(sentence) if sentence and language != "en" else sentence


def speak(app: QCoreApplication, choice: str) -> str:
    """Let the program speak a language from here on; widgets made before keep theirs.

    Returns: the language spoken.
    """
    for old in app.findChildren(QTranslator):
        app.removeTranslator(old)
        old.deleteLater()
    language = language_of(choice)
    app.setProperty(_SPOKEN, language)
    if language != "en":
        ours = Catalogue(app)
        if ours.load(f"hangar_{language}", str(resources_dir() / "translations")):
            app.installTranslator(ours)
        of_qt = QTranslator(app)
        if of_qt.load(f"qtbase_{language}", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
            app.installTranslator(of_qt)
    return language
