"""Will the pushrod hold: buckling under the servo's stall, bent ends, and shaking by the engine.

Source: Euler's and Johnson's column formulas as in Budynas and Nisbett, "Shigley's Mechanical Engineering
Design" (from memory, unverified); first bending frequency of a pinned beam from beam theory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.base.values import value_class
from hangar.physics.checks import above_zero, finite

STALL_SAFETY = 3.0  # buckling load over rod force at servo stall; common practice, no source
ENGINE_MARGIN = 0.20  # keep this share away from once and twice engine speed; common practice, no source


@dataclass(frozen=True, slots=True)
class RodMaterial:
    """Stiffness, density and strength of a rod; ``source`` says where they come from."""

    youngs_gpa: float
    density_g_cm3: float
    yield_mpa: float
    source: str


_MEMORY = "usual handbook values, from memory, unverified"
MATERIALS: dict[str, RodMaterial] = {
    "steel wire": RodMaterial(200.0, 7.85, 1200.0, _MEMORY),
    "threaded steel": RodMaterial(200.0, 7.85, 350.0, _MEMORY),
    "carbon": RodMaterial(120.0, 1.55, 600.0, "pultruder's data sheet says 127 GPa in bending, taken lower"),
    "glass": RodMaterial(
        41.0, 1.9, 400.0, "pultruder's data sheet for stiffness; rest from memory, unverified"
    ),
    "aluminium": RodMaterial(69.0, 2.70, 240.0, _MEMORY),
    "titanium": RodMaterial(114.0, 4.43, 830.0, _MEMORY),
    "spruce": RodMaterial(10.0, 0.45, 35.0, _MEMORY),
}


@value_class
class RoundRod:
    """A round rod or tube of one material."""

    outside_mm: float
    inside_mm: float
    material: RodMaterial

    def __post_init__(self) -> None:
        if not (math.isfinite(self.outside_mm) and 0.0 <= self.inside_mm < self.outside_mm):
            raise BadInput(
                "a rod of {outside:g} mm with a bore of {inside:g} mm was given; the outside is "
                "above 0 and the bore smaller.",
                outside=self.outside_mm,
                inside=self.inside_mm,
            )

    @classmethod
    def of(cls, material: str, outside_mm: float, inside_mm: float = 0.0) -> RoundRod:
        """A rod of a material named in :data:`MATERIALS`."""
        if material not in MATERIALS:
            raise BadInput(
                '"{material}" is no rod material known here; known are {known}.',
                material=material,
                known=", ".join(MATERIALS),
            )
        return cls(outside_mm, inside_mm, MATERIALS[material])

    @property
    def area_mm2(self) -> float:
        """Cross-section."""
        return math.pi / 4.0 * (self.outside_mm**2 - self.inside_mm**2)

    @property
    def bending_mm4(self) -> float:
        """Second moment of area."""
        return math.pi / 64.0 * (self.outside_mm**4 - self.inside_mm**4)

    @property
    def gyration_mm(self) -> float:
        """Radius of gyration of the cross-section."""
        return math.sqrt(self.bending_mm4 / self.area_mm2)

    def axial_n_per_mm(self, length_mm: float) -> float:
        """Stiffness along the rod."""
        return self.material.youngs_gpa * 1000.0 * self.area_mm2 / above_zero(length_mm, "rod length")

    def mass_g(self, length_mm: float) -> float:
        """Mass of a length of rod."""
        return self.area_mm2 * above_zero(length_mm, "rod length") * self.material.density_g_cm3 / 1000.0


def buckling_load_n(rod: RoundRod, free_mm: float, end_constant: float = 1.0) -> float:
    """Compression at which a rod buckles: Euler when slender, Johnson when short.

    Args:
        rod: section and material.
        free_mm: longest free length, pin to pin or between guides, above 0.
        end_constant: 1 for pinned ends, which clevises and ball links are; 0.25 (one end free)
            to 4 (both clamped).

    Raises:
        BadInput: an end constant outside those bounds, or no length.

    Valid for: straight rods loaded along their middle.

    >>> round(buckling_load_n(RoundRod.of("steel wire", 2.0), 150.0), 1)
    68.9
    """
    if not 0.25 <= end_constant <= 4.0:
        raise BadInput(
            "an end constant of {end_constant:g} was given; it lies from 0.25 to 4.",
            end_constant=end_constant,
        )
    youngs_mpa, yield_mpa = rod.material.youngs_gpa * 1000.0, rod.material.yield_mpa
    slender = above_zero(free_mm, "free length") / rod.gyration_mm
    if slender >= math.sqrt(2.0 * math.pi**2 * end_constant * youngs_mpa / yield_mpa):
        return end_constant * math.pi**2 * youngs_mpa * rod.bending_mm4 / free_mm**2
    lost = (yield_mpa * slender / (2.0 * math.pi)) ** 2 / (end_constant * youngs_mpa)
    return rod.area_mm2 * (yield_mpa - lost)


def longest_free_mm(rod: RoundRod, force_n: float, safety: float = STALL_SAFETY) -> float:
    """Longest pinned free length that carries a force with this safety; 0 when none does.

    Raises:
        BadInput: a force or safety not above 0.

    >>> round(longest_free_mm(RoundRod.of("steel wire", 2.0), 66.7))
    88
    """
    load = above_zero(force_n, "rod force") * above_zero(safety, "safety factor")
    youngs_mpa, yield_mpa = rod.material.youngs_gpa * 1000.0, rod.material.yield_mpa
    euler = math.sqrt(math.pi**2 * youngs_mpa * rod.bending_mm4 / load)
    if euler / rod.gyration_mm >= math.sqrt(2.0 * math.pi**2 * youngs_mpa / yield_mpa):
        return euler
    spare = max(0.0, yield_mpa - load / rod.area_mm2)
    return 2.0 * math.pi * rod.gyration_mm * math.sqrt(youngs_mpa * spare) / yield_mpa


@dataclass(frozen=True, slots=True)
class RodCheck:
    """Force at servo stall against the buckling load; ``enough`` is the margin wanted."""

    force_n: float
    buckling_n: float
    enough: float

    @property
    def margin(self) -> float:
        """Buckling load over rod force; infinite when nothing pushes."""
        return self.buckling_n / self.force_n if self.force_n else math.inf

    @property
    def holds(self) -> bool:
        """Whether the margin is at least the one wanted."""
        return self.margin >= self.enough


def check_rod(
    rod: RoundRod,
    free_mm: float,
    stall_torque_nm: float,
    servo_lever_mm: float,
    safety: float = STALL_SAFETY,
) -> RodCheck:
    """A rod against the stall of its servo.

    Args:
        rod: section and material.
        free_mm: longest free length.
        stall_torque_nm: at the highest voltage the servo gets, 0 or more.
        servo_lever_mm: the effective lever at the arm; its size counts.
        safety: margin wanted.

    Raises:
        BadInput: a stall torque below 0, or no lever.

    >>> round(check_rod(RoundRod.of("steel wire", 2.0), 150.0, 1.0, 15.0).margin, 2)
    1.03
    """
    if not stall_torque_nm >= 0.0:
        raise BadInput(
            "a stall torque of {stall_torque:g} N m was given; 0 or more is wanted.",
            stall_torque=stall_torque_nm,
        )
    force = stall_torque_nm * 1000.0 / above_zero(abs(servo_lever_mm), "lever at the arm")
    return RodCheck(force, buckling_load_n(rod, free_mm), above_zero(safety, "safety factor"))


@dataclass(frozen=True, slots=True)
class BentRod:
    """A pushed rod whose ends stand off its line; ``amplification`` is how much bowing adds to bending."""

    stress_mpa: float
    amplification: float


def bent_rod(rod: RoundRod, free_mm: float, force_n: float, offset_mm: float) -> BentRod:
    """Stress in a pushed rod with Z-bends or ends off its line (secant formula).

    Raises:
        BadInput: the force is at or beyond the buckling load of a slender rod.

    >>> round(bent_rod(RoundRod.of("steel wire", 2.0), 86.0, 66.7, 3.0).amplification, 2)
    1.58
    """
    finite(offset_mm=offset_mm)
    length = above_zero(free_mm, "free length")
    critical = math.pi**2 * rod.material.youngs_gpa * 1000.0 * rod.bending_mm4 / length**2
    if not 0.0 <= force_n < critical:
        raise BadInput(
            "a push of {force:g} N was given; below the buckling load of {critical:.1f} N is wanted.",
            force=force_n,
            critical=critical,
        )
    amplification = 1.0 / math.cos(math.pi / 2.0 * math.sqrt(force_n / critical))
    modulus_mm3 = rod.bending_mm4 / (rod.outside_mm / 2.0)
    stress = force_n / rod.area_mm2 + force_n * abs(offset_mm) / modulus_mm3 * amplification
    return BentRod(stress, amplification)


def shaking_frequency_hz(rod: RoundRod, free_mm: float) -> float:
    """First bending frequency of a rod pinned at both ends of its free length.

    Raises:
        BadInput: a length not above 0.

    >>> round(shaking_frequency_hz(RoundRod.of("steel wire", 2.0), 150.0))
    176
    """
    length_m = above_zero(free_mm, "free length") / 1000.0
    stiffness = rod.material.youngs_gpa * 1e9 * rod.bending_mm4 * 1e-12
    line_mass = rod.material.density_g_cm3 * 1000.0 * rod.area_mm2 * 1e-6
    return math.pi / (2.0 * length_m**2) * math.sqrt(stiffness / line_mass)


def shaken_by_engine(frequency_hz: float, engine_rpm: float) -> bool:
    """Whether a rod's frequency lies near once or twice the engine's speed.

    Raises:
        BadInput: an engine speed not above 0.

    >>> shaken_by_engine(176.0, 10_500.0), shaken_by_engine(240.0, 10_500.0)
    (True, False)
    """
    finite(frequency_hz=frequency_hz)
    turning = above_zero(engine_rpm, "engine speed") / 60.0
    return any(abs(frequency_hz - order * turning) <= ENGINE_MARGIN * order * turning for order in (1.0, 2.0))
