"""A linkage looked at through its whole travel: where it is good, where it binds, how far it throws."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure
from hangar.base.text import NOTHING, Text, fixed, series, text
from hangar.parts import Aircraft, ServoFit
from hangar.parts.choices import Function, LinkageKind
from hangar.parts.library import Library
from hangar.physics.air import Air
from hangar.physics.link_position import LinkPosition
from hangar.physics.linkage import RodLink
from hangar.physics.linkage_sweep import (
    DEAD_POINT_DEG,
    LEAST_TRANSMISSION_DEG,
    SERVO_DEAD_CENTRE_DEG,
    Bind,
    BindState,
    LinkSweep,
    sweep,
)
from hangar.rules.finding import Level
from hangar.survey.defaults import defaults_with
from hangar.survey.figures import Facts
from hangar.survey.linkages import SOURCE, Drive, drive_of
from hangar.survey.load_question import LoadQuestion
from hangar.survey.model import PositionSurvey, Survey

USUAL_TRAVEL_DEG = 60.0
"""Servo travel each way where none is recorded; common practice, no source."""
NEAR_ENOUGH_DEG = 0.5
"""A throw is not measured more closely than this."""
_RODLESS = (LinkageKind.DIRECT, LinkageKind.BELT)
_MEANT_TO_LOCK = (Function.RETRACT, Function.DOOR, Function.TOW_RELEASE)


@dataclass(frozen=True)
class Zone:
    """A part of the servo's travel that should not be used."""

    low_deg: float
    high_deg: float
    state: BindState
    level: Level

    @property
    def name(self) -> Text:
        """What is wrong there."""
        return fixed(str(self.state))

    @property
    def words(self) -> Text:
        """What is wrong and from where to where."""
        return text(
            "{what:^}: {low} to {high} of servo travel",
            what=self.name,
            low=f"{self.low_deg:.0f}°",
            high=f"{self.high_deg:.0f}°",
        )


@dataclass(frozen=True)
class Throw:
    """One way of a surface: what is wanted, what the linkage reaches, and the servo travel it takes."""

    name: Text
    wanted_deg: float | None
    reached: Figure
    travel_deg: float | None

    @property
    def is_short(self) -> bool:
        """Whether the linkage does not reach what is wanted."""
        return self.wanted_deg is not None and self.reached.expected < self.wanted_deg - NEAR_ENOUGH_DEG


@dataclass(frozen=True)
class LinkageStudy:
    """Everything the Linkages page shows of one position; ``why`` says what keeps it from being drawn."""

    fit: ServoFit
    survey: PositionSurvey | None
    drive: Drive | None = None
    swept: LinkSweep | None = None
    limit_deg: float = USUAL_TRAVEL_DEG
    zones: tuple[Zone, ...] = ()
    binds: tuple[Bind, ...] = ()
    throws: tuple[Throw, ...] = ()
    ratio: Figure | None = None
    least_angle: Figure | None = None
    why: Text = NOTHING

    @property
    def code(self) -> str:
        """The position's code."""
        return self.fit.code

    @property
    def link(self) -> RodLink | None:
        """The linkage, if there is one that can be drawn."""
        return self.swept.link if self.swept else None

    @property
    def low_deg(self) -> float:
        """Servo travel at the low end that the rod reaches."""
        return self.swept.low.servo_deg - self.swept.link.servo_neutral_deg if self.swept else 0.0

    @property
    def high_deg(self) -> float:
        """Servo travel at the high end that the rod reaches."""
        return self.swept.high.servo_deg - self.swept.link.servo_neutral_deg if self.swept else 0.0

    @property
    def level(self) -> Level | None:
        """The gravest trouble in the travel that is used."""
        levels = {bind.level for bind in self.binds} | {"caution" for throw in self.throws if throw.is_short}
        return min((Level(level) for level in levels), key=lambda worst_level: worst_level.rank, default=None)

    @property
    def full_stick_deg(self) -> float:
        """Servo travel at which the first wanted throw is reached; 0 where that is not known."""
        return next((throw.travel_deg for throw in self.throws if throw.travel_deg), 0.0)

    def at(self, travel_deg: float) -> LinkPosition | None:
        """The position at a servo travel; None where there is no rod or it does not reach."""
        if self.link is None:
            return None
        try:
            return self.link.at_travel(travel_deg)
        except BadInput:
            return None


