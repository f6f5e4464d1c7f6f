"""How much of the angle that is wanted a surface really holds, at every point of flight.

    control left = angle held / angle wanted

1 is all of it; more than 1 where more can be had than is wanted.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.base.figure import Band, Basis, Figure, weakest
from hangar.base.text import fixed, text
from hangar.base.values import value_class
from hangar.physics.held_angle import Track, held_deg
from hangar.physics.hinge_band import between
from hangar.physics.servo_loop import ServoLoop
from hangar.survey.figures import Facts
from hangar.survey.flight_points import FlightPoint, Way
from hangar.survey.linkages import Drive, track_of
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads import Load, PointLoad
from hangar.survey.surface_air import moments

SOURCE = text(
    "balance of the expected moment with a proportional servo loop; error at full drive common practice, "
    "no source"
)
NEARLY_ALL = 0.9
_SLOWEST_M_S = 2.0
_FASTEST_M_S = 150.0
_ROUNDS = 14


@value_class
class PointControl:
    """One point of flight of one side of a surface, and what is held there.

    Attributes:
        point: what is flown.
        way: which way the surface goes.
        speed_m_s: how fast.
        told_deg: what the stick tells.
        wanted_deg: what is needed.
        held: angle held [deg]: at the most the air may ask, at what is expected, at the least.
        torque_share: expected torque at the wanted angle over stall torque.
        moment_nm: expected moment held at the hinge.
        arm_error_deg: how far the arm is pushed off there.
        basis: of speed and throw, the weaker.
        followed: share of the wanted angle that is held where the stick asks for no more than that; 1 at
            points other than the dive. What is lost there is the stiffness against the air.
    """

    point: FlightPoint
    way: Way
    speed_m_s: float
    told_deg: float
    wanted_deg: float
    held: Band
    torque_share: float
    moment_nm: float
    arm_error_deg: float
    basis: Basis
    followed: float = 1.0

    @property
    def left(self) -> float:
        """Control left at the expected load."""
        return self.held.expected / self.wanted_deg

    @property
    def left_at_high(self) -> float:
        """Control left at the most the air may ask."""
        return self.held.low / self.wanted_deg

    @property
    def left_at_low(self) -> float:
        """Control left at the least the air asks."""
        return self.held.design / self.wanted_deg


@value_class
class SurfaceHold:
    """The servos on a surface against the air.

    Attributes:
        question: what the load rests on.
        load: the air over every point of flight.
        loop: one servo's position loop at the volts that arrive; the softer one where its kind is not known.
        stiffer: the other one there.
        loop_basis: where the loop's numbers come from.
        are_volts_known: False where the lowest rated volts stand in.
    """

    question: LoadQuestion
    load: Load
    loop: ServoLoop
    stiffer: ServoLoop | None
    loop_basis: Basis
    are_volts_known: bool = True

    def points(
        self, loop: ServoLoop | None = None, *, more: float = 1.0, drive: Drive | None = None
    ) -> tuple[PointControl, ...]:
        """Every point of flight, as it is or with another loop, more servos or another linkage."""
        used = loop or self.loop
        gain = more * self.load.gain
        if drive is None:
            return tuple(_control(point, point.track, used, gain) for point in self.load.points)
        held = []
        for point in self.load.points:
            track = track_of(drive, point.asked.way.sign, point.asked.told_deg)
            if track is None or track.angles_deg != point.track.angles_deg:
                return ()
            held.append(_control(point, track, used, gain))
        return tuple(held)

    def at(self, load: PointLoad, loop: ServoLoop) -> PointControl:
        """One point of flight with another loop."""
        return _control(load, load.track, loop, self.load.gain)

    def full_to_m_s(self, point: PointControl) -> float | None:
        """Speed up to which nine tenths of what is told are held at the expected load; None where never."""
        load, shape, air = self._load_of(point), self.load.shape, self.load.air
        if load is None or shape is None or air is None:
            return None
        track, told_deg = load.track, load.asked.told_deg

        def holds(speed_m_s: float) -> bool:
            table = moments(shape, air, speed_m_s, track.angles_deg[-1], load.asked.way)
            gain = self.load.gain / self.load.times
            held = held_deg(track, table.expected, self.loop, told_deg=told_deg, gain=gain)
            return held >= NEARLY_ALL * told_deg

        low, high = _SLOWEST_M_S, _FASTEST_M_S
        if not holds(low):
            return None
        if holds(high):
            return high
        for _ in range(_ROUNDS):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if holds(middle) else (low, middle)
        return low

    def at_speed(self, point: PointControl, speed_m_s: float) -> float | None:
        """Angle held at another speed [deg], with the expected load."""
        load, shape, air = self._load_of(point), self.load.shape, self.load.air
        if load is None or shape is None or air is None:
            return None
        table = moments(shape, air, speed_m_s, load.track.angles_deg[-1], load.asked.way)
        gain = self.load.gain / self.load.times
        return held_deg(load.track, table.expected, self.loop, told_deg=load.asked.told_deg, gain=gain)

    def _load_of(self, point: PointControl) -> PointLoad | None:
        return next(
            (
                load
                for load in self.load.points
                if load.asked.point is point.point
                and load.asked.way is point.way
                and math.isclose(load.asked.speed_m_s, point.speed_m_s)
            ),
            None,
        )


def _control(load: PointLoad, track: Track, loop: ServoLoop, gain: float) -> PointControl:
    asked, table = load.asked, load.moments
    told_deg = asked.told_deg
    expected = held_deg(track, table.expected, loop, told_deg=told_deg, gain=gain)
    at_high = held_deg(track, table.high, loop, told_deg=told_deg, gain=gain)
    at_low = held_deg(track, table.expected, loop, told_deg=told_deg, gain=gain, load_share=table.low_share)
    wanted_moment = load.moment_nm.expected
    followed = 1.0
    if asked.point is FlightPoint.DIVE:
        still = held_deg(track, table.expected, loop, told_deg=asked.wanted_deg, gain=gain)
        followed = still / asked.wanted_deg
    return PointControl(
        asked.point, asked.way, asked.speed_m_s, told_deg, asked.wanted_deg, Band(at_high, expected, at_low),
        wanted_moment * track.ratio_at(asked.wanted_deg) / (gain * loop.stall_torque_nm),
        between(table.angles_deg, table.expected, expected),
        track.travel_at(told_deg) - track.travel_at(expected),
        weakest(asked.speed_basis, asked.throw_basis), followed,
    )  # fmt: skip


def least_left(load: Load, loop: ServoLoop) -> float:
    """Least control left over all points of flight of a surface, at the expected load."""
    return min(
        held_deg(
            point.track, point.moments.expected, loop, told_deg=point.asked.told_deg, gain=load.gain
        ) / point.asked.wanted_deg
        for point in load.points
    )  # fmt: skip


def scarcest(points: tuple[PointControl, ...]) -> PointControl | None:
    """The point at which least control is left."""
    return min(points, key=lambda point: point.left, default=None)


def control_figures(holding: SurfaceHold, points: tuple[PointControl, ...]) -> dict[str, Figure]:
    """Least control left, the angle held and wanted there, and the greatest share of the torque asked."""
    worst = scarcest(points)
    if worst is None:
        return {}
    facts = Facts()
    facts.note("point of flight", text("{point}, {way}", point=worst.point, way=worst.way))
    facts.note("speed there", worst.speed_m_s, "m/s", worst.basis)
    facts.note("deflection told", worst.told_deg, "deg", worst.basis)
    facts.note("deflection wanted", worst.wanted_deg, "deg", worst.basis)
    loop = holding.loop
    facts.note("stall torque there", loop.stall_torque_nm, "N m", holding.loop_basis)
    facts.note("half dead band", loop.dead_band_deg, "deg", holding.loop_basis)
    facts.note("error at full drive", loop.full_drive_deg, "deg", holding.loop_basis)
    facts.note("servos on this surface", holding.load.servos, "count")
    facts.note("moment held there", worst.moment_nm, "N m", holding.load.load_nm.basis)
    facts.note("arm pushed off by", worst.arm_error_deg, "deg")
    held = facts.banded(
        "deflection held in the air", worst.held, "deg",
        "deflection at which the air's moment is held by the servo's loop through the linkage", SOURCE,
    )  # fmt: skip
    control = Facts()
    control.use(held)
    control.note("deflection wanted", worst.wanted_deg, "deg", worst.basis)
    share = max(points, key=lambda point: point.torque_share)
    used = Facts()
    used.use(holding.load.load_nm)
    used.note("stall torque there", loop.stall_torque_nm, "N m", holding.loop_basis)
    return {
        "held_deg": held,
        "wanted_deg": facts.figure(
            "deflection wanted there", worst.wanted_deg, "deg", "what is needed at that point of flight"
        ),
        "control_left": control.banded(
            "control left", Band(worst.left_at_high, worst.left, worst.left_at_low), "ratio",
            "deflection held / deflection wanted, at the point of flight where least is left",
        ),
        "torque_share": used.figure(
            "share of the torque asked", share.torque_share, "ratio",
            "expected load at the wanted deflection / stall torque, at the point of flight where it is most",
        ),
    }  # fmt: skip


def full_to_figure(holding: SurfaceHold, points: tuple[PointControl, ...]) -> Figure | None:
    """Speed up to which full throw is held, of the point at which least control is left."""
    worst = scarcest(points)
    if worst is None:
        return None
    try:
        speed = holding.full_to_m_s(worst)
    except BadInput:
        return None
    if speed is None or speed >= _FASTEST_M_S:
        return None
    facts = Facts()
    facts.note("deflection told", worst.told_deg, "deg", worst.basis)
    facts.note("stall torque there", holding.loop.stall_torque_nm, "N m", holding.loop_basis)
    return facts.figure(
        fixed("full throw up to"), speed, "m/s",
        "speed up to which nine tenths of the deflection told are held at the expected load", SOURCE,
    )  # fmt: skip
