"""Where a servo arm drives a control horn through one rod with a ball or clevis at each end.

The rod keeps its length, so the horn angle follows from the arm angle in closed form; the same
solution holds for arms in one plane and for axes skewed in space. Levers, and with them the ratio
of turning speeds and of torques, follow from virtual work without friction.

Source: the "A cos + B sin = C" form of the four-bar and of the two-pivot, two-ball linkage; Freudenstein,
"Approximate Synthesis of Four-Bar Linkages", Trans. ASME 77, 1955; Suh and Radcliffe, "Kinematics and
Mechanisms Design", 1978 (both from memory, unverified; the derivation stands on its own).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Self

from hangar.base.errors import BadInput, Unreachable
from hangar.base.text import Text, text
from hangar.base.values import value_class
from hangar.physics.link_position import LinkPosition
from hangar.physics.vectors import Vector, across, as_vector, cross, dot, plus, scaled, unit_vector

_Z_AXIS: Vector = (0.0, 0.0, 1.0)
_X_AXIS: Vector = (1.0, 0.0, 0.0)
_Y_AXIS: Vector = (0.0, 1.0, 0.0)
_ROUNDING = 1e-12


def wrapped_deg(angle_deg: float, around_deg: float = 0.0) -> float:
    """The same direction, told within 180 deg of ``around_deg``.

    Raises:
        BadInput: an angle that is not finite.

    >>> wrapped_deg(350.0)
    -10.0
    """
    if not math.isfinite(angle_deg - around_deg):
        raise BadInput(
            "angles of {first} and {second} deg were given; finite numbers are wanted.",
            first=angle_deg,
            second=around_deg,
        )
    away = math.remainder(angle_deg - around_deg, 360.0)
    return around_deg + (180.0 if away == -180.0 else away)


@dataclass(frozen=True, slots=True)
class RodLink:
    """A servo arm, a rod and a control horn.

    Args:
        servo_axis: direction of the output shaft; right-handed turns count positive.
        servo_pivot: a point on the shaft axis, mm.
        servo_zero: direction of the arm at servo angle zero, square to the shaft.
        arm_mm: shaft to rod end on the arm, above 0.
        servo_offset_mm: distance of the arm's plane along the shaft from ``servo_pivot``.
        horn_axis: direction of the hinge line.
        horn_pivot: a point on the hinge line, mm.
        horn_zero: direction of the horn at horn angle zero, square to the hinge.
        horn_mm: hinge to rod end on the horn, above 0.
        horn_offset_mm: distance of the horn's plane along the hinge from ``horn_pivot``.
        rod_mm: rod length between the two ends, above 0.
        branch: +1 or -1, which of the two ways the linkage is assembled; it never changes in use.
        servo_neutral_deg: servo angle that travel is counted from.
        horn_neutral_deg: horn angle at neutral; horn angles are told within 180 deg of it.

    Raises:
        BadInput: a length that is not above 0, a direction without length or not square to its axis.

    >>> four_bar = RodLink.planar(40, 80, 120, (100, 0), branch=1)
    >>> round(four_bar.at(40.0).horn_deg, 3)
    57.325
    """

    servo_axis: Sequence[float]
    servo_pivot: Sequence[float]
    servo_zero: Sequence[float]
    arm_mm: float
    servo_offset_mm: float
    horn_axis: Sequence[float]
    horn_pivot: Sequence[float]
    horn_zero: Sequence[float]
    horn_mm: float
    horn_offset_mm: float
    rod_mm: float
    branch: int
    servo_neutral_deg: float = 0.0
    horn_neutral_deg: float = 0.0
    _servo: _Pivot = field(init=False, repr=False, compare=False)
    _horn: _Pivot = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        for name in ("arm_mm", "horn_mm", "rod_mm"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value > 0.0):
                raise BadInput("{name} is {value:g}; a length above 0 mm is wanted.", name=name, value=value)
        if self.branch not in (1, -1):
            raise BadInput("branch is {branch}; +1 or -1 is wanted.", branch=self.branch)
        servo = _Pivot.of(
            *self._told("servo_axis", "servo_pivot", "servo_zero"), self.servo_offset_mm, "servo"
        )
        horn = _Pivot.of(*self._told("horn_axis", "horn_pivot", "horn_zero"), self.horn_offset_mm, "horn")
        object.__setattr__(self, "_servo", servo)
        object.__setattr__(self, "_horn", horn)

    def _told(self, *names: str) -> tuple[Vector, Vector, Vector]:
        """The named directions and points, checked and kept as vectors."""
        vectors = []
        for name in names:
            vectors.append(as_vector(getattr(self, name), name))
            object.__setattr__(self, name, vectors[-1])
        return vectors[0], vectors[1], vectors[2]

    @classmethod
    def planar(
        cls,
        arm_mm: float,
        horn_mm: float,
        rod_mm: float,
        horn_pivot_mm: tuple[float, float],
        branch: int = 1,
    ) -> Self:
        """A linkage in one plane: shaft at the origin, angles counted from the x direction."""
        return cls(
            servo_axis=_Z_AXIS,
            servo_pivot=(0.0, 0.0, 0.0),
            servo_zero=_X_AXIS,
            arm_mm=arm_mm,
            servo_offset_mm=0.0,
            horn_axis=_Z_AXIS,
            horn_pivot=(*horn_pivot_mm, 0.0),
            horn_zero=_X_AXIS,
            horn_mm=horn_mm,
            horn_offset_mm=0.0,
            rod_mm=rod_mm,
            branch=branch,
        )

    @classmethod
    def planar_from_neutral(
        cls,
        arm_mm: float,
        horn_mm: float,
        horn_pivot_mm: tuple[float, float],
        arm_neutral_deg: float = 90.0,
        horn_neutral_deg: float = 90.0,
    ) -> Self:
        """A linkage in one plane whose rod length follows from how arm and horn stand at neutral.

        >>> round(RodLink.planar_from_neutral(15, 20, (90, -4), 110, 90).rod_mm, 4)
        95.1494
        """
        trial = cls.planar(arm_mm, horn_mm, 1.0, horn_pivot_mm)
        return trial.fitted(arm_neutral_deg, horn_neutral_deg)

    @classmethod
    def from_rod(
        cls,
        arm_mm: float,
        horn_mm: float,
        rod_mm: float,
        arm_to_rod_deg: float = 90.0,
        horn_to_rod_deg: float = 90.0,
        *,
        opposite_sides: bool = False,
    ) -> Self:
        """A linkage in one plane told by rod length and by the angles to the rod at neutral.

        Args:
            arm_mm: arm radius.
            horn_mm: horn radius.
            rod_mm: pin to pin length.
            arm_to_rod_deg: angle from the rod's direction (servo to horn) to the arm; above 90 leans away.
            horn_to_rod_deg: angle from the same direction to the horn.
            opposite_sides: the horn stands on the other side of the rod line, so it turns the other way.

        >>> link = RodLink.from_rod(15, 20, 120)
        >>> round(link.at_travel(45.0).horn_deg - link.horn_neutral_deg, 3)
        32.053
        """
        horn_deg = -horn_to_rod_deg if opposite_sides else horn_to_rod_deg
        arm, horn = math.radians(arm_to_rod_deg), math.radians(horn_deg)
        pivot = (
            arm_mm * math.cos(arm) + rod_mm - horn_mm * math.cos(horn),
            arm_mm * math.sin(arm) - horn_mm * math.sin(horn),
        )
        return cls.planar_from_neutral(arm_mm, horn_mm, pivot, arm_to_rod_deg, horn_deg)

    def fitted(self, servo_neutral_deg: float, horn_neutral_deg: float) -> Self:
        """The same pivots with the rod cut so that arm and horn stand as given at neutral.

        Raises:
            BadInput: the two rod ends meet, or the horn would stand at its dead point.
        """
        servo_end = self._servo.end(self.arm_mm, servo_neutral_deg)
        horn_end = self._horn.end(self.horn_mm, horn_neutral_deg)
        rod = plus(horn_end, servo_end, -1.0)
        length = math.hypot(*rod)
        if length < 1e-6:
            raise BadInput("the rod has no length at neutral; arm end and horn end must lie apart.")
        lever = dot(rod, self._horn.speed(horn_end)) / length
        if abs(lever) < 1e-9 * self.horn_mm:
            raise BadInput("the horn stands at its dead point at neutral; turn it away from the rod line.")
        # The pivots are checked already and stay; making the link anew would check them again.
        link = object.__new__(type(self))
        put = object.__setattr__
        for slot in RodLink.__slots__:
            put(link, slot, getattr(self, slot))
        put(link, "rod_mm", length)
        put(link, "branch", -1 if lever > 0.0 else 1)
        put(link, "servo_neutral_deg", servo_neutral_deg)
        put(link, "horn_neutral_deg", horn_neutral_deg)
        return link

    def at(self, servo_deg: float) -> LinkPosition:
        """The position of the linkage at a servo angle.

        Args:
            servo_deg: angle of the arm from ``servo_zero``.

        Returns:
            Horn angle, levers, ratios and angles of the rod there.

        Raises:
            Unreachable: the rod is too long or too short to reach from arm to horn.
        """
        servo_end, horn_end, rod, horn_deg = self._ends(servo_deg)
        servo_lever = dot(rod, self._servo.speed(servo_end))
        horn_lever = dot(rod, self._horn.speed(horn_end))
        return LinkPosition(
            servo_deg=servo_deg,
            horn_deg=horn_deg,
            servo_lever_mm=servo_lever,
            horn_lever_mm=horn_lever,
            transmission_deg=_asin_deg(abs(horn_lever) / self.horn_mm),
            servo_transmission_deg=_asin_deg(abs(servo_lever) / self.arm_mm),
            servo_ball_tilt_deg=_asin_deg(dot(rod, self._servo.axis)),
            horn_ball_tilt_deg=_asin_deg(dot(rod, self._horn.axis)),
            rod_direction=rod,
            servo_end_mm=servo_end,
            horn_end_mm=horn_end,
        )

    def _ends(self, servo_deg: float) -> tuple[Vector, Vector, Vector, float]:
        """Where arm and horn end, the rod's direction, and the horn's angle."""
        if not math.isfinite(servo_deg):
            raise BadInput(
                "a servo angle of {angle} deg was given; a finite number is wanted.", angle=servo_deg
            )
        servo_end = self._servo.end(self.arm_mm, servo_deg)
        horn_deg = wrapped_deg(self._horn_angle(servo_end, servo_deg), self.horn_neutral_deg)
        horn_end = self._horn.end(self.horn_mm, horn_deg)
        return servo_end, horn_end, scaled(plus(horn_end, servo_end, -1.0), 1.0 / self.rod_mm), horn_deg

    def levers_at_travel(self, travel_deg: float) -> tuple[float, float, float]:
        """Horn angle, lever at the servo and lever at the horn at a travel: a part of :meth:`at_travel`.

        >>> link = RodLink.from_rod(15, 20, 120)
        >>> there = link.at_travel(30.0)
        >>> link.levers_at_travel(30.0) == (there.horn_deg, there.servo_lever_mm, there.horn_lever_mm)
        True
        """
        servo_end, horn_end, rod, horn_deg = self._ends(self.servo_neutral_deg + travel_deg)
        return horn_deg, dot(rod, self._servo.speed(servo_end)), dot(rod, self._horn.speed(horn_end))

    def at_travel(self, travel_deg: float) -> LinkPosition:
        """The position at a servo travel counted from neutral."""
        return self.at(self.servo_neutral_deg + travel_deg)

    def deflection_deg(self, travel_deg: float) -> float:
        """How far the horn has turned from its neutral at a servo travel."""
        return self.at_travel(travel_deg).horn_deg - self.horn_neutral_deg

    def reach_margin(self, servo_deg: float) -> float:
        """How far the rod is from its limit: 1 at best, 0 at the dead point, below 0 it cannot close."""
        along, square, wanted = self._closure(self._servo.end(self.arm_mm, servo_deg))
        size = math.hypot(along, square)
        return 1.0 - abs(wanted) / size if size > 0.0 else -math.inf

    def reversed(self) -> Self:
        """The same linkage driven from the horn: its servo angle is the horn's and the other way round.

        The branch is that of the neutral position, so the neutral must be one the linkage can take.
        """
        turned = replace(
            self,
            servo_axis=self.horn_axis,
            servo_pivot=self.horn_pivot,
            servo_zero=self.horn_zero,
            arm_mm=self.horn_mm,
            servo_offset_mm=self.horn_offset_mm,
            horn_axis=self.servo_axis,
            horn_pivot=self.servo_pivot,
            horn_zero=self.servo_zero,
            horn_mm=self.arm_mm,
            horn_offset_mm=self.servo_offset_mm,
        )
        neutral = self.at(self.servo_neutral_deg)
        return replace(turned.fitted(neutral.horn_deg, neutral.servo_deg), rod_mm=self.rod_mm)

    def _closure(self, servo_end: Vector) -> tuple[float, float, float]:
        """P, Q and R of ``P cos(horn) + Q sin(horn) = R``."""
        gap = plus(self._horn.centre, servo_end, -1.0)
        twice = 2.0 * self.horn_mm
        wanted = self.rod_mm**2 - dot(gap, gap) - self.horn_mm**2
        return twice * dot(gap, self._horn.first), twice * dot(gap, self._horn.second), wanted

    def _horn_angle(self, servo_end: Vector, servo_deg: float) -> float:
        along, square, wanted = self._closure(servo_end)
        size = math.hypot(along, square)
        if not abs(wanted) <= size * (1.0 + _ROUNDING) or size == 0.0:
            raise Unreachable(self._too_far(servo_end, servo_deg, size))
        # atan2 of the leg keeps its accuracy at the dead point, where acos loses half the digits.
        leg = math.sqrt(max(0.0, (size - wanted) * (size + wanted)))
        return math.degrees(math.atan2(square, along) + self.branch * math.atan2(leg, wanted))

    def _too_far(self, servo_end: Vector, servo_deg: float, size: float) -> Text:
        gap = plus(self._horn.centre, servo_end, -1.0)
        middle = dot(gap, gap) + self.horn_mm**2
        shortest, longest = math.sqrt(max(0.0, middle - size)), math.sqrt(middle + size)
        return text(
            "the rod of {rod:.2f} mm cannot close at servo angle {angle:.2f} deg: "
            "the ends there can be {shortest:.2f} to {longest:.2f} mm apart.",
            rod=self.rod_mm,
            angle=servo_deg,
            shortest=shortest,
            longest=longest,
        )


@value_class
class _Pivot:
    """One pivot with its arm's plane: centre, axis and the two directions angles are counted in."""

    centre: Vector
    axis: Vector
    first: Vector
    second: Vector

    @classmethod
    def of(
        cls,
        axis: Vector,
        pivot: Vector,
        zero: Vector,
        offset_mm: float,
        name: str,
    ) -> _Pivot:
        if not math.isfinite(offset_mm):
            raise BadInput(
                "{name}_offset_mm is {offset}; a finite number is wanted.", name=name, offset=offset_mm
            )
        if axis == _Z_AXIS and zero == _X_AXIS:
            return cls(plus(pivot, _Z_AXIS, offset_mm), _Z_AXIS, _X_AXIS, _Y_AXIS)
        unit = unit_vector(axis, f"{name}_axis")
        first = across(zero, unit, f"{name}_zero")
        return cls(plus(pivot, unit, offset_mm), unit, first, cross(unit, first))

    def end(self, radius_mm: float, angle_deg: float) -> Vector:
        """Where the rod end at this radius stands."""
        angle = math.radians(angle_deg)
        outward = plus(scaled(self.first, math.cos(angle)), self.second, math.sin(angle))
        return plus(self.centre, outward, radius_mm)

    def speed(self, end: Vector) -> Vector:
        """How the rod end moves for one radian of turn."""
        return cross(self.axis, plus(end, self.centre, -1.0))


def _asin_deg(sine: float) -> float:
    return math.degrees(math.asin(max(-1.0, min(1.0, sine))))
