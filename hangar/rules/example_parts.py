"""Parts in good order, from which the rules' example aircraft are put together."""

from __future__ import annotations

import dataclasses
from datetime import date, datetime, timedelta

from hangar.parts import (
    Aircraft,
    Airframe,
    BenchCheck,
    Channel,
    FedPack,
    Feed,
    Flight,
    Inspection,
    Installation,
    Lead,
    Linkage,
    LoadTest,
    Pack,
    PackType,
    Position,
    PowerPath,
    RangeCheck,
    Receiver,
    Servo,
    ServoFit,
    ServoRating,
    ServoType,
    Surface,
    Switch,
    SwitchType,
)
from hangar.parts.choices import (
    AircraftClass,
    AircraftState,
    AntennaRoute,
    Bearing,
    Chemistry,
    Drive,
    FailsafeAction,
    FormerEdge,
    Function,
    Gear,
    GearCondition,
    InspectionKind,
    JointLock,
    MarkPlace,
    MaxMeans,
    PowerKind,
    RodMaterial,
    ServoState,
    Side,
    SwitchKind,
)

LEFT, RIGHT, MIDDLE = Side.LEFT, Side.RIGHT, Side.MIDDLE

DAY = date(2026, 5, 9)
"""The day the examples are looked at."""


def ago(days: int) -> date:
    """A day before the examples' day."""
    return DAY - timedelta(days=days)


def servo_type(
    code: str,
    drive: Drive,
    ratings: tuple[tuple[float, float, float, float], ...],
    *,
    max_v: float,
    means: MaxMeans = MaxMeans.ABSOLUTE,
    teeth: int = 25,
    gear: Gear = Gear.METAL,
) -> ServoType:
    """A servo type from rows of volts, torque, time and stall current."""
    return ServoType(
        code=code,
        maker="Ostrafell",
        drive=drive,
        max_rate_hz=55.0 if drive is Drive.ANALOG else 333.0,
        supply_min_v=ratings[0][0],
        supply_max_v=max_v,
        max_means=means,
        idle_ma=8.0 if drive is Drive.ANALOG else 40.0,
        run_a=0.1 if drive is Drive.ANALOG else 0.4,
        dead_band_us=4.0 if drive is Drive.ANALOG else 2.0,
        case_length_mm=40.5,
        case_width_mm=20.0,
        case_height_mm=38.0,
        screw_length_mm=49.0,
        screw_width_mm=10.0,
        mass_g=45.0,
        spline_teeth=teeth,
        spline_mm=5.9,
        gear=gear,
        bearing=Bearing.TWO_BALL,
        lead_length_mm=300.0,
        lead_awg=24,
        life_h=500.0,
        ratings=tuple(
            ServoRating(servo_type=code, rated_v=volts, torque_nm=torque, transit_s=time, stall_a=amps)
            for volts, torque, time, amps in ratings
        ),
    )


STANDARD = servo_type(
    "EX-standard",
    Drive.ANALOG,
    ((4.8, 0.31, 0.22, 0.73), (6.0, 0.39, 0.174, 0.91)),
    max_v=6.0,
    means=MaxMeans.NOMINAL,
)
STRONG = servo_type(
    "EX-strong",
    Drive.DIGITAL,
    ((4.8, 1.90, 0.205, 4.71), (6.0, 2.41, 0.162, 5.88), (7.4, 3.00, 0.13, 7.26), (8.4, 3.42, 0.114, 8.24)),
    max_v=8.4,
)
CYCLIC = servo_type(
    "EX-cyclic",
    Drive.DIGITAL,
    ((4.8, 0.95, 0.126, 3.82), (6.0, 1.20, 0.10, 4.78), (7.4, 1.50, 0.08, 5.9), (8.4, 1.71, 0.07, 6.69)),
    max_v=8.4,
)
TAIL = servo_type(
    "EX-tail",
    Drive.DIGITAL,
    ((6.0, 0.44, 0.045, 3.9), (7.4, 0.55, 0.036, 4.8), (8.4, 0.63, 0.032, 5.45)),
    max_v=8.4,
)

