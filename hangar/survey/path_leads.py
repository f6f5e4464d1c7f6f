"""Leads, switch and plugs of a power path by a flight log: the path less what the pack should have.

Both are judged in logarithms and share the one number that was read; the surer of the two moves less.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, replace
from datetime import date, datetime

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import fixed, text
from hangar.parts import Aircraft, FedPack, FlightLog, FlightLogPack, PowerPath
from hangar.parts.readings import is_aside
from hangar.physics.estimating import Z90, joined_parts, normal_share
from hangar.physics.pack_resistance import at_temperature_ohm
from hangar.survey.defaults import Defaults
from hangar.survey.figures import input_of
from hangar.survey.learned import LearnedPack, pack_learned
from hangar.survey.pack_readings import (
    DAYS_A_YEAR,
    TEN_SECONDS_TIMES,
    UNNOTED_C,
    chemistry_of,
    year_of,
)

LAPSES_Y = 1.0
LEAST_TIMES = 0.7
_LEADS_LN_SD = 0.25
_ONE_SECOND_LN_SD, _UNNOTED_LN_SD, _LEAST_LN_SD = 0.08, 0.20, 0.04
_SOURCE = text("two quantities of which the sum was read, by least squares; errors as told with each")


@dataclass(frozen=True)
class PathLeads:
    """Leads, switch and plugs of a path by its newest flight log.

    Attributes:
        log: the pack in that log.
        figure: what they have together, with band and working.
        expected_ohm: what their lengths and kinds make expect.
        times: the two, one over the other, as the network takes it.
        pack_expected_ohm: of the pack, as everything else says.
        path_sd: error of what is expected of the whole path, of the logarithm.
    """

    log: FlightLogPack
    figure: Figure
    expected_ohm: float
    times: float
    pack_expected_ohm: float
    path_sd: float
    ln_sd: float

    def share_above(self, times: float) -> float:
        """How sure it is that they have more than so many times what is expected, 0 to 1."""
        return normal_share(
            (math.log(self.figure.expected / self.expected_ohm) - math.log(times)) / self.ln_sd
        )


def path_leads(path: PowerPath, outside: Figure, today: date, defaults: Defaults) -> PathLeads | None:
    """What the newest log that counts tells of a path's leads; None where none does."""
    if len(path.packs) != 1 or not outside.expected > 0.0:
        return None
    fed = path.packs[0]
    log = _newest(path, fed, today)
    if log is None or not log.path_mohm or not log.path_low_mohm or not log.path_high_mohm:
        return None
    without = pack_learned(replace(fed, flight_logs=()), today, defaults)
    pack_ohm, pack_sd = _pack_at(fed, log.pack_c, without, today)
    read_ohm = log.path_mohm / 1000.0
    read_sd = max(_LEAST_LN_SD, math.log(log.path_high_mohm / log.path_low_mohm) / (2.0 * Z90))
    expected = outside.expected
    _, (leads, ln_sd) = joined_parts((pack_ohm, pack_sd), (expected, _LEADS_LN_SD), (read_ohm, read_sd))
    whole = pack_ohm + expected
    path_sd = math.hypot(pack_sd * pack_ohm, _LEADS_LN_SD * expected) / whole
    wide = math.exp(Z90 * ln_sd)
    age = text("{day}, {days} days ago", day=log.flown_on, days=(today - log.flown_on).days)
    inputs = (
        input_of(outside.named(text("switch and lead, expected before any reading"))),
        Input(text("pack by everything else, after one second"), 1000.0 * pack_ohm, "mohm"),
        Input(
            text("path by the flight log of {day}", day=log.flown_on), log.path_mohm, "mohm", Basis.MEASURED
        ),
        Input(text("newest reading"), age, "", Basis.MEASURED),
    )
    figure = Figure(
        fixed("switch and lead"), leads, "ohm", leads / wide, leads * wide, Basis.MEASURED,
        Working(text("path as logged less the pack, each by its error"), inputs, _SOURCE), log.flown_on,
    )  # fmt: skip
    times = max(LEAST_TIMES, leads / expected)
    return PathLeads(log, figure, expected, times, pack_ohm, path_sd, ln_sd)


def joint_extra_ohm(aircraft: Aircraft, log: FlightLogPack) -> float:
    """What a joint that went bad in a logged flight had more at its end; 0 where none did."""
    kept = next((whole for whole in aircraft.flight_logs if _place(whole) == _place(log)), None)
    try:
        events = json.loads(kept.events) if kept is not None else []
        return sum(
            float(size) for kind, _, end_s, size, _ in events if kind == "joint" and end_s is None and size
        )
    except (ValueError, TypeError):
        return 0.0


def _place(log: FlightLog | FlightLogPack) -> tuple[str, date, int]:
    return log.aircraft, log.flown_on, log.number


def _newest(path: PowerPath, fed: FedPack, today: date) -> FlightLogPack | None:
    """The newest log of this path that was read at the bus, while nothing of it has changed since."""
    if path.is_changed:
        return None
    fitted_on = None if path.switch is None else path.switch.fitted_on
    pack_since = None if fed.fit is None else fed.fit.since_on
    since = [_day(day) for day in (path.mended_on, fitted_on, pack_since) if day is not None]
    logs = [
        log
        for log in fed.flight_logs
        if log.aircraft == path.feed.aircraft
        and not log.at_pack
        and log.path_mohm
        and not is_aside(log, fed.set_aside)
        and 0 <= (today - log.flown_on).days <= LAPSES_Y * DAYS_A_YEAR
        and all(log.flown_on >= day for day in since)
    ]
    return max(logs, key=lambda log: (log.flown_on, log.number), default=None)


def pack_after_one_second(
    fed: FedPack, pack_c: float | None, today: date, defaults: Defaults
) -> tuple[float, float]:
    """Ohms of a pack one second after a step of current by every reading on record, and their error."""
    return _pack_at(fed, pack_c, pack_learned(fed, today, defaults), today)


def _pack_at(fed: FedPack, pack_c: float | None, learned: LearnedPack, today: date) -> tuple[float, float]:
    """Ohms of the pack one second after a step, as it was in the flight, with the error of the logarithm."""
    kind = fed.pack_type
    cell_ohm, ln_sd = learned.cell_mohm.expected / 1000.0, learned.unread_ln_sd
    if learned.track is not None:
        state = learned.track.at(year_of(today))
        cell_ohm, ln_sd = state.cell_ohm, state.ln_sd
    at_c = UNNOTED_C if pack_c is None else pack_c
    ohm = at_temperature_ohm(cell_ohm, chemistry_of(kind), at_c) * kind.series / kind.parallel
    unnoted = _UNNOTED_LN_SD if pack_c is None else 0.0
    return ohm / TEN_SECONDS_TIMES, math.hypot(ln_sd, math.hypot(_ONE_SECOND_LN_SD, unnoted))


def _day(day: date) -> date:
    return day.date() if isinstance(day, datetime) else date.fromordinal(day.toordinal())
