"""What happens when the signal is lost, and how an engine is stopped."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, text
from hangar.parts import Channel
from hangar.parts.choices import (
    AircraftClass,
    Criticality,
    FailsafeAction,
    Function,
    PowerKind,
)
from hangar.parts.failsafe import is_set_wrong
from hangar.rules import examples as ex
from hangar.rules.case import Case, due_before_flying
from hangar.rules.changing import with_airframe, with_channel
from hangar.rules.consequences import flies_on
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, read
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing

_BRAKES = (Function.SPOILER, Function.FLAP)
_SLOWS = (*_BRAKES, Function.RUDDER, Function.AILERON, Function.ELEVATOR)


def _throttles(case: Case) -> tuple[Channel, ...]:
    return tuple(channel for channel in case.aircraft.channels if channel.function is Function.THROTTLE)


@rule(
    "failsafe-not-set",
    title="Failsafe not set or not proved",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_channel(ex.trainer(), 3, failsafe=FailsafeAction.HOLD),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def failsafe_not_set(case: Case) -> Flags:
    """
    Checks: on powered aircraft, that the throttle goes to idle or off when the signal is lost (warning)
        and that this was proved within a time (caution on a flying day, advisory at home); on sailplanes,
        that some surface is preset to slow or turn it (advisory), where something on it can slow it or it
        is above a mass.
    Consequence: without signal it flies away under power.
    Can't tell when: a powered aircraft has no throttle channel on record, what its failsafe does is not
        entered, or it is a preset without a position.
    Source: CAA CAP 658 (withdrawn 2021) and national codes ask for a failsafe; days common practice
    Remedy: Set it, then switch the transmitter off with the motor made safe, and enter the day.
    """
    throttles = _throttles(case)
    if not case.has_engine and not throttles:
        yield from _sailplane_failsafe(case)
        return
    if not throttles:
        yield cant_tell(case.lacks("throttle channel with its failsafe"), criticality=Criticality.SAFETY)
    for channel in throttles:
        yield from _throttle_failsafe(case, channel)


def _throttle_failsafe(case: Case, channel: Channel) -> Flags:
    about = (f"channel {channel.number}",)
    if channel.failsafe is None:
        lacks = field_missing(channel, "failsafe")
        yield cant_tell(lacks, about=about, criticality=Criticality.FLIGHT)
        return
    if channel.failsafe is FailsafeAction.PRESET and channel.failsafe_us is None:
        lacks = field_missing(channel, "failsafe_us")
        yield cant_tell(lacks, about=about, criticality=Criticality.SAFETY)
        return
    proved = channel.failsafe_proved_on
    limit = case.limit("failsafe-days")
    if is_set_wrong(channel):
        level = Level.WARNING
        what = text("is set to {failsafe}", failsafe=channel.failsafe)
        words = text(
            "The throttle's failsafe (channel {number}) {what}; idle or off is wanted.",
            number=channel.number,
            what=what,
        )
    elif proved is None:
        level, words = due_before_flying(case), text("The throttle's failsafe was never proved.")
    elif case.days_since(proved) > limit:
        level = due_before_flying(case)
        words = text(
            "The throttle's failsafe was proved {days_since} days ago; {limit:g} days is the limit.",
            days_since=case.days_since(proved),
            limit=limit,
        )
    else:
        return
    yield Flag(
        level=level,
        about=about,
        message=words,
        consequence=NOTHING
        if level is Level.WARNING
        else text("whether the motor stops without signal is found out when it is lost"),
        criticality=Criticality.FLIGHT if level is Level.WARNING else Criticality.SAFETY,
        rests_on=(level.value, str(channel.failsafe), str(proved)),
    )


def _sailplane_failsafe(case: Case) -> Flags:
    channels = [channel for channel in case.aircraft.channels if channel.function in _SLOWS]
    known = [channel.failsafe for channel in channels if channel.failsafe is not None]
    light = case.mass_g is not None and case.mass_g <= case.limit("light-sailplane")
    if light and not any(channel.function in _BRAKES for channel in channels):
        return
    if channels and not any(action is FailsafeAction.PRESET for action in known):
        yield Flag(
            level=Level.ADVISORY,
            about=(),
            message=text("No surface is preset to brake or turn the aircraft when the signal is lost."),
            consequence=text("without signal it flies on as it was trimmed"),
            criticality=Criticality.SAFETY,
            rests_on=tuple(sorted({str(action) for action in known})),
        )


@rule(
    "turbine-failsafe",
    title="Turbine does not stop in time without signal",
    levels=Level.WARNING,
    flags=lambda: with_airframe(ex.jet(), turbine_stop_s=4.0),
    passes=ex.jet,
    cures=(),
    worse=Worse.FIXED,
)
def turbine_failsafe(case: Case) -> Flags:
    """
    Checks: the measured time to stop, or to idle, with the transmitter off; and that the throttle's
        failsafe asks for it at all.
    Consequence: without signal the turbine flies on, and sets fire to what it hits.
    Can't tell when: the time was never measured, or the throttle's failsafe is not known.
    Source: Academy of Model Aeronautics turbine regulations as reported in Model Aviation, August 2004 (2 s);
        Model Aeronautics Association of Canada turbine guideline (2 s); British code of 2008 (3 s)
    Remedy: Set failsafe and engine control, and measure again.
    """
    if not case.is_turbine:
        return
    limit, seconds = case.limit("turbine-stop"), case.airframe.turbine_stop_s
    held = [throttle for throttle in _throttles(case) if is_set_wrong(throttle)]
    if held:
        yield Flag(
            level=Level.WARNING,
            about=tuple(f"channel {channel.number}" for channel in held),
            message=text(
                "Without a signal the throttle holds the turbine where it is; it must stop within {limit}.",
                limit=Amount(limit, "s"),
            ),
            consequence=text("without signal it flies on until the tank is empty, and burns where it falls"),
            criticality=Criticality.FLIGHT,
            rests_on=("held",),
        )
    for channel in _throttles(case):
        if channel.failsafe is None:
            lacks = field_missing(channel, "failsafe")
            yield cant_tell(
                lacks,
                about=(f"channel {channel.number}",),
                criticality=Criticality.FLIGHT,
            )
    if not held and seconds is None:
        lacks = field_missing(case.airframe, "turbine_stop_s")
        yield cant_tell(lacks, criticality=Criticality.FLIGHT)
    elif not held and seconds is not None and seconds > limit:
        yield Flag(
            level=Level.WARNING,
            about=(),
            message=text(
                "The turbine takes {seconds} to stop without signal; {limit} is the limit.",
                seconds=Amount(seconds, "s"),
                limit=Amount(limit, "s"),
            ),
            consequence=flies_on(case.airframe, seconds),
            figures=(read("time to stop", seconds, "s"), allowed("limit", limit, "s")),
            criticality=Criticality.FLIGHT,
            margin=limit / seconds,
        )


@rule(
    "no-engine-stop",
    title="No stop from the transmitter or no ignition kill",
    levels=Level.WARNING,
    flags=lambda: with_airframe(ex.giant(), ignition_kill=False),
    passes=ex.giant,
    cures=(),
    worse=Worse.FIXED,
)
def no_engine_stop(case: Case) -> Flags:
    """
    Checks: on giant-scale petrol engines, the stop from the transmitter and the ignition's kill switch.
    Consequence: an engine that runs away cannot be stopped from where you stand.
    Can't tell when: either is not recorded.
    Source: International Miniature Aircraft Association safety code
    Remedy: Fit the stop and the switch that are missing.
    """
    airframe = case.airframe
    if case.kind is not AircraftClass.GIANT or airframe.power is not PowerKind.PETROL:
        return
    for name in ("engine_stop", "ignition_kill"):
        if getattr(airframe, name) is None:
            yield cant_tell(field_missing(airframe, name), criticality=Criticality.SAFETY)
    stop, kill = airframe.engine_stop is False, airframe.ignition_kill is False
    if stop or kill:
        yield Flag(
            level=Level.WARNING,
            about=(),
            message=text("The engine has no engine stop from the transmitter and no ignition kill switch.")
            if stop and kill
            else text("The engine has no engine stop from the transmitter.")
            if stop
            else text("The engine has no ignition kill switch."),
            criticality=Criticality.SAFETY,
            rests_on=tuple(
                word
                for word, lacks in (
                    ("engine stop from the transmitter", stop),
                    ("ignition kill switch", kill),
                )
                if lacks
            ),
        )
