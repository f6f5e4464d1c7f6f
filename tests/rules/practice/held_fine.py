"""Sound set-ups that were labelled before they were judged, written after the others: wings.

Every label: common practice, no source. Some leave the dive speed or a flap's own speed blank, as keepers do.
"""

from __future__ import annotations

import dataclasses
from typing import Any

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, Chemistry, Function, PowerKind, SurfaceKind
from hangar.rules.changing import with_receiver
from hangar.rules.example_parts import DAY, fit
from tests.rules.practice import parts as p
from tests.rules.practice.building import A, E, F, Moved, R, S, V, _fitted, plane, second_servo
from tests.rules.practice.setup import Setup

ELECTRIC, GLOW, PETROL, NONE, TOW, TURBINE = (
    PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL, PowerKind.NONE, PowerKind.TOW, PowerKind.TURBINE
)  # fmt: skip
_NO_MARK: dict[str, Any] = {"registration": None, "registration_place": None}


def indoor_3d() -> Aircraft:
    """A 150 g hall aerobat with 5 g digitals and all the throw there is; nobody measured its dive."""
    return plane(
        "I3", AircraftClass.AEROBATIC_3D, ELECTRIC,
        Moved(what=A, kind=p.TINY_DIGITAL, size=(720, 95, 230), throw=(45, 45), horn=14, lead=120, awg=30),
        Moved(what=E, kind=p.TINY_DIGITAL, size=(380, 120, 190), throw=(50, 50), horn=14, lead=120, awg=30),
        Moved(what=R, kind=p.TINY_DIGITAL, size=(230, 140, 190), throw=(55, 55), horn=14, lead=120, awg=30),
        paths=p.from_drive("I3", p.drive(2, 250, 30), p.BEC_SMALL, 5.0, 1.0),
        span=840, area=24, mass=150, dive=None, minutes=6, **_NO_MARK,
    )  # fmt: skip


def hall_slow() -> Aircraft:
    """A 60 g slow flyer with 1.7 g servos straight on one cell; no dive speed."""
    made = plane(
        "HS", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=E, kind=p.BRICK, size=(280, 50, 110), throw=(30, 30), horn=10, lead=100, awg=32),
        Moved(what=R, kind=p.BRICK, size=(150, 60, 110), throw=(40, 40), horn=10, lead=100, awg=32),
        paths=p.direct("HS", p.drive(1, 150, 20), load_a=0.5),
        span=700, area=14, mass=60, dive=None, minutes=8, **_NO_MARK,
    )  # fmt: skip
    return with_receiver(made, supply_min_v=3.0)


def depron_3d() -> Aircraft:
    """An 0.8 m foam board aerobat of 260 g on 9 g servos; no dive speed."""
    return plane(
        "DP", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(700, 80, 230), throw=(35, 35), horn=15, lead=150, awg=28),
        Moved(what=E, kind=p.MICRO, size=(380, 90, 170), throw=(40, 40), horn=15, lead=200, awg=28),
        Moved(what=R, kind=p.MICRO, size=(220, 110, 160), throw=(40, 40), horn=15, lead=200, awg=28),
        paths=p.from_drive("DP", p.drive(2, 500), p.BEC, 5.0), span=800, area=20, mass=260, dive=None,
        minutes=7,
    )  # fmt: skip


def foam_fighter() -> Aircraft:
    """A foam fighter of 1.1 m with its six 9 g servos as sold; no dive speed, flaps without a speed."""
    return plane(
        "FF", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(300, 32, 180), throw=(14, 12), two=True, horn=12, awg=28),
        Moved(what=F, kind=p.MICRO, size=(180, 35, 210), throw=(0, 35), two=True, horn=12, awg=28),
        Moved(what=E, kind=p.MICRO, size=(350, 38, 115), throw=(14, 14), horn=12, awg=28),
        Moved(what=R, kind=p.MICRO, size=(150, 45, 110), throw=(22, 22), horn=12, awg=28),
        paths=p.from_drive("FF", p.drive(3, 2200), p.BEC, 5.0), span=1100, area=21, mass=1050, dive=None,
        minutes=7,
    )  # fmt: skip


