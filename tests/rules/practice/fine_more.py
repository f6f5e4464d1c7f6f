"""More sound set-ups, of kinds that the others leave out. Every label: common practice, no source."""

from __future__ import annotations

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, PowerKind, SurfaceKind, Swash
from hangar.rules.example_parts import DAY
from tests.rules.practice import parts as p
from tests.rules.practice.building import A, E, F, Moved, R, S, heli, plane
from tests.rules.practice.setup import Setup

ELECTRIC, GLOW, PETROL, NONE, TURBINE = (
    PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL, PowerKind.NONE, PowerKind.TURBINE
)  # fmt: skip


def delta() -> Aircraft:
    """A tailless pusher of foam, two 9 g servos on two elevons."""
    return plane(
        "DE", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(420, 45, 230), throw=(15, 15), two=True, horn=13, awg=28),
        Moved(what=E, kind=p.MICRO, size=(200, 40, 230), throw=(12, 12), horn=13, awg=28),
        paths=p.from_drive("DE", p.drive(3, 1300), p.BEC, 5.0), span=1000, area=22, mass=650, dive=25,
        minutes=8,
    )  # fmt: skip


def old_timer() -> Aircraft:
    """A free-flight design of the thirties of two metres, rudder and elevator on old analogs."""
    return plane(
        "OL", AircraftClass.SPORT, ELECTRIC,
        Moved(what=E, kind=p.OLD, size=(520, 45, 170), throw=(14, 14)),
        Moved(what=R, kind=p.OLD, size=(230, 60, 170), throw=(25, 25)),
        paths=p.from_drive("OL", p.drive(3, 3000), p.BEC, 5.0), span=2100, area=60, mass=2000, dive=18,
        minutes=15,
    )  # fmt: skip


def quarter_scale() -> Aircraft:
    """A quarter-scale high-winger of the eighties: 12 kg, metal analogs, two five-cell packs."""
    return plane(
        "QS", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.OLD_GIANT, size=(800, 70, 400), throw=(18, 12), two=True, horn=24, awg=22,
              lead=900),
        Moved(what=E, kind=p.STRONGER, size=(420, 85, 230), throw=(15, 15), two=True, horn=24, awg=22,
              lead=900),
        Moved(what=R, kind=p.OLD_GIANT, size=(380, 140, 270), throw=(25, 25), horn=28, awg=22, lead=900),
        paths=p.direct("QS", p.SUB_C5, 2, 2.0), span=2700, area=110, mass=11500, dive=26, minutes=10,
        flights=2,
    )  # fmt: skip


