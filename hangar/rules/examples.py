"""What the rules' examples are written with: sound aircraft and changes to them."""

from __future__ import annotations

import dataclasses
from typing import Any

from hangar.parts import (
    Aircraft,
    BenchCheck,
    CapacityTest,
    CellReading,
    Charge,
    Flight,
    FlightLogPack,
    Inspection,
    Installation,
    Library,
    LoadTest,
    PackType,
    PathCheck,
    Plan,
    PlanLine,
    RangeCheck,
    Regulator,
    RegulatorType,
    ServoRating,
    ServoType,
    Snag,
    StockItem,
    SupplyCheck,
)
from hangar.parts.choices import (
    FeedRole,
    Function,
    InspectionKind,
    PackJoin,
    PlanAction,
    PlanState,
    PowerKind,
    RegulatorKind,
    Severity,
    StockKind,
    SurfaceKind,
)
from hangar.rules.changing import with_airframe, with_fit, with_pack, with_path, with_surface
from hangar.rules.example_aircraft import giant, helicopter, jet, sailplane, trainer
from hangar.rules.example_parts import (
    CYCLIC,
    DAY,
    LITHIUM_2,
    NICKEL_4,
    STANDARD,
    STRONG,
    TAIL,
    ago,
    at_hour,
    channel,
    fed,
    fit,
)
from hangar.survey.model import Conditions

__all__ = [
    "CYCLIC", "DAY", "LITHIUM_2", "NICKEL_4", "STANDARD", "STRONG", "TAIL", "ago", "giant", "helicopter",
    "jet", "sailplane", "trainer",
]  # fmt: skip


def elevator(**parts: Any) -> Aircraft:
    """The trainer with other parts at its elevator."""
    return with_fit(trainer(), "ELE", **parts)


def all_moving(**fields: Any) -> Aircraft:
    """The trainer with an all-moving tailplane on a strong servo."""
    turned = {
        "carried": SurfaceKind.ALL_MOVING,
        "pivot_pct": 24.0,
        "aspect_ratio": 4.0,
        "whole_chord_mm": None,
    }
    return with_surface(trainer(), "ELE", **(turned | fields))


def wing(**parts: Any) -> Aircraft:
    """The trainer with other parts at its left aileron."""
    return with_fit(trainer(), "AIL-L", **parts)


def weaker(kind: ServoType, share: float) -> tuple[ServoRating, ...]:
    """A servo type's ratings with less torque, and less current in proportion."""
    return tuple(
        dataclasses.replace(
            row,
            torque_nm=max(0.01, (row.torque_nm or 0.0) * share),
            stall_a=max(0.05, (row.stall_a or 0.0) * share),
        )
        for row in kind.ratings
    )


def boasted(kind: ServoType, times: float) -> tuple[ServoRating, ...]:
    """A servo type's ratings with more torque for the same current."""
    return tuple(dataclasses.replace(row, torque_nm=(row.torque_nm or 0.0) * times) for row in kind.ratings)


def slower(kind: ServoType, times: float) -> ServoType:
    """A servo type with longer transit times."""
    rows = tuple(dataclasses.replace(row, transit_s=(row.transit_s or 0.0) * times) for row in kind.ratings)
    return dataclasses.replace(kind, ratings=rows)


def ganged(**parts: Any) -> Aircraft:
    """The giant with a second servo on its rudder; ``parts`` change that servo."""
    aircraft = giant()
    rudder = aircraft.fit("RUD")
    if rudder is None or rudder.surface is None:
        raise KeyError("RUD")
    second = fit("EXG", "RUD-2", "Rudder second", Function.RUDDER, 8, STRONG, surface=rudder.surface)
    both = dataclasses.replace(
        aircraft,
        fits=(*aircraft.fits, second),
        channels=(*aircraft.channels, channel("EXG", 8, Function.RUDDER)),
    )
    return with_fit(both, "RUD-2", **parts) if parts else both


