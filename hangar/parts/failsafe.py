"""What an output must do when the signal is lost: asked by checks, sheets, reading back and screen alike."""

from __future__ import annotations

from hangar.base.text import Listed, listed
from hangar.parts.airframe import Airframe
from hangar.parts.choices import FailsafeAction, Function, PowerKind
from hangar.parts.radio import Channel

STOPS = (FailsafeAction.IDLE, FailsafeAction.OFF)


def required_actions(channel: Channel) -> tuple[FailsafeAction, ...]:
    """What the output must be seen to do; empty where the keeper's own setting decides.

    An aircraft without signal must not fly away under power, so a throttle goes to idle or off.

    >>> [str(each) for each in required_actions(Channel(aircraft="X", number=3, function=Function.THROTTLE))]
    ['idle', 'off']
    """
    return STOPS if channel.function is Function.THROTTLE else ()


def expected_actions(channel: Channel) -> tuple[FailsafeAction, ...]:
    """What a proof must show: what is required, narrowed by a setting that agrees; empty if none is known."""
    required, recorded = required_actions(channel), channel.failsafe
    if recorded is None or (required and recorded not in required):
        return required
    return (recorded,)


def is_set_wrong(channel: Channel) -> bool:
    """Whether the recorded setting contradicts what is required.

    A preset may be idle by its position, so it alone does not; a setting that is not recorded is unknown.
    """
    recorded = channel.failsafe
    required = required_actions(channel)
    return bool(required) and recorded not in (None, FailsafeAction.PRESET, *required)


def has_time_limit(frame: Airframe, channel: Channel) -> bool:
    """Whether it must be done within a limited time: so with the throttle of a turbine."""
    return frame.power is PowerKind.TURBINE and channel.function is Function.THROTTLE


def is_contradicted(channel: Channel, seen: str) -> bool:
    """Whether what was seen without a signal, in somebody's own words, is not what a proof must show.

    Words that name no expected action are no proof, whatever they may mean.

    >>> throttle = Channel(aircraft="X", number=3, function=Function.THROTTLE, failsafe=FailsafeAction.HOLD)
    >>> is_contradicted(throttle, "full throttle"), is_contradicted(throttle, "Idle.")
    (True, False)
    """
    expected = [str(each) for each in expected_actions(channel)]
    return bool(expected) and seen.strip().strip(".").lower() not in expected


def actions_in_words(actions: tuple[FailsafeAction, ...]) -> Listed:
    """``idle or off``."""
    return listed(actions, joint="or", most=0)
