"""Pulses and frames that arrive at a servo from receiver or gyro."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import NOTHING, Text, text
from hangar.parts import ServoFit
from hangar.parts.choices import Function
from hangar.rules.case import Case
from hangar.rules.flag import read, worked
from hangar.survey.figures import field_missing

_CYCLIC = (Function.CYCLIC, Function.COLLECTIVE)


def output_rate(case: Case, fit: ServoFit) -> tuple[Figure | None, Text]:
    """Frames a second that arrive at a servo; without them, the field that would tell."""
    gyro = fit.through
    if gyro is not None and (fit.function is Function.TAIL or fit.function in _CYCLIC):
        field = "rate_hz" if fit.function is Function.TAIL else "cyclic_rate_hz"
        value = getattr(gyro, field)
        if value is None:
            return None, field_missing(gyro, field)
        return read(text("frame rate of gyro {gyro}", gyro=gyro.code), value, "Hz"), NOTHING
    if fit.channel is not None and fit.channel.rate_hz is not None:
        return read("frame rate of the output", fit.channel.rate_hz, "Hz"), NOTHING
    receiver = case.receiver_of(fit)
    if receiver is None:
        return None, case.lacks("receiver")
    if receiver.frame_ms is None:
        return None, field_missing(receiver, "frame_ms")
    return (
        worked(
            "frame rate of the receiver",
            1000.0 / receiver.frame_ms,
            "Hz",
            "1000 / frame period",
            Input(text("frame period"), receiver.frame_ms, "ms", Basis.RATED),
        ),
        NOTHING,
    )


def output_pulse(case: Case, fit: ServoFit) -> tuple[float | None, Text]:
    """Pulse centre that a servo is sent, in microseconds; without it, the field that would tell."""
    gyro = fit.through
    if gyro is not None and (fit.function is Function.TAIL or fit.function in _CYCLIC):
        field = "pulse_us" if fit.function is Function.TAIL else "cyclic_pulse_us"
        value = getattr(gyro, field)
        return value, NOTHING if value is not None else field_missing(gyro, field)
    if fit.channel is not None and fit.channel.pulse_us is not None:
        return fit.channel.pulse_us, NOTHING
    receiver = case.receiver_of(fit)
    if receiver is None:
        return None, case.lacks("receiver")
    return receiver.pulse_us, NOTHING if receiver.pulse_us is not None else field_missing(
        receiver, "pulse_us"
    )
