"""How a servo moves: angle against time under a steady load, and time to an angle.

Source: equation of motion of a linear torque-speed line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.errors import BadInput, NoAnswer
from hangar.base.text import fixed
from hangar.physics.checks import finite

TYPICAL_TIME_CONSTANT_S = 0.020
"""Where rotor inertia is unknown; an assumption, typical values are 0.010 to 0.040 s."""


def output_inertia_kg_m2(
    rotor_kg_m2: float, gear_ratio: float, surface_kg_m2: float = 0.0, velocity_ratio: float = 1.0
) -> float:
    """Inertia felt at the output: rotor times gear ratio squared plus surface times linkage ratio squared.

    Args:
        rotor_kg_m2: Inertia of the motor's rotor.
        gear_ratio: Motor turns for one turn of the output.
        surface_kg_m2: Inertia of the surface about its hinge.
        velocity_ratio: Surface angle over servo angle.

    Raises:
        BadInput: an inertia below 0, or a ratio that is not finite.

    >>> output_inertia_kg_m2(1e-8, 300.0, 0.004, 0.5)
    0.0019
    """
    finite(
        rotor_kg_m2=rotor_kg_m2,
        gear_ratio=gear_ratio,
        surface_kg_m2=surface_kg_m2,
        velocity_ratio=velocity_ratio,
    )
    return rotor_kg_m2 * gear_ratio**2 + surface_kg_m2 * velocity_ratio**2


def step_time_s(
    *,
    stall_torque_nm: float,
    no_load_rad_s: float,
    inertia_kg_m2: float,
    load_torque_nm: float,
    angle_deg: float,
) -> float:
    """Time from rest to an angle at full drive against a steady torque.

    Args:
        stall_torque_nm: Stall torque at the volts at the plug, more than 0.
        no_load_rad_s: No-load speed at those volts, more than 0.
        inertia_kg_m2: Inertia at the output, 0 or more.
        load_torque_nm: Torque against the movement; negative helps it.
        angle_deg: Angle to turn; 0 or more.

    Returns:
        Seconds: Tm (1 + a + W0(-exp(-(1 + a)))) with a = angle/(speed Tm), Tm = J w0/T.

    Raises:
        BadInput: An impossible value.
        NoAnswer: The load stalls the servo: it never arrives.

    Valid for: full drive all the way, linear torque-speed line; the stop at the end is not counted.
        A catalogue time for 60 degrees may already hold part of the run-up.

    Source: equation of motion of the linear motor, solved with the Lambert W function (R. Corless
        et al., "On the Lambert W function", Adv. Comput. Math. 5 (1996) 329-359).

    >>> round(step_time_s(stall_torque_nm=1.5, no_load_rad_s=9.5, inertia_kg_m2=2e-3,
    ...                   load_torque_nm=0.5, angle_deg=60.0), 5)
    0.17801
    """
    motion = Motion.of(
        stall_torque_nm=stall_torque_nm,
        no_load_rad_s=no_load_rad_s,
        inertia_kg_m2=inertia_kg_m2,
        load_torque_nm=load_torque_nm,
        angle_deg=angle_deg,
    )
    if not math.isfinite(motion.duration_s):
        raise NoAnswer(
            "the servo never arrives: a load of {load_torque:g} N m stalls its {stall_torque:g} N m",
            load_torque=load_torque_nm,
            stall_torque=stall_torque_nm,
        )
    return motion.duration_s


@dataclass(frozen=True, slots=True)
class Motion:
    """One servo's run to an angle.

    Attributes:
        settled_rad_s: Speed it runs up to against the load; 0 when the load stalls it.
        time_constant_s: Time constant of the run-up.
        target_deg: Angle to turn.
        duration_s: When it arrives; infinite when it never does.
    """

    settled_rad_s: float
    time_constant_s: float
    target_deg: float
    duration_s: float

    @classmethod
    def of(
        cls,
        *,
        stall_torque_nm: float,
        no_load_rad_s: float,
        inertia_kg_m2: float,
        load_torque_nm: float,
        angle_deg: float,
    ) -> Motion:
        """The run of a servo; a stalled one is a motion that never arrives.

        Raises:
            BadInput: An impossible value.

        >>> Motion.of(stall_torque_nm=1.0, no_load_rad_s=8.0, inertia_kg_m2=1e-3,
        ...           load_torque_nm=1.2, angle_deg=60.0).duration_s
        inf
        """
        for name, value, least in (
            ("stall torque", stall_torque_nm, None),
            ("no-load speed", no_load_rad_s, None),
            ("inertia", inertia_kg_m2, 0.0),
            ("angle", angle_deg, 0.0),
        ):
            if not math.isfinite(value) or value < 0.0 or (least is None and value == 0.0):
                allowed = "more than 0" if least is None else "0 or more"
                raise BadInput(
                    "a servo's {name} of {value:g} was found; {allowed} is allowed",
                    name=fixed(name),
                    value=value,
                    allowed=fixed(allowed),
                )
        if not math.isfinite(load_torque_nm):
            raise BadInput(
                "a load torque of {load_torque:g} N m was found; a finite number is allowed",
                load_torque=load_torque_nm,
            )
        time_constant = inertia_kg_m2 * no_load_rad_s / stall_torque_nm
        return cls._from_line(no_load_rad_s, time_constant, load_torque_nm / stall_torque_nm, angle_deg)

    @classmethod
    def with_time_constant(
        cls, no_load_rad_s: float, time_constant_s: float, load_share: float, angle_deg: float
    ) -> Motion:
        """The run where only a time constant is known; ``load_share`` is load over stall torque."""
        if not (no_load_rad_s > 0.0 and time_constant_s >= 0.0 and angle_deg >= 0.0):
            raise BadInput(
                "a motion needs a speed of more than 0, and a time constant and angle of 0 or more"
            )
        return cls._from_line(no_load_rad_s, time_constant_s, load_share, angle_deg)

    @classmethod
    def _from_line(cls, no_load: float, time_constant: float, load_share: float, angle_deg: float) -> Motion:
        settled = max(0.0, no_load * (1.0 - load_share))
        if angle_deg == 0.0:
            return cls(settled, time_constant, 0.0, 0.0)
        if settled == 0.0:
            return cls(0.0, time_constant, angle_deg, math.inf)
        angle = math.radians(angle_deg)
        if time_constant == 0.0:
            return cls(settled, 0.0, angle_deg, angle / settled)
        duration = time_constant * _run_up(angle / (settled * time_constant))
        return cls(settled, time_constant, angle_deg, duration)

    def angle_deg(self, time_s: float) -> float:
        """Angle at a time; holds the target once it is there."""
        if time_s <= 0.0 or self.settled_rad_s == 0.0:
            return 0.0
        if time_s >= self.duration_s:
            return self.target_deg
        tm = self.time_constant_s
        lag = tm * -math.expm1(-time_s / tm) if tm else 0.0
        return min(self.target_deg, math.degrees(self.settled_rad_s * (time_s - lag)))

    def speed_rad_s(self, time_s: float) -> float:
        """Speed at a time, while under way."""
        if time_s < 0.0 or time_s >= self.duration_s:
            return 0.0
        tm = self.time_constant_s
        return self.settled_rad_s * (-math.expm1(-time_s / tm) if tm else 1.0)


def _run_up(angle: float) -> float:
    """Root u of u - (1 - exp(-u)) = angle: equal to 1 + a + W0(-exp(-(1 + a))).

    Newton from above on a convex rising function never overshoots; near the branch point of the
    Lambert function it keeps the digits that the direct formula loses.
    """
    root = math.sqrt(2.0 * angle)
    if angle < 1e-8:
        # So short a way has no digits left in u - (1 - exp(-u)); its series has.
        return root + root * root / 6.0
    u = min(1.0 + angle, root + angle)
    for _ in range(100):
        slope = -math.expm1(-u)
        step = (u - slope - angle) / slope
        u -= step
        if abs(step) <= 1e-15 * u:
            break
    return u


@dataclass(frozen=True, slots=True)
class Race:
    """Several servos started together: common times and each one's angles.

    ``arrivals_s`` holds infinity for a servo that its load stalls.
    """

    times_s: tuple[float, ...]
    angles_deg: tuple[tuple[float, ...], ...]
    arrivals_s: tuple[float, ...]


def race(motions: Sequence[Motion], *, steps: int = 120) -> Race:
    """Angles against time of several servos from one start, up to a little past the last arrival.

    Args:
        motions: The runs, at least one.
        steps: Number of time steps, 1 or more.

    Raises:
        BadInput: No motions or no steps.

    >>> old = Motion.with_time_constant(5.0, 0.02, 0.5, 60.0)
    >>> new = Motion.with_time_constant(10.0, 0.02, 0.1, 60.0)
    >>> heat = race([old, new], steps=4)
    >>> heat.angles_deg[0][-1], heat.angles_deg[1][-1], heat.arrivals_s[0] > heat.arrivals_s[1]
    (60.0, 60.0, True)
    """
    if not motions or steps < 1:
        raise BadInput("a race needs at least one servo and one time step")
    arrivals = tuple(motion.duration_s for motion in motions)
    last = max((t for t in arrivals if math.isfinite(t)), default=0.0) or 1.0
    times = tuple(1.1 * last * k / steps for k in range(steps + 1))
    return Race(times, tuple(tuple(m.angle_deg(t) for t in times) for m in motions), arrivals)
