"""What is worth reading on the bench and in the air although no field asks for it.

Each figure that readings inform is known with a band. It is tried at the ends of that band, as a reading
would leave it; where findings change, it is sought how far out they do, and the chance that one reading gets
there is worked from the band and the reading's own error (pre-posterior analysis).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from hangar.base.text import Amount, Text, fixed, text
from hangar.parts import Aircraft, FlightLog, FlightLogPack, RemarkOnSpeed, ServoBench, ServoFit
from hangar.parts.choices import Drive, FeedRole
from hangar.physics.estimating import Z90, Factor, censored, value_of_reading
from hangar.survey import Scenario, Survey
from hangar.survey.currents_learned import SCATTER, SPREAD
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads_learned import EDGE_LN, runs_out_at_m_s
from hangar.survey.pack_readings import TEN_SECONDS_TIMES
from hangar.survey.position_load import load_at
from hangar.survey.remarks import LN_SD
from hangar.survey.servo_learned import CURRENTS, servo_measured, usual_line
from hangar.survey.servos import rating_of

STEPS = (Z90, 1.0, 0.5)
"""How far out a figure is tried, in standard deviations, the farthest first."""
_LEADS_LN_SD, _LEADS_READ_LN_SD = 0.25, 0.06
_REMARK_LN_SD, _FLOWN_LN_SD, _STALL_READ_LN_SD, _GIVE_READ_SHARE = 0.35, 0.18, 0.07, 0.05
_MASS_G = {True: (300.0, 600.0), False: (800.0, 1800.0)}
_RADIUS_MM = 30.0
_G = 9.80665


@dataclass(frozen=True)
class Candidate:
    """One reading that could be made.

    Attributes:
        words: what is read.
        how: how it is read.
        minutes: time that takes.
        tool: what must be at hand.
        read: the aircraft as such a reading would leave it, so many standard deviations off.
        variance: of the figure it informs, as it stands.
        error: of one reading, in the same terms.
        ways: in which directions it is tried.
    """

    words: Text
    how: Text
    minutes: float
    tool: Text
    read: Callable[[float], Aircraft]
    variance: float
    error: float
    ways: tuple[float, ...] = (1.0, -1.0)

    def chance(self, step: float) -> float:
        """How likely one reading is to show the figure so far out."""
        return value_of_reading(0.0, self.variance, step * math.sqrt(self.variance), self.error)[0]


def candidates(surveyed: Survey) -> Iterator[Candidate]:
    """Every reading that informs a figure of this aircraft and was not made yet."""
    yield from _remarks(surveyed)
    yield from _flown(surveyed)
    yield from _leads(surveyed)
    seen: set[str] = set()
    for fit in sorted(surveyed.aircraft.fits, key=lambda fit: _reserve(surveyed, fit)):
        kind = fit.servo_type
        if kind is None or fit.servo is None or kind.code in seen or rating_of(kind) is None:
            continue
        seen.add(kind.code)
        yield from _stalled(surveyed, fit)
        yield from _give(surveyed, fit)


def _reserve(surveyed: Survey, fit: ServoFit) -> float:
    reserve = surveyed.positions[fit.code].reserve
    return math.inf if reserve is None else reserve.expected


def _with_fit(aircraft: Aircraft, changed: ServoFit) -> Aircraft:
    fits = tuple(changed if fit.code == changed.code else fit for fit in aircraft.fits)
    return replace(aircraft, fits=fits)


def _remarks(surveyed: Survey) -> Iterator[Candidate]:
    """A speed at which a surface runs out: it can only raise a load."""
    aircraft, today = surveyed.aircraft, surveyed.conditions.today
    lines = {remark.surface for remark in aircraft.remarks}
    for fit in aircraft.fits:
        holding = surveyed.positions[fit.code].holding
        if holding is None or fit.surface is None or fit.surface.code in lines:
            continue
        lines.add(fit.surface.code)
        probe = RemarkOnSpeed(
            aircraft=aircraft.code, surface=fit.surface.code, noted_on=today, speed_m_s=10.0, runs_out=True
        )
        asked = holding.question
        question = LoadQuestion.of(replace(aircraft, remarks=(probe,)), fit, asked.air, asked.defaults)
        load = load_at(asked).load
        predicted = None if load is None else runs_out_at_m_s(question, load)
        if predicted is None:
            continue

        def read(steps: float, probe: RemarkOnSpeed = probe, predicted: float = predicted) -> Aircraft:
            speed = predicted * math.exp(-0.5 * _limit_for(steps * LN_SD))
            seen = replace(probe, speed_m_s=min(200.0, max(2.0, speed)))
            return replace(aircraft, remarks=(*aircraft.remarks, seen))

        yield Candidate(
            text("surface {surface}: speed at which it runs out", surface=fit.surface.code),
            text(
                "Fly level passes, a little faster each time, with full throw for a moment; note the speed "
                "at which it runs out, or up to which it holds. About {speed} is predicted.",
                speed=Amount(predicted, "m/s", 2),
            ),
            20.0, fixed("a borrowed GPS logger"), read, LN_SD**2, _REMARK_LN_SD, (1.0,),
        )  # fmt: skip


def _limit_for(shift: float) -> float:
    """The limit of a remark that moves the load by so much."""
    low, high = -2.0, 2.0
    for _ in range(30):
        middle = 0.5 * (low + high)
        moved, _variance = censored(0.0, LN_SD**2, middle, above=True, edge=EDGE_LN)
        low, high = (middle, high) if moved < shift else (low, middle)
    return low


def _flown(surveyed: Survey) -> Iterator[Candidate]:
    """The current in flight, by what is put back or a log."""
    aircraft, today = surveyed.aircraft, surveyed.conditions.today
    cruise = surveyed.scenarios.get(Scenario.CRUISE)
    paths = aircraft.radio_paths
    if cruise is None or not cruise.path_a or any(path.feed.role is FeedRole.DRIVE for path in paths):
        return
    learned = None if surveyed.currents is None else surveyed.currents.mean.track
    state = Factor.begin(SCATTER, SPREAD) if learned is None else learned.state
    packs_a = sum(figure.expected for figure in cruise.path_a.values())
    variance = (state.reach / Z90) ** 2

    def read(steps: float) -> Aircraft:
        amps = packs_a * math.exp(steps * math.sqrt(variance) * (1.0 + state.count))
        log = FlightLog(
            aircraft=aircraft.code, flown_on=today, number=200, file_name="-", check_sum="-",
            minutes_min=10.0, rate_hz=1.0, mean_a=amps,
        )  # fmt: skip
        return replace(aircraft, flight_logs=(*aircraft.flight_logs, log))

    yield Candidate(
        text("current in flight"),
        text(
            "Charge to the end, fly, note the minutes, charge again and enter what was put back with the "
            "flight; or read a logger's file of a flight."
        ),
        5.0, fixed("a charger that shows what it puts in"), read, variance, _FLOWN_LN_SD,
    )  # fmt: skip


def _leads(surveyed: Survey) -> Iterator[Candidate]:
    """Switch, plugs and leads of a path with one pack, by a flight log."""
    aircraft, today = surveyed.aircraft, surveyed.conditions.today
    for path in aircraft.radio_paths:
        code = path.feed.code
        outside = surveyed.supply.path_ohm.get(code)
        if code in surveyed.leads or len(path.packs) != 1 or outside is None:
            continue
        fed, kind = path.packs[0], path.packs[0].pack_type
        cell = surveyed.supply.pack_cell_mohm.get(fed.pack.tag)
        if cell is None:
            continue
        pack_mohm = cell.expected * kind.series / kind.parallel
        leads_mohm = max(1.0, 1000.0 * outside.expected - pack_mohm)

        def read(
            steps: float, code: str = code, pack: float = pack_mohm, leads: float = leads_mohm
        ) -> Aircraft:
            mohm = pack / TEN_SECONDS_TIMES + leads * math.exp(steps * _LEADS_LN_SD)
            paths = []
            for other in aircraft.paths:
                if other.feed.code == code:
                    log = FlightLogPack(
                        aircraft=aircraft.code, flown_on=today, number=200, pack=other.packs[0].pack.tag,
                        path_mohm=mohm, path_low_mohm=0.97 * mohm, path_high_mohm=1.03 * mohm, pack_c=20.0,
                    )  # fmt: skip
                    packs = (replace(other.packs[0], flight_logs=(log,)),)
                    paths.append(replace(other, packs=packs))
                else:
                    paths.append(other)
            return replace(aircraft, paths=tuple(paths))

        yield Candidate(
            text("power path {path}: flight log of volts and current", path=code),
            text("Log volts at the receiver and current of a flight, five times a second or faster, and read "
                 "the file in the logbook; pack {pack} by a load test beside it tells the leads apart.",
                 pack=fed.pack.tag),
            15.0, fixed("a logger with a current sensor"), read, _LEADS_LN_SD**2, _LEADS_READ_LN_SD, (1.0,),
        )  # fmt: skip


def _bench(surveyed: Survey, fit: ServoFit, at_v: float, **values: float | None) -> Aircraft:
    assert fit.servo is not None
    made = datetime.combine(surveyed.conditions.today, datetime.min.time())
    blank: dict[str, float | None] = dict(values)
    read = replace(ServoBench(servo=fit.servo.tag, tested_at=made, at_v=at_v), **blank)  # type: ignore[arg-type]
    return _with_fit(surveyed.aircraft, replace(fit, benches=(*fit.benches, read)))


def _volts(surveyed: Survey) -> float:
    nominal = surveyed.supply.bus_nominal_v
    return 5.0 if nominal is None else nominal.expected


def _stalled(surveyed: Survey, fit: ServoFit) -> Iterator[Candidate]:
    """Stall current of a servo."""
    current = CURRENTS[-1]
    kind = fit.servo_type
    assert kind is not None
    at_v = _volts(surveyed)
    usual = current.expected(kind, at_v)
    if usual is None or servo_measured(fit).stall_on is not None:
        return
    variance = current.spread**2

    def read(steps: float) -> Aircraft:
        return _bench(surveyed, fit, at_v, stalled_ma=1000.0 * usual * math.exp(steps * current.spread))

    yield Candidate(
        text("servo {tag}: current with the arm held", tag=fit.tag or fit.code),
        text("In the vice at the bus volts, hold the arm for one second, a digital servo for half a second, "
             "and read the current; enter the volts at its plug with it."),
        10.0, fixed("a meter for amps"), read, variance, _STALL_READ_LN_SD,
    )  # fmt: skip


def _give(surveyed: Survey, fit: ServoFit) -> Iterator[Candidate]:
    """How far a servo gives under known weights."""
    kind = fit.servo_type
    rated = None if kind is None else rating_of(kind)
    if (
        kind is None
        or rated is None
        or fit.surface is None
        or servo_measured(fit).half_torque_deg is not None
    ):
        return
    at_v = _volts(surveyed)
    usual = usual_line(kind, rated.at(at_v).stall_torque_nm)
    analog = kind.drive is Drive.ANALOG
    masses = _MASS_G[analog]
    most_g = 500.0 * rated.at(at_v).stall_torque_nm / _G / (_RADIUS_MM / 1000.0)
    light, heavy = (min(mass, share * most_g) for mass, share in zip(masses, (0.5, 1.0), strict=True))
    variance = (usual.slope_sd / usual.slope) ** 2

    def read(steps: float) -> Aircraft:
        slope = usual.slope * max(0.1, 1.0 + steps * math.sqrt(variance))
        light_deg, heavy_deg = (
            usual.start + slope * _G * mass_g / 1e6 * _RADIUS_MM for mass_g in (light, heavy)
        )
        return _bench(
            surveyed, fit, at_v, radius_mm=_RADIUS_MM, first_mass_g=light, first_one_deg=light_deg,
            first_other_deg=-light_deg, second_mass_g=heavy, second_one_deg=heavy_deg,
            second_other_deg=-heavy_deg,
        )  # fmt: skip

    yield Candidate(
        text("servo {tag}: what it gives under a weight", tag=fit.tag or fit.code),
        text("In the vice, hang {light} and then {heavy} at {radius} on one side of the arm and on the "
             "other; read a pointer of 150 mm on the arm.",
             light=Amount(light, "g", 2), heavy=Amount(heavy, "g", 2), radius=Amount(_RADIUS_MM, "mm")),
        15.0, fixed("two weights and a pointer"), read, variance, _GIVE_READ_SHARE,
    )  # fmt: skip
