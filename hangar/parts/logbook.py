"""Tests, checks, flights, inspections and snags."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.choices import Duty, InspectionKind, Severity
from hangar.parts.controls import AT_POSITION
from hangar.parts.fields import In, KeptText, Label, Link, Record, Within

OF_PACK = Link("pack", ("pack",), owned=True)


@dataclass(frozen=True, kw_only=True)
class LoadTest(Record):
    """A pack's volts at rest and under a known current."""

    KIND: ClassVar[str] = "load-test"
    TITLE: ClassVar[str] = "load test"
    KEY: ClassVar[tuple[str, ...]] = ("pack", "tested_at")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_PACK,)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        ("loaded_v <= rest_v", "the volts under load must not exceed the volts at rest"),
        ("second_load_a IS NULL OR second_load_a > load_a", "the second load must be the heavier one"),
        (
            "second_v IS NULL OR second_v <= loaded_v",
            "the volts under the second load must not exceed those under the first",
        ),
    )

    pack: str
    tested_at: datetime
    aircraft: str | None = None
    load_a: Annotated[float, Within(0.05, 60), Label("load"), In("A")]
    load_s: Annotated[float, Within(1, 120), Label("time under load"), In("s")] = 10.0
    rest_v: Annotated[float, Within(0, 70), Label("volts at rest"), In("V")]
    loaded_v: Annotated[float, Within(0, 70), Label("volts under load"), In("V")]
    second_load_a: Annotated[
        float | None, Within(0.05, 60), Label("second load", "heavier, at once after the first"), In("A")
    ] = None
    second_v: Annotated[float | None, Within(0, 70), Label("volts under the second load"), In("V")] = None
    ambient_c: Annotated[float | None, Within(-30, 60), Label("air temperature"), In("C")] = None
    pack_c: Annotated[float | None, Within(-30, 80), Label("pack temperature"), In("C")] = None
    minutes_since_charge: Annotated[
        float | None, Within(0, 100_000), Label("time since the charge"), In("min")
    ] = None
    tester: Annotated[str | None, Label("load tester")] = None
    by: Annotated[str | None, Label("done by")] = None


@dataclass(frozen=True, kw_only=True)
class CapacityTest(Record):
    """A full discharge of a pack, or a resistance reading."""

    KIND: ClassVar[str] = "capacity-test"
    TITLE: ClassVar[str] = "capacity test"
    KEY: ClassVar[tuple[str, ...]] = ("pack", "tested_on")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_PACK,)

    pack: str
    tested_on: date
    discharge_a: Annotated[float | None, Within(0.01, 100), Label("discharge current"), In("A")] = None
    capacity_mah: Annotated[float | None, Within(1, 30000), In("mAh")] = None
    end_cell_v: Annotated[float | None, Within(0.5, 4), Label("end volts per cell"), In("V")] = None
    cell_mohm: Annotated[float | None, Within(0.3, 1000), Label("resistance per cell"), In("mohm")] = None
    ambient_c: Annotated[float | None, Within(-30, 60), Label("air temperature"), In("C")] = None


@dataclass(frozen=True, kw_only=True)
class CellReading(Record):
    """One cell's volts on one day."""

    KIND: ClassVar[str] = "cell-reading"
    TITLE: ClassVar[str] = "cell reading"
    KEY: ClassVar[tuple[str, ...]] = ("pack", "read_on", "cell")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_PACK,)

    pack: str
    read_on: date
    cell: Annotated[int, Within(1, 14)]
    cell_v: Annotated[float, Within(0, 4.4), Label("volts"), In("V")]
    loaded: bool = False


