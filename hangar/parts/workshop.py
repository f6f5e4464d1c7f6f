"""Refit plans, Stores, and the keeper's own settings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.choices import (
    LeadCare,
    PackJoin,
    PlanAction,
    PlanState,
    RodMaterial,
    RodWork,
    StockKind,
)
from hangar.parts.fields import Children, In, KeptText, Label, Link, Record, Within


@dataclass(frozen=True, kw_only=True)
class PlanLine(Record):
    """One change of a refit plan.

    ``place`` is the code of a position, power path, regulator, switch or receiver; ``part_type`` the type
    that goes there; ``from_stock`` the tag of a part taken from Stores, or off ``from_aircraft``.
    """

    KIND: ClassVar[str] = "plan-line"
    TITLE: ClassVar[str] = "plan line"
    KEY: ClassVar[tuple[str, ...]] = ("plan", "number")
    LINKS: ClassVar[tuple[Link, ...]] = (Link("plan", ("plan",), owned=True),)

    plan: str
    number: Annotated[int, Within(1, 500)]
    action: PlanAction
    place: str | None = None
    part_type: Annotated[str | None, Label("type")] = None
    from_stock: Annotated[str | None, Label("tag from Stores")] = None
    set_v: Annotated[float | None, Within(2.5, 15), Label("set volts"), In("V")] = None
    awg: Annotated[int | None, Within(12, 30), Label("lead gauge"), In("AWG")] = None
    arm_mm: Annotated[float | None, Within(3, 100), Label("arm radius"), In("mm")] = None
    horn_mm: Annotated[float | None, Within(3, 150), Label("horn radius"), In("mm")] = None
    pulse_us: Annotated[float | None, Within(600, 2200), Label("pulse centre"), In("us")] = None
    rate_hz: Annotated[float | None, Within(30, 700), Label("frame rate"), In("Hz")] = None
    care: Annotated[LeadCare | None, Label("protection of the lead")] = None
    rod: Annotated[RodWork | None, Label("work on the rod")] = None
    rod_diameter_mm: Annotated[float | None, Within(0.5, 20), In("mm")] = None
    rod_bore_mm: Annotated[float | None, Within(0, 18), Label("tube bore"), In("mm")] = None
    rod_material: RodMaterial | None = None
    join: Annotated[PackJoin | None, Label("packs joined")] = None
    from_aircraft: Annotated[str | None, Label("taken off aircraft")] = None
    quantity: Annotated[int, Within(1, 100)] = 1
    price: Annotated[float | None, Within(0)] = None
    hours_h: Annotated[float | None, Within(0, 200), Label("hours of work"), In("h")] = None
    done_on: date | None = None


@dataclass(frozen=True, kw_only=True)
class PlanProof(Record):
    """One proof of the bench check after a refit, ticked off; it belongs to its plan and goes with it.

    ``proof`` is its code in the bench check, B0 to B14.
    """

    KIND: ClassVar[str] = "plan-proof"
    TITLE: ClassVar[str] = "proof"
    KEY: ClassVar[tuple[str, ...]] = ("plan", "proof")
    LINKS: ClassVar[tuple[Link, ...]] = (Link("plan", ("plan",), owned=True),)

    plan: str
    proof: str
    ticked_on: date


@dataclass(frozen=True, kw_only=True)
class Prediction(Record):
    """One figure that was predicted of a refit when its fitting began, in the unit the figure has."""

    KIND: ClassVar[str] = "prediction"
    TITLE: ClassVar[str] = "prediction"
    KEY: ClassVar[tuple[str, ...]] = ("plan", "figure")
    LINKS: ClassVar[tuple[Link, ...]] = (Link("plan", ("plan",), owned=True),)

    plan: str
    figure: str
    value: float


@dataclass(frozen=True, kw_only=True)
class Plan(Record):
    """A refit of one aircraft."""

    KIND: ClassVar[str] = "plan"
    TITLE: ClassVar[str] = "refit plan"
    KEY: ClassVar[tuple[str, ...]] = ("code",)
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    code: str
    aircraft: str
    title: str
    purpose: str | None = None
    target_bus_v: Annotated[float | None, Within(2.5, 15), Label("bus volts aimed at"), In("V")] = None
    state: PlanState = PlanState.SKETCHED
    begun_on: date | None = None
    due_on: date | None = None
    note: Annotated[str | None, KeptText()] = None
    lines: Annotated[tuple[PlanLine, ...], Children("plan-line")] = ()
    proofs: Annotated[tuple[PlanProof, ...], Children("plan-proof")] = ()
    predictions: Annotated[tuple[Prediction, ...], Children("prediction")] = ()


@dataclass(frozen=True, kw_only=True)
class StockItem(Record):
    """Spares of one kind in Stores that carry no tag of their own."""

    KIND: ClassVar[str] = "stock-item"
    TITLE: ClassVar[str] = "spare"
    KEY: ClassVar[tuple[str, ...]] = ("code",)

    code: str
    kind: StockKind
    part_type: Annotated[str | None, Label("type")] = None
    text: Annotated[str | None, Label("what it is")] = None
    on_hand: Annotated[float, Within(0, 100000)] = 0
    wanted: Annotated[float | None, Within(0, 100000), Label("minimum wanted")] = None
    unit: str = "pieces"
    bin: str | None = None
    price: Annotated[float | None, Within(0)] = None
    supplier: str | None = None
    use_by_on: date | None = None


@dataclass(frozen=True, kw_only=True)
class ShoppingTick(Record):
    """A thing on the shopping list that is ticked off.

    ``wanted`` is the number that was to be bought then: more of the same is to be bought again.
    """

    KIND: ClassVar[str] = "shopping-tick"
    TITLE: ClassVar[str] = "tick on the shopping list"
    KEY: ClassVar[tuple[str, ...]] = ("what",)

    what: str
    wanted: Annotated[float, Within(0, 1000000)]


@dataclass(frozen=True, kw_only=True)
class Setting(Record):
    """One choice of the keeper: a unit, a threshold, the money sign."""

    KIND: ClassVar[str] = "setting"
    TITLE: ClassVar[str] = "setting"
    KEY: ClassVar[tuple[str, ...]] = ("name",)

    name: str
    value: str
