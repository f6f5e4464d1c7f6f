"""A flight log beside the aircraft that flew it: what it tells of packs and path, and what was predicted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING, Any

from hangar.answers.beside import by_logarithm
from hangar.answers.predicted import Fits, fits
from hangar.base.errors import HangarError
from hangar.base.text import Amount, Text, text
from hangar.parts import Aircraft
from hangar.parts.choices import PackJoin
from hangar.physics.estimating import Z90
from hangar.survey.paths import PathModel

if TYPE_CHECKING:
    from hangar.physics.flight_fit import Band
    from hangar.physics.flight_record import FlightReport, KnownPack
    from hangar.physics.flight_rows import FlightEvent
    from hangar.survey import Survey


@dataclass(frozen=True)
class LoggedPack:
    """What a log has of one pack: its volts and amps by row, and whether the volts were read at its plug."""

    volts: Sequence[float] | None
    amps: Sequence[float] | None
    at_pack: bool = False


@dataclass(frozen=True)
class LoggedFlight:
    """A log as it was read of a file, whatever kind of file that was.

    Attributes:
        name, check_sum: the file and its SHA-256.
        time_s: seconds from the first row.
        bus_v: volts at the receiver; None where nobody logged them.
        packs: what was logged of each pack.
        columns: what each heading was taken for.
        heading_line: the headings, by which another log of the same logger is known.
        started: seconds since 1970 of the first row by the logger's clock, where it tells.
        doubts: what was taken without being sure.
        flights: how many flights the file holds.
        number: which of them this is, from 1.
    """

    name: str
    check_sum: str
    time_s: Sequence[float]
    bus_v: Sequence[float] | None
    packs: tuple[LoggedPack, ...]
    columns: Mapping[str, str]
    heading_line: str = ""
    started: float | None = None
    doubts: tuple[Text, ...] = ()
    flights: int = 1
    number: int = 1


@dataclass(frozen=True)
class FlightRead:
    """A log read for one aircraft.

    Attributes:
        code: the aircraft.
        flight: the log.
        report: what the log tells by itself.
        tags: the pack behind each column of current; None where the records do not say which.
        predicted_v: bus volts that this current should have made, by row; None where it cannot be worked.
        pack_c: temperature of the packs that the keeper gave.
        doubts: what was taken without being sure, and what is missing.
        notes: what is good to know beside the figures.
        fitting: how each pack's resistance stands beside what everything else says of it.
    """

    code: str
    flight: LoggedFlight
    report: FlightReport
    tags: tuple[str | None, ...]
    predicted_v: tuple[float, ...] | None
    pack_c: float | None
    doubts: tuple[Text, ...]
    notes: tuple[Text, ...]
    fitting: tuple[Fits | None, ...] = ()

    @property
    def calls_for_a_look(self) -> bool:
        """Whether anything happened or anything is in doubt."""
        return bool(self.report.events or self.doubts)


def near_volts(aircraft: Aircraft) -> float | None:
    """Nominal volts of the radio's packs, by which a column of volts is known; None where none is fitted."""
    from hangar.survey.packs import nominal_v

    values = [volts.expected for path in aircraft.radio_paths if (volts := nominal_v(path)) is not None]
    return max(values, default=None)


def has_regulator(aircraft: Aircraft) -> bool:
    """Whether a regulator stands between packs and bus."""
    return any(path.regulator is not None for path in aircraft.radio_paths)


def read_for(
    surveyed: Survey, flight: LoggedFlight, limits_v: Sequence[float] = (), pack_c: float | None = None
) -> FlightRead:
    """Read a log for the aircraft that was surveyed.

    Args:
        surveyed: the aircraft, its packs, leads and load cases.
        flight: the log.
        limits_v: volts below which the time is counted.
        pack_c: temperature of the packs in the flight, where somebody knows it.
    """
    from hangar.physics.flight_record import as_logged, flight_told

    known, tags = _known_packs(surveyed, len(flight.packs))
    sources = [(pack.volts, pack.amps, pack.at_pack) for pack in flight.packs]
    report = flight_told(as_logged(flight.time_s, flight.bus_v, sources), known, limits_v)
    predicted = predicted_volts(surveyed, flight)
    return FlightRead(
        surveyed.aircraft.code, flight, report, tags, predicted, pack_c,
        (*flight.doubts, *_doubts(flight, report, known)), _notes(report),
        tuple(
            _fit(surveyed, pack.pack_ohm, tag, pack_c) for pack, tag in zip(report.packs, tags, strict=True)
        ),
    )  # fmt: skip


