"""Invented libraries and aircraft by seed: small ones to be enumerated, large ones to be timed."""

from __future__ import annotations

import dataclasses
import random
from dataclasses import dataclass

from hangar.parts import (
    Aircraft,
    Arm,
    Library,
    PackType,
    RegulatorType,
    Servo,
    ServoFit,
    ServoRating,
    ServoType,
    SwitchType,
)
from hangar.parts.choices import (
    AircraftClass,
    Chemistry,
    Drive,
    Function,
    MaxMeans,
    PowerKind,
    RegulatorKind,
    Side,
    SwitchKind,
)
from hangar.refit.request import RefitRequest
from hangar.rules import example_parts as parts
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_path
from hangar.survey.model import Conditions

DAY = Conditions(today=ex.DAY)
BANDS = ("Tessivar", "Ostrafell", "Marrowick")


def servo_types(rng: random.Random, count: int) -> dict[str, ServoType]:
    """Servo types with two to four rated rows, whole prices and masses, and absolute upper volts."""
    types = [_servo_type(rng, f"{rng.choice('TOM')}{number:04d}") for number in range(count)]
    return {kind.code: kind for kind in types}


def _servo_type(rng: random.Random, code: str) -> ServoType:
    torque, seconds = rng.uniform(0.25, 3.0), rng.uniform(0.07, 0.22)
    top = rng.choice((6.0, 7.4, 8.4, 8.4))
    rows = [volts for volts in (4.8, 6.0, 7.4, 8.4) if volts <= top]
    stated = rng.random() < 0.7
    drive = Drive.ANALOG if rng.random() < 0.2 else Drive.DIGITAL
    return ServoType(
        code=code,
        maker=rng.choice(BANDS),
        drive=drive,
        pulse_us=760.0 if rng.random() < 0.05 else 1520.0,
        max_rate_hz=55.0 if drive is Drive.ANALOG else 333.0,
        supply_min_v=4.0,
        supply_max_v=top,
        max_means=MaxMeans.ABSOLUTE,
        idle_ma=8.0 if drive is Drive.ANALOG else float(rng.randrange(20, 70)),
        dead_band_us=2.0,
        case_length_mm=rng.choice((40.5, 40.5, 40.5, 44.0)),
        case_width_mm=rng.choice((20.0, 20.0, 20.0, 23.0)),
        case_height_mm=38.0,
        screw_length_mm=49.0,
        mass_g=float(rng.randrange(30, 90)),
        spline_teeth=rng.choice((23, 25, 25)),
        spline_mm=5.9,
        lead_awg=24,
        price=float(rng.randrange(10, 150)),
        ratings=tuple(
            ServoRating(
                servo_type=code,
                rated_v=volts,
                torque_nm=round(torque * (volts / 6.0) ** 0.9, 3),
                transit_s=round(seconds * (6.0 / volts) ** 0.9, 4),
                stall_a=round(torque / seconds * volts / 6.0 * 0.24, 2) if stated else None,
            )
            for volts in rows
        ),
    )


ARMS = {
    code: Arm(code=code, spline_teeth=teeth, spline_mm=5.9, price=price)
    for code, teeth, price in (("A23", 23, 4.0), ("A25", 25, 7.0))
}


def pack_types(rng: random.Random, count: int) -> dict[str, PackType]:
    """Nickel and lithium packs without a stated limit of current."""
    found = {}
    for number in range(count):
        lithium = rng.random() < 0.6
        code = f"P{number:02d}"
        found[code] = PackType(
            code=code,
            maker="Lumbry",
            chemistry=Chemistry.LIPO if lithium else Chemistry.NIMH_LSD,
            series=2 if lithium else rng.choice((4, 5)),
            capacity_mah=5000.0,
            cell_mohm=float(rng.randrange(2, 12)),
            mass_g=float(rng.randrange(80, 300)),
            price=float(rng.randrange(15, 60)),
            life_y=4.0,
            life_cycles=400,
        )
    return found


