"""Sound park aircraft, trainers, sport, aerobatic aircraft and sailplanes.

Every label: common practice, no source.
"""

from __future__ import annotations

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftClass, Chemistry, PowerKind, SurfaceKind
from tests.rules.practice import parts as p
from tests.rules.practice.building import A, E, F, Moved, R, S, V, plane, second_servo
from tests.rules.practice.setup import Setup

ELECTRIC, GLOW, PETROL, NONE, TOW = (
    PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL, PowerKind.NONE, PowerKind.TOW
)  # fmt: skip
_FOAM = {"ball_play_mm": 0.1}


def indoor() -> Aircraft:
    """115 g of foam sheet, flown in a hall."""
    return plane(
        "IN", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.TINY, size=(700, 50, 200), throw=(40, 40), horn=12, lead=120, awg=30),
        Moved(what=E, kind=p.TINY, size=(320, 80, 140), throw=(40, 40), horn=12, lead=120, awg=30),
        Moved(what=R, kind=p.TINY, size=(190, 90, 150), throw=(45, 45), horn=12, lead=120, awg=30),
        paths=p.from_drive("IN", p.drive(2, 180, 25), p.BEC_SMALL, 5.0, 1.0),
        span=850, area=15, mass=115, dive=8, minutes=6, registration=None, registration_place=None,
    )  # fmt: skip


def park() -> Aircraft:
    """A high-wing park flyer with four 9 g servos."""
    return plane(
        "PK", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(380, 30, 170), throw=(18, 14), two=True, horn=12, lead=250, awg=28),
        Moved(what=E, kind=p.MICRO, size=(340, 38, 120), throw=(18, 18), horn=12, lead=150, awg=28),
        Moved(what=R, kind=p.MICRO, size=(150, 50, 120), throw=(25, 25), horn=12, lead=150, awg=28),
        paths=p.from_drive("PK", p.drive(3, 1300), p.BEC, 5.0), span=1100, area=19, mass=700, dive=20,
        minutes=8,
    )  # fmt: skip


def foam_3d() -> Aircraft:
    """An 0.9 m profile of foam, all the throw there is, flown at walking pace."""
    return plane(
        "FO", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO, size=(400, 65, 230), throw=(35, 35), two=True, horn=14, lead=150, awg=28),
        Moved(what=E, kind=p.MICRO, size=(400, 90, 170), throw=(40, 40), horn=14, lead=200, awg=28),
        Moved(what=R, kind=p.MICRO, size=(230, 110, 170), throw=(42, 42), horn=14, lead=200, awg=28),
        paths=p.from_drive("FO", p.drive(3, 850), p.BEC, 5.0), span=900, area=20, mass=380, dive=13,
        minutes=6,
    )  # fmt: skip


def rudder_elevator() -> Aircraft:
    """A two-metre electric glider on rudder and elevator with 9 g servos."""
    return plane(
        "RE", AircraftClass.SAIL_THERMAL, ELECTRIC,
        Moved(what=E, kind=p.MICRO, size=(480, 40, 130), throw=(15, 15), horn=13, lead=200, awg=28),
        Moved(what=R, kind=p.MICRO, size=(240, 70, 150), throw=(28, 28), horn=13, lead=200, awg=28),
        paths=p.from_drive("RE", p.drive(3, 1300), p.BEC, 5.0), span=2000, area=36, mass=950, dive=20,
        minutes=20,
    )  # fmt: skip


def electric_sport() -> Aircraft:
    """A balsa sport aircraft of 1.3 kg with 12 g metal-geared digitals."""
    return plane(
        "ES", AircraftClass.ELECTRIC_SMALL, ELECTRIC,
        Moved(what=A, kind=p.MICRO_MG, size=(450, 38, 210), throw=(16, 14), two=True, horn=13, awg=28),
        Moved(what=E, kind=p.MICRO_MG, size=(420, 45, 140), throw=(16, 16), horn=13, awg=28),
        Moved(what=R, kind=p.MICRO_MG, size=(180, 60, 140), throw=(25, 25), horn=13, awg=28),
        paths=p.from_drive("ES", p.drive(3, 2200), p.BEC, 5.0), span=1250, area=27, mass=1300, dive=28,
        minutes=7,
    )  # fmt: skip


