"""Rod, free play, stiffness and travel at a position: what the mechanics add to the electrics."""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure
from hangar.base.text import Text, text
from hangar.parts import Linkage, Servo, ServoFit, Surface
from hangar.parts.choices import Drive as Driven
from hangar.parts.choices import LinkageKind, RodMaterial
from hangar.physics import freeplay, pushrod
from hangar.physics.servo import typical_full_drive_error_deg
from hangar.physics.servo_rating import Rating, ServoBuild
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, field_missing
from hangar.survey.linkages import Drive, rod_force_n
from hangar.survey.servos import half_torque_deg
from hangar.survey.strength import loop_facts, loops_of
from hangar.survey.surface_readings import PlayRead

_RODS = {LinkageKind.PUSHROD, LinkageKind.BALL_LINK}
_MATERIAL = {material: str(material) for material in RodMaterial} | {RodMaterial.STEEL: "steel wire"}
ROD_SOURCE = text("Euler's and Johnson's column formulas, pinned ends")
FREE_PLAY_SOURCE = text("sum of the slop along the linkage")
SLOW_SOURCE = text("springs in series; full-drive error of the servo common practice, no source")
CAUTION_SOURCE = text(
    "half the speed of the reduced-frequency statistic (Kuessner 1929, from memory, unverified); "
    "a screen of one surface, it cannot show freedom from flutter"
)

Found = dict[str, Figure | None]
Lacks = dict[str, tuple[Text, ...]]


def rod_figures(fit: ServoFit, drive: Drive, rating: Rating, highest_v: Figure | None) -> tuple[Found, Lacks]:
    """Force along the rod at stall on the highest volts, buckling load, and their ratio."""
    linkage = fit.linkage
    if linkage is None or linkage.kind not in _RODS or highest_v is None:
        return {}, {}
    facts = Facts()
    facts.use(highest_v)
    torque_nm = rating.at(highest_v.expected).stall_torque_nm
    facts.note("stall torque at the highest volts", torque_nm, "N m", Basis.RATED)
    facts.known(linkage, "arm_mm")
    force = facts.figure(
        "rod force at stall", rod_force_n(torque_nm, drive, 0.0), "N",
        "stall torque at the highest bus volts / effective arm radius at neutral", "virtual work",
    )  # fmt: skip
    buckling, lacks = _buckling(linkage)
    figures: Found = {"rod_force_n": force, "rod_buckling_n": buckling}
    if buckling is not None and force.expected > 0.0:
        both = Facts()
        both.use(buckling)
        both.use(force)
        figures["rod_margin"] = both.figure(
            "buckling load over rod force", buckling.expected / force.expected, "ratio",
            "buckling load / rod force",
        )  # fmt: skip
    return figures, ({"rod_buckling_n": lacks} if lacks else {})


@lru_cache(maxsize=1024)
def _buckling(linkage: Linkage) -> tuple[Figure | None, tuple[Text, ...]]:
    facts = Facts()
    diameter = facts.need(linkage, "rod_diameter_mm")
    free_mm = facts.known(linkage, "rod_free_mm")
    if free_mm is None:
        free_mm = facts.need(linkage, "rod_length_mm")
    if linkage.rod_material is None:
        facts.lack(field_missing(linkage, "rod_material"))
    if diameter is None or free_mm is None or linkage.rod_material is None:
        return None, tuple(facts.missing)
    facts.note("rod material", linkage.rod_material, basis=Basis.MEASURED)
    bore = facts.known(linkage, "rod_bore_mm") or 0.0
    try:
        rod = pushrod.RoundRod.of(_MATERIAL[linkage.rod_material], diameter, bore)
        load = pushrod.buckling_load_n(rod, free_mm)
    except BadInput as fault:
        return None, (text("linkage {position}: {fault}", position=linkage.position, fault=fault.text),)
    return facts.figure(
        "buckling load of the rod", load, "N", "column load of the longest free length", ROD_SOURCE
    ), ()


@lru_cache(maxsize=1024)
def free_play(
    read: PlayRead | None,
    surface: Surface | None,
    linkage: Linkage | None,
    servo: Servo | None,
    drive: Drive | None,
) -> tuple[Figure | None, tuple[Text, ...]]:
    """Free play at a surface: measured there, else summed from servo and rod ends."""
    facts = Facts()
    if read is not None:
        return read.figure, ()
    if drive is None or linkage is None or surface is None:
        return None, ()
    lack = (field_missing(surface, "play_deg"),)
    if servo is None or servo.play_deg is None or linkage.ball_play_mm is None:
        return None, lack
    gear, end_mm = facts.known(servo, "play_deg"), facts.known(linkage, "ball_play_mm")
    stand = drive.at(0.0)
    facts.note("degrees of surface for each degree of arm", stand.ratio, "ratio")
    try:
        play = freeplay.surface_free_play_deg(
            gear or 0.0, stand.ratio, (end_mm or 0.0, end_mm or 0.0), stand.horn_lever_mm or drive.horn_mm
        )
    except BadInput:
        return None, lack
    return facts.figure(
        "free play", play, "deg",
        "free play at the arm x ratio + play of both rod ends over the horn radius", FREE_PLAY_SOURCE,
    ), ()  # fmt: skip


def stiffness(fit: ServoFit, drive: Drive, torque: Figure, defaults: Defaults) -> Figure | None:
    """Stiffness at the hinge with the servo holding, pushed slowly: servo and rod one after the other."""
    loop, _ = loops_of(fit, torque.expected, defaults)
    if loop is None:
        return None
    facts = loop_facts(fit, torque, defaults)
    slow = math.degrees(loop.stiffness_nm_per_deg)
    facts.note("stiffness of the servo beyond its dead band", slow, "N m/rad")
    return _at_hinge(fit, drive, slow, facts, text("stiffness at the surface"), SLOW_SOURCE)


