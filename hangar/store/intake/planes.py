"""What an aircraft is, and what that makes of its functions, sides and channels."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping

from hangar.base.text import text
from hangar.parts.choices import AircraftClass, Function, PowerKind, Side
from hangar.store.intake.account import About, Account, Answer
from hangar.store.intake.facts import Plane, Seat
from hangar.store.intake.vocabulary import lexicon, squeezed

_PETROL_GAS = re.compile(r"\d\s*cc\s+gas\b|\bgas\s+\d+\s*cc|\bgasser\b", re.IGNORECASE)
_ROTOR_ONLY = ("cyclic", "collective", "nick")
_ON_ROTOR = {"roll": "cyclic", "nick": "cyclic", "aileron": "cyclic", "elevator": "cyclic", "rudder": "tail"}
_ON_WINGS = {"roll": "aileron", "nick": "elevator"}
_CLASSES = (
    "jet-edf",
    "sail-scale",
    "sail-thermal",
    "sail-fast",
    "jet-turbine",
    "aerobatic-3d",
    "giant",
    "scale",
    "electric-small",
    "sport",
)
_TEXT_OF_CLASS = 160


def settle_planes(planes: Iterable[Plane], account: Account, given: Mapping[str, str]) -> None:
    """Settle class, functions and sides of every aircraft; what is not said is asked in one question."""
    every = list(planes)
    for plane in every:
        _settle_class(plane, given.get(squeezed(plane.name), ""))
        for seat in plane.seats:
            _settle_function(plane, seat, account)
        _settle_sides(plane, account)
        _tell_shared_channels(plane, account)
        if not plane.aircraft_class or not plane.power:
            lacking = (
                text('drive of "{aircraft}" not said', aircraft=plane.name)
                if plane.aircraft_class
                else text('class of "{aircraft}" not said', aircraft=plane.name)
                if plane.power
                else text('class and drive of "{aircraft}" not said', aircraft=plane.name)
            )
            account.doubt(
                plane.cell,
                About.CLASS,
                lacking,
                tuple(AircraftClass),
            )
    _tell_like_names(every, account)


def _settle_class(plane: Plane, given: str) -> None:
    powers, classes = _hints(plane)
    work = {seat.function for seat in plane.seats}
    gyro = "tail" in work and "gain" in work
    plane.is_helicopter = "heli" in classes or bool(work & set(_ROTOR_ONLY)) or gyro
    plane.power = next(iter(powers)) if len(powers) == 1 else ""
    named = [name for name in _CLASSES if classes[name]]
    if plane.is_helicopter:
        plane.aircraft_class = _OF_ROTOR.get(plane.power, "")
    elif named:
        plane.aircraft_class = named[0]
    if plane.aircraft_class in _ONLY_POWER:
        plane.power = _ONLY_POWER[plane.aircraft_class]
    _take_given(plane, given)


_OF_ROTOR = {"glow": "heli-ic", "petrol": "heli-ic", "electric": "heli-el", "turbine": "heli-turbine"}
_ONLY_POWER = {"jet-turbine": "turbine", "jet-edf": "electric"}


def _hints(plane: Plane) -> tuple[Counter[str], Counter[str]]:
    """What the words of an aircraft say of its drive and its class."""
    texts = [plane.name, *plane.hints]
    powers, classes = Counter[str](), Counter[str]()
    for number, words in enumerate(texts):
        if len(words) > _TEXT_OF_CLASS:
            continue
        classes.update(hit.meaning for hit in lexicon("kinds", "class").find(words))
        if number:
            # A name such as "Methanol Queen" says nothing of the engine.
            powers.update(hit.meaning for hit in lexicon("kinds", "power").find(words))
            if _PETROL_GAS.search(words):
                powers["petrol"] += 1
    powers.update(plane.powers)
    if "electric" in powers and "turbine" in powers:
        del powers["turbine"]
    return powers, classes


def _take_given(plane: Plane, given: str) -> None:
    """A class that the keeper said, with the drive after it perhaps: "sport, glow"."""
    for word in re.split(r"[,;/]\s*|\s{2,}", given):
        if word in {aircraft_class.value for aircraft_class in AircraftClass}:
            plane.aircraft_class = word
            plane.is_helicopter = word.startswith("heli")
        elif word in {power_kind.value for power_kind in PowerKind}:
            plane.power = word


def _settle_function(plane: Plane, seat: Seat, account: Account) -> None:
    if plane.is_helicopter:
        seat.function = _ON_ROTOR.get(seat.function, seat.function)
    else:
        seat.function = _ON_WINGS.get(seat.function, seat.function)
    if seat.function == "tail" and not plane.is_helicopter:
        account.doubt(
            seat.cells.get("function"),
            About.FUNCTION,
            text("is a function of helicopters; which one is meant?"),
        )
    if seat.function not in {function.value for function in Function}:
        seat.function = Function.SPARE.value


_ONE_OF_A_KIND = {
    "throttle", "collective", "choke", "smoke", "tow release", "gain", "mode", "lights", "engine stop",
    "steering", "tail",
}  # fmt: skip


_OF_TWO_SIDES = ("aileron", "v-tail", "flap", "spoiler", "elevator")


def _settle_sides(plane: Plane, account: Account) -> None:
    """A servo that is alone in its work stands in the middle; of several without sides none is known."""
    by_work: dict[str, list[Seat]] = defaultdict(list)
    for seat in plane.seats:
        if seat.removed is None:
            by_work[seat.function].append(seat)
    if account.replies.get(About.CHANNEL) == Answer.LEFT_FIRST:
        for function in _OF_TWO_SIDES:
            _left_first(by_work.get(function, []))
    for seat in plane.seats:
        if seat.side:
            continue
        alone = (
            len(by_work[seat.function]) == 1 or seat.function in _ONE_OF_A_KIND or seat.removed is not None
        )
        if alone and seat.group == 1 and seat.function not in ("cyclic", "v-tail"):
            seat.side = Side.MIDDLE.value
        elif seat.group == 1 and seat.function in ("aileron", "v-tail", "flap", "spoiler"):
            account.doubt(seat.cells.get("function"), About.CHANNEL, text("on which side is each?"))


def _left_first(same: list[Seat]) -> None:
    """Give an even number of servos of one work their sides: the first half is left.

    Servos on one channel are on one side where there are two channels.
    """
    if len(same) % 2 or any(seat.side for seat in same):
        return
    channels = sorted({seat.channel for seat in same if seat.channel is not None})
    for at, seat in enumerate(same):
        is_first = seat.channel == channels[0] if len(channels) == 2 else at < len(same) // 2
        seat.side = (Side.LEFT if is_first else Side.RIGHT).value


def _tell_shared_channels(plane: Plane, account: Account) -> None:
    first: dict[int, Seat] = {}
    for seat in plane.seats:
        if seat.channel is None or seat.removed is not None:
            continue
        other = first.setdefault(seat.channel, seat)
        if other is not seat and other.cells.get("channel") is not seat.cells.get("channel"):
            account.doubt(
                seat.cells.get("channel"),
                About.CHANNEL,
                text("channel {number} is named twice; by a Y lead?", number=seat.channel),
            )


def _tell_like_names(planes: list[Plane], account: Account) -> None:
    """Names that differ in a letter or two are asked about; figures make two aircraft always."""
    from difflib import SequenceMatcher

    groups: dict[tuple[str, str], list[Plane]] = defaultdict(list)
    for plane in planes:
        plain = squeezed(plane.name)
        groups["".join(re.findall(r"\d", plain)), plain[:2]].append(plane)
    for some in groups.values():
        for number, plane in enumerate(some):
            for other in some[number + 1 :][:40]:
                name, two = squeezed(plane.name), squeezed(other.name)
                if abs(len(name) - len(two)) <= 2 and min(len(name), len(two)) >= 5:
                    matcher = SequenceMatcher(None, name, two)
                    if matcher.quick_ratio() >= 0.9 and matcher.ratio() >= 0.9:
                        account.doubt(
                            other.cell,
                            About.NAME,
                            text('is like "{aircraft}"', aircraft=plane.name),
                            (Answer.TWO_AIRCRAFT, Answer.ONE_AIRCRAFT),
                            key=f"{name}/{two}",
                        )
