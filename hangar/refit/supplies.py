"""The supplies an aircraft could have: packs, regulators, volts set and switches from the library."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from hangar.base.errors import BadInput
from hangar.base.text import NOTHING, Text, fixed, listed, text
from hangar.parts import (
    Aircraft,
    Library,
    Plan,
    PlanLine,
    PowerPath,
    Receiver,
    Stabiliser,
    after_plan,
)
from hangar.parts.choices import PlanAction
from hangar.refit.bay import Bay, regulator_key
from hangar.refit.line_words import regulator_words
from hangar.refit.refusal import Refusal
from hangar.refit.request import RefitRequest
from hangar.refit.second_pack import second_pack_drafts, wants_second_pack
from hangar.refit.supply_changes import PLAN, Draft, drafts_of
from hangar.rules.over_volts import Verdict, verdict
from hangar.rules.supply_volts import PathVolts, path_volts
from hangar.survey.defaults import Defaults, class_defaults
from hangar.survey.paths import PathModel
from hangar.survey.supply import supply_model


@dataclass(frozen=True, kw_only=True)
class Supply:
    """One supply the aircraft could have.

    Attributes:
        lines: what has to be changed for it; none for the one it has.
        price: of the parts to buy.
        mass_g: change of mass.
        paths: the power paths as they would be.
        models: the same as the survey works them.
        second: whether it gives the radio a second pack.
        hours: of work.
        spares: the spares it takes, by tag; an aircraft it swaps with stands for one.
        gives: packs and regulators that come off with it and that other aircraft are offered.
        elsewhere: what it does on other aircraft, by their codes.
    """

    lines: tuple[PlanLine, ...]
    price: float
    mass_g: float
    paths: tuple[PowerPath, ...]
    models: tuple[PathModel, ...]
    second: bool = False
    hours: float = 0.0
    spares: Mapping[str, int] = field(default_factory=dict)
    gives: frozenset[str] = frozenset()
    elsewhere: Mapping[str, tuple[PlanLine, ...]] = field(default_factory=dict)

    @cached_property
    def bought_regulator(self) -> tuple[str, float] | None:
        """Type and price of the regulator that it buys; None where that is not exactly one."""
        lines = [line for line in self.lines if line.action is PlanAction.FIT_REGULATOR]
        if len(lines) != 1 or not lines[0].part_type or not lines[0].price:
            return None
        return lines[0].part_type, lines[0].price

    @property
    def words(self) -> Text:
        """What changes, in a few words."""
        if self.unchanged:
            return text("supply as it is")
        kept = all(line.action is not PlanAction.FIT_PACK for line in self.lines)
        words = [_line_words(line) for line in self.lines]
        words += [text("the pack that is there")] if kept else []
        parts = listed(dict.fromkeys(words), joint="+", most=0)
        if self.second:
            return text("second pack: {parts}", parts=parts)
        return text("{parts}", parts=parts)

    @cached_property
    def nominal_v(self) -> float:
        """Bus volts at which stall currents are taken; 0 where no path is known."""
        return max(((model.set_v or model.nominal_v).expected for model in self.models), default=0.0)

    @cached_property
    def volts(self) -> PathVolts | None:
        """The path that puts most volts on the bus."""
        known = [volts for volts in map(path_volts, self.paths) if volts.bus_max_v is not None]
        return max(known, key=lambda volts: volts.bus_max_v or 0.0, default=None)

    @property
    def unchanged(self) -> bool:
        """Whether it is the supply the aircraft has."""
        return not self.lines


def _line_words(line: PlanLine) -> Text:
    if line.action is PlanAction.FIT_PACK:
        sentence = text("pack {type}", type=line.part_type)
    elif line.action is PlanAction.FIT_SWITCH:
        sentence = text("switch {type}", type=line.part_type)
    else:
        sentence = regulator_words(line)
    return text("{done} ({tag})", done=sentence, tag=line.from_stock) if line.from_stock else sentence


def supplies_of(
    aircraft: Aircraft, library: Library, bay: Bay, limits: RefitRequest
) -> tuple[tuple[Supply, ...], tuple[Refusal, ...]]:
    """Every supply that can be worked and harms no receiver or gyro, the present one first.

    All paths that feed the radio are changed alike. A pack that also drives the motor stays. A second pack
    is offered where the rules want one, or the keeper.
    """
    refused: list[Refusal] = []
    drafts = [Draft()]
    if limits.change_supply and aircraft.radio_paths:
        drafts = list(drafts_of(aircraft, library, bay, limits, refused))
        if wants_second_pack(aircraft, limits):
            drafts += second_pack_drafts(aircraft, library, bay, limits, refused)
    defaults = class_defaults().changed(limits.conditions.defaults)
    supplies: list[Supply] = []
    sentences: set[Text] = set()
    for draft in drafts:
        supply = _supply(aircraft, library, draft, limits, defaults, bay.wanted)
        why = NOTHING if supply is None else _harms(aircraft, supply, limits)
        if supply is None:
            continue
        if not why:
            supplies.append(supply)
        elif why not in sentences:
            sentences.add(why)
            refused.append(Refusal(supply.words, why, "over-volts"))
    return tuple(supplies), tuple(refused)


def swapped_supply(
    aircraft: Aircraft, library: Library, line: PlanLine, mass_g: float, limits: RefitRequest
) -> Supply | None:
    """The supply with a pack that comes off another aircraft; None where that cannot be worked or harms."""
    defaults = class_defaults().changed(limits.conditions.defaults)
    supply = _supply(aircraft, library, Draft((line,), 0.0, mass_g), limits, defaults)
    return None if supply is None or _harms(aircraft, supply, limits) else supply


def _supply(
    aircraft: Aircraft, library: Library, draft: Draft, limits: RefitRequest, defaults: Defaults,
    wanted: frozenset[str] = frozenset(),
) -> Supply | None:  # fmt: skip
    lines = tuple(
        replace(line, number=number, hours_h=limits.hours(line.action))
        for number, line in enumerate(draft.lines, 1)
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
        price=draft.price,
        mass_g=draft.mass_g,
        paths=changed.radio_paths,
        models=models,
        second=draft.second,
        hours=sum(line.hours_h or 0.0 for line in lines),
        spares={
            line.from_stock: 1
            for line in lines
            if line.from_stock is not None and line.from_aircraft != aircraft.code
        },
        gives=(_packs_off(aircraft, changed) | _regulators_off(aircraft, changed)) & wanted,
    )


def _packs_off(aircraft: Aircraft, changed: Aircraft) -> frozenset[str]:
    """Tags of packs that are in no path any more."""
    before, after = (
        frozenset(fed.pack.tag for path in own.paths for fed in path.packs) for own in (aircraft, changed)
    )
    return before - after


def _regulators_off(aircraft: Aircraft, changed: Aircraft) -> frozenset[str]:
    """What stands for the regulators that are in no path any more."""
    before, after = (
        {(path.regulator.code, path.regulator.regulator_type) for path in own.paths if path.regulator}
        for own in (aircraft, changed)
    )
    return frozenset(regulator_key(kind, aircraft.code) for _, kind in before - after)


def _harms(aircraft: Aircraft, supply: Supply, limits: RefitRequest) -> Text:
    """Why a changed supply must not be fitted: input of the regulator, receivers, gyros; empty if it may."""
    if supply.unchanged:
        return NOTHING
    for model in supply.models:
        kind = model.path.regulator_type
        most = kind.input_max_v if kind is not None else None
        if kind is not None and most is not None and model.full_v.expected > most:
            return text(
                "{type} bears {limit:g} V; the pack gives {full:.2f} V when full",
                type=kind.code,
                limit=most,
                full=model.full_v.expected,
            )
    if supply.volts is None:
        return NOTHING
    factor = limits.thresholds.value("full-over-factor", aircraft.airframe.aircraft_class)
    devices: tuple[Receiver | Stabiliser, ...] = (*aircraft.receivers, *aircraft.stabilisers)
    for device in devices:
        most = device.supply_max_v
        if most is not None and verdict(supply.volts, most, device.max_means, factor) is Verdict.OVER:
            top = supply.volts.bus_max_v or 0.0
            return text(
                "{kind} {code} bears {limit:g} V; the bus would see {top:.2f} V",
                kind=fixed(device.TITLE),
                code=device.code,
                limit=most,
                top=top,
            )
    return NOTHING
