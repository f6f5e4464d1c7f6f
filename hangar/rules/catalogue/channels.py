"""Channels: two functions on one, none for a function, numbers the receiver does not have."""

from __future__ import annotations

from collections import defaultdict

from hangar.base.text import Amount, listed, plural, text
from hangar.parts import ServoFit
from hangar.parts.choices import Criticality, Drive, Function, PowerKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_channel, with_fit, with_receiver, with_surface
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, rated, read
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, place, tags, thing_at
from hangar.survey.figures import field_missing

_POWERED = {PowerKind.GLOW, PowerKind.PETROL}
_NEEDED = {"aeroplane": (Function.ELEVATOR, Function.V_TAIL), "helicopter": (Function.CYCLIC, Function.TAIL)}


def _shared(case: Case) -> dict[tuple[str, int], list[ServoFit]]:
    outputs: dict[tuple[str, int], list[ServoFit]] = defaultdict(list)
    for fit in case.aircraft.fits:
        if fit.position.channel is not None:
            outputs[fit.position.port, fit.position.channel].append(fit)
    return {output: fits for output, fits in outputs.items() if len(fits) > 1}


def _is_declared(case: Case, port: str, number: int) -> bool:
    return any(
        channel.y_lead
        for channel in case.aircraft.channels
        if channel.port == port and channel.number == number
    )


@rule(
    "channel-duplicate",
    title="Two positions on one output",
    levels=Level.WARNING,
    flags=lambda: with_fit(ex.trainer(), "THR", position={"channel": 4}),
    passes=lambda: with_channel(with_fit(ex.trainer(), "AIL-R", position={"channel": 1}), 1, y_lead=True),
    cures=(),
    worse=Worse.FIXED,
)
def channel_duplicate(case: Case) -> Flags:
    """
    Checks: positions that name the same output of the same port, where no Y lead is declared for it.
    Consequence: two functions move together in the air.
    Can't tell when: the channel of a position is not known.
    Source: logic: one output, one function
    Remedy: Move one to a channel of its own, or declare the Y lead.
    """
    for fit in case.aircraft.fits:
        if fit.position.channel is None:
            lacks = field_missing(fit.position, "channel")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
    for (port, number), fits in _shared(case).items():
        if _is_declared(case, port, number):
            continue
        functions = sorted({fit.function for fit in fits})
        what = (
            listed(functions)
            if len(functions) > 1
            else plural(
                "{count:word} {function} servo",
                "{count:word} {function} servos",
                count=len(fits),
                function=fits[0].function,
            )
        )
        where = (
            text("channel {number}", number=number)
            if port == "main"
            else text("channel {number} of {port}", number=number, port=port)
        )
        yield Flag(
            level=Level.WARNING,
            about=parts_of(fits),
            message=text("{what} hang on {where}, and no Y lead is declared", what=what, where=where),
            detail=text("{positions}", positions=tags(fits)),
            criticality=min((fit.criticality for fit in fits), key=list(Criticality).index),
            rests_on=(where, *(fit.code for fit in fits)),
        )


def _needs(case: Case) -> list[tuple[Function, ...]]:
    """Functions that the aircraft cannot fly without; of each group one is enough."""
    if case.airframe.is_helicopter:
        needed: list[tuple[Function, ...]] = [(Function.CYCLIC,), (Function.TAIL,)]
    else:
        needed = [
            (Function.ELEVATOR, Function.V_TAIL, Function.AILERON),
            (Function.AILERON, Function.RUDDER, Function.V_TAIL),
        ]
    if case.airframe.power in _POWERED:
        needed.append((Function.THROTTLE,))
    return needed


@rule(
    "channel-unassigned",
    title="Flight function without channel or servo",
    levels=Level.WARNING,
    flags=lambda: with_fit(ex.trainer(), "ELE", servo=None, servo_type=None, installation=None),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def channel_unassigned(case: Case) -> Flags:
    """
    Checks: that the functions an aircraft of the class cannot fly without have a position, and that every
        flight position has a servo and a channel.
    Consequence: nothing moves this control.
    Can't tell when: no position at all is entered, or a flight position's channel is blank.
    Source: logic
    Remedy: Assign channel and servo.
    """
    fits = case.aircraft.fits
    if not fits:
        yield cant_tell(case.lacks("positions with their servos"), criticality=Criticality.FLIGHT)
        return
    there = {fit.function for fit in fits}
    for group in _needs(case):
        if not there & set(group):
            wanted = listed(group, joint="or")
            yield Flag(
                level=Level.WARNING,
                about=(),
                message=text("No position for {wanted} is entered.", wanted=wanted),
                criticality=Criticality.FLIGHT,
                rests_on=(wanted,),
            )
    for fit in fits:
        if fit.criticality is not Criticality.FLIGHT:
            continue
        if fit.servo is None:
            yield Flag(
                level=Level.WARNING,
                about=(fit.code,),
                message=text("No servo is fitted at {who} ({code}).", who=place(fit), code=fit.code),
                criticality=fit.criticality,
                rests_on=(fit.code,),
            )
        elif fit.position.channel is None:
            lacks = field_missing(fit.position, "channel")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)


