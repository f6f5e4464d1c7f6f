"""Words the keeper reads for closed lists, levels and counts; every one can be translated.

The members of the closed lists are texts: nothing but texts is needed here, so that the first page
can be on screen before the lists are loaded.
"""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from hangar.base.class_words import CLASS_WORDS
from hangar.base.errors import HangarError
from hangar.base.reader import Reader, languages
from hangar.base.text import ARGS, Arg, plural
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


_LEVEL = {"warning": "Warning", "caution": "Caution", "advisory": "Advisory", "cant-tell": "Can't tell"}
_SPECIAL = {
    **CLASS_WORDS,
    "receiver": "Receiver and servos",
    "flight": "Needed to fly",
    "in the bay": "In Stores",
    "inside bay": "Inside a bay",
}

_OF_LIST = {
    ("FailsafeAction", "idle"): "Engine idle",
    ("Function", "mode"): "Flight mode",
    ("Function", "spare"): "Spare channel",
    ("RotorKind", "main"): "Main rotor",
    ("RotorKind", "tail"): "Tail rotor",
    ("Bearing", "plain"): "Plain bearing",
    ("InspectionKind", "interval"): "At its interval",
    ("MarkPlace", "outside"): "On the outside",
}
"""Words that mean something else in another list, or elsewhere in the window."""


def say(key: str, /, **args: Arg) -> str:
    """The program's own words in its language, with what stands in their holes."""
    return current_reader().say(key, **args)


def decimal(written: str) -> str:
    """A number, with its unit or without, that is written with the language's decimal mark.

    >>> decimal("0.56")
    '0.56'
    """
    return current_reader().number(written)


def say_plural(name: str, many: str, /, *, count: int, **args: Arg) -> str:
    """The same about a number of things; a language may have more forms than two.

    >>> say_plural("{count} plan", "{count} plans", count=1)
    '1 plan'
    >>> say_plural("{count} plan", "{count} plans", count=0)
    '0 plans'
    """
    return put(plural(name, many, count=count, **args))


def put(thing: object) -> str:
    """What the core says in the language and units of the program; of an error, its sentence.

    What the keeper wrote stays as it is.
    """
    if isinstance(thing, HangarError):
        thing = thing.text
    return current_reader().put(thing) if isinstance(thing, ARGS) else str(thing)


def word_of(choice: str | None) -> str:
    """One word of a closed list as shown on screen; a stroke for what is not said.

    >>> word_of("sport"), word_of("on the line")
    ('Sport aeroplane', 'On the line')
    """
    if choice is None:
        return "–"
    words_of_list = _OF_LIST.get((type(choice).__name__, str(choice)))
    return say(words_of_list or _SPECIAL.get(choice) or sentence_case(choice))


def level_word(level: str) -> str:
    """The word of a level: Warning, Caution, Advisory, Can't tell."""
    return say(_LEVEL[level])


def level_count(level: str, count: int) -> str:
    """A number of findings of one level in words.

    >>> level_count("caution", 2)
    '2 cautions'
    """
    if level == "warning":
        return say_plural("{count} warning", "{count} warnings", count=count)
    if level == "caution":
        return say_plural("{count} caution", "{count} cautions", count=count)
    if level == "advisory":
        return say_plural("{count} advisory", "{count} advisories", count=count)
    return say("{count} can't tell", count=count)


def yes_no(value: bool | None) -> str:
    """Yes, no or not known."""
    return say("not known") if value is None else say("yes") if value else say("no")


def day(value: date | None) -> str:
    """A date as written everywhere in the program."""
    return value.isoformat() if value else say("never")


def sentence_case(text: str) -> str:
    """A label with its first letter raised."""
    return f"{text[:1].upper()}{text[1:]}"


def room_titles() -> tuple[str, ...]:
    """What the six rooms are called, by number."""
    return (
        say("Flight Line"),
        say("Airframe"),
        say("Findings"),
        say("Field Day"),
        say("Stores"),
        say("Refit"),
    )


def page_titles() -> tuple[str, ...]:
    """What the pages of the rooms are called, by number."""
    return (
        say("Flight Line"),
        say("Airframe"),
        say("Findings"),
        say("The day"),
        say("What comes due"),
        say("Packs"),
        say("Spares"),
        say("Types"),
        say("Shopping"),
        say("Ladder"),
        say("Compare"),
        say("Try out"),
        say("Plan and order of work"),
    )
