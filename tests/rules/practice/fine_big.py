"""Sound giants, scale aircraft and jets. Every label: common practice, no source."""

from __future__ import annotations

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, PowerKind, SurfaceKind
from hangar.rules.example_parts import DAY
from tests.rules.practice import parts as p
from tests.rules.practice.building import A, E, F, Moved, R, plane, second_servo
from tests.rules.practice.setup import Setup

ELECTRIC, GLOW, PETROL, TURBINE = PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL, PowerKind.TURBINE


def giant_sport() -> Aircraft:
    """2.2 m, petrol, 9.5 kg."""
    return plane(
        "GS", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.HV20, size=(700, 65, 380), throw=(16, 14), two=True, horn=24, awg=22, lead=500),
        Moved(what=E, kind=p.HV20, size=(380, 80, 240), throw=(16, 16), two=True, horn=24, awg=22, lead=900),
        Moved(what=R, kind=p.HV20, size=(350, 110, 260), throw=(28, 28), horn=26, awg=22, lead=900),
        paths=p.direct("GS", p.LIFE2, 2, 2.0), span=2200, area=83, mass=9500, dive=36, minutes=10, flights=2,
        throttle=p.DIGITAL_HV,
    )  # fmt: skip


def giant_old() -> Aircraft:
    """A giant of the nineties: metal analogs of 1.1 N m, two five-cell packs."""
    return plane(
        "GO", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.OLD_GIANT, size=(650, 60, 380), throw=(14, 14), two=True, horn=24, awg=22,
              lead=500),
        Moved(what=E, kind=p.OLD_GIANT, size=(360, 75, 230), throw=(14, 14), two=True, horn=24, awg=22,
              lead=900),
        Moved(what=R, kind=p.OLD_GIANT, size=(330, 110, 250), throw=(25, 25), horn=26, awg=22, lead=900),
        paths=p.direct("GO", p.SUB_C5, 2, 2.0), span=2250, area=85, mass=9800, dive=34, minutes=10, flights=2,
    )  # fmt: skip


