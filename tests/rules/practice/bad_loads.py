"""Set-ups with one fault of torque, drive, volts or current. Every label: common practice, no source."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

from hangar.parts import Aircraft, ServoType
from hangar.parts.choices import (
    Bearing,
    Chemistry,
    Drive,
    Gear,
    MaxMeans,
    PackJoin,
    RegulatorKind,
    SwitchKind,
)
from hangar.rules import Level
from hangar.rules.changing import (
    with_channel,
    with_fit,
    with_gyro,
    with_pack,
    with_path,
    with_receiver,
    with_surface,
)
from hangar.rules.example_parts import ago
from hangar.rules.examples import cell_readings
from tests.rules.practice import fine_big as big
from tests.rules.practice import fine_heli as heli
from tests.rules.practice import fine_small as small
from tests.rules.practice import parts as p
from tests.rules.practice.building import second_servo
from tests.rules.practice.setup import Setup


def bad(
    name: str, why: str, make: Callable[[], Aircraft], *slugs: str, least: Level = Level.WARNING
) -> Setup:
    """A set-up with one fault and the checks that may name it."""
    return Setup(name=name, why=why, make=make, faults=frozenset(slugs), least=least)


def _fitted(made: Aircraft, kind: ServoType, *codes: str) -> Aircraft:
    """Another servo type at some positions, in bays that fit it."""
    bay = {
        "bay_length_mm": (kind.case_length_mm or 0) + 1.5, "bay_width_mm": (kind.case_width_mm or 0) + 1.0,
        "bay_height_mm": (kind.case_height_mm or 0) + 5.0, "bay_screw_mm": kind.screw_length_mm or 0,
    }  # fmt: skip
    arm = {"arm_teeth": kind.spline_teeth, "arm_spline_mm": kind.spline_mm}
    return with_fit(made, *codes, servo_type=kind, position=bay, installation=arm,
                    servo={"servo_type": kind.code})  # fmt: skip


def _hv(kind: ServoType) -> ServoType:
    """The type with nothing wrong but its torque: metal gears, ball raced, and it bears high volts."""
    low = kind.ratings[0]
    rows = tuple(
        dataclasses.replace(low, rated_v=volts, torque_nm=(low.torque_nm or 0) * volts / low.rated_v,
                            transit_s=(low.transit_s or 0) * low.rated_v / volts,
                            stall_a=(low.stall_a or 0) * volts / low.rated_v)
        for volts in (4.8, 6.0, 8.4)
    )  # fmt: skip
    return dataclasses.replace(
        kind, ratings=rows, supply_max_v=8.4, max_means=MaxMeans.ABSOLUTE, gear=Gear.METAL,
        bearing=Bearing.TWO_BALL,
    )  # fmt: skip


def _steady(kind: ServoType) -> ServoType:
    """The type with the torque of its lowest row at all volts."""
    least = kind.ratings[0].torque_nm
    return dataclasses.replace(
        kind, ratings=tuple(dataclasses.replace(row, torque_nm=least) for row in kind.ratings)
    )


def _metal(kind: ServoType) -> ServoType:
    """The type with metal gears, ball raced, as quick and fast-framed as a cyclic servo."""
    rows = tuple(
        dataclasses.replace(row, torque_nm=(kind.ratings[0].torque_nm or 0) * row.rated_v / 4.8, stall_a=0.6)
        for row in p.CYCLIC_L.ratings
    )
    return dataclasses.replace(p.CYCLIC_L, code="PR-weak cyclic", ratings=rows)


_SURFACE = ("torque-short-surface",)
_PIVOT = ("all-moving-pivot",)
_OVER = ("servo-over-volts", "regulator-setting-vs-servos", "receiver-over-volts", "gyro-over-volts")


def _limited(kind: ServoType, most: float) -> ServoType:
    """The type with a highest voltage of its maker's own."""
    return dataclasses.replace(kind, supply_max_v=most, max_means=MaxMeans.ABSOLUTE)