def speed_wing() -> Aircraft:
    """A small flying wing of 0.9 m for a camera, 12 g digitals on two elevons."""
    return plane(
        "FW", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO_MG, size=(330, 40, 190), throw=(14, 14), two=True, horn=13, awg=28),
        paths=p.from_drive("FW", p.drive(4, 2200), p.BEC, 5.0), span=900, area=20, mass=750, dive=34,
        minutes=12,
    )  # fmt: skip


def canard() -> Aircraft:
    """A pusher canard of 1.4 m, the elevator in front, mini digitals."""
    return plane(
        "CA", AircraftClass.SPORT, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(420, 40, 230), throw=(14, 14), two=True, horn=16),
        Moved(what=E, kind=p.MINI, size=(420, 45, 130), throw=(15, 15), horn=16, lead=700),
        Moved(what=R, kind=p.MINI, size=(160, 50, 150), throw=(22, 22), two=True, horn=16, lead=500),
        paths=p.from_drive("CA", p.drive(4, 3000), p.BEC, 5.5), span=1400, area=32, mass=1900, dive=32,
        minutes=7,
    )  # fmt: skip


def petrol_floats() -> Aircraft:
    """A high-winger of two metres on floats, 26 cc, 1 N m digitals on iron cells."""
    return plane(
        "PF", AircraftClass.SCALE, PETROL,
        Moved(what=A, kind=p.DIGITAL, size=(520, 55, 320), throw=(18, 14), two=True, awg=24, lead=700),
        Moved(what=F, kind=p.DIGITAL, size=(480, 60, 320), throw=(0, 35), two=True, awg=24, lead=400),
        Moved(what=E, kind=p.DIGITAL, size=(650, 65, 200), throw=(16, 16), awg=24, lead=900),
        Moved(what=R, kind=p.DIGITAL, size=(300, 100, 230), throw=(28, 28), horn=24, awg=24, lead=900),
        paths=p.direct("PF", p.LIFE2, load_a=2.0), span=2000, area=72, mass=6200, dive=28, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def pylon() -> Aircraft:
    """A glow pylon racer of 1.7 kg at 75 m/s: tiny surfaces, five degrees, mini digitals, hard links."""
    return plane(
        "PY", AircraftClass.SPORT, GLOW,
        Moved(what=A, kind=p.MINI, size=(300, 22, 170), throw=(5, 5), two=True, horn=18, use=30,
              more={"play_deg": 0.15}),
        Moved(what=E, kind=p.MINI, size=(280, 25, 110), throw=(5, 5), horn=18, use=30,
              more={"play_deg": 0.15}),
        paths=p.direct("PY", p.AA5), span=1200, area=22, mass=1700, dive=75, minutes=4, flights=4,
        throttle=p.MINI,
    )  # fmt: skip


def wide_elevator() -> Aircraft:
    """A profile aerobat of 1.3 m whose elevator is two thirds of its tail."""
    return plane(
        "WE", AircraftClass.AEROBATIC_3D, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(480, 80, 300), throw=(32, 32), two=True, horn=18),
        Moved(what=E, kind=p.MINI, size=(520, 105, 160), throw=(42, 42), horn=20, use=50),
        Moved(what=R, kind=p.MINI, size=(290, 120, 180), throw=(40, 40), horn=18, use=50),
        paths=p.from_drive("WE", p.drive(4, 2600), p.BEC_BIG, 6.0), span=1300, area=38, mass=1700, dive=23,
        minutes=7,
    )  # fmt: skip


def hotliner() -> Aircraft:
    """A fast electric glider of two metres: 10 mm servos in the wing, 8 mm in the V-tail, 60 m/s."""
    return plane(
        "HO", AircraftClass.SAIL_FAST, ELECTRIC,
        Moved(what=A, kind=p.WING10, size=(650, 34, 150), throw=(12, 8), two=True, horn=11, awg=24, lead=700),
        Moved(what=V, kind=p.WING8, size=(230, 30, 90), throw=(7, 7), two=True, horn=14, use=30, awg=26,
              lead=500),
        paths=p.from_drive("HO", p.drive(4, 1800, 50), p.BEC_BIG, 6.0), span=2000, area=32, mass=1600,
        dive=60, minutes=10,
    )  # fmt: skip


