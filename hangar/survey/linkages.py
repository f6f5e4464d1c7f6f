"""From the servo arm at a position to what it moves: levers, ratios and travel at each deflection."""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput, Unreachable
from hangar.base.figure import Basis
from hangar.base.text import text
from hangar.base.values import value_class
from hangar.parts import Linkage
from hangar.parts.choices import LinkageKind
from hangar.physics.held_angle import Track
from hangar.physics.hinge_band import angles_to
from hangar.physics.linkage import RodLink
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts
from hangar.survey.load_question import LoadQuestion

_REACH_ROUNDS = 8
SOURCE = text("closed solution of the rod linkage; virtual work")


@value_class
class Stand:
    """A linkage at one deflection of what it moves.

    Attributes:
        travel_deg: servo travel from neutral.
        ratio: degrees of surface for each degree of servo arm, as a size.
        arm_lever_mm: effective lever at the servo; None where no rod works.
        horn_lever_mm: effective lever at the horn; None where no rod works.
    """

    travel_deg: float
    ratio: float
    arm_lever_mm: float | None = None
    horn_lever_mm: float | None = None


@value_class
class Drive:
    """How a servo drives a surface: by rods or cables, by a belt, or straight."""

    kind: LinkageKind
    arm_mm: float
    horn_mm: float
    rod_mm: float
    arm_angle_deg: float
    efficiency: float

    def at(self, deflection_deg: float) -> Stand:
        """Levers and travel at a deflection.

        Raises:
            Unreachable: the linkage does not reach that deflection.
        """
        if self.kind in (LinkageKind.DIRECT, LinkageKind.BELT):
            ratio = self.arm_mm / self.horn_mm
            return Stand(deflection_deg / ratio, ratio)
        return _rod_stand(self.arm_mm, self.horn_mm, self.rod_mm, self.arm_angle_deg, deflection_deg)


@lru_cache(maxsize=512)
def _horn_driven(
    arm_mm: float, horn_mm: float, rod_mm: float, arm_angle_deg: float
) -> tuple[RodLink, tuple[float, float, float]]:
    """The linkage driven from its horn, so that a deflection gives the servo's travel, and its neutral.

    Seen from behind, the horn is the arm; turns run the other way round.
    """
    link = RodLink.from_rod(horn_mm, arm_mm, rod_mm, 90.0, 180.0 - arm_angle_deg)
    return link, link.levers_at_travel(0.0)


@lru_cache(maxsize=8192)
def _rod_stand(
    arm_mm: float, horn_mm: float, rod_mm: float, arm_angle_deg: float, deflection_deg: float
) -> Stand:
    link, neutral = _horn_driven(arm_mm, horn_mm, rod_mm, arm_angle_deg)
    there = link.levers_at_travel(-deflection_deg) if deflection_deg else neutral
    # Driven from its horn: what turns there is the servo's arm.
    arm_deg, horn_lever, arm_lever = there
    neutral_deg, neutral_horn_lever, neutral_arm_lever = neutral
    if arm_lever * neutral_arm_lever <= 0.0 or horn_lever * neutral_horn_lever <= 0.0:
        raise Unreachable(
            "the linkage passes a dead point before {deflection:.0f}° of deflection.",
            deflection=deflection_deg,
        )
    return Stand(
        neutral_deg - arm_deg,
        abs(arm_lever / horn_lever),
        abs(arm_lever),
        abs(horn_lever),
    )


