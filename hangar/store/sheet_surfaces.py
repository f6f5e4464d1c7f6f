"""What the boxes of a bench check say of surfaces, and of mass and balance."""

from __future__ import annotations

import math
import re

from hangar.base.text import text
from hangar.parts import Airframe, BenchCheck, Position, Rotor, Surface
from hangar.parts.fields import key_of
from hangar.parts.sheet_boxes import ROTOR_READINGS, rotor_about
from hangar.store.filled_sheet import Answer, FilledSheet

THROW_FIELDS = {"Up": "throw_up_deg", "Down": "throw_down_deg"}
_GREATEST_THROW_DEG = 90.0
NO_CHORD = text(
    "cannot be made an angle, for the chord of the surface at its root is not known; degrees can be taken."
)


def take_throw(filled: FilledSheet, answer: Answer) -> None:
    """Degrees count; millimetres stand in where no degrees are given."""
    side, unit = answer.what.split()
    name = THROW_FIELDS[side]
    if unit == "deg":
        value = filled.number(answer, BenchCheck, name, bare="deg")
    else:
        value = _throw_of_mm(filled, answer, name)
        if filled.other(answer, f"{side} deg") is not None:
            return
    if value is not None:
        filled.check(answer.about, **{name: value})


def _throw_of_mm(filled: FilledSheet, answer: Answer, name: str) -> float | None:
    """The angle whose chord, straight across at the root trailing edge, has that length."""
    position = filled.edit.record(Position, filled.aircraft, answer.about)
    code = position.surface if position else None
    surface = filled.edit.record(Surface, filled.aircraft, code) if code else None
    if surface is None:
        filled.refuse(answer, text("cannot be made an angle, for no surface is recorded there any more."))
        return None
    if surface.root_chord_mm is None:
        filled.refuse(answer, NO_CHORD)
        return None
    across_mm = filled.measure(answer, "mm", bare="mm")
    if across_mm is None:
        return None
    most_mm = 2 * surface.root_chord_mm * math.sin(math.radians(_GREATEST_THROW_DEG / 2))
    if not 0 <= across_mm <= most_mm:
        filled.refuse(
            answer,
            text(
                "is no throw at this chord; allowed is 0 to {most_mm:.0f} mm, which is 90°.", most_mm=most_mm
            ),
        )
        return None
    angle_deg = round(math.degrees(2 * math.asin(across_mm / (2 * surface.root_chord_mm))), 1)
    value: float | None = filled.checked(answer, BenchCheck, name, angle_deg)
    return value


def take_play(filled: FilledSheet, answer: Answer) -> None:
    """Free play in all at the trailing edge, as a length or in degrees."""
    surface = filled.edit.record(Surface, filled.aircraft, answer.about)
    if surface is None:
        filled.refuse(answer, text("cannot be kept, for the aircraft has no such surface any more."))
        return
    if re.search(r"°|deg", answer.text):
        value = filled.number(answer, Surface, "play_deg")
    elif surface.root_chord_mm is None:
        filled.refuse(answer, NO_CHORD)
        return
    else:
        length_mm = filled.measure(answer, "mm")
        angle_deg = None if length_mm is None else round(math.degrees(length_mm / surface.root_chord_mm), 3)
        value = None if angle_deg is None else filled.checked(answer, Surface, "play_deg", angle_deg)
    if value is not None and filled.is_news(answer, surface.play_on):
        filled.change(answer, Surface, key_of(surface), play_deg=value, play_on=filled.day)


def take_mass(filled: FilledSheet, answer: Answer) -> None:
    """What it weighs as it will fly."""
    frame = filled.edit.record(Airframe, filled.aircraft)
    if frame is not None:
        _measured(filled, answer, answer.text.strip(), "all_up_mass_g", "mass_measured_on", frame)


def take_rotor(filled: FilledSheet, answer: Answer) -> None:
    """A pitch or a level of a rotor; of the levels at three pitches the most off is kept."""
    kind = answer.about.removeprefix(rotor_about(""))
    rotor = filled.edit.record(Rotor, filled.aircraft, kind)
    if rotor is None:
        filled.refuse(answer, text("cannot be kept, for the aircraft has no such rotor any more."))
        return
    field = ROTOR_READINGS[answer.what]
    value = filled.number(answer, Rotor, field, bare="deg")
    if value is None or not filled.is_news(answer, rotor.pitch_read_on):
        return
    if field == "swash_off_deg":
        others = [other for other in filled.answers if other.about == answer.about and other is not answer]
        more = [filled.number(other, Rotor, field, bare="deg") for other in others
                if ROTOR_READINGS.get(other.what) == field]  # fmt: skip
        value = max(value, *(read for read in more if read is not None), value)
    filled.change(answer, Rotor, key_of(rotor), **{field: value, "pitch_read_on": filled.day})


def take_balance(filled: FilledSheet, answer: Answer) -> None:
    """Where it balances with the packs that will fly."""
    frame = filled.edit.record(Airframe, filled.aircraft)
    if frame is not None:
        _measured(filled, answer, answer.text.strip(), "cg_measured_mm", "cg_measured_on", frame)


def _measured(filled: FilledSheet, answer: Answer, part: str, name: str, dated: str, frame: Airframe) -> None:
    value = filled.number(answer, Airframe, name, part)
    if value is not None and filled.is_news(answer, getattr(frame, dated)):
        filled.change(answer, Airframe, (frame.code,), **{name: value, dated: filled.day})
