"""What an aircraft of a class and a layout consists of, before anybody enters it: a draft to correct.

The layouts lie in ``resources/layouts.toml``. They say which places for servos, channels and surfaces there
are; what they do not say stays not known.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.outlines import load_outline, outline_for
from hangar.base.places import resources_dir
from hangar.base.text import ItemList, Text, fixed, listed, text
from hangar.parts.choices import (
    AircraftClass,
    FeedRole,
    Function,
    LinkageKind,
    PowerKind,
    Side,
    SurfaceKind,
    Swash,
)

Answers = Mapping[str, Sequence[str]]
"""The options chosen, by the question they answer."""

ONLY_POWER = {
    AircraftClass.HELI_EL: PowerKind.ELECTRIC,
    AircraftClass.HELI_TURBINE: PowerKind.TURBINE,
    AircraftClass.JET_TURBINE: PowerKind.TURBINE,
    AircraftClass.JET_EDF: PowerKind.ELECTRIC,
    AircraftClass.ELECTRIC_SMALL: PowerKind.ELECTRIC,
}
"""What drives the classes whose name says it; the power of any other must be chosen."""

_DRIVES = {
    AircraftClass.HELI_IC: (PowerKind.GLOW, PowerKind.PETROL),
    **dict.fromkeys(
        (AircraftClass.SAIL_FAST, AircraftClass.SAIL_THERMAL, AircraftClass.SAIL_SCALE),
        (PowerKind.NONE, PowerKind.TOW, PowerKind.ELECTRIC),
    ),
}
_USUAL_DRIVES = (PowerKind.GLOW, PowerKind.PETROL, PowerKind.ELECTRIC)

DRIVE, SUPPLY = "drive", "supply"
GYRO, UNIT = "GYRO", "FBL"


@dataclass(frozen=True)
class KitPlace:
    """One place of a layout: a servo position, or a channel without a servo.

    ``through`` is the gyro it runs through, ``surface`` the code of what it moves, ``at`` its place on the
    drawing as fractions.
    """

    code: str
    name: Text
    function: Function
    side: Side
    channel: int | None
    is_bare: bool = False
    through: str | None = None
    linkage: LinkageKind | None = None
    surface: str | None = None
    carried: SurfaceKind = SurfaceKind.FLAPPED
    at: tuple[float, float] | None = None


@dataclass(frozen=True)
class KitOption:
    """One answer to a question."""

    key: str
    title: Text
    places: tuple[KitPlace, ...] = ()
    sets: Mapping[str, Any] | None = None


@dataclass(frozen=True)
class KitQuestion:
    """What is asked about a layout; ``many`` takes several answers or none."""

    ask: str
    title: Text
    options: tuple[KitOption, ...]
    many: bool = False


@dataclass(frozen=True)
class Kit:
    """A draft: what will be entered, to be corrected before.

    ``power`` None is not known. ``rotor`` holds what is said of the main rotor, None where there is none.
    """

    aircraft_class: AircraftClass
    power: PowerKind | None
    wing_count: int
    places: tuple[KitPlace, ...]
    paths: tuple[str, ...]
    role: FeedRole
    gyros: tuple[str, ...] = ()
    rotor: Mapping[str, Any] | None = None
    has_tail_rotor: bool = False
    span_mm: float | None = None
    all_up_mass_g: float | None = None

    @property
    def positions(self) -> tuple[KitPlace, ...]:
        """The places that want a servo."""
        return tuple(place for place in self.places if not place.is_bare)

    @property
    def surfaces(self) -> dict[str, KitPlace]:
        """One place for each surface, by the surface's code."""
        return {place.surface: place for place in reversed(self.positions) if place.surface}

    @property
    def outline(self) -> str:
        """The name of its drawing."""
        v_tail = any(place.function is Function.V_TAIL for place in self.places)
        return outline_for(self.aircraft_class, self.wing_count, v_tail)

    def place_on_drawing(self, place: KitPlace) -> tuple[float, float]:
        """Where a place is drawn: as corrected or said, else where its function usually lies."""
        return place.at or load_outline(self.outline).place_for(place.function, place.side)

    def corrected(self, code: str, **changes: Any) -> Kit:
        """The same with one place changed: its channel, or where it is drawn.

        Raises: BadInput for a channel that is none, or that another place has.
        """
        if changes.get("channel") is not None:
            _check_channel(self.places, code, changes["channel"])
        return replace(
            self,
            places=tuple(replace(place, **changes) if place.code == code else place for place in self.places),
        )