def giant_biplane() -> Aircraft:
    """A 12 kg biplane, four ailerons joined by struts in pairs."""
    return plane(
        "GB", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.HV20, size=(1050, 70, 330), throw=(16, 14), two=True, horn=24, awg=22, lead=500),
        Moved(what=E, kind=p.HV20, size=(400, 90, 250), throw=(16, 16), two=True, horn=24, awg=22, lead=900),
        Moved(what=R, kind=p.HV20, size=(420, 130, 300), throw=(28, 28), horn=30, awg=22, lead=900),
        paths=p.direct("GB", p.LIPO2_BIG, 2, 3.0), span=2000, area=130, mass=12000, dive=32, minutes=10,
        flights=2, wing_count=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def tow_plane() -> Aircraft:
    """2.7 m, 14 kg, with flaps, tows all day."""
    return plane(
        "TP", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.HV20, size=(650, 75, 420), throw=(18, 14), two=True, horn=24, awg=22, lead=700),
        Moved(what=F, kind=p.HV20, size=(550, 90, 430), throw=(0, 40), two=True, horn=28, awg=22, lead=500,
              more={"load_speed_m_s": 18.0}),
        Moved(what=E, kind=p.HV20, size=(450, 95, 270), throw=(18, 18), two=True, horn=26, awg=22, lead=1100),
        Moved(what=R, kind=p.HV35, size=(420, 170, 320), throw=(28, 28), horn=34, awg=22, lead=1100),
        paths=p.direct("TP", p.LIPO2_BIG, 2, 3.0), span=2700, area=125, mass=14000, dive=32, minutes=20,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def aerobatic_ganged() -> Aircraft:
    """Three metres, 17 kg, two servos on the rudder, flown in sequences."""
    made = plane(
        "AG", AircraftClass.GIANT, PETROL,
        Moved(what=A, kind=p.HV45, size=(1050, 140, 560), throw=(26, 26), two=True, horn=38, awg=20),
        Moved(what=E, kind=p.HV45, size=(600, 160, 370), throw=(25, 25), two=True, horn=38, awg=20,
              lead=1200),
        Moved(what=R, kind=p.HV45, size=(600, 280, 470), throw=(35, 35), horn=45, awg=20, lead=1200, use=48),
        paths=p.direct("AG", p.LIPO2_BIG, 2, 5.0), span=3000, area=200, mass=17000, dive=36, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip
    return second_servo(made, "RUD")


def warbird() -> Aircraft:
    """A sixty-size fighter, metal analogs, flaps."""
    return plane(
        "WB", AircraftClass.SCALE, GLOW,
        Moved(what=A, kind=p.STRONGER, size=(420, 45, 260), throw=(13, 11), two=True),
        Moved(what=F, kind=p.STRONGER, size=(320, 55, 320), throw=(0, 40), two=True,
              more={"load_speed_m_s": 17.0}),
        Moved(what=E, kind=p.STRONGER, size=(520, 50, 170), throw=(12, 12)),
        Moved(what=R, kind=p.STRONGER, size=(230, 75, 170), throw=(22, 22)),
        paths=p.direct("WB", p.SUB_C5, load_a=2.0), span=1600, area=48, mass=4500, dive=38, minutes=10,
        flights=2,
    )  # fmt: skip


def warbird_big() -> Aircraft:
    """2.2 m, petrol, 11 kg, digitals."""
    return plane(
        "WG", AircraftClass.SCALE, PETROL,
        Moved(what=A, kind=p.HV20, size=(600, 65, 340), throw=(14, 12), two=True, horn=22, awg=22, lead=600),
        Moved(what=F, kind=p.HV20, size=(450, 90, 440), throw=(0, 45), two=True, horn=26, awg=22, lead=400,
              more={"load_speed_m_s": 20.0}),
        Moved(what=E, kind=p.HV20, size=(400, 75, 230), throw=(14, 14), two=True, horn=22, awg=22, lead=1000),
        Moved(what=R, kind=p.HV20, size=(340, 120, 260), throw=(24, 24), horn=26, awg=22, lead=1000),
        paths=p.direct("WG", p.LIFE2, 2, 2.0), span=2200, area=85, mass=11000, dive=43, minutes=10, flights=2,
        throttle=p.DIGITAL_HV,
    )  # fmt: skip


def old_biplane() -> Aircraft:
    """A fighter of the first war, cables to rudder and elevator, slow."""
    return plane(
        "OB", AircraftClass.SCALE, GLOW,
        Moved(what=A, kind=p.STANDARD, size=(500, 60, 270), throw=(18, 14), two=True),
        Moved(what=E, kind=p.STANDARD, size=(560, 70, 170), throw=(16, 16)),
        Moved(what=R, kind=p.STANDARD, size=(280, 110, 170), throw=(25, 25)),
        paths=p.direct("OB", p.AA4), span=1600, area=85, mass=5200, dive=23, minutes=12, flights=2,
        wing_count=2,
    )  # fmt: skip


def twin_electric() -> Aircraft:
    """A twin-motored transport of 3.4 kg."""
    return plane(
        "TW", AircraftClass.SCALE, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(450, 38, 200), throw=(15, 12), two=True, horn=16, lead=600),
        Moved(what=E, kind=p.MINI, size=(480, 48, 150), throw=(15, 15), horn=16, lead=800),
        Moved(what=R, kind=p.MINI, size=(230, 75, 170), throw=(25, 25), horn=16, lead=800),
        paths=p.direct("TW", p.LIFE2), span=1800, area=45, mass=3400, dive=30, minutes=8, flights=2,
    )  # fmt: skip


def high_wing() -> Aircraft:
    """Three metres, 8 kg, flaps for short fields."""
    return plane(
        "HW", AircraftClass.SCALE, PETROL,
        Moved(what=A, kind=p.DIGITAL, size=(750, 65, 360), throw=(18, 12), two=True, awg=22, lead=900),
        Moved(what=F, kind=p.DIGITAL, size=(650, 80, 360), throw=(0, 40), two=True, horn=26, awg=22, lead=500,
              more={"load_speed_m_s": 14.0}),
        Moved(what=E, kind=p.DIGITAL, size=(430, 80, 210), throw=(16, 16), two=True, awg=22, lead=1000),
        Moved(what=R, kind=p.DIGITAL, size=(350, 130, 260), throw=(25, 25), horn=26, awg=22, lead=1000),
        paths=p.direct("HW", p.LIFE2, 2, 2.0), span=3000, area=105, mass=8200, dive=27, minutes=12, flights=2,
        throttle=p.DIGITAL_HV,
    )  # fmt: skip


