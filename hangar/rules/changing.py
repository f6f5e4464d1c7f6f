"""Changed copies of an aircraft tree, by place and field: what the rules' examples are made with.

A part is given as a record, as None, or as a mapping of field values to change on the one that is there.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from hangar.parts import Aircraft, FedPack, PowerPath, ServoFit
from hangar.parts.choices import RotorKind

Node = TypeVar("Node", Aircraft, ServoFit, PowerPath, FedPack)


def _with(node: Node, parts: Mapping[str, Any]) -> Node:
    changed = {}
    for name, value in parts.items():
        old = getattr(node, name)
        changed[name] = dataclasses.replace(old, **value) if isinstance(value, Mapping) else value
    return dataclasses.replace(node, **changed)


def with_airframe(aircraft: Aircraft, **values: Any) -> Aircraft:
    """Other values of the airframe."""
    return _with(aircraft, {"airframe": values})


def with_fit(aircraft: Aircraft, *codes: str, **parts: Any) -> Aircraft:
    """Other parts at one or several positions; without codes at all of them."""
    _known(codes, [fit.code for fit in aircraft.fits])
    fits = tuple(_with(fit, parts) if not codes or fit.code in codes else fit for fit in aircraft.fits)
    return dataclasses.replace(aircraft, fits=fits)


def with_path(aircraft: Aircraft, *codes: str, **parts: Any) -> Aircraft:
    """Other parts in one or several power paths; without codes in all of them."""
    _known(codes, [path.feed.code for path in aircraft.paths])
    paths = tuple(
        _with(path, parts) if not codes or path.feed.code in codes else path for path in aircraft.paths
    )
    return dataclasses.replace(aircraft, paths=paths)


def with_pack(aircraft: Aircraft, *tags: str, **parts: Any) -> Aircraft:
    """Other values of one or several packs (``pack``, ``pack_type``, ``load_tests`` ...)."""
    _known(tags, [fed.pack.tag for path in aircraft.paths for fed in path.packs])
    paths = tuple(
        dataclasses.replace(
            path,
            packs=tuple(_with(fed, parts) if not tags or fed.pack.tag in tags else fed for fed in path.packs),
        )
        for path in aircraft.paths
    )
    return dataclasses.replace(aircraft, paths=paths)


def with_receiver(aircraft: Aircraft, **values: Any) -> Aircraft:
    """Other values of every receiver."""
    receivers = tuple(dataclasses.replace(receiver, **values) for receiver in aircraft.receivers)
    return dataclasses.replace(aircraft, receivers=receivers)


def with_gyro(aircraft: Aircraft, **values: Any) -> Aircraft:
    """Other values of every gyro, also where servos run through it."""
    gyros = {
        stabiliser.code: dataclasses.replace(stabiliser, **values) for stabiliser in aircraft.stabilisers
    }
    fits = tuple(
        dataclasses.replace(fit, through=gyros[fit.through.code]) if fit.through else fit
        for fit in aircraft.fits
    )
    return dataclasses.replace(aircraft, stabilisers=tuple(gyros.values()), fits=fits)


def with_rotor(aircraft: Aircraft, kind: RotorKind, **values: Any) -> Aircraft:
    """Other values of one rotor."""
    return dataclasses.replace(
        aircraft,
        rotors=tuple(
            dataclasses.replace(rotor, **values) if rotor.rotor is kind else rotor
            for rotor in aircraft.rotors
        ),
    )


def with_channel(aircraft: Aircraft, number: int, **values: Any) -> Aircraft:
    """Other values of a channel, also where positions hang on it."""
    changed = {
        (channel.port, channel.number): dataclasses.replace(channel, **values)
        if channel.number == number
        else channel
        for channel in aircraft.channels
    }
    fits = tuple(
        dataclasses.replace(fit, channel=changed.get((fit.channel.port, fit.channel.number), fit.channel))
        if fit.channel
        else fit
        for fit in aircraft.fits
    )
    return dataclasses.replace(aircraft, channels=tuple(changed.values()), fits=fits)


def with_surface(aircraft: Aircraft, *codes: str, **values: Any) -> Aircraft:
    """Other values of one or several surfaces, also where servos move them."""
    _known(codes, [surface.code for surface in aircraft.surfaces])
    surfaces = {
        surface.code: dataclasses.replace(surface, **values)
        if not codes or surface.code in codes
        else surface
        for surface in aircraft.surfaces
    }
    fits = tuple(
        dataclasses.replace(fit, surface=surfaces[fit.surface.code]) if fit.surface else fit
        for fit in aircraft.fits
    )
    return dataclasses.replace(aircraft, surfaces=tuple(surfaces.values()), fits=fits)


def with_records(aircraft: Aircraft, **records: Any) -> Aircraft:
    """Other papers: ``flights``, ``snags``, ``range_checks`` and so on, or a function of the old ones."""
    changed = {
        name: value(getattr(aircraft, name)) if isinstance(value, Callable) else value  # type: ignore[arg-type]
        for name, value in records.items()
    }
    return dataclasses.replace(aircraft, **changed)


def _known(wanted: tuple[str, ...], there: list[str]) -> None:
    strange = [name for name in wanted if name not in there]
    if strange:
        raise KeyError(f"{strange} not among {there}")
