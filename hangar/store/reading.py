"""Whole aircraft out of rows: a fixed, small number of questions, then put together as frozen trees."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any, TypeVar

from sqlalchemy import BindParameter, ColumnElement, bindparam, true
from sqlmodel import select
from sqlmodel.sql.expression import Select

from hangar.base.collecting import without_collecting
from hangar.parts import (
    KIND_BY_NAME,
    RECORD_KINDS,
    Acceptance,
    Accessory,
    Aircraft,
    Airframe,
    Arm,
    BenchCheck,
    CapacityTest,
    CellReading,
    Channel,
    Charge,
    FedPack,
    Feed,
    FieldOrigin,
    Flight,
    FlightLog,
    FlightLogPack,
    Inspection,
    Installation,
    Lead,
    Linkage,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    PathCheck,
    Plan,
    PlanLine,
    PlanProof,
    Position,
    PowerPath,
    Prediction,
    PutOff,
    RangeCheck,
    Receiver,
    Record,
    Regulator,
    RegulatorType,
    RemarkOnSpeed,
    Rotor,
    Servo,
    ServoBench,
    ServoFit,
    ServoRating,
    ServoTiming,
    ServoType,
    SetAside,
    Snag,
    Stabiliser,
    StockItem,
    SupplyCheck,
    Surface,
    Switch,
    SwitchType,
    Tester,
)
from hangar.parts.choices import PackState, ServoState
from hangar.parts.library import Library
from hangar.parts.readings import place_of
from hangar.store.record_rows import Rows, hang, select_all
from hangar.store.tables import ROW_OF

R = TypeVar("R", bound=Record)
Condition = ColumnElement[bool]

_NOT_IN_A_TREE = {
    "arm",
    "stock-item",
    "shopping-tick",
    "attachment",
    "flight-log-trace",
    "setting",
    "sheet-source",
}
READ_KINDS: tuple[type[Record], ...] = tuple(kind for kind in RECORD_KINDS if kind.KIND not in _NOT_IN_A_TREE)
"""The kinds a tree is made of; each is asked for once, however many aircraft are read."""


def _open(kind: type[Record]) -> Condition:
    is_open: Condition = ROW_OF[kind].until_on.is_(None)
    return is_open


@cache
def _only_of(kind_name: str) -> Select[Any]:
    """The rows of a kind that the tree of the aircraft ``:code`` is made of."""
    kind = KIND_BY_NAME[kind_name]
    code: BindParameter[str] = bindparam("code")
    today: BindParameter[date] = bindparam("today")
    servos = select(ROW_OF[Installation].servo).where(
        _open(Installation), ROW_OF[Installation].aircraft == code
    )
    servo_types = select(ROW_OF[Servo].servo_type).where(ROW_OF[Servo].tag.in_(servos))
    packs = select(ROW_OF[PackFit].pack).where(_open(PackFit), ROW_OF[PackFit].aircraft == code)
    pack_types = select(ROW_OF[Pack].pack_type).where(ROW_OF[Pack].tag.in_(packs))
    own: dict[type[Record], Condition] = {
        Airframe: ROW_OF[Airframe].code == code,
        Installation: _open(Installation) & ROW_OF[Installation].servo.in_(servos),
        Servo: ROW_OF[Servo].tag.in_(servos),
        ServoType: ROW_OF[ServoType].code.in_(servo_types),
        ServoRating: ROW_OF[ServoRating].servo_type.in_(servo_types),
        PackFit: _open(PackFit) & (ROW_OF[PackFit].aircraft == code),
        Pack: ROW_OF[Pack].tag.in_(packs),
        PackType: ROW_OF[PackType].code.in_(pack_types),
        RegulatorType: ROW_OF[RegulatorType].code.in_(
            select(ROW_OF[Regulator].regulator_type).where(ROW_OF[Regulator].aircraft == code)
        ),
        SwitchType: ROW_OF[SwitchType].code.in_(
            select(ROW_OF[Switch].switch_type).where(ROW_OF[Switch].aircraft == code)
        ),
    }
    for part in (PlanLine, PlanProof, Prediction):
        own[part] = ROW_OF[part].plan.in_(select(ROW_OF[Plan].code).where(ROW_OF[Plan].aircraft == code))
    logged = ROW_OF[FlightLogPack]
    own[FlightLogPack] = (logged.aircraft == code) | logged.pack.in_(packs)
    own[Flight] = (ROW_OF[Flight].aircraft == code) | (ROW_OF[Flight].flown_on == today)
    for test in (LoadTest, CapacityTest, CellReading, Charge):
        own[test] = ROW_OF[test].pack.in_(packs)
    for bench in (ServoBench, ServoTiming):
        own[bench] = ROW_OF[bench].servo.in_(servos)
    own[Tester] = own[SetAside] = own[FieldOrigin] = true()
    condition = own[kind] if kind in own else ROW_OF[kind].aircraft == code
    return select_all(kind).where(condition)


def _of_all(kind: type[Record]) -> Select[Any]:
    statement = select_all(kind)
    return statement.where(_open(kind)) if kind in (Installation, PackFit) else statement


class _Rows:
    """Everything read, found by what it belongs to."""

    def __init__(self, stored: Rows, code: str | None, today: date) -> None:
        self._today = today
        self._flown: dict[str, list[Flight]] | None = None
        self._read: dict[type[Record], tuple[Any, ...]] = {}
        for kind in READ_KINDS:
            if code is None:
                self._read[kind] = stored.read(kind, _of_all(kind))
            else:
                self._read[kind] = stored.read(kind, _only_of(kind.KIND), code=code, today=today)
        self._grouped: dict[tuple[type[Record], tuple[str, ...]], dict[Any, list[Any]]] = {}
        hang(self._read[ServoType], "ratings", self._read[ServoRating], ("servo_type",))
        hang(self._read[FlightLog], "packs", self._read[FlightLogPack], FlightLog.KEY)
        hang(self._read[Plan], "lines", self._read[PlanLine], ("plan",))
        hang(self._read[Plan], "proofs", self._read[PlanProof], ("plan",))
        hang(self._read[Plan], "predictions", self._read[Prediction], ("plan",))

    def all(self, kind: type[R]) -> tuple[R, ...]:
        return self._read[kind]

    def by(self, kind: type[R], *fields: str) -> dict[Any, list[R]]:
        """The records of a kind under the values of some fields."""
        groups = self._grouped.get((kind, fields))
        if groups is None:
            groups = self._grouped[kind, fields] = defaultdict(list)
            for record in self._read[kind]:
                values = record.__dict__
                groups[tuple([values[name] for name in fields])].append(record)
        return groups

    def many(self, kind: type[R], fields: tuple[str, ...], *values: Any) -> tuple[R, ...]:
        return tuple(self.by(kind, *fields).get(values, ()))

    def one(self, kind: type[R], *key: Any) -> R | None:
        records = self.by(kind, *kind.KEY).get(key)
        return records[0] if records else None

    def aside(self, *readings: tuple[Record, ...]) -> tuple[SetAside, ...]:
        """What was set aside of these readings."""
        every = self._read[SetAside]
        if not every:
            return ()
        by_record = self.by(SetAside, "kind", "record")
        places = (place_of(reading) for group in readings for reading in group)
        return tuple(set_aside for place in places for set_aside in by_record.get(place, ()))

    def origins(self, records: Iterable[Record | None]) -> tuple[FieldOrigin, ...]:
        """What is not confirmed of these records."""
        if not self._read[FieldOrigin]:
            return ()
        by_record = self.by(FieldOrigin, "kind", "record")
        places = dict.fromkeys(place_of(record) for record in records if record is not None)
        return tuple(origin for place in places for origin in by_record.get(place, ()))

    def flown_today(self, pack: str) -> tuple[Flight, ...]:
        """The flights of the day that name a pack, of whatever aircraft was read."""
        if self._flown is None:
            self._flown = defaultdict(list)
            for flight in self.by(Flight, "flown_on").get((self._today,), ()):
                for tag in (flight.packs or "").split(","):
                    self._flown[tag.strip()].append(flight)
        return tuple(self._flown.get(pack, ()))


def read_aircraft(stored: Rows, code: str, today: date) -> Aircraft | None:
    """The tree of one aircraft, or None when there is no aircraft of that code."""
    rows = _Rows(stored, code, today)
    return next((_aircraft(rows, airframe, today) for airframe in rows.all(Airframe)), None)


def read_fleet(stored: Rows, today: date) -> tuple[Aircraft, ...]:
    """The trees of all aircraft in the order of their codes."""
    # A fleet is many small objects without cycles: 1,000 aircraft are read in half the time so.
    with without_collecting():
        rows = _Rows(stored, None, today)
        return tuple(_aircraft(rows, airframe, today) for airframe in rows.all(Airframe))


def read_library(stored: Rows) -> Library:
    """The types, what lies in the bay with a tag of its own, the untagged stock, and all plans."""
    in_aircraft = {stay.servo for stay in stored.read(Installation, _of_all(Installation))}
    in_feeds = {stay.pack for stay in stored.read(PackFit, _of_all(PackFit))}
    servos = stored.records(Servo, state=ServoState.IN_BAY)
    fitted = stored.records(Servo, state=ServoState.FITTED)
    packs = stored.records(Pack, state=PackState.IN_USE)
    return Library(
        servo_types={servo_type.code: servo_type for servo_type in stored.records(ServoType)},
        pack_types={pack_type.code: pack_type for pack_type in stored.records(PackType)},
        regulator_types={
            regulator_type.code: regulator_type for regulator_type in stored.records(RegulatorType)
        },
        switch_types={switch_type.code: switch_type for switch_type in stored.records(SwitchType)},
        arms={arm.code: arm for arm in stored.records(Arm)},
        receivers={
            receiver.model_type: receiver for receiver in stored.records(Receiver) if receiver.model_type
        },
        servos_elsewhere={servo.tag: servo for servo in fitted},
        spare_servos={servo.tag: servo for servo in servos if servo.tag not in in_aircraft},
        packs_elsewhere={pack.tag: pack for pack in packs if pack.tag in in_feeds},
        spare_packs={pack.tag: pack for pack in packs if pack.tag not in in_feeds},
        stock=stored.records(StockItem),
        plans=stored.records(Plan),
    )


def _aircraft(rows: _Rows, airframe: Airframe, today: date) -> Aircraft:
    code = airframe.code

    def own(kind: type[R]) -> tuple[R, ...]:
        return rows.many(kind, ("aircraft",), code)

    positions = sorted(own(Position), key=_plug_order)
    fits = tuple(_fit(rows, position) for position in positions)
    paths = tuple(_path(rows, feed, airframe.refit_on) for feed in own(Feed))
    return Aircraft(
        airframe=airframe,
        rotors=own(Rotor),
        receivers=own(Receiver),
        stabilisers=own(Stabiliser),
        accessories=own(Accessory),
        channels=own(Channel),
        surfaces=own(Surface),
        fits=fits,
        paths=paths,
        plans=own(Plan),
        range_checks=own(RangeCheck),
        supply_checks=own(SupplyCheck),
        remarks=own(RemarkOnSpeed),
        set_aside=rows.aside(
            own(RemarkOnSpeed), own(Flight), own(FlightLog), own(SupplyCheck), own(PathCheck)
        ),
        flights=own(Flight),
        flight_logs=own(FlightLog),
        inspections=own(Inspection),
        snags=own(Snag),
        acceptances=own(Acceptance),
        put_off=own(PutOff),
        origins=rows.origins(_records(airframe, fits, paths)),
        read_on=today,
    )


def _records(
    airframe: Airframe, fits: Iterable[ServoFit], paths: Iterable[PowerPath]
) -> Iterator[Record | None]:
    """The records of a tree that a sheet may have told."""
    yield airframe
    for fit in fits:
        yield from (fit.position, fit.channel, fit.lead, fit.installation, fit.servo, fit.servo_type)
        yield from fit.servo_type.ratings if fit.servo_type else ()
    for path in paths:
        yield from (path.feed, path.regulator, path.regulator_type)
        for fed in path.packs:
            yield from (fed.pack, fed.pack_type, fed.fit, *fed.load_tests, *fed.capacity_tests)


def _plug_order(position: Position) -> tuple[bool, bool, str, int, str]:
    """Positions as they are plugged in: the main port first, then by channel; unplugged ones last."""
    channel = position.channel
    return channel is None, position.port != "main", position.port, channel or 0, position.code


def _fit(rows: _Rows, position: Position) -> ServoFit:
    aircraft, code = position.aircraft, position.code
    place = ("aircraft", "position")
    stays = rows.many(Installation, place, aircraft, code)
    stay = min(stays, key=_present_first, default=None)
    servo = rows.one(Servo, stay.servo) if stay else None
    checks = rows.many(BenchCheck, place, aircraft, code)
    benches = rows.many(ServoBench, ("servo",), servo.tag) if servo else ()
    timings = rows.many(ServoTiming, ("servo",), servo.tag) if servo else ()
    return ServoFit(
        position=position,
        channel=None
        if position.channel is None
        else rows.one(Channel, aircraft, position.port, position.channel),
        through=None if position.through is None else rows.one(Stabiliser, aircraft, position.through),
        surface=None if position.surface is None else rows.one(Surface, aircraft, position.surface),
        linkage=rows.one(Linkage, aircraft, code),
        lead=rows.one(Lead, aircraft, code),
        installation=stay,
        servo=servo,
        servo_type=rows.one(ServoType, servo.servo_type) if servo else None,
        bench_checks=checks,
        benches=benches,
        timings=timings,
        set_aside=rows.aside(checks, benches, timings),
        elsewhere=_elsewhere(rows, stay) if stay else (),
        flown_type=rows.one(ServoType, servo.servo_type) if servo else None,
        flown_since=stay.since_on if stay else None,
    )


def _present_first(stay: Installation) -> tuple[bool, str, date]:
    return stay.disputed, stay.servo, stay.since_on


def _elsewhere(rows: _Rows, stay: Installation) -> tuple[Installation, ...]:
    return tuple(
        other
        for other in rows.many(Installation, ("servo",), stay.servo)
        if (other.aircraft, other.position) != (stay.aircraft, stay.position)
    )


def _path(rows: _Rows, feed: Feed, mended_on: date | None) -> PowerPath:
    switch = None if feed.switch is None else rows.one(Switch, feed.aircraft, feed.switch)
    regulator = None if feed.regulator is None else rows.one(Regulator, feed.aircraft, feed.regulator)
    fits = rows.many(PackFit, ("aircraft", "feed"), feed.aircraft, feed.code)
    path = PowerPath(
        feed=feed,
        packs=tuple(_present(_fed_pack(rows, fit) for fit in fits)),
        switch=switch,
        switch_type=rows.one(SwitchType, switch.switch_type) if switch else None,
        regulator=regulator,
        regulator_type=rows.one(RegulatorType, regulator.regulator_type) if regulator else None,
        checks=rows.many(PathCheck, ("aircraft", "feed"), feed.aircraft, feed.code),
    )
    return (
        replace(path, flown=path.between, mended_on=mended_on)
        if any(fed.flight_logs for fed in path.packs)
        else path
    )


def _present(packs: Iterable[FedPack | None]) -> Iterable[FedPack]:
    return (pack for pack in packs if pack is not None)


def _fed_pack(rows: _Rows, fit: PackFit) -> FedPack | None:
    pack = rows.one(Pack, fit.pack)
    pack_type = rows.one(PackType, pack.pack_type) if pack else None
    if pack is None or pack_type is None:
        return None

    def of_pack(kind: type[R]) -> tuple[R, ...]:
        return rows.many(kind, ("pack",), fit.pack)

    loads, capacities, charges = of_pack(LoadTest), of_pack(CapacityTest), of_pack(Charge)
    logs = of_pack(FlightLogPack)
    used = {test.tester for test in loads if test.tester}
    return FedPack(
        pack=pack,
        pack_type=pack_type,
        fit=fit,
        load_tests=loads,
        capacity_tests=capacities,
        cells=of_pack(CellReading),
        charges=charges,
        flight_logs=logs,
        flights_today=rows.flown_today(fit.pack),
        testers=tuple(row for row in rows.all(Tester) if row.name in used) if used else (),
        set_aside=rows.aside(loads, capacities, charges, logs),
    )
