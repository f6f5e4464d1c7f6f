"""The command that reads a flight log."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.commands.opening import LOOK, NO_WARNING, basis_of, fleet_at, print_json
from hangar.commands.speaking import reader, units_of

if TYPE_CHECKING:
    from hangar.answers.flight_record import FlightRead


def run_flight_record(arguments: argparse.Namespace) -> int:
    from hangar.acts.flight_record import keep_log, read_log
    from hangar.acts.session import Session
    from hangar.answers.flight_logs import remembered
    from hangar.answers.flight_record import flight_json
    from hangar.parts import FlightLog
    from hangar.survey import Conditions, survey

    _refuse_impossible(arguments)
    with fleet_at(arguments.fleet, writing=arguments.keep) as fleet:
        basis, aircraft = basis_of(fleet), fleet.aircraft(arguments.aircraft)
        known = remembered(fleet.records(FlightLog))
        given = {} if arguments.pack_c is None else {"pack_c": arguments.pack_c}
        surveyed = survey(aircraft, Conditions(**given))
        read = read_log(
            arguments.log, surveyed, arguments.below or (), arguments.pack_c, known, arguments.flight
        )
        if arguments.keep:
            session = Session(fleet)
            session.do(keep_log, read, session.today)
    if arguments.json:
        print_json(flight_json(read))
    else:
        reading = reader(units_of(basis))
        for line in printed(read):
            print(reading.put(line))
    return LOOK if read.calls_for_a_look else NO_WARNING


def _refuse_impossible(arguments: argparse.Namespace) -> None:
    for limit in arguments.below or ():
        if not 0.0 < limit <= 70.0:
            raise BadInput("--below is {found:g}; allowed are volts above 0 to 70.", found=limit)
    if arguments.pack_c is not None and not -10.0 <= arguments.pack_c <= 45.0:
        raise BadInput("--pack-c is {found:g}; allowed are -10 to 45 degrees.", found=arguments.pack_c)


def printed(read: FlightRead) -> Iterator[Text]:
    """What a log tells, line by line."""
    from hangar.answers.flight_lines import lines_of

    lines = lines_of(read)
    yield text("{code}  {file}: {rows} rows", code=read.code, file=read.flight.name, rows=read.report.rows)
    for what, value in lines.figures:
        yield text("  {what}: {value}", what=what, value=value)
    for _, event in lines.events:
        yield text("  LOOK  {what}", what=event)
    for doubt in lines.doubts:
        yield text("  NOT SURE  {what}", what=doubt)
    for note in lines.notes:
        yield text("  {what}", what=note)
