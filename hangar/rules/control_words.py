"""What is said of a control that is short: how much it holds where, why, and what would hold more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hangar.base.text import NOTHING, Amount, Text, joined, listed, text
from hangar.parts import ServoFit
from hangar.parts.choices import Function, LinkageKind
from hangar.physics.servo import dead_band_deg
from hangar.physics.servo_loop import ServoLoop
from hangar.rules.case import Case
from hangar.rules.control_levels import SOFT_SHARE, STRONG_SHARE, LineCase
from hangar.rules.finding import Level
from hangar.survey.flight_points import FlightPoint
from hangar.survey.holding import PointControl, SurfaceHold
from hangar.survey.linkages import Drive
from hangar.survey.loads import PointLoad

_LONGER_HORN = 1.3
_MOST_TRAVEL_DEG = 60.0
MOST_TIMES = 16.0
"""More of its torque than this no servo gives."""
_ROUNDS = 12
_WORTH_IT = 0.02


def angle(deg: float) -> Amount:
    """An angle as it is told."""
    return Amount(deg, "deg", 2)


def held_words(holding: SurfaceHold, point: PointControl, *, loose: bool = False) -> Text:
    """What is held of what is wanted, and where; ``loose`` of a small command that is not followed."""
    speed = Amount(point.speed_m_s, "m/s")
    if loose:
        return text(
            "follows a command of {wanted} to {held} in the dive at {speed}",
            wanted=angle(point.wanted_deg), held=angle(point.followed * point.wanted_deg), speed=speed,
        )  # fmt: skip
    held, wanted = angle(point.held.expected), angle(point.wanted_deg)
    if point.left >= 1.0:
        return text(
            "holds {wanted} at {speed}; {least} if the load is at the upper end",
            wanted=wanted, speed=speed, least=angle(point.held.low),
        )  # fmt: skip
    if point.point is FlightPoint.DIVE:
        return text(
            "holds {held} of {wanted} wanted in the dive at {speed}", held=held, wanted=wanted, speed=speed
        )
    if point.point is FlightPoint.LANDING:
        return text("holds {held} of {wanted} on landing at {speed}", held=held, wanted=wanted, speed=speed)
    full_to = holding.full_to_m_s(point)
    if full_to is None or full_to >= point.speed_m_s:
        return text("holds {held} of {wanted} at {speed}", held=held, wanted=wanted, speed=speed)
    return text(
        "holds {held} of {wanted} at {speed}; full throw up to {full_to}",
        held=held, wanted=wanted, speed=speed, full_to=Amount(full_to, "m/s", 2),
    )  # fmt: skip


def consequence_words(fit: ServoFit, point: PointControl, *, loose: bool = False) -> Text:
    """What the aircraft will do there."""
    if loose:
        return text(
            "at {speed} the air is stiffer than what holds it: it floats, and may flutter",
            speed=Amount(point.speed_m_s, "m/s"),
        )
    speed, share = Amount(point.speed_m_s, "m/s"), 100.0 * point.left
    if fit.function is Function.AILERON:
        return text("at {speed} it rolls with {share:.0f} % of what is wanted", speed=speed, share=share)
    if fit.function in (Function.ELEVATOR, Function.V_TAIL):
        return text("at {speed} it pulls out with {share:.0f} % of what is wanted", speed=speed, share=share)
    if fit.function is Function.RUDDER:
        return text(
            "at {speed} the nose swings with {share:.0f} % of what is wanted", speed=speed, share=share
        )
    return text("at {speed} the air pushes it back to {held}", speed=speed, held=angle(point.held.expected))


def several_hold(point: PointControl, *, loose: bool = False) -> Text:
    """The same of several."""
    if loose:
        return text(
            "follow a command of {wanted} to {worst}{held} in the dive at {speed}",
            held=angle(point.followed * point.wanted_deg), wanted=angle(point.wanted_deg),
            speed=Amount(point.speed_m_s, "m/s"),
        )  # fmt: skip
    return text(
        "hold {worst}{held} of {wanted} at {speed}",
        held=angle(min(point.held.expected, point.wanted_deg)), wanted=angle(point.wanted_deg),
        speed=Amount(point.speed_m_s, "m/s"),
    )  # fmt: skip


def cause_words(point: PointControl, weighing: LineCase) -> Text:
    """Whether the servo is weak or only soft."""
    share = text("asks {share:.0f} % of its torque", share=100.0 * point.torque_share)
    if point.torque_share > STRONG_SHARE or not weighing.is_soft:
        return share
    if point.torque_share < SOFT_SHARE:
        return text(
            "{share}: strong enough, but soft, pushed off by {error} at the arm",
            share=share, error=angle(point.arm_error_deg),
        )  # fmt: skip
    return text(
        "{share}, and soft, pushed off by {error} at the arm", share=share, error=angle(point.arm_error_deg)
    )


def other_points(points: tuple[PointControl, ...], worst: PointControl) -> Text:
    """What is held at the other points of flight, the least of both sides."""
    least: dict[tuple[FlightPoint, float], PointControl] = {}
    for point in points:
        key = (point.point, point.speed_m_s)
        if key != (worst.point, worst.speed_m_s) and (key not in least or point.left < least[key].left):
            least[key] = point
    if not least:
        return NOTHING
    sentences = [
        text(
            "{held} at {speed} where {wanted} is wanted",
            held=angle(min(control.held.expected, control.told_deg)),
            wanted=angle(control.wanted_deg),
            speed=Amount(control.speed_m_s, "m/s"),
        )
        for control in least.values()
    ]
    return text("elsewhere {points}", points=listed(sentences))


def remedies(case: Case, holding: SurfaceHold, worst: tuple[Level, PointControl], weighing: LineCase) -> Text:
    """What would lift the level, each with what it would hold; what would not is not offered."""
    texts = list(_offers(case, holding, worst, weighing))
    slower = holding.full_to_m_s(worst[1])
    if slower is not None and slower < worst[1].speed_m_s:
        texts.append(text("full throw up to {speed} only", speed=Amount(slower, "m/s", 2)))
    if not texts:
        return text("Less throw or speed; no servo alone would hold it.")
    return text("{offers:^}.", offers=joined(*texts, between="{first}; or {then}"))


def _offers(
    case: Case, holding: SurfaceHold, worst: tuple[Level, PointControl], weighing: LineCase
) -> Iterator[Text]:
    level, point = worst
    strict = replace(weighing, is_soft=False)

    def lifted(points: tuple[PointControl, ...]) -> PointControl | None:
        """The same point of flight where nothing is as grave any more, and more is held."""
        there = strict.worst(points)
        if not points or (there is not None and there[0].rank <= level.rank):
            return None
        control = next(
            (
                other
                for other in points
                if (other.point, other.way, other.speed_m_s) == (point.point, point.way, point.speed_m_s)
            ),
            None,
        )
        return control if control and control.left >= point.left + _WORTH_IT else None

    def hold(there: PointControl) -> Amount:
        return angle(min(there.held.expected, there.told_deg))

    if weighing.is_soft:
        stiff = _digital(holding)
        if there := lifted(holding.points(stiff)):
            yield text("a digital servo of the same torque would hold {held}", held=hold(there))
    if (times := times_needed(holding, strict, level)) is not None and times > 1.0:
        torque = case.ample(times * holding.loop.stall_torque_nm, "N m")
        loop = ServoLoop(torque.value, holding.loop.dead_band_deg, holding.loop.full_drive_deg)
        if there := lifted(holding.points(loop)):
            yield text("a servo of {torque} or more would hold {held}", torque=torque, held=hold(there))
    if holding.load.servos == 1 and (there := lifted(holding.points(more=2.0))):
        yield text("a second servo would hold {held}", held=hold(there))
    horn = _longer_horn(holding)
    if horn is not None and (there := lifted(holding.points(drive=horn))):
        yield text(
            "a horn of {horn} with more travel would hold {held}", horn=Amount(horn.horn_mm, "mm", 2),
            held=hold(there),
        )  # fmt: skip


def _digital(holding: SurfaceHold) -> ServoLoop:
    defaults = holding.question.defaults
    dead = dead_band_deg(defaults.dead_band.value("digital"))
    return ServoLoop.of(holding.loop.stall_torque_nm, dead, defaults.full_drive.value("digital"))


def _longer_horn(holding: SurfaceHold) -> Drive | None:
    """The same linkage with a longer horn, where the servo has the travel for it."""
    drive = holding.load.drive
    if (
        drive is None
        or not holding.load.is_drive_known
        or drive.kind in (LinkageKind.DIRECT, LinkageKind.BELT)
    ):
        return None
    most = max((point.track.travels_deg[-1] for point in holding.load.points), default=0.0)
    if _LONGER_HORN * most > _MOST_TRAVEL_DEG:
        return None
    return replace(drive, horn_mm=_LONGER_HORN * drive.horn_mm)


def is_held(holding: SurfaceHold, weighing: LineCase, level: Level, times: float) -> bool:
    """Whether a servo of the same loop with so many times its torque is in order at every point of flight.

    In order is what is less grave than the level, and than a caution.
    """
    return all(_is_held_at(load, holding, weighing, level, times) for load in holding.load.points)


def _is_held_at(
    load: PointLoad, holding: SurfaceHold, weighing: LineCase, level: Level, times: float
) -> bool:
    loop = replace(holding.loop, stall_torque_nm=times * holding.loop.stall_torque_nm)
    there = weighing.level(holding.at(load, loop))
    return there is None or there.rank > max(level.rank, Level.CAUTION.rank)


def times_needed(holding: SurfaceHold, weighing: LineCase, level: Level) -> float | None:
    """How many times its torque a servo of the same loop needs to be in order; None where none would do."""

    def is_enough(load: PointLoad, times: float) -> bool:
        return _is_held_at(load, holding, weighing, level, times)

    needed = 1.0
    # The point that asks for most is mostly the one where least is left: the others then ask once each.
    for load in sorted(holding.load.points, key=lambda load: holding.at(load, holding.loop).left):
        if is_enough(load, needed):
            continue
        if not is_enough(load, MOST_TIMES):
            return None
        low, high = needed, MOST_TIMES
        for _ in range(_ROUNDS):
            middle = (low * high) ** 0.5
            low, high = (low, middle) if is_enough(load, middle) else (middle, high)
        needed = high
    return needed
