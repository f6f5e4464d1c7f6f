"""What a servo draws at rest and on the mean, from its own figures and from what it does in flight."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import fixed, text
from hangar.parts import Aircraft, ServoFit
from hangar.parts.choices import Drive, Function
from hangar.physics.endurance import mean_servo_a
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts
from hangar.survey.servo_learned import servo_measured
from hangar.survey.servos import RATING_SOURCE, rating_of_fit

_REFERENCE_V = 6.0
"""Volts at which stall currents are compared, so that a mean does not hang on the bus: the current against a
load is the same at any volts."""
MEAN_FORMULA = text(
    "idle current + share of the flight in which it turns x running current + mean load over stall torque x "
    "(stall current - running current)"
)
MEAN_SOURCE = text("straight lines of a direct-current motor; shares common practice, no source")


def idle_a(fit: ServoFit, defaults: Defaults) -> tuple[float, Input]:
    """Current at rest: measured on this servo, else its type's, else typical for its size; with its input."""
    read = servo_measured(fit).idle_ma
    if read is not None:
        return read.expected / 1000.0, Input(fixed("idle current"), read.expected, "mA", Basis.MEASURED)
    if fit.servo is not None and fit.servo.idle_ma is not None:
        return fit.servo.idle_ma / 1000.0, Input(
            fixed("idle current"), fit.servo.idle_ma, "mA", Basis.MEASURED
        )
    kind = fit.servo_type
    if kind is not None and kind.idle_ma is not None:
        return kind.idle_ma / 1000.0, Input(fixed("idle current"), kind.idle_ma, "mA", Basis.RATED)
    drive = Drive.DIGITAL if kind is None else kind.drive
    usual_ma = defaults.servo_idle.value(drive)
    stall = None if kind is None else _stall(fit)
    if stall is not None:
        usual_ma = min(usual_ma, 1000.0 * defaults.idle_share.value(drive) * stall.expected)
    return usual_ma / 1000.0, Input(fixed("idle current"), usual_ma, "mA", Basis.TYPICAL)


def mean_draw(aircraft: Aircraft, fit: ServoFit, defaults: Defaults, most_a: float | None = None) -> Figure:
    """Current of the servo at a position averaged over a flight.

    Args:
        aircraft: whose class says how it is flown.
        fit: the position with its servo type.
        defaults: typical values.
        most_a: what it draws in the peak of the supply, which a mean never exceeds.
    """
    kind, facts = fit.servo_type, Facts()
    drive = Drive.DIGITAL if kind is None else kind.drive
    stall = None if kind is None else _stall(fit)
    if kind is None or stall is None:
        facts.assume(defaults.unrated_current, drive)
        amps = defaults.unrated_current.value(drive)
        return facts.figure(
            "average current", amps, "A", "usual for its kind", defaults.unrated_current.source
        )
    idle, noted = idle_a(fit, defaults)
    facts.inputs.append(noted)
    stall_a = facts.use(stall)
    read = servo_measured(fit).run_a
    run = facts.use(read) if read is not None else facts.known(kind, "run_a", Basis.RATED)
    if run is None:
        run = facts.assume(defaults.run_share, drive) * stall_a
    keys = _duty_keys(aircraft, fit)
    moving = min(1.0, facts.assume(defaults.moving_share, *keys))
    work = min(1.0, facts.assume(defaults.work_share, *keys))
    amps = mean_servo_a(idle, min(run, stall_a), stall_a, moving_share=moving, work_share=work)
    if most_a is not None and most_a < amps:
        facts.note("no more than in the peak", most_a, "A")
        amps = most_a
    return facts.figure("average current", amps, "A", MEAN_FORMULA, MEAN_SOURCE)


def _duty_keys(aircraft: Aircraft, fit: ServoFit) -> tuple[str | None, ...]:
    """What decides how much a servo works: rotor controls by themselves, surfaces by the class."""
    if fit.function in (Function.CYCLIC, Function.COLLECTIVE):
        return ("cyclic",)
    if fit.function is Function.TAIL:
        return ("tail",)
    if not fit.function.is_surface or fit.function is Function.SPOILER:
        return ("seldom",)
    return (aircraft.airframe.aircraft_class,)


def _stall(fit: ServoFit) -> Figure | None:
    """Stall current of a servo at the volts that means are compared at; None without whole ratings."""
    rating = rating_of_fit(fit)
    if rating is None:
        return None
    volts = min(max(_REFERENCE_V, rating.rows[0].volts), rating.rows[-1].volts)
    point = rating.at(volts)
    basis = Basis.TYPICAL if point.is_current_estimated else Basis.RATED
    if servo_measured(fit).stall_per_v is not None:
        basis = Basis.MEASURED
    read_at = Input(text("volts that it is read at"), volts, "V")
    working = Working(text("rating read at these volts"), (read_at,), RATING_SOURCE)
    return Figure(text("stall current"), point.stall_current_a.expected, "A", basis=basis, working=working)
