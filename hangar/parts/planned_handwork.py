"""Handwork and settings of a plan: leads protected, rods and horns changed, fixings, pulses and rates."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from hangar.base.errors import BadInput
from hangar.parts.aircraft import Aircraft
from hangar.parts.choices import FormerEdge, Function, JointLock, LeadCare, RodWork
from hangar.parts.controls import Lead
from hangar.parts.library import Library
from hangar.parts.planned_places import fit_at, with_fit, with_linkage, with_output, with_stabiliser
from hangar.parts.protection import run_sleeve_mm, wiring
from hangar.parts.workshop import PlanLine

_THROUGH_GYRO = {
    Function.TAIL: ("pulse_us", "rate_hz"),
    Function.CYCLIC: ("cyclic_pulse_us", "cyclic_rate_hz"),
    Function.COLLECTIVE: ("cyclic_pulse_us", "cyclic_rate_hz"),
}
"""Fields of a gyro that are the pulse and the rate of what runs through it."""


def protect_lead(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    """The lead at a position, protected as the line says.

    Raises: BadInput when the line does not say how, or the lead has no length recorded.
    """
    fit = fit_at(aircraft, line.place)
    if line.care is None:
        raise BadInput("the protection of the lead is missing; it must be given.")
    if fit.lead is None:
        raise BadInput("the lead at that position has no length recorded.")
    return with_fit(aircraft, replace(fit, lead=replace(fit.lead, **_CARE[line.care](fit.lead))))


def _over_the_run(lead: Lead) -> dict[str, Any]:
    if lead.exposed_mm is None:
        raise BadInput("the exposed run of the lead at that position is not recorded.")
    return {
        "sleeve": lead.sleeve or "braided",
        "sleeve_mm": run_sleeve_mm(lead.exposed_mm),
        **_at_the_ends(lead),
    }


def _at_the_ends(lead: Lead) -> dict[str, Any]:
    """Two pieces of the table's length, of a bore that goes over the bundle and grips it."""
    rule = wiring()["shrink"]
    bores: dict[str, Any] = {}
    if lead.bundle_mm is not None:
        over = min((bore for bore in rule["bores_mm"] if bore > lead.bundle_mm), default=None)
        # Shrinks to half its bore: common practice, no source.
        bores = {} if over is None else {"shrink_before_mm": over, "shrink_after_mm": over / 2.0}
    return {"shrink_pieces": rule["ends_per_sleeve"], "shrink_mm": float(rule["end_mm"]), **bores}


_CARE: dict[LeadCare, Callable[[Lead], dict[str, Any]]] = {
    LeadCare.LOCK: lambda _lead: {"lock": JointLock.SHRINK},
    LeadCare.FORMER: lambda _lead: {"former_edge": FormerEdge.GROMMET},
    LeadCare.HEAT_SLEEVE: lambda _lead: {"heat_sleeve": True},
    LeadCare.TIE_CLEAR: lambda _lead: {"moving_tied": True},
    LeadCare.SUPPORT: lambda _lead: {"support_mm": float(wiring()["tie"]["spacing_mm"])},
    LeadCare.RUN_SLEEVE: _over_the_run,
    LeadCare.SHRINKS: _at_the_ends,
    LeadCare.LOOP: lambda _lead: {"twist_loop": True},
    LeadCare.TWIST: lambda _lead: {"twisted": True},
}


def change_rod(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    """The rod or cable at a position, worked on as the line says.

    Raises: BadInput when the line does not say what, or what it needs is not recorded.
    """
    fit = fit_at(aircraft, line.place)
    linkage = fit.linkage
    if line.rod is None:
        raise BadInput("the work on the rod is missing; it must be given.")
    if line.rod is RodWork.KEEPER:
        return with_linkage(aircraft, fit, clevis_keeper=True)
    if line.rod is RodWork.CABLE:
        return with_linkage(aircraft, fit, cable_note="right")
    if line.rod is RodWork.GUIDE:
        free = linkage and (linkage.rod_free_mm or linkage.rod_length_mm)
        if not free:
            raise BadInput("the free length of the rod at that position is not recorded.")
        return with_linkage(aircraft, fit, rod_free_mm=free / 2.0)
    if line.rod_diameter_mm is None or line.rod_material is None:
        raise BadInput("the diameter and the material of the new rod are missing; they must be given.")
    return with_linkage(
        aircraft,
        fit,
        rod_diameter_mm=line.rod_diameter_mm,
        rod_bore_mm=line.rod_bore_mm,
        rod_material=line.rod_material,
    )


def set_horn(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    """The rod in another hole of the horn.

    Raises: BadInput when the line gives no radius.
    """
    fit = fit_at(aircraft, line.place)
    if line.horn_mm is None:
        raise BadInput("the horn radius is missing; it must be given.")
    return with_linkage(aircraft, fit, horn_mm=line.horn_mm)


def fit_fixings(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    """Every screw, grommet and bush that there should be, and the arm screw locked.

    Raises: BadInput when no servo is in place there.
    """
    fit = fit_at(aircraft, line.place)
    stay = fit.installation
    if stay is None:
        raise BadInput("no servo is in place at that position.")
    stay = replace(
        stay,
        screws_fitted=stay.screws_of,
        grommets_fitted=stay.grommets_of,
        grommets_on=aircraft.read_on if stay.grommets_of or stay.grommets_on else stay.grommets_on,
        ferrules=stay.ferrules if stay.ferrules is None else True,
        arm_screw=True,
        arm_screw_locked=True,
    )
    return with_fit(aircraft, replace(fit, installation=stay))


def set_pulse(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    """Another pulse centre from the gyro that the position runs through, else from its channel.

    Raises: BadInput when the line gives none, or nothing is recorded that could be set.
    """
    if line.pulse_us is None:
        raise BadInput("the pulse centre is missing; it must be given.")
    return _set_output(aircraft, line, 0, "pulse_us", line.pulse_us)


def set_rate(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    """Another frame rate from the gyro that the position runs through, else from its channel.

    Raises: BadInput when the line gives none, or nothing is recorded that could be set.
    """
    if line.rate_hz is None:
        raise BadInput("the frame rate is missing; it must be given.")
    return _set_output(aircraft, line, 1, "rate_hz", line.rate_hz)


def _set_output(aircraft: Aircraft, line: PlanLine, which: int, field: str, value: float) -> Aircraft:
    fit = fit_at(aircraft, line.place)
    if fit.through is not None and fit.function in _THROUGH_GYRO:
        name = _THROUGH_GYRO[fit.function][which]
        return with_stabiliser(aircraft, replace(fit.through, **{name: value}))  # type: ignore[arg-type]
    if fit.channel is None:
        raise BadInput("that position has neither a channel nor a gyro that could be set.")
    return with_output(aircraft, replace(fit.channel, **{field: value}))  # type: ignore[arg-type]
