"""Torque, speed and voltage cells of a keeper's sheet, put together as the ratings of each servo type."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from hangar.base.errors import BadInput
from hangar.base.units import Rating, convert, format_quantity, parse_rating, symbol_of
from hangar.parts import ServoRating
from hangar.parts.fields import specs

SMALL_TORQUE = 20
"""Bare torques from here up count as ounce-force inches, smaller ones as kilogram-force centimetres."""

_ALIKE = 0.25
_SAME = 0.05
Note = Callable[[str, str], None]
"""Takes the text of a cell and a sentence about it."""


@dataclass(slots=True)
class TypeFigures:
    """What the rows of a sheet say about one servo type, by voltage."""

    torque_nm: dict[float, float] = field(default_factory=dict)
    transit_s: dict[float, float] = field(default_factory=dict)
    named_nm: list[float] = field(default_factory=list)
    torque_cell: dict[float, tuple[Note, str]] = field(default_factory=dict)

    def ratings(self, code: str) -> tuple[ServoRating, ...]:
        """The ratings for which both torque and transit time are known."""
        return tuple(
            ServoRating(servo_type=code, rated_v=volts, torque_nm=torque, transit_s=self.transit_s[volts])
            for volts, torque in sorted(self.torque_nm.items())
            if volts in self.transit_s
        )

    def refuse_halves(self) -> None:
        """Refuse the torque cells at voltages for which no row gives a transit time."""
        for volts, (refuse, text) in self.torque_cell.items():
            if volts not in self.transit_s:
                refuse(text, f"has no transit time at {volts:g} V beside it; that rating was left out.")


@dataclass(frozen=True, slots=True)
class Cells:
    """The three cells of one row that make ratings, and where remarks on each of them go."""

    torque: str
    speed: str
    volts: str
    torque_unit: str | None
    speed_unit: str | None
    refuse: dict[str, Note]
    doubt: dict[str, Note]


def named_torques(text: str, unit: str | None) -> list[float]:
    """The torques of a cell that names its unit, in newton metres; none when it does not."""
    try:
        return [_in_nm(rating) for rating in parse_rating(text, "torque", unit)]
    except BadInput:
        return []


def _in_nm(rating: Rating) -> float:
    return convert(rating.value, rating.unit, "N m")


def take_row(figures: TypeFigures, cells: Cells) -> None:
    """Add what one row says to the figures of its servo type, and remark on what is odd."""
    volts = _volts(cells)
    torques = _torques(figures, cells)
    places = _places(torques, volts, cells)
    for torque, place in zip(torques, places, strict=False):
        if place is not None:
            figures.torque_cell.setdefault(place, (cells.refuse["torque"], cells.torque))
            _keep(figures.torque_nm, place, _in_nm(torque), "N m", (cells.doubt["torque"], cells.torque))
    speeds = _speeds(cells)
    wanted: list[float | None] = [one.volts for one in speeds] if any(one.volts for one in speeds) else []
    at = wanted or [place for place in places if place is not None] or [one.value for one in volts]
    if not speeds:
        return
    if len(speeds) != len(at):
        words = f"number of times {len(speeds)}, of volts {len(at)}; it was left out."
        cells.refuse["speed"](cells.speed, words)
        return
    if not wanted and not volts:
        shown = " / ".join(f"{place:g}" for place in at if place is not None)
        cells.doubt["speed"](cells.speed, f"names no volts; taken at {shown} V as the torque beside it.")
    for speed, place in zip(speeds, at, strict=True):
        if place is not None:
            _keep(figures.transit_s, place, speed.value, "s", (cells.doubt["speed"], cells.speed))


def _volts(cells: Cells) -> list[Rating]:
    return _read(cells.volts, "voltage", "V", "rated_v", cells.refuse["volts"], cells.doubt["volts"])


def _speeds(cells: Cells) -> list[Rating]:
    unit = cells.speed_unit or "s/60deg"
    found = _read(
        cells.speed, "servo speed", unit, "transit_s", cells.refuse["speed"], cells.doubt["speed"], "s/60deg"
    )
    return [Rating(convert(one.value, one.unit, "s/60deg"), "s/60deg", one.volts) for one in found]


def _torques(figures: TypeFigures, cells: Cells) -> list[Rating]:
    unit = cells.torque_unit
    if unit is None and cells.torque and not named_torques(cells.torque, None):
        unit = _unit_by_size(figures, cells)
    return _read(
        cells.torque, "torque", unit, "torque_nm", cells.refuse["torque"], cells.doubt["torque"], "N m"
    )


def _unit_by_size(figures: TypeFigures, cells: Cells) -> str | None:
    """The unit of bare torques: the one that agrees with the type's other cells, else by their size."""
    try:
        first = parse_rating(cells.torque, "torque", "ozf in")[0].value
    except BadInput:
        return None
    for unit in ("ozf in", "kgf cm", "N cm", "N m"):
        value = convert(first, unit, "N m")
        if any(abs(value - other) <= _ALIKE * other for other in figures.named_nm):
            words = f"has no unit; read as {symbol_of(unit)}, which agrees with another cell of this type."
            cells.doubt["torque"](cells.torque, words)
            return unit
    whole = first >= SMALL_TORQUE and (first.is_integer() or first >= 3 * SMALL_TORQUE)
    unit = "ozf in" if whole else "kgf cm"
    cells.doubt["torque"](cells.torque, f"has no unit; read as {symbol_of(unit)} by its size.")
    return unit


