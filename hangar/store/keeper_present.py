"""What a fleet holds already, as far as a keeper's own sheet is read by it and compared with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Protocol, TypeVar

from hangar.parts import (
    Airframe,
    CapacityTest,
    Channel,
    Feed,
    Installation,
    Lead,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    Position,
    Record,
    Regulator,
    Servo,
    ServoRating,
    ServoType,
    StockItem,
)
from hangar.store.intake.present import Present, PresentPlane, PresentSeat, PresentStock, PresentType
from hangar.store.intake.reading import KnownFleet
from hangar.store.intake.vocabulary import squeezed

R = TypeVar("R", bound=Record)


class Records(Protocol):
    """A fleet, or an edit of one: what can be asked for its records."""

    def records(self, kind: type[R], /, **equal: Any) -> tuple[R, ...]:
        """All records of a kind, in a stable order."""


def known_of(fleet: Records) -> KnownFleet:
    """Makers and torques of the fleet's servo types."""
    makers = {squeezed(servo_type.code): servo_type.maker or "" for servo_type in fleet.records(ServoType)}
    torques = {
        (squeezed(rating.servo_type), rating.rated_v): rating.torque_nm
        for rating in fleet.records(ServoRating)
        if rating.torque_nm is not None
    }
    return KnownFleet(makers, torques)


def present_of(fleet: Records) -> Present:
    """Everything that a sheet which comes again is compared with."""
    ratings: dict[str, dict[float, tuple[float | None, float | None]]] = {}
    for rating in fleet.records(ServoRating):
        ratings.setdefault(rating.servo_type, {})[rating.rated_v] = (rating.torque_nm, rating.transit_s)
    tests = {
        ("load", load_test.pack, load_test.tested_at.date().isoformat())
        for load_test in fleet.records(LoadTest)
    }
    tests |= {
        ("capacity", capacity_test.pack, capacity_test.tested_on.isoformat())
        for capacity_test in fleet.records(CapacityTest)
    }
    stock = fleet.records(StockItem)
    tags = {servo.tag for servo in fleet.records(Servo)}
    packs = {pack.tag for pack in fleet.records(Pack)}
    return Present(
        planes=_planes(fleet),
        types={
            squeezed(servo_type.code): PresentType(
                servo_type.code,
                servo_type.maker or "",
                servo_type.drive or "",
                ratings.get(servo_type.code, {}),
            )
            for servo_type in fleet.records(ServoType)
        },
        pack_types=frozenset(pack_type.code for pack_type in fleet.records(PackType)),
        packs=frozenset(packs),
        codes=frozenset(airframe.code for airframe in fleet.records(Airframe)),
        tags=frozenset(tags | packs),
        tests=frozenset(tests),
        stock={
            (stock_item.kind.value, stock_item.part_type or "", stock_item.bin or ""): PresentStock(
                stock_item.code, stock_item.on_hand
            )
            for stock_item in stock
        },
        stock_codes=frozenset(stock_item.code for stock_item in stock),
    )


def _planes(fleet: Records) -> dict[str, PresentPlane]:
    servo_types = {servo.tag: servo.servo_type for servo in fleet.records(Servo)}
    stays = fleet.records(Installation)
    pack_types = {pack_type.code: pack_type for pack_type in fleet.records(PackType)}
    pack_kinds = {pack.tag: pack_types[pack.pack_type] for pack in fleet.records(Pack)}
    planes = {}
    for frame in fleet.records(Airframe):
        code = frame.code
        positions = fleet.records(Position, aircraft=code)
        here = {stay.position: stay for stay in stays if stay.aircraft == code and stay.until_on is None}
        function_of = {position.code: position.function.value for position in positions}
        past = {
            (function_of.get(stay.position, ""), servo_types[stay.servo])
            for stay in stays
            if stay.aircraft == code and stay.until_on is not None
        }
        kinds = [
            pack_kinds[pack_fit.pack]
            for pack_fit in fleet.records(PackFit, aircraft=code)
            if pack_fit.until_on is None
        ]
        planes[squeezed(frame.name)] = PresentPlane(
            code,
            frame.name,
            {name: getattr(frame, name) for name in ("span_mm", "all_up_mass_g", "aircraft_class", "power")},
            tuple(_seat(position, here.get(position.code), servo_types) for position in positions),
            frozenset(past),
            frozenset(channel.number for channel in fleet.records(Channel, aircraft=code)),
            {lead.position: lead.length_mm for lead in fleet.records(Lead, aircraft=code)},
            tuple((kind.chemistry.value, kind.series, kind.parallel, kind.capacity_mah) for kind in kinds),
            len(fleet.records(Regulator, aircraft=code)),
            tuple(feed.code for feed in fleet.records(Feed, aircraft=code)),
        )
    return planes


def _seat(position: Position, stay: Installation | None, servo_types: Mapping[str, str]) -> PresentSeat:
    place = (position.code, position.function.value, position.side or "", position.channel)
    if stay is None:
        return PresentSeat(*place)
    return PresentSeat(*place, stay.servo, servo_types[stay.servo], stay.since_on.isoformat())
