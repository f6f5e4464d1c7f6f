"""Servo types, single servos, their arms, and where each one has been."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.choices import Bearing, Drive, Gear, GearCondition, MaxMeans, ServoState
from hangar.parts.fields import Children, In, Inexact, Label, Link, Record, Within, Year


@dataclass(frozen=True, kw_only=True)
class ServoRating(Record):
    """One row of a servo type's rating: what it gives at one voltage."""

    KIND: ClassVar[str] = "servo-rating"
    TITLE: ClassVar[str] = "servo rating"
    KEY: ClassVar[tuple[str, ...]] = ("servo_type", "rated_v")
    LINKS: ClassVar[tuple[Link, ...]] = (Link("servo-type", ("servo_type",), owned=True),)

    servo_type: str
    rated_v: Annotated[float, Within(2.4, 15), Label("volts"), In("V")]
    torque_nm: Annotated[float | None, Within(0.01, 30), Label("stall torque"), In("N m")] = None
    transit_s: Annotated[float | None, Within(0.02, 1.5), Label("time for 60°"), In("s/60deg")] = None
    stall_a: Annotated[float | None, Within(0.05, 40), Label("stall current"), In("A")] = None


@dataclass(frozen=True, kw_only=True)
class ServoType(Record):
    """A maker's servo type with its ratings."""

    KIND: ClassVar[str] = "servo-type"
    TITLE: ClassVar[str] = "servo type"
    KEY: ClassVar[tuple[str, ...]] = ("code",)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        ("supply_min_v IS NULL OR supply_max_v IS NULL OR supply_min_v < supply_max_v",
         "the lowest supply volts must be below the highest"),
    )  # fmt: skip

    code: Annotated[str, Label("type", "the name the trade knows it by, unique in the library")]
    maker: str | None = None
    drive: Annotated[Drive | None, Label("kind")] = None
    pulse_us: Annotated[float, Within(600, 2200), Label("pulse centre"), In("us")] = 1520.0
    max_rate_hz: Annotated[float | None, Within(30, 700), Label("greatest frame rate"), In("Hz")] = None
    supply_min_v: Annotated[float | None, Within(2.4, 15), Label("lowest volts"), In("V")] = None
    supply_max_v: Annotated[float | None, Within(2.4, 15), Label("highest volts"), In("V")] = None
    max_means: Annotated[MaxMeans, Label("highest volts mean")] = MaxMeans.NOT_STATED
    idle_ma: Annotated[float | None, Within(1, 300), Label("idle current"), In("mA")] = None
    run_a: Annotated[float | None, Within(0.02, 3), Label("running current, no load"), In("A")] = None
    dead_band_us: Annotated[float | None, Within(0.3, 20), In("us")] = None
    case_length_mm: Annotated[float | None, Within(8, 80), In("mm")] = None
    case_width_mm: Annotated[float | None, Within(5, 80), In("mm")] = None
    case_height_mm: Annotated[float | None, Within(8, 80), In("mm")] = None
    screw_length_mm: Annotated[float | None, Within(8, 90), Label("screw centres, along"), In("mm")] = None
    screw_width_mm: Annotated[float | None, Within(3, 40), Label("screw centres, across"), In("mm")] = None
    mass_g: Annotated[float | None, Within(1, 400), In("g")] = None
    spline_teeth: Annotated[int | None, Within(8, 40)] = None
    spline_mm: Annotated[float | None, Within(3, 12), Label("spline diameter"), In("mm")] = None
    arm_screw: str | None = None
    gear: Gear | None = None
    bearing: Annotated[Bearing | None, Label("output bearing")] = None
    lead_length_mm: Annotated[float | None, Within(50, 1500), In("mm")] = None
    lead_awg: Annotated[int | None, Within(12, 30), Label("lead gauge"), In("AWG")] = None
    duties: Annotated[str | None, Label("fit for", "functions it is marked fit for, comma between")] = None
    life_h: Annotated[float | None, Within(20, 2000), Label("expected life"), In("h")] = None
    made_until_year: Annotated[int | None, Within(1950, 2100), Year(), Label("last year made")] = None
    price: Annotated[float | None, Within(0)] = None
    ratings: Annotated[tuple[ServoRating, ...], Children("servo-rating")] = ()


