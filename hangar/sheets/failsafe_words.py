"""What a sheet says of an output without a signal: what is required, and a setting that contradicts it."""

from __future__ import annotations

from hangar.answers.field_steps import required_words
from hangar.answers.outputs import Output
from hangar.base.text import Arg, text
from hangar.parts import Channel
from hangar.parts.choices import FailsafeAction
from hangar.parts.failsafe import (
    action_text,
    is_set_wrong,
    required_actions,
)
from hangar.sheets.boxes import Box
from hangar.sheets.case import SheetCase
from hangar.sheets.kit import Cell


def failsafe_cell(case: SheetCase, output: Output) -> Cell:
    """What an output must be seen to do without a signal, never a setting that is wrong.

    A box to write into where the setting is not known.
    """
    channel = output.channel
    if channel is None or channel.failsafe is None:
        return Box(about=output.about, what="No signal")
    words = required_words(case, channel)
    if is_set_wrong(channel):
        return text("{action}; set to {setting}: WRONG", action=words, setting=action_text(channel.failsafe))
    if required_actions(channel) and channel.failsafe is FailsafeAction.PRESET:
        return text("{action}, as preset", action=words)
    return words


def output_name(case: SheetCase, output: Output) -> Arg:
    """The output's name, with what is required of it where its setting is still to be written beside it."""
    channel = output.channel
    if channel is None or channel.failsafe is not None or not required_actions(channel):
        return output.name
    return text(
        "{name}: {action} without a signal",
        name=output.name,
        action=required_words(case, channel),
    )


def setting_words(channel: Channel) -> Arg:
    """The recorded setting, marked where it is wrong; None where it is not known."""
    if channel.failsafe is None:
        return None
    return (
        text("{setting}: WRONG", setting=action_text(channel.failsafe))
        if is_set_wrong(channel)
        else action_text(channel.failsafe)
    )
