"""What a helicopter's blades ask of the controls that turn them: feathering moments and link forces.

Source: statics of a turning blade; see each function.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.physics.air import GRAVITY_M_S2
from hangar.physics.checks import finite

SEA_LEVEL_DENSITY_KG_M3 = 1.225
INERTIA_FACTOR = 0.070
MAIN_GRIP_FACTOR = 1.15
TAIL_GRIP_FACTOR = 1.2
FLYBARLESS_CYCLIC_RATIO = 0.5
USUAL_BELL_SHARE = 0.5
MOST_PITCH_DEG = 30.0
_CENTRE_FRACTION = 0.55

MAIN_LOW, MAIN_DESIGN = 0.5, 2.0
TAIL_LOW, TAIL_DESIGN = 0.3, 1.5


def rad_per_s(speed_rpm: float) -> float:
    """Turning speed [rad/s] of revolutions a minute.

    Raises:
        BadInput: a speed that is not finite.

    >>> rad_per_s(1900.0)
    198.97
    """
    finite(speed_rpm=speed_rpm)
    return speed_rpm * math.pi / 30.0


@dataclass(frozen=True, slots=True)
class Blade:
    """One blade with its grip.

    Attributes:
        radius_m: rotor radius at the blade tip [m], above zero.
        chord_m: blade chord [m], above zero.
        mass_kg: mass of one blade [kg], above zero.
        grip_arm_m: link ball to feather axis, square to the link [m], above zero.
        inertia_factor: feathering inertia over mass times chord² [-]; 0.060 to 0.085 for blades with a
            nose weight, reckoned on a NACA 0012 outline.
        grip_factor: blade with grip, arm and bolts over blade alone [-]; common practice, no source.
        centre_offset: quarter chord to feather axis over chord [-], 0 to 0.05.
        pitching_coefficient: section moment coefficient [-]; 0.01 serves symmetric blades, cambered ones
            have 0.02 to 0.05.
        weight_offset_m: centre of gravity behind the feather axis [m], either sign.
        relative_slope_rad: flapwise slope of the blade against the feather axis [rad].
        bearing_friction: friction coefficient [-]: 0.0015 for thrust ball races, 0.02 to 0.1 for plain
            washers (from memory, unverified).
        bearing_radius_m: mean radius of the thrust bearing [m].
    """

    radius_m: float
    chord_m: float
    mass_kg: float
    grip_arm_m: float
    inertia_factor: float = INERTIA_FACTOR
    grip_factor: float = MAIN_GRIP_FACTOR
    centre_offset: float = 0.02
    pitching_coefficient: float = 0.01
    weight_offset_m: float = 0.0
    relative_slope_rad: float = 0.0
    bearing_friction: float = 0.0015
    bearing_radius_m: float = 0.006

    def __post_init__(self) -> None:
        sizes = (self.radius_m, self.chord_m, self.mass_kg, self.grip_arm_m)
        if not all(size > 0.0 and math.isfinite(size) for size in sizes):
            raise BadInput(
                "Blade radius, chord, mass and grip arm are {sizes}; each must be above zero.",
                sizes=str(sizes),
            )

    @property
    def feathering_inertia_kg_m2(self) -> float:
        """Inertia of blade and grip about the feather axis [kg m²]."""
        return self.inertia_factor * self.grip_factor * self.mass_kg * self.chord_m**2

    def centrifugal_force_n(self, speed_rad_s: float) -> float:
        """Pull of the blade on its grip [N] at a turning speed [rad/s]."""
        return self.mass_kg * speed_rad_s**2 * _CENTRE_FRACTION * self.radius_m


@dataclass(frozen=True, slots=True)
class FeatheringMoment:
    """The parts of one blade's feathering moment, all as sizes [N m]."""

    propeller_nm: float
    lift_nm: float
    section_nm: float
    weight_nm: float
    friction_nm: float

    @property
    def total_nm(self) -> float:
        """All parts together, none taken to relieve another [N m]."""
        return self.propeller_nm + self.lift_nm + self.section_nm + self.weight_nm + self.friction_nm


