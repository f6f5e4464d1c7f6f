"""What was read of a servo itself: its currents, its speed and how far it gives, from the bench.

A maker's torque and volts are never learned; a servo that was read draws, turns and holds as read.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import Amount, Text, fixed, text
from hangar.parts import ServoBench, ServoFit, ServoTiming, ServoType, SetAside
from hangar.parts.choices import Drive
from hangar.parts.readings import is_aside
from hangar.physics.estimating import Z90, Line, line
from hangar.physics.servo import dead_band_deg
from hangar.physics.servo_rating import Rating
from hangar.physics.tracking import DOES_NOT_FIT
from hangar.survey.servo_types import rating_of

_G = 9.80665
_IDLE_LN_SD, _RUN_LN_SD, _STALL_LN_SD, _SPEED_LN_SD = 0.05, 0.15, 0.07, 0.03
_IDLE_SPREAD, _RUN_SPREAD, _STALL_SPREAD = 0.5, 0.5, 0.26
"""How far servos of one type lie apart, with the meter's error, of the logarithm; assumption."""
_AGREE_LN, _TO_AGREE = 0.2, 2
_PICTURE_SHARE = 0.41
SPEED_SPREAD = 0.12
"""How far the speeds of servos of one type lie apart, of the logarithm; assumption."""
_POINTER_DEG = {True: 0.25, False: 0.06}
_FULL_DRIVE_DEG = {True: (25.0, 0.25), False: (1.5, 0.4)}
_USUAL_BAND_US = {True: 8.0, False: 3.0}
_START_SD_SHARE = 0.6
_SLOPE_SD_SHARE = {True: 0.45, False: 0.6}
_SOURCE = text("read on the bench; error of meter, film and pointer as usual, common practice, no source")
_LOOP_SOURCE = text("A. Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 14: a line with its prior")


@dataclass(frozen=True)
class OddReading:
    """A reading that does not fit its type, with how many deviations it is off."""

    name: Text
    read_on: date
    seen: float
    expected: float
    unit: str
    z: float


@dataclass(frozen=True)
class MeasuredServo:
    """What the bench says of one servo; None where it was not read.

    Attributes:
        idle_ma: current at rest.
        run_a: current moving without load.
        stall_per_v: stall current over the volts it was read at, A/V.
        speed_times: speed over the rated one.
        half_torque_deg: error at half the stall torque.
        stall_on, speed_on: day of the newest reading of each.
        odd: readings that fit nothing and wait for another.
    """

    idle_ma: Figure | None = None
    run_a: Figure | None = None
    stall_per_v: float | None = None
    speed_times: float | None = None
    half_torque_deg: Figure | None = None
    stall_on: date | None = None
    speed_on: date | None = None
    odd: tuple[OddReading, ...] = ()


NOTHING_MEASURED = MeasuredServo()


def servo_measured(fit: ServoFit) -> MeasuredServo:
    """What was read of the servo at a position; the newest reading of each kind governs."""
    if (not fit.benches and not fit.timings) or fit.servo_type is None or fit.servo is None:
        return NOTHING_MEASURED
    # In a plan the servo that was read may be gone already.
    tag = fit.servo.tag
    benches = tuple(bench for bench in fit.benches if bench.servo == tag)
    timings = tuple(timing for timing in fit.timings if timing.servo == tag)
    return _measured(benches, timings, fit.set_aside, fit.servo_type)