def _sport(code: str, kind: object, pack: object, **values: object) -> Aircraft:
    usual: dict[str, object] = {
        "span": 1600, "area": 44, "mass": 2600, "dive": 30, "minutes": 12, "flights": 3,
        "aileron": ((600, 38, 280), (18, 14)), "elevator": ((520, 42, 180), (15, 15)),
        "rudder": ((220, 60, 160), (25, 25)), "power": GLOW, "class": AircraftClass.SPORT,
        "name_of": "", **values,
    }  # fmt: skip
    taken = {key: usual.pop(key) for key in ("aileron", "elevator", "rudder", "power", "class", "name_of")}
    return plane(
        code, taken["class"], taken["power"],  # type: ignore[arg-type]
        *(
            Moved(what=what, kind=kind, size=taken[key][0], throw=taken[key][1], two=two)  # type: ignore[arg-type, index]
            for what, key, two in ((A, "aileron", True), (E, "elevator", False), (R, "rudder", False))
        ),
        paths=p.direct(code, pack), **usual,  # type: ignore[arg-type]
    )  # fmt: skip


def trainer() -> Aircraft:
    """The forty-size trainer everybody learned on."""
    return _sport("TR", p.STANDARD, p.AA4)


def old_trainer() -> Aircraft:
    """The same with servos from before the ball race."""
    return _sport("OT", p.OLD, p.AA4, dive=27)


def low_wing() -> Aircraft:
    """A forty-size low-winger, five cells, standard servos."""
    return _sport("LW", p.STANDARD, p.AA5, span=1450, area=38, mass=2700, dive=38, minutes=10,
                  aileron=((560, 40, 270), (12, 12)), elevator=((500, 50, 180), (12, 12)))  # fmt: skip


def pattern_classic() -> Aircraft:
    """A sixty-size pattern aircraft of the eighties, metal-geared analogs."""
    return _sport("PC", p.STRONGER, p.AA5, span=1650, area=48, mass=3900, dive=42, minutes=9,
                  aileron=((620, 42, 290), (12, 12)), elevator=((560, 55, 190), (11, 11)),
                  rudder=((250, 75, 190), (22, 22)))  # fmt: skip


def pattern_electric() -> Aircraft:
    """Two metres, five kilograms, digitals all round."""
    return plane(
        "PE", AircraftClass.SPORT, ELECTRIC,
        Moved(what=A, kind=p.DIGITAL, size=(620, 75, 400), throw=(18, 18), two=True, awg=24),
        Moved(what=E, kind=p.DIGITAL, size=(330, 85, 230), throw=(18, 18), two=True, awg=24, lead=900),
        Moved(what=R, kind=p.DIGITAL, size=(320, 130, 280), throw=(30, 30), horn=25, awg=24, lead=900),
        paths=p.direct("PE", p.LIFE2), span=1950, area=90, mass=4950, dive=40, minutes=8, flights=2,
    )  # fmt: skip


def biplane() -> Aircraft:
    """A sport biplane with strip ailerons on the lower wing."""
    return _sport("BI", p.STANDARD, p.AA5, span=1300, area=70, mass=4000, dive=32, wing_count=2,
                  aileron=((480, 50, 270), (16, 14)), elevator=((520, 55, 180), (15, 15)),
                  rudder=((260, 90, 190), (25, 25)))  # fmt: skip


def float_plane() -> Aircraft:
    """A high-winger on floats, slow and heavy."""
    return _sport("FL", p.STANDARD, p.AA5, span=1700, area=52, mass=3800, dive=26,
                  rudder=((260, 80, 180), (28, 28)))  # fmt: skip


def racer() -> Aircraft:
    """A club racer of 2.3 kg: small surfaces, small throws, good mini digitals."""
    return plane(
        "RA", AircraftClass.SPORT, GLOW,
        Moved(what=A, kind=p.MINI, size=(330, 28, 210), throw=(7, 7), two=True, horn=16, use=35,
              more={"play_deg": 0.2}),
        Moved(what=E, kind=p.MINI, size=(360, 32, 130), throw=(7, 7), horn=16, use=35,
              more={"play_deg": 0.2}),
        paths=p.direct("RA", p.LIFE2), span=1250, area=27, mass=2300, dive=58, minutes=5, flights=4,
        throttle=p.MINI,
    )  # fmt: skip