def _at_hinge(
    fit: ServoFit, drive: Drive, servo: float, facts: Facts, name: Text, source: Text
) -> Figure | None:
    stand = drive.at(0.0)
    facts.note("degrees of surface for each degree of arm", stand.ratio, "ratio")
    rod = rod_n_per_mm(fit.linkage, facts)
    try:
        held = freeplay.hinge_stiffness_nm_per_rad(
            servo, stand.ratio, rod, math.inf if stand.horn_lever_mm is None else stand.horn_lever_mm
        )
    except BadInput:
        return None
    return facts.figure(name, math.radians(held), "N m/deg", "servo and rod in series", source)


def rod_n_per_mm(linkage: Linkage | None, facts: Facts) -> float:
    """Stiffness along the rod; endless where it is not known."""
    if linkage is None or linkage.rod_diameter_mm is None or linkage.rod_material is None:
        return math.inf
    length = linkage.rod_length_mm or linkage.rod_free_mm
    if length is None or linkage.kind not in _RODS:
        return math.inf
    try:
        rod = pushrod.RoundRod.of(
            _MATERIAL[linkage.rod_material], linkage.rod_diameter_mm, linkage.rod_bore_mm or 0.0
        )
        along = rod.axial_n_per_mm(length)
    except BadInput:
        return math.inf
    facts.note("stiffness along the rod", along, "N/mm")
    return along


def caution_speed(
    fit: ServoFit, drive: Drive, torque: Figure, play: Figure | None, defaults: Defaults
) -> tuple[Figure | None, tuple[Text, ...]]:
    """Speed above which care is called for, as a screen of one surface; None where it is not assessed.

    A fast swing is not held by the loop of an analog servo, which acts once a frame: what holds it then is
    measured or not known. Of a digital servo the soft end of its full drive is taken.
    """
    surface, kind = fit.surface, fit.servo_type
    if surface is None or kind is None or not torque.expected > 0.0:
        return None, ()
    measured = half_torque_deg(fit) is not None
    if kind.drive is not Driven.DIGITAL and not measured:
        servo = text("servo {servo}", servo=fit.tag or fit.code)
        if fit.servo is None:
            return None, (text("{record}: holding stiffness measured", record=servo),)
        return None, (field_missing(fit.servo, "deg_to_half_torque"),)
    facts = loop_facts(fit, torque, defaults)
    if measured:
        loop, _ = loops_of(fit, torque.expected, defaults)
        fast = 0.0 if loop is None else math.degrees(loop.stiffness_nm_per_deg)
    else:
        fast = torque.expected / math.radians(typical_full_drive_error_deg(ServoBuild.DIGITAL).design)
    facts.note("holding stiffness of the servo in a swing", fast, "N m/rad", Basis.TYPICAL)
    held = _at_hinge(fit, drive, fast, facts, text("stiffness at the surface in a swing"), SLOW_SOURCE)
    if held is None:
        return None, ()
    facts = Facts()
    mass, chord = facts.need(surface, "mass_g"), facts.need(surface, "whole_chord_mm")
    root = facts.need(surface, "root_chord_mm")
    if play is None:
        facts.lack(field_missing(surface, "play_deg"))
    if mass is None or chord is None or root is None or play is None:
        return None, tuple(facts.missing)
    facts.use(held)
    facts.use(play)
    tip = root if surface.tip_chord_mm is None else surface.tip_chord_mm
    inertia = freeplay.surface_inertia_kg_m2(mass, max(root, tip))
    stiff = math.degrees(held.expected)
    # The speed asked about does not change the caution speed itself.
    screen = freeplay.screen_speed(1.0, chord / 1000.0, stiff, inertia, play.expected)
    if screen.caution_m_s is None or screen.low_m_s is None or screen.high_m_s is None:
        return None, ()
    facts.note("turning frequency", screen.frequency_hz or 0.0, "Hz")
    figure = facts.figure(
        "caution speed", screen.caution_m_s, "m/s",
        "pi x turning frequency x whole chord / reduced frequency, less the more free play there is",
        CAUTION_SOURCE,
    )  # fmt: skip
    return Figure(
        figure.name, figure.expected, figure.unit, screen.low_m_s, None, figure.basis, figure.working
    ), ()


@lru_cache(maxsize=1024)
def servo_travel(
    code: str, surface: Surface | None, linkage: Linkage | None, drive: Drive
) -> tuple[Figure | None, tuple[Text, ...]]:
    """Servo travel that the surface's full throw uses, the larger way."""
    if surface is None:
        return None, ()
    facts = Facts()
    up, down = facts.known(surface, "throw_up_deg"), facts.known(surface, "throw_down_deg")
    if up is None and down is None:
        return None, (field_missing(surface, "throw_up_deg"), field_missing(surface, "throw_down_deg"))
    if linkage is not None:
        facts.known(linkage, "arm_mm")
        facts.known(linkage, "horn_mm")
    try:
        used = max(abs(drive.at(up or 0.0).travel_deg), abs(drive.at(-(down or 0.0)).travel_deg))
    except BadInput as fault:
        return None, (text("linkage {position}: {fault}", position=code, fault=fault.text),)
    return facts.figure(
        "servo travel used", used, "deg", "travel of the arm at full throw, the larger way",
        "closed solution of the rod linkage",
    ), ()  # fmt: skip
