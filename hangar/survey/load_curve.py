"""The load at a servo against air speed, beside the torque that the servo has."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hangar.base.errors import BadInput
from hangar.base.figure import Band, Figure
from hangar.physics.air import Air
from hangar.physics.hinge_moment import servo_torque_nm
from hangar.survey.defaults import defaults_with
from hangar.survey.load_question import LoadQuestion
from hangar.survey.model import Survey
from hangar.survey.position_load import PositionLoad, load_at


@dataclass(frozen=True, slots=True)
class LoadCurve:
    """Load at one servo for rising air speeds.

    ``torque`` is what the servo gives, ``limit`` the speed at which the design load reaches it,
    ``load_speed_m_s`` the speed that the survey's load is worked for.
    """

    speeds_m_s: tuple[float, ...]
    loads_nm: tuple[Band, ...]
    load_speed_m_s: float
    torque: Figure | None
    limit: Figure | None


def load_curve(surveyed: Survey, position: str, fastest_m_s: float, steps: int = 40) -> LoadCurve | None:
    """The load at a position's servo at the survey's deflection, from standstill to a speed.

    Args:
        surveyed: the survey of the aircraft.
        position: code of the position.
        fastest_m_s: highest speed, above 0.
        steps: number of speeds, 1 or more.

    Returns:
        The curve; None where no air load is known: a rotor, a missing surface or linkage.

    Raises:
        BadInput: a speed or number of steps that is not above 0.

    Valid for: as far as the load's own formulas hold; speeds outside that are left out.
    """
    if not (fastest_m_s > 0.0 and steps > 0):
        raise BadInput(
            "A curve to {fastest:g} m/s in {steps} steps was asked; both must be above 0.",
            fastest=fastest_m_s,
            steps=steps,
        )
    loaded = _load_at(surveyed, position)
    if loaded is None or loaded.load is None or loaded.load.case is None or loaded.drive is None:
        return None
    load, case = loaded.load, loaded.load.case
    ratio = loaded.drive.at(load.deflection_deg).ratio
    speeds: list[float] = [0.0]
    loads = [Band.exactly(0.0)]
    for step in range(1, steps + 1):
        speed = fastest_m_s * step / steps
        there = replace(case, stream=replace(case.stream, speed_m_s=speed))
        try:
            moment = there.moment_nm(abs(load.deflection_deg))
        except BadInput:
            continue
        speeds.append(speed)
        loads.append(servo_torque_nm(moment, 1.0 / ratio, loaded.drive.efficiency) / load.servos)
    if len(speeds) < 2:
        return None
    figures = surveyed.positions[position]
    return LoadCurve(
        tuple(speeds), tuple(loads), case.stream.speed_m_s, figures.torque_nm, figures.enough_to_m_s
    )


def _load_at(surveyed: Survey, position: str) -> PositionLoad | None:
    aircraft, conditions = surveyed.aircraft, surveyed.conditions
    fit = aircraft.fit(position)
    if fit is None:
        return None
    defaults = defaults_with(conditions.defaults)
    air = Air.at(conditions.altitude_m, conditions.air_c)
    return load_at(LoadQuestion.of(aircraft, fit, air, defaults))
