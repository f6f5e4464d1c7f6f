"""Switch, plugs and leads by a flight log: told apart from the pack, in the network, a finding where high."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from hangar.base.figure import Basis
from hangar.parts import Aircraft, FlightLog, FlightLogPack, SetAside
from hangar.parts.readings import place_of
from hangar.physics.estimating import Z90, joined_parts
from hangar.rules import Finding, inspect
from hangar.rules import examples as ex
from hangar.survey import Scenario, Survey, survey

HISTORIES = 2000


def logged(*logs: FlightLogPack, whole: tuple[FlightLog, ...] = (), **parts: object) -> Aircraft:
    made = ex.trainer()
    path = made.paths[0]
    fed = replace(path.packs[0], flight_logs=logs, fit=None, **parts)  # type: ignore[arg-type]
    return replace(made, paths=(replace(path, packs=(fed,)),), flight_logs=whole)


def at_home(aircraft: Aircraft) -> Survey:
    return survey(aircraft, ex.home_day())


def high(aircraft: Aircraft) -> list[Finding]:
    findings = inspect(aircraft, at_home(aircraft))
    every = (folded for finding in findings for folded in finding.with_folded())
    return [finding for finding in every if finding.rule == "leads-high"]


def bus_v(aircraft: Aircraft) -> float:
    peak = at_home(aircraft).scenarios[Scenario.PEAK].bus_v
    assert peak is not None
    return peak.expected


def test_high_leads_are_told_with_what_a_meter_should_show_and_lower_the_bus() -> None:
    (log,) = ex.logged(450.0)
    (flag,) = high(logged(log))
    assert "358 mΩ" in str(flag.message)
    assert "mV" in str(flag.remedy) or " V" in str(flag.remedy)
    assert bus_v(logged(log)) < bus_v(logged())
    leads = at_home(logged(log)).leads["A"]
    assert leads.figure.basis is Basis.MEASURED
    assert leads.figure.read_on == log.flown_on
    assert leads.figure.band.low < leads.figure.expected < leads.figure.band.design


def test_a_log_set_aside_or_too_old_or_before_a_repair_leaves_every_figure_to_the_bit() -> None:
    (log,) = ex.logged(450.0)
    plain = bus_v(logged())
    kind, key = place_of(log)
    assert bus_v(logged(log, set_aside=(SetAside(kind=kind, record=key, since_on=ex.DAY),))) == plain
    assert bus_v(logged(replace(log, flown_on=ex.DAY - timedelta(days=500)))) == plain
    mended = logged(log)
    path = replace(mended.paths[0], mended_on=ex.DAY)
    assert bus_v(replace(mended, paths=(path,))) == plain
    replaced = replace(mended.paths[0], flown=("another lead",))
    assert bus_v(replace(mended, paths=(replaced,))) == plain


def test_a_joint_that_went_bad_in_the_flight_is_added() -> None:
    (log,) = ex.logged(80.0)
    events = json.dumps([["joint", 120.0, None, 0.069, None]])
    whole = FlightLog(
        aircraft=log.aircraft, flown_on=log.flown_on, file_name="a.csv", check_sum="0", minutes_min=8.0,
        rate_hz=10.0, events=events,
    )  # fmt: skip
    assert not high(logged(log))
    (flag,) = high(logged(log, whole=(whole,)))
    assert "69 mΩ more" in str(flag.detail)


def test_a_packs_own_resistance_in_a_log_is_one_reading_of_it() -> None:
    (log,) = ex.logged(130.0)
    own = replace(log, path_mohm=None, pack_mohm=44.0, pack_low_mohm=41.0, pack_high_mohm=47.0)
    before = at_home(logged()).supply.pack_cell_mohm[ex.only_pack()]
    after = at_home(logged(own)).supply.pack_cell_mohm[ex.only_pack()]
    assert after.expected != before.expected
    assert after.read_on is not None
    assert any("flight log of" in str(entry.name) for entry in after.working.inputs)


def test_the_bands_of_leads_and_pack_hold_over_simulated_paths() -> None:
    draw = np.random.default_rng(9)
    leads_held, pack_held = [], []
    for _ in range(HISTORIES):
        leads, pack = 0.030 * math.exp(draw.normal(0.0, 0.25)), 0.100 * math.exp(draw.normal(0.0, 0.12))
        sd = draw.uniform(0.04, 0.07)
        read = (pack + leads) * math.exp(draw.normal(0.0, sd))
        (own, own_sd), (rest, rest_sd) = joined_parts((0.100, 0.12), (0.030, 0.25), (read, sd))
        leads_held.append(abs(math.log(leads / rest)) <= Z90 * rest_sd)
        pack_held.append(abs(math.log(pack / own)) <= Z90 * own_sd)
    assert 0.85 <= sum(leads_held) / HISTORIES <= 0.95
    assert 0.85 <= sum(pack_held) / HISTORIES <= 0.95


@pytest.mark.parametrize("path_mohm", [60.0, 80.0, 100.0])
def test_sound_leads_say_nothing(path_mohm: float) -> None:
    assert not high(logged(*ex.logged(path_mohm)))
