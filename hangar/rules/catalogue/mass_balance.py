"""Mass, balance point, loading and speed against their limits."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, Span, text
from hangar.parts.choices import Criticality
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_surface
from hangar.rules.consequences import balances
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, rated, read
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing

_CG = ("cg_fore_mm", "cg_aft_mm", "cg_measured_mm")


@rule(
    "cg-moved",
    title="Balance point outside its range or not measured after a refit",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_airframe(ex.trainer(), cg_measured_mm=95.0),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def cg_moved(case: Case) -> Flags:
    """
    Checks: the measured balance point against its limits (outside: warning; within a share of the range
        from a limit: caution), and that it was measured after the last refit (caution).
    Consequence: pitch turns touchy or out of hand.
    Can't tell when: a limit or the measurement is not known, on aircraft with a wing.
    Source: FAA-H-8083-1, Aircraft Weight and Balance Handbook; share common practice, no source
    Remedy: Move the pack, or ballast.
    """
    airframe = case.airframe
    blank = [name for name in _CG if getattr(airframe, name) is None]
    if blank and not case.airframe.is_helicopter:
        yield cant_tell(*(field_missing(airframe, name) for name in blank), criticality=Criticality.FLIGHT)
    fore, aft, at = airframe.cg_fore_mm, airframe.cg_aft_mm, airframe.cg_measured_mm
    if fore is None or aft is None or at is None:
        return
    edge = case.limit("balance-edge") / 100.0 * (aft - fore)
    span = Span(fore, aft, "mm")
    late = (
        airframe.refit_on is not None
        and airframe.cg_measured_on is not None
        and airframe.cg_measured_on < airframe.refit_on
    )
    happens = NOTHING
    if not fore <= at <= aft:
        level, happens = Level.WARNING, balances(at, fore, aft)
        words = text("The balance point is at {at}, outside {span}.", at=Amount(at, "mm"), span=span)
    elif min(at - fore, aft - at) < edge:
        level = Level.CAUTION
        words = text("The balance point is at {at}, near a limit of {span}.", at=Amount(at, "mm"), span=span)
    elif late:
        level, happens = Level.CAUTION, text("where it balances since the refit is found out in the air")
        words = text(
            "The balance point was measured on {cg_measured_on}, before the last refit.",
            cg_measured_on=airframe.cg_measured_on,
        )
    else:
        return
    ballast = case.survey.airframe.ballast_g
    needed = ballast is not None and ballast.expected > 0
    yield Flag(
        level=level,
        about=(),
        message=words,
        consequence=happens,
        remedy=text(
            "Move the pack, or about {ballast} of ballast brings it inside.",
            ballast=Amount(ballast.expected, "g", 2),
        )
        if ballast is not None and needed
        else NOTHING,
        figures=tuple(
            figure
            for figure in (
                read("balance point", at, "mm"),
                read("fore limit", fore, "mm"),
                read("aft limit", aft, "mm"),
                ballast if needed else None,
            )
            if figure is not None
        ),
        criticality=Criticality.FLIGHT,
    )


@rule(
    "mass-over-limit",
    title="All-up mass over a limit",
    levels=(Level.WARNING, Level.ADVISORY),
    flags=lambda: with_airframe(ex.trainer(), mass_limit_g=2500.0),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def mass_over_limit(case: Case) -> Flags:
    """
    Checks: all-up mass against the limit entered for the aircraft (above: warning; near: advisory). Where
        none is entered, a mass above the figure at which older national rules asked for more is named.
    Consequence: above the limit it flies without permit and insurance.
    Can't tell when: the all-up mass is not known.
    Source: limit as entered; figure of CAA CAP 658 (withdrawn 2021): 7 kg; check the rules of your country
    Remedy: Enter the limit that applies; get the permit, or lighten.
    """
    mass, limit = case.mass_g, case.airframe.mass_limit_g
    if mass is None:
        yield cant_tell(field_missing(case.airframe, "all_up_mass_g"), criticality=Criticality.SAFETY)
        return
    notice, source = case.limit("mass-notice"), rated
    if limit is not None:
        near = case.limit("mass-share") / 100.0
        if mass <= near * limit:
            return
        over = mass > limit
        level = Level.WARNING if over else Level.ADVISORY
        words = text(
            "{text} its limit of {limit}",
            text=text("over") if over else text("near"),
            limit=Amount(limit / 1000.0, "kg"),
        )
    elif notice and mass > notice:
        level, limit, source = Level.ADVISORY, notice, allowed
        words = text(
            "above the {notice} of older national rules, and no limit is entered",
            notice=Amount(notice / 1000.0, "kg"),
        )
    else:
        return
    yield Flag(
        level=level,
        about=(),
        message=text("The aircraft weighs {mass}: {words}.", mass=Amount(mass / 1000.0, "kg"), words=words),
        figures=(read("all-up mass", mass, "g"), source("limit", limit, "g")),
        criticality=Criticality.SAFETY,
        margin=limit / mass,
    )


@rule(
    "wing-loading-high",
    title="Wing loading near or above the class limit",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_airframe(ex.trainer(), competition_class="F3F", wing_area_dm2=34.0),
    passes=lambda: with_airframe(ex.trainer(), competition_class="F3F"),
    cures=(),
    worse=Worse.FIXED,
)
def wing_loading_high(case: Case) -> Flags:
    """
    Checks: wing loading of aircraft entered for class F3F against the sporting code.
    Consequence: the contest flight does not count.
    Can't tell when: the aircraft is entered for the class and its mass or area is not known.
    Source: FAI Sporting Code, section 4, F3 soaring, 5.8.2
    Remedy: Less ballast.
    """
    if "F3F" not in (case.airframe.competition_class or "").upper():
        return
    loading, limit = case.survey.airframe.wing_loading_g_dm2, case.limit("wing-loading-f3f")
    if loading is None:
        blank = [name for name in ("all_up_mass_g", "wing_area_dm2") if getattr(case.airframe, name) is None]
        yield cant_tell(*(field_missing(case.airframe, name) for name in blank))
    elif loading.expected > case.limit("wing-loading-share") / 100.0 * limit:
        over = loading.expected > limit
        yield Flag(
            level=Level.CAUTION if over else Level.ADVISORY,
            about=(),
            message=text(
                "The wing loading is {loading}, {percent:.0f} % of the {limit} of class F3F.",
                loading=Amount(loading.expected, "g/dm2"),
                percent=100 * loading.expected / limit,
                limit=Amount(limit, "g/dm2"),
            ),
            figures=(loading, allowed("limit", limit, "g/dm2")),
            margin=limit / loading.expected,
        )


@rule(
    "speed-over-limit",
    title="Design speed above the code's limit",
    levels=Level.CAUTION,
    flags=lambda: with_airframe(with_surface(ex.jet(), load_speed_m_s=30.0), dive_speed_m_s=95.0),
    passes=ex.jet,
    cures=(),
    worse=Worse.FIXED,
)
def speed_over_limit(case: Case) -> Flags:
    """
    Checks: dive speed of turbine aircraft against the code's greatest speed.
    Consequence: the association's insurance ends there.
    Can't tell when: nothing is asked; a speed that is not entered is taken as typical elsewhere.
    Source: Academy of Model Aeronautics turbine regulations as reported in Model Aviation, August 2004:
        200 mph
    Remedy: Limit the speed.
    """
    speed, limit = case.airframe.dive_speed_m_s, case.limit("turbine-speed")
    if case.is_turbine and speed is not None and speed > limit:
        yield Flag(
            level=Level.CAUTION,
            about=(),
            message=text(
                "The dive speed is {speed}; the turbine code ends at {limit}.",
                speed=Amount(speed, "m/s"),
                limit=Amount(limit, "m/s"),
            ),
            detail=text("{speed:.0f} mph of {limit:.0f} mph", speed=speed / 0.44704, limit=limit / 0.44704),
            figures=(read("dive speed", speed, "m/s"), allowed("limit", limit, "m/s")),
            criticality=Criticality.SAFETY,
            margin=limit / speed,
        )
