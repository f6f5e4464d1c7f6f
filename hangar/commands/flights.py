"""The command that reads a flight log."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.base.text import Amount, Text, text
from hangar.commands.opening import LOOK, NO_WARNING, Ground, fleet_at, print_json
from hangar.commands.speaking import reader

if TYPE_CHECKING:
    from hangar.answers.flight_record import FlightRead
    from hangar.physics.flight_fit import Band


def run_flight_record(arguments: argparse.Namespace) -> int:
    from hangar.acts.flight_record import keep_log, read_log
    from hangar.acts.session import Session
    from hangar.answers.flight_logs import remembered
    from hangar.answers.flight_record import flight_json
    from hangar.parts import FlightLog
    from hangar.survey import Conditions, survey

    _refuse_impossible(arguments)
    with fleet_at(arguments.fleet, writing=arguments.keep) as fleet:
        ground, aircraft = Ground.of(fleet), fleet.aircraft(arguments.aircraft)
        known = remembered(fleet.records(FlightLog))
        given = {} if arguments.pack_c is None else {"pack_c": arguments.pack_c}
        surveyed = survey(aircraft, Conditions(**given))
        read = read_log(arguments.log, surveyed, arguments.below or (), arguments.pack_c, known)
        if arguments.keep:
            session = Session(fleet)
            session.do(keep_log, read, session.today)
    if arguments.json:
        print_json(flight_json(read))
    else:
        reading = reader(ground.units)
        for line in flight_lines(read):
            print(reading.put(line))
    return LOOK if read.calls_for_a_look else NO_WARNING


def _refuse_impossible(arguments: argparse.Namespace) -> None:
    for limit in arguments.below or ():
        if not 0.0 < limit <= 70.0:
            raise BadInput("--below is {found:g}; allowed are volts above 0 to 70.", found=limit)
    if arguments.pack_c is not None and not -10.0 <= arguments.pack_c <= 45.0:
        raise BadInput("--pack-c is {found:g}; allowed are -10 to 45 degrees.", found=arguments.pack_c)


def flight_lines(read: FlightRead) -> Iterator[Text]:
    """What a log tells, line by line."""
    from hangar.answers.flight_record import event_words

    told = read.told
    yield text("{code}  {file}: {rows} rows", code=read.code, file=read.flight.name, rows=told.rows)
    for label, value, unit in (
        (text("lowest volts"), told.minimum_v, "V"), (text("mean current"), told.mean_a, "A"),
        (text("highest current"), told.peak_a, "A"), (text("charge used"), told.used_mah, "mAh"),
        (text("charge used until the current stood still"), told.used_until_mah, "mAh"),
    ):  # fmt: skip
        if value is not None:
            yield text("  {what}: {value}", what=label, value=Amount(value, unit, 3))
    for number, pack in enumerate(told.packs):
        name = read.tags[number] or "ABCD"[number % 4]
        if pack.path_ohm is not None and not pack.at_pack:
            yield _band_line(text("pack {pack} with its leads", pack=name), pack.path_ohm)
        if pack.pack_ohm is not None:
            yield _band_line(text("pack {pack} by itself, after one second", pack=name), pack.pack_ohm)
    for limit, seconds in told.below_s:
        yield text("  below {limit}: {time}", limit=Amount(limit, "V", 3), time=Amount(seconds, "s"))
    for event in told.events:
        yield text("  LOOK  {what}", what=event_words(event, read.tags))
    for doubt in read.doubts:
        yield text("  NOT SURE  {what}", what=doubt)
    for note in read.notes:
        yield text("  {what}", what=note)


def _band_line(what: Text, band: Band) -> Text:
    value, low, high = (Amount(1000.0 * one, "mohm", 2) for one in (band.value, band.low, band.high))
    return text("  {what}: {value} ({low} to {high})", what=what, value=value, low=low, high=high)