TORQUE = (
    bad("indoor servos on a fan trainer's ailerons", "14 degrees at 33 m/s ask for twice their 25 mN m",
        lambda: _fitted(big.edf_big(), _hv(p.TOY), "AIL-L", "AIL-R"), *_SURFACE),
    bad("indoor servo on a sixty-size fighter's elevator", "12 degrees at 25 m/s ask for more than 18 mN m",
        lambda: _fitted(big.warbird(), _steady(_hv(p.TOY)), "ELE"), *_SURFACE),
    bad("standard analog on a 3D rudder", "0.3 N m on a rudder of 2.6 m span stands still in a knife edge",
        lambda: _fitted(small.three_d_two_metre(), _hv(p.STANDARD), "RUD"), *_SURFACE),
    bad("9 g servos on a giant's elevators", "0.15 N m on a giant of 9.5 kg: no pull-out",
        lambda: _fitted(big.giant_sport(), _hv(p.MICRO), "ELE-L", "ELE-R"), *_SURFACE,
        "torque-below-giant-minimum"),
    bad("standard analogs on a turbine trainer's ailerons", "0.3 N m at 75 m/s: no roll, and flutter next",
        lambda: _fitted(big.jet_trainer(), _hv(p.STANDARD), "AIL-L", "AIL-R"), *_SURFACE),
    bad("9 g servos in a slope racer's wing", "soft and weak at 62 m/s",
        lambda: _fitted(small.slope_racer(), _hv(p.MICRO), "AIL-L", "AIL-R"), *_SURFACE),
    bad("9 g servo on a tow plane's rudder", "cannot hold the tow straight",
        lambda: _fitted(big.tow_plane(), _hv(p.MICRO), "RUD"), *_SURFACE),
    bad("9 g servos on a big fighter's elevators", "no pull-out from 43 m/s",
        lambda: _fitted(big.warbird_big(), _hv(p.MICRO), "ELE-L", "ELE-R"), *_SURFACE,
        "torque-below-giant-minimum"),
    bad("12 g servo on a rudder of two thirds of the fin", "the widest rudder and the smallest servo",
        lambda: _fitted(
            with_surface(small.three_d_two_metre(), "RUD", root_chord_mm=240.0, whole_chord_mm=330.0),
            _hv(p.MICRO_MG), "RUD"), *_SURFACE),
    bad("toy servos on a glider's air brakes", "the brakes blow shut on the approach",
        lambda: _fitted(small.big_glider(), _hv(p.TINY), "SPO-L", "SPO-R"), *_SURFACE, least=Level.CAUTION),
    bad("toy servos on a jet's flaps", "flaps at 40 degrees push a 9 g servo back at 28 m/s",
        lambda: _fitted(big.jet_trainer(), _hv(p.MICRO), "FLAP-L", "FLAP-R"), *_SURFACE, least=Level.CAUTION),
    bad("standard analogs on a 24 kg jet's elevators", "a tenth of what it needs",
        lambda: _fitted(big.jet_heavy(), _hv(p.STANDARD), "ELE-L", "ELE-R"), *_SURFACE),
    bad("tail pivot at 38 % on a turbine fighter", "the air drives the tail to its stop",
        lambda: with_surface(big.jet_scale(), "ELE-L", "ELE-R", pivot_pct=38.0), *_PIVOT),
    bad("tail pivot at 35 % on a fan fighter", "behind the centre: it snaps over in a dive",
        lambda: with_surface(big.edf_all_moving(), "ELE-L", "ELE-R", pivot_pct=35.0), *_PIVOT),
    bad("tail pivot at 40 % on a slope aerobat", "behind the centre: it snaps over in a dive",
        lambda: with_surface(small.slope_sport(), "ELE", pivot_pct=40.0), *_PIVOT),
    bad("small cyclic servos in a 700", "a fifth of the torque; the disc goes where it will",
        lambda: _fitted(heli.big_electric(), _metal(p.MICRO), "CYC-1", "CYC-2", "CYC-3"),
        "torque-short-cyclic"),
    bad("toy collective servo in a sixty", "one servo carries the whole collective",
        lambda: _fitted(heli.nitro_old(), p.TINY, "PIT"), "torque-short-cyclic"),
    bad("toy tail servo in a scale turbine", "the tail runs away on a quick collective",
        lambda: _fitted(heli.turbine_scale(), _quick(p.TINY, p.TAIL_BIG), "TAIL"), "torque-short-tail"),
)  # fmt: skip


def _quick(weak: ServoType, tail: ServoType) -> ServoType:
    """A weak servo that is as quick and fast-framed as a tail servo."""
    return dataclasses.replace(
        tail, code="PR-weak tail",
        ratings=tuple(
            dataclasses.replace(row, torque_nm=(weak.ratings[0].torque_nm or 0) * 0.6, stall_a=0.6,
                                servo_type="PR-weak tail")
            for row in tail.ratings
        ),
    )  # fmt: skip


