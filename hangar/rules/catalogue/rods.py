"""Pushrods, clevises and cables."""

from __future__ import annotations

from hangar.base.text import Amount, text
from hangar.parts.choices import LinkageKind
from hangar.rules import examples as ex
from hangar.rules.bench_readings import newest_reading
from hangar.rules.case import Case
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, value_of, worked
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, thing_at

_CLEVIS = (LinkageKind.PUSHROD, LinkageKind.PULL_PULL)


@rule(
    "torque-far-too-much",
    title="Linkage may be weaker than the servo",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(
        servo_type={"ratings": ex.STRONG.ratings},
        linkage={"rod_diameter_mm": None, "arm_mm": 5.0, "horn_mm": 8.5},
    ),
    passes=lambda: ex.elevator(servo_type={"ratings": ex.STRONG.ratings}, linkage={"rod_diameter_mm": None}),
    cures=(Cure.ROD, Cure.SERVO),
    wants=Wants(
        part="servo",
        quantity="rod force at stall",
        of=lambda case, _: case.limit("usual-rod-load"),
        unit="N",
        at_most=True,
        words=lambda value: text("a servo that pushes with at most {value} at stall", value=value),
    ),
)
def torque_far_too_much(case: Case) -> Flags:
    """
    Checks: strong servos with many times the torque they need that push, at stall, with more than
        a usual rod bears, on pushrods that nobody measured.
    Consequence: when something jams, the linkage gives way before the servo stalls.
    Can't tell when: nothing is asked.
    Source: Euler's column formula; factors common practice, no source
    Remedy: A shorter arm, a stiffer rod, a weaker servo, or less travel.
    """
    surplus, least_n = case.limit("torque-surplus"), case.limit("usual-rod-load")
    for fit in case.servos:
        position = case.at(fit)
        rod, share = position.rod_margin, position.torque_share
        if position.rod_force_n is None or share is None:
            continue
        # A rod that is known and too weak is told of by itself.
        if rod is not None or share.expected * surplus >= 1.0 or position.rod_force_n.expected <= least_n:
            continue
        push = Amount(position.rod_force_n.expected, "N")
        bears = text("what the rod bears is not known")
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of([fit]),
            message=text(
                "{who} has {margin:.0f} times the torque it needs and pushes with {push} at stall; {bears}",
                who=thing_at(fit),
                margin=1.0 / max(share.expected, 1e-3),
                push=push,
                bears=bears,
            ),
            sameness=case.of_servo(
                fit,
                text("have far more torque than they need, and their rods may not bear it"),
                number=text("pushes with {push} at stall; {bears}", push=push, bears=bears),
            ),
            figures=tuple(f for f in (share, position.rod_force_n, position.rod_buckling_n) if f is not None),
            criticality=fit.criticality,
        )


@rule(
    "rod-buckling",
    title="Pushrod may bow",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(linkage={"rod_diameter_mm": 1.2, "rod_free_mm": 300.0}),
    passes=ex.trainer,
    cures=(Cure.ROD, Cure.SERVO, Cure.ARM),
    worse=Worse.LESS_PEAK,
    wants=Wants(
        part="rod",
        quantity="buckling load",
        of=lambda case, flag: _bearing_n(case, flag),
        unit="N",
        words=lambda value: text("a rod that buckles at no less than {value}", value=value),
    ),
)
def rod_buckling(case: Case) -> Flags:
    """
    Checks: the servo's stall force along the rod, at the highest bus volts, against a share of the rod's
        buckling load over its longest free length.
    Consequence: under load the rod bows and the surface gives way.
    Can't tell when: nothing is asked; rods without a diameter or material are passed over.
    Source: Euler's and Johnson's column formulas, pinned ends; share common practice, no source
    Remedy: A guide at mid-length, a thicker rod, a carbon tube, a longer arm, or a weaker servo.
    """
    share = case.limit("buckling-share")
    for fit in case.servos:
        force, buckling = case.at(fit).rod_force_n, case.at(fit).rod_buckling_n
        if force is None or buckling is None or force.expected <= share * buckling.expected:
            continue
        used = 100.0 * force.expected / buckling.expected
        push, bows = Amount(force.expected, "N"), Amount(buckling.expected, "N")
        yield Flag(
            level=Level.CAUTION,
            about=parts_of([fit]),
            message=text(
                "{who} may bow: the servo pushes with {push} at stall, the rod buckles at {bows}",
                who=thing_at(fit, "rod"),
                push=push,
                bows=bows,
            ),
            detail=text(
                "{push} of {bows} is {used:.0f} %; {percent:.0f} % is allowed",
                push=push,
                bows=bows,
                used=used,
                percent=100 * share,
            ),
            sameness=case.of_servo(
                fit,
                text("may bow: the servos push with {worst}{used:.0f} % of what buckles the rods", used=used),
                "rod",
            ),
            figures=(
                force,
                buckling,
                worked("share of the buckling load", used, "%", "force / buckling load"),
            ),
            criticality=fit.criticality,
            margin=share * buckling.expected / force.expected,
        )


