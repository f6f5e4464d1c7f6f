"""A last set of set-ups, labelled before they were judged with every line and constant frozen.

Every label: common practice, no source.
"""

from __future__ import annotations

import dataclasses

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, Chemistry, PowerKind, SurfaceKind, Swash
from hangar.rules import Level
from hangar.rules.changing import with_fit, with_surface
from hangar.rules.example_parts import DAY
from tests.rules.practice import parts as p
from tests.rules.practice.bad_loads import _fitted, _hv, _metal, bad
from tests.rules.practice.building import A, E, F, Moved, R, V, heli, plane
from tests.rules.practice.setup import Setup

ELECTRIC, GLOW, PETROL, NONE, TOW, TURBINE = (
    PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL, PowerKind.NONE, PowerKind.TOW, PowerKind.TURBINE
)  # fmt: skip


def cub() -> Aircraft:
    """A foam high-winger of 1.4 m with flaps on 9 g servos, bought ready; no dive speed."""
    return plane(
        "CU", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(380, 36, 200), throw=(18, 14), two=True, horn=13, awg=28),
        Moved(what=F, kind=p.MICRO, size=(300, 40, 210), throw=(0, 40), two=True, horn=13, awg=28),
        Moved(what=E, kind=p.MICRO, size=(430, 45, 130), throw=(18, 18), horn=13, awg=28),
        Moved(what=R, kind=p.MICRO, size=(180, 60, 130), throw=(28, 28), horn=13, awg=28),
        paths=p.from_drive("CU", p.drive(3, 2200), p.BEC, 5.0), span=1400, area=29, mass=1150, dive=None,
        minutes=9,
    )  # fmt: skip


def pattern_two_metre() -> Aircraft:
    """A contest pattern aircraft of two metres and 4.9 kg on high-volt minis."""
    return plane(
        "P2", AircraftClass.SPORT, ELECTRIC,
        Moved(what=A, kind=p.WING10, size=(650, 70, 400), throw=(14, 14), two=True, horn=18, awg=24),
        Moved(what=E, kind=p.WING10, size=(340, 80, 220), throw=(15, 15), two=True, horn=18, awg=24),
        Moved(what=R, kind=p.DIGITAL_HV, size=(330, 130, 270), throw=(28, 28), horn=25, awg=24, lead=900),
        paths=p.direct("P2", p.ION2, load_a=3.0), span=1980, area=95, mass=4900, dive=38, minutes=8,
        flights=2,
    )  # fmt: skip


def two_metre_slope() -> Aircraft:
    """A two-metre slope aerobat of 2.1 kg, minis everywhere, V-tail, 48 m/s."""
    return plane(
        "VA", AircraftClass.SAIL_FAST, NONE,
        Moved(what=A, kind=p.MINI, size=(820, 42, 190), throw=(16, 16), two=True, horn=14, awg=24, lead=600),
        Moved(what=V, kind=p.MINI, size=(300, 48, 120), throw=(14, 14), two=True, horn=16, awg=24, lead=800),
        paths=p.direct("VA", p.SUB_C5, load_a=2.0), span=2000, area=38, mass=2100, dive=48, minutes=30,
        flights=2,
    )  # fmt: skip


def vintage_giant_glider() -> Aircraft:
    """An open-cockpit glider of 4.5 m and 7 kg, slow, 1 N m digitals on five big cells."""
    return plane(
        "VG", AircraftClass.SAIL_SCALE, TOW,
        Moved(what=A, kind=p.DIGITAL, size=(950, 65, 230), throw=(22, 12), two=True, horn=18, awg=22,
              lead=1200),
        Moved(what=E, kind=p.DIGITAL, size=(800, 80, 200), throw=(16, 16), horn=22, awg=22, lead=1000),
        Moved(what=R, kind=p.DIGITAL, size=(400, 170, 260), throw=(28, 28), horn=26, awg=22, lead=1000),
        paths=p.direct("VG", p.SUB_C5, 2, 2.0), span=4500, area=120, mass=7000, dive=27, minutes=30,
        flights=2,
    )  # fmt: skip


