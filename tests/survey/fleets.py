"""Three invented aircraft as frozen trees: a clean trainer, a helicopter, a big biplane on two packs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hangar.parts import (
    Aircraft,
    Airframe,
    Channel,
    FedPack,
    Feed,
    Lead,
    Linkage,
    Pack,
    PackType,
    Position,
    PowerPath,
    Receiver,
    Regulator,
    RegulatorType,
    Rotor,
    Servo,
    ServoFit,
    ServoRating,
    ServoType,
    Stabiliser,
    Surface,
    Switch,
    SwitchType,
)
from hangar.parts.choices import (
    AircraftClass,
    Chemistry,
    Drive,
    FeedRole,
    Function,
    LinkageKind,
    PackJoin,
    PowerKind,
    RegulatorKind,
    RodMaterial,
    RotorKind,
    Side,
    Swash,
    SwitchKind,
)
from hangar.survey import Conditions

TODAY = date(2024, 6, 1)
CONDITIONS = Conditions(today=TODAY)


def servo_type(
    code: str,
    *rows: tuple[float, float, float, float | None],
    drive: Drive = Drive.DIGITAL,
    mass_g: float = 60.0,
    dead_band_us: float = 2.0,
    idle_ma: float = 40.0,
    price: float | None = None,
) -> ServoType:
    """A type rated at (volts, N m, seconds for 60 degrees, stall amperes)."""
    ratings = tuple(
        ServoRating(servo_type=code, rated_v=v, torque_nm=torque, transit_s=transit, stall_a=stall)
        for v, torque, transit, stall in rows
    )
    return ServoType(
        code=code, drive=drive, mass_g=mass_g, dead_band_us=dead_band_us, idle_ma=idle_ma, run_a=0.3,
        ratings=ratings, price=price,
    )  # fmt: skip


TS_31 = servo_type(
    "TS-31", (4.8, 0.31, 0.220, 0.73), (6.0, 0.39, 0.174, 0.91), drive=Drive.ANALOG, mass_g=45,
    dead_band_us=7, idle_ma=8, price=14,
)  # fmt: skip
OF_D620 = servo_type("OF-D620", (4.8, 0.75, 0.139, 2.68), (6.0, 0.95, 0.110, 3.35), mass_g=58, price=58)
OF_T55 = servo_type("OF-T55", (6.0, 0.44, 0.045, 3.90), (7.4, 0.55, 0.036, 4.80), idle_ma=70, mass_g=70)
MK_G30 = servo_type(
    "MK-G30", (6.0, 2.41, 0.162, 5.88), (7.4, 3.00, 0.130, 7.26), (8.4, 3.42, 0.114, 8.24), mass_g=78,
    idle_ma=60, price=84,
)  # fmt: skip


def fit(
    aircraft: str,
    code: str,
    function: Function,
    kind: ServoType | None,
    *,
    surface: Surface | None = None,
    arm_mm: float | None = None,
    horn_mm: float | None = None,
    lead_mm: float | None = 300.0,
    awg: int = 22,
    joints: int = 1,
    side: Side = Side.MIDDLE,
    linkage: LinkageKind = LinkageKind.PUSHROD,
    channel: Channel | None = None,
    through: Stabiliser | None = None,
    balance_arm_mm: float | None = None,
) -> ServoFit:
    """A position with a servo of its own on it."""
    place = Position(
        aircraft=aircraft, code=code, name=code, function=function, side=side,
        surface=surface.code if surface else None, balance_arm_mm=balance_arm_mm,
    )  # fmt: skip
    rods = (
        Linkage(
            aircraft=aircraft, position=code, kind=linkage, arm_mm=arm_mm, horn_mm=horn_mm,
            arm_angle_deg=90.0, rod_length_mm=120.0, rod_free_mm=115.0, rod_diameter_mm=2.0,
            rod_material=RodMaterial.STEEL,
            ball_play_mm=0.05,
        )
        if arm_mm
        else None
    )  # fmt: skip
    lead = (
        Lead(aircraft=aircraft, position=code, length_mm=lead_mm, awg=awg, joints=joints) if lead_mm else None
    )
    return ServoFit(
        position=place,
        channel=channel,
        through=through,
        surface=surface,
        linkage=rods,
        lead=lead,
        servo=Servo(tag=f"T-{code}", servo_type=kind.code, play_deg=0.4) if kind else None,
        servo_type=kind,
    )


def surface(aircraft: str, code: str, function: Function, span: float, chord: float, whole: float,
            throw: float, **more: float) -> Surface:  # fmt: skip
    """A hinged surface of constant chord with equal throws."""
    return Surface(
        aircraft=aircraft, code=code, name=code, function=function, span_mm=span, root_chord_mm=chord,
        whole_chord_mm=whole, throw_up_deg=throw, throw_down_deg=throw, **more,  # type: ignore[arg-type]
    )  # fmt: skip


NIMH_4 = PackType(
    code="NL4-20", chemistry=Chemistry.NIMH_LSD, series=4, capacity_mah=2000, continuous_a=2.5, burst_a=5,
    cell_mohm=25, life_y=5, life_cycles=500,
)  # fmt: skip
LIION_2 = PackType(
    code="IO-30", chemistry=Chemistry.LI_ION, series=2, capacity_mah=3000, continuous_a=10, burst_a=15,
    cell_mohm=22, life_y=5, life_cycles=300,
)  # fmt: skip
DRIVE_6 = PackType(
    code="DR-50", chemistry=Chemistry.LIPO, series=6, capacity_mah=5000, continuous_a=150, burst_a=250,
    cell_mohm=2, life_y=3, life_cycles=150,
)  # fmt: skip


def pack(
    kind: PackType, tag: str, cell_mohm: float | None = None, capacity_mah: float | None = None
) -> FedPack:
    """A pack, measured where a figure is given."""
    return FedPack(
        pack=Pack(
            tag=tag, pack_type=kind.code, bought_on=date(2023, 6, 1), cycles=20, cell_mohm=cell_mohm,
            cell_mohm_on=date(2024, 5, 1) if cell_mohm else None, capacity_mah=capacity_mah,
        ),
        pack_type=kind,
    )  # fmt: skip


def trainer() -> Aircraft:
    """Four analog servos on a four-cell pack straight through a switch, everything recorded."""
    code = "TR"
    aileron = surface(code, "AIL", Function.AILERON, 600, 45, 250, 18, aspect_ratio=6.0, incidence_deg=4)
    elevator = surface(code, "ELE", Function.ELEVATOR, 480, 40, 140, 18, aspect_ratio=4.0, incidence_deg=4)
    rudder = surface(code, "RUD", Function.RUDDER, 200, 60, 160, 20, aspect_ratio=2.0, incidence_deg=4)
    switch = Switch(aircraft=code, code="SW", switch_type="S1s")
    return Aircraft(
        airframe=Airframe(
            code=code, name="Dunnalow", aircraft_class=AircraftClass.SPORT, power=PowerKind.GLOW,
            span_mm=1600, wing_area_dm2=40, mean_chord_mm=250, all_up_mass_g=2600, dive_speed_m_s=30,
            level_speed_m_s=22, flight_min=12, cg_datum="leading edge", cg_fore_mm=62, cg_aft_mm=80,
            cg_measured_mm=71,
        ),
        receivers=(Receiver(aircraft=code, supply_min_v=3.5, supply_max_v=8.4, idle_ma=60),),
        surfaces=(aileron, elevator, rudder),
        fits=(
            fit(code, "AIL", Function.AILERON, TS_31, surface=aileron, arm_mm=12, horn_mm=18, awg=28),
            fit(code, "ELE", Function.ELEVATOR, TS_31, surface=elevator, arm_mm=12, horn_mm=18, awg=28),
            fit(code, "RUD", Function.RUDDER, TS_31, surface=rudder, arm_mm=12, horn_mm=18, awg=28),
            fit(code, "THR", Function.THROTTLE, TS_31, arm_mm=12, horn_mm=12, awg=28, balance_arm_mm=-100),
        ),
        paths=(
            PowerPath(
                feed=Feed(
                    aircraft=code, code="RX", switch="SW", lead_length_mm=250, lead_awg=22, joints=2
                ),
                packs=(pack(NIMH_4, "B1", cell_mohm=26.0, capacity_mah=1900),),
                switch=switch,
                switch_type=SwitchType(code="S1s", switch=SwitchKind.SLIDE, continuous_a=3, contact_mohm=25),
            ),
        ),
        read_on=TODAY,
    )  # fmt: skip


def helicopter() -> Aircraft:
    """An electric helicopter: two drive packs in series, a switching supply, a flybarless unit."""
    code = "HE"
    unit = Stabiliser(aircraft=code, code="FBL", idle_ma=110, supply_min_v=3.6, supply_max_v=8.4)
    kind = RegulatorType(
        code="SW8", regulator=RegulatorKind.BEC, input_max_v=52, output_min_v=5, output_max_v=8,
        continuous_a=10, burst_a=20, efficiency_pct=88, drop_out_v=1.0,
    )  # fmt: skip
    cyclic = [
        fit(
            code, f"CYC{number}", Function.CYCLIC, MK_G30, arm_mm=15, through=unit,
            linkage=LinkageKind.BALL_LINK, lead_mm=250,
        )
        for number in (1, 2, 3)
    ]  # fmt: skip
    tail = fit(code, "TAIL", Function.TAIL, OF_T55, arm_mm=10, through=unit, lead_mm=700, awg=22)
    return Aircraft(
        airframe=Airframe(
            code=code, name="Nimbrel", aircraft_class=AircraftClass.HELI_EL, power=PowerKind.ELECTRIC,
            all_up_mass_g=5200, flight_min=6,
        ),
        rotors=(
            Rotor(
                aircraft=code, diameter_mm=1580, blades=2, blade_chord_mm=61, blade_mass_g=185, head_rpm=2150,
                flybar=False, swash=Swash.THREE_120, grip_arm_mm=23, pitch_deg=12,
            ),
            Rotor(
                aircraft=code, rotor=RotorKind.TAIL, diameter_mm=260, blades=2, blade_chord_mm=29,
                blade_mass_g=11, head_rpm=10100, grip_arm_mm=14, pitch_deg=25,
            ),
        ),
        receivers=(Receiver(aircraft=code, idle_ma=60, supply_min_v=3.5, supply_max_v=8.4),),
        stabilisers=(unit,),
        fits=(*cyclic, tail),
        paths=(
            PowerPath(
                feed=Feed(
                    aircraft=code, code="MAIN", role=FeedRole.DRIVE, join=PackJoin.SERIES, regulator="BEC",
                    lead_length_mm=150, lead_awg=20, joints=1,
                ),
                packs=(pack(DRIVE_6, "B41", 2.1), pack(DRIVE_6, "B42", 2.2)),
                regulator=Regulator(aircraft=code, code="BEC", regulator_type="SW8", set_v=8.0),
                regulator_type=kind,
            ),
        ),
        read_on=TODAY,
    )  # fmt: skip


def biplane(*, isolated: bool = True) -> Aircraft:
    """A big petrol biplane: digital servos, a ganged rudder, two packs through isolating inputs."""
    code = "BI"
    left = surface(code, "AIL-L", Function.AILERON, 1360, 85, 380, 22, aspect_ratio=5.5)
    right = surface(code, "AIL-R", Function.AILERON, 1360, 85, 380, 22, aspect_ratio=5.5)
    elevator = surface(code, "ELE", Function.ELEVATOR, 840, 110, 260, 20, aspect_ratio=4.0)
    rudder = surface(code, "RUD", Function.RUDDER, 480, 160, 320, 28, aspect_ratio=2.0, wash_pct=50)
    board = RegulatorType(
        code="R3", regulator=RegulatorKind.PASS, continuous_a=15, burst_a=30, inputs=2, isolated=isolated,
        drop_out_v=0.1,
    )  # fmt: skip
    electronic = SwitchType(
        code="S2s", switch=SwitchKind.ELECTRONIC, continuous_a=15, burst_a=25, contact_mohm=6
    )

    def path(name: str, tag: str) -> PowerPath:
        return PowerPath(
            feed=Feed(
                aircraft=code, code=name, switch=f"S{name}", regulator="R3", lead_length_mm=300, lead_awg=20,
                joints=1, isolated=isolated,
            ),
            packs=(pack(LIION_2, tag, cell_mohm=22.0, capacity_mah=2900),),
            switch=Switch(aircraft=code, code=f"S{name}", switch_type="S2s"),
            switch_type=electronic,
            regulator=Regulator(aircraft=code, code="R3", regulator_type="R3"),
            regulator_type=board,
        )  # fmt: skip

    return Aircraft(
        airframe=Airframe(
            code=code, name="Marquess", aircraft_class=AircraftClass.GIANT, power=PowerKind.PETROL,
            span_mm=2130, wing_count=2, wing_area_dm2=140, all_up_mass_g=15200, dive_speed_m_s=38,
            level_speed_m_s=28, flight_min=12, propeller="24x10", cg_fore_mm=100, cg_aft_mm=130,
            cg_measured_mm=140,
        ),
        receivers=(Receiver(aircraft=code, idle_ma=110, supply_min_v=3.5, supply_max_v=8.4),),
        surfaces=(left, right, elevator, rudder),
        fits=(
            fit(code, "AIL-L", Function.AILERON, MK_G30, surface=left, arm_mm=22, horn_mm=25, lead_mm=700),
            fit(code, "AIL-R", Function.AILERON, MK_G30, surface=right, arm_mm=22, horn_mm=25, lead_mm=700),
            fit(code, "ELE", Function.ELEVATOR, MK_G30, surface=elevator, arm_mm=22, horn_mm=28, lead_mm=900),
            fit(code, "RUD-A", Function.RUDDER, MK_G30, surface=rudder, arm_mm=25, horn_mm=30, lead_mm=1000),
            fit(code, "RUD-B", Function.RUDDER, MK_G30, surface=rudder, arm_mm=25, horn_mm=30, lead_mm=1000),
            fit(code, "THR", Function.THROTTLE, TS_31, lead_mm=400, balance_arm_mm=-200),
        ),
        paths=(path("A", "B33"), path("B", "B34")),
        read_on=TODAY,
    )  # fmt: skip


def on_regulator(*, set_v: float | None, drop_out_v: float = 0.6, burst_a: float = 10.0) -> Aircraft:
    """The trainer on a two-cell lithium pack through a linear regulator."""
    aircraft = trainer()
    path = aircraft.paths[0]
    kind = RegulatorType(
        code="R5", regulator=RegulatorKind.LINEAR, drop_out_v=drop_out_v, continuous_a=5, burst_a=burst_a
    )
    regulated = replace(
        path,
        feed=replace(path.feed, regulator="R"),
        packs=(pack(LIION_2, "B9", cell_mohm=22.0, capacity_mah=2800.0),),
        regulator=Regulator(aircraft=aircraft.code, code="R", regulator_type="R5", set_v=set_v),
        regulator_type=kind,
    )
    return replace(aircraft, paths=(regulated,))
