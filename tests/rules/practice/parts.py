"""Servos, packs and supplies of the practice set-ups: what the trade sells, under no maker's name.

Figures are of the usual size of their kind: common practice, no source.
"""

from __future__ import annotations

import dataclasses
from typing import Any

from hangar.parts import Aircraft, FedPack, PackType, PowerPath, Regulator, RegulatorType, ServoType
from hangar.parts.choices import Bearing, Chemistry, Drive, FeedRole, Gear, MaxMeans, RegulatorKind
from hangar.rules.example_parts import fed, path, servo_type

CASES = {
    "tiny": (16.0, 8.0, 16.0, 19.0, 3.7),
    "micro": (23.0, 12.0, 24.0, 27.5, 9.0),
    "mini": (29.0, 13.0, 30.0, 35.0, 26.0),
    "wing8": (24.0, 8.0, 24.0, 28.0, 13.0),
    "wing10": (30.0, 10.0, 30.0, 35.0, 22.0),
    "standard": (40.5, 20.0, 38.0, 49.0, 45.0),
    "large": (59.0, 29.0, 54.0, 70.0, 130.0),
}
"""Length, width, height, screw centres in millimetres and mass in grams."""

_ELECTRIC_TO_SHAFT = 0.42
"""Stall torque times no-load speed over stall power; servos of the trade lie between 0.3 and 0.6."""


def servo(
    code: str,
    case: str,
    nm: float,
    time_s: float,
    at_v: float,
    *,
    analog: bool = False,
    volts: tuple[float, ...] = (4.8, 6.0),
    gear: Gear = Gear.METAL,
    bearing: Bearing = Bearing.TWO_BALL,
    dead_us: float | None = None,
    **more: Any,
) -> ServoType:
    """A servo type of so much torque and so long for 60 degrees at ``at_v``; other volts in proportion."""
    length, width, height, screws, mass = CASES[case]
    stall_a = nm * 1.047 / time_s / at_v / _ELECTRIC_TO_SHAFT
    kind = servo_type(
        code,
        Drive.ANALOG if analog else Drive.DIGITAL,
        tuple((v, nm * v / at_v, time_s * at_v / v, round(stall_a * v / at_v, 2)) for v in volts),
        max_v=volts[-1],
        means=MaxMeans.NOMINAL if volts[-1] == 6.0 else MaxMeans.ABSOLUTE,
        gear=gear,
        teeth=25 if case in ("standard", "large") else 21,
    )
    return dataclasses.replace(
        kind, case_length_mm=length, case_width_mm=width, case_height_mm=height, screw_length_mm=screws,
        mass_g=mass, bearing=bearing, dead_band_us=dead_us or (5.0 if analog else 2.0),
        spline_mm=5.9 if case in ("standard", "large") else 4.0, **more,
    )  # fmt: skip


HV = (6.0, 7.4, 8.4)
TINY = servo("PR-3.7 g", "tiny", 0.045, 0.10, 4.8, analog=True, gear=Gear.NYLON, bearing=Bearing.PLAIN)
TOY = servo("PR-1.7 g", "tiny", 0.018, 0.09, 4.8, analog=True, gear=Gear.NYLON, bearing=Bearing.PLAIN)
BRICK = servo(
    "PR-1.7 g, one cell",
    "tiny",
    0.018,
    0.10,
    3.7,
    analog=True,
    volts=(3.3, 3.7, 4.2),
    gear=Gear.NYLON,
    bearing=Bearing.PLAIN,
)
TINY_DIGITAL = servo("PR-5 g digital", "tiny", 0.08, 0.07, 4.8, gear=Gear.NYLON, bearing=Bearing.PLAIN)
MICRO = servo("PR-9 g", "micro", 0.15, 0.12, 4.8, analog=True, gear=Gear.NYLON, bearing=Bearing.PLAIN)
MICRO_MG = servo("PR-12 g metal", "micro", 0.24, 0.11, 6.0)
LV = (4.8, 6.0, 7.4)
MINI = servo("PR-26 g metal", "mini", 0.55, 0.10, 6.0, volts=LV)
STANDARD = servo("PR-standard", "standard", 0.31, 0.22, 4.8, analog=True, gear=Gear.NYLON,
                 bearing=Bearing.ONE_BALL)  # fmt: skip
