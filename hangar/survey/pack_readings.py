"""The readings of a pack's resistance as its records hold them, each with its own error."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, datetime, timedelta

from hangar.parts import CapacityTest, Charge, FlightLogPack, LoadTest, Pack, PackType, Record, Tester
from hangar.physics.estimating import Z90
from hangar.physics.pack import Chemistry
from hangar.physics.pack_verdict import (
    LEAD_OHM,
    LEAD_SD_OHM,
    MEASURED_LEAD_SD_OHM,
    METER_V,
    rest_surface_v,
)
from hangar.physics.tracking import OhmReading, TrackPrior

LEAST_CELL_C, MOST_CELL_C = -10.0, 45.0
UNNOTED_C, UNNOTED_SD_C = 20.0, 8.0
"""Taken where nobody noted the temperature; assumption, wide enough for a room and a cool field."""
DAYS_A_YEAR = 365.25
_NOTED_SD_C = 2.0
_METER_LN_SD = 0.15
_CELL_LN_SD = 0.04
_MOST_LN_SD = 0.7
_MOST_CHARGE_DAYS = 30
TEN_SECONDS_TIMES = 1.20
"""Resistance ten seconds after a step of current over that after one; 0.99 to 1.30 in simulated cells."""
_ONE_SECOND_LN_SD, _SENSOR_LN_SD = 0.08, 0.02

Source = tuple[Record, date, OhmReading]


def year_of(day: date) -> float:
    """A day in years, as the estimates count."""
    if isinstance(day, datetime):
        return (day.toordinal() + (day.hour + day.minute / 60.0) / 24.0) / DAYS_A_YEAR
    return day.toordinal() / DAYS_A_YEAR


def _temperature(noted_c: float | None) -> tuple[float, float]:
    """Temperature of the cells and its error."""
    if noted_c is None:
        return UNNOTED_C, UNNOTED_SD_C
    return min(max(noted_c, LEAST_CELL_C), MOST_CELL_C), _NOTED_SD_C


def _ln_sd_of_warmth(prior: TrackPrior, cell_c: float, sd_c: float) -> float:
    return prior.kelvin / (cell_c + 273.15) ** 2 * sd_c


def cell_c_of(test: LoadTest) -> tuple[float, float]:
    """Temperature of a pack at a load test and its error: its own, else the air's."""
    return _temperature(test.pack_c if test.pack_c is not None else test.ambient_c)


def minutes_after_charge(
    test: LoadTest, charges: tuple[Charge, ...], charged_on: date | None
) -> float | None:
    """Minutes since the pack was charged: as noted, by the charges on record, or a day and more."""
    if test.minutes_since_charge is not None:
        return test.minutes_since_charge
    before = [charge.charged_at for charge in charges if charge.charged_at <= test.tested_at]
    newest = max(before, default=None)
    if newest is not None and test.tested_at - newest <= timedelta(days=_MOST_CHARGE_DAYS):
        return (test.tested_at - newest).total_seconds() / 60.0
    if charged_on is not None and charged_on < test.tested_at.date():
        return float((test.tested_at.date() - charged_on).days) * 1440.0 - 720.0
    return None


def lead_of(test: LoadTest, testers: tuple[Tester, ...]) -> tuple[float, float, float]:
    """Ohms of the tester's lead, their error, and the error of its volts."""
    used = next((tester for tester in testers if tester.name == test.tester), None)
    meter_v = METER_V if used is None or used.meter_mv is None else used.meter_mv / 1000.0
    if used is None or used.lead_mohm is None:
        return LEAD_OHM, LEAD_SD_OHM, meter_v
    return used.lead_mohm / 1000.0, MEASURED_LEAD_SD_OHM, meter_v


