"""What would come of a keeper's sheet, thing by thing, each with the cells that gave it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hangar.base.text import Amount, Text, as_text, fixed, listed, text
from hangar.parts import (
    Airframe,
    Installation,
    Pack,
    PackFit,
    Position,
    Record,
    Regulator,
    Servo,
    ServoRating,
    ServoType,
    StockItem,
)
from hangar.store.intake.grid import Cell
from hangar.store.intake.proposal import NewRow, SheetChange
from hangar.store.rehearsal import Heard


@dataclass(frozen=True, slots=True)
class Outcome:
    """One thing that would come of the sheet: its words, the cells behind it, and what belongs to it."""

    words: Text
    cells: tuple[Cell, ...] = ()
    parts: tuple[Outcome, ...] = ()
    is_gap: bool = False
    """Whether something of it is not known."""
    is_difference: bool = False
    """Whether it tells how the sheet differs from the fleet."""


def outcomes(heard: Heard) -> tuple[Outcome, ...]:
    """The aircraft first, then types, packs and spares, then what changes in the fleet."""
    every = list(heard.fitting.records())
    results = [*_planes(every), *_types(every), *_loose(every)]
    changed = [_change(change) for change in heard.proposal.changes]
    if changed:
        results.append(Outcome(text("Changes in the fleet"), parts=tuple(changed), is_difference=True))
    asked = [_change(change) for change in heard.proposal.asked if change not in heard.proposal.changes]
    if asked:
        results.append(
            Outcome(text("Sheet and fleet differ"), parts=tuple(asked), is_gap=True, is_difference=True)
        )
    return tuple(results)


_Some = Iterable[tuple[Record, NewRow]]


def _of(every: _Some, kind: type[Record]) -> Iterator[tuple[Record, NewRow]]:
    return ((record, source) for record, source in every if type(record) is kind)


def _cells(source: NewRow) -> tuple[Cell, ...]:
    return tuple({id(cell): cell for cell in source.cells.values()}.values())


def _planes(every: list[tuple[Record, NewRow]]) -> Iterator[Outcome]:
    servos = {record.tag: record for record, _ in _of(every, Servo) if isinstance(record, Servo)}
    packs = {record.tag: record for record, _ in _of(every, Pack) if isinstance(record, Pack)}
    parts: dict[str, list[Outcome]] = defaultdict(list)
    stays = {
        (record.aircraft, record.position): record
        for record, _ in _of(every, Installation)
        if isinstance(record, Installation) and record.until_on is None
    }
    for record, source in every:
        if isinstance(record, Position):
            stay = stays.get((record.aircraft, record.code))
            servo = servos.get(stay.servo) if stay else None
            parts[record.aircraft].append(_position(record, stay, servo, source))
        elif isinstance(record, PackFit):
            pack = packs.get(record.pack)
            kind = pack.pack_type if pack else record.pack
            parts[record.aircraft].append(Outcome(text("pack: {kind}", kind=kind), _cells(source)))
        elif isinstance(record, Regulator):
            parts[record.aircraft].append(_regulator(record, source))
    named = set()
    for record, source in every:
        if isinstance(record, Airframe):
            named.add(record.code)
            is_gap = record.aircraft_class is None or record.power is None
            words = text(
                "{name}: {kind}, {drive}",
                name=record.name,
                kind=record.aircraft_class or text("class not said"),
                drive=record.power or text("drive not said"),
            )
            yield Outcome(words, _cells(source), tuple(parts[record.code]), is_gap)
    for code, more in parts.items():
        if code not in named:
            yield Outcome(text("More for {aircraft}", aircraft=code), parts=tuple(more))


def _position(
    record: Position, stay: Installation | None, servo: Servo | None, source: NewRow
) -> Outcome:  # fmt: skip
    sentences: list[Text | str] = [fixed(str(record.function))]
    if record.side:
        sentences.append(fixed(str(record.side)))
    sentences.append(servo.servo_type if servo else text("no servo"))
    if stay is not None and stay.since_on.isoformat():
        sentences.append(text("since {day}", day=stay.since_on.isoformat()))
    words = text("{things}", things=listed(sentences, joint=",", most=0))
    if record.channel is not None:
        words = text("channel {channel}: {things}", channel=record.channel, things=words)
    is_gap = record.side is None or servo is None
    return Outcome(words, _cells(source), is_gap=is_gap)


def _regulator(record: Regulator, source: NewRow) -> Outcome:
    if record.set_v is None:
        return Outcome(text("regulator: volts not said"), _cells(source), is_gap=True)
    return Outcome(text("regulator: {volts}", volts=Amount(record.set_v, "V")), _cells(source))


def _types(every: list[tuple[Record, NewRow]]) -> Iterator[Outcome]:
    ratings: dict[str, list[ServoRating]] = defaultdict(list)
    for record, _ in _of(every, ServoRating):
        if isinstance(record, ServoRating):
            ratings[record.servo_type].append(record)
    types = [
        _type(record, ratings[record.code], source)
        for record, source in every
        if isinstance(record, ServoType)
    ]
    if types:
        yield Outcome(text("Servo types ({count})", count=len(types)), parts=tuple(types))


def _type(record: ServoType, ratings: list[ServoRating], source: NewRow) -> Outcome:
    sentences: list[Text | str] = [as_text(f"{record.maker or ''} {record.code}".strip())]
    sentences.append(fixed(str(record.drive)) if record.drive else text("analog or digital not said"))
    for rating in ratings:
        if rating.torque_nm is not None:
            torque, volts = Amount(rating.torque_nm, "N m"), Amount(rating.rated_v, "V")
            sentences.append(text("{torque} at {volts}", torque=torque, volts=volts))
    is_gap = record.drive is None or not any(rating.torque_nm is not None for rating in ratings)
    return Outcome(
        text("{things}", things=listed(sentences, joint=",", most=0)), _cells(source), is_gap=is_gap
    )


def _loose(every: list[tuple[Record, NewRow]]) -> Iterator[Outcome]:
    """Packs that are in no aircraft, and spares."""
    fitted = {record.pack for record, _ in _of(every, PackFit) if isinstance(record, PackFit)}
    placed = {record.servo for record, _ in _of(every, Installation) if isinstance(record, Installation)}
    packs, spares = [], []
    for record, source in every:
        if isinstance(record, Pack) and record.tag not in fitted:
            words = text("{tag}: {kind}", tag=record.tag, kind=record.pack_type)
            packs.append(Outcome(words, _cells(source)))
        elif isinstance(record, Servo) and record.tag not in placed:
            words = text("{tag}: {kind}", tag=record.tag, kind=record.servo_type)
            spares.append(Outcome(words, _cells(source)))
        elif isinstance(record, StockItem):
            words = text(
                "{count} of {kind}", count=round(record.on_hand), kind=record.part_type or record.code
            )
            spares.append(Outcome(words, _cells(source)))
    if packs:
        yield Outcome(text("Packs on the shelf ({count})", count=len(packs)), parts=tuple(packs))
    if spares:
        yield Outcome(text("Spares ({count})", count=len(spares)), parts=tuple(spares))


def _change(change: SheetChange) -> Outcome:
    return Outcome(change.words, (change.cell,) if change.cell is not None else ())
