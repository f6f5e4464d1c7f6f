"""How far the air pushes a surface back against a servo and linkage that give.

Source: balance of moments; springs in series.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.air import Airflow
from hangar.physics.checks import finite
from hangar.physics.hinge_moment import Flap, hinge_moment_nm

_ROUNDS = 60


@dataclass(frozen=True, slots=True)
class Blowback:
    """Where a commanded surface comes to rest in the air.

    Attributes:
        deflection_deg: deflection reached [deg], signed like the command.
        lost_deg: deflection lost to the air [deg], zero or more.
        moment_nm: hinge moment held there [N m].
        overrun: True when the servo's own limit, not its stiffness, decides.
    """

    deflection_deg: float
    lost_deg: float
    moment_nm: float
    overrun: bool


def surface_stiffness_nm_per_rad(
    servo_nm_per_rad: float,
    velocity_ratio: float,
    *,
    linkage_nm_per_rad: float = math.inf,
    torsion_nm_per_rad: float = math.inf,
) -> float:
    """Stiffness felt at the surface: servo, linkage and the surface's own twist in series.

    Args:
        servo_nm_per_rad: stiffness at the servo shaft [N m/rad], above zero; infinite allowed.
        velocity_ratio: servo degrees per surface degree at that deflection [-], above zero.
        linkage_nm_per_rad: stiffness of rods and horns at the surface [N m/rad].
        torsion_nm_per_rad: twist stiffness of the surface itself [N m/rad].

    Returns:
        Stiffness at the hinge [N m/rad]; infinite when every part is.

    Raises:
        BadInput: a value not above zero.

    Source: springs in series; virtual work across the linkage.

    >>> surface_stiffness_nm_per_rad(10.0, 2.0, linkage_nm_per_rad=40.0)
    20.0
    """
    parts = (servo_nm_per_rad, velocity_ratio, linkage_nm_per_rad, torsion_nm_per_rad)
    if not all(value > 0.0 for value in parts):
        raise BadInput(
            "Stiffness parts and velocity ratio are {parts}; each must be above zero.", parts=str(parts)
        )
    geared_nm_per_rad = velocity_ratio**2 * servo_nm_per_rad
    softness = sum(1.0 / part for part in (geared_nm_per_rad, linkage_nm_per_rad, torsion_nm_per_rad))
    return math.inf if softness == 0.0 else 1.0 / softness


def rest_position(
    load_nm: Callable[[float], float],
    *,
    commanded_deg: float,
    stiffness_nm_per_rad: float,
    limit_nm: float | None = None,
) -> Blowback:
    """Where a spring-driven surface rests against any load that grows with deflection.

    Args:
        load_nm: closing moment [N m] at a deflection [deg] of zero or more; must not fall as it grows.
        commanded_deg: where the drive would stand without load [deg], either sign.
        stiffness_nm_per_rad: stiffness at the hinge [N m/rad], above zero; infinite allowed.
        limit_nm: most moment the drive can hold at the hinge [N m]; None for no limit.

    Returns:
        The rest position; overrun is set when the limit decides, and it may then be zero deflection.

    Raises:
        BadInput: a stiffness or limit not above zero.

    Valid for: static balance; flutter, inertia, friction and slop are not in it.
    Source: moment balance, solved by halving.

    >>> rest_position(lambda deg: 0.1 * deg, commanded_deg=30.0, stiffness_nm_per_rad=10.0).lost_deg
    10.9
    """
    finite(commanded_deg=commanded_deg)
    if not stiffness_nm_per_rad > 0.0:
        raise BadInput(
            "Stiffness is {stiffness} N m/rad; it must be above zero.", stiffness=stiffness_nm_per_rad
        )
    if limit_nm is not None and not limit_nm > 0.0:
        raise BadInput(
            "The most moment the drive can hold is {limit} N m; it must be above zero.", limit=limit_nm
        )
    throw = abs(commanded_deg)

    def pushed_back(deflection_deg: float) -> bool:
        return load_nm(deflection_deg) > stiffness_nm_per_rad * math.radians(throw - deflection_deg)

    reached = throw if math.isinf(stiffness_nm_per_rad) else _last_before(pushed_back, throw)
    held = load_nm(reached)
    overrun = limit_nm is not None and held > limit_nm
    if limit_nm is not None and overrun:
        reached = _last_before(lambda deflection_deg: load_nm(deflection_deg) > limit_nm, reached)
        held = limit_nm
    return Blowback(math.copysign(reached, commanded_deg), throw - reached, held, overrun)


def _last_before(turns_true: Callable[[float], bool], end: float) -> float:
    low, high = 0.0, end
    for _ in range(_ROUNDS):
        middle = 0.5 * (low + high)
        if turns_true(middle):
            high = middle
        else:
            low = middle
    return 0.5 * (low + high)


def blowback(
    flap: Flap,
    flow: Airflow,
    *,
    commanded_deg: float,
    stiffness_nm_per_rad: float,
    alpha_deg: float = 0.0,
    limit_nm: float | None = None,
) -> Blowback:
    """Where a flap comes to rest in flight, with the expected hinge moment.

    Args:
        flap: size and place of the flap.
        flow: speed, air and propeller wash.
        commanded_deg: deflection the servo is told, without load [deg], -90 to 90.
        stiffness_nm_per_rad: stiffness at the hinge, see :func:`surface_stiffness_nm_per_rad`.
        alpha_deg: incidence that adds to the load [deg].
        limit_nm: most the servo can hold at the hinge [N m]: stall torque times velocity ratio times
            efficiency; None to leave it out.

    Returns:
        Rest position, moment held there and whether the servo is overrun.

    Raises:
        OutOfValidity: outside what :func:`hangar.physics.surface.hinge_coefficient` holds for.

    Valid for: static balance; position uses the expected load, size torque on the design load instead.
    Source: moment balance.

    >>> from hangar.physics.air import Air
    >>> rudder = Flap(0.60, 0.28, 0.20, 0.44, aspect_ratio=2.0)
    >>> flow = Airflow(25.0, Air(1.225, 15.0))
    >>> blowback(rudder, flow, commanded_deg=45.0, stiffness_nm_per_rad=40.0).moment_nm
    6.2
    """

    def load_nm(deflection_deg: float) -> float:
        return hinge_moment_nm(flap, flow, deflection_deg, alpha_deg).expected

    return rest_position(
        load_nm,
        commanded_deg=commanded_deg,
        stiffness_nm_per_rad=stiffness_nm_per_rad,
        limit_nm=limit_nm,
    )


def small_angle_rest_deg(
    commanded_deg: float,
    alpha_deg: float,
    *,
    stiffness_nm_per_rad: float,
    pressure_moment_nm: float,
    b1_per_rad: float,
    b2_per_rad: float,
) -> float:
    """Rest deflection in closed form for small angles; positive incidence closes the flap.

    Args:
        commanded_deg: deflection without load [deg].
        alpha_deg: incidence [deg], signed.
        stiffness_nm_per_rad: stiffness at the hinge [N m/rad], above zero.
        pressure_moment_nm: dynamic pressure times integral of flap chord squared [N m].
        b1_per_rad: hinge-moment slope with incidence.
        b2_per_rad: hinge-moment slope with deflection.

    Returns:
        Rest deflection [deg].

    Raises:
        BadInput: a stiffness not above zero, or a value that is not finite.

    Source: linear moment balance.

    >>> small_angle_rest_deg(10.0, 0.0, stiffness_nm_per_rad=2.0, pressure_moment_nm=2.0,
    ...                      b1_per_rad=-0.5, b2_per_rad=-1.0)
    5.0
    """
    finite(
        commanded_deg=commanded_deg,
        alpha_deg=alpha_deg,
        pressure_moment_nm=pressure_moment_nm,
        b1_per_rad=b1_per_rad,
        b2_per_rad=b2_per_rad,
    )
    if not stiffness_nm_per_rad > 0.0:
        raise BadInput(
            "Stiffness is {stiffness} N m/rad; it must be above zero.", stiffness=stiffness_nm_per_rad
        )
    softness = pressure_moment_nm / stiffness_nm_per_rad
    return (commanded_deg - softness * abs(b1_per_rad) * alpha_deg) / (1.0 + softness * abs(b2_per_rad))


def half_throw_pressure_pa(stiffness_nm_per_rad: float, chord_moment_m3: float, b2_per_rad: float) -> float:
    """Dynamic pressure [Pa] at which half of a small throw is lost.

    Raises:
        BadInput: a stiffness or chord moment not above zero, or a slope of zero.

    >>> half_throw_pressure_pa(2.0, 0.002, -1.0)
    1000.0
    """
    finite(b2_per_rad=b2_per_rad)
    if not (stiffness_nm_per_rad > 0.0 and chord_moment_m3 > 0.0 and b2_per_rad != 0.0):
        raise BadInput("Stiffness and chord moment must be above zero, and the slope must not be zero.")
    return stiffness_nm_per_rad / (chord_moment_m3 * abs(b2_per_rad))
