"""The points of flight at which a surface is judged: which angle is wanted there, and how fast it is flown.

A surface is flown slowly or in aerobatics with all of its throw, in a manoeuvre with the usual one, in the
dive with a part of it, and on landing as flap or brake. The shares are class defaults with their reasons,
in ``resources/class_defaults.toml``; a keeper's own speed and throw of a surface go before them.
"""

from __future__ import annotations

from enum import StrEnum

from hangar.base.figure import Basis, weakest
from hangar.base.values import value_class
from hangar.parts import Airframe, Surface
from hangar.parts.choices import AircraftClass, Function
from hangar.survey.defaults import Defaults
from hangar.survey.dive_speed import dive_speed_m_s
from hangar.survey.figures import Facts

TAIL = frozenset({Function.ELEVATOR, Function.RUDDER, Function.V_TAIL})
_BIG_THROWS = frozenset({AircraftClass.AEROBATIC_3D, AircraftClass.ELECTRIC_SMALL})
BRAKE_FROM_DEG = 20.0
"""A flap or brake let out further is a landing aid; common practice, no source."""
_CONTROL_FADES_DEG = 10.0
_BIG_FADES = 0.2
_LEAST_DEG = 0.5


class FlightPoint(StrEnum):
    """What is flown."""

    SLOW = "slow"
    MANOEUVRE = "manoeuvre"
    DIVE = "dive"
    LANDING = "landing"


class Way(StrEnum):
    """Which way the surface goes: trailing edge up or left, down or right."""

    UP = "up"
    DOWN = "down"

    @property
    def sign(self) -> float:
        """The sign of a deflection this way in the linkage."""
        return 1.0 if self is Way.UP else -1.0


@value_class
class Demand:
    """One point of flight of one side of a surface.

    Attributes:
        point: what is flown.
        way: which way the surface goes.
        speed_m_s: how fast.
        told_deg: what the stick may tell there.
        wanted_deg: what is needed there.
        speed_basis: where the speed comes from.
        throw_basis: where the throw comes from.
    """

    point: FlightPoint
    way: Way
    speed_m_s: float
    told_deg: float
    wanted_deg: float
    speed_basis: Basis
    throw_basis: Basis


@value_class
class _Speeds:
    """The speeds of one surface."""

    dive: float
    dive_basis: Basis
    own: float | None
    own_throw: float
    full_share: float
    slow_share: float
    manoeuvre_share: float
    landing_share: float


@value_class
class _Throw:
    """What one side of a surface can be told."""

    way: Way
    deg: float
    basis: Basis
    usual: float


def asked_of(airframe: Airframe, surface: Surface, defaults: Defaults, facts: Facts) -> tuple[Demand, ...]:
    """Every point of flight of a surface; none where it has no throw.

    Args:
        airframe: whose surface.
        surface: the surface; a throw that is not known is the usual one of its kind.
        defaults: class defaults.
        facts: takes the inputs.
    """
    speeds = _speeds(airframe, surface, defaults, facts)
    throws = [throw for throw in _throws(surface, defaults, facts) if throw.deg >= _LEAST_DEG]
    third = facts.assume(defaults.dive_throw_share, airframe.aircraft_class)
    asked: list[Demand] = []
    for throw in throws:
        asked += _of_side(airframe, surface, speeds, throw, throws, third)
    return tuple(asked)


def _speeds(airframe: Airframe, surface: Surface, defaults: Defaults, facts: Facts) -> _Speeds:
    kind = airframe.aircraft_class
    dive = dive_speed_m_s(airframe, defaults, facts)
    known = Basis.TYPICAL if airframe.dive_speed_m_s is None else Basis.MEASURED
    throw = facts.known(surface, "load_throw_deg")
    own_throw = 90.0 if throw is None else throw
    return _Speeds(
        dive,
        known,
        facts.known(surface, "load_speed_m_s"),
        own_throw,
        full_share=defaults.full_throw_share.value(kind),
        slow_share=defaults.full_throw_share.value(AircraftClass.AEROBATIC_3D),
        manoeuvre_share=defaults.manoeuvre_share.value(kind),
        landing_share=defaults.landing_share.value(kind),
    )


def _throws(surface: Surface, defaults: Defaults, facts: Facts) -> tuple[_Throw, ...]:
    usual = defaults.usual_throw.value(_kind_of(surface.function))
    one_way = surface.function in (Function.FLAP, Function.SPOILER)
    up, down = surface.throw_up_deg, surface.throw_down_deg
    # Where only one side of a flap or spoiler is known, nobody said that it goes the other way.
    silent = 0.0 if one_way and (up is not None or down is not None) else usual
    sides = (0.0 if surface.function is Function.FLAP else silent, silent)
    if surface.function is Function.SPOILER and up is None and down is None:
        sides = (usual, 0.0)
    throws = []
    for way, entered, guess in zip(Way, (up, down), sides, strict=True):
        facts.known(surface, "throw_up_deg" if way is Way.UP else "throw_down_deg")
        if entered is None and guess:
            facts.note(defaults.usual_throw.meaning, guess, "deg", Basis.TYPICAL)
        deg = guess if entered is None else entered
        basis = Basis.TYPICAL if entered is None else Basis.MEASURED
        throws.append(_Throw(way, deg, basis, defaults.usual_throw.value(_wing_or_tail(surface.function))))
    return tuple(throws)


def _kind_of(function: Function) -> str:
    if function in (Function.FLAP, Function.SPOILER):
        return str(function)
    return _wing_or_tail(function)


def _wing_or_tail(function: Function) -> str:
    return "tail" if function in TAIL else "wing"