def _check_channel(places: Iterable[KitPlace], code: str, channel: int) -> None:
    if not 1 <= channel <= 32:
        raise BadInput("Channel {channel} is none; allowed is 1 to 32.", channel=channel)
    other = next((place.code for place in places if place.channel == channel and place.code != code), None)
    if other is not None:
        raise BadInput(
            "Channel {channel} is that of {other}; choose a free one or change that first.",
            channel=channel,
            other=other,
        )


def drives_of(aircraft_class: AircraftClass) -> tuple[PowerKind, ...]:
    """What may drive a class; one where its name says it."""
    only = ONLY_POWER.get(aircraft_class)
    return (only,) if only else _DRIVES.get(aircraft_class, _USUAL_DRIVES)


def questions_of(aircraft_class: AircraftClass) -> tuple[KitQuestion, ...]:
    """What is asked of a class: its layout, what drives it where that is open, its supply."""
    asked = list(_family(aircraft_class)["question"])
    questions = [_question(held) for held in asked]
    drives = drives_of(aircraft_class)
    if len(drives) > 1:
        options = tuple(_drive(power) for power in drives)
        questions.append(KitQuestion(DRIVE, text("Drive"), options))
    questions.append(
        KitQuestion(
            SUPPLY,
            text("Supply"),
            tuple(KitOption(held["key"], fixed(held["title"])) for held in _layouts()[SUPPLY]),
        )
    )
    return tuple(questions)


def usual_answers(aircraft_class: AircraftClass) -> dict[str, tuple[str, ...]]:
    """What is taken of a question that nobody answered: the first option, of several-answer questions none.

    What drives it is not made up.
    """
    return {
        question.ask: () if question.many or question.ask == DRIVE else (question.options[0].key,)
        for question in questions_of(aircraft_class)
    }


def make_kit(aircraft_class: AircraftClass, answers: Answers) -> Kit:
    """The draft of a class and the answers to its questions; what was not answered is taken as usual.

    Raises: BadInput for a question or an answer that there is not.
    """
    questions = {question.ask: question for question in questions_of(aircraft_class)}
    for ask in answers:
        if ask not in questions:
            raise BadInput(
                '"{ask}" is not asked of this class; its questions are {known}.',
                ask=ask,
                known=listed(questions, joint=",", most=0),
            )
    whole = {**usual_answers(aircraft_class), **answers}
    chosen = [_option(questions[ask], key) for ask, keys in whole.items() for key in keys]
    sets: dict[str, Any] = {}
    for option in chosen:
        sets |= option.sets or {}
    power = _power(aircraft_class, whole)
    places = [place for option in chosen for place in option.places]
    if power is not None and DRIVE not in questions:
        places += _drive(power).places
    supply = next(held for held in _layouts()[SUPPLY] if held["key"] in whole[SUPPLY])
    is_helicopter = aircraft_class.is_helicopter
    return Kit(
        aircraft_class=aircraft_class,
        power=power,
        wing_count=sets.get("wings", _family(aircraft_class)["wings"]),
        places=_numbered(_through_gyro(places, sets)),
        paths=tuple(supply["paths"]),
        role=FeedRole(supply.get("role", FeedRole.RECEIVER)),
        gyros=_gyros(sets),
        rotor={
            "flybar": sets.get("flybar"),
            "swash": Swash(sets["swash"]) if "swash" in sets else None,
            "blades": sets.get("blades"),
        }
        if is_helicopter
        else None,
        has_tail_rotor=bool(sets.get("tail_rotor")),
    )


def _gyros(sets: Mapping[str, Any]) -> tuple[str, ...]:
    if sets.get("unit"):
        return (UNIT,)
    return (GYRO,) if sets.get("gyro") else ()