@dataclass(frozen=True, kw_only=True)
class Charge(Record):
    """A charge that was given or is planned."""

    KIND: ClassVar[str] = "charge"
    TITLE: ClassVar[str] = "charge"
    KEY: ClassVar[tuple[str, ...]] = ("pack", "charged_at")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_PACK,)

    pack: str
    charged_at: datetime
    mode: Annotated[str | None, Label("charger mode", "chemistry the charger is set to")] = None
    charge_a: Annotated[float | None, Within(0.01, 100), Label("charge current"), In("A")] = None
    end_v: Annotated[float | None, Within(0, 70), Label("end volts"), In("V")] = None
    put_back_mah: Annotated[float | None, Within(0, 40000), In("mAh")] = None
    in_model: Annotated[bool | None, Label("charged in the aircraft")] = None


@dataclass(frozen=True, kw_only=True)
class BenchCheck(Record):
    """Readings at one position on the bench."""

    KIND: ClassVar[str] = "bench-check"
    TITLE: ClassVar[str] = "bench check"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "position", "checked_at")
    LINKS: ClassVar[tuple[Link, ...]] = (AT_POSITION,)

    aircraft: str
    position: str
    checked_at: datetime
    bus_v: Annotated[float | None, Within(2, 15), Label("volts at the servo"), In("V")] = None
    throw_up_deg: Annotated[float | None, Within(0, 90), In("deg")] = None
    throw_down_deg: Annotated[float | None, Within(0, 90), In("deg")] = None
    neutral_ma: Annotated[float | None, Within(0, 40000), Label("current at neutral"), In("mA")] = None
    moving_ma: Annotated[float | None, Within(0, 40000), Label("current moving"), In("mA")] = None
    end_a_ma: Annotated[float | None, Within(0, 40000), Label("current at end A"), In("mA")] = None
    end_b_ma: Annotated[float | None, Within(0, 40000), Label("current at end B"), In("mA")] = None
    corner_ma: Annotated[
        float | None, Within(0, 100000), Label("current at worst swashplate corner"), In("mA")
    ] = None
    ganged_ma: Annotated[
        float | None, Within(0, 40000), Label("current of both servos at neutral"), In("mA")
    ] = None
    stop_deg: Annotated[float | None, Within(0, 90), Label("mechanical stop met at"), In("deg")] = None
    play_deg: Annotated[float | None, Within(0, 15), In("deg")] = None
    jitter: bool | None = None
    direction_ok: bool | None = None
    centre_ok: bool | None = None
    low_rate_ma: Annotated[float | None, Within(0, 40000), Label("current at an end, low rate"), In("mA")] = (
        None
    )
    case_c: Annotated[float | None, Within(-30, 200), Label("heat of the servo case"), In("C")] = None
    by: Annotated[str | None, Label("done by")] = None


@dataclass(frozen=True, kw_only=True)
class SupplyCheck(Record):
    """Readings of the whole supply on the bench: at rest, all together, and stirred."""

    KIND: ClassVar[str] = "supply-check"
    TITLE: ClassVar[str] = "supply check"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "checked_at")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    checked_at: datetime
    idle_a: Annotated[float | None, Within(0, 500), Label("current of all servos at rest"), In("A")] = None
    peak_a: Annotated[float | None, Within(0, 1000), Label("highest current of all"), In("A")] = None
    lowest_v: Annotated[float | None, Within(0, 15), Label("lowest bus volts, sticks stirred"), In("V")] = (
        None
    )
    by: Annotated[str | None, Label("done by")] = None


@dataclass(frozen=True, kw_only=True)
class PathCheck(Record):
    """Readings at one power path on the bench."""

    KIND: ClassVar[str] = "path-check"
    TITLE: ClassVar[str] = "power path check"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "feed", "checked_at")
    LINKS: ClassVar[tuple[Link, ...]] = (Link("feed", ("aircraft", "feed"), owned=True),)

    aircraft: str
    feed: str
    checked_at: datetime
    rest_v: Annotated[float | None, Within(0, 70), Label("pack at rest"), In("V")] = None
    out_v: Annotated[float | None, Within(0, 15), Label("regulator without load"), In("V")] = None
    alone_v: Annotated[float | None, Within(0, 15), Label("lowest bus volts on it alone"), In("V")] = None
    regulator_c: Annotated[float | None, Within(-30, 200), Label("heat of the regulator"), In("C")] = None
    by: Annotated[str | None, Label("done by")] = None