def v_tail_sport() -> Aircraft:
    """An electric sport aircraft with a V-tail."""
    return plane(
        "VS", AircraftClass.SPORT, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(480, 40, 220), throw=(15, 13), two=True, horn=16),
        Moved(what=V, kind=p.MINI, size=(300, 45, 140), throw=(15, 15), two=True, horn=16, lead=600),
        paths=p.from_drive("VS", p.drive(4, 3300), p.BEC, 5.5), span=1500, area=34, mass=2200, dive=38,
        minutes=7,
    )  # fmt: skip


def three_d_small() -> Aircraft:
    """1.2 m, 1.5 kg, mini digitals: hover and rolling circles."""
    return plane(
        "TS", AircraftClass.AEROBATIC_3D, ELECTRIC,
        Moved(what=A, kind=p.MINI, size=(440, 85, 300), throw=(35, 35), two=True, horn=18),
        Moved(what=E, kind=p.MINI, size=(480, 100, 210), throw=(45, 45), horn=18, use=50),
        Moved(what=R, kind=p.MINI, size=(300, 130, 220), throw=(40, 40), horn=18, use=50),
        paths=p.from_drive("TS", p.drive(4, 2200), p.BEC_BIG, 6.0), span=1220, area=36, mass=1650, dive=24,
        minutes=7,
    )  # fmt: skip