def _refuse(speed_rad_s: float, pitch_deg: float) -> None:
    if not (speed_rad_s >= 0.0 and math.isfinite(speed_rad_s)):
        raise BadInput("Rotor speed is {speed} rad/s; it must be zero or more.", speed=speed_rad_s)
    if not abs(pitch_deg) <= MOST_PITCH_DEG:
        raise OutOfValidity(
            "Blade pitch is {pitch} degrees; up to {most_pitch:g} either way is allowed.",
            pitch=pitch_deg,
            most_pitch=MOST_PITCH_DEG,
        )


def propeller_moment_nm(inertia_kg_m2: float, speed_rad_s: float, pitch_deg: float) -> float:
    """Moment with which centrifugal force turns one blade towards flat pitch.

    Args:
        inertia_kg_m2: chordwise inertia about the feather axis [kg m²].
        speed_rad_s: turning speed [rad/s], zero or more.
        pitch_deg: blade pitch [deg], -30 to 30.

    Returns:
        Moment towards flat pitch [N m], zero or more.

    Raises:
        BadInput, OutOfValidity: outside those bounds.

    Valid for: collective pitch. Feathering is resonant at one turn, so under steady cyclic this moment
        and the blade's inertia cancel.
    Source: the tennis-racket moment of rotating blades; Bramwell, Helicopter Dynamics; Johnson,
        Helicopter Theory (pages from memory, unverified).

    >>> round(propeller_moment_nm(5.54e-5, rad_per_s(1900.0), 10.0), 3)
    0.375
    """
    finite(inertia_kg_m2=inertia_kg_m2)
    _refuse(speed_rad_s, pitch_deg)
    pitch = math.radians(abs(pitch_deg))
    return speed_rad_s**2 * inertia_kg_m2 * math.sin(pitch) * math.cos(pitch)


def feathering_moment(
    blade: Blade,
    speed_rad_s: float,
    pitch_deg: float,
    *,
    lift_n: float,
    density_kg_m3: float = SEA_LEVEL_DENSITY_KG_M3,
) -> FeatheringMoment:
    """Everything that turns one blade about its feather axis at a collective pitch.

    Args:
        blade: the blade and its grip.
        speed_rad_s: turning speed [rad/s], zero or more.
        pitch_deg: blade pitch [deg], -30 to 30.
        lift_n: lift of this blade [N]: load factor times weight over number of blades.
        density_kg_m3: air density [kg/m³], zero or more.

    Returns:
        The parts; their sum takes them all as adding.

    Raises:
        BadInput, OutOfValidity: outside those bounds.

    Valid for: rigid blades, unstalled. A stalled section can feel a moment coefficient of 0.1.
    Source: propeller moment as :func:`propeller_moment_nm`; the rest is statics. The usual offsets are
        common practice, no source.

    >>> blade = Blade(0.79, 0.061, 0.185, 0.023)
    >>> round(feathering_moment(blade, rad_per_s(2150.0), 12.0, lift_n=76.5).total_nm, 3)
    0.891
    """
    finite(lift_n=lift_n)
    propeller = propeller_moment_nm(blade.feathering_inertia_kg_m2, speed_rad_s, pitch_deg)
    if not density_kg_m3 >= 0.0:
        raise BadInput("Air density is {density} kg/m³; it must be zero or more.", density=density_kg_m3)
    pull = blade.centrifugal_force_n(speed_rad_s)
    swept = density_kg_m3 * (blade.chord_m * speed_rad_s) ** 2 * blade.radius_m**3 / 6.0
    return FeatheringMoment(
        propeller_nm=propeller,
        lift_nm=abs(lift_n * blade.centre_offset * blade.chord_m),
        section_nm=abs(blade.pitching_coefficient) * swept,
        weight_nm=abs(pull * blade.weight_offset_m * blade.relative_slope_rad),
        friction_nm=blade.bearing_friction * pull * blade.bearing_radius_m,
    )


