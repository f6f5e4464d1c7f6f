"""What is kept of a flight log: a summary that other figures can use, and a thinned course to draw."""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from math import isfinite
from typing import TYPE_CHECKING, Any

from hangar.parts import FlightLog, FlightLogPack, FlightLogTrace
from hangar.parts.flight_logs import TRACE_MOST

if TYPE_CHECKING:
    from hangar.answers.flight_record import FlightRead
    from hangar.physics.flight_fit import Band
    from hangar.physics.flight_rows import FlightEvent

POINTS_MOST = 600
_EVENTS_MOST = 40
_TEXT_MOST = 4_000
_UNPACKED_MOST = 400_000

Values = tuple[float | None, ...]


@dataclass(frozen=True)
class Course:
    """A flight in a few hundred stretches: the lowest volts and the highest amps of each.

    Attributes:
        until_s: where each stretch ends, on the log's own clock.
        low_v: lowest trustworthy volts of the bus; None where there were none.
        predicted_v: volts predicted for the row with the lowest ones.
        high_a: highest current of all packs together.
    """

    until_s: tuple[float, ...]
    low_v: Values
    predicted_v: Values
    high_a: Values

    @property
    def minutes(self) -> float:
        """Length of the log."""
        return self.until_s[-1] / 60.0 if self.until_s else 0.0


