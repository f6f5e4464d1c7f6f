"""Sound helicopters. Every label: common practice, no source."""

from __future__ import annotations

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, PowerKind, RegulatorKind, Swash
from hangar.rules.example_parts import DAY
from tests.rules.practice import parts as p
from tests.rules.practice.building import heli
from tests.rules.practice.setup import Setup

IC, EL, TURBINE = AircraftClass.HELI_IC, AircraftClass.HELI_EL, AircraftClass.HELI_TURBINE
PLATE = Swash.THREE_120


def small_electric() -> Aircraft:
    """A 450-size, flybarless, on the controller's supply."""
    return heli(
        "H4", EL, PowerKind.ELECTRIC, (p.CYCLIC_S, PLATE), p.TAIL_S,
        paths=p.from_drive("H4", p.drive(3, 2200, 35), p.BEC, 6.0), rotor=(325, 32, 34, 2700, 11),
        tail_rotor=(60, 18, 2.5, 11500), flybar=False, mass=850, minutes=5, arm=12, awg=26,
    )  # fmt: skip


def middle_electric() -> Aircraft:
    """A 600-size for hard flying, a pack of its own for the radio."""
    return heli(
        "H6", EL, PowerKind.ELECTRIC, (p.CYCLIC_M, PLATE), p.TAIL_L,
        paths=p.direct("H6", p.LIPO2, load_a=5.0),
        rotor=(600, 54, 125, 2100, 12), tail_rotor=(95, 28, 8, 9500), flybar=False, mass=3500, minutes=5,
        flights=3,
    )  # fmt: skip


def big_electric() -> Aircraft:
    """A 700-size for contests."""
    return heli(
        "H7", EL, PowerKind.ELECTRIC, (p.CYCLIC_L, PLATE), p.TAIL_L,
        paths=p.direct("H7", p.LIPO2_BIG, load_a=5.0), rotor=(700, 62, 185, 1950, 12.5),
        tail_rotor=(105, 30, 10, 9000), flybar=False, mass=5100, minutes=5, flights=3,
    )  # fmt: skip


def old_electric() -> Aircraft:
    """A 500-size with flybar, flown gently."""
    return heli(
        "H5", EL, PowerKind.ELECTRIC, (p.MINI, PLATE), p.TAIL_S,
        paths=p.from_drive("H5", p.drive(6, 2600, 30), p.BEC, 5.5), rotor=(425, 42, 62, 2100, 10),
        tail_rotor=(70, 22, 4, 9300), flybar=True, mass=1800, minutes=7, arm=12, awg=24,
    )  # fmt: skip


def nitro_thirty() -> Aircraft:
    """A thirty-size beginner's machine: mechanical mixing, standard analogs, four cells."""
    return heli(
        "N3", IC, PowerKind.GLOW, (p.STANDARD, Swash.MECHANICAL), p.STANDARD_TAIL,
        paths=p.direct("N3", p.AA5), rotor=(550, 50, 105, 1650, 9), tail_rotor=(85, 24, 6, 7800), flybar=True,
        mass=3000, minutes=12, flights=2, awg=26, built_year=1998,
    )  # fmt: skip


def nitro_old() -> Aircraft:
    """A sixty of the eighties: nylon gears, flybar, flown for decades."""
    return heli(
        "N6", IC, PowerKind.GLOW, (p.OLD, Swash.MECHANICAL), p.STANDARD_TAIL, paths=p.direct("N6", p.AA4),
        rotor=(680, 57, 160, 1350, 8.5), tail_rotor=(100, 27, 9, 6200), flybar=True, mass=4600, minutes=12,
        flights=2, awg=26, built_year=1987,
    )  # fmt: skip