NICKEL_4 = PackType(
    code="EX-4 nickel", chemistry=Chemistry.NIMH_LSD, series=4, capacity_mah=2000.0, continuous_a=6.0,
    burst_a=12.0, charge_c=1.0, cell_mohm=12.0, connector="3-pin", lead_awg=20, mass_g=110.0, life_y=5.0,
    life_cycles=500,
)  # fmt: skip
LITHIUM_2 = PackType(
    code="EX-2 lithium", chemistry=Chemistry.LIPO, series=2, capacity_mah=5000.0, continuous_a=75.0,
    burst_a=100.0, charge_c=2.0, cell_mohm=3.0, connector="bullet", lead_awg=16, mass_g=250.0, life_y=3.0,
    life_cycles=200,
)  # fmt: skip
SWITCH = SwitchType(
    code="EX-switch", switch=SwitchKind.ELECTRONIC, continuous_a=25.0, burst_a=40.0, contact_mohm=6.0
)


def channel(code: str, number: int, function: Function) -> Channel:
    """A channel that runs analog frames, with a proved failsafe."""
    idle = FailsafeAction.IDLE if function is Function.THROTTLE else FailsafeAction.HOLD
    return Channel(
        aircraft=code, number=number, function=function, rate_hz=50.0, pulse_us=1520.0, failsafe=idle,
        failsafe_proved_on=ago(6),
    )  # fmt: skip


def fit(
    code: str,
    position: str,
    name: str,
    function: Function,
    number: int,
    kind: ServoType,
    *,
    side: Side = Side.MIDDLE,
    surface: Surface | None = None,
) -> ServoFit:
    """A position with everything on it in order."""
    tag = f"{code}-{position}"
    return ServoFit(
        position=Position(
            aircraft=code, code=position, name=name, function=function, side=side, channel=number,
            surface=surface.code if surface else None, plan_x=0.5, plan_y=0.5, bay_length_mm=42.0,
            bay_width_mm=21.0, bay_height_mm=45.0, bay_screw_mm=49.0, balance_arm_mm=200.0,
        ),
        channel=channel(code, number, function),
        surface=surface,
        linkage=Linkage(
            aircraft=code, position=position, arm_mm=13.0, horn_mm=22.0, arm_angle_deg=90.0,
            rod_length_mm=200.0, rod_free_mm=120.0, rod_diameter_mm=4.0, rod_material=RodMaterial.STEEL,
            clevis_keeper=True, ball_play_mm=0.05, servo_travel_deg=45.0, mechanical_stop=False,
        ),
        lead=Lead(
            aircraft=code, position=position, length_mm=300.0, awg=22, joints=1, lock=JointLock.CLIP,
            former_edge=FormerEdge.NO_HOLE, heat_mm=200.0, moving_mm=50.0, moving_tied=True,
            support_mm=150.0, bend_ratio=8.0, crosses_hinge=False, antenna_mm=100.0, inspected_on=ago(40),
        ),
        installation=Installation(
            servo=tag, aircraft=code, position=position, since_on=ago(400), arm_teeth=kind.spline_teeth,
            arm_spline_mm=kind.spline_mm, screws_fitted=4, screws_of=4, grommets_fitted=4, grommets_of=4,
            grommets_on=ago(400), ferrules=True, arm_screw=True, arm_screw_locked=True, matched_on=ago(40),
        ),
        servo=Servo(
            tag=tag, servo_type=kind.code, state=ServoState.FITTED, bought_on=ago(500), bought_used=False,
            made_year=2019, hours_h=20.0, flights=100, tested_on=ago(40), play_deg=0.2,
            gear_condition=GearCondition.GOOD, sweep_clean=True,
        ),
        servo_type=kind,
        bench_checks=(
            BenchCheck(
                aircraft=code, position=position, checked_at=at_hour(40), neutral_ma=10.0, moving_ma=150.0,
                end_a_ma=20.0, end_b_ma=20.0, play_deg=0.3, jitter=False, direction_ok=True, centre_ok=True,
            ),
        ),
    )  # fmt: skip


def at_hour(days: int) -> datetime:
    """Nine in the morning of a day before the examples' day."""
    day = ago(days)
    return datetime(day.year, day.month, day.day, 9)  # noqa: DTZ001


def surface(
    code: str, part: str, name: str, function: Function, side: Side, *, span_mm: float, chord_mm: float,
    whole_mm: float, **values: object,
) -> Surface:  # fmt: skip
    """A surface with its free play measured."""
    clean = Surface(
        aircraft=code, code=part, name=name, function=function, side=side, mass_balanced=False,
        gap_sealed=True, play_deg=0.2, play_on=ago(40), used_as_brake=False, span_mm=span_mm,
        root_chord_mm=chord_mm, whole_chord_mm=whole_mm, throw_up_deg=20.0, throw_down_deg=20.0,
    )  # fmt: skip
    return dataclasses.replace(clean, **values)  # type: ignore[arg-type]