@lru_cache(maxsize=1024)
def _measured(
    benches: tuple[ServoBench, ...], timings: tuple[ServoTiming, ...], aside: tuple[SetAside, ...],
    kind: ServoType,
) -> MeasuredServo:  # fmt: skip
    rated = rating_of(kind)
    counted = sorted(
        (bench for bench in benches if not is_aside(bench, aside)), key=lambda bench: bench.tested_at
    )
    timed = sorted(
        (timing for timing in timings if not is_aside(timing, aside)), key=lambda timing: timing.timed_at
    )
    (idle, odd_idle), (run, odd_run), (stall, odd_stall) = (
        _newest_that_counts(counted, kind, current) for current in CURRENTS
    )
    timed, odd_time = (timed, None) if rated is None else _fitting_timings(timed, rated)
    counted, odd_give = (counted, None) if rated is None else _fitting_weights(counted, kind, rated)
    odd = tuple(
        reading for reading in (odd_idle, odd_run, odd_stall, odd_time, odd_give) if reading is not None
    )
    return MeasuredServo(
        None if idle is None else _current("idle current", idle.idle_ma or 0.0, "mA", idle, _IDLE_LN_SD),
        None if run is None else _current(
            "running current, no load", (run.moving_ma or 0.0) / 1000.0, "A", run, _RUN_LN_SD
        ),
        None if stall is None else (stall.stalled_ma or 0.0) / 1000.0 / stall.at_v,
        None if rated is None or not timed else _speed_times(timed, rated),
        None if rated is None else _half_torque(counted, kind, rated),
        None if stall is None else stall.tested_at.date(),
        timed[-1].timed_at.date() if timed else None,
        odd,
    )  # fmt: skip


def expected_idle_a(kind: ServoType, at_v: float) -> float | None:  # noqa: ARG001
    """What its type draws at rest; None where its maker does not say."""
    return None if kind.idle_ma is None else kind.idle_ma / 1000.0


def expected_run_a(kind: ServoType, at_v: float) -> float | None:  # noqa: ARG001
    """What its type draws moving without load; None where its maker does not say."""
    return kind.run_a


def expected_stall_a(kind: ServoType, at_v: float) -> float | None:
    """What its type draws stalled at some volts; None without whole ratings."""
    rated = rating_of(kind)
    return None if rated is None else rated.at(at_v).stall_current_a.expected


@dataclass(frozen=True)
class CurrentKind:
    """A current that is read of a servo on the bench.

    Attributes:
        field: of the record of the bench.
        name: what it is called.
        expected: what its type should draw at some volts.
        ln_sd: error of one reading, of the logarithm.
        spread: how far servos of one type lie apart, with the meter's error.
    """

    field: str
    name: Text
    expected: Callable[[ServoType, float], float | None]
    ln_sd: float
    spread: float


CURRENTS = (
    CurrentKind("idle_ma", fixed("idle current"), expected_idle_a, _IDLE_LN_SD, _IDLE_SPREAD),
    CurrentKind("moving_ma", fixed("running current, no load"), expected_run_a, _RUN_LN_SD, _RUN_SPREAD),
    CurrentKind("stalled_ma", text("stall current"), expected_stall_a, _STALL_LN_SD, _STALL_SPREAD),
)


def _newest_that_counts(
    counted: list[ServoBench], kind: ServoType, current: CurrentKind
) -> tuple[ServoBench | None, OddReading | None]:
    read = [(bench, amps / 1000.0) for bench in counted if (amps := getattr(bench, current.field))]
    return _chosen(read, lambda bench: current.expected(kind, bench.at_v), current.spread, current.name)


def _chosen(
    read: list[tuple[ServoBench, float]], expected: Callable[[ServoBench], float | None], spread: float,
    name: Text,
) -> tuple[ServoBench | None, OddReading | None]:  # fmt: skip
    """The newest reading that counts, and the newest of all where it does not fit what the type should show.

    One that does not fit waits; it counts once another agrees with it.
    """
    if not read:
        return None, None
    usual = [expected(bench) for bench, _ in read]
    offs = [
        0.0 if amps is None else math.log(value / amps) / spread
        for (_, value), amps in zip(read, usual, strict=True)
    ]
    if abs(offs[-1]) <= DOES_NOT_FIT:
        return read[-1][0], None
    newest, value = read[-1]
    if len(read) > 1 and abs(math.log(value / read[-2][1])) < _AGREE_LN:
        return newest, None
    earlier = [bench for (bench, _), off in zip(read, offs, strict=True) if abs(off) <= DOES_NOT_FIT]
    waiting = OddReading(name, newest.tested_at.date(), value, usual[-1] or 0.0, "A", offs[-1])
    return (earlier[-1] if earlier else None), waiting