def thermal_contest() -> Aircraft:
    """A four-metre contest glider of 1.75 kg with crow brakes, their speed not entered."""
    return plane(
        "TC", AircraftClass.SAIL_THERMAL, ELECTRIC,
        Moved(what=A, kind=p.WING8, size=(850, 45, 180), throw=(22, 10), two=True, horn=12, awg=24, lead=1100,
              more={"used_as_brake": True}),
        Moved(what=F, kind=p.WING10, size=(950, 55, 230), throw=(6, 75), two=True, horn=12, awg=24, lead=500,
              use=58, more={"used_as_brake": True}),
        Moved(what=E, kind=p.MICRO_MG, size=(560, 38, 95), throw=(12, 12), horn=12, awg=26, lead=900),
        Moved(what=R, kind=p.MICRO_MG, size=(300, 60, 120), throw=(22, 22), horn=12, awg=26, lead=900),
        paths=p.from_drive("TC", p.drive(3, 1000), p.BEC, 6.0), span=4000, area=74, mass=1750, dive=30,
        minutes=15,
    )  # fmt: skip


def three_task() -> Aircraft:
    """A three-metre contest glider for speed and distance: 65 m/s, 10 mm servos, flaps without a speed."""
    return plane(
        "F3", AircraftClass.SAIL_FAST, TOW,
        Moved(what=A, kind=p.WING10, size=(750, 42, 170), throw=(16, 9), two=True, horn=11, awg=22,
              lead=1000),
        Moved(what=F, kind=p.WING10, size=(750, 52, 220), throw=(6, 70), two=True, horn=12, awg=22, lead=500,
              use=57, more={"used_as_brake": True}),
        Moved(what=E, kind=p.WING10, size=(520, 34, 100), throw=(8, 8), horn=14, use=28, awg=24, lead=900),
        Moved(what=R, kind=p.WING10, size=(240, 55, 120), throw=(20, 20), horn=14, awg=24, lead=900),
        paths=p.direct("F3", p.ION2, load_a=3.0), span=3100, area=60, mass=2600, dive=65, minutes=20,
        flights=2,
    )  # fmt: skip


def ballasted() -> Aircraft:
    """A slope racer of 2.9 m with ballast to 3.9 kg, 70 m/s, short stiff links."""
    return plane(
        "BA", AircraftClass.SAIL_FAST, NONE,
        Moved(what=A, kind=p.WING10, size=(680, 38, 170), throw=(14, 8), two=True, horn=11, awg=22, lead=900),
        Moved(what=F, kind=p.WING10, size=(640, 46, 210), throw=(5, 60), two=True, horn=12, awg=22, lead=450,
              use=55, more={"used_as_brake": True, "load_speed_m_s": 20.0}),
        Moved(what=V, kind=p.WING10, size=(280, 32, 100), throw=(8, 8), two=True, horn=14, use=25, awg=24,
              lead=900),
        paths=p.direct("BA", p.ION2, load_a=3.0), span=2880, area=57, mass=3900, dive=70, minutes=20,
        flights=2,
    )  # fmt: skip


def thrown() -> Aircraft:
    """A hand-launched glider of 245 g, thin 6 g digitals all round on four small cells."""
    return plane(
        "DL", AircraftClass.SAIL_THERMAL, NONE,
        Moved(what=A, kind=p.MICRO_LV, size=(600, 38, 150), throw=(12, 30), two=True, horn=10, awg=28),
        Moved(what=E, kind=p.MICRO_LV, size=(290, 24, 65), throw=(10, 10), horn=10, awg=30, lead=150),
        Moved(what=R, kind=p.MICRO_LV, size=(160, 40, 80), throw=(18, 18), horn=10, awg=30, lead=150),
        paths=p.direct("DL", p.cells(Chemistry.NIMH_LSD, 4, 400, 40, 2.0, 5), load_a=0.5),
        span=1490, area=21, mass=245, dive=30, minutes=4, flights=5,
    )  # fmt: skip


