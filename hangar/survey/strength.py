"""What the servo at a position really gives: volts, torque, speed, and how it holds."""

from __future__ import annotations

import math
from dataclasses import astuple, replace
from functools import lru_cache

from hangar.base.figure import Band, Basis, Figure, Working
from hangar.base.text import ItemList, Text, fixed, text
from hangar.base.values import value_class
from hangar.parts import ServoFit
from hangar.parts.choices import Drive
from hangar.physics.servo import dead_band_deg
from hangar.physics.servo_loop import ServoLoop
from hangar.physics.servo_rating import Rating, ServoAtVolts
from hangar.physics.wire import drop_v
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, basis_of
from hangar.survey.model import ScenarioSurvey
from hangar.survey.servo_learned import servo_measured
from hangar.survey.servos import RATING_SOURCE, half_torque_deg
from hangar.survey.supply import SupplyModel

DROOP_SOURCE = text("static balance of a proportional drive with dead band; full-drive error common practice")

TRANSIT = text("time for 60°")
"""The name of a servo's speed, wherever it is shown."""


@value_class
class ServoSupply:
    """What arrives at a servo doing its own work in the supply's peak, and what it gives there."""

    volts: Figure
    current: Figure
    drop: Figure
    torque: Figure
    transit: Figure | None
    stall: Figure


def delivered(
    fit: ServoFit,
    rating: Rating,
    model: SupplyModel,
    peak: ScenarioSurvey,
    load: Figure | None,
    defaults: Defaults,
    missing: list[Text],
) -> ServoSupply | None:
    """Volts and torque at a servo while the supply is in its peak.

    The lead carries the servo's own work: stall current x expected load / torque, at most all of it, and
    the usual share of the stall current where the load is not known.
    """
    if peak.collapse is not None or peak.bus_v is None:
        missing.append(text("supply in the peak: {fault}", fault=peak.collapse or fixed("no bus volts")))
        return None
    ohm = model.lead_ohm.get(fit.code)
    if ohm is None:
        missing.extend(lack for lack in model.lead_missing.get(fit.code, ()) if lack not in missing)
        return None
    start_v = peak.node_v[model.start[fit.code]]
    at_start = rating.at(max(start_v, 0.0))
    current = _own_current(at_start, load, defaults, peak.bus_v)
    lost_v = drop_v(current.expected, ohm.expected)
    both = Facts()
    both.use(current)
    both.use(ohm)
    drop = both.banded(
        "lead drop", current.band * drop_v(1.0, ohm.expected), "V", "lead current x lead resistance"
    )
    where = Facts()
    where.use(peak.bus_v)
    where.note("volts where the lead begins", start_v, "V", peak.bus_v.basis)
    where.use(drop)
    volts = where.figure(
        "volts at the servo doing its own work",
        max(start_v - lost_v, 0.0),
        "V",
        "volts where its lead begins, in the supply's peak, less its own lead drop",
    )
    return _as_read(fit, _at_volts(rating, volts, current, drop))


def _as_read(fit: ServoFit, given: ServoSupply) -> ServoSupply:
    """Speed and stall current of a servo that was read: measured, with the day."""
    read = servo_measured(fit)
    transit, stall = given.transit, given.stall
    if read.speed_on is not None and transit is not None:
        transit = replace(transit, basis=Basis.MEASURED, read_on=read.speed_on)
    if read.stall_on is not None:
        stall = replace(stall, basis=Basis.MEASURED, read_on=read.stall_on)
    return replace(given, transit=transit, stall=stall)


def _own_current(at_start: ServoAtVolts, load: Figure | None, defaults: Defaults, bus_v: Figure) -> Figure:
    facts = Facts()
    facts.use(bus_v)
    stall_a = at_start.stall_current_a.expected
    facts.note(
        "stall current there",
        stall_a,
        "A",
        Basis.TYPICAL if at_start.is_current_estimated else Basis.RATED,
    )
    if load is None or not at_start.stall_torque_nm > 0.0:
        share = facts.assume(defaults.own_work_share)
        return facts.figure("lead current", share * stall_a, "A", "stall current x usual share of it")
    facts.use(load)
    facts.note("stall torque there", at_start.stall_torque_nm, "N m", Basis.RATED)
    return facts.banded(
        "lead current",
        Band(*(min(1.0, torque_nm / at_start.stall_torque_nm) * stall_a for torque_nm in astuple(load.band))),
        "A",
        "stall current x load / stall torque, at most all of it",
    )


