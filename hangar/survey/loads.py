"""What the air asks of a servo: hinge moment of its surface, carried through its linkage."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from hangar.base.errors import BadInput, Unreachable
from hangar.base.figure import Band, Basis, Figure
from hangar.base.text import text
from hangar.base.values import value_class
from hangar.parts import Airframe, Surface
from hangar.parts.choices import AircraftClass, Function, PowerKind, SurfaceKind
from hangar.physics.air import GRAVITY_M_S2, Air, Airflow
from hangar.physics.allmoving import all_moving_coefficient, all_moving_moment_nm
from hangar.physics.hinge_balance import NO_BALANCE, Nose, NoseBalance, nose_balance
from hangar.physics.hinge_moment import Flap, hinge_moment_nm, servo_torque_nm
from hangar.physics.holding_speed import holding_speed
from hangar.physics.surface import LEAST_FLAP_RATIO, MOST_FLAP_RATIO
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, field_missing
from hangar.survey.linkages import Drive
from hangar.survey.load_question import LoadQuestion
from hangar.survey.propeller import Propeller, Wash

SOURCE = text("H = q I Ch: thin-section slopes, lifting line, separated plate, bubble allowance")
_LOAD_SOURCE = text("{source}; virtual work", source=SOURCE)
_TAIL = {Function.ELEVATOR, Function.RUDDER, Function.V_TAIL}
_SHARES_OF_THROW = (1.0 / 3.0, 2.0 / 3.0, 1.0)
_PROPELLER = {PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL}


@value_class
class Stream:
    """What a surface is turned in: the air, its speed, what adds to the angle, and the propeller's wash."""

    air: Air
    speed_m_s: float
    incidence_deg: float
    wash: Wash = Wash()

    @property
    def wash_pa(self) -> float:
        """Dynamic pressure that the propeller adds at this speed."""
        return self.wash.at_pa(self.speed_m_s)


@value_class
class HingedCase:
    """A hinged surface in its stream, ready to be asked at any deflection."""

    flap: Flap
    stream: Stream

    def moment_nm(self, deflection_deg: float) -> Band:
        """Hinge moment; with wash: low power off, expected half the static thrust, design all of it."""
        return self.moments_nm((deflection_deg,))[deflection_deg]

    def moments_nm(self, deflections_deg: tuple[float, ...]) -> Mapping[float, Band]:
        """The same at several deflections."""
        return _hinge_moments_nm(self.flap, self.stream, deflections_deg)

    def holds_to_m_s(self, moment_nm: float, deflection_deg: float) -> float:
        """Speed up to which a moment at the hinge holds the design load."""
        return _holding_speed_m_s(self.flap, self.stream, moment_nm, deflection_deg)


# The same surface is asked again for its twin on the other side and for every changed tree of a plan.
@lru_cache(maxsize=4096)
def _hinge_moments_nm(flap: Flap, stream: Stream, deflections_deg: tuple[float, ...]) -> Mapping[float, Band]:
    still, half, full = (
        Airflow(stream.speed_m_s, stream.air, share * stream.wash_pa) for share in (0.0, 0.5, 1.0)
    )
    found = {}
    for deflection_deg in deflections_deg:
        band = hinge_moment_nm(flap, still, deflection_deg, stream.incidence_deg)
        if stream.wash_pa:
            expected = hinge_moment_nm(flap, half, deflection_deg, stream.incidence_deg).expected
            design = hinge_moment_nm(flap, full, deflection_deg, stream.incidence_deg).design
            band = Band(band.low, expected, design)
        found[deflection_deg] = band
    return found


@lru_cache(maxsize=4096)
def _holding_speed_m_s(flap: Flap, stream: Stream, moment_nm: float, deflection_deg: float) -> float:
    return holding_speed(
        flap, stream.air, moment_nm=moment_nm, deflection_deg=deflection_deg,
        alpha_deg=stream.incidence_deg, wash_pa=stream.wash_pa,
    ).speed_m_s  # fmt: skip


