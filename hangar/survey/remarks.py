"""What was learned of a surface's load from remarks on speed: values only."""

from __future__ import annotations

import math

from hangar.base.figure import Figure
from hangar.base.values import value_class
from hangar.parts import RemarkOnSpeed

LN_SD = 0.40
"""How far the true load lies from the one worked out, of the logarithm; assumption."""


@value_class
class RemarkVerdict:
    """A remark beside what was expected: how far against it in standard deviations, and whether it waits."""

    remark: RemarkOnSpeed
    z: float
    waits: bool


@value_class
class LearnedLoad:
    """A surface's load by what pilots noticed.

    Attributes:
        predicted_m_s: speed at which it should run out by what is worked out.
        mean, variance: of the logarithm of the load over what is worked out.
        times: what the expected load is multiplied by.
        remarks: each with what became of it.
        figure: the factor with band and working.
    """

    predicted_m_s: float
    mean: float
    variance: float
    times: float
    remarks: tuple[RemarkVerdict, ...]
    figure: Figure

    @property
    def narrowing(self) -> float:
        """How much narrower the band is than before any remark."""
        return math.sqrt(self.variance) / LN_SD