def nitro_ninety() -> Aircraft:
    """A ninety, electronic mixing, flybarless, digitals."""
    return heli(
        "N9", IC, PowerKind.GLOW, (p.CYCLIC_M, PLATE), p.TAIL_L, paths=p.direct("N9", p.LIFE2, load_a=5.0),
        rotor=(690, 60, 175, 1850, 12), tail_rotor=(105, 29, 10, 8500), flybar=False, mass=5000, minutes=8,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def petrol_heli() -> Aircraft:
    """A petrol machine for work, flybar, digitals, slow head."""
    return heli(
        "NP", IC, PowerKind.PETROL, (p.DIGITAL, PLATE), p.TAIL_L6, paths=p.direct("NP", p.LIFE2, load_a=5.0),
        rotor=(710, 62, 185, 1350, 9), tail_rotor=(105, 29, 10, 6300), flybar=True, mass=6500, minutes=15,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def scale_electric() -> Aircraft:
    """A scale body on 700 mechanics, slow head, four blades."""
    return heli(
        "SE", EL, PowerKind.ELECTRIC, (p.CYCLIC_L, PLATE), p.TAIL_L,
        paths=p.direct("SE", p.LIPO2_BIG, 2, load_a=5.0), rotor=(700, 60, 190, 1250, 10),
        tail_rotor=(105, 30, 10, 6000), flybar=False, mass=8500, minutes=7, flights=2, blades=4,
    )  # fmt: skip


def turbine_trainer() -> Aircraft:
    """Turbine mechanics in a bare frame, 8.5 kg."""
    return heli(
        "TT1", TURBINE, PowerKind.TURBINE, (p.CYCLIC_L, PLATE), p.TAIL_L,
        paths=p.direct("TT1", p.LIPO2_BIG, 2, load_a=5.0), rotor=(800, 65, 240, 1250, 10),
        tail_rotor=(120, 32, 14, 6000), flybar=False, mass=8500, minutes=8, flights=2, extinguisher_on=DAY,
    )  # fmt: skip


def turbine_scale() -> Aircraft:
    """A scale turbine machine of 15 kg, four blades, slow head."""
    return heli(
        "TT2", TURBINE, PowerKind.TURBINE, (p.HV35_SWASH, PLATE), p.TAIL_BIG,
        paths=p.direct("TT2", p.LIPO2_BIG, 2, load_a=5.0), rotor=(890, 72, 330, 1050, 10),
        tail_rotor=(150, 38, 22, 4800), flybar=False, mass=15000, minutes=8, flights=2, blades=4,
        extinguisher_on=DAY, arm=16,
    )  # fmt: skip


def linear_supply() -> Aircraft:
    """A thirty with a small linear regulator from two lithium cells to five volts and six: little heat."""
    made = nitro_thirty()
    kind = p.regulator(RegulatorKind.LINEAR, 5.0, 10.0, shed_w=6.0, drop_out_v=0.5)
    return p.regulated(made, kind, 5.8, p.LIPO2)


FINE = (
    Setup(name="450 flybarless", why="the size's usual micro digitals", make=small_electric),
    Setup(name="600 for hard flying", why="1.3 N m cyclic and a fast tail servo, as sold with it",
          make=middle_electric),
    Setup(name="700 for contests", why="2.3 N m cyclic, as sold with it", make=big_electric),
    Setup(name="500 with flybar", why="flown gently with minis", make=old_electric),
    Setup(name="thirty with standard analogs", why="the flybar carries the load; sold so for years",
          make=nitro_thirty),
    Setup(name="sixty of the eighties", why="nylon gears and a flybar flew for decades", make=nitro_old),
    Setup(name="ninety flybarless", why="1.3 N m cyclic at 1850 rpm", make=nitro_ninety),
    Setup(name="petrol work machine", why="slow head, flybar, 1 N m digitals", make=petrol_heli),
    Setup(name="scale body, four blades", why="2.3 N m at a slow head", make=scale_electric),
    Setup(name="turbine trainer heli", why="2.3 N m at a slow head, two packs", make=turbine_trainer),
    Setup(name="turbine scale heli", why="3.5 N m at a slow head, two packs", make=turbine_scale),
    Setup(name="linear regulator with little to do", why="under an ampere over two volts is a warm regulator",
          make=linear_supply),
)  # fmt: skip
