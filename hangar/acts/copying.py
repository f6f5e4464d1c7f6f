"""Copies of an aircraft, of positions, and of one value down a column.

A copy takes what a layout is made of. It never takes what belongs to one part or one moment: tags, packs,
the log, readings, or who owns and flies it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from hangar.acts.new_aircraft import free_code
from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, listed, plural, text
from hangar.parts import (
    Accessory,
    Aircraft,
    Airframe,
    Channel,
    Feed,
    Lead,
    Linkage,
    Position,
    Receiver,
    Record,
    Regulator,
    Rotor,
    ServoFit,
    Stabiliser,
    Surface,
    Switch,
)
from hangar.parts.choices import AircraftState, Side
from hangar.parts.fields import columns, key_of
from hangar.store import Edit

R = TypeVar("R", bound=Record)

_NOT_COPIED: Mapping[type[Record], tuple[str, ...]] = {
    Airframe: (
        *("state_reason", "serial", "built_year", "acquired_on", "acquired_from", "cost"),
        *("empty_mass_g", "all_up_mass_g", "mass_measured_on", "cg_measured_mm", "cg_measured_on"),
        *("registration", "registration_place", "turbine_stop_s", "extinguisher_on", "refit_on"),
        *("for_sale", "photo", "notes"),
    ),
    Rotor: ("blade_mass_g", "damper_flights", "blade_flights", "spindle_flights"),
    Receiver: ("serial",),
    Channel: ("failsafe_proved_on",),
    Surface: ("mass_g", "play_deg", "play_on"),
    Position: ("notes",),
    Linkage: ("ball_play_mm", "cable_note"),
    Lead: ("inspected_on",),
    Switch: ("fitted_on",),
}
"""Fields that belong to the one aircraft, not to its layout: measured, dated, numbered or its owner's."""

_OF_LAYOUT: tuple[type[Record], ...] = (
    *(Rotor, Receiver, Stabiliser, Accessory, Channel, Surface),
    *(Position, Linkage, Lead, Regulator, Switch, Feed),
)


def copy_aircraft(edit: Edit, source: str, code: str, name: str) -> Text:
    """Enter another aircraft with the layout, channels, arms, leads and limits of one there is.

    Raises: BadInput for a source that is not there, or a code that is empty or in use.
    """
    frame = edit.record(Airframe, source)
    if frame is None:
        raise BadInput('There is no aircraft "{code}" to copy.', code=source)
    code = code.strip()
    free_code(edit, code)
    bare = _bare(frame)
    edit.put(replace(bare, code=code, name=name.strip() or code, state=AircraftState.ON_THE_BENCH))
    for kind in _OF_LAYOUT:
        for record in edit.records(kind, aircraft=source):
            edit.put(replace(_bare(record), aircraft=code))  # type: ignore[type-var]
    return text("Copy {source} to {aircraft}", source=source, aircraft=code)


def copy_positions(
    edit: Edit, source: Aircraft, codes: Sequence[str], target: str, new_codes: Sequence[str] = ()
) -> Text:
    """Copy positions with surface, linkage and lead, onto the same aircraft or another one.

    A position whose code says the other side (AIL-L to AIL-R) is mirrored. Channels are left open where
    they are taken.

    Args:
        edit: where they are entered.
        source: the aircraft they are copied from.
        codes: its positions.
        target: code of the aircraft they go to.
        new_codes: what they are called there; the same codes without it, counted on where they are taken.

    Raises: BadInput for a position that is not there, a code that is taken, or codes that do not pair.
    """
    if new_codes and len(new_codes) != len(codes):
        raise BadInput(
            "{count} positions are copied and {named} codes are given; one for each is wanted.",
            count=len(codes),
            named=len(new_codes),
        )
    if edit.record(Airframe, target) is None:
        raise BadInput('There is no aircraft "{code}" to copy to.', code=target)
    made = []
    for at, code in enumerate(codes):
        fit = source.fit(code)
        if fit is None:
            raise BadInput('{aircraft} has no position "{code}".', aircraft=source.code, code=code)
        wanted = new_codes[at].strip() if new_codes else _free_position(edit, target, code)
        if not wanted or edit.record(Position, target, wanted) is not None:
            raise BadInput(
                "{aircraft} has a position {code} already; choose another code.",
                aircraft=target,
                code=wanted,
            )
        _copy_position(edit, fit, target, wanted)
        made.append(wanted)
    return text("Copy positions to {aircraft}: {codes}", aircraft=target, codes=listed(made, joint=","))


