"""Words the keeper reads for closed lists, levels and counts; every one can be translated."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from PySide6.QtCore import QCoreApplication

from hangar.parts.choices import AircraftClass, Criticality, FeedRole
from hangar.rules.finding import Level

_CLASS: dict[StrEnum, str] = {
    AircraftClass.HELI_IC: "Helicopter, piston engine",
    AircraftClass.HELI_EL: "Helicopter, electric",
    AircraftClass.HELI_TURBINE: "Helicopter, turbine",
    AircraftClass.SPORT: "Sport aeroplane",
    AircraftClass.AEROBATIC_3D: "3D aerobatic aeroplane",
    AircraftClass.GIANT: "Giant-scale aeroplane",
    AircraftClass.SCALE: "Scale aeroplane",
    AircraftClass.SAIL_FAST: "Fast sailplane",
    AircraftClass.SAIL_THERMAL: "Thermal sailplane",
    AircraftClass.SAIL_SCALE: "Scale sailplane",
    AircraftClass.JET_TURBINE: "Turbine jet",
    AircraftClass.JET_EDF: "Ducted-fan jet",
    AircraftClass.ELECTRIC_SMALL: "Small electric",
}
_LEVEL = {
    Level.WARNING: ("Warning", "warning", "warnings"),
    Level.CAUTION: ("Caution", "caution", "cautions"),
    Level.ADVISORY: ("Advisory", "advisory", "advisories"),
    Level.CANT_TELL: ("Can't tell", "can't tell", "can't tell"),
}
_SPECIAL: dict[StrEnum, str] = {
    **_CLASS,
    FeedRole.RECEIVER: "Receiver and servos",
    Criticality.FLIGHT: "Needed to fly",
    Criticality.SAFETY: "Safety",
    Criticality.COMFORT: "Comfort",
}


def say(text: str) -> str:
    """A fixed text in the language of the program."""
    return QCoreApplication.translate("words", text)


def word_of(choice: StrEnum) -> str:
    """One word of a closed list as shown on screen.

    >>> word_of(AircraftClass.SPORT)
    'Sport aeroplane'
    """
    plain = _SPECIAL.get(choice) or f"{choice.value[:1].upper()}{choice.value[1:]}"
    return say(plain)


def level_word(level: Level) -> str:
    """The word of a level: Warning, Caution, Advisory, Can't tell."""
    return say(_LEVEL[level][0])


def level_count(level: Level, count: int) -> str:
    """A number of findings of one level in words.

    >>> level_count(Level.CAUTION, 2)
    '2 cautions'
    """
    return f"{count} {say(_LEVEL[level][1 if count == 1 else 2])}"


def yes_no(value: bool | None) -> str:
    """Yes, no or not known."""
    return say("not known") if value is None else say("yes") if value else say("no")


def day(value: date | None) -> str:
    """A date as written everywhere in the program."""
    return value.isoformat() if value else say("never")


def sentence_case(text: str) -> str:
    """A label with its first letter raised."""
    return f"{text[:1].upper()}{text[1:]}"