@dataclass(frozen=True, kw_only=True)
class Servo(Record):
    """One servo with a tag of its own."""

    KIND: ClassVar[str] = "servo"
    TITLE: ClassVar[str] = "servo"
    KEY: ClassVar[tuple[str, ...]] = ("tag",)
    LINKS: ClassVar[tuple[Link, ...]] = (Link("servo-type", ("servo_type",)),)

    tag: Annotated[str, Label("tag", "our printed number")]
    servo_type: Annotated[str, Label("type")]
    maker_serial: str | None = None
    made_year: Annotated[int | None, Within(1950, 2100), Year(), Label("year made")] = None
    bought_on: Annotated[date | None, Inexact()] = None
    price: Annotated[float | None, Within(0)] = None
    bought_used: bool | None = None
    state: ServoState = ServoState.IN_BAY
    bin: str | None = None
    hours_h: Annotated[float | None, Within(0, 20000), Label("hours run"), In("h")] = None
    flights: Annotated[int | None, Within(0, 100000)] = None
    tested_on: Annotated[date | None, Label("bench-tested")] = None
    play_deg: Annotated[float | None, Within(0, 10), Label("free play at the arm"), In("deg")] = None
    deg_to_half_torque: Annotated[
        float | None,
        Within(0.1, 40),
        Label("turn of the arm under half the stall torque", "powered and told to stand still"),
        In("deg"),
    ] = None
    centring_us: Annotated[float | None, Within(0, 50), Label("centring error"), In("us")] = None
    idle_ma: Annotated[float | None, Within(0, 1000), Label("idle current measured"), In("mA")] = None
    stall_a: Annotated[float | None, Within(0.02, 40), Label("stall current measured"), In("A")] = None
    gear_condition: GearCondition | None = None
    sweep_clean: Annotated[bool | None, Label("sweeps without jitter or dead spot")] = None
    notes: str | None = None


@dataclass(frozen=True, kw_only=True)
class Installation(Record):
    """A servo's stay at a position, with its arm and fixings; without an end it is there today.

    ``disputed`` marks a place that one record claims while the servo is recorded elsewhere too:
    the file holds the contradiction until the keeper settles it.
    """

    KIND: ClassVar[str] = "installation"
    TITLE: ClassVar[str] = "servo in place"
    KEY: ClassVar[tuple[str, ...]] = ("servo", "aircraft", "position", "since_on")
    LINKS: ClassVar[tuple[Link, ...]] = (
        Link("servo", ("servo",)),
        Link("position", ("aircraft", "position"), owned=True),
    )
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        (
            "until_on IS NULL OR substr(since_on, 1, length(until_on)) <= until_on",
            "a part cannot be taken off before it was fitted",
        ),
    )

    servo: str
    aircraft: str
    position: str
    since_on: Annotated[date, Inexact(), Label("since")]
    until_on: Annotated[date | None, Inexact(), Label("until")] = None
    why: str | None = None
    disputed: Annotated[bool, Label("place disputed")] = False
    arm_teeth: Annotated[int | None, Within(8, 40), Label("arm spline teeth")] = None
    arm_spline_mm: Annotated[float | None, Within(3, 12), Label("arm spline diameter"), In("mm")] = None
    arm_material: str | None = None
    screws_fitted: Annotated[int | None, Within(0, 6)] = None
    screws_of: Annotated[int | None, Within(0, 6), Label("screws there should be")] = None
    grommets_fitted: Annotated[int | None, Within(0, 6)] = None
    grommets_of: Annotated[int | None, Within(0, 6), Label("grommets there should be")] = None
    grommets_on: Annotated[date | None, Label("grommets fitted on")] = None
    ferrules: bool | None = None
    arm_screw: Annotated[bool | None, Label("arm screw fitted")] = None
    arm_screw_locked: bool | None = None
    matched_on: Annotated[date | None, Label("matched with its partner")] = None


@dataclass(frozen=True, kw_only=True)
class Arm(Record):
    """A servo arm or horn known to the library."""

    KIND: ClassVar[str] = "arm"
    TITLE: ClassVar[str] = "arm"
    KEY: ClassVar[tuple[str, ...]] = ("code",)

    code: str
    spline_teeth: Annotated[int, Within(8, 40)]
    spline_mm: Annotated[float | None, Within(3, 12), Label("spline diameter"), In("mm")] = None
    material: str | None = None
    holes_mm: Annotated[str | None, Label("hole radii", "millimetres, comma between")] = None
    mass_g: Annotated[float | None, Within(0.1, 100), In("g")] = None
    price: Annotated[float | None, Within(0)] = None

    @property
    def radii_mm(self) -> tuple[float, ...]:
        """The radii of its holes; what cannot be read as a number is left out.

        >>> Arm(code="A", spline_teeth=25, holes_mm="10, 12.5,x").radii_mm
        (10.0, 12.5)
        """
        radii = []
        for word in (self.holes_mm or "").split(","):
            try:
                radii.append(float(word))
            except ValueError:
                continue
        return tuple(radii)
