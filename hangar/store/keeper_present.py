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
from hangar.store.intake.reading import Known
from hangar.store.intake.vocabulary import squeezed

R = TypeVar("R", bound=Record)


class Records(Protocol):
    """A fleet, or an edit of one: what can be asked for its records."""

    def records(self, kind: type[R], /, **equal: Any) -> tuple[R, ...]:
        """All records of a kind, in a stable order."""


def known_of(fleet: Records) -> Known:
    """Makers and torques of the fleet's servo types."""
    makers = {squeezed(one.code): one.maker or "" for one in fleet.records(ServoType)}
    torques = {
        (squeezed(one.servo_type), one.rated_v): one.torque_nm
        for one in fleet.records(ServoRating)
        if one.torque_nm is not None
    }
    return Known(makers, torques)


def present_of(fleet: Records) -> Present:
    """Everything that a sheet which comes again is compared with."""
    ratings: dict[str, dict[float, tuple[float | None, float | None]]] = {}
    for rating in fleet.records(ServoRating):
        ratings.setdefault(rating.servo_type, {})[rating.rated_v] = (rating.torque_nm, rating.transit_s)
    tests = {("load", one.pack, one.tested_at.date().isoformat()) for one in fleet.records(LoadTest)}
    tests |= {("capacity", one.pack, one.tested_on.isoformat()) for one in fleet.records(CapacityTest)}
    stock = fleet.records(StockItem)
    tags = {one.tag for one in fleet.records(Servo)}
    packs = {one.tag for one in fleet.records(Pack)}
    return Present(
        planes=_planes(fleet),
        types={
            squeezed(one.code): PresentType(
                one.code, one.maker or "", one.drive or "", ratings.get(one.code, {})
            )
            for one in fleet.records(ServoType)
        },
        pack_types=frozenset(one.code for one in fleet.records(PackType)),
        packs=frozenset(packs),
        codes=frozenset(one.code for one in fleet.records(Airframe)),
        tags=frozenset(tags | packs),
        tests=frozenset(tests),
        stock={
            (one.kind.value, one.part_type or "", one.bin or ""): PresentStock(one.code, one.on_hand)
            for one in stock
        },
        stock_codes=frozenset(one.code for one in stock),
    )


def _planes(fleet: Records) -> dict[str, PresentPlane]:
    servo_types = {one.tag: one.servo_type for one in fleet.records(Servo)}
    stays = fleet.records(Installation)
    pack_types = {one.code: one for one in fleet.records(PackType)}
    pack_kinds = {one.tag: pack_types[one.pack_type] for one in fleet.records(Pack)}
    found = {}
    for frame in fleet.records(Airframe):
        code = frame.code
        positions = fleet.records(Position, aircraft=code)
        here = {one.position: one for one in stays if one.aircraft == code and one.until_on is None}
        function_of = {one.code: one.function.value for one in positions}
        past = {
            (function_of.get(one.position, ""), servo_types[one.servo])
            for one in stays
            if one.aircraft == code and one.until_on is not None
        }
        kinds = [
            pack_kinds[one.pack] for one in fleet.records(PackFit, aircraft=code) if one.until_on is None
        ]
        found[squeezed(frame.name)] = PresentPlane(
            code,
            frame.name,
            {name: getattr(frame, name) for name in ("span_mm", "all_up_mass_g", "aircraft_class", "power")},
            tuple(_seat(one, here.get(one.code), servo_types) for one in positions),
            frozenset(past),
            frozenset(one.number for one in fleet.records(Channel, aircraft=code)),
            {one.position: one.length_mm for one in fleet.records(Lead, aircraft=code)},
            tuple((one.chemistry.value, one.series, one.parallel, one.capacity_mah) for one in kinds),
            len(fleet.records(Regulator, aircraft=code)),
            tuple(one.code for one in fleet.records(Feed, aircraft=code)),
        )
    return found


def _seat(position: Position, stay: Installation | None, servo_types: Mapping[str, str]) -> PresentSeat:
    place = (position.code, position.function.value, position.side or "", position.channel)
    if stay is None:
        return PresentSeat(*place)
    return PresentSeat(*place, stay.servo, servo_types[stay.servo], stay.since_on.isoformat())
