"""Packs, regulators, switches and the power paths that join them to the bus."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.choices import Chemistry, FeedRole, PackJoin, PackState, RegulatorKind, SwitchKind
from hangar.parts.fields import In, Inexact, Label, Link, Record, Within


@dataclass(frozen=True, kw_only=True)
class PackType(Record):
    """A maker's pack type."""

    KIND: ClassVar[str] = "pack-type"
    TITLE: ClassVar[str] = "pack type"
    KEY: ClassVar[tuple[str, ...]] = ("code",)

    code: Annotated[str, Label("type")]
    maker: str | None = None
    chemistry: Chemistry
    series: Annotated[int, Within(1, 14), Label("cells in series")]
    parallel: Annotated[int, Within(1, 10), Label("cells in parallel")] = 1
    capacity_mah: Annotated[float, Within(50, 30000), Label("rated capacity"), In("mAh")]
    continuous_a: Annotated[float | None, Within(0.1, 3000), Label("continuous current"), In("A")] = None
    burst_a: Annotated[float | None, Within(0.1, 3000), Label("burst current"), In("A")] = None
    charge_c: Annotated[float | None, Within(0.05, 15), Label("greatest charge rate"), In("C rate")] = None
    cell_mohm: Annotated[
        float | None,
        Within(0.3, 300),
        Label("resistance new, per cell", "direct current, 20 to 25 °C"),
        In("mohm"),
    ] = None
    connector: str | None = None
    lead_awg: Annotated[int | None, Within(8, 30), Label("lead gauge"), In("AWG")] = None
    mass_g: Annotated[float | None, Within(1, 5000), In("g")] = None
    length_mm: Annotated[float | None, Within(5, 500), In("mm")] = None
    width_mm: Annotated[float | None, Within(5, 300), In("mm")] = None
    height_mm: Annotated[float | None, Within(3, 300), In("mm")] = None
    life_y: Annotated[float | None, Within(1, 15), Label("life in years"), In("y")] = None
    life_cycles: Annotated[int | None, Within(50, 3000), Label("life in cycles")] = None
    price: Annotated[float | None, Within(0)] = None


@dataclass(frozen=True, kw_only=True)
class Pack(Record):
    """One pack with a tag of its own and what was last measured on it."""

    KIND: ClassVar[str] = "pack"
    TITLE: ClassVar[str] = "pack"
    KEY: ClassVar[tuple[str, ...]] = ("tag",)
    LINKS: ClassVar[tuple[Link, ...]] = (Link("pack-type", ("pack_type",)),)

    tag: str
    pack_type: Annotated[str, Label("type")]
    bought_on: Annotated[date | None, Inexact(), Label("made or bought")] = None
    price: Annotated[float | None, Within(0)] = None
    state: PackState = PackState.IN_USE
    bin: str | None = None
    cycles: Annotated[int | None, Within(0, 5000)] = None
    cell_mohm: Annotated[
        float | None, Within(0.3, 1000), Label("resistance measured, per cell"), In("mohm")
    ] = None
    cell_mohm_on: Annotated[date | None, Label("resistance measured on")] = None
    cell_mohm_temp_c: Annotated[float | None, Within(-20, 60), Label("resistance measured at"), In("C")] = (
        None
    )
    capacity_mah: Annotated[float | None, Within(1, 30000), Label("capacity measured"), In("mAh")] = None
    capacity_on: Annotated[date | None, Label("capacity measured on")] = None
    charged_on: date | None = None
    charged_mah: Annotated[float | None, Within(0, 40000), Label("charge put in"), In("mAh")] = None
    rest_v: Annotated[float | None, Within(0, 70), Label("resting volts"), In("V")] = None
    rest_on: Annotated[date | None, Label("resting volts read on")] = None
    swollen: bool | None = None
    crashed: bool | None = None
    ship_by_air: Annotated[bool | None, Label("to be shipped by air")] = None
    notes: str | None = None


@dataclass(frozen=True, kw_only=True)
class RegulatorType(Record):
    """A maker's regulator or power board."""

    KIND: ClassVar[str] = "regulator-type"
    TITLE: ClassVar[str] = "regulator type"
    KEY: ClassVar[tuple[str, ...]] = ("code",)

    code: Annotated[str, Label("type")]
    maker: str | None = None
    regulator: Annotated[RegulatorKind | None, Label("kind")] = None
    input_max_v: Annotated[float | None, Within(2.5, 70), Label("highest input volts"), In("V")] = None
    input_min_v: Annotated[float | None, Within(2.5, 70), Label("lowest input volts"), In("V")] = None
    output_min_v: Annotated[float | None, Within(2.5, 15), Label("lowest output volts"), In("V")] = None
    output_max_v: Annotated[float | None, Within(2.5, 15), Label("highest output volts"), In("V")] = None
    continuous_a: Annotated[float | None, Within(0.5, 60), Label("continuous current"), In("A")] = None
    burst_a: Annotated[float | None, Within(0.5, 100), Label("burst current"), In("A")] = None
    burst_s: Annotated[float | None, Within(0.1, 120), Label("burst time"), In("s")] = None
    drop_out_v: Annotated[float | None, Within(0, 3), Label("drop-out"), In("V")] = None
    efficiency_pct: Annotated[float | None, Within(50, 98), In("%")] = None
    shed_w: Annotated[float | None, Within(0.5, 40), Label("heat it can shed in still air"), In("W")] = None
    inputs: Annotated[int, Within(1, 4)] = 1
    isolated: Annotated[bool | None, Label("inputs isolated")] = None
    fails_through: Annotated[bool | None, Label("passes input volts when it fails")] = None
    mass_g: Annotated[float | None, Within(0.5, 500), In("g")] = None
    price: Annotated[float | None, Within(0)] = None