def _read(
    text: str, kind: str, unit: str | None, name: str, refuse: Note, doubt: Note, stored: str | None = None
) -> list[Rating]:
    if not text or re.fullmatch(r"[?\-–]+", text):
        if text:
            refuse(text, "is not known; it was left out.")
        return []
    spec = next(spec for spec in specs(ServoRating) if spec.name == name)
    try:
        found = parse_rating(text, kind, unit)
        for rating in found:
            if rating.value <= 0:
                shown = format_quantity(rating.value, rating.unit)
                raise BadInput(f"{spec.label} is {shown}; a number above zero is wanted.")
            spec.check(convert(rating.value, rating.unit, stored) if stored else rating.value)
    except BadInput as fault:
        refuse(text, f"{fault} It was left out.")
        return []
    for words in dict.fromkeys(words for rating in found for words in rating.doubts):
        doubt(text, str(words))
    return found


def _places(torques: list[Rating], volts: list[Rating], cells: Cells) -> list[float | None]:
    """The voltage of each torque: its own, else the one that stands at the same place in the volts cell."""
    column = [one.value for one in volts]
    own = [one.volts for one in torques]
    if all(place is not None for place in own):
        if column and own and column != own:
            said = " / ".join(f"{place:g}" for place in own if place is not None)
            cells.doubt["volts"](cells.volts, f"differs from the torque cell; {said} V was taken.")
        return own
    if len(column) == len(torques):
        return [place if place is not None else column[at] for at, place in enumerate(own)]
    if torques:
        words = "names no volts" if not column else f"number of values {len(torques)}, of volts {len(column)}"
        cells.refuse["torque"](cells.torque, f"{words}; it was left out.")
    return [None] * len(torques)


def _keep(into: dict[float, float], volts: float, value: float, unit: str, cell: tuple[Note, str]) -> None:
    present = into.setdefault(volts, value)
    if abs(present - value) > _SAME * present:
        shown = format_quantity(present, unit)
        cell[0](cell[1], f"differs from the {shown} at {volts:g} V of an earlier row, which was kept.")


def differences(code: str, known: Iterable[ServoRating], figures: TypeFigures, note: Note) -> None:
    """Remark where a sheet's torques differ from those of a type that the fleet has."""
    for rating in known:
        here = figures.torque_nm.get(rating.rated_v)
        if here is not None and abs(here - rating.torque_nm) > 2 * _SAME * rating.torque_nm:
            shown = format_quantity(here, "N m"), format_quantity(rating.torque_nm, "N m")
            words = f"gives {shown[0]} at {rating.rated_v:g} V; the fleet's {shown[1]} was kept."
            note(code, words)
