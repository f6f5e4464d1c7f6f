"""What the air asks of a servo at every point of flight, carried through its linkage."""

from __future__ import annotations

from hangar.base.errors import BadInput
from hangar.base.figure import Band, Figure
from hangar.base.text import text
from hangar.base.values import value_class
from hangar.physics.air import Air
from hangar.physics.held_angle import Track
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts
from hangar.survey.flight_points import Demand, asked_of
from hangar.survey.linkages import Drive, assumed_drive, track_of
from hangar.survey.load_question import LoadQuestion
from hangar.survey.surface_air import Moments, Shape, band_at, moments, shape_of

SOURCE = text(
    "H = q I Ch: thin-section slopes, lifting line, separated plate, camber and bubble allowance; "
    "incidence by class"
)
_LOAD_SOURCE = text("{source}; virtual work", source=SOURCE)
_LEAST_REACH_DEG = 1.0


@value_class
class PointLoad:
    """One point of flight of a surface with what the air asks there.

    Attributes:
        asked: the point, with told and wanted angle held to what the linkage reaches.
        track: the linkage over that side.
        moments: moments of the air over that side.
        needed_nm: torque at each servo at the wanted angle.
        moment_nm: moment of the whole surface at the wanted angle.
    """

    asked: Demand
    track: Track
    moments: Moments
    needed_nm: Band
    moment_nm: Band


@value_class
class Load:
    """What a servo has to hold at the angles that are wanted, where that is most.

    A rotor load has no points. ``reaches`` says whether the linkage reaches every throw, ``drive`` is the one
    assumed where ``is_drive_known`` says that arm and horn are not known. ``times`` is what pilots have told
    of it, which stands in points and figure already.
    """

    load_nm: Figure
    servos: int = 1
    points: tuple[PointLoad, ...] = ()
    shape: Shape | None = None
    air: Air | None = None
    drive: Drive | None = None
    is_drive_known: bool = True
    times: float = 1.0

    @property
    def worst(self) -> PointLoad | None:
        """The point at which most is asked."""
        return max(self.points, key=lambda point: point.needed_nm.expected, default=None)

    @property
    def gain(self) -> float:
        """Servos on the surface times the share of their work that arrives."""
        return self.servos * (1.0 if self.drive is None else self.drive.efficiency)


def surface_load(
    question: LoadQuestion, drive: Drive | None, air: Air, defaults: Defaults, facts: Facts
) -> tuple[Figure | None, Load | None]:
    """Hinge moment of the surface at a position and the load it puts on each of its servos.

    Args:
        question: the position with its surface and airframe; servos sharing the surface share the load.
        drive: its linkage, or None when that is not known: then a usual one is assumed.
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
        shape = shape_of(question.airframe, surface, air, defaults, facts)
        if shape is None:
            return None, None
        asked = asked_of(question.airframe, surface, defaults, facts)
        if not asked:
            facts.lack(text("surface {surface}: throw", surface=surface.code))
            return None, None
        return _load(question, shape, asked, drive, air, defaults, facts)
    except BadInput as fault:
        facts.lack(text("surface {surface}: {fault}", surface=surface.code, fault=fault.text))
        return None, None


def _load(
    question: LoadQuestion, shape: Shape, asked: tuple[Demand, ...], drive: Drive | None,
    air: Air, defaults: Defaults, facts: Facts,
) -> tuple[Figure | None, Load | None]:  # fmt: skip
    facts.note("air density", air.density_kg_m3, "kg/m3")
    greatest = max(wanted.told_deg for wanted in asked)
    used = assumed_drive(question.linkage, greatest, defaults, facts) if drive is None else drive
    points = tuple(
        point for wanted in asked if (point := _point(wanted, used, shape, air, question.servos)) is not None
    )
    if not points:
        facts.lack(
            text(
                "linkage {position}: it does not reach {angle:.0f}° of deflection",
                position=question.code, angle=greatest,
            )
        )  # fmt: skip
        return None, None
    worst = max(points, key=lambda point_load: point_load.needed_nm.expected)
    there = worst.asked
    facts.note("point of flight", there.point)
    facts.note("speed there", there.speed_m_s, "m/s", there.speed_basis)
    facts.note("deflection wanted there", there.wanted_deg, "deg", there.throw_basis)
    moment = facts.banded(
        "hinge moment",
        worst.moment_nm,
        "N m",
        "dynamic pressure x span x chord behind the hinge squared x hinge-moment coefficient",
        SOURCE,
    )
    facts.note(
        "degrees of surface for each degree of arm there", worst.track.ratio_at(there.wanted_deg), "ratio"
    )
    if question.servos > 1:
        facts.note("servos on this surface", question.servos, "count")
    load = facts.banded(
        "load at the servo",
        worst.needed_nm,
        "N m",
        "hinge moment x degrees of surface for each degree of arm / efficiency / servos on the surface, "
        "at the point of flight where it is most",
        _LOAD_SOURCE,
    )
    return moment, Load(load, question.servos, points, shape, air, used, drive is not None)


def _point(asked: Demand, drive: Drive, shape: Shape, air: Air, servos: int) -> PointLoad | None:
    track = track_of(drive, asked.way.sign, asked.told_deg)
    if track is None:
        return None
    reach = track.angles_deg[-1]
    if reach < min(_LEAST_REACH_DEG, asked.told_deg):
        return None
    if reach < asked.told_deg:
        asked = Demand(
            asked.point, asked.way, asked.speed_m_s, reach, min(asked.wanted_deg, reach), asked.speed_basis,
            asked.throw_basis,
        )  # fmt: skip
    table = moments(shape, air, asked.speed_m_s, reach, asked.way)
    moment = band_at(table, asked.wanted_deg)
    per_servo = track.ratio_at(asked.wanted_deg) / (drive.efficiency * servos)
    return PointLoad(asked, track, table, moment * per_servo, moment)
