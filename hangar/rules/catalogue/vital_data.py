"""What must be known before an aircraft can be judged at all."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.base.text import NOTHING, Arg, ItemList, Text, plural, text
from hangar.parts import Record, ServoFit, Surface
from hangar.parts.choices import Criticality, FeedRole, Function, RotorKind, SurfaceKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe
from hangar.rules.control_levels import FAST
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing

_AEROPLANE = (
    "aircraft_class",
    "power",
    "span_mm",
    "all_up_mass_g",
    "cg_fore_mm",
    "cg_aft_mm",
)
_HELICOPTER = ("all_up_mass_g",)
_MAIN_ROTOR = ("diameter_mm", "blade_length_mm", "blade_chord_mm", "blade_mass_g", "head_rpm", "swash")
_RECEIVER = ("channels", "supply_min_v", "supply_max_v")
_GYRO = ("supply_min_v", "supply_max_v")
_SERVO_TYPE = ("drive", "supply_min_v", "supply_max_v", "spline_teeth")
_PACK_TYPE = ("continuous_a", "cell_mohm")
_MOST_NAMED = 4


def _blank(record: Record, fields: tuple[str, ...]) -> Iterator[Text]:
    for name in fields:
        if getattr(record, name) is None:
            yield field_missing(record, name)


def _of_aircraft(case: Case) -> Iterator[Text]:
    aircraft = case.aircraft
    yield from _blank(aircraft.airframe, _HELICOPTER if case.airframe.is_helicopter else _AEROPLANE)
    if case.kind is None or case.kind in FAST:
        # Of other classes the wing loading tells it well enough to judge by.
        yield from _blank(aircraft.airframe, ("dive_speed_m_s",))
    if case.airframe.is_helicopter:
        rotor = aircraft.rotor(RotorKind.MAIN)
        yield from [text("rotor main: not recorded")] if rotor is None else _blank(rotor, _MAIN_ROTOR)
    if not aircraft.receivers:
        yield case.lacks("receiver")
    for receiver in aircraft.receivers:
        yield from _blank(receiver, _RECEIVER)
    for gyro in aircraft.stabilisers:
        yield from _blank(gyro, _GYRO)
    if not aircraft.radio_paths:
        yield case.lacks("power path")
    if not aircraft.fits:
        yield case.lacks("positions with their servos")


def _of_servo(fit: ServoFit) -> Iterator[Text]:
    kind = fit.servo_type
    if kind is not None:
        yield from _blank(kind, _SERVO_TYPE)
        if not kind.ratings:
            yield text("servo type {code}: ratings", code=kind.code)
        elif all(row.stall_a is None for row in kind.ratings):
            yield text("servo type {code}: stall current", code=kind.code)
    if fit.function.is_surface:
        if fit.surface is None:
            yield text("position {code}: surface", code=fit.code)
        else:
            yield from _blank(fit.surface, _of_surface(fit.surface))
    if fit.function.is_surface or fit.function in (Function.CYCLIC, Function.COLLECTIVE, Function.TAIL):
        if fit.linkage is None:
            yield text("linkage {code}: not recorded", code=fit.code)
        else:
            yield from _blank(fit.linkage, ("arm_mm", "horn_mm"))


def _of_surface(surface: Surface) -> tuple[str, ...]:
    """What a surface cannot be judged well without: a flap or spoiler goes one way only."""
    one_way = surface.function in (Function.FLAP, Function.SPOILER)
    known = any(throw is not None for throw in (surface.throw_up_deg, surface.throw_down_deg))
    throws = () if one_way and known else ("throw_up_deg", "throw_down_deg")
    return (*(("pivot_pct",) if surface.carried is SurfaceKind.ALL_MOVING else ()), *throws)


def _told_together(blanks: tuple[Text, ...]) -> Text:
    """The blank fields, those of one record behind its name, which is said once."""
    fields: dict[Arg, list[Arg]] = {}
    for blank in blanks:
        fields.setdefault(blank.args.get("record", blank), []).append(blank.args.get("field", ""))
    rows = tuple(
        text("{record}: {fields}", record=record, fields=ItemList(tuple(named), ","))
        if any(named)
        else record
        for record, named in fields.items()
    )
    return text("{blanks}", blanks=ItemList(rows, ";"))


def vital_blanks(case: Case) -> tuple[Text, ...]:
    """The vital fields of an aircraft that are blank, each named once."""
    texts = list(_of_aircraft(case))
    for fit in case.aircraft.fits:
        if fit.criticality is Criticality.FLIGHT:
            texts += _of_servo(fit)
    for path in case.aircraft.paths:
        if path.feed.role is not FeedRole.DRIVE:
            if not path.packs:
                texts.append(text("power path {code}: pack", code=path.feed.code))
            for fed in path.packs:
                texts += _blank(fed.pack_type, _PACK_TYPE)
    return tuple(dict.fromkeys(texts))


@rule(
    "data-missing-vital",
    title="Vital data missing, cannot judge",
    levels=Level.CAUTION,
    flags=lambda: with_airframe(ex.trainer(), all_up_mass_g=None),
    passes=ex.trainer,
    cures=(),
)
def data_missing_vital(case: Case) -> Flags:
    """
    Checks: the fields that an aircraft of its class cannot be judged without: size, mass and balance,
        dive speed of fast classes, rotor, receiver, supply, and rating, spline, surface, pivot and linkage of
        every flight control.
    Consequence: what is wrong here would not be found.
    Can't tell when: it says itself what is missing; each check that waits says so in a line of its own.
    Source: logic
    Remedy: Enter what is missing.
    """
    blanks = vital_blanks(case)
    if blanks:
        named = _told_together(blanks[:_MOST_NAMED])
        more = (
            text("; and {count} more", count=len(blanks) - _MOST_NAMED)
            if len(blanks) > _MOST_NAMED
            else NOTHING
        )
        yield Flag(
            level=Level.CAUTION,
            about=(),
            message=plural(
                "{count:word} vital entry is not known: {named}{more}.",
                "{count:word} vital entries are not known: {named}{more}.",
                count=len(blanks),
                named=named,
                more=more,
            ),
            detail=_told_together(blanks) if more else NOTHING,
            missing=blanks,
            criticality=Criticality.FLIGHT,
            rests_on=blanks,
        )
