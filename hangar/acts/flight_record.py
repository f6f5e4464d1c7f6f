"""Reading a logger's file for an aircraft, and keeping what it tells."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.answers.flight_logs import flown_on, kept_of
from hangar.answers.flight_record import (
    FlightRead,
    LoggedFlight,
    LoggedPack,
    has_regulator,
    near_volts,
    read_for,
)
from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.parts import Aircraft, Flight, FlightLog
from hangar.store import Edit
from hangar.store.intake.flight_log import ReadLog, read_flight_log

if TYPE_CHECKING:
    from hangar.survey import Survey


def read_log(
    path: Path, surveyed: Survey, limits_v: Sequence[float] = (), pack_c: float | None = None,
    remembered: Mapping[str, Mapping[str, str]] | None = None, flight: int | None = None,
) -> FlightRead:  # fmt: skip
    """Read a logger's file as a flight of the aircraft that was surveyed.

    Args:
        path: the file.
        surveyed: the aircraft.
        limits_v: volts below which the time is counted.
        pack_c: temperature of the packs, where it is known.
        remembered: what the columns of logs read before were taken for, by their line of headings.
        flight: which flight of the file, from 1; None takes the longest.

    Raises: BadInput naming the file where it holds no readable log, or not so many flights.
    """
    aircraft = surveyed.aircraft
    log = read_flight_log(path, near_volts(aircraft), remembered, flight)
    return read_for(surveyed, as_flight(log, aircraft), limits_v, pack_c)


def as_flight(log: ReadLog, aircraft: Aircraft) -> LoggedFlight:
    """The columns of a log put together: the bus, and each pack's volts with its own current.

    Raises: BadInput where it has neither volts nor a current.
    """
    busses, amps = log.with_role("bus"), log.with_role("amps")
    bus = busses[0].values if busses else None
    inputs = log.with_role("input")
    pack_columns = sorted(log.with_role("pack"), key=lambda column: column.pack or 0)
    if bus is None and not amps and not pack_columns and not inputs:
        raise BadInput(
            "{file} has neither volts nor a current among its columns {columns}; expected one of them.",
            file=log.name,
            columns=log.heading_line[:200],
        )
    packs: list[LoggedPack] = []
    if len(amps) > 1:
        for column in sorted(amps, key=lambda amp: amp.pack or 0):
            plug = next((log_column for log_column in pack_columns if log_column.pack == column.pack), None)
            packs.append(LoggedPack(plug.values if plug else bus, column.values, plug is not None))
    else:
        current = amps[0].values if amps else None
        if inputs or (len(pack_columns) == 1 and has_regulator(aircraft)):
            packs.append(LoggedPack((inputs or pack_columns)[0].values, current))
        elif len(pack_columns) == 1:
            packs.append(LoggedPack(pack_columns[0].values, current, at_pack=True))
        else:
            packs.append(LoggedPack(bus, current))
    return LoggedFlight(
        log.name, log.check_sum, log.time_s, bus, tuple(packs), log.mapping(), log.heading_line, log.started,
        tuple(log.doubts), log.flights, log.flight,
    )  # fmt: skip


def keep_log(edit: Edit, read: FlightRead, today: date) -> Text:
    """Keep the summary and the course of a log with its aircraft.

    It belongs to the flight of that day that has no log yet, where there is exactly one.

    Raises: BadInput when this very file is kept already.
    """
    kept = edit.records(FlightLog, aircraft=read.code)
    for log in kept:
        if log.check_sum == read.flight.check_sum:
            raise BadInput(
                "{file} is kept already, as log {number} of {day}.",
                file=read.flight.name,
                number=log.number,
                day=log.flown_on,
            )
    day = flown_on(read, today)
    of_day = [log for log in kept if log.flown_on == day]
    taken = {log.flight for log in of_day}
    flights = [flight.number for flight in edit.records(Flight, aircraft=read.code, flown_on=day)]
    free = [number for number in flights if number not in taken]
    number = 1 + max((log.number for log in of_day), default=0)
    log, trace = kept_of(read, day, number, free[0] if len(free) == 1 else None)
    edit.put(log)
    edit.put(trace)
    return text("Keep flight log {file} of {aircraft}", file=read.flight.name, aircraft=read.code)
