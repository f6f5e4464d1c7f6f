"""What was read of an aircraft's current in flight: charge put back, mean and highest current of a log."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from hangar.base.figure import Figure
from hangar.base.text import Amount, Text, text
from hangar.parts import Aircraft, FedPack, Record
from hangar.parts.choices import FeedRole
from hangar.parts.readings import is_aside
from hangar.physics.factor_track import FactorTrack, FactorVerdict
from hangar.physics.tracking import Fate

LAPSES_Y = 2.0
_DAYS_A_YEAR = 365.25
_PUT_BACK_LN_SD, _LOGGED_LN_SD = 0.04, 0.02
_CHARGE_FACTOR = {True: (1.20, 0.07 / 1.20), False: (1.02, 0.01)}
"""Charge put back over charge taken, nickel and lithium, and its error; common practice, no source."""
_LOST_A_DAY = {"NiCd": 0.01, "NiMH": 0.01, "NiMH-LSD": 0.001}
"""Share of a pack that it loses by itself in a day; common practice, no source."""
_MOST_LOST, _MOST_DAYS = 0.3, 60
_LEAST_PEAK_HZ = 4.0
"""Rows a second from which a log shows the short peaks of a servo."""


@dataclass(frozen=True)
class FlownReading:
    """One reading of the current out of the packs in flight.

    Attributes:
        record: the flight, log or charge.
        field: its field.
        read_on: when it was flown.
        name: what it is, with its day.
        amps: current out of the packs.
        ln_sd: own error, standard deviation of the logarithm.
        is_peak: whether it is the highest current, not the mean.
        is_aside: whether it was set aside.
        lapsed: why it counts no more; None while it does.
    """

    record: Record
    field: str
    read_on: date
    name: Text
    amps: float
    ln_sd: float
    is_peak: bool = False
    is_aside: bool = False
    lapsed: Text | None = None

    @property
    def counts(self) -> bool:
        """Whether it informs anything."""
        return not self.is_aside and self.lapsed is None


@dataclass(frozen=True)
class FlownVerdict:
    """A reading of the current with what was expected and what became of it; None where it does not count."""

    reading: FlownReading
    expected_a: float | None = None
    judged: FactorVerdict | None = None


@dataclass(frozen=True)
class LearnedCurrent:
    """A factor of the current in flight.

    Attributes:
        readings: every reading of it, oldest first.
        track: how they were joined; None where none counts.
        times: the factor that is used.
        figure: the same with its band and working; None where none counts.
    """

    readings: tuple[FlownVerdict, ...] = ()
    track: FactorTrack | None = None
    times: float = 1.0
    figure: Figure | None = None

    @property
    def waiting(self) -> FlownVerdict | None:
        """The reading that does not fit and waits for another."""
        for row in reversed(self.readings):
            if row.judged is not None and row.judged.fate is Fate.WAITING:
                return row
        return None


@dataclass(frozen=True)
class LearnedCurrents:
    """Mean and highest current in flight."""

    mean: LearnedCurrent = LearnedCurrent()
    peak: LearnedCurrent = LearnedCurrent()


def flown_readings(aircraft: Aircraft, today: date) -> tuple[FlownReading, ...]:
    """Every reading of the current in flight, oldest first.

    Nothing where a drive pack feeds the radio: the motor's current is in all that was read.
    """
    paths = aircraft.radio_paths
    if not paths or any(path.feed.role is FeedRole.DRIVE for path in paths):
        return ()
    readings = [*_logged(aircraft, today), *_put_back(aircraft, today)]
    return tuple(sorted(readings, key=lambda reading: (reading.read_on, str(reading.name))))


def _logged(aircraft: Aircraft, today: date) -> Iterator[FlownReading]:
    for log in aircraft.flight_logs:
        aside, lapsed = is_aside(log, aircraft.set_aside), lapsed_by(aircraft, log.flown_on, today)
        if log.flown_on > today:
            continue
        if log.mean_a is not None and log.mean_a > 0.0:
            name = text("mean current of the flight log of {day}", day=log.flown_on)
            yield FlownReading(
                log, "mean_a", log.flown_on, name, log.mean_a, _LOGGED_LN_SD, is_aside=aside, lapsed=lapsed
            )
        if log.peak_a is not None and log.peak_a > 0.0:
            name = text("highest current of the flight log of {day}", day=log.flown_on)
            slow = text("fewer than {rate} rows a second", rate=Amount(_LEAST_PEAK_HZ, "Hz"))
            yield FlownReading(
                log, "peak_a", log.flown_on, name, log.peak_a, _LOGGED_LN_SD, is_peak=True, is_aside=aside,
                lapsed=lapsed if log.rate_hz >= _LEAST_PEAK_HZ else slow,
            )  # fmt: skip


def _put_back(aircraft: Aircraft, today: date) -> Iterator[FlownReading]:
    packs = [fed for path in aircraft.radio_paths for fed in path.packs]
    nickel = {fed.pack_type.chemistry.is_nickel for fed in packs}
    if len(nickel) != 1:
        return
    factor, factor_ln_sd = _CHARGE_FACTOR[nickel.pop()]
    reading_ln_sd = math.hypot(_PUT_BACK_LN_SD, factor_ln_sd)
    flights = [flight for flight in aircraft.flights if flight.put_back_mah]
    for flight in flights:
        amps = _amps(flight.put_back_mah or 0.0, flight.minutes_min, factor)
        if amps is None or flight.flown_on > today:
            continue
        name = text(
            "charge put back after flight {number} of {day}", number=flight.number, day=flight.flown_on
        )
        yield FlownReading(
            flight, "put_back_mah", flight.flown_on, name, amps, reading_ln_sd,
            is_aside=is_aside(flight, aircraft.set_aside),
            lapsed=lapsed_by(aircraft, flight.flown_on, today),
        )  # fmt: skip
    if len(packs) == 1:
        yield from _charged(aircraft, packs[0], today, factor, reading_ln_sd)


def _charged(
    aircraft: Aircraft, fed: FedPack, today: date, factor: float, reading_ln_sd: float
) -> Iterator[FlownReading]:
    """Charges of the one pack, each after the flights since the charge before."""
    charges = sorted(fed.charges, key=lambda charge: charge.charged_at)
    for before, charge in itertools.pairwise(charges):
        flights = [
            flight
            for flight in aircraft.flights
            if before.charged_at.date() <= flight.flown_on <= charge.charged_at.date()
            and (not flight.packs or fed.pack.tag in flight.packs)
        ]
        days = (charge.charged_at - before.charged_at) / timedelta(days=1)
        if not flights or not charge.put_back_mah or days > _MOST_DAYS or charge.charged_at.date() > today:
            continue
        if any(flight.put_back_mah for flight in flights):
            continue  # told with the flights already
        lost = min(_MOST_LOST, days * _LOST_A_DAY.get(fed.pack_type.chemistry.value, 0.0))
        taken = charge.put_back_mah - lost * fed.pack_type.capacity_mah
        amps = _amps(taken, sum(flight.minutes_min for flight in flights), factor)
        if amps is None:
            continue
        last = max(flight.flown_on for flight in flights)
        yield FlownReading(
            charge, "put_back_mah", last,
            text("charge put back into {pack}, {day}", pack=fed.pack.tag, day=charge.charged_at.date()),
            amps, reading_ln_sd, is_aside=is_aside(charge, fed.set_aside),
            lapsed=lapsed_by(aircraft, last, today),
        )  # fmt: skip


def _amps(put_back_mah: float, minutes: float, factor: float) -> float | None:
    """Mean current of flights after which so much was put back; None where that is nothing."""
    amps = put_back_mah / 1000.0 / factor / (minutes / 60.0)
    return amps if amps > 0.0 else None


def lapsed_by(aircraft: Aircraft, flown_on: date, today: date) -> Text | None:
    """What has changed since a day so that what was read in flight counts no more; None where nothing."""
    for fit in aircraft.fits:
        since = fit.servo_since
        if since is not None and _day(since) > flown_on:
            tag = fit.installation.servo if fit.installation is not None else fit.code
            return text("servo {tag} was fitted on {day}", tag=tag, day=_day(since))
    refit_on = aircraft.airframe.refit_on
    if refit_on is not None and refit_on > flown_on:
        return text("refit or repair of {day}", day=refit_on)
    if (today - flown_on).days > LAPSES_Y * _DAYS_A_YEAR:
        return text("older than {years}", years=Amount(LAPSES_Y, "y"))
    return None


def _day(day: date) -> date:
    return day.date() if isinstance(day, datetime) else date.fromordinal(day.toordinal())