def edf_foam() -> Aircraft:
    """A foam jet on a 70 mm fan, 12 g metal digitals."""
    return plane(
        "EF", AircraftClass.JET_EDF, ELECTRIC,
        Moved(what=A, kind=p.MICRO_MG, size=(250, 32, 170), throw=(12, 12), two=True, horn=14, awg=26),
        Moved(what=E, kind=p.MICRO_MG, size=(190, 38, 120), throw=(12, 12), two=True, horn=14, awg=26,
              lead=500),
        Moved(what=R, kind=p.MICRO_MG, size=(140, 40, 110), throw=(18, 18), horn=14, awg=26, lead=500),
        paths=p.from_drive("EF", p.drive(4, 3300, 40), p.BEC, 5.5), span=1000, area=20, mass=1650, dive=44,
        minutes=4,
    )  # fmt: skip


def edf_all_moving() -> Aircraft:
    """A 90 mm fan fighter, all-moving tail on 1 N m digitals, pivot at 24 %."""
    return plane(
        "EA", AircraftClass.JET_EDF, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(280, 42, 230), throw=(13, 13), two=True, horn=16, awg=24),
        Moved(what=E, kind=p.DIGITAL, size=(210, 130, 130), throw=(9, 9), two=True, horn=24, awg=24, lead=600,
              more={"carried": SurfaceKind.ALL_MOVING, "pivot_pct": 24.0, "whole_chord_mm": 130.0}),
        Moved(what=R, kind=p.MINI, size=(180, 50, 150), throw=(18, 18), horn=16, awg=24, lead=600),
        paths=p.from_drive("EA", p.drive(6, 5000, 40), p.BEC_BIG, 6.0), span=1100, area=30, mass=3300,
        dive=52, minutes=4,
    )  # fmt: skip


def edf_big() -> Aircraft:
    """A 120 mm fan trainer of 7.5 kg, digitals of 1 N m, two packs for the radio."""
    return plane(
        "EB", AircraftClass.JET_EDF, ELECTRIC,
        Moved(what=A, kind=p.DIGITAL, size=(450, 55, 290), throw=(14, 14), two=True, awg=22, lead=500),
        Moved(what=F, kind=p.DIGITAL, size=(380, 70, 340), throw=(0, 40), two=True, horn=24, awg=22,
              more={"load_speed_m_s": 25.0}),
        Moved(what=E, kind=p.DIGITAL, size=(320, 60, 190), throw=(13, 13), two=True, awg=22, lead=900),
        Moved(what=R, kind=p.DIGITAL, size=(260, 75, 210), throw=(20, 20), awg=22, lead=900),
        paths=p.direct("EB", p.LIFE2, 2, 2.0), span=1800, area=60, mass=7500, dive=55, minutes=5, flights=2,
    )  # fmt: skip


def jet_trainer() -> Aircraft:
    """A turbine trainer of 9 kg, 2 N m everywhere."""
    return plane(
        "JT", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV20, size=(480, 58, 320), throw=(15, 15), two=True, horn=22, awg=22, lead=600),
        Moved(what=F, kind=p.HV20, size=(420, 80, 380), throw=(0, 40), two=True, horn=26, awg=22, lead=400,
              more={"load_speed_m_s": 28.0}),
        Moved(what=E, kind=p.HV20, size=(350, 65, 210), throw=(13, 13), two=True, horn=22, awg=22, lead=900),
        Moved(what=R, kind=p.HV20, size=(300, 85, 240), throw=(20, 20), horn=22, awg=22, lead=900),
        paths=p.direct("JT", p.LIPO2_BIG, 2, 5.0), span=1900, area=70, mass=9000, dive=75, minutes=8,
        flights=2, extinguisher_on=DAY,
    )  # fmt: skip


