"""Every kind of record there is, in the order in which they may be written."""

from __future__ import annotations

from hangar.parts.airframe import Airframe, Rotor
from hangar.parts.controls import Lead, Linkage, Position, Surface
from hangar.parts.fields import Record
from hangar.parts.flight_logs import FlightLog, FlightLogPack, FlightLogTrace
from hangar.parts.logbook import (
    Acceptance,
    BenchCheck,
    CapacityTest,
    CellReading,
    Charge,
    Flight,
    Inspection,
    LoadTest,
    PathCheck,
    PutOff,
    RangeCheck,
    Snag,
    SupplyCheck,
)
from hangar.parts.papers import Attachment
from hangar.parts.power import Feed, Pack, PackFit, PackType, Regulator, RegulatorType, Switch, SwitchType
from hangar.parts.radio import Accessory, Channel, Receiver, Stabiliser
from hangar.parts.readings import RemarkOnSpeed, ServoBench, ServoTiming, SetAside, Tester
from hangar.parts.servos import Arm, Installation, Servo, ServoRating, ServoType
from hangar.parts.sources import FieldOrigin, SheetSource
from hangar.parts.workshop import Plan, PlanLine, PlanProof, Prediction, Setting, ShoppingTick, StockItem

RECORD_KINDS: tuple[type[Record], ...] = (
    ServoType,
    ServoRating,
    Arm,
    PackType,
    RegulatorType,
    SwitchType,
    Airframe,
    Rotor,
    Receiver,
    Stabiliser,
    Accessory,
    Channel,
    Surface,
    Position,
    Linkage,
    Lead,
    Servo,
    Installation,
    Pack,
    Regulator,
    Switch,
    Feed,
    PackFit,
    LoadTest,
    CapacityTest,
    CellReading,
    Charge,
    BenchCheck,
    SupplyCheck,
    PathCheck,
    ServoBench,
    ServoTiming,
    RemarkOnSpeed,
    Tester,
    SetAside,
    RangeCheck,
    Flight,
    FlightLog,
    FlightLogPack,
    FlightLogTrace,
    Inspection,
    Snag,
    Acceptance,
    PutOff,
    Plan,
    PlanLine,
    PlanProof,
    Prediction,
    StockItem,
    ShoppingTick,
    Attachment,
    Setting,
    SheetSource,
    FieldOrigin,
)
"""Every record kind, each after the kinds it names."""

KIND_BY_NAME: dict[str, type[Record]] = {kind.KIND: kind for kind in RECORD_KINDS}