@value_class
class TurningCase:
    """An all-moving surface in its stream."""

    area_m2: float
    chord_m: float
    pivot: float
    aspect_ratio: float
    stream: Stream

    def moment_nm(self, deflection_deg: float) -> Band:
        """Moment about the pivot."""
        stream = self.stream
        flow = Airflow(stream.speed_m_s, stream.air)
        coefficient = all_moving_coefficient(
            self.pivot, deflection_deg, stream.incidence_deg, aspect_ratio=self.aspect_ratio, mach=flow.mach
        )
        return all_moving_moment_nm(self.area_m2, self.chord_m, flow.dynamic_pressure_pa, coefficient)

    def moments_nm(self, deflections_deg: tuple[float, ...]) -> Mapping[float, Band]:
        """The same at several deflections."""
        return {deflection_deg: self.moment_nm(deflection_deg) for deflection_deg in deflections_deg}

    def holds_to_m_s(self, moment_nm: float, deflection_deg: float) -> float:
        """Speed up to which a moment holds the design load: it grows with speed squared."""
        return self.stream.speed_m_s * math.sqrt(moment_nm / self.moment_nm(deflection_deg).design)


Case = HingedCase | TurningCase


@value_class
class Load:
    """What a servo has to hold, at the deflection where that is most; a rotor load has no case."""

    load_nm: Figure
    deflection_deg: float = 0.0
    servos: int = 1
    case: Case | None = None


def surface_load(
    question: LoadQuestion, drive: Drive | None, air: Air, defaults: Defaults, facts: Facts
) -> tuple[Figure | None, Load | None]:
    """Hinge moment of the surface at a position and the load it puts on each of its servos.

    Args:
        question: the position with its surface and airframe; servos sharing the surface share the load.
        drive: its linkage, or None when that is not known.
        air: air of the day.
        defaults: typical values.
        facts: takes the inputs and what is missing.

    Returns:
        The hinge moment of the whole surface, and the load at one servo; None where data are missing.
    """
    surface = question.surface
    if surface is None:
        facts.lack(text("position {position}: surface", position=question.code))
        return None, None
    try:
        case = _case(question.airframe, surface, air, defaults, facts)
        return (None, None) if case is None else _worst(question, surface, drive, case, facts)
    except BadInput as fault:
        facts.lack(text("surface {surface}: {fault}", surface=surface.code, fault=fault.text))
        return None, None


def _case(airframe: Airframe, surface: Surface, air: Air, defaults: Defaults, facts: Facts) -> Case | None:
    turning = surface.carried is SurfaceKind.ALL_MOVING
    whole_mm = None if turning else facts.need(surface, "whole_chord_mm")
    pivot_pct = facts.need(surface, "pivot_pct") if turning else None
    aspect_ratio = facts.need(surface, "aspect_ratio") if turning else None
    speed = _speed(airframe, surface, defaults, facts)
    usual = _usual_incidence_key(airframe, surface)
    incidence = facts.take(surface, "incidence_deg", defaults.adding_incidence, usual)
    facts.note("air density", air.density_kg_m3, "kg/m3")
    stream = Stream(air, speed, incidence)
    if whole_mm is not None:
        wash = _wash(airframe, surface, air, defaults, facts)
        if wash.static_pa:
            facts.note("share of the wash left at this speed", wash.at_pa(speed) / wash.static_pa, "ratio")
        return HingedCase(_flap(surface, whole_mm, facts), replace(stream, wash=wash))
    if pivot_pct is None or aspect_ratio is None:
        return None
    facts.known(surface, "span_mm")
    chord_m = _mean_chord_mm(surface, facts) / 1000.0
    area_m2 = surface.span_mm / 1000.0 * chord_m
    return TurningCase(area_m2, chord_m, pivot_pct / 100.0, aspect_ratio, stream)


def _speed(airframe: Airframe, surface: Surface, defaults: Defaults, facts: Facts) -> float:
    own = facts.known(surface, "load_speed_m_s")
    if own is not None:
        return own
    return facts.take(airframe, "dive_speed_m_s", defaults.dive_speed, airframe.aircraft_class)


def _usual_incidence_key(airframe: Airframe, surface: Surface) -> str:
    aerobatic = airframe.aircraft_class is AircraftClass.AEROBATIC_3D
    return "aerobatic tail" if aerobatic and surface.function in _TAIL else "any"


def _mean_chord_mm(surface: Surface, facts: Facts) -> float:
    facts.known(surface, "root_chord_mm")
    tip_mm = facts.known(surface, "tip_chord_mm")
    return 0.5 * (surface.root_chord_mm + (surface.root_chord_mm if tip_mm is None else tip_mm))


