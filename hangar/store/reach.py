"""What an edit touched: kinds of records, and the aircraft whose trees read differently."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import ColumnElement
from sqlmodel import select

from hangar.parts import (
    KIND_BY_NAME,
    Airframe,
    CapacityTest,
    CellReading,
    Charge,
    FieldOrigin,
    FlightLogPack,
    Installation,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    Plan,
    PlanLine,
    PlanProof,
    Prediction,
    Record,
    Regulator,
    RegulatorType,
    Servo,
    ServoBench,
    ServoRating,
    ServoTiming,
    ServoType,
    SetAside,
    Switch,
    SwitchType,
    Tester,
)
from hangar.store.faults import links_to
from hangar.store.journal import Step
from hangar.store.record_rows import Rows
from hangar.store.tables import ROW_OF

_MANY = 200
"""From this many parts on, every aircraft counts as touched; asking for each would be slower."""


class Reach(frozenset[str]):
    """The KIND names an edit changed; ``aircraft`` has the codes of the aircraft it reached."""

    aircraft: frozenset[str]

    def __new__(cls, kinds: Iterable[str] = (), aircraft: Iterable[str] = ()) -> Reach:
        made = super().__new__(cls, kinds)
        made.aircraft = frozenset(aircraft)
        return made

    def __repr__(self) -> str:
        return f"Reach({sorted(self)}, aircraft={sorted(self.aircraft)})"


_NAMED: dict[type[Record], tuple[str, str]] = {
    Installation: ("servo", "servo"),
    Servo: ("tag", "servo"),
    ServoBench: ("servo", "servo"),
    ServoTiming: ("servo", "servo"),
    ServoType: ("code", "servo-type"),
    ServoRating: ("servo_type", "servo-type"),
    PackFit: ("pack", "pack"),
    Pack: ("tag", "pack"),
    LoadTest: ("pack", "pack"),
    CapacityTest: ("pack", "pack"),
    CellReading: ("pack", "pack"),
    Charge: ("pack", "pack"),
    FlightLogPack: ("pack", "pack"),
    PackType: ("code", "pack-type"),
    RegulatorType: ("code", "regulator-type"),
    SwitchType: ("code", "switch-type"),
    PlanLine: ("plan", "plan"),
    PlanProof: ("plan", "plan"),
    Prediction: ("plan", "plan"),
}


def touched_by(stored: Rows, steps: Iterable[Step]) -> Reach:
    """What these steps touched, asked while they stand."""
    kinds: set[str] = set()
    aircraft: set[str] = set()
    parts: dict[str, set[str]] = {}
    everywhere = False
    for step in steps:
        everywhere = everywhere or step.kind in (Tester, SetAside)
        kinds.add(step.kind.KIND)
        if step.renames:
            kinds |= _naming(step.kind)
        aircraft |= step.aircraft()
        if step.kind is FieldOrigin:
            everywhere = _add_origin(step, aircraft, parts) or everywhere
        if step.kind in _NAMED:
            field, part = _NAMED[step.kind]
            parts.setdefault(part, set()).update(
                str(row[field]) for row in (step.before, step.after) if row is not None
            )
    if everywhere:
        aircraft |= {str(code) for code in stored.session.exec(select(ROW_OF[Airframe].code))}
    for part, names in parts.items():
        aircraft |= _aircraft_with(stored, part, names)
    return Reach(kinds, aircraft)


def _add_origin(step: Step, aircraft: set[str], parts: dict[str, set[str]]) -> bool:
    """Add the aircraft, or the part, of an unconfirmed field; True where every aircraft may be meant."""
    row = step.after or step.before or {}
    kind, first = KIND_BY_NAME.get(str(row.get("kind"))), str(row.get("record")).partition("|")[0]
    if kind is None:
        return True
    if kind is Airframe or kind.KEY[0] == "aircraft":
        aircraft.add(first)
        return False
    field, part = _NAMED.get(kind, ("", ""))
    if field != kind.KEY[0]:
        return True
    parts.setdefault(part, set()).add(first)
    return False


def _naming(kind: type[Record]) -> set[str]:
    """The kinds that name this one, directly or through others: a new key reaches them all."""
    codes: set[str] = set()
    waiting = [kind]
    while waiting:
        for other, _, _ in links_to(waiting.pop()):
            if other.KIND not in codes:
                codes.add(other.KIND)
                waiting.append(other)
    return codes


def _aircraft_with(stored: Rows, part: str, names: set[str]) -> set[str]:
    if len(names) > _MANY:
        statement = select(ROW_OF[Airframe].code)
    else:
        holder, condition = _where(part, sorted(names))
        statement = select(ROW_OF[holder].aircraft).where(condition).distinct()
    return {str(code) for code in stored.session.exec(statement)}


def _where(part: str, names: list[str]) -> tuple[type[Record], ColumnElement[bool]]:
    stays, servos = ROW_OF[Installation], ROW_OF[Servo]
    fits, packs = ROW_OF[PackFit], ROW_OF[Pack]
    if part == "servo":
        return Installation, stays.until_on.is_(None) & stays.servo.in_(names)
    if part == "servo-type":
        tags = select(servos.tag).where(servos.servo_type.in_(names))
        return Installation, stays.until_on.is_(None) & stays.servo.in_(tags)
    if part == "pack":
        return PackFit, fits.until_on.is_(None) & fits.pack.in_(names)
    if part == "pack-type":
        tags = select(packs.tag).where(packs.pack_type.in_(names))
        return PackFit, fits.until_on.is_(None) & fits.pack.in_(tags)
    if part == "plan":
        return Plan, ROW_OF[Plan].code.in_(names)
    if part == "regulator-type":
        return Regulator, ROW_OF[Regulator].regulator_type.in_(names)
    return Switch, ROW_OF[Switch].switch_type.in_(names)
