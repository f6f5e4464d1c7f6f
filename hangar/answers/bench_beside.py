"""Readings of the bench beside what was expected of them: a servo by itself, and in its place."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from hangar.answers.beside import Beside, by_difference, by_logarithm
from hangar.answers.checklists import stage
from hangar.base.figure import Band, Basis, Figure
from hangar.base.text import Amount, Text, text
from hangar.parts import BenchCheck, ServoFit
from hangar.parts.readings import is_aside
from hangar.parts.thresholds import Thresholds
from hangar.physics.estimating import Z90
from hangar.rules.bench_readings import end_limit
from hangar.survey import Survey
from hangar.survey.model import PositionSurvey
from hangar.survey.servo_learned import (
    CURRENTS,
    SPEED_SPREAD,
    pointer_sd_deg,
    sweep_ln_sd,
    usual_line,
    usual_sweep_s,
    weights_of,
)
from hangar.survey.servos import rating_of

Predicted = tuple[Band | None, float | None]

_KINDS = {"idle_ma": "idle-current", "moving_ma": "moving-current", "stalled_ma": "stalled-current"}
_IDLE_SPREAD = {Basis.MEASURED: 0.2, Basis.RATED: 0.4}
_UNRATED_SPREAD = 0.5
VOLTS_SD = 0.05
"""Error of a meter on the bench in volts; assumption."""
_METER_LN_SD, _THROW_MM, _SET_SD_DEG, _PLAY_MM, _PLAY_SPREAD = 0.05, 0.5, 0.6, 0.1, 0.5
"""Errors of a meter and a rule, how exactly a throw is set, how far play differs; assumption."""
_ENDS = (
    ("end_a_ma", text("current at end A")),
    ("end_b_ma", text("current at end B")),
    ("low_rate_ma", text("current at an end, low rate")),
)


def bench_rows(surveyed: Survey, thresholds: Thresholds) -> Iterator[Beside]:
    """Every reading of the servos of an aircraft, on the bench and in place."""
    for fit in surveyed.aircraft.fits:
        yield from _currents(fit)
        yield from _weights(fit)
        yield from _timings(fit)
        for check in fit.bench_checks:
            yield from _in_place(surveyed, fit, check, thresholds)


def _currents(fit: ServoFit) -> Iterator[Beside]:
    kind = fit.servo_type
    for bench in fit.benches if kind is not None else ():
        assert kind is not None
        for current in CURRENTS:
            read = getattr(bench, current.field)
            if not read:
                continue
            usual = current.expected(kind, bench.at_v)
            band, z = (None, None) if usual is None else by_logarithm(
                read, 1000.0 * usual, current.spread, current.ln_sd
            )  # fmt: skip
            yield Beside(
                bench, current.field, bench.tested_at.date(), fit.tag or fit.code, current.name, "mA", read,
                band, z, _KINDS[current.field], is_aside(bench, fit.set_aside),
            )  # fmt: skip


def _weights(fit: ServoFit) -> Iterator[Beside]:
    kind = fit.servo_type
    rated = None if kind is None else rating_of(kind)
    if kind is None or rated is None:
        return
    for bench in fit.benches:
        usual = usual_line(kind, rated.at(bench.at_v).stall_torque_nm)
        for mass_g, torque_nm, error_deg in weights_of(bench):
            expected, sd = usual.at(torque_nm)
            band, z = by_difference(error_deg, expected, sd, pointer_sd_deg(kind))
            yield Beside(
                bench, f"error at {mass_g:g} g", bench.tested_at.date(), fit.tag or fit.code,
                text("gives under {mass}", mass=Amount(mass_g, "g")), "deg", error_deg,
                Band(max(0.0, band.low), band.expected, band.design), z, "servo-give",
                is_aside(bench, fit.set_aside),
            )  # fmt: skip


def _timings(fit: ServoFit) -> Iterator[Beside]:
    rated = None if fit.servo_type is None else rating_of(fit.servo_type)
    for timing in fit.timings:
        band, z = None, None
        expected_s = None if rated is None else usual_sweep_s(timing, rated)
        if expected_s is not None:
            band, z = by_logarithm(timing.sweep_s, expected_s, SPEED_SPREAD, sweep_ln_sd(timing))
        yield Beside(
            timing, "sweep_s", timing.timed_at.date(), fit.tag or fit.code,
            text("time for {angle}", angle=Amount(timing.angle_deg, "deg")), "s", timing.sweep_s, band, z,
            "sweep-time", is_aside(timing, fit.set_aside),
        )  # fmt: skip


def _in_place(surveyed: Survey, fit: ServoFit, check: BenchCheck, thresholds: Thresholds) -> Iterator[Beside]:
    position = surveyed.positions.get(fit.code)
    aside, on = is_aside(check, fit.set_aside), check.checked_at.date()

    def row(
        field: str,
        name: Text,
        unit: str,
        measured: float,
        beside: tuple[Band | None, float | None],
        kind: str,
    ) -> Beside:
        return Beside(check, field, on, fit.code, name, unit, measured, *beside, kind, aside)

    idle = None if position is None else position.idle_a
    run = None if position is None else position.run_a
    if check.neutral_ma is not None:
        beside = beside_current(check.neutral_ma, idle)
        yield row("neutral_ma", text("current at neutral"), "mA", check.neutral_ma, beside, "idle-current")
    if check.moving_ma is not None:
        beside = beside_current(check.moving_ma, run)
        yield row("moving_ma", text("current moving"), "mA", check.moving_ma, beside, "moving-current")
    limit = end_limit(fit, surveyed, lambda name: _limit(thresholds, surveyed, name))
    for field, name in _ENDS:
        read = getattr(check, field)
        if read is not None:
            beside = below(read, 1000.0 * limit.most_a) if limit.most_a else (None, None)
            yield row(field, name, "mA", read, beside, "end-current")
    yield from _volts_and_heat(position, check, row)
    surface = fit.surface
    if surface is None:
        return
    chord = surface.root_chord_mm
    one_mm_deg = None if chord is None else math.degrees(1.0 / max(chord, 1.0))
    for field, name, wanted in (
        ("throw_up_deg", text("throw up or left"), surface.throw_up_deg),
        ("throw_down_deg", text("throw down or right"), surface.throw_down_deg),
    ):
        read = getattr(check, field)
        if read is not None:
            beside = (None, None) if wanted is None or one_mm_deg is None else by_difference(
                read, wanted, _SET_SD_DEG, _THROW_MM * one_mm_deg
            )  # fmt: skip
            yield row(field, name, "deg", read, beside, "throw")
    if check.play_deg is not None:
        before = _play_before(fit, check)
        beside = (None, None) if before is None or one_mm_deg is None else by_logarithm(
            check.play_deg, before, _PLAY_SPREAD, _PLAY_MM * one_mm_deg / max(check.play_deg, one_mm_deg)
        )  # fmt: skip
        yield row("play_deg", text("free play"), "deg", check.play_deg, beside, "play")


def _volts_and_heat(
    position: PositionSurvey | None, check: BenchCheck, row: Callable[..., Beside]
) -> Iterator[Beside]:
    if check.case_c is not None:
        heat = below(check.case_c, float(stage("B10")["servo_c"]))
        yield row("case_c", text("heat of the servo case"), "C", check.case_c, heat, "heat")
    if check.bus_v is not None:
        working = None if position is None else position.working_v
        band, z = beside_volts(check.bus_v, None if working is None else working.expected)
        # A servo that was not stalled reads more than the volts worked out, which says nothing against them.
        beside = (band, z if z is None else min(0.0, z))
        name = text("volts at the servo")
        yield replace(row("bus_v", name, "V", check.bus_v, beside, "far-volts"), is_least=True)


def _limit(thresholds: Thresholds, surveyed: Survey, name: str) -> float:
    return thresholds.value(name, surveyed.aircraft.airframe.aircraft_class)


def beside_volts(read_v: float, expected_v: float | None) -> Predicted:
    """Volts beside those expected; as far off as the stage allows they still fit."""
    if expected_v is None:
        return None, None
    return by_difference(read_v, expected_v, expected_v * stage("B1")["within_pct"] / 100, VOLTS_SD)


def beside_current(read_ma: float, figure: Figure | None) -> Predicted:
    """A current beside the one worked out, as far off as its basis makes expect."""
    if figure is None:
        return None, None
    spread = _IDLE_SPREAD.get(figure.basis, _UNRATED_SPREAD)
    return by_logarithm(read_ma, 1000.0 * figure.expected, spread, _METER_LN_SD)


def below(read: float, most: float) -> tuple[Band, float]:
    """A reading that is held against a greatest one: at it, it still fits."""
    return Band(0.0, 0.5 * most, most), Z90 * read / most


def _play_before(fit: ServoFit, check: BenchCheck) -> float | None:
    """The play that was read last before a check."""
    earlier = [
        (other.checked_at.date(), other.play_deg)
        for other in fit.bench_checks
        if other.checked_at < check.checked_at and other.play_deg and not is_aside(other, fit.set_aside)
    ]
    surface = fit.surface
    play_on = None if surface is None else surface.play_on
    if surface is not None and surface.play_deg and play_on and play_on < check.checked_at.date():
        earlier.append((play_on, surface.play_deg))
    return max(earlier)[1] if earlier else None
