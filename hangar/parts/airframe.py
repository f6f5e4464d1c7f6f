"""The airframe itself and the field log that belongs to it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.choices import AircraftClass, AircraftState, MarkPlace, PowerKind, RotorKind, Swash
from hangar.parts.fields import In, Label, Link, Record, Within, Year

OF_AIRCRAFT = Link("airframe", ("aircraft",), owned=True)


@dataclass(frozen=True, kw_only=True)
class Airframe(Record):
    """One aircraft without radio and packs: who it is, its size, mass, balance and speeds."""

    KIND: ClassVar[str] = "airframe"
    TITLE: ClassVar[str] = "aircraft"
    KEY: ClassVar[tuple[str, ...]] = ("code",)
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        ("cg_fore_mm IS NULL OR cg_aft_mm IS NULL OR cg_fore_mm < cg_aft_mm",
         "the fore balance limit must lie before the aft one"),
        ("mean_chord_mm IS NULL OR span_mm IS NULL OR mean_chord_mm < span_mm",
         "the mean chord must be smaller than the span"),
        ("empty_mass_g IS NULL OR all_up_mass_g IS NULL OR empty_mass_g <= all_up_mass_g",
         "the empty mass must not exceed the all-up mass"),
        ("level_speed_m_s IS NULL OR dive_speed_m_s IS NULL OR level_speed_m_s <= dive_speed_m_s",
         "the level speed must not exceed the dive speed"),
    )  # fmt: skip

    code: Annotated[str, Label("code", "2 to 6 characters; prints on labels")]
    name: str
    aircraft_class: Annotated[AircraftClass | None, Label("class", "defaults and limits go by it")] = None
    power: Annotated[PowerKind | None, Label("power plant")] = PowerKind.NONE
    state: AircraftState = AircraftState.ON_THE_BENCH
    state_reason: Annotated[str | None, Label("reason for the state")] = None
    maker: str | None = None
    model_type: Annotated[str | None, Label("type")] = None
    serial: str | None = None
    built_year: Annotated[int | None, Within(1930, 2100), Year(), Label("year built")] = None
    acquired_on: date | None = None
    acquired_from: str | None = None
    cost: Annotated[float | None, Within(0)] = None
    span_mm: Annotated[float | None, Within(100, 12000), In("mm")] = None
    length_mm: Annotated[float | None, Within(100, 10000), In("mm")] = None
    wing_area_dm2: Annotated[float | None, Within(1, 1000), In("dm2")] = None
    mean_chord_mm: Annotated[float | None, Within(20, 1500), In("mm")] = None
    wing_count: Annotated[int, Within(0, 3), Label("number of wings")] = 1
    empty_mass_g: Annotated[
        float | None, Within(5, 150000), Label("empty mass", "no fuel, no flight pack"), In("g")
    ] = None
    all_up_mass_g: Annotated[float | None, Within(5, 150000), Label("all-up mass"), In("g")] = None
    mass_measured_on: date | None = None
    mass_limit_g: Annotated[
        float | None,
        Within(5, 150000),
        Label("mass limit", "the limit that applies to this aircraft"),
        In("g"),
    ] = None
    cg_datum: Annotated[str | None, Label("balance datum")] = None
    cg_fore_mm: Annotated[float | None, Within(-2000, 2000), Label("balance, fore limit"), In("mm")] = None
    cg_aft_mm: Annotated[float | None, Within(-2000, 2000), Label("balance, aft limit"), In("mm")] = None
    cg_measured_mm: Annotated[float | None, Within(-2000, 2000), Label("balance measured"), In("mm")] = None
    cg_measured_on: Annotated[date | None, Label("balance measured on")] = None
    level_speed_m_s: Annotated[float | None, Within(3, 150), Label("level speed"), In("m/s")] = None
    dive_speed_m_s: Annotated[
        float | None,
        Within(3, 150),
        Label("dive speed", "greatest speed the loads are worked for"),
        In("m/s"),
    ] = None
    flight_min: Annotated[float | None, Within(0.2, 600), Label("planned flight"), In("min")] = None
    flights_per_charge: Annotated[int | None, Within(1, 50)] = None
    registration: Annotated[str | None, Label("registration mark")] = None
    registration_place: Annotated[MarkPlace | None, Label("mark shown")] = None
    club_number: str | None = None
    competition_class: str | None = None
    propeller: str | None = None
    metal_propeller: Annotated[bool | None, Label("metal propeller or blades")] = None
    engine_stop: Annotated[bool | None, Label("engine stop from the transmitter")] = None
    ignition_kill: Annotated[bool | None, Label("ignition kill switch")] = None
    turbine_stop_s: Annotated[
        float | None, Within(0, 60), Label("turbine stop time", "measured, transmitter off"), In("s")
    ] = None
    extinguisher_on: Annotated[date | None, Label("extinguisher confirmed")] = None
    refit_on: Annotated[date | None, Label("last refit or repair")] = None
    site: Annotated[str | None, Label("usual flying field")] = None
    for_sale: Annotated[bool | None, Label("for sale")] = None
    photo: str | None = None
    notes: str | None = None

    @property
    def is_helicopter(self) -> bool:
        """Whether its class is said to be one that flies on a rotor."""
        return self.aircraft_class is not None and self.aircraft_class.is_helicopter

    @property
    def has_piston(self) -> bool:
        """Whether it is said that a piston engine drives it."""
        return self.power is not None and self.power.is_piston

    @property
    def is_sailplane(self) -> bool:
        """Whether its class is said to be a sailplane's."""
        return self.aircraft_class is not None and self.aircraft_class.is_sailplane


