"""Who reads: the language and the units in which a text is put into words.

The words of a language stand in ``resources/words/LANGUAGE.po``, one catalogue for the window, the core,
the sheets and the command line; ``LANGUAGE.mo`` is the same compiled. What is not translated stays English.
"""

from __future__ import annotations

import gettext
import locale
from functools import cache
from pathlib import Path

from hangar.base.places import resources_dir
from hangar.base.text import Arg, Text, Wording, text
from hangar.base.units import SI_TRADE, UnitChoice

OWN_NAMES = {"en": "English", "de": "Deutsch"}
"""Languages under their own names; any other is shown by its code."""
DECIMAL_MARK = text(".").key
"""A catalogue translates this one sign: the mark between whole and decimal digits."""
_WORDY_UNITS = frozenset({"years", "months"})


def words_dir() -> Path:
    """The folder of the catalogues."""
    return resources_dir() / "words"


@cache
def languages() -> tuple[str, ...]:
    """The codes of the languages there are: English and every catalogue that is found."""
    names = sorted(path.stem for path in words_dir().glob("*.mo"))
    return ("en", *(code for code in names if code != "en"))


def language_name(code: str) -> str:
    """What a language is called by those who speak it.

    >>> language_name("de")
    'Deutsch'
    """
    return OWN_NAMES.get(code, code)


def language_of(choice: str) -> str:
    """The language a choice stands for: itself where there is a catalogue, else the system's, else English.

    >>> language_of("de")
    'de'
    """
    if choice in languages():
        return choice
    wanted = (locale.getlocale()[0] or "en").partition("_")[0].lower()
    return wanted if wanted in languages() else "en"


@cache
def _catalogue(path: Path) -> gettext.NullTranslations:
    if not path.exists():
        return gettext.NullTranslations()
    with path.open("rb") as file:
        return gettext.GNUTranslations(file)


class Reader(Wording):
    """Puts texts into one language and one choice of units.

    Args:
        language: code of a catalogue; English needs none.
        units: the units numbers are shown in.
        catalogue: another catalogue than the one that travels with the program.

    >>> Reader("de").show(8.4, "V")
    '8,4 V'
    """

    def __init__(
        self, language: str = "en", units: UnitChoice = SI_TRADE, catalogue: Path | None = None
    ) -> None:
        self.language = language
        self.units = units
        self._words = _catalogue(catalogue or words_dir() / f"{language}.mo")
        self._comma = language != "en" and self._words.gettext(DECIMAL_MARK) == ","

    def with_units(self, units: UnitChoice) -> Reader:
        """The same language, other units."""
        other = Reader.__new__(Reader)
        other.language, other.units = self.language, units
        other._words, other._comma = self._words, self._comma
        return other

    def word(self, key: str, context: str = "") -> str:
        """A pattern in the language; one that begins small serves where it begins with a capital.

        What is translated with a capital only, such as a title, serves as it stands.
        """
        if self.language == "en" or not key:
            return key
        value = self._words.pgettext(context, key) if context else key
        if value == key:
            value = self._words.gettext(key)
        if value == key and key[:1].isupper():
            small = key[:1].lower() + key[1:]
            plain = self._words.gettext(small)
            if plain != small:
                value = plain[:1].upper() + plain[1:]
        if value == key and key[:1].islower():
            large = key[:1].upper() + key[1:]
            plain = self._words.gettext(large)
            value = plain if plain != large else key
        return value

    def plural(self, one: str, many: str, count: int) -> str:
        """The pattern for that many things, by the language's own rule."""
        return self._words.ngettext(one, many, count)

    def number(self, written: str) -> str:
        """A number with the language's decimal mark."""
        if not self._comma:
            return written
        return written.replace(",", "\N{NARROW NO-BREAK SPACE}").replace(".", ",")

    def show(self, value: float, unit: str, digits: int | None = None) -> str:
        """A stored value in the units chosen."""
        written = self.units.show(value, unit, digits)
        number, space, symbol = written.partition(" ")
        if symbol in _WORDY_UNITS:
            symbol = self.word(symbol)
        return self.number(number) + space + symbol

    def show_both(self, value: float, unit: str) -> str:
        """The chosen unit with the other one of the trade in brackets."""
        other, shown = self.other(value, unit), self.show(value, unit)
        return f"{shown} ({other})" if other else shown

    def unit_for(self, stored_unit: str) -> str:
        """The unit in which a value stored in ``stored_unit`` is shown and typed."""
        return self.units.unit_for(stored_unit)

    def parse(self, typed: str, stored_unit: str) -> float:
        """What the keeper typed as a stored value; a bare number is in the chosen unit.

        Raises:
            BadInput: as :meth:`hangar.base.units.UnitChoice.parse` does.
        """
        return self.units.parse(typed, stored_unit)

    def other(self, value: float, unit: str, digits: int | None = None) -> str:
        """A stored value in the other unit of the trade; empty where there is none."""
        return self.number(self.units.other(value, unit, digits))

    def say(self, key: str, /, **args: Arg) -> str:
        """A sentence by its English, put at once."""
        return self.put(Text(key, args))
