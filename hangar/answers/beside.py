"""A reading beside what was predicted of it: one row, with its word and what to look for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

from hangar.answers.predicted import Fits, fits
from hangar.base.figure import Band, Figure
from hangar.base.text import Amount, Text, fixed, text
from hangar.parts import Airframe, Record, Rotor
from hangar.physics.estimating import Z90
from hangar.rules.look_for import look_for
from hangar.survey.reading_kinds import ReadingKind, reading_kind

NOTHING_BESIDE_LN_SD = 0.7
"""A prediction less sure than this is none: there is nothing to hold a reading against."""


@dataclass(frozen=True)
class Beside:
    """One reading beside what everything else predicts of it.

    Attributes:
        record: the record that holds it.
        field: the record's field, or what the reading is called where the record has it under none.
        read_on: when it was read.
        about: tag of the part or code of the position; empty for the whole aircraft.
        name: what was read.
        unit: of all three numbers.
        measured: the reading.
        predicted: the 90 % band; None where there is nothing to hold it against.
        z: how far off it is in standard deviations of both; None as above.
        kind: under which the look-for list has it.
        is_aside: whether it was set aside and counts no more.
        lapsed: why it counts no more; None while it does.
        figure: what the readings of this kind say together, with its working; None where they are only
            compared.
        is_least: whether the prediction is of the least it may be: any reading above it fits.
    """

    record: Record
    field: str
    read_on: date
    about: str
    name: Text
    unit: str
    measured: float
    predicted: Band | None
    z: float | None
    kind: str = ""
    is_aside: bool = False
    lapsed: Text | None = None
    figure: Figure | None = None
    is_least: bool = False

    @property
    def word(self) -> Fits | None:
        """The plain word; None where there is nothing to hold it against."""
        return None if self.z is None else fits(self.z)

    @property
    def words(self) -> Text:
        """The plain word as it is shown."""
        if self.is_aside:
            return fixed("set aside")
        if self.word is None and self.lapsed is not None:
            return text("counts no more: {why}", why=self.lapsed)
        return fixed("nothing to hold it against") if self.word is None else fixed(self.word.value)

    @property
    def predicted_words(self) -> Text | None:
        """The band that was predicted; None where there is none."""
        if self.predicted is None:
            return None
        low = Amount(self.predicted.low, self.unit, 3)
        if self.is_least:
            return text("{low} or more", low=low)
        return text("{low} to {high}", low=low, high=Amount(self.predicted.design, self.unit, 3))

    @property
    def can_be_set_aside(self) -> bool:
        """Whether it is a record by itself; a field of a part is blanked in the part's form instead."""
        return not isinstance(self.record, Airframe | Rotor)

    @property
    def informs(self) -> ReadingKind | None:
        """What a reading of its kind informs, how and for how long."""
        return reading_kind(self.record.KIND, self.field)

    @property
    def look_for(self) -> Text | None:
        """What to look for where it does not fit."""
        if self.word is not Fits.NOT or self.z is None or self.is_aside:
            return None
        return look_for(self.kind, self.z)


def by_logarithm(measured: float, expected: float, expected_sd: float, own_sd: float) -> tuple[
    Band | None, float | None
]:  # fmt: skip
    """Band and deviations of a positive quantity, errors as standard deviations of its logarithm.

    >>> band, z = by_logarithm(1.2, 1.0, 0.1, 0.05)
    >>> round(band.low, 2), round(band.design, 2), round(z, 1)
    (0.83, 1.2, 1.6)
    """
    if not (measured > 0.0 and expected > 0.0) or expected_sd > NOTHING_BESIDE_LN_SD:
        return None, None
    sd = math.hypot(expected_sd, own_sd)
    wide = math.exp(Z90 * sd)
    return Band(expected / wide, expected, expected * wide), math.log(measured / expected) / sd


def by_difference(measured: float, expected: float, expected_sd: float, own_sd: float) -> tuple[Band, float]:
    """Band and deviations of a quantity whose errors add up."""
    sd = math.hypot(expected_sd, own_sd)
    return Band(expected - Z90 * sd, expected, expected + Z90 * sd), (measured - expected) / sd
