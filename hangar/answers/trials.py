"""What can be changed in the Try-out room: each change on a copy of the aircraft, never a write."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from hangar.base.text import Text, fixed
from hangar.parts import Aircraft, Linkage, PackType, Plan, PlanLine, PowerPath, ServoFit, Surface
from hangar.parts.choices import FeedRole, PlanAction, RotorKind
from hangar.parts.library import Library
from hangar.parts.planned import after_plan
from hangar.physics.pack import cell
from hangar.survey.defaults import defaults_with
from hangar.survey.dive_speed import dive_speed_m_s
from hangar.survey.model import Conditions, Survey
from hangar.survey.supply import charge_pct

UNNAMED = "?"
"""Stands for the plan's code until it is kept."""
DIRECT_V = 9.0
"""A pack with more volts than that is not offered where no regulator stands; common practice, no source."""


@dataclass(frozen=True)
class Trial:
    """An aircraft as it would be, on a day as it might be."""

    aircraft: Aircraft
    conditions: Conditions


Apply = Callable[[Trial, float], Trial]
Lines = Callable[[float], tuple[PlanLine, ...]]


@dataclass(frozen=True)
class Knob:
    """One thing to turn: its range, what it is today, and what turning it does.

    ``names`` makes it a list whose values are 0, 1, 2 ...; ``lines`` is None where a plan cannot hold it.
    """

    name: str
    title: Text
    unit: str
    low: float
    high: float
    step: float
    today: float
    apply: Apply
    lines: Lines | None = None
    names: tuple[Text | str, ...] = ()

    def is_turned(self, value: float) -> bool:
        """Whether a value is another than today's."""
        return abs(value - self.today) > 1e-3 * self.step


def knobs_of(surveyed: Survey, fit: ServoFit, library: Library) -> tuple[Knob, ...]:
    """Everything that can be turned for this aircraft, seen from one of its positions."""
    aircraft = surveyed.aircraft
    return (
        *_bus_volts(aircraft),
        *_pack(aircraft, library),
        *_charge(surveyed),
        *_airspeed(surveyed, fit),
        *_throw(fit),
        *_radius(fit, "arm_mm", fixed("Servo arm radius")),
        *_radius(fit, "horn_mm", fixed("Horn radius")),
        *_head_speed(aircraft),
        *_temperature(surveyed.conditions),
        *_pack_age(surveyed),
        *_gauge(fit),
    )


def tried(start: Trial, knobs: Sequence[Knob], values: Mapping[str, float]) -> Trial:
    """The aircraft and the day with every knob that is turned."""
    trial = start
    for knob in knobs:
        value = values.get(knob.name, knob.today)
        if knob.is_turned(value):
            trial = knob.apply(trial, value)
    return trial


def turned(knobs: Sequence[Knob], values: Mapping[str, float]) -> tuple[Knob, ...]:
    """The knobs that do not stand at today's value."""
    return tuple(knob for knob in knobs if knob.is_turned(values.get(knob.name, knob.today)))


def plan_lines(knobs: Sequence[Knob], values: Mapping[str, float]) -> tuple[PlanLine, ...]:
    """What a plan can hold of the changes."""
    return tuple(
        line
        for knob in turned(knobs, values)
        if knob.lines is not None
        for line in knob.lines(values[knob.name])
    )


def _line(action: PlanAction, place: str, **values: object) -> PlanLine:
    return PlanLine(plan=UNNAMED, number=1, action=action, place=place, **values)  # type: ignore[arg-type]


def _on_aircraft(change: Callable[[Aircraft, float], Aircraft]) -> Apply:
    return lambda trial, value: replace(trial, aircraft=change(trial.aircraft, value))


def _with_paths(aircraft: Aircraft, change: Callable[[PowerPath], PowerPath]) -> Aircraft:
    return replace(aircraft, paths=tuple(change(path) for path in aircraft.paths))


def _with_fit(aircraft: Aircraft, code: str, change: Callable[[ServoFit], ServoFit]) -> Aircraft:
    return replace(aircraft, fits=tuple(change(fit) if fit.code == code else fit for fit in aircraft.fits))


def _with_surfaces(aircraft: Aircraft, change: Callable[[Surface], Surface]) -> Aircraft:
    return replace(
        aircraft,
        surfaces=tuple(change(surface) for surface in aircraft.surfaces),
        fits=tuple(
            fit if fit.surface is None else replace(fit, surface=change(fit.surface)) for fit in aircraft.fits
        ),
    )


