"""Set-ups with one fault, labelled before they were judged. Every label: common practice, no source."""

from __future__ import annotations

import dataclasses

from hangar.parts import Aircraft
from hangar.parts.choices import AntennaRoute, Chemistry, FailsafeAction, FormerEdge, RegulatorKind
from hangar.rules import Level
from hangar.rules.changing import (
    with_airframe,
    with_channel,
    with_fit,
    with_gyro,
    with_path,
    with_receiver,
    with_surface,
)
from tests.rules.practice import held_fine as fine
from tests.rules.practice import held_heli as heli
from tests.rules.practice import parts as p
from tests.rules.practice.bad_loads import _fitted, _hv, _metal, _steady, bad
from tests.rules.practice.building import second_servo

_SURFACE, _PIVOT = ("torque-short-surface",), ("all-moving-pivot",)
_OVER = ("servo-over-volts", "regulator-setting-vs-servos", "receiver-over-volts", "gyro-over-volts")
_SUPPLY = ("under-volts-receiver", "discharge-rate-short", "regulator-current", "regulator-heat")


def _on(made: Aircraft, pack: object) -> Aircraft:
    return dataclasses.replace(made, paths=p.direct(made.code, pack))  # type: ignore[arg-type]


def _burning(made: Aircraft) -> Aircraft:
    """The radio through a linear regulator from six lithium cells."""
    kind = p.regulator(RegulatorKind.LINEAR, 3.0, 5.0, shed_w=4.0, drop_out_v=0.5)
    return p.regulated(made, kind, 5.0, p.drive(6, 5000))


TORQUE = (
    bad("toy servos on a profile aerobat", "1.7 g servos on 0.26 kg: it does not turn",
        lambda: _fitted(fine.depron_3d(), p.TOY, "AIL", "ELE", "RUD"), *_SURFACE),
    bad("5 g analogs in a fast electric glider's wing", "soft and weak at 60 m/s: flutter",
        lambda: _fitted(fine.hotliner(), _hv(p.TINY), "AIL-L", "AIL-R"), *_SURFACE),
    bad("toy servos in a three-task glider's flaps", "the brakes blow back on every landing",
        lambda: _fitted(fine.three_task(), _hv(p.TINY), "FLAP-L", "FLAP-R"), *_SURFACE, least=Level.CAUTION),
    bad("9 g servos in a ballasted slope racer's wing", "soft at 70 m/s",
        lambda: _fitted(fine.ballasted(), _hv(p.MICRO), "AIL-L", "AIL-R"), *_SURFACE),
    bad("9 g analogs on a twin fighter's elevators", "0.15 N m on 16 kg",
        lambda: _fitted(fine.twin_fighter(), _steady(_hv(p.MICRO)), "ELE-L", "ELE-R"), *_SURFACE,
        "torque-below-giant-minimum", least=Level.CAUTION),
    bad("12 g servos on a 40 per cent aerobat's ailerons", "a fifteenth of what it carries",
        lambda: _fitted(fine.forty_per_cent(), _hv(p.MICRO_MG), "AIL-L", "AIL-R"), *_SURFACE),
    bad("minis on a sequence aircraft's rudder", "half a newton metre against two feet of rudder",
        lambda: _fitted(fine.sequence_giant(), _hv(p.MINI), "RUD"), *_SURFACE),
    bad("metal analogs on a turbine delta", "soft at 78 m/s: the elevons float",
        lambda: _fitted(fine.jet_delta(), _hv(p.STRONGER), "AIL-L", "AIL-R"), *_SURFACE),
    bad("1.7 g servos on a fan jet's elevators", "0.02 N m at 50 m/s",
        lambda: _fitted(fine.fan_sport(), _hv(p.TOY), "ELE-L", "ELE-R"), *_SURFACE),
    bad("9 g servo on a third-scale glider's rudder", "cannot hold the nose on tow",
        lambda: _fitted(fine.third_scale_glider(), _hv(p.MICRO), "RUD"), *_SURFACE),
    bad("5 g servos on an electric fighter's flaps", "they stay half up and uneven",
        lambda: _fitted(fine.electric_fighter(), _hv(p.TINY), "FLAP-L", "FLAP-R"), *_SURFACE,
        least=Level.CAUTION),
    bad("vectored jet, tail pivots at 32 %", "behind the centre: it snaps over",
        lambda: with_surface(fine.nozzle_jet(), "ELE-L", "ELE-R", pivot_pct=32.0), *_PIVOT),
    bad("vectored jet, tail pivots at 29 %", "nothing in hand against the centre",
        lambda: with_surface(fine.nozzle_jet(), "ELE-L", "ELE-R", pivot_pct=29.0), *_PIVOT,
        least=Level.CAUTION),
    bad("5 g servos under a flybarless 450's plate", "a fifth of the torque",
        lambda: _fitted(heli.scale_small(), _metal(p.TOY), "CYC-1", "CYC-2", "CYC-3"), "torque-short-cyclic"),
    bad("9 g servos under a turbine of 20 kg", "the disc goes where it will",
        lambda: _fitted(heli.turbine_twenty(), _metal(p.MICRO), "CYC-1", "CYC-2", "CYC-3"),
        "torque-short-cyclic"),
    bad("450 cyclics under a turbine for brisk flying", "0.25 N m at 1500 a minute",
        lambda: _fitted(heli.turbine_sport(), _metal(p.CYCLIC_S), "CYC-1", "CYC-2", "CYC-3"),
        "torque-short-cyclic"),
)  # fmt: skip