def _known_packs(surveyed: Survey, count: int) -> tuple[list[KnownPack | None], tuple[str | None, ...]]:
    """What the records say of each pack that was logged, in the order of the power paths."""
    from hangar.physics.flight_record import KnownPack
    from hangar.survey.defaults import class_defaults
    from hangar.survey.paths import path_model

    defaults = class_defaults().changed(surveyed.conditions.defaults)
    paths = surveyed.aircraft.radio_paths
    models = [
        path_model(path, surveyed.conditions.today, defaults, only=len(paths) == 1)[0] for path in paths
    ]
    whole = [(model, _as_one(model)) for model in models if model is not None]
    if len(whole) == count and all(pack is not None for _, pack in whole):
        tags = tuple(model.packs[0].tag if len(model.packs) == 1 else None for model, _ in whole)
        return [pack for _, pack in whole], tags
    if len(whole) == 1 and len(whole[0][0].packs) == count:
        model = whole[0][0]
        known_packs: list[KnownPack | None] = [
            KnownPack(pack.chemistry, pack.fed.pack_type.series, model.outside_ohm.expected)
            for pack in model.packs
        ]
        return known_packs, tuple(pack.tag for pack in model.packs)
    return [None] * count, (None,) * count


def _as_one(model: PathModel) -> KnownPack | None:
    """The packs of a path as one: those in series add their cells; None where chemistries are mixed."""
    from hangar.physics.flight_record import KnownPack

    kinds = {pack.chemistry for pack in model.packs}
    if len(kinds) != 1:
        return None
    cells = [pack.fed.pack_type.series for pack in model.packs]
    joined = sum(cells) if model.path.feed.join is PackJoin.SERIES else max(cells)
    return KnownPack(kinds.pop(), joined, model.outside_ohm.expected)


def predicted_volts(surveyed: Survey, flight: LoggedFlight) -> tuple[float, ...] | None:
    """Bus volts that the current of this log should have made, from charged packs; None where not known."""
    from hangar.survey.profile import volts_at_current

    if not flight.packs or any(pack.amps is None for pack in flight.packs):
        return None
    try:
        return volts_at_current(
            surveyed, flight.time_s, [pack.amps for pack in flight.packs if pack.amps is not None]
        )
    except HangarError:
        return None


def _fit(surveyed: Survey, band: Band | None, tag: str | None, pack_c: float | None) -> Fits | None:
    """The word for a pack's resistance by this log; None where there is nothing to hold it against."""
    from hangar.survey.defaults import defaults_with
    from hangar.survey.path_leads import pack_after_one_second

    fed = next((fed for path in surveyed.aircraft.paths for fed in path.packs if fed.pack.tag == tag), None)
    if band is None or fed is None or not band.low > 0.0:
        return None
    defaults = defaults_with(surveyed.conditions.defaults)
    expected, sd = pack_after_one_second(fed, pack_c, surveyed.conditions.today, defaults)
    band_ln_sd = log(band.high / band.low) / (2.0 * Z90)
    _, z = by_logarithm(band.value, expected, sd, band_ln_sd)
    return None if z is None else fits(z)


def _doubts(flight: LoggedFlight, report: FlightReport, known: Sequence[KnownPack | None]) -> list[Text]:
    doubts = []
    if report.minimum_v is None:
        doubts.append(text("no volts of the bus were logged: the lowest cannot be told"))
    if not flight.packs or any(pack.amps is None for pack in flight.packs):
        doubts.append(text("no current was logged: charge, currents and resistance cannot be told"))
    elif any(pack.path_ohm is None for pack in report.packs):
        doubts.append(text("volts and current do not move enough together to tell a resistance"))
    if any(pack is None for pack in known):
        doubts.append(
            text("the records do not say which pack each column is: its resistance is told with its leads")
        )
    return doubts


def _notes(report: FlightReport) -> tuple[Text, ...]:
    notes = []
    if report.may_be_lower:
        notes.append(
            text(
                "logged {rate} times a second: the volts may have been lower between samples",
                rate=f"{report.rate_hz:.0f}",
            )
        )
    if report.lag_steps:
        notes.append(
            text(
                "the logger shows the current {lag} late; that is taken off",
                lag=Amount(report.lag_steps / report.rate_hz, "s"),
            )
        )
    return tuple(notes)


def moment(seconds: float) -> str:
    """A moment of the flight on the log's own clock.

    >>> moment(312.4)
    '5:12'
    """
    return f"{int(seconds // 60)}:{int(seconds % 60):02d}"


