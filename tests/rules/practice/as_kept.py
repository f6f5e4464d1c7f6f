"""Sound set-ups as keepers keep them: what a keeper usually enters, at home and at the field."""

from __future__ import annotations

import dataclasses
from datetime import timedelta
from typing import Any

from hangar.parts import Aircraft, FedPack, PowerPath, ServoFit
from hangar.rules.examples import DAY, home_day
from hangar.survey import Conditions

FIELD_DAY = Conditions(today=DAY, field_day=True)
WINTER = Conditions(today=DAY + timedelta(days=150))
"""The examples' day at the field, and five months later in the workshop, nothing done in between."""

HOME = home_day()

_KEPT_OF_LEAD = ("aircraft", "position", "length_mm", "awg", "joints")
_KEPT_OF_LINKAGE = ("aircraft", "position", "arm_mm", "horn_mm")
_KEPT_OF_SERVO = ("tag", "servo_type", "state", "bought_on")
_KEPT_OF_INSTALLATION = ("servo", "aircraft", "position", "since_on")
_KEPT_OF_PACK = ("tag", "pack_type", "bought_on")
_KEPT_OF_FEED = ("aircraft", "code", "switch", "regulator", "role")
_BAY = (
    "plan_x",
    "plan_y",
    "bay_length_mm",
    "bay_width_mm",
    "bay_height_mm",
    "bay_screw_mm",
    "balance_arm_mm",
)
_NOT_ASKED = ("throw_up_deg", "throw_down_deg", "whole_chord_mm", "load_speed_m_s")
_FLOWN_BY_FEEL = ("play_deg", "play_on", "mass_balanced", "gap_sealed")


def sparse(aircraft: Aircraft) -> Aircraft:
    """The aircraft as entered on the first evening: sizes, throws, types, leads; nothing measured."""
    fits = tuple(_sparse_fit(fit) for fit in aircraft.fits)
    surfaces = {fit.surface.code: fit.surface for fit in fits if fit.surface is not None}
    channels = {fit.channel.number: fit.channel for fit in fits if fit.channel is not None}
    others = tuple(
        dataclasses.replace(channel, failsafe_proved_on=None)
        for channel in aircraft.channels
        if channel.number not in channels
    )
    frame = dataclasses.replace(
        aircraft.airframe, cg_measured_mm=None, cg_measured_on=None, mass_measured_on=None, refit_on=None
    )
    return dataclasses.replace(
        aircraft,
        airframe=frame,
        fits=fits,
        surfaces=tuple(surfaces.values()),
        channels=(*channels.values(), *others),
        paths=tuple(_sparse_path(path) for path in aircraft.paths),
        range_checks=(),
        flights=(),
        inspections=(),
    )


def bare(aircraft: Aircraft) -> Aircraft:
    """The aircraft as a list of servos has it: no dive speed, throw, linkage, lead or whole chord."""
    made = sparse(aircraft)
    fits = tuple(
        dataclasses.replace(
            fit,
            linkage=None,
            lead=None,
            surface=dataclasses.replace(fit.surface, **_none(_NOT_ASKED)) if fit.surface else None,
        )
        for fit in made.fits
    )
    surfaces = {fit.surface.code: fit.surface for fit in fits if fit.surface is not None}
    frame = dataclasses.replace(made.airframe, dive_speed_m_s=None)
    return dataclasses.replace(made, airframe=frame, fits=fits, surfaces=tuple(surfaces.values()))


def _none(names: tuple[str, ...]) -> dict[str, Any]:
    return dict.fromkeys(names)


def _only(record: Any, kept: tuple[str, ...]) -> Any:
    if record is None:
        return None
    kind: Any = type(record)
    return kind(**{name: getattr(record, name) for name in kept})


def _sparse_fit(fit: ServoFit) -> ServoFit:
    return dataclasses.replace(
        fit,
        position=dataclasses.replace(fit.position, **_none(_BAY)),
        channel=dataclasses.replace(fit.channel, failsafe_proved_on=None) if fit.channel else None,
        surface=dataclasses.replace(fit.surface, **_none(_FLOWN_BY_FEEL)) if fit.surface else None,
        linkage=_only(fit.linkage, _KEPT_OF_LINKAGE),
        lead=_only(fit.lead, _KEPT_OF_LEAD),
        installation=_only(fit.installation, _KEPT_OF_INSTALLATION),
        servo=_only(fit.servo, _KEPT_OF_SERVO),
        bench_checks=(),
    )


def _sparse_path(path: PowerPath) -> PowerPath:
    return dataclasses.replace(
        path, feed=_only(path.feed, _KEPT_OF_FEED), packs=tuple(_sparse_pack(fed) for fed in path.packs)
    )


def _sparse_pack(fed: FedPack) -> FedPack:
    return dataclasses.replace(fed, pack=_only(fed.pack, _KEPT_OF_PACK), load_tests=(), cells=())