def _current(name: str, value: float, unit: str, bench: ServoBench, ln_sd: float) -> Figure:
    on = bench.tested_at.date()
    read = Input(text("read on the bench, {day}", day=on), value, unit, Basis.MEASURED)
    volts = Input(text("at the volts"), bench.at_v, "V", Basis.MEASURED)
    wide = math.exp(Z90 * ln_sd)
    return Figure(
        fixed(name), value, unit, value / wide, value * wide, Basis.MEASURED,
        Working(text("newest reading"), (read, volts), _SOURCE), on,
    )  # fmt: skip


def usual_sweep_s(timing: ServoTiming, rated: Rating) -> float | None:
    """Time that the rated speed makes expect; None where there is none."""
    speed = rated.at(timing.at_v).no_load_rad_s
    return math.radians(timing.angle_deg) / speed if speed > 0.0 else None


def _fitting_timings(timed: list[ServoTiming], rated: Rating) -> tuple[list[ServoTiming], OddReading | None]:
    """The timings that count, and the newest of all where it does not fit and waits for another."""
    offs = []
    for timing in timed:
        usual_s = usual_sweep_s(timing, rated)
        spread = math.hypot(SPEED_SPREAD, sweep_ln_sd(timing))
        offs.append(0.0 if usual_s is None else math.log(timing.sweep_s / usual_s) / spread)
    counted = [timing for timing, off in zip(timed, offs, strict=True) if _counts(off, offs)]
    if not timed or not _waits(offs[-1], offs):
        return counted, None
    newest = timed[-1]
    usual_s = usual_sweep_s(newest, rated) or 0.0
    name = text("time for {angle}", angle=Amount(newest.angle_deg, "deg"))
    return counted, OddReading(name, newest.timed_at.date(), newest.sweep_s, usual_s, "s", offs[-1])


def _fitting_weights(
    counted: list[ServoBench], kind: ServoType, rated: Rating
) -> tuple[list[ServoBench], OddReading | None]:
    """The benches whose weights count; the newest waits for another where its weights do not fit."""
    offs: dict[int, float] = {}
    for bench in counted:
        usual = usual_line(kind, rated.at(bench.at_v).stall_torque_nm)
        for _, torque_nm, error_deg in weights_of(bench):
            expected, sd = usual.at(torque_nm)
            off = (error_deg - expected) / math.hypot(sd, pointer_sd_deg(kind))
            if abs(off) >= abs(offs.get(id(bench), 0.0)):
                offs[id(bench)] = off
    every = list(offs.values())
    fitting = [bench for bench in counted if id(bench) not in offs or _counts(offs[id(bench)], every)]
    weighed = [bench for bench in counted if id(bench) in offs]
    if not weighed or not _waits(offs[id(weighed[-1])], every):
        return fitting, None
    newest = weighed[-1]
    mass_g, torque_nm, error_deg = list(weights_of(newest))[-1]
    usual_deg, _ = usual_line(kind, rated.at(newest.at_v).stall_torque_nm).at(torque_nm)
    name = text("what it gives under {mass}", mass=Amount(mass_g, "g"))
    odd = OddReading(name, newest.tested_at.date(), error_deg, usual_deg, "deg", offs[id(newest)])
    return fitting, odd


def _waits(off: float, offs: list[float]) -> bool:
    """Whether a reading does not fit and no other one, off in the same way, speaks for it."""
    alike = sum(other * off > 0.0 and abs(other) > DOES_NOT_FIT for other in offs)
    return abs(off) > DOES_NOT_FIT and alike < _TO_AGREE


def _counts(off: float, offs: list[float]) -> bool:
    """Whether a reading counts: a slower or softer servo than usual at once, a better one when it fits."""
    return off > 0.0 or not _waits(off, offs)


def _speed_times(timed: list[ServoTiming], rated: Rating) -> float:
    """Measured speed over rated speed, each timing weighed by how finely it was filmed."""
    total = weights = 0.0
    for timing in timed:
        seen = math.radians(timing.angle_deg) / timing.sweep_s
        reading_ln_sd = sweep_ln_sd(timing)
        weight = 1.0 / reading_ln_sd**2
        total += weight * math.log(seen / rated.at(timing.at_v).no_load_rad_s)
        weights += weight
    return math.exp(total / weights)