def fed(tag: str, kind: PackType, *, rest_v: float, load_a: float, loaded_v: float) -> FedPack:
    """A healthy pack that was charged and load-tested on the day."""
    return FedPack(
        pack=Pack(
            tag=tag, pack_type=kind.code, bought_on=ago(300), cycles=40, cell_mohm=kind.cell_mohm,
            cell_mohm_on=ago(40), cell_mohm_temp_c=25.0, capacity_mah=kind.capacity_mah * 0.95,
            capacity_on=ago(40), charged_on=DAY, swollen=False, crashed=False,
        ),
        pack_type=kind,
        load_tests=(
            LoadTest(pack=tag, tested_at=at_hour(0), load_a=load_a, rest_v=rest_v, loaded_v=loaded_v),
        ),
    )  # fmt: skip


def path(code: str, part: str, *packs: FedPack, **values: object) -> PowerPath:
    """A power path with an electronic switch."""
    feed = Feed(
        aircraft=code, code=part, switch=f"SW-{part}", lead_length_mm=250.0, lead_awg=18, joints=1,
        joint_limit_a=30.0, parallel_leads=2, isolated=True,
    )  # fmt: skip
    return PowerPath(
        feed=dataclasses.replace(feed, **values),  # type: ignore[arg-type]
        packs=packs,
        switch=Switch(
            aircraft=code,
            code=f"SW-{part}",
            switch_type=SWITCH.code,
            fitted_on=ago(400),
            oily_place=False,
        ),
        switch_type=SWITCH,
    )


def receiver(code: str) -> Receiver:
    """A receiver with analog frames."""
    return Receiver(
        aircraft=code, band_mhz=2400.0, channels=12, supply_min_v=3.5, supply_max_v=8.4,
        max_means=MaxMeans.ABSOLUTE, idle_ma=60.0, bus_limit_a=40.0, frame_ms=20.0,
        failsafe=FailsafeAction.PRESET, antenna_count=2, antenna_route=AntennaRoute.CLEAR,
    )  # fmt: skip


def airframe(code: str, kind: AircraftClass, power: PowerKind, **values: object) -> Airframe:
    """An airframe with its papers in order."""
    clean = Airframe(
        code=code, name=f"Example {kind}", aircraft_class=kind, power=power, state=AircraftState.ON_THE_LINE,
        built_year=2019, cg_datum="leading edge", cg_fore_mm=70.0, cg_aft_mm=90.0, cg_measured_mm=80.0,
        cg_measured_on=ago(40), mass_measured_on=ago(40), mass_limit_g=25000.0, registration="EX-1",
        registration_place=MarkPlace.OUTSIDE, club_number="12", metal_propeller=False, engine_stop=True,
        ignition_kill=True, refit_on=ago(300), site="Sallow Down",
    )  # fmt: skip
    return dataclasses.replace(clean, **values)  # type: ignore[arg-type]


def papers(code: str) -> dict[str, tuple[object, ...]]:
    """Range check, flights and inspection that are in order."""
    return {
        "range_checks": (
            RangeCheck(aircraft=code, checked_on=ago(6), distance_m=30.0, motor_on=True, site="Sallow Down"),
        ),
        "flights": (Flight(aircraft=code, flown_on=ago(6), minutes_min=10.0),),
        "inspections": (
            Inspection(
                aircraft=code, inspected_on=ago(40), kind=InspectionKind.YEARLY, passed=True,
                next_due_on=ago(-325),
            ),
        ),
    }  # fmt: skip


def assembled(frame: Airframe, fits: tuple[ServoFit, ...], **parts: object) -> Aircraft:
    """A whole aircraft; channels and surfaces are taken from the positions."""
    surfaces = {servo_fit.surface.code: servo_fit.surface for servo_fit in fits if servo_fit.surface}
    channels = {servo_fit.channel.number: servo_fit.channel for servo_fit in fits if servo_fit.channel}
    values: dict[str, object] = {
        "airframe": frame,
        "receivers": (receiver(frame.code),),
        "channels": tuple(channels.values()),
        "surfaces": tuple(surfaces.values()),
        "fits": fits,
        "read_on": DAY,
        **papers(frame.code),
        **parts,
    }
    return Aircraft(**values)  # type: ignore[arg-type]
