"""The lead to each servo: its resistance, and where on the supply it begins."""

from __future__ import annotations

from collections import Counter

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure
from hangar.base.text import Text, fixed, text
from hangar.parts import Aircraft, ServoFit
from hangar.physics.wire import loop_ohm
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, field_missing
from hangar.survey.paths import BUS

SOURCE = text("wire tables: ASTM B258 gauge, IEC 60028 copper, 2 % lay, 25 °C; contacts common practice")


def lead_ohm(fit: ServoFit, defaults: Defaults, missing: list[Text]) -> Figure | None:
    """Resistance of the lead to a servo, both wires with their plugs; None where it is not known."""
    lead = fit.lead
    if lead is None:
        missing.append(text("lead {position}: not recorded", position=fit.code))
        return None
    facts = Facts(missing)
    gauge = facts.known(lead, "awg")
    if gauge is None and fit.servo_type is not None:
        gauge = facts.known(fit.servo_type, "lead_awg", Basis.RATED)
    if gauge is None:
        facts.lack(field_missing(lead, "awg"))
        return None
    length_mm = facts.known(lead, "length_mm") or lead.length_mm
    joints = facts.take(lead, "joints", defaults.joints, "servo")
    contact_ohm = facts.assume(defaults.contact) / 1000.0
    try:
        ohm = loop_ohm(length_mm / 1000.0, int(gauge), joints=int(joints), contact_ohm=contact_ohm)
    except BadInput as fault:
        facts.lack(text("lead {position}: {fault}", position=fit.code, fault=fault.text))
        return None
    formula = fixed("2 x (length x resistance of the gauge for each metre + plugged joints x contact)")
    return facts.figure("lead resistance", ohm, "ohm", formula, SOURCE)


def gyro_node(code: str) -> str:
    """Network node at a gyro."""
    return f"gyro {code}"


def servo_node(code: str) -> str:
    """Network node at the servo of a position."""
    return f"servo {code}"


def shared_outputs(aircraft: Aircraft) -> frozenset[tuple[str, int]]:
    """Outputs declared as Y leads that feed more than one servo."""
    used = Counter(
        (fit.channel.port, fit.channel.number)
        for fit in aircraft.fits
        if fit.channel is not None and fit.channel.y_lead and fit.servo_type is not None
    )
    return frozenset(output for output, count in used.items() if count > 1)


def start_node(fit: ServoFit, shared: frozenset[tuple[str, int]]) -> str:
    """Network node at which a servo's lead begins: the bus, its gyro, or a shared Y lead."""
    if fit.channel is not None and (fit.channel.port, fit.channel.number) in shared:
        return y_node(fit.channel.port, fit.channel.number)
    return BUS if fit.through is None else gyro_node(fit.through.code)


def y_node(port: str, number: int) -> str:
    """Network node at the fork of a Y lead."""
    return f"Y {port} {number}"
