"""How grave a loss of control is: from what is left at the expected load, at the most, and of the torque.

Lines in ``resources/thresholds.toml``; they were set on practice set-ups whose verdict the trade agrees on
(common practice, no source). What is lost weighs more on classes that carry energy into flutter; a servo that
is strong enough and only soft still answers more stick, and weighs less. In the dive of a fast class that is
no help: where a surface does not follow the stick the air is stiffer than what holds it, and it swings.

Two signs of one want make a warning together: control short at the expected load, and half of it gone at the
most. So no verdict hangs on one line alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from hangar.base.values import value_class
from hangar.parts.choices import AircraftClass
from hangar.physics.servo_loop import ServoLoop
from hangar.rules.case import Case
from hangar.rules.finding import Level
from hangar.survey.dive_speed import dive_speed_m_s
from hangar.survey.flight_points import FlightPoint
from hangar.survey.holding import PointControl, SurfaceHold

FAST = frozenset({AircraftClass.JET_TURBINE, AircraftClass.JET_EDF, AircraftClass.SAIL_FAST})
SOFT_FROM_DEG = 5.0
"""From the edge of the dead band to full drive: an analog servo, common practice, no source."""
SOFT_SHARE, STRONG_SHARE = 0.55, 0.70
"""Torque shares up to which being soft is the whole cause, and from which it is none."""
_ENERGY_FROM_M_S, _ENERGY_TO_M_S = 40.0, 60.0
_STIFF_FROM_M_S, _STIFF_TO_M_S = 30.0, 50.0
_WARN_MORE, _CAUTION_MORE = 0.16, 0.10
_SOFT_WARN, _SOFT_CAUTION = 0.50, 0.52

Limit = Callable[[str], float]


@value_class
class LineCase:
    """What the lines of one position depend on.

    Attributes:
        limit: the lines in force.
        aircraft_class: class of the aircraft.
        dive_m_s: its dive speed.
        is_soft: whether its servo needs a large error for full drive.
    """

    limit: Limit
    aircraft_class: AircraftClass | None
    dive_m_s: float
    is_soft: bool

    @classmethod
    def of(
        cls, limit: Limit, aircraft_class: AircraftClass | None, dive_m_s: float, loop: ServoLoop
    ) -> LineCase:
        """The weighing of a servo's loop."""
        return cls(limit, aircraft_class, dive_m_s, loop.softness_deg > SOFT_FROM_DEG)

    @property
    def energy(self) -> float:
        """0 to 1: how much of what is lost turns into flutter."""
        if self.aircraft_class not in FAST:
            return 0.0
        return _ramp(self.dive_m_s, _ENERGY_FROM_M_S, _ENERGY_TO_M_S)

    @property
    def stiffness_weight(self) -> float:
        """0 to 1: how much it matters that a surface follows the stick in the dive."""
        if self.aircraft_class not in FAST:
            return 0.0
        return _ramp(self.dive_m_s, _STIFF_FROM_M_S, _STIFF_TO_M_S)

    def is_loose(self, point: PointControl) -> bool:
        """Whether a point is short because the surface does not follow the stick."""
        weight = self.stiffness_weight if point.point is FlightPoint.DIVE else 0.0
        return point.left >= 1.0 and point.followed < weight * self.limit("control-follow-caution")

    def relieved(self, share: float) -> float:
        """1 where softness is the whole cause of a loss, 0 where it is none of it."""
        if not self.is_soft or self.aircraft_class in FAST:
            return 0.0
        return 1.0 - _ramp(share, SOFT_SHARE, STRONG_SHARE)

    def level(self, point: PointControl) -> Level | None:
        """The level of one point of flight; None where all is well."""
        share, left, at_high = point.torque_share, point.left, point.left_at_high
        warn, caution = self.lines(point.point)
        relief = self.relieved(share)
        fast = _ramp(self.dive_m_s, 47.5, 52.5)
        soft_warn = _SOFT_WARN * _ramp(self.dive_m_s, 37.5, 42.5)
        soft_caution = max(_SOFT_CAUTION * _ramp(self.dive_m_s, 35.0, 40.0), fast * caution)
        warn += relief * (min(warn, soft_warn) - warn)
        caution += relief * (min(caution, soft_caution) - caution)
        kept = max(1.0 - relief, fast)
        # Slow with full throw the angle alone counts: a servo driven back there gives some of it away.
        in_flight = point.point not in (FlightPoint.LANDING, FlightPoint.SLOW)
        most = self.limit("torque-share-most")
        stiff = self.stiffness_weight if point.point is FlightPoint.DIVE else 0.0
        short_at_high = at_high < kept * self.limit("control-high-caution")
        if (left < caution and short_at_high) or point.followed < stiff * self.limit("control-follow-warn"):
            return Level.WARNING
        if left < warn or (in_flight and point.point is not FlightPoint.DIVE and share > most):
            return Level.WARNING
        if left < caution or short_at_high or point.followed < stiff * self.limit("control-follow-caution"):
            return Level.CAUTION
        if in_flight and share > self.limit("torque-share-caution"):
            return Level.CAUTION
        # Relief lowers a level, it never hides one.
        plain = self.lines(point.point)[1]
        if left < plain or at_high < max(plain, self.limit("control-high-advisory")):
            return Level.ADVISORY
        return Level.ADVISORY if share * self.limit("torque-margin") > 1.0 else None

    def lines(self, point: FlightPoint) -> tuple[float, float]:
        """Control left below which it warns, and below which it cautions, where softness is not the cause."""
        if point is FlightPoint.DIVE:
            return self.limit("control-dive-warn"), self.limit("control-dive-caution")
        if point is FlightPoint.LANDING:
            return self.limit("control-landing-warn"), self.limit("control-landing-caution")
        return (
            self.limit("control-warn") + _WARN_MORE * self.energy,
            self.limit("control-caution") + _CAUTION_MORE * self.energy,
        )

    def worst(self, points: Iterable[PointControl]) -> tuple[Level, PointControl] | None:
        """The gravest point of flight: by level, then by what is left; None where all is well."""
        levels = [(level, point) for point in points if (level := self.level(point)) is not None]
        return min(levels, key=lambda pair: (pair[0].rank, pair[1].left), default=None)


def weighing_of(case: Case, holding: SurfaceHold) -> LineCase:
    """How the loss of control of a position is weighed."""
    dive = dive_speed_m_s(case.airframe, holding.question.defaults)
    return LineCase.of(case.limit, case.kind, dive, holding.loop)


def _ramp(value: float, start: float, end: float) -> float:
    return min(1.0, max(0.0, (value - start) / (end - start)))


def lower(level: Level) -> Level | None:
    """One step lower."""
    steps: dict[Level, Level | None] = {Level.WARNING: Level.CAUTION, Level.CAUTION: Level.ADVISORY}
    return steps.get(level)


def no_graver(level: Level | None, most: Level) -> Level | None:
    """A level held to a most."""
    return most if level is not None and level.rank < most.rank else level