def regulator_types(count: int) -> dict[str, RegulatorType]:
    """Switching regulators without a stated limit of current."""
    return {
        f"R{number}": RegulatorType(
            code=f"R{number}", maker="Hollin", regulator=RegulatorKind.SWITCHING, input_max_v=13.0,
            output_min_v=5.0, output_max_v=8.0, drop_out_v=0.2, efficiency_pct=90.0 + number, mass_g=20.0,
            price=25.0 + 10.0 * number, fails_through=False, isolated=True,
        )
        for number in range(count)
    }  # fmt: skip


def switch_types(count: int) -> dict[str, SwitchType]:
    """Electronic switches without a stated limit of current."""
    return {
        f"S{number}": SwitchType(
            code=f"S{number}", maker="Hollin", switch=SwitchKind.ELECTRONIC, contact_mohm=4.0 - number,
            mass_g=15.0, price=20.0 + number,
        )
        for number in range(count)
    }  # fmt: skip


@dataclass(frozen=True)
class SmallCase:
    """An aircraft, its library and limits, small enough to try every refit."""

    aircraft: Aircraft
    library: Library
    limits: RefitRequest
    groups: tuple[tuple[str, ...], ...]


TRAINER_GROUPS = (("AIL-L", "AIL-R"), ("ELE",), ("RUD",), ("THR",))
HELICOPTER_GROUPS = (("CYC-1", "CYC-2", "CYC-3"), ("TAIL",), ("THR",))


def small_case(seed: int) -> SmallCase:
    """A case of some dozens of refits: loads, spares, wishes, budget and locked places by chance."""
    rng = random.Random(seed)
    helicopter = rng.random() < 0.25
    groups = HELICOPTER_GROUPS if helicopter else TRAINER_GROUPS
    aircraft = _loaded(ex.helicopter() if helicopter else ex.trainer(), rng)
    own = {fit.servo_type.code: fit.servo_type for fit in aircraft.fits if fit.servo_type}
    kinds = servo_types(rng, rng.choice((2, 3)))
    present = {code: dataclasses.replace(kind, price=30.0) for code, kind in own.items()}
    if rng.random() < 0.5:
        kinds |= present
    supply = rng.random() < 0.5
    library = Library(
        servo_types=kinds,
        arms=ARMS,
        pack_types=pack_types(rng, 1) if supply else {},
        regulator_types=regulator_types(1) if supply and rng.random() < 0.4 else {},
        switch_types=switch_types(1) if supply and rng.random() < 0.3 else {},
        spare_servos=_spares(rng, kinds),
    )
    free = rng.sample(groups, min(len(groups), 1 if supply and len(kinds) > 2 else 2))
    locked = frozenset(code for group in groups if group not in free for code in group)
    limits = RefitRequest(
        budget=float(rng.randrange(60, 400)) if rng.random() < 0.4 else None,
        mass_g=float(rng.randrange(0, 120)) if rng.random() < 0.2 else None,
        most_types=rng.choice((None, None, None, 1)),
        locked=locked,
        gauges=rng.choice(((), (20,))),
        set_points_v=(6.0,),
        conditions=DAY,
    )
    return SmallCase(aircraft, library, limits, groups)


def faulty_case(seed: int) -> SmallCase:
    """A small case with something to cure: flown fast, weak servos, screws and keepers missing."""
    case, rng = small_case(seed), random.Random(f"faulty {seed}")
    aircraft = case.aircraft
    if aircraft.surfaces:
        aircraft = with_airframe(aircraft, dive_speed_m_s=float(rng.randrange(30, 65)))
    for group in case.groups:
        for code in group if rng.random() < 0.6 else ():
            fit = aircraft.fit(code)
            assert fit is not None
            if fit.servo_type is not None:
                ratings = ex.weaker(fit.servo_type, rng.choice((0.15, 0.25, 0.4)))
                aircraft = with_fit(
                    aircraft, code, servo_type={"code": f"OLD {group[0]}", "ratings": ratings}
                )
    free = [code for group in case.groups for code in group if code not in case.limits.locked]
    flaws: tuple[dict[str, object], ...] = (
        {"installation": {"screws_fitted": 2, "screws_of": 4}},
        {"linkage": {"clevis_keeper": False}},
    )
    for flaw in flaws:
        if rng.random() < 0.5:
            aircraft = with_fit(aircraft, rng.choice(free), **flaw)
    return dataclasses.replace(case, aircraft=aircraft)


