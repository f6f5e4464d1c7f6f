"""Receivers, stabilisers, other devices on the bus, and channels."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.choices import AntennaRoute, FailsafeAction, Function, MaxMeans
from hangar.parts.fields import In, Label, Link, Record, Within

_VOLTS = Within(2.5, 15)
_MIN_BELOW_MAX = (
    "supply_min_v IS NULL OR supply_max_v IS NULL OR supply_min_v < supply_max_v",
    "the lowest supply volts must be below the highest",
)


@dataclass(frozen=True, kw_only=True)
class Receiver(Record):
    """A radio receiver in one aircraft."""

    KIND: ClassVar[str] = "receiver"
    TITLE: ClassVar[str] = "receiver"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (_MIN_BELOW_MAX,)

    aircraft: str
    code: str = "RX"
    maker: str | None = None
    model_type: Annotated[str | None, Label("type")] = None
    serial: str | None = None
    band_mhz: Annotated[float | None, Within(26, 6000), In("MHz")] = None
    channels: Annotated[int | None, Within(1, 32)] = None
    supply_min_v: Annotated[float | None, _VOLTS, Label("lowest volts"), In("V")] = None
    supply_max_v: Annotated[float | None, _VOLTS, Label("highest volts"), In("V")] = None
    max_means: Annotated[MaxMeans, Label("highest volts mean")] = MaxMeans.NOT_STATED
    idle_ma: Annotated[float | None, Within(1, 500), Label("idle current"), In("mA")] = None
    bus_limit_a: Annotated[float | None, Within(1, 60), Label("bus current limit"), In("A")] = None
    frame_ms: Annotated[float | None, Within(2, 30), Label("frame period"), In("ms")] = None
    pulse_us: Annotated[float | None, Within(600, 2200), Label("pulse centre"), In("us")] = 1520.0
    failsafe: Annotated[FailsafeAction | None, Label("failsafe kind")] = None
    antenna_count: Annotated[int | None, Within(0, 8), Label("number of antennas")] = None
    antenna_route: AntennaRoute | None = None


@dataclass(frozen=True, kw_only=True)
class Stabiliser(Record):
    """A gyro or flybarless unit; servos that run through it name it."""

    KIND: ClassVar[str] = "stabiliser"
    TITLE: ClassVar[str] = "gyro"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (_MIN_BELOW_MAX,)

    aircraft: str
    code: str
    maker: str | None = None
    model_type: Annotated[str | None, Label("type")] = None
    supply_min_v: Annotated[float | None, _VOLTS, Label("lowest volts"), In("V")] = None
    supply_max_v: Annotated[float | None, _VOLTS, Label("highest volts"), In("V")] = None
    max_means: Annotated[MaxMeans, Label("highest volts mean")] = MaxMeans.NOT_STATED
    idle_ma: Annotated[float | None, Within(1, 500), Label("idle current"), In("mA")] = None
    pulse_us: Annotated[float | None, Within(600, 2200), Label("tail pulse set"), In("us")] = None
    rate_hz: Annotated[float | None, Within(30, 700), Label("tail rate set"), In("Hz")] = None
    cyclic_pulse_us: Annotated[float | None, Within(600, 2200), Label("cyclic pulse set"), In("us")] = None
    cyclic_rate_hz: Annotated[float | None, Within(30, 700), Label("cyclic rate set"), In("Hz")] = None


@dataclass(frozen=True, kw_only=True)
class Accessory(Record):
    """Another device on the bus: sensor, ignition cut-out, door box."""

    KIND: ClassVar[str] = "accessory"
    TITLE: ClassVar[str] = "device"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    code: str
    name: str
    supply_max_v: Annotated[float | None, _VOLTS, Label("highest volts"), In("V")] = None
    idle_ma: Annotated[float | None, Within(0, 2000), Label("idle current"), In("mA")] = None


@dataclass(frozen=True, kw_only=True)
class Channel(Record):
    """One output of the receiver or stabiliser; its number is unique on its port."""

    KIND: ClassVar[str] = "channel"
    TITLE: ClassVar[str] = "channel"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "port", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    port: Annotated[str, Label("output port")] = "main"
    number: Annotated[int, Within(1, 32)]
    function: Function
    y_lead: Annotated[bool, Label("on a Y lead")] = False
    reverse: bool | None = None
    centre_us: Annotated[float | None, Within(600, 2400), In("us")] = None
    travel_low_pct: Annotated[float | None, Within(0, 150), In("%")] = None
    travel_high_pct: Annotated[float | None, Within(0, 150), In("%")] = None
    rate_high_pct: Annotated[float | None, Within(0, 150), Label("high rate"), In("%")] = None
    rate_low_pct: Annotated[float | None, Within(0, 150), Label("low rate"), In("%")] = None
    expo_pct: Annotated[float | None, Within(-100, 100), In("%")] = None
    rate_hz: Annotated[float | None, Within(30, 700), Label("output rate"), In("Hz")] = None
    pulse_us: Annotated[float | None, Within(600, 2200), Label("output pulse centre"), In("us")] = None
    failsafe: FailsafeAction | None = None
    failsafe_us: Annotated[float | None, Within(600, 2400), Label("failsafe position"), In("us")] = None
    failsafe_proved_on: date | None = None
    mixed_with: str | None = None
    stick: Annotated[str | None, Label("stick and direction words")] = None
