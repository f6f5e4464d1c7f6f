"""The lowest bus volts of a flight as they are expected, with how sure that is: only ever compared."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

from hangar.base.figure import Band
from hangar.parts import Aircraft, Flight, FlightLog
from hangar.parts.readings import is_aside
from hangar.physics.estimating import Z90
from hangar.survey.model import Scenario, Survey

_SAG_LN_SD, _SENSOR_V, _CHARGE_SHARE = 0.30, 0.1, 0.25
"""Error of the sag by peak and packs, of a sensor, and of the rest volts as a share of full less landing;
assumption."""


@dataclass(frozen=True)
class ExpectedLowest:
    """Lowest bus volts expected in a flight.

    A flight need not reach the peak that a supply is judged by: between the volts in the peak and those at
    rest nothing is said against a reading.

    Attributes:
        peak_v: in the peak.
        rest_v: at rest.
        sd_v: standard deviation of either, with the error of a reading.
    """

    peak_v: float
    rest_v: float
    sd_v: float

    def beside(self, volts: float) -> tuple[Band, float]:
        """The band that a reading is expected in, and how many deviations it lies outside the two."""
        band = Band(self.peak_v - Z90 * self.sd_v, self.peak_v, self.rest_v + Z90 * self.sd_v)
        if volts < self.peak_v:
            return band, (volts - self.peak_v) / self.sd_v
        return band, max(0.0, volts - self.rest_v) / self.sd_v


@dataclass(frozen=True)
class ReadLowest:
    """The lowest volts of one flight, by telemetry or by a log."""

    record: Flight | FlightLog
    field: str
    read_on: date
    volts: float
    packs: str


def read_lowest(aircraft: Aircraft) -> tuple[ReadLowest, ...]:
    """The lowest bus volts of every flight that was read, the newest last."""
    read = [
        ReadLowest(flight, "lowest_v", flight.flown_on, flight.lowest_v, flight.packs or "")
        for flight in aircraft.flights
        if flight.lowest_v is not None
    ]
    read += [
        ReadLowest(log, "minimum_v", log.flown_on, log.minimum_v, ",".join(pack.pack for pack in log.packs))
        for log in aircraft.flight_logs
        if log.minimum_v is not None
    ]
    return tuple(sorted(read, key=lambda lowest: (lowest.read_on, lowest.record.number)))


def newest_lowest(aircraft: Aircraft) -> ReadLowest | None:
    """The newest of them that counts."""
    aside = aircraft.set_aside
    counted = [lowest for lowest in read_lowest(aircraft) if not is_aside(lowest.record, aside)]
    return counted[-1] if counted else None


def expected_lowest(surveyed: Survey) -> ExpectedLowest | None:
    """The bus in the peak, as far as it is known; None where the supply is not or collapses."""
    peak, idle = surveyed.scenarios.get(Scenario.PEAK), surveyed.scenarios.get(Scenario.IDLE)
    if peak is None or idle is None or peak.bus_v is None or idle.bus_v is None:
        return None
    supply = surveyed.supply
    sag_v = max(0.0, idle.bus_v.expected - peak.bus_v.expected)
    charge_v = 0.0
    if not peak.regulator_state and supply.rested_full_v is not None and supply.path_land_v:
        land_v = max(figure.expected for figure in supply.path_land_v.values())
        charge_v = _CHARGE_SHARE * max(0.0, supply.rested_full_v.expected - land_v)
    sd_v = math.hypot(_SAG_LN_SD * sag_v, charge_v, _SENSOR_V)
    return ExpectedLowest(peak.bus_v.expected, idle.bus_v.expected, sd_v)