def fifty_cc_fighter() -> Aircraft:
    """A fighter of 2.1 m and 9.5 kg on two-cell iron packs and 2 N m; nobody entered flap speed or dive."""
    return plane(
        "FC", AircraftClass.SCALE, PETROL,
        Moved(what=A, kind=p.HV20, size=(560, 62, 320), throw=(13, 12), two=True, horn=22, awg=22, lead=600),
        Moved(what=F, kind=p.HV20, size=(420, 80, 400), throw=(0, 45), two=True, horn=26, awg=22, lead=400),
        Moved(what=E, kind=p.HV20, size=(380, 70, 220), throw=(13, 13), two=True, horn=22, awg=22, lead=1000),
        Moved(what=R, kind=p.HV20, size=(320, 110, 250), throw=(24, 24), horn=26, awg=22, lead=1000),
        paths=p.direct("FC", p.LIPO2_BIG, 2, 3.0), span=2100, area=80, mass=9500, dive=None, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def canard_jet() -> Aircraft:
    """A canard jet of 15 kg: all-moving canards at 22 %, elevons of 3.5 N m, 82 m/s."""
    return plane(
        "CJ", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV35, size=(560, 80, 520), throw=(14, 14), two=True, horn=26, awg=20, lead=700),
        Moved(what=E, kind=p.HV20, size=(260, 190, 190), throw=(10, 10), two=True, horn=30, awg=20, lead=700,
              more={"carried": SurfaceKind.ALL_MOVING, "pivot_pct": 22.0, "whole_chord_mm": 190.0}),
        Moved(what=R, kind=p.HV20, size=(320, 95, 300), throw=(18, 18), horn=26, awg=20, lead=700),
        paths=p.direct("CJ", p.LIPO2_BIG, 2, 5.0), span=1800, area=120, mass=15000, dive=82, minutes=8,
        flights=1, extinguisher_on=DAY,
    )  # fmt: skip


def quiet_700() -> Aircraft:
    """A 700 for smooth sport on a low head, 1.3 N m cyclic, the controller's supply at 7.4 V."""
    return heli(
        "Q7", AircraftClass.HELI_EL, ELECTRIC, (p.CYCLIC_M, Swash.THREE_120), p.TAIL_L,
        paths=p.from_drive("Q7", p.drive(12, 5000, 30), p.BEC_BIG, 7.4), rotor=(690, 60, 170, 1500, 11),
        tail_rotor=(105, 29, 10, 7000), flybar=False, mass=4800, minutes=8,
    )  # fmt: skip


def turbine_big_scale() -> Aircraft:
    """A scale turbine machine of 23 kg with five blades, 850 a minute, 4.5 N m under the plate."""
    strong = dataclasses.replace(p.HV45, code="PR-HV 45 swash")
    return heli(
        "T23", AircraftClass.HELI_TURBINE, TURBINE, (strong, Swash.THREE_120), p.TAIL_BIG,
        paths=p.direct("T23", p.LIPO2_BIG, 2, load_a=5.0), rotor=(1050, 82, 480, 850, 10),
        tail_rotor=(180, 44, 30, 4000), flybar=False, mass=23000, minutes=10, flights=2, blades=5,
        extinguisher_on=DAY, arm=16,
    )  # fmt: skip


SETUPS = (
    Setup(name="foam high-winger as sold", why="six 9 g servos come in the box", make=cub),
    Setup(name="contest pattern of two metres", why="1.1 N m per half is what the finals fly",
          make=pattern_two_metre),
    Setup(name="slope aerobat of two metres", why="half a newton metre a surface at 48 m/s",
          make=two_metre_slope),
    Setup(name="open-cockpit glider", why="1 N m at 27 m/s is plenty", make=vintage_giant_glider),
    Setup(name="fighter with 50 cc", why="2 N m a surface; speeds nobody measured", make=fifty_cc_fighter),
    Setup(name="canard jet of 15 kg", why="pivots at 22 %, 3.5 N m on the elevons", make=canard_jet),
    Setup(name="700 on a low head", why="1.3 N m is enough for smooth flying", make=quiet_700),
    Setup(name="turbine heli of 23 kg", why="4.5 N m at a scale head speed", make=turbine_big_scale),
    bad("5 g servos in a slope aerobat's wing", "0.045 N m at 48 m/s: no roll and flutter",
        lambda: _fitted(two_metre_slope(), _hv(p.TINY), "AIL-L", "AIL-R"), "torque-short-surface"),
    bad("canard pivots at 33 %", "behind the centre: it snaps over",
        lambda: with_surface(canard_jet(), "ELE-L", "ELE-R", pivot_pct=33.0), "all-moving-pivot"),
    bad("12 g servos under a 700's plate", "a fifth of the torque",
        lambda: _fitted(quiet_700(), _metal(p.MICRO), "CYC-1", "CYC-2", "CYC-3"), "torque-short-cyclic"),
    bad("5 g servo on a fighter's rudder of 50 cc", "soft and far too weak for a fin of that size",
        lambda: _fitted(fifty_cc_fighter(), _hv(p.TINY), "RUD"), "torque-short-surface",
        "torque-below-giant-minimum", least=Level.CAUTION),
    bad("pen cells in a contest pattern aircraft", "five digitals on 700 mAh of pen cells",
        lambda: dataclasses.replace(pattern_two_metre(), paths=p.direct("P2", p.cells(
            Chemistry.NIMH, 5, 700.0, 75.0, 1.5, 3.0))), "under-volts-receiver", "discharge-rate-short",
        "under-volts-servo"),
    bad("glider's rudder on a lead of three metres AWG 30", "half the torque at the end of it",
        lambda: with_fit(vintage_giant_glider(), "RUD", lead={"length_mm": 3000.0, "awg": 30}), "lead-drop",
        "lead-gauge-small", "under-volts-servo", least=Level.CAUTION),
)  # fmt: skip