def _copy_position(edit: Edit, fit: ServoFit, target: str, code: str) -> None:
    position = _bare(fit.position)
    side = _side_of(code) or position.side
    is_mirrored = {side, position.side} == {Side.LEFT, Side.RIGHT}
    surface = fit.surface
    if surface is not None:
        surface_code = surface.code
        if edit.record(Surface, target, surface_code) is not None and (
            target != position.aircraft or code != position.code
        ):
            surface_code = code if edit.record(Surface, target, code) is None else surface_code
        if edit.record(Surface, target, surface_code) is None:
            named = code if is_mirrored else surface.name
            edit.put(
                replace(
                    _bare(surface), aircraft=target, code=surface_code, name=named, side=side or Side.MIDDLE
                )
            )
        position = replace(position, surface=surface_code)
    channel = position.channel
    if channel is not None:
        key = (target, position.port, channel)
        if edit.record(Channel, *key) is None:
            was = fit.channel or Channel(aircraft=target, port=key[1], number=channel, function=fit.function)
            edit.put(replace(_bare(was), aircraft=target))
        else:
            position = replace(position, channel=None)
    if position.through is not None and edit.record(Stabiliser, target, position.through) is None:
        position = replace(position, through=None)
    if is_mirrored and position.plan_x is not None:
        position = replace(position, plan_x=1 - position.plan_x)
    renamed = code if code != position.code else position.name
    edit.put(replace(position, aircraft=target, code=code, name=renamed, side=side))
    for part in (fit.linkage, fit.lead):
        if part is not None:
            edit.put(replace(_bare(part), aircraft=target, position=code))


def _free_position(edit: Edit, aircraft: str, code: str) -> str:
    wanted, number = code, 1
    while edit.record(Position, aircraft, wanted) is not None:
        number += 1
        wanted = f"{code}-{number}"
    return wanted


def _side_of(code: str) -> Side | None:
    parts = code.upper().split("-")
    return Side.LEFT if "L" in parts[1:] else Side.RIGHT if "R" in parts[1:] else None


def _bare(record: R) -> R:
    """A record without what belongs to the one aircraft."""
    left_out = _NOT_COPIED.get(type(record), ())
    return replace(record, **dict.fromkeys(left_out))  # type: ignore[type-var]


def fill_down(edit: Edit, kind: type[Record], keys: Iterable[Sequence[Any]], field: str) -> Text:
    """Give the first record's value of a field to the others.

    Raises: BadInput where fewer than two records are chosen, or the first has nothing in that field.
    """
    chosen = [tuple(key) for key in keys]
    spec = next((spec for spec in columns(kind) if spec.name == field), None)
    if spec is None or field in kind.KEY:
        raise BadInput("{field} is nothing to fill down.", field=field)
    if len(chosen) < 2:
        raise BadInput("Choose two rows or more to fill down; the first gives the value.")
    first = edit.record(kind, *chosen[0])
    value = None if first is None else getattr(first, field)
    if value is None:
        raise BadInput("{field}: the first row has nothing to fill down.", field=fixed(spec.label))
    for key in chosen[1:]:
        record = edit.record(kind, *key)
        if record is not None:
            edit.change(kind, key_of(record), **{field: value})
        elif kind is Linkage or (kind is Lead and field == "length_mm"):
            # Nothing was known of it yet; this is the first that is.
            edit.put(kind(aircraft=key[0], position=key[1], **{field: value}))
    return plural(
        "Fill {field} down over {count} row",
        "Fill {field} down over {count} rows",
        count=len(chosen) - 1,
        field=fixed(spec.label),
    )