@lru_cache(maxsize=2048)
def track_of(drive: Drive, sign: float, greatest_deg: float) -> Track | None:
    """A linkage over one side of a surface's travel, as far as it reaches; None where it does not move it.

    Args:
        drive: the linkage.
        sign: 1 for up or left, -1 for down or right.
        greatest_deg: how far the surface is to turn [deg], above 0.
    """
    rows: list[tuple[float, Stand]] = []
    for angle in angles_to(greatest_deg):
        try:
            rows.append((angle, drive.at(sign * angle)))
        except BadInput:
            rows += _last_reached(drive, sign, rows[-1][0] if rows else 0.0, angle)
            break
    # A linkage past its dead point gives no further travel.
    rising = [rows[0]] if rows else []
    for angle, stand in rows[1:]:
        if abs(stand.travel_deg) <= abs(rising[-1][1].travel_deg):
            break
        rising.append((angle, stand))
    if len(rising) < 2:
        return None
    return Track(
        tuple(angle for angle, _ in rising),
        tuple(abs(stand.travel_deg) for _, stand in rising),
        tuple(stand.ratio for _, stand in rising),
    )


def _last_reached(drive: Drive, sign: float, reached: float, beyond: float) -> list[tuple[float, Stand]]:
    """The furthest deflection that a linkage gives, between one that it reaches and one that it does not."""
    stands: list[tuple[float, Stand]] = []
    for _ in range(_REACH_ROUNDS):
        middle = 0.5 * (reached + beyond)
        try:
            stands = [(middle, drive.at(sign * middle))]
            reached = middle
        except BadInput:
            beyond = middle
    return stands


def assumed_drive(linkage: Linkage | None, throw_deg: float, defaults: Defaults, facts: Facts) -> Drive:
    """The drive taken where arm and horn are not known: it reaches the throw at a usual turn of the arm."""
    kind = LinkageKind.PUSHROD if linkage is None else linkage.kind
    efficiency = facts.assume(defaults.linkage_efficiency, kind)
    turn = facts.assume(defaults.arm_at_throw)
    return Drive(LinkageKind.BELT, throw_deg, turn, 1.0, 90.0, efficiency)


def drive_of(at: LoadQuestion, defaults: Defaults, facts: Facts) -> Drive | None:
    """The drive at a position; None when its radii are not known, which is noted.

    An arm leaning so far that the rod cannot be laid out is noted as missing geometry too.
    """
    linkage = at.linkage
    if linkage is None:
        facts.lack(text("linkage {position}: not recorded", position=at.code))
        return None
    efficiency = facts.assume(defaults.linkage_efficiency, linkage.kind)
    if linkage.kind is LinkageKind.DIRECT:
        return Drive(linkage.kind, 1.0, 1.0, 1.0, 90.0, efficiency)
    arm, horn = facts.need(linkage, "arm_mm"), facts.need(linkage, "horn_mm")
    if arm is None or horn is None:
        return None
    rod = _rod_mm(linkage, arm, horn, defaults, facts)
    angle = facts.known(linkage, "arm_angle_deg")
    if angle is None:
        angle = 90.0
        facts.note("arm to rod at neutral", angle, "deg", Basis.TYPICAL)
    drive = Drive(linkage.kind, arm, horn, rod, angle, efficiency)
    try:
        drive.at(0.0)
    except BadInput as fault:
        facts.lack(text("linkage {position}: {fault}", position=at.code, fault=fault.text))
        return None
    except ZeroDivisionError:
        facts.lack(text("linkage {position}: its geometry cannot be worked", position=at.code))
        return None
    return drive


def _rod_mm(linkage: Linkage, arm_mm: float, horn_mm: float, defaults: Defaults, facts: Facts) -> float:
    if linkage.rod_length_mm is not None:
        return facts.known(linkage, "rod_length_mm") or 0.0
    usual = defaults.rod_length.value()
    length = max(usual, 4.0 * max(arm_mm, horn_mm))
    facts.note(defaults.rod_length.meaning, length, "mm", Basis.TYPICAL)
    return length


def rod_force_n(torque_nm: float, drive: Drive, deflection_deg: float) -> float:
    """Force along the rod that a servo torque makes at a deflection; infinite at dead centre."""
    lever = drive.at(deflection_deg).arm_lever_mm
    if lever is None:
        lever = drive.arm_mm
    return torque_nm * 1000.0 / lever if lever else math.inf