DRIVE = (
    bad("analog left on an electronic swashplate", "slower than its neighbours: the plate tips",
        lambda: _fitted(heli.nitro_ninety(), _old_kind(p.CYCLIC_M), "CYC-2"), "mixed-kinds-swash"),
    bad("slow servo on one corner of a plate", "half the speed of the others",
        lambda: _fitted(heli.big_electric(), _slower(p.CYCLIC_L, 2.0), "CYC-3"), "speed-mismatch-swash"),
    bad("narrow-pulse tail servo on a wide output", "it runs to its stop and burns",
        lambda: with_gyro(_fitted(heli.big_electric(), dataclasses.replace(p.TAIL_L, pulse_us=760.0), "TAIL"),
                          pulse_us=1520.0), "pulse-narrow-on-wide"),
    bad("analog servo on a fast output", "heats at 200 frames a second and fails",
        lambda: with_channel(small.trainer(), 1, rate_hz=200.0), "frame-rate-too-high"),
    bad("two unlike servos on one rudder", "they fight over where the middle is",
        lambda: second_servo(small.three_d_two_metre(), "RUD", p.HV20), "ganged-mismatch"),
    bad("an analog and a digital on the ailerons", "one aileron lags in every roll",
        lambda: _fitted(small.low_wing(), p.DIGITAL, "AIL-R"), "mixed-kinds-pair", least=Level.CAUTION),
    bad("nylon gears on a 3D elevator", "strips in the first snap",
        lambda: with_fit(small.three_d_two_metre(), "ELE-L", "ELE-R", servo_type={"gear": Gear.NYLON}),
        "gear-vs-duty"),
    bad("nylon gears on a flybarless 700's plate", "strips on the first hard collective",
        lambda: with_fit(heli.big_electric(), "CYC-1", "CYC-2", "CYC-3", servo_type={"gear": Gear.NYLON}),
        "gear-vs-duty"),
)  # fmt: skip


def _old_kind(kind: ServoType) -> ServoType:
    return dataclasses.replace(kind, code="PR-analog cyclic", drive=Drive.ANALOG)


def _slower(kind: ServoType, times: float) -> ServoType:
    rows = tuple(dataclasses.replace(row, transit_s=(row.transit_s or 0) * times) for row in kind.ratings)
    return dataclasses.replace(kind, ratings=rows)


def _lithium(made: Aircraft) -> Aircraft:
    return dataclasses.replace(made, paths=p.direct(made.code, p.LIPO2))


def _with_bec(made: Aircraft, **values: Any) -> Aircraft:
    return with_path(made, regulator_type=values)


_LINEAR = p.regulator(RegulatorKind.LINEAR, 5.0, 10.0, shed_w=6.0, drop_out_v=0.5)

VOLTS = (
    bad("two lithium cells on a trainer's servos", "8.4 V on servos for five cells",
        lambda: _lithium(small.trainer()), *_OVER),
    bad("6 V tail servo on 8.4 V", "it burns in the air",
        lambda: _fitted(heli.middle_electric(), _limited(p.TAIL_L, 6.0), "TAIL"), *_OVER),
    bad("5.5 V receiver on 8.3 V", "the receiver dies",
        lambda: with_receiver(small.slope_racer(), supply_max_v=5.5), *_OVER),
    bad("6 V gyro on 8.4 V", "the gyro dies",
        lambda: with_gyro(heli.big_electric(), supply_max_v=6.0), *_OVER),
    bad("controller's supply set above the weakest servo", "7.4 V on servos for five cells",
        lambda: with_path(small.electric_sport(), regulator={"set_v": 7.4}), *_OVER),
    bad("old cells in a contest 3D", "a pack of fifteen times its resistance lets the receiver restart",
        lambda: with_pack(small.three_d_two_metre(), pack={"cell_mohm": 60.0}), "under-volts-receiver",
        "discharge-rate-short", "dcir-risen", "load-test-failed"),
    bad("four small cells in a 600 for hard flying", "pen cells cannot feed it: brown-out",
        lambda: dataclasses.replace(heli.middle_electric(), paths=p.direct("H6", p.cells(
            Chemistry.NIMH, 4, 700.0, 70.0, 1.5, 3.0))), "under-volts-receiver", "discharge-rate-short"),
    bad("a supply of half an ampere in a 3D", "folds back in the first snap",
        lambda: _with_bec(small.three_d_small(), continuous_a=0.5, burst_a=1.0), "regulator-current"),
    bad("a small supply under a flybarless 450", "1 A of burst for three cyclic servos",
        lambda: _with_bec(heli.small_electric(), continuous_a=0.5, burst_a=1.0), "regulator-current"),
    bad("linear regulator from four lithium cells", "ten volts to burn in a ninety: it shuts down hot",
        lambda: p.regulated(heli.nitro_ninety(), dataclasses.replace(_LINEAR, shed_w=3.0), 5.8,
                            p.drive(4, 3000)), "regulator-heat", "regulator-current"),
    bad("regulator without room above its setting", "7.4 V asked of two iron cells",
        lambda: p.regulated(heli.nitro_ninety(), dataclasses.replace(_LINEAR, drop_out_v=0.8), 6.4, p.LIFE2),
        "regulator-dropout", least=Level.CAUTION),
    bad("slide switch of 1 A in a contest 3D", "the contact burns open",
        lambda: with_path(small.three_d_two_metre(), switch_type={
            "switch": SwitchKind.SLIDE, "continuous_a": 1.0, "burst_a": 1.5}), "switch-current"),
    bad("one three-pin plug for a 700", "twenty amperes through a plug for three",
        lambda: with_path(heli.big_electric(), feed={"joint_limit_a": 1.5, "parallel_leads": 1}),
        "connector-current"),
    bad("thin long lead to a tow plane's rudder", "two and a half metres of AWG 28 halve the torque",
        lambda: with_fit(big.tow_plane(), "RUD", lead={"length_mm": 2500.0, "awg": 28}), "lead-drop",
        "under-volts-servo", least=Level.CAUTION),
)  # fmt: skip

