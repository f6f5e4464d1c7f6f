"""Who reads in the window: the language of the program and the units last chosen."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from hangar.base.reader import Reader, languages
from hangar.base.units import SI_TRADE, UnitChoice

_reading = [Reader("en", SI_TRADE)]


def current_reader() -> Reader:
    """Who reads now."""
    return _reading[0]


def read_in(units: UnitChoice) -> None:
    """Show numbers in these units from here on."""
    _reading[0] = _reading[0].with_units(units)


def language_spoken() -> str:
    """The code of the language that the program speaks; English before it was told any."""
    return _reading[0].language


def language_of(choice: str) -> str:
    """The language a choice stands for: the system's where it is one of ours, else English.

    >>> language_of("de")
    'de'
    """
    if choice in languages():
        return choice
    wanted = QLocale.system().name().partition("_")[0]
    return wanted if wanted in languages() else "en"


def speak(app: QCoreApplication, choice: str) -> str:
    """Let the program speak a language from here on; widgets made before keep theirs.

    Returns: the language spoken.
    """
    for old in app.findChildren(QTranslator):
        app.removeTranslator(old)
        old.deleteLater()
    language = language_of(choice)
    _reading[0] = Reader(language, _reading[0].units)
    if language != "en":
        # The dialogs that Qt brings along have words of their own.
        of_qt = QTranslator(app)
        if of_qt.load(f"qtbase_{language}", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)):
            app.installTranslator(of_qt)
    return language