@rule(
    "channel-beyond-receiver",
    title="Channel number above the receiver's",
    levels=Level.WARNING,
    flags=lambda: with_receiver(ex.trainer(), channels=4),
    passes=lambda: with_receiver(ex.trainer(), channels=5),
    cures=(Cure.RECEIVER,),
    worse=Worse.NOTHING,
    wants=Wants(
        part="receiver",
        quantity="channels",
        of="channel",
        words=lambda value: text("a receiver of at least {value} channels", value=value),
    ),
)
def channel_beyond_receiver(case: Case) -> Flags:
    """
    Checks: channel numbers of positions on a receiver's port against its number of channels.
    Consequence: the control is dead: the receiver has no such output.
    Can't tell when: the receiver's number of channels is not known.
    Source: logic
    Remedy: Assign a channel that the receiver has.
    """
    asked = set()
    for fit in case.aircraft.fits:
        receiver, number = case.receiver_of(fit), fit.position.channel
        on_receiver = receiver is not None and fit.position.port in ("main", receiver.code)
        if receiver is None or number is None or not on_receiver:
            continue
        if receiver.channels is None:
            if receiver.code not in asked:
                asked.add(receiver.code)
                yield cant_tell(
                    field_missing(receiver, "channels"),
                    about=(receiver.code,),
                    criticality=Criticality.FLIGHT,
                )
        elif number > receiver.channels:
            yield Flag(
                level=Level.WARNING,
                about=parts_of([fit]),
                message=text(
                    "{who} is on channel {number}; receiver {code} has {channels}",
                    who=thing_at(fit),
                    number=number,
                    code=receiver.code,
                    channels=receiver.channels,
                ),
                sameness=case.of_servo(
                    fit,
                    text(
                        "are on channels above the {channels} of receiver {code}",
                        channels=receiver.channels,
                        code=receiver.code,
                    ),
                    group=receiver.code,
                    number=text("channel {number}", number=number),
                ),
                figures=(read("channel", number), rated("channels of the receiver", receiver.channels)),
                criticality=fit.criticality,
            )


@rule(
    "y-lead-load",
    title="Two servos on one output",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_channel(
        with_fit(
            with_surface(ex.giant(), "AIL-L", "AIL-R", root_chord_mm=140.0), "AIL-R", position={"channel": 1}
        ),
        1,
        y_lead=True,
    ),
    passes=lambda: with_channel(with_fit(ex.trainer(), "AIL-R", position={"channel": 1}), 1, y_lead=True),
    cures=(Cure.SERVO,),
    wants=Wants(
        part="servo",
        quantity="lead current",
        of=lambda _, flag: flag.margin and flag.margin * max(figure.expected for figure in flag.figures[:-1]),
        unit="A",
        at_most=True,
        words=lambda value: text("a servo that draws at most {value} at its work", value=value),
    ),
)
def y_lead_load(case: Case) -> Flags:
    """
    Checks: sum of what servos on a declared Y lead draw under their expected loads against one plug's
        current; a caution where digital servos share it, an advisory otherwise and where only the greatest
        loads ask for more.
    Consequence: one plug carries both servos, heats and drops the volts of both.
    Can't tell when: nothing is asked; the check of the volts lost in a lead asks for its current.
    Source: common practice, no source
    Remedy: An output of its own for each servo, or power brought in at the Y.
    """
    limit = case.limit("y-current")
    for (port, number), fits in _shared(case).items():
        currents = [case.at(fit).lead_current_a for fit in fits]
        known = [current for current in currents if current is not None]
        if not _is_declared(case, port, number) or len(known) < len(fits):
            continue
        expected = sum(current.expected for current in known)
        amps = expected if expected > limit else sum(current.band.design for current in known)
        if amps > limit:
            digital = expected > limit and any(
                fit.servo_type and fit.servo_type.drive is Drive.DIGITAL for fit in fits
            )
            yield Flag(
                level=Level.CAUTION if digital else Level.ADVISORY,
                about=parts_of(fits),
                message=text(
                    "Servos {positions} draw {amps} through one plug of channel {number}; {limit} is "
                    "the limit.",
                    positions=listed([fit.code for fit in fits]),
                    amps=Amount(amps, "A"),
                    number=number,
                    limit=Amount(limit, "A"),
                ),
                figures=(*known, allowed("limit of the plug", limit, "A")),
                criticality=fits[0].criticality,
                margin=limit / amps,
            )