@dataclass(frozen=True, kw_only=True)
class RangeCheck(Record):
    """A proof of control at a stated distance with reduced power."""

    KIND: ClassVar[str] = "range-check"
    TITLE: ClassVar[str] = "range check"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "checked_on")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    checked_on: date
    method: str | None = None
    distance_m: Annotated[float | None, Within(1, 5000), In("m")] = None
    motor_on: bool | None = None
    passed: bool = True
    site: Annotated[str | None, Label("flying field")] = None


@dataclass(frozen=True, kw_only=True)
class Flight(Record):
    """One flight."""

    KIND: ClassVar[str] = "flight"
    TITLE: ClassVar[str] = "flight"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "flown_on", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    flown_on: date
    number: Annotated[int, Within(1, 200), Label("flight of the day")] = 1
    pilot: str | None = None
    minutes_min: Annotated[float, Within(0.2, 600), Label("minutes"), In("min")]
    landings: Annotated[int | None, Within(0, 100)] = None
    packs: Annotated[str | None, Label("packs used", "tags, comma between")] = None
    put_back_mah: Annotated[float | None, Within(0, 40000), Label("put back after"), In("mAh")] = None
    lowest_v: Annotated[float | None, Within(0, 15), Label("lowest bus volts by telemetry"), In("V")] = None
    wind_m_s: Annotated[float | None, Within(0, 40), In("m/s")] = None
    hard_landing: bool | None = None
    crashed: bool | None = None
    remarks: Annotated[str | None, KeptText()] = None


@dataclass(frozen=True, kw_only=True)
class Inspection(Record):
    """A look over the aircraft and when the next one is due."""

    KIND: ClassVar[str] = "inspection"
    TITLE: ClassVar[str] = "inspection"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "inspected_on", "kind")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    inspected_on: date
    kind: InspectionKind
    passed: bool | None = None
    findings: Annotated[str | None, KeptText()] = None
    by: Annotated[str | None, Label("done by")] = None
    next_due_on: date | None = None


@dataclass(frozen=True, kw_only=True)
class Snag(Record):
    """A defect found, until it is closed."""

    KIND: ClassVar[str] = "snag"
    TITLE: ClassVar[str] = "snag"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "raised_on", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    raised_on: date
    number: Annotated[int, Within(1, 100)] = 1
    text: Annotated[str, KeptText()]
    part: str | None = None
    severity: Severity = Severity.NOTE
    action: str | None = None
    closed_on: date | None = None


@dataclass(frozen=True, kw_only=True)
class Acceptance(Record):
    """A finding accepted in writing until a date.

    ``inputs`` is the fingerprint of what the finding rested on; when that changes it returns.
    """

    KIND: ClassVar[str] = "acceptance"
    TITLE: ClassVar[str] = "acceptance"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "rule", "about")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    rule: str
    about: Annotated[str, Label("about", "tags or positions, comma between")] = "-"
    until_on: Annotated[date, Label("until")]
    reason: str
    by: Annotated[str | None, Label("accepted by")] = None
    inputs: str | None = None


@dataclass(frozen=True, kw_only=True)
class PutOff(Record):
    """A thing that is due, put off to a later day with a reason.

    It stays due and is told so; once it is done, ``done_on`` differs and this counts no more.
    """

    KIND: ClassVar[str] = "put-off"
    TITLE: ClassVar[str] = "duty put off"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "duty", "about")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    duty: Duty
    about: Annotated[str, Label("about", "tag of the pack, channel, kind of inspection, or the aircraft")]
    until_on: Annotated[date, Label("put off to")]
    reason: str
    put_off_on: Annotated[date, Label("put off on")]
    done_on: Annotated[date | None, Label("last done", "when it was put off")] = None
    by: Annotated[str | None, Label("put off by")] = None