def _of_side(
    airframe: Airframe, surface: Surface, speeds: _Speeds, throw: _Throw, throws: list[_Throw], third: float
) -> list[Demand]:
    if surface.function is Function.SPOILER:
        return [_landing(speeds, throw)]
    if surface.function is Function.FLAP:
        return _flap(speeds, throw, third)
    if surface.used_as_brake and max(throw.deg for throw in throws) > BRAKE_FROM_DEG:
        return _brake(speeds, throw, throws, third)
    return _control(airframe, surface, speeds, throw, third)


def _landing(speeds: _Speeds, throw: _Throw) -> Demand:
    if speeds.own is None:
        speed, angle_deg = speeds.landing_share * speeds.dive, throw.deg
    else:
        speed, angle_deg = speeds.own, min(throw.deg, speeds.own_throw)
    return Demand(
        FlightPoint.LANDING, throw.way, speed, angle_deg, angle_deg,
        Basis.TYPICAL if speeds.own is None else Basis.MEASURED, throw.basis,
    )  # fmt: skip


def _flap(speeds: _Speeds, throw: _Throw, third: float) -> list[Demand]:
    """A flap: a landing aid where it is let out far, a control where it is not, with no step between."""
    if throw.deg > BRAKE_FROM_DEG:
        asked = [_landing(speeds, throw)]
        share = 1.0 - (throw.deg - BRAKE_FROM_DEG) / _CONTROL_FADES_DEG
        if speeds.own is None and share > 0.0:
            asked += _flown(speeds, throw, share * BRAKE_FROM_DEG, third, None)
        return asked
    return _flown(speeds, throw, throw.deg, third, speeds.own)


def _brake(speeds: _Speeds, throw: _Throw, throws: list[_Throw], third: float) -> list[Demand]:
    """A control that is a brake too: the big throw lands, the lesser of its two throws is flown with."""
    both = len(throws) > 1
    working = min(BRAKE_FROM_DEG, *(throw.deg for throw in throws)) if both else 0.0
    asked = [_landing(speeds, throw)] if throw.deg > BRAKE_FROM_DEG else []
    if working >= _LEAST_DEG:
        asked += _flown(speeds, throw, working, third, None)
    return asked


def _flown(
    speeds: _Speeds, throw: _Throw, wanted_deg: float, third: float, own_speed_m_s: float | None
) -> list[Demand]:
    """A working throw in the manoeuvre and a third of it in the dive."""
    told_deg = max(wanted_deg, min(throw.deg, wanted_deg))
    return _pair(speeds, throw, FlightPoint.MANOEUVRE, told_deg, wanted_deg, wanted_deg, third, own_speed_m_s)


def _pair(
    speeds: _Speeds, throw: _Throw, point: FlightPoint, told_deg: float, wanted: float, usual: float,
    third: float, own_speed_m_s: float | None,
) -> list[Demand]:  # fmt: skip
    speed = speeds.full_share * speeds.dive if own_speed_m_s is None else own_speed_m_s
    basis = Basis.TYPICAL if own_speed_m_s is None else Basis.MEASURED
    asked = [Demand(point, throw.way, speed, told_deg, wanted, basis, throw.basis)]
    if speed < speeds.dive:
        asked.append(_dive(speeds, throw, told_deg, usual, third))
    return asked


def _dive(speeds: _Speeds, throw: _Throw, told_deg: float, usual: float, third: float) -> Demand:
    return Demand(
        FlightPoint.DIVE, throw.way, speeds.dive, told_deg, min(told_deg, third * usual), speeds.dive_basis,
        throw.basis,
    )  # fmt: skip


def _control(
    airframe: Airframe, surface: Surface, speeds: _Speeds, throw: _Throw, third: float
) -> list[Demand]:
    told_deg = throw.deg if surface.load_throw_deg is None else min(throw.deg, surface.load_throw_deg)
    if told_deg < _LEAST_DEG:
        return []
    big = airframe.aircraft_class in _BIG_THROWS and throw.deg > throw.usual
    if speeds.own is not None:
        point = FlightPoint.SLOW if big else FlightPoint.MANOEUVRE
        usual = min(told_deg, throw.usual) if big else told_deg
        return _pair(speeds, throw, point, told_deg, told_deg, usual, third, speeds.own)
    if not big:
        return _pair(speeds, throw, FlightPoint.MANOEUVRE, told_deg, told_deg, told_deg, third, None)
    # The bigger the throw over the usual one, the slower it is flown, down to aerobatics of large throws; the
    # manoeuvre speed draws away from there.
    drawn = min(1.0, (throw.deg / throw.usual - 1.0) / _BIG_FADES)
    slow = (speeds.full_share - drawn * max(0.0, speeds.full_share - speeds.slow_share)) * speeds.dive
    share = speeds.full_share + drawn * max(0.0, speeds.manoeuvre_share - speeds.full_share)
    wanted = min(told_deg, throw.usual)
    return [
        Demand(FlightPoint.SLOW, throw.way, slow, throw.deg, throw.deg, Basis.TYPICAL, throw.basis),
        Demand(
            FlightPoint.MANOEUVRE,
            throw.way,
            share * speeds.dive,
            told_deg,
            wanted,
            Basis.TYPICAL,
            throw.basis,
        ),
        _dive(speeds, throw, told_deg, wanted, third),
    ]


def loosest(points: tuple[Demand, ...]) -> Basis:
    """The weakest basis of speeds and throws."""
    bases = (basis for point in points for basis in (point.speed_basis, point.throw_basis))
    return weakest(Basis.COMPUTED, *bases)
