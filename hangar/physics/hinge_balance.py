"""What a nose balance (surface ahead of the hinge) takes off a hinge moment, and what may be credited."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from hangar.base.errors import BadInput
from hangar.base.text import fixed
from hangar.physics.chart import Chart, read_chart

OVERBALANCE_FACTOR = 0.2
LEAST_CREDIT = 0.5
_CREDITED_SHARE = 0.5
_UNPORTS_FROM_DEG = 15.0
_UNPORTS_TO_DEG = 20.0
_THIN, _THICK = 0.09, 0.15


class Nose(StrEnum):
    """Shape of the part of the surface ahead of the hinge."""

    ROUND = "round"
    ELLIPTIC = "elliptic"
    SHARP = "sharp"


_SHARP: Chart = ((0.0, 1.0), (0.185, 1.0), (0.50, 0.5))
_CHARTS: dict[Nose, tuple[Chart, Chart]] = {
    Nose.ROUND: (
        ((0.0, 1.0), (0.175, 0.74), (0.30, 0.31), (0.40, -0.10), (0.46, -0.30)),
        ((0.0, 1.0), (0.175, 0.78), (0.30, 0.47), (0.40, 0.17), (0.46, 0.0)),
    ),
    Nose.ELLIPTIC: (
        ((0.0, 1.0), (0.185, 0.86), (0.30, 0.66), (0.40, 0.44), (0.50, 0.20)),
        ((0.0, 1.0), (0.185, 0.87), (0.30, 0.70), (0.40, 0.54), (0.50, 0.36)),
    ),
    Nose.SHARP: (_SHARP, _SHARP),
}


@dataclass(frozen=True, slots=True)
class NoseBalance:
    """What a nose balance does to the flap's own slope.

    Attributes:
        factor: the chart's factor on the slope [-]; below zero the air opens the flap.
        credited: the factor a servo may be sized with [-], never below 0.5.
        overbalance_risk: the surface may snatch: a factor under 0.2, or more balance than the charts hold.
    """

    factor: float
    credited: float
    overbalance_risk: bool

    def credited_at(self, deflection_deg: float) -> float:
        """The credited factor at a deflection [deg]: gone by 20 degrees, where the nose unports."""
        return _unported(self.credited, deflection_deg)

    def expected_at(self, deflection_deg: float) -> float:
        """The chart's factor at a deflection [deg], never below 0: what the air opens has no load."""
        return _unported(max(0.0, self.factor), deflection_deg)

    def doubted_at(self, deflection_deg: float) -> float:
        """The factor with half of the chart's relief."""
        return _unported(0.5 + 0.5 * max(0.0, self.factor), deflection_deg)


def _unported(factor: float, deflection_deg: float) -> float:
    gone = (abs(deflection_deg) - _UNPORTS_FROM_DEG) / (_UNPORTS_TO_DEG - _UNPORTS_FROM_DEG)
    return factor + (1.0 - factor) * min(1.0, max(0.0, gone))


NO_BALANCE = NoseBalance(1.0, 1.0, False)


def balance_ratio(nose_over_flap: float, thickness_over_flap: float = 0.0) -> float:
    """Balance ratio of the charts from the length of the nose and the thickness at the hinge.

    Args:
        nose_over_flap: chord ahead of the hinge over chord behind it [-], 0 to 1.
        thickness_over_flap: surface thickness at the hinge over chord behind it [-], 0 to 1.

    Returns:
        Root of the nose's square less half the thickness's square [-]; 0 where the nose is no more
        than the thickness needs.

    Raises:
        BadInput: a ratio outside those bounds.

    Source: definition of USAF Stability and Control DATCOM, 6.1.3.2.

    >>> balance_ratio(0.30, 0.24)
    0.27495
    """
    for name, value in (("Nose", nose_over_flap), ("Hinge thickness", thickness_over_flap)):
        if not 0.0 <= value <= 1.0:
            raise BadInput(
                "{name} over flap chord is {value}; 0 to 1 is allowed.", name=fixed(name), value=value
            )
    return math.sqrt(max(0.0, nose_over_flap**2 - (0.5 * thickness_over_flap) ** 2))


def nose_balance(ratio: float, nose: Nose, *, thickness_ratio: float = 0.12) -> NoseBalance:
    """What a nose balance takes off, and how much of it may be credited to the servo.

    Charts scatter and the nose unports, so at most half of the relief is credited.

    Args:
        ratio: balance ratio as from :func:`balance_ratio` [-], 0 to 1.
        nose: shape of the nose.
        thickness_ratio: section thickness over chord [-]; the charts are for 0.09 and 0.15, and the
            nearer one serves outside them.

    Returns:
        Chart factor, credited factor and overbalance risk.

    Raises:
        BadInput: a ratio outside those bounds.

    Valid for: sealed or small gaps, small deflections, balance along the whole span (not a horn).
    Source: USAF Stability and Control DATCOM, 6.1.3.2, read in a re-keyed form; the credit of one half
        is our judgement.

    >>> nose_balance(0.30, Nose.ELLIPTIC, thickness_ratio=0.09).credited
    0.83
    """
    if not 0.0 <= ratio <= 1.0:
        raise BadInput("Balance ratio is {ratio}; 0 to 1 is allowed.", ratio=ratio)
    if not thickness_ratio > 0.0:
        raise BadInput(
            "Thickness over chord is {thickness_ratio}; it must be above zero.",
            thickness_ratio=thickness_ratio,
        )
    thin, thick = _CHARTS[nose]
    weight = min(1.0, max(0.0, (thickness_ratio - _THIN) / (_THICK - _THIN)))
    factor = (1.0 - weight) * read_chart(thin, ratio) + weight * read_chart(thick, ratio)
    credited = max(LEAST_CREDIT, 1.0 - _CREDITED_SHARE * (1.0 - factor))
    beyond_charts = ratio > thin[-1][0]
    return NoseBalance(factor, credited, factor < OVERBALANCE_FACTOR or beyond_charts)