STRONGER = servo("PR-standard metal", "standard", 0.46, 0.19, 4.8, analog=True)
OLD = servo("PR-old standard", "standard", 0.29, 0.24, 4.8, analog=True, gear=Gear.NYLON,
            bearing=Bearing.PLAIN, dead_us=6.0)  # fmt: skip
DIGITAL = servo("PR-digital", "standard", 1.0, 0.14, 6.0, volts=LV)
DIGITAL_HV = servo("PR-digital HV", "standard", 1.2, 0.13, 7.4, volts=HV)
MICRO_LV = servo("PR-thin 6 g", "wing8", 0.17, 0.10, 4.8)
OLD_GIANT = servo("PR-giant of old", "large", 1.1, 0.22, 6.0, analog=True)
HV20 = servo("PR-HV 20", "standard", 2.0, 0.12, 7.4, volts=HV)
HV35 = servo("PR-HV 35", "standard", 3.5, 0.12, 7.4, volts=HV)
HV45 = servo("PR-HV 45", "standard", 4.5, 0.13, 7.4, volts=HV)
WING8 = servo("PR-wing 8", "wing8", 0.42, 0.11, 6.0, volts=(4.8, 6.0, 8.4))
WING10 = servo("PR-wing 10", "wing10", 1.1, 0.12, 7.4, volts=HV)
CYCLIC_S = servo("PR-small cyclic", "micro", 0.25, 0.09, 6.0)
CYCLIC_M = servo("PR-cyclic", "standard", 1.3, 0.09, 7.4, volts=HV)
CYCLIC_L = servo("PR-large cyclic", "standard", 2.3, 0.08, 7.4, volts=HV)
TAIL_S = servo("PR-small tail", "micro", 0.20, 0.06, 6.0, dead_us=1.5)
STANDARD_TAIL = servo("PR-quick analog", "standard", 0.28, 0.10, 4.8, analog=True)
TAIL_L6 = servo("PR-tail 6 V", "standard", 0.6, 0.06, 6.0, volts=(4.8, 6.0, 7.4), dead_us=1.0)
HV35_SWASH = servo("PR-HV 35 swash", "standard", 3.5, 0.10, 7.4, volts=HV)
TAIL_BIG = servo("PR-big tail", "standard", 1.5, 0.06, 7.4, volts=HV, dead_us=1.0)
TAIL_L = servo("PR-tail", "standard", 0.8, 0.045, 7.4, volts=HV, dead_us=1.0)


_FULL = {Chemistry.NIMH: 1.36, Chemistry.NIMH_LSD: 1.34, Chemistry.NICD: 1.35, Chemistry.LIPO: 4.17,
         Chemistry.LI_ION: 4.14, Chemistry.LIFEPO4: 3.34}  # fmt: skip


def cells(
    chemistry: Chemistry, series: int, mah: float, cell_mohm: float, steady_a: float, burst_a: float
) -> PackType:
    """A pack type by its cells."""
    nickel = chemistry in (Chemistry.NIMH, Chemistry.NIMH_LSD, Chemistry.NICD)
    return PackType(
        code=f"PR-{series} {chemistry} {mah:.0f}", chemistry=chemistry, series=series, capacity_mah=mah,
        continuous_a=steady_a, burst_a=burst_a, charge_c=1.0 if nickel else 2.0, cell_mohm=cell_mohm,
        connector="3-pin" if nickel else "bullet", lead_awg=20 if nickel else 16, mass_g=mah * series / 18.0,
        life_y=5.0 if nickel else 4.0, life_cycles=500 if nickel else 250,
    )  # fmt: skip


