"""How far the air pushes a surface back at the speed its load is worked for; worked when it is asked for."""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.figure import Figure
from hangar.base.text import fixed, text
from hangar.base.values import value_class
from hangar.physics.air import Airflow
from hangar.physics.blowback import Blowback, blowback
from hangar.survey.figures import Facts
from hangar.survey.linkages import Drive
from hangar.survey.loads import HingedCase, Load

SOURCE = text("balance of moments with the expected load; stiffness of the servo common practice, no source")
_EXPECTED_WASH = 0.5


@value_class
class Resting:
    """A hinged surface in its load case against the servos that hold it.

    ``stiffness`` is that of one servo at the surface, ``torque`` what one servo gives, ``ratio`` the
    degrees of surface for each degree of arm there.
    """

    load: Load
    case: HingedCase
    stiffness: Figure
    torque: Figure
    ratio: float
    efficiency: float

    @classmethod
    def of(cls, load: Load | None, drive: Drive, stiffness: Figure | None, torque: Figure) -> Resting | None:
        """What is needed to say where the surface stands; None for all-moving surfaces and rotors."""
        if load is None or stiffness is None or not isinstance(load.case, HingedCase):
            return None
        if not (stiffness.expected > 0.0 and torque.expected > 0.0 and load.deflection_deg):
            return None
        ratio = drive.at(load.deflection_deg).ratio
        return cls(load, load.case, stiffness, torque, ratio, drive.efficiency)

    def figures(self) -> tuple[tuple[str, Figure], ...]:
        """Deflection held and deflection lost; none outside what the load's formulas hold for."""
        limit_nm = self.torque.expected * self.efficiency * self.load.servos / self.ratio
        stiffness = math.degrees(self.stiffness.expected) * self.load.servos
        commanded = abs(self.load.deflection_deg)
        rest = _rest(self.case, commanded, stiffness, limit_nm)
        if rest is None:
            return ()
        facts = Facts()
        facts.note("deflection told", commanded, "deg")
        facts.note("speed of the load", self.case.stream.speed_m_s, "m/s", self.load.load_nm.basis)
        facts.use(self.stiffness)
        facts.note("servos on this surface", self.load.servos, "count")
        facts.note("most moment that they hold at the hinge", limit_nm, "N m", self.torque.basis)
        facts.note("moment held there", rest.moment_nm, "N m")
        formula = fixed(
            "deflection at which the expected hinge moment is held by the servo's torque, which is overrun"
            if rest.overrun
            else "deflection at which the expected hinge moment is held by stiffness of servo and linkage"
        )
        return (
            (
                "held_deg",
                facts.figure("deflection held in the air", rest.deflection_deg, "deg", formula, SOURCE),
            ),
            ("lost_deg", facts.figure("deflection lost to the air", rest.lost_deg, "deg", formula, SOURCE)),
        )


@lru_cache(maxsize=1024)
def _rest(
    case: HingedCase, commanded_deg: float, stiffness_nm_per_rad: float, limit_nm: float
) -> Blowback | None:
    stream = case.stream
    flow = Airflow(stream.speed_m_s, stream.air, _EXPECTED_WASH * stream.wash_pa)
    try:
        return blowback(
            case.flap, flow, commanded_deg=commanded_deg, stiffness_nm_per_rad=stiffness_nm_per_rad,
            alpha_deg=stream.incidence_deg, limit_nm=limit_nm,
        )  # fmt: skip
    except BadInput:
        return None
