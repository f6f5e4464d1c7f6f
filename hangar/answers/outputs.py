"""What of an aircraft answers the transmitter, in the order of the channels."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.text import Arg, text
from hangar.parts import Aircraft, Channel, ServoFit
from hangar.parts.choices import Function
from hangar.parts.sheet_boxes import output_about


def channel_words(fit: ServoFit) -> str | None:
    """Channel number, with its port where that is not the main one; None where none is recorded."""
    if fit.position.channel is None:
        return None
    port = "" if fit.position.port == "main" else f" {fit.position.port}"
    return f"{fit.position.channel}{port}"


def channel_key(fit: ServoFit) -> tuple[bool, int, str]:
    """Order of positions on a sheet: by channel, those without one last."""
    number = fit.position.channel
    return (number is None, number or 0, fit.code)


def by_channel(aircraft: Aircraft) -> list[ServoFit]:
    """The positions of an aircraft in the order of their channels."""
    return sorted(aircraft.fits, key=channel_key)


@dataclass(frozen=True)
class Output:
    """One thing that answers the transmitter: a servo position, or a channel that drives a device."""

    fit: ServoFit | None
    channel: Channel | None

    @property
    def number(self) -> str | None:
        """Channel number; None where none is recorded."""
        if self.fit:
            return channel_words(self.fit)
        return str(self.channel.number) if self.channel else None

    @property
    def name(self) -> Arg:
        """The position's name, or the channel's function where no servo hangs on it."""
        if self.fit:
            return self.fit.position.name
        return text("{function}, no servo", function=self.channel.function) if self.channel else None

    @property
    def about(self) -> str:
        """What names it in the boxes of a sheet."""
        if self.fit:
            return self.fit.code
        channel = self.channel
        return output_about(None, channel.port, channel.number) if channel else ""

    @property
    def function(self) -> Function | None:
        """What it does."""
        if self.fit:
            return self.fit.function
        return self.channel.function if self.channel else None


def outputs_of(aircraft: Aircraft) -> list[Output]:
    """Every position and every channel without one, by channel number."""
    outputs = [Output(fit, fit.channel) for fit in aircraft.fits]
    used = {(fit.position.port, fit.position.channel) for fit in aircraft.fits}
    outputs += [
        Output(None, channel)
        for channel in aircraft.channels
        if (channel.port, channel.number) not in used and channel.function is not Function.SPARE
    ]
    return sorted(outputs, key=_output_key)


def _output_key(output: Output) -> tuple[bool, int, str]:
    if output.fit:
        return channel_key(output.fit)
    return (False, output.channel.number if output.channel else 0, "")
