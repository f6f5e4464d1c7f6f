"""Torque, speed and voltage cells of a keeper's sheet, put together as the ratings of each servo type."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from hangar.base.errors import BadInput, words_of
from hangar.base.text import Amount, Text, fixed, text
from hangar.base.units import Rating, convert, parse_rating, symbol_of
from hangar.parts import ServoRating
from hangar.parts.fields import specs

SMALL_TORQUE = 20
"""Bare torques from here up count as ounce-force inches, smaller ones as kilogram-force centimetres."""

_ALIKE = 0.25
_SAME = 0.05
Note = Callable[[str, Text], None]
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
        for volts, (refuse, cell) in self.torque_cell.items():
            if volts not in self.transit_s:
                refuse(
                    cell,
                    text(
                        "has no transit time at {volts:g} V beside it; that rating was left out.", volts=volts
                    ),
                )


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


def named_torques(cell: str, unit: str | None) -> list[float]:
    """The torques of a cell that names its unit, in newton metres; none when it does not."""
    try:
        return [_in_nm(rating) for rating in parse_rating(cell, "torque", unit)]
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
        words = text(
            "number of times {count}, of volts {of}; it was left out.",
            count=len(speeds),
            of=len(at),
        )
        cells.refuse["speed"](cells.speed, words)
        return
    if not wanted and not volts:
        shown = " / ".join(f"{place:g}" for place in at if place is not None)
        cells.doubt["speed"](
            cells.speed, text("names no volts; taken at {volts} V as the torque beside it.", volts=shown)
        )
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
            words = text(
                "has no unit; read as {unit}, which agrees with another cell of this type.",
                unit=symbol_of(unit),
            )
            cells.doubt["torque"](cells.torque, words)
            return unit
    whole = first >= SMALL_TORQUE and (first.is_integer() or first >= 3 * SMALL_TORQUE)
    unit = "ozf in" if whole else "kgf cm"
    cells.doubt["torque"](
        cells.torque, text("has no unit; read as {unit} by its size.", unit=symbol_of(unit))
    )
    return unit


def _read(
    cell: str, kind: str, unit: str | None, name: str, refuse: Note, doubt: Note, stored: str | None = None
) -> list[Rating]:
    if not cell or re.fullmatch(r"[?\-–]+", cell):
        if cell:
            refuse(cell, text("is not known; it was left out."))
        return []
    spec = next(spec for spec in specs(ServoRating) if spec.name == name)
    try:
        found = parse_rating(cell, kind, unit)
        for rating in found:
            if rating.value <= 0:
                shown = Amount(rating.value, rating.unit)
                raise BadInput(
                    "{label} is {shown}; a number above zero is wanted.", label=fixed(spec.label), shown=shown
                )
            spec.check(convert(rating.value, rating.unit, stored) if stored else rating.value)
    except BadInput as fault:
        refuse(cell, text("{fault} It was left out.", fault=words_of(fault)))
        return []
    for words in dict.fromkeys(words for rating in found for words in rating.doubts):
        doubt(cell, words)
    return found


def _places(torques: list[Rating], volts: list[Rating], cells: Cells) -> list[float | None]:
    """The voltage of each torque: its own, else the one that stands at the same place in the volts cell."""
    column = [one.value for one in volts]
    own = [one.volts for one in torques]
    if all(place is not None for place in own):
        if column and own and column != own:
            said = " / ".join(f"{place:g}" for place in own if place is not None)
            cells.doubt["volts"](
                cells.volts, text("differs from the torque cell; {volts} V was taken.", volts=said)
            )
        return own
    if len(column) == len(torques):
        return [place if place is not None else column[at] for at, place in enumerate(own)]
    if torques:
        words = (
            text("names no volts; it was left out.")
            if not column
            else text(
                "number of values {count}, of volts {of}; it was left out.",
                count=len(torques),
                of=len(column),
            )
        )
        cells.refuse["torque"](cells.torque, words)
    return [None] * len(torques)


def _keep(into: dict[float, float], volts: float, value: float, unit: str, cell: tuple[Note, str]) -> None:
    present = into.setdefault(volts, value)
    if abs(present - value) > _SAME * present:
        said = text(
            "differs from the {kept} at {volts:g} V of an earlier row, which was kept.",
            kept=Amount(present, unit),
            volts=volts,
        )
        cell[0](cell[1], said)


def differences(code: str, known: Iterable[ServoRating], figures: TypeFigures, note: Note) -> None:
    """Remark where a sheet's torques differ from those of a type that the fleet has."""
    for rating in known:
        here = figures.torque_nm.get(rating.rated_v)
        if here is not None and abs(here - rating.torque_nm) > 2 * _SAME * rating.torque_nm:
            words = text(
                "gives {found} at {rated_v:g} V; the fleet's {kept} was kept.",
                found=Amount(here, "N m"),
                rated_v=rating.rated_v,
                kept=Amount(rating.torque_nm, "N m"),
            )
            note(code, words)