def epp_slope() -> Aircraft:
    """A flying wing of foam of 1.5 m for the slope, metal-geared analogs."""
    return plane(
        "EW", AircraftClass.SAIL_FAST, NONE,
        Moved(what=A, kind=p.STRONGER, size=(640, 60, 280), throw=(13, 13), two=True, horn=20),
        paths=p.direct("EW", p.AA5), span=1500, area=42, mass=1300, dive=28, minutes=30, flights=2,
    )  # fmt: skip


def e_glider() -> Aircraft:
    """A foam electric glider of 2.5 m with a V-tail on 12 g digitals; no dive speed."""
    return plane(
        "EG", AircraftClass.SAIL_THERMAL, ELECTRIC,
        Moved(what=A, kind=p.MICRO_MG, size=(600, 38, 180), throw=(16, 10), two=True, horn=12, awg=26,
              lead=700),
        Moved(what=V, kind=p.MICRO_MG, size=(260, 40, 120), throw=(15, 15), two=True, horn=12, awg=26,
              lead=700),
        paths=p.from_drive("EG", p.drive(3, 2200), p.BEC, 5.5), span=2500, area=44, mass=1450, dive=None,
        minutes=20,
    )  # fmt: skip


def third_scale_glider() -> Aircraft:
    """A glider of a third of full size, 5 m and 8.5 kg: 1.2 N m digitals, plates as brakes."""
    return plane(
        "TS3", AircraftClass.SAIL_SCALE, TOW,
        Moved(what=A, kind=p.DIGITAL_HV, size=(1000, 50, 200), throw=(20, 10), two=True, horn=18, lead=1300,
              awg=22),
        Moved(what=S, kind=p.DIGITAL_HV, size=(350, 25, 250), throw=(40, 0), two=True, horn=18, lead=700,
              awg=22, more={"carried": SurfaceKind.PLATE, "whole_chord_mm": None}),
        Moved(what=E, kind=p.DIGITAL_HV, size=(720, 65, 180), throw=(13, 13), horn=22, lead=1000, awg=22),
        Moved(what=R, kind=p.DIGITAL_HV, size=(420, 160, 280), throw=(28, 28), horn=28, lead=1000, awg=22),
        paths=p.direct("TS3", p.ION2, 2, 3.0), span=5000, area=105, mass=8500, dive=38, minutes=30,
        flights=2,
    )  # fmt: skip


def twin_fighter() -> Aircraft:
    """A twin-engined fighter of 2.4 m and 16 kg: 3.5 N m, four flaps without a speed."""
    return plane(
        "TF", AircraftClass.SCALE, PETROL,
        Moved(what=A, kind=p.HV35, size=(560, 70, 360), throw=(14, 12), two=True, horn=24, awg=20, lead=900),
        Moved(what=F, kind=p.HV35, size=(480, 85, 460), throw=(0, 45), two=True, horn=26, awg=20, lead=500),
        Moved(what=E, kind=p.HV35, size=(460, 85, 250), throw=(14, 14), two=True, horn=24, awg=20, lead=1200),
        Moved(what=R, kind=p.HV35, size=(320, 110, 260), throw=(24, 24), horn=26, awg=20, lead=1200),
        paths=p.direct("TF", p.LIPO2_BIG, 2, 5.0), span=2400, area=105, mass=16000, dive=45, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def electric_fighter() -> Aircraft:
    """A fighter of 1.5 m and 3.2 kg on six cells, mini digitals; flaps without a speed."""
    return plane(
        "FE", AircraftClass.SCALE, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(380, 42, 240), throw=(13, 11), two=True, horn=16),
        Moved(what=F, kind=p.MINI, size=(280, 50, 290), throw=(0, 45), two=True, horn=16),
        Moved(what=E, kind=p.MINI, size=(480, 48, 160), throw=(13, 13), horn=16, lead=700),
        Moved(what=R, kind=p.MINI, size=(210, 65, 160), throw=(22, 22), horn=16, lead=700),
        paths=p.from_drive("FE", p.drive(6, 3700), p.BEC_BIG, 5.5), span=1500, area=40, mass=3200, dive=36,
        minutes=6,
    )  # fmt: skip