AA4 = cells(Chemistry.NIMH_LSD, 4, 2000.0, 14.0, 6.0, 12.0)
AA5 = cells(Chemistry.NIMH_LSD, 5, 2000.0, 14.0, 6.0, 12.0)
SUB_C5 = cells(Chemistry.NIMH, 5, 3000.0, 6.0, 20.0, 35.0)
LIFE2 = cells(Chemistry.LIFEPO4, 2, 2300.0, 8.0, 40.0, 70.0)
ION2 = cells(Chemistry.LI_ION, 2, 3200.0, 18.0, 20.0, 30.0)
LIPO2 = cells(Chemistry.LIPO, 2, 2500.0, 5.0, 50.0, 80.0)
LIPO2_BIG = cells(Chemistry.LIPO, 2, 5000.0, 3.0, 75.0, 120.0)


def drive(series: int, mah: float, c_rate: float = 30.0) -> PackType:
    """A lithium pack for a motor."""
    amps = mah / 1000.0 * c_rate
    return cells(Chemistry.LIPO, series, mah, 14.0 / (mah / 1000.0), amps, 1.8 * amps)


def charged(tag: str, kind: PackType, load_a: float = 1.0) -> FedPack:
    """A healthy pack, charged and load-tested today."""
    rest_v = kind.series * _FULL[kind.chemistry]
    lost_v = load_a * ((kind.cell_mohm or 10.0) * kind.series + 20.0) / 1000.0
    return fed(tag, kind, rest_v=round(rest_v, 2), load_a=load_a, loaded_v=round(rest_v - lost_v, 2))


def direct(code: str, kind: PackType, count: int = 1, load_a: float = 1.0) -> tuple[PowerPath, ...]:
    """One or two packs on the bus, each through a switch of its own."""
    names = "AB"[:count]
    return tuple(path(code, name, charged(f"{code}-P{name}", kind, load_a)) for name in names)


def regulator(kind: RegulatorKind, steady_a: float, burst_a: float, **more: Any) -> RegulatorType:
    """A regulator or the supply of a speed controller."""
    usual = RegulatorType(
        code=f"PR-{kind} {steady_a:g} A", regulator=kind, input_max_v=55.0, input_min_v=5.5, output_min_v=5.0,
        output_max_v=8.4, continuous_a=steady_a, burst_a=burst_a, burst_s=10.0, drop_out_v=0.4,
        efficiency_pct=None if kind is RegulatorKind.LINEAR else 88.0, shed_w=max(2.0, steady_a * 0.9),
        inputs=1, isolated=True, fails_through=False,
    )  # fmt: skip
    return dataclasses.replace(usual, **more)


def from_drive(
    code: str, pack: PackType, supply: RegulatorType, set_v: float, load_a: float = 5.0
) -> tuple[PowerPath, ...]:
    """The radio on the speed controller's supply, which hangs on the drive pack."""
    made = path(
        code, "A", charged(f"{code}-PA", pack, load_a), role=FeedRole.DRIVE, switch=None, regulator="SC",
        lead_length_mm=120.0, parallel_leads=1,
    )  # fmt: skip
    made = dataclasses.replace(
        made, switch=None, switch_type=None, regulator_type=supply,
        regulator=Regulator(aircraft=code, code="SC", regulator_type=supply.code, set_v=set_v),
    )  # fmt: skip
    return (made,)


def regulated(made: Aircraft, kind: RegulatorType, set_v: float, pack: PackType) -> Aircraft:
    """The aircraft with one pack and a regulator between it and the bus."""
    (old,) = direct(made.code, pack, load_a=1.0)
    new = dataclasses.replace(
        old, feed=dataclasses.replace(old.feed, regulator="REG"), regulator_type=kind,
        regulator=Regulator(aircraft=made.code, code="REG", regulator_type=kind.code, set_v=set_v),
    )  # fmt: skip
    return dataclasses.replace(made, paths=(new,))


BEC_SMALL = regulator(RegulatorKind.BEC, 2.0, 3.0)
BEC = regulator(RegulatorKind.BEC, 4.0, 7.0)
BEC_BIG = regulator(RegulatorKind.BEC, 10.0, 25.0)
