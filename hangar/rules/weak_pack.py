"""Whether a healthy pack in place of a tired one would cure a shortage."""

from __future__ import annotations

from hangar.parts import FedPack, ServoFit
from hangar.rules.case import Case

CAUSE = ("dcir-risen",)
_MOTOR_LOSS_V = 0.3
"""Volts at which a servo begins to turn: the offset of the straight torque line, common practice."""


def risen_mohm(fed: FedPack) -> float:
    """How much the whole pack's measured resistance exceeds that of a new one; 0 when not known."""
    new, old = fed.pack_type.cell_mohm, fed.pack.cell_mohm
    if new is None or old is None:
        return 0.0
    return max(0.0, old - new) * fed.pack_type.series / fed.pack_type.parallel


def healthy_gain_v(case: Case) -> float:
    """Volts at peak current that new cells would give back, least over the radio's power paths."""
    gains = []
    for path in case.aircraft.radio_paths:
        current = case.peak.path_a.get(path.feed.code)
        if current is None or path.regulator is not None:
            return 0.0
        gains.append(current.expected * sum(risen_mohm(fed) for fed in path.packs) / 1000.0)
    return min(gains, default=0.0)


def cured_by_new_pack(case: Case, fit: ServoFit, wanted: float) -> tuple[str, ...]:
    """The rule that names the cause when new cells would give a servo the margin wanted."""
    position = case.at(fit)
    gain = healthy_gain_v(case)
    volts = case.peak.bus_v
    if gain <= 0 or volts is None or position.torque_nm is None or position.load_nm is None:
        return ()
    now = max(volts.expected - _MOTOR_LOSS_V, 0.1)
    torque = position.torque_nm.expected * (now + gain) / now
    return CAUSE if torque >= wanted * position.load_nm.expected else ()
