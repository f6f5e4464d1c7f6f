"""Set-ups with one fault of linkage, wiring, set-up or papers. Every label: common practice, no source."""

from __future__ import annotations

import dataclasses
from typing import Any

from hangar.parts import Aircraft
from hangar.parts.choices import AntennaRoute, FailsafeAction, FormerEdge, JointLock, ServoState
from hangar.rules import Level
from hangar.rules import examples as ex
from hangar.rules.changing import (
    with_airframe,
    with_channel,
    with_fit,
    with_receiver,
    with_records,
    with_surface,
)
from hangar.rules.example_parts import ago
from tests.rules.practice import fine_big as big
from tests.rules.practice import fine_heli as heli
from tests.rules.practice import fine_small as small
from tests.rules.practice.bad_loads import bad
from tests.rules.practice.setup import Setup


def _checked(made: Aircraft, at: str, **values: Any) -> Aircraft:
    fit = made.fit(at)
    if fit is None:
        raise KeyError(at)
    checks = tuple(dataclasses.replace(bench_check, **values) for bench_check in fit.bench_checks)
    return with_fit(made, at, bench_checks=checks)


LINKAGES = (
    bad("rudder binds at its stop", "0.4 A at full throw: flat pack, burnt servo",
        lambda: _checked(small.trainer(), "RUD", end_a_ma=400.0), "linkage-bind"),
    bad("arm of another spline", "slips on its shaft",
        lambda: with_fit(small.low_wing(), "ELE", installation={"arm_teeth": 23}), "arm-spline-mismatch"),
    bad("arm without its screw", "falls off", lambda: with_fit(
        small.three_d_small(), "ELE", installation={"arm_screw": False}), "arm-screw-missing"),
    bad("3 degrees of play on a turbine trainer's elevators", "flutter at 75 m/s",
        lambda: with_surface(big.jet_trainer(), "ELE-L", "ELE-R", play_deg=3.0), "slop-over-limit",
        "flutter-risk"),
    bad("2.5 degrees of play on a slope racer's ailerons", "flutter in the first dive",
        lambda: with_surface(small.slope_racer(), "AIL-L", "AIL-R", play_deg=2.5), "slop-over-limit",
        "flutter-risk"),
    bad("thin wire over half a metre on a 3D elevator", "bows under load",
        lambda: with_fit(small.three_d_two_metre(), "ELE-L", "ELE-R", linkage={
            "rod_diameter_mm": 2.0, "rod_free_mm": 500.0}), "rod-buckling", least=Level.CAUTION),
    bad("clevis without a keeper on an elevator", "opens and lets go",
        lambda: with_fit(small.low_wing(), "ELE", linkage={"clevis_keeper": False}), "clevis-no-keeper",
        least=Level.CAUTION),
    bad("arm too short for the throw", "half the rudder that is wanted",
        lambda: with_fit(small.three_d_small(), "RUD", linkage={"arm_mm": 8.0}), "arm-length-throw",
        least=Level.CAUTION),
    bad("servo thicker than the wing", "does not fit", lambda: with_fit(
        small.slope_racer(), "AIL-L", "AIL-R", position={"bay_width_mm": 9.0, "wing_depth_mm": 9.0}),
        "case-too-big", least=Level.CAUTION),
    bad("servo on one screw", "tears loose", lambda: with_fit(
        small.low_wing(), "ELE", installation={"screws_fitted": 1}), "fixings-missing"),
)  # fmt: skip

WIRING = (
    bad("elevator lead without a lock", "comes apart in the air",
        lambda: with_fit(big.giant_sport(), "ELE-L", lead={"lock": JointLock.NONE, "joints": 2}),
        "extension-unlocked"),
    bad("lead over a bare carbon edge", "saws through", lambda: with_fit(
        small.slope_racer(), "VT-L", lead={"former_edge": FormerEdge.BARE_HARD, "former_clearance_mm": 0.0}),
        "former-unsleeved"),
    bad("lead on the tail pipe", "melts", lambda: with_fit(
        big.jet_trainer(), "RUD", lead={"heat_mm": 8.0, "heat_sleeve": False}), "lead-near-heat"),
    bad("lead in reach of a linkage", "caught and torn", lambda: with_fit(
        small.low_wing(), "RUD", lead={"moving_mm": 3.0, "moving_tied": False}), "lead-near-moving"),
    bad("antennas inside carbon", "no signal at distance", lambda: with_receiver(
        small.thermal(), antenna_route=AntennaRoute.ALL_IN_CARBON), "antenna-carbon"),
)  # fmt: skip


def _snagged(made: Aircraft) -> Aircraft:
    snag = dataclasses.replace(ex.snagged()[0], aircraft=made.code)
    return with_records(made, snags=(snag,))


SETTING_UP = (
    bad("two functions on one output", "elevator moves with the aileron", lambda: with_fit(
        small.trainer(), "ELE", position={"channel": 1}), "channel-duplicate"),
    bad("channel that the receiver lacks", "dead rudder", lambda: with_receiver(
        small.scale_glider(), channels=5), "channel-beyond-receiver"),
    bad("no servo at the elevator", "no elevator", lambda: with_fit(
        small.trainer(), "ELE", servo=None, servo_type=None, installation=None), "channel-unassigned"),
    bad("throttle holds when the signal is lost", "flies away under power", lambda: with_channel(
        small.trainer(), 3, failsafe=FailsafeAction.HOLD), "failsafe-not-set"),
    bad("turbine that runs on for five seconds", "flies on without signal", lambda: with_airframe(
        big.jet_trainer(), turbine_stop_s=5.0), "turbine-failsafe"),
    bad("petrol giant without an engine stop", "cannot be stopped from the transmitter",
        lambda: with_airframe(big.giant_sport(), engine_stop=False, ignition_kill=False), "no-engine-stop"),
    bad("no range check since the refit", "nobody knows whether it hears", lambda: with_airframe(
        small.low_wing(), refit_on=ago(2)), "range-check-stale", "direction-not-proved"),
    bad("balance behind the aft limit", "unstable in pitch", lambda: with_airframe(
        big.warbird(), cg_measured_mm=101.0), "cg-moved"),
    bad("heavier than its limit", "not allowed to fly", lambda: with_airframe(
        big.jet_heavy(), all_up_mass_g=25800.0), "mass-over-limit"),
    bad("metal propeller", "does not break, but cuts", lambda: with_airframe(
        big.tow_plane(), metal_propeller=True), "metal-blades"),
    bad("open snag that grounds", "somebody wrote: do not fly", lambda: _snagged(small.trainer()),
        "open-snag"),
    bad("servo from a crash", "nobody looked at its gears", lambda: with_fit(
        small.low_wing(), "ELE", servo={"state": ServoState.SUSPECT}), "servo-suspect"),
    bad("controls reversed on the bench check", "rolls left on right stick", lambda: _checked(
        small.trainer(), "AIL-L", direction_ok=False), "direction-not-proved"),
    bad("blades past their life", "three hundred flights on one spindle", lambda: _worn(heli.big_electric()),
        "bolt-and-blade-life", least=Level.CAUTION),
)  # fmt: skip


def _worn(made: Aircraft) -> Aircraft:
    rotors = tuple(
        dataclasses.replace(rotor, spindle_flights=900, damper_flights=900, blade_flights=900)
        for rotor in made.rotors
    )
    return dataclasses.replace(made, rotors=rotors)


BAD: tuple[Setup, ...] = (*LINKAGES, *WIRING, *SETTING_UP)
