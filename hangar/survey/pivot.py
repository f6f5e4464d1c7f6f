"""An all-moving surface that the air may drive away: where it turns, and at which speed it runs away."""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.base.figure import Figure
from hangar.base.text import text
from hangar.base.values import value_class
from hangar.parts import ServoFit
from hangar.parts.choices import SurfaceKind
from hangar.physics.air import Air
from hangar.physics.allmoving import AERODYNAMIC_CENTRE, CAREFUL_CENTRE, divergence_pressure_pa
from hangar.physics.freeplay import hinge_stiffness_nm_per_rad
from hangar.physics.servo_loop import ServoLoop
from hangar.survey.figures import Facts
from hangar.survey.linkages import Drive
from hangar.survey.surface_air import WholeSurface

SOURCE = text("balance of lift about the pivot against the stiffness of servo and rod")


@value_class
class Pivot:
    """Where an all-moving surface turns, and the speeds at which it runs away.

    Attributes:
        fraction: pivot behind the leading edge over mean aerodynamic chord.
        expected_m_s: divergence with the aerodynamic centre at 0.25 of the chord; None where there is none.
        fore_m_s: the same with the centre at 0.22.
    """

    fraction: float
    expected_m_s: Figure | None
    fore_m_s: Figure | None


def pivot_of(
    fit: ServoFit,
    shape: WholeSurface,
    drive: Drive,
    servos: int,
    loop: ServoLoop,
    rod_n_per_mm: float,
    air: Air,
) -> Pivot | None:
    """The pivot of a surface against what holds it; None where the surface is hinged."""
    surface = fit.surface
    if surface is None or surface.span_mm is None or surface.carried is not SurfaceKind.ALL_MOVING:
        return None
    stand = drive.at(0.0)
    slow = math.degrees(loop.stiffness_nm_per_deg)
    horn = math.inf if stand.horn_lever_mm is None else stand.horn_lever_mm
    try:
        held = servos * hinge_stiffness_nm_per_rad(slow, stand.ratio, rod_n_per_mm, horn)
    except BadInput:
        return None
    return Pivot(
        shape.pivot,
        _divergence(surface.span_mm / 1000.0, shape, held, AERODYNAMIC_CENTRE, air),
        _divergence(surface.span_mm / 1000.0, shape, held, CAREFUL_CENTRE, air),
    )


def _divergence(
    span_m: float, shape: WholeSurface, stiffness: float, centre: float, air: Air
) -> Figure | None:
    pressure = divergence_pressure_pa(
        stiffness, area_m2=span_m * shape.whole_chord_m, mean_chord_m=shape.whole_chord_m,
        aspect_ratio=shape.aspect_ratio, pivot_fraction=shape.pivot, centre_fraction=centre,
    )  # fmt: skip
    if not math.isfinite(pressure):
        return None
    facts = Facts()
    facts.note("pivot behind the leading edge", shape.pivot, "ratio")
    facts.note("aerodynamic centre", centre, "ratio")
    facts.note("stiffness that holds it, pushed slowly", stiffness, "N m/rad")
    return facts.figure(
        "speed at which it runs away", math.sqrt(2.0 * pressure / air.density_kg_m3), "m/s",
        "root of 2 x stiffness / (density x area x chord x lift slope x lever)", SOURCE,
    )  # fmt: skip
