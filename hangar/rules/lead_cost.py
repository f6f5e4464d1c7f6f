"""What the volts lost in a lead cost: how short control and volts are, where they were less so without."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

from hangar.parts import ServoFit
from hangar.parts.choices import Function
from hangar.rules.case import Case
from hangar.rules.catalogue.torque import judged
from hangar.rules.control_levels import weighing_of
from hangar.rules.finding import Level
from hangar.rules.starved import starved_level
from hangar.survey.servos import rating_of


def lead_cost(case: Case, fit: ServoFit) -> Level | None:
    """The gravest level that a servo's lead brings it to: of its control, or of the volts it gets.

    None where both are enough, or as short without any loss in the lead: then the lead is not to blame.
    """
    gain = torque_without_loss(case, fit)
    volts, drop = case.at(fit).delivered_v, case.at(fit).lead_drop_v
    if gain is None or volts is None or drop is None:
        return None
    if math.isinf(gain):
        return Level.WARNING
    full_v = volts.expected + drop.expected
    costs = (
        _cost(control_level(case, fit), lambda: control_level(case, fit, gain)),
        _cost(starved_level(case, fit, volts.expected), lambda: starved_level(case, fit, full_v)),
    )
    return min((cost for cost in costs if cost is not None), key=lambda level: level.rank, default=None)


def _cost(now: Level | None, without: Callable[[], Level | None]) -> Level | None:
    """A level where it would be milder without the loss."""
    if now is None:
        return None
    other = without()
    return None if other is not None and other.rank <= now.rank else now


def control_level(case: Case, fit: ServoFit, times: float = 1.0) -> Level | None:
    """How grave the want of control is at a position with so many times the torque; None where none is."""
    position = case.at(fit)
    if fit.function in (Function.CYCLIC, Function.COLLECTIVE, Function.TAIL):
        torque, load = position.torque_nm, position.load_nm
        if torque is None or load is None:
            return None
        wanted = case.limit("torque-margin-tail" if fit.function is Function.TAIL else "torque-margin-cyclic")
        verdict = judged(times * torque.expected, load, case.limit("torque-rotor-warn"), wanted)
        return None if verdict is None else verdict[0]
    holding = position.holding
    if holding is None or not position.control:
        return None
    points = position.control
    if times != 1.0:
        loop = dataclasses.replace(holding.loop, stall_torque_nm=times * holding.loop.stall_torque_nm)
        points = holding.points(loop)
    worst = weighing_of(case, holding).worst(points)
    return None if worst is None else worst[0]


def torque_without_loss(case: Case, fit: ServoFit) -> float | None:
    """Torque with no loss in the lead over that at the volts that arrive; None where it is not known.

    Infinite where nothing arrives that the servo could turn with.
    """
    position, kind = case.at(fit), fit.servo_type
    rating = None if kind is None else rating_of(kind)
    volts, drop = position.delivered_v, position.lead_drop_v
    if rating is None or volts is None or drop is None:
        return None
    now_nm = rating.at(volts.expected).stall_torque_nm
    without_nm = rating.at(volts.expected + drop.expected).stall_torque_nm
    return without_nm / now_nm if now_nm > 0.0 else math.inf


def stall_share(case: Case, fit: ServoFit) -> float | None:
    """Stall torque at the end of a lead over that without it; None where it is not known.

    At stall a servo is a resistance, and lead and motor share the volts as two resistances do (Ohm's law);
    torque goes with the current.
    """
    position, kind, bus = case.at(fit), fit.servo_type, case.peak.bus_v
    rating = None if kind is None else rating_of(kind)
    if rating is None or position.lead_ohm is None or bus is None or not bus.expected > 0.0:
        return None
    stall_a = rating.at(bus.expected).stall_current_a.expected
    return 1.0 / (1.0 + position.lead_ohm.expected * stall_a / bus.expected)