def is_power_unknown(frame: Airframe) -> bool:
    """Whether nobody entered what drives it: only a sailplane flies without."""
    return frame.power is None or (frame.power is PowerKind.NONE and not frame.is_sailplane)


@dataclass(frozen=True, kw_only=True)
class Rotor(Record):
    """One rotor of a helicopter with what its control loads need."""

    KIND: ClassVar[str] = "rotor"
    TITLE: ClassVar[str] = "rotor"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "rotor")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    rotor: RotorKind = RotorKind.MAIN
    diameter_mm: Annotated[float | None, Within(50, 4000), In("mm")] = None
    blades: Annotated[int | None, Within(2, 8)] = 2
    blade_length_mm: Annotated[float | None, Within(20, 1200), In("mm")] = None
    blade_chord_mm: Annotated[float | None, Within(8, 150), In("mm")] = None
    blade_mass_g: Annotated[float | None, Within(1, 500), In("g")] = None
    head_rpm: Annotated[
        float | None, Within(300, 20000), Label("rotor speed", "the highest used"), In("rpm")
    ] = None
    flybar: bool | None = None
    swash: Annotated[Swash | None, Label("swashplate")] = None
    grip_arm_mm: Annotated[float | None, Within(3, 80), Label("blade grip arm"), In("mm")] = None
    pitch_deg: Annotated[float | None, Within(1, 45), Label("greatest pitch"), In("deg")] = None
    pitch_low_deg: Annotated[float | None, Within(-45, 45), Label("pitch read, low end"), In("deg")] = None
    pitch_mid_deg: Annotated[float | None, Within(-45, 45), Label("pitch read, middle"), In("deg")] = None
    pitch_high_deg: Annotated[float | None, Within(-45, 45), Label("pitch read, high end"), In("deg")] = None
    swash_off_deg: Annotated[
        float | None,
        Within(0, 20),
        Label("swashplate off level", "the most of low, middle and high"),
        In("deg"),
    ] = None
    pitch_read_on: Annotated[date | None, Label("pitch read on")] = None
    counterweights: bool | None = None
    damper_flights: Annotated[int | None, Within(0, 100000), Label("flights since dampers")] = None
    blade_flights: Annotated[int | None, Within(0, 100000), Label("flights since blades")] = None
    spindle_flights: Annotated[int | None, Within(0, 100000), Label("flights since spindle check")] = None
