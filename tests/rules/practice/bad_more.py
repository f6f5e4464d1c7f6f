"""More set-ups with one fault, in classes that the others leave out. Labels: common practice, no source."""

from __future__ import annotations

import dataclasses

from hangar.parts.choices import AntennaRoute, Chemistry, FailsafeAction, FormerEdge
from hangar.rules import Level
from hangar.rules.changing import (
    with_airframe,
    with_channel,
    with_fit,
    with_gyro,
    with_pack,
    with_path,
    with_receiver,
    with_surface,
)
from hangar.rules.examples import cell_readings
from tests.rules.practice import fine_big as big
from tests.rules.practice import fine_heli as heli
from tests.rules.practice import fine_more as more
from tests.rules.practice import fine_small as small
from tests.rules.practice import parts as p
from tests.rules.practice.bad_loads import bad

_OVER = ("servo-over-volts", "regulator-setting-vs-servos", "receiver-over-volts", "gyro-over-volts")

BAD = (
    bad("two cells straight on a hall flyer's servos", "8.4 V on servos for five",
        lambda: dataclasses.replace(small.indoor(), paths=p.direct("IN", p.cells(
            Chemistry.LIPO, 2, 180.0, 60.0, 4.0, 6.0))), *_OVER),
    bad("park flyer whose throttle holds", "flies away under power",
        lambda: with_channel(small.park(), 3, failsafe=FailsafeAction.HOLD), "failsafe-not-set"),
    bad("foam 3D on a supply of a third of an ampere", "restarts in the first roll",
        lambda: with_path(small.foam_3d(), regulator_type={"continuous_a": 0.3, "burst_a": 0.5}),
        "regulator-current", "under-volts-receiver"),
    bad("tailless pusher balanced too far back", "flips on the launch",
        lambda: with_airframe(more.delta(), cg_measured_mm=104.0), "cg-moved"),
    bad("thermal glider with a lead over bare carbon", "saws through in a season", lambda: with_fit(
        small.thermal(), "FLAP-L", lead={"former_edge": FormerEdge.BARE_HARD, "former_clearance_mm": 0.0}),
        "former-unsleeved"),
    bad("hand-launched glider with a pack of 60 mAh", "empty before the afternoon is",
        lambda: dataclasses.replace(small.hand_launched(), paths=p.direct("HL", p.cells(
            Chemistry.NIMH_LSD, 4, 60.0, 120.0, 0.6, 1.5), load_a=0.5)), "pack-too-small",
        "under-volts-receiver", "discharge-rate-short"),
    bad("turbine helicopter that runs on for six seconds", "flies on without signal", lambda: with_airframe(
        heli.turbine_trainer(), turbine_stop_s=6.0), "turbine-failsafe"),
    bad("turbine helicopter with one slow corner", "the plate tips on every quick collective",
        lambda: with_fit(heli.turbine_scale(), "CYC-2", servo_type={"ratings": tuple(
            dataclasses.replace(row, transit_s=2.0 * (row.transit_s or 0.1))
            for row in p.HV35_SWASH.ratings)}), "speed-mismatch-swash"),
    bad("fan fighter on a receiver for 5 V", "the receiver dies", lambda: with_receiver(
        big.edf_all_moving(), supply_max_v=5.0), *_OVER),
    bad("fan jet with two degrees of play", "flutter at 44 m/s", lambda: with_surface(
        big.edf_foam(), "ELE-L", "ELE-R", play_deg=2.0), "slop-over-limit", "flutter-risk"),
    bad("sport jet with its tail balanced behind", "tail-heavy at 85 m/s", lambda: with_airframe(
        more.sport_jet(), cg_measured_mm=98.0), "cg-moved"),
    bad("small fan whose cells lie far apart", "one cell goes flat in the climb", lambda: with_pack(
        more.small_fan(), cells=cell_readings("SN-PA", 4.17, 4.16, 4.0)), "cell-spread"),
    bad("380 with a gyro for 5 V", "the gyro dies and the tail with it", lambda: with_gyro(
        more.small_heli(), supply_max_v=5.0), *_OVER),
    bad("scale glider with a lead in its brake's linkage", "the brake jams open", lambda: with_fit(
        small.scale_glider(), "SPO-L", lead={"moving_mm": 2.0, "moving_tied": False}), "lead-near-moving"),
    bad("old-timer with its fore balance limit passed", "will not flare", lambda: with_airframe(
        more.old_timer(), cg_measured_mm=58.0), "cg-moved"),
    bad("twin transport with an antenna in carbon", "one way round there is no signal",
        lambda: with_receiver(big.twin_electric(), antenna_route=AntennaRoute.ONE_IN_CARBON),
        "antenna-carbon", least=Level.CAUTION),
)  # fmt: skip