def forty_per_cent() -> Aircraft:
    """A 3D aircraft of 3.1 m and 19 kg: 4.5 N m everywhere, two on the rudder."""
    made = plane(
        "FP", AircraftClass.AEROBATIC_3D, PETROL,
        Moved(what=A, kind=p.HV45, size=(1080, 150, 600), throw=(32, 32), two=True, horn=40, awg=20),
        Moved(what=E, kind=p.HV45, size=(620, 170, 390), throw=(38, 38), two=True, horn=40, awg=20, lead=1200,
              use=50),
        Moved(what=R, kind=p.HV45, size=(620, 290, 480), throw=(38, 38), horn=48, awg=20, lead=1200, use=50),
        paths=p.direct("FP", p.LIPO2_BIG, 2, 5.0), span=3100, area=220, mass=19000, dive=32, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip
    return second_servo(made, "RUD")


def sequence_giant() -> Aircraft:
    """A sequence aircraft of 2.6 m and 11.5 kg, one 4.5 N m servo a surface, moderate throws."""
    return plane(
        "SQ", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.HV45, size=(880, 130, 500), throw=(24, 24), two=True, horn=36, awg=20),
        Moved(what=E, kind=p.HV45, size=(520, 140, 330), throw=(22, 22), two=True, horn=36, awg=20,
              lead=1100),
        Moved(what=R, kind=p.HV45, size=(500, 230, 400), throw=(32, 32), horn=44, awg=20, lead=1100, use=48),
        paths=p.direct("SQ", p.LIPO2_BIG, 2, 5.0), span=2600, area=160, mass=11500, dive=36, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def nozzle_jet() -> Aircraft:
    """A jet of 24.5 kg: all-moving tails at 23 %, a vectored nozzle, 4.5 N m."""
    made = plane(
        "NJ", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV45, size=(480, 95, 480), throw=(16, 16), two=True, horn=28, awg=20, lead=900),
        Moved(what=F, kind=p.HV45, size=(460, 105, 560), throw=(0, 35), two=True, horn=32, awg=20, lead=600),
        Moved(what=E, kind=p.HV45, size=(400, 300, 300), throw=(9, 9), two=True, horn=42, awg=20, lead=700,
              more={"carried": SurfaceKind.ALL_MOVING, "pivot_pct": 23.0, "whole_chord_mm": 300.0}),
        Moved(what=R, kind=p.HV35, size=(380, 105, 320), throw=(20, 20), two=True, horn=28, awg=20, lead=800),
        paths=p.direct("NJ", p.LIPO2_BIG, 2, 5.0), span=2100, area=150, mass=24500, dive=80, minutes=8,
        flights=1, extinguisher_on=DAY, mass_limit_g=25000.0,
    )  # fmt: skip
    nozzle = _fitted(fit("NJ", "NOZ", "Nozzle", Function.VECTOR, 12, p.HV35), awg=20, lead_mm=500.0,
                     linkage={}, moving_ma=200.0)  # fmt: skip
    channels = (*made.channels, *((nozzle.channel,) if nozzle.channel else ()))
    return dataclasses.replace(made, fits=(*made.fits, nozzle), channels=channels)


def jet_delta() -> Aircraft:
    """A delta of 7.5 kg with a turbine: two elevons of 2 N m, 78 m/s."""
    return plane(
        "JD", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV20, size=(520, 70, 520), throw=(13, 13), two=True, horn=24, awg=20, lead=500),
        Moved(what=R, kind=p.DIGITAL_HV, size=(230, 65, 220), throw=(16, 16), horn=20, awg=22, lead=500),
        paths=p.direct("JD", p.LIPO2, 2, 3.0), span=1550, area=80, mass=7500, dive=78, minutes=8, flights=2,
        extinguisher_on=DAY,
    )  # fmt: skip