@rule(
    "clevis-no-keeper",
    title="Clevis without a keeper",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(linkage={"clevis_keeper": False}),
    passes=ex.trainer,
    cures=(Cure.KEEPER,),
    worse=Worse.NOTHING,
)
def clevis_no_keeper(case: Case) -> Flags:
    """
    Checks: clevises of flight controls without a keeper.
    Consequence: the clevis springs open under vibration and the surface hangs loose.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: A piece of tube or a keeper over every clevis.
    """
    for fit in case.aircraft.fits:
        linkage = fit.linkage
        if linkage is None or linkage.kind not in _CLEVIS or linkage.clevis_keeper is not False:
            continue
        if fit.function.is_flight:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text("{who} has no keeper", who=thing_at(fit, "clevis")),
                sameness=case.of_servo(fit, text("have no keeper"), "clevis", group="flight"),
                criticality=fit.criticality,
                rests_on=("no keeper",),
            )


@rule(
    "pull-pull-tension",
    title="Cable tension wrong",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.elevator(linkage={"cable_note": "slack"}),
    passes=lambda: ex.elevator(linkage={"cable_note": "right"}),
    cures=(Cure.CABLE,),
    worse=Worse.NOTHING,
)
def pull_pull_tension(case: Case) -> Flags:
    """
    Checks: cables noted as slack, or as tight; tight is a caution where the servo draws clearly more than
        its idle current at neutral.
    Consequence: a slack cable lets the surface hunt, a tight one wears bearing and gears.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Adjust at the turnbuckles until the cable is just taut.
    """
    for fit in case.aircraft.fits:
        note = (fit.linkage.cable_note or "").lower() if fit.linkage else ""
        if "slack" in note:
            level, single, many = Level.CAUTION, text("slack"), text("are slack")
        elif "tight" in note:
            idle = fit.servo_type.idle_ma if fit.servo_type else None
            drawn = newest_reading(fit, "neutral_ma")
            limit = case.limit("tight-cable-current")
            loaded = drawn is not None and idle is not None and drawn > idle + limit
            level, single, many = Level.ADVISORY, text("tight"), text("are tight")
            if loaded:
                level = Level.CAUTION
                single = text("tight, the servo draws {drawn} at neutral", drawn=Amount(drawn or 0.0, "mA"))
        else:
            continue
        yield Flag(
            level=level,
            about=parts_of([fit]),
            message=text("{who} is {tension}", who=thing_at(fit, "cable"), tension=single),
            sameness=case.of_servo(fit, many, "cable"),
            criticality=fit.criticality,
            rests_on=(single,),
        )


def _bearing_n(case: Case, flag: Flag) -> float | None:
    """The buckling load of which the servo's force is no more than the share that is allowed."""
    force = value_of(flag, "rod force at stall")
    return None if force is None else force / case.limit("buckling-share")
