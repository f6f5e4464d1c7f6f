"""Balance, blade pitch and level of the swashplate as read, beside what was wanted of them."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.answers.beside import Beside, by_difference
from hangar.answers.checklists import stage
from hangar.base.figure import Band
from hangar.base.text import Text, text
from hangar.parts import Airframe, Rotor
from hangar.parts.choices import RotorKind
from hangar.parts.sheet_boxes import rotor_about
from hangar.physics.estimating import Z90
from hangar.survey import Survey

_PITCHES = (
    ("pitch_low_deg", text("pitch, low end")),
    ("pitch_mid_deg", text("pitch, middle")),
    ("pitch_high_deg", text("pitch, high end")),
)


def airframe_rows(surveyed: Survey) -> Iterator[Beside]:
    """The balance as weighed and what was read of each rotor; a reading without its day is left out."""
    frame = surveyed.aircraft.airframe
    if frame.cg_measured_mm is not None and frame.cg_measured_on is not None:
        yield _balance(frame)
    for rotor in surveyed.aircraft.rotors:
        yield from _rotor(rotor)


def wanted_pitch_deg(rotor: Rotor, field: str) -> float | None:
    """The blade pitch that is wanted at an end of the travel [deg]; None where the pilot chooses it.

    A main rotor reaches its greatest pitch at the high end, a tail rotor both ways.
    """
    if rotor.pitch_deg is not None and field == "pitch_high_deg":
        return rotor.pitch_deg
    if rotor.pitch_deg is not None and field == "pitch_low_deg" and rotor.rotor is RotorKind.TAIL:
        return -rotor.pitch_deg
    return None


def _balance(frame: Airframe) -> Beside:
    read, on = frame.cg_measured_mm, frame.cg_measured_on
    assert read is not None
    assert on is not None
    band, z = None, None
    if frame.cg_fore_mm is not None and frame.cg_aft_mm is not None:
        middle, half = (frame.cg_fore_mm + frame.cg_aft_mm) / 2.0, (frame.cg_aft_mm - frame.cg_fore_mm) / 2.0
        band, z = _within(read, middle, half)
    return Beside(frame, "cg_measured_mm", on, "", text("balance"), "mm", read, band, z, "balance")


def _rotor(rotor: Rotor) -> Iterator[Beside]:
    on, limits = rotor.pitch_read_on, stage("B7")
    if on is None:
        return

    def row(
        field: str, name: Text, read: float, beside: tuple[Band | None, float | None], kind: str
    ) -> Beside:
        return Beside(rotor, field, on, rotor_about(rotor.rotor), name, "deg", read, *beside, kind)

    for field, name in _PITCHES:
        read, wanted = getattr(rotor, field), wanted_pitch_deg(rotor, field)
        if read is not None:
            beside = (None, None) if wanted is None else _within(read, wanted, limits["within_deg"])
            yield row(field, name, read, beside, "pitch")
    off = rotor.swash_off_deg
    if off is not None:
        # Level is wanted, and a reading has no sign: at its limit it still fits.
        most = limits["swash_deg"]
        yield row("swash_off_deg", text("swashplate off level"), off,
                  (Band(0.0, 0.0, most), Z90 * off / most), "swash-level")  # fmt: skip


def _within(read: float, wanted: float, most_off: float) -> tuple[Band, float]:
    """A reading beside what is wanted: as far off as is allowed, it still fits."""
    return by_difference(read, wanted, most_off / Z90, 0.0)