def course_of(read: FlightRead, points: int = POINTS_MOST) -> Course:
    """The course of a log in at most so many stretches; no minimum and no peak is lost."""
    flight, trusted = read.flight, read.report.trusted
    count = len(flight.time_s)
    number = -(-count // points)
    amps = [pack.amps for pack in flight.packs if pack.amps is not None]
    until, low, predicted, high = [], [], [], []
    for start in range(0, count, number):
        rows = range(start, min(start + number, count))
        until.append(flight.time_s[rows[-1]])
        lowest = min(
            (row for row in rows if flight.bus_v is not None and trusted[row]),
            key=lambda row: flight.bus_v[row] if flight.bus_v is not None else 0.0,
            default=None,
        )
        low.append(None if lowest is None or flight.bus_v is None else flight.bus_v[lowest])
        predicted.append(
            None if read.predicted_v is None else read.predicted_v[rows[0] if lowest is None else lowest]
        )
        sums = (sum(column[row] for column in amps) for row in rows) if amps else ()
        high.append(max((value for value in sums if isfinite(value)), default=None))
    return Course(tuple(until), tuple(low), tuple(predicted), tuple(high))


def packed(course: Course) -> str:
    """A course as a short text: seconds in tenths, volts in millivolts, amps in hundredths.

    >>> len(packed(Course((1.0, 2.0), (6.5, None), (6.4, 6.3), (0.2, 1.5)))) < 100
    True
    """
    data = {
        "s": [round(10 * value) for value in course.until_s],
        "v": [None if value is None else round(1000 * value) for value in course.low_v],
        "p": [None if value is None else round(1000 * value) for value in course.predicted_v],
        "a": [None if value is None else round(100 * value) for value in course.high_a],
    }
    return base64.b85encode(zlib.compress(json.dumps(data, separators=(",", ":")).encode(), 9)).decode()


def unpacked(trace: str) -> Course | None:
    """The course that :func:`packed` made text of; None where the text is damaged."""
    try:
        work = zlib.decompressobj()
        data = json.loads(work.decompress(base64.b85decode(trace), _UNPACKED_MOST))
        if not work.eof:
            return None
        columns = [data[name] for name in ("s", "v", "p", "a")]
        until = tuple(float(column) / 10.0 for column in columns[0])
        low, predicted = (_scaled(column, 1000.0) for column in columns[1:3])
        high = _scaled(columns[3], 100.0)
    except (ValueError, zlib.error, KeyError, TypeError):
        return None
    whole = Course(until, low, predicted, high)
    return whole if until and len({len(until), len(low), len(predicted), len(high)}) == 1 else None


def _scaled(column: Sequence[Any], factor: float) -> Values:
    return tuple(None if value is None else float(value) / factor for value in column)


def flown_on(read: FlightRead, today: date) -> date:
    """The day by the logger's own clock where it tells one up to today; today else."""
    started = read.flight.started
    if started is None:
        return today
    try:
        day = datetime.fromtimestamp(started, UTC).date()
    except (ValueError, OverflowError, OSError):
        return today
    return day if date(2000, 1, 1) <= day <= today else today


def kept_of(
    read: FlightRead, day: date, number: int, flight: int | None = None
) -> tuple[FlightLog, FlightLogTrace]:
    """The records of a log: its summary with each pack that the records name, and its course."""
    report = read.report
    packs = tuple(
        FlightLogPack(
            aircraft=read.code,
            flown_on=day,
            number=number,
            pack=tag,
            at_pack=pack.at_pack,
            used_mah=pack.used_mah,
            pack_c=read.pack_c,
            **_in_mohm("path", pack.path_ohm),
            **_in_mohm("pack", pack.pack_ohm),
        )
        for tag, pack in zip(read.tags, report.packs, strict=True)
        if tag is not None
    )
    log = FlightLog(
        aircraft=read.code,
        flown_on=day,
        number=number,
        flight=flight,
        file_name=read.flight.name,
        check_sum=read.flight.check_sum,
        minutes_min=report.flown_s / 60.0,
        rate_hz=report.rate_hz,
        minimum_v=report.minimum_v,
        mean_a=report.mean_a,
        peak_a=report.peak_a,
        used_mah=report.used_mah,
        pack_c=read.pack_c,
        events=_events_text(report.events),
        mapping=_bounded(json.dumps(dict(read.flight.columns), ensure_ascii=False), "{}"),
        headings=_bounded(read.flight.heading_line, "") or None,
        packs=packs,
    )
    return log, FlightLogTrace(aircraft=read.code, flown_on=day, number=number, trace=_trace(read))


def _in_mohm(name: str, band: Band | None) -> dict[str, float | None]:
    if band is None:
        return {}
    return {
        f"{name}_mohm": 1000.0 * band.value,
        f"{name}_low_mohm": 1000.0 * band.low,
        f"{name}_high_mohm": 1000.0 * band.high,
    }


def _bounded(words: str, instead: str) -> str:
    return words if len(words) <= _TEXT_MOST else instead


def _trace(read: FlightRead) -> str:
    points = POINTS_MOST
    while len(made := packed(course_of(read, points))) > TRACE_MOST:
        points //= 2
    return made


def _events_text(events: Iterable[FlightEvent]) -> str:
    rows = [
        [event.kind, round(event.start_s, 1), _rounded(event.end_s, 1), _rounded(event.size, 4), event.pack]
        for event in list(events)[:_EVENTS_MOST]
    ]
    return json.dumps(rows)


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)


def events_of(log: FlightLog) -> tuple[FlightEvent, ...]:
    """What happened in a kept log; what cannot be read of it is left out."""
    from hangar.physics.flight_rows import FlightEvent

    events = []
    try:
        for kind, start_s, end_s, size, pack in json.loads(log.events):
            events.append(FlightEvent(str(kind), float(start_s), end_s, size, pack))
    except (ValueError, TypeError):
        return tuple(events)
    return tuple(events)


def remembered(logs: Iterable[FlightLog]) -> Mapping[str, Mapping[str, str]]:
    """What the columns of kept logs were taken for, by their line of headings; the newest governs."""
    headings: dict[str, dict[str, str]] = {}
    for log in sorted(logs, key=lambda flight_log: (flight_log.flown_on, flight_log.number)):
        try:
            mapping = json.loads(log.mapping)
        except ValueError:
            continue
        if log.headings and isinstance(mapping, dict):
            headings[log.headings] = {str(heading): str(words) for heading, words in mapping.items()}
    return headings
