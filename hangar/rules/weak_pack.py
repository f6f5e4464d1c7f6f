"""Whether a healthy pack, a heavier lead or a bus that holds would cure a shortage."""

from __future__ import annotations

from collections.abc import Callable

from hangar.base.text import NOTHING, Amount, Text, text
from hangar.parts import FedPack, ServoFit
from hangar.rules.case import Case

CAUSE = ("dcir-risen",)
LEAD = ("lead-drop",)
BROWN_OUT = ("under-volts-receiver",)
"""What falls below its volts while the bus fails is a consequence of that."""
_MOTOR_LOSS_V = 0.3
"""Volts at which a servo begins to turn: the offset of the straight torque line, common practice."""


def risen_mohm(case: Case, fed: FedPack) -> float:
    """How much the whole pack's measured resistance exceeds that of a new one; 0 when not known."""
    learned = case.learned(fed)
    if not learned.is_measured:
        return 0.0
    return (
        max(0.0, learned.cell_mohm.expected - learned.new_mohm.expected)
        * fed.pack_type.series
        / fed.pack_type.parallel
    )


def most_of_it(case: Case, missing_v: float) -> tuple[str, ...]:
    """The rule that names the cause when new cells would give back at least half of the volts missing."""
    gain = healthy_gain_v(case)
    return CAUSE if gain > 0 and 2.0 * gain >= missing_v else ()


def healthy_gain_v(case: Case) -> float:
    """Volts at peak current that new cells would give back, least over the radio's power paths."""
    gains = []
    for path in case.aircraft.radio_paths:
        current = case.peak.path_a.get(path.feed.code)
        if current is None or path.regulator is not None:
            return 0.0
        gains.append(current.expected * sum(risen_mohm(case, fed) for fed in path.packs) / 1000.0)
    return min(gains, default=0.0)


def cured_by_supply(case: Case, fit: ServoFit, is_enough: Callable[[float], bool]) -> tuple[str, ...]:
    """The rules that name the cause when new cells, or no loss in the lead, would give torque enough.

    Args:
        case: the aircraft.
        fit: the position.
        is_enough: whether so many times the torque that the servo has there would do.
    """
    if case.brown_out is not None:
        return BROWN_OUT
    volts, got = case.peak.bus_v, case.at(fit).delivered_v
    if volts is None or got is None:
        return ()
    now = max(got.expected - _MOTOR_LOSS_V, 0.1)
    by_pack = is_enough((now + healthy_gain_v(case)) / now)
    by_lead = is_enough(max(volts.expected - _MOTOR_LOSS_V, 0.1) / now)
    return (*(CAUSE if by_pack else ()), *(LEAD if by_lead else ()))


def first_the_volts(case: Case, fit: ServoFit) -> Text:
    """What comes before any choice by the volts at a servo; empty where it gets what it works at."""
    volts, least, peak = case.at(fit).delivered_v, case.least_servo_v(fit), case.peak
    if case.brown_out is not None and peak.bus_v is not None:
        return text(
            "First the supply: the bus falls to {volts} at peak current, "
            "and nothing can be chosen by the volts it leaves.",
            volts=Amount(peak.bus_v.expected, "V"),
        )
    if volts is None or least is None or volts.expected >= least - 0.005:
        return NOTHING
    return text(
        "First the volts: it gets {volts} and works from {least}; choose none by the volts it gets now.",
        volts=Amount(volts.expected, "V"),
        least=Amount(least, "V"),
    )
