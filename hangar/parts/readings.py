"""What is read on the bench and in the air beside tests and checks, and readings that are set aside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.fields import In, Label, Link, Record, Within, key_of

OF_SERVO = Link("servo", ("servo",), owned=True)


@dataclass(frozen=True, kw_only=True)
class ServoBench(Record):
    """A servo in the vice: what it draws, its slack, and how far it gives under known weights.

    A weight hangs on the arm on one side, then on the other; half the way of the pointer between the two is
    what the servo gives, free of friction and of where it stands.
    """

    KIND: ClassVar[str] = "servo-bench"
    TITLE: ClassVar[str] = "servo on the bench"
    KEY: ClassVar[tuple[str, ...]] = ("servo", "tested_at")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_SERVO,)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        (
            "second_mass_g IS NULL OR second_mass_g > first_mass_g",
            "the second weight must be heavier",
        ),
    )

    servo: str
    tested_at: datetime
    at_v: Annotated[float, Within(2, 15), Label("volts at the servo"), In("V")]
    idle_ma: Annotated[float | None, Within(0, 2000), Label("current at rest"), In("mA")] = None
    moving_ma: Annotated[float | None, Within(0, 20000), Label("current moving, no load"), In("mA")] = None
    stalled_ma: Annotated[
        float | None, Within(10, 40000), Label("current with the arm held", "one second, no longer"), In("mA")
    ] = None
    slack_deg: Annotated[
        float | None, Within(0, 15), Label("slack, power off", "light finger, both ways"), In("deg")
    ] = None
    radius_mm: Annotated[float | None, Within(3, 80), Label("weight from the middle"), In("mm")] = None
    first_mass_g: Annotated[float | None, Within(1, 20000), Label("first weight"), In("g")] = None
    first_one_deg: Annotated[
        float | None, Within(-90, 90), Label("pointer, first weight on one side"), In("deg")
    ] = None
    first_other_deg: Annotated[
        float | None, Within(-90, 90), Label("pointer, first weight on the other side"), In("deg")
    ] = None
    second_mass_g: Annotated[float | None, Within(1, 40000), Label("second weight"), In("g")] = None
    second_one_deg: Annotated[
        float | None, Within(-90, 90), Label("pointer, second weight on one side"), In("deg")
    ] = None
    second_other_deg: Annotated[
        float | None, Within(-90, 90), Label("pointer, second weight on the other side"), In("deg")
    ] = None
    by: Annotated[str | None, Label("done by")] = None


@dataclass(frozen=True, kw_only=True)
class ServoTiming(Record):
    """How long a servo takes for an angle, from pictures that were counted."""

    KIND: ClassVar[str] = "servo-timing"
    TITLE: ClassVar[str] = "timing of a servo"
    KEY: ClassVar[tuple[str, ...]] = ("servo", "timed_at")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_SERVO,)

    servo: str
    timed_at: datetime
    at_v: Annotated[float, Within(2, 15), Label("volts while moving"), In("V")]
    angle_deg: Annotated[float, Within(20, 180), Label("angle of one sweep"), In("deg")] = 60.0
    sweep_s: Annotated[float, Within(0.01, 10), Label("time of one sweep, mean"), In("s")]
    sweeps: Annotated[int, Within(1, 100)] = 1
    pictures_hz: Annotated[
        float | None, Within(5, 10000), Label("pictures a second", "of the film that was counted"), In("Hz")
    ] = None
    by: Annotated[str | None, Label("done by")] = None


@dataclass(frozen=True, kw_only=True)
class RemarkOnSpeed(Record):
    """What a pilot noticed of a surface at a speed: it runs out, or it still holds."""

    KIND: ClassVar[str] = "remark-on-speed"
    TITLE: ClassVar[str] = "remark on speed"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "surface", "noted_on", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT, Link("surface", ("aircraft", "surface"), owned=True))

    aircraft: str
    surface: str
    noted_on: date
    number: Annotated[int, Within(1, 100)] = 1
    speed_m_s: Annotated[float, Within(2, 200), Label("speed"), In("m/s")]
    runs_out: Annotated[bool, Label("runs out", "no means that it still holds")]
    by: Annotated[str | None, Label("noticed by")] = None


@dataclass(frozen=True, kw_only=True)
class Tester(Record):
    """A load tester, with the resistance of its own lead and plugs where that was measured."""

    KIND: ClassVar[str] = "tester"
    TITLE: ClassVar[str] = "load tester"
    KEY: ClassVar[tuple[str, ...]] = ("name",)

    name: str
    lead_mohm: Annotated[
        float | None,
        Within(0, 500),
        Label("lead and plugs", "volts at the pack's plug less volts it shows, over the current"),
        In("mohm"),
    ] = None
    measured_on: date | None = None
    meter_mv: Annotated[float | None, Within(0.1, 500), Label("error of one reading"), In("mV")] = None


@dataclass(frozen=True, kw_only=True)
class SetAside(Record):
    """A reading that counts no more; it stays on record and in the picture, greyed."""

    KIND: ClassVar[str] = "set-aside"
    TITLE: ClassVar[str] = "reading set aside"
    KEY: ClassVar[tuple[str, ...]] = ("kind", "record")

    kind: Annotated[str, Label("kind of record")]
    record: Annotated[str, Label("record", "its key, parts joined by a stroke")]
    since_on: Annotated[date, Label("since")]
    reason: Annotated[str | None, Label("why")] = None
    by: Annotated[str | None, Label("set aside by")] = None


def place_of(record: Record) -> tuple[str, str]:
    """Kind and key of a record in words, as :class:`SetAside` names it."""
    return record.KIND, "|".join(str(part) for part in key_of(record))


def is_aside(record: Record, aside: Iterable[SetAside]) -> bool:
    """Whether a reading was set aside."""
    place = place_of(record)
    return any((set_aside.kind, set_aside.record) == place for set_aside in aside)
