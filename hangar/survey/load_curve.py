"""The load at a servo against air speed, beside the torque that the servo has."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.base.figure import Band, Figure
from hangar.physics.air import Air
from hangar.survey.defaults import defaults_with
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads import Load, PointLoad
from hangar.survey.model import Survey
from hangar.survey.position_load import PositionLoad, load_at
from hangar.survey.surface_air import band_at, moments

_FASTEST_M_S = 150.0
_ROUNDS = 30


@dataclass(frozen=True, slots=True)
class LoadCurve:
    """Load at one servo for rising air speeds, at the deflection that is wanted where most is asked.

    ``torque`` is what the servo gives, ``limit_m_s`` the speed at which the expected load reaches it, None
    where it never does; ``load_speed_m_s`` the speed that the survey's load is worked for.
    """

    speeds_m_s: tuple[float, ...]
    loads_nm: tuple[Band, ...]
    load_speed_m_s: float
    torque: Figure | None
    limit_m_s: float | None


def load_curve(surveyed: Survey, position: str, fastest_m_s: float, steps: int = 40) -> LoadCurve | None:
    """The load at a position's servo at the survey's deflection, from standstill to a speed.

    Args:
        surveyed: the survey of the aircraft.
        position: code of the position.
        fastest_m_s: highest speed, above 0.
        steps: number of speeds, 1 or more.

    Returns:
        The curve; None where no air load is known: a rotor, or a missing surface.

    Raises:
        BadInput: a speed or number of steps that is not above 0.
    """
    if not (fastest_m_s > 0.0 and steps > 0):
        raise BadInput(
            "A curve to {fastest:g} m/s in {steps} steps was asked; both must be above 0.",
            fastest=fastest_m_s,
            steps=steps,
        )
    loaded = _load_at(surveyed, position)
    load = None if loaded is None else loaded.load
    worst = None if load is None else load.worst
    if load is None or worst is None:
        return None
    speeds = tuple(fastest_m_s * step / steps for step in range(steps + 1))
    figures = surveyed.positions[position]
    torque = figures.torque_nm
    return LoadCurve(
        speeds, tuple(_load_nm(load, worst, speed) for speed in speeds), worst.asked.speed_m_s, torque,
        None if torque is None else _limit_m_s(load, worst, torque.expected),
    )  # fmt: skip


def _load_nm(load: Load, point: PointLoad, speed_m_s: float) -> Band:
    if load.shape is None or load.air is None or speed_m_s <= 0.0:
        return Band.exactly(0.0)
    asked = point.asked
    table = moments(load.shape, load.air, speed_m_s, point.track.angles_deg[-1], asked.way)
    return band_at(table, asked.wanted_deg) * (
        load.times * point.track.ratio_at(asked.wanted_deg) / load.gain
    )


def _limit_m_s(load: Load, point: PointLoad, torque_nm: float) -> float | None:
    low, high = 0.0, _FASTEST_M_S
    if _load_nm(load, point, high).expected < torque_nm:
        return None
    for _ in range(_ROUNDS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _load_nm(load, point, middle).expected < torque_nm else (low, middle)
    return low


def _load_at(surveyed: Survey, position: str) -> PositionLoad | None:
    aircraft, conditions = surveyed.aircraft, surveyed.conditions
    fit = aircraft.fit(position)
    if fit is None:
        return None
    defaults = defaults_with(conditions.defaults)
    air = Air.at(conditions.altitude_m, conditions.air_c)
    return load_at(LoadQuestion.of(aircraft, fit, air, defaults))