@dataclass(frozen=True, slots=True)
class Rotor:
    """A main rotor in its machine.

    Attributes:
        blade: one of the blades.
        blades: number of blades, 2 or more.
        mass_kg: flying mass of the machine [kg], above zero.
        mixer_ratio: swashplate link force over blade link force through mixer levers [-]; 1 without.
    """

    blade: Blade
    blades: int
    mass_kg: float
    mixer_ratio: float = 1.0

    def __post_init__(self) -> None:
        if self.blades < 2:
            raise BadInput("Rotor has {blades} blades; two or more are wanted.", blades=self.blades)
        if not (self.mass_kg > 0.0 and self.mixer_ratio > 0.0):
            raise BadInput(
                "Mass is {mass} kg, mixer ratio {mixer_ratio}; both must be above zero.",
                mass=self.mass_kg,
                mixer_ratio=self.mixer_ratio,
            )


def link_force_n(moment_nm: float, grip_arm_m: float) -> float:
    """Force [N] in a blade's link from a feathering moment [N m] and the grip arm [m].

    Raises:
        BadInput: a grip arm not above zero.

    >>> round(link_force_n(0.375, 0.023), 1)
    16.3
    """
    finite(moment_nm=moment_nm)
    if not grip_arm_m > 0.0:
        raise BadInput("Grip arm is {grip_arm} m; it must be above zero.", grip_arm=grip_arm_m)
    return moment_nm / grip_arm_m


def collective_force_n(
    rotor: Rotor,
    speed_rpm: float,
    *,
    pitch_deg: float = 12.0,
    load_factor: float = 3.0,
    density_kg_m3: float = SEA_LEVEL_DENSITY_KG_M3,
) -> Band:
    """Force the blades put on the swashplate along the mast at a collective pitch.

    Args:
        rotor: the rotor.
        speed_rpm: highest head speed [rpm], zero or more.
        pitch_deg: largest collective pitch [deg]; 12 for aerobatics, 9 for gentle flying.
        load_factor: lift over weight [-]; 3 for aerobatics, 2 for gentle flying.
        density_kg_m3: air density [kg/m³].

    Returns:
        Force [N]; half to twice the expected value, because inertia and geometry are known to a fifth and
        aerodynamics and friction to a factor of two.

    Raises:
        BadInput, OutOfValidity: outside the bounds of :func:`feathering_moment`.

    Valid for: rigid blades, unstalled.
    Source: statics of :func:`feathering_moment`; the band is our judgement. A flight log of 2008 (hobby
        measurement) found over 0.42 N m on a single collective servo of a 90-size machine.

    >>> blade = Blade(radius_m=0.79, chord_m=0.061, mass_kg=0.185, grip_arm_m=0.023)
    >>> round(collective_force_n(Rotor(blade, 2, 5.2), 2150.0).expected, 1)
    77.4
    """
    finite(load_factor=load_factor)
    lift_n = load_factor * rotor.mass_kg * GRAVITY_M_S2 / rotor.blades
    moment = feathering_moment(
        rotor.blade, rad_per_s(speed_rpm), pitch_deg, lift_n=lift_n, density_kg_m3=density_kg_m3
    )
    force = rotor.blades * rotor.mixer_ratio * link_force_n(moment.total_nm, rotor.blade.grip_arm_m)
    return Band(MAIN_LOW * force, force, MAIN_DESIGN * force)


def cyclic_ratio(bell_share: float | None = None) -> float:
    """Cyclic force on the swashplate over the collective one.

    The mixer levers of a flybar give the swashplate only its direct share of the blade's cyclic moment;
    the flybar carries the rest. Collective is not relieved.

    Args:
        bell_share: share of blade pitch the swashplate commands directly [-], above 0 to 1; None for a
            flybarless head. 0.4 to 0.6 is common practice, no source.

    Returns:
        Ratio [-]: 0.5 flybarless, 0.25 for a flybar with equal shares; an allowance, no source.

    Raises:
        BadInput: a share outside those bounds.

    Source: virtual work on the mixer lever.

    >>> cyclic_ratio(0.5)
    0.25
    """
    if bell_share is None:
        return FLYBARLESS_CYCLIC_RATIO
    if not 0.0 < bell_share <= 1.0:
        raise BadInput(
            "The swashplate's share of blade pitch is {bell_share}; above 0 to 1 is allowed.",
            bell_share=bell_share,
        )
    return FLYBARLESS_CYCLIC_RATIO * bell_share
