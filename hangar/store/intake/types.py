"""Which names mean the same servo type, who made it, and what it gives by all that is said of it."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache

from hangar.base.text import text
from hangar.store.intake.account import About, Account
from hangar.store.intake.facts import Facts, SheetRating, TypeName
from hangar.store.intake.vocabulary import folded, lexicon, squeezed, units_of

_TORQUE_LOW_NM, _TORQUE_HIGH_NM = 0.01, 30.0
_APART = 0.1
"""Two torques of one type at one voltage that differ by more than this share are asked about."""


@dataclass(slots=True)
class SheetType:
    """One servo type with all that the sheet tells of it."""

    code: str
    maker: str
    drive: str = ""
    pulse_us: float | None = None
    ratings: dict[float, SheetRating] = field(default_factory=dict)
    torque_nm: dict[float, float] = field(default_factory=dict)
    names: list[TypeName] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _TypeParts:
    maker: str
    model: str


def settle_types(facts: Facts, account: Account, known: Mapping[str, str]) -> dict[str, SheetType]:
    """The types by their keys; each name of the facts gets the key of its type.

    ``known`` are the types of the fleet: their makers by squeezed model.
    """
    parted = _parted(facts.names, known)
    makers: dict[str, Counter[str]] = defaultdict(Counter)
    for name, parts in zip(facts.names, parted, strict=True):
        name.key = squeezed(parts.model)
        if parts.maker:
            makers[name.key][folded(parts.maker)] += 1
    spelled: dict[str, Counter[str]] = defaultdict(Counter)
    maker_spelled: dict[str, Counter[str]] = defaultdict(Counter)
    types: dict[str, SheetType] = {}
    for name, parts in zip(facts.names, parted, strict=True):
        makers_of = makers[name.key]
        if len(makers_of) > 1 and parts.maker:
            # The same model of two makers is two types.
            name.key = f"{name.key}|{folded(parts.maker)}"
        spelled[name.key][parts.model] += 1
        if parts.maker:
            maker_spelled[name.key][parts.maker] += 1
        elif name.key in makers and makers_of:
            maker_spelled[name.key][""] += 0
        types.setdefault(name.key, SheetType("", "")).names.append(name)
    for key, made in types.items():
        made.code = _commonest(spelled[key])
        spellings = Counter({word: count for word, count in maker_spelled[key].items() if word})
        made.maker = _commonest(spellings) if spellings else known.get(key, "")
    _join_split(types)
    _take_drives(facts, account, types)
    return types


def _join_split(types: dict[str, SheetType]) -> None:
    codes: set[str] = set()
    for made in types.values():
        if squeezed(made.code) in codes:
            made.code = f"{made.maker} {made.code}".strip()
        codes.add(squeezed(made.code))


def _commonest(words: Counter[str]) -> str:
    # Of spellings as common as each other the first stands, capitals before small letters.
    return (
        max(words, key=lambda word: (words[word], word != word.lower(), word != word.upper()))
        if words
        else ""
    )


def _parted(names: Iterable[TypeName], known: Mapping[str, str]) -> list[_TypeParts]:
    """Each name as maker and model; makers are learned from the names themselves."""
    every = list(names)
    whole = {squeezed(name.text) for name in every}
    heads: dict[str, set[str]] = defaultdict(set)
    for name in every:
        head, rest = _head_and_rest(name.text)
        if head and rest:
            heads[folded(head)].add(squeezed(rest))
        if name.maker:
            heads[folded(name.maker)] |= {"given", "as a maker"}
    makers = {head for head, models in heads.items() if len(models) > 1 or models & whole or len(head) >= 3}
    makers |= {folded(name) for name in known.values() if name}
    return [_part(name, makers - _generic()) for name in every]


def _head_and_rest(text: str) -> tuple[str, str]:
    """The words before the first one with a figure, if they look like the name of a maker.

    Short words and such as "mini" right before the figure belong to the type.
    """
    words = text.split()
    at = next((number for number, word in enumerate(words) if any(sign.isdigit() for sign in word)), 0)
    while at and (
        len(words[at - 1].strip(".,")) <= 3 - (at == 1 and not words[0].isupper())
        or folded(words[at - 1]) in _generic()
    ):
        at -= 1
    return (" ".join(words[:at]), " ".join(words[at:])) if at else ("", text)


@cache
def _generic() -> frozenset[str]:
    whole = lexicon("words").whole
    return frozenset(
        words[0] for words, meanings in whole.items() if "generic" in meanings and len(words) == 1
    )


def _part(name: TypeName, makers: set[str]) -> _TypeParts:
    text = re.sub(r"\s+", " ", name.text).strip()
    if name.maker:
        bare = re.sub(rf"^{re.escape(name.maker)}\s+", "", text, flags=re.IGNORECASE)
        return _TypeParts(name.maker.strip(), bare)
    bracket = re.search(r"[(\[]([^)\]]+)[)\]]\s*$", text)
    if bracket and (folded(bracket[1]) in makers or not any(sign.isdigit() for sign in bracket[1])):
        return _TypeParts(bracket[1].strip(), text[: bracket.start()].strip())
    head, rest = _head_and_rest(text)
    if head and folded(head) in makers:
        return _TypeParts(head, rest)
    words = text.split()
    for count in (2, 1):
        first = " ".join(words[:count])
        if len(words) > count and folded(first) in makers:
            return _TypeParts(first, " ".join(words[count:]))
        last = " ".join(words[-count:])
        if len(words) > count and folded(last) in makers:
            return _TypeParts(last, " ".join(words[:-count]))
    return _TypeParts("", text)


def _take_drives(facts: Facts, account: Account, types: Mapping[str, SheetType]) -> None:
    drives: dict[str, Counter[str]] = defaultdict(Counter)
    for name, drive, _ in facts.drives:
        drives[name.key][drive] += 1
    for key, counts in drives.items():
        if len(counts) == 1:
            types[key].drive = next(iter(counts))
    for name, _, cell in facts.drives:
        if len(drives[name.key]) > 1:
            account.doubt(
                cell,
                About.DRIVE,
                text("{servo_type} is said to be analog and digital", servo_type=types[name.key].code),
            )
    for name, pulse, _ in facts.pulses:
        if 600 <= pulse <= 2200:
            types[name.key].pulse_us = pulse


def settle_ratings(
    facts: Facts, account: Account, types: Mapping[str, SheetType], known: Mapping[tuple[str, float], float]
) -> None:
    """Put the ratings of each type together; what contradicts itself or lacks a unit is asked about.

    ``known`` are stall torques in N·m of the fleet by squeezed type and volts.
    """
    _find_units(facts, known)
    bare = [rated for rated in facts.ratings if rated.torque is not None and rated.torque_unit is None]
    symbols = tuple(dict.fromkeys(unit.symbol for unit in units_of("torque").values()))
    for rated in bare:
        account.doubt(
            rated.torque_cell,
            About.UNIT,
            text("is a torque without a unit"),
            symbols,
            key=f"torque in column {rated.column}",
        )
    by_place: dict[tuple[str, float], list[SheetRating]] = defaultdict(list)
    for rated in facts.ratings:
        if rated.volts is not None:
            by_place[rated.name.key, rated.volts].append(rated)
    for (key, volts), some in sorted(by_place.items()):
        _settle_one(types[key], volts, some, account)


def _find_units(facts: Facts, known: Mapping[tuple[str, float], float]) -> None:
    """A column of bare torques gets the unit in which it says what the same types give elsewhere."""
    speeds = dict(known)
    for rated in facts.ratings:
        if rated.torque is not None and rated.torque_unit and rated.volts is not None:
            speeds.setdefault((rated.name.key, rated.volts), rated.torque * rated.torque_unit[1])
    votes: dict[int, Counter[tuple[str, float]]] = defaultdict(Counter)
    seen: set[tuple[int, str, float]] = set()
    for rated in facts.ratings:
        place = (rated.name.key, rated.volts or 0.0)
        if (
            rated.torque
            and rated.torque_unit is None
            and place in speeds
            and (rated.column, *place) not in seen
        ):
            seen.add((rated.column, *place))
            for unit in set(units_of("torque").values()):
                if abs(rated.torque * unit.factor / speeds[place] - 1) < 0.04:
                    votes[rated.column][unit.symbol, unit.factor] += 1
    for rated in facts.ratings:
        agreed = votes.get(rated.column)
        if rated.torque is not None and rated.torque_unit is None and agreed:
            (best, count), *others = agreed.most_common(2)
            if count >= 2 or not others:
                rated.torque_unit = best


def _settle_one(made: SheetType, volts: float, some: list[SheetRating], account: Account) -> None:
    torques: dict[float, list[SheetRating]] = defaultdict(list)
    for rated in some:
        if rated.torque is not None and rated.torque_unit is not None:
            value = round(rated.torque * rated.torque_unit[1], 6)
            if _TORQUE_LOW_NM <= value <= _TORQUE_HIGH_NM:
                torques[value].append(rated)
            else:
                account.doubt(rated.torque_cell, About.RATING, text("is no torque of a servo"))
    times: dict[float, list[SheetRating]] = defaultdict(list)
    for rated in some:
        if rated.transit_s is not None:
            times[rated.transit_s].append(rated)
    first = some[0]
    kept = SheetRating(
        first.name, volts, transit_s=_agreed(times, made, account, "speed"),
        torque_cell=first.torque_cell, speed_cell=first.speed_cell, volts_cell=first.volts_cell,
    )  # fmt: skip
    torque = _agreed(torques, made, account, "torque")
    if torque is not None:
        made.torque_nm[volts] = torque
    if torque is not None or kept.transit_s is not None:
        made.ratings[volts] = kept


def _agreed(
    values: Mapping[float, list[SheetRating]], made: SheetType, account: Account, what: str
) -> float | None:
    if not values:
        return None
    best = max(values, key=lambda number: (len(values[number]), -number))
    for value, some in values.items():
        if abs(value / best - 1) > _APART:
            for rated in some:
                cell = rated.torque_cell if what == "torque" else rated.speed_cell
                account.doubt(
                    cell,
                    About.RATING,
                    text("{servo_type} has another torque at these volts elsewhere", servo_type=made.code)
                    if what == "torque"
                    else text(
                        "{servo_type} has another speed at these volts elsewhere", servo_type=made.code
                    ),
                )
    return best