def _through_gyro(places: Iterable[KitPlace], sets: Mapping[str, Any]) -> list[KitPlace]:
    """A head without a flybar has its cyclic servos and its tail on one unit."""
    if not sets.get("unit"):
        return list(places)
    on_unit = (Function.CYCLIC, Function.COLLECTIVE)
    return [
        replace(place, through=UNIT)
        if not place.is_bare and (place.through or place.function in on_unit)
        else place
        for place in places
    ]


def _numbered(places: Iterable[KitPlace]) -> tuple[KitPlace, ...]:
    """Each place on a channel of its own: the one that its layout says, or the next that is free."""
    taken: set[int] = set()
    made = []
    for place in places:
        channel = place.channel
        if channel in taken:
            channel = next(number for number in range(1, 33) if number not in taken)
        if channel is not None:
            taken.add(channel)
        made.append(replace(place, channel=channel))
    return tuple(made)


def _power(aircraft_class: AircraftClass, answers: Answers) -> PowerKind | None:
    drives = drives_of(aircraft_class)
    if len(drives) == 1:
        return drives[0]
    given = answers.get(DRIVE, ())
    return PowerKind(given[0]) if given else None


def _option(question: KitQuestion, key: str) -> KitOption:
    chosen = next((option for option in question.options if option.key == key), None)
    if chosen is None:
        raise BadInput(
            '{question}: there is no "{key}"; allowed is {known}.',
            question=question.title,
            key=key,
            known=listed((option.key for option in question.options), joint=",", most=0),
        )
    return chosen


def _question(held: Mapping[str, Any]) -> KitQuestion:
    options = tuple(
        KitOption(
            option["key"],
            fixed(option["title"]),
            tuple(_place(place) for place in option.get("places", ())),
            option.get("sets"),
        )
        for option in held["options"]
    )
    return KitQuestion(held["ask"], fixed(held["title"]), options, bool(held.get("many")))


def _drive(power: PowerKind) -> KitOption:
    held = next(held for held in _layouts()[DRIVE] if held["key"] == power)
    places = tuple(_place(place) for place in held.get("places", ()))
    return KitOption(held["key"], fixed(held["title"]), places)


def _place(held: Mapping[str, Any]) -> KitPlace:
    function = Function(held["does"])
    is_bare = bool(held.get("bare"))
    surface = held.get("surface", held["code"]) if function.is_surface and not is_bare else None
    linkage = None if is_bare else LinkageKind(held.get("link", LinkageKind.PUSHROD))
    at = held.get("at")
    return KitPlace(
        code=held["code"],
        name=fixed(held["name"]),
        function=function,
        side=Side(held.get("side", Side.MIDDLE)),
        channel=held.get("ch"),
        is_bare=is_bare,
        through=GYRO if held.get("gyro") else None,
        linkage=linkage,
        surface=surface,
        carried=SurfaceKind(held.get("carried", SurfaceKind.FLAPPED)),
        at=(at[0], at[1]) if at else None,
    )


@cache
def _layouts() -> dict[str, Any]:
    return tomllib.loads((resources_dir() / "layouts.toml").read_text("utf-8"))


@cache
def _family(aircraft_class: AircraftClass) -> dict[str, Any]:
    for name, held in _layouts().items():
        if name not in (DRIVE, SUPPLY) and aircraft_class in held["classes"]:
            return dict(held)
    raise BadInput(
        "There is no layout for {kind}; there are those for {known}.",
        kind=aircraft_class,
        known=ItemList(tuple(_layouts()), ","),
    )


def code_for(name: str, taken: Iterable[str]) -> str:
    """A code for a name that no other aircraft has, to be proposed.

    >>> code_for("Merlane 61", ["MER60"])
    'MERL61'
    """
    letters = "".join(sign for sign in name.upper() if sign.isascii() and sign.isalpha())
    digits = "".join(sign for sign in name if sign.isascii() and sign.isdigit())[-2:]
    stem = (letters[: 6 - len(digits) if digits else 4] or "A")[:4]
    code = f"{stem}{digits}"
    code = code if len(code) > 1 else f"{code}1"
    used, number = set(taken), 1
    while code in used:
        number += 1
        code = f"{stem[: 6 - len(str(number))]}{number}"
    return code
