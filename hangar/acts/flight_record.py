"""Reading a logger's file for an aircraft."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.answers.flight_record import (
    FlightRead,
    LoggedFlight,
    LoggedPack,
    has_regulator,
    near_volts,
    read_for,
)
from hangar.base.errors import BadInput
from hangar.parts import Aircraft
from hangar.store.intake.flight_log import ReadLog, read_flight_log

if TYPE_CHECKING:
    from hangar.survey import Survey


def read_log(
    path: Path, surveyed: Survey, limits_v: Sequence[float] = (), pack_c: float | None = None,
    remembered: Mapping[str, Mapping[str, str]] | None = None,
) -> FlightRead:  # fmt: skip
    """Read a logger's file as a flight of the aircraft that was surveyed.

    Args:
        path: the file.
        surveyed: the aircraft.
        limits_v: volts below which the time is counted.
        pack_c: temperature of the packs, where it is known.
        remembered: what the columns of logs read before were taken for, by their line of headings.

    Raises: BadInput naming the file where it holds no readable log.
    """
    aircraft = surveyed.aircraft
    log = read_flight_log(path, near_volts(aircraft), remembered)
    return read_for(surveyed, as_flight(log, aircraft), limits_v, pack_c)


def as_flight(log: ReadLog, aircraft: Aircraft) -> LoggedFlight:
    """The columns of a log put together: the bus, and each pack's volts with its own current.

    Raises: BadInput where it has neither volts nor a current.
    """
    busses, amps = log.with_role("bus"), log.with_role("amps")
    bus = busses[0].values if busses else None
    inputs = log.with_role("input")
    own = sorted(log.with_role("pack"), key=lambda column: column.pack or 0)
    if bus is None and not amps and not own and not inputs:
        raise BadInput(
            "{file} has neither volts nor a current among its columns {columns}; expected one of them.",
            file=log.name,
            columns=log.heading_line[:200],
        )
    packs: list[LoggedPack] = []
    if len(amps) > 1:
        for column in sorted(amps, key=lambda each: each.pack or 0):
            plug = next((each for each in own if each.pack == column.pack), None)
            packs.append(LoggedPack(plug.values if plug else bus, column.values, plug is not None))
    else:
        current = amps[0].values if amps else None
        if inputs or (len(own) == 1 and has_regulator(aircraft)):
            packs.append(LoggedPack((inputs or own)[0].values, current))
        elif len(own) == 1:
            packs.append(LoggedPack(own[0].values, current, at_pack=True))
        else:
            packs.append(LoggedPack(bus, current))
    return LoggedFlight(
        log.name, log.check_sum, log.time_s, bus, tuple(packs), log.mapping(), log.heading_line, log.started,
        tuple(log.doubts),
    )  # fmt: skip