def arm_holes(fit: ServoFit, library: Library) -> tuple[float, ...]:
    """Radii of the holes, mm, of all known arms that fit the spline of the servo at a position."""
    teeth = fit.installation.arm_teeth if fit.installation else None
    if teeth is None and fit.servo_type is not None:
        teeth = fit.servo_type.spline_teeth
    radii = {hole for arm in library.arms.values() if arm.spline_teeth == teeth for hole in arm.radii_mm}
    return tuple(sorted(radii))


def linkage_studies(aircraft: Aircraft, surveyed: Survey) -> tuple[LinkageStudy, ...]:
    """The study of every position, in the aircraft's order."""
    return tuple(_study(aircraft, surveyed, fit) for fit in aircraft.fits)


def _study(aircraft: Aircraft, surveyed: Survey, fit: ServoFit) -> LinkageStudy:
    position = surveyed.positions.get(fit.code)
    defaults = defaults_with(surveyed.conditions.defaults)
    facts = Facts()
    air = Air.at(surveyed.conditions.altitude_m, surveyed.conditions.air_c)
    drive = drive_of(LoadQuestion.of(aircraft, fit, air, defaults), defaults, facts)
    if drive is None:
        why = text("Cannot be drawn. Not known: {what}.", what=series(facts.missing))
        return LinkageStudy(fit, position, why=why)
    if drive.kind in _RODLESS:
        ratio = drive.arm_mm / drive.horn_mm
        figure = facts.figure("surface turn for each degree of arm", ratio, "ratio", "arm over horn", SOURCE)
        why = text(
            "No rod to draw: the servo turns this {how}.",
            how=fixed("straight") if drive.kind is LinkageKind.DIRECT else fixed("by a belt"),
        )
        return LinkageStudy(fit, position, drive, ratio=figure, why=why)
    return _swept_study(fit, position, drive, facts)


def _swept_study(fit: ServoFit, position: PositionSurvey | None, drive: Drive, facts: Facts) -> LinkageStudy:
    travel_deg = fit.linkage.servo_travel_deg if fit.linkage else None
    limit = min(travel_deg or USUAL_TRAVEL_DEG, 120.0)
    facts.note("servo travel each way", limit, "deg", Basis.TYPICAL if travel_deg is None else Basis.MEASURED)
    try:
        swept = _sweep(drive, limit)
    except BadInput as fault:
        return LinkageStudy(fit, position, drive, limit_deg=limit, why=fault.text)
    throws = tuple(_throws(fit, drive, swept, facts))
    used = _used(throws)
    binds = _binds(fit, drive, used) if used else ()
    least = min(_within(swept, used), key=lambda link_position: link_position.transmission_deg)
    return LinkageStudy(
        fit,
        position,
        drive,
        swept,
        limit,
        tuple(_zones(swept, limit)),
        binds,
        throws,
        facts.figure(
            "surface turn for each degree of arm at neutral",
            abs(swept.neutral.velocity_ratio),
            "ratio",
            "effective lever at the arm over effective lever at the horn",
            SOURCE,
        ),
        facts.figure(
            "least angle between rod and horn",
            least.transmission_deg,
            "deg",
            "smallest angle met in the servo travel that the throws use",
            SOURCE,
        ),
    )


@lru_cache(maxsize=256)
def _link(arm_mm: float, horn_mm: float, rod_mm: float, arm_angle_deg: float) -> RodLink:
    return RodLink.from_rod(arm_mm, horn_mm, rod_mm, arm_angle_deg, 90.0)


@lru_cache(maxsize=256)
def _sweep(drive: Drive, limit_deg: float) -> LinkSweep:
    link = _link(drive.arm_mm, drive.horn_mm, drive.rod_mm, drive.arm_angle_deg)
    return sweep(link, -limit_deg, limit_deg, step_deg=1.0, dead_centre_wanted=True)


