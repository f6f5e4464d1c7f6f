"""The supplies an aircraft could have: packs, regulators, volts set and switches from the library."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from hangar.base.errors import BadInput
from hangar.parts import (
    Aircraft,
    Library,
    Plan,
    PlanLine,
    PowerPath,
    Receiver,
    RegulatorType,
    Stabiliser,
    after_plan,
)
from hangar.parts.choices import FeedRole, PlanAction, RegulatorKind
from hangar.refit.bay import Bay
from hangar.refit.limits import Limits
from hangar.refit.refusal import Refusal
from hangar.rules.over_volts import Verdict, verdict
from hangar.rules.supply_volts import PathVolts, path_volts
from hangar.survey.defaults import Defaults, class_defaults
from hangar.survey.paths import PathModel
from hangar.survey.supply import supply_model

PLAN = "REFIT"
"""Code of the plan that lines are written for until the keeper names it."""
_REGULATING = (RegulatorKind.LINEAR, RegulatorKind.SWITCHING, RegulatorKind.BEC)


@dataclass(frozen=True, kw_only=True)
class Supply:
    """One supply the aircraft could have.

    Attributes:
        lines: what has to be changed for it; none for the one it has.
        price: of the parts to buy.
        mass_g: change of mass.
        paths: the power paths as they would be.
        models: the same as the survey works them.
    """

    lines: tuple[PlanLine, ...]
    price: float
    mass_g: float
    paths: tuple[PowerPath, ...]
    models: tuple[PathModel, ...]

    @property
    def words(self) -> str:
        """What changes, in a few words."""
        return " + ".join(dict.fromkeys(_line_words(line) for line in self.lines)) or "supply as it is"

    @cached_property
    def nominal_v(self) -> float:
        """Bus volts at which stall currents are taken."""
        return max((model.set_v or model.nominal_v).expected for model in self.models)

    @cached_property
    def volts(self) -> PathVolts | None:
        """The path that puts most volts on the bus."""
        known = [volts for volts in map(path_volts, self.paths) if volts.bus_max_v is not None]
        return max(known, key=lambda volts: volts.bus_max_v or 0.0, default=None)

    @property
    def unchanged(self) -> bool:
        """Whether it is the supply the aircraft has."""
        return not self.lines


def _line_words(line: PlanLine) -> str:
    if line.action is PlanAction.SET_REGULATOR:
        return f"regulator set to {line.set_v:g} V"
    at = f" at {line.set_v:g} V" if line.set_v else ""
    return f"{line.part_type}{at}{f' ({line.from_stock})' if line.from_stock else ''}"


@dataclass(frozen=True)
class _Change:
    """One change of one path."""

    action: PlanAction
    part_type: str | None = None
    set_v: float | None = None
    spares: tuple[str, ...] = ()
    price: float = 0.0
    mass_g: float = 0.0


_NONE: tuple[_Change, ...] = ()


def supplies_of(
    aircraft: Aircraft, library: Library, bay: Bay, limits: Limits
) -> tuple[tuple[Supply, ...], tuple[Refusal, ...]]:
    """Every supply that can be worked and harms no receiver or gyro, the present one first.

    All paths that feed the radio are changed alike. A pack that also drives the motor stays.
    """
    refused: list[Refusal] = []
    changes = [_NONE]
    if limits.change_supply and aircraft.radio_paths:
        changes = list(_changes(aircraft, library, bay, limits, refused))
    defaults = class_defaults().changed(limits.conditions.defaults)
    found: list[Supply] = []
    told: set[str] = set()
    for each in changes:
        supply = _supply(aircraft, library, each, limits, defaults)
        why = "" if supply is None else _harms(aircraft, supply, limits)
        if supply is None:
            continue
        if not why:
            found.append(supply)
        elif why not in told:
            told.add(why)
            refused.append(Refusal(supply.words, why, "over-volts"))
    return tuple(found), tuple(refused)


def _changes(
    aircraft: Aircraft, library: Library, bay: Bay, limits: Limits, refused: list[Refusal]
) -> Iterator[tuple[_Change, ...]]:
    paths = aircraft.radio_paths
    packs = [_NONE]
    if all(path.feed.role is FeedRole.RECEIVER and len(path.packs) <= 1 for path in paths):
        packs += [(each,) for each in _pack_changes(paths, library, bay, refused)]
    regulators = [_NONE, *((each,) for each in _regulator_changes(paths, library, limits, refused))]
    switches = [_NONE]
    if all(path.switch_type is not None or path.feed.switch for path in paths):
        switches += [(each,) for each in _switch_changes(paths, library, refused)]
    for pack, regulator, switch in itertools.product(packs, regulators, switches):
        yield (*pack, *regulator, *switch)


def _pack_changes(
    paths: Sequence[PowerPath], library: Library, bay: Bay, refused: list[Refusal]
) -> Iterator[_Change]:
    for code, kind in sorted(library.pack_types.items()):
        if all(len(path.packs) == 1 and path.packs[0].pack_type.code == code for path in paths):
            continue
        tags = bay.pack_tags.get(code, ())
        mass = kind.mass_g
        if mass is None:
            refused.append(Refusal(code, "its mass is not known", "mass"))
            continue
        olds = [sum(fed.pack_type.mass_g or 0.0 for fed in path.packs) for path in paths]
        added = sum(mass - old for old in olds)
        spares = tags[: len(paths)]
        bought = len(paths) - len(spares)
        if bought and kind.price is None:
            refused.append(Refusal(code, "its price is not known", "price"))
            continue
        yield _Change(PlanAction.FIT_PACK, code, None, spares, bought * (kind.price or 0.0), added)


def _regulator_changes(
    paths: Sequence[PowerPath], library: Library, limits: Limits, refused: list[Refusal]
) -> Iterator[_Change]:
    if all(path.regulator is not None and path.regulator_type is not None for path in paths):
        for volts in limits.set_points_v:
            if all(_can_be_set(path, volts) for path in paths):
                yield _Change(PlanAction.SET_REGULATOR, None, volts)
    for code, kind in sorted(library.regulator_types.items()):
        if all(path.regulator_type is not None and path.regulator_type.code == code for path in paths):
            continue
        if kind.price is None or kind.mass_g is None:
            lack = "price" if kind.price is None else "mass"
            refused.append(Refusal(code, f"its {lack} is not known", lack))
            continue
        olds = [path.regulator_type.mass_g or 0.0 if path.regulator_type else 0.0 for path in paths]
        price, mass = kind.price * len(paths), sum(kind.mass_g - old for old in olds)
        for output in _outputs(kind, limits):
            yield _Change(PlanAction.FIT_REGULATOR, code, output, (), price, mass)


def _outputs(kind: RegulatorType, limits: Limits) -> list[float | None]:
    """The volts that a regulator could be set to; None for a board that passes its input on."""
    if kind.regulator is RegulatorKind.BEC:
        return []
    if kind.regulator not in _REGULATING:
        return [None]
    return [volts for volts in limits.set_points_v if _within(volts, kind.output_min_v, kind.output_max_v)]


def _can_be_set(path: PowerPath, volts: float) -> bool:
    kind, fitted = path.regulator_type, path.regulator
    if kind is None or fitted is None or kind.regulator not in _REGULATING or fitted.set_v == volts:
        return False
    adjustable = kind.output_min_v is not None and kind.output_min_v != kind.output_max_v
    return adjustable and _within(volts, kind.output_min_v, kind.output_max_v)


def _within(volts: float, least: float | None, most: float | None) -> bool:
    return least is not None and most is not None and least <= volts <= most


def _switch_changes(
    paths: Sequence[PowerPath], library: Library, refused: list[Refusal]
) -> Iterator[_Change]:
    for code, kind in sorted(library.switch_types.items()):
        if all(path.switch_type is not None and path.switch_type.code == code for path in paths):
            continue
        if kind.price is None or kind.mass_g is None:
            lack = "price" if kind.price is None else "mass"
            refused.append(Refusal(code, f"its {lack} is not known", lack))
            continue
        olds = [path.switch_type.mass_g or 0.0 if path.switch_type else 0.0 for path in paths]
        mass = sum(kind.mass_g - old for old in olds)
        yield _Change(PlanAction.FIT_SWITCH, code, None, (), kind.price * len(paths), mass)


def _supply(
    aircraft: Aircraft, library: Library, changes: tuple[_Change, ...], limits: Limits, defaults: Defaults
) -> Supply | None:
    lines = tuple(
        replace(line, number=number)
        for number, line in enumerate(
            (line for change in changes for line in _lines(aircraft.radio_paths, change)), 1
        )
    )
    try:
        changed = after_plan(
            aircraft, Plan(code=PLAN, aircraft=aircraft.code, title="refit", lines=lines), library
        )
    except BadInput:
        return None
    bare = replace(changed, fits=(), stabilisers=(), receivers=(), accessories=())
    models = supply_model(bare, limits.conditions, defaults).paths
    if not models or len(models) < len(changed.radio_paths):
        return None
    return Supply(
        lines=lines,
        price=sum(change.price for change in changes),
        mass_g=sum(change.mass_g for change in changes),
        paths=changed.radio_paths,
        models=models,
    )


def _lines(paths: Sequence[PowerPath], change: _Change) -> Iterator[PlanLine]:
    bought = len(paths) - len(change.spares)
    for place, path in enumerate(paths):
        spare = change.spares[place] if place < len(change.spares) else None
        each = change.price / bought if bought and not spare else 0.0
        yield PlanLine(
            plan=PLAN, number=1, action=change.action, place=path.feed.code, part_type=change.part_type,
            from_stock=spare, set_v=change.set_v, price=round(each, 2),
        )  # fmt: skip


def _harms(aircraft: Aircraft, supply: Supply, limits: Limits) -> str:
    """Why a changed supply must not be fitted: input of the regulator, receivers, gyros; empty if it may."""
    if supply.unchanged:
        return ""
    for model in supply.models:
        kind = model.path.regulator_type
        most = kind.input_max_v if kind is not None else None
        if kind is not None and most is not None and model.full_v.expected > most:
            return f"{kind.code} may have {most:g} V; the pack gives {model.full_v.expected:.2f} V when full"
    if supply.volts is None:
        return ""
    factor = limits.thresholds.value("full-over-factor", aircraft.airframe.aircraft_class)
    devices: tuple[Receiver | Stabiliser, ...] = (*aircraft.receivers, *aircraft.stabilisers)
    for device in devices:
        most = device.supply_max_v
        if most is not None and verdict(supply.volts, most, device.max_means, factor) is Verdict.OVER:
            top = supply.volts.bus_max_v or 0.0
            return f"{device.TITLE} {device.code} may have {most:g} V; the bus would see {top:.2f} V"
    return ""