def small_petrol() -> Aircraft:
    """A 30 cc sport aircraft of 6 kg on iron cells and low-volt digitals."""
    return plane(
        "SP", AircraftClass.SPORT, PETROL,
        Moved(what=A, kind=p.DIGITAL, size=(600, 60, 340), throw=(18, 16), two=True, awg=24, lead=500),
        Moved(what=E, kind=p.DIGITAL, size=(320, 70, 200), throw=(18, 18), two=True, awg=24, lead=900),
        Moved(what=R, kind=p.DIGITAL, size=(300, 100, 230), throw=(28, 28), horn=24, awg=24, lead=900),
        paths=p.direct("SP", p.LIFE2, load_a=2.0), span=1900, area=70, mass=6000, dive=34, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def glow_3d() -> Aircraft:
    """A 3D aircraft of 1.5 m and 3 kg with a sixty, digitals of 1 N m on five cells."""
    return plane(
        "GD", AircraftClass.AEROBATIC_3D, GLOW,
        Moved(what=A, kind=p.DIGITAL, size=(520, 85, 330), throw=(30, 30), two=True, horn=22),
        Moved(what=E, kind=p.DIGITAL, size=(560, 100, 230), throw=(40, 40), horn=22, use=48),
        Moved(what=R, kind=p.DIGITAL, size=(330, 140, 240), throw=(40, 40), horn=24, use=50),
        paths=p.direct("GD", p.SUB_C5, load_a=2.0), span=1500, area=52, mass=3100, dive=26, minutes=9,
        flights=3,
    )  # fmt: skip


def slope_scale() -> Aircraft:
    """A scale slope glider of 2.6 m with rising air brakes and minis."""
    return plane(
        "SC", AircraftClass.SAIL_SCALE, NONE,
        Moved(what=A, kind=p.MINI, size=(600, 38, 150), throw=(18, 9), two=True, horn=15, lead=700, awg=24),
        Moved(what=S, kind=p.MINI, size=(200, 20, 180), throw=(45, 0), two=True, horn=15, lead=400, awg=24,
              more={"carried": SurfaceKind.PLATE}),
        Moved(what=E, kind=p.MINI, size=(420, 45, 120), throw=(12, 12), horn=15, lead=700, awg=24),
        Moved(what=R, kind=p.MINI, size=(220, 80, 150), throw=(25, 25), horn=16, lead=700, awg=24),
        paths=p.direct("SC", p.SUB_C5, load_a=2.0), span=2600, area=40, mass=2300, dive=35, minutes=30,
        flights=2,
    )  # fmt: skip


def small_heli() -> Aircraft:
    """A 380-size flybarless on its controller's supply."""
    return heli(
        "H3", AircraftClass.HELI_EL, ELECTRIC, (p.CYCLIC_S, Swash.THREE_120), p.TAIL_S,
        paths=p.from_drive("H3", p.drive(6, 1300, 35), p.BEC_BIG, 6.0), rotor=(380, 34, 44, 2500, 12),
        tail_rotor=(68, 20, 3.2, 11000), flybar=False, mass=1350, minutes=5, arm=12, awg=26,
    )  # fmt: skip


def big_heli() -> Aircraft:
    """An 800 for speed and big figures, 6.3 kg."""
    return heli(
        "H8", AircraftClass.HELI_EL, ELECTRIC, (p.HV35_SWASH, Swash.THREE_120), p.TAIL_BIG,
        paths=p.direct("H8", p.LIPO2_BIG, 2, load_a=5.0), rotor=(800, 66, 240, 1750, 12.5),
        tail_rotor=(115, 32, 13, 8000), flybar=False, mass=6300, minutes=5, flights=2,
    )  # fmt: skip


def sport_jet() -> Aircraft:
    """A 12 kg sport jet, 3.5 N m on the tail, flaps lowered at 30 m/s."""
    return plane(
        "SJ", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV20, size=(430, 65, 360), throw=(14, 14), two=True, horn=24, awg=20, lead=600),
        Moved(what=F, kind=p.HV35, size=(430, 90, 420), throw=(0, 40), two=True, horn=30, awg=20, lead=400,
              more={"load_speed_m_s": 30.0}),
        Moved(what=E, kind=p.HV35, size=(380, 75, 240), throw=(12, 12), two=True, horn=26, awg=20, lead=900),
        Moved(what=R, kind=p.HV20, size=(320, 85, 250), throw=(18, 18), two=True, horn=24, awg=20, lead=900),
        paths=p.direct("SJ", p.LIPO2_BIG, 2, 5.0), span=2000, area=85, mass=12500, dive=85, minutes=8,
        flights=2, extinguisher_on=DAY,
    )  # fmt: skip


def small_fan() -> Aircraft:
    """A 50 mm fan jet of 0.6 kg with 9 g servos."""
    return plane(
        "SN", AircraftClass.JET_EDF, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(180, 24, 120), throw=(10, 10), two=True, horn=12, awg=28),
        Moved(what=E, kind=p.MICRO, size=(260, 26, 90), throw=(10, 10), horn=12, awg=28),
        paths=p.from_drive("SN", p.drive(3, 1500, 40), p.BEC, 5.0), span=750, area=10, mass=620, dive=34,
        minutes=4,
    )  # fmt: skip


FINE = (
    Setup(name="tailless pusher of foam", why="two or three 9 g servos are what it is sold with", make=delta),
    Setup(name="old-timer of two metres", why="slow, and old analogs are right for it", make=old_timer),
    Setup(name="quarter scale of the eighties", why="26 m/s on metal analogs, thirty seasons",
          make=quarter_scale),
    Setup(name="sport aircraft with 30 cc", why="1 N m digitals and iron cells are the usual kit",
          make=small_petrol),
    Setup(name="3D with a sixty", why="1 N m on 3 kg, low rates when fast", make=glow_3d),
    Setup(name="slope scale with rising brakes", why="minis at 35 m/s; the brakes have no hinge",
          make=slope_scale),
    Setup(name="380 flybarless", why="the size's usual micro digitals", make=small_heli),
    Setup(name="800 flybarless", why="3.5 N m cyclic and a strong tail servo", make=big_heli),
    Setup(name="sport jet 12 kg", why="2 and 3.5 N m at 85 m/s, small throws when fast", make=sport_jet),
    Setup(name="fan jet 50 mm", why="9 g servos on tiny surfaces", make=small_fan),
)  # fmt: skip