def regulated(set_v: float, **values: Any) -> dict[str, Any]:
    """A switching regulator for a power path, as parts to change; ``values`` change its type."""
    kind = RegulatorType(
        code="EX-regulator", regulator=RegulatorKind.SWITCHING, input_max_v=12.0, input_min_v=6.0,
        output_min_v=5.0, output_max_v=9.0, continuous_a=20.0, burst_a=40.0, burst_s=10.0, drop_out_v=0.2,
        efficiency_pct=90.0, shed_w=10.0, inputs=1, isolated=True, fails_through=False,
    )  # fmt: skip
    return {
        "regulator": Regulator(aircraft="EX", code="REG", regulator_type=kind.code, set_v=set_v),
        "regulator_type": dataclasses.replace(kind, **values),
        "feed": {"regulator": "REG"},
    }


def only_pack() -> str:
    """Tag of the trainer's pack."""
    return trainer().paths[0].packs[0].pack.tag


def load_tested(
    tag: str, rest_v: float, loaded_v: float, load_a: float = 1.0, **more: float
) -> tuple[LoadTest, ...]:
    """A load test of the examples' day; ``more`` is what else was noted."""
    values: dict[str, Any] = dict(more)
    return (
        LoadTest(
            pack=tag, tested_at=at_hour(0), load_a=load_a, rest_v=rest_v, loaded_v=loaded_v, **values
        ),
    )  # fmt: skip


def resistance_read(*readings: tuple[int, float]) -> tuple[CapacityTest, ...]:
    """Resistance readings of the trainer's pack: days ago and milliohms a cell, at 25 °C."""
    return tuple(
        CapacityTest(pack=only_pack(), tested_on=ago(days), cell_mohm=mohm, ambient_c=25.0)
        for days, mohm in readings
    )


def logged(path_mohm: float) -> tuple[FlightLogPack, ...]:
    """The trainer's pack in a flight log of the day before, with the resistance up to the bus."""
    code = trainer().code
    return (
        FlightLogPack(
            aircraft=code, flown_on=ago(1), pack=only_pack(), path_mohm=path_mohm,
            path_low_mohm=0.95 * path_mohm, path_high_mohm=1.05 * path_mohm, pack_c=20.0,
        ),
    )  # fmt: skip


def cell_readings(tag: str, *volts: float) -> tuple[CellReading, ...]:
    """Resting volts of a pack's cells."""
    return tuple(CellReading(pack=tag, read_on=DAY, cell=n, cell_v=v) for n, v in enumerate(volts, 1))


def charged(tag: str = "EX01", **values: Any) -> tuple[Charge, ...]:
    """A charge of the examples' day."""
    return (Charge(pack=tag, charged_at=at_hour(0), **values),)


def home_day() -> Conditions:
    """The examples' day, at home."""
    return Conditions(today=DAY)


def cold_day() -> Conditions:
    """The examples' day at the field, at the freezing point."""
    return Conditions(today=DAY, air_c=0.0, field_day=True)


def on_a_y(second: PackType) -> dict[str, Any]:
    """The trainer's pack and another one on a plain Y, as parts of its power path."""
    first = trainer().paths[0].packs[0]
    other = fed("EX02", second, rest_v=5.34, load_a=1.0, loaded_v=5.26)
    return {"packs": (first, other), "feed": {"join": PackJoin.PLAIN_Y}}


def in_series(**values: Any) -> dict[str, Any]:
    """Two halves of the trainer's pack in series; ``values`` change the second."""
    half = dataclasses.replace(NICKEL_4, code="EX-2 nickel", series=2)
    first, other = (fed(tag, half, rest_v=2.67, load_a=1.0, loaded_v=2.63) for tag in ("EX01", "EX02"))
    other = dataclasses.replace(other, pack=dataclasses.replace(other.pack, **values))
    return {"packs": (first, other), "feed": {"join": PackJoin.SERIES}}


def five_cells(aircraft: Aircraft) -> Aircraft:
    """The trainer with five cells instead of four, tested as such."""
    tests = load_tested(only_pack(), 6.68, 6.58)
    return with_pack(aircraft, pack_type={"series": 5}, load_tests=tests)


def ranged(days: int) -> tuple[RangeCheck, ...]:
    """A range check some days ago."""
    return (RangeCheck(aircraft="EXT", checked_on=ago(days), distance_m=30.0, site="Sallow Down"),)


def driven_only(mass_g: float) -> Aircraft:
    """The helicopter turned electric, its radio on the drive pack alone."""
    aircraft = with_path(
        helicopter(),
        **{**regulated(7.4, drop_out_v=None), "feed": {"regulator": "REG", "role": FeedRole.DRIVE}},
    )
    return with_airframe(
        aircraft, power=PowerKind.ELECTRIC, all_up_mass_g=mass_g, empty_mass_g=mass_g - 500.0
    )


