"""What an output must do when the signal is lost: asked by checks, sheets, reading back and screen alike."""

from __future__ import annotations

from functools import cache

from hangar.base.reader import Reader, languages
from hangar.base.text import Arg, ItemList, listed, text_in
from hangar.parts.airframe import Airframe
from hangar.parts.choices import FailsafeAction, Function, PowerKind
from hangar.parts.radio import Channel

STOPS = (FailsafeAction.IDLE, FailsafeAction.OFF)
_IDLE = text_in("of a throttle", "idle")


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
    expected = expected_actions(channel)
    return bool(expected) and action_named(seen) not in expected


def action_text(action: FailsafeAction) -> Arg:
    """What an output does; a throttle's idle is another word than that of servos at rest."""
    return _IDLE if action is FailsafeAction.IDLE else action


def action_named(words: str) -> FailsafeAction | None:
    """The action that somebody's word names, in any language a sheet is printed in; None for none.

    >>> str(action_named("Off.")), action_named("full throttle")
    ('off', None)
    """
    word = words.strip().strip(".").lower()
    return next((action for action in FailsafeAction if word in _words_of(action)), None)


@cache
def _words_of(action: FailsafeAction) -> frozenset[str]:
    lines = (Reader(language).put(action_text(action)) for language in languages())
    return frozenset(words.lower() for words in lines)


def actions_in_words(actions: tuple[FailsafeAction, ...]) -> ItemList:
    """``idle or off``."""
    return listed(map(action_text, actions), joint="or")