@dataclass(frozen=True, kw_only=True)
class Regulator(Record):
    """A regulator fitted in one aircraft, with what it is set to."""

    KIND: ClassVar[str] = "regulator"
    TITLE: ClassVar[str] = "regulator"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT, Link("regulator-type", ("regulator_type",)))

    aircraft: str
    code: str
    regulator_type: Annotated[str, Label("type")]
    set_v: Annotated[float | None, Within(2.5, 15), Label("set volts"), In("V")] = None


@dataclass(frozen=True, kw_only=True)
class SwitchType(Record):
    """A maker's switch harness."""

    KIND: ClassVar[str] = "switch-type"
    TITLE: ClassVar[str] = "switch type"
    KEY: ClassVar[tuple[str, ...]] = ("code",)

    code: Annotated[str, Label("type")]
    maker: str | None = None
    switch: Annotated[SwitchKind, Label("kind")]
    continuous_a: Annotated[float | None, Within(0.5, 40), Label("continuous current"), In("A")] = None
    burst_a: Annotated[float | None, Within(0.5, 100), Label("burst current"), In("A")] = None
    contact_mohm: Annotated[float | None, Within(0.1, 500), Label("resistance when on"), In("mohm")] = None
    contacts: Annotated[int, Within(1, 4), Label("contacts in parallel")] = 1
    mass_g: Annotated[float | None, Within(0.5, 200), In("g")] = None
    price: Annotated[float | None, Within(0)] = None


@dataclass(frozen=True, kw_only=True)
class Switch(Record):
    """A switch fitted in one aircraft."""

    KIND: ClassVar[str] = "switch"
    TITLE: ClassVar[str] = "switch"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT, Link("switch-type", ("switch_type",)))

    aircraft: str
    code: str
    switch_type: Annotated[str, Label("type")]
    fitted_on: date | None = None
    oily_place: bool | None = None


@dataclass(frozen=True, kw_only=True)
class Feed(Record):
    """A power path: packs, then switch, then regulator, then leads to the bus.

    ``isolated`` says that this path cannot be charged by another one on the same bus.
    """

    KIND: ClassVar[str] = "feed"
    TITLE: ClassVar[str] = "power path"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (
        OF_AIRCRAFT,
        Link("switch", ("aircraft", "switch")),
        Link("regulator", ("aircraft", "regulator")),
    )

    aircraft: str
    code: str
    role: FeedRole = FeedRole.RECEIVER
    join: Annotated[PackJoin, Label("packs joined")] = PackJoin.SINGLE
    switch: str | None = None
    regulator: str | None = None
    lead_length_mm: Annotated[float | None, Within(0, 6000), Label("lead, pack to bus"), In("mm")] = None
    lead_awg: Annotated[int | None, Within(8, 30), Label("lead gauge"), In("AWG")] = None
    joints: Annotated[int | None, Within(0, 10), Label("plugged joints")] = None
    joint_limit_a: Annotated[float | None, Within(0.5, 100), Label("plug current limit"), In("A")] = None
    parallel_leads: Annotated[int, Within(1, 4), Label("leads side by side")] = 1
    isolated: Annotated[bool | None, Label("isolated from the other paths")] = None


@dataclass(frozen=True, kw_only=True)
class PackFit(Record):
    """A pack's stay in a power path; without an end it is there today."""

    KIND: ClassVar[str] = "pack-fit"
    TITLE: ClassVar[str] = "pack in place"
    KEY: ClassVar[tuple[str, ...]] = ("pack", "aircraft", "feed", "since_on")
    LINKS: ClassVar[tuple[Link, ...]] = (
        Link("pack", ("pack",)),
        Link("feed", ("aircraft", "feed"), owned=True),
    )
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        (
            "until_on IS NULL OR substr(since_on, 1, length(until_on)) <= until_on",
            "a part cannot be taken off before it was fitted",
        ),
    )

    pack: str
    aircraft: str
    feed: str
    since_on: Annotated[date, Inexact(), Label("since")]
    until_on: Annotated[date | None, Inexact(), Label("until")] = None
