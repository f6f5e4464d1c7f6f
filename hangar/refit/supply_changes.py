"""What can be changed in a supply: its packs, regulators, volts set and switches, all paths alike."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from hangar.base.text import text
from hangar.parts import Aircraft, FedPack, Library, PlanLine, PowerPath, RegulatorType, SwitchType
from hangar.parts.choices import FeedRole, PackJoin, PlanAction, RegulatorKind
from hangar.refit.bay import Bay
from hangar.refit.new_places import board_place
from hangar.refit.refusal import LACKING, Refusal
from hangar.refit.request import RefitRequest

PLAN = "REFIT"
"""Code of the plan that lines are written for until the keeper names it."""
REGULATING = (RegulatorKind.LINEAR, RegulatorKind.SWITCHING, RegulatorKind.BEC)

_Kind = TypeVar("_Kind", RegulatorType, SwitchType)


@dataclass(frozen=True)
class Draft:
    """A changed supply before it is worked: its lines, the price of what is bought, the mass it adds.

    ``second`` tells that it gives the radio a second pack.
    """

    lines: tuple[PlanLine, ...] = ()
    price: float = 0.0
    mass_g: float = 0.0
    second: bool = False


@dataclass(frozen=True)
class _Change:
    """One change of each path, or at one ``place`` for all of them.

    ``off`` tells that its spares are packs of that aircraft, which stay in it or come off another one.
    """

    action: PlanAction
    part_type: str | None = None
    set_v: float | None = None
    spares: tuple[str, ...] = ()
    price: float = 0.0
    mass_g: float = 0.0
    join: PackJoin | None = None
    place: str | None = None
    off: str | None = None


_NONE: tuple[_Change, ...] = ()


def drafts_of(
    aircraft: Aircraft, library: Library, bay: Bay, limits: RefitRequest, refused: list[Refusal]
) -> Iterator[Draft]:
    """The supply as it is, then with every change that all its paths take alike.

    A pack that also drives the motor stays.

    Args:
        aircraft: as it is.
        library: types and prices.
        bay: spare packs.
        limits: volts that a regulator may be set to.
        refused: gets what lacks a price or a mass.
    """
    paths = aircraft.radio_paths
    packs = [_NONE]
    if all(path.feed.role is FeedRole.RECEIVER and len(path.packs) <= 2 for path in paths):
        fitted = list(_pack_changes(paths, library, bay, refused))
        packs += [(change,) for change in fitted]
        packs += _joined_packs(paths, library, bay, fitted)
        packs += _joined_anew(aircraft, library, bay)
    regulators = [
        _NONE,
        *((regulator_change,) for regulator_change in _regulator_changes(paths, library, limits, refused)),
    ]
    regulators += [(change,) for change in _boards_for_all(aircraft, library, limits)]
    switches = [_NONE]
    if all(path.switch_type is not None or path.feed.switch for path in paths):
        switches += [(switch_change,) for switch_change in _switch_changes(paths, library, refused)]
    for pack, regulator, switch in itertools.product(packs, regulators, switches):
        changes = (*pack, *regulator, *switch)
        yield Draft(
            tuple(line for change in changes for line in _lines(paths, change)),
            sum(change.price for change in changes),
            sum(change.mass_g for change in changes),
        )


def _pack_changes(
    paths: Sequence[PowerPath], library: Library, bay: Bay, refused: list[Refusal]
) -> Iterator[_Change]:
    for code, kind in sorted(library.pack_types.items()):
        if all(len(path.packs) == 1 and path.packs[0].pack_type.code == code for path in paths):
            continue
        tags = bay.pack_tags.get(code, ())
        mass = kind.mass_g
        if mass is None:
            refused.append(Refusal(text("{code}", code=code), text("its mass is not known"), "mass"))
            continue
        olds = [sum(fed.pack_type.mass_g or 0.0 for fed in path.packs) for path in paths]
        added = sum(mass - old for old in olds)
        spares = tags[: len(paths)]
        for taken in (spares, ()) if spares and bay.offer is not None else (spares,):
            bought = len(paths) - len(taken)
            if bought and kind.price is None:
                refused.append(Refusal(text("{code}", code=code), text("its price is not known"), "price"))
                continue
            yield _Change(PlanAction.FIT_PACK, code, None, taken, bought * (kind.price or 0.0), added)
        for given in bay.offer.packs if bay.offer is not None and len(paths) == 1 else ():
            if given.part_type == code:
                yield _Change(PlanAction.FIT_PACK, code, None, given.tags, 0.0, added, off=given.aircraft)


def _joined_packs(
    paths: Sequence[PowerPath], library: Library, bay: Bay, fitted: Sequence[_Change]
) -> Iterator[tuple[_Change, ...]]:
    """One more pack like the one that is there, or two of a type of its chemistry and cells, on a plain Y."""
    if any(len(path.packs) != 1 for path in paths):
        return
    owns = {path.packs[0].pack_type.code: path.packs[0].pack_type for path in paths}
    if len(owns) != 1:
        return
    ((own_code, own),) = owns.items()
    for code, kind in sorted(library.pack_types.items()):
        if (kind.chemistry, kind.series) != (own.chemistry, own.series) or kind.mass_g is None:
            continue
        first = [change for change in fitted if change.part_type == code and not change.spares]
        if code != own_code and not first:
            continue
        spares = bay.pack_tags.get(code, ())[: len(paths)]
        bought = len(paths) - len(spares)
        if bought and kind.price is None:
            continue
        more = _Change(
            PlanAction.JOIN_PACKS, code, None, spares, bought * (kind.price or 0.0),
            len(paths) * kind.mass_g, PackJoin.PLAIN_Y,
        )  # fmt: skip
        yield (more,) if code == own_code else (first[0], more)


def _joined_anew(aircraft: Aircraft, library: Library, bay: Bay) -> Iterator[tuple[_Change, ...]]:
    """Two packs of one type joined as those that are there, in series or on a Y; one of them may stay."""
    paths = aircraft.radio_paths
    joins, count = {path.feed.join for path in paths}, len(paths)
    if len(joins) != 1 or any(len(path.packs) != 2 for path in paths):
        return
    (join,) = joins
    olds = [fed for path in paths for fed in path.packs]
    alike = {(fed.pack_type.chemistry, fed.pack_type.series) for fed in olds}
    old_g = sum(fed.pack_type.mass_g or 0.0 for fed in olds)
    for code, kind in sorted(library.pack_types.items()):
        if (kind.chemistry, kind.series) not in alike or kind.mass_g is None:
            continue
        tags, added = bay.pack_tags.get(code, ()), 2 * count * kind.mass_g - old_g
        stays = [
            next((fed.pack.tag for fed in path.packs if _can_stay(fed, code, library)), "") for path in paths
        ]
        for kept in (tuple(stays), ()) if all(stays) else ((),):
            first = kept or tags[:count]
            second = tags[:count] if kept else tags[count : 2 * count]
            if kind.price is None and len(first) + len(second) < 2 * count:
                continue
            price, off = kind.price or 0.0, aircraft.code if kept else None
            yield (
                _Change(PlanAction.FIT_PACK, code, None, first, (count - len(first)) * price, added, off=off),
                _Change(PlanAction.JOIN_PACKS, code, None, second, (count - len(second)) * price, 0.0, join),
            )


def _can_stay(fed: FedPack, code: str, library: Library) -> bool:
    return fed.pack_type.code == code and fed.pack.tag in library.packs_elsewhere


def _boards_for_all(aircraft: Aircraft, library: Library, limits: RefitRequest) -> Iterator[_Change]:
    """One board, bought once, that all receiver paths run into, where it has an input for each."""
    paths = aircraft.radio_paths
    if len(paths) < 2 or any(path.feed.role is not FeedRole.RECEIVER for path in paths):
        return
    olds = {path.feed.regulator: path.regulator_type for path in paths if path.regulator_type is not None}
    old_g = sum(kind.mass_g or 0.0 for kind in olds.values())
    place = board_place(aircraft)
    for code, kind in sorted(library.regulator_types.items()):
        if kind.inputs < len(paths) or not kind.isolated or kind.price is None or kind.mass_g is None:
            continue
        if len(olds) == 1 and all(path.regulator_type is kind for path in paths):
            continue
        for volts in outputs(kind, limits):
            yield _Change(
                PlanAction.FIT_REGULATOR, code, volts, (), kind.price, kind.mass_g - old_g, place=place
            )


def _regulator_changes(
    paths: Sequence[PowerPath], library: Library, limits: RefitRequest, refused: list[Refusal]
) -> Iterator[_Change]:
    if all(path.regulator is not None and path.regulator_type is not None for path in paths):
        for volts in limits.set_points_v:
            if all(_can_be_set(path, volts) for path in paths):
                yield _Change(PlanAction.SET_REGULATOR, None, volts)
    fitted = [path.regulator_type for path in paths]
    for kind, price, mass in _offered(library.regulator_types, fitted, refused):
        for output in outputs(kind, limits):
            yield _Change(PlanAction.FIT_REGULATOR, kind.code, output, (), price, mass)


def outputs(kind: RegulatorType, limits: RefitRequest) -> list[float | None]:
    """The volts that a regulator could be set to; None for a board that passes its input on."""
    if kind.regulator is RegulatorKind.BEC:
        return []
    if kind.regulator not in REGULATING:
        return [None]
    return [volts for volts in limits.set_points_v if _within(volts, kind.output_min_v, kind.output_max_v)]


def _can_be_set(path: PowerPath, volts: float) -> bool:
    kind, fitted = path.regulator_type, path.regulator
    if kind is None or fitted is None or kind.regulator not in REGULATING or fitted.set_v == volts:
        return False
    adjustable = kind.output_min_v is not None and kind.output_min_v != kind.output_max_v
    return adjustable and _within(volts, kind.output_min_v, kind.output_max_v)


def _within(volts: float, least: float | None, most: float | None) -> bool:
    return least is not None and most is not None and least <= volts <= most


def _switch_changes(
    paths: Sequence[PowerPath], library: Library, refused: list[Refusal]
) -> Iterator[_Change]:
    fitted = [path.switch_type for path in paths]
    for kind, price, mass in _offered(library.switch_types, fitted, refused):
        yield _Change(PlanAction.FIT_SWITCH, kind.code, None, (), price, mass)


def _offered(
    kinds: Mapping[str, _Kind], fitted: Sequence[_Kind | None], refused: list[Refusal]
) -> Iterator[tuple[_Kind, float, float]]:
    """Types that not every path has, with the price of one for each path and the mass that they add."""
    for code, kind in sorted(kinds.items()):
        if all(old is not None and old.code == code for old in fitted):
            continue
        if kind.price is None or kind.mass_g is None:
            lack = "price" if kind.price is None else "mass"
            refused.append(Refusal(text("{code}", code=code), LACKING[lack], lack))
            continue
        mass = sum(kind.mass_g - (old.mass_g or 0.0 if old else 0.0) for old in fitted)
        yield kind, kind.price * len(fitted), mass


def _lines(paths: Sequence[PowerPath], change: _Change) -> Iterator[PlanLine]:
    if change.place is not None:
        yield PlanLine(
            plan=PLAN, number=1, action=change.action, place=change.place, part_type=change.part_type,
            set_v=change.set_v, price=round(change.price, 2),
        )  # fmt: skip
        return
    bought = len(paths) - len(change.spares)
    for place, path in enumerate(paths):
        spare = change.spares[place] if place < len(change.spares) else None
        value = change.price / bought if bought and not spare else 0.0
        yield PlanLine(
            plan=PLAN, number=1, action=change.action, place=path.feed.code, part_type=change.part_type,
            from_stock=spare, from_aircraft=change.off, set_v=change.set_v, join=change.join,
            price=round(value, 2),
        )  # fmt: skip
