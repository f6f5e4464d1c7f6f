"""Two clean helicopters: a glow one with a flybar and a large electric one for hard flying."""

from __future__ import annotations

import dataclasses

from hangar.parts import Aircraft, Channel, Rotor, ServoFit, ServoType, Stabiliser
from hangar.parts.choices import (
    AircraftClass,
    FailsafeAction,
    FeedRole,
    Function,
    MaxMeans,
    PackJoin,
    PowerKind,
    RotorKind,
    Swash,
)
from hangar.rules.example_parts import (
    CYCLIC,
    LITHIUM_2,
    STRONG,
    TAIL,
    ago,
    airframe,
    assembled,
    fed,
    fit,
    path,
)
from tests.rules.clean.parts import DRIVE_6, LIFE_2, NARROW_TAIL

FAST_TAIL = dataclasses.replace(
    TAIL,
    code="CL-fast tail",
    ratings=tuple(
        dataclasses.replace(
            row, servo_type="CL-fast tail", torque_nm=2.0 * (row.torque_nm or 0.0), stall_a=8.0
        )
        for row in TAIL.ratings
    ),
)


def glow_helicopter() -> Aircraft:
    """Built about 1995: mechanical head with flybar, narrow-pulse tail servo, two-cell iron pack."""
    code = "CLH"
    gyro = Stabiliser(
        aircraft=code,
        code="G",
        supply_min_v=3.8,
        supply_max_v=8.4,
        max_means=MaxMeans.ABSOLUTE,
        idle_ma=50.0,
        pulse_us=760.0,
        rate_hz=560.0,
    )
    tail = fit(code, "TAIL", "Tail", Function.TAIL, 4, NARROW_TAIL)
    tail = dataclasses.replace(
        tail, through=gyro, position=dataclasses.replace(tail.position, through=gyro.code)
    )
    rotors = (
        Rotor(
            aircraft=code,
            diameter_mm=1530.0,
            blade_length_mm=680.0,
            blade_chord_mm=56.0,
            blade_mass_g=165.0,
            head_rpm=1500.0,
            flybar=True,
            swash=Swash.THREE_120,
            grip_arm_mm=22.0,
            pitch_deg=10.0,
            damper_flights=60,
            blade_flights=60,
            spindle_flights=60,
        ),
        Rotor(
            aircraft=code,
            rotor=RotorKind.TAIL,
            diameter_mm=260.0,
            blade_length_mm=95.0,
            blade_chord_mm=26.0,
            blade_mass_g=8.0,
            head_rpm=6200.0,
            grip_arm_mm=14.0,
            pitch_deg=25.0,
            counterweights=False,
        ),
    )
    return assembled(
        airframe(
            code,
            AircraftClass.HELI_IC,
            PowerKind.GLOW,
            built_year=1995,
            length_mm=1400.0,
            empty_mass_g=4300.0,
            all_up_mass_g=4900.0,
            flight_min=10.0,
            flights_per_charge=4,
        ),
        (
            fit(code, "CYC-1", "Cyclic left", Function.CYCLIC, 1, CYCLIC),
            fit(code, "CYC-2", "Cyclic right", Function.CYCLIC, 2, CYCLIC),
            fit(code, "CYC-3", "Cyclic fore-aft", Function.CYCLIC, 6, CYCLIC),
            tail,
            fit(code, "THR", "Throttle", Function.THROTTLE, 3, STRONG),
        ),
        rotors=rotors,
        stabilisers=(gyro,),
        paths=(path(code, "A", fed("CL01", LIFE_2, rest_v=6.66, load_a=5.0, loaded_v=6.60)),),
    )


def electric_helicopter() -> Aircraft:
    """Flybarless, twelve cells for the motor, a pack of its own for the radio."""
    code = "CLE"
    unit = Stabiliser(
        aircraft=code,
        code="FBL",
        supply_min_v=3.6,
        supply_max_v=8.4,
        max_means=MaxMeans.ABSOLUTE,
        idle_ma=110.0,
        pulse_us=1520.0,
        rate_hz=333.0,
        cyclic_pulse_us=1520.0,
        cyclic_rate_hz=200.0,
    )

    def through(position: str, name: str, function: Function, number: int, kind: ServoType) -> ServoFit:
        servo_fit = fit(code, position, name, function, number, kind)
        return dataclasses.replace(
            servo_fit, through=unit, position=dataclasses.replace(servo_fit.position, through=unit.code)
        )

    rotors = (
        Rotor(
            aircraft=code,
            diameter_mm=1560.0,
            blade_length_mm=700.0,
            blade_chord_mm=61.0,
            blade_mass_g=190.0,
            head_rpm=2000.0,
            flybar=False,
            swash=Swash.THREE_120,
            grip_arm_mm=22.0,
            pitch_deg=13.0,
            damper_flights=40,
            blade_flights=90,
            spindle_flights=90,
        ),
        Rotor(
            aircraft=code,
            rotor=RotorKind.TAIL,
            diameter_mm=290.0,
            blade_length_mm=105.0,
            blade_chord_mm=29.0,
            blade_mass_g=9.0,
            head_rpm=8200.0,
            grip_arm_mm=14.0,
            pitch_deg=28.0,
            counterweights=True,
        ),
    )
    radio = path(code, "A", fed("CL11", LITHIUM_2, rest_v=8.36, load_a=6.0, loaded_v=8.30))
    drive = path(
        code,
        "D",
        fed("CL12", DRIVE_6, rest_v=25.1, load_a=20.0, loaded_v=24.9),
        fed("CL13", DRIVE_6, rest_v=25.1, load_a=20.0, loaded_v=24.9),
        role=FeedRole.DRIVE,
        join=PackJoin.SERIES,
        switch=None,
    )
    aircraft = assembled(
        airframe(
            code,
            AircraftClass.HELI_EL,
            PowerKind.ELECTRIC,
            length_mm=1350.0,
            empty_mass_g=3700.0,
            all_up_mass_g=5300.0,
            flight_min=5.0,
            flights_per_charge=1,
        ),
        (
            through("CYC-1", "Cyclic left", Function.CYCLIC, 1, CYCLIC),
            through("CYC-2", "Cyclic right", Function.CYCLIC, 2, CYCLIC),
            through("CYC-3", "Cyclic fore-aft", Function.CYCLIC, 6, CYCLIC),
            through("TAIL", "Tail", Function.TAIL, 4, FAST_TAIL),
        ),
        rotors=rotors,
        stabilisers=(unit,),
        paths=(radio, dataclasses.replace(drive, switch=None, switch_type=None)),
    )
    throttle = Channel(
        aircraft=code,
        number=3,
        function=Function.THROTTLE,
        rate_hz=50.0,
        pulse_us=1520.0,
        failsafe=FailsafeAction.OFF,
        failsafe_proved_on=ago(6),
    )
    return dataclasses.replace(aircraft, channels=(*aircraft.channels, throttle))
