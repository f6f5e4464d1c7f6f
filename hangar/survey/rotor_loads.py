"""What a helicopter's blades ask of its cyclic, collective and tail servos."""

from __future__ import annotations

from hangar.base.errors import BadInput
from hangar.base.figure import Band, Basis, Figure
from hangar.base.text import fixed, text
from hangar.parts import Rotor
from hangar.parts.choices import Function, RotorKind, Swash
from hangar.physics import rotor as rotors
from hangar.physics.swashplate import Layout, layout_shares, peak_torques_nm
from hangar.physics.tail_rotor import TailRotor, tail_servo_torque_nm
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts
from hangar.survey.load_question import LoadQuestion

SOURCE = text(
    "feathering moment of rotating blades; Bramwell, Helicopter Dynamics; Johnson, Helicopter Theory "
    "(from memory, unverified)"
)

SCALE_FROM_BLADES = 3
"""Blades of a main rotor from which a helicopter is taken for a scale one; common practice, no source."""


def rotor_load(
    question: LoadQuestion, density_kg_m3: float, defaults: Defaults, facts: Facts
) -> Figure | None:
    """Load at a cyclic, collective or tail servo; None with what is missing noted."""
    kind = RotorKind.TAIL if question.function is Function.TAIL else RotorKind.MAIN
    rotor = next((rotor for rotor in question.rotors if rotor.rotor is kind), None)
    arm_mm = None
    if question.linkage is None:
        facts.lack(text("linkage {position}: not recorded", position=question.code))
    else:
        arm_mm = facts.need(question.linkage, "arm_mm")
    if rotor is None:
        facts.lack(text("rotor {rotor}: not recorded", rotor=kind))
        return None
    try:
        if kind is RotorKind.TAIL:
            return _tail_load(rotor, arm_mm, defaults, facts)
        return _main_load(question, rotor, arm_mm, density_kg_m3, defaults, facts)
    except BadInput as fault:
        facts.lack(text("rotor {rotor}: {fault}", rotor=kind, fault=fault.text))
        return None


def _needed(rotor: Rotor, fields: tuple[str, ...], facts: Facts) -> tuple[float, ...] | None:
    values = tuple(facts.need(rotor, field) for field in fields)
    known = tuple(value for value in values if value is not None)
    return known if len(known) == len(values) else None


def _main_load(
    question: LoadQuestion,
    rotor: Rotor,
    arm_mm: float | None,
    density_kg_m3: float,
    defaults: Defaults,
    facts: Facts,
) -> Figure | None:
    sizes = _needed(
        rotor, ("diameter_mm", "blade_chord_mm", "blade_mass_g", "grip_arm_mm", "head_rpm", "blades"), facts
    )
    mass_g = facts.need(question.airframe, "all_up_mass_g")
    if sizes is None or mass_g is None or arm_mm is None:
        return None
    diameter, chord, blade_g, grip, rpm, blades = sizes
    pitch = facts.take(rotor, "pitch_deg", defaults.rotor_pitch, "main")
    softly = (
        "fly-bar" if rotor.flybar else "many blades" if (rotor.blades or 0) >= SCALE_FROM_BLADES else None
    )
    factor = facts.assume(defaults.rotor_load_factor, softly, question.airframe.aircraft_class)
    blade = rotors.Blade(diameter / 2000.0, chord / 1000.0, blade_g / 1000.0, grip / 1000.0)
    force = rotors.collective_force_n(
        rotors.Rotor(blade, round(blades), mass_g / 1000.0), rpm,
        pitch_deg=pitch, load_factor=factor, density_kg_m3=density_kg_m3,
    )  # fmt: skip
    facts.note("force on the swashplate", force.expected, "N")
    torque = _share_of_plate(question.function, rotor, force, arm_mm / 1000.0, facts)
    return facts.banded(
        "load at the servo",
        torque,
        "N m",
        "blades x feathering moment / grip arm, shared by the swashplate's layout, x servo arm; "
        "half to twice, because aerodynamics and friction are known to a factor of two",
        SOURCE,
    )


def _share_of_plate(function: Function, rotor: Rotor, force: Band, arm_m: float, facts: Facts) -> Band:
    flybar = rotor.flybar
    facts.note(
        "flybar",
        fixed("yes") if flybar else fixed("no"),
        basis=Basis.TYPICAL if flybar is None else Basis.MEASURED,
    )
    ratio = rotors.cyclic_ratio(rotors.USUAL_BELL_SHARE if flybar else None)
    facts.note("cyclic over collective force", ratio, "ratio")
    swash = rotor.swash or Swash.THREE_120
    facts.note("swashplate", swash, basis=Basis.TYPICAL if rotor.swash is None else Basis.MEASURED)
    layout = Layout(swash)
    torques = peak_torques_nm(layout, force, ratio, arm_m)
    if layout is Layout.MECHANICAL:
        return torques[0] if function is Function.COLLECTIVE else torques[1]
    # Positions do not say which ball they hold, so each servo is given the most any of them carries.
    facts.note("servos on the swashplate", len(layout_shares(layout)), "count")
    return max(torques, key=lambda torque: torque.design)


def _tail_load(rotor: Rotor, arm_mm: float | None, defaults: Defaults, facts: Facts) -> Figure | None:
    sizes = _needed(rotor, ("blade_chord_mm", "blade_mass_g", "grip_arm_mm", "head_rpm", "blades"), facts)
    if sizes is None or arm_mm is None:
        return None
    chord, blade_g, grip, rpm, blades = sizes
    pitch = facts.take(rotor, "pitch_deg", defaults.rotor_pitch, "tail")
    if rotor.counterweights:
        facts.note("relief by counterweights, their size not being recorded", 0.0, "N m")
    tail = TailRotor(chord / 1000.0, blade_g / 1000.0, grip / 1000.0, round(blades))
    torque = tail_servo_torque_nm(tail, rpm, servo_arm_m=arm_mm / 1000.0, pitch_deg=pitch)
    return facts.banded(
        "load at the servo", torque, "N m",
        "blades x feathering moment / grip arm x servo arm; 0.3 to 1.5 times", SOURCE,
    )  # fmt: skip