_NOT_ENOUGH = ("pack-too-small",)
PACKS = (
    bad("nickel pack worn to three times its resistance", "collapses under load",
        lambda: _aged(small.low_wing(), 42.0), "dcir-risen", "load-test-failed", "under-volts-receiver"),
    bad("nickel pack worn to two and a half times its resistance", "sags under load; the next pack is due",
        lambda: _aged(small.low_wing(), 35.0), "dcir-risen", "load-test-failed", "under-volts-receiver",
        least=Level.CAUTION),
    bad("pack that fails its load test", "4.3 V of four cells under 1 A",
        lambda: with_pack(small.trainer(), load_tests=_tested(4.85, 4.3)), "load-test-failed"),
    bad("lithium cells 120 mV apart", "one cell goes flat first",
        lambda: with_pack(small.slope_racer(), "SR-PA", cells=_cells("SR-PA", 4.16, 4.04)), "cell-spread"),
    bad("swollen pack", "fire", lambda: with_pack(heli.big_electric(), pack={"swollen": True}),
        "pack-swollen-or-crashed"),
    bad("pack with half its capacity", "runs flat in the third flight",
        lambda: with_pack(small.low_wing(), pack={"capacity_mah": 1000.0}), "capacity-faded"),
    bad("small pack for long flights", "half an hour in it for an hour's flying",
        lambda: dataclasses.replace(small.scale_glider(), paths=p.direct("SG", p.cells(
            Chemistry.NIMH, 5, 250.0, 30.0, 5.0, 9.0), load_a=1.0)), *_NOT_ENOUGH),
    bad("iron and polymer on one plain Y", "one charges the other",
        lambda: _joined(heli.nitro_ninety()), "parallel-unlike"),
)  # fmt: skip


def _aged(made: Aircraft, mohm: float) -> Aircraft:
    """A nickel pack of five cells whose charger and load test agree on its resistance."""
    tests = _tested(6.8, round(6.8 - (5.0 * mohm + 20.0) / 1000.0, 2))
    return with_pack(made, load_tests=tests, pack={"cell_mohm": mohm, "cell_mohm_on": ago(2)})


def _tested(rest_v: float, loaded_v: float) -> tuple[Any, ...]:
    first = small.trainer().paths[0].packs[0].load_tests[0]
    return (dataclasses.replace(first, rest_v=rest_v, loaded_v=loaded_v),)


def _cells(tag: str, *volts: float) -> tuple[Any, ...]:
    return cell_readings(tag, *volts)


def _joined(made: Aircraft) -> Aircraft:
    (path,) = made.paths
    other = p.charged("NP-PB", p.LIPO2, 5.0)
    feed = dataclasses.replace(path.feed, join=PackJoin.PLAIN_Y)
    return dataclasses.replace(
        made, paths=(dataclasses.replace(path, packs=(*path.packs, other), feed=feed),)
    )


BAD = (*TORQUE, *DRIVE, *VOLTS, *PACKS)
