"""What a sheet says of an output without a signal: what is required, and a setting that contradicts it."""

from __future__ import annotations

from hangar.parts import Channel
from hangar.parts.choices import FailsafeAction
from hangar.parts.failsafe import (
    actions_in_words,
    expected_actions,
    has_time_limit,
    is_set_wrong,
    required_actions,
)
from hangar.sheets.case import SheetCase
from hangar.sheets.fit_words import Output
from hangar.sheets.kit import Box, Cell


def failsafe_cell(case: SheetCase, output: Output) -> Cell:
    """What an output must be seen to do without a signal, never a setting that is wrong.

    A box to write into where the setting is not known.
    """
    channel = output.channel
    if channel is None or channel.failsafe is None:
        return Box(about=output.about, what="No signal")
    words = _expected_words(case, channel)
    if is_set_wrong(channel):
        return f"{words}; set to {channel.failsafe}: WRONG"
    if required_actions(channel) and channel.failsafe is FailsafeAction.PRESET:
        return f"{words}, as preset"
    return words


def output_name(case: SheetCase, output: Output) -> str:
    """The output's name, with what is required of it where its setting is still to be written beside it."""
    channel = output.channel
    if channel is None or channel.failsafe is not None or not required_actions(channel):
        return output.name
    return f"{output.name}: {_expected_words(case, channel)} without a signal"


def setting_words(channel: Channel) -> str | None:
    """The recorded setting, marked where it is wrong; None where it is not known."""
    if channel.failsafe is None:
        return None
    return f"{channel.failsafe}: WRONG" if is_set_wrong(channel) else str(channel.failsafe)


def _expected_words(case: SheetCase, channel: Channel) -> str:
    words = actions_in_words(expected_actions(channel))
    if has_time_limit(case.aircraft.airframe, channel):
        return f"{words} in {case.threshold('turbine-stop'):g} s"
    return words