def jet_scale() -> Aircraft:
    """A fighter of 17 kg, all-moving tail at 24 % on 4.5 N m."""
    return plane(
        "JS", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV35, size=(420, 85, 420), throw=(15, 15), two=True, horn=26, awg=20, lead=700),
        Moved(what=F, kind=p.HV35, size=(420, 100, 520), throw=(0, 35), two=True, horn=30, awg=20, lead=500,
              more={"load_speed_m_s": 30.0}),
        Moved(what=E, kind=p.HV45, size=(360, 270, 270), throw=(9, 9), two=True, horn=40, awg=20, lead=700,
              more={"carried": SurfaceKind.ALL_MOVING, "pivot_pct": 24.0, "whole_chord_mm": 270.0}),
        Moved(what=R, kind=p.HV35, size=(330, 100, 300), throw=(20, 20), two=True, horn=26, awg=20, lead=700),
        paths=p.direct("JS", p.LIPO2_BIG, 2, 5.0), span=1900, area=110, mass=17000, dive=80, minutes=8,
        flights=2, extinguisher_on=DAY,
    )  # fmt: skip


def jet_heavy() -> Aircraft:
    """A jet of 24 kg with the strongest servos sold."""
    return plane(
        "JH", AircraftClass.JET_TURBINE, TURBINE,
        Moved(what=A, kind=p.HV45, size=(560, 90, 460), throw=(15, 15), two=True, horn=28, awg=20, lead=900),
        Moved(what=F, kind=p.HV45, size=(520, 110, 560), throw=(0, 38), two=True, horn=34, awg=20, lead=600,
              more={"load_speed_m_s": 28.0}),
        Moved(what=E, kind=p.HV45, size=(480, 100, 300), throw=(13, 13), two=True, horn=28, awg=20, lead=900),
        Moved(what=R, kind=p.HV45, size=(450, 120, 340), throw=(20, 20), horn=30, awg=20, lead=900),
        paths=p.direct("JH", p.LIPO2_BIG, 2, 5.0), span=2600, area=160, mass=23500, dive=78, minutes=8,
        flights=1, extinguisher_on=DAY, mass_limit_g=25000.0,
    )  # fmt: skip


FINE = (
    Setup(name="giant sport", why="2 N m on 2.2 m is what the code and the club ask", make=giant_sport),
    Setup(name="giant of the nineties", why="1.1 N m analogs; twenty seasons on such servos",
          make=giant_old),
    Setup(name="giant biplane", why="2 N m per strutted pair at 32 m/s", make=giant_biplane),
    Setup(name="tow plane", why="tows all summer on 2 and 3.5 N m", make=tow_plane),
    Setup(name="giant aerobat, two on the rudder", why="the usual buy for 17 kg", make=aerobatic_ganged),
    Setup(name="sixty-size fighter", why="half a newton metre, small throws, flaps lowered slow",
          make=warbird),
    Setup(name="big fighter", why="2 N m on 11 kg, flaps lowered slow", make=warbird_big),
    Setup(name="fighter of the first war", why="23 m/s and standard servos", make=old_biplane),
    Setup(name="twin transport", why="mini digitals and slow flight", make=twin_electric),
    Setup(name="high-winger of three metres", why="1 N m digitals at 27 m/s", make=high_wing),
    Setup(name="foam jet 70 mm", why="12 g metal digitals come in the box", make=edf_foam),
    Setup(name="fan fighter, all-moving tail", why="pivot at 24 %, 1 N m", make=edf_all_moving),
    Setup(name="fan trainer of 7.5 kg", why="1 N m digitals at 55 m/s, small throws", make=edf_big),
    Setup(name="turbine trainer", why="2 N m everywhere, as its kit asks", make=jet_trainer),
    Setup(name="turbine fighter 17 kg", why="4.5 N m and a pivot at 24 %", make=jet_scale),
    Setup(name="turbine jet 24 kg", why="4.5 N m everywhere", make=jet_heavy),
)  # fmt: skip
