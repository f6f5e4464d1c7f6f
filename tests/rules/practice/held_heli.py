"""Sound helicopters that were labelled before they were judged. Every label: common practice, no source."""

from __future__ import annotations

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, PowerKind, RegulatorKind, Swash
from hangar.rules.example_parts import DAY
from tests.rules.practice import parts as p
from tests.rules.practice.building import heli
from tests.rules.practice.setup import Setup

IC, EL, TURBINE = AircraftClass.HELI_IC, AircraftClass.HELI_EL, AircraftClass.HELI_TURBINE
PLATE = Swash.THREE_120


def flybar_450() -> Aircraft:
    """A 450 of the flybar days: 9 g digitals on the plate, a small tail servo, the controller's supply."""
    return heli(
        "F4", EL, PowerKind.ELECTRIC, (p.MICRO_MG, PLATE), p.TAIL_S,
        paths=p.from_drive("F4", p.drive(3, 2200, 25), p.BEC, 5.5), rotor=(315, 32, 30, 2500, 10),
        tail_rotor=(58, 18, 2.4, 11000), flybar=True, mass=780, minutes=6, arm=12, awg=26,
    )  # fmt: skip


def sport_550() -> Aircraft:
    """A 550 flybarless for sport, 1.3 N m on the plate, the controller's supply."""
    return heli(
        "S5", EL, PowerKind.ELECTRIC, (p.CYCLIC_M, PLATE), p.TAIL_L,
        paths=p.from_drive("S5", p.drive(6, 5000, 35), p.BEC_BIG, 7.4), rotor=(550, 50, 100, 2200, 12),
        tail_rotor=(90, 26, 6.5, 9800), flybar=False, mass=3100, minutes=5,
    )  # fmt: skip


def fifty_nitro() -> Aircraft:
    """A fifty with flybar, electronic mixing, 1 N m digitals on iron cells."""
    return heli(
        "N5", IC, PowerKind.GLOW, (p.DIGITAL, PLATE), p.TAIL_L6, paths=p.direct("N5", p.LIFE2, load_a=3.0),
        rotor=(600, 54, 125, 1900, 10), tail_rotor=(92, 27, 7.5, 8600), flybar=True, mass=3600, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def regulated_700() -> Aircraft:
    """A 700 flybarless whose two cells go through a strong regulator set to 7.4 V."""
    made = heli(
        "R7", EL, PowerKind.ELECTRIC, (p.CYCLIC_L, PLATE), p.TAIL_L,
        paths=p.direct("R7", p.LIPO2_BIG, load_a=5.0), rotor=(690, 62, 180, 2000, 12.5),
        tail_rotor=(105, 30, 10, 9200), flybar=False, mass=4900, minutes=5, flights=3,
    )  # fmt: skip
    kind = p.regulator(RegulatorKind.SWITCHING, 15.0, 30.0, drop_out_v=0.2)
    return p.regulated(made, kind, 7.4, p.drive(3, 3000))


def scale_five_blades() -> Aircraft:
    """A scale machine of the 800 size, five blades, 12 kg, a thousand a minute."""
    return heli(
        "S8", EL, PowerKind.ELECTRIC, (p.HV35_SWASH, PLATE), p.TAIL_BIG,
        paths=p.direct("S8", p.LIPO2_BIG, 2, load_a=5.0), rotor=(810, 64, 250, 1000, 10),
        tail_rotor=(125, 33, 15, 5200), flybar=False, mass=12000, minutes=8, flights=2, blades=5,
    )  # fmt: skip


def scale_small() -> Aircraft:
    """A 450 in a scale body with three blades, micro digitals."""
    return heli(
        "SS4", EL, PowerKind.ELECTRIC, (p.CYCLIC_S, PLATE), p.TAIL_S,
        paths=p.from_drive("SS4", p.drive(3, 2600, 30), p.BEC, 6.0), rotor=(325, 32, 34, 1900, 9),
        tail_rotor=(60, 18, 2.5, 8600), flybar=False, mass=1150, minutes=6, arm=12, awg=26, blades=3,
    )  # fmt: skip


def turbine_twenty() -> Aircraft:
    """A scale turbine machine of 20 kg, blades of a metre, four of them, 900 a minute, 3.5 N m."""
    return heli(
        "T20", TURBINE, PowerKind.TURBINE, (p.HV35_SWASH, PLATE), p.TAIL_BIG,
        paths=p.direct("T20", p.LIPO2_BIG, 2, load_a=5.0), rotor=(1000, 80, 450, 900, 10),
        tail_rotor=(170, 42, 28, 4300), flybar=False, mass=20000, minutes=10, flights=2, blades=4,
        extinguisher_on=DAY, arm=16,
    )  # fmt: skip


def turbine_sport() -> Aircraft:
    """A turbine machine of 7.5 kg with two blades for brisk flying, 3.5 N m."""
    return heli(
        "TU7", TURBINE, PowerKind.TURBINE, (p.HV35_SWASH, PLATE), p.TAIL_BIG,
        paths=p.direct("TU7", p.LIPO2_BIG, 2, load_a=5.0), rotor=(750, 63, 220, 1500, 11),
        tail_rotor=(112, 31, 12, 7000), flybar=False, mass=7500, minutes=8, flights=2, extinguisher_on=DAY,
    )  # fmt: skip


FINE = (
    Setup(name="450 with flybar", why="9 g metal digitals flew every 450", make=flybar_450),
    Setup(name="550 flybarless", why="1.3 N m is the size's usual", make=sport_550),
    Setup(name="fifty with flybar", why="1 N m and a flybar", make=fifty_nitro),
    Setup(name="700 behind a regulator", why="15 A for long and 30 A for moments is the usual buy",
          make=regulated_700),
    Setup(name="scale 800, five blades", why="3.5 N m at a slow head", make=scale_five_blades),
    Setup(name="scale 450, three blades", why="its own micro digitals at a slower head", make=scale_small),
    Setup(name="turbine heli of 20 kg", why="three of 3.5 N m carry a slow scale head", make=turbine_twenty),
    Setup(name="turbine heli for brisk flying", why="3.5 N m at 1500 a minute", make=turbine_sport),
)  # fmt: skip
