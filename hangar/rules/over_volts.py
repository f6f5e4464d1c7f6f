"""How a supply stands to the highest volts of a part."""

from __future__ import annotations

from enum import Enum

from hangar.parts import ServoFit
from hangar.parts.choices import MaxMeans
from hangar.rules.case import Case
from hangar.rules.supply_volts import PathVolts

_NEARLY = 1e-9


class Verdict(Enum):
    """How a supply stands to the highest volts a part may have."""

    WITHIN = "within"
    OVER = "over"
    FRESH_ONLY = "over only fresh off charge"
    FIVE_CELL = "over if the rating is absolute, within if it names a nickel pack"
    MEANING = "over or not, by what the rating means"


def verdict(volts: PathVolts, max_v: float, means: MaxMeans, fresh_factor: float) -> Verdict:
    """How the volts of a power path stand to a maker's highest volts."""
    top = volts.bus_max_v
    if top is None or top <= max_v + _NEARLY:
        return Verdict.WITHIN
    if volts.regulated:
        return Verdict.OVER
    nominal, rested = volts.nominal_v or top, volts.rested_v or top
    if means is MaxMeans.ABSOLUTE:
        over = rested > max_v + _NEARLY or top > fresh_factor * max_v
        return Verdict.OVER if over else Verdict.FRESH_ONLY
    if nominal > max_v + _NEARLY:
        return Verdict.OVER
    if means is MaxMeans.NOMINAL:
        return Verdict.WITHIN
    nickel = all(fed.pack_type.chemistry.is_nickel for fed in volts.path.packs)
    return Verdict.FIVE_CELL if nickel else Verdict.MEANING


def worst_path(case: Case) -> PathVolts | None:
    """The power path of the radio that puts most volts on the bus."""
    known = [path for path in case.radio if path.bus_max_v is not None]
    return max(known, key=lambda path: path.bus_max_v or 0.0, default=None)


def made_year(fit: ServoFit) -> int | None:
    """The year a servo was made, else the last in which its type was."""
    if fit.servo is not None and fit.servo.made_year is not None:
        return fit.servo.made_year
    return fit.servo_type.made_until_year if fit.servo_type else None