def _spares(rng: random.Random, kinds: dict[str, ServoType]) -> dict[str, Servo]:
    found = {}
    for number in range(rng.choice((0, 0, 1, 2))):
        tag = f"9{number:03d}"
        found[tag] = Servo(
            tag=tag, servo_type=rng.choice(sorted(kinds)), bought_used=False, tested_on=parts.ago(30)
        )
    return found


def _loaded(aircraft: Aircraft, rng: random.Random) -> Aircraft:
    """Other sizes of surfaces, speeds and leads, so that loads differ from case to case."""
    sizes = {surface.code: rng.uniform(0.8, 2.8) for surface in aircraft.surfaces}
    if "AIL-R" in sizes:
        sizes["AIL-R"] = sizes["AIL-L"]
    surfaces = {
        surface.code: dataclasses.replace(surface, span_mm=round(surface.span_mm * sizes[surface.code], 1))
        for surface in aircraft.surfaces
        if surface.span_mm is not None
    }
    length = float(rng.randrange(200, 1500))
    fits = tuple(
        dataclasses.replace(
            fit,
            surface=None if fit.surface is None else surfaces[fit.surface.code],
            lead=None
            if fit.lead is None
            else dataclasses.replace(fit.lead, length_mm=length, awg=rng.choice((22, 24))),
        )
        for fit in aircraft.fits
    )
    changed = dataclasses.replace(aircraft, fits=fits, surfaces=tuple(surfaces.values()))
    kind = changed.paths[0].packs[0].pack_type
    plain = dataclasses.replace(kind, burst_a=None, continuous_a=None)
    return with_path(
        changed,
        packs=tuple(dataclasses.replace(fed, pack_type=plain) for fed in changed.paths[0].packs),
        switch_type={"burst_a": None, "continuous_a": None},
        feed={"joint_limit_a": None},
    )


def large_aircraft(seed: int, groups: int = 6, count: int = 2) -> Aircraft:
    """A giant with some groups of left and right surfaces, each servo on a surface of its own."""
    rng = random.Random(seed)
    code = "BIG"
    functions = (Function.AILERON, Function.ELEVATOR, Function.RUDDER, Function.FLAP, Function.SPOILER,
                 Function.V_TAIL)  # fmt: skip
    fits: list[ServoFit] = []
    for number in range(groups):
        function = functions[number % len(functions)]
        span, chord = rng.uniform(300.0, 800.0), rng.uniform(45.0, 75.0)
        for place in range(count):
            side = (Side.LEFT, Side.RIGHT)[place % 2] if count > 1 else Side.MIDDLE
            name = f"{function.value.upper()[:3]}-{number}-{place}"
            surface = parts.surface(
                code,
                name if count < 3 else f"{function}-{number}",
                name,
                function,
                side,
                span_mm=span,
                chord_mm=chord,
                whole_mm=280.0,
            )
            fits.append(
                parts.fit(code, name, name, function, len(fits) + 1, ex.STRONG, side=side, surface=surface)
            )
    frame = parts.airframe(
        code, AircraftClass.GIANT, PowerKind.PETROL, span_mm=2600.0, mean_chord_mm=380.0,
        all_up_mass_g=12000.0, dive_speed_m_s=35.0, flight_min=10.0,
    )  # fmt: skip
    path = parts.path(code, "A", parts.fed("BIG1", ex.LITHIUM_2, rest_v=8.36, load_a=5.0, loaded_v=8.32))
    return parts.assembled(frame, tuple(fits), paths=(path,))


def large_library(seed: int, types: int, spare_types: int = 0) -> Library:
    """A library of many invented types with a few supplies, and two spares of some types."""
    rng = random.Random(seed)
    kinds = servo_types(rng, types)
    stocked = rng.sample(sorted(kinds), min(spare_types, types))
    return Library(
        servo_types=kinds,
        arms=ARMS,
        pack_types=pack_types(rng, 3),
        regulator_types=regulator_types(1),
        spare_servos={
            f"{code}-{number}": Servo(tag=f"{code}-{number}", servo_type=code)
            for code in stocked
            for number in range(2)
        },
    )