def three_d_two_metre() -> Aircraft:
    """Two metres, petrol of fifty, the strong high-volt servos one buys for it."""
    return plane(
        "TT", AircraftClass.AEROBATIC_3D, PETROL,
        Moved(what=A, kind=p.HV35, size=(720, 125, 440), throw=(32, 32), two=True, horn=30, awg=22),
        Moved(what=E, kind=p.HV35, size=(420, 140, 300), throw=(40, 40), two=True, horn=30, awg=22, lead=900,
              use=48),
        Moved(what=R, kind=p.HV45, size=(430, 210, 350), throw=(40, 40), horn=38, awg=22, lead=900, use=50),
        paths=p.direct("TT", p.LIPO2_BIG, 2, 5.0), span=2100, area=100, mass=7600, dive=32, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip


def three_d_giant() -> Aircraft:
    """2.6 m, 11 kg, two servos on the rudder."""
    made = plane(
        "TG", AircraftClass.AEROBATIC_3D, PETROL,
        Moved(what=A, kind=p.HV45, size=(900, 140, 520), throw=(30, 30), two=True, horn=38, awg=20),
        Moved(what=E, kind=p.HV45, size=(530, 160, 350), throw=(38, 38), two=True, horn=38, awg=20, lead=1100,
              use=48),
        Moved(what=R, kind=p.HV45, size=(520, 250, 420), throw=(38, 38), horn=45, awg=20, lead=1100, use=50),
        paths=p.direct("TG", p.LIPO2_BIG, 2, 5.0), span=2650, area=160, mass=11300, dive=33, minutes=10,
        flights=2, throttle=p.DIGITAL_HV,
    )  # fmt: skip
    return second_servo(made, "RUD")


def hand_launched() -> Aircraft:
    """A hand-launched glider of 280 g."""
    return plane(
        "HL", AircraftClass.SAIL_THERMAL, NONE,
        Moved(what=A, kind=p.MICRO_LV, size=(620, 40, 160), throw=(12, 25), two=True, horn=10, awg=28),
        Moved(what=E, kind=p.TINY, size=(300, 25, 70), throw=(12, 12), horn=10, awg=30, lead=150),
        Moved(what=R, kind=p.TINY, size=(170, 45, 90), throw=(20, 20), horn=10, awg=30, lead=150),
        paths=p.direct("HL", p.cells(Chemistry.NIMH_LSD, 4, 350, 45, 1.5, 4), load_a=0.5),
        span=1490, area=22, mass=280, dive=28, minutes=4, flights=5,
    )  # fmt: skip


def thermal() -> Aircraft:
    """A four-metre electric thermal glider of carbon, 8 mm servos in the wing."""
    return plane(
        "TH", AircraftClass.SAIL_THERMAL, ELECTRIC,
        Moved(what=A, kind=p.WING8, size=(900, 42, 190), throw=(18, 10), two=True, horn=12, awg=24, lead=900),
        Moved(what=F, kind=p.WING8, size=(900, 50, 230), throw=(5, 60), two=True, horn=12, awg=24, lead=400,
              use=55, more={"used_as_brake": True, "load_speed_m_s": 12.0}),
        Moved(what=V, kind=p.WING8, size=(330, 38, 110), throw=(14, 14), two=True, horn=12, awg=26, lead=900),
        paths=p.from_drive("TH", p.drive(3, 1300), p.BEC, 6.0), span=3800, area=80, mass=2000, dive=28,
        minutes=15,
    )  # fmt: skip


def thermal_all_moving() -> Aircraft:
    """A three-metre glider with an all-moving tailplane, pivot at a quarter of the chord."""
    return plane(
        "TM", AircraftClass.SAIL_THERMAL, NONE,
        Moved(what=A, kind=p.MICRO_MG, size=(700, 42, 190), throw=(18, 9), two=True, horn=12, awg=26,
              lead=800),
        Moved(what=E, kind=p.MICRO_MG, size=(560, 95, 95), throw=(8, 8), horn=22, awg=26, lead=800,
              more={"carried": SurfaceKind.ALL_MOVING, "pivot_pct": 25.0, "whole_chord_mm": 95.0}),
        Moved(what=R, kind=p.MICRO_MG, size=(260, 80, 160), throw=(28, 28), horn=14, awg=26, lead=800),
        paths=p.direct("TM", p.AA4), span=3000, area=60, mass=1700, dive=28, minutes=30, flights=2,
    )  # fmt: skip


def slope_foam() -> Aircraft:
    """A combat wing of foam on the slope, standard analogs."""
    return plane(
        "SF", AircraftClass.SAIL_FAST, NONE,
        Moved(what=A, kind=p.STANDARD, size=(560, 55, 260), throw=(14, 14), two=True, horn=20),
        paths=p.direct("SF", p.AA4), span=1200, area=30, mass=900, dive=24, minutes=30, flights=2,
    )  # fmt: skip


def slope_racer() -> Aircraft:
    """A three-metre slope racer, strong 10 mm digitals, hard linkages."""
    return plane(
        "SR", AircraftClass.SAIL_FAST, NONE,
        Moved(what=A, kind=p.WING10, size=(720, 40, 180), throw=(18, 9), two=True, horn=11, awg=22,
              lead=1000),
        Moved(what=F, kind=p.WING10, size=(680, 50, 220), throw=(6, 60), two=True, horn=12, awg=22, lead=500,
              use=55, more={"used_as_brake": True, "load_speed_m_s": 20.0}),
        Moved(what=V, kind=p.WING10, size=(300, 34, 105), throw=(9, 9), two=True, horn=14, use=25, awg=24,
              lead=900),
        paths=p.direct("SR", p.ION2, load_a=3.0), span=2950, area=58, mass=3200, dive=62, minutes=20,
        flights=2, competition_class="F3F", mass_limit_g=5000.0,
    )  # fmt: skip


def slope_sport() -> Aircraft:
    """A 1.5 m slope aerobat with an all-moving tail and metal minis."""
    return plane(
        "SS", AircraftClass.SAIL_FAST, NONE,
        Moved(what=A, kind=p.MINI, size=(520, 38, 180), throw=(14, 14), two=True, horn=14),
        Moved(what=E, kind=p.MINI, size=(340, 85, 85), throw=(7, 7), horn=22, lead=500,
              more={"carried": SurfaceKind.ALL_MOVING, "pivot_pct": 24.0, "whole_chord_mm": 85.0}),
        paths=p.direct("SS", p.AA5), span=1500, area=26, mass=1150, dive=42, minutes=30, flights=2,
    )  # fmt: skip


def scale_glider() -> Aircraft:
    """Four metres, 5 kg, old school: metal analogs, air brakes."""
    return plane(
        "SG", AircraftClass.SAIL_SCALE, TOW,
        Moved(what=A, kind=p.STRONGER, size=(800, 45, 180), throw=(20, 10), two=True, horn=18, lead=900,
              awg=24),
        Moved(what=S, kind=p.STRONGER, size=(300, 25, 220), throw=(60, 0), two=True, horn=18, lead=600,
              awg=24, use=50, more={"load_speed_m_s": 20.0}),
        Moved(what=E, kind=p.STRONGER, size=(560, 60, 160), throw=(14, 14), horn=20, lead=900, awg=24),
        Moved(what=R, kind=p.STRONGER, size=(330, 130, 230), throw=(28, 28), horn=25, lead=900, awg=24),
        paths=p.direct("SG", p.SUB_C5, load_a=2.0), span=4000, area=80, mass=5200, dive=36, minutes=30,
        flights=2,
    )  # fmt: skip


def big_glider() -> Aircraft:
    """Six metres, 14 kg, towed; digitals, two packs."""
    return plane(
        "BG", AircraftClass.SAIL_SCALE, TOW,
        Moved(what=A, kind=p.HV20, size=(1200, 55, 230), throw=(22, 11), two=True, horn=18, lead=1800,
              awg=20),
        Moved(what=F, kind=p.HV20, size=(1100, 65, 280), throw=(8, 30), two=True, horn=20, lead=900, awg=20,
              more={"load_speed_m_s": 20.0}),
        Moved(what=S, kind=p.HV20, size=(450, 30, 300), throw=(80, 0), two=True, horn=20, lead=1000, awg=20,
              use=58, more={"load_speed_m_s": 22.0}),
        Moved(what=E, kind=p.HV20, size=(850, 75, 210), throw=(14, 14), horn=25, lead=1200, awg=20),
        Moved(what=R, kind=p.HV20, size=(480, 190, 340), throw=(28, 28), horn=30, lead=1200, awg=20),
        paths=p.direct("BG", p.LIPO2_BIG, 2, 3.0), span=6000, area=150, mass=14000, dive=42, minutes=30,
        flights=2,
    )  # fmt: skip


FINE = (
    Setup(name="indoor foam, 115 g", why="5 g of servo holds a hand of foam at 8 m/s", make=indoor),
    Setup(name="park flyer, 9 g servos", why="sold by the thousand like this", make=park),
    Setup(name="foam profile, all throws", why="9 g servos and full throw at 10 m/s is how they fly",
          make=foam_3d),
    Setup(name="rudder-elevator glider", why="two 9 g servos are enough at 20 m/s", make=rudder_elevator),
    Setup(name="electric sport 1.3 kg", why="12 g digitals are what the kit names", make=electric_sport),
    Setup(name="trainer", why="four standard analogs and four cells, for forty years", make=trainer),
    Setup(name="trainer of old", why="older servos still flew every trainer", make=old_trainer),
    Setup(name="low-wing sport", why="standard analogs on a forty low-winger are usual", make=low_wing),
    Setup(name="classic pattern", why="soft but strong enough; contests were won like this",
          make=pattern_classic),
    Setup(name="electric pattern", why="1 N m digitals are what such aircraft carry", make=pattern_electric),
    Setup(name="sport biplane", why="slow and stiff enough with standard analogs", make=biplane),
    Setup(name="float plane", why="slow; standard analogs", make=float_plane),
    Setup(name="club racer", why="small throws at 58 m/s held by half a newton metre", make=racer),
    Setup(name="V-tail sport", why="mini digitals on a 2 kg aircraft", make=v_tail_sport),
    Setup(name="3D of 1.2 m", why="half a newton metre is the class's usual servo", make=three_d_small),
    Setup(name="3D of two metres", why="3.5 N m on every surface, the usual buy", make=three_d_two_metre),
    Setup(name="3D of 2.6 m", why="4.5 N m, two on the rudder, the usual buy", make=three_d_giant),
    Setup(name="hand-launched glider", why="small servos in a small wing; packs last an afternoon",
          make=hand_launched),
    Setup(name="thermal glider of carbon", why="8 mm servos are built for it", make=thermal),
    Setup(name="all-moving tail at a quarter", why="pivot at 25 % is what plans show",
          make=thermal_all_moving),
    Setup(name="combat wing of foam", why="standard servos at 24 m/s", make=slope_foam),
    Setup(name="slope racer", why="1.1 N m on short stiff links, the class's usual", make=slope_racer),
    Setup(name="slope aerobat", why="minis and a pivot at 24 %", make=slope_sport),
    Setup(name="scale glider of old", why="metal analogs at 36 m/s, small throws; flown so for decades",
          make=scale_glider),
    Setup(name="tow glider of 14 kg", why="2 N m everywhere is generous", make=big_glider),
)  # fmt: skip
