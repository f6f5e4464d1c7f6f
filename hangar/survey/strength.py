"""What the servo at a position really gives: volts, torque, speed, and how far that is enough."""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput, NoAnswer
from hangar.base.figure import Band, Basis, Figure, Working
from hangar.base.text import Listed, Text, fixed, text
from hangar.base.values import value_class
from hangar.parts import ServoFit
from hangar.physics.servo import (
    dead_band_deg,
    droop_deg,
    stiffness_nm_per_deg,
    typical_full_drive_error_deg,
)
from hangar.physics.servo_rating import Rating, ServoAtVolts
from hangar.physics.wire import drop_v
from hangar.survey.defaults import Defaults
from hangar.survey.figures import OWN_ARITHMETIC, Facts, basis_of, input_of, made
from hangar.survey.linkages import Drive
from hangar.survey.loads import Load
from hangar.survey.model import ScenarioSurvey
from hangar.survey.servos import RATING_SOURCE, build_of
from hangar.survey.supply import SupplyModel

DROOP_SOURCE = text("static balance of a proportional drive with dead band; full-drive error common practice")

TRANSIT = text("time for 60°")
"""The name of a servo's speed, wherever it is shown."""


@value_class
class Delivered:
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
) -> Delivered | None:
    """Volts and torque at a servo while the supply is in its peak.

    The lead carries the servo's own work: stall current x load / torque, at least the usual share of
    the stall current and at most all of it.
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
    drop = made(
        "lead drop", lost_v, "V", "lead current x lead resistance", (input_of(current), input_of(ohm))
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
    return _at_volts(rating, volts, current, drop)


def _own_current(at_start: ServoAtVolts, load: Figure | None, defaults: Defaults, bus_v: Figure) -> Figure:
    facts = Facts()
    facts.use(bus_v)
    stall_a = at_start.stall_current_a.design
    facts.note(
        "stall current there", stall_a, "A",
        Basis.TYPICAL if at_start.is_current_estimated else Basis.RATED,
    )  # fmt: skip
    share = facts.constant(defaults.own_work_share)
    if load is not None and at_start.stall_torque_nm > 0.0:
        facts.note("design load", load.band.design, "N m", load.basis)
        facts.note("stall torque there", at_start.stall_torque_nm, "N m", Basis.RATED)
        share = min(1.0, max(share, load.band.design / at_start.stall_torque_nm))
    return facts.figure(
        "lead current", share * stall_a, "A",
        "stall current x load / stall torque, at least the usual share and at most all of it",
    )  # fmt: skip


def _at_volts(rating: Rating, volts: Figure, current: Figure, drop: Figure) -> Delivered:
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
    return Delivered(volts, current, drop, torque, transit, stall)


@lru_cache(maxsize=1024)
def _rows_words(rating: Rating) -> Text:
    rows = (
        text("{volts:g} V {torque:g} N m", volts=row.volts, torque=row.stall_torque_nm) for row in rating.rows
    )
    return text("{rows}", rows=Listed(tuple(rows), ","))


def margin(torque: Figure, load: Figure) -> Figure | None:
    """Torque over load; ``low`` is against the design load, ``design`` against the lowest estimate of it."""
    band = load.band
    if not band.expected > 0.0:
        return None
    least, most = torque.expected / band.design, torque.expected / max(band.low, 1e-9)
    inputs = (input_of(torque), input_of(load))
    working = Working(
        fixed("stall torque / load; the least against the design load, the most against the lowest estimate"),
        inputs,
        OWN_ARITHMETIC,
    )
    return Figure(
        fixed("torque over load"),
        torque.expected / band.expected,
        "ratio",
        least,
        most,
        basis_of(inputs),
        working,
    )


def enough_to(torque: Figure, load: Load, drive: Drive, facts: Facts) -> Figure | None:
    """Speed up to which the torque holds the design load at the deflection the load was worked for."""
    if load.case is None or not torque.expected > 0.0:
        return None
    facts.use(torque)
    facts.use(load.load_nm)
    ratio = drive.at(load.deflection_deg).ratio
    moment_nm = torque.expected * drive.efficiency * load.servos / ratio
    try:
        speed = load.case.holds_to_m_s(moment_nm, load.deflection_deg)
    except BadInput as fault:
        facts.lack(fault.text)
        return None
    facts.note("moment that its servos hold at the hinge", moment_nm, "N m")
    return facts.figure(
        "enough up to", speed, "m/s", "speed at which the design load reaches the torque",
        "load as worked, solved for speed",
    )  # fmt: skip


@value_class
class Loop:
    """A servo's position loop: torque at its volts, dead band, and error at full drive."""

    torque_nm: float
    dead_half_deg: float
    full_drive: Band
    facts: Facts

    def droop(self, load_nm: float) -> float | None:
        """Droop at the arm; None where the servo is driven back."""
        try:
            return droop_deg(
                stall_torque_nm=self.torque_nm, load_torque_nm=load_nm,
                dead_band_half_deg=self.dead_half_deg, full_drive_error_deg=self.full_drive.expected,
            )  # fmt: skip
        except NoAnswer:
            return None

    @property
    def nm_per_deg(self) -> float:
        """Torque for each degree of error near centre, outside the dead band."""
        return stiffness_nm_per_deg(self.torque_nm, self.dead_half_deg, self.full_drive.expected)


def loop_of(fit: ServoFit, torque: Figure, defaults: Defaults) -> Loop | None:
    """The position loop of the servo at a position; None when it has no torque or no type."""
    kind = fit.servo_type
    if kind is None or not torque.expected > 0.0:
        return None
    facts = Facts()
    facts.use(torque)
    width_us = facts.take(kind, "dead_band_us", defaults.dead_band, kind.drive, basis=Basis.RATED)
    full_drive = typical_full_drive_error_deg(build_of(kind))
    facts.note("error at full drive", full_drive.expected, "deg")
    half = dead_band_deg(width_us)
    if half >= full_drive.low:
        return None
    return Loop(torque.expected, half, full_drive, facts)


def hold_figures(loop: Loop, load: Load | None, ratio: float | None) -> dict[str, Figure | None]:
    """Torque for each degree near centre, give at the arm under half the load, give of the surface."""
    found: dict[str, Figure | None] = {
        "torque_per_deg_nm": loop.facts.figure(
            "torque for each degree near centre",
            loop.nm_per_deg,
            "N m/deg",
            "stall torque / (error at full drive - half dead band)",
            DROOP_SOURCE,
        )
    }
    if load is None:
        return found
    facts = Facts()
    facts.inputs.extend(loop.facts.inputs)
    facts.use(load.load_nm)
    half = loop.droop(0.5 * load.load_nm.band.design)
    if half is not None:
        found["hold_deg"] = facts.figure(
            "give at the arm under half the load", half, "deg",
            "half dead band + (error at full drive - half dead band) x load / stall torque", DROOP_SOURCE,
        )  # fmt: skip
    full = [
        loop.droop(value)
        for value in (load.load_nm.band.low, load.load_nm.expected, load.load_nm.band.design)
    ]
    known = [value for value in full if value is not None]
    if ratio is not None and len(known) == len(full):
        facts.note("degrees of surface for each degree of arm", ratio, "ratio")
        found["give_deg"] = facts.banded(
            "give of the surface under the load", Band(known[0], known[1], known[2]) * ratio, "deg",
            "give at the arm x degrees of surface for each degree of arm", DROOP_SOURCE,
        )  # fmt: skip
    return found