def _bus_volts(aircraft: Aircraft) -> Iterator[Knob]:
    """The volts that regulators are set to, all together, where their types can be set."""
    paths = [
        path
        for path in aircraft.radio_paths
        if path.regulator is not None and path.regulator.set_v is not None
    ]
    if not paths:
        return
    kinds = [path.regulator_type for path in paths if path.regulator_type is not None]
    low = max([kind.output_min_v or 4.8 for kind in kinds], default=4.8)
    high = min([kind.output_max_v or 8.4 for kind in kinds], default=8.4)
    today = next(path.regulator.set_v for path in paths if path.regulator and path.regulator.set_v)
    codes = tuple(path.feed.code for path in paths)
    low, high = min(low, today), max(high, today)
    if high - low < 0.05:
        return

    def change(aircraft: Aircraft, volts: float) -> Aircraft:
        def one(path: PowerPath) -> PowerPath:
            if path.feed.code not in codes or path.regulator is None:
                return path
            return replace(path, regulator=replace(path.regulator, set_v=volts))

        return _with_paths(aircraft, one)

    yield Knob(
        "volts", fixed("Bus volts, regulator set to"), "V", low, high, 0.1, today, _on_aircraft(change),
        lambda volts: tuple(
            _line(PlanAction.SET_REGULATOR, code, set_v=round(volts, 2)) for code in codes
        ),
    )  # fmt: skip


def _pack(aircraft: Aircraft, library: Library) -> Iterator[Knob]:
    """Another type of pack in every receiver path."""
    paths = [path for path in aircraft.paths if path.feed.role is FeedRole.RECEIVER and path.packs]
    codes = [path.feed.code for path in paths]
    most_v = min((_most_v(path) for path in paths), default=0.0)
    kinds = tuple(sorted(code for code, kind in library.pack_types.items() if _full_v(kind) <= most_v))
    if not codes or not kinds:
        return

    def lines(value: float) -> tuple[PlanLine, ...]:
        kind = library.pack_types[kinds[round(value) - 1]]
        return tuple(
            _line(PlanAction.FIT_PACK, code, part_type=kind.code, price=kind.price) for code in codes
        )

    def change(aircraft: Aircraft, value: float) -> Aircraft:
        plan = Plan(code=UNNAMED, aircraft=aircraft.code, title=UNNAMED, lines=lines(value))
        return after_plan(aircraft, plan, library)

    names: tuple[Text | str, ...] = (fixed("as fitted"), *kinds)
    yield Knob("pack", fixed("Receiver pack"), "", 0, len(kinds), 1, 0, _on_aircraft(change), lines, names)


def _most_v(path: PowerPath) -> float:
    """Volts that a pack of a receiver path may have: what its regulator stands, else what a bus may see."""
    kind = path.regulator_type
    return kind.input_max_v if kind is not None and kind.input_max_v is not None else DIRECT_V


def _full_v(kind: PackType) -> float:
    return kind.series * cell(kind.chemistry).full_v


def _charge(surveyed: Survey) -> Iterator[Knob]:
    conditions = surveyed.conditions
    today = charge_pct(conditions, defaults_with(conditions.defaults))

    def apply(trial: Trial, value: float) -> Trial:
        return replace(trial, conditions=replace(trial.conditions, charge_pct=value))

    yield Knob("charge", fixed("Charge left in the packs"), "%", 5, 100, 1, today, apply)


def _airspeed(surveyed: Survey, fit: ServoFit) -> Iterator[Knob]:
    """Dive speed; the speeds of the surfaces follow in proportion."""
    position = surveyed.positions.get(fit.code)
    if position is None or position.load_speed_m_s is None:
        return
    airframe = surveyed.aircraft.airframe
    defaults = defaults_with(surveyed.conditions.defaults)
    today = dive_speed_m_s(airframe, defaults)

    def change(aircraft: Aircraft, speed: float) -> Aircraft:
        share = speed / today

        def one(surface: Surface) -> Surface:
            load_speed_m_s = surface.load_speed_m_s
            return (
                surface if load_speed_m_s is None else replace(surface, load_speed_m_s=load_speed_m_s * share)
            )

        moved = _with_surfaces(aircraft, one)
        return replace(moved, airframe=replace(moved.airframe, dive_speed_m_s=speed))

    yield Knob(
        "speed", fixed("Dive speed"), "m/s", max(3.0, 0.3 * today), 2.0 * today, 0.5, today,
        _on_aircraft(change),
    )  # fmt: skip


