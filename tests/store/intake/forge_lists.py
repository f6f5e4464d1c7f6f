"""Random pack logs and lists of spares whose truth is known, for they were made from it."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from tests.store.intake.forge import MAKERS, PACKS, Style, _Writer, style

_VOLTS_A_CELL = {"NiMH": 1.3, "NiCd": 1.3, "LiFePO4": 3.3, "Li-ion": 3.9}


@dataclass
class ForgedList:
    """A list with its truth: what, of which tag or model, the value, and the row and column that say it."""

    rows: list[list[str]] = field(default_factory=list)
    facts: list[tuple[str, str, object, int, int]] = field(default_factory=list)


def _style(chance: Random) -> tuple[Style, _Writer]:
    how = style(chance)
    return how, _Writer(chance, how)


def _day(chance: Random) -> str:
    """A day of which it can be told which figure is the day, whatever the order."""
    return f"{chance.randint(2012, 2025)}-{chance.randint(1, 12):02}-{chance.randint(13, 28):02}"


def forged_log(chance: Random) -> tuple[Style, ForgedList]:
    """The packs of a keeper with their tests; tag and pack perhaps in the first row of each only."""
    how, write = _style(chance)
    made, words = ForgedList(), write.words
    roles = ["tag", "pack", "bought", "tested", "load", "rest", "loaded"]
    if how.title:
        made.rows += [[words.title], []]
    made.rows.append([chance.choice(words.heads[role]) for role in roles])
    for number in range(chance.randint(3, 8)):
        chemistry, series, mah = chance.choice([one for one in PACKS if one is not None])
        tag, bought = f"P{number + 1}", _day(chance)
        short = {"LiFePO4": "LiFe", "Li-ion": "Li-Ion"}.get(chemistry, chemistry)
        days = sorted({_day(chance) for _ in range(chance.randint(1, 3))})
        for at, day in enumerate(days):
            rest = round(series * (_VOLTS_A_CELL[chemistry] + chance.uniform(-0.05, 0.05)), 2)
            loaded, load = round(rest - chance.uniform(0.1, 0.5), 2), chance.choice((1.0, 2.0, 5.0))
            repeats = not (how.carries and at)
            made.rows.append(
                [
                    tag if repeats else "", f"{short} {series}S {mah}" if repeats else "",
                    write.day(bought) if repeats else "", write.day(day), write.number(load, 1),
                    write.number(rest, 2), write.number(loaded, 2),
                ]
            )  # fmt: skip
            row = len(made.rows)
            if not at:
                made.facts.append(("pack", tag, (chemistry, series, float(mah)), row, 2))
                made.facts.append(("bought", tag, bought, row, 3))
            made.facts.append(("test", tag, (day, (load, rest, loaded)), row, 6))
    return how, made


def forged_stock(chance: Random) -> tuple[Style, ForgedList]:
    """A list of spare servos: how many of each type, and where they lie."""
    how, write = _style(chance)
    made, words = ForgedList(), write.words
    roles = ["servo", "count", "place"]
    if how.title:
        made.rows += [[words.title], []]
    made.rows.append([chance.choice(words.heads[role]) for role in roles])
    for number in range(chance.randint(3, 9)):
        maker = chance.choice(MAKERS)
        model, count = f"{maker[:2].upper()}-{(number + 11) * 10}", chance.randint(2, 12)
        place = f"{chance.choice('ABC')}{chance.randint(1, 9)}"
        made.rows.append([f"{maker} {model}", str(count), place])
        made.facts.append(("spares", model, (count, place), len(made.rows), 1))
    return how, made
