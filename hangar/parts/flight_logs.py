"""What is kept of a logger's file: its figures, each pack's resistance, and a thinned trace to draw."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.fields import Children, In, Label, Link, Record, Within

OF_LOG = Link("flight-log", ("aircraft", "flown_on", "number"), owned=True)
TRACE_MOST = 12_000
"""Letters of a kept trace; 600 points need about half of them."""


@dataclass(frozen=True, kw_only=True)
class FlightLogPack(Record):
    """What a flight log told of one pack: a reading of its resistance one second after a step of current.

    ``path_mohm`` has switch, plugs and leads up to where the volts were read; ``pack_mohm`` is the whole pack
    at its own temperature, the leads of the records taken off.
    """

    KIND: ClassVar[str] = "flight-log-pack"
    TITLE: ClassVar[str] = "pack in a flight log"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "flown_on", "number", "pack")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_LOG, Link("pack", ("pack",), owned=True))

    aircraft: str
    flown_on: date
    number: Annotated[int, Within(1, 200), Label("log of the day")] = 1
    pack: str
    at_pack: Annotated[bool, Label("volts read at the pack's own plug")] = False
    path_mohm: Annotated[float | None, Within(0, 20000), Label("resistance with leads"), In("mohm")] = None
    path_low_mohm: Annotated[float | None, Within(0, 20000), In("mohm")] = None
    path_high_mohm: Annotated[float | None, Within(0, 20000), In("mohm")] = None
    pack_mohm: Annotated[float | None, Within(0, 20000), Label("resistance of the pack"), In("mohm")] = None
    pack_low_mohm: Annotated[float | None, Within(0, 20000), In("mohm")] = None
    pack_high_mohm: Annotated[float | None, Within(0, 20000), In("mohm")] = None
    used_mah: Annotated[float | None, Within(0, 100000), Label("charge used"), In("mAh")] = None
    pack_c: Annotated[float | None, Within(-30, 60), Label("temperature of the pack"), In("C")] = None


@dataclass(frozen=True, kw_only=True)
class FlightLog(Record):
    """The summary of a logger's file; the file itself is not kept, ``check_sum`` tells it from another.

    ``events`` and ``mapping`` are plain objects as text: what happened, and what each column was taken for.
    """

    KIND: ClassVar[str] = "flight-log"
    TITLE: ClassVar[str] = "flight log"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "flown_on", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    flown_on: date
    number: Annotated[int, Within(1, 200), Label("log of the day")] = 1
    flight: Annotated[int | None, Within(1, 200), Label("flight of the day")] = None
    file_name: Annotated[str, Label("file")]
    check_sum: Annotated[str, Label("check sum", "tells the logger's file from another")]
    minutes_min: Annotated[float, Within(0, 6000), Label("minutes with the radio on"), In("min")]
    rate_hz: Annotated[float, Within(0.001, 10000), Label("rows a second"), In("Hz")]
    minimum_v: Annotated[float | None, Within(0, 70), Label("lowest bus volts"), In("V")] = None
    mean_a: Annotated[float | None, Within(-100, 1000), Label("mean current"), In("A")] = None
    peak_a: Annotated[float | None, Within(-100, 1000), Label("highest current"), In("A")] = None
    used_mah: Annotated[float | None, Within(-1000, 1000000), Label("charge used"), In("mAh")] = None
    pack_c: Annotated[float | None, Within(-30, 60), Label("temperature of the packs"), In("C")] = None
    events: Annotated[str, Label("what happened")] = "[]"
    mapping: Annotated[str, Label("columns")] = "{}"
    headings: Annotated[str | None, Label("line of headings")] = None
    packs: Annotated[tuple[FlightLogPack, ...], Children("flight-log-pack")] = ()


@dataclass(frozen=True, kw_only=True)
class FlightLogTrace(Record):
    """The course of a flight log in at most 600 points, packed into text."""

    KIND: ClassVar[str] = "flight-log-trace"
    TITLE: ClassVar[str] = "trace of a flight log"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "flown_on", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_LOG,)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        (f"length(trace) <= {TRACE_MOST}", f"a trace holds at most {TRACE_MOST} letters"),
    )

    aircraft: str
    flown_on: date
    number: Annotated[int, Within(1, 200), Label("log of the day")] = 1
    trace: str