def _flap(surface: Surface, whole_mm: float, facts: Facts) -> Flap:
    facts.known(surface, "span_mm")
    mean_mm = _mean_chord_mm(surface, facts)
    held = min(max(mean_mm / whole_mm, LEAST_FLAP_RATIO), MOST_FLAP_RATIO)
    if not math.isclose(held, mean_mm / whole_mm):
        facts.note("chord ratio taken, the nearest that the coefficients hold for", held, "ratio")
        whole_mm = mean_mm / held
    tip_mm = surface.root_chord_mm if surface.tip_chord_mm is None else surface.tip_chord_mm
    return Flap(
        surface.span_mm / 1000.0,
        surface.root_chord_mm / 1000.0,
        tip_mm / 1000.0,
        whole_mm / 1000.0,
        facts.known(surface, "aspect_ratio"),
        balance=_balance(surface, facts),
    )


def _balance(surface: Surface, facts: Facts) -> NoseBalance:
    share = facts.known(surface, "balance_pct")
    if not share:
        return NO_BALANCE
    # The shape of the nose is not recorded, so the one that relieves least is credited.
    return nose_balance(share / 100.0, Nose.SHARP)


def _wash(airframe: Airframe, surface: Surface, air: Air, defaults: Defaults, facts: Facts) -> Wash:
    """What the propeller adds over the washed share of a surface."""
    if not surface.wash_pct or airframe.power not in _PROPELLER:
        return Wash()
    propeller = Propeller.of_size(airframe.propeller)
    if propeller is None:
        facts.lack(field_missing(airframe, "propeller"))
        return Wash()
    mass_g = facts.need(airframe, "all_up_mass_g")
    if mass_g is None:
        return Wash()
    share = facts.known(surface, "wash_pct") or 0.0
    thrust_to_weight = facts.assume(defaults.thrust_to_weight, airframe.aircraft_class)
    facts.note("propeller diameter", 1000.0 * propeller.diameter_m, "mm", Basis.MEASURED)
    told = Basis.MEASURED if propeller.pitch_told else Basis.TYPICAL
    facts.note("propeller pitch", 1000.0 * propeller.pitch_m, "mm", told)
    thrust_n = thrust_to_weight * mass_g / 1000.0 * GRAVITY_M_S2
    return Wash.of(propeller, thrust_n, air.density_kg_m3, share / 100.0)


def _deflections(surface: Surface, facts: Facts) -> list[float]:
    up, down = facts.known(surface, "throw_up_deg"), facts.known(surface, "throw_down_deg")
    most = facts.known(surface, "load_throw_deg")
    throws = [min(throw or 0.0, 90.0 if most is None else most) for throw in (up, down)]
    return [
        sign * share * throw
        for sign, throw in zip((1.0, -1.0), throws, strict=True)
        for share in _SHARES_OF_THROW
    ]


def _worst(
    question: LoadQuestion, surface: Surface, drive: Drive | None, case: Case, facts: Facts
) -> tuple[Figure, Load | None]:
    deflections = _deflections(surface, facts)
    moments = case.moments_nm(tuple({abs(each) for each in deflections}))
    held = [] if drive is None else _held(drive, deflections, moments, facts, question.code)
    if held:
        torque, at_deg = max(held, key=lambda pair: pair[0].design)
    else:
        at_deg = max(deflections, key=lambda each: moments[abs(each)].design)
    facts.note("deflection", abs(at_deg), "deg")
    moment = facts.banded(
        "hinge moment",
        moments[abs(at_deg)],
        "N m",
        "dynamic pressure x span x chord behind the hinge squared x hinge-moment coefficient",
        SOURCE,
    )
    if not held or drive is None:
        return moment, None
    servos = question.servos
    facts.note("degrees of surface for each degree of arm there", drive.at(at_deg).ratio, "ratio")
    if servos > 1:
        facts.note("servos on this surface", servos, "count")
    load = facts.banded(
        "load at the servo",
        torque / servos,
        "N m",
        "hinge moment x degrees of surface for each degree of arm / efficiency / servos on the surface, "
        "where it is most in the travel",
        _LOAD_SOURCE,
    )
    return moment, Load(load, at_deg, servos, case)


def _held(
    drive: Drive, deflections: list[float], moments: Mapping[float, Band], facts: Facts, code: str
) -> list[tuple[Band, float]]:
    """Servo torque at each deflection; none when the linkage does not reach one of them."""
    held = []
    for deflection in deflections:
        try:
            ratio = drive.at(deflection).ratio
        except Unreachable:
            facts.lack(
                text(
                    "linkage {position}: it does not reach {angle:.0f}° of deflection",
                    position=code,
                    angle=abs(deflection),
                )
            )
            return []
        held.append((servo_torque_nm(moments[abs(deflection)], 1.0 / ratio, drive.efficiency), deflection))
    return held
