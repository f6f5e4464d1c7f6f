"""Whether the bus still works in the supply's peak: below what receiver and gyro need nothing else counts."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Text, text
from hangar.base.values import value_class
from hangar.parts import Receiver, Stabiliser
from hangar.survey.model import Scenario, Survey


@value_class
class BrownOut:
    """A bus that does not hold in the supply's peak.

    Attributes:
        bus_v: what it falls to; None where there is no working point at all.
        device: the receiver or gyro that needs the most volts; None where only the collapse is known.
        least_v: down to which volts that one works.
        why: why there is no working point, or that a regulator limits; empty when the packs are too weak.
        asked_a: what the servos would draw if the bus held; None when not known.
    """

    bus_v: Figure | None
    device: Receiver | Stabiliser | None
    least_v: float | None
    why: Text
    asked_a: Figure | None


def brown_out(survey: Survey) -> BrownOut | None:
    """How the bus fails in the supply's peak; None where it holds, or nobody knows."""
    peak = survey.scenarios.get(Scenario.PEAK)
    if peak is None:
        return None
    aircraft = survey.aircraft
    devices: tuple[Receiver | Stabiliser, ...] = (*aircraft.receivers, *aircraft.stabilisers)
    known = [(device.supply_min_v, device) for device in devices if device.supply_min_v is not None]
    least_v, device = max(known, key=lambda pair: pair[0]) if known else (None, None)
    asked_a = survey.supply.peak_a
    if peak.collapse is not None:
        return BrownOut(None, device, least_v, peak.collapse, asked_a)
    seen = peak.receiver_v
    if seen is None or least_v is None or seen.expected >= least_v:
        return None
    limited = [code for code, state in peak.regulator_state.items() if state == "limiting"]
    why = text("the regulator of {limited} limits its current", limited=limited[0]) if limited else NOTHING
    return BrownOut(seen, device, least_v, why, asked_a)