def _throw(fit: ServoFit) -> Iterator[Knob]:
    """The larger throw; the other way and the throw at speed follow in proportion."""
    surface = fit.surface
    today = max(surface.throw_up_deg or 0.0, surface.throw_down_deg or 0.0) if surface else 0.0
    if surface is None or today <= 0.0:
        return
    code = surface.code

    def change(aircraft: Aircraft, throw: float) -> Aircraft:
        share = throw / today

        def one(edged: Surface) -> Surface:
            if edged.code != code:
                return edged
            most = edged.load_throw_deg
            return replace(
                edged,
                throw_up_deg=None if edged.throw_up_deg is None else edged.throw_up_deg * share,
                throw_down_deg=None if edged.throw_down_deg is None else edged.throw_down_deg * share,
                load_throw_deg=None if most is None else most * share,
            )

        return _with_surfaces(aircraft, one)

    yield Knob("throw", fixed("Throw of the surface"), "deg", 2, min(90.0, max(60.0, today)), 0.5, today,
               _on_aircraft(change))  # fmt: skip


def _radius(fit: ServoFit, field: str, title: Text) -> Iterator[Knob]:
    linkage = fit.linkage
    today = None if linkage is None else getattr(linkage, field)
    if today is None:
        return

    def change(aircraft: Aircraft, radius: float) -> Aircraft:
        def one(servo_fit: ServoFit) -> ServoFit:
            held = servo_fit.linkage or Linkage(aircraft=aircraft.code, position=servo_fit.code)
            changed: dict[str, Any] = {field: radius}
            return replace(servo_fit, linkage=replace(held, **changed))

        return _with_fit(aircraft, fit.code, one)

    lines: Lines | None = None
    if field == "arm_mm":
        lines = lambda radius: (_line(PlanAction.CHANGE_ARM, fit.code, arm_mm=round(radius, 2)),)  # noqa: E731
    yield Knob(
        field, title, "mm", max(3.0, 0.4 * today), 2.0 * today, 0.5, today, _on_aircraft(change), lines
    )


def _head_speed(aircraft: Aircraft) -> Iterator[Knob]:
    """Speed of the main rotor; the tail's follows, for gears join them."""
    main = aircraft.rotor(RotorKind.MAIN)
    if main is None or main.head_rpm is None:
        return
    today = main.head_rpm

    def change(aircraft: Aircraft, rpm: float) -> Aircraft:
        share = rpm / today
        return replace(
            aircraft,
            rotors=tuple(
                rotor if rotor.head_rpm is None else replace(rotor, head_rpm=rotor.head_rpm * share)
                for rotor in aircraft.rotors
            ),
        )

    yield Knob("head", fixed("Head speed"), "rpm", 0.5 * today, 1.5 * today, 10, today, _on_aircraft(change))


def _temperature(conditions: Conditions) -> Iterator[Knob]:
    """Temperature of the packs; the air's moves by the same."""
    today = conditions.pack_c

    def apply(trial: Trial, value: float) -> Trial:
        moved = replace(
            trial.conditions,
            pack_c=value,
            air_c=conditions.air_c + value - today,
            cold_pack_c=min(conditions.cold_pack_c, value),
        )
        return replace(trial, conditions=moved)

    yield Knob("temperature", fixed("Temperature of the packs"), "C", -10, 45, 1, today, apply)


def _pack_age(surveyed: Survey) -> Iterator[Knob]:
    """Resistance of every radio pack's cells, times what it is today."""
    cells = surveyed.supply.pack_cell_mohm
    if not cells:
        return

    def change(aircraft: Aircraft, times: float) -> Aircraft:
        def one(path: PowerPath) -> PowerPath:
            packs = tuple(
                fed
                if fed.pack.tag not in cells
                else replace(fed, assumed_cell_mohm=cells[fed.pack.tag].expected * times)
                for fed in path.packs
            )
            return replace(path, packs=packs)

        return _with_paths(aircraft, one)

    yield Knob(
        "age",
        fixed("Resistance of the packs, times today's"),
        "ratio",
        0.5,
        5.0,
        0.1,
        1.0,
        _on_aircraft(change),
    )


def _gauge(fit: ServoFit) -> Iterator[Knob]:
    lead = fit.lead
    if lead is None or lead.awg is None:
        return

    def change(aircraft: Aircraft, awg: float) -> Aircraft:
        def one(servo_fit: ServoFit) -> ServoFit:
            return (
                servo_fit
                if servo_fit.lead is None
                else replace(servo_fit, lead=replace(servo_fit.lead, awg=round(awg)))
            )

        return _with_fit(aircraft, fit.code, one)

    yield Knob(
        "awg", fixed("Gauge of the servo's lead"), "AWG", 16, 30, 1, lead.awg, _on_aircraft(change),
        lambda awg: (_line(PlanAction.CHANGE_LEAD, fit.code, awg=round(awg)),),
    )  # fmt: skip