def _before_turning(swept: LinkSweep) -> list[LinkPosition]:
    """The positions from end to end in which the surface still follows the arm."""
    side = math.copysign(1.0, swept.neutral.servo_lever_mm)
    return [position for position in swept.positions if position.servo_lever_mm * side > 0.0]


def _throws(fit: ServoFit, drive: Drive, swept: LinkSweep, facts: Facts) -> Iterable[Throw]:
    surface, link = fit.surface, swept.link
    turns = [position.horn_deg - link.horn_neutral_deg for position in _before_turning(swept)]
    wanted = (None, None) if surface is None else (surface.throw_up_deg, surface.throw_down_deg)
    most = (max(0.0, max(turns)), max(0.0, -min(turns)))
    for name, sign, want, reach in zip((fixed("up"), fixed("down")), (1.0, -1.0), wanted, most, strict=True):
        figure = facts.figure(
            text("throw reached, {way}", way=name),
            reach,
            "deg",
            "surface turn at the end of the servo's travel, or where the rod binds or turns back before it",
            SOURCE,
        )
        travel = None
        if want is not None and reach >= want - NEAR_ENOUGH_DEG:
            try:
                travel = drive.at(sign * want).travel_deg
            except BadInput:
                travel = None
        yield Throw(name, want, figure, travel)


def _used(throws: tuple[Throw, ...]) -> tuple[float, float] | None:
    """Servo travel that the throws use; None where that is not known."""
    travels = [throw.travel_deg for throw in throws if throw.travel_deg is not None]
    if len(travels) < len(throws):
        return None
    return min(0.0, *travels), max(0.0, *travels)


def _within(swept: LinkSweep, used: tuple[float, float] | None) -> list[LinkPosition]:
    if used is None:
        return list(swept.positions)
    zero = swept.link.servo_neutral_deg
    return [
        position
        for position in swept.positions
        if used[0] - 0.5 <= position.servo_deg - zero <= used[1] + 0.5
    ]


def _binds(fit: ServoFit, drive: Drive, used: tuple[float, float]) -> tuple[Bind, ...]:
    locks = fit.function in _MEANT_TO_LOCK
    return _swept_binds(drive, used, locks, fit.function.is_flight)


@lru_cache(maxsize=256)
def _swept_binds(drive: Drive, used: tuple[float, float], locks: bool, is_flight: bool) -> tuple[Bind, ...]:
    link = _link(drive.arm_mm, drive.horn_mm, drive.rod_mm, drive.arm_angle_deg)
    link_sweep = sweep(link, *used, step_deg=1.0, dead_centre_wanted=locks, flight_control=is_flight)
    return link_sweep.binds


def _zones(swept: LinkSweep, limit_deg: float) -> Iterable[Zone]:
    zero = swept.link.servo_neutral_deg
    side = math.copysign(1.0, swept.neutral.servo_lever_mm)
    low, high = swept.low.servo_deg - zero, swept.high.servo_deg - zero
    if swept.low_bound:
        yield Zone(-limit_deg, low, BindState.HARD_BIND, Level.WARNING)
    for state, run in groupby(swept.positions, key=lambda position: _state(position, side)):
        if state is not None:
            travels = [position.servo_deg - zero for position in run]
            poor = state is BindState.POOR_TRANSMISSION
            yield Zone(travels[0], travels[-1], state, Level.CAUTION if poor else Level.WARNING)
    if swept.high_bound:
        yield Zone(high, limit_deg, BindState.HARD_BIND, Level.WARNING)


def _state(position: LinkPosition, side: float) -> BindState | None:
    if position.servo_lever_mm * side <= 0.0:
        return BindState.REVERSAL
    if position.servo_transmission_deg < SERVO_DEAD_CENTRE_DEG:
        return BindState.SERVO_DEAD_CENTRE
    if position.transmission_deg < DEAD_POINT_DEG:
        return BindState.DEAD_POINT
    return BindState.POOR_TRANSMISSION if position.transmission_deg < LEAST_TRANSMISSION_DEG else None