def fan_sport() -> Aircraft:
    """A 90 mm fan jet of 3.2 kg, mini digitals, 50 m/s."""
    return plane(
        "FS", AircraftClass.JET_EDF, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(300, 42, 230), throw=(13, 13), two=True, horn=16, awg=24),
        Moved(what=F, kind=p.MINI, size=(240, 50, 260), throw=(0, 40), two=True, horn=16, awg=24),
        Moved(what=E, kind=p.MINI, size=(200, 45, 140), throw=(13, 13), two=True, horn=16, awg=24, lead=700),
        Moved(what=R, kind=p.MINI, size=(190, 55, 150), throw=(20, 20), horn=16, awg=24, lead=700),
        paths=p.from_drive("FS", p.drive(6, 5000, 45), p.BEC_BIG, 6.0), span=1250, area=32, mass=3200,
        dive=50, minutes=4,
    )  # fmt: skip


def fan_foam() -> Aircraft:
    """A 64 mm fan jet of foam, 0.95 kg, 9 g analogs as it comes in the box."""
    return plane(
        "FX", AircraftClass.JET_EDF, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(230, 28, 150), throw=(11, 11), two=True, horn=12, awg=28),
        Moved(what=E, kind=p.MICRO, size=(300, 32, 105), throw=(11, 11), horn=12, awg=28),
        Moved(what=R, kind=p.MICRO, size=(120, 35, 100), throw=(18, 18), horn=12, awg=28),
        paths=p.from_drive("FX", p.drive(4, 2200, 45), p.BEC, 5.0), span=850, area=14, mass=950, dive=38,
        minutes=4,
    )  # fmt: skip


FINE = (
    Setup(name="hall aerobat without a dive speed", why="5 g digitals and 6 m/s; every hall is full of them",
          make=indoor_3d),
    Setup(name="hall slow flyer on 1.7 g servos", why="60 g at walking pace", make=hall_slow),
    Setup(name="foam board aerobat without a dive speed", why="9 g servos are more than it asks",
          make=depron_3d),
    Setup(name="foam fighter as sold", why="six 9 g servos come in the box", make=foam_fighter),
    Setup(name="flying wing for a camera", why="12 g metal digitals are the upgrade everybody buys",
          make=speed_wing),
    Setup(name="pusher canard", why="minis on 1.9 kg", make=canard),
    Setup(name="petrol high-winger on floats", why="1 N m at 28 m/s is generous", make=petrol_floats),
    Setup(name="pylon racer", why="half a newton metre on strips of 22 mm and five degrees", make=pylon),
    Setup(name="elevator of two thirds", why="a profile aerobat flown slowly on minis", make=wide_elevator),
    Setup(name="fast electric glider", why="10 mm servos and eight degrees at 60 m/s", make=hotliner),
    Setup(name="four-metre contest glider", why="thin servos at 30 m/s, brakes at walking pace",
          make=thermal_contest),
    Setup(name="contest glider for three tasks", why="1.1 N m on short links, the class's usual",
          make=three_task),
    Setup(name="ballasted slope racer", why="the same servos fly 70 m/s on every slope", make=ballasted),
    Setup(name="thrown glider", why="thin 6 g digitals are what they are built for", make=thrown),
    Setup(name="slope wing of foam", why="metal analogs at 28 m/s", make=epp_slope),
    Setup(name="foam electric glider, V-tail", why="12 g digitals come with it", make=e_glider),
    Setup(name="third-scale glider", why="1.2 N m everywhere, brakes as plates", make=third_scale_glider),
    Setup(name="twin fighter of 16 kg", why="3.5 N m, flaps lowered slow", make=twin_fighter),
    Setup(name="electric fighter of 1.5 m", why="minis, flaps lowered slow", make=electric_fighter),
    Setup(name="3D of 40 per cent", why="4.5 N m on every surface, two on the rudder", make=forty_per_cent),
    Setup(name="sequence aircraft of 2.6 m", why="4.5 N m and moderate throws", make=sequence_giant),
    Setup(name="vectored jet of 24.5 kg", why="pivots at 23 %, 4.5 N m, small throws", make=nozzle_jet),
    Setup(name="turbine delta", why="2 N m on each elevon", make=jet_delta),
    Setup(name="fan jet 90 mm", why="mini digitals are what its kit names", make=fan_sport),
    Setup(name="fan jet 64 mm of foam", why="9 g servos come in the box", make=fan_foam),
)  # fmt: skip
