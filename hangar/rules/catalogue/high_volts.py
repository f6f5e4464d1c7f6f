"""Parts that get more volts than their maker allows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import NOTHING, Amount, Span, Text, joined, plural, series, text
from hangar.parts import Accessory, Receiver, ServoFit, Stabiliser
from hangar.parts.choices import Criticality, Drive, MaxMeans
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_receiver, with_records
from hangar.rules.cures import Cure, Need, OfServo, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, rated, read, worked
from hangar.rules.over_volts import Verdict, made_year, verdict, worst_path
from hangar.rules.registry import rule
from hangar.rules.supply_volts import PathVolts, cell_of
from hangar.rules.words import parts_of, tags, thing_at
from hangar.survey.figures import field_missing


def top_figure(volts: PathVolts) -> Figure:
    """The highest volts of a power path with their working."""
    if volts.regulated:
        return read("bus volts set", volts.set_v or 0.0, "V")
    inputs = [
        Input(
            text(
                "{tag}: {series} cells {chemistry}, each",
                tag=fed.pack.tag,
                series=fed.pack_type.series,
                chemistry=fed.pack_type.chemistry,
            ),
            cell_of(fed.pack_type).full_v,
            "V",
            Basis.TYPICAL,
        )
        for fed in volts.path.packs
    ]
    return worked(
        "volts fresh off charge",
        volts.full_v or 0.0,
        "V",
        "cells in series x volts of a full cell",
        *inputs,
        basis=Basis.TYPICAL,
        source=text("cell volts by chemistry; common practice, no source, the maker's sheet governs"),
    )


def _cells(volts: PathVolts) -> Text:
    return series(
        [
            text(
                "{series} cells × {full_v:.2f} V ({chemistry})",
                series=kind.series,
                full_v=cell_of(kind).full_v,
                chemistry=kind.chemistry,
            )
            for kind in (fed.pack_type for fed in volts.path.packs)
        ]
    )


def over_flag(
    volts: PathVolts,
    level: Level,
    about: Iterable[str],
    who: Text,
    limits: Sequence[float],
    criticality: Criticality,
    part: str = "servo",
) -> Flag:
    """A flag that sets the volts of a power path against the limits of some parts."""
    top, least, most = volts.bus_max_v or 0.0, min(limits), max(limits)
    limit = Span(least, most, "V")
    detail = [] if volts.regulated else [text("{cells} = {top}", cells=_cells(volts), top=Amount(top, "V"))]
    detail.append(
        text("excess {top} ({percent:.0f} %)", top=Amount(top - least, "V"), percent=100 * (top / least - 1))
    )
    if not volts.regulated and volts.rested_v is not None:
        detail.append(
            text(
                "rested full {rested_v}, still above"
                if volts.rested_v > least
                else "rested full {rested_v}, within the limit",
                rested_v=Amount(volts.rested_v, "V"),
            )
        )
    return Flag(
        level=level,
        about=(*about, *volts.tags),
        message=text(
            "{words} {top}; {who} may have {limit}",
            words=volts.words,
            top=Amount(top, "V"),
            who=who,
            limit=limit,
        ),
        detail=joined(*detail, between="{first}; {then}"),
        figures=(top_figure(volts), rated("highest volts allowed", least, "V")),
        remedy=_less_volts(volts, least) if level is Level.WARNING else NOTHING,
        need=_need(part, top, least),
        criticality=criticality,
        margin=least / top,
    )


def _need(part: str, top_v: float, least_v: float) -> Need:
    """Another part that bears the volts; in the place of a gyro or a device no plan puts one."""
    if part in ("servo", "receiver"):
        return Need(part=part, quantity="highest volts", value=top_v, unit="V")
    return Need(part="regulator", quantity="set volts", value=least_v, unit="V", at_most=True)


def _less_volts(volts: PathVolts, limit: float) -> Text:
    allowed = text("{limit} or less", limit=Amount(limit, "V"))
    if volts.regulated:
        return text("Set the regulator to {allowed}, or fit parts made for these volts.", allowed=allowed)
    return text("A regulator set to {allowed}, another pack, or parts made for these volts.", allowed=allowed)


def _servos(
    case: Case, wanted: Verdict, level: Level, counts: Callable[[ServoFit], bool] = lambda _: True
) -> Flags:
    volts = worst_path(case)
    if volts is None:
        return
    factor = case.limit("full-over-factor")
    hit: list[ServoFit] = []
    limits: list[float] = []
    for fit in case.servos:
        kind = fit.servo_type
        if kind is None or kind.supply_max_v is None or not counts(fit):
            continue
        if verdict(volts, kind.supply_max_v, kind.max_means, factor) is wanted:
            hit.append(fit)
            limits.append(kind.supply_max_v)
    if hit:
        weight = min((fit.criticality for fit in hit), key=list(Criticality).index)
        who = (
            thing_at(hit[0])
            if len(hit) == 1
            else plural("{count:word} servo", "{count:word} servos", count=len(hit))
        )
        flag = over_flag(volts, level, parts_of(hit), who, limits, weight)
        yield replace(
            flag,
            detail=text("{detail}; {tags}", detail=flag.detail, tags=tags(hit)),
        )


@rule(
    "servo-over-volts",
    title="Pack gives more than the servo may have",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(servo_type={"supply_max_v": 5.0, "max_means": MaxMeans.ABSOLUTE}),
    passes=lambda: ex.elevator(servo_type={"supply_max_v": 5.8, "max_means": MaxMeans.ABSOLUTE}),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_OPEN_VOLTS,
    of_servo=OfServo.HIGHEST_VOLTS,
)
def servo_over_volts(case: Case) -> Flags:
    """
    Checks: the most a power path can put on the bus against each servo's highest volts. An absolute
        limit must hold for the pack rested full, and fresh off charge within a few percent; a limit that
        names a pack is compared with the pack's nominal volts; a regulator's setting must never exceed it.
    Consequence: motor and driver overheat, and the servo fails in the air.
    Can't tell when: the highest volts of the servo type are not known, or a lithium pack lies between the two
        meanings of a limit whose meaning is not stated.
    Source: maker's rating; cell volts common practice, no source
    Remedy: Fit a regulator, another pack, or servos made for these volts.
    """
    yield from _servos(case, Verdict.OVER, Level.WARNING)
    volts = worst_path(case)
    for fit in case.servos:
        kind = fit.servo_type
        if kind is None:
            continue
        if kind.supply_max_v is None:
            lacks = field_missing(kind, "supply_max_v")
        elif volts and verdict(volts, kind.supply_max_v, kind.max_means, 1.0) is Verdict.MEANING:
            lacks = field_missing(kind, "max_means")
        else:
            continue
        yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
    if case.servos and not case.radio:
        yield cant_tell(case.lacks("power path"), criticality=Criticality.FLIGHT)


@rule(
    "servo-over-volts-resting",
    title="Above the servo's rating only fresh off charge",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(servo_type={"supply_max_v": 5.6, "max_means": MaxMeans.ABSOLUTE}),
    passes=lambda: ex.elevator(servo_type={"supply_max_v": 5.8, "max_means": MaxMeans.ABSOLUTE}),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.SUPPLY,
)
def servo_over_volts_resting(case: Case) -> Flags:
    """
    Checks: servos whose absolute limit lies between the pack's volts rested full and fresh off charge.
    Consequence: the servo runs hot in the first minutes after charging.
    Can't tell when: never; the check of a servo's highest volts asks.
    Source: common practice, no source
    Remedy: Let the pack rest an hour or run it down a little before the flight, or fit a regulator, or
        servos made for these volts.
    """
    yield from _servos(case, Verdict.FRESH_ONLY, Level.CAUTION)


@rule(
    "servo-five-cell-rating",
    title="Is the rating absolute, or does it name a pack?",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.five_cells(ex.elevator(servo_type={"max_means": MaxMeans.NOT_STATED})),
    passes=lambda: ex.elevator(servo_type={"max_means": MaxMeans.NOT_STATED}),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.SUPPLY,
)
def servo_five_cell_rating(case: Case) -> Flags:
    """
    Checks: servos whose highest volts have no stated meaning and lie between a nickel pack's nominal
        volts and its volts fresh off charge. An advisory, for 6.0 V means five cells; a caution for an
        analog servo made before a year.
    Consequence: the servo runs hot if its rating was meant as a limit.
    Can't tell when: the highest volts of the servo type are not known.
    Source: common practice, no source
    Remedy: Find the maker's sheet and enter what the highest volts mean; else a regulator, or servos made
        for these volts.
    """
    year = case.limit("old-analog-year")

    def is_old(fit: ServoFit) -> bool:
        analog = fit.servo_type is not None and fit.servo_type.drive is Drive.ANALOG
        made = made_year(fit)
        return analog and made is not None and made < year

    yield from _servos(case, Verdict.FIVE_CELL, Level.CAUTION, is_old)
    yield from _servos(case, Verdict.FIVE_CELL, Level.ADVISORY, lambda fit: not is_old(fit))


def _device_over(case: Case, device: Stabiliser | Receiver | Accessory) -> Verdict:
    volts = worst_path(case)
    if volts is None or device.supply_max_v is None:
        return Verdict.WITHIN
    means = device.max_means if not isinstance(device, Accessory) else MaxMeans.ABSOLUTE
    return verdict(volts, device.supply_max_v, means, case.limit("full-over-factor"))


def _devices(
    case: Case,
    devices: Sequence[Stabiliser | Receiver | Accessory],
    who: Text,
    level: Level,
    weight: Criticality,
) -> Flags:
    volts = worst_path(case)
    for device in devices:
        about = (device.code,)
        over = _device_over(case, device)
        if device.supply_max_v is None:
            yield cant_tell(field_missing(device, "supply_max_v"), about=about, criticality=weight)
        elif over is Verdict.MEANING:
            yield cant_tell(field_missing(device, "max_means"), about=about, criticality=weight)
        elif over is not Verdict.WITHIN and volts is not None:
            softer = Level.CAUTION if level is Level.WARNING else Level.ADVISORY
            yield over_flag(
                volts,
                level if over is Verdict.OVER else softer,
                about,
                who.with_args(code=device.code),
                [device.supply_max_v],
                weight,
                device.KIND,
            )
    if devices and not case.radio:
        yield cant_tell(case.lacks("power path"), criticality=weight)


@rule(
    "receiver-over-volts",
    title="Receiver above its limit",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_receiver(ex.trainer(), supply_max_v=5.0),
    passes=lambda: with_receiver(ex.trainer(), supply_max_v=6.0),
    cures=(Cure.SUPPLY, Cure.RECEIVER),
    worse=Worse.MORE_OPEN_VOLTS,
)
def receiver_over_volts(case: Case) -> Flags:
    """
    Checks: the most volts on the bus against each receiver's highest volts; a caution when only the
        minutes after charging exceed it, or when a nickel rating may name a pack.
    Consequence: the receiver fails, and with it every control.
    Can't tell when: the receiver's highest volts, or what they mean, are not known.
    Source: maker's rating; cell volts common practice, no source
    Remedy: Fit a regulator, another pack, or a receiver made for these volts.
    """
    yield from _devices(
        case, case.aircraft.receivers, text("the receiver {code}"), Level.WARNING, Criticality.FLIGHT
    )


@rule(
    "gyro-over-volts",
    title="Gyro above its limit",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_records(
        ex.trainer(), stabilisers=(Stabiliser(aircraft="EXT", code="G", supply_min_v=3.5, supply_max_v=5.0),)
    ),
    passes=lambda: with_records(
        ex.trainer(), stabilisers=(Stabiliser(aircraft="EXT", code="G", supply_min_v=3.5, supply_max_v=6.0),)
    ),
    cures=(Cure.SUPPLY,),
    worse=Worse.MORE_OPEN_VOLTS,
)
def gyro_over_volts(case: Case) -> Flags:
    """
    Checks: the most volts on the bus against each gyro's highest volts; it hands them on to the servos
        behind it, which are checked as servos.
    Consequence: the gyro fails, and the tail or the whole swashplate with it.
    Can't tell when: the gyro's highest volts, or what they mean, are not known.
    Source: maker's rating; cell volts common practice, no source
    Remedy: Fit a step-down for gyro and tail servo, or a regulator for all.
    """
    yield from _devices(
        case, case.aircraft.stabilisers, text("the gyro {code}"), Level.WARNING, Criticality.FLIGHT
    )


@rule(
    "accessory-over-volts",
    title="Other device above its limit",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_records(
        ex.trainer(),
        accessories=(Accessory(aircraft="EXT", code="S", name="sensor", supply_max_v=5.0),),
    ),
    passes=lambda: with_records(
        ex.trainer(),
        accessories=(Accessory(aircraft="EXT", code="S", name="sensor", supply_max_v=6.0),),
    ),
    cures=(Cure.SUPPLY,),
    worse=Worse.MORE_OPEN_VOLTS,
)
def accessory_over_volts(case: Case) -> Flags:
    """
    Checks: the most volts on the bus against the limit of sensors, cut-outs and door boxes.
    Consequence: the device burns and pulls the bus down with it.
    Can't tell when: the device's highest volts are not known.
    Source: maker's rating; cell volts common practice, no source
    Remedy: Feed the device through a regulator of its own.
    """
    yield from _devices(
        case, case.aircraft.accessories, text("the device {code}"), Level.CAUTION, Criticality.COMFORT
    )