def weights_of(bench: ServoBench) -> Iterator[tuple[float, float, float]]:
    """Mass, torque and error of each weight: half the way of the pointer between the two sides."""
    if bench.radius_mm is None:
        return
    for mass_g, here, there in (
        (bench.first_mass_g, bench.first_one_deg, bench.first_other_deg),
        (bench.second_mass_g, bench.second_one_deg, bench.second_other_deg),
    ):
        if mass_g is not None and here is not None and there is not None:
            error = 0.5 * abs(here - there)
            leaning = math.cos(math.radians(error))
            yield mass_g, _G * mass_g / 1000.0 * bench.radius_mm / 1000.0 * leaning, error


def pointer_sd_deg(kind: ServoType) -> float:
    """Error of a pointer's reading."""
    return _POINTER_DEG[kind.drive is Drive.ANALOG]


def sweep_ln_sd(timing: ServoTiming) -> float:
    """Error of a timing, of the logarithm: by how finely it was filmed."""
    if timing.pictures_hz is None:
        return _SPEED_LN_SD
    film = _PICTURE_SHARE / (timing.pictures_hz * timing.sweep_s) / math.sqrt(timing.sweeps)
    return math.hypot(_SPEED_LN_SD, film)


def usual_line(kind: ServoType, stall_nm: float) -> Line:
    """Error over torque as it is usual for a servo of its type, before any weight was hung on it."""
    return line(*_line_prior(kind, stall_nm), ())


def _line_prior(kind: ServoType, stall_nm: float) -> tuple[tuple[float, float], tuple[float, float]]:
    analog = kind.drive is Drive.ANALOG
    width = _USUAL_BAND_US[analog] if kind.dead_band_us is None else kind.dead_band_us
    start = dead_band_deg(width)
    full, _ = _FULL_DRIVE_DEG[analog]
    slope = (full - start) / stall_nm
    return (start, _START_SD_SHARE * start), (slope, _SLOPE_SD_SHARE[analog] * slope)


def bench_line(counted: list[ServoBench], kind: ServoType, stall_nm: float) -> Line | None:
    """Error over torque of a servo: where it starts and how soft it is; None without weights."""
    sd = pointer_sd_deg(kind)
    points = [(torque, error, sd) for bench in counted for _, torque, error in weights_of(bench)]
    return line(*_line_prior(kind, stall_nm), points) if points else None


def _half_torque(counted: list[ServoBench], kind: ServoType, rated: Rating) -> Figure | None:
    """Error at half the stall torque by the weights that hung on the arm."""
    weighed = [bench for bench in counted if bench.radius_mm is not None and bench.first_mass_g is not None]
    if not weighed:
        return None
    newest = weighed[-1]
    stall_nm = rated.at(newest.at_v).stall_torque_nm
    fitted = bench_line(weighed, kind, stall_nm)
    if fitted is None:
        return None
    error, sd = fitted.at(0.5 * stall_nm)
    inputs: list[Input] = [
        Input(
            _weight_words(bench), 0.5 * abs((bench.first_one_deg or 0.0) - (bench.first_other_deg or 0.0)),
            "deg", Basis.MEASURED,
        )
        for bench in weighed
    ]  # fmt: skip
    inputs.append(Input(text("stall torque rated, at the volts of the bench"), stall_nm, "N m", Basis.RATED))
    inputs.append(Input(text("degrees more for each newton metre"), fitted.slope, "ratio", Basis.MEASURED))
    return Figure(
        text("error at half the stall torque"), error, "deg", max(0.0, error - Z90 * sd), error + Z90 * sd,
        Basis.MEASURED, Working(text("line through the weights, joined with what is usual"), tuple(inputs),
                                _LOOP_SOURCE), newest.tested_at.date(),
    )  # fmt: skip


def _weight_words(bench: ServoBench) -> Text:
    return text(
        "half the way between both sides, {mass:g} g at {radius:g} mm, {day}",
        mass=bench.first_mass_g or 0.0,
        radius=bench.radius_mm or 0.0,
        day=bench.tested_at.date(),
    )
