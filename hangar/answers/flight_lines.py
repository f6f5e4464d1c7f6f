"""A flight log in sentences: its figures, each pack, what happened, what is not sure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hangar.answers.flight_logs import events_of
from hangar.answers.flight_record import FlightRead, event_words
from hangar.base.text import Amount, Text, fixed, text
from hangar.parts import FlightLog

if TYPE_CHECKING:
    from hangar.physics.flight_fit import Band


@dataclass(frozen=True)
class FlightLines:
    """Figures with their values, events in the order they happened, doubts and notes."""

    figures: tuple[tuple[Text, Text], ...]
    events: tuple[tuple[float, Text], ...]
    doubts: tuple[Text, ...] = ()
    notes: tuple[Text, ...] = ()


def lines_of(read: FlightRead) -> FlightLines:
    """What a log tells that was read just now."""
    return FlightLines(
        tuple(_figures(read)),
        tuple((event.start_s, event_words(event, read.tags)) for event in read.report.events),
        read.doubts,
        read.notes,
    )


def lines_of_kept(log: FlightLog) -> FlightLines:
    """What is kept of a log."""
    tags = tuple(pack.pack for pack in log.packs)
    figures = list(_amounts(log.minimum_v, log.mean_a, log.peak_a, log.used_mah, None))
    for pack in log.packs:
        for what, value, low, high in (
            (_with_leads(pack.pack), pack.path_mohm, pack.path_low_mohm, pack.path_high_mohm),
            (_by_itself(pack.pack), pack.pack_mohm, pack.pack_low_mohm, pack.pack_high_mohm),
        ):
            if value is not None and low is not None and high is not None:
                if pack.at_pack and what == _with_leads(pack.pack):
                    continue
                figures.append((what, _spread(value, low, high)))
    events = tuple((event.start_s, event_words(event, tags)) for event in events_of(log))
    return FlightLines(tuple(figures), events)


def _figures(read: FlightRead) -> Iterator[tuple[Text, Text]]:
    report = read.report
    yield from _amounts(
        report.minimum_v, report.mean_a, report.peak_a, report.used_mah, report.used_until_mah
    )
    for number, pack in enumerate(report.packs):
        name = read.tags[number] or "ABCD"[number % 4]
        if pack.path_ohm is not None and not pack.at_pack:
            yield _with_leads(name), _band(pack.path_ohm)
        if pack.pack_ohm is not None:
            word = read.fitting[number] if number < len(read.fitting) else None
            shown = _band(pack.pack_ohm)
            if word is not None:
                shown = text("{value}: {word}", value=shown, word=fixed(word.value))
            yield _by_itself(name), shown
    for limit, seconds in report.below_s:
        yield text("below {limit}", limit=Amount(limit, "V", 3)), _one(seconds, "s")


def _amounts(
    minimum_v: float | None,
    mean_a: float | None,
    peak_a: float | None,
    used_mah: float | None,
    until_mah: float | None,
) -> Iterator[tuple[Text, Text]]:
    for label, value, unit in (
        (text("lowest volts"), minimum_v, "V"),
        (text("mean current"), mean_a, "A"),
        (text("highest current"), peak_a, "A"),
        (text("charge used"), used_mah, "mAh"),
        (text("charge used until the current stood still"), until_mah, "mAh"),
    ):
        if value is not None:
            yield label, _one(value, unit)


def _one(value: float, unit: str) -> Text:
    return text("{value}", value=Amount(value, unit, None if unit == "s" else 3))


def _with_leads(name: str) -> Text:
    return text("pack {pack} with its leads", pack=name)


def _by_itself(name: str) -> Text:
    return text("pack {pack} by itself, after one second", pack=name)


def _band(band: Band) -> Text:
    return _spread(1000.0 * band.value, 1000.0 * band.low, 1000.0 * band.high)


def _spread(value: float, low: float, high: float) -> Text:
    shown = {
        name: Amount(number, "mohm", 2) for name, number in (("value", value), ("low", low), ("high", high))
    }
    return text("{value} ({low} to {high})", **shown)
