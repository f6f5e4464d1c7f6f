"""Frozen nouns of the fleet: every record kind, and one aircraft as a tree of them."""

from __future__ import annotations

from hangar.parts.aircraft import Aircraft, FedPack, PowerPath, ServoFit
from hangar.parts.airframe import Airframe, Rotor
from hangar.parts.controls import Lead, Linkage, Position, Surface
from hangar.parts.fields import Record
from hangar.parts.library import Library
from hangar.parts.logbook import (
    Acceptance,
    BenchCheck,
    CapacityTest,
    CellReading,
    Charge,
    Flight,
    Inspection,
    LoadTest,
    RangeCheck,
    Snag,
)
from hangar.parts.papers import Attachment, PaperPlace
from hangar.parts.planned import after_plan, with_servo_type
from hangar.parts.power import (
    Feed,
    Pack,
    PackFit,
    PackType,
    Regulator,
    RegulatorType,
    Switch,
    SwitchType,
)
from hangar.parts.radio import Accessory, Channel, Receiver, Stabiliser
from hangar.parts.servos import Arm, Installation, Servo, ServoRating, ServoType
from hangar.parts.workshop import Plan, PlanLine, Setting, StockItem

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
    RangeCheck,
    Flight,
    Inspection,
    Snag,
    Acceptance,
    Plan,
    PlanLine,
    StockItem,
    Attachment,
    Setting,
)
"""Every record kind, each after the kinds it names."""

KIND_BY_NAME: dict[str, type[Record]] = {kind.KIND: kind for kind in RECORD_KINDS}

__all__ = [
    "KIND_BY_NAME",
    "RECORD_KINDS",
    "Acceptance",
    "Accessory",
    "Aircraft",
    "Airframe",
    "Arm",
    "Attachment",
    "BenchCheck",
    "CapacityTest",
    "CellReading",
    "Channel",
    "Charge",
    "FedPack",
    "Feed",
    "Flight",
    "Inspection",
    "Installation",
    "Lead",
    "Library",
    "Linkage",
    "LoadTest",
    "Pack",
    "PackFit",
    "PackType",
    "PaperPlace",
    "Plan",
    "PlanLine",
    "Position",
    "PowerPath",
    "RangeCheck",
    "Receiver",
    "Record",
    "Regulator",
    "RegulatorType",
    "Rotor",
    "Servo",
    "ServoFit",
    "ServoRating",
    "ServoType",
    "Setting",
    "Snag",
    "Stabiliser",
    "StockItem",
    "Surface",
    "Switch",
    "SwitchType",
    "after_plan",
    "with_servo_type",
]