def event_words(event: FlightEvent, tags: Sequence[str | None] = ()) -> Text:
    """An event in one sentence, with what to look at."""
    start = moment(event.start_s)
    end = text("the end") if event.end_s is None else text("{moment}", moment=moment(event.end_s))
    size = 0.0 if event.size is None else event.size
    amps, ohm = Amount(size, "A", 2), Amount(1000.0 * size, "mohm", 2)
    whose = _whose(event, tags)
    words_by_kind = {
        "stalled_servo": text(
            "{start}: a servo was held against something until {end}, {amps} more than beside it; "
            "look for a linkage that binds or runs into a stop",
            start=start,
            end=end,
            amps=amps,
        ),
        "drag": text(
            "{start}: the lowest current stepped up by {amps} and stayed; "
            "look for what binds, drags or buzzes",
            start=start,
            amps=amps,
        ),
        "joint": text(
            "{start} to {end}: {ohm} more between pack and bus; look at switch, plugs and joints of {pack}",
            start=start,
            end=end,
            ohm=ohm,
            pack=whose,
        ),
        "pack_lost": text(
            "{start}: {pack} gives no current any more; look at its switch, plug and lead",
            start=start,
            pack=whose,
        ),
        "cell_empty": text(
            "{start}: one cell of {pack} falls away while the others still stand; read each cell",
            start=start,
            pack=whose,
        ),
        "pack_empty": text(
            "{start}: {pack} is empty; land sooner or fit more capacity", start=start, pack=whose
        ),
        "frozen_volts": text(
            "{start} to {end}: the sensor of the volts stood still; those rows are left out",
            start=start,
            end=end,
        ),
        "frozen_current": text(
            "{start} to {end}: the sensor of the current stood still; no charge is told",
            start=start,
            end=end,
        ),
        "offset_current": text(
            "the sensor of the current shows {amps} with the radio off; that is taken off", amps=amps
        ),
        "gap": text("{start} to {end}: nothing was logged", start=start, end=end),
        "dropout": text("{start}: {count} samples without volts; left out", start=start, count=round(size)),
    }
    return words_by_kind.get(
        event.kind, text("{start} to {end}: something that this log does not explain", start=start, end=end)
    )


def _whose(event: FlightEvent, tags: Sequence[str | None]) -> Text:
    if event.pack is not None and event.pack < len(tags):
        tag = tags[event.pack]
        return text("{name}", name=tag) if tag else text("pack {letter}", letter="ABCD"[event.pack % 4])
    tag = tags[0] if len(tags) == 1 else None
    return text("{name}", name=tag) if tag else text("the pack")


def _event_json(event: FlightEvent, tags: Sequence[str | None]) -> dict[str, Any]:
    made: dict[str, Any] = {
        "kind": event.kind,
        "start_s": _round(event.start_s),
        "end_s": _round(event.end_s),
    }
    if event.size is not None:
        name, times = {
            "joint": ("extra_mohm", 1000.0), "stalled_servo": ("extra_a", 1.0), "drag": ("extra_a", 1.0),
            "offset_current": ("offset_a", 1.0), "dropout": ("samples", 1.0), "unclear": ("samples", 1.0),
            "cell_empty": ("fall_v", 1.0),
        }[event.kind]  # fmt: skip
        made[name] = _round(event.size * times)
    if event.pack is not None:
        made["pack"] = (tags[event.pack] if event.pack < len(tags) else None) or "ABCD"[event.pack % 4]
    return {**made, "words": str(event_words(event, tags))}


def _round(value: float | None, digits: int = 3) -> float | None:
    return None if value is None else round(value, digits)


def _band_json(band: Band | None) -> dict[str, float] | None:
    if band is None:
        return None
    return {name: round(1000.0 * getattr(band, name), 2) for name in ("value", "low", "high")}


def flight_json(read: FlightRead) -> dict[str, Any]:
    """What a log tells, for scripts; null is what cannot be told."""
    report, packs = read.report, read.report.packs
    first = packs[0] if len(packs) == 1 else None
    made: dict[str, Any] = {
        "aircraft": read.code,
        "file": read.flight.name,
        "minimum_v": _round(report.minimum_v),
        "mean_a": _round(report.mean_a, 4),
        "peak_a": _round(report.peak_a),
        "used_mah": _round(report.used_mah, 2),
        "used_mah_until_then": _round(report.used_until_mah, 2),
        "path_mohm": _band_json(first.path_ohm) if first else None,
        "pack_mohm": _band_json(first.pack_ohm) if first else None,
        "measured_at": None if first is None else "pack" if first.at_pack else "bus",
        "pack_c": read.pack_c,
    }
    if len(packs) > 1:
        made["packs"] = [
            {
                "name": tag or "ABCD"[number % 4],
                "measured_at": "pack" if pack.at_pack else "bus",
                "path_mohm": _band_json(pack.path_ohm),
                "pack_mohm": _band_json(pack.pack_ohm),
                "used_mah": _round(pack.used_mah, 2),
            }
            for number, (pack, tag) in enumerate(zip(packs, read.tags, strict=True))
        ]
    made["flight"], made["flights"] = read.flight.number, read.flight.flights
    made["fits"] = [None if word is None else word.value for word in read.fitting]
    made["below"] = [{"limit_v": limit, "seconds": round(seconds, 2)} for limit, seconds in report.below_s]
    made["events"] = [_event_json(event, read.tags) for event in report.events]
    made["columns"] = dict(read.flight.columns)
    made["rate_hz"], made["rows"], made["rows_used"] = round(report.rate_hz, 2), report.rows, report.rows_used
    made["doubts"] = [str(doubt) for doubt in read.doubts]
    made["notes"] = [str(note) for note in read.notes]
    return made