DRIVE = (
    bad("analog and digital in one V-tail", "one half lags: it yaws when pulled",
        lambda: _fitted(fine.e_glider(), p.MICRO, "VT-R"), "mixed-kinds-pair", least=Level.CAUTION),
    bad("one stronger servo of two on a rudder", "they fight",
        lambda: second_servo(fine.sequence_giant(), "RUD", p.HV20), "ganged-mismatch"),
    bad("analog tail servo on a fast gyro", "heats at 333 a second and burns",
        lambda: with_gyro(_fitted(heli.fifty_nitro(), p.STANDARD_TAIL, "TAIL"), rate_hz=333.0),
        "frame-rate-too-high"),
    bad("wide tail servo on a narrow gyro", "runs to its stop and burns",
        lambda: with_gyro(heli.regulated_700(), pulse_us=760.0), "pulse-narrow-on-wide"),
    bad("thin wire on a float plane's elevator", "bows, and the elevator stays",
        lambda: with_fit(fine.petrol_floats(), "ELE", linkage={"rod_diameter_mm": 1.5, "rod_free_mm": 500.0}),
        "rod-buckling", least=Level.CAUTION),
    bad("pylon racer with two degrees of play", "flutter at 75 m/s",
        lambda: with_surface(fine.pylon(), "AIL-L", "AIL-R", play_deg=2.0), "slop-over-limit",
        "flutter-risk"),
)  # fmt: skip

SUPPLY = (
    bad("three cells straight on a foam wing", "12 V on servos for six", lambda: _on(
        fine.speed_wing(), p.drive(3, 1300)), *_OVER),
    bad("two polymer cells on a slope wing's analogs", "8.4 V on servos for five nickel cells",
        lambda: _on(fine.epp_slope(), p.LIPO2), *_OVER),
    bad("four small cells under five digitals", "pen cells under 10 A: brown-out on floats",
        lambda: _on(fine.petrol_floats(), p.cells(Chemistry.NIMH, 4, 600.0, 80.0, 1.2, 2.5)), *_SUPPLY),
    bad("linear supply from six cells in a fan jet", "twenty volts to burn: shuts down hot",
        lambda: _burning(fine.fan_sport()), *_SUPPLY),
    bad("controller's supply of an ampere under a 550", "three cyclic servos ask for ten",
        lambda: with_path(heli.sport_550(), regulator_type={"continuous_a": 1.0, "burst_a": 1.5}), *_SUPPLY),
    bad("hair-thin leads in a third-scale glider", "nine feet of AWG 30 to the ailerons",
        lambda: with_fit(fine.third_scale_glider(), "AIL-L", "AIL-R", lead={
            "length_mm": 2800.0, "awg": 30}), "lead-drop", "under-volts-servo", "lead-gauge-small",
        least=Level.CAUTION),
    bad("heavy twin on one thousand milliampere hours", "half of what the code asks, and empty in a day",
        lambda: _on(fine.twin_fighter(), dataclasses.replace(p.LIPO2_BIG, capacity_mah=700.0)),
        "pack-below-giant-table", "pack-below-one-hour", "pack-too-small", "single-pack-giant",
        least=Level.CAUTION),
    bad("vectored jet on one pack", "one plug from the ground", lambda: _on(fine.nozzle_jet(), p.LIPO2_BIG),
        "single-pack-giant", least=Level.CAUTION),
    bad("5 V gyro behind a 550's supply", "the gyro dies and the tail with it", lambda: with_gyro(
        heli.sport_550(), supply_max_v=5.5), *_OVER),
)  # fmt: skip

SETTING_UP = (
    bad("flying wing balanced a hand too far back", "flips when it is thrown", lambda: with_airframe(
        fine.speed_wing(), cg_measured_mm=103.0), "cg-moved"),
    bad("canard balanced too far back", "no elevator stops it", lambda: with_airframe(
        fine.canard(), cg_measured_mm=99.0), "cg-moved"),
    bad("vectored jet that holds its throttle", "flies on without signal", lambda: with_channel(
        fine.nozzle_jet(), 3, failsafe=FailsafeAction.HOLD), "turbine-failsafe", "failsafe-not-set"),
    bad("hall aerobat whose motor runs on", "into the people without signal", lambda: with_channel(
        fine.indoor_3d(), 3, failsafe=FailsafeAction.HOLD), "failsafe-not-set"),
    bad("contest glider with bare leads at a carbon rib", "saws through", lambda: with_fit(
        fine.thermal_contest(), "FLAP-R", lead={
            "former_edge": FormerEdge.BARE_HARD, "former_clearance_mm": 0.0}), "former-unsleeved"),
    bad("three-task glider with both antennas in carbon", "no signal at the far turn", lambda: with_receiver(
        fine.three_task(), antenna_route=AntennaRoute.ALL_IN_CARBON), "antenna-carbon"),
    bad("vectored jet above its limit", "not allowed to fly", lambda: with_airframe(
        fine.nozzle_jet(), all_up_mass_g=25600.0), "mass-over-limit"),
)  # fmt: skip

BAD = (*TORQUE, *DRIVE, *SUPPLY, *SETTING_UP)
