"""Places of an aircraft that a plan's line names, and the tree with another part there."""

from __future__ import annotations

from dataclasses import replace

from hangar.base.errors import BadInput
from hangar.base.text import ItemList, fixed
from hangar.parts.aircraft import Aircraft, PowerPath, ServoFit
from hangar.parts.controls import Linkage
from hangar.parts.radio import Channel, Stabiliser

NEW = "new"
"""Tag of a part that is to be bought."""


def fit_at(aircraft: Aircraft, code: str | None) -> ServoFit:
    """The position of that code.

    Raises: BadInput when there is none.
    """
    fit = aircraft.fit(code) if code else None
    if fit is None:
        known = ItemList(tuple(fit.code for fit in aircraft.fits), ",")
        raise BadInput(
            "{place} is no position of {aircraft}; there are {known}.",
            place=repr(code),
            aircraft=aircraft.code,
            known=known,
        )
    return fit


def path_at(aircraft: Aircraft, code: str | None) -> PowerPath:
    """The power path of that code.

    Raises: BadInput when there is none.
    """
    path = next((path for path in aircraft.paths if path.feed.code == code), None)
    if path is None:
        codes = tuple(path.feed.code for path in aircraft.paths)
        known = ItemList(codes, ",") if codes else fixed("none")
        raise BadInput(
            "{place} is no power path of {aircraft}; there are {known}.",
            place=repr(code),
            aircraft=aircraft.code,
            known=known,
        )
    return path


def with_fit(aircraft: Aircraft, changed: ServoFit) -> Aircraft:
    """The aircraft with another tree at one position."""
    return replace(
        aircraft, fits=tuple(changed if fit.code == changed.code else fit for fit in aircraft.fits)
    )


def with_path(aircraft: Aircraft, changed: PowerPath) -> Aircraft:
    """The aircraft with another tree in one power path."""
    return replace(
        aircraft,
        paths=tuple(changed if path.feed.code == changed.feed.code else path for path in aircraft.paths),
    )


def with_linkage(aircraft: Aircraft, fit: ServoFit, **values: object) -> Aircraft:
    """The aircraft with other values of the linkage at a position."""
    linkage = fit.linkage or Linkage(aircraft=aircraft.code, position=fit.code)
    return with_fit(aircraft, replace(fit, linkage=replace(linkage, **values)))  # type: ignore[arg-type]


def with_stabiliser(aircraft: Aircraft, changed: Stabiliser) -> Aircraft:
    """The aircraft with other values of a gyro, also where servos run through it."""
    return replace(
        aircraft,
        stabilisers=tuple(changed if gyro.code == changed.code else gyro for gyro in aircraft.stabilisers),
        fits=tuple(
            replace(fit, through=changed) if fit.through and fit.through.code == changed.code else fit
            for fit in aircraft.fits
        ),
    )


def with_output(aircraft: Aircraft, changed: Channel) -> Aircraft:
    """The aircraft with other values of a channel, also where positions hang on it."""
    place = (changed.port, changed.number)
    return replace(
        aircraft,
        channels=tuple(
            changed if (channel.port, channel.number) == place else channel for channel in aircraft.channels
        ),
        fits=tuple(
            replace(fit, channel=changed)
            if fit.channel and (fit.channel.port, fit.channel.number) == place
            else fit
            for fit in aircraft.fits
        ),
    )