def _at_volts(rating: Rating, volts: Figure, current: Figure, drop: Figure) -> ServoSupply:
    point = rating.at(volts.expected)
    facts = Facts()
    facts.use(volts)
    facts.note("rated rows", _rows_words(rating), basis=Basis.RATED)
    for flag in sorted(point.flags):
        facts.note("beyond the rating", flag)
    torque = facts.figure(
        "stall torque", point.stall_torque_nm, "N m", "rating read at the volts at the servo", RATING_SOURCE
    )
    transit = None
    if point.no_load_rad_s > 0.0:
        transit = facts.figure(
            TRANSIT, math.pi / 3.0 / point.no_load_rad_s, "s/60deg",
            "rated speed read at the volts at the servo", RATING_SOURCE,
        )  # fmt: skip
    band = point.stall_current_a
    estimated = point.is_current_estimated
    working = Working(
        text(
            "power balance of torque and speed" if estimated else "rating read at the volts at the servo"
        ),
        tuple(facts.inputs), RATING_SOURCE,
    )  # fmt: skip
    basis = Basis.TYPICAL if estimated else basis_of(facts.inputs)
    stall = Figure(
        fixed("stall current"), band.expected, "A", band.low if estimated else None,
        band.design if estimated else None, basis, working,
    )  # fmt: skip
    return ServoSupply(volts, current, drop, torque, transit, stall)


@lru_cache(maxsize=1024)
def _rows_words(rating: Rating) -> Text:
    rows = (
        text("{volts:g} V {torque:g} N m", volts=row.volts, torque=row.stall_torque_nm) for row in rating.rows
    )
    return text("{rows}", rows=ItemList(tuple(rows), ","))


def loop_of(fit: ServoFit, torque_nm: float, drive: Drive | None, defaults: Defaults) -> ServoLoop | None:
    """The position loop of the servo at a position, taken for analog or digital; None without a torque."""
    kind = fit.servo_type
    if kind is None or not torque_nm > 0.0:
        return None
    width_us = defaults.dead_band.value(drive) if kind.dead_band_us is None else kind.dead_band_us
    dead = dead_band_deg(width_us)
    half_deg = half_torque_deg(fit)
    if half_deg is not None:
        return ServoLoop.measured(torque_nm, dead, half_deg)
    return ServoLoop.of(torque_nm, dead, defaults.full_drive.value(drive))


def loops_of(
    fit: ServoFit, torque_nm: float, defaults: Defaults
) -> tuple[ServoLoop | None, ServoLoop | None]:
    """The loop of the servo at a position, and the stiffer one it may have where its kind is not known."""
    kind = fit.servo_type
    if kind is None or kind.drive is not None:
        return loop_of(fit, torque_nm, kind.drive if kind else None, defaults), None
    measured = half_torque_deg(fit) is not None
    soft = loop_of(fit, torque_nm, Drive.ANALOG, defaults)
    return soft, None if measured else loop_of(fit, torque_nm, Drive.DIGITAL, defaults)


def loop_facts(fit: ServoFit, torque: Figure, defaults: Defaults) -> Facts:
    """What a servo's loop rests on."""
    facts = Facts()
    facts.use(torque)
    kind, servo = fit.servo_type, fit.servo
    if kind is None:
        return facts
    drive = kind.drive or Drive.ANALOG
    facts.take(kind, "dead_band_us", defaults.dead_band, drive, basis=Basis.RATED)
    read = servo_measured(fit).half_torque_deg
    if read is not None:
        facts.use(read)
    elif servo is None or facts.known(servo, "deg_to_half_torque") is None:
        facts.assume(defaults.full_drive, drive)
    return facts


def loop_figures(loop: ServoLoop, facts: Facts) -> dict[str, Figure | None]:
    """How hard a servo holds near where it stands: torque at a degree of error, degrees to half torque."""
    return {
        "torque_at_1_deg_nm": facts.figure(
            "torque at one degree of error", loop.torque_at_1_deg_nm, "N m",
            "stall torque x (1 degree - half dead band) / (error at full drive - half dead band)",
            DROOP_SOURCE,
        ),
        "deg_to_half_torque": facts.figure(
            "error at half the stall torque", loop.deg_to_half_torque, "deg",
            "half dead band + (error at full drive - half dead band) / 2", DROOP_SOURCE,
        ),
    }  # fmt: skip