def from_loads(
    loads: tuple[LoadTest, ...], charges: tuple[Charge, ...], testers: tuple[Tester, ...], kind: PackType,
    prior: TrackPrior,
) -> Iterator[Source]:  # fmt: skip
    chemistry = Chemistry(kind.chemistry)
    for test in loads:
        cell_c, sd_c = cell_c_of(test)
        warm = prior.kelvin * (1.0 / (cell_c + 273.15) - 1.0 / 298.15)
        expected = prior.cells * prior.cell_ohm * math.exp(warm)
        lead, _, meter_v = lead_of(test, testers)
        two = test.second_v is not None and test.second_load_a is not None
        if two:
            step_a = (test.second_load_a or 0.0) - test.load_a
            fall_v, lost_v, own_v = test.loaded_v - (test.second_v or 0.0), 0.0, 0.0
        else:
            minutes = minutes_after_charge(test, charges, None)
            step_a, fall_v = test.load_a, test.rest_v - test.loaded_v
            lost_v, own_v = rest_surface_v(chemistry, kind.series, minutes)
        if step_a <= 0.0:
            continue
        beside = lead + lost_v / step_a
        wide = math.hypot(1.41 * meter_v, 0.5 * own_v) / (step_a * (expected + beside))
        if wide > _MOST_LN_SD:
            continue  # too light a load to tell anything
        share = expected / (expected + beside)
        reading_ln_sd = math.hypot(_CELL_LN_SD, _ln_sd_of_warmth(prior, cell_c, sd_c)) * share
        ohm = max(fall_v / step_a, 0.2 * (expected + beside))
        yield test, test.tested_at.date(), OhmReading(
            year_of(test.tested_at), ohm, math.hypot(wide, reading_ln_sd), cell_c, lead,
            0.0 if two else lost_v / step_a,
        )  # fmt: skip


def chemistry_of(kind: PackType) -> Chemistry:
    """Chemistry of a pack as the physics names it."""
    return Chemistry(kind.chemistry.value)


def from_flight_logs(logs: tuple[FlightLogPack, ...], prior: TrackPrior) -> Iterator[Source]:
    """What flight logs told of a pack one second after a step of current, brought to ten seconds."""
    for log in logs:
        if not log.pack_mohm or not log.pack_low_mohm or not log.pack_high_mohm:
            continue
        cell_c, sd_c = _temperature(log.pack_c)
        fitted = math.log(log.pack_high_mohm / log.pack_low_mohm) / (2.0 * Z90)
        ln_sd = math.hypot(
            math.hypot(fitted, _ONE_SECOND_LN_SD),
            math.hypot(_SENSOR_LN_SD, _ln_sd_of_warmth(prior, cell_c, sd_c)),
        )
        if ln_sd <= _MOST_LN_SD:
            ohm = TEN_SECONDS_TIMES * log.pack_mohm / 1000.0
            yield log, log.flown_on, OhmReading(year_of(log.flown_on), ohm, ln_sd, cell_c)


def from_meters(pack: Pack, capacities: tuple[CapacityTest, ...], prior: TrackPrior) -> Iterator[Source]:
    """What a charger or meter read as a cell's resistance."""
    seen = set()
    for test in capacities:
        if test.cell_mohm is not None:
            seen.add(test.cell_mohm)
            yield test, test.tested_on, _by_meter(test.cell_mohm, test.tested_on, test.ambient_c, prior)
    own_on = pack.cell_mohm_on
    # The same figure on the pack and with a test is one reading, noted twice.
    if pack.cell_mohm is not None and pack.cell_mohm not in seen:
        day = own_on or pack.bought_on
        on = (
            date.fromordinal(round(prior.year * DAYS_A_YEAR))
            if day is None
            else date.fromordinal(day.toordinal())
        )
        yield pack, on, _by_meter(pack.cell_mohm, on, pack.cell_mohm_temp_c, prior)


def _by_meter(mohm: float, on: date, noted_c: float | None, prior: TrackPrior) -> OhmReading:
    cell_c, sd_c = _temperature(25.0 if noted_c is None else noted_c)
    if noted_c is None:
        sd_c = UNNOTED_SD_C
    ln_sd = math.hypot(_METER_LN_SD, _ln_sd_of_warmth(prior, cell_c, sd_c))
    return OhmReading(year_of(on), prior.cells * mohm / 1000.0, ln_sd, cell_c)
