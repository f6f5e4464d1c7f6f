"""What is left of the control wanted over a servo's torque, and the torque from which no check complains.

A surface asks more of a soft servo than of a stiff one, so both are worked for each kind of position loop.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from hangar.parts import ServoFit
from hangar.physics.servo_loop import ServoLoop
from hangar.refit.curves import Floats
from hangar.refit.limits import MOST_RESERVE
from hangar.rules.control_levels import Limit, LineCase
from hangar.rules.finding import Level
from hangar.survey.defaults import Defaults
from hangar.survey.holding import SurfaceHold, least_left
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads import Load
from hangar.survey.strength import loops_of

_LEAST_TIMES, _MOST_TIMES, _ROWS = 0.1, 60.0, 40
_ROUNDS = 14


@dataclass(frozen=True)
class Grade:
    """One position under one kind of loop.

    Attributes:
        torques_nm: stall torques, rising.
        reserves: reserve at each of them, at most 1.5.
        needed_nm: torque from which no check complains; infinite where no torque helps.
    """

    torques_nm: Floats
    reserves: Floats
    needed_nm: float

    def reserve_at(self, torque_nm: Floats) -> Floats:
        """The reserve at torques."""
        return np.interp(torque_nm, self.torques_nm, self.reserves)


@dataclass(frozen=True)
class GradeRule:
    """How the torque at a position is graded: by its surface, or against the load of a rotor."""

    load: Load
    question: LoadQuestion
    limit: Limit
    dive_m_s: float
    wanted: float

    def of(self, dead_band_deg: float, full_drive_deg: float) -> Grade:
        """The grade of servos with such a loop."""
        return _grade(self, dead_band_deg, full_drive_deg)

    def __hash__(self) -> int:
        return hash((self.question.code, self.wanted, self.load.load_nm.expected))

    @property
    def likeness(self) -> tuple[float, ...]:
        """What is the same of two positions that ask the same."""
        return (
            self.wanted, self.load.load_nm.expected,
            *(each.needed_nm.expected for each in self.load.points),
        )  # fmt: skip


def loop_shape(fit: ServoFit, defaults: Defaults) -> tuple[float, float]:
    """Dead band and error at full drive of the servo at a position [deg]; those of a digital without one."""
    loop, _ = loops_of(fit, 1.0, defaults)
    if loop is None:
        return 0.0, defaults.full_drive.value("digital")
    return loop.dead_band_deg, loop.full_drive_deg


@lru_cache(maxsize=1024)
def _grade(grading: GradeRule, dead_band_deg: float, full_drive_deg: float) -> Grade:
    load_nm = grading.load.load_nm.expected
    if not grading.load.points:
        return Grade(
            np.array([0.0, MOST_RESERVE * load_nm]), np.array([0.0, MOST_RESERVE]), grading.wanted * load_nm
        )
    times = np.geomspace(_LEAST_TIMES, _MOST_TIMES, _ROWS)
    torques = np.concatenate(([0.0], times * load_nm))
    found = [0.0]
    for torque in torques[1:]:
        loop = ServoLoop(float(torque), dead_band_deg, full_drive_deg)
        found.append(min(MOST_RESERVE, least_left(grading.load, loop)))
    # Straight lines lie below a curve that flattens; where it does not, half a hundredth keeps them there.
    return Grade(torques, 0.995 * np.array(found), _needed_nm(grading, dead_band_deg, full_drive_deg))


def _needed_nm(grading: GradeRule, dead_band_deg: float, full_drive_deg: float) -> float:
    load_nm = grading.load.load_nm.expected

    def enough(times: float) -> bool:
        loop = ServoLoop(times * load_nm, dead_band_deg, full_drive_deg)
        weighing = LineCase.of(
            grading.limit, grading.question.airframe.aircraft_class, grading.dive_m_s, loop
        )
        holding = SurfaceHold(grading.question, grading.load, loop, None, grading.load.load_nm.basis)
        found = weighing.worst(holding.points())
        return found is None or found[0] is Level.ADVISORY

    low, high = _LEAST_TIMES, _MOST_TIMES
    if not enough(high):
        return math.inf
    for _ in range(_ROUNDS):
        middle = math.sqrt(low * high)
        low, high = (low, middle) if enough(middle) else (middle, high)
    return grading.wanted * high * load_nm
