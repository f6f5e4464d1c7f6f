"""Mass, size and balance of the whole aircraft."""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.base.figure import Figure
from hangar.base.text import Text, fixed, text
from hangar.parts import Aircraft, Airframe, ServoType
from hangar.parts.choices import RotorKind
from hangar.physics.balance import ballast_g, shift_of_change_mm
from hangar.survey.figures import Facts
from hangar.survey.model import AirframeSurvey

BALANCE_SOURCE = text("FAA-H-8083-1, Aircraft Weight and Balance Handbook: law of the lever")


def airframe_survey(aircraft: Aircraft) -> AirframeSurvey:
    """Loading, balance and ballast; None, with the field named, where data are missing."""
    missing: list[Text] = []
    rotary = aircraft.airframe.is_helicopter
    return AirframeSurvey(
        wing_loading_g_dm2=None if rotary else _wing_loading(aircraft.airframe, missing),
        disc_loading_g_dm2=_disc_loading(aircraft, missing) if rotary else None,
        balance_mm=_balance(aircraft.airframe, missing),
        ballast_g=_ballast(aircraft, missing),
        missing=tuple(missing),
    )


def _wing_loading(airframe: Airframe, missing: list[Text]) -> Figure | None:
    facts = Facts(missing)
    mass, area = facts.need(airframe, "all_up_mass_g"), facts.need(airframe, "wing_area_dm2")
    if mass is None or area is None:
        return None
    return facts.figure("wing loading", mass / area, "g/dm2", "all-up mass / wing area")


def _disc_loading(aircraft: Aircraft, missing: list[Text]) -> Figure | None:
    rotor = aircraft.rotor(RotorKind.MAIN)
    facts = Facts(missing)
    mass = facts.need(aircraft.airframe, "all_up_mass_g")
    if rotor is None:
        facts.lack(fixed("rotor main: not recorded"))
        return None
    diameter = facts.need(rotor, "diameter_mm")
    if mass is None or diameter is None:
        return None
    disc_dm2 = math.pi * (diameter / 200.0) ** 2
    return facts.figure("disc loading", mass / disc_dm2, "g/dm2", "all-up mass / swept disc")


def _balance(airframe: Airframe, missing: list[Text]) -> Figure | None:
    facts = Facts(missing)
    measured = facts.need(airframe, "cg_measured_mm")
    if measured is None:
        return None
    return facts.figure("balance", measured, "mm", "measured behind the datum")


def _ballast(aircraft: Aircraft, missing: list[Text]) -> Figure | None:
    """Ballast that brings the balance to the nearer limit; nothing when it lies between them.

    Against a heavy tail it goes to the datum, against a heavy nose to the aftmost servo place.
    """
    airframe = aircraft.airframe
    facts = Facts(missing)
    mass, fore, aft, measured = (
        facts.need(airframe, name) for name in ("all_up_mass_g", "cg_fore_mm", "cg_aft_mm", "cg_measured_mm")
    )
    if mass is None or fore is None or aft is None or measured is None:
        return None
    if fore <= measured <= aft:
        return facts.figure("ballast", 0.0, "g", "balance lies between its limits", BALANCE_SOURCE)
    arms = [fit.position.balance_arm_mm for fit in aircraft.fits if fit.position.balance_arm_mm is not None]
    wanted, place = (aft, 0.0) if measured > aft else (fore, max(arms, default=fore))
    facts.note("place of the ballast behind the datum", place, "mm")
    try:
        needed = ballast_g(measured, wanted, place, mass)
    except BadInput:
        return None
    return facts.figure(
        "ballast", needed, "g", "mass x distance to the limit / distance of the ballast from the limit",
        BALANCE_SOURCE,
    )  # fmt: skip


def balance_after(before: Aircraft, after: Aircraft) -> tuple[Figure | None, tuple[Text, ...]]:
    """Balance of a changed aircraft, predicted from the servos that were exchanged.

    Args:
        before: the aircraft as its balance was measured.
        after: the same aircraft with other servos.

    Returns:
        The balance, and what it would need: masses of servo types and places behind the datum.
    """
    facts = Facts()
    start = facts.need(before.airframe, "cg_measured_mm")
    mass = facts.need(before.airframe, "all_up_mass_g")
    centre, total = start, mass
    for fit in after.fits:
        old = before.fit(fit.code)
        old_type, new_type = (old.servo_type if old else None), fit.servo_type
        if old_type == new_type:
            continue
        change = _mass_g(new_type, facts) - _mass_g(old_type, facts)
        place = facts.need(fit.position, "balance_arm_mm")
        if place is None or centre is None or total is None:
            continue
        facts.note(text("change of mass at {position}", position=fit.code), change, "g")
        centre += shift_of_change_mm(change, place, total, centre)
        total += change
    if facts.missing or centre is None:
        return None, tuple(facts.missing)
    return facts.figure("balance predicted", centre, "mm", "sum of mass x place / mass", BALANCE_SOURCE), ()


def _mass_g(servo_type: ServoType | None, facts: Facts) -> float:
    return 0.0 if servo_type is None else facts.need(servo_type, "mass_g") or 0.0