def flown(days: int = 6, **values: Any) -> tuple[Flight, ...]:
    """A flight some days ago."""
    return (Flight(aircraft="EXT", flown_on=ago(days), minutes_min=10.0, **values),)


def flown_twice() -> tuple[Flight, ...]:
    """Flights of the trainer's pack on the examples' day, in two aircraft."""
    flight = Flight(aircraft="EXT", flown_on=DAY, minutes_min=10.0, packs="EX01")
    return flight, dataclasses.replace(flight, aircraft="EXO")


def stay_elsewhere(tag: str) -> Installation:
    """An open stay of a servo in another aircraft."""
    return Installation(servo=tag, aircraft="EXO", position="SPO", since_on=ago(30))


def checked(position: str, aircraft: str = "EXT", **values: Any) -> tuple[BenchCheck, ...]:
    """A bench check of the week before."""
    check = BenchCheck(
        aircraft=aircraft,
        position=position,
        checked_at=at_hour(7),
        neutral_ma=10.0,
        end_a_ma=20.0,
        end_b_ma=20.0,
        direction_ok=True,
    )
    return (dataclasses.replace(check, **values),)


def supply_checked(**values: Any) -> tuple[SupplyCheck, ...]:
    """A check of the whole supply of the week before."""
    return (SupplyCheck(aircraft="EXT", checked_at=at_hour(7), **values),)


def path_checked(**values: Any) -> tuple[PathCheck, ...]:
    """A check of a power path of the week before."""
    return (PathCheck(aircraft="EXT", feed="A", checked_at=at_hour(7), **values),)


def planned(**values: Any) -> tuple[Plan, ...]:
    """A refit of the trainer's elevator servo."""
    line = PlanLine(
        plan="EX-P", number=1, action=PlanAction.FIT_SERVO, place="ELE", part_type=STRONG.code, price=80.0
    )
    plan = Plan(code="EX-P", aircraft="EXT", title="Elevator", state=PlanState.PRICED, lines=(line,))
    return (dataclasses.replace(plan, **values),)


def inspected(days: int, due: int) -> tuple[Inspection, ...]:
    """An inspection some days ago that ran out ``due`` days ago."""
    return (
        Inspection(aircraft="EXT", inspected_on=ago(days), kind=InspectionKind.YEARLY, next_due_on=ago(due)),
    )


def snagged(**values: Any) -> tuple[Snag, ...]:
    """A snag that grounds the aircraft."""
    snag = Snag(aircraft="EXT", raised_on=ago(3), text="left flap slow", severity=Severity.GROUNDS)
    return (dataclasses.replace(snag, **values),)


def planned_ailerons(state: PlanState) -> tuple[Plan, ...]:
    """A refit of both aileron servos."""
    lines = tuple(
        PlanLine(plan="EX-P", number=n, action=PlanAction.FIT_SERVO, place=place, part_type="EX-new")
        for n, place in enumerate(("AIL-L", "AIL-R"), 1)
    )
    return planned(state=state, lines=lines, title="Ailerons")


def half_refitted() -> Aircraft:
    """The trainer with one aileron servo of the planned type."""
    return wing(servo_type={"code": "EX-new"})


def library(stock: float, **values: Any) -> Library:
    """A library that holds the trainer's planned servo, and some of it in the bay."""
    kind = dataclasses.replace(STANDARD, code=STRONG.code, **values)
    return Library(
        servo_types={kind.code: kind},
        stock=(StockItem(code="S1", kind=StockKind.SERVO, part_type=kind.code, on_hand=stock),),
        plans=planned(),
    )


def rival_library(stock: float) -> Library:
    """The same with a second plan that asks for the same servo."""
    rival = dataclasses.replace(planned()[0], code="EX-Q", aircraft="EXO", title="Other")
    return dataclasses.replace(library(stock), plans=(*planned(), rival))


def spares(on_hand: float) -> Library:
    """A library with a minimum of the trainer's servo."""
    item = StockItem(code="S1", kind=StockKind.SERVO, part_type=STANDARD.code, on_hand=on_hand, wanted=2)
    return Library(stock=(item,))
